"""Independent values for wind-open-roof and wind-post.

wind-open-roof: numpy.interp over the shared tables (not over the converted ones that the sheet reads).
wind-post: the roof is built in space as panels, cut into small triangles, and the pressure is added up as
vectors along each triangle's normal; nothing uses plan areas or tangents. Drag on beams and edges is one more vector.
"""
import csv, pathlib
import numpy as np
from csvout import OUT
SHARED = pathlib.Path(__file__).parent / "published"
rd = lambda n: list(csv.DictReader(l for l in open(f"{SHARED}/{n}.csv") if l[0] != "#"))
rng = np.random.default_rng(27); of_drag = np.random.default_rng(28)
def write(name, comments, header, rows):
    with open(f"{OUT}/{name}.csv", "w", newline="") as f:
        for c in comments: f.write(f"# {c}\n")
        w = csv.writer(f, lineterminator="\n"); w.writerow(header); w.writerows(rows)
    print(name, len(rows))

mono, pit, tro = rd("cn_monoslope"), rd("cn_pitched"), rd("cn_troughed")
def cn(roof, g, flow, case, th):
    if th < 7.5: roof, th = "monoslope", 0.0
    rows = mono if roof == "monoslope" else pit if roof == "pitched" else tro
    sel = [r for r in rows if r["flow"] == flow and r["case"] == case and (roof != "monoslope" or r["gamma_deg"] == g)]
    t = [float(r["theta_deg"]) for r in sel]
    return [float(np.interp(th, t, [float(r[c]) for r in sel])) for c in ("CNW", "CNL")]
rows = []
for i in range(120):
    roof = ["monoslope", "pitched", "troughed"][i % 3]; g = ["0", "180"][(i // 3) % 2]; flow = ["clear", "obstructed"][(i // 6) % 2]; case = "AB"[(i // 12) % 2]
    th = round(float(rng.uniform(0, 12) if i % 5 == 0 else rng.uniform(7.5, 45)), 2); q = round(float(rng.uniform(8, 45)), 2)
    h = round(float(rng.uniform(8, 20)), 1); L = round(h / float(rng.uniform(0.26, 0.99)), 1); G = 0.85
    W, Le = cn(roof, g, flow, case, th)
    rows.append([f"cn-{i+1}", q, roof, th, flow, case, g + " deg", h, L, G, W, Le, q * G * W, q * G * Le, 1e-9, "abs", "numpy.interp over the shared table", "independent", ""])
H = ["id", "q_h [psf]", "roof", "theta [deg]", "flow", "case", "gamma", "h [ft]", "L [ft]", "G", "expect C_NW", "expect C_NL", "expect p_W [psf]", "expect p_L [psf]", "tolerance", "tolerance_kind", "source", "kind", "note"]
write("wind-open-roof--interpolation", ["Pressures between the tabulated slopes and below 7.5 deg, interpolated by numpy over the shared tables (oracle/wind_roof.py)."], H, rows)

def panel(x0, x1, z0, z1, y, n=40):
    """Force per unit pressure of a panel that rises from z0 at x0 to z1 at x1, width y, summed over triangles (numbers of the corners turn so that the normal is up)."""
    total = np.zeros(3)
    for i in range(n):
        a, b = i / n, (i + 1) / n
        p = [np.array([x0 + t * (x1 - x0), s, z0 + t * (z1 - z0)]) for t in (a, b) for s in (0.0, y)]
        for tri in ((p[0], p[2], p[3]), (p[0], p[3], p[1])):
            area = np.cross(tri[1] - tri[0], tri[2] - tri[0]) / 2  # points up: x0 < x1
            total -= area  # plus pressure pushes into the top
    return total
rows = []
for i in range(60):
    roof = ["monoslope", "pitched", "troughed"][i % 3]; g = ["0 deg", "180 deg", "90 deg"][(i // 3) % 3]
    th = round(float(rng.uniform(7.5, 45)), 2); pW, pL = (round(float(v), 2) for v in rng.uniform(-35, 35, 2))
    a, b, y = (round(float(v), 2) for v in (rng.uniform(2, 12), rng.uniform(2, 12), rng.uniform(4, 14)))
    Af = round(float(rng.uniform(0, 12)), 2); rise = np.tan(np.radians(th))
    if g == "90 deg":  # the x axis is across the wind: one side from -a to 0, the other from 0 to b
        up = {"monoslope": (1, 1), "pitched": (1, -1), "troughed": (-1, 1)}[roof]
    else:  # wind along +x
        up = {"monoslope": (1, 1) if g == "180 deg" else (-1, -1), "pitched": (1, -1), "troughed": (-1, 1)}[roof]
    f = pW * panel(-a, 0, -up[0] * a * rise, 0, y) + pL * panel(0, b, 0, up[1] * b * rise, y)
    drag = 0 if i < 12 else round(float(of_drag.uniform(0, 400)), 1)
    P, hx, hmin = -f[2], f[0], 16 * Af
    down = np.array([0.0, drag]) if g == "90 deg" else np.array([hx, 0.0]) + np.array([drag, 0.0])
    along = max(down[1], hmin) if g == "90 deg" else (down[0] if abs(down[0]) >= hmin else hmin)
    rows.append([f"post-{i+1}", roof, th, g, pW, pL, float(a * y), float(b * y), Af, drag, float(P), float(along), float(hx) if g == "90 deg" else 0, 1e-6, "abs", "forces of the roof's triangles added up in space", "independent", ""])
H = ["id", "roof", "theta [deg]", "gamma", "p_W [psf]", "p_L [psf]", "A_W [sf]", "A_L [sf]", "A_f [sf]", "H_d [lbf]", "expect P [lbf]", "expect H [lbf]", "expect H_side [lbf]", "tolerance", "tolerance_kind", "source", "kind", "note"]
write("wind-post--vectors", ["Reactions of a post from pressures on panels in space, added up as vectors (oracle/wind_roof.py)."], H, rows)
