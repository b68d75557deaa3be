"""Independent values: roof-live by numpy.interp through the corners of 4.8.2; dead-load by the true surface of the roof
(slope length times width) in SI units, and posts and beams as volumes in cubic metres."""
import csv
import numpy as np
from csvout import OUT
of_beams = np.random.default_rng(49); rng = np.random.default_rng(48)
def write(name, comments, header, rows):
    with open(f"{OUT}/{name}.csv", "w", newline="") as f:
        for c in comments: f.write(f"# {c}\n")
        w = csv.writer(f, lineterminator="\n"); w.writerow(header); w.writerows(rows)
    print(name, len(rows))
rows = []
for i in range(40):
    A = [0, 200, 400, 600, 900][i] if i < 5 else round(float(rng.uniform(20, 800)), 1); F = [0, 4, 8, 12, 14][i % 5] if i < 10 else round(float(rng.uniform(0, 16)), 2)
    r1 = float(np.interp(A, [200, 600], [1, 0.6])); r2 = float(np.interp(F, [4, 12], [1, 0.6]))
    L = min(20, max(12, 20 * r1 * r2))
    rows.append([f"lr-{i+1}", A, float(np.degrees(np.arctan(F / 12))), r1, r2, L, 1e-9, "abs", "numpy.interp through the corners of 4.8.2", "independent", ""])
rows.append(["eng-tips-327066", 100, 45, 1, 0.6, 12, 1e-9, "abs", "eng-tips thread 327066: a 12 on 12 roof, R_2 0.6, not under 12 psf", "published", "area chosen under 200 sf"])
write("roof-live--corners", ["Roof live load through the corner points of the two reductions."], ["id", "A_t [sf]", "theta [deg]", "expect R_1", "expect R_2", "expect L_r [psf]", "tolerance", "tolerance_kind", "source", "kind", "note"], rows)
FT, LBF, IN = 0.3048, 4.4482216152605, 0.0254
rows = []
for i in range(30):
    run, width = rng.uniform(4, 16, 2) * FT; rise = rng.uniform(0, 1.2) * run
    lay = [round(float(v), 2) for v in rng.uniform(0, 6, 6)]; tim = round(float(rng.uniform(0, 2000)), 1); b, d = (round(float(v), 2) for v in rng.uniform(3.5, 12, 2)); l = round(float(rng.uniform(7, 14)), 2); g = round(float(rng.uniform(22, 60)), 1)
    surface = np.hypot(run, rise) * width
    roof = sum(lay) * LBF / FT**2 * surface; post = g * LBF / FT**3 * (b * IN) * (d * IN) * (l * FT)
    beams = [0, 0, 0, 0] if i < 3 else [round(float(v), 2) for v in (*of_beams.uniform(15, 120, 2), *of_beams.uniform(0, 20, 2))]
    timber = sum(beams[at] * IN**2 * beams[at + 2] * FT for at in (0, 1)) * g * LBF / FT**3
    rows.append([f"d-{i+1}", float(run * width / FT**2), float(np.degrees(np.arctan2(rise, run))), *lay, *beams, tim, b, d, l, g, float(roof / LBF), float(post / LBF), float(timber / LBF), float((roof + post + timber) / LBF + tim), 1e-9, "rel", "true surface of the slope and volume of the timber, in SI", "independent", ""])
write("dead-load--surface", ["Dead load from the true surface of the roof and the volume of the post (oracle/areas.py)."],
    ["id", "A [sf]", "theta [deg]", "roofing [psf]", "sheathing [psf]", "insulation [psf]", "rafters [psf]", "ceiling [psf]", "other [psf]", "beam_x [in^2]", "beam_y [in^2]", "l_x [ft]", "l_y [ft]", "timbers [lbf]", "b [in]", "d [in]", "l [ft]", "gamma_w [pcf]", "expect P_roof [lbf]", "expect P_post [lbf]", "expect P_beams [lbf]", "expect P_D [lbf]", "tolerance", "tolerance_kind", "source", "kind", "note"], rows)
