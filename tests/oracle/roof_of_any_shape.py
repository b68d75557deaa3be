"""What a roof of any shape brings to one post, in every load case: pitched, troughed, monoslope or slats, the ridge along x or y.

The roof of a post is a rectangle in plan, cut at the ridge (shapely). Pressures act on its slopes as vectors: u runs along the ridge,
v across it, and a slope that rises by m along v is pushed m times as hard along v as down. Snow toward a valley is integrated.
Feet, pounds, pounds per square foot; sections and timbers in inches. Other scripts take the functions; run alone, this one writes."""
import math
import numpy as np
from shapely.geometry import Polygon, box

from csvout import write
from ground_motion import coefficients, category, motion, response
from whole_job import table

I_S, I_E = {"I": 0.8, "II": 1.0, "III": 1.1, "IV": 1.2}, {"I": 1.0, "II": 1.0, "III": 1.25, "IV": 1.5}
C_E = {("B", "fully exposed"): 0.9, ("B", "partially exposed"): 1.0, ("B", "sheltered"): 1.2, ("C", "fully exposed"): 0.9, ("C", "partially exposed"): 1.0, ("C", "sheltered"): 1.1,
       ("D", "fully exposed"): 0.8, ("D", "partially exposed"): 0.9, ("D", "sheltered"): 1.0}
C_T = {"heated": 1.0, "just above freezing or cold ventilated roof": 1.1, "open or unheated": 1.2, "kept below freezing": 1.3, "heated greenhouse": 0.85}
TERRAIN = {"B": (7.0, 1200.0), "C": (9.5, 900.0), "D": (11.5, 700.0)}
LAYERS = ("roofing", "sheathing", "insulation", "rafters", "ceiling", "other")


def tan(degrees): return math.tan(math.radians(degrees))


def snow(p_g, risk, terrain, exposure, building, roof, theta, surface, W, rafters):
    """ASCE 7-16 chapter 7, all on the plan."""
    I_s, C_e, C_t = I_S[risk], C_E[terrain, exposure], C_T[building]
    p_f = 0.7 * C_e * C_t * I_s * p_g
    slides = {True: (5, 10, 15), False: (30, 37.5, 45)}[surface == "slippery"][0 if C_t <= 1 else 1 if C_t <= 1.1 else 2]
    C_s = 1.0 if roof == "troughed" else float(np.interp(theta, [slides, 70], [1, 0]))
    p_s = C_s * p_f; rise = 12 * tan(theta)
    rain = 5.0 if 0 < p_g <= 20 and theta < W / 50 else 0.0
    low = I_s * min(p_g, 20) if theta < 15 else 0.0
    density = min(0.13 * p_g + 14, 30)
    s = {"p_f": p_f, "theta_1": slides, "C_s": C_s, "p_s": p_s, "p_r": rain, "p_m": low, "p_balanced": max(p_s + rain, low), "p_high": p_s, "p_valley": p_s, "p_wind": p_s, "p_lee": p_s, "p_d": 0.0, "l_d": 0.0}
    if roof == "troughed" and rise > 0.375: s |= {"p_high": 0.5 * p_f, "p_valley": min(2 * p_f / C_e, 0.5 * p_f + density * W * tan(theta))}
    if roof == "gable" and 0.5 <= rise <= 7:
        if W <= 20 and rafters != "other": s |= {"p_wind": 0.0, "p_lee": I_s * p_g}
        else:
            h_d = max(0.0, math.sqrt(I_s) * (0.43 * max(W, 20) ** (1 / 3) * (p_g + 10) ** 0.25 - 1.5)) if p_g > 0 else 0.0
            s |= {"p_wind": 0.3 * p_s, "p_d": h_d * density * math.sqrt(tan(theta)), "l_d": min(W, 8 / 3 * h_d / math.sqrt(tan(theta)))}
    return s


def q_z(V, exposure, z, K_zt=1.0, elevation=0.0):
    alpha, z_g = TERRAIN[exposure]
    return 0.00256 * 2.01 * (max(z, 15) / z_g) ** (2 / alpha) * K_zt * 0.85 * math.exp(-0.0000362 * elevation) * V**2


def drag(q, face): return max(q * 0.85 * 2.0, 16) * face


def across(roof, theta, flow, case, gamma, h_L, typed, x_h=0.0):
    """Windward and leeward coefficient, Figs. 27.3-4 to 27.3-7; those that were typed where the figures end."""
    bands = {"clear": {"A": (-0.8, -0.6, -0.3), "B": (0.8, 0.5, 0.3)}, "obstructed": {"A": (-1.2, -0.9, -0.6), "B": (0.5, 0.5, 0.3)}}[flow][case]
    inside = 0.25 <= h_L <= 1
    if gamma == "90 deg" and inside or roof == "monoslope" and gamma == "0 deg" and theta < 5 and 0.05 <= h_L < 0.25:
        return (bands[0 if x_h <= 1 else 1 if x_h <= 2 else 2],) * 2
    if not inside: return typed[case, "along"] if gamma == "90 deg" else typed[case, "across"]
    figure = "monoslope" if theta < 7.5 else roof
    found = [r for r in table("open-roof-across") if (r["roof"], r["flow"], r["case"]) == (figure, flow, case) and math.isclose(r["gamma"], math.radians(float(gamma.split()[0])))]
    found = sorted((math.degrees(r["theta"]), r["C_NW"], r["C_NL"]) for r in found)
    at = 0.0 if theta < 7.5 else theta
    return tuple(float(np.interp(at, [f[0] for f in found], [f[k] for f in found])) for k in (1, 2))


def rises(roof, high, t):
    """Slope along v short of the ridge and beyond it."""
    return {"monoslope": (t, t) if high == "plus" else (-t, -t), "pitched": (t, -t), "troughed": (-t, t)}[roof]


def end_wall(W_1, W_2, L, theta, h):
    """The end of a closed building (28.3.5), and its zone at the higher eave."""
    t, B = tan(theta), W_1 + W_2
    top = h + t * max(W_1, W_2) / 2
    end = Polygon([(0, 0), (0, top - t * W_1), (W_1, top), (B, top - t * W_2), (B, 0)])
    a = max(min(0.1 * min(B, L), 0.4 * (top - t * max(W_1, W_2) if theta <= 10 else h)), 0.04 * min(B, L), 3)
    zone = end.intersection(box(0, 0, a, top) if W_1 <= W_2 else box(B - a, 0, B, top)).area
    return {"B": B, "W": max(W_1, W_2), "h_r": top, "h_e": top - t * min(W_1, W_2), "A_E": end.area, "a": a, "A_5E": zone}


def along_frames(q, wall, n, solid):
    K_S = 0.60 + 0.073 * (max(n, 3) - 3) + 1.25 * (solid / wall["A_E"]) ** 1.8
    return q * float(np.interp(wall["B"], [0, 100], [1.8, 0.8])) * K_S * ((0.40 + 0.29) * (wall["A_E"] - wall["A_5E"]) + (0.61 + 0.43) * wall["A_5E"])


def valley(p_valley, p_high, W, s_1, s_2, l):
    """The integral of a load that falls linearly from the valley to the high edge."""
    upto = lambda s: p_valley * s - (p_valley - p_high) * s**2 / (2 * W)
    return (upto(s_2) - upto(s_1)) * l


def cell(line, at, over):
    i = line.index(at)
    return at - over if i == 0 else (at + line[i - 1]) / 2, at + over if i == len(line) - 1 else (at + line[i + 1]) / 2


PLACE = lambda line, at: "only" if len(line) == 1 else "first" if at == line[0] else "last" if at == line[-1] else "inner"


def grid(line, at):
    i = line.index(at)
    return (at - line[i - 1]) / 2 if i else 0.0, (line[i + 1] - at) / 2 if i < len(line) - 1 else 0.0


def loads(r):
    """r: what the sheet is given, by the names of its columns, with `xs`, `ys` and the post's place in them. All that comes of it."""
    e = {"GC_pi": 0.0}
    ridge, roof = r["ridge"], r["roof"]; t = tan(r["slope"]); A_of = {}
    (x_1, x_2), (y_1, y_2) = cell(r["xs"], r["x"], r["overhang_x"]), cell(r["ys"], r["y"], r["overhang_y"])
    if "roof_from_x" in r: x_1, x_2, y_1, y_2 = (r[k] for k in ("roof_from_x", "roof_to_x", "roof_from_y", "roof_to_y"))
    X1, X2, Y1, Y2 = r["xs"][0] - r["overhang_x"], r["xs"][-1] + r["overhang_x"], r["ys"][0] - r["overhang_y"], r["ys"][-1] + r["overhang_y"]
    e |= {"area.x_1": x_1, "area.x_2": x_2, "area.y_1": y_1, "area.y_2": y_2, "x_end1": X1, "x_end2": X2, "y_end1": Y1, "y_end2": Y2, "beyond": max(X1 - x_1, x_2 - X2, Y1 - y_1, y_2 - Y2)}
    (u1, u2, v1, v2), (U1, U2, V1, V2) = ((x_1, x_2, y_1, y_2), (X1, X2, Y1, Y2)) if ridge == "x" else ((y_1, y_2, x_1, x_2), (Y1, Y2, X1, X2))
    e |= dict(u_1=u1, u_2=u2, v_1=v1, v_2=v2, U_1=U1, U_2=U2, V_1=V1, V_2=V2)
    v_r = (V1 + V2) / 2 if roof in ("monoslope", "slats") else r["ridge_at"]
    high = r["high"] if roof == "monoslope" else "plus"
    plan = box(u1, v1, u2, v2); far = 1e4
    side = [box(-far, -far, far, v_r), box(-far, v_r, far, far)]
    halves = [plan.intersection(s).area for s in side]; A = plan.area
    drop = r["brace_drop"]; run = r["brace_run"] or drop
    e |= {"v_r": v_r, "name: high_side": high, "A_minus": halves[0], "A_plus": halves[1], "drop": drop, "run": run, "a": drop, "b": run, "h": r["height"]}
    # Sections
    w, d, bw = r["width"], r["depth"], r
    E_of = lambda species, grade, b, dd: next(row["E"] for row in table("posts-and-timbers") if (row["species"], row["grade"], row["class"]) == (species, grade, "posts" if abs(b - dd) <= 2 else "beams"))
    e |= {"E_p": E_of(r["species"], r["grade"], w, d), "I_p_x": d * w**3 / 12, "I_p_y": w * d**3 / 12}
    for way in "xy":
        braced = r[f"brace_{way}"] == "knee braces"; b_b, d_b = r[f"beam_{way}_width"], r[f"beam_{way}_depth"]
        e |= {f"E_b_{way}": E_of(r["beam_species"], r["beam_grade"], b_b, d_b) if braced else 0.0, f"I_b_{way}": b_b * d_b**3 / 12 if braced else 0.0}
    # Dead load
    gamma = r["timber_density"]; cos = math.cos(math.radians(r["slope"]))
    layers = sum(r[k] for k in (("rafters", "other") if roof == "slats" else LAYERS)) / cos
    weigh = {way: gamma * r[f"beam_{way}_width"] * r[f"beam_{way}_depth"] / 144 for way in "xy"}
    length = {"x": min(x_2, r["xs"][-1]) - max(x_1, r["xs"][0]), "y": min(y_2, r["ys"][-1]) - max(y_1, r["ys"][0])}
    own = gamma * w * d / 144 * r["height"] + sum(weigh[k] * length[k] for k in "xy") + r["timbers"]
    e |= {"l_x": length["x"], "l_y": length["y"], "q_x": weigh["x"], "q_y": weigh["y"], "dead.P_roof": layers * A, "dead.P_D": layers * A + own}
    # The beam that carries the roof
    c = r["carried_by"]; l = x_2 - x_1 if c == "x" else y_2 - y_1; n = len(r["xs"] if c == "x" else r["ys"])
    k_s = r["share"] if n > 2 and r["splice"] == "runs through" and r[f"brace_{c}"] != "knee braces" else 1.0
    e |= {"carrying-beam.l": l, "carrying-beam.k_s": k_s}
    def case(name, P_post=0.0, P_roof=0.0, own_q=(0.0, 0.0), along=0.0, across=0.0, least_along=0.0, least_across=0.0, w_along=0.0, w_across=0.0):
        turn = (lambda a, b: (a, b)) if ridge == "x" else (lambda a, b: (b, a))
        (F_x, F_y), (L_x, L_y), (w_x, w_y) = turn(along, across), turn(least_along, least_across), turn(w_along, w_across)
        q = [own_q[0] + (P_roof / l if c == "x" else 0), own_q[1] + (P_roof / l if c == "y" else 0)]
        over = (k_s - 1) * P_roof
        e.update({f"{name}.{k}": value for k, value in dict(P=P_post + k_s * P_roof, F_x=F_x, F_y=F_y, F_least_x=L_x, F_least_y=L_y, q_x=q[0], q_y=q[1], w_x=w_x, w_y=w_y,
                  W_x=w_x * r["height"], W_y=w_y * r["height"], over_x=over if c == "x" else 0.0, over_y=over if c == "y" else 0.0).items()})
    case("D", own, layers * A, (weigh["x"], weigh["y"]))
    # Roof live load
    R_2 = np.interp(12 * t, [4, 12], [1, 0.6])
    case("Lr", 0.0, r["slats_live"] * A if roof == "slats" else A * 20 * max(0.6, np.interp(A, [200, 600], [1, 0.6]) * R_2))
    # Snow
    W = V2 - V1 if roof in ("monoslope", "slats") else max(v_r - V1, V2 - v_r)
    form = {"pitched": "gable", "troughed": "troughed"}.get(roof, "monoslope")
    s = snow(r["p_g"], r["risk"], r["terrain"], r["snow_exposure"], r["building"], form, r["slope"], r["surface"], W, r["rafter_kind"])
    e |= {"W_snow": W, "name: snow_roof": form} | {f"snow.{k}": s[k] for k in ("p_f", "p_balanced", "p_wind", "p_lee", "p_d", "l_d", "p_valley", "p_high")}
    if roof == "slats": S_roof = r["snow_share"] * s["p_balanced"] * A
    elif roof == "troughed":
        sums = [valley(s["p_valley"], s["p_high"], w_, max(0, near), max(0, end), u2 - u1) for w_, near, end in ((v_r - V1, v_r - v2, v_r - v1), (V2 - v_r, v1 - v_r, v2 - v_r))]
        S_roof = max(s["p_balanced"] * A, sum(sums)); e |= {"snow-minus.P": sums[0], "snow-plus.P": sums[1]}
    else:
        heap = [box(-far, v_r - s["l_d"], far, v_r), box(-far, v_r, far, v_r + s["l_d"])]
        heaps = [plan.intersection(h_).area for h_ in heap]
        S = [s["p_lee"] * halves[k] + s["p_d"] * heaps[k] + s["p_wind"] * halves[1 - k] for k in (0, 1)]
        S_roof = max(s["p_balanced"] * A, *S); e |= {"drift_minus": heaps[0], "drift_plus": heaps[1], "S_minus": S[0], "S_plus": S[1]}
    e["S_roof"] = S_roof
    case("S", r["drift"], S_roof)
    # Wind
    h = r["mean_height"]; q_h = q_z(r["V"], r["exposure"], h, r["K_zt"], r["elevation"])
    n_u, n_v = (len(r["xs"]), len(r["ys"])) if ridge == "x" else (len(r["ys"]), len(r["xs"]))
    # Wind along x meets the side of the post along y, and beams along y.
    meets = {"x": (d, r["beam_y_depth"], r["beam_x_depth"]), "y": (w, r["beam_x_depth"], r["beam_y_depth"])}
    face_u, beam_v, beam_u = meets[ridge]; face_v = meets["y" if ridge == "x" else "x"][0]
    w_u, w_v = drag(q_h, face_u / 12), drag(q_h, face_v / 12)
    A_fu, A_fv = r["face_along"] * (v2 - v1) / n_u, r["face_across"] * (u2 - u1) / n_v
    e |= dict(n_u=n_u, n_v=n_v, beam_u=beam_u, beam_v=beam_v, face_u=face_u, face_v=face_v, w_u=w_u, w_v=w_v, A_fu=A_fu, A_fv=A_fv) | {"velocity-pressure.q_h": q_h}
    if roof == "slats":
        C_f = 2.0 if r["epsilon"] < 0.1 else 1.8 if r["epsilon"] < 0.3 else 1.6
        up = r["p_v"] * A; H_v, H_u = (a * max(q_h * 0.85 * C_f, 16) for a in (A_fv, A_fu))
        for k, (way, sign) in enumerate((("v", 1), ("v", -1), ("u", 1), ("u", -1))):
            for j, P in enumerate((-up, up)):
                case(f"W{2 * k + j + 1}", P_roof=P, **(dict(across=sign * H_v, w_across=sign * w_v) if way == "v" else dict(along=sign * H_u, w_along=sign * w_u)))
    else:
        edge = 2.5 * q_h * r["fascia"] / 12
        H_dv = drag(q_h, beam_u / 12) * (u2 - u1) + edge * (u2 - u1) / n_v; H_du = drag(q_h, beam_v / 12) * (v2 - v1) + edge * (v2 - v1) / n_u
        least_v, least_u = 16 * A_fv, 16 * A_fu
        if roof == "pitched":
            z_F = 30.0 if r["exposure"] == "B" and h < 30 else h
            wall = end_wall(v_r - V1, V2 - v_r, U2 - U1, r["slope"], h)
            F = along_frames(q_z(r["V"], r["exposure"], z_F, r["K_zt"], r["elevation"]), wall, n_u, r["end_solid"])
            F_u = F * (v2 - v1) / (wall["B"] * n_u); least_u = max(least_u, F_u - w_u * r["height"])
            e |= {"z_F": z_F, "F_u": F_u, "end-wall.A_E": wall["A_E"], "end-wall.A_5E": wall["A_5E"]}
        near = {1: max(0.0, u1 - U1), -1: max(0.0, U2 - u2)}
        e |= dict(H_dv=H_dv, H_du=H_du, least_v=least_v, least_u=least_u, x_plus=near[1], x_minus=near[-1])
        typed = {(k, "across"): (r[f"C_NW_{k}"], r[f"C_NL_{k}"]) for k in "AB"} | {(k, "along"): (r[f"C_N_along_{k}"],) * 2 for k in "AB"}
        m = rises(roof, high, t); names = iter("abcdefgh")
        for k, (way, sign) in enumerate((("v", 1), ("v", -1), ("u", 1), ("u", -1))):
            for j, kind in enumerate("AB"):
                L, x = (V2 - V1, 0.0) if way == "v" else (U2 - U1, near[sign])
                gamma = "90 deg" if way == "u" else "180 deg" if roof == "monoslope" and (high == "plus") == (sign > 0) else "0 deg"
                C = across(roof, r["slope"], r["flow"], kind, gamma, h / L, typed, x / h)
                if sign < 0 and way == "v": C = C[::-1]
                p = [q_h * 0.85 * k_ for k_ in C]
                down = sum(p[i] * halves[i] for i in (0, 1)); push = sum(p[i] * halves[i] * m[i] for i in (0, 1))
                inner = "wind-" + next(names)
                e |= {f"{inner}.x": x, f"{inner}.L": L, f"{inner}.L_across": V2 - V1, f"{inner}.H_d": H_dv if way == "v" else H_du}
                if way == "v": case(f"W{2 * k + j + 1}", P_roof=down, across=push + sign * H_dv, least_across=sign * least_v, w_across=sign * w_v)
                else: case(f"W{2 * k + j + 1}", P_roof=down, along=sign * H_du, across=push, least_along=sign * least_u, w_along=sign * w_u)
    # Earthquake
    if "S_DS" in r: S_DS, S_D1, S_1 = r["S_DS"], r["S_D1"], r["S_1"]
    else: S_1 = r["S_1"]; S_DS, S_D1 = motion(r["S_S"], S_1, r["site_class"])
    sdc = category(S_DS, S_D1, S_1, r["risk"]); e |= {"S_DS": S_DS, "S_D1": S_D1, "S_1": S_1, "name: sdc": "ABCDEF"[sdc - 1], "rho": 1.3 if sdc >= 4 else 1.0}
    if sdc > 1:
        A_snow = A * (r["snow_share"] if roof == "slats" else 1)
        weight = layers * A + own + (0.2 * s["p_f"] * A_snow if s["p_f"] > 30 else 0.0)
        raised = S_1 >= 0.2 and r["site_class"] in ("D", "unknown")
        e |= {"A_snow": A_snow, "W_E": weight, "name: sdc_E": "ABCDEF"[sdc - 1]}
        for way in "xy":
            Q = weight * response(r[f"system_{way}"], r[f"R_{way}"], S_DS, S_D1, S_1, I_E[r["risk"]], raised, h)
            e[f"quake-{way}.Q_E"] = Q
            case(f"E_{way}", along=Q if way == ridge else 0.0, across=0.0 if way == ridge else Q)
    needs_drift = r["higher_roof"] == "yes"
    e["verdict: drift or sliding snow from the higher roof"] = ("met" if r["drift"] > 0 else "not met") if needs_drift else "not asked"
    e["verdict: the roof is open: every wall at least 80 percent open"] = "met" if r["enclosure"] == "open" else "not met"
    return e


UNITS = {"ft": "x y left right below above X_1 X_2 Y_1 Y_2 height elevation ridge_at mean_height overhang_x overhang_y face_across face_along brace_drop brace_run roof_from_x roof_to_x roof_from_y roof_to_y",
         "lbf": "drift timbers", "mph": "V", "psf": "p_g p_v slats_live " + " ".join(LAYERS), "deg": "slope", "sf": "end_solid", "in": "fascia beam_x_width beam_x_depth beam_y_width beam_y_depth width depth", "pcf": "timber_density"}
UNIT = {name: unit for unit, names in UNITS.items() for name in names.split()}
GIVEN = ("x y left right below above at_x at_y n_x n_y X_1 X_2 Y_1 Y_2 roof_from_x roof_to_x roof_from_y roof_to_y width depth height species grade service drift V exposure K_zt elevation p_g risk terrain snow_exposure "
         "roof ridge ridge_at high slope enclosure higher_roof flow mean_height overhang_x overhang_y face_across face_along end_solid fascia beam_x_width beam_x_depth beam_y_width beam_y_depth "
         "roofing sheathing insulation rafters ceiling other timbers timber_density building surface rafter_kind epsilon p_v slats_live snow_share system_x system_y R_x R_y brace_x brace_y brace_drop brace_run "
         "beam_species beam_grade carried_by splice share S_S S_1 S_DS S_D1 site_class C_NW_A C_NL_A C_NW_B C_NL_B C_N_along_A C_N_along_B C_N_source").split()
BASE = dict(xs=[0.5, 12.5, 26.5], ys=[1.25, 11.25, 23.25, 37.25], x=12.5, y=11.25, width=7.5, depth=9.5, height=9.25, species="Douglas Fir-Larch", grade="No.1", service="dry", drift=0.0, V=113.0, exposure="C", K_zt=1.07,
            elevation=850.0, p_g=27.0, risk="II", terrain="C", snow_exposure="partially exposed", roof="pitched", ridge="x", ridge_at=14.5, high="plus", slope=21.0, enclosure="open", higher_roof="no", flow="clear", mean_height=12.75,
            overhang_x=1.75, overhang_y=2.5, face_across=5.25, face_along=3.5, end_solid=61.0, fascia=6.5, beam_x_width=5.5, beam_x_depth=11.5, beam_y_width=7.25, beam_y_depth=8.5, roofing=2.1, sheathing=2.7, insulation=0.9,
            rafters=4.3, ceiling=1.6, other=0.7, timbers=140.0, timber_density=36.0, building="open or unheated", surface="other", rafter_kind="other", epsilon=0.23, p_v=7.5, slats_live=11.0, snow_share=0.6,
            system_x="not listed", system_y="not listed", R_x=1.5, R_y=1.4, brace_x="knee braces", brace_y="knee braces", brace_drop=2.75, brace_run=2.25, beam_species="Douglas Fir-Larch", beam_grade="No.2", carried_by="x",
            splice="over each post", share=1.12, S_S=0.83, S_1=0.26, site_class="D", C_NW_A=1.11, C_NL_A=0.73, C_NW_B=-1.23, C_NL_B=-0.57, C_N_along_A=0.47, C_N_along_B=-0.83, C_N_source="a study")


def row(id, refused=None, **changes):
    r = BASE | changes
    for name, line, low, high in (("x", r["xs"], "left", "right"), ("y", r["ys"], "below", "above")):
        r[low], r[high] = grid(line, r[name]); r[f"at_{name}"] = PLACE(line, r[name]); r[f"n_{name}"] = len(line)
        r[f"{name.upper()}_1"], r[f"{name.upper()}_2"] = line[0], line[-1]
    if "S_DS" in r: r.pop("S_S")
    found = {"refused": refused} if refused else loads(r)
    return {"id": id} | {k: r[k] for k in GIVEN if k in r} | {"=" + k: v for k, v in found.items()}


def case_units(name):
    short = name.split(".")[-1]
    by = {"ft": "x_1 x_2 y_1 y_2 x_end1 x_end2 y_end1 y_end2 beyond u_1 u_2 v_1 v_2 U_1 U_2 V_1 V_2 v_r drop run a b h l_x l_y l W_snow l_d z_F x_plus x_minus L L_across x",
          "ft^2": "A_minus A_plus drift_minus drift_plus A_fu A_fv A_E A_5E A_snow", "psi": "E_p E_b_x E_b_y", "in^4": "I_p_x I_p_y I_b_x I_b_y", "lbf/ft": "q_x q_y w_x w_y w_u w_v", "in": "beam_u beam_v face_u face_v",
          "psf": "p_f p_balanced p_wind p_lee p_d p_valley p_high q_h", "lbf": "P P_roof P_D F_x F_y F_least_x F_least_y W_x W_y over_x over_y S_minus S_plus S_roof H_dv H_du least_v least_u F_u W_E Q_E H_d"}
    if name == "x": return ""
    return next((f" [{unit}]" for unit, names in by.items() if short in names.split()), "")


def rows(clauses, cases, tol=1e-8):
    return [dict(case, tol=tol, source=f"worked from {clauses} by oracle/roof_of_any_shape.py", kind="independent") for case in cases]


def put(name, about, cases, units=None, tol=1e-8, clauses="ASCE 7-16"):
    """A file with all that the cases give and expect."""
    unit = units or (lambda k: f" [{UNIT[k]}]" if k in UNIT else "")
    given, expects = [], []
    for case in cases:
        for k in case:
            (expects if k[0] == "=" else given).append(k) if k not in expects and k not in given and k != "id" else None
    write(name, [f"{about} (oracle/roof_of_any_shape.py)."], [k + unit(k) for k in given], [k[1:] + (units(k) if units else case_units(k[1:])) for k in expects], rows(clauses, cases, tol))


def posts():
    corner, long = dict(x=0.5, y=1.25), dict(xs=[0.0, 14.0, 31.0], ys=[1.0, 13.0])
    open_, run = "over each post", "runs through"
    return [
        row("pitched"), row("pitched-y", ridge="y", ridge_at=12.0, slope=14.5, mean_height=13.5, exposure="B", risk="III", V=121.0, flow="obstructed", carried_by="y", brace_run=0.0),
        row("pitched-corner", **corner, slope=20.0, ridge_at=18.5, rafter_kind="single pieces from ridge to eave", p_g=43.0, exposure="B", mean_height=14.0, elevation=0.0),
        row("pitched-far", x=26.5, y=37.25, ridge_at=21.5, p_g=52.0, slope=27.0, splice=run, brace_x="rigid frame", risk="IV", exposure="D", end_solid=20.0, face_along=6.5),
        row("pitched-wide", ridge_at=17.0, y=23.25, p_g=64.0, slope=25.0, building="kept below freezing", exposure="B", mean_height=31.0, R_x=1.3, brace_x="none", splice=run, carried_by="y", brace_y="rigid frame"),
        row("pitched-single", ys=[14.0], y=14.0, ridge_at=14.25, carried_by="x", overhang_y=7.0, xs=[2.0, 13.0, 26.0, 41.0], x=13.0, brace_y="none", mean_height=9.5, S_S=1.3, S_1=0.8, risk="II", end_solid=17.0, beam_y_width=0.0, beam_y_depth=0.0),
        row("pitched-slow", V=81.0, exposure="B", ridge_at=14.5, slope=18.0, p_g=0.0, S_S=0.11, S_1=0.04, site_class="C", fascia=0.0, face_across=17.0, face_along=15.0, mean_height=10.5),
        row("pitched-typed", x=26.5, mean_height=59.0, ridge_at=10.5, S_DS=0.4, S_D1=0.12, S_1=0.1, risk="I", brace_x="knee braces", brace_y="none", brace_run=1.25),
        row("troughed", roof="troughed", ridge_at=18.0, slope=11.0, p_g=31.0, y=23.25), row("troughed-y", roof="troughed", ridge="y", ridge_at=12.0, slope=8.5, p_g=54.0, flow="obstructed", carried_by="y", exposure="D", S_S=0.3, S_1=0.09),
        row("troughed-flat", roof="troughed", ridge="y", ridge_at=11.5, slope=1.0, p_g=24.0, x=0.5, splice=run, brace_x="none", carried_by="x", share=0.85),
        row("troughed-edge", roof="troughed", ridge_at=21.0, slope=12.0, p_g=36.0, y=37.25, brace_x="none", brace_y="knee braces"),
        row("mono", roof="monoslope", slope=9.0, high="plus", p_g=18.0), row("mono-minus", roof="monoslope", slope=16.0, high="minus", exposure="B", flow="obstructed", p_g=29.0),
        row("mono-y", roof="monoslope", slope=24.0, high="plus", ridge="y", x=0.5, brace_run=0.0, brace_y="none", carried_by="y", splice=run, p_g=36.0, elevation=4200.0),
        row("mono-y-minus", roof="monoslope", slope=33.0, high="minus", ridge="y", x=26.5, brace_x="none", brace_y="none", brace_drop=0.0, brace_run=0.0, splice=run, S_S=1.5, S_1=0.8, risk="IV", p_g=44.0, K_zt=1.0),
        row("mono-low", roof="monoslope", slope=3.0, high="minus", xs=[0.5, 12.5, 26.5, 44.5, 62.5], x=44.5, ridge="y", mean_height=11.5, p_g=19.0, C_NW_A=0.9),
        row("slats", roof="slats", slope=0.0, p_g=33.0), row("slats-y", roof="slats", ridge="y", slope=4.0, epsilon=0.07, V=97.0, carried_by="y", p_g=14.0, p_v=3.5, splice=run, brace_y="none"),
        row("slats-thick", roof="slats", ridge="y", x=0.5, y=37.25, slope=2.0, epsilon=0.41, V=84.0, S_S=0.5, S_1=0.2, p_g=48.0, drift=310.0, higher_roof="yes", brace_x="none"),
        row("own-area", **corner, slope=23.5, roof_from_x=-3.5, roof_to_x=7.25, roof_from_y=-2.25, roof_to_y=6.5, drift=275.0, higher_roof="yes"),
        row("own-area-far", x=26.5, y=37.25, roof_from_x=18.0, roof_to_x=30.5, roof_from_y=29.5, roof_to_y=40.0, ridge="y", ridge_at=15.5, higher_roof="yes", slope=35.0, building="heated", surface="slippery"),
        row("own-area-y", x=12.5, y=37.25, roof_from_x=6.0, roof_to_x=19.0, roof_from_y=27.0, roof_to_y=44.5, enclosure="partly enclosed", ridge_at=25.5, slope=30.5, drift=120.0),
        row("listed", system_x="A15 wood panel walls", system_y="inverted pendulum", R_x=6.5, R_y=1.9, S_S=1.1, S_1=0.7, site_class="C", brace_x="none", brace_y="none", brace_drop=0.0, brace_run=0.0, enclosure="enclosed", p_g=35.0),
        row("snow-below-30", p_g=35.0, terrain="C", building="open or unheated", slope=23.0), row("snow-above-30", p_g=36.9, building="open or unheated", slope=23.5, surface="slippery"),
        row("category-B", S_DS=0.2, S_D1=0.05, S_1=0.04, R_y=1.3, y=1.25, p_g=33.0, slope=19.5), row("category-C", S_DS=0.4, S_D1=0.05, S_1=0.04, roof="monoslope", ridge="y", p_g=33.0, slope=12.5, brace_x="none", carried_by="y"),
        row("ridge-at-edge", ridge_at=39.75, refused="the ridge is outside the roof"), row("ridge-at-first-edge", ridge_at=-1.25, refused="the ridge is outside the roof"),
        row("ridge-outside", ridge_at=44.0, refused="the ridge is outside the roof"), row("ridge-before", roof="troughed", ridge_at=-5.0, refused="the ridge is outside the roof"),
        row("no-drop", brace_drop=0.0, brace_y="none", refused="knee braces meet the post below the beam"), row("no-drop-y", brace_drop=0.0, brace_x="none", refused="knee braces meet the post below the beam"),
    ]


TYPED = dict(C_NW_A=1.11, C_NL_A=0.73, C_NW_B=-1.23, C_NL_B=-0.57, C_N_along_A=0.47, C_N_along_B=-0.83, C_N_source="a study")


def open_roof(id, roof, theta, flow, case, gamma, h, L, x=None, q=17.3, G=None, **typed):
    given = {k: v for k, v in (TYPED | typed).items() if v is not None}
    refused = given.pop("refused", None)
    c = {"id": id, "q_h": q, "roof": roof, "theta": theta, "flow": flow, "case": case, "gamma": gamma, "h": h, "L": L, **({} if x is None else {"x": x}), **({"G": G} if G else {}), **given}
    if refused: return c | {"=refused": refused}
    h_L, x = h / L, x or 0.0
    inside = 0.25 <= h_L <= 1
    bands = gamma == "90 deg" and inside or roof == "monoslope" and gamma == "0 deg" and theta < 5 and 0.05 <= h_L < 0.25
    fig = "bands along the wind" if bands else "none" if not inside else "monoslope" if theta < 7.5 else roof
    both = {(k, "across"): (given.get(f"C_NW_{k}"), given.get(f"C_NL_{k}")) for k in "AB"} | {(k, "along"): (given.get(f"C_N_along_{k}"),) * 2 for k in "AB"}
    C = across(roof, theta, flow, case, gamma, h_L, both, x / h)
    return c | {"=h_L": h_L, "=name: fig": fig, "=C_NW": C[0], "=C_NL": C[1], "=p_W": q * (G or 0.85) * C[0], "=p_L": q * (G or 0.85) * C[1], "=p_min": 16.0} | ({"=x_h": x / h} if bands else {})


def open_roofs():
    cases = []
    def add(*given, **more): cases.append(open_roof(f"{len(cases) + 1}", *given, **more))
    for roof in ("monoslope", "pitched", "troughed"):
        for gamma in ("0 deg", "90 deg", "180 deg"):
            for theta in (3.0, 4.9, 5.0, 5.2, 7.4, 7.5, 7.9, 24.0):
                for h_L in (0.2, 0.25, 0.26, 0.6) if theta in (3.0, 5.2, 7.9) else (0.22, 0.6):
                    add(roof, theta, "clear" if gamma == "0 deg" else "obstructed", "A" if theta < 5 else "B", gamma, 11.0, 11.0 / h_L, *(() if gamma != "90 deg" else (6.0 if theta < 5 else 13.5,)))
            for h_L in (0.04, 0.05, 0.053, 1.0, 1.04): add(roof, 3.5 if h_L < 1 else 9.0, "clear", "A", gamma, 13.0, 13.0 / h_L, q=21.0, G=0.91)
    for x_h in (0.5, 1.0, 1.05, 1.5, 2.0, 2.1):
        for flow in ("clear", "obstructed"):
            for case in "AB": add("pitched", 19.0, flow, case, "90 deg", 12.0, 31.0, x_h * 12.0)
    add("pitched", 19.0, "clear", "A", "0 deg", 12.0, 70.0, C_N_source=None, refused="C_N_source")
    for case, gamma, name, words in (("A", "0 deg", "C_NW_A", "C_NW_A"), ("A", "180 deg", "C_NL_A", "C_NL_A"), ("B", "0 deg", "C_NW_B", "C_NW_B"), ("B", "180 deg", "C_NL_B", "C_NL_B"), ("A", "90 deg", "C_N_along_A", "C_N_along_A"), ("B", "90 deg", "C_N_along_B", "C_N_along_B")):
        add("pitched", 19.0, "clear", case, gamma, 12.0, 70.0, **{name: None, "refused": words})
    return cases


def on_post(id, roof, theta, gamma, p_W, p_L, A_W, A_L, A_f, H_d):
    t = tan(theta); c = dict(id=id, roof=roof, theta=theta, gamma=gamma, p_W=p_W, p_L=p_L, A_W=A_W, A_L=A_L, A_f=A_f, H_d=H_d)
    down = np.array([p_W * A_W, p_L * A_L]); least = 16 * A_f
    # The figure of a monoslope counts wind at 0 from its high side.
    m = np.array(rises(roof, "minus" if roof == "monoslope" and gamma == "0 deg" else "plus", t)); push = float(down @ m)
    c |= {"=F_W": down[0], "=F_L": down[1], "=P": down.sum(), "=H_min": least}
    if gamma == "90 deg": return c | {"=H": max(H_d, least), "=H_side": push}
    return c | {"=H_r": push, "=H_t": push + H_d, "=H": push + H_d if abs(push + H_d) >= least else least, "=H_side": 0.0, "=s_W": math.copysign(1, m[0]), "=s_L": math.copysign(1, m[1])}


def on_posts():
    return [on_post(f"{roof}-{gamma}-{k}", roof, theta, gamma, *p, *A, H_d) for roof in ("monoslope", "pitched", "troughed") for gamma in ("0 deg", "90 deg", "180 deg")
             for k, (theta, p, A, H_d) in enumerate(((17.0, (13.0, -9.0), (41.0, 58.0, 3.5), 87.0), (11.0, (-12.0, -21.0), (33.0, 27.0, 16.5), 31.0), (23.0, (9.5, 14.0), (45.0, 29.0, 5.25), 84.0)))]


def roof_wind(id, roof, high, wind, toward, kind, theta=17.0, flow="clear", h=11.0, L=29.0, L_across=27.0, x=15.0, A_minus=43.0, A_plus=61.0, H_d=95.0, q=18.5):
    c = dict(id=id, q_h=q, roof=roof, theta=theta, flow=flow, case=kind, wind=wind, toward=toward, high=high, h=h, L=L, L_across=L_across, x=x, A_minus=A_minus, A_plus=A_plus, H_d=H_d) | TYPED
    m, sign = rises(roof, high, tan(theta)), 1 if toward == "plus" else -1
    gamma = "90 deg" if wind == "along" else "180 deg" if roof == "monoslope" and high == toward else "0 deg"
    typed = {(k, "across"): (TYPED[f"C_NW_{k}"], TYPED[f"C_NL_{k}"]) for k in "AB"} | {(k, "along"): (TYPED[f"C_N_along_{k}"],) * 2 for k in "AB"}
    C = across(roof, theta, flow, kind, gamma, h / L, typed, x / h if wind == "along" else 0.0)
    p = [q * 0.85 * k for k in (C if sign > 0 or wind == "along" else C[::-1])]
    push = p[0] * A_minus * m[0] + p[1] * A_plus * m[1]
    c |= {"=P": p[0] * A_minus + p[1] * A_plus, "=pressure.h_L": h / L, "=name: on-post.gamma": gamma, "=on-post.A_f": 0.0, "=on-post.H_d": H_d}
    if wind == "along": return c | {"=H": H_d, "=H_side": push, "=on-post.A_W": A_minus, "=on-post.A_L": A_plus}
    w = (A_minus, A_plus)[::sign]
    return c | {"=H": sign * push + H_d, "=H_side": 0.0, "=p_minus": p[0], "=p_plus": p[1], "=name: gamma": gamma, "=A_W": w[0], "=A_L": w[1]}


def roof_winds():
    return [roof_wind(f"{roof}-{high}-{wind}-{toward}-{kind}", roof, high, wind, toward, kind) for roof in ("monoslope", "pitched", "troughed") for high in ("plus", "minus")
            for wind in ("across", "along") for toward in ("plus", "minus") for kind in "AB"] + [
        roof_wind(f"low-{high}-{toward}", "monoslope", high, "across", toward, "A", theta=3.0, L=88.0) for high in ("plus", "minus") for toward in ("plus", "minus")] + [
        roof_wind("obstructed-across", "pitched", "plus", "across", "minus", "A", flow="obstructed", theta=12.0), roof_wind("obstructed-along", "pitched", "plus", "along", "minus", "A", flow="obstructed", theta=12.0)]


def frame_row(member, q, size, solid):
    """Row and coefficient of Fig. 29.4-2; size in inches."""
    if member == "flat": return "flat", 2.0 if solid < 0.1 else 1.8 if solid < 0.3 else 1.6, None
    D_q = size / 12 * math.sqrt(q); small = D_q <= 2.5
    return "round, small" if small else "round, large", (0.0 if small else -0.4) + (1.2 if solid < 0.1 else 1.3 if solid < 0.29 else 1.5), D_q


def members():
    found = []
    for member, q, face, G in (("flat", 4.0, 6.0, None), ("flat", 21.0, 7.5, 0.92), ("round", 25.0, 6.0, None), ("round", 25.0, 6.1, None), ("round", 25.0, 5.9, None), ("round", 16.0, 7.8, 0.9), ("round", 23.0, 11.0, 0.95), ("flat", 9.0, 0.0, None), ("flat", 9.6, 8.0, 0.9), ("flat", 10.5, 8.0, None)):
        row, C_f, D_q = frame_row(member, q, face, 0.05); p = q * (G or 0.85) * C_f
        found.append({"id": f"{member}-{q:g}-{face:g}", "q_z": q, "member": member, "face": face, **({"G": G} if G else {}), "=name: row": row, "=epsilon": 0.05, "=C_f": C_f, "=p": p, "=p_m": max(p, 16.0), "=w": max(p, 16.0) * face / 12, **({"=D_q": D_q} if D_q is not None else {})})
    return found


def slats():
    found = []
    for member, q, D, solid, A_f, G, p_v, A_v in (("flat", 4.0, 0.0, 0.2, 23.0, None, 3.5, 61.0), ("flat", 21.0, 2.0, 0.05, 31.0, 0.92, 4.5, 53.0), ("round", 25.0, 6.0, 0.2, 29.0, None, 5.5, 47.0), ("round", 25.0, 6.1, 0.2, 29.0, None, 5.5, 47.0),
                                                   ("round", 16.0, 7.8, 0.5, 37.0, 0.9, 6.5, 43.0), ("round", 16.0, 11.0, 0.5, 37.0, 0.9, 6.5, 43.0), ("round", 4.5, 1.5, 0.05, 37.0, 0.9, 6.5, 43.0), ("round", 16.0, 0.0, 0.5, 37.0, 0.9, 6.5, 43.0)):
        c = {"id": f"{member}-{q:g}-{D:g}-{solid:g}", "q_z": q, "member": member, "D": D, "epsilon": solid, "A_f": A_f, **({"G": G} if G else {}), "p_v": p_v, "A_v": A_v}
        if member == "round" and D == 0: found.append(c | {"=refused": "give the diameter"}); continue
        row, C_f, D_q = frame_row(member, q, D, solid); F = q * (G or 0.85) * C_f * A_f
        found.append(c | {"=name: row": row, "=C_f": C_f, "=F": F, "=F_min": 16 * A_f, "=H": max(F, 16 * A_f), "=P": p_v * A_v, **({"=D_q": D_q} if D_q is not None else {})})
    return found


def beams():
    found = []
    for c in "xy":
        for n_x, n_y in ((2, 5), (3, 2), (4, 3), (1, 4)):
            for splice in ("over each post", "runs through"):
                for brace_x, brace_y in (("none", "knee braces"), ("knee braces", "rigid frame")):
                    n, brace = (n_x, brace_x) if c == "x" else (n_y, brace_y)
                    found.append({"id": f"{c}-{n_x}-{n_y}-{splice.split()[0]}-{brace_x.split()[0]}", "carried_by": c, "splice": splice, "share": 1.21, "brace_x": brace_x, "brace_y": brace_y, "n_x": n_x, "n_y": n_y, "l_x": 11.5, "l_y": 14.25,
                                  "=n": n, "=l": 11.5 if c == "x" else 14.25, "=name: brace": brace, "=k_s": 1.21 if n > 2 and splice == "runs through" and brace != "knee braces" else 1.0})
    return found


def cases_of_load():
    given = dict(P_post=310.0, P_roof=1450.0, q_x_own=13.5, q_y_own=17.25, along=210.0, across=-345.0, least_along=97.0, least_across=-123.0, w_along=11.5, w_across=-14.0, l=12.5, k_s=1.17, height=9.75)
    found = [{"id": "nothing", "ridge": "x", "carried_by": "y", "l": 12.5, "k_s": 1.17, "height": 9.75, "=P": 0.0, "=over": 0.0, **{f"={k}_{way}": 0.0 for k in ("F", "F_least", "w", "W", "q", "over") for way in "xy"}}]
    for ridge in "xy":
        for c in "xy":
            g, turn = given, (lambda a, b: (a, b)) if ridge == "x" else (lambda a, b: (b, a))
            F, least, w = turn(g["along"], g["across"]), turn(g["least_along"], g["least_across"]), turn(g["w_along"], g["w_across"])
            q = [g["q_x_own"], g["q_y_own"]]; over = [0.0, 0.0]; at = "xy".index(c)
            q[at] += g["P_roof"] / g["l"]; over[at] = g["P_roof"] * 1.17 - g["P_roof"]
            found.append({"id": f"ridge-{ridge}-beams-{c}", "ridge": ridge, "carried_by": c, **g, "=P": 310.0 + 1.17 * 1450.0, "=over": over[at],
                          **{f"={name}_{way}": v[i] for name, v in (("F", F), ("F_least", least), ("w", w), ("W", [k * 9.75 for k in w]), ("q", q), ("over", over)) for i, way in enumerate("xy")}})
    return found


def by_name(units):
    """Units of columns by their names; a name that is not among them has none."""
    known = {name: f" [{unit}]" for unit, names in units.items() for name in names.split()}
    return lambda column: known.get(column.lstrip("=").split(".")[-1], "")


def main():
    put("post-loads--any-shape.csv", "Every load case of a post under a roof of each shape, the ridge along x and along y: rectangles cut at the ridge, pressures as vectors", posts(), clauses="ASCE 7-16 chapters 4, 7, 12, 26 to 29")
    wind = by_name({"psf": "q_h q_z p_W p_L p_min p_minus p_plus p p_m p_v", "deg": "theta", "ft": "h L L_across x", "sf": "A_W A_L A_f A_minus A_plus A_v", "lbf": "F_W F_L P H H_min H_side H_d H_r H_t F F_min", "in": "face D", "lbf/ft": "w"})
    put("wind-open-roof--edges.csv", "Which figure applies, on both sides of each edge of h/L and slope, and coefficients that are typed", open_roofs(), wind, clauses="ASCE 7-16 27.3.2, Figs. 27.3-4 to 27.3-7")
    put("wind-post--roofs.csv", "Reactions of a post from pressures on two slopes, as vectors", on_posts(), wind, clauses="ASCE 7-16 27.1.5, 27.3.2")
    put("roof-wind--directions.csv", "Wind on a roof from each side, on each shape, as vectors", roof_winds(), wind, clauses="ASCE 7-16 Figs. 27.3-4 to 27.3-7")
    put("wind-members--edges.csv", "Single members, small and large round ones at their border, and the least pressure", members(), wind, clauses="ASCE 7-16 Fig. 29.4-2, 29.4, 29.7")
    put("wind-slats--edges.csv", "Open frames of slats: solidity, small and large round members at their border, the least force", slats(), wind, clauses="ASCE 7-16 Fig. 29.4-2, 29.4, 29.7")
    beam = by_name({"ft": "l_x l_y l height", "lbf": "P_post P_roof P along across least_along least_across over over_x over_y F_x F_y F_least_x F_least_y W_x W_y", "lbf/ft": "q_x_own q_y_own w_along w_across q_x q_y w_x w_y"})
    put("carrying-beam--spans.csv", "Which beam carries the roof, and what share of it a post has under a beam that runs through", beams(), beam, clauses="statics of cut beams, and what is given for beams that run through,")
    put("load-case--directions.csv", "Loads along and across the ridge turned to x and y, and the roof on the beams that carry it", cases_of_load(), beam, clauses="the directions of ridge and beams")


if __name__ == "__main__": main()
