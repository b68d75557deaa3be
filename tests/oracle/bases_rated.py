"""Bases with a report, and what every base hands on: published values cut down, anchors that are pulled, directions, counts.

    python3 tests/oracle/bases_rated.py      writes values for reported-base, rated-base, rated-pull, moment-base, anchor-forces and others that hand on"""
import math

from bases_made import MADE, f_c_star, f_t, ordered, pattern, pull, table
from bases_pinned import HEAT, met

near = 1e-9


# What a report allows, less than published where the load lasts longer or the wood is wet or hot.
def cut(g, by):
    long = lambda name: min(1.0, g["C_D"] / g[name])
    heat = g["temperature_factor"] if g.get("temperature_factor", "") != "" else HEAT[g["service"]][g["temperature"]]
    wet = g["wet_factor"] if g["service"] == "wet" else 1.0
    fast = g["wet_factor"] if "wet" in (g["service"], g["fabrication"]) else 1.0
    return long(by), wet, fast, heat


def rated(g):
    down, wet, fast, heat = cut(g, "C_D_down")
    up = cut(g, "C_D_up")[0]
    P_a, T_a, F_1a, F_2a = g["download"] * down * wet * heat, *(g[name] * up * fast * heat for name in ("uplift", "F_1", "F_2"))
    C, T, V_x, V_y = max(0.0, g["P"]), max(0.0, -g["P"]), abs(g["H_x"]), abs(g["H_y"])
    there = g["fasteners"] if g.get("fasteners", "") != "" else g["fasteners_report"]
    r = T / T_a + V_x / F_1a + V_y / F_2a
    held = {"density of the wood": g["G"] >= g["G_report"], "the post is not too small for the seat": min(g["b"], g["d"]) >= g["seat_b_min"], "the post is not too large for the seat": max(g["b"], g["d"]) <= g["seat_b_max"],
            "every fastener of the schedule is installed": there >= g["fasteners_report"], "number of anchors": g["anchors"] >= g["anchors_report"], "diameter of the anchors": g["anchor_d"] >= g["anchor_d_report"],
            "the report has not passed its renewal date": g["report_expires"] >= g["job_date"], "download on the base": C <= P_a, "uplift on the base": T <= T_a, "shear on the base along x": V_x <= F_1a,
            "shear on the base along y": V_y <= F_2a, "uplift and shear together": r <= 1 + near}
    found = {"installed": there, "k_down": down, "k_up": up, "k_wet": wet, "k_fast": fast, "k_t": heat, "P_a": P_a, "T_a": T_a, "F_1a": F_1a, "F_2a": F_2a, "r_C": C / P_a, "r_T": T / T_a, "r_x": V_x / F_1a, "r_y": V_y / F_2a, "r": r}
    found |= {"C": C, "T": T, "V_x": V_x, "V_y": V_y}
    return found | {f"verdict: {words}": met(ok) for words, ok in held.items()}


RATED = {"P": -1100, "H_x": -310, "H_y": 230, "C_D": 1.15, "download": 9300, "uplift": 2700, "F_1": 1450, "F_2": 1250, "C_D_down": 1.25, "C_D_up": 1.6, "G": 0.5, "G_report": 0.5, "service": "dry", "wet_factor": 0.75,
         "temperature": "100 to 125 F", "fabrication": "dry", "b": 5.5, "d": 6.5, "seat_b_min": 5.5, "seat_b_max": 6.5, "fasteners_report": 8, "anchors": 2, "anchors_report": 2, "anchor_d": 0.625, "anchor_d_report": 0.625,
         "report_expires": "2027-06-30", "job_date": "2026-11-20"}
CUT = "published values times load duration, moisture and heat, NDS 2018 11.3.2 to 11.3.4"


def rated_cases():
    for id, change in (
        ("dry", {}), ("green", {"fabrication": "wet"}), ("wet", {"service": "wet", "fabrication": "wet"}), ("wet-in-service", {"service": "wet"}), ("long", {"C_D": 0.9, "C_D_down": 1.0, "C_D_up": 1.15}), ("short", {"C_D": 1.6, "C_D_down": 1.0, "C_D_up": 1.25}),
        ("between", {"C_D": 1.25, "C_D_down": 1.0}), ("heat-given", {"temperature_factor": 0.6}), ("cool", {"temperature": "up to 100 F"}), ("down", {"P": 5100}), ("too-far-down", {"P": 9000, "b": 6.5, "d": 5.5}), ("too-far-up", {"P": -2600}),
        ("too-far-x", {"H_x": 1400}), ("too-far-y", {"H_y": -1200, "P": 100}), ("light", {"G": 0.49}), ("small", {"b": 5.4}), ("small-d", {"d": 5.4}), ("large", {"d": 6.6}), ("large-b", {"b": 6.6, "d": 6.0}), ("fewer", {"fasteners": 7}), ("more", {"fasteners": 9}),
        ("one-anchor", {"anchors": 1}), ("three-anchors", {"anchors": 3}), ("thin-anchor", {"anchor_d": 0.5}), ("thick-anchor", {"anchor_d": 0.75}), ("last-day", {"job_date": "2027-06-30"}), ("a-day-late", {"job_date": "2027-07-01"}),
        ("together", {"C_D": 1.6, "temperature": "up to 100 F", "P": -1620, "H_x": 290, "H_y": 250}), ("more-than-together", {"C_D": 1.6, "temperature": "up to 100 F", "P": -1620, "H_x": 290, "H_y": 252}),
    ):
        given = RATED | change
        yield id, given, rated(given), CUT


def moment(g):
    up, _, fast, heat = cut(g, "C_D_up")
    whole = up * fast * heat
    T, both = max(0.0, -g["P"]), abs(g["base_moment"])
    T_a, M_xa, M_ya = g["uplift"] * whole, g["moment_x"] * whole, g["moment_y"] * whole
    r_M = (abs(g["M_x"]) + both) / M_xa + (abs(g["M_y"]) + both) / M_ya
    r = T / T_a + r_M
    return {"k_up": up, "k_wet": fast, "k_t": heat, "T": T, "T_a": T_a, "M_xa": M_xa, "M_ya": M_ya, "r_T": T / T_a, "r_M": r_M, "r": r, "verdict: uplift and moments together": met(r <= 1 + near)}


MOMENT = {"P": -700, "M_x": -5100, "M_y": 3700, "base_moment": -1300, "C_D": 1.15, "C_D_up": 1.6, "uplift": 3100, "moment_x": 41000, "moment_y": 29000, "service": "dry", "fabrication": "dry", "wet_factor": 0.75, "temperature": "100 to 125 F"}


def moment_cases():
    for id, change in (("dry", {}), ("green", {"fabrication": "wet"}), ("wet", {"service": "wet"}), ("both-wet", {"service": "wet", "fabrication": "wet"}), ("short", {"C_D": 1.6, "C_D_up": 1.15}), ("heat-given", {"temperature_factor": 0.6}), ("cool", {"temperature": "up to 100 F"}),
                       ("down", {"P": 2500}), ("full", {"C_D": 1.6, "temperature": "up to 100 F", "P": -775, "M_x": 10250, "M_y": 14500, "base_moment": 0}), ("over", {"C_D": 1.6, "temperature": "up to 100 F", "P": -775, "M_x": 10250, "M_y": 14600, "base_moment": 0}),
                       ("over-by-uplift", {"P": -1500, "M_x": 9000})):
        given = MOMENT | change
        yield id, given, moment(given), CUT + "; the given moment acts both ways"


def to_ground_cases():
    for id, M_x, M_y, own, said in (("rated", 910, 440, -270, "yes"), ("other", 120, 730, 310, "yes"), ("hinge", 910, 440, 50, "no")):
        both = (M_x + abs(own), M_y + abs(own)) if said == "yes" else (0, 0)
        yield id, {"M_x": M_x, "M_y": M_y, "base_moment": own, "moment_rated": said}, {"M_gx": both[0], "M_gy": both[1]}, "the given moment is added both ways, whichever way it turns"


def together_cases():
    base = {"interaction": "all added", "r_C": 0.31, "r_T": 0.07, "r_x": 0.13, "r_y": 0.17, "r_M": 0.23}
    for id, change in (("all", {}), ("apart", {"interaction": "download apart"}), ("moments", {"interaction": "only uplift and moments"}), ("silent", {"interaction": ""}), ("full", {"r_C": 0.4}), ("over", {"r_C": 0.41}), ("apart-over", {"interaction": "download apart", "r_x": 0.6})):
        g = base | change
        axial = g["r_T"] + (g["r_C"] if g["interaction"] in ("all added", "") else 0.0)
        shears = 0.0 if g["interaction"] == "only uplift and moments" else g["r_x"] + g["r_y"]
        r = math.fsum([axial, shears, g["r_M"]])
        yield id, g, {"r_P": axial, "r_V": shears, "r": r, "verdict: axial load, shears and moments together": met(r <= 1 + near)}, "what the report adds, added"


# Anchors of a base that is rated: it presses halfway to its edge.
def pulled(g):
    y, n, s = g["y"], (g["fixed_x"], g["fixed_y"]), (g["apart_x"], g["apart_y"])
    plate = g["b"], g["d"], 0.0, 0.0, pattern(*n), s[0] / 2, s[1] / 2
    M, M_E = [abs(g[name]) * y for name in ("H_x", "H_y")], [abs(g[name]) * y for name in ("H_x_E", "H_y_E")]
    now, quake = pull(g["P"], *M, *plate), pull(min(g["P_E"], 0), *M_E, *plate)
    many = n[0] * n[1]
    return {"M_x": M[0], "M_y": M[1], "pull.M_x": M[0], "pull.M_y": M[1], "pull.b": g["b"], "pull.d": g["d"], "pull.core_b": 0, "pull.core_d": 0, "quake-pull.P": min(g["P_E"], 0), "quake-pull.M_x": M_E[0], "quake-pull.M_y": M_E[1],
            "quake-pull.core_b": 0, "quake-pull.core_d": 0, "anchor-pattern.n_plane": n[0], "anchor-pattern.n_square": n[1], "anchor-pattern.s_plane": s[0], "anchor-pattern.s_square": s[1], "pull.N_a": now["N_a"],
            "P_a": -many * now["N_a"] if now["N_a"] > 0 else g["P"], "N_E": many * quake["N_a"], "verdict: the fasteners are above the end grain": met(y > g["standoff"] + near)}


PULLED = {"P": -900, "H_x": -310, "H_y": 230, "P_E": -350, "H_x_E": 170, "H_y_E": -120, "fastener_height": 4.0, "standoff": 1.0, "seat_width": 8.0, "seat_depth": 7.0, "ground": "concrete", "fixed_x": 2, "fixed_y": 2, "apart_x": 5.5, "apart_y": 4.5}
STATICS = "moments about where the plate presses"


def pulled_cases():
    for id, change in (("four", {}), ("down", {"P": 2600, "P_E": 200}), ("down-far", {"P": 40000}), ("one", {"fixed_x": 1, "fixed_y": 1, "apart_x": 0, "apart_y": 0}), ("two-along", {"fixed_y": 1, "apart_y": 0}), ("two-across", {"fixed_x": 1, "apart_x": 0}),
                       ("screws", {"ground": "wood", "fixed_x": 3}), ("at-the-grain", {"standoff": 4.0}), ("below-the-grain", {"standoff": 4.5})):
        g = PULLED | change
        given = {{"fastener_height": "y", "seat_width": "b", "seat_depth": "d"}.get(name, name): value for name, value in g.items()}
        yield id, given, pulled(given), STATICS


def forces_cases():
    base = {"P": -1300, "M_x": 3100, "M_y": 1900, "b": 10.5, "d": 9.0, "core_b": 4.5, "core_d": 0.625, "g_x": 4.0, "g_y": 3.25}
    down, far, turn = {"P": 2200}, {"P": 21000}, {"b": 8.0, "d": 10.0, "core_b": 0.5, "core_d": 5.0, "g_x": 3.0, "g_y": 3.75, "M_x": 1300, "M_y": 2600}
    near_ = {"g_x": 1.5, "g_y": 1.0}
    for name in ("one", "two across", "two along", "four"):
        # A single anchor stands beside the blade, inside of where the plate presses.
        close = {"g_y": 0.75} if name == "one" else {}
        for id, change in (("up", {}), ("down", down), ("far-down", far), ("turned", turn), ("turned-down", turn | down), ("near", near_), ("near-down", near_ | down), ("x-alone", down | {"M_y": 0}), ("y-alone", down | {"M_x": 0}), ("core-over", {"core_b": 11.0, "core_d": 9.5}),
                           ("pressed", down | {"M_x": 9000, "M_y": 8000}), ("idle", {"P": 500, "M_x": 0, "M_y": 0})):
            g = base | change | {"pattern": name} | close
            yield f"{name.replace(' ', '-')}-{id}", g, pull(g["P"], g["M_x"], g["M_y"], g["b"], g["d"], g["core_b"], g["core_d"], name, g["g_x"], g["g_y"]), STATICS
    row, beyond = "anchors or screws in a row need a spacing", "the plate has to extend well beyond a single anchor"
    for id, name, change, words in (("no-spacing-x", "two along", {"g_x": 0}, row), ("no-spacing-y", "two across", {"g_y": 0}, beyond), ("four-no-spacing-y", "four", {"g_y": 0}, beyond), ("one-at-pressure", "one", {"g_y": (9.0 + 0.625) / 4}, beyond), ("one-beyond", "one", {"g_y": 3.0}, beyond)):
        yield id, base | {"pattern": name} | change, {"refused": words}, "no lever is left"


# A base by its report, as a whole.
def reported(g):
    b, d, seat = g["b"], g["d"], (g["seat_width"], g["seat_depth"])
    own = g["moment_rated"] == "yes"
    run = min(max(b, d), max(seat))
    given = g["posts.fasteners"] if "posts.fasteners" in g else g.get("fasteners_job", "")
    many = given if given != "" else g["fasteners_report"]
    found = {"end-bearing.slot_run": run, "name: end-bearing.seat": "steel", "net-tension.slot_run": max(b, d), "net-tension.D": 0, "net-tension.rows": 0, "net-tension.bore": 0, "A_n": b * d, "F_t'": f_t(g["C_D"]), "F_c_star": f_c_star(g["C_D"]),
             "fasteners": many, "plate_t": 0, "room": 0, "press_x": seat[0], "press_y": seat[1], "name: rated-base.fabrication": g["fabrication"], "name: shop.coat": g["finish"], "shop.many": many,
             "pieces: fasteners: fastener of a rated base": ordered(many, g["base_name"])}
    if g.get("report", ""):
        found["name: shop.paper"] = g["report"]
    if own:
        both = abs(g["base_moment"])
        found |= {"P_a": g["P"], "N_E": max(0.0, -g["P_E"]), "y_top": g["standoff"], "M_gx": g["along-x.M_base"] + both, "M_gy": g["along-y.M_base"] + both, "name: moment-base.fabrication": g["fabrication"]}
    else:
        on = {"P": g["P"], "P_E": g["P_E"], "H_x": g["along-x.H_b"], "H_y": g["along-y.H_b"], "H_x_E": g["H_x_E"], "H_y_E": g["H_y_E"], "y": g["fastener_h"], "standoff": g["standoff"], "b": seat[0], "d": seat[1],
              "fixed_x": g["fixed_x"], "fixed_y": g["fixed_y"], "apart_x": g["apart_x"], "apart_y": g["apart_y"]}
        all_ = pulled(on)
        found |= {"P_a": all_["P_a"], "N_E": all_["N_E"], "y_top": g["fastener_h"], "M_gx": 0, "M_gy": 0}
    return found


WOOD = {f"timber-values.{name}": MADE[f"timber-values.{name}"] for name in "G F_c F_t C_M_c C_M_s C_t_s C_t_E C_F_c C_F_t C_i".split()}
REPORTED = WOOD | {"b": 5.5, "d": 7.25, "P": -900, "P_E": -350, "along-x.H_b": -310, "along-y.H_b": 230, "H_x_E": 170, "H_y_E": -120, "along-x.M_base": 9100, "along-y.M_base": 7300, "base_moment": -1300, "C_D": 1.15, "standoff": 1.0, "seat_width": 5.0,
                   "seat_depth": 7.0, "fabrication": "wet", "service": "dry", "wet_factor": 0.75, "fastener_h": 4.0, "ground": "concrete", "fixed_x": 2, "fixed_y": 2, "apart_x": 5.5, "apart_y": 4.5, "d_fixed": 0.625,
                   "report": "ER-1", "finish": "painted", "fasteners_report": 8, "base_name": "reported", "moment_rated": "no", "download": 9300, "uplift": 2700, "lateral_x": 1450, "lateral_y": 1250, "C_D_down": 1.25, "C_D_up": 1.6,
                   "G_report": 0.4, "seat_min": 5.0, "seat_max": 8.0, "fixings.n_fixed": 4, "anchors_report": 2, "anchor_d_report": 0.625, "report_expires": "2027-06-30", "date": "2026-11-20", "moment_x": 41000, "moment_y": 29000}


def reported_cases():
    for id, change in (("hinge", {}), ("deep", {"b": 7.25, "d": 5.5, "seat_width": 9.0, "seat_depth": 4.5}), ("rated", {"moment_rated": "yes", "fabrication": "dry"}), ("rated-down", {"moment_rated": "yes", "P": 4000, "P_E": 500}), ("down", {"P": 30000}), ("fewer", {"fasteners_job": 6}),
                       ("no-report", {"report": ""}), ("one", {"fixed_x": 1, "fixed_y": 1, "apart_x": 0, "apart_y": 0})):
        g = REPORTED | change
        g |= {"post-size.b": g["b"], "post-size.d": g["d"], "fixings.on": g["ground"], "fixings.d_fixed": g["d_fixed"]} | {f"fixings.{name}": g[name] for name in ("fixed_x", "fixed_y", "apart_x", "apart_y")}
        yield id, g, reported(g), "what the report covers is left as it is; the rest by its place on the base"


# Directions, counts, room.
def directions_cases():
    sizes = {"b_x": 7.5, "b_y": 5.5, "H_x": -900, "H_y": 410, "seat_x": 7.0, "seat_y": 6.0, "foot_x": 9.0, "foot_y": 8.0, "n_x": 3, "n_y": 2, "s_x": 6.5, "s_y": 4.75}
    for along, first, second in (("x", "x", "y"), ("y", "y", "x")):
        of = lambda name, axis: abs(sizes[f"{name}_{axis}"])
        yield f"along-{along}", sizes | {"along": along}, {"d": of("b", first), "b": of("b", second), "H_plane": of("H", first), "H_perp": of("H", second), "seat_run": of("seat", first), "seat_across": of("seat", second), "foot_run": of("foot", first),
                                                           "foot_across": of("foot", second), "n_plane": of("n", first), "n_square": of("n", second), "s_plane": of("s", first), "s_square": of("s", second)}, "a base seen from above and turned"


def fixings_cases():
    for n_x, n_y in ((3, 2), (2, 4), (1, 3)):
        at = [(2.25 * i, 3.5 * k) for i in range(n_x) for k in range(n_y)]
        yield f"{n_x}-by-{n_y}", {"floor_screws_along": n_x, "floor_screws_across": n_y, "floor_spacing_along": 2.25, "floor_spacing_across": 3.5, "floor_screw_d": 0.375, "floor_screw_length": 5.0}, {
            "name: on": "wood", "fixed_x": n_x, "fixed_y": n_y, "apart_x": max(x for x, _ in at), "apart_y": max(y for _, y in at), "n_fixed": len(at), "d_fixed": 0.375, "deep": 5.0}, "places on a grid, counted"


def anchor_fixings_cases():
    for n_x, n_y in ((2, 1), (1, 2), (2, 2), (3, 2)):
        yield f"{n_x}-by-{n_y}", {"anchors_x": n_x, "anchors_y": n_y, "anchor_s_x": 6.25, "anchor_s_y": 4.5, "d_a": 0.625, "h_ef": 7.0}, {
            "name: on": "concrete", "fixed_x": n_x, "fixed_y": n_y, "apart_x": 6.25, "apart_y": 4.5, "n_fixed": sum(1 for _ in range(n_x) for _ in range(n_y)), "d_fixed": 0.625, "deep": 7.0}, "anchors, counted"


def room_cases():
    base = {"ground": "concrete", "d": 0.625, "deep": 3.25, "seat_run": 7.0, "seat_across": 6.0, "s_plane": 4.0, "s_square": 3.5, "tall": 1.0}
    words = "verdict: room for the nuts or screws under the seat"
    for id, change in (("high", {}), ("just", {"tall": 0.8125}), ("low", {"tall": 0.8}), ("screw", {"ground": "wood", "tall": 3.25}), ("screw-low", {"ground": "wood", "tall": 3.2}), ("beside-run", {"s_plane": 8.3}), ("beside-across", {"s_square": 7.3}), ("below-run", {"s_plane": 8.2}),
                       ("below-across", {"s_square": 7.2}), ("beside-both", {"s_plane": 9.0, "s_square": 9.0})):
        g = base | change
        # The outline of a nut is twice as wide as the anchor: its near edge stands one diameter inside.
        under = g["s_plane"] / 2 - g["d"] < g["seat_run"] / 2 and g["s_square"] / 2 - g["d"] < g["seat_across"] / 2
        need = g["d"] + 3 / 16 if g["ground"] == "concrete" else g["deep"]
        found = {"room": g["tall"], "need": need, words: met(g["tall"] >= need)} if under else {"room": 0, words: "not asked"}
        yield id, g, found, "outlines seen from above, nut and washer below the seat"


def weld_room_cases():
    words = "verdict: the standoff has room for its welds"
    for id, tall, a, hole in (("plain", 0.9, 0.25, 0), ("just", 0.625, 0.3125, 0), ("low", 0.62, 0.3125, 0), ("drained", 0.875, 0.25, 0.375), ("drained-low", 0.86, 0.25, 0.375), ("drained-high", 1.4, 0.25, 0.375)):
        yield id, {"tall": tall, "a": a, "hole": hole}, {"room": a + hole + a, words: met(tall >= a + hole + a - near)}, "welds at both ends and the hole, stacked"


def pattern_cases():
    for id, ground, n, s in (("one", "concrete", (1, 1), (0, 0)), ("along", "concrete", (2, 1), (6.5, 0)), ("across", "concrete", (1, 2), (0, 4.5)), ("four", "concrete", (2, 2), (6.5, 4.5)), ("three-along", "concrete", (3, 1), (6.5, 0)), ("three-across", "concrete", (1, 3), (0, 4.5)),
                             ("screw", "wood", (1, 1), (0, 0)), ("screws-along", "wood", (3, 1), (6.5, 0)), ("screws-across", "wood", (1, 3), (0, 4.5)), ("screws", "wood", (3, 2), (6.5, 4.5)), ("none", "concrete", (0, 0), (0, 0)), ("two-screws-along", "wood", (2, 1), (6.5, 0)), ("two-screws-across", "wood", (1, 2), (0, 4.5))):
        yield id, {"ground": ground, "n_plane": n[0], "n_square": n[1], "s_plane": s[0], "s_square": s[1]}, {"name: pattern": pattern(*n), "g_x": s[0] / 2, "g_y": s[1] / 2}, "rows counted each way"


if __name__ == "__main__":
    named = lambda file, about, cases: table(file, about, "bases_rated", cases)
    named("rated-base--cut-down", "Published values of a base, cut down, and what the job brings.", rated_cases())
    named("moment-base--cut-down", "Published moments of a base, cut down, and what the job brings.", moment_cases())
    named("moment-to-ground--both-ways", "What moment a base hands to its foundation.", to_ground_cases())
    named("base-interaction--added", "What a report adds.", together_cases())
    named("rated-pull--statics", "The pull of a rated base on its anchors.", pulled_cases())
    named("anchor-forces--statics", "Anchors under uplift, download and moments both ways.", forces_cases())
    named("reported-base--handed-on", "What a base with a report hands on.", reported_cases())
    named("directions--all", "All that lies along a blade and across it.", directions_cases())
    named("floor-fixings--counted", "Screws of a base in a floor.", fixings_cases())
    named("anchor-fixings--counted", "Anchors of a base.", anchor_fixings_cases())
    named("anchor-room--stacked", "Room for nuts and screws under a seat.", room_cases())
    named("weld-room--stacked", "Room for the welds of a standoff.", weld_room_cases())
    named("anchor-pattern--rows", "Patterns of anchors and screws.", pattern_cases())
