"""The job `knife-pier` worked from end to end by other means than the program: loads of an open roof through knee-braced lines
(job_roof.py), the post (job_wood.py), a blade in a slot (here), what it stands on (job_steel.py), rods in a round pier (job_anchors.py),
and the pier with its pad (here).

    python3 tests/oracle/whole_knife_pier.py      writes ../whole/knife-pier.csv; needs numpy, scipy, shapely

Here: pins by plastic collapse (yield_gap.py); group action by springs; sheared wood as widths of a drawn section; the blade's tearing by
measuring its drawn paths (blade.py is of the same mind); the depth of the pier as the root of its equation; pressures as integrals.
"""
import cmath, functools, math
import numpy as np
from shapely.geometry import Point, box
from blade_seat import work as seat_between
from job_anchors import Rods
from job_piers import Reinforced
from job_roof import reactions
from job_steel import Stand, Weld, steel, thick, together
from job_wood import Post, Way
from side_plates import r50
from whole_job import Job, Limits, combinations, exposed, table, wood
from yield_gap import double

job = Job("knife-pier")
lim = Limits(job)
cases, S_DS = reactions(job)
br, site = job.bracing, job.site
SDC, RHO, OMEGA = "D", 1.3, 2.5
EXPOSED = exposed(site)


class Blade:
    """The blade in its slot, along y: `plane` is y, normal to it x."""
    def __init__(self, base, post, v):
        self.q, self.b, self.d, self.v = base, post["width"], post["depth"], v
        q = base
        self.n, self.rows = int(q["pins_in_row"]), int(q["pin_rows"])
        assert (q["blade_along"], self.n, self.rows, q["pin_kind"]) == ("y", 2, 1, "drift pins")
        self.at = [q["pin_end"] + i * q["pin_spacing"] for i in range(self.n)]
        self.y = sum(self.at) / self.n
        self.tall = self.at[-1] + q["blade_top"]
        # A pin is as long as it is: the wood it bears on, each side, without its tapered end
        self.l_s = min((q["pin_length"] - q["slot"]) / 2 - q["pin_taper"], (self.b - q["slot"]) / 2)
        self.F_y, self.F_u = steel(q["steel"], "plate")
        self.F_pin = table("steel-grades", steel=q["pin_steel"], form="rod")["F_u"]
        self.stand = Stand(q, "y")
        seat_x, seat_y = q["seat_width"], q["seat_depth"]
        self.pressed = min(self.d, seat_y), min(self.b, seat_x)
        mouth = q["slot"] + 2 * q["weld"]
        on_seat = box(-seat_x / 2, -seat_y / 2, seat_x / 2, seat_y / 2).intersection(box(-self.b / 2, -self.d / 2, self.b / 2, self.d / 2))
        self.bears = on_seat.difference(box(-mouth / 2, -self.d, mouth / 2, self.d)).area
        # Seen from above at a pin: slot and bore
        bore = (self.b + q["pin_length"]) / 2
        self.hole = q["pin_diameter"]
        gone = box(-q["slot"] / 2, -self.d, q["slot"] / 2, self.d).union(box(-self.b / 2, -self.hole / 2, -self.b / 2 + bore, self.hole / 2))
        self.A_n = box(-self.b / 2, -self.d / 2, self.b / 2, self.d / 2).difference(gone).area
        self.C_g = self.group()

    def group(self):
        """Two chains, the blade and what is left of the post, tied by springs at the pins."""
        q = self.q
        n, s, gamma = self.n, q["pin_spacing"], 270000 * q["pin_diameter"] ** 1.5
        E_wood = table("posts-and-timbers", species=job.posts[0]["species"], grade=job.posts[0]["grade"], **{"class": "posts"})["E"]
        stiff = 29e6 * q["blade"] * q["blade_width"], E_wood * (self.b - q["slot"]) * self.d
        K, F = np.zeros((2 * n, 2 * n)), np.zeros(2 * n)
        def tie(i, j, k):
            for r, c, sign in ((i, i, 1), (j, j, 1), (i, j, -1), (j, i, -1)): K[r, c] += sign * k
        for i in range(n):
            tie(i, n + i, gamma)
            if i + 1 < n: tie(i, i + 1, stiff[0] / s); tie(n + i, n + i + 1, stiff[1] / s)
        K[2 * n - 1, 2 * n - 1] += 1e15; F[0] = 1  # the blade is pulled below, the post held above
        u = np.linalg.solve(K, F); f = u[:n] - u[n:]
        return f.sum() / (n * f.max())

    @functools.lru_cache(maxsize=None)
    def pin(self, theta):
        """One pin, all factors but C_D: collapse load over R_d, group, geometry, moisture."""
        q, G, D = self.q, self.v["G"], self.q["pin_diameter"]
        par, perp = r50(11200 * G), r50(6100 * G**1.45 / math.sqrt(D))
        F_e = 1 / (math.cos(theta) ** 2 / par + math.sin(theta) ** 2 / perp)
        gap = (q["slot"] - q["blade"]) / 2
        Z = double(D, q["blade"], self.l_s, 2.4 * self.F_u / 1.6, F_e, q["F_yb"], math.degrees(theta), gap)[1][0]
        # Toward the end: 7 D and 4 D for the full value; across: 4 D from the end
        C_delta = min(1, q["pin_end"] / (7 * D), q["pin_spacing"] / (4 * D), *([q["pin_end"] / (4 * D)] if theta else []))
        return Z * self.C_g * C_delta * {"wet": 0.7, "dry": 1.0}[job.wood["service"]]

    def limits(self, take, C_D, P, V, H):
        q, v, b, d, D = self.q, self.v, self.b, self.d, self.q["pin_diameter"]
        T, C = max(0, -P), max(0, P)
        F_v, F_t, F_c = (v[k] * C_D for k in ("F_v", "F_t", "F_c"))
        f_c = C / self.bears
        take("end-bearing", "bearing on the end grain", f_c / F_c)
        # Pins
        pull = complex(T, V); R = abs(pull)
        if R: take("pins", "uplift and shear on the pins", R / (self.n * C_D * self.pin(round(cmath.phase(pull), 4))))
        take("geometry-along", "minimum end distance of the pins", 3.5 * D / q["pin_end"])
        take("geometry-along", "minimum spacing of the pins along the grain", 3 * D / q["pin_spacing"])
        take("geometry-along", "edge distance of the pins", 1.5 * D / (d / 2))
        if V:
            slender = 2 * self.l_s / D
            take("geometry-across", "minimum end distance of the pins", 2 * D / q["pin_end"])
            take("geometry-across", "spacing along the grain of pins loaded across it", float(np.interp(slender, [2, 6], [2.5, 5])) * D / q["pin_spacing"])
            take("geometry-across", "edge distance of the pins", 4 * D / (d / 2))
        # Wood: sections in the thickness that the pins bear on
        t = 2 * self.l_s
        take("net-tension", "tension on the net section", T / self.A_n / F_t)
        take("tear-out", "uplift on the net section at the pins", T / (F_t * t * (d - self.hole)))
        planes = 2 * t * min(q["pin_end"], q["pin_spacing"])  # of one pin; its shear falls to nothing along them: half
        take("tear-out", "row tear-out at the pins", T / (self.n * F_v * planes / 2))
        rest = d - d / 2
        take("shear-at-pins", "shear of the wood at the pins", V / (2 / 3 * F_v * min(t, b - q["slot"]) * rest * (rest / d) ** 2))
        if H:
            take("slot-bearing", "bearing of the wood on the face of the steel", H / (q["blade_width"] * self.tall / 2) / v["F_c_perp"])
            cheek = (b - q["slot"]) / 2
            take("slot-cheeks", "shear normal to the blade on a cheek", H / (2 / 3 * F_v * d * cheek * (cheek / b) ** 2))
        self.steel(take, T, P, V, H, f_c)

    def steel(self, take, T, P, V, H, f_c):
        q, n, D, w, t = self.q, self.n, self.q["pin_diameter"], self.q["blade_width"], self.q["blade"]
        d_h, R = q["pin_hole"], math.hypot(T, V)
        take("blade", "play of the pins in the holes", (d_h - D) / 0.0625)
        edges = q["blade_top"], w / 2
        take("blade", "edge distances of the pins in the blade", D / min(edges))
        take("blade", "spacing along the grain, in the steel", 8 / 3 * D / q["pin_spacing"])
        take("blade", "shear of the pins", R / (n * 2 * 0.563 * self.F_pin * math.pi * D**2 / 4 / 2))
        # The drawn plate: metal is what is left of it, holes with 1/16 in of damage
        plate = box(-w / 2, 0, w / 2, self.tall)
        clear = plate.difference(Point(0, self.at[0]).buffer(d_h / 2, 512).union(Point(0, self.at[1]).buffer(d_h / 2, 512)))
        length = lambda x0, y0, x1, y1: clear.intersection(box(min(x0, x1) - 1e-7, min(y0, y1) - 1e-7, max(x0, x1) + 1e-7, max(y0, y1) + 1e-7)).area / 2e-7
        up = min(length(0, self.at[1], 0, self.tall), length(0, self.at[0], 0, self.at[1]))
        side = length(0, self.at[0], w / 2, self.at[0])
        l_c = up if V == 0 else side if T == 0 else min(up, side)
        hole = min(2.4 * D * t * self.F_u, 1.2 * l_c * t * self.F_u, 1.8 * self.F_y * D * t) / 2
        take("blade", "bearing and tear-out at the holes", R / (n * hole))
        r = (d_h + 1 / 16) / 2
        metal = plate.difference(Point(0, self.at[0]).buffer(r, 512).union(Point(0, self.at[1]).buffer(r, 512)))
        along = lambda x0, y0, x1, y1: metal.intersection(box(x0 - 1e-7, y0 - 1e-7, x1 + 1e-7, y1 + 1e-7)).area / 2e-7
        def block(shear, tension):
            gross = sum(math.hypot(s[2] - s[0], s[3] - s[1]) for s in shear)
            return (min(0.6 * self.F_u * sum(along(*s) for s in shear), 0.6 * self.F_y * gross) + self.F_u * sum(along(*s) for s in tension)) * t / 2
        a, z, top = *self.at, self.tall
        torn_up = block([(0, a, 0, top)], [(0, a, w / 2, a)])
        torn_side = min(block([(0, a, w / 2, a)], [(0, a, 0, top)]), block([(0, a, w / 2, a), (0, z, w / 2, z)], [(0, a, 0, z)]),
                        block([(0, a, w / 2, a), (0, z, w / 2, z)], [(0, z, 0, top), (0, z, 0, top)]))
        take("blade", "block shear of the blade", R / (torn_up if V == 0 else torn_side if T == 0 else min(torn_up, torn_side)))
        A_g, A_n = w * t, along(-w / 2, a, w / 2, a) * t
        P_t = min(self.F_y * A_g / 1.67, self.F_u * A_n / 2)
        take("blade", "uplift on the blade", T / P_t)
        take("blade", "shear of the blade", V / min(0.6 * self.F_y * A_g / 1.5, 0.6 * self.F_u * A_n / 2))
        # At the seat: a bar on edge and on the flat, F11
        M = V * self.y, H * self.y
        slender = self.y * w / t**2
        S, lo, hi = t * w**2 / 6, 0.08 * 29e6 / self.F_y, 1.9 * 29e6 / self.F_y
        M_p = min(1.5, 1.6) * self.F_y * S
        M_n = M_p if slender <= lo else min(M_p, (1.52 - 0.274 * slender * self.F_y / 29e6) * self.F_y * S) if slender <= hi else min(M_p, 1.9 * 29e6 / slender * S)
        flat = 1.5 * self.F_y * w * t**2 / 6 / 1.67
        take("blade", "tension and bending of the blade at the seat", together(T / (self.F_y * A_g / 1.67), M[0] / (M_n / 1.67), M[1] / flat))
        k = self.y - a
        x = (np.arange(100000) + 0.5) / 100000 * w / 2
        Z_n = 2 * np.sum(x[x > r]) * w / 2 / 100000 * t
        take("blade", "net section of the blade at the lowest pins", T / (self.F_u * A_n / 2) + V * k / (self.F_u * Z_n / 2) + H * k / (self.F_u * A_n * t / 4 / 2))
        # Seat between blade and pipe
        s = self.stand
        between = seat_between(T, P, V, H, *M, f_c, *self.pressed, t, w, q["weld"], q["seat_thick"], "pipe", q["leg"], q["leg_thick"], s.F_y, s.F_u, s.F_yl, s.F_ul)
        take("blade-seat", "bending of the seat between blade and standoff", between["t_req"] / q["seat_thick"])
        take("blade-seat", "wall of the pipe under the blade", between["n"] / (s.F_yl * 0.93 * q["leg_thick"] / 1.5))
        ring = Weld("pipe", q["leg"], q["leg_thick"], q["seat_thick"], s.F_ul, s.F_u, q["weld"])
        ring.limits(take, "ring-weld", 0, V, H, 0, 0, local=between["n_T"])
        self.weld(between["held"], between["apart"]).limits(take, "blade-weld", T, V, H, *M)
        core = s.core
        reach = max(0, *((side - core) / 2 for side in self.pressed))
        take("seat", "seat plate thick enough to spread the end bearing", thick(f_c * reach**2 / 2, s.F_y) / q["seat_thick"])

    @functools.lru_cache(maxsize=None)
    def weld(self, held, apart):
        q = self.q
        return Weld("bar", q["blade_width"], q["blade"], q["seat_thick"], self.F_u, self.F_u, q["weld"], held, apart)


class Pier:
    """A round pier on a square pad, in the ground; its sides take the shear."""
    def __init__(self, f):
        self.f, self.b, self.depth, self.t = f, f["pier_b"], f["found_depth"], f["pad_t"]
        self.soil = table("presumptive-soil", **{"class": site["soil"]})
        self.free = site["top_above_earth"]
        disc, pad = Point(0, 0).buffer(self.b / 2, 2048), box(-f["pad_x"] / 2, -f["pad_y"] / 2, f["pad_x"] / 2, f["pad_y"] / 2)
        self.pad, self.A = pad.area, math.pi * self.b**2 / 4
        self.h_p = self.free + self.depth - self.t
        self.bars = Reinforced(f, self.free, self.depth, self.t, SDC)
        self.W_c = 150 / 1728 * (self.A * self.h_p + pad.area * self.t)
        self.W_s = 100 / 1728 * pad.difference(disc).area * (self.depth - self.t)

    def asd(self, take, short, P, H, y_top):
        take("frost", "depth below undisturbed ground", 12 / self.depth)
        take("frost", "depth for frost protection", site["frost"] / self.depth)
        Q = math.hypot(*H)
        if Q:
            S_1 = (2 if short and site["half_inch"] == "yes" else 1) * self.soil["S_lat"] * min(self.depth, 144) / 3
            A = 2.34 * Q / (S_1 * self.b)
            # Eq. 18-1 is the root of d^2 - A d - 1.09 A h = 0
            take("pier", "depth of the pier for shear, nonconstrained", max(np.roots([1, -A, -1.09 * A * (self.free + y_top)]).real) / self.depth)
        N = P + self.W_c + self.W_s
        if N > 0: take("soil-bearing", "pressure on the soil", N / self.pad / self.soil["q_a"])
        take("uplift-weight", "weight resisting uplift", max(0, -P) / (0.6 * (self.W_c + self.W_s)))

    def strength(self, take, P, H, y_top):
        f, b, f_c = self.f, self.b, self.f["f_c'"]
        take("concrete-exposure", "concrete strength for its exposure", EXPOSED / f_c)
        self.bars.limits(take, P, math.hypot(*H), 0, y_top)
        # Pad: a cantilever beyond the square of equal area, under an even pressure
        side = math.sqrt(self.A)
        l, h = (max(f["pad_x"], f["pad_y"]) - side) / 2, self.t - 2
        take("plain-footing", "thickness of the pad", 8 / self.t)
        take("plain-footing", "projection of a plain pad in SDC C and up", l / self.t)
        take("plain-footing", "concrete of a pad in SDC D and up", 3000 / f_c)
        if P > 0:
            q = P / self.pad
            take("plain-footing", "bending of the plain pad", q * l**2 / 2 / (0.6 * 5 * math.sqrt(f_c) * h**2 / 6))
            around = box(*(s * min(side + h, f[p]) / 2 for s in (-1, 1) for p in ("pad_x", "pad_y")))
            take("plain-footing", "punching shear of the plain pad", q * (self.pad - around.area) / (0.6 * 8 / 3 * math.sqrt(f_c) * around.length * h))


for p in job.posts:
    mark, base = p["mark"], job.row("bases", p["base"])
    v = wood(p["species"], p["grade"], p["width"], p["depth"], job.wood["service"], job.wood["incised"])
    faces = [{"one": 1, "both": 2}[p.get(f"brace_faces_{w}", br.get(f"brace_faces_{w}"))] for w in "xy"]
    post = Post(mark, p["width"], p["depth"], p["height"], v, (br["brace_x"], br["brace_y"]), br["brace_drop"], faces,
                (br["mortise_width"], br["mortise_depth"], br["housing"]))
    blade, f = Blade(base, p, v), job.row("foundations", p["foundation"])
    pier = Pier(f)
    rods = Rods(job.row("anchors", p["anchor"]), base, f["f_c'"], "round", f["pier_b"], f["pier_b"], pier.h_p, SDC)
    c = cases[mark]
    take = lambda k: lambda sheet, words, ratio, *how: lim.take(mark, sheet, words, ratio, k, *how)
    ways = lambda k, quake=False: [Way(k.of(c, f"H_{w}", quake), k.of(c, f"w_{w}", quake), p["height"], br[f"brace_{w}"], br["brace_drop"]) for w in "xy"]
    y_top = blade.y + base["standoff"]
    lim.take(mark, "clearance", "end grain above the concrete", 1 / base["standoff"])
    def anchors(k):
        """Tension and shears, and whether an earthquake brings more than a fifth of the tension, ACI 318-19 17.10.5."""
        of = lambda quake: blade.stand.anchors(min(0, k.of(c, "P", True)) if quake else k.of(c, "P"), *(abs(way.H_b) for way in ways(k, quake)[::-1]), blade.y)
        N = of(False)
        rods.limits(take(k), N, [abs(way.H_b) for way in ways(k)], bool(k.quake) and of(True) > 0.2 * N)
    for k in combinations(list(c), S_DS=S_DS, rho=RHO):
        P, (x, y) = k.of(c, "P"), ways(k)
        H = x.H_b, y.H_b
        if k.method == "asd":
            post.limits(lim, k, P, x, y, blade.A_n)
            blade.limits(take(k), k.C_D, P, abs(H[1]), abs(H[0]))
            blade.stand.limits(take(k), P, abs(H[1]), abs(H[0]), blade.y)
            pier.asd(take(k), any(c[0] in "WE" for c in k.factors), P, H, y_top)
        else:
            pier.strength(take(k), P, H, y_top)
            # 22.8.3: spread inside the square of equal area, plain concrete
            wide = math.sqrt(pier.A)
            bears = min(2, wide / base["foot_width"]) * 0.85 * f["f_c'"] * base["foot_width"] * base["foot_depth"]
            take(k)("concrete-bearing", "bearing on the concrete", max(0, P) / (0.6 * bears))
            anchors(k)
    for k in combinations(list(c), S_DS=S_DS, Omega=OMEGA):
        if k.method == "strength": anchors(k)
lim.write()
