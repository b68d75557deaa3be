"""Puts a job together: the theme of each of the fifty, its posts, loads and settings, as the text of its files."""

import csv
import io
import random

from draw import Draw, inches

COUNT = 50
UNITS = ("in", "ft", "lbf", "kip", "psi", "ksi")


def theme(no):
    """What the job of this number has to hold; the rest is drawn."""
    pick = lambda options, stride=1: options[no // stride % len(options)]
    return {
        "kind": pick(["blade", "side", "rated", "blade", "rated", "side", "moment"]),
        "ground": "wood" if no % 6 == 5 else "concrete",
        "loads": "columns" if no % 24 == 11 else pick(["columns", "roof", "reactions", "roof", "roof"]),
        # Long rods in a thick block.
        "deep": no % 24 == 10,
        # Nothing pushes sideways.
        "still": no % 24 == 11,
        # Of the draws, one that meets all of its limits goes first.
        "fair": no % 4 == 0,
        "roof": pick(["monoslope", "pitched", "slats", "troughed"], 2),
        "size": pick(["square", "deep", "nominal", "wide"]),
        "leg": pick(["pipe", "bar", "round"]),
        "screw": pick(["lag", "wood screw"], 7),
        "floor_screw": "lag" if no % 24 == 11 else pick(["lag", "wood screw"], 6),
        "anchors": pick([(2, 2), (1, 1), (2, 1), (1, 2), (2, 2)]),
        "anchor": "cast" if no % 24 == 10 else pick(["cast", "cast", "screw", "cast"], 3),
        "head": pick(["hex", "hook", "heavy hex"]),
        "foundation": "pad" if no % 24 == 10 else pick(["pier", "pier", "pad"], 2),
        "shape": pick(["round", "square"], 3),
        "pad": no % 24 != 10 and pick([True, False], 2),
        "by_bars": no % 4 == 1,
        "sdc": pick(["A", "B", "C", "D", "E"], 3),
        "posts": 1 + no % 4,
    }


def grid(draw):
    """Places of the posts, in feet: full grids, so that they carry a whole roof."""
    n = draw.theme["posts"]
    bay_x, bay_y = draw.length(8, 16, 0.5), draw.length(8, 14, 0.5)
    if n == 4 and draw.odd(0.7):
        return [(0, 0), (bay_x, 0), (0, bay_y), (bay_x, bay_y)]
    step = draw.of([(bay_x, 0), (0, bay_y)])
    return [(at * step[0], at * step[1]) for at in range(n)]


def seismic(draw):
    """S_DS, S_D1 and S_1 that ask for the category."""
    low = {"A": (0.05, 0.02, 0.02), "B": (0.18, 0.07, 0.05), "C": (0.34, 0.14, 0.1), "D": (0.55, 0.22, 0.3), "E": (1.2, 0.7, 0.8)}
    most = {"A": (0.16, 0.06, 0.06), "B": (0.32, 0.13, 0.12), "C": (0.49, 0.19, 0.3), "D": (1.1, 0.6, 0.7), "E": (1.6, 0.9, 1.0)}
    sdc = draw.theme["sdc"]
    return [f"{draw.between(a, b):.2f}" for a, b in zip(low[sdc], most[sdc])]


def loads(draw, scale):
    """Nominal reactions of a post by case: P, H_x, H_y, in lbf."""
    r = lambda low, high: round(draw.between(low, high) * scale, -1)
    cases = {"D": (r(500, 3500), 0, 0)}
    if draw.odd(0.5):
        cases["D"] = (cases["D"][0], r(0, 60), r(-60, 60))
    for case, high in (("L", 2500), ("Lr", 2500), ("S", 5000), ("R", 900)):
        if case in draw.cases:
            cases[case] = (r(100, high), 0, r(-50, 50) if case == "S" else 0)
    for case in draw.cases:
        if case.startswith("W"):
            cases[case] = (r(-4500, 1500), r(-800, 800), r(-700, 700))
        elif case.startswith("E"):
            push = r(100, 700)
            cases[case] = (r(-900, 1200), push if case == "E_x" else 0, push if case == "E_y" else 0)
    if draw.theme["still"]:
        cases = {case: (p - 2500 if case[0] == "W" else p, 0, 0) for case, (p, _, _) in cases.items()}
    return cases


def brace(draw):
    if draw.theme["kind"] == "moment":
        return draw.of(["none", "none", "knee braces", "rigid frame"])
    held = ["knee braces", "knee braces", "rigid frame"]
    if draw.theme["loads"] != "roof":
        held += ["shear walls", "other"]
    return "none" if draw.odd(0.04) else draw.of(held)


def settings(draw, places):
    s_ds, s_d1, s_1 = seismic(draw)
    t = draw.theme
    top = draw.of([0, 2, 4, 6, 8, 12])
    toml = {"job": {"name": "Unmoved", "place": "Nowhere County", "date": "2026-11-02", "prepared_by": "R. Framer"},
            "code": {"basis": draw.of(["IBC 2021", "IRC 2021"])},
            "loads": {"wind": draw.of(["as given", "both signs"]), "S_DS": s_ds, "rho": draw.of(["1.0", "1.3"])},
            "wood": {"fabrication": draw.of(["wet", "dry"]), "service": draw.of(["wet", "dry", "dry"]),
                     "temperature": draw.of(["up to 100 F"] * 3 + ["100 to 125 F", "125 to 150 F"]),
                     "durable": draw.of(["none", "natural", "treated", "treated", "treated"])},
            "site": {"weather": draw.of(["covered", "exposed"]), "ground": t["ground"], "top_above_earth": inches(top),
                     "frost": inches(draw.of([0, 12, 24, 36, 48])), "sdc": t["sdc"]},
            "bracing": {"brace_x": brace(draw), "brace_y": brace(draw)}}
    site = toml["site"]
    if toml["wood"]["durable"] == "none" and draw.odd(0.8):
        site["weather"] = "covered"
    if t["size"] == "nominal":
        toml["wood"]["dressed"] = draw.of(["green", "dry"])
    if draw.odd(0.3):
        toml["wood"]["incised"] = "yes"
    if draw.odd(0.3):
        site["under"] = "crawl space"
    if t["sdc"] in "CDE" and draw.odd(0.7):
        site["Omega_0"] = draw.of(["2", "2.5", "3"])
    if draw.odd(0.3):
        site["half_inch"] = "yes"
    site["soil"] = draw.of(["class 1", "class 2", "class 3", "class 4", "class 4", "class 5", "soils report"])
    if site["soil"] == "soils report":
        site |= {"q_rep": "2500 psf", "S_rep": "180 psf/ft", "mu_rep": draw.of(["0", "0.3"]), "c_rep": "130 psf"}
        if not draw.odd(0.15):
            site["soils_report"] = "demo soils report, 2026-05-01"
    if "knee braces" in toml["bracing"].values() or t["loads"] == "roof":
        toml["bracing"] |= {"brace_drop": draw.of(["2 ft", "2 ft 6 in", "3 ft", "30 in"])}
        if draw.odd(0.5):
            toml["bracing"]["brace_run"] = draw.of(["2 ft", "2 ft 6 in"])
    if draw.odd(0.2):
        toml["bracing"]["K_e"] = draw.of(["0.8", "1.2"])
    if draw.odd(0.3):
        toml["shop"] = {"saw_radius": "8 1/8 in", "saw_cut": "6 1/4 in"}
    if t["loads"] == "roof":
        roof(draw, toml, places, s_d1, s_1)
    return toml, top


def roof(draw, toml, places, s_d1, s_1):
    kind, ridge = draw.theme["roof"], draw.of("xy")
    mean = draw.length(8, 13, 0.5)
    toml["site"] |= {"V": f"{draw.of([95, 105, 115, 130, 140])} mph", "exposure": draw.of("BCD"), "p_g": f"{draw.of([0, 5, 15, 20, 30, 50])} psf",
                     "S_D1": s_d1, "S_1": s_1}
    toml["loads"]["wind"] = "as given"
    for key, options, chance in (("K_zt", ["1.2", "1.5"], 0.2), ("elevation", ["900 ft", "5200 ft"], 0.3), ("risk", ["I", "III", "IV"], 0.4),
                                 ("terrain", ["B", "C", "D", "above the tree line"], 0.5),
                                 ("snow_exposure", ["fully exposed", "sheltered"], 0.4)):
        if draw.odd(chance):
            toml["site"][key] = draw.of(options)
    run = [max(place[axis] for place in places) - min(place[axis] for place in places) for axis in (0, 1)]
    over = [max(draw.of([1, 1.5, 2]), -((run[axis] - mean * draw.of([1, 1.2])) / 2 * 2 // 1) / 2) for axis in (0, 1)]
    table = {"roof": kind, "ridge": ridge, "mean_height": f"{mean} ft", "overhang_x": f"{over[0]} ft", "overhang_y": f"{over[1]} ft",
             "face_across": draw.of(["1 ft 6 in", "2 ft", "3 ft"]), "face_along": draw.of(["1 ft", "2 ft", "3 ft"]), "rafters": "5 psf",
             "timber_density": draw.of(["35 pcf", "45 pcf"])}
    slope = {"monoslope": ["0 deg", "3 deg", "2:12", "15 deg", "22 deg"], "pitched": ["1:12", "3:12", "20 deg", "30 deg", "9:12"],
             "troughed": ["8 deg", "3:12", "20 deg"], "slats": ["0 deg"]}
    table["slope"] = draw.of(slope[kind])
    if kind == "slats":
        table |= {"epsilon": draw.of(["0.07", "0.25", "0.45"]), "p_v": draw.of(["8 psf", "12 psf"]),
                  "snow_share": draw.of(["0", "0.4", "0.5", "1"]), "accepted": "yes"}
    else:
        table |= {"flow": draw.of(["clear", "obstructed"]), "roofing": draw.of(["2 psf", "6 psf"]), "sheathing": "2.5 psf"}
        if kind == "monoslope":
            table["high"] = draw.of(["plus", "minus"])
        else:
            across = 1 if ridge == "x" else 0
            table["ridge_at"] = f"{run[across] / 2 + draw.of([0, 0, 0.5])} ft"
        for key, options in (("building", ["heated", "just above freezing or cold ventilated roof", "kept below freezing"]),
                             ("surface", ["slippery"]), ("rafter_kind", ["single pieces from ridge to eave"]),
                             ("insulation", ["0.5 psf"]), ("ceiling", ["1.5 psf"]), ("other", ["1 psf"]), ("higher_roof", ["yes"])):
            if draw.odd(0.3):
                table[key] = draw.of(options)
    toml["roof"] = table
    if draw.odd(0.6):
        system, most = draw.of([("A15 wood panel walls", 6.5), ("A17 walls of other panels", 2), ("B22 frame with wood panel walls", 7),
                                ("G6 cantilevered timber columns", 1.5), ("inverted pendulum", 2), ("other self-supporting structure", 1.25)])
        toml["seismic"] = {"system_x": system, "R_x": str(most)}
        if draw.odd(0.5):
            toml["seismic"] |= {"system_y": system, "R_y": str(most)}


def job(no, attempt):
    """The files of a job, by name."""
    draw = Draw(random.Random(f"unmoved {no} {attempt}"), theme(no))
    t = draw.theme
    wind = draw.of([["W"], ["W1", "W2"], ["W1", "W2", "W3"]] + ([] if t["still"] else [[]]))
    draw.cases = [case for case in ("L", "Lr", "S", "R") if draw.odd(0.6)] + wind + [case for case in ("E_x", "E_y") if draw.odd(0.5)]
    places = grid(draw)
    toml, top = settings(draw, places)
    names = {name: {} for name in ("bases", "foundations", "anchors")}
    posts, reactions, last = [], [], None
    scale = draw.between(0.15, 0.4) if t["fair"] else draw.between(0.3, 1.3)
    for at, (x, y) in enumerate(places):
        mark = f"{'ABCD'[at]}1"
        row = {"mark": mark, "x": f"{x} ft", "y": f"{y} ft"}
        if last and draw.odd(0.35):
            row |= last
        else:
            last = one_post(draw, names, top, at)
            row |= last
        if t["loads"] == "roof":
            row["timbers"] = f"{draw.rng.randint(8, 40) * 10} lbf"
            if toml["roof"].get("higher_roof"):
                row["drift"] = f"{draw.rng.randint(10, 60) * 10} lbf"
        else:
            for case, parts in loads(draw, scale).items():
                if t["loads"] == "reactions":
                    reactions.append({"mark": mark, "case": case} | {key: f"{value:.0f} lbf" for key, value in zip(("P", "H_x", "H_y"), parts)})
                else:
                    for key, value in zip(("P", "H_x", "H_y"), parts):
                        if key == "P" or value:
                            row[f"{key}_{case}"] = f"{value:.0f} lbf"
        row["source"] = "demo"
        posts.append(row)
    if t["loads"] == "reactions":
        toml["loads"]["signs"] = "P down positive; H_x and H_y are the pushes of the post on its base."
    files = {"job.toml": toml_text(toml), "posts.csv": csv_text(draw, posts)}
    if reactions:
        files["reactions.csv"] = csv_text(draw, reactions)
    for name, rows in names.items():
        if rows:
            files[f"{name}.csv"] = csv_text(draw, [{"name": key} | value | {"source": "demo"} for key, value in rows.items()])
    return files


def one_post(draw, names, top, at):
    t = draw.theme
    row, b, d = draw.timber()
    if draw.odd(0.2):
        row["durable"] = draw.of(["natural", "treated", "none"])
        if row["durable"] == "natural" and draw.odd(0.8):
            row |= {"species": draw.of(["Redwood", "Western Cedars"]), "grade": draw.of(["Select Structural", "No.1", "No.2"])}
    # The post after the first may stand in a base of another kind.
    kind = t["kind"] if at == 0 or t["kind"] == "moment" or draw.odd(0.6) else draw.of(["blade", "side", "rated"])
    leg = 0
    if kind in ("rated", "moment"):
        base = draw.rated(b, d)
        row["fasteners"] = str(int(base["fasteners_report"]) - (2 if draw.odd() else 0))
    else:
        base, leg = draw.made(b, d, kind == "side")
    row["base"] = f"base {at + 1}"
    if t["ground"] == "wood":
        names["foundations"][f"floor {at + 1}"] = draw.fix_to_wood(base, b, d, leg)
        row["foundation"] = f"floor {at + 1}"
    else:
        plate, _ = draw.fix_to_concrete(base, b, d, leg)
        anchor = draw.anchor()
        names["anchors"][f"anchor {at + 1}"] = anchor
        names["foundations"][f"concrete {at + 1}"] = draw.concrete(plate, top, anchor["anchor_type"] == "screw")
        row |= {"foundation": f"concrete {at + 1}", "anchor": f"anchor {at + 1}"}
    names["bases"][row["base"]] = base
    if not t["still"] and (t["loads"] != "roof" or draw.odd(0.4)):
        for key in ("w_x", "w_y"):
            if draw.odd(0.35):
                row[key] = f"{draw.of([5, 8, 14])} lbf/ft"
    if draw.odd(0.5 if kind == "moment" else 0.03):
        row["base_moment"] = f"{draw.of([150, 400, 900])} lbf ft"
    if draw.odd(0.15):
        row["incised"] = draw.of(["yes", "no"])
    return row


def toml_text(tables):
    lines = ["# Drawn by make.py. Every value in it is for demonstration."]
    for name, table in tables.items():
        lines += ["", f"[{name}]"]
        for key, value in table.items():
            plain = value.replace(".", "", 1).isdigit()
            lines.append(f"{key} = {value}" if plain else f'{key} = "{value}"')
    return "\n".join(lines) + "\n"


def csv_text(draw, rows):
    """A column whose cells have one unit may have it in its heading."""
    columns = list(dict.fromkeys(key for row in rows for key in row))
    columns.sort(key=lambda name: name == "source")
    heads = {}
    for column in columns:
        cells = [row[column] for row in rows if row.get(column)]
        unit = next((unit for unit in UNITS if all(cell.endswith(f" {unit}") for cell in cells)), None)
        joined = any("ft " in cell or "lbf ft" in cell for cell in cells)
        heads[column] = unit if unit and not joined and draw.odd(0.7) else None
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([f"{column} [{heads[column]}]" if heads[column] else column for column in columns])
    for row in rows:
        cells = [row.get(column, "") for column in columns]
        writer.writerow([cell.removesuffix(f" {heads[column]}") if heads[column] else cell for cell, column in zip(cells, columns)])
    return out.getvalue()
