"""Bearing length of a screw in wood: how much of a full shank its shadow on the wood makes up, tip and all.

    python3 tapered_tip.py      writes ../check-values/side-plates--tip.csv

The shank is as wide as the screw down to the tip, which narrows in a straight line to a point. Its shadow is cut into thin
strips and added up; over the width of the shank that is the length of a full shank that bears as much. Tips of lag screws
from the printed Table L2, of wood screws two diameters.
"""
import math

from csvout import write

SOURCE = "tests/oracle/tapered_tip.py, shadow of the screw in strips"
TIP = {"lag": {0.25: 5 / 32, 0.375: 7 / 32, 0.5: 5 / 16, 0.625: 13 / 32, 0.75: 1 / 2}, "wood screw": {0.19: 0.38, 0.216: 0.432, 0.242: 0.484}}
POST = {"b": 9.5, "d": 7.5, "P": -1000, "H_plane": 0, "C_D": 1.6, "G": 0.5, "E_wood": 1600000, "kind_of_wood": "softwood", "service": "dry",
        "fabrication": "dry", "plate_wide": 3, "F_e_plate": 87000, "n": 1, "rows": 1, "a_end": 6}
UNITS = {"in": "b d D L plate plate_wide a_end".split(), "lbf": ["P", "H_plane"], "psi": ["E_wood", "F_e_plate"]}


def shadow(D, deep, tip, many=100000):
    step = deep / many
    return step * math.fsum(min(D, D * (deep - (k + 0.5) * step) / tip) for k in range(many))


rows = []
for fastener, tips in TIP.items():
    for D, tip in tips.items():
        for L, plate in ((2.5, 0.1875), (4, 0.375)):
            case = {**POST, "fastener": fastener, "D": D, "L": L, "plate": plate, "=l_m": shadow(D, L - plate, tip) / D}
            rows.append({**case, "id": f"tip-{len(rows) + 1:02}", "tol": 1e-7, "source": SOURCE, "kind": "independent"})
unit = {name: unit for unit, names in UNITS.items() for name in names}
inputs = [f"{name} [{unit[name]}]" if name in unit else name for name in [*POST, "fastener", "D", "L", "plate"]]
write("side-plates--tip.csv", ["Bearing length of screws with a tapered tip.", "Made by oracle/tapered_tip.py, which says how; do not edit."],
      inputs, ["l_m [in]"], rows)
