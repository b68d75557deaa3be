"""Bent columns by second-order analysis, without the amplifiers of NDS 3.9.2.

    python3 beam_column.py      writes ../check-values/column-bending--second-order.csv     (needs numpy, scipy)

Compression. The post is a hinged bar with sine-shaped first moments M_1 (about the strong axis) and M_2. On 600 pieces
(second-order finite differences) three equations are solved:
    strong axis      E I_1 v'' + P v = -M_1 s(x)
    weak axis        E I_2 u'' + P u + M_1 p = -M_2 s(x)           s: half a sine wave; M_1 taken uniform here
    twist            G J p'' = M_1 u''                              p: twist; hinged against twisting at the ends
E I and G J are chosen so that the bar alone buckles at the stresses that the code gives it: 0.822 E' / (l_e/d)^2 each way, and F_bE
sideways under M_1. The stresses that come out, second order included, go over the strengths, and (f_c/F_c')^2 is added.
Buckling stresses: lowest eigenvalue of the differenced bar with the true E', which is pi^2/12 rather than 0.822: 6e-4 apart.
C_L: the strength at which bending and buckling meet, 0.95 C^2 - (1 + a) C + a = 0, found by bisection.
Bending stresses: the moment of a straight-line stress, summed over 2,000 strips of the section.
Tension. Stress at each of the four corners of a square post; the greatest tension and the greatest compression against F_b*.
"""
import csv, math, random
import numpy as np, scipy.sparse as sp, scipy.sparse.linalg as sl
from csvout import OUT as FOLDER
OUT = FOLDER / "column-bending--second-order.csv"
N = 600
def second(l):
    h = l / N
    return sp.diags([np.ones(N - 2), -2 * np.ones(N - 1), np.ones(N - 2)], [-1, 0, 1], format="csc") / h**2
def lowest(l):   # lowest eigenvalue of -y'' hinged
    return sl.eigsh(-second(l), k=1, sigma=0, which="LM")[0][0]
def stress(M, b, d, k=2000):
    h = d / k
    lever = sum((((i + 0.5) / k - 0.5) * 2) * b * h * ((i + 0.5) / k - 0.5) * d for i in range(k))   # moment of a unit edge stress
    return M / lever
def bisect(f, lo, hi):
    for _ in range(200):
        m = (lo + hi) / 2
        lo, hi = (m, hi) if f(m) * f(lo) > 0 else (lo, m)
    return (lo + hi) / 2
rng = random.Random(77)
head = "id,b [in],d [in],l_e1 [in],l_e2 [in],l_u [in],F_c' [psi],F_t' [psi],E_min' [psi],F_b [psi],C_D,C_M,C_t,C_F,C_fu,C_i,P [lbf],M_1 [lbf in],M_2 [lbf in],expect F_cE1 [psi],expect F_cE2 [psi],expect C_L,expect f_b1 [psi],expect f_b2 [psi],expect r_1,expect r_2,tolerance,tolerance_kind,source,kind,note".split(",")
SRC = "oracle/beam_column.py, "
with open(OUT, "w", newline="") as f:
    f.write("# Posts bent both ways under axial load: second-order solution, eigenvalues, bisection and stress sums.\n# Made by oracle/beam_column.py, which says how; do not edit.\n")
    w = csv.writer(f, lineterminator="\n"); w.writerow(head)
    k = 0
    while k < 16:
        b, d = rng.choice([(5.5, 5.5), (5.5, 7.5), (7.5, 7.5), (3.5, 7.25), (5.5, 9.5), (7.5, 11.5)])
        l1, l2 = rng.choice([96, 120, 144, 168]), rng.choice([72, 96, 120, 144]); lu = l2
        E, Fb, CD = rng.choice([400000, 470000, 580000]), rng.choice([750, 1200, 1500]), rng.choice([0.9, 1.15, 1.6])
        CM, Ct, CF, Cfu, Ci = rng.choice([1, 0.85]), rng.choice([1, 0.8]), 1, rng.choice([1, 1.05]), rng.choice([1, 0.8])
        Fc = rng.choice([450, 600, 800])
        P, M1, M2 = rng.randrange(1000, 15000, 250), rng.randrange(0, 45000, 1000), rng.randrange(0, 20000, 500)
        A = b * d; fc = P / A
        le = 2.06 * lu if lu / d < 7 else 1.63 * lu + 3 * d if lu / d <= 14.3 else 1.84 * lu
        FbE = 1.2 * E * b * b / (le * d)
        F1, F2 = 0.822 * E * (d / l1) ** 2, 0.822 * E * (b / l2) ** 2
        fb1, fb2 = stress(M1, b, d), stress(M2, d, b)
        if fc / F2 + (fb1 / FbE) ** 2 > 0.8 or fc > 0.8 * F1: continue
        Fbs = Fb * CD * CM * Ct * CF * Ci
        a = FbE / Fbs
        CL = 1.0 if d <= b else bisect(lambda c: 0.95 * c * c - (1 + a) * c + a, 0.0, 1.0)
        # strong axis: E I so that it buckles at F1 A
        s1 = np.sin(np.pi * np.arange(1, N) / N); D1, D2 = second(l1), second(l2); I = sp.eye(N - 1, format="csc")
        EI1 = F1 * A / lowest(l1)
        v = sl.spsolve((EI1 * D1 + P * I).tocsc(), -M1 * s1)
        big1 = np.max(M1 * s1 + P * v)
        EI2 = F2 * A / lowest(l2)
        Mcr = FbE * b * d * d / 6
        GJ = Mcr**2 / (F2 * A)          # so that the bar under M_1 alone buckles sideways at M_cr
        K = sp.bmat([[EI2 * D2 + P * I, M1 * I], [-M1 * D2, GJ * D2]], format="csc")
        y = sl.spsolve(K, np.concatenate([-M2 * s1, np.zeros(N - 1)]))
        u, p = y[:N - 1], y[N - 1:]
        big2 = np.max(M2 * s1 + P * u + M1 * p)
        r1 = (fc / Fc) ** 2 + stress(big1, b, d) / (Fbs * CL) + stress(big2, d, b) / (Fbs * Cfu)
        k += 1
        e1, e2 = E * (d * d / 12) * lowest(l1), E * (b * b / 12) * lowest(l2)
        base = [b, d, l1, l2, lu, Fc, 1000, E, Fb, CD, CM, Ct, CF, Cfu, Ci, P, M1, M2]
        w.writerow([f"second-{k:02}"] + base + ["", "", f"{CL:.8g}", f"{fb1:.8g}", f"{fb2:.8g}", f"{r1:.7g}", "", 1e-4, "rel", SRC + "second-order finite differences, bisection, stress strips", "independent", ""])
        w.writerow([f"euler-{k:02}"] + base + [f"{e1:.8g}", f"{e2:.8g}", "", "", "", "", "", 8e-4, "rel", SRC + "eigenvalue of the hinged bar (pi^2/12 where the code has 0.822)", "independent", ""])
    for k in range(8):
        b = rng.choice([5.5, 7.5]); T = rng.randrange(500, 9000, 250); M1, M2 = rng.randrange(5000, 40000, 1000), rng.randrange(0, 20000, 500)
        Fb, CD = rng.choice([750, 1200]), rng.choice([1.0, 1.6]); Fbs = Fb * CD; Ft = 0.66 * Fbs
        ft, f1, f2 = T / b**2, stress(M1, b, b), stress(M2, b, b)
        corner = [(sx * f1, sy * f2) for sx in (1, -1) for sy in (1, -1)]
        r1 = max(ft / Ft + (x + y) / Fbs for x, y in corner)
        push = max(-(x + y + ft) for x, y in corner) / Fbs
        w.writerow([f"corner-{k + 1:02}", b, b, 120, 120, 120, 600, Ft, 470000, Fb, CD, 1, 1, 1, 1, 1, -T, M1, M2, "", "", 1, f"{f1:.8g}", f"{f2:.8g}", f"{r1:.8g}",
                    f"{push:.8g}" if f1 >= ft else "", 1e-5, "rel", SRC + "stresses at the corners of the section", "independent", ""])
