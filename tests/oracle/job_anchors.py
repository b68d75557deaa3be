"""Rods cast into the middle of a pier or pad, by ACI 318-19 Chapter 17; breakout bodies as polygons (breakout_tension.py,
breakout_shear.py). It writes nothing itself."""
import math
import breakout_shear, breakout_tension
from whole_job import table


class Rods:
    def __init__(self, anchor, base, f_c, plan, B, D, h_a, sdc, sides="weather"):
        """Inches. A round pier counts as the square of equal area, but no anchor at a corner of its pattern is farther from an edge than from the circle."""
        self.d, self.h = anchor["d_a"], anchor["h_ef"]
        self.n, self.s = (int(base["anchors_x"]), int(base["anchors_y"])), (base["anchor_s_x"], base["anchor_s_y"])
        self.all = self.n[0] * self.n[1]
        wide = [math.sqrt(math.pi / 4) * w if plan == "round" else w for w in (B, D)]
        self.c = [(w - (n - 1) * s) / 2 for w, n, s in zip(wide, self.n, self.s)]
        out = B / 2 - math.hypot(*((n - 1) * s for n, s in zip(self.n, self.s))) / 2 if plan == "round" else min(self.c)
        if plan == "round" and min(self.n) > 1: self.c = [min(c, out) for c in self.c]
        # Across the corners of a hexagon head
        head = (1.5 * self.d + (0.125 if anchor["head"] == "heavy hex" else 0)) / math.cos(math.pi / 6)
        cover = 3.0 if sides == "earth" else (2.0 if self.d > 0.625 else 1.5) if sides == "weather" else 1.5
        self.apart = 4 * self.d / min((s for n, s in zip(self.n, self.s) if n > 1), default=math.inf), (cover + max(self.d, head) / 2) / out
        rod, grade = table("anchor-rods", d_a=self.d), table("rod-grades", grade=anchor["rod_grade"])
        self.A_se = math.pi / 4 * (self.d - 0.9743 / rod["n_t"]) ** 2
        self.f_u = min(grade["f_uta"], 1.9 * grade["f_ya"], 125e3)
        self.A_brg = rod["A_" + anchor["head"].replace(" ", "_")]
        self.f_c, self.h_a, self.high = f_c, h_a, sdc not in "AB"
        one = lambda q: breakout_tension.evaluate(breakout_tension.case(**{"f_c'": f_c}, h_ef=self.h, n_x=self.n[0], n_y=self.n[1], s_x=self.s[0], s_y=self.s[1],
                                                                       c_x1=self.c[0], c_x2=self.c[0], c_y1=self.c[1], c_y2=self.c[1], seismic=q))
        self.N_cbg, self.N_d = one("no")["=N_cbg"], {q: one(q)["=N_d"] for q in ("no", "yes")}
        self.edges = []
        for k in (0, 1):
            q = breakout_shear.evaluate(breakout_shear.case(**{"f_c'": f_c}, d_a=self.d, l_e=self.h, h_a=h_a, c_a1=self.c[k], c_a2_1=self.c[1 - k], c_a2_2=self.c[1 - k],
                                                           n=self.n[1 - k], s=self.s[1 - k], V_par=1))
            self.edges.append((q["=V_d"], 0.7 * q["=V_cbg_par"]))

    def limits(self, take, N, V, quake):
        """`V` along x and y; `quake`: earthquake is over a fifth of the tension."""
        seismic = "yes" if quake and self.high else "no"
        k = 0.75 if seismic == "yes" else 1.0
        total = math.hypot(*V)
        if self.all > 1: take("anchor-spacing", "spacing of the anchors", self.apart[0])
        take("anchor-spacing", "edge distance of the anchors", self.apart[1])
        tension = [N / self.all / (0.75 * self.A_se * self.f_u), N / self.N_d[seismic]]
        take("anchor-steel", "tension on the steel of an anchor", tension[0])
        take("anchor-breakout", "concrete breakout in tension", tension[1])
        if N > 0:
            tension.append(N / self.all / (k * 0.7 * 8 * self.A_brg * self.f_c))
            take("anchor-pullout", "pullout of an anchor", tension[-1])
            for name, near in (("anchor-blowout", min(self.c)), ("blowout-far", max(self.c))):
                if self.h > 2.5 * near:
                    row = 0 if (near == self.c[1]) == (name == "anchor-blowout") and self.c[0] != self.c[1] else 1 if name == "anchor-blowout" else 0
                    n, s = self.n[row], self.s[row]
                    strength = 160 * near * math.sqrt(self.A_brg * self.f_c) * (1 + (n - 1) * s / (6 * near))
                    tension.append(N * n / self.all / (k * 0.7 * strength))
                    take(name, "side-face blowout", tension[-1])
        shear = [total / self.all / (0.65 * 0.6 * self.A_se * self.f_u)]
        take("anchor-steel", "shear on the steel of an anchor", shear[0])
        if total > 0:
            for name, (toward, along), i in (("edge-x", self.edges[0], 0), ("edge-y", self.edges[1], 1)):
                take(name, "concrete breakout in shear toward the edge", V[i] / toward)
                part = V[1 - i] / self.n[i]
                shear.append(V[i] / toward + part / along)
                if part > 1e-6: take(name, "shear toward and along the edge together", shear[-1])
            shear.append(total / (0.7 * (2 if self.h >= 2.5 else 1) * self.N_cbg))
            take("anchor-pryout", "pryout", shear[-1])
        r_N, r_V = max(tension) if N > 0 else 0.0, max(shear) if total > 0 else 0.0
        if min(r_N, r_V) > 0.2: take("anchor-interaction", "tension and shear together", (r_N + r_V) / 1.2)
        else: take("anchor-interaction", "tension and shear, each alone", max(r_N, r_V))
