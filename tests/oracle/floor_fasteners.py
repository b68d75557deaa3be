"""Screws into a sill, piece by piece: printed withdrawal values, plastic equilibrium, spring chains.

    python3 floor_fasteners.py      writes ../check-values/floor-fasteners--assembled.csv      (needs numpy, scipy)

Withdrawal of lag screws from the printed Table 12.2A (the file of check values), so to 0.4 %; of wood screws from the printed
Table 12.2B cells there are. Yield and springs as in side_plates.py, here one plate and the sill. Thread lengths of lag
screws from the printed Table L2. Uplift and shear together: resistance of the direction as 1/Z = cos^2/Z' + sin^2/(W'p).
Two rows a case: -s for shear (1e-5), -u for uplift and both (0.4 %, the rounding of the printed W).
"""
import cmath, csv, math, pathlib, random
import numpy as np
from yield_gap import yields
from side_plates import LAG, SCREW, r50
HERE = pathlib.Path(__file__).resolve().parent.parent / "check-values"
from csvout import OUT as FOLDER
OUT = FOLDER / "floor-fasteners--assembled.csv"
def printed(name):
    rows = csv.DictReader(l for l in open(HERE / name) if not l.startswith("#"))
    return {(float(r["G"]), float(r["D [in]"])): float(r["expect W [lbf/in]"]) for r in rows}
W_LAG, W_SCREW = printed("lag-withdrawal--nds-12-2a.csv"), printed("screw-withdrawal--nds-12-2b.csv")
T_LAG = {3: 2, 4: 2.5, 5: 3, 6: 3.5}   # Table L2
def chain(n, s, gamma, K_m, K_s):
    if n == 1: return 1.0
    K, F = np.zeros((2 * n, 2 * n)), np.zeros(2 * n)
    def tie(i, j, k):
        for a, b, v in ((i, i, k), (j, j, k), (i, j, -k), (j, i, -k)): K[a, b] += v
    for i in range(n - 1): tie(i, i + 1, K_m / s); tie(n + i, n + i + 1, K_s / s)
    for i in range(n): tie(i, n + i, gamma)
    K[n - 1, n - 1] += 1e15; F[n] = 1
    x = np.linalg.solve(K, F)
    f = [gamma * (x[n + i] - x[i]) for i in range(n)]
    return sum(f) / (n * max(f))
head = "id,P [lbf],H_along [lbf],H_across [lbf],C_D,temperature,G,E_wood [psi],kind_of_wood,service,fabrication,sill_t [in],sill_w [in],seat [in],seat_l [in],seat_w [in],F_e_seat [psi],fastener,D [in],L [in],n,rows,s [in],s_row [in],a_end [in],e [in]".split(",")
exp = "theta [deg],lag-yield.Z [lbf],C_g,C_delta,Z_N [lbf],p_t [in],W_N [lbf],alpha [deg],R_N [lbf]".split(",")
def main():
    rng = random.Random(12)
    with open(OUT, "w", newline="") as f:
        f.write("# Screws through a seat plate into the side grain of a sill: shear, uplift, and both.\n# Made by oracle/floor_fasteners.py, which says how; do not edit. Limits may be met or not; the values are what is compared.\n")
        w = csv.writer(f, lineterminator="\n"); w.writerow(head + ["expect " + e for e in exp] + ["tolerance", "tolerance_kind", "source", "kind", "note"])
        for k in range(12):
            lag = k % 4 != 3
            if lag:
                D = rng.choice(list(LAG)); D_r, E, F_yb = LAG[D]; G = rng.choice(sorted({g for g, d in W_LAG if d == D and g < 0.6})); W = W_LAG[G, D]; L = rng.choice([3, 4, 5, 6]); T_thr = T_LAG[L]
            else:
                G, D = rng.choice([key for key in W_SCREW if key[1] in SCREW and key[0] != 0.45]); D_r, F_yb = SCREW[D]; E = 2 * D; W = W_SCREW[G, D]; L = rng.choice([2.5, 3]); T_thr = max(4 * D, 2 * L / 3)
            Ew = rng.choice([1200000, 1600000]); ser, fab = rng.choice([("dry", "dry"), ("dry", "wet"), ("wet", "wet")]); CD = rng.choice([0.9, 1.15, 1.6])
            t, wd = rng.choice([3.5, 5.5, 7.5]), rng.choice([5.5, 7.5, 9.5]); seat, Fs = rng.choice([(0.1875, 61850), (0.25, 87000), (0.375, 87000)])
            sl, sw = rng.choice([5, 6, 7]), rng.choice([4, 6]); n, rows = rng.choice([1, 2, 3]), rng.choice([1, 2]); s, sr = rng.choice([2, 2.5, 3]), (rng.choice([2.5, 3, 4]) if rows > 1 else 0)
            a, e = rng.choice([2.5, 4, 8]), rng.choice([1.75, 2.5]); P = -rng.randrange(0, 4000, 250); H1, H2 = rng.choice([0, 400, -700]), rng.choice([0, 300, 600])
            if not (H1 or H2): H1 = 500
            N = n * rows; H = abs(complex(H1, H2)); th = math.degrees(cmath.phase(complex(abs(H1), abs(H2))))
            par, perp = (r50(11200 * G), r50(6100 * G**1.45 / math.sqrt(D))) if D >= 0.25 else (r50(16600 * G**1.84),) * 2
            Fe = 1 / (math.cos(math.radians(th)) ** 2 / par + math.sin(math.radians(th)) ** 2 / perp)
            p = L - seat
            Z, (z0, mode) = yields(D, D_r, p - E / 2, seat, Fe, Fs, F_yb, th)
            Cg = Cd = 1.0
            if D >= 0.25:
                gam = 270000 * D**1.5
                if H1: Cg = min(Cg, chain(n, s, gam, Ew * t * wd, 29e6 * seat * sw)); Cd = min(Cd, a / (7 * D), s / (4 * D) if n > 1 else 1)
                if H2: Cg = min(Cg, chain(rows, sr, gam, Ew * t * max((n - 1) * s, 3 * D), 29e6 * seat * sl)); Cd = min(Cd, a / (4 * D))
            CMz = 0.7 if ser == "wet" else 1 if fab == "dry" else (0.7 if D < 0.25 else 1 if rows == 1 else 0.4)
            ZN = z0 * CD * CMz * Cg * Cd * N
            pt = min(T_thr, p) - (E if lag else 0)
            WN = W * CD * (0.7 if ser == "wet" else 1) * pt * N
            T = max(0, -P); al = math.degrees(cmath.phase(complex(H, T))); c, sn = math.cos(math.radians(al)), math.sin(math.radians(al))
            RN = 1 / (c * c / ZN + sn * sn / WN)
            base = [P, H1, H2, CD, "up to 100 F", G, Ew, "softwood", ser, fab, t, wd, seat, sl, sw, Fs, "lag" if lag else "wood screw", D, L, n, rows, s, sr, a, e]
            src = "oracle/floor_fasteners.py, "
            w.writerow([f"floor-{k + 1:02}-s"] + base + [f"{v:.9g}" for v in (th, z0, Cg, Cd, ZN)] + [""] * 4 + [1e-5, "rel", src + "plastic equilibrium and spring chain", "independent", f"mode {mode} governs"])
            w.writerow([f"floor-{k + 1:02}-u"] + base + [""] * 5 + [f"{v:.6g}" for v in (pt, WN, al, RN)] + [0.004, "rel", src + "printed withdrawal values of Tables 12.2A, 12.2B", "independent", ""])
if __name__ == "__main__": main()
