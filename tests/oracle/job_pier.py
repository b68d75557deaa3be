"""A round pier in the ground, reinforced, by ACI 318-19: its section as strips of concrete and single bars, its shear below the ground
as a rigid body in springs that stiffen with depth. It writes nothing itself."""
import functools, math
import numpy as np
from whole_job import table

E_S, F_Y = 29e6, 60000.0


@functools.lru_cache(maxsize=None)
def rigid(lever, d, n=4000):
    """Shears down a pier under a shear of 1 at `lever` above the ground, and the depth of the greatest moment."""
    z = (np.arange(n) + 0.5) * d / n
    s = z * d / n
    move, turn = np.linalg.solve([[s.sum(), -(s * z).sum()], [(s * z).sum(), -(s * z * z).sum()]], [1.0, -lever])
    V = 1.0 - np.cumsum(s * (move - turn * z))
    M = lever + np.cumsum(V) * d / n
    return max(1.0, np.abs(V).max()), float(z[np.abs(M).argmax()])


class Section:
    """Of the diameter that counts; a bar, or the middle between two, is farthest from the axis of bending."""
    def __init__(self, D, R, n, A_1, f_c, half_a_step):
        y = (np.arange(20000) + 0.5) / 20000 * D - D / 2
        self.y, self.wide, self.D, self.f_c, self.A_1 = y, 2 * np.sqrt(D**2 / 4 - y**2) * D / 20000, D, f_c, A_1
        self.bars = R * np.cos((np.arange(n) + (0.5 if half_a_step else 0.0)) * 2 * math.pi / n)
        self.beta = float(np.interp(f_c, [4000, 8000], [0.85, 0.65]))
        self.T, self.top = 0.9 * n * A_1 * F_Y, 0.65 * (0.85 * f_c * (self.wide.sum() - n * A_1) + F_Y * n * A_1)
        d_t, e_y = D / 2 - self.bars.min(), F_Y / E_S
        c_t, c_b = 0.003 / (0.006 + e_y) * d_t, 0.003 / (0.003 + e_y) * d_t
        # Pure tension, three points of the diagram, pure compression, with straight lines between: inside the diagram, as the clause allows
        self.line = [(-self.T, 0.0), *(tuple(phi * v for v in self.at(c)) for phi, c in ((0.9, c_t / 2), (0.9, c_t), (0.65, c_b))), (self.top, 0.0)]
    def at(self, c):
        pressed = self.wide * (self.y > self.D / 2 - self.beta * c)
        strain = 0.003 * (c - (self.D / 2 - self.bars)) / c
        F = self.A_1 * (np.clip(E_S * strain, -F_Y, F_Y) - np.where(self.bars > self.D / 2 - self.beta * c, 0.85 * self.f_c, 0))
        return 0.85 * self.f_c * pressed.sum() + F.sum(), 0.85 * self.f_c * (pressed * self.y).sum() + (F * self.bars).sum()
    def allowed(self, P): return float(np.interp(P, *zip(*self.line)))


class Reinforced:
    """`f`: the row of foundations.csv; `free`: above the ground; `d`: in it, with the pad; `t`: the pad; `high`: SDC D and up."""
    def __init__(self, f, free, d, t, high):
        assert f["pier_as"] == "reinforced" and f["pier_shape"] == "round"
        self.f, self.free, self.d, self.t, self.high = f, free, d, t, high
        self.b, self.f_c, self.n, self.s = f["pier_b"], f["f_c'"], int(f["n_bars"]), f["tie_spacing"]
        bar, tie = table("rebar", bar=f["bar"]), table("rebar", bar=f["tie"])
        self.d_b, self.A_1, self.d_t, self.A_t = bar["d_b"], bar["A_b"], tie["d_b"], tie["A_b"]
        assert self.n in (4, 6, 8)
        self.ring = self.b - 2 * 3 - 2 * self.d_t - self.d_b
        self.A_g, self.A_st = math.pi / 4 * self.b**2, self.n * self.A_1
        # 10.3.1.2: as much concrete as has one percent of steel, half of it at least
        self.A_e = min(max(100 * self.A_st, self.A_g / 2), self.A_g)
        k = math.sqrt(self.A_e / self.A_g)
        self.D, self.R = k * self.b, k * self.ring / 2
        self.sections = [Section(self.D, self.R, self.n, self.A_1, self.f_c, turn) for turn in (False, True)]

    def limits(self, take, P, H, lever):
        """`lever`: shear above the ground."""
        f_c, b, n = self.f_c, self.b, self.n
        if self.high: take("reinforced-pier", "concrete of a reinforced pier in SDC D and up", 3000 / f_c)
        at = [complex(math.cos(t), math.sin(t)) * self.ring / 2 for t in (0, 2 * math.pi / n)]
        take("pier-bars", "clear spacing of the upright bars", max(1.5, 1.5 * self.d_b) / (abs(at[0] - at[1]) - self.d_b))
        take("pier-ties", "upright bars within ties", 4 / n)
        take("pier-ties", "spacing of the ties", self.s / min(16 * self.d_b, 48 * self.d_t, b))
        take("reinforced-pier", "upright bars of a reinforced pier, at least", 0.005 * self.A_g / self.A_st)
        take("reinforced-pier", "upright bars of a reinforced pier, at most", self.A_st / (0.08 * self.A_g))
        take("reinforced-pier", "slenderness of the pier, as of a cantilever", 2 * (self.free + self.d / 3) / (b / 4) / 22)
        # Common practice: the moment at the ground and that of the shear down to a third of the depth
        V, M = H * rigid(lever, self.d)[0] if H else 0.0, H * (lever + self.d / 3)
        take("pier-strength", "uplift down the reinforced pier", max(0, -P) / self.sections[0].T)
        take("pier-strength", "axial load on the reinforced pier", max(0, P) / (0.8 * self.sections[0].top))
        take("pier-strength", "axial load and bending of the reinforced pier", M / min(s.allowed(P) for s in self.sections), 0.005, "concrete in strips")
        self.shear(take, P, V)
        if P < 0 and self.t:
            # A standard hook in the pad, 3 in above its underside: 25.4.3.1
            wide = (self.ring * math.sin(math.pi / n) >= 6 * self.d_b, 3 + self.d_t >= 6 * self.d_b)
            assert self.f["bar_foot"] == "hook" and f_c < 6000
            l_dh = F_Y * (1.0 if wide[0] else 1.6) * (1.0 if wide[1] else 1.25) * (f_c / 15000 + 0.6) / (55 * math.sqrt(f_c)) * self.d_b**1.5
            take("pier-development", "development of the bars into the pad", max(l_dh, 8 * self.d_b, 6) / (self.t - 3))
    def shear(self, take, P, V):
        w, d, f_c = self.D, 0.8 * self.D, self.f_c
        root = math.sqrt(f_c)
        tied = 2 * self.A_t >= max(0.75 * root, 50) * w * self.s / F_Y and self.s <= d / 2
        stress = 2 * root if tied else 8 * min(1, math.sqrt(2 / (1 + d / 10))) * (self.A_st / 4 / (w * d)) ** (1 / 3) * root
        stress = min(max(0, stress + min(P / (6 * self.A_e), 0.05 * f_c)), 5 * root)
        strength = 0.75 * (stress * w * d + min(2 * self.A_t * F_Y * d / self.s, 4 * root * w * d)) if tied else 0.75 * stress * w * d / 2
        take("pier-shear", "shear of the reinforced pier", V / strength)
