"""Load combinations of the example jobs, from the sums as the code prints them: each `or` taken apart, each load that
may be absent left out or not, and the effects of the earthquake written out by 12.4.2 and 12.4.3."""
from itertools import product

from csvout import write

STRENGTH = """
2.3.1: 1.4D
2.3.1: 1.2D + 1.6L + 0.5(Lr or S or R)
2.3.1: 1.2D + 1.6(Lr or S or R) + (1.0L or 0.5W)
2.3.1: 1.2D + 1.0W + 1.0L + 0.5(Lr or S or R)
2.3.1: 0.9D + 1.0W
2.3.6: 1.2D + 1.0E_v + 1.0E_h + 1.0L + 0.2S
2.3.6: 0.9D - 1.0E_v + 1.0E_h
"""
ASD = """
2.4.1: 1.0D
2.4.1: 1.0D + 1.0L
2.4.1: 1.0D + 1.0(Lr or S or R)
2.4.1: 1.0D + 0.75L + 0.75(Lr or S or R)
2.4.1: 1.0D + 0.6W
2.4.1: 1.0D + 0.75L + 0.45W + 0.75(Lr or S or R)
2.4.1: 0.6D + 0.6W
2.4.5: 1.0D + 0.7E_v + 0.7E_h
2.4.5: 1.0D + 0.525E_v + 0.525E_h + 0.75L + 0.75S
2.4.5: 0.6D - 0.7E_v + 0.7E_h
"""
DURATION = {"D": 0.9, "L": 1.0, "S": 1.15, "R": 1.15, "Lr": 1.25, "W": 1.6, "E": 1.6}


def term(text):
    """`0.5W` as its factor and its load."""
    number = text.rstrip("".join(chr(c) for c in range(65, 123)))
    return float(number or 1), text[len(number):]


def readings(sum):
    """The sum with each of its `or` decided, as lists of factor and load."""
    parts, depth, part = [], 0, ""
    for c in sum.replace("- ", "+ -").replace(" ", ""):
        depth += (c == "(") - (c == ")")
        if c == "+" and depth == 0:
            parts.append(part); part = ""
        else:
            part += c
    for choice in product(*[p.rstrip(")").partition("(")[2].split("or") if "(" in p else [""] for p in parts + [part]]):
        yield [term(p.partition("(")[0] + one) for p, one in zip(parts + [part], choice)]


def worked(sums, cases, asd, e_v, e_h):
    """Factors of the cases, and C_D. `e_h`: the factor on Q_E of each seismic case."""
    found = {}
    for line in sums.split("\n"):
        for terms in readings(line.partition(": ")[2]) if line else []:
            factor = {load: number for number, load in terms}
            lateral = [{}]
            for case, signs in cases.items():
                if case[0] == "W" and "W" in factor:
                    lateral += [{case: sign * factor["W"]} for sign in signs]
                if case[0] == "E" and "E_h" in factor and case in e_h:
                    lateral += [{case: sign * factor["E_h"] * e_h[case], "D": factor["E_v"] * e_v} for sign in signs]
            loads = [load for load in ("L", "Lr", "S", "R") if load in factor and load in cases]
            for acting, side in product(product((0, 1), repeat=len(loads)), lateral):
                sum = {"D": factor["D"] + side.get("D", 0)} | {load: factor[load] for load, on in zip(loads, acting) if on}
                sum |= {case: number for case, number in side.items() if case != "D"}
                key = tuple(sorted((case, round(number, 9)) for case, number in sum.items()))
                found[key] = max(DURATION[case if case in DURATION else case[0]] for case in sum) if asd else ""
    return found


BOTH, ONE = (1, -1), (1,)
PERGOLA = 0.2 * 2 / 3 * (1.6 - 0.2 * (0.264 - 0.25) / 0.25) * 0.264
JOBS = {
    "creek-porch": (dict(D=ONE, Lr=ONE, S=ONE, W=BOTH), 0, {}, {}, ()),
    "cart-barn": (dict(D=ONE, L=ONE, Lr=ONE, S=ONE, W1=ONE, W2=ONE, E_x=BOTH, E_y=BOTH), 0.2 * 0.52, dict(E_x=1.3, E_y=1.3), dict(E_x=2.5, E_y=2.5), ()),
    "orchard-pergola": (dict(D=ONE, Lr=ONE, S=ONE, **{f"W{n}": ONE for n in range(1, 9)}, E_x=BOTH, E_y=BOTH), PERGOLA, dict(E_x=1.0, E_y=1.0), {}, ()),
    "cantilevers along y": (dict(D=ONE, Lr=ONE, S=ONE, **{f"W{n}": ONE for n in range(1, 9)}, E_x=BOTH, E_y=BOTH), PERGOLA, dict(E_x=1.0, E_y=1.0), dict(E_y=1.5), ("E_y",)),
}
rows = []
for job, (cases, e_v, e_h, omega, cantilevers) in JOBS.items():
    sets = [("Asd", ASD, e_h), ("Strength", STRENGTH, e_h)]
    sets.append(("AsdCantilevers", ASD, {case: omega[case] for case in omega if case in cantilevers}))
    sets.append(("StrengthCantilevers", STRENGTH, {case: omega[case] for case in omega if case in cantilevers}))
    sets.append(("StrengthAnchors", STRENGTH, {case: omega[case] for case in omega if case not in cantilevers}))
    for method, sums, e_h in sets:
        for no, (key, c_d) in enumerate(sorted(worked(sums, cases, method.startswith("Asd"), e_v, e_h).items()), 1):
            # Without the earthquake it is a basic combination.
            if len(method) > 8 and not any(case[0] == "E" for case, _ in key):
                continue
            expects = {f"={case}": number for case, number in key} | {"=C_D": c_d}
            of = dict(job="orchard-pergola", seismic='system_y = "G6 cantilevered timber columns"') if cantilevers else dict(job=job)
            rows.append(dict(id=f"{job}, {method}, {no}", **of, method=method, **expects, tol=1e-8, kind="independent",
                             source="oracle/combinations.py: ASCE 7-16 2.3.1, 2.3.6, 2.4.1, 2.4.5 (from memory), taken apart"))
heads = ["D", "L", "Lr", "S", "W"] + [f"W{n}" for n in range(1, 9)] + ["E_x", "E_y", "C_D"]
write("combinations--taken-apart.csv", ["Every load combination of the example jobs: the factor of each load case in it, and C_D."], ["job", "seismic", "method"], heads, rows)
