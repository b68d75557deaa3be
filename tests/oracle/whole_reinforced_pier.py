"""The job `reinforced-pier` worked from end to end by other means than the program: posts whose tops walls hold (job_wood.py), bases by
their report (job_rated.py), four rods each (job_anchors.py), and piers worked as reinforced, in the ground or on a pad (job_piers.py).

    python3 tests/oracle/whole_reinforced_pier.py      writes ../whole/reinforced-pier.csv; needs numpy, scipy, shapely
"""
from job_anchors import Rods
from job_piers import Foundation, bears_on
from job_rated import report, tip
from job_wood import Post, Way
from whole_job import Job, Limits, combinations, wood

job = Job("reinforced-pier")
lim = Limits(job)
SDC = "A"  # ASCE 7-16 Tables 11.6-1 and 11.6-2: S_DS under 0.167 and S_D1 under 0.067
assert job.seismic["S_DS"] < 0.167 and job.seismic["S_D1"] < 0.067

for p in job.posts:
    mark, base, f = p["mark"], job.row("bases", p["base"]), job.row("foundations", p["foundation"])
    b, d = p["width"], p["depth"]
    v = wood(p["species"], p["grade"], b, d, job.wood["service"])
    post = Post(mark, b, d, p["height"], v, (job.bracing["brace_x"], job.bracing["brace_y"]), 0)
    ground = Foundation(f, job.site, SDC)
    rods = Rods(job.row("anchors", p["anchor"]), base, f["f_c'"], "round" if f["pier_shape"] == "round" else "rectangular", ground.b, ground.b, ground.h_p, SDC)
    seat = min(b, base["seat_width"]) * min(d, base["seat_depth"])
    c, fixed = job.cases[mark], ((base["anchors_x"], base["anchors_y"]), (base["anchor_s_x"], base["anchor_s_y"]))
    assert (job.wood["service"], job.wood["fabrication"]) == ("dry", "wet")  # what bears is dry, fasteners go into green wood
    lim.take(mark, "clearance", "end grain above the concrete", 1 / base["standoff"])
    for k in combinations(list(c)):
        take = lambda sheet, words, ratio: lim.take(mark, sheet, words, ratio, k)
        P, (x, y) = k.of(c, "P"), [Way(k.of(c, f"H_{w}"), k.of(c, f"w_{w}"), p["height"], job.bracing[f"brace_{w}"], 0) for w in "xy"]
        H, hinge = (x.H_b, y.H_b), base["fastener_height"]
        if k.method == "asd":
            post.limits(lim, k, P, x, y, b * d)
            take("end-bearing", "bearing on the end grain", max(0, P) / seat / (v["F_c"] * k.C_D))
            take("net-tension", "tension on the net section", max(0, -P) / (b * d) / (v["F_t"] * k.C_D))
            report(take, base, p, v["G"], k.C_D, P, H, 1, base["wet_factor"], fixed[0][0] * fixed[0][1], job.row("anchors", p["anchor"])["d_a"])
            ground.asd(take, k, c["D"]["P"], P, H, (0, 0), hinge)
        else:
            ground.strength(take, P, H, (0, 0), hinge)
            bears_on(take, ground, base, P)
            rods.limits(take, tip(base, *fixed, P, H), [abs(h) for h in H], False)
lim.write()
