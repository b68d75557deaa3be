"""The job `plates-slab` worked from end to end by other means than the program: the post (job_wood.py), side plates with lag screws
(job_plates.py), what they stand on (job_steel.py), rods in a thickened slab (job_anchors.py), and the slab as a pad (here).

    python3 tests/oracle/whole_plates_slab.py      writes ../whole/plates-slab.csv; needs numpy, scipy, shapely

Here: soil pressure as a plane, also where part of the base lifts.
"""
import math
import numpy as np
from job_anchors import Rods
from job_plates import NET, Plates
from job_wood import Post, Way
from soil_plane import largest
from whole_job import Job, Limits, combinations, exposed, table, wood

job = Job("plates-slab")
EXPOSED = exposed(job.site)
lim = Limits(job)
br, site = job.bracing, job.site
S_DS, SDC, RHO = job.seismic["S_DS"], "B", 1.0
C_M = 1.0  # NDS Table 11.3.3: green timber that dries, the screws in one row along the grain
assert job.wood["service"] == "dry"


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
        take("frost", "depth for frost protection", site["frost"] / self.depth)
        for name, part in (("bearing-full", 1.0), ("bearing-light", 0.6)):
            N = P + part * self.W
            if N <= 0: continue
            u, v = M[0] / N / self.B, M[1] / N / self.L
            if max(u, v) <= 0.45: take(name, "pressure on the soil", self.peak(u, v) * N / self.area / self.soil["q_a"])
        T, C = max(0, -P), max(0, P)
        take("uplift-weight", "weight resisting uplift", T / (0.6 * self.W))
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
        take("plain-footing", "punching shear of the plain pad", q * (self.area - math.prod(inside)) / (0.6 * 8 / 3 * math.sqrt(f_c) * 2 * sum(inside) * h))


for p in job.posts:
    mark, base, f = p["mark"], job.row("bases", p["base"]), job.row("foundations", p["foundation"])
    v = wood(p["species"], p["grade"], p["width"], p["depth"], job.wood["service"])
    post = Post(mark, p["width"], p["depth"], p["height"], v, (br["brace_x"], br["brace_y"]), 0, net=NET)
    plates, pad = Plates(base, p, v, C_M), Pad(f)
    rods = Rods(job.row("anchors", p["anchor"]), base, f["f_c'"], "rectangular", pad.B, pad.L, pad.t, SDC, sides=f["sides"])
    c = job.cases[mark]
    y_top = plates.y + base["standoff"]
    lim.take(mark, "clearance", "end grain above the concrete", 1 / base["standoff"])
    lim.take(mark, "clearance", "end grain above the slab or pier, code minimum", 1 / base["standoff"])
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
