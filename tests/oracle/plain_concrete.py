"""Plain pads and piers: published numbers, and internal forces summed over a grid of the pad."""
import math
import numpy as np
from csvout import write
INPUTS = ["f_c' [psi]", "B [in]", "L [in]", "t [in]", "b_c [in]", "d_c [in]", "P_u [lbf]", "sdc"]
EXPECTS = ["h [in]", "q_u [psf]", "M_s [lbf ft]", "V_s [lbf]", "V_p [lbf]", "b_o [in]", "M_n [lbf in]", "V_n [lbf]", "V_np [lbf]"]
rows = [dict(id="B-FTGM", **{"f_c'": 3000, "B": 50, "L": 24, "t": 12, "b_c": 12, "d_c": 12, "P_u": 2338 / 144 * 50 * 24, "=M_s": 2931.0}, tol=0.005, source="Web example 'Big Column Footing, Part 2' (q = 2338 psf, l = 19 in, per ft)", kind="published"),
        dict(id="B-PLH", **{"f_c'": 3000, "B": 36, "L": 36, "t": 9, "b_c": 12, "d_c": 12, "P_u": 1000, "=h": 7.0}, tol=1e-9, source="Web example 'Strength Design of a Plain Concrete Footing' (9 in cast on soil, 7 in count)", kind="published")]
rng = np.random.default_rng(145)
for k in range(14):
    B, L = float(rng.choice([24, 30, 36, 42])), float(rng.choice([24, 30, 36, 42])); t = float(rng.choice([8, 10, 12, 14])); b, d = float(rng.choice([6, 8, 12])), float(rng.choice([6, 8, 12, 18])); fc = float(rng.choice([2500, 3000, 4000])); P = float(rng.integers(4, 30)) * 1000
    h = t - 2; nx, ny = int(B * 4), int(L * 4)  # quarter-inch squares, so that all sections fall on their edges
    x, y = (np.arange(nx) + .5) / 4 - B / 2, (np.arange(ny) + .5) / 4 - L / 2
    X, Y = np.meshgrid(x, y); q = P / (B * L); dA = 1 / 16
    # the whole strip beyond the face in the worse direction, brought to 12 in of width
    sides = []
    for Z, half, width in ((X, b / 2, L), (Y, d / 2, B)):
        out = Z > half
        arm = np.where(out, Z - half, 0)
        sides.append(((q * dA * arm).sum() * 12 / width, (q * dA * (Z > half + h)).sum() * 12 / width))
    M, V = max(s[0] for s in sides), max(s[1] for s in sides)
    bx, dy = min(b + h, B), min(d + h, L)
    inside = (abs(X) < bx / 2) & (abs(Y) < dy / 2)
    Vp = (q * dA * ~inside).sum(); bo = 2 * bx + 2 * dy
    root = math.sqrt(fc); y2 = (np.arange(4000) + .5) / 4000 * h - h / 2
    I = (12 * y2 * y2).sum() * h / 4000
    Mn = 5 * root * I / (h / 2)  # stress at the face by strips
    beta = max(b, d) / min(b, d)
    rows.append(dict(id=f"grid-{k+1:02}", **{"f_c'": fc, "B": B, "L": L, "t": t, "b_c": b, "d_c": d, "P_u": P, "=h": h, "=q_u": q * 144, "=M_s": M / 12, "=V_s": V, "=V_p": Vp, "=b_o": bo, "=M_n": Mn,
                     "=V_n": 4 / 3 * root * 12 * h, "=V_np": min(4 / 3 + 8 / (3 * beta), 8 / 3) * root * bo * h}, tol=1e-3, source="oracle/plain_concrete.py: pressure summed over quarter-inch squares, section by strips", kind="independent", note="the coefficients 5, 4/3 and 8/3 are recalled"))
for r in rows: r["sdc"] = "B"
# moment arm sums of a grid are exact to (1/4 in)^2; where the projection is short the tolerance is wider
write("plain-footing--grid.csv", ["Plain concrete pads."], INPUTS, EXPECTS, rows)
# the oblique pressure under a moment
from soil_plane import largest
rows = [dict(id=f"moment-{u}", **{"f_c'": 3000, "B": 36, "L": 36, "t": 12, "b_c": 12, "d_c": 12, "P_u": 8000, "sdc": "B", "M_u": 8000 * u * 3, "=q_u": 8000 / 9 * largest(u, 0)}, tol=3e-4, source="oracle/soil_plane.py: plane of pressure without tension", kind="independent") for u in (0.05, 0.15, 0.2, 0.3)]
write("plain-footing--moment.csv", ["Plain pads under a moment."], INPUTS + ["M_u [lbf ft]"], ["q_u [psf]"], rows)

rows = []
for k in range(10):
    b = float(rng.choice([10, 12, 16, 18])); cast = ["formed", "earth"][k % 2]; hf, d = float(rng.choice([4, 8, 12])), float(rng.choice([36, 48, 60])); P = float(rng.integers(-2, 12)) * 1000; H = float(rng.integers(1, 10)) * 100; fc = 3000.0
    e = b - 2 if cast == "earth" else b
    n = 4000; y = (np.arange(n) + .5) / n * e - e / 2; I = (e * y * y).sum() * e / n
    C = max(0.0, P); M = H * hf + H * d / 3
    # the stress at a face by the straight line through the fibres of the section
    f = M * (e / 2) / I - C / e**2
    # axial strength falls by the square of h/32b: at 32 b nothing is left, at 0 all
    Pn = 0.6 * fc * e * e * float(np.interp((hf / (32 * e)) ** 2, [0, 1], [1, 0]))
    rows.append(dict(id=f"strips-{k+1:02}", **{"f_c'": fc, "b": b, "cast": cast, "h_free": hf, "d": d, "P_u": P, "H_u": H, "A_b": 0.8, "sdc": "B", "=M_u": M / 12, "=f_u": f, "=P_n": Pn, "=T_b": sum(0.9 * 0.2 * 60000 for _ in range(4)), "=T_d": 0}, tol=2e-5, source="oracle/plain_concrete.py: section by strips", kind="independent"))
write("plain-pier--strips.csv", ["Plain piers."], ["f_c' [psi]", "b [in]", "cast", "h_free [in]", "d [in]", "P_u [lbf]", "H_u [lbf]", "A_b [in^2]", "sdc"], ["M_u [lbf ft]", "f_u [psi]", "P_n [lbf]", "T_b [lbf]", "T_d [lbf]"], rows)
# round piers by strips of the circle, not by the square of equal area, which has 18 percent more section modulus
rows = []
for k, (b, cast, hf, so, d, P, H) in enumerate([(12, "formed", 4, 3, 48, 0, 700), (16, "earth", 6, 6.5, 57, 3000, 600), (18, "formed", 8, 2, 60, -1500, 900), (10, "earth", 4, 1, 36, 5000, 250)]):
    D = b - 2.0 if cast == "earth" else float(b)
    n = 400000; y = (np.arange(n) + .5) / n * D - D / 2; w = 2 * np.sqrt(D * D / 4 - y * y)
    A, I = w.sum() * D / n, (w * y * y).sum() * D / n
    M = H * so + H * hf + H * d / 3
    rows.append(dict(id=f"round-{k+1}", shape="round", **{"f_c'": 3000, "b": b, "cast": cast, "h_free": hf, "standoff": so, "d": d, "P_u": P, "H_u": H, "A_b": 1.6, "sdc": "B", "=M_u": M / 12, "=f_u": M * (D / 2) / I - max(0, P) / A}, tol=2e-5, source="oracle/plain_concrete.py: circle by strips", kind="independent"))
write("plain-pier--round.csv", ["Plain round piers under a shear above their top."], ["f_c' [psi]", "shape", "b [in]", "cast", "h_free [in]", "standoff [in]", "d [in]", "P_u [lbf]", "H_u [lbf]", "A_b [in^2]", "sdc"], ["M_u [lbf ft]", "f_u [psi]"], rows)
