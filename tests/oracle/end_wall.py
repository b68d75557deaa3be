"""Independent values for end-wall and wind-along-ridge.

The end wall is cut into upright strips that reach to the roof, and areas are sums of strips: nothing uses the areas of
rectangles and triangles. The wind is summed up strip by strip, each with the coefficients of its own surface.
"""
import numpy as np
from csvout import write
rng = np.random.default_rng(28)
STRIPS = 200_000


def wall(W_1, W_2, L, theta, h):
    """Middle and height of each strip from eave to eave, their width, and the width of the end zone."""
    B = W_1 + W_2
    edge = np.linspace(0, B, STRIPS + 1)
    v = (edge[1:] + edge[:-1]) / 2
    fall = np.tan(np.radians(theta)) * np.abs(v - W_1)
    lowest = np.tan(np.radians(theta)) * max(W_1, W_2)
    ridge = h + lowest / 2
    mean = ridge - lowest if theta <= 10 else h
    a = max(min(0.1 * min(B, L), 0.4 * mean), 0.04 * min(B, L), 3.0)
    return v, ridge - fall, B / STRIPS, a


def zone(v, z, step, a, W_1, W_2):
    """The strips, or parts of strips, within `a` of the higher eave."""
    from_eave = v if W_1 <= W_2 else W_1 + W_2 - v
    return np.clip((a - (from_eave - step / 2)) / step, 0, 1) * z * step


ends, rows = [], []
for i in range(24):
    W_1 = round(float(rng.uniform(5, 45)), 1)
    W_2 = W_1 if i % 2 else round(W_1 * float(rng.uniform(0.7, 1.4)), 1)
    theta = round(float(rng.uniform(3, 12) if i % 3 == 0 else rng.uniform(10.5, 35)), 1)
    L = round(float(rng.uniform(12, 90)), 1)
    h = round(float(rng.uniform(9, 25)) + np.tan(np.radians(theta)) * max(W_1, W_2) / 2, 1)
    v, z, step, a = wall(W_1, W_2, L, theta, h)
    edge = zone(v, z, step, a, W_1, W_2)
    ends.append({"id": f"wall-{i + 1}", "W_1": W_1, "W_2": W_2, "L": L, "theta": theta, "h": h, "=A_E": float(z.sum() * step),
                 "=A_5E": float(edge.sum()), "tol": 1e-6, "source": "strips of the end wall, summed", "kind": "independent"})
    q_h, n = round(float(rng.uniform(12, 45)), 2), int(rng.integers(2, 9))
    solid = round(float(rng.uniform(0.02, 0.4)) * z.sum() * step, 1)
    A_E, A_5E = round(float(z.sum() * step), 2), round(float(edge.sum()), 2)
    if i % 4 == 0: A_5E = 0
    # A wall of unit height with the same areas; the wind on its two sides, surface by surface.
    w = np.full(1000, A_E / 1000)
    end = np.clip(A_5E / w[0] - np.arange(1000), 0, 1)
    both = (w * (end * 0.61 + (1 - end) * 0.40)).sum() + (w * (end * 0.43 + (1 - end) * 0.29)).sum()
    K_B = float(np.interp(W_1 + W_2, [0, 100], [1.8, 0.8]))
    K_S = 0.6 + sum([0.073] * max(0, n - 3)) + 1.25 * float(np.exp(1.8 * np.log(solid / A_E)))
    rows.append({"id": f"ridge-{i + 1}", "q_h": q_h, "B": round(W_1 + W_2, 1), "n": n, "A_S": solid, "A_E": A_E, "A_5E": A_5E,
                 "=F": float(q_h * both * K_B * K_S), "tol": 1e-8, "source": "wind on strips of the end wall, surface by surface", "kind": "independent"})

hand = "hand calculation by ASCE 7-16 28.3.5 and Fig. 28.3-1 in a public review of a wind calculation: width 50 ft, 5 frames, no solid area"
ends.append({"id": "hand-50", "W_1": 25, "W_2": 25, "L": 120, "theta": 22.5, "h": 18, "=A_E": 900.0, "=A_5E": 69.29, "tol": 1e-4, "source": hand, "kind": "published"})
rows.append({"id": "hand-50", "q_h": 39.11, "B": 50, "n": 5, "A_S": 0, "A_E": 900, "A_5E": 69.29, "=K_B": 1.30, "=K_S": 0.746, "=F": 24472, "tol": 3e-4, "source": hand, "kind": "published"})
rows.append({"id": "wide", "q_h": 20, "B": 140, "n": 3, "A_S": 0, "A_E": 1000, "A_5E": 0, "=K_B": 0.8, "=K_S": 0.6, "=F": 6624.0, "tol": 1e-9, "source": "ASCE 7-16 28.3.5: 0.8 from 100 ft, from memory", "kind": "recalled"})
write("end-wall--strips.csv", ["End walls of closed buildings under pitched roofs, cut into strips (oracle/end_wall.py)."],
      ["W_1 [ft]", "W_2 [ft]", "L [ft]", "theta [deg]", "h [ft]"], ["A_E [sf]", "A_5E [sf]"], ends)
write("wind-along-ridge--strips.csv", ["Wind along the ridge on open frames, by the surfaces of the end wall (oracle/end_wall.py)."],
      ["q_h [psf]", "B [ft]", "n", "A_S [sf]", "A_E [sf]", "A_5E [sf]"], ["K_B", "K_S", "F [lbf]"], rows)
