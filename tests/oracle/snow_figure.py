"""Independent values for roof-snow: the slope factor through the corner points of Fig. 7.4-1 (numpy.interp),
and the loads that follow from it."""
import csv
import numpy as np
from csvout import OUT; rng = np.random.default_rng(7)
corner = {("heated", "slippery"): 5, ("heated", "other"): 30, ("just above freezing or cold ventilated roof", "slippery"): 10, ("just above freezing or cold ventilated roof", "other"): 37.5,
          ("open or unheated", "slippery"): 15, ("open or unheated", "other"): 45}
Ct = {"heated": 1.0, "just above freezing or cold ventilated roof": 1.1, "open or unheated": 1.2}
rows = []
for i, ((b, s), t1) in enumerate(list(corner.items()) * 9):
    th = [0, t1, t1 + 0.01, 69.99, 70, 75][i // 6] if i < 36 else round(float(rng.uniform(0, 70)), 2)
    cs = float(np.interp(th, [0, t1, 70, 90], [1, 1, 0, 0])); pg = round(float(rng.uniform(0, 70)), 1)
    pf = 0.7 * 1.0 * Ct[b] * pg; low = th < 15; pm = (pg if pg <= 20 else 20) if low else 0
    W = round(float(rng.uniform(10, 60)), 1); pr = 5 if 0 < pg <= 20 and th < W / 50 else 0
    rows.append([f"cs-{i+1}", pg, "II", "C", "partially exposed", b, "monoslope", th, s, W, "other", pf, cs, pf * cs, pm, pr, max(pf * cs + pr, pm), 1e-9, "abs", "numpy.interp through the corners of Fig. 7.4-1", "independent", ""])
with open(f"{OUT}/roof-snow--slope-factor.csv", "w", newline="") as f:
    f.write("# Slope factors through the corner points of Fig. 7.4-1, and what follows from them (oracle/snow_figure.py).\n")
    w = csv.writer(f, lineterminator="\n")
    w.writerow(["id", "p_g [psf]", "risk", "terrain", "exposure", "building", "roof", "theta [deg]", "surface", "W [ft]", "rafters", "expect p_f [psf]", "expect C_s", "expect p_s [psf]", "expect p_m [psf]", "expect p_r [psf]", "expect p_balanced [psf]", "tolerance", "tolerance_kind", "source", "kind", "note"]); w.writerows(rows)
print(len(rows))
