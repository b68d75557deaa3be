"""Two side plates with lag screws in a whole job: screws by plastic collapse (yield_gap.py), group action by springs (side_plates.py), tearing
measured on a drawn plate, and what they stand on (job_steel.py). It writes nothing itself."""
import cmath, functools, math
import numpy as np
from shapely.geometry import Point, box
from job_steel import Stand, Weld, steel, thick, together
from side_plates import LAG, chain, r50
from whole_job import table
from yield_gap import yields

NET = 0.01, "the sheet takes the whole screw for its hole, the part in the plate too"


class Plates:
    """Two side plates along `plane` and their screws; `C_M` of the screws."""
    def __init__(self, base, post, v, C_M):
        q = self.q = base
        self.v, self.E = v, table("posts-and-timbers", species=post["species"], grade=post["grade"], **{"class": "posts"})["E"]
        self.plane = q["blade_along"]
        self.b, self.d = (post["depth"], post["width"]) if self.plane == "x" else (post["width"], post["depth"])
        self.n, self.D, self.t, self.w = int(q["pins_in_row"]), q["screw_d"], q["blade"], q["blade_width"]
        self.C_M = C_M
        assert (q["screw"], q["pin_rows"], self.n) == ("lag", 1, 2)
        self.D_r, self.tip, self.F_yb = LAG[self.D]
        self.deep = q["screw_length"] - self.t
        self.l_m = self.deep - self.tip / 2
        self.F_y, self.F_u = steel(q["steel"], "plate")
        self.stand = Stand(q, self.plane)
        self.y = q["pin_end"] + (self.n - 1) * q["pin_spacing"] / 2
        self.tall = q["pin_end"] + (self.n - 1) * q["pin_spacing"] + q["blade_top"]
        self.pressed = [min(side, seat) for side, seat in zip((self.d, self.b), self.stand.seat)]
        self.hole = self.D + 1 / 16
        self.C_g = chain(self.n, q["pin_spacing"], 270000 * self.D**1.5, self.E, self.b * self.d, self.t * self.w, 29e6)
        # The holes of one height, from both faces
        self.A_n = self.b * self.d - 2 * self.hole * self.deep
        self.weld = Weld("bar", self.w, self.t, q["seat_thick"], self.F_u, self.F_u, q["weld"])

    @functools.lru_cache(maxsize=None)
    def screw(self, theta):
        """One screw, all factors but C_D."""
        q, G, D = self.q, self.v["G"], self.D
        par, perp = r50(11200 * G), r50(6100 * G**1.45 / math.sqrt(D))
        F_e = 1 / (math.cos(theta) ** 2 / par + math.sin(theta) ** 2 / perp)
        Z = yields(D, self.D_r, self.l_m, self.t, F_e, 2.4 * self.F_u / 1.6, self.F_yb, math.degrees(theta))[1][0]
        C_delta = min(1, q["pin_end"] / (7 * D), q["pin_spacing"] / (4 * D), *([q["pin_end"] / (4 * D)] if theta else []))
        return Z * self.C_g * C_delta * self.C_M

    def limits(self, take, C_D, P, V, H):
        q, v, b, d, D, n = self.q, self.v, self.b, self.d, self.D, self.n
        T, C = max(0, -P), max(0, P)
        F_v, F_t, F_c = (v[k] * C_D for k in ("F_v", "F_t", "F_c"))
        f_c = C / math.prod(self.pressed)
        take("end-bearing", "bearing on the end grain", f_c / F_c)
        pull = complex(T, V)
        if abs(pull):
            take("side-plates", "uplift and shear on the screws", abs(pull) / (2 * n * C_D * self.screw(round(cmath.phase(pull), 4))))
            take("side-plates", "penetration of the screws", 4 * D / (self.deep - self.tip))
            take("geometry-along", "minimum end distance of the pins", 3.5 * D / q["pin_end"])
            take("geometry-along", "minimum spacing of the pins along the grain", 3 * D / q["pin_spacing"])
            take("geometry-along", "edge distance of the pins", 1.5 * D / (d / 2))
        if V:
            take("geometry-across", "minimum end distance of the pins", 2 * D / q["pin_end"])
            take("geometry-across", "spacing along the grain of pins loaded across it", float(np.interp(self.deep / D, [2, 6], [2.5, 5])) * D / q["pin_spacing"])
            take("geometry-across", "edge distance of the pins", 4 * D / (d / 2))
        t = 2 * self.l_m
        take("net-tension", "tension on the net section", T / self.A_n / F_t, *NET)
        take("tear-out", "uplift on the net section at the pins", T / (F_t * t * (d - self.hole)))
        planes = 2 * t * min(q["pin_end"], q["pin_spacing"])
        take("tear-out", "row tear-out at the pins", T / (n * F_v * planes / 2))
        rest = d / 2
        take("shear-at-pins", "shear of the wood at the pins", V / (2 / 3 * F_v * min(t, b) * rest * (rest / d) ** 2))
        if H: take("plate-bearing", "bearing of the wood on the face of the steel", H / (self.w * self.tall / 2) / v["F_c_perp"])
        self.steel(take, T, V, H, f_c)

    def steel(self, take, T, V, H, f_c):
        q, D, w, t, s = self.q, self.D, self.w, self.t, self.q["pin_spacing"]
        d_h = q["pin_hole"]
        T_1, V_1 = T / 2, V / 2
        R = math.hypot(T_1, V_1)
        take("side-plate-steel", "play of the screws in the holes", (d_h - D) * 16)
        a, z = q["pin_end"], q["pin_end"] + s
        plate = box(-w / 2, 0, w / 2, self.tall)
        def metal(r): return plate.difference(Point(0, a).buffer(r, 512).union(Point(0, z).buffer(r, 512)))
        clear, left = metal(d_h / 2), metal((d_h + 1 / 16) / 2)
        def along(m, x0, y0, x1, y1): return m.intersection(box(x0 - 1e-7, y0 - 1e-7, x1 + 1e-7, y1 + 1e-7)).area / 2e-7
        A_n, A_g = along(left, -w / 2, a, w / 2, a) * t, w * t
        take("side-plate-steel", "uplift on a side plate", T_1 / min(self.F_y * A_g / 1.67, self.F_u * A_n / 2))
        take("side-plate-steel", "shear of a side plate", V_1 / min(0.6 * self.F_y * A_g / 1.5, 0.6 * self.F_u * A_n / 2))
        l_c = min(along(clear, 0, z, 0, self.tall), along(clear, 0, a, 0, z), along(clear, 0, a, w / 2, a))
        take("side-plate-steel", "bearing and tear-out at the holes of a side plate", R / (self.n * min(2.4 * D, 1.2 * l_c) * t * self.F_u / 2))
        def block(shear, tension):
            gross = sum(math.hypot(p[2] - p[0], p[3] - p[1]) for p in shear)
            return (min(0.6 * self.F_u * sum(along(left, *p) for p in shear), 0.6 * self.F_y * gross) + self.F_u * sum(along(left, *p) for p in tension)) * t / 2
        top = self.tall
        up = block([(0, a, 0, top)], [(0, a, w / 2, a)])
        side = min(block([(0, a, w / 2, a)], [(0, a, 0, top)]), block([(0, a, w / 2, a), (0, z, w / 2, z)], [(0, a, 0, z)]),
                   block([(0, a, w / 2, a), (0, z, w / 2, z)], [(0, z, 0, top), (0, z, 0, top)]))
        take("side-plate-steel", "block shear of a side plate", R / (up if V == 0 else side if T == 0 else min(up, side)))
        # At the seat: half of the shear along, all of that across on one plate
        M = V_1 * self.y, H * self.y
        slender, S = self.y * w / t**2, t * w**2 / 6
        M_p = 1.5 * self.F_y * S
        k = slender * self.F_y / 29e6
        M_n = M_p if k <= 0.08 else min(M_p, (1.52 - 0.274 * k) * self.F_y * S) if k <= 1.9 else min(M_p, 1.9 / k * self.F_y * S)
        flat = 1.5 * self.F_y * w * t**2 / 6 / 1.67
        take("side-plate-steel", "tension and bending of a side plate at the seat", together(T_1 / (self.F_y * A_g / 1.67), M[0] / (M_n / 1.67), M[1] / flat))
        self.weld.limits(take, "plate-weld", T_1, V_1, H, *M)
        # The seat: pressed by the end grain over the fold round the pipe, and bent by the plates at its edges
        core, thick_ = self.stand.core, q["seat_thick"]
        reach = max(0, *((side - core) / 2 for side in self.pressed))
        m = f_c * reach**2 / 2
        take("seat", "seat plate thick enough to spread the end bearing", thick(m, self.F_y) / thick_)
        arm = (self.b + t) / 2 - core / 2
        take("seat", "bending of the seat plate by the side plates", thick(max(T_1 * arm / w, m + M[1] / w), self.F_y) / thick_)
