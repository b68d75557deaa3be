"""Independent values for a troughed roof: roof-snow and valley-snow.

The snow at the valley is found by raising its surface until it holds twice the balanced load over C_e or is level with the snow
at the high edge, in small steps of depth and a bisection; what a post gets of it is summed up over strips.
"""
import numpy as np
from csvout import write
rng = np.random.default_rng(76)
EXPOSED = {("B", "fully exposed"): 0.9, ("B", "partially exposed"): 1.0, ("B", "sheltered"): 1.2, ("C", "fully exposed"): 0.9, ("C", "sheltered"): 1.1}
IMPORTANCE = {"I": 0.8, "II": 1.0, "III": 1.1, "IV": 1.2}


def at_valley(p_f, C_e, p_high, density, W, theta):
    """Bisection on the load: too much where the surface stands above that of the high edge."""
    drop = W * np.sin(np.radians(theta)) / np.cos(np.radians(theta))
    low, high = 0.0, 2 * p_f / C_e
    if high / density <= drop + p_high / density: return high
    for _ in range(200):
        load = (low + high) / 2
        low, high = (load, high) if load / density - drop < p_high / density else (low, load)
    return low


roofs, posts = [], []
for i in range(30):
    (terrain, exposure), risk = list(EXPOSED)[i % 5], list(IMPORTANCE)[i % 4]
    C_e, I_s = EXPOSED[terrain, exposure], IMPORTANCE[risk]
    p_g = round(float(rng.uniform(5, 90)), 1)
    theta = [1.5, 2.0][i] if i < 2 else round(float(rng.uniform(2, 8) if i % 3 == 0 else rng.uniform(8, 40)), 2)
    W = round(float(rng.uniform(4, 30)), 1)
    p_f = 0.7 * C_e * 1.2 * I_s * p_g
    density = float(np.minimum(0.13 * p_g + 14, 30))
    p_high, p_valley = p_f, p_f
    if np.tan(np.radians(theta)) * 12 > 3 / 8:
        p_high = p_f / 2
        p_valley = at_valley(p_f, C_e, p_high, density, W, theta)
    roofs.append({"id": f"trough-{i + 1}", "p_g": p_g, "risk": risk, "terrain": terrain, "exposure": exposure, "building": "open or unheated",
                  "roof": "troughed", "theta": theta, "surface": ["slippery", "other"][i % 2], "W": W, "rafters": "other", "=C_s": 1, "=p_s": float(p_f),
                  "=p_high": float(p_high), "=p_valley": float(p_valley), "=p_d": 0, "tol": 1e-8, "source": "level of the snow, by bisection", "kind": "independent"})
    s = sorted(round(float(v), 2) for v in rng.uniform(0, W, 2))
    if i % 5 == 0: s[0] = 0.0
    l, steps = round(float(rng.uniform(2, 16)), 1), 4000
    middle = s[0] + (np.arange(steps) + 0.5) * (s[1] - s[0]) / steps
    strips = np.interp(middle, [0, W], [p_valley, p_high]) * (s[1] - s[0]) / steps * l
    posts.append({"id": f"part-{i + 1}", "p_valley": float(round(p_valley, 4)), "p_high": float(round(p_high, 4)), "W": W, "s_1": s[0], "s_2": s[1], "l": l,
                  "=P": float(strips.sum()), "tol": 1e-5, "source": "strips of the roof, summed", "kind": "independent"})
clause = "ASCE 7-16 7.4.4 and 7.6.3, from memory: C_s 1, half of p_f at the high edge, 2 p_f / C_e at the valley"
roofs.append({"id": "clause", "p_g": 30, "risk": "II", "terrain": "B", "exposure": "partially exposed", "building": "open or unheated", "roof": "troughed",
              "theta": 30, "surface": "slippery", "W": 20, "rafters": "other", "=C_s": 1, "=p_s": 25.2, "=p_high": 12.6, "=p_valley": 50.4, "=p_d": 0,
              "tol": 1e-9, "source": clause, "kind": "recalled"})
write("roof-snow--troughed.csv", ["Snow on troughed roofs (oracle/valley.py)."],
      ["p_g [psf]", "risk", "terrain", "exposure", "building", "roof", "theta [deg]", "surface", "W [ft]", "rafters"],
      ["C_s", "p_s [psf]", "p_high [psf]", "p_valley [psf]", "p_d [psf]"], roofs)
write("valley-snow--strips.csv", ["Snow toward a valley, summed over strips (oracle/valley.py)."],
      ["p_valley [psf]", "p_high [psf]", "W [ft]", "s_1 [ft]", "s_2 [ft]", "l [ft]"], ["P [lbf]"], posts)
