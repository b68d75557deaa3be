"""Verdicts of the sheets in `ground`."""
import math

from verdicts import Case, Sheet, aci

MPA = 145.0377377
IBC = "IBC 2021 {}, as the Virginia Construction Code 2021 prints it (public copy)".format

sheet = Sheet("pier")
# The depth that is needed hangs on the depth that is there: both sides are worked cases, found by comparing.
for key, case in (("deep", Case("pier--equilibrium", "S-POLE-zh40")), ("shallow", Case("pier--equilibrium", "parabola-15"))):
    verdict = "met" if case["d_req"] <= case.number("d [ft]") else "not met"
    sheet.add(key, case.given, "depth of the pier for shear, nonconstrained", verdict, case.source("d_req"), case.kind, case["d_req"] / case.number("d [ft]"), case.tolerance)
sheet.write()

sheet = Sheet("pier-constrained")
case, words = Case("pier-constrained--equilibrium", "S-POLE-con"), "depth of the pier for shear, constrained"
# d_req grows with the square root of the shear.
sheet.near("depth", words, case.given, lambda share: {"P [lbf]": case.number("P [lbf]") * share**2}, case.source("the depth under the shear"), case.kind, tolerance=case.tolerance)
sheet.either("slab", "slab that constrains the pier", case.given, {"slab": "yes"}, {"slab": "no"}, "IBC 1807.3.2.2, as a public calculation of canopy columns reads it: held at grade by a slab, a pavement or a grade beam", "published")
sheet.write()

sheet = Sheet("plain-footing")
case, pad = Case("plain-footing--grid", "grid-01"), "P_u [lbf]"
for key, words, demand, allowed in (("bending", "bending of the plain pad", "M_s", case["M_n"] / 12), ("shear", "one-way shear of the plain pad", "V_s", case["V_n"]),
                                    ("punching", "punching shear of the plain pad", "V_p", case["V_np"])):
    load = case.number(pad) * 0.6 * allowed / case[demand]
    sheet.from_case(key, words, case, f"0.6 times the strength over {demand}", {pad: load})
sheet.near("thick", "thickness of the pad", case.given, {"t [in]": 8}, "8 in, ACI 318-19 14.3.2.1", "recalled", more=True, tolerance=1e-9)
sheet.near("thick-mm", "thickness of the pad", case.given, {"t [in]": 200 / 25.4}, aci("200 mm", "14.3.2.1", 14), "published", more=True, by=0.02)
sheet.near("projection", "projection of a plain pad in SDC C and up", {**case.given, "sdc": "C", "B [in]": 30, "L [in]": 30}, {"t [in]": 12}, "the projection of 12 in, IBC 2021 1905.1.7", "recalled", more=True, tolerance=1e-9)
sheet.near("concrete-mpa", "concrete of a pad in SDC D and up", {**case.given, "sdc": "D"}, {"f_c' [psi]": 21 * MPA}, aci("21 MPa for foundations in SDC D to F", "Table 19.2.1.1", 19), "published", more=True, by=0.02)
sheet.near("concrete", "concrete of a pad in SDC D and up", {**case.given, "sdc": "D"}, {"f_c' [psi]": 3000}, "3000 psi, ACI 318-19 Table 19.2.1.1", "recalled", more=True, tolerance=1e-9)
sheet.write()

sheet = Sheet("sliding")
for id in ("slide-1", "slide-2"):
    case = Case("sliding--integrated", id)
    sheet.from_case(id, "sliding", case, "R", {"H [lbf]": case["R"]})
sheet.write()

sheet = Sheet("frost")
ground = {"depth [in]": 40, "frost [in]": 36}
sheet.near("least", "depth below undisturbed ground", {"frost [in]": 0}, {"depth [in]": 12}, f"12 in, {IBC('1809.4')}", "published", more=True, tolerance=1e-9)
sheet.near("frost", "depth for frost protection", ground, {"depth [in]": 36}, f"the frost depth of the place, {IBC('1809.5')}", "published", more=True, tolerance=1e-9)
sheet.write()

sheet = Sheet("concrete-exposure")
for id in ("F1", "F2", "F3", "S1", "S2", "W2", "C2", "F1-S1"):
    case = Case("concrete-exposure--classes", id)
    sheet.from_case(id, "concrete strength for its exposure", case, "f_min", {"f_c' [psi]": case["f_min"]}, more=True)
for id, mpa in (("F1", 24), ("F2", 31), ("F3", 35), ("S1", 28), ("S2", 31), ("W2", 28), ("C2", 35)):
    source = aci(f"{mpa} MPa for {id}", "Table 19.3.2.1", 19)
    sheet.near(f"{id}-mpa", "concrete strength for its exposure", Case("concrete-exposure--classes", id).given, {"f_c' [psi]": mpa * MPA}, source, "published", more=True, by=0.02)
sheet.write()

sheet = Sheet("soil-values")
report = {"class": "soils report", "q_rep [psf]": 2000, "S_rep [psf/ft]": 150, "mu_rep": 0.3}
sheet.either("report", "the soils report is named", report, {"report": "demo report of 2 May 2026"}, {}, "IBC 2021 1803.2: a report is named where its values are used")
sheet.write()

sheet = Sheet("plain-pier")
case = Case("plain-pier--strips", "strips-01")
pier = {**case.given, "P_u [lbf]": 0}
# Without axial load the stress is M / S; a formed 18 in side has S = 972 in3, and 5 sqrt(f_c') of 3000 psi is 273.86.
arm, section = 4 + 60 / 3, 18**3 / 6
sheet.near("bending", "bending of the plain pier", pier, {"H_u [lbf]": 0.6 * 5 * math.sqrt(3000) * section / arm}, "0.6 x 5 sqrt(f_c') times the section modulus over the arm, by hand", "independent", tolerance=1e-7)
sheet.near("compression", "compression of the plain pier", {**case.given, "H_u [lbf]": 0}, {"P_u [lbf]": 0.6 * case["P_n"]}, case.source("0.6 P_n"), case.kind, tolerance=case.tolerance)
sheet.either("uplift", "uplift on the plain pier", case.given, {"P_u [lbf]": 0}, {"P_u [lbf]": -100}, "ACI 318-19 14.5.1.6: bars in plain concrete get no strength")
# A slab at the ground would hold the pier; without one the shear at the pivot is 22 (15/22)^3 - 1 times the one above, where that stands three depths up.
plain = 0.6 * 4 / 3 * math.sqrt(3000) * 18**2
sheet.near("shear", "shear of the plain pier", case.given, {"H_u [lbf]": plain}, "0.6 x 4/3 sqrt(f_c') of 18 in square, by hand", "independent", tolerance=1e-7)
sheet.near("pivot", "shear of the plain pier", {**case.given, "h_free [in]": 45, "d [in]": 15}, {"H_u [lbf]": plain / (22 * (15 / 22) ** 3 - 1)}, "0.6 x 4/3 sqrt(f_c') of 18 in square, by hand", "independent", tolerance=1e-7)
sheet.near("tall", "height of a plain pier above the ground", case.given, {"h_free [in]": 3 * 18}, aci("three times the side", "14.3.3.1", 14), "published", tolerance=1e-9)
sheet.either("category", "plain pier, not allowed in SDC C and up", case.given, {"sdc": "B"}, {"sdc": "C"}, "IBC 2021 1905.1.7, ACI 318-19 14.1.4")
sheet.near("concrete-mpa", "concrete of a pier in SDC D and up", {**case.given, "sdc": "D"}, {"f_c' [psi]": 21 * MPA}, aci("21 MPa for foundations in SDC D to F", "Table 19.2.1.1", 19), "published", more=True, by=0.02)
sheet.near("concrete", "concrete of a pier in SDC D and up", {**case.given, "sdc": "D"}, {"f_c' [psi]": 3000}, "3000 psi, ACI 318-19 Table 19.2.1.1", "recalled", more=True, tolerance=1e-9)
sheet.write()

sheet = Sheet("soil-bearing")
for key, id in (("square", "plane-01"), ("round", "round-2.0"), ("tilted", "tilted-27")):
    case = Case("soil-bearing--plane", id)
    sheet.from_case(key, "pressure on the soil", case, "q", {"q_a [psf]": case["q"]}, more=True)
sheet.write()

sheet = Sheet("pier-bars")
# Two bars stand across the whole ring: D_r - d_b clear, 16 - 6 - 2 x 0.5 = 9 in; for No. 4 bars 1.5 in is asked.
sheet.near("wide", "clear spacing of the vertical bars", {"bar": "No. 4", "n_bars": 2}, lambda share: {"b [in]": 6 + 2 * 0.5 + 1.5 * share}, "1.5 in clear between two No. 4 bars, ACI 318-19 25.2.3, by hand", "independent", more=True, tolerance=1e-7)
sheet.write()

sheet = Sheet("overturning")
for id in ("edge-1", "edge-2"):
    case = Case("overturning--edge", id)
    sheet.from_case(id, "overturning", case, "the shear", {"H [lbf]": case.number("H [lbf]")}, ratio=case.number("P [lbf]") >= 0)
sheet.write()

sheet = Sheet("uplift-weight")
case = Case("uplift-weight--parts", "parts--1200")
sheet.from_case("weight", "weight resisting uplift", case, "R", {"P [lbf]": -case["R"]})
sheet.write()

# The ties reach 8 - 3 - 0.375 = 4.625 in from the middle of a pier of 16 in, 0.25 in of which half an anchor takes.
sheet = Sheet("anchors-in-ties")
pier = {"b [in]": 16, "d_t [in]": 0.375, "n_x": 2, "n_y": 2, "d_a [in]": 0.5}
for shape, far, out in (("round", 6.18, 6.2), ("square", 8.74, 8.76)):
    reach = "along the diagonal" if shape == "round" else "along a side"
    sheet.either(shape, "the ties near the top go around the anchors", {"shape": shape, **pier}, {"s_x [in]": far, "s_y [in]": far}, {"s_x [in]": out, "s_y [in]": out},
                 f"anchors no farther than 4.375 in from the middle {reach}, by hand", "independent")
sheet.write()
