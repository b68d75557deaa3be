"""Piers of a whole job that are worked as reinforced, in the ground or on a pad, by ACI 318-19: sections are strips of concrete and single
bars, the ground a bed of springs that stiffens with depth. It writes nothing itself."""
import functools, math
import numpy as np
from soil_plane import largest
from whole_job import exposed, table


def sprung(H, M, d, n=20000):
    """A stiff pier in springs that grow with the depth: greatest shear, greatest moment, first slope of the pressure."""
    dz = d / n; z = (np.arange(n) + 0.5) * dz; s = z * dz
    move, turn = np.linalg.solve([[s.sum(), -(s * z).sum()], [(s * z).sum(), -(s * z * z).sum()]], [H, -M])
    V = H - np.cumsum(s * (move - turn * z))
    bent = M + np.cumsum(V) * dz
    return max(H, np.abs(V).max()), bent.max(), move


@functools.lru_cache(maxsize=None)
def points(D, R, n, A_1, f_c, way, c):
    """Nominal load and moment of a round section with a ring of bars, by strips of concrete and bar by bar."""
    y = (np.arange(40000) + 0.5) / 40000 * D - D / 2
    a = float(np.interp(f_c, [4000, 8000], [0.85, 0.65])) * c
    strip = np.where(y > D / 2 - a, 0.85 * f_c * 2 * np.sqrt(D * D / 4 - y * y) * D / 40000, 0)
    bar = R * np.cos(way + 2 * math.pi * np.arange(n) / n)
    stress = np.clip(29e6 * 0.003 * (bar - D / 2 + c) / c, -60000, 60000) - np.where(bar > D / 2 - a, 0.85 * f_c, 0)
    return strip.sum() + A_1 * stress.sum(), (strip * y).sum() + A_1 * (stress * bar).sum(), bar.min()


class Reinforced:
    """`h_free` out of the ground, `d` in it, on a pad `t` thick; where no earth holds the pier `d` is 0."""
    def __init__(self, f, h_free, d, t, sdc):
        self.f, self.h, self.d, self.t, self.sdc = f, h_free, d, t, sdc
        self.b, self.n, self.f_c, self.round = f["pier_b"], int(f["n_bars"]), f["f_c'"], f["pier_shape"] == "round"
        self.bar, self.tie = table("rebar", bar=f["bar"]), table("rebar", bar=f["tie"])
        self.ring = self.b - 2 * (3 + self.tie["d_b"]) - self.bar["d_b"]
        self.chord = abs(self.ring / 2 * (1 - np.exp(2j * math.pi / self.n)))
        self.A_g = math.pi / 4 * self.b**2 if self.round else self.b**2
        self.A_st = self.n * self.bar["A_b"]
        # 10.3.1.2: as much concrete as has one percent of steel, at least half
        share = min(1, max(0.5, self.A_st / 0.01 / self.A_g))
        self.A_e, self.b_e, self.R = share * self.A_g, math.sqrt(share) * self.b, math.sqrt(share) * self.ring / 2

    def bends(self, P):
        """Least design moment of the bars in two positions: the diagram through pure tension, three depths of the neutral axis and pure
        compression, joined by straight lines."""
        A_1, e_y = self.bar["A_b"], 60000 / 29e6
        T, top = -0.9 * self.A_st * 60000, 0.65 * (0.85 * self.f_c * (self.A_e - self.A_st) + 60000 * self.A_st)
        found = []
        for way in (0.0, math.pi / self.n):
            at = lambda c: points(self.b_e, self.R, self.n, A_1, self.f_c, way, c)
            d_t = self.b_e / 2 - at(1.0)[2]
            line = [(T, 0)]
            for strain, phi, part in ((e_y + 0.003, 0.9, 0.5), (e_y + 0.003, 0.9, 1), (e_y, 0.65, 1)):
                N, M, _ = at(0.003 / (0.003 + strain) * d_t * part)
                line.append((phi * N, phi * M))
            line.append((top, 0))
            found.append(np.interp(P, *np.array(line).T))
        return min(found)

    def anchored(self, how, side):
        """25.4: a straight bar, or a hook whose spacing and side cover count."""
        d, root = self.bar["d_b"], math.sqrt(self.f_c)
        if how == "straight":
            c_b = min((self.b - self.ring) / 2, self.chord / 2)
            return max(3 / 40 * 60000 * (0.8 if d <= 0.75 else 1) / (root * min(2.5, c_b / d)) * d, 12)
        wide = (1 if self.chord >= 6 * d else 1.6) * (1 if side >= 6 * d else 1.25)
        return max(60000 * wide * min(1, self.f_c / 15000 + 0.6) / (55 * root) * d**1.5, 8 * d, 6)

    def limits(self, take, P, H, M_0, standoff):
        """Factored load, shear (resultant) and moment from a base rated for it."""
        d_b, d_t, s = self.bar["d_b"], self.tie["d_b"], self.f["tie_spacing"]
        clear = self.chord - d_b
        take("pier-bars", "clear spacing of the vertical bars", max(1.5, 1.5 * d_b) / clear)
        take("pier-ties", "vertical bars within ties", 4 / self.n)
        take("pier-ties", "spacing of the ties", s / min(16 * d_b, 48 * d_t, self.b))
        if not self.round and self.n > 4:
            take("pier-ties", "clear spacing of bars not held by a tie corner", clear / 6)
            take("pier-ties", "no two adjacent bars without a tie corner", self.n / 8)
        if self.sdc in "DEF": take("reinforced-pier", "concrete of a reinforced pier in SDC D and up", 3000 / self.f_c)
        take("reinforced-pier", "minimum vertical bars of a reinforced pier", 0.005 * self.A_g / self.A_st)
        take("reinforced-pier", "maximum vertical bars of a reinforced pier", self.A_st / (0.08 * self.A_g))
        gyration = self.b / 4 if self.round else 0.3 * self.b
        take("reinforced-pier", "slenderness of the pier as a cantilever", 2 * (self.h + self.d / 3) / gyration / 22)
        # Down the pier
        M_g = M_0 + H * (standoff + self.h)
        V, exact, slope = sprung(H, M_g, self.d) if self.d and H + M_g else (H, M_g, 0)
        M = M_g + H * self.d / 3  # common practice, on the safe side of the springs
        assert exact <= M * 1.0001
        z = math.sqrt(2 * H / slope) if slope else 0.0  # where the pressure would have taken all of H if it kept its first slope
        # Strength
        take("pier-strength", "uplift on the reinforced pier", max(0, -P) / (0.9 * self.A_st * 60000))
        take("pier-strength", "axial load on the reinforced pier", max(0, P) / (0.65 * 0.8 * (0.85 * self.f_c * (self.A_e - self.A_st) + 60000 * self.A_st)))
        take("pier-strength", "axial load and bending of the reinforced pier", M / self.bends(P))
        deep = 0.8 * self.b_e if self.round else self.b_e / 2 + self.R
        A_v, root = 2 * self.tie["A_b"], math.sqrt(self.f_c)
        counts = A_v * 60000 >= max(0.75 * root, 50) * self.b_e * s and s <= deep / 2
        axial = min(P / (6 * self.A_e), 0.05 * self.f_c)
        if counts: v = 2 * root + axial
        else: v = 8 * min(1, math.sqrt(2 / (1 + deep / 10))) * (self.A_st / 4 / (self.b_e * deep)) ** (1 / 3) * root + axial
        V_c = min(max(0, v), 5 * root) * self.b_e * deep
        V_d = 0.75 * (V_c + min(A_v * 60000 * deep / s, 4 * root * self.b_e * deep)) if counts else 0.75 * V_c / 2
        take("pier-shear", "shear of the reinforced pier", V / V_d)
        # Bars
        above, below = (self.anchored(self.f[end], 3 + d_t) for end in ("bar_end", "bar_foot"))
        if M > 0:
            take("pier-development", "development of the bars above the maximum moment", above / (self.h + z - self.f["bar_top"]))
            reach = self.d - 1.27 * z - 3 if self.d else self.t - 3
            take("pier-development", "development of the bars below the maximum moment", below / reach)
        if self.t and P < 0: take("pier-development", "development of the bars into the pad", below / (self.t - 3))


class Foundation:
    """A pier with or without a pad at its foot, whose sides take the shear; or a pier on a pad, which stands by its weight."""
    def __init__(self, f, site, sdc):
        self.f, self.site = f, site
        self.b, self.depth = f["pier_b"], f["found_depth"]
        self.alone = f["foundation_type"] == "pad"
        padded = self.alone or f.get("pad") == "yes"
        self.t, self.sides = (f["pad_t"], (f["pad_x"], f["pad_y"])) if padded else (0, None)
        self.A = math.pi / 4 * self.b**2 if f["pier_shape"] == "round" else self.b**2
        self.h_p = site["top_above_earth"] + self.depth - self.t
        self.base = math.prod(self.sides) if padded else self.A
        self.W_c = 150 / 1728 * (self.A * self.h_p + (self.base * self.t if padded else 0))
        self.W_s = 100 / 1728 * (self.base - self.A) * (self.depth - self.t)
        self.soil = table("presumptive-soil", **{"class": site["soil"]})
        self.round = f["pier_shape"] == "round"
        free, d = (self.h_p, 0) if self.alone else (site["top_above_earth"], self.depth)
        self.pier = Reinforced(f, free, d, self.t, sdc)
        self.sdc = sdc

    def asd(self, take, k, dead, P, H, M_0, standoff):
        """Shears and moments of the base along x and y; `dead`: the dead load, without factors."""
        take("concrete-exposure", "concrete strength for its exposure", exposed(self.site) / self.f["f_c'"])
        take("frost", "depth below undisturbed ground", 12 / self.depth)
        take("frost", "depth for frost protection", self.site["frost"] / self.depth)
        W, Q = self.W_c + self.W_s, math.hypot(*H)
        take("uplift-weight", "weight resisting uplift", max(0, -P) / (0.6 * W))
        if not self.alone:
            arm = standoff + self.site["top_above_earth"]
            M = math.hypot(*(abs(h) * arm + m for h, m in zip(H, M_0)))
            if Q or M:
                Q = Q or 1.0
                short = any(case[0] in "WE" for case in k.factors)  # 1806.3.4 speaks of short-term loads
                S_1 = (2 if short and self.site.get("half_inch") == "yes" else 1) * self.soil["S_lat"] * min(self.depth, 144) / 3
                across = self.b if self.round else math.sqrt(2) * self.b
                A = 2.34 * Q / (S_1 * across)
                # Eq. 18-1 is the root of d^2 - A d - 1.09 A h = 0
                take("pier", "depth of the pier for shear, nonconstrained", max(np.roots([1, -A, -1.09 * A * M / Q]).real) / self.depth)
            if P + W > 0: take("soil-bearing", "pressure on the soil", (P + W) / self.base / self.soil["q_a"])
            return
        arm = standoff + self.h_p + self.t
        M = [abs(h) * arm + m for h, m in zip(H, M_0)]
        for name, part in (("bearing-full", 1), ("bearing-light", 0.6)):
            N = P + part * W
            if N <= 0: continue
            u = [m / N / side for m, side in zip(M, self.sides)]
            assert max(u) <= 0.45
            one = [pressed(round(e, 6)) for e in u]
            most = 1 + 6 * sum(u) if sum(u) <= 1 / 6 else one[0] * one[1]  # the product is on the safe side of the plane of pressure
            take(name, "pressure on the soil", most * N / self.base / self.soil["q_a"])
        take("sliding", "sliding", Q / (self.soil["mu"] * max(0, min(P, (k.factors["D"] - k.quake.get("D", 0)) * dead) + 0.6 * W)))
        for w, m, side in zip("xy", M, self.sides):
            take(f"overturning-{w}", "overturning", (m + max(0, -P) * side / 2) / ((0.6 * W + max(0, P)) * side / 2))

    def strength(self, take, P, H, M_0, standoff):
        Q = math.hypot(*H)
        self.pier.limits(take, P, Q, math.hypot(*M_0), standoff)
        if not self.sides: return
        # A plain pad, cantilevered beyond the square of equal area, the largest pressure taken as everywhere
        side, h = math.sqrt(self.A), self.t - 2
        l = max(s - side for s in self.sides) / 2
        take("plain-footing", "thickness of the pad", 8 / self.t)
        if self.sdc not in "AB": take("plain-footing", "projection of a plain pad in SDC C and up", l / self.t)
        if self.sdc in "DEF": take("plain-footing", "concrete of a pad in SDC D and up", 3000 / self.f["f_c'"])
        arm = standoff + self.h_p + self.t
        M = math.hypot(*(abs(h) * arm + m for h, m in zip(H, M_0))) if self.alone else 0
        W = 0.9 * (self.W_c + self.W_s) if self.alone else 0
        N = P + W
        if N <= 0 or not (P > 0 or M > 0): return
        u = M / N / min(self.sides)
        assert u <= 0.45
        q = max(0, (pressed(round(u, 6)) * N - W) / self.base)
        root, fc = 0.6 * math.sqrt(self.f["f_c'"]), self.f["f_c'"]
        take("plain-footing", "bending of the plain pad", q * l**2 / 2 / (5 * root * h**2 / 6))
        take("plain-footing", "one-way shear of the plain pad", q * max(0, l - h) / (4 / 3 * root * h))
        take("plain-footing", "punching shear of the plain pad", q * (self.base - (side + h) ** 2) / (8 / 3 * root * 4 * (side + h) * h))


def bears_on(take, ground, base, P):
    """22.8.3, inside the square of equal area; the phi of plain concrete, 0.60, is taken, on the safe side."""
    wide, seat = math.sqrt(ground.A), (base["seat_width"], base["seat_depth"])
    spread = math.prod(s + min(wide - a for a in seat) for s in seat)
    loaded = math.prod(seat)
    take("concrete-bearing", "bearing on the concrete", max(0, P) / (0.6 * 0.85 * ground.f["f_c'"] * loaded * min(2, math.sqrt(spread / loaded))))


@functools.lru_cache(maxsize=None)
def pressed(u):
    """Largest over mean pressure for a load off the middle in one direction: the plane of pressure, in and out of the kern."""
    return largest(u, 0) if u else 1.0
