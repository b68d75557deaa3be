"""Development lengths against the short table of 25.4.2.3; geometry of anchor reinforcement by intersecting lines; A_2 by growing a polygon; seismic routes by hand."""
import math
import numpy as np
from shapely.geometry import LineString, Point, box
from csvout import write

BARS = {"No. 3": .375, "No. 4": .5, "No. 5": .625, "No. 6": .75, "No. 7": .875, "No. 8": 1.0}
rows = []
for bar, d in BARS.items():
    for fc in (3000, 4000):
        for m, small, large, which in ((1.5, 25, 20, "clear spacing and cover kept"), (1.0, 50 / 3, 40 / 3, "other cases")):
            ld = max(12.0, 60000 / ((small if d <= 0.75 else large) * math.sqrt(fc)) * d)
            rows.append(dict(id=f"25.4.2.3-{bar[4:]}-{fc}-{m}", bar=bar, **{"f_c'": fc, "c_b": m * d, "=l_d": ld}, tol=1e-9, kind="recalled", source="ACI 318-19 Table 25.4.2.3",
                             note=f"{which}: the general equation with c_b = {m} d_b gives the same"))
rows.append(dict(id="xc-R25.4.2.3", bar="No. 7", **{"f_c'": 4000, "c_b": 2.5 * .875, "=l_d": 28.5509262607 * .875}, tol=0.004, kind="published",
                 source="public verification test of the finite-element library xcfem/xc (test_aci_development_01.py): example in the commentary of ACI 318-14 25.4.2.3", note="that program converts f_y and f_c' through rounded metric values"))
# hooked bars: metric edition
for bar in ("No. 4", "No. 5", "No. 6", "No. 8"):
    d = BARS[bar]
    for fc in (3000, 4000, 7000):
        MPa = 0.006894757
        pc = fc * MPa / 105 + 0.6 if fc < 6000 else 1.0
        l = 420 * 1.6 * 1.25 * pc / (23 * math.sqrt(fc * MPa)) * (d * 25.4) ** 1.5 / 25.4
        rows.append(dict(id=f"hook-metric-{bar[4:]}-{fc}", bar=bar, **{"f_c'": fc, "c_b": 3, "=l_dh": max(l, 8 * d, 6.0)}, tol=0.04, kind="recalled", source="ACI 318M-19 25.4.3.1 (coefficient 23, f_y 420 MPa)", note="the metric coefficients are rounded"))
write("bar-development--table.csv", ["Development lengths of bars in tension."], ["bar", "f_c' [psi]", "c_b [in]"], ["l_d [in]", "l_dh [in]"], rows)

AREA = {"No. 3": .11, "No. 4": .20, "No. 5": .31, "No. 6": .44}
rows, rng = [], np.random.default_rng(1752)
for k in range(12):
    h = float(rng.choice([12, 16, 20, 24, 30])); g = float(rng.choice([2, 3, 4, 5, 6])); top = float(rng.choice([1.5, 2, 3])); bar = list(AREA)[rng.integers(4)]; n = int(rng.choice([2, 4, 6])); L = float(rng.choice([36, 48, 60]))
    surface = LineString([(0, -h), (1.5 * h, 0)])  # from the head, 1.5 across for 1 up
    cross = surface.intersection(LineString([(g, -200), (g, 0)]))
    up = -top - cross.y
    rows.append(dict(id=f"cross-{k+1:02}", bar=bar, n_bars=n, **{"f_c'": 3000, "c_b": 3, "h_ef": h, "g": g, "c_top": top, "l_bar": L, "=l_up": up, "=l_down": L - up, "=N_d": sum(0.75 * AREA[bar] * 60000 for _ in range(n))}, top="hook",
                     tol=1e-9, kind="independent", source="oracle/bars_and_bearing.py: breakout surface and bar intersected (shapely)"))
write("anchor-reinforcement--geometry.csv", ["Bars across the breakout surface."], ["bar", "n_bars", "f_c' [psi]", "c_b [in]", "h_ef [in]", "g [in]", "c_top [in]", "top", "l_bar [in]"], ["l_up [in]", "l_down [in]", "N_d [lbf]"], rows)

rows = []
side = math.sqrt(398)
rows.append(dict(id="B-DG1-42", **{"f_c'": 3000, "b": side, "d": side, "B": 2 * side, "D": 2 * side, "h": 60, "=B_d": 1320000.0}, tol=0.001, kind="recalled", source="AISC Design Guide 1, 2nd ed., Example 4.2 (confined, A2 = 4 A1)", note="A_1 = 398 in2"))
for k in range(16):
    b, d = float(rng.choice([4, 5.5, 6, 7.5])), float(rng.choice([4, 5.5, 6, 7.5])); B, D = b + float(rng.choice([0, 2, 4, 6, 12])), d + float(rng.choice([0, 2, 4, 6, 12])); h = float(rng.choice([1, 2, 8, 36])); fc = float(rng.choice([2500, 3000, 4000]))
    seat, top = box(-b / 2, -d / 2, b / 2, d / 2), box(-B / 2, -D / 2, B / 2, D / 2)
    lo, hi = 0.0, 2 * h  # grown until it leaves the concrete
    for _ in range(80):
        m = (lo + hi) / 2
        lo, hi = (m, hi) if top.buffer(1e-9, join_style="mitre").contains(seat.buffer(m, join_style="mitre")) else (lo, m)
    if top.buffer(1e-9, join_style="mitre").contains(seat.buffer(2 * h, join_style="mitre")): lo = 2 * h
    A2 = seat.buffer(lo, join_style="mitre").area
    Bn = min(math.sqrt(A2 / seat.area), 2.0) * 0.85 * fc * seat.area
    rows.append(dict(id=f"grown-{k+1:02}", **{"f_c'": fc, "b": b, "d": d, "B": B, "D": D, "h": h, "=A_2": A2, "=B_n": Bn, "=B_d": 0.65 * Bn}, tol=1e-6, kind="independent", source="oracle/bars_and_bearing.py: seat grown as a polygon inside the concrete (shapely)"))
for r in rows: r |= dict(P_u=1000, plain="no")
rows.append(dict(rows[0], id="phi-plain", plain="yes", **{"=phi": 0.60, "=B_d": ""}, tol=1e-9, source="ACI 318-19 Table 21.2.1", kind="recalled"))
rows.append(dict(rows[0], id="phi", **{"=phi": 0.65, "=B_d": ""}, tol=1e-9, source="ACI 318-19 Table 21.2.1", kind="recalled"))
write("concrete-bearing--spread.csv", ["Bearing on concrete, the spread inside the pier."], ["f_c' [psi]", "b [in]", "d [in]", "B [in]", "D [in]", "h [in]", "plain", "P_u [lbf]"], ["A_2 [in^2]", "B_n [lbf]", "B_d [lbf]", "phi"], rows)

# Earthquake: in the overstrength combinations, whose loads hold Omega_0, the anchors hold what these bring where earthquake
# is over a fifth of the tension or of the shear, and under cantilevers always; in the others what those bring.
rows = []
for sdc, N, E, rN, O, V, VE, rV in (("D", 10, 6, "overstrength", 2.5, 4, 3, "overstrength"), ("D", 10, 2, "overstrength", 2.5, 4, 0.8, "overstrength"), ("B", 10, 6, "overstrength", 2.5, 4, 3, "overstrength"), ("C", 5, 1.5, "overstrength", 1.5, 2, 2, "overstrength")):
    for of in ("no", "anchors", "cantilevers"):
        asked = sdc in "CDEF" and max(E / N, VE / V) > 1 / 5
        held = {"no": True, "anchors": asked, "cantilevers": True}[of]
        rows.append(dict(id=f"route-{sdc}-{E}-{of}", sdc=sdc, N_ua=N, N_E=E, V_ua=V, V_E=VE, route_N=rN, route_V=rV, Omega_0=O, overstrength=of, **{"=N_u": float(N * held), "=V_u": float(V * held)}, tol=1e-9, tk="abs", kind="independent", source="oracle/bars_and_bearing.py: case by case"))
write("anchor-seismic--routes.csv", ["Earthquake on anchors: the overstrength route."], ["sdc", "N_ua [kip]", "N_E [kip]", "V_ua [kip]", "V_E [kip]", "route_N", "route_V", "Omega_0", "overstrength"], ["N_u [kip]", "V_u [kip]"], rows)
