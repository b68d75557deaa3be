"""Piers below the ground: shear and moment of a rigid body in springs that stiffen with depth; strengths by the metric edition
of the code, whose coefficients are rounded (recalled); and the cases just met and just not met."""
import math

import numpy as np

from csvout import write
from verdicts import Case, Sheet, aci

IN, PSI, LBF = 25.4, 0.006894757, 4.448222


def rigid(H, M_g, d, slab, n=40000):
    """Shears and moments down a pier of depth d. Unknown are its movement and turn at the ground; a slab allows no movement."""
    dz = d / n
    z = (np.arange(n) + 0.5) * dz
    s, one = z * dz, np.ones(n)  # stiffness of each slice, growing with the depth
    if slab:
        p = s * (M_g / (s * z * z).sum()) * z
        R = H + p.sum()  # what the slab takes
        V = H - R + np.cumsum(p)
    else:
        move, turn = np.linalg.solve([[s.sum(), -(s * z).sum()], [(s * z).sum(), -(s * z * z).sum()]], [H, -M_g])
        p = s * (move - turn * z)
        V = H - np.cumsum(p)
    M = M_g + np.cumsum(V) * dz
    at = int(abs(M).argmax())
    return max(H, abs(V).max()), float(abs(M).max()), float(z[at])


rows = []
for k, (H, share, d, slab) in enumerate([(1000, 0.25, 48, "no"), (1000, 1, 48, "no"), (1000, 3, 48, "no"), (700, 0.0, 60, "no"), (0, 20000, 36, "no"), (450, 0.6, 84, "no"), (800, 0.5, 40, "yes"), (800, 2, 40, "yes")]):
    M_g = share if H == 0 else H * share * d
    V, M, z = rigid(H, M_g, d, slab == "yes")
    # The moment of the sheet is on the safe side, and the greatest one stands between its two depths.
    assert M <= (M_g + H * d / 3) * 1.0001, (H, share)
    if slab == "no":
        turn = (3 * H * d + 4 * M_g) / (4 * H * d + 6 * M_g)
        low = d * math.sqrt(H * d / (6 * (2 * H * d + 3 * M_g) * turn))
        assert low <= z + d / 20000 and z <= 1.27 * low + d / 20000, (H, share, low, z)
    rows.append(dict(id=f"rigid-{k + 1}", **{"H": H, "M_g": M_g / 12, "d": d, "slab": slab, "=V_u": V}, tol=2e-3, source="oracle/pier_ground.py: rigid pier in springs that stiffen with depth", kind="independent"))
for share, times in ((0.25, 1.1), (1, 2.4), (3, 6.0)):
    rows.append(dict(id=f"times-{times}", **{"H": 1000, "M_g": 1000 * share * 4, "d": 48, "slab": "no", "=V_u": times * 1000}, tol=0.02, source=f"statics of the parabola by hand: shear below the pivot at h/d {share}", kind="independent"))
write("pier-forces--springs.csv", ["Greatest shear of a rigid pier in the ground."], ["H [lbf]", "M_g [lbf ft]", "d [in]", "slab"], ["V_u [lbf]"], rows)

# Shear by ACI 318M-19: V_c = (0.17 or 0.66 lambda_s rho^(1/3)) sqrt(f_c') + N_u / 6 A_g, A_v,min of 0.062 sqrt(f_c') and 0.35, MPa and mm.
rows = []
for k, (shape, b, R, A_st, fc, A_t, s, P) in enumerate([("round", 16, 4.75, 1.2, 3000, 0.11, 6, 3000), ("round", 16, 4.75, 1.2, 3000, 0.11, 8, 3000), ("square", 18, 5.4, 1.76, 4000, 0.2, 7, -9000),
                                                        ("square", 24, 8.4, 2.48, 5000, 0.11, 16, -2000), ("round", 30, 11, 4.74, 3500, 0.2, 10, 20000), ("round", 12, 2.4, 0.8, 2500, 0.11, 12, -20000)]):
    A_e = math.pi * b * b / 4 if shape == "round" else b * b
    d = (0.8 * b if shape == "round" else b / 2 + R) * IN
    f, bw, sm, Av = fc * PSI, b * IN, s * IN, 2 * A_t * IN**2
    counts = Av >= max(0.062 * math.sqrt(f), 0.35) * bw * sm / 413.685 and sm <= d / 2
    rho, size = A_st * IN**2 / 4 / (bw * d), min(1, math.sqrt(2 / (1 + 0.004 * d)))
    v = (0.17 if counts else 0.66 * size * rho ** (1 / 3)) * math.sqrt(f) + min(P * LBF / (6 * A_e * IN**2), 0.05 * f)
    Vc = min(max(0, v), 0.42 * math.sqrt(f)) * bw * d
    Vs = min(Av * 413.685 * d / sm, 0.33 * math.sqrt(f) * bw * d)
    rows.append(dict(id=f"metric-{k + 1}", **{"shape": shape, "b": b, "R": R, "A_e": A_e, "A_st": A_st, "f_c'": fc, "A_t": A_t, "s": s, "P_u": P, "V_u": 0, "=V_d": (0.75 * (Vc + Vs) if counts else 0.375 * Vc) / LBF},
                     tol=0.025, source="ACI 318M-19 Table 22.5.5.1, 22.5.8.5.3, 10.6.2.2 (coefficients 0.17, 0.66, 0.062, 0.35, 0.33)", kind="recalled"))
write("pier-shear--metric.csv", ["Shear of reinforced piers by the metric edition, whose coefficients are rounded."],
      ["shape", "b [in]", "R [in]", "A_e [in^2]", "A_st [in^2]", "f_c' [psi]", "A_t [in^2]", "s [in]", "P_u [lbf]", "V_u [lbf]"], ["V_d [lbf]"], rows)

# Hooks whose spacing or side cover counts, by ACI 318M-19: f_y psi_r psi_o psi_c / (23 sqrt(f_c')) d_b^1.5.
rows = []
for k, (bar, db, fc, s, c) in enumerate([("No. 4", 0.5, 3000, 4.75, 3.375), ("No. 5", 0.625, 3000, 4, 3.375), ("No. 6", 0.75, 4000, 4, 4.6), ("No. 8", 1.0, 7000, 6.5, 6.5), ("No. 3", 0.375, 5000, 3, 3.375)]):
    f, d = fc * PSI, db * IN
    psi = (1 if s >= 6 * db else 1.6) * (1 if c >= 6 * db else 1.25) * (1 if f >= 42 else f / 105 + 0.6)
    rows.append(dict(id=f"hook-{k + 1}", **{"bar": bar, "f_c'": fc, "c_b": 3, "hook_s": s, "hook_c": c, "=l_dh": max(420 * psi / (23 * math.sqrt(f)) * d**1.5, 8 * d, 150) / IN},
                     tol=0.04, source="ACI 318M-19 25.4.3.1, Table 25.4.3.2 (coefficient 23, f_y 420 MPa)", kind="recalled", note="the metric coefficients are rounded"))
write("bar-development--hooks.csv", ["Hooks with their spacing and side cover counted."], ["bar", "f_c' [psi]", "c_b [in]", "hook_s [in]", "hook_c [in]"], ["l_dh [in]"], rows)

# What counts of a pier with less than one percent of steel: a scaled picture of it that has one percent, or half of its area.
rows = []
for k, (shape, b, bar, n, A_1, d_b) in enumerate([("square", 16, "No. 4", 8, 0.2, 0.5), ("round", 16, "No. 4", 6, 0.2, 0.5), ("round", 12, "No. 6", 4, 0.44, 0.75)]):
    A_g = sum(2 * math.sqrt(max(0, (b / 2) ** 2 - y * y)) * b / 4000 if shape == "round" else b * b / 4000 for y in (np.arange(4000) + 0.5) / 4000 * b - b / 2)
    part = min(1, max(0.5, n * A_1 / A_g / 0.01))
    rows.append(dict(id=f"counts-{k + 1}", **{"f_c'": 4000, "shape": shape, "b": b, "h_free": 6, "d": 48, "standoff": 4, "bar": bar, "n_bars": n, "tie": "No. 3", "tie_spacing": 6, "bar_end": "straight", "bar_foot": "straight",
                     "bar_top": 2, "sdc": "B", "P_u": 0, "H_u": 500, "M_0": 0, "=A_e": part * A_g, "=b_e": b * part**0.5, "=R_e": (b / 2 - 3 - 0.375 - d_b / 2) * part**0.5}, tol=1e-4, source="oracle/pier_ground.py: area by strips, scaled", kind="independent"))
write("reinforced-pier--area.csv", ["What counts of a pier with little steel."],
      ["f_c' [psi]", "shape", "b [in]", "h_free [in]", "d [in]", "standoff [in]", "bar", "n_bars", "tie", "tie_spacing [in]", "bar_end", "bar_foot", "bar_top [in]", "sdc", "P_u [lbf]", "H_u [lbf]", "M_0 [lbf ft]"], ["A_e [in^2]", "b_e [in]", "R_e [in]"], rows)

sheet = Sheet("pier-shear")
given = {"shape": "square", "b [in]": 20, "R [in]": 6.4, "A_e [in^2]": 400, "A_st [in^2]": 4, "f_c' [psi]": 4000, "A_t [in^2]": 0.11, "s [in]": 8, "P_u [lbf]": 0}
# d = 16.4, and 2 sqrt(4000) over 20 by 16.4 with two No. 3 legs at 8 in.
sheet.near("shear", "shear of the reinforced pier", given, {"V_u [lbf]": 0.75 * (2 * math.sqrt(4000) * 20 * 16.4 + 0.22 * 60000 * 16.4 / 8)}, "0.75 of 2 sqrt(f_c') b d and of two No. 3 legs at 8 in, ACI 318-19 22.5, by hand", "independent", tolerance=1e-7)
sheet.write()

sheet = Sheet("pier-ties")
given = {"shape": "round", "b [in]": 16, "h [in]": 60, "bar": "No. 4", "n_bars": 6, "tie": "No. 3", "s [in]": 6, "s_b [in]": 4}
sheet.near("bar", "spacing of the ties", given, {"s [in]": 16 * 0.5}, "16 bar diameters, ACI 318-19 25.7.2.1, by hand", "independent", tolerance=1e-9)
sheet.near("tie", "spacing of the ties", given | {"bar": "No. 8", "b [in]": 30}, {"s [in]": 16}, "16 bar diameters of 1 in (48 of the tie are 18 in), ACI 318-19 25.7.2.1, by hand", "independent", tolerance=1e-9)
sheet.near("width", "spacing of the ties", given | {"bar": "No. 8", "b [in]": 12}, {"s [in]": 12}, "the width of the pier, ACI 318-19 25.7.2.1, by hand", "independent", tolerance=1e-9)
sheet.either("four", "vertical bars within ties", given, {"n_bars": 4}, {"n_bars": 3}, aci("four bars within circular or rectangular ties", "10.7.3.1", 10), "published")
sheet.near("corner", "clear spacing of bars not held by a tie corner", given | {"shape": "square", "n_bars": 8}, {"s_b [in]": 6}, "6 in, ACI 318-19 25.7.2.3", "recalled", tolerance=1e-9)
ties = "ACI 318-19 25.7.2.3, as quoted in a public course in Spanish"
sheet.near("corner-mm", "clear spacing of bars not held by a tie corner", given | {"shape": "square", "n_bars": 8}, {"s_b [in]": 150 / 25.4}, f"150 mm, {ties}", "published", by=0.02)
sheet.either("side", "no two adjacent bars without a tie corner", given | {"shape": "square"}, {"n_bars": 8}, {"n_bars": 12}, f"every other bar in the corner of a tie, {ties}", "published")
sheet.write()

sheet = Sheet("pier-development")
hook = Case("bar-development--hooks", "hook-1")
given = {"bar": "No. 4", "f_c' [psi]": 3000, "c_b [in]": 2.375, "s_c [in]": 4.75, "cover [in]": 3.375, "top": "straight", "foot": "hook", "c_top [in]": 2, "h_free [in]": 8, "d [in]": 48, "t [in]": 10, "z_1 [in]": 12, "z_2 [in]": 15, "P_u [lbf]": -500, "M_u [lbf ft]": 1000}
# A straight No. 4 with 2.5 for its cover: 3/40 x 60,000 x 0.8 / (sqrt(3000) x 2.5) diameters.
l_d = 3 / 40 * 60000 * 0.8 / (math.sqrt(3000) * 2.5) * 0.5
above, below, pad = (f"development of the bars {where}" for where in ("above the maximum moment", "below the maximum moment", "into the pad"))
sheet.near("above", above, given, lambda share: {"h_free [in]": l_d * share - 12 + 2}, "a straight No. 4, ACI 318-19 Eq. 25.4.2.4a, by hand", "independent", more=True, tolerance=1e-7)
sheet.near("below", below, given | {"foot": "straight"}, lambda share: {"d [in]": l_d * share + 15 + 3}, "a straight No. 4, ACI 318-19 Eq. 25.4.2.4a, by hand", "independent", more=True, tolerance=1e-7)
sheet.near("on-pad", below, given | {"foot": "straight", "d [in]": 0, "z_1 [in]": 0, "z_2 [in]": 0}, lambda share: {"t [in]": l_d * share + 3}, "a straight No. 4, ACI 318-19 Eq. 25.4.2.4a, by hand", "independent", more=True, tolerance=1e-7)
# The hook of a No. 4 is no shorter than 6 in.
sheet.near("pad", pad, given, lambda share: {"t [in]": 6 * share + 3}, "6 in, ACI 318-19 25.4.3.1(c), by hand", "independent", more=True, tolerance=1e-7)
sheet.write()

sheet = Sheet("reinforced-pier")
given = {"f_c' [psi]": 4000, "shape": "square", "b [in]": 16, "h_free [in]": 6, "d [in]": 60, "t [in]": 0, "standoff [in]": 4, "bar": "No. 5", "n_bars": 8, "tie": "No. 3", "tie_spacing [in]": 6, "bar_end": "straight", "bar_foot": "straight", "bar_top [in]": 2, "sdc": "B",
         "P_u [lbf]": 3000, "H_u [lbf]": 800, "M_0 [lbf ft]": 0}
sheet.near("concrete-mpa", "concrete of a reinforced pier in SDC D and up", given | {"sdc": "D"}, {"f_c' [psi]": 21 / PSI}, aci("21 MPa for foundations in SDC D to F", "Table 19.2.1.1", 19), "published", more=True, by=0.02)
sheet.near("concrete", "concrete of a reinforced pier in SDC D and up", given | {"sdc": "D"}, {"f_c' [psi]": 3000}, "3000 psi, ACI 318-19 Table 19.2.1.1", "recalled", more=True, tolerance=1e-9)
# Eight No. 3 bars, 0.88 in2, are half a percent of 176 in2; eight No. 8, 6.32 in2, are 8 percent of 79 in2, a round pier of 10.03 in.
sheet.near("least", "minimum vertical bars of a reinforced pier", given | {"bar": "No. 3", "tie_spacing [in]": 5}, lambda share: {"b [in]": math.sqrt(0.88 / 0.005 / share)}, "half a percent of the area, ACI 318-19 10.3.1.2, 10.6.1.1, by hand", "independent", more=True, tolerance=1e-7)
sheet.near("most", "maximum vertical bars of a reinforced pier", given | {"bar": "No. 8", "shape": "round", "P_u [lbf]": 0, "H_u [lbf]": 0}, lambda share: {"b [in]": math.sqrt(8 * 0.79 / 0.08 / share * 4 / math.pi)}, "8 percent of the area, ACI 318-19 10.6.1.1, by hand", "independent", tolerance=1e-7)
# k l / r of 22 with k 2: h + d / 3 of 11 radii, and 0.3 of 16 in is 4.8 in.
sheet.near("slender", "slenderness of the pier as a cantilever", given, lambda share: {"h_free [in]": 11 * 4.8 * share - 20}, "22 radii of gyration of 0.3 of the side, k 2, ACI 318-19 6.2.5, by hand", "independent", tolerance=1e-7)
sheet.write()
