"""Verdicts of the sheets in `wood`, of the screws and pins in it, and of clearance."""
import math

from verdicts import Case, Sheet, nds
from yield_gap import double

ONES = {name: 1 for name in ("C_D", "C_M", "C_t", "C_F", "C_i")}

sheet = Sheet("column")
for id in ("Gere-11.9-31-L6", "Col-4x4"):
    case = Case("column--worked-examples", id)
    area = case.number("b [in]") * case.number("d [in]")
    sheet.from_case(id, "compression of the post as a column", case, "F_c'", {"P [lbf]": case["F_c'"] * area})
case = Case("column--worked-examples", "Col-4x4")
sheet.near("slender", "slenderness of the post", case.given, {"l_e1 [in]": 50 * 3.5}, "50 times the side, NDS 2018 3.7.1.4", "recalled", tolerance=1e-9)
sheet.write()

sheet = Sheet("column-bending")
words = "bending and compression together"
for id in ("AWC-E1.8-LC1", "AWC-E1.8-LC2"):
    case = Case("column-bending--worked-examples", id)
    verdict = "met" if case["r_1"] <= 1 else "not met"
    sheet.add(id, case.given, words, verdict, case.source("r_1, and what is said of it,"), case.kind, case["r_1"], case.tolerance)
for id in ("corner-01", "corner-02"):
    case = Case("column-bending--second-order", id)
    loads = {name: case.number(name) for name in ("P [lbf]", "M_1 [lbf in]", "M_2 [lbf in]")}
    for key, words, r in (("tension", "bending and tension together", "r_1"), ("less", "bending, less tension", "r_2")):
        sheet.from_case(f"{id}-{key}", words, case, f"the loads over {r}", {name: load / case[r] for name, load in loads.items()})
case = Case("column-bending--second-order", "euler-01")
still, area = {"M_1 [lbf in]": 0, "M_2 [lbf in]": 0}, case.number("b [in]") * case.number("d [in]")
sheet.from_case("euler-1", "compression against buckling in the direction of d", case, "F_cE1", {"P [lbf]": case["F_cE1"] * area}, still)
sheet.from_case("euler-2", "bending and compression against lateral buckling", case, "F_cE2", {"P [lbf]": case["F_cE2"] * area}, still)
# R_B^2 = l_e d / b^2, and l_e = 1.84 l_u for a length of more than 14.3 d.
lean = {**case.given, "b [in]": 1.5, "d [in]": 5.5}
sheet.near("slender", "slenderness of the post for bending", lean, lambda share: {"l_u [in]": (50 * share) ** 2 * 1.5**2 / 5.5 / 1.84}, "50, NDS 2018 3.3.3.7", "recalled", tolerance=1e-8)
sheet.write()

sheet = Sheet("net-tension")
case = Case("net-tension--section-cells", "net-02")
sheet.from_case("section", "tension on the net section", case, "F_t 825 psi x 1.6 times A_n", {"P [lbf]": -825 * 1.6 * case["A_n"]})
sheet.write()

sheet = Sheet("tear-out")
case = Case("tear-out--integration", "tear-01")
for key, words, allowed in (("net", "uplift on the net section at the pins", "Z_NT'"), ("rows", "row tear-out at the pins", "Z_RT'"), ("group", "group tear-out at the pins", "Z_GT'")):
    sheet.from_case(key, words, case, allowed, {"P [lbf]": -case[allowed]})
case = Case("tear-out--nds-app-e", "E.7")
sheet.near("E.7", "row tear-out at the pins", case.given, {"P [lbf]": -case["Z_RT'"]}, case.source("Z_RT'"), case.kind)
sheet.write()

sheet = Sheet("side-bearing")
case = Case("side-bearing--effective-area", "side-01")
sheet.from_case("sill", "bearing perpendicular to grain", case, "F_c_perp' times A_brg", {"P [lbf]": case["F_c_perp'"] * case["A_brg"]})
sheet.write()

sheet = Sheet("post-section")
case = Case("post-section--by-hand", "square")
sheet.near("compression", "compression on the net section", case.given, {"P [lbf]": 1150 * 45}, "1150 psi on 45 in2, by hand", "independent", tolerance=1e-8)
sheet.from_case("shear", "shear of the post", case, "F_v' on 2/3 of 56.25 in2", {"V_x [lbf]": case["F_v'"] * 7.5 * 7.5 * 2 / 3}, {"V_y [lbf]": 0})
sheet.write()

sheet = Sheet("end-bearing")
seat = {"b [in]": 7.5, "d [in]": 7.5, "seat_b [in]": 6, "seat_d [in]": 5, "slot [in]": 0.5, "slot_run [in]": 4, "F_c [psi]": 1000, **ONES, "P [lbf]": 5000, "seat": "steel"}
sheet.near("grain", "bearing on the end grain", seat, {"P [lbf]": 1000 * 28}, "1000 psi on 6 x 5 - 0.5 x 4 in2, by hand", "independent", tolerance=1e-8)
sheet.near("area", "end grain that bears on the seat", {**seat, "slot [in]": 0, "seat_b [in]": 1, "P [lbf]": 0}, {"seat_d [in]": 1}, "1 in2: no seat is smaller, by hand", "independent", more=True)
sheet.either("plate", "bearing on a steel plate where the stress is over 0.75 F_c*", {**seat, "P [lbf]": 22000}, {"seat": "steel"}, {"seat": "other"}, "NDS 2018 3.10.1.3: a metal plate where the stress is over 0.75 F_c*")
sheet.write()

sheet = Sheet("shear-at-pins")
wood = {"b [in]": 7.5, "d [in]": 7.5, "slot [in]": 0.5, "e [in]": 2.5, "F_v [psi]": 170, "C_D": 1.6, "C_M_v": 1, "C_t": 1, "C_i": 1}
# 2/3 x 272 psi x 7 in x 5 in x (5 / 7.5)^2
sheet.near("shear", "shear of the wood at the pins", wood, {"H [lbf]": 2 / 3 * 272 * 7 * 5 * (5 / 7.5) ** 2}, "2820.7 lbf, NDS 2018 Eq. 3.4-6, by hand", "independent", tolerance=1e-8)
short = {**wood, "t [in]": 5}
sheet.near("short", "shear of the wood at the pins", short, {"H [lbf]": 2 / 3 * 272 * 5 * 5 * (5 / 7.5) ** 2}, "2014.8 lbf, the same on the 5 in that short pins bear on, by hand", "independent", tolerance=1e-8)
sheet.write()

sheet = Sheet("slot-bearing")
cheek = {"blade_wide [in]": 3, "blade_tall [in]": 8, "F_c_perp [psi]": 625, "C_M_perp": 0.67, "C_t": 1}
sheet.near("cheek", "bearing of the wood on the face of the steel", cheek, {"H_perp [lbf]": 625 * 0.67 * 12}, "625 x 0.67 psi on half of 3 x 8 in2, by hand", "independent", tolerance=1e-8)
sheet.write()

sheet = Sheet("slot-cheeks")
case = Case("slot-cheeks--by-hand", "8x8")
sheet.from_case("8x8", "shear normal to the blade on a cheek", case, "V_r'", {"H_perp [lbf]": case["V_r'"]})
sheet.write()

sheet = Sheet("brace-foot")
for key, words, id, r, loads in (
    ("compression", "bending and compression at the brace foot", "foot-05", "r_c", ("M_x [lbf in]", "M_y [lbf in]")),
    ("tension", "bending and tension at the brace foot", "foot-03", "r_t", ("M_x [lbf in]", "M_y [lbf in]", "P [lbf]")),
    ("shear", "shear at the brace foot", "foot-04", "r_v", ("V_x [lbf]", "V_y [lbf]")),
):
    case = Case("brace-foot--corners", id)
    sheet.from_case(key, words, case, f"the loads over {r}", {name: case.number(name) / case[r] for name in loads})
sheet.write()

sheet = Sheet("fire-retardant")
sheet.either("wood", "design values of wood without fire-retardant chemicals", {}, {"fire_retardant": "no"}, {"fire_retardant": "yes"}, "NDS 2018 2.3.4: values of such wood come from the company that treats it")
sheet.write()

sheet = Sheet("geometry-factor")
one = {"D [in]": 0.5, "l [in]": 5, "direction": "toward the end", "wood": "softwood", "n": 1, "rows": 1, "a [in]": 3.5, "s [in]": 2, "e [in]": 2, "s_row [in]": 2}
across = {**one, "direction": "across", "n": 2, "rows": 2, "s [in]": 3}
table = lambda what, name: nds(what, f"Table 12.5.1{name}", 90 if name in "AB" else 91)
for key, words, given, name, at, source in (
    ("end", "minimum end distance of the pins", one, "a [in]", 3.5 * 0.5, table("3.5 D", "A")),
    ("row", "minimum spacing of the pins along the grain", {**one, "n": 2}, "s [in]", 3 * 0.5, table("3 D", "B")),
    ("rows", "spacing of the rows", {**one, "rows": 2}, "s_row [in]", 1.5 * 0.5, table("1.5 D", "D")),
    ("across-rows", "spacing along the grain of pins loaded across it", across, "s [in]", 5 * 0.5, table("5 D at l / D of 10", "D")),
    ("across-row", "spacing across the grain of pins loaded across it", across, "s_row [in]", 3 * 0.5, table("3 D", "B")),
    ("edge", "edge distance of the pins", one, "e [in]", 1.5 * 0.5, table("1.5 D", "C")),
    ("edge-across", "edge distance of the pins", {**across, "n": 1, "rows": 1}, "e [in]", 4 * 0.5, table("4 D, loaded edge", "C")),
):
    sheet.near(key, words, given, {name: at}, source, "published", more=True, tolerance=1e-8)
sheet.near("plate", "outer rows on one steel plate", {**one, "rows": 3}, {"s_row [in]": 2.5}, nds("5 in over two spacings", "12.5.1.3", 90), "published", tolerance=1e-8)
sheet.write()

# One pin, far from end and edges: the collapse load of the dowel (yield_gap.py) over R_d, times C_D, and nothing else.
sheet = Sheet("blade-pins")
pins = {"b [in]": 7.5, "d [in]": 7.5, "H_plane [lbf]": 0, "C_D": 1.6, "G": 0.5, "E_wood [psi]": 1600000, "kind_of_wood": "softwood", "service": "dry", "fabrication": "dry", "D [in]": 0.75,
        "l_pin [in]": 7, "F_yb [psi]": 45000, "blade [in]": 0.375, "blade_wide [in]": 4, "slot [in]": 0.4375, "F_e_plate [psi]": 87000, "n": 1, "rows": 1, "a_end [in]": 6}
source = "1.6 times the value of one pin: plastic collapse across the play of the blade, as in oracle/yield_gap.py"
for key, slot, taper in (("pin", 0.4375, 0), ("tapered", 0.375, 0.5), ("play", 0.5, 0.25)):
    value = double(0.75, 0.375, (7 - slot) / 2 - taper, 87000, 5600, 45000, 0, (slot - 0.375) / 2)[1][0]
    sheet.near(key, "uplift and shear on the pins", {**pins, "slot [in]": slot, "taper [in]": taper}, {"P [lbf]": -1.6 * value}, source, "independent", tolerance=1e-5)
sheet.write()

sheet = Sheet("side-plates")
case, words = Case("side-plates--assembled", "plates-02"), "uplift and shear on the screws"
sheet.from_case("screws", words, case, "Z_N", {"P [lbf]": -case["Z_N"]})
# The tapered tip of a 5/8 in lag screw is 13/32 in long; the plate is 3/8 in.
sheet.near("reach", "penetration of the screws", {**case.given, "P [lbf]": -100}, lambda share: {"L [in]": 0.375 + 13 / 32 + 4 * 0.625 * share}, nds("4 D beyond plate and tip", "12.1.4.6 and Table L2", "74, 181"), "published", more=True, tolerance=1e-8)
sheet.write()

sheet = Sheet("floor-fasteners")
case, pull = Case("floor-fasteners--assembled", "floor-01-s"), Case("floor-fasteners--assembled", "floor-01-u")
sheet.from_case("shear", "shear on the screws", case, "Z_N", {"H_along [lbf]": case["Z_N"]})
sheet.from_case("uplift", "uplift on the screws", pull, "W_N", {"P [lbf]": -pull["W_N"]})
resultant = math.hypot(3500, 400)
sheet.from_case("both", "uplift and shear together on the screws", pull, "R_N", {"P [lbf]": -3500 * pull["R_N"] / resultant, "H_along [lbf]": 400 * pull["R_N"] / resultant})
alone = {**case.given, "P [lbf]": -900, "H_along [lbf]": 0, "rows": 2, "s_row [in]": 3}
sheet.near("steel", "tension in the steel of a screw", {**alone, "T_screw [lbf]": 400}, {"P [lbf]": -400 * 6}, "400 lbf on each of six screws, by hand", "independent", tolerance=1e-8)
# Four 1/4 in lags: 60 ksi on the root of 0.173 in over 2.0 is 705 lbf each; the wood would hold 4,815 lbf together.
lags = {**alone, "fastener": "lag", "D [in]": 0.25, "L [in]": 6, "n": 2, "G": 0.5, "C_D": 1.6, "service": "dry", "fabrication": "dry", "sill_t [in]": 7.5}
sheet.near("root", "tension in the steel of a screw", lags, {"P [lbf]": -4 * 60000 * math.pi * 0.173**2 / 4 / 2}, "60 ksi on the root section over 2.0, by hand", "independent", tolerance=1e-5)
for key, words, name, at, what in (
    ("edge", "edge distance of lag screws in withdrawal", "e [in]", 1.5, "1.5 D"), ("end", "end distance of lag screws in withdrawal", "a_end [in]", 4, "4 D"),
    ("along", "spacing of lag screws in withdrawal", "s [in]", 4, "4 D"), ("across", "spacing of rows of lag screws in withdrawal", "s_row [in]", 4, "4 D"),
):
    sheet.near(key, words, alone, {name: at * 0.625}, nds(what, "Table 12.5.1E", 91), "published", more=True, tolerance=1e-8)
sheet.near("reach", "penetration of the screws", case.given, lambda share: {"L [in]": 0.25 + 13 / 32 + 4 * 0.625 * share}, nds("4 D beyond plate and tip", "12.1.4.6 and Table L2", "74, 181"), "published", more=True, tolerance=1e-8)
sheet.write()

sheet = Sheet("clearance")
post = {"standoff [in]": 3, "ground": "concrete", "earth [in]": 12, "weather": "covered", "species": "Douglas Fir-Larch", "durable": "none", "code": "IRC 2021"}
sheet.near("concrete", "end grain above the concrete", {**post, "durable": "treated"}, {"standoff [in]": 1}, "1 in, common practice, no source", "independent", more=True, tolerance=1e-8)
case = Case("tables--clearances-ibc", "Decay-IBC2018-2024-2304.12.2.2-pier_or_pedestal_above_slab_or_deck")
sheet.near("slab", "end grain above the slab or pier, code minimum", {**post, "code": "IBC 2021"}, {"standoff [in]": case["clearance"]}, case.source("the clearance"), case.kind, more=True, tolerance=1e-8)
case = Case("tables--clearances-irc", "Decay-IRC2021-R317.1(1)-crawl_space_column_above_exposed_ground")
sheet.near("earth", "end grain above exposed earth", {**post, "under": "crawl space"}, {"earth [in]": case["clearance"]}, case.source("the clearance"), case.kind, more=True, tolerance=1e-8)
sheet.near("slab-2018", "end grain above the slab or pier, code minimum", post, {"standoff [in]": 1}, "1 in above a concrete floor, IRC 2012 to 2018 R317.1.4, as read in a scan of a county; in the 2021 edition R317.1(9)", "published", more=True, tolerance=1e-8)
sheet.either("dry", "wood that is neither durable nor treated", post, {}, {"weather": "exposed"}, "IRC 2021 R317.1(8), as read in a public forum thread: structural supports that are exposed to the weather", "published")
sheet.either("heart", "species that is naturally durable", {**post, "durable": "natural"}, {"species": "Redwood"}, {}, "IBC 2021 202: redwood and cedar are decay resistant, Douglas fir is not")
sheet.write()
