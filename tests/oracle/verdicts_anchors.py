"""Verdicts of the sheets in `anchors`, and of those in `loads` that have a limit."""
import math

from verdicts import Case, Sheet, aci

sheet = Sheet("anchor-breakout")
for id in ("area-02", "area-03", "pier-12"):
    case = Case("anchor-breakout--areas", id)
    sheet.from_case(id, "concrete breakout in tension", case, "N_d", {"N_ua [lbf]": case["N_d"]})
cast = {**Case("anchor-breakout--areas", "pier-12").given, "c_x1 [in]": 60, "c_x2 [in]": 60, "c_y1 [in]": 60, "c_y2 [in]": 60}
drilled = {**cast, "h_ef [in]": 4, "k_c": 17, "category": "category 1"}
sheet.near("group", "spacing at which anchors act as a group", {**cast, "n_x": 2, "h_ef [in]": 6}, {"s_x [in]": 18}, "3 h_ef, ACI 318-19 Table 17.5.1.3.1", "recalled")
sheet.near("concrete", "concrete strength at a post-installed anchor", drilled, {"f_c' [psi]": 8000}, "8000 psi, ACI 318-19 17.3.1", "recalled", tolerance=1e-9)
sheet.near("concrete-mpa", "concrete strength at a post-installed anchor", drilled, {"f_c' [psi]": 55 * 145.0377377}, aci("55 MPa", "17.3.1", 17), "published")
sheet.either("category", "category of a post-installed anchor", drilled, {}, {"category": "cast-in"}, aci("a post-installed anchor has category 1, 2 or 3", "Table 17.5.3(b)", 17), "published")
sheet.write()

sheet = Sheet("anchor-shear-breakout")
for id in ("area-01", "pier-12"):
    case = Case("anchor-shear-breakout--areas", id)
    sheet.from_case(id, "concrete breakout in shear toward the edge", case, "V_d", {"V_ua [lbf]": case["V_d"]})
case = next(case for case in (Case("anchor-shear-breakout--areas", f"area-{k:02}") for k in range(1, 45)) if case.row["expect V_cbg_par [lbf]"])
sheet.from_case("both", "shear toward and along the edge together", case, "half of V_d and half of 0.7 V_cbg_par", {"V_ua [lbf]": case["V_d"] / 2, "V_par [lbf]": 0.7 * case["V_cbg_par"] / 2})
case = Case("anchor-shear-breakout--areas", "pier-12")
sheet.near("group", "spacing at which the row acts as a group", {**case.given, "n": 2}, {"s [in]": 18}, "3 c_a1, ACI 318-19 Table 17.5.1.3.1", "recalled")
sheet.write()

sheet = Sheet("anchor-steel")
case = Case("anchor-steel--published", "A-PCA-34.5a")
sheet.from_case("tension", "tension on the steel of an anchor", case, "N_d", {"N_ua [lbf]": case["N_d"]})
case = Case("anchor-steel--published", "349.2R-A3")
sheet.from_case("shear", "shear on the steel of an anchor", case, "0.65 V_sa", {"V_ua [lbf]": 0.65 * case["V_sa"]})
case = Case("anchor-steel--published", "A-DG1-TA1-5/8-105")
sheet.near("guide", "tension on the steel of an anchor", case.given, {"N_ua [lbf]": 0.75 * case["N_sa"]}, case.source("0.75 N_sa"), case.kind, by=0.05)
sheet.write()

sheet = Sheet("anchor-steel-report")
case = Case("anchor-steel-report--phi", "report-no")
sheet.from_case("tension", "tension on the steel of an anchor", case, "N_d", {"N_ua [lbf]": case["N_d"]})
sheet.from_case("shear", "shear on the steel of an anchor", case, "V_d", {"V_ua [lbf]": case["V_d"]})
sheet.write()

sheet = Sheet("anchor-pullout")
case = Case("anchor-pullout--published", "A-DG1-T32-3_4-3000")
sheet.from_case("headed", "pullout of an anchor", case, "the printed strength", {"N_ua [lbf]": case["N_d"]})
case = Case("anchor-pullout--published", "report-2500")
sheet.either("category", "category of a post-installed anchor", case.given, {}, {"category": "cast-in"}, aci("a post-installed anchor has category 1, 2 or 3", "Table 17.5.3(c)", 17), "published")
sheet.write()

sheet = Sheet("anchor-blowout")
for id in ("blowout-01", "blowout-02"):
    case = Case("anchor-blowout--limits", id)
    sheet.from_case(id, "side-face blowout", case, "N_d", {"N_ua [lbf]": case["N_d"]})
sheet.write()

sheet = Sheet("anchor-pryout")
case = Case("anchor-pryout--published", "349.2R-A3")
sheet.from_case("A3", "pryout", case, "0.70 V_cp", {"V_ua [lbf]": 0.7 * case["V_cp"]})
sheet.write()

sheet = Sheet("anchor-interaction")
for id, words in (("outline-30", "tension and shear together"), ("outline-2", "tension and shear, each alone"), ("outline-88", "tension and shear, each alone")):
    case = Case("anchor-interaction--outline", id)
    sheet.from_case(id, words, case, "the point on the outline", {name: case.number(name) for name in ("r_N", "r_V")})
sheet.write()

sheet = Sheet("anchor-standoff")
for id in ("standoff-at-1-01", "standoff-at-1-02"):
    case = Case("anchor-standoff--strips", id)
    sheet.from_case(id, "axial force and bending in the free-standing rods", case, "the loads", {name: case.number(name) for name in ("N_ua [lbf]", "V_ua [lbf]")},
                    ratio=id.endswith("01"))  # the other stands where the two lines of H1.1 meet
d = math.sqrt(4 * case.number("A_se [in^2]") / math.pi)
sheet.near("slender", "slenderness of the free-standing rods", case.given, {"l_gap [in]": 25 * d / 4 / 1.2}, "1.2 l / r of 25, AISC 360-16 J4.4", "recalled", tolerance=1e-8)
sheet.write()

sheet = Sheet("concrete-bearing")
case = Case("concrete-bearing--spread", "grown-01")
sheet.from_case("grown", "bearing on the concrete", case, "B_d", {"P_u [lbf]": case["B_d"]})
sheet.write()

sheet = Sheet("anchor-reinforcement")
case, bar = Case("anchor-reinforcement--geometry", "cross-02"), Case("bar-development--table", "25.4.2.3-4-3000-1.5")
sheet.from_case("bars", "tension in the bars", case, "N_d", {"N_ua [lbf]": case["N_d"]})
given = {**case.given, "c_b [in]": 0.75, "top": "straight", "g [in]": 3, "c_top [in]": 3, "l_bar [in]": 60}
# The breakout surface falls 2 in on its 3 in to the bars, which begin 3 in below the top.
sheet.near("above", "development of the bars above the breakout surface", given, lambda share: {"h_ef [in]": bar["l_d"] * share + 2 + 3}, bar.source("l_d"), bar.kind, more=True, tolerance=1e-8)
sheet.near("below", "development of the bars below the breakout surface", {**given, "h_ef [in]": 25}, lambda share: {"l_bar [in]": 20 + bar["l_d"] * share}, bar.source("l_d"), bar.kind, more=True, tolerance=1e-8)
sheet.near("near", "distance of the bars from the anchors", case.given, {"g [in]": 6}, "half of h_ef, as a public worksheet of a column's anchors has it by ACI 318 R17.5.2.1 (225 mm for 450 mm)", "published", tolerance=1e-8)
sheet.write()

sheet = Sheet("anchor-spacing")
multiples = Case("anchor-spacing--table", "A-T1792-cast")
sheet.from_case("spacing", "spacing of the anchors", multiples, "s_min", {"s [in]": multiples["s_min"]}, more=True)
multiples = Case("anchor-spacing--table", "A-T1792-cast-torqued")
sheet.from_case("edge", "edge distance of the anchors", multiples, "c_tab", {"c [in]": multiples["c_tab"]}, more=True)
drilled = {"anchor": "screw", "d_a [in]": 0.5, "h_ef [in]": 4, "n": 2, "s [in]": 8, "c [in]": 8, "h_a [in]": 12}
glued = {**drilled, "anchor": "adhesive"}
rule = lambda what, clause: f"{what}, ACI 318-19 {clause}"
sheet.near("cover", "edge distance of the anchors", {**drilled, "anchor": "cast-in"}, {"c [in]": 1.5 + 0.25}, rule("1-1/2 in of cover and half the rod", "Table 20.5.1.3.1"), "recalled", more=True, tolerance=1e-8)
sheet.near("cover-head", "edge distance of the anchors", {**drilled, "anchor": "cast-in", "w_head [in]": 1}, {"c [in]": 1.5 + 0.5}, rule("1-1/2 in of cover and half the head", "Table 20.5.1.3.1"), "recalled", more=True, tolerance=1e-8)
sheet.near("depth", "minimum depth of concrete in the report", {**drilled, "h_rep [in]": 8}, {"h_a [in]": 8}, "the depth of an invented report", "independent", more=True, tolerance=1e-8)
sheet.near("glued-least", "minimum embedment of an adhesive anchor", glued, {"h_ef [in]": 2}, aci("4 d_a", "17.3.3", 17), "published", more=True, tolerance=1e-8)
sheet.near("glued-most", "maximum embedment of an adhesive anchor", glued, {"h_ef [in]": 10}, aci("20 d_a", "17.3.3", 17), "published", tolerance=1e-8)
sheet.near("depth-share", "embedment for this depth of concrete", {**drilled, "h_a [in]": 6}, {"h_ef [in]": 4}, aci("two thirds of the depth", "17.9.4", 17), "published", tolerance=1e-8)
sheet.near("screw-least", "minimum embedment of a screw anchor", drilled, {"h_ef [in]": 2.5}, aci("5 d_a", "17.3.4", 17), "published", more=True, tolerance=1e-8)
sheet.near("screw-most", "maximum embedment of a screw anchor", drilled, {"h_ef [in]": 5}, aci("10 d_a", "17.3.4", 17), "published", tolerance=1e-8)
sheet.write()

sheet = Sheet("anchor-seismic")
given = {**Case("anchor-seismic--routes", "route-D-6-no").given, "Omega_0": 2.5}
pull, push = lambda route: {**given, "route_N": route}, lambda route: {**given, "route_V": route}
ductile = {**pull("ductile anchor"), "N_s [kip]": 20, "N_c [kip]": 30, "l_s [in]": 6, "d_a [in]": 0.5, "f_ratio": 1.5}
clause = lambda where, what: aci(what, f"17.10.{where}", 17)
sheet.either("route-N", "seismic design route for tension", given, {}, {"route_N": "none"}, clause("5.3", "one of four ways"), "published")
sheet.either("route-V", "seismic design route for shear", given, {}, {"route_V": "none"}, clause("6.3", "one of three ways"), "published")
sheet.either("factor-N", "overstrength factor", pull("overstrength"), {}, {"Omega_0": 1}, clause("5.3(d)", "the loads include the overstrength factor"), "published")
sheet.either("factor-V", "overstrength factor, shear", push("overstrength"), {}, {"Omega_0": 1}, clause("6.3(c)", "the loads include the overstrength factor"), "published")
sheet.near("most-N", "tension that the attachment or the structure can deliver", pull("largest force"), {"N_lim [kip]": 10}, clause("5.3(c)", "the tension of the combination, the largest that can be brought"), "published", more=True, tolerance=1e-8)
sheet.near("most-V", "shear that the attachment or the structure can deliver", push("largest force"), {"V_lim [kip]": 4}, clause("6.3(b)", "the shear of the combination, the largest that can be brought"), "published", more=True, tolerance=1e-8)
sheet.near("yields", "concrete stronger than 1.2 times the steel", ductile, {"N_c [kip]": 24}, clause("5.3(a)", "1.2 times the steel"), "published", more=True, tolerance=1e-8)
sheet.near("stretch", "stretch length", ductile, {"l_s [in]": 4}, clause("5.3(a)", "8 diameters"), "published", more=True, tolerance=1e-8)
sheet.near("ratio", "ratio of tensile to yield strength of threaded rods", ductile, {"f_ratio": 1.3}, clause("5.3(a)", "1.3"), "published", more=True, tolerance=1e-8)
sheet.either("steel", "steel strength is given", ductile, {}, {"N_s [kip]": 0}, clause("5.3(a)", "the strength of the steel is compared"), "published")
sheet.write()

sheet = Sheet("screw-anchors")
given = {"f_c' [psi]": 3000, "plan": "rectangular", "B [in]": 24, "D [in]": 24, "h_a [in]": 24, "d_a [in]": 0.5, "n_x": 1, "n_y": 2, "s_y [in]": 6, "h_ef [in]": 3, "k_c": 17, "category": "category 1",
         "pullout": "does not govern", "N_sa [lbf]": 15000, "V_sa [lbf]": 7000, "ductile": "no", "c_ac [in]": 6, "s_min [in]": 3, "c_min [in]": 3, "h_min [in]": 6, "seismic_ok": "yes",
         "P_u [lbf]": -1000, "H_x [lbf]": 200, "H_y [lbf]": 0, "sdc": "C", "N_E [lbf]": 600, "Omega_0": 2}
sheet.either("report", "screw anchors in SDC C and up", given, {}, {"seismic_ok": "no"}, clause("3", "qualified for earthquake"), "published")
sheet.either("cracked", "concrete taken as cracked with earthquake in the tension", given, {}, {"cracked": "no"}, clause("5.4", "cracked unless shown otherwise"), "published")
sheet.write()

sheet = Sheet("seismic-shear")
case, walls = Case("seismic-shear--spectrum", "spectrum-1"), Case("seismic-shear--spectrum", "spectrum-2")
sheet.near("unlisted", "R of a system not listed", case.given, {"R": 1.5}, "1.5, common practice, no source", "independent", tolerance=1e-8)
permit = Case("seismic-shear--permits", "E-everett2")
sheet.near("listed", "R is no more than that of the system", walls.given, {"R": permit.number("R")}, permit.source("R"), permit.kind, tolerance=1e-8)
sheet.near("tall", "height for this system", walls.given, {"h_n [ft]": 65}, "65 ft of A15 in category D, ASCE 7-16 Table 12.2-1", "recalled", tolerance=1e-8)
case = Case("seismic-shear--spectrum", "spectrum-4")
sheet.either("permitted", "the system is permitted in this design category", case.given, {}, {"category": "E"}, "ASCE 7-16 Table 12.2-1: A17 in D up to 35 ft, in E not permitted")
sheet.write()

sheet = Sheet("seismic-given")
case = Case("seismic-category--tables-11-6", "short-5-I")
given = {"n_req": case["n_req"], "sdc": "D", "rho": 1.3}
sheet.either("category", "seismic design category", given, {"sdc_job": "D", "n_job": 4}, {"sdc_job": "C", "n_job": 3}, case.source("n_req, 4 for D,"), case.kind)
sheet.write()

sheet = Sheet("cantilevered-column")
given = {"P [lbf]": 1000, "earthquake": "yes", "b [in]": 7.5, "d [in]": 7.5, "F_c' [psi]": 600}
sheet.near("axial", "axial load of a cantilevered column in an earthquake", given, {"P [lbf]": 0.15 * 600 * 7.5 * 7.5}, "15 percent of the available strength, ASCE 7-16 12.2.5.2", "recalled", tolerance=1e-9)
sheet.write()

sheet = Sheet("seismic-system")
walls, posts = {"system": "A15 wood panel walls", "brace": "shear walls"}, {"system": "G6 cantilevered timber columns", "brace": "none", "moment_rated": "yes"}
sheet.either("walls", "a system of walls has shear walls in its direction", walls, {}, {"brace": "knee braces"}, "ASCE 7-16 12.2.1: R is that of the system in this direction")
sheet.either("tops", "cantilevered posts have no bracing at their tops", posts, {}, {"brace": "knee braces"}, "ASCE 7-16 12.2.1: R is that of the system in this direction")
sheet.either("bases", "cantilevered posts are fixed at their bases", posts, {}, {"moment_rated": "no"}, "ASCE 7-16 12.2.1: R is that of the system in this direction")
sheet.either("listed", "a system not listed has bracing at the tops", {"system": "not listed", "brace": "knee braces"}, {}, {"brace": "none"}, "ASCE 7-16 12.2.1: R is that of the system in this direction")
sheet.near("overstrength", "overstrength factor of the system", posts, {"Omega_0": 1.5}, "1.5 of G6, ASCE 7-16 Table 12.2-1", "recalled", more=True, tolerance=1e-8)
sheet.write()

sheet = Sheet("anchor-group")
group = {"plan": "round", "B [in]": 18, "D [in]": 18, "d_a [in]": 0.75, "n_x": 2, "n_y": 2, "s_x [in]": 8, "s_y [in]": 8}
sheet.either("corners", "the corners of the plate are on the round pier", group, {"plate_x [in]": 12.72, "plate_y [in]": 12.72}, {"plate_x [in]": 12.74, "plate_y [in]": 12.74},
             "a square in a circle of 18 in has sides of 12.728 in, by hand", "independent")
sheet.write()
