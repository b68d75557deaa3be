"""What the anchors of a rated base take: the contact problem of anchors.py, the base pressing halfway to its edge.

    python3 tests/oracle/rated_pull.py      writes ../check-values/rated-pull--contact.csv; needs scipy
"""
from anchors import contact, pattern
from csvout import write

INPUTS = ["P [lbf]", "H_x [lbf]", "H_y [lbf]", "P_E [lbf]", "H_x_E [lbf]", "H_y_E [lbf]", "y [in]", "standoff [in]", "b [in]", "d [in]", "ground",
          "fixed_x", "fixed_y", "apart_x [in]", "apart_y [in]"]
# Shears one way at a time and no uplift where both sides would pull: there the sheet adds on the safe side.
CASES = [("one-x", -600, 500, 0, 0, 300, 0, 4, 1, 7.5, 7.5, "concrete", 1, 1, 0, 0), ("one-y", 900, 0, -800, 400, 0, 250, 5, 1, 6, 7.5, "concrete", 1, 1, 0, 0),
         ("two-along", 300, 700, 0, 0, 400, 0, 4, 1, 7.5, 7.5, "concrete", 2, 1, 5, 0), ("two-weak", -500, 0, 700, -200, 0, 0, 4, 1, 7.5, 7.5, "concrete", 2, 1, 5, 0),
         ("two-across", 400, 0, 600, 0, 0, 350, 3.5, 0.5, 5.5, 5.5, "concrete", 1, 2, 0, 4), ("four", 1200, 900, 0, 0, 500, 0, 4, 1, 9, 7.5, "concrete", 2, 2, 6, 4),
         ("screws", 200, 550, 0, 0, 0, 0, 3.5, 0.5, 5.5, 5.5, "wood", 2, 2, 3, 2.5), ("held", 6000, 300, 0, 0, 0, 0, 4, 1, 7.5, 7.5, "concrete", 2, 1, 5, 0)]


def most(P, Mx, My, b, d, nx, ny, sx, sy):
    name = {(1, 1): "one", (2, 1): "two along", (1, 2): "two across", (2, 2): "four"}[nx, ny]
    pulls, _ = contact(P, Mx, My, pattern(name, sx / 2, sy / 2), b / 4, d / 4, P > 0)
    return nx * ny * max(pulls)


rows = []
for case in CASES:
    key, P, Hx, Hy, PE, HxE, HyE, y, standoff, b, d, ground, nx, ny, sx, sy = case
    plate = b, d, nx, ny, sx, sy
    pull = most(P, abs(Hx) * y, abs(Hy) * y, *plate)
    quake = most(min(PE, 0), abs(HxE) * y, abs(HyE) * y, *plate) if (PE < 0 or HxE or HyE) else 0
    given = dict(zip([name.split(" [")[0] for name in INPUTS], case[1:]))
    rows.append({"id": key, **given, "=P_a": f"{-pull:.5g}" if pull > 1 else P, "=N_E": f"{quake:.5g}" if quake > 1 else 0, "tol": 0.004,
                 "source": "oracle/rated_pull.py, contact problem", "kind": "independent", "note": "" if pull > 1 else "held down by the load"})
write("rated-pull--contact.csv", ["The pull of a rated base on its anchors, from the contact problem of oracle/anchors.py."], INPUTS, ["P_a [lbf]", "N_E [lbf]"], rows)
