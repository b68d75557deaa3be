"""Local strength of wood at pins: shear planes and net sections integrated numerically.

    python3 tear_out.py      writes ../check-values/tear-out--integration.csv

Row: a pin pushes a plug of length s_crit ahead of it, sheared on two planes of depth t. The shear stress falls in a
straight line from F_v' at the pin to nothing at the end of the plug (the distribution that App. E is based on); it is
summed over 4,000 strips of each plane, pin by pin, each pin with the wood that is in front of it, and every pin is
given the shortest plug. Net sections are counted in cells across the post. Group: one plane of each outer row
plus the cells between the middles of the outer rows in tension.
"""
import csv, random
from csvout import OUT as FOLDER
OUT = FOLDER / "tear-out--integration.csv"
def plane(F, t, s, k=4000):
    h = s / k
    return sum(F * (1 - (i + 0.5) / k) * t * h for i in range(k))
def cells(lo, hi, holes):
    e = sorted({lo, hi, *(min(max(x, lo), hi) for a, b in holes for x in (a, b))})
    return sum(b - a for a, b in zip(e, e[1:]) if not any(p < (a + b) / 2 < q for p, q in holes))
rng = random.Random(44)
with open(OUT, "w", newline="") as f:
    f.write("# Net section, row and group tear-out by integrating stresses over shear planes and cells of the section.\n# Made by oracle/tear_out.py, which says how; do not edit.\n")
    w_ = csv.writer(f, lineterminator="\n")
    w_.writerow("id,t [in],w [in],D [in],oversize [in],n,rows,a [in],s [in],s_row [in],F_v [psi],F_t [psi],C_D,C_M_v,C_t_v,C_M,C_t,C_F,C_i,P [lbf],expect Z_NT' [lbf],expect Z_RTi' [lbf],expect Z_RT' [lbf],expect Z_GT' [lbf],tolerance,tolerance_kind,source,kind,note".split(","))
    for k in range(16):
        D, over = rng.choice([0.375, 0.5, 0.625, 0.75]), rng.choice([0, 0.03125, 0.0625])
        w, t = rng.choice([5.5, 7.5, 9.5]), round(rng.uniform(2.5, 6), 3)
        n, rows = rng.choice([1, 2, 3]), rng.choice([1, 2, 2, 3])
        a, s, s_row = rng.choice([2.5, 3.5, 5.25]), rng.choice([2, 2.5, 4]), rng.choice([1.25, 1.5, 2])
        CD, CMv, Ct, CF, Ci = rng.choice([0.9, 1.15, 1.6]), rng.choice([1, 0.97]), rng.choice([1, 0.9]), rng.choice([1, 1.3]), rng.choice([1, 0.8])
        Fv, Ft = rng.choice([135, 170, 180]) , rng.choice([475, 825, 1000])
        fv, ft = Fv * CD * CMv * Ci, Ft * CD * Ct * CF * Ci
        mid = [w / 2 + (i - (rows - 1) / 2) * s_row for i in range(rows)]
        holes = [(m - (D + over) / 2, m + (D + over) / 2) for m in mid]
        NT = ft * t * cells(0, w, holes)
        plugs = [a] + [s] * (n - 1)
        row = sum(2 * plane(fv, t, min(plugs)) for _ in plugs)
        GT = "" if rows == 1 else f"{row / 2 + row / 2 + ft * t * cells(mid[0], mid[-1], holes):.9g}"
        w_.writerow([f"tear-{k + 1:02}", t, w, D, over, n, rows, a, s, s_row, Fv, Ft, CD, CMv, 1, 1, Ct, CF, Ci, -1000,
                     f"{NT:.9g}", f"{row:.9g}", f"{row * rows:.9g}", GT, 1e-6, "rel", "oracle/tear_out.py, stresses integrated over shear planes", "independent", ""])
