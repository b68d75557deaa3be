"""The same strengths by the metric edition of the code (recalled): its coefficients are rounded, so the tolerance is wide.

ACI 318M-19: N_b = 10 sqrt(f_c') h^1.5 (7 post-installed), V_b = min(0.6 (l/d)^0.2 sqrt(d), 3.7) sqrt(f_c') c^1.5, N_sb = 13 c sqrt(A_brg) sqrt(f_c'), in N, mm, MPa.
"""
import math
from csvout import write
IN, PSI, LBF = 25.4, 0.006894757, 4.448222
rows = []
for h, fc, k, km in ((4, 3000, 24, 10), (6, 4000, 24, 10), (8, 2500, 24, 10), (3, 4000, 17, 7), (5, 3000, 17, 7)):
    N = km * math.sqrt(fc * PSI) * (h * IN) ** 1.5 / LBF
    rows.append(dict(id=f"metric-Nb-{k}-{h}", **{"f_c'": fc, "h_ef": h, "k_c": k, "n_x": 1, "n_y": 1, "s_x": 0, "s_y": 0, "c_x1": 90, "c_x2": 90, "c_y1": 90, "c_y2": 90, "=N_b": N}))
write("anchor-breakout--metric.csv", ["Basic breakout strength by the metric edition, whose coefficients are rounded."],
      ["f_c' [psi]", "h_ef [in]", "k_c", "n_x", "n_y", "s_x [in]", "s_y [in]", "c_x1 [in]", "c_x2 [in]", "c_y1 [in]", "c_y2 [in]"], ["N_b [lbf]"],
      [r | dict(tol=0.02, source="ACI 318M-19 17.6.2.2.1 (coefficients 10 and 7)", kind="recalled") for r in rows])
rows = []
for d, l, c, fc in ((0.5, 4, 4, 3000), (0.625, 6, 6, 4000), (0.75, 8, 5, 3000), (1.0, 12, 8, 4000)):
    V = min(0.6 * min(l / d, 8) ** 0.2 * math.sqrt(d * IN), 3.7) * math.sqrt(fc * PSI) * (c * IN) ** 1.5 / LBF
    rows.append(dict(id=f"metric-Vb-{d}", **{"f_c'": fc, "d_a": d, "l_e": l, "h_a": 90, "c_a1": c, "c_a2_1": 90, "c_a2_2": 90, "n": 1, "s": 0, "=V_b": V}))
write("anchor-shear-breakout--metric.csv", ["Basic shear breakout strength by the metric edition, whose coefficients are rounded."],
      ["f_c' [psi]", "d_a [in]", "l_e [in]", "h_a [in]", "c_a1 [in]", "c_a2_1 [in]", "c_a2_2 [in]", "n", "s [in]"], ["V_b [lbf]"],
      [r | dict(tol=0.035, source="ACI 318M-19 17.7.2.2.1 (coefficients 0.6 and 3.7)", kind="recalled") for r in rows])
rows = []
for c, A, fc in ((2, 0.454, 3000), (2.5, 0.654, 4000), (3, 1.163, 2500)):
    rows.append(dict(id=f"metric-Nsb-{c}", **{"f_c'": fc, "A_brg": A, "h_ef": 12, "c_a1": c, "c_a2": 90, "=N_sb": 13 * c * IN * math.sqrt(A) * IN * math.sqrt(fc * PSI) / LBF}))
write("anchor-blowout--metric.csv", ["Side-face blowout by the metric edition, whose coefficient is rounded."], ["f_c' [psi]", "A_brg [in^2]", "h_ef [in]", "c_a1 [in]", "c_a2 [in]"], ["N_sb [lbf]"],
      [r | dict(tol=0.025, source="ACI 318M-19 17.6.4.1 (coefficient 13)", kind="recalled") for r in rows])
