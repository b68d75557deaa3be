"""A base whose tube goes up into the post, worked without the formulas of its sheet.

    python3 tests/oracle/sleeve_base.py      writes ../check-values/sleeve-base--*.csv; needs scipy

Areas are added up from thin strips of the plan: of the post's foot on its seat, of the post at a bolt, of the tube at a
bolt. The bolts are dowels in plastic collapse across the play of the tube, solved by yield_gap.py from above and from below. Heights and the moment
at the foot are put together from the parts as a framer would measure them.
"""
import math

from csvout import write
from yield_gap import double

SOURCE = "tests/oracle/sleeve_base.py: "
WOOD = {
    "G": 0.5, "E": 1600000, "kind_of_wood": "softwood", "service": "dry", "fabrication": "dry", "C_D": 1.6,
    "timber-values.F_c": 1000, "timber-values.F_t": 825, "timber-values.F_v": 170, "timber-values.F_c_perp": 625,
    **{f"timber-values.{name}": 1 for name in "C_F_c C_F_t C_M_c C_M_perp C_M_s C_M_v C_i C_t_E C_t_s".split()},
}
BASE = {
    "steel": "A36", "leg_shape": "pipe", "leg_steel": "A53 Gr B", "pin_steel": "A36", "F_yb": 45000,
    "blade_along": "x", "seat_width": 7, "seat_depth": 6.5, "seat_thick": 0.5, "foot_width": 8,
    "foot_depth": 8, "foot_thick": 0.625, "standoff": 4, "weld": 0.1875, "blade_top": 2, "bore_deep": 16, "pin_end": 5,
    "pin_spacing": 3, "finish": "painted", "base_name": "sleeve", "ground": "concrete", "fixed_x": 2, "fixed_y": 2, "P_E": 0, "H_x_E": 0, "H_y_E": 0,
    # What the sheets take that it uses.
    "fixings.on": "concrete", "fixings.fixed_x": 2, "fixings.fixed_y": 2, "fixings.apart_x": 5.5, "fixings.apart_y": 5.5,
    "fixings.d_fixed": 0.5, "fixings.deep": 8,
}
UNITS = {
    "in": "seat_width seat_depth seat_thick foot_width foot_depth foot_thick standoff weld blade_top bore_deep pin_end pin_spacing "
          "fixings.apart_x fixings.apart_y fixings.d_fixed fixings.deep post-size.b post-size.d bore leg leg_thick pin_diameter pin_hole".split(),
    "psi": "E F_yb timber-values.F_c timber-values.F_t timber-values.F_v timber-values.F_c_perp".split(),
    "lbf": "P P_E H_x_E H_y_E along-x.H_b along-y.H_b".split(),
}
# Post, bore, tube, bolts, loads. Pipes of 2, 2 1/2 and 1 1/2 in nominal; the post is wider along y, where the bolts run.
CASES = [
    dict(b=7.5, d=7.5, bore=2.4375, leg=2.375, wall=0.154, D=0.5, n=1, P=-2400, H=0),
    dict(b=7.5, d=9.5, bore=2.9375, leg=2.875, wall=0.203, D=0.625, n=1, P=-1500, H=0),
    dict(b=5.5, d=5.5, bore=2.0, leg=1.9, wall=0.145, D=0.5, n=1, P=6000, H=350),
    dict(b=9.5, d=7.5, bore=2.9375, leg=2.875, wall=0.203, D=0.75, n=2, P=-900, H=500),
]


def strips(width, inside, many=200000):
    """Area under `inside`, the length that is there at a place across."""
    step = width / many
    return step * math.fsum(inside((k + 0.5) * step - width / 2) for k in range(many))


def chord(diameter, y):
    return 2 * math.sqrt(max(0.0, diameter**2 / 4 - y**2))


def seat_area(case):
    """Of what stands on the seat, the bore taken out."""
    x, y = min(case["b"], BASE["seat_width"]), min(case["d"], BASE["seat_depth"])
    return strips(y, lambda at: x - chord(case["bore"], at))


def net_area(case):
    """Of the post at a bolt that runs along y: where the hole is, nothing is left but what the bore would take again."""
    hole = case["D"] + 1 / 16
    return strips(case["b"], lambda at: 0.0 if abs(at) < hole / 2 else case["d"] - chord(case["bore"], at))


def tube_area(case):
    wall = 0.93 * case["wall"]
    hole = case["D"] + 1 / 8  # a hole 1/16 over the bolt, and 1/16 for damage
    ring = lambda at: chord(case["leg"], at) - chord(case["leg"] - 2 * wall, at)
    return strips(case["leg"], lambda at: 0.0 if abs(at) < hole / 2 else ring(at))


def bolts(case):
    """Value of one bolt, or none where group action or geometry would enter."""
    if case["n"] > 1 or (case["P"] < 0 and case["H"] > 0):
        return ""
    D, across = case["D"], case["H"] > 0
    bearing = 6100 * WOOD["G"] ** 1.45 / math.sqrt(D) if across else 11200 * WOOD["G"]
    side = (case["d"] - case["bore"]) / 2
    play = (case["bore"] - case["leg"]) / 2
    steel = 60000 * 2.2 / 1.6  # of a pipe of 60 ksi
    value = double(D, 2 * 0.93 * case["wall"], side, steel, 50 * round(bearing / 50), BASE["F_yb"], 90 if across else 0, play)[1][0]
    return WOOD["C_D"] * value


def row(name, case, tolerance, what, **expects):
    given = {"id": name, "post-size.b": case["b"], "post-size.d": case["d"], "bore": case["bore"], "leg": case["leg"],
             "leg_thick": case["wall"], "pin_diameter": case["D"], "pin_hole": case["D"] + 1 / 16, "pins_in_row": case["n"],
             "P": case["P"], "along-x.H_b": case["H"], "along-y.H_b": 0}
    about = {"tol": tolerance, "source": SOURCE + what, "kind": "independent"}
    return {**WOOD, **BASE, **given, **about, **{f"={k}": v for k, v in expects.items()}}


def heading(name):
    unit = next((unit for unit, names in UNITS.items() if name in names), "")
    return f"{name} [{unit}]" if unit else name


rows, inputs = [], None
for k, case in enumerate(CASES):
    rows.append(row(f"wood-{k + 1}", case, 1e-3, "strips of the plan", **{"end-bearing.A_brg": seat_area(case), "A_n": net_area(case)}))
    rows.append(row(f"tube-{k + 1}", case, 1e-2, "strips of the ring", A_t=tube_area(case)))
    tall = BASE["standoff"] + BASE["pin_end"] + (case["n"] - 1) * BASE["pin_spacing"] / 2
    rows.append(row(f"heights-{k + 1}", case, 1e-9, "parts measured from the concrete", y_top=tall, M_foot_x=case["H"] * (tall - BASE["foot_thick"])))
    value = bolts(case)
    if value != "":
        rows.append(row(f"bolts-{k + 1}", case, 1e-5, "plastic collapse of the bolt, as in yield_gap.py", Z_N=value))
inputs = [heading(name) for name in [*WOOD, *BASE, "post-size.b", "post-size.d", "bore", "leg", "leg_thick", "pin_diameter", "pin_hole",
                                      "pins_in_row", "P", "along-x.H_b", "along-y.H_b"]]
write("sleeve-base--put-together.csv", ["A tube that goes up into the post.", "Made by oracle/sleeve_base.py, which says how; do not edit."],
      inputs, ["end-bearing.A_brg [in^2]", "A_n [in^2]", "A_t [in^2]", "y_top [in]", "M_foot_x [lbf in]", "Z_N [lbf]"], rows)
