"""What an open pitched roof on lines of knee-braced posts brings to their bases: nominal reactions of every load case, by the clauses of
ASCE 7-16 and by a plane frame for each line (braced_line.py). The ridge runs along x. It writes nothing itself.

The roof that a post carries is a rectangle cut at the ridge (shapely); wind pressures are resolved on its two slopes as vectors.
Half of the wind on a post goes straight to its base, half to the beam, which its line shares out."""
import math
import numpy as np
from shapely.geometry import Polygon, box
from braced_line import inertia, stiff
from whole_job import table

PSF, FT = 1 / 144, 12.0


def interpolated(name, at, column, **keys):
    found = sorted((r[at[0]], r[column]) for r in table(name) if all(r[k] == v for k, v in keys.items()))
    return float(np.interp(at[1], *zip(*found)))


def band(flow, case, distance):
    """A distance on the border of two bands takes the nearer one."""
    found = [(tuple(map(float, str(r["distance"]).split(".."))), r["C_N"]) for r in table("open-roof-along") if (r["flow"], r["case"]) == (flow, case)]
    return next(c for (low, high), c in sorted(found) if low <= distance <= high)


def ground_motion(q):
    """ASCE 7-16 11.4 with the site class unknown: D, and F_a at least 1.2. S_DS, S_D1."""
    assert q["site_class"] == "unknown"
    F_a = max(1.2, interpolated("site-coefficient-short", ("S_S", q["S_S"]), "F_a", site_class="D"))
    F_v = interpolated("site-coefficient-long", ("S_1", q["S_1"]), "F_v", site_class="D")
    return 2 / 3 * F_a * q["S_S"], 2 / 3 * F_v * q["S_1"]


def pressure(V, exposure, z):
    """Velocity pressure in psi: 26.10-1 with K_d 0.85, K_zt and K_e 1."""
    c = next(r for r in table("terrain-exposure") if (r["edition"], r["exposure"]) == ("7-16", exposure))
    K_z = 2.01 * (max(z, 15 * FT) / c["z_g"]) ** (2 / c["alpha"])
    return 0.00256 * K_z * 0.85 * V**2 * PSF


def reactions(job):
    """Nominal reactions of each post, by load case: `found["A1"]["D"]["P"]`."""
    roof, site, posts = job.roof, job.site, job.posts
    assert (roof["roof"], roof["ridge"], roof["carried_by"], roof["splice"], roof["enclosure"]) == ("pitched", "x", "x", "over each post", "open")
    t = math.tan(roof["slope"]); ridge = roof["ridge_at"]; h = roof["mean_height"]
    xs, ys = (sorted({p[k] for p in posts}) for k in "xy")
    over = {"x": roof["overhang_x"], "y": roof["overhang_y"]}
    def share(at, line, o):
        i = line.index(at)
        return (at - o if i == 0 else (at + line[i - 1]) / 2, at + o if i == len(line) - 1 else (at + line[i + 1]) / 2)
    whole = box(xs[0] - over["x"], ys[0] - over["y"], xs[-1] + over["x"], ys[-1] + over["y"])
    U1, V1, U2, V2 = whole.bounds
    halves = [box(U1, V1, U2, ridge), box(U1, ridge, U2, V2)]
    area = {p["mark"]: box(*[c for pair in zip(share(p["x"], xs, over["x"]), share(p["y"], ys, over["y"])) for c in pair]) for p in posts}

    # Each case: load on the plan of each post's roof, on the post itself, and sideways; of the last the least one beside it.
    cases = {}
    def case(name, roofs, own=None, side=None, least=None, wind=None):
        zero = {p["mark"]: (0.0, 0.0) for p in posts}
        cases[name] = {"roof": roofs, "own": own or {p["mark"]: 0.0 for p in posts}, "side": side or zero, "least": least or zero, "wind": wind or zero}
    plan = lambda mark, half=None: (area[mark] if half is None else area[mark].intersection(halves[half])).area

    # Dead load
    layers = sum(roof[k] for k in ("roofing", "sheathing", "insulation", "rafters", "ceiling", "other")) / math.cos(roof["slope"])
    gamma = roof["timber_density"]
    beam = {way: gamma * roof[f"beam_{way}_width"] * roof[f"beam_{way}_depth"] for way in "xy"}
    between = lambda at, line: sum(abs(at - other) / 2 for i, other in enumerate(line) if abs(line.index(at) - i) == 1)
    own = {p["mark"]: gamma * p["width"] * p["depth"] * p["height"] + beam["x"] * between(p["x"], xs) + beam["y"] * between(p["y"], ys) + roof["timbers"] for p in posts}
    case("D", {m: layers * a.area for m, a in area.items()}, own)

    # Roof live load, 4.8.2
    rise = 12 * t
    R_2 = np.interp(rise, [4, 12], [1, 0.6])
    live = {m: 20 * PSF * max(0.6, np.interp(a.area / 144, [200, 600], [1, 0.6]) * R_2) for m, a in area.items()}
    case("Lr", {m: live[m] * a.area for m, a in area.items()})

    # Snow, chapter 7: risk category II, terrain B, partially exposed, open, surface other
    p_g = site["p_g"] / PSF
    p_f = 0.7 * 1.0 * 1.2 * 1.0 * p_g
    slope = math.degrees(roof["slope"])
    p_s = p_f * float(np.interp(slope, [45, 70], [1, 0]))
    W = max(ridge - V1, V2 - ridge) / FT
    rain = 5 if 0 < p_g <= 20 and slope < W / 50 else 0
    even = max(p_s + rain, min(p_g, 20) if slope < 15 else 0)
    drift = 0.0, 0.0, p_s, p_s
    if 0.5 <= rise <= 7:
        density, l_u = min(0.13 * p_g + 14, 30), max(W, 20)
        high = max(0.0, 0.43 * l_u ** (1 / 3) * (p_g + 10) ** 0.25 - 1.5)
        drift = high * density * math.sqrt(t), min(W, 8 * high / math.sqrt(t) / 3), 0.3 * p_s, p_s
    def unbalanced(mark, lee):
        heap = box(U1, ridge - drift[1] * FT, U2, ridge) if lee == 0 else box(U1, ridge, U2, ridge + drift[1] * FT)
        return drift[3] * plan(mark, lee) + drift[2] * plan(mark, 1 - lee) + drift[0] * area[mark].intersection(heap).area
    case("S", {m: PSF * max(even * a.area, unbalanced(m, 0), unbalanced(m, 1)) for m, a in area.items()})

    # Wind
    q_h = pressure(site["V"], site["exposure"], h)
    drag = lambda face: max(q_h * 0.85 * 2.0, 16 * PSF) * face
    n_x, n_y = len(xs), len(ys)
    fascia = (1.5 + 1.0) * q_h * roof["fascia"]
    q_F = pressure(site["V"], site["exposure"], max(h, 30 * FT) if site["exposure"] == "B" else h)
    # Along the ridge, 28.3.5: the end wall of a closed building, and the zone at its higher eave
    W_1, W_2, length, top = ridge - V1, V2 - ridge, min(V2 - V1, U2 - U1), h + t * max(ridge - V1, V2 - ridge) / 2
    end = Polygon([(V1, 0), (V1, top - t * W_1), (ridge, top), (V2, top - t * W_2), (V2, 0)])
    a = max(min(0.1 * length, 0.4 * (top - t * max(W_1, W_2) if slope <= 10 else h)), 0.04 * length, 3 * FT)
    zone = end.intersection(box(V1, 0, V1 + a, top) if W_1 <= W_2 else box(V2 - a, 0, V2, top)).area
    K_B = np.interp((V2 - V1) / FT, [0, 100], [1.8, 0.8])
    K_S = 0.60 + 0.073 * (max(n_x, 3) - 3) + 1.25 * (roof["end_solid"] / end.area) ** 1.8
    along_all = q_F * K_B * K_S * ((0.40 + 0.29) * (end.area - zone) + (0.61 + 0.43) * zone)
    C = lambda half, kind: interpolated("open-roof-across", ("theta", roof["slope"]), f"C_N{half}", roof="pitched", gamma=0.0, flow=roof["flow"], case=kind)
    no = 0
    for way, sign in (("y", 1), ("y", -1), ("x", 1), ("x", -1)):
        for kind in "AB":
            no += 1
            roofs, side, least, wind = {}, {}, {}, {}
            for p in posts:
                m = p["mark"]; (u1, v1, u2, v2) = area[m].bounds
                if way == "y":
                    # Normal to each slope, downward: its push along y per plan area is the tangent, away from the ridge's foot.
                    p_of = {0: C("W" if sign > 0 else "L", kind), 1: C("L" if sign > 0 else "W", kind)}
                    force = q_h * 0.85 * (np.array([plan(m, 0) * p_of[0], plan(m, 1) * p_of[1]]) @ np.array([[t, 1.0], [-t, 1.0]]))
                    beams = drag(roof["beam_x_depth"]) * (u2 - u1) + fascia * (u2 - u1) / n_y
                    roofs[m], side[m] = force[1], (0.0, force[0] + sign * beams)
                    least[m] = (0.0, sign * 16 * PSF * roof["face_across"] * (u2 - u1) / n_y)
                    wind[m] = (0.0, sign * drag(p["width"]))
                else:
                    near = max(0.0, u1 - U1 if sign > 0 else U2 - u2)
                    p_n = q_h * 0.85 * band(roof["flow"], kind, near / h)
                    roofs[m] = p_n * plan(m)
                    beams = drag(roof["beam_y_depth"]) * (v2 - v1) + fascia * (v2 - v1) / n_x
                    side[m] = (sign * beams, p_n * t * (plan(m, 0) - plan(m, 1)))
                    on_post = drag(p["depth"])
                    frames = along_all * (v2 - v1) / (V2 - V1) / n_x - on_post * p["height"]
                    least[m] = (sign * max(16 * PSF * roof["face_along"] * (v2 - v1) / n_x, frames), 0.0)
                    wind[m] = (sign * on_post, 0.0)
            case(f"W{no}", roofs, side=side, least=least, wind=wind)

    # Earthquake: a system that is not listed, R 1.5
    S_DS, S_D1 = ground_motion(job.seismic)
    T = 0.02 * (h / FT) ** 0.75
    raised = 1.5 if job.seismic["S_1"] >= 0.2 else 1.0
    C_s = max(min(S_DS / 1.5, raised * S_D1 / (T * 1.5)), 0.044 * S_DS, 0.01, 0.5 * job.seismic["S_1"] / 1.5 if job.seismic["S_1"] >= 0.6 else 0)
    snow = 0.2 * p_f * PSF if p_f > 30 else 0
    weight = {m: cases["D"]["roof"][m] + own[m] + snow * area[m].area for m in area}
    for k, way in enumerate("xy"):
        side = {m: tuple(C_s * w if i == k else 0.0 for i in (0, 1)) for m, w in weight.items()}
        case(f"E_{way}", {m: 0.0 for m in area}, side=side)

    # Frames
    found = {p["mark"]: {} for p in posts}
    br = job.bracing
    for name, c in cases.items():
        for p in posts:
            found[p["mark"]][name] = {"P": c["roof"][p["mark"]] + c["own"][p["mark"]], "w_x": c["wind"][p["mark"]][0], "w_y": c["wind"][p["mark"]][1]}
        for k, way in enumerate("xy"):
            other = "yx"[k]
            for at in sorted({p[other] for p in posts}):
                line = sorted((p for p in posts if p[other] == at), key=lambda p: p[way])
                q = {}
                for p in line:
                    m = p["mark"]; u1, v1, u2, v2 = area[m].bounds
                    q[m] = (beam[way] if name == "D" else 0.0) + (c["roof"][m] / (u2 - u1) if way == "x" else 0.0)
                H, least = (sum(c[what][p["mark"]][k] for p in line) for what in ("side", "least"))
                H = H if abs(H) >= abs(least) else least
                on_posts = [c["wind"][p["mark"]][k] * p["height"] for p in line]
                E_p = lambda p: table("posts-and-timbers", species=p["species"], grade=p["grade"], **{"class": "posts"})["E"]
                bw, bd = roof[f"beam_{way}_width"], roof[f"beam_{way}_depth"]
                E_b = table("posts-and-timbers", species=roof["beam_species"], grade=roof["beam_grade"], **{"class": "posts" if bd - bw <= 2 else "beams"})["E"]
                size = lambda p: (p["depth"], p["width"]) if way == "x" else (p["width"], p["depth"])
                bays = [(b[way] - a_[way], (q[a_["mark"]] + q[b["mark"]]) / 2, (bw, bd), E_b) for a_, b in zip(line, line[1:])]
                V, P, *_ = stiff([(p["height"], size(p), E_p(p)) for p in line], bays, br["brace_drop"], br["brace_run"], H + sum(on_posts) / 2)[0]
                for i, p in enumerate(line):
                    r = found[p["mark"]][name]
                    r[f"H_{way}"] = V[i] - on_posts[i] / 2
                    r["P"] += P[i]
    return found, S_DS
