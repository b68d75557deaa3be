"""Net sections by adding up cells of a plan of the section, without the sheet's formula.

    python3 net_area.py      writes ../check-values/net-tension--section-cells.csv

The section b x d is cut along every edge of slot and holes (coordinate compression). A cell counts if its middle is in
wood: in the section, and in no slot and no hole. Overlaps of hole and slot need no rule this way. Stress is force over area.
"""
import csv, random
from csvout import OUT as FOLDER
OUT = FOLDER / "net-tension--section-cells.csv"
def area(b, d, holes):
    xs = sorted({0, b, *(min(max(x, 0), b) for r in holes for x in r[:2])}); ys = sorted({0, d, *(min(max(y, 0), d) for r in holes for y in r[2:])})
    total = 0.0
    for x0, x1 in zip(xs, xs[1:]):
        for y0, y1 in zip(ys, ys[1:]):
            x, y = (x0 + x1) / 2, (y0 + y1) / 2
            if not any(r[0] < x < r[1] and r[2] < y < r[3] for r in holes): total += (x1 - x0) * (y1 - y0)
    return total
rng = random.Random(31), 
rng = rng[0]
with open(OUT, "w", newline="") as f:
    f.write("# Net sections of posts with a slot and blind pin holes, by counting cells of the plan.\n# Made by oracle/net_area.py, which says how; do not edit.\n")
    w = csv.writer(f, lineterminator="\n")
    w.writerow("id,b [in],d [in],slot [in],slot_run [in],D [in],rows,bore [in],oversize [in],F_t [psi],C_D,C_M,C_t,C_F,C_i,P [lbf],expect A_n [in^2],expect f_t [psi],tolerance,tolerance_kind,source,kind,note".split(","))
    for k in range(12):
        b, d = rng.choice([3.5, 5.5, 7.5, 9.5]), rng.choice([5.5, 7.5, 9.5, 11.5])
        slot = rng.choice([0, 0.3125, 0.4375, 0.5625]); D = rng.choice([0.375, 0.5, 0.625, 0.75]); over = rng.choice([0, 0.03125, 0.0625])
        rows = rng.choice([0, 1, 2, 3]); run = d if k % 3 else d - 0.5
        bore = b if k % 4 == 0 else round(rng.uniform(0.75, 0.98) * b, 4)
        h = D + over
        holes = [((b - slot) / 2, (b + slot) / 2, (d - run) / 2, (d + run) / 2)]
        for i in range(rows):
            y = d / 2 + (i - (rows - 1) / 2) * (d / 4)
            holes.append((0, bore, y - h / 2, y + h / 2))
        A, P = area(b, d, holes), rng.randrange(-9000, -500, 100)
        w.writerow([f"net-{k + 1:02}", b, d, slot, run if slot else 0, D, rows, bore, over, 825, 1.6, 1, 1, 1, 1, P, f"{A:.10g}", f"{-P / A:.10g}", 1e-8, "rel",
                    "oracle/net_area.py, cells of the section", "independent", ""])
