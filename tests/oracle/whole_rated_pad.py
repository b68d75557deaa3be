"""The job `rated-pad` worked from end to end by other means than the program: posts under knee braces both ways (job_wood.py), bases by their
report (job_rated.py), two or four rods each (job_anchors.py), reinforced piers (job_piers.py), and pads with a pier on them or without (here).

    python3 tests/oracle/whole_rated_pad.py      writes ../whole/rated-pad.csv; needs numpy, scipy, shapely

Here: weights of drawn outlines, soil pressure as a plane that does not pull (soil_plane.py), pressure on the side of a pad summed over its
depth, the bending of a pad as the moment of the drawn strip beyond its face, bearing by growing the loaded outline.
"""
import functools, math
import numpy as np
from shapely.geometry import Point, box
from job_anchors import Rods
from job_piers import Reinforced
from job_rated import report, tip
from job_wood import Post, Way
from soil_plane import largest
from whole_job import Job, Limits, combinations, table, wood

job = Job("rated-pad")
lim = Limits(job)
br, site = job.bracing, job.site
# ASCE 7-16 Tables 11.6-1 and 11.6-2: S_DS under 0.33, S_D1 under 0.133, one of them over category A
assert 0.167 <= job.seismic["S_DS"] < 0.33 and job.seismic["S_D1"] < 0.133
SDC, RHO = "B", 1.0
WET = "wet" in (job.wood["service"], job.wood["fabrication"])
square = lambda w, l: box(-w / 2, -l / 2, w / 2, l / 2)


@functools.lru_cache(maxsize=None)
def plane(u, v):
    """Largest over mean pressure for a load off the middle by `u` and `v` of the sides."""
    return largest(u, v) if u or v else 1.0


def pressed(u, v):
    if u + v <= 1 / 6: return 1 + 6 * (u + v)  # all of the base is pressed: the plane as it is
    # Out of the kern both ways the rule is the product of both, on the safe side of the plane.
    return plane(round(u, 7), 0) * plane(0, round(v, 7))


class Pad:
    def __init__(self, f):
        self.f, self.t, self.depth = f, f["pad_t"], f["found_depth"]
        self.h_p = f.get("pier_over", 0)
        assert abs(self.t + self.h_p - self.depth - site["top_above_earth"]) <= 1
        self.out = square(f["pad_x"], f["pad_y"])
        self.sides = f["pad_x"], f["pad_y"]
        # The pier, or the post where there is none
        self.pier = Point(0, 0).buffer(f["pier_b"] / 2, 2048) if f["pier_shape"] == "round" else square(f["pier_b"], f["pier_b"])
        over = self.depth - self.t if self.h_p else 0
        self.W_c = 150 / 1728 * (self.out.area * self.t + self.pier.area * self.h_p)
        self.W_s = 100 / 1728 * self.out.difference(self.pier).area * max(0, over)
        self.W = self.W_c + self.W_s
        self.soil = table("presumptive-soil", **{"class": site["soil"]})
        z = np.linspace(max(0, self.depth - self.t), self.depth, 4001)
        mid = (z[1:] + z[:-1]) / 2
        self.side = np.sum(self.soil["S_lat"] * mid * np.diff(z)) * min(self.sides) if f["side_bears"] == "yes" else 0
        self.bars = Reinforced(f, self.h_p, 0, self.t, SDC) if self.h_p else None
        self.worst = {}

    def asd(self, take, P, P_D, H, hinge):
        take("frost", "depth below undisturbed ground", 12 / self.depth)
        take("frost", "depth for frost protection", site["frost"] / self.depth)
        T, C = max(0, -P), max(0, P)
        M = [abs(h) * (hinge + self.h_p + self.t) for h in H]
        for name, part in (("bearing-full", 1.0), ("bearing-light", 0.6)):
            N = P + part * self.W
            u, v = (m / N / side for m, side in zip(M, self.sides))
            assert N > 0 and max(u, v) <= 0.45
            q = pressed(u, v) * N / self.out.area
            if q > self.worst.get(name, (0,))[0]: self.worst[name] = q, u, v, N
            take(name, "pressure on the soil", q / self.soil["q_a"])
        take("uplift-weight", "weight resisting uplift", T / (0.6 * self.W))
        # Dead load alone rubs: that of the post as the combination has it, less what lifts it
        rub = self.soil["mu"] * max(0, min(P, P_D) + 0.6 * self.W)
        take("sliding", "sliding", math.hypot(*H) / (rub + self.side))
        for name, m, side in (("overturning-x", M[0], self.sides[0]), ("overturning-y", M[1], self.sides[1])):
            take(name, "overturning", (m + T * side / 2) / ((0.6 * self.W + C) * side / 2))

    def strength(self, take, P, H, hinge):
        f, f_c, h = self.f, self.f["f_c'"], self.t - 2
        take("concrete-exposure", "concrete strength for its exposure", max(table("exposure-classes", **{"class": site[k]})["f_min"] for k in ("freezing", "sulfate", "water", "corrosion")) / f_c)
        if self.bars: self.bars.limits(take, P, math.hypot(*H), 0, hinge)
        take("plain-footing", "thickness of the pad", 8 / self.t)
        M, W = math.hypot(*H) * (hinge + self.h_p + self.t), 0.9 * self.W
        N = P + W
        if N <= 0 or P <= 0 and M == 0: return
        u = M / N / min(self.sides)
        assert u <= 0.45
        q = max(0, (pressed(u, 0) * N - W) / self.out.area)
        root = 0.6 * math.sqrt(f_c)
        # 14.4: a round pier is the square of equal area
        side = math.sqrt(self.pier.area)
        bent = sheared = 0
        for wide in self.sides:
            strip = box(side / 2, 0, wide / 2, 1)  # an inch of it
            bent = max(bent, q * strip.area * (strip.centroid.x - side / 2))
            sheared = max(sheared, q * strip.difference(box(0, 0, side / 2 + h, 1)).area)
        take("plain-footing", "bending of the plain pad", bent / (5 * root * h**2 / 6))
        take("plain-footing", "one-way shear of the plain pad", sheared / (4 / 3 * root * h))
        around = square(side + h, side + h).intersection(self.out)
        take("plain-footing", "punching shear of the plain pad", q * (self.out.area - around.area) / (8 / 3 * root * around.length * h))

    def bears(self, b, d):
        """22.8.3: the loaded outline grown two across for one down inside the concrete; phi of plain concrete, 0.60."""
        side = math.sqrt(self.pier.area)
        top, deep = (square(side, side), self.h_p) if self.bars else (self.out, self.t)
        low, high = 0.0, 2 * deep
        for _ in range(60):
            mid = (low + high) / 2
            low, high = (mid, high) if top.buffer(1e-9).covers(square(b + 2 * mid, d + 2 * mid)) else (low, mid)
        return 0.6 * 0.85 * self.f["f_c'"] * b * d * min(2, math.sqrt(square(b + 2 * low, d + 2 * low).area / (b * d)))


for p in job.posts:
    mark, base, f = p["mark"], job.row("bases", p["base"]), job.row("foundations", p["foundation"])
    b, d = p["width"], p["depth"]
    v = wood(p["species"], p["grade"], b, d, job.wood["service"], p["incised"])
    post = Post(mark, b, d, p["height"], v, (br["brace_x"], br["brace_y"]), br["brace_drop"], (2 if p["brace_faces_x"] == "both" else 1, 1),
                (br["mortise_width"], br["mortise_depth"], br["housing"]))
    pad = Pad(f)
    anchor = job.row("anchors", p["anchor"])
    top = (f["pier_b"], f["pier_b"], pad.h_p) if pad.bars else (*pad.sides, pad.t)
    plan = "round" if pad.bars and f["pier_shape"] == "round" else "rectangular"
    rods = Rods(anchor, base, f["f_c'"], plan, *top, SDC, sides=f["sides"])
    fixed = (base["anchors_x"], base["anchors_y"]), (base["anchor_s_x"], base["anchor_s_y"])
    count = math.prod(fixed[0])
    seat, bearing = min(b, base["seat_width"]) * min(d, base["seat_depth"]), pad.bears(base["seat_width"], base["seat_depth"])
    c, hinge = job.cases[mark], base["fastener_height"]
    lim.take(mark, "clearance", "end grain above the concrete", 1 / base["standoff"])
    for k in combinations(list(c), S_DS=job.seismic["S_DS"], rho=RHO):
        take = lambda sheet, words, ratio, *how: lim.take(mark, sheet, words, ratio, k, *how)
        P, (x, y) = k.of(c, "P"), [Way(k.of(c, f"H_{w}"), k.of(c, f"w_{w}"), p["height"], br[f"brace_{w}"], br["brace_drop"]) for w in "xy"]
        H = x.H_b, y.H_b
        if k.method == "asd":
            post.limits(lim, k, P, x, y, b * d)
            take("end-bearing", "bearing on the end grain", max(0, P) / seat / (v["F_c"] * k.C_D))
            take("net-tension", "tension on the net section", max(0, -P) / (b * d) / (v["F_t"] * k.C_D))
            report(take, base, p, v["G"], k.C_D, P, H, base["wet_factor"] if job.wood["service"] == "wet" else 1, base["wet_factor"] if WET else 1, count, anchor["d_a"])
            pad.asd(take, P, (k.factors["D"] - k.quake.get("D", 0)) * c["D"]["P"], H, hinge)
        else:
            pad.strength(take, P, H, hinge)
            take("concrete-bearing", "bearing on the concrete", max(0, P) / bearing)
            N = tip(base, *fixed, P, H)
            rods.limits(take, N if N > 0 else max(0, -P), [abs(h) for h in H], False)
    for q, u, v_, N in pad.worst.values():
        assert q >= 0.999 * plane(round(u, 7), round(v_, 7)) * N / pad.out.area, "the product is on the safe side"
lim.write()
