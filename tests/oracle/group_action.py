"""Group action of wood side members and of diameters other than 1 in, at which the power of the diameter counts.

    python3 group_action.py      writes ../check-values/group-action--equation.csv
"""
from math import sqrt

from csvout import put


def group(n, s, d, e_m, a_m, e_s, a_s, side):
    """NDS 2018 Equation 11.3-1."""
    gamma = (180_000 if side == "wood" else 270_000) * d**1.5
    main, sides = e_m * a_m, e_s * a_s
    r = min(main / sides, sides / main)
    u = 1 + gamma * s / 2 * (1 / main + 1 / sides)
    m = u - sqrt(u * u - 1)
    return m * (1 - m ** (2 * n)) / (n * ((1 + r * m**n) * (1 + m) - 1 + m ** (2 * n))) * (1 + r) / (1 - m)


def main():
    cases = []
    for side, e_s, a_s in (("wood", 1.2e6, 8.25), ("wood", 1.6e6, 5.25), ("steel", 29e6, 1.5)):
        for d in (0.5, 0.75, 0.875):
            for n, s in ((2, 3.0), (4, 3.5), (6, 4.0)):
                c_g = group(n, s, d, 1.3e6, 41.25, e_s, a_s, side)
                assert 0 < c_g <= 1
                cases.append({"id": f"{side}-{a_s}-{d}-{n}", "n": n, "s": s, "D": d, "E_m": 1.3e6, "A_m": 41.25,
                              "E_s": e_s, "A_s": a_s, "side": side, "=C_g": c_g})
    put("group_action", "group-action--equation.csv", "Group action factors by the equation, of wood and steel sides",
        cases, {"in": "s D", "psi": "E_m E_s", "in^2": "A_m A_s"}, "NDS 2018 Equation 11.3-1")


main()
