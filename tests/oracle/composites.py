"""Whole bases and piers: the oracles of the single modes put together by hand, for the shares that the composite sheets end in."""
import math
from breakout_tension import evaluate as tension, case as tcase
from breakout_shear import evaluate as shear, case as scase
from csvout import ACI, write

ROD = {0.5: (13, 0.291, 0.467), 0.625: (11, 0.454, 0.671), 0.75: (10, 0.654, 0.911)}
rows = []
def nearest(R, px, py):
    """From a point to the circle round it, by going round the circle."""
    return min(math.hypot(R * math.cos(a / 1e5) - px, R * math.sin(a / 1e5) - py) for a in range(157080))

def base(id, plan, B, D, h_a, d, head, h_ef, nx, ny, sx, sy, P, Hx, Hy, fc=3000.0):
    n = nx * ny
    tpi, hx, hh = ROD[d]
    A_se = math.pi / 4 * (d - 0.9743 / tpi) ** 2
    A_brg = hx if head == "hex" else hh
    # the square of equal area, by its area
    bx, by = (math.sqrt(math.pi * B * B / 4),) * 2 if plan == "round" else (B, D)
    cx, cy = (bx - (nx - 1) * sx) / 2, (by - (ny - 1) * sy) / 2
    # corners of a pattern can stand nearer to the circle than to the square
    if plan == "round" and nx > 1 and ny > 1:
        out = nearest(B / 2, (nx - 1) * sx / 2, (ny - 1) * sy / 2)
        cx, cy = min(cx, out), min(cy, out)
    N, V = max(0, -P), math.hypot(Hx, Hy)
    t = tension(tcase(**{"f_c'": fc}, h_ef=h_ef, n_x=nx, n_y=ny, s_x=sx, s_y=sy, c_x1=cx, c_x2=cx, c_y1=cy, c_y2=cy))
    shares = {"steel": N / n / (0.75 * A_se * 58000), "breakout": N / t["=N_d"], "pullout": N / n / (0.7 * 8 * A_brg * fc)}
    near, far, ne, se = (cx, cy, ny, sy) if cx <= cy else (cy, cx, nx, sx)
    if h_ef > 2.5 * near:
        one = 160 * near * math.sqrt(A_brg * fc)
        group = one * (1 + (ne - 1) * se / (6 * near)) if ne > 1 else one * (min(far / near, 3) + 1) / 4
        shares["blowout"] = N * ne / n / (0.7 * group)
    rN = max(shares.values()) if N else 0
    def edge(c1, c2, m, s, toward, along):
        e = shear(scase(**{"f_c'": fc}, d_a=d, l_e=h_ef, h_a=h_a, c_a1=c1, c_a2_1=c2, c_a2_2=c2, n=m, s=s, V_par=1))
        return toward / e["=V_d"] + along / (0.7 * e["=V_cbg_par"])
    v = {"steel": V / n / (0.65 * 0.6 * A_se * 58000), "x": edge(cx, cy, ny, sy, abs(Hx), abs(Hy) / nx), "y": edge(cy, cx, nx, sx, abs(Hy), abs(Hx) / ny),
         "pryout": V / (0.7 * (1 if h_ef < 2.5 else 2) * t["=N_cbg"])}
    rV = max(v.values()) if V else 0
    rows.append(dict(id=id, **{"f_c'": fc}, plan=plan, B=B, D=D, h_a=h_a, d_a=d, grade="F1554 Grade 36", head=head, h_ef=h_ef, n_x=nx, n_y=ny, s_x=sx, s_y=sy, P_u=P, H_x=Hx, H_y=Hy, sdc="B",
                     **{"=r_N": rN, "=r_V": rV}, tol=1e-5, source="oracle/composites.py: single modes by polygons and limits, put together by hand", kind="independent",
                     note=f"governs: {max(shares, key=shares.get)} and {max(v, key=v.get)}"))
base("round-16-four", "round", 16, 16, 48, 0.625, "heavy hex", 12, 2, 2, 4, 4, -3000, 800, 300)
base("round-12-one", "round", 12, 12, 48, 0.75, "hex", 12, 1, 1, 0, 0, -2500, 500, 500)
base("square-18-two", "rectangular", 18, 18, 36, 0.625, "hex", 10, 2, 1, 6, 0, -2000, -700, 200)
base("pad-36-four", "rectangular", 36, 36, 12, 0.5, "hex", 7, 2, 2, 5, 5, -4000, 900, 0)
base("oblong-two", "rectangular", 12, 24, 36, 0.75, "heavy hex", 20, 1, 2, 0, 8, -5000, 300, 900)
base("deep-near-side", "rectangular", 10, 10, 48, 0.625, "hex", 24, 2, 2, 4, 4, -4000, 200, 100)
base("round-12-four", "round", 12, 12, 48, 0.625, "hex", 12, 2, 2, 5, 5, -2000, 600, 200)
base("round-14-oblong", "round", 14, 14, 48, 0.625, "hex", 16, 2, 2, 3, 7, -2000, 300, 500)
base("down", "round", 16, 16, 48, 0.625, "hex", 12, 2, 2, 4, 4, 6000, 400, -400)
base("no-shear", "round", 16, 16, 48, 0.625, "hex", 12, 2, 2, 4, 4, -2000, 0, 0)
write("cast-anchors--put-together.csv", ["A whole base with cast-in anchors: the largest shares."],
      ["f_c' [psi]", "plan", "B [in]", "D [in]", "h_a [in]", "d_a [in]", "grade", "head", "h_ef [in]", "n_x", "n_y", "s_x [in]", "s_y [in]", "P_u [lbf]", "H_x [lbf]", "H_y [lbf]", "sdc"], ["r_N", "r_V"], rows)
rows = [dict(id=f"report-{d}", N_sa=10000, V_sa=5000, ductile=d, **{"=N_d": 10000.0 * a, "=V_d": 5000.0 * b}, tol=1e-9, source=ACI("Table 17.5.3(a)", 17), kind="published") for d, a, b in (("yes", .75, .65), ("no", .65, .60))]
write("anchor-steel-report--phi.csv", ["Steel by report."], ["N_sa [lbf]", "V_sa [lbf]", "ductile"], ["N_d [lbf]", "V_d [lbf]"], rows)
rows = [dict(id=f"exception-{f}", depth=40, frost=36, framing=f, **{"=a_max": a}, tol=1e-9, source="IBC 2021 1809.5 exception", kind="recalled") for f, a in (("light-frame", 600.0), ("other", 400.0))]
write("frost--exception.csv", ["Areas up to which small buildings need no frost protection."], ["depth [in]", "frost [in]", "framing"], ["a_max [ft^2]"], rows)
# A row along the farther side may burst it first; anchors of a round pier by the nearest point of the circle
rows = []
one = 160 * 4.2 * math.sqrt(0.454 * 3000)
rows.append(dict(id="far-side", plan="rectangular", B=11, D=14.4, n_x=2, n_y=2, s_x=3, s_y=6, **{"=r_f": 1500 / (0.7 * one * (1 + 3 / 25.2)), "=c_out": 4.0}))
for k, (B, nx, ny, sx, sy) in enumerate([(16, 2, 2, 5, 5), (18, 2, 1, 9, 0), (14, 1, 1, 0, 0), (12, 2, 2, 5, 5), (16, 2, 2, 3, 3), (14, 2, 2, 3, 7)]):
    px, py = (nx - 1) * sx / 2, (ny - 1) * sy / 2
    c = nearest(B / 2, px, py)
    side = math.sqrt(math.pi) * B / 4
    # one row stands on an axis: there the square of equal area counts, which has less concrete beside it
    c_x, c_y = (min(side - p, c) if min(nx, ny) > 1 else side - p for p in (px, py))
    rows.append(dict(id=f"round-{k+1}", plan="round", B=B, D=B, n_x=nx, n_y=ny, s_x=sx, s_y=sy, **{"=c_out": c, "=c_x": c_x, "=c_y": c_y}))
for r in rows: r |= dict(**{"f_c'": 3000}, h_a=48, d_a=0.625, grade="F1554 Grade 36", head="hex", h_ef=20, P_u=-3000, H_x=0, H_y=0, sdc="B", tol=1e-6, source="oracle/composites.py: the row of the farther side; nearest point of the circle", kind="independent")
write("cast-anchors--edges.csv", ["Edges of a base with cast-in anchors."],
      ["f_c' [psi]", "plan", "B [in]", "D [in]", "h_a [in]", "d_a [in]", "grade", "head", "h_ef [in]", "n_x", "n_y", "s_x [in]", "s_y [in]", "P_u [lbf]", "H_x [lbf]", "H_y [lbf]", "sdc"], ["r_f", "c_out [in]", "c_x [in]", "c_y [in]"], rows)
