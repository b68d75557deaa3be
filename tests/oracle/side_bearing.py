"""Load that a seat may put on a sill, from the wood that works rather than from C_b.

    python3 side_bearing.py      writes ../check-values/side-bearing--effective-area.csv

Wood beside a short bearing helps: 3/8 in of length is added to it (the basis of 3.10.4), unless the bearing is 6 in long
or within 3 in of the end. The load allowed is the strength times that longer area; F_c_perp' is that load over the seat.
"""
import csv, random
from csvout import OUT as FOLDER
OUT = FOLDER / "side-bearing--effective-area.csv"
rng = random.Random(9)
with open(OUT, "w", newline="") as f:
    f.write("# Bearing on a sill by the area that works.\n# Made by oracle/side_bearing.py, which says how; do not edit.\n")
    w = csv.writer(f, lineterminator="\n")
    w.writerow("id,l_b [in],seat [in],sill [in],end [in],F_c_perp [psi],C_M,C_t,C_i,P [lbf],expect A_brg [in^2],expect F_c_perp' [psi],expect f_c_perp [psi],tolerance,tolerance_kind,source,kind,note".split(","))
    for k in range(10):
        l, s, b, e = rng.choice([2.5, 3.5, 4.5, 5.5, 6, 7.5]), rng.choice([3, 4.5, 6, 7]), rng.choice([3.5, 5.5, 7.5]), rng.choice([0, 2.75, 3, 8, 20])
        F, CM, Ct, P = rng.choice([405, 565, 625]), rng.choice([1, 0.67]), rng.choice([1, 0.8, 0.5]), rng.randrange(-2000, 15000, 250)
        wide = s if s < b else b
        works = l + (3 / 8 if l < 6 and e >= 3 else 0)
        allowed = F * CM * Ct * works * wide
        w.writerow([f"side-{k + 1:02}", l, s, b, e, F, CM, Ct, 1, P, f"{l * wide:.9g}", f"{allowed / (l * wide):.9g}", f"{max(P, 0) / (l * wide):.9g}", 1e-7, "rel",
                    "oracle/side_bearing.py, effective area", "independent", ""])
