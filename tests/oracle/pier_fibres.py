"""The interaction diagram of reinforced piers by fibers: the concrete in small squares, every bar at its place, the neutral axis
turned and moved in small steps. What `pier-strength` allows has to stay inside, and not far from it."""
import math

import numpy as np

from csvout import write
from verdicts import Sheet

E_S, E_CU, F_Y = 29e6, 0.003, 60000.0
BARS = {4: (0.5, 0.20), 5: (0.625, 0.31), 6: (0.75, 0.44), 7: (0.875, 0.60), 8: (1.0, 0.79)}


def beta(fc):
    return float(np.interp(fc, [4000, 8000], [0.85, 0.65]))


def places(shape, n, R):
    """A ring, or the corners of a square and then the middles of its sides."""
    if shape == "round":
        at = 2 * math.pi * np.arange(n) / n
        return np.c_[np.cos(at), np.sin(at)] * R
    return np.array(([[1, 1], [1, -1], [-1, -1], [-1, 1], [0, 1], [0, -1], [1, 0], [-1, 0]])[:n], float) * R


class Section:
    def __init__(self, shape, D, R, n, A_1, fc, squares=300):
        x = (np.arange(squares) + 0.5) / squares * D - D / 2
        X, Y = np.meshgrid(x, x)
        inside = X**2 + Y**2 <= D * D / 4 if shape == "round" else np.ones_like(X, bool)
        self.area = math.pi * D * D / 4 if shape == "round" else D * D
        self.X, self.Y, self.dA = X[inside], Y[inside], self.area / inside.sum()
        self.shape, self.D, self.n, self.A_1, self.fc, self.bars = shape, D, n, A_1, fc, places(shape, n, R)

    def turned(self, way):
        """The section with its extreme fiber on the side that `way` points to."""
        u = self.X * math.cos(way) + self.Y * math.sin(way)
        order = np.argsort(-u)
        sums = np.cumsum(np.c_[np.ones_like(u), self.X, self.Y][order], axis=0)
        edge = self.D / 2 if self.shape == "round" else self.D / 2 * (abs(math.cos(way)) + abs(math.sin(way)))
        return edge - u[order], sums, edge - self.bars @ [math.cos(way), math.sin(way)]

    def at(self, turned, c):
        """Nominal load, moments about both axes, and strain of the extreme bar, with the neutral axis at this depth."""
        depths, sums, bars = turned
        a = beta(self.fc) * c
        count = np.searchsorted(depths, a)
        C = 0.85 * self.fc * self.dA * (sums[count - 1] if count else np.zeros(3))
        strain = E_CU * (c - bars) / c
        F = self.A_1 * (np.clip(E_S * strain, -F_Y, F_Y) - np.where(bars < a, 0.85 * self.fc, 0))
        return C[0] + F.sum(), C[1] + F @ self.bars[:, 0], C[2] + F @ self.bars[:, 1], -strain.min()

    def allowed(self, loads, turns=13, steps=500):
        """Least design moment over all directions, for each load."""
        least, T = np.full(len(loads), np.inf), 0.9 * self.n * self.A_1 * F_Y
        around = 2 * math.pi / self.n if self.shape == "round" else math.pi / 2
        for way in np.linspace(0, around, turns):
            turned = self.turned(way)
            curve = [(-T, 0.0)]
            for c in np.r_[np.geomspace(0.004, 1, steps), np.linspace(1.01, 3, 60)] * self.D:
                P, x, y, strain = self.at(turned, c)
                phi = float(np.clip(0.65 + 0.25 * (strain - F_Y / E_S) / 0.003, 0.65, 0.9))
                curve.append((phi * P, phi * math.hypot(x, y)))
            p, m = np.array(curve).T
            for k, load in enumerate(loads):
                i = np.nonzero((p[:-1] - load) * (p[1:] - load) <= 0)[0]
                least[k] = min(least[k], (m[i] + (load - p[i]) / (p[i + 1] - p[i]) * (m[i + 1] - m[i])).min())
        return least

    def top(self, area):
        return 0.65 * 0.8 * (0.85 * self.fc * (area - self.n * self.A_1) + F_Y * self.n * self.A_1)


# One position of the bars, one depth of the neutral axis.
rows = []
for k, (D, fc, no, n, R, c, levels) in enumerate([
    (12, 3000, 4, 4, 2.3, 2.0, (1, 1.0, 0, 0.0, 2)), (16, 3000, 5, 6, 4.8, 4.4, (2, 0.8660254038, 0, 0.0, 2)), (18, 4000, 6, 8, 5.5, 6.5, (1, 1.0, 2, 0.7071067812, 2)),
    (20, 5000, 7, 8, 6.4, 9.0, (2, 0.9238795325, 2, 0.3826834324, 0)), (24, 8000, 8, 6, 8.1, 15.0, (1, 1.0, 2, 0.5, 0)), (14, 10000, 4, 4, 3.3, 1.6, (2, 0.7071067812, 0, 0.0, 0)), (30, 3500, 8, 8, 11.1, 30.0, (1, 1.0, 2, 0.7071067812, 2))]):
    m_1, k_1, m_2, k_2, m_0 = levels
    # The extreme fiber is where `way` points to: the ring begins there with a bar, or half a step beside one.
    way = 0.0 if m_1 == 1 else math.pi / n
    section = Section("round", D, R, n, BARS[no][1], fc, 1200)
    P, x, y, _ = section.at(section.turned(way), c)
    rows.append(dict(id=f"ring-{k + 1}", **{"D": D, "f_c'": fc, "f_y": 60000, "A_1": BARS[no][1], "m_1": m_1, "y_1": k_1 * R, "m_2": m_2, "y_2": k_2 * R, "m_0": m_0, "c": c, "=N": P, "=M": math.hypot(x, y) / 12},
                     tol=0.004, source="oracle/pier_fibres.py: a ring of bars and squares of concrete", kind="independent"))
rows.append(dict(id="balanced-20", **{"D": 20, "f_c'": 5000, "f_y": 60000, "A_1": 0.6, "m_1": 1, "y_1": 7.56, "m_2": 2, "y_2": 5.346, "m_0": 2, "c": 10.39, "=N": 356000 / 0.709, "=M": 228000 / 0.709}, tol=0.055,
                 source="public worked sheet 'Circular Column Design Based on ACI 318-05' (20 in, 8 No. 7, f_c' 5 ksi): 356 kip and 228 kip ft at balanced strain, with phi 0.709", kind="published", note="its concrete stress is a parabola, not a block"))
write("pier-section--fibers.csv", ["Round sections with bars in a ring, at one depth of the neutral axis."],
      ["D [in]", "f_c' [psi]", "f_y [psi]", "A_1 [in^2]", "m_1", "y_1 [in]", "m_2", "y_2 [in]", "m_0", "c [in]"], ["N [lbf]", "M [lbf ft]"], rows)

# Any pier under any load: at 1.001 of what the fibers bear the sheet says no, and at a part of it yes. That part is large where
# timber posts load a pier, and smaller near the greatest load, where the line of the sheet leaves out the bulge of the diagram.
sheet = Sheet("pier-strength")
words, rng, done = "axial load and bending of the reinforced pier", np.random.default_rng(224), 0
while done < 24:
    shape, no = ("round", "square")[done % 4 == 3], int(rng.integers(4, 9))
    b, n, fc = float(rng.integers(12, 31)), int(rng.choice([4, 6, 8])), float(rng.choice([2500, 3000, 4000, 5000, 8000]))
    d_b, A_1 = BARS[no]
    D_r = b - 6.75 - d_b
    A_g = b * b * (math.pi / 4 if shape == "round" else 1)
    if D_r * math.sin(math.pi / n) - d_b < 1.5 or not 0.01 <= n * A_1 / A_g <= 0.08:
        continue
    done += 1
    section = Section(shape, b, D_r / 2, n, A_1, fc)
    T, top = 0.9 * n * A_1 * F_Y, section.top(A_g)
    loads = [-0.6 * T, -0.1 * T, 0.0, 0.05 * top, 0.2 * top, 0.6 * top]
    parts = [0.85, 0.85, 0.85, 0.85, 0.75, 0.4] if shape == "round" else [0.65, 0.65, 0.65, 0.65, 0.6, 0.3]
    for P, M, part in zip(loads, section.allowed(loads), parts):
        given = {"D [in]": f"{b:g}", "R [in]": f"{D_r / 2:.10g}", "A_e [in^2]": f"{A_g:.10g}", "A_1 [in^2]": A_1, "n_bars": n, "f_c' [psi]": f"{fc:g}", "P_u [lbf]": f"{P:.10g}"}
        for share, verdict in ((1.001, "not met"), (part, "met")):
            sheet.add(f"{shape}-{done:02}-{P / top:.2f}-{share}", given | {"M_u [lbf ft]": f"{share * M / 12:.10g}"}, words, verdict,
                      f"oracle/pier_fibres.py: {share} of the least moment of a {shape} section of fibers, over all directions", "independent")
sheet.near("uplift", "uplift on the reinforced pier", {"D [in]": 16, "R [in]": 4.8, "A_e [in^2]": 200, "A_1 [in^2]": 0.2, "n_bars": 6, "f_c' [psi]": 3000, "M_u [lbf ft]": 0}, {"P_u [lbf]": -0.9 * 6 * 0.2 * 60000},
           "six bars of 0.2 in2 at 0.9 of 60,000 psi, by hand", "independent", tolerance=1e-9)
# A public validation example of a design program prints 694.129 kip for this column.
sheet.near("axial", "axial load on the reinforced pier", {"D [in]": 20, "R [in]": 7.6, "A_e [in^2]": 314.159265, "A_1 [in^2]": 0.79, "n_bars": 6, "f_c' [psi]": 4000, "M_u [lbf ft]": 0}, {"P_u [lbf]": 694129.0},
           "694.129 kip, a published validation example: circular tied column of 20 in, six No. 8, f_c' 4,000 psi, by ACI 318-11 10.3.6.2", "published", tolerance=2e-3)
sheet.write()
