"""Pins and screws of bases: what each of them is worked with, and what all carry together.

    python3 tests/oracle/bases_pinned.py      writes blade-pins, side-plates, floor-fasteners and sleeve-base (needs numpy and scipy)

Yield is plastic collapse (yield_gap.py), group action a chain of springs (floor_fasteners.py), factors are read from the clauses
anew. Lengths in the wood are measured along the fastener from its head or from its middle."""
import cmath, math

from bases_made import GRADES, LAG, MADE, WOOD_SCREW, anchors, core_of, f_c_star, f_t, mean, net, ordered, pins, table
from floor_fasteners import chain
from yield_gap import double, yields

F_YB = {("lag", 0.25): 70e3, ("wood screw", 0.19): 80e3, ("wood screw", 0.242): 70e3}
HEAT = {"dry": {"up to 100 F": 1.0, "100 to 125 F": 0.8, "125 to 150 F": 0.7}, "wet": {"up to 100 F": 1.0, "100 to 125 F": 0.7, "125 to 150 F": 0.5}}
fifty = lambda value: 50 * math.floor(value / 50 + 0.5)
met = lambda ok: "met" if ok else "not met"


def turned(T, H):
    """Size of the resultant, and its angle from the first of two directions."""
    return abs(complex(T, H)), math.degrees(cmath.phase(complex(T, H)))


def wood_bearing(G, D, theta):
    """NDS 2018 Table 12.3.3; the radius at an angle of the curve through both of its values."""
    along, across = (fifty(11200 * G), fifty(6100 * G**1.45 / math.sqrt(D))) if D >= 0.25 else (fifty(16600 * G**1.84),) * 2
    c, s = math.cos(math.radians(theta)), math.sin(math.radians(theta))
    return 1 / (c * c / along + s * s / across)


def wet_and_hot(g, D, n, rows, load="lateral"):
    """NDS 2018 Tables 11.3.3 and 11.3.4."""
    if g["service"] == "wet":
        moist = 0.7
    elif g["fabrication"] == "dry" or load == "withdrawal":
        moist = 1.0
    else:
        moist = 0.7 if D < 0.25 else 1.0 if rows == 1 else 0.4
    return g["C_D"] * moist * HEAT[g["service"]][g.get("temperature", "up to 100 F")]


def group(n, s, D, K_m, K_s):
    return chain(n, s, 270000 * D**1.5, K_m, K_s) if D >= 0.25 and n > 1 else 1.0


def placed(g, D, n, a, s, across):
    """NDS 2018 Tables 12.5.1A and B: what is there over what the full value takes."""
    full = {"softwood": 7, "hardwood": 5}[g["kind_of_wood"]] * D
    return min(1.0, a / (4 * D)) if across else min([1.0, a / full] + ([s / (4 * D)] if n > 1 else []))


def names(prefix, **values):
    return {f"{prefix}.{name}": value for name, value in values.items()}


def text(prefix, **values):
    return {f"name: {prefix}.{name}": value for name, value in values.items()}


# A blade in a slot.
def blade_pins(g):
    b, d, slot, D, n, rows, s, s_row = (g[name] for name in ("b", "d", "slot", "D", "n", "rows", "s", "s_row"))
    T, H = max(0.0, -g["P"]), abs(g["H_plane"])
    R, theta = turned(T, H)
    reach = min(g["l_pin"] / 2 - slot / 2 - g["taper"], b / 2 - slot / 2)
    play = max(0.0, slot / 2 - g["blade"] / 2)
    bearing = wood_bearing(g["G"], D, theta)
    Z = double(D, g["blade"], reach, g["F_e_plate"], bearing, g["F_yb"], theta, play)[1][0]
    E = 29e6
    C_g = group(n, s, D, E * g["blade"] * g["blade_wide"], g["E_wood"] * (b - slot) * d)
    edge = (d - (rows - 1) * s_row) / 2
    C_delta = placed(g, D, n, g["a_end"], s, False)
    given = dict(D=D, l=2 * reach, n=n, rows=rows, a=g["a_end"], s=s, e=edge, s_row=s_row)
    found = {"T": T, "H": H, "R": R, "theta": theta, "l_s": reach, "g": play, "e": edge, "N": n * rows, "pin-yield.Z": Z}
    found |= names("dowel-bearing", G=g["G"], D=D, theta=theta) | names("pin-yield", D=D, l_m=g["blade"], l_s=reach, F_em=g["F_e_plate"], F_es=bearing, F_yb=g["F_yb"], theta=theta, g=play)
    found |= names("connection-factors", D=D, n=n, rows=rows, C_D=g["C_D"]) | text("connection-factors", fastener="pin", load="lateral", fabrication=g["fabrication"], service=g["service"])
    found |= names("group-action", n=n, s=s, D=D, E_m=E, A_m=g["blade"] * g["blade_wide"], E_s=g["E_wood"], A_s=d * (b - slot)) | text("group-action", side="steel")
    found |= names("geometry-along", **given) | text("geometry-along", direction="toward the end", wood=g["kind_of_wood"])
    asked = "verdict: geometry-across: minimum end distance of the pins"
    if H > 0:
        C_delta = min(C_delta, placed(g, D, n, g["a_end"], s, True))
        found |= names("geometry-across", **given) | text("geometry-across", direction="across", wood=g["kind_of_wood"]) | {asked: met(g["a_end"] >= 2 * D)}
        if rows > 1:
            wide = max((n - 1) * s, 3 * D)
            C_g = min(C_g, group(rows, s_row, D, E * g["blade"] * wide, g["E_wood"] * (b - slot) * wide))
            found |= names("group-across", n=rows, s=s_row, D=D, E_m=E, A_m=wide * g["blade"], E_s=g["E_wood"], A_s=wide * (b - slot)) | text("group-across", side="steel") | {"w_g": wide}
    else:
        found |= {asked: "not asked"}
    Z_1 = Z * wet_and_hot(g, D, n, rows) * C_g * C_delta
    drift = g["pin_kind"] == "drift pins"
    found |= {"C_g": C_g, "C_delta": C_delta, "Z'": Z_1, "Z_N": Z_1 * n * rows, "verdict: uplift and shear on the pins": met(R <= Z_1 * n * rows),
              "verdict: the blade is not wider than the post": met(g["blade_wide"] <= d), "verdict: the blade fits in the slot": met(slot >= g["blade"]),
              "verdict: play of the blade in the slot, both sides together": met(slot - g["blade"] <= 0.125 + 1e-9),
              "verdict: the pins end inside the post": met(g["l_pin"] <= b) if drift else "not asked", "verdict: the bolts go through the post": "not asked" if drift else met(g["l_pin"] >= b)}
    return found


PINS = {"b": 7.5, "d": 5.5, "P": -2100, "H_plane": 450, "C_D": 1.15, "temperature": "100 to 125 F", "G": 0.46, "E_wood": 1300000, "kind_of_wood": "softwood", "service": "dry", "fabrication": "wet", "D": 0.5, "l_pin": 6.5,
        "taper": 0.25, "pin_kind": "drift pins", "F_yb": 50000, "blade": 0.375, "blade_wide": 4.5, "slot": 0.4375, "F_e_plate": 87000, "n": 3, "rows": 2, "a_end": 2.75, "s": 1.875, "s_row": 1.75}
COLLAPSE = "plastic collapse, chains of springs, NDS 2018 11.3 and 12.5"


def pin_cases():
    one = {"n": 1, "rows": 1, "s": 0, "s_row": 0}
    for id, change in (
        ("group", {}), ("up", {"H_plane": 0}), ("across", {"P": 700, "H_plane": -600}), ("idle", {"P": 900, "H_plane": 0}), ("one", one), ("one-row", {"rows": 1, "s_row": 0, "n": 2, "taper": 0}),
        ("side-by-side", {"n": 1, "s": 0, "rows": 3, "s_row": 1.625}), ("hardwood", {"kind_of_wood": "hardwood", "a_end": 2.25, "D": 0.625, "s": 2.75, "G": 0.67, "s_row": 1.875}), ("far", {"a_end": 4.5, "s": 2.5}),
        ("bolts", {"pin_kind": "bolts", "l_pin": 8.5, "taper": 0, "service": "wet"}), ("short-bolts", {"pin_kind": "bolts", "l_pin": 7.25, "taper": 0}), ("bolts-flush", {"pin_kind": "bolts", "l_pin": 7.5, "taper": 0}),
        ("long-pins", {"l_pin": 7.75, "taper": 0}), ("pins-flush", {"l_pin": 7.5}), ("wide", {"blade_wide": 5.75}), ("as-wide", {"blade_wide": 5.5}), ("tight", {"slot": 0.375}), ("too-tight", {"slot": 0.34}), ("play", {"slot": 0.5}), ("more-play", {"slot": 0.505}),
        ("bare-reach", one | {"l_pin": 1.1, "P": -40, "H_plane": 20}), ("thin-post", one | {"b": 0.6, "l_pin": 6.5, "P": -40, "H_plane": 20}), ("weak", {"P": -12000}), ("close-rows", {"n": 2, "s": 3.5, "rows": 2, "a_end": 5.0}),
    ):
        given = PINS | change
        yield id, given, blade_pins(given), COLLAPSE, {"tol": 1e-5}
    for id, change in (("no-reach", {"l_pin": 0.9375}), ("less-reach", {"l_pin": 0.7}), ("no-wood", {"b": 0.4375}), ("less-wood", {"b": 0.4})):
        yield id, PINS | change, {"refused": "the slot leaves no wood for the pins"}, "a pin of that length, or a post of that width, ends in the slot"


# Side plates.
def screw(kind, D):
    return (*LAG[D], F_YB.get((kind, D), 45e3)) if kind == "lag" else (WOOD_SCREW[D], 2 * D, F_YB[kind, D])


def side_plates(g):
    b, d, kind, D, n, rows, s, s_row, t = (g[name] for name in ("b", "d", "fastener", "D", "n", "rows", "s", "s_row", "plate"))
    T, H = max(0.0, -g["P"]), abs(g["H_plane"])
    R, theta = turned(T, H)
    found = {"T": T, "H": H, "R": R, "verdict: a plate is not wider than the face it lies on": met(g["plate_wide"] <= d)}
    words = [f"verdict: {say}" for say in ("penetration of the screws", "screws from both sides clear of each other", "uplift and shear on the screws", "geometry-along: minimum end distance of the pins", "geometry-across: minimum end distance of the pins")]
    if R <= 0:
        return found | dict.fromkeys(words, "not asked")
    root, tip, F_yb = screw(kind, D)
    in_wood = g["L"] - t
    counts, least = (in_wood - tip, 4 * D) if kind == "lag" else (in_wood, 6 * D)
    grip = in_wood - tip / 2
    bearing = wood_bearing(g["G"], D, theta)
    Z = yields(D, root, grip, t, bearing, g["F_e_plate"], F_yb, theta)[1][0]
    E, E_s = g["E_wood"], 29e6
    C_g = group(n, s, D, E * b * d / 2, E_s * t * g["plate_wide"])
    C_delta = 1.0
    found |= {"theta": theta, "p": in_wood, "p_D": counts, "p_min": least, "l_m": grip, "N": 2 * n * rows, "lag-yield.Z": Z, words[0]: met(counts >= least - 1e-9), words[1]: met(2 * in_wood <= b)}
    found |= names("dowel-bearing", G=g["G"], D=D, theta=theta) | names("lag-yield", D=D, D_r=root, l_m=grip, l_s=t, F_em=bearing, F_es=g["F_e_plate"], F_yb=F_yb, theta=theta)
    found |= names("connection-factors", D=D, n=n, rows=rows, C_D=g["C_D"]) | text("connection-factors", fastener=kind, load="lateral", fabrication=g["fabrication"], service=g["service"])
    found |= names("group-action", n=n, s=s, D=D, E_m=E, A_m=b / 2 * d, E_s=E_s, A_s=t * g["plate_wide"])
    if H > 0 and rows > 1:
        wide = max((n - 1) * s, 3 * D)
        C_g = min(C_g, group(rows, s_row, D, E * b / 2 * wide, E_s * t * wide))
        found |= names("group-across", n=rows, s=s_row, D=D, E_m=E, A_m=b / 2 * wide, E_s=E_s, A_s=t * wide) | {"w_g": wide}
    edge = (d - s_row * (rows - 1)) / 2
    given = dict(D=D, l=in_wood, n=n, rows=rows, a=g["a_end"], s=s, e=edge, s_row=s_row)
    if D >= 0.25:
        C_delta = placed(g, D, n, g["a_end"], s, False)
        full = {"softwood": 7, "hardwood": 5}[g["kind_of_wood"]] * D
        found |= names("geometry-along", **given) | text("geometry-along", direction="toward the end", wood=g["kind_of_wood"]) | {"e": edge, words[3]: met(g["a_end"] >= full / 2)}
        if H > 0:
            C_delta = min(C_delta, placed(g, D, n, g["a_end"], s, True))
            found |= names("geometry-across", **given) | text("geometry-across", direction="across") | {words[4]: met(g["a_end"] >= 2 * D)}
        else:
            found |= {words[4]: "not asked"}
    else:
        found |= {words[3]: "not asked", words[4]: "not asked"}
    Z_1 = Z * wet_and_hot(g, D, n, rows) * C_g * C_delta
    return found | {"C_g": C_g, "C_delta": C_delta, "Z'": Z_1, "Z_N": 2 * n * rows * Z_1, words[2]: met(R <= 2 * n * rows * Z_1)}


SIDE = {"b": 7.5, "d": 5.5, "P": -1700, "H_plane": 430, "C_D": 1.15, "temperature": "125 to 150 F", "G": 0.43, "E_wood": 1200000, "kind_of_wood": "softwood", "service": "dry", "fabrication": "wet", "fastener": "lag", "D": 0.375,
        "L": 3.5, "plate": 0.25, "plate_wide": 4.5, "F_e_plate": 87000, "n": 3, "rows": 2, "a_end": 2.0, "s": 1.375, "s_row": 1.625}


def side_cases():
    small = {"fastener": "wood screw", "D": 0.19, "L": 2.0, "a_end": 1.5, "s": 1.25}
    for id, change in (
        ("group", {}), ("up", {"H_plane": 0}), ("across", {"P": 600, "H_plane": -700}), ("idle", {"P": 800, "H_plane": 0}), ("one", {"n": 1, "rows": 1, "s": 0, "s_row": 0}), ("one-row", {"rows": 1, "s_row": 0}),
        ("side-by-side", {"n": 1, "s": 0, "rows": 3}), ("hardwood", {"kind_of_wood": "hardwood", "G": 0.67, "D": 0.5, "L": 4.0, "b": 9.5, "s": 2.0}), ("far", {"a_end": 4.0, "s": 2.5, "service": "wet"}), ("quarter", {"D": 0.25, "L": 2.5, "a_end": 1.25}),
        ("wood-screw", small), ("wood-screw-up", small | {"H_plane": 0, "D": 0.242, "L": 2.5}), ("wide", {"plate_wide": 5.75}), ("as-wide", {"plate_wide": 5.5}), ("clear", {"L": 4.0}), ("meeting", {"L": 4.25}),
        ("reach", {"L": 0.25 + 7 / 32 + 4 * 0.375}), ("short", {"L": 1.85}), ("barely", {"L": 0.5}), ("screw-reach", small | {"L": 0.25 + 6 * 0.19}), ("screw-short", small | {"L": 1.3}), ("screw-shorter", small | {"L": 1.0}), ("weak", {"P": -15000}),
        ("close-rows", {"n": 2, "s": 2.0, "a_end": 3.0, "s_row": 3.25}),
    ):
        given = SIDE | change
        yield id, given, side_plates(given), COLLAPSE, {"tol": 1e-5}
    for id, length in (("tip-only", 0.25 + 7 / 32), ("less-than-tip", 0.4)):
        yield id, SIDE | {"L": length}, {"refused": "the screws barely reach the wood"}, "no more than the tip, 7/32 in long, is beyond the plate"


# Screws into a floor.
def floor(g):
    kind, D, n, rows, s, s_row, t = (g[name] for name in ("fastener", "D", "n", "rows", "s", "s_row", "seat"))
    H_1, H_2 = abs(g["H_along"]), abs(g["H_across"])
    T = max(0.0, -g["P"])
    H, theta = turned(H_1, H_2)
    R, alpha = turned(H, T)
    edge = ("edge distance of lag screws in withdrawal", "end distance of lag screws in withdrawal", "spacing of lag screws in withdrawal", "spacing of rows of lag screws in withdrawal")
    asked = dict.fromkeys(("penetration of the screws", "screws end in the sill", "uplift on the screws", "tension in the steel of a screw", "shear on the screws", "uplift and shear together on the screws", *edge,
                           "geometry-along: minimum end distance of the pins", "geometry-across: minimum end distance of the pins"), "not asked")
    found = {"T": T, "H": H, "R": R}
    asked["the rows of screws and their edge distances fit on the sill"] = met(2 * g["e"] + (rows - 1) * s_row <= g["sill_w"] + 1e-9)
    verdicts = lambda: {f"verdict: {words}": said for words, said in asked.items()}
    if R <= 0:
        return found | verdicts()
    root, tip, F_yb = screw(kind, D)
    N, lag, in_wood = n * rows, kind == "lag", g["L"] - t
    # NDS 2018 Tables L2 and L3: half of a lag screw and 1/2 in, at most 6 in; two thirds of a wood screw, at least 4 D.
    thread = min(6.0, g["L"] / 2 + 0.5) if lag else max(4 * D, g["L"] * 2 / 3)
    counts, least = (in_wood - tip, 4 * D) if lag else (in_wood, 6 * D)
    held = min(thread, in_wood) - (tip if lag else 0.0)
    asked |= {"penetration of the screws": met(counts >= least - 1e-9), "screws end in the sill": met(in_wood <= g["sill_t"])}
    W = 1800 * g["G"] ** 1.5 * D**0.75 if lag else 2850 * g["G"] ** 2 * D
    W_1 = W * wet_and_hot(g, D, n, rows, "withdrawal")
    W_p = W_1 * held
    found |= {"N": N, "p": in_wood, "p_D": counts, "p_min": least, "T_thread": thread, "p_t": held, "W'": W_1, "W_p": W_p, "W_N": N * W_p}
    found |= names("withdrawal", G=g["G"], D=D) | names("pull", D=D, n=n, rows=rows, C_D=g["C_D"]) | text("pull", fastener=kind, load="withdrawal")
    asked["uplift on the screws"] = met(T <= N * W_p)
    if T > 0:
        T_a = g["T_screw"] if g.get("T_screw", "") not in ("", 0) else 60e3 * math.pi * root**2 / 4 / 2
        found["T_a"] = T_a
        asked["tension in the steel of a screw"] = met(T / N <= T_a)
    if H > 0:
        grip, bearing = in_wood - tip / 2, wood_bearing(g["G"], D, theta)
        Z = yields(D, root, grip, t, bearing, g["F_e_seat"], F_yb, theta)[1][0]
        E, E_s = g["E_wood"], 29e6
        found |= {"theta": theta, "l_m": grip, "lag-yield.Z": Z} | names("dowel-bearing", G=g["G"], D=D, theta=theta)
        found |= names("lag-yield", D=D, D_r=root, l_m=grip, l_s=t, F_em=bearing, F_es=g["F_e_seat"], F_yb=F_yb, theta=theta) | names("lateral", D=D, n=n, rows=rows, C_D=g["C_D"])
        found |= text("lateral", fastener=kind, load="lateral")
        given = dict(D=D, l=in_wood, n=n, rows=rows, a=g["a_end"], s=s, e=g["e"], s_row=s_row)
        C_g, C_delta = [1.0, 1.0], [1.0, 1.0]
        if H_1 > 0:
            C_g[0] = group(n, s, D, E * g["sill_t"] * g["sill_w"], E_s * t * g["seat_w"])
            found |= names("group-along", n=n, s=s, D=D, E_m=E, A_m=g["sill_t"] * g["sill_w"], E_s=E_s, A_s=t * g["seat_w"])
            if D >= 0.25:
                C_delta[0] = placed(g, D, n, g["a_end"], s, False)
                full = {"softwood": 7, "hardwood": 5}[g["kind_of_wood"]] * D
                found |= names("geometry-along", **given) | text("geometry-along", direction="toward the end", wood=g["kind_of_wood"])
                asked["geometry-along: minimum end distance of the pins"] = met(g["a_end"] >= full / 2)
        if H_2 > 0:
            wide = max((n - 1) * s, 3 * D)
            C_g[1] = group(rows, s_row, D, E * g["sill_t"] * wide, E_s * t * g["seat_l"])
            found |= names("group-across", n=rows, s=s_row, D=D, E_m=E, A_m=g["sill_t"] * wide, E_s=E_s, A_s=t * g["seat_l"])
            if D >= 0.25:
                C_delta[1] = placed(g, D, n, g["a_end"], s, True)
                found |= names("geometry-across", **given) | text("geometry-across", direction="across", wood=g["kind_of_wood"])
                asked["geometry-across: minimum end distance of the pins"] = met(g["a_end"] >= 2 * D)
        Z_1 = Z * wet_and_hot(g, D, n, rows) * min(C_g) * min(C_delta)
        both = 1 / (math.cos(math.radians(alpha)) ** 2 / Z_1 + math.sin(math.radians(alpha)) ** 2 / W_p)
        found |= {"C_g_1": C_g[0], "C_g_2": C_g[1], "C_g": min(C_g), "C_delta": min(C_delta), "Z'": Z_1, "Z_N": N * Z_1, "alpha": alpha, "Z_alpha'": both, "R_N": N * both}
        if D >= 0.25:
            found |= {"C_delta_1": C_delta[0], "C_delta_2": C_delta[1]}
        asked |= {"shear on the screws": met(H <= N * Z_1), "uplift and shear together on the screws": met(R <= N * both)}
    elif lag:
        asked |= {edge[0]: met(g["e"] >= 1.5 * D), edge[1]: met(g["a_end"] >= 4 * D)}
        asked |= {edge[2]: met(s >= 4 * D)} if n > 1 else {}
        asked |= {edge[3]: met(s_row >= 4 * D)} if rows > 1 else {}
    return found | verdicts()


FLOOR = {"P": -1300, "H_along": -420, "H_across": 310, "C_D": 1.15, "temperature": "100 to 125 F", "G": 0.43, "E_wood": 1200000, "kind_of_wood": "softwood", "service": "dry", "fabrication": "wet", "sill_t": 5.5, "sill_w": 7.25,
         "seat": 0.25, "seat_l": 8.0, "seat_w": 5.0, "F_e_seat": 61850, "fastener": "lag", "D": 0.375, "L": 4.5, "n": 3, "rows": 2, "s": 1.375, "s_row": 2.25, "a_end": 2.0, "e": 2.25}


def floor_cases():
    small = {"fastener": "wood screw", "D": 0.19, "L": 2.5, "a_end": 1.5}
    up, one = {"H_along": 0, "H_across": 0}, {"n": 1, "rows": 1, "s": 0, "s_row": 0}
    for id, change in (
        ("both", {}), ("along", {"H_across": 0}), ("across", {"H_along": 0}), ("up", up), ("down", {"P": 2000}), ("idle", up | {"P": 700}), ("one", one), ("one-up", up | one), ("side-by-side", {"n": 1, "s": 0, "rows": 3, "s_row": 1.25, "H_along": 0}),
        ("one-row", {"rows": 1, "s_row": 0}), ("few", {"n": 2, "s": 1.75, "H_along": 50}), ("hardwood", {"kind_of_wood": "hardwood", "G": 0.67, "D": 0.5, "L": 5.0, "H_across": 0}), ("far", {"a_end": 4.0, "s": 2.5, "service": "wet"}),
        ("quarter", {"D": 0.25, "L": 3.0, "a_end": 1.25}), ("wood-screw", small), ("wood-screw-up", small | up | {"D": 0.242}), ("wood-screw-along", small | {"H_across": 0}), ("stubby", small | {"D": 0.242, "L": 1.25}), ("long", {"L": 12.0, "sill_t": 13.25, "D": 0.625, "a_end": 4.0, "s": 2.5}),
        ("given-steel", {"T_screw": 210}), ("given-strong-steel", {"T_screw": 900}), ("no-steel-given", {"T_screw": 0}), ("ends", {"sill_t": 4.25}), ("through", {"sill_t": 4.2}), ("fits", {"sill_w": 6.75}), ("narrow", {"sill_w": 6.7}),
        ("reach", {"L": 0.25 + 7 / 32 + 4 * 0.375}), ("short", {"L": 1.85}), ("barely", {"L": 0.65}), ("screw-reach", small | {"L": 0.25 + 6 * 0.19}), ("screw-short", small | {"L": 1.3}), ("weak", {"P": -9000, "H_along": 9000}), ("torn", up | {"P": -9000}),
        ("edge", up | {"e": 0.55, "n": 1, "s": 0}), ("end", up | {"a_end": 1.4}), ("close", up | {"s": 1.55}), ("close-rows", up | {"s_row": 1.3, "s": 1.55, "n": 2}), ("all-far", up | {"e": 0.6, "a_end": 1.6, "s": 1.6, "s_row": 1.6}), ("one-across-rows", up | {"n": 1, "s": 0, "s_row": 1.45}),
    ):
        given = FLOOR | change
        yield id, given, floor(given), COLLAPSE + ", withdrawal by 12.2", {"tol": 1e-5}
    for id, length in (("tip-only", 0.25 + 7 / 32), ("less-than-tip", 0.4)):
        yield id, FLOOR | {"L": length}, {"refused": "the screws barely reach the wood"}, "no more than the tip, 7/32 in long, is beyond the plate"


# A tube that goes up into the post.
def sleeve(g):
    along = g["blade_along"]
    run, across = ("x", "y") if along == "x" else ("y", "x")
    post, seat = {"x": g["post-size.b"], "y": g["post-size.d"]}, {"x": g["seat_width"], "y": g["seat_depth"]}
    b, d = post[across], post[run]
    V, out = (abs(g[f"along-{axis}.H_b"]) for axis in (run, across))
    bore, D, n, E_s = g["bore"], g["pin_diameter"], g["pins_in_row"], 29e6
    F_y, F_u = GRADES[g["leg_steel"], {"pipe": "pipe", "round": "rod"}[g["leg_shape"]]]
    T, heights = max(0.0, -g["P"]), pins(g)
    R, theta = turned(T, V)
    top = heights[-1] + g["blade_top"]
    wall = 0.93 * g["leg_thick"]
    ring = math.pi / 4 * (g["leg"] ** 2 - (g["leg"] - 2 * wall) ** 2)
    slot = math.pi / 4 * bore**2 / bore
    side, play = b / 2 - bore / 2, max(0.0, bore / 2 - g["leg"] / 2)
    words = ("the standoff is a pipe", "the tube fits in the bore", "play of the tube in the bore", "the bore leaves half of the width of the post", "the bore is deep enough for the tube", "the bolts fit the holes in the tube",
             "play of the bolts in the holes", "the base is a hinge")
    near = 1e-9
    held = (g["leg_shape"] == "pipe", bore >= g["leg"], bore - g["leg"] <= 0.125 + near, bore <= min(b, d) / 2, g["bore_deep"] >= top, g["pin_hole"] >= D, g["pin_hole"] - D <= 0.0625 + near, g["moment_rated"] == "no")
    found = {f"verdict: {say}": met(ok) for say, ok in zip(words, held)}
    # Wood.
    on_seat = min(post["x"], seat["x"]) * min(post["y"], seat["y"]) - math.pi / 4 * bore**2
    f_c = max(0.0, g["P"]) / on_seat
    found |= {"tall": top, "t_d": wall, "A_w": ring, "hole_run": slot, "end-bearing.slot": bore, "end-bearing.slot_run": slot, "name: end-bearing.seat": "steel", "l_s": side, "A_n": net(b, d, 0.0, D + 1 / 16, 1, b) - math.pi / 4 * bore**2 + (D + 1 / 16) * bore,
              "F_t'": f_t(g["C_D"]), "F_c_star": f_c_star(g["C_D"]), "T": T, "R": R, "theta": theta, "seat.q": f_c}
    found |= names("net-tension", b=b, d=d, slot=bore, slot_run=slot, D=D, rows=1, bore=b) | names("tear-out", t=2 * side, D=D, rows=1, s_row=0, oversize=1 / 16) | names("shear-at-pins", slot=bore, t=2 * side, e=d / 2)
    face = "verdict: slot-bearing: bearing of the wood on the face of the steel"
    if out > 0:
        found |= names("slot-bearing", blade_wide=g["leg"], blade_tall=top, H_perp=out) | {face: met(out <= 560 * 0.67 * 0.8 * g["leg"] * top / 2)}
    else:
        found |= {face: "not asked"}
    # Bolts in the wood: a pipe may be formed cold.
    crush, hard = wood_bearing(g["G"], D, theta), 2.2 / 1.6 * F_u
    Z = double(D, 2 * wall, side, hard, crush, g["F_yb"], theta, play)[1][0]
    C_g, C_delta = group(n, g["pin_spacing"], D, E_s * ring, g["E"] * (b - bore) * d), placed(g, D, n, g["pin_end"], g["pin_spacing"], False)
    given = dict(D=D, l=2 * side, n=n, rows=1, a=g["pin_end"], s=g["pin_spacing"], e=d / 2, s_row=0)
    found |= names("dowel-bearing", G=g["G"], D=D, theta=theta) | {"steel-bearing.F_u": F_u, "steel-bearing.F_e": hard, "name: steel-bearing.made": "cold-formed", "pin-yield.Z": Z}
    found |= names("pin-yield", D=D, l_m=2 * wall, l_s=side, F_em=hard, F_es=crush, F_yb=g["F_yb"], theta=theta, g=play) | names("connection-factors", D=D, n=n, rows=1) | text("connection-factors", fastener="bolt", load="lateral")
    found |= names("group-action", n=n, s=g["pin_spacing"], D=D, E_m=E_s, A_m=ring, E_s=g["E"], A_s=(b - bore) * d) | text("group-action", side="steel")
    found |= names("geometry-along", **given) | text("geometry-along", direction="toward the end", wood=g["kind_of_wood"])
    asked = "verdict: geometry-across: minimum end distance of the pins"
    if V > 0:
        C_delta = min(C_delta, placed(g, D, n, g["pin_end"], g["pin_spacing"], True))
        found |= names("geometry-across", **given) | text("geometry-across", direction="across", wood=g["kind_of_wood"]) | {asked: met(g["pin_end"] >= 2 * D)}
    else:
        found |= {asked: "not asked"}
    Z_N = n * Z * wet_and_hot(g, D, n, 1) * C_g * C_delta
    # Bolts in the tube, by AISC 360-16 J3.6, J7, J3.10 and D2.
    r_v = 2 * 0.563 * GRADES[g["pin_steel"], "rod"][1] * math.pi / 4 * D**2 / 2
    r_p = 2 * 1.8 * F_y * D * wall / 2
    clear = min([g["blade_top"] - g["pin_hole"] / 2] + ([g["pin_spacing"] - g["pin_hole"]] if n > 1 else []))
    r_t = 2 * 1.2 * clear * wall * F_u / 2
    A_t = ring - 2 * wall * (g["pin_hole"] + 1 / 16)
    found |= {"C_delta": C_delta, "Z_N": Z_N, "r_v": r_v, "r_p": r_p, "l_c": clear, "r_t": r_t, "A_t": A_t, "verdict: uplift and shear on the bolts": met(R <= Z_N), "verdict: shear of the bolts": met(R <= n * r_v),
              "verdict: bearing of the bolts on the walls": met(R <= n * r_p), "verdict: tear-out toward the top edge of the tube": met(T <= n * r_t), "verdict: uplift on the net section of the tube": met(T <= F_u * A_t / 2),
              "ratio: shear of the bolts": R / (n * r_v), "ratio: bearing of the bolts on the walls": R / (n * r_p), "ratio: uplift and shear on the bolts": R / Z_N,
              "ratio: tear-out toward the top edge of the tube": T / (n * r_t), "ratio: uplift on the net section of the tube": T / (F_u * A_t / 2)}
    # Levels above the concrete.
    hinge, under, over = g["standoff"] + mean(heights), g["standoff"] - g["seat_thick"], g["foot_thick"]
    found |= {"y_tube": hinge - under, "leg_tall": under - over, "y_foot": hinge - over, "y_top": hinge, "M_foot_x": V * (hinge - over), "M_foot_y": out * (hinge - over), "seat.b": min(d, seat[run]), "seat.d": min(b, seat[across]),
              "seat.wide": 0, "seat.apart": 0, "seat.M_s": 0, "standoff.y": hinge - under, "standoff.h": under - over, "weld-room.tall": under - over, "weld-room.hole": 0.25, "anchor-room.tall": under - over,
              "base-order.leg_long": g["standoff"] + top - over, "name: base-order.closed": "no", "base-order.F_EXX": 70e3, "plate_t": over, "press_x": g["foot_width"], "press_y": g["foot_depth"], "M_gx": 0, "M_gy": 0}
    tube = dict(x=g["leg"], t=g["leg_thick"], F_u=F_u)
    found |= names("seat-weld", T=max(0.0, g["P"]), V=0, H=0, t_p=g["seat_thick"], **tube) | text("seat-weld", shape="pipe") | text("foot-weld", shape="pipe")
    found |= names("foot-weld", T=T, V=V, H=out, M_x=V * (hinge - over), M_y=out * (hinge - over), t_p=over, **tube)
    above = g["fixings.apart_x"] / 2 - g["fixings.d_fixed"] < seat["x"] / 2 and g["fixings.apart_y"] / 2 - g["fixings.d_fixed"] < seat["y"] / 2
    found |= {"room": under - over if above else 0.0, "shop.weep": 0.25, "shop.above": top, "pieces: fasteners: bolt, by its grip": ordered(n, D, b, g["pin_steel"], g["finish"]),
              "pieces: fasteners: nut for a bolt": ordered(n, D, g["finish"]), "pieces: fasteners: washer for a bolt": ordered(2 * n, D, g["finish"])}
    return found | anchors(g, along, V * (hinge - over), out * (hinge - over), hinge - over, core_of(g))


SLEEVE = {name.removeprefix("timber-values.") if name in ("timber-values.G", "timber-values.E", "timber-values.kind_of_wood") else name: value for name, value in MADE.items()}
SLEEVE |= {"kind_of_wood": "softwood", "base_name": SLEEVE.pop("name"), "bore": 2.4375, "bore_deep": 12.0, "leg_shape": "pipe", "leg": 2.375, "leg_thick": 0.154, "leg_steel": "A53 Gr B", "pin_diameter": 0.5, "pin_hole": 0.5625, "pin_end": 3.25,
           "pin_spacing": 1.875, "blade_top": 1.25, "temperature": "100 to 125 F"}
for name in ("connection", "pin_kind", "pin_length", "pin_taper", "slot", "blade", "blade_width", "pin_rows", "row_spacing", "along-x.M_base", "along-y.M_base"):
    del SLEEVE[name]


def sleeve_cases():
    other = {"blade_along": "y", "post-size.b": 5.5, "post-size.d": 7.5, "seat_width": 5.0, "seat_depth": 8.0, "foot_width": 9.0, "foot_depth": 10.0}
    for id, change in (
        ("x", {}), ("y", other), ("down", {"P": 4300, "P_E": 600}), ("down-far", {"P": 30000}), ("up", {"along-x.H_b": 0}), ("in-line", {"along-y.H_b": 0}), ("idle", {"P": 700, "along-x.H_b": 0, "along-y.H_b": 0}), ("one", {"pins_in_row": 1}),
        ("wood", {"ground": "wood", "fixings.on": "wood"}), ("wood-down", other | {"ground": "wood", "fixings.on": "wood", "P_E": 400, "fixings.fixed_x": 3, "fixed_x": 3}), ("rod", {"leg_shape": "round", "leg_steel": "A36"}),
        ("tight", {"bore": 2.375}), ("too-tight", {"bore": 2.35}), ("play", {"bore": 2.5}), ("more-play", {"bore": 2.505}), ("half", {"post-size.d": 4.875, "seat_depth": 4.5}), ("over-half", {"post-size.d": 4.8}), ("over-half-run", {"post-size.b": 4.8}),
        ("deep", {"bore_deep": 6.375}), ("shallow", {"bore_deep": 6.3}), ("exact-hole", {"pin_hole": 0.5}), ("small-hole", {"pin_hole": 0.49}), ("wide-hole", {"pin_hole": 0.565}), ("rated", {"moment_rated": "yes"}), ("pressed", {"along-y.H_b": 1700}),
        ("hardwood", {"kind_of_wood": "hardwood", "G": 0.67, "pin_end": 2.25, "service": "wet"}), ("close", {"pin_spacing": 1.75, "pin_steel": "A572 Gr 50", "blade_top": 2.5}), ("far", {"fixings.apart_x": 9.5, "pin_end": 4.0, "pin_spacing": 2.5}), ("weak", {"P": -40000}),
        ("sheared", {"along-x.H_b": 20000}), ("two-along", {"fixed_y": 1, "fixings.fixed_y": 1, "fixings.apart_y": 0}),
    ):
        given = SLEEVE | change
        yield id, given, sleeve(given), COLLAPSE + "; AISC 360-16 J3, J7, D2; levels above the concrete", {"tol": 1e-5}
    low = "the standoff is less than the thickness of the plates"
    for id, standoff in (("no-leg", 1.625), ("less-than-plates", 0.7)):
        yield id, SLEEVE | {"standoff": standoff}, {"refused": low}, "nothing is left between the plates"
    yield "short-leg", SLEEVE | {"standoff": 1.7}, {"leg_tall": 0.075}, "a little is left between the plates"


if __name__ == "__main__":
    table("blade-pins--groups", "Pins through a blade: lengths in the wood, what each sheet below is given, all pins together.", "bases_pinned", pin_cases())
    table("side-plates--groups", "Screws through side plates: lengths in the wood, what each sheet below is given, all screws together.", "bases_pinned", side_cases())
    table("floor-fasteners--groups", "Screws into a floor: lengths in the wood, what each sheet below is given, all screws together.", "bases_pinned", floor_cases())
    table("sleeve-base--part-by-part", "A tube that goes up into the post: what each sheet below is given, and where each part stands.", "bases_pinned", sleeve_cases())
