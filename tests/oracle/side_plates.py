"""Capacity of two side plates with screws, piece by piece and by other means than the sheets.

    python3 side_plates.py      writes ../check-values/side-plates--assembled.csv      (needs numpy, scipy)

Yield: plastic collapse load found numerically (yield_gap.py). Group action: the whole base as springs: the post as one
chain of nodes, each plate as a chain of its own, a spring gamma between post and plate at every screw; the plates are pulled at
their feet, the post is held above; C_g is the mean over the greatest screw force. The sheet works with half a post and one plate.
Where the shear makes rows across the grain, the same across the post, over the width of the group.
Angle and resultant from complex numbers. Bearing at an angle: F_e is the radius of 1/F = cos^2/F_par + sin^2/F_perp.
End distance and spacing as ratios to the full values of NDS 2018 Tables 12.5.1A and B, moisture from Table 11.3.3, tips from Tables L2, L3.
"""
import cmath, csv, math, random
import numpy as np
from yield_gap import yields
from csvout import OUT as FOLDER
OUT = FOLDER / "side-plates--assembled.csv"
LAG = {0.25: (0.173, 5 / 32, 70000), 0.375: (0.265, 7 / 32, 45000), 0.5: (0.371, 5 / 16, 45000), 0.625: (0.471, 13 / 32, 45000)}
SCREW = {0.19: (0.152, 80000), 0.216: (0.171, 80000), 0.242: (0.196, 70000)}
def chain(n, s, gamma, E, A_post, A_plate, E_steel):
    """Three chains of n nodes: post, plate, plate. Returns C_g."""
    if n == 1: return 1.0
    K, F = np.zeros((3 * n, 3 * n)), np.zeros(3 * n)
    def tie(i, j, k):
        for a, b, v in ((i, i, k), (j, j, k), (i, j, -k), (j, i, -k)): K[a, b] += v
    for i in range(n - 1):
        tie(i, i + 1, E * A_post / s)
        for q in (1, 2): tie(q * n + i, q * n + i + 1, E_steel * A_plate / s)
    for i in range(n):
        for q in (1, 2): tie(i, q * n + i, gamma)
    K[n - 1, n - 1] += 1e15            # the post is held above the last screw
    F[n] = F[2 * n] = 1.0              # each plate is pulled below the first
    x = np.linalg.solve(K, F)
    f = [gamma * (x[n + i] - x[i]) for i in range(n)]
    return sum(f) / (n * max(f))
r50 = lambda x: math.floor(x / 50 + 0.5) * 50
def main():
    rng = random.Random(5)
    head = "id,b [in],d [in],P [lbf],H_plane [lbf],C_D,temperature,G,E_wood [psi],kind_of_wood,service,fabrication,fastener,D [in],L [in],plate [in],plate_wide [in],F_e_plate [psi],n,rows,a_end [in],s [in],s_row [in]".split(",")
    exp = "R [lbf],theta [deg],p_D [in],l_m [in],dowel-bearing.F_e_theta [psi],lag-yield.Z [lbf],C_g,C_delta,Z' [lbf],Z_N [lbf]".split(",")
    with open(OUT, "w", newline="") as f:
        f.write("# Two side plates with lag screws or wood screws under uplift and shear together.\n# Made by oracle/side_plates.py, which says how; do not edit. Limits may be met or not; the values are what is compared.\n")
        w = csv.writer(f, lineterminator="\n"); w.writerow(head + ["expect " + e for e in exp] + ["tolerance", "tolerance_kind", "source", "kind", "note"])
        for k in range(14):
            lag = k % 3 != 2
            D = rng.choice(list(LAG if lag else SCREW))
            D_r, E, F_yb = LAG[D] if lag else (SCREW[D][0], 2 * D, SCREW[D][1])
            b, d = rng.choice([5.5, 7.5, 9.5]), rng.choice([5.5, 7.5])
            plate, Fp = rng.choice([(0.1875, 61850), (0.25, 87000), (0.375, 87000)])
            L = rng.choice([2.5, 3, 3.5, 4, 5]) if lag else rng.choice([2, 2.5, 3])
            P, H = -rng.randrange(0, 6000, 250), rng.choice([0, 0, 500, -900, 1500])
            if P == 0 and H == 0: P = -1500
            G, Ew = rng.choice([(0.5, 1600000), (0.43, 1300000), (0.55, 1500000), (0.46, 1200000)])
            hard = "softwood"
            ser, fab = rng.choice([("dry", "dry"), ("dry", "wet"), ("wet", "wet")])
            CD, n, rows = rng.choice([0.9, 1.15, 1.6]), rng.choice([1, 2, 3, 4]), rng.choice([1, 2])
            a, s, s_row = rng.choice([2.25, 3, 4, 5]), rng.choice([1.75, 2.5, 3]), 2 if rows == 2 else 0
            wide = rng.choice([3, 4])
            z = complex(max(0, -P), abs(H)); R, th = abs(z), math.degrees(cmath.phase(z))
            par, perp = (r50(11200 * G), r50(6100 * G**1.45 / math.sqrt(D))) if D >= 0.25 else (r50(16600 * G**1.84),) * 2
            Fe = 1 / (math.cos(math.radians(th)) ** 2 / par + math.sin(math.radians(th)) ** 2 / perp)
            p = L - plate
            if p < 1.2 * E: continue
            l_m = p - E / 2
            Z, (z0, mode) = yields(D, D_r, l_m, plate, Fe, Fp, F_yb, th)
            Cg = chain(n, s, 270000 * D**1.5, Ew, b * d, plate * wide, 29e6) if D >= 0.25 else 1.0
            if D >= 0.25 and H and rows > 1:
                w_g = max(3 * D, s * (n - 1))
                Cg = min(Cg, chain(rows, s_row, 270000 * D**1.5, Ew, b * w_g, plate * w_g, 29e6))
            Cd = 1.0
            if D >= 0.25:
                Cd = min(1, a / (7 * D), s / (4 * D) if n > 1 else 1)
                if H: Cd = min(Cd, a / (4 * D))
            CM = 0.7 if ser == "wet" else 1 if fab == "dry" else (0.7 if D < 0.25 else 1 if rows == 1 else 0.4)
            Z1 = z0 * CD * CM * Cg * Cd
            vals = [R, th, p - E if lag else p, l_m, Fe, z0, Cg, Cd, Z1, Z1 * 2 * n * rows]
            w.writerow([f"plates-{k + 1:02}", b, d, P, H, CD, "up to 100 F", G, Ew, hard, ser, fab, "lag" if lag else "wood screw", D, L, plate, wide, Fp, n, rows, a, s, s_row]
                       + [f"{v:.9g}" for v in vals] + [1e-5, "rel", "oracle/side_plates.py, plastic equilibrium and spring chain", "independent", f"mode {mode} governs"])

if __name__ == "__main__": main()
