"""Values for site-coefficients and seismic-site that do not come from the sheets: the tables as grids of their own, straight lines
as weighted means of the two nearest columns, the ends held beyond the table; the default class by 11.4.3 and 11.4.4."""
import csv, random
from csvout import OUT
rng = random.Random(114)
SS, S1 = [0.25, 0.5, 0.75, 1.0, 1.25, 1.5], [0.1, 0.2, 0.3, 0.4, 0.5, 0.6]
FA = dict(A=[0.8] * 6, B=[0.9] * 6, C=[1.3, 1.3] + [1.2] * 4, D=[1.6, 1.4, 1.2, 1.1, 1.0, 1.0], E=[2.4, 1.7, 1.3])
FV = dict(A=[0.8] * 6, B=[0.8] * 6, C=[1.5] * 5 + [1.4], D=[2.4, 2.2, 2.0, 1.9, 1.8, 1.7], E=[4.2, 3.3, 2.8, 2.4, 2.2, 2.0])
SOURCE = "oracle/site_coefficients.py: straight lines between the columns of Tables 11.4-1 and 11.4-2"
def line(x, xs, ys):
    if x <= xs[0] or x >= xs[len(ys) - 1]: return ys[0] if x <= xs[0] else ys[-1]
    k = max(i for i in range(len(ys) - 1) if xs[i] <= x); return ((xs[k + 1] - x) * ys[k] + (x - xs[k]) * ys[k + 1]) / (xs[k + 1] - xs[k])
def coefficients(c, ss, s1, measured):
    if c in "AB" and not measured: return 1.0, 1.0
    row = "D" if c == "unknown" else c
    fa = line(ss, SS, FA[row]); fv = line(s1, S1, FV[row])
    return (max(fa, 1.2), fv) if c == "unknown" else (fa, fv)
rows = []
for i in range(60):
    c = ["A", "B", "C", "D", "E", "unknown"][i % 6]; soft = c == "E"; measured = i % 4 < 2
    ss = round(rng.uniform(0.05, 0.75 if soft else 2.2), 3); s1 = round(rng.uniform(0.02, 0.199 if soft else 0.9), 3)
    rows.append([f"line-{i+1}", c, ss, s1, "yes" if measured else "no", *map(lambda x: round(x, 12), coefficients(c, ss, s1, measured)), 1e-9, "abs", SOURCE, "independent", ""])
with open(f"{OUT}/site-coefficients--straight-lines.csv", "w", newline="") as f:
    f.write("# Between, at and beyond the columns of the tables, every class, rock measured and not.\n")
    w = csv.writer(f, lineterminator="\n"); w.writerow(["id", "site_class", "S_S", "S_1", "measured", "expect F_a", "expect F_v", "tolerance", "tolerance_kind", "source", "kind", "note"]); w.writerows(rows)
print(len(rows))
