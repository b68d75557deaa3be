"""Collapse load of a dowel across a gap between two members, without the equations of TR12.

    python3 yield_gap.py        writes ../check-values/lag-yield--gap-equilibrium.csv and pin-yield--gap-equilibrium.csv     (needs scipy)

Kinematic theorem, as in tests/oracle/yield_modes.py, with a gap g: the side member moves by 1 against the main
member; the dowel follows as straight pieces between a place at depth u in the side member and one at depth v in the
main member, so its slope is 1 / (u + g + v). At each place the dowel either turns (and crushes wood on both sides of
the place: q (z^2 + (l - z)^2) / 2 per unit of slope) or is bent by a plastic hinge (q z^2 / 2 + M). The load is the
least work over u and v, found by a grid search that is refined around its minimum; no derivative, no closed form.
A mode whose minimum lies at the end of a member does not exist and is left blank.
The least mode is checked against the static theorem by linear programming on 300 elements a member.
Only then each mode is divided by R_d of NDS 2018 Table 12.3.1B.
In double shear, with a gap on each side, the dowel stays straight in the middle of the main member: it cannot turn there, so
II and IIIm drop out, and each half has half of the main member, at whose middle the dowel may hold a moment.
"""
import csv, random
import numpy as np, scipy
from scipy.optimize import linprog
from scipy.sparse import lil_matrix

from csvout import OUT as FOLDER
OUT = FOLDER / "lag-yield--gap-equilibrium.csv"
SOURCE = f"oracle/yield_gap.py, plastic equilibrium across a gap solved numerically, scipy {scipy.__version__}"

def least(fs, fm, l_s, l_m, g):
    lo, hi = np.array([0.0, 0.0]), np.array([l_s, l_m])
    for _ in range(60):
        u, v = np.linspace(lo[0], hi[0], 41), np.linspace(lo[1], hi[1], 41)
        U, V = np.meshgrid(u, v, indexing="ij")
        with np.errstate(divide="ignore", invalid="ignore"):
            W = (fs(U) + fm(V)) / (U + V + g)
        i, j = np.unravel_index(np.nanargmin(W), W.shape)
        best, at = W[i, j], np.array([u[i], v[j]])
        half = (hi - lo) * 0.3
        lo, hi = np.maximum(at - half, 0), np.minimum(at + half, [l_s, l_m])
    inside = all(1e-6 * l < a < (1 - 1e-6) * l for a, l in zip(at, (l_s, l_m)))
    return best if inside else None

def lower(q_s, q_m, M, l_s, l_m, g, held=False, k=300):
    """Largest load with |pressure| <= q and |moment| <= M; the gap carries the shear P and adds P g to the moment."""
    n = 2 * k
    size = [(l_s / k, q_s)] * k + [(l_m / k, q_m)] * k
    U = 2 * min(q_s * l_s, q_m * l_m)
    A, b = lil_matrix((2 * n + 2, 3 * n + 1)), np.zeros(2 * n + 2)
    for e, (h, q) in enumerate(size):
        f = q * h / U
        A[e, e], A[e, n + e] = -f, 1
        A[n + e, 2 * n + e], A[n + e, e] = 1, -U * f * h / 2 / M
        if e:
            A[e, n + e - 1] = -1
            A[n + e, 2 * n + e - 1] = -1
            A[n + e, n + e - 1] = -U * (h + (g if e == k else 0)) / M
        r = 2 * n + (0 if e < k else 1)
        A[r, e] = f
    A[2 * n, 3 * n], A[2 * n + 1, 3 * n] = 1, -1
    bounds = [(-1, 1)] * n + [(None, None)] * n + [(-1, 1)] * (n - 1) + [(-1, 1) if held else (0, 0)] + [(0, None)]
    c = np.zeros(3 * n + 1); c[-1] = -1
    a = linprog(c, A_eq=A.tocsr(), b_eq=b, bounds=bounds, method="highs")
    assert a.status == 0, a.message
    return a.x[-1] * U

def turn(q, l): return lambda z: q * (z * z + (l - z) ** 2) / 2
def bend(q, M): return lambda z: q * z * z / 2 + M

def yields(D, D_r, l_m, l_s, F_em, F_es, F_yb, theta, g=0.0):
    """Reference value of each mode that exists, and of the fastener."""
    modes = ["Im", "Is", "II", "IIIm", "IIIs", "IV"]
    q_s, q_m, M = F_es * D_r, F_em * D_r, F_yb * D_r**3 / 6
    P = {"Im": q_m * l_m, "Is": q_s * l_s,
         "II": least(turn(q_s, l_s), turn(q_m, l_m), l_s, l_m, g), "IIIm": least(bend(q_s, M), turn(q_m, l_m), l_s, l_m, g),
         "IIIs": least(turn(q_s, l_s), bend(q_m, M), l_s, l_m, g), "IV": least(bend(q_s, M), bend(q_m, M), l_s, l_m, g)}
    low, up = lower(q_s, q_m, M, l_s, l_m, g), min(p for p in P.values() if p is not None)
    assert abs(low / up - 1) < 2e-3, (low, up)
    K = 1 + 0.25 * theta / 90
    if D_r >= 0.25: R = {m: {"Im": 4, "Is": 4, "II": 3.6}.get(m, 3.2) * K for m in modes}
    else: R = {m: (2.2 if D_r <= 0.17 else 10 * D_r + 0.5) * (K if D >= 0.25 else 1) for m in modes}
    Z = {m: None if P[m] is None else P[m] / R[m] for m in modes}
    return Z, min((x, m) for m, x in Z.items() if x is not None)

def double(D, l_m, l_s, F_em, F_es, F_yb, theta, g=0.0):
    """The same for a pin through three members."""
    q_s, q_m, M = F_es * D, F_em * D, F_yb * D**3 / 6
    P = {"Im": q_m * l_m / 2, "Is": q_s * l_s, "IIIs": least(turn(q_s, l_s), bend(q_m, M), l_s, l_m / 2, g),
         "IV": least(bend(q_s, M), bend(q_m, M), l_s, l_m / 2, g)}
    low, up = lower(q_s, q_m, M, l_s, l_m / 2, g, held=True), min(p for p in P.values() if p is not None)
    assert abs(low / up - 1) < 2e-3, (low, up)
    K = 1 + 0.25 * theta / 90
    R = {"Im": 4 * K, "Is": 4 * K, "IIIs": 3.2 * K, "IV": 3.2 * K}
    Z = {m: None if p is None else 2 * p / R[m] for m, p in P.items()}
    return Z, min((x, m) for m, x in Z.items() if x is not None)

def pins():
    rng = random.Random(20180104)
    head = ["id", "D [in]", "l_m [in]", "l_s [in]", "F_em [psi]", "F_es [psi]", "F_yb [psi]", "theta [deg]", "g [in]"]
    modes = ["Im", "Is", "IIIs", "IV"]
    with open(FOLDER / "pin-yield--gap-equilibrium.csv", "w", newline="") as file:
        file.write("# Pins in double shear across gaps: plastic collapse loads over R_d.\n# Made by oracle/yield_gap.py, which says how; do not edit.\n"
                   "# A blank mode does not exist for the lengths given: its hinge or turning point would lie outside a member.\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(head + [f"expect Z_{m} [lbf]" for m in modes] + ["expect Z [lbf]", "tolerance", "tolerance_kind", "source", "kind", "note"])
        for k in range(20):
            D, g = rng.choice([0.25, 0.375, 0.5, 0.625, 0.75, 1.0]), rng.choice([0.03125, 0.0625, 0.125, 0.25, 0.5])
            l_s, F_es = round(rng.uniform(2, 8) * D, 3), rng.randrange(1500, 7500, 50)
            l_m, F_em = (rng.choice([0.1875, 0.25, 0.375, 0.5]), 87000) if k % 3 else (round(rng.uniform(2, 8) * D, 3), rng.randrange(1500, 7500, 50))
            F_yb, theta = rng.choice([45000, 47000, 90000]), rng.choice([0, 90, rng.randrange(1, 90)])
            Z, (z, mode) = double(D, l_m, l_s, F_em, F_es, F_yb, theta, g)
            out.writerow([f"gap-{k + 1:02}", D, l_m, l_s, F_em, F_es, F_yb, theta, g] + ["" if Z[m] is None else f"{Z[m]:.8g}" for m in modes]
                         + [f"{z:.8g}", 1e-5, "rel", SOURCE, "independent", f"mode {mode} governs"])

def main():
    pins()
    rng = random.Random(20180103)
    head = ["id", "D [in]", "D_r [in]", "l_m [in]", "l_s [in]", "F_em [psi]", "F_es [psi]", "F_yb [psi]", "theta [deg]", "g [in]"]
    modes = ["Im", "Is", "II", "IIIm", "IIIs", "IV"]
    with open(OUT, "w", newline="") as file:
        file.write("# Dowels in single shear across a gap: plastic collapse loads over R_d.\n# Made by oracle/yield_gap.py, which says how; do not edit.\n"
                   "# A blank mode does not exist for the lengths given: its hinge or turning point would lie outside a member.\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(head + [f"expect Z_{m} [lbf]" for m in modes] + ["expect Z [lbf]", "tolerance", "tolerance_kind", "source", "kind", "note"])
        for k in range(20):
            D, D_r = rng.choice([(0.25, 0.173), (0.375, 0.265), (0.5, 0.371), (0.625, 0.471), (0.75, 0.579), (0.5, 0.5)])
            g = rng.choice([0.0625, 0.125, 0.25, 0.5, 0.75])
            l_m = round(rng.uniform(3, 11) * D, 3); F_em = rng.randrange(1500, 7500, 50)
            l_s, F_es = (rng.choice([0.1875, 0.25, 0.375]), 87000) if k % 2 else (round(rng.uniform(2, 6) * D, 3), rng.randrange(1500, 7500, 50))
            F_yb, theta = rng.choice([45000, 60000, 70000, 80000]), rng.choice([0, 90, rng.randrange(1, 90)])
            Z, (z, mode) = yields(D, D_r, l_m, l_s, F_em, F_es, F_yb, theta, g)
            out.writerow([f"gap-{k + 1:02}", D, D_r, l_m, l_s, F_em, F_es, F_yb, theta, g] + ["" if Z[m] is None else f"{Z[m]:.8g}" for m in modes]
                         + [f"{z:.8g}", 1e-5, "rel", SOURCE, "independent", f"mode {mode} governs"])

if __name__ == "__main__": main()
