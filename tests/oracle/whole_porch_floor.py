"""The job `porch-floor` worked from end to end by other means than the program: posts under knee braces one way and a house the other
(job_wood.py), bases by their report (job_rated.py) or with side plates (job_plates.py, job_steel.py), and their screws into the floor (here).

    python3 tests/oracle/whole_porch_floor.py      writes ../whole/porch-floor.csv; needs numpy, scipy, shapely

Here: screws by plastic collapse (yield_gap.py), group action by springs (floor_fasteners.py), withdrawal by the printed Tables 12.2A and
12.2B where they have the cell, bearing perpendicular to grain by the length of wood that works.
"""
import cmath, functools, math
import numpy as np
from floor_fasteners import W_LAG, W_SCREW, chain
from job_plates import NET, Plates
from job_rated import report, tip
from job_wood import Post, Way
from side_plates import LAG, SCREW, r50
from whole_job import Job, Limits, combinations, table, wood
from yield_gap import yields

job = Job("porch-floor")
lim = Limits(job)
br = job.bracing
# ASCE 7-16 Tables 11.6-1 and 11.6-2: S_DS under 0.5, S_D1 under 0.2: category C, with a redundancy factor of 1
assert 0.33 <= job.seismic["S_DS"] < 0.50 and 0.133 <= job.seismic["S_D1"] < 0.20
assert (job.wood["service"], job.wood["fabrication"]) == ("wet", "dry")
WET = 0.7  # NDS Table 11.3.3: dowel-type fasteners and withdrawal, in wood that is wet in service


class Screws:
    """Screws through the plate of a base into the side grain of a floor beam; `run` is along its grain."""
    def __init__(self, q, f, plate):
        """`plate`: that on the floor, along x and y."""
        self.q, self.f = q, f
        self.swap = f["floor_along"] == "y"
        turn = (lambda a, b: (b, a)) if self.swap else (lambda a, b: (a, b))
        self.n, self.rows = map(int, turn(q["floor_screws_along"], q["floor_screws_across"]))
        self.s, self.s_row = turn(q["floor_spacing_along"], q["floor_spacing_across"])
        self.seat = turn(*plate)
        self.v = wood(f["floor_species"], f["floor_grade"], f["floor_width"], f["floor_thick"], "wet")
        self.D, self.t, self.lag = q["floor_screw_d"], q["floor_plate"], q["floor_screw"] == "lag"
        L = q["floor_screw_length"]
        # Appendix L: root, tip and thread
        if self.lag: self.D_r, self.tip, self.F_yb = LAG[self.D]; thread = min(6, L / 2 + 0.5)
        else: (self.D_r, self.F_yb), self.tip = SCREW[self.D], 2 * self.D; thread = max(4 * self.D, 2 * L / 3)
        self.p = L - self.t
        self.held = min(thread, self.p) - (self.tip if self.lag else 0)
        self.all = self.n * self.rows
        G, D = self.v["G"], self.D
        W = (W_LAG if self.lag else W_SCREW).get((G, D))
        self.pulled = (0.004, "the printed table rounds to a pound") if W else (0.002, "")
        self.W = (W or (1800 * G**1.5 * D**0.75 if self.lag else 2850 * G**2 * D)) * WET * self.held  # one screw; 12.2-1, 12.2-2
        ends = f["floor_end"], f["floor_edge"]
        stiff, gamma = 29e6 * self.t, 270000 * D**1.5
        sill = self.v["E"] * f["floor_thick"]
        self.big = D >= 0.25
        if self.big:
            self.C_g = chain(self.n, self.s, gamma, sill * f["floor_width"], stiff * self.seat[1]), chain(self.rows, self.s_row, gamma, sill * max((self.n - 1) * self.s, 3 * D), stiff * self.seat[0])
            self.C_delta = min(1, ends[0] / (7 * D), self.s / (4 * D)), min(1, ends[0] / (4 * D))

    @functools.lru_cache(maxsize=None)
    def lateral(self, theta):
        """One screw with all factors but C_D; `theta` from the grain."""
        G, D = self.v["G"], self.D
        par, perp = (r50(11200 * G), r50(6100 * G**1.45 / math.sqrt(D))) if self.big else (r50(16600 * G**1.84),) * 2
        F_e = 1 / (math.cos(theta) ** 2 / par + math.sin(theta) ** 2 / perp)
        Z = yields(D, self.D_r, self.p - self.tip / 2, self.t, F_e, self.q["floor_plate_F_e"], self.F_yb, math.degrees(theta))[1][0] * WET
        if not self.big: return Z
        acts = [i for i, part in ((0, math.cos(theta)), (1, math.sin(theta))) if part > 1e-9]
        return Z * min(self.C_g[i] for i in acts) * min(self.C_delta[i] for i in acts)

    def limits(self, take, C_D, P, P_a, H):
        q, f, D = self.q, self.f, self.D
        along, across = [abs(h) for h in (H[::-1] if self.swap else H)]
        # The wood under a short plate that is not at an end helps 3/8 in beyond it (3.10.4).
        run, wide = self.seat
        from_end = f["floor_end"] - (run - self.s * (self.n - 1)) / 2
        works = run + (0.375 if run < 6 and from_end >= 3 else 0)
        take("side-bearing", "bearing perpendicular to grain", max(0, P) / (self.v["F_c_perp"] * works * min(wide, f["floor_width"])))
        T, S = max(0, -P_a), math.hypot(along, across)
        if not T and not S: return
        take("floor-fasteners", "penetration of the screws", (4 if self.lag else 6) * D / (self.p - (self.tip if self.lag else 0)))
        take("floor-fasteners", "uplift on the screws", T / (self.all * self.W * C_D), *self.pulled)
        if T: take("floor-fasteners", "tension in the steel of a screw", T / self.all / (q["floor_screw_F_u"] * math.pi * self.D_r**2 / 4 / 2))
        if not S: return
        theta = round(cmath.phase(complex(along, across)), 4)
        Z = self.lateral(theta) * C_D
        take("floor-fasteners", "shear on the screws", S / (self.all * Z))
        # 12.4: resistance in the direction of the resultant
        alpha = cmath.phase(complex(S, T))
        strength = 1 / (math.cos(alpha) ** 2 / Z + math.sin(alpha) ** 2 / (self.W * C_D))
        take("floor-fasteners", "uplift and shear together on the screws", math.hypot(S, T) / (self.all * strength), *self.pulled)
        if not self.big: return
        # Tables 12.5.1A to D: a shear toward the end, and one across
        if along:
            take("geometry-along", "minimum end distance of the pins", 3.5 * D / f["floor_end"])
            take("geometry-along", "minimum spacing of the pins along the grain", 3 * D / self.s)
            take("geometry-along", "spacing of the rows", 1.5 * D / self.s_row)
            take("geometry-along", "outer rows on one steel plate", self.s_row * (self.rows - 1) / 5)
            slender = self.p / D
            take("geometry-along", "edge distance of the pins", max(1.5 * D, self.s_row / 2 if slender > 6 else 0) / f["floor_edge"])
        if across:
            take("geometry-across", "minimum end distance of the pins", 2 * D / f["floor_end"])
            take("geometry-across", "spacing along the grain of pins loaded across it", float(np.interp(self.p / D, [2, 6], [2.5, 5])) * D / self.s)
            take("geometry-across", "spacing across the grain of pins loaded across it", 3 * D / self.s_row)
            take("geometry-across", "outer rows on one steel plate", self.s_row * (self.rows - 1) / 5)
            take("geometry-across", "edge distance of the pins", 4 * D / f["floor_edge"])


for p in job.posts:
    mark, base, b, d = p["mark"], job.row("bases", p["base"]), p["width"], p["depth"]
    v = wood(p["species"], p["grade"], b, d, "wet")
    number, apart = (base["floor_screws_along"], base["floor_screws_across"]), (base["floor_spacing_along"], base["floor_spacing_across"])
    made = base["kind"] == "made"
    # What holds a made base to the floor stands for its anchors.
    plates = Plates(base | dict(anchors_x=number[0], anchors_y=number[1], anchor_s_x=apart[0], anchor_s_y=apart[1]), p, v, WET) if made else None
    screws = Screws(base, job.row("foundations", p["foundation"]), [base[f"{'foot' if made else 'seat'}_{side}"] for side in ("width", "depth")])
    post = Post(mark, b, d, p["height"], v, (br["brace_x"], br["brace_y"]), br["brace_drop"], (2 if p["brace_faces_x"] == "both" else 1, 0),
                (br["mortise_width"], br["mortise_depth"], br["housing"]), *([NET] if made else []))
    seat, outer = min(b, base["seat_width"]) * min(d, base["seat_depth"]), [s * (n - 1) for n, s in zip(number, apart)]
    c = job.cases[mark]
    for k in combinations(list(c), both=("W1", "W2"), S_DS=job.seismic["S_DS"], rho=1.0):
        if k.method != "asd": continue
        take = lambda sheet, words, ratio, *how: lim.take(mark, sheet, words, ratio, k, *how)
        P, (x, y) = k.of(c, "P"), [Way(k.of(c, f"H_{w}"), k.of(c, f"w_{w}"), p["height"], br[f"brace_{w}"], br["brace_drop"]) for w in "xy"]
        H = x.H_b, y.H_b
        post.limits(lim, k, P, x, y, plates.A_n if made else b * d)
        if made:
            V, across = [abs(h) for h in (H if plates.plane == "x" else H[::-1])]
            plates.limits(take, k.C_D, P, V, across)
            plates.stand.limits(take, P, V, across, plates.y)
            N = plates.stand.anchors(P, V, across, plates.y)
        else:
            take("end-bearing", "bearing on the end grain", max(0, P) / seat / (v["F_c"] * k.C_D))
            take("net-tension", "tension on the net section", max(0, -P) / (b * d) / (v["F_t"] * k.C_D))
            report(take, base, p, v["G"], k.C_D, P, H, base["wet_factor"], base["wet_factor"], number[0] * number[1], base["floor_screw_d"])
            N = tip(base, number, outer, P, H)
        screws.limits(take, k.C_D, P, -N if N > 0 else P, H)
lim.write()
