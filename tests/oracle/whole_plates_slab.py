"""The job `plates-slab` worked from end to end by other means than the program: the post (job_wood.py), side plates with lag screws
(here), what they stand on (job_steel.py), rods in a thickened slab (job_anchors.py), and the slab as a pad (here).

    python3 tests/oracle/whole_plates_slab.py      writes ../whole/plates-slab.csv; needs numpy, scipy, shapely

Here: screws by plastic collapse (yield_gap.py); group action by springs (side_plates.py); tearing of the plates measured on a drawn
plate; soil pressure as a plane, also where part of the base lifts.
"""
import cmath, functools, math
import numpy as np
from shapely.geometry import Point, box
from job_anchors import Rods
from job_steel import Stand, Weld, steel, thick, together
from job_wood import Post, Way
from side_plates import LAG, chain, r50
from soil_plane import largest
from whole_job import Job, Limits, combinations, exposed, table, wood
from yield_gap import yields

job = Job("plates-slab")
EXPOSED = exposed(job.site)
lim = Limits(job)
br, site = job.bracing, job.site
NET = 0.01, "the sheet takes the whole screw for its hole, the part in the plate too"
S_DS, SDC, RHO = job.seismic["S_DS"], "B", 1.0


class Plates:
    """Two side plates along `plane` and their screws."""
    def __init__(self, base, post, v):
        q = self.q = base
        self.v, self.E = v, table("posts-and-timbers", species=post["species"], grade=post["grade"], **{"class": "posts"})["E"]
        self.plane = q["blade_along"]
        self.b, self.d = (post["depth"], post["width"]) if self.plane == "x" else (post["width"], post["depth"])
        self.n, self.D, self.t, self.w = int(q["pins_in_row"]), q["screw_d"], q["blade"], q["blade_width"]
        assert (q["screw"], q["pin_rows"], self.n) == ("lag", 1, 2) and job.wood["service"] == "dry"
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
        """One screw, all factors but C_D; green timber that dries, in one row along the grain: C_M 1."""
        q, G, D = self.q, self.v["G"], self.D
        par, perp = r50(11200 * G), r50(6100 * G**1.45 / math.sqrt(D))
        F_e = 1 / (math.cos(theta) ** 2 / par + math.sin(theta) ** 2 / perp)
        Z = yields(D, self.D_r, self.l_m, self.t, F_e, 2.4 * self.F_u / 1.6, self.F_yb, math.degrees(theta))[1][0]
        C_delta = min(1, q["pin_end"] / (7 * D), q["pin_spacing"] / (4 * D), *([q["pin_end"] / (4 * D)] if theta else []))
        return Z * self.C_g * C_delta

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
            take("geometry-along", "smallest end distance of the pins", 3.5 * D / q["pin_end"])
            take("geometry-along", "smallest spacing of the pins along the grain", 3 * D / q["pin_spacing"])
            take("geometry-along", "edge distance of the pins", 1.5 * D / (d / 2))
        if V:
            take("geometry-across", "smallest end distance of the pins", 2 * D / q["pin_end"])
            take("geometry-across", "spacing along the grain of pins pressed across it", float(np.interp(self.deep / D, [2, 6], [2.5, 5])) * D / q["pin_spacing"])
            take("geometry-across", "edge distance of the pins", 4 * D / (d / 2))
        t = 2 * self.l_m
        take("net-tension", "tension on the net section", T / self.A_n / F_t, *NET)
        take("tear-out", "uplift on the net section at the pins", T / (F_t * t * (d - self.hole)))
        planes = 2 * t * min(q["pin_end"], q["pin_spacing"])
        take("tear-out", "uplift on the rows of pins", T / (n * F_v * planes / 2))
        rest = d / 2
        take("shear-at-pins", "shear of the wood at the pins", V / (2 / 3 * F_v * min(t, b) * rest * (rest / d) ** 2))
        if H: take("plate-bearing", "wood pressed by the face of the steel", H / (self.w * self.tall / 2) / v["F_c_perp"])
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
        take("seat", "seat plate bent by the side plates", thick(max(T_1 * arm / w, m + M[1] / w), self.F_y) / thick_)


class Pad:
    """The thickened part of the slab, of its own weight alone."""
    def __init__(self, f):
        self.f, self.B, self.L, self.t, self.depth = f, f["pad_x"], f["pad_y"], f["pad_t"], f["found_depth"]
        self.soil = table("presumptive-soil", **{"class": site["soil"]})
        self.area, self.W = self.B * self.L, 150 / 1728 * self.B * self.L * self.t
        assert self.t > self.depth and f["side_bears"] == "yes"

    @staticmethod
    def peak(u, v):
        """Largest over mean pressure of a plane that does not pull."""
        if u + v <= 1 / 6: return 1 + 6 * (u + v)
        one = lambda e: 1 + 6 * e if e <= 1 / 6 else 2 / (3 * (0.5 - e))
        if min(u, v) == 0: return one(max(u, v))
        # The rule for both ways is a product; the plane itself has to be less.
        assert largest(u, v) <= one(u) * one(v) * 1.01, (u, v)
        return one(u) * one(v)

    def asd(self, take, dead, P, H, y_top):
        """`dead`: the load that friction may count, without the vertical effect of an earthquake (ASCE 7-16 12.4.2.2, exception 2)."""
        arm = self.t + y_top
        M = [abs(h) * arm for h in H]
        take("frost", "depth below undisturbed ground", 12 / self.depth)
        take("frost", "depth against frost", site["frost"] / self.depth)
        for name, part in (("bearing-full", 1.0), ("bearing-light", 0.6)):
            N = P + part * self.W
            if N <= 0: continue
            u, v = M[0] / N / self.B, M[1] / N / self.L
            if max(u, v) <= 0.45: take(name, "pressure on the soil", self.peak(u, v) * N / self.area / self.soil["q_a"])
        T, C = max(0, -P), max(0, P)
        take("uplift-weight", "weight against uplift", T / (0.6 * self.W))
        depth = np.linspace(0, self.depth, 2001)
        mid = (depth[1:] + depth[:-1]) / 2
        side = np.sum(self.soil["S_lat"] * mid * np.diff(depth)) * min(self.B, self.L)
        take("sliding", "sliding", math.hypot(*H) / (self.soil["mu"] * max(0, 0.6 * self.W + min(P, dead)) + side))
        for name, m, side in (("overturning-x", M[0], self.B), ("overturning-y", M[1], self.L)):
            take(name, "overturning", (m + T * side / 2) / ((0.6 * self.W + C) * side / 2))

    def strength(self, take, P, H, y_top):
        f, f_c, h = self.f, self.f["f_c'"], self.t - 2
        take("concrete-exposure", "concrete strength for its exposure", EXPOSED / f_c)
        take("plain-footing", "thickness of the pad", 8 / self.t)
        M, W = math.hypot(*(h_ * (self.t + y_top) for h_ in H)), 0.9 * self.W
        N = P + W
        if N <= 0 or (P <= 0 and M == 0): return
        u = M / N / min(self.B, self.L)
        if u > 0.45: return
        q = max(0, (self.peak(u, 0) * N - W) / self.area)
        l = max(self.B - f["pier_b"], self.L - f["pier_b"]) / 2
        take("plain-footing", "bending of the plain pad", q * l**2 / 2 / (0.6 * 5 * math.sqrt(f_c) * h**2 / 6))
        inside = [min(f["pier_b"] + h, side) for side in (self.B, self.L)]
        take("plain-footing", "punching of the plain pad", q * (self.area - math.prod(inside)) / (0.6 * 8 / 3 * math.sqrt(f_c) * 2 * sum(inside) * h))


for p in job.posts:
    mark, base, f = p["mark"], job.row("bases", p["base"]), job.row("foundations", p["foundation"])
    v = wood(p["species"], p["grade"], p["width"], p["depth"], job.wood["service"])
    post = Post(mark, p["width"], p["depth"], p["height"], v, (br["brace_x"], br["brace_y"]), 0, net=NET)
    plates, pad = Plates(base, p, v), Pad(f)
    rods = Rods(job.row("anchors", p["anchor"]), base, f["f_c'"], "rectangular", pad.B, pad.L, pad.t, SDC, sides=f["sides"])
    c = job.cases[mark]
    y_top = plates.y + base["standoff"]
    lim.take(mark, "clearance", "end grain above the concrete", 1 / base["standoff"])
    lim.take(mark, "clearance", "end grain above the slab or pier, by the code", 1 / base["standoff"])
    lim.take(mark, "clearance", "end grain above exposed earth", 8 / (site["top_above_earth"] + base["standoff"]))
    for k in combinations(list(c), both=("W1", "W2"), S_DS=S_DS, rho=RHO):
        take = lambda sheet, words, ratio, *how: lim.take(mark, sheet, words, ratio, k, *how)
        P = k.of(c, "P")
        x, y = [Way(k.of(c, f"H_{w}"), k.of(c, f"w_{w}"), p["height"], br[f"brace_{w}"], 0) for w in "xy"]
        H = [x.H_b, y.H_b]
        V_, H_ = [abs(h) for h in (H if plates.plane == "x" else H[::-1])]
        if k.method == "asd":
            post.limits(lim, k, P, x, y, plates.A_n)
            plates.limits(take, k.C_D, P, V_, H_)
            plates.stand.limits(take, P, V_, H_, plates.y)
            pad.asd(take, (k.factors["D"] - k.quake.get("D", 0)) * c["D"]["P"], P, H, y_top)
        else:
            pad.strength(take, P, H, y_top)
            even = min((pad.B - base["foot_width"]) / 2, (pad.L - base["foot_depth"]) / 2, 2 * pad.t)
            A_1, A_2 = base["foot_width"] * base["foot_depth"], (base["foot_width"] + 2 * even) * (base["foot_depth"] + 2 * even)
            take("concrete-bearing", "bearing on the concrete", max(0, P) / (0.6 * min(2, math.sqrt(A_2 / A_1)) * 0.85 * f["f_c'"] * A_1))
            N = plates.stand.anchors(P, V_, H_, plates.y)
            rods.limits(take, N if N > 0 else max(0, -P), [abs(h) for h in H], False)
lim.write()
