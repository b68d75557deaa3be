"""Verdicts of the sheets in `base` that are about steel, of rated bases, hinge and finish."""
import math

from verdicts import Case, Sheet

HOLE = "1/16 in, the play of AISC Design Examples V16.0 Ex. II.B-1 (holes of 15/16 in for bolts of 7/8 in)"
STRAIGHT = {"V [lbf]": 0, "H_perp [lbf]": 0}


def scaled(case, names, over):
    """The loads of a case over a ratio."""
    return {name: case.number(name) / over for name in names}


sheet = Sheet("blade")
drawn, loads = Case("blade--drawn-plate", "B02"), ["T [lbf]", "V [lbf]", "H_perp [lbf]"]
sheet.from_case("net", "net section of the blade at the lowest pins", drawn, "the loads over r_n", scaled(drawn, loads, drawn["r_n"]))
sheet.from_case("block", "block shear of the blade", drawn, "R_bs in the direction", scaled(drawn, loads[:2], math.hypot(1500, 600) / drawn["R_bs"]))
case = Case("blade--drawn-plate", "B01")
sheet.from_case("uplift", "uplift on the blade", case, "P_u", {"T [lbf]": case["P_u"]}, STRAIGHT)
case = Case("blade--design-examples", "II.B-1-web")
sheet.from_case("shear", "shear of the blade", case, "V_u", {"V [kip]": case["V_u"]})
case = Case("blade--design-examples", "T7-1-0.75")
sheet.from_case("pin", "shear of the pins", case, "r_v", {"T [kip]": case["r_v"]}, by=0.02)
case = Case("blade--design-examples", "D.7")
sheet.from_case("hole", "bearing and tear-out at the holes", case, "r_p", {"T [kip]": case["r_p"]}, by=0.02)
# A flat bar bent on the flat by a shear normal to it: the strength from a raster of its section.
bar = Case("bar-bending--mechanics", "S1")
flat = {"T [lbf]": 0, "V [lbf]": 0, "F_y [ksi]": 36, "F_u [ksi]": 58, "t [in]": 0.25, "w [in]": 4, "D [in]": 0.5, "d_h [in]": 0.5625, "F_u_pin [ksi]": 58, "n": 1, "rows": 1, "a_end [in]": 4, "e_top [in]": 2}
sheet.near("seat", "tension and bending of the blade at the seat", flat, {"H_perp [lbf]": bar["M_cy"] * 1000 / 4}, bar.source("M_cy over 4 in"), bar.kind, tolerance=bar.tolerance)
play = lambda share: {"d_h [in]": 0.5 + 0.0625 * share}
sheet.near("play", "play of the pins in the holes", {**drawn.given, "D [in]": 0.5}, play, HOLE, "published", tolerance=1e-8)
sheet.near("edge", "edge distances of the pins in the blade", drawn.given, {"e_top [in]": 0.5}, "the diameter, AISC 360-22 Table J3.4, note a, as quoted in public notes for detailers", "published", more=True, tolerance=1e-8)
sheet.near("along", "spacing along the grain, in the steel", drawn.given, {"s [in]": 8 / 3 * 0.5}, "2-2/3 diameters, AISC 360-16 J3.3", "recalled", more=True, tolerance=1e-8)
sheet.near("rows", "spacing of the rows, in the steel", drawn.given, {"s_row [in]": 8 / 3 * 0.5}, "2-2/3 diameters, AISC 360-16 J3.3", "recalled", more=True, tolerance=1e-8)
sheet.write()

# One side plate is a blade of the same holes that takes half of the load; screws are no pins.
sheet = Sheet("side-plate-steel")


def plate(case, **loads):
    given = {name: cell for name, cell in case.given.items() if name.split(" [")[0] not in ("F_u_pin", "T", "V", "H_perp")}
    return {**given, "T [lbf]": 0, "V [lbf]": 0, "H_perp [lbf]": 0, **loads}


sheet.near("block", "block shear of a side plate", plate(drawn), scaled(drawn, loads[:2], math.hypot(1500, 600) / drawn["R_bs"] / 2), drawn.source("twice R_bs in the direction"), drawn.kind, tolerance=drawn.tolerance)
case = Case("blade--drawn-plate", "B01")
sheet.near("uplift", "uplift on a side plate", plate(case), {"T [lbf]": 2 * case["P_u"]}, case.source("twice P_u"), case.kind, tolerance=case.tolerance)
case = Case("blade--design-examples", "II.B-1-web")
sheet.near("shear", "shear of a side plate", plate(case), {"V [lbf]": 2000 * case["V_u"]}, case.source("twice V_u"), case.kind, tolerance=case.tolerance)
case = Case("blade--design-examples", "II.B-1-flange")
sheet.near("holes", "bearing and tear-out at the holes of a side plate", plate(case), {"T [lbf]": 2000 * 8 * case["r_t"]}, case.source("twice r_t at eight holes"), case.kind, tolerance=case.tolerance)
flat = {name: value for name, value in flat.items() if "F_u_pin" not in name}
sheet.near("seat", "tension and bending of a side plate at the seat", flat, {"H_perp [lbf]": bar["M_cy"] * 1000 / 4}, bar.source("M_cy over 4 in"), bar.kind, tolerance=bar.tolerance)
sheet.near("play", "play of the screws in the holes", plate(drawn), play, HOLE, "published", tolerance=1e-8)
sheet.write()

sheet = Sheet("sleeve-base")
bolts, tube = Case("sleeve-base--put-together", "bolts-1"), Case("sleeve-base--put-together", "tube-1")
sheet.from_case("wood", "uplift and shear on the bolts", bolts, "Z_N", {"P [lbf]": -bolts["Z_N"]})
sheet.from_case("tube", "uplift on the net section of the tube", tube, "60 ksi on half of A_t", {"P [lbf]": -60000 * tube["A_t"] / 2}, by=0.02)
# The rest by hand: a bolt of 1/2 in of A36, walls of 0.93 x 0.154 in of A53 Gr B (35, 60 ksi), an edge of 2 in.
wall = 0.93 * 0.154
for key, words, load, what in (
    ("bolt", "shear of the bolts", 2 * 0.563 * 58000 * math.pi * 0.25**2 / 2, "0.563 F_u on two planes over 2, AISC 360-16 J3.6"),
    ("walls", "bearing of the bolts on the walls", 2 * 1.8 * 35000 * 0.5 * wall / 2, "1.8 F_y on two walls over 2, AISC 360-16 Eq. J7-1"),
    ("edge", "tear-out toward the top edge of the tube", 2 * 1.2 * (2 - 0.5625 / 2) * wall * 60000 / 2, "1.2 l_c t F_u on two walls over 2, AISC 360-16 Eq. J3-6c"),
):
    sheet.near(key, words, bolts.given, {"P [lbf]": -load}, f"{what}, by hand", "independent", tolerance=1e-5)
sheet.near("play", "play of the bolts in the holes", bolts.given, lambda share: {"pin_hole [in]": 0.5 + 0.0625 * share}, HOLE, "published", tolerance=1e-8)
sheet.write()

sheet = Sheet("weld")
case = Case("weld--design-examples", "J.1")
# Two welds of 27.375 in less a leg at both ends.
sheet.from_case("metal", "weld metal", case, "F_w on 54 in", {"V [lbf]": case["F_w"] * 1000 * 54})
match = Case("weld--design-examples", "II.C-2-match2")
sheet.from_case("steel", "steel beside the welds", match, "F_b and F_p on 15.25 in", {"V [lbf]": match["F_b"] * 1000 * 2 * (8 - 2 * 0.1875)})
sheet.from_case("leg", "minimum leg of the weld", case, "a_min", {"a [in]": case["a_min"]}, more=True)
sheet.write()

sheet = Sheet("seat")
for id in ("K.9-V16", "J.6-V16"):
    case = Case("seat--design-examples", id)
    sheet.from_case(id, "seat plate thick enough to spread the end bearing", case, "t_req", {"t [in]": case["t_req"]}, more=True)
for id in ("up", "down"):
    case = Case("seat--side-plates", id)
    sheet.from_case(id, "bending of the seat plate by the side plates", case, "t_s", {"t [in]": case["t_s"]}, more=True)
sheet.write()

sheet = Sheet("blade-seat")
for id in ("pipe-up", "pipe-normal", "in-pipe"):
    case = Case("blade-seat--strips", id)
    # What is needed falls as the root of the yield stress.
    needed = 36000 * (case["t_req"] / case.number("t_p [in]")) ** 2
    sheet.from_case(f"{id}-seat", "bending of the seat between blade and standoff", case, "t_req", lambda share: {"F_y [psi]": needed * share**2}, more=True)
    wall = case["n"] / (0.93 * case.number("t [in]"))
    sheet.from_case(f"{id}-wall", "wall of the pipe under the blade", case, "n", {"F_y_leg [psi]": wall * 1.5}, more=True)
sheet.write()

sheet = Sheet("standoff")
case = Case("standoff--design-examples", "II.A-19B")
sheet.from_case("download", "download on the standoff", case, "P_c", {"P [kip]": case["P_c"]})
rod = Case("standoff--design-examples", "F.13-V15.1")
bend = {"V_x [lbf]": rod["M_cx"] * 12000 / 10}
sheet.from_case("press", "compression and bending of the standoff", rod, "M_cx over 10 in", bend, {"P [kip]": 0})
# A pull of a pound, so that it is a pull.
sheet.from_case("pull", "tension and bending of the standoff", rod, "M_cx over 10 in", bend, {"P [kip]": -0.001})
sheet.near("shear", "shear of the standoff", rod.given, {"V_x [lbf]": 0.6 * 36000 * math.pi / 4 / 1.5}, "0.6 F_y on the section over 1.5, by hand", "independent", tolerance=1e-5)
pipe = Case("standoff--design-examples", "E.11")
sheet.near("wall", "the wall of the pipe is compact", pipe.given, {"t [in]": 10.75 / 0.93 / (0.07 * 29000 / 35)}, "the wall of 0.07 E / F_y, AISC 360-16 Table B4.1b, case 20, by hand", "independent", more=True)
sheet.write()

sheet = Sheet("anchor-plate")
for id in ("U1", "D1"):
    case = Case("anchor-plate--limit-analysis", id)
    sheet.from_case(id, "bending of the plate below the standoff", case, "t_req", {"t [in]": case["t_req"]}, more=True)
sheet.write()

# A report's values are what is given: the base is invented, and its load durations are those of the loads.
sheet = Sheet("moment-base")
base = {"P [lbf]": 0, "M_x [lbf ft]": 0, "M_y [lbf ft]": 0, "C_D": 1.6, "C_D_up": 1.6, "uplift [lbf]": 4000, "moment_x [lbf ft]": 1200, "moment_y [lbf ft]": 900, "service": "dry", "wet_factor": 0.8}
words = "uplift and moments together"
for key, name, value in (("uplift", "P [lbf]", -4000), ("along-x", "M_x [lbf ft]", 1200), ("along-y", "M_y [lbf ft]", 900)):
    sheet.near(key, words, base, {name: value}, "the value of an invented report, alone", "independent", tolerance=1e-9)
sheet.near("together", words, base, {"P [lbf]": -2000, "M_x [lbf ft]": 300, "M_y [lbf ft]": 225}, "a half and two quarters of an invented report", "independent", tolerance=1e-9)
# Heat takes a half off in wet wood, NDS 2018 Table 11.3.4, unless the report says that it takes a quarter.
hot = {**base, "service": "wet", "temperature": "125 to 150 F"}
sheet.near("hot", words, hot, {"P [lbf]": -4000 * 0.8 * 0.5}, "0.8 for wet wood and 0.5 for heat, NDS 2018 Table 11.3.4, of an invented report", "recalled", tolerance=1e-9)
sheet.near("hot-report", words, {**hot, "temperature_factor": 0.75}, {"M_x [lbf ft]": 1200 * 0.8 * 0.75}, "0.8 for wet wood and 0.75 for heat, both of an invented report", "independent", tolerance=1e-9)
sheet.write()

sheet = Sheet("base-interaction")
shares = {"r_C": 0.1, "r_T": 0, "r_x": 0.2, "r_y": 0.3, "r_M": 0.4}
words = "axial load, shears and moments together"
for key, interaction, kept in (
    ("all", "", "CTxyM"), ("all-typed", "all added", "CTxyM"), ("download", "download apart", "TxyM"), ("uplift", "only uplift and moments", "TM"),
):
    given = {**shares, "r_T": 0.05, **({"interaction": interaction} if interaction else {})}
    rest = sum(given[f"r_{name}"] for name in kept if name != "M")
    sheet.near(key, words, given, lambda share: {"r_M": share - rest}, "what is left of 1 by the ratios that the report adds", "independent", tolerance=1e-9)
sheet.write()

sheet = Sheet("rated-base")
base = {"P [lbf]": 0, "H_x [lbf]": 0, "H_y [lbf]": 0, "C_D": 1.6, "download [lbf]": 9000, "uplift [lbf]": 4000, "F_1 [lbf]": 1500, "F_2 [lbf]": 1000, "C_D_down": 1, "C_D_up": 1.6, "G": 0.5, "G_report": 0.42,
        "service": "dry", "wet_factor": 0.8, "b [in]": 5.5, "d [in]": 5.5, "seat_b_min [in]": 5, "seat_b_max [in]": 6, "fasteners": 4, "fasteners_report": 4, "anchors": 2, "anchors_report": 2,
        "anchor_d [in]": 0.625, "anchor_d_report [in]": 0.625, "report_expires": "2027-05-01", "job_date": "2026-05-01"}
invented = "the value of an invented report"
for key, words, name, value in (
    ("down", "download on the base", "P [lbf]", 9000), ("up", "uplift on the base", "P [lbf]", -4000), ("along-x", "shear on the base along x", "H_x [lbf]", 1500),
    ("along-y", "shear on the base along y", "H_y [lbf]", -1000), ("large", "the post is not too large for the seat", "d [in]", 6),
):
    sheet.near(key, words, base, {name: value}, invented, "independent", tolerance=1e-9)
sheet.near("together", "uplift and shear together", base, {"P [lbf]": -2000, "H_x [lbf]": 375, "H_y [lbf]": 250}, "a half and two quarters of an invented report", "independent", tolerance=1e-9)
hot = {**base, "service": "wet", "temperature": "100 to 125 F"}
for key, words, name, value in (("hot-down", "download on the base", "P [lbf]", 9000), ("hot-up", "uplift on the base", "P [lbf]", -4000), ("hot-x", "shear on the base along x", "H_x [lbf]", 1500), ("hot-y", "shear on the base along y", "H_y [lbf]", -1000)):
    sheet.near(key, words, hot, {name: value * 0.8 * 0.7}, "0.8 for wet wood and 0.7 for heat, NDS 2018 Table 11.3.4, of an invented report", "recalled", tolerance=1e-9)
sheet.near("hot-report", "uplift on the base", {**hot, "temperature_factor": 0.9}, {"P [lbf]": -4000 * 0.8 * 0.9}, "0.8 for wet wood and 0.9 for heat, both of an invented report", "independent", tolerance=1e-9)
for key, words, name, value in (("wood", "density of the wood", "G", 0.42), ("small", "the post is not too small for the seat", "b [in]", 5), ("rod", "diameter of the anchors", "anchor_d [in]", 0.625)):
    sheet.near(key, words, base, {name: value}, invented, "independent", more=True, tolerance=1e-9)
for key, words, met, not_met in (
    ("fasteners", "every fastener of the schedule is installed", {"fasteners": 4}, {"fasteners": 3}), ("anchors", "number of anchors", {"anchors": 2}, {"anchors": 1}),
    ("date", "the report has not passed its renewal date", {"job_date": "2027-05-01"}, {"job_date": "2027-05-02"}),
):
    sheet.either(key, words, base, met, not_met, f"{invented}: it holds from there", "independent")
sheet.write()

sheet = Sheet("hinge")
braced = {"base_moment [lbf ft]": 0, "brace_x": "knee braces", "brace_y": "shear walls"}
sheet.either("moment", "moment on a hinged base", braced, {}, {"base_moment [lbf ft]": -50}, "statics: a hinge takes no moment", "independent")
for axis in "xy":
    sheet.either(axis, f"restraint of the top along {axis}", braced, {}, {f"brace_{axis}": "none"}, "statics: a post on a hinge falls over if nothing holds its top", "independent")
sheet.write()

sheet = Sheet("pin-connected")
case = Case("pin-connected--design-examples", "D.7")
for key, words, allowed in (("tension", "tension beside a single pin", "P_t"), ("shear", "shear beyond a single pin", "P_v")):
    sheet.from_case(key, words, case, allowed, {"T [kip]": case[allowed]})
# a = e_end - d_h / 2
sheet.near("beyond", "plate beyond a single pin", case.given, lambda share: {"e_end [in]": 1.33 * case["b_e"] * share + 1.03125 / 2}, "1.33 b_e, AISC 360-16 D5.2(c)", "recalled", more=True, tolerance=0.002)
sheet.near("play", "play of a single pin in its hole", case.given, lambda share: {"d_h [in]": 1 + share / 32}, case.source("1/32 in, the play"), case.kind, tolerance=1e-8)
sheet.write()

sheet = Sheet("finish")
dry = {"weather": "covered", "durable": "none"}
sheet.either("treated", "steel in contact with treated wood", {**dry, "durable": "treated"}, {"finish": "hot-dip galvanized"}, {"finish": "painted"}, "IBC 2021 2304.10.6.1: zinc-coated or stainless in treated wood")
sheet.either("weather", "steel exposed to weather", {**dry, "weather": "exposed"}, {"finish": "stainless"}, {"finish": "bare"}, "common practice, no source: outdoors galvanized or stainless", "independent")
sheet.write()

sheet = Sheet("weld-room")
low = {"a [in]": 0.3125}
sheet.either("welds", "the standoff has room for its welds", low, {"tall [in]": 0.625}, {"tall [in]": 0.5}, "two legs of 5/16 in are 5/8 in, by hand", "independent")
sheet.either("hole", "the standoff has room for its welds", {**low, "hole [in]": 0.25}, {"tall [in]": 0.875}, {"tall [in]": 0.75}, "two legs of 5/16 in and a hole of 1/4 in are 7/8 in, by hand", "independent")
sheet.write()
