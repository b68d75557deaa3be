"""The job `cantilevers` worked from end to end by other means than the program: posts that stand as cantilevers (job_wood.py) on bases cast
in and rated for moment (job_rated.py), four rods each (job_anchors.py), and round piers worked as reinforced, in the ground (job_piers.py); what holds
the posts at their bases also in the combinations of overstrength, ASCE 7-16 12.2.5.2.

    python3 tests/oracle/whole_cantilevers.py      writes ../whole/cantilevers.csv; needs numpy, scipy, shapely
"""
import math
from job_anchors import Rods
from job_piers import Foundation, bears_on
from job_rated import report
from job_wood import Post, Way, ylinen
from whole_job import Job, Limits, combinations, wood

job = Job("cantilevers")
lim = Limits(job)
S_DS, rho, Omega = job.seismic["S_DS"], 1.3, 1.5  # SDC D: 12.3.4.2 is not shown; G6 of Table 12.2-1
SDC = "D"  # Tables 11.6-1 and 11.6-2: S_DS from 0.50, S_D1 from 0.20, S_1 under 0.75
assert S_DS >= 0.5 and job.seismic["S_D1"] >= 0.2 and job.seismic["S_1"] < 0.75

for p in job.posts:
    mark, base, f = p["mark"], job.row("bases", p["base"]), job.row("foundations", p["foundation"])
    b, d, tall = p["width"], p["depth"], p["height"]
    v = wood(p["species"], p["grade"], b, d, job.wood["service"])
    post = Post(mark, b, d, tall, v, ("none", "none"), 0)
    ground = Foundation(f, job.site, SDC)
    rods = Rods(job.row("anchors", p["anchor"]), base, f["f_c'"], "round", ground.b, ground.b, ground.h_p, SDC)
    seat = min(b, base["seat_width"]) * min(d, base["seat_depth"])
    c = job.cases[mark]
    assert (job.wood["service"], job.wood["fabrication"]) == ("dry", "wet")  # what bears is dry, fasteners go into green wood
    fixed = base["anchors_x"] * base["anchors_y"], job.row("anchors", p["anchor"])["d_a"]
    lim.take(mark, "clearance", "end grain above the concrete", 1 / base["standoff"])

    def work(k, over):
        take = lambda sheet, words, ratio: lim.take(mark, sheet, words, ratio, k)
        P, (x, y) = k.of(c, "P"), [Way(k.of(c, f"H_{w}"), k.of(c, f"w_{w}"), tall, "none", 0) for w in "xy"]
        H, M = (x.H_b, y.H_b), (x.M_base, y.M_base)
        if k.method == "asd":
            if not over:
                post.limits(lim, k, P, x, y, b * d)
                take("end-bearing", "bearing on the end grain", max(0, P) / seat / (v["F_c"] * k.C_D))
                take("net-tension", "tension on the net section", max(0, -P) / (b * d) / (v["F_t"] * k.C_D))
                if k.quake:
                    star = v["F_c"] * k.C_D
                    F_c = star * ylinen(0.822 * v["E_min"] / (2.1 * tall / min(b, d)) ** 2 / star, 0.8)
                    take("cantilevered-column", "axial load of a cantilevered column in an earthquake", max(0, P) / (0.15 * F_c * b * d))
            down, up, *side, less = report(take, base, p, v["G"], k.C_D, P, H, 1, base["wet_factor"], *fixed)
            bent = sum(m / (base[f"moment_{w}"] * less) for m, w in zip(M, "xy"))
            take("moment-base", "uplift and moments together", up + bent)
            added = {"all added": down + up + sum(side), "download apart": up + sum(side), "only uplift and moments": up}[base["interaction"]]
            take("base-interaction", "axial load, shears and moments together", added + bent)
            ground.asd(take, k, c["D"]["P"], P, H, M, base["standoff"])
        else:
            ground.strength(take, P, H, M, base["standoff"])
            bears_on(take, ground, base, P)
            # 17.10.5.1, 17.10.6.1: more than a fifth of tension or shear from the earthquake, its vertical effect included
            N, quake = max(0, -P), [k.of(c, what, True) for what in ("P", "H_x", "H_y")]
            rods.limits(take, N, [abs(h) for h in H], -quake[0] > 0.2 * N)

    for k in combinations(list(c), both=("W1", "W2"), S_DS=S_DS, rho=rho): work(k, False)
    for k in combinations(list(c), S_DS=S_DS, Omega=Omega): work(k, True)
lim.write()
