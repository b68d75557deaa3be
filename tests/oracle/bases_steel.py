"""Steel of bases: sections, holes, welds and plates, each clause of AISC 360-16 written anew.

    python3 tests/oracle/bases_steel.py      writes values for the sheets of plates, blades, welds and standoffs, and for what is said of a base

Where no code says how a plate spreads a force, the words of the sheet are followed, with sections and bend lines as one would draw them."""
import math

from bases_made import GRADES, FORM, pattern, pull, table
from bases_pinned import met

near = 1e-9
E = 29e6


def tearing(t, n, s, lines, g, l_v, l_h, d_n, F_y, F_u):
    """AISC 360-16 J4.3: a row of holes is sheared out along its length, and steel across it is torn."""
    long = l_v + (n - 1) * s
    shear = min(0.6 * F_u * t * (long - (n - 0.5) * d_n), 0.6 * F_y * t * long)
    wide = l_h + (lines - 1) * g
    ways = {"R_1": shear + F_u * t * (wide - (lines - 0.5) * d_n)}
    found = {"A_gv": t * long, "A_nv": t * (long - (n - 0.5) * d_n), "V_n": shear, "A_n1": t * (wide - (lines - 0.5) * d_n)}
    if lines > 1:
        ways |= {"R_2": 2 * shear + F_u * t * (lines - 1) * (g - d_n), "R_3": 2 * shear + F_u * t * (2 * l_h - d_n)}
        found |= {"A_n2": t * (lines - 1) * (g - d_n), "A_n3": t * (2 * l_h - d_n)}
    return found | ways | {"R_n": min(ways.values()), "R_a": min(ways.values()) / 2}


def bar(w, t, L_b, F_y):
    """AISC 360-16 F11: what a flat bar takes on edge and on the flat."""
    S, r = t * w * w / 6, L_b * w / t**2
    M_p = min(1.5, 1.6) * F_y * S
    if r <= 0.08 * E / F_y:
        M = M_p
    elif r <= 1.9 * E / F_y:
        M = min(M_p, (1.52 - 0.274 * r * F_y / E) * F_y * S)
    else:
        M = min(M_p, 1.9 * E * S / r)
    S_y = w * t * t / 6
    return {"S_x [in^3]": S, "Z_x [in^3]": 1.5 * S, "M_p": M_p, "r_b []": r, "M_b": M, "M_cx": M / 1.67, "S_y [in^3]": S_y, "Z_y [in^3]": 1.5 * S_y, "M_ny": 1.5 * S_y * F_y, "M_cy": 1.5 * S_y * F_y / 1.67}


def together(p, m):
    return p + 8 * m / 9 if p >= 0.2 else p / 2 + m


# A plate with holes: a side plate takes half, a blade all.
def side_plate(g):
    T, V, w, t, D, d_h, n, rows, s, s_row, F_y, F_u = (g[name] for name in "T V w t D d_h n rows s s_row F_y F_u".split())
    T_1, V_1, d_n = T / 2, V / 2, d_h + 1 / 16
    side, top = w / 2 - (rows - 1) * s_row / 2, g["e_top"]
    A_g, A_n = w * t, w * t - rows * d_n * t
    P_y, P_u, V_c = F_y * A_g / 1.67, F_u * A_n / 2, min(0.6 * F_y * A_g / 1.5, 0.6 * F_u * A_n / 2)
    R_1 = math.hypot(T_1, V_1)
    l_n, l_r = (s - d_h if n > 1 else top), (s_row - d_h if rows > 1 else side)
    clear = min(top - d_h / 2, side - d_h / 2, l_n, l_r)
    r_h = min(2.4 * D, 1.2 * clear) * t * F_u / 2
    up, aside = (t, n, s, rows, s_row, top, side, d_n, F_y, F_u), (t, rows, s_row, n, s, side, top, d_n, F_y, F_u)
    R_up, R_side = tearing(*up)["R_a"], tearing(*aside)["R_a"]
    R_bs = R_up if V <= 0 else R_side if T <= 0 else min(R_up, R_side)
    y = g["a_end"] + s * (n - 1) / 2
    M_x, M_y, room = V_1 * y, g["H_perp"] * y, bar(w, t, y, F_y)
    r = together(T_1 / P_y, M_x / room["M_cx"] + M_y / room["M_cy"])
    keys = "t n s lines g l_v l_h d_n F_y F_u".split()
    named = lambda use, values: {f"{use}.{key}" + (" [in]" if key in ("l_v", "l_h") else ""): value for key, value in zip(keys, values)}
    found = {"T_1": T_1, "V_1": V_1, "e_side": side, "d_n": d_n, "A_g": A_g, "A_n": A_n, "P_y": P_y, "P_u": P_u, "V_c": V_c, "R_1": R_1, "l_n": l_n, "l_r": l_r, "l_c": clear, "r_h": r_h, "R_bs": R_bs, "y": y, "M_x": M_x, "M_y": M_y,
             "bar-bending.L_b [in]": y, "bar-bending.w": w, "bar-bending.t": t, "at-seat.P_r": T_1, "at-seat.P_c": P_y, "at-seat.M_rx": M_x, "at-seat.M_ry": M_y, "at-seat.M_cx": room["M_cx"], "at-seat.M_cy": room["M_cy"], "at-seat.r": r}
    found |= named("block-up", up) | (named("block-side", aside) if V > 0 else {})
    held = {"the screws fit the holes": d_h >= D, "play of the screws in the holes": d_h - D <= 1 / 16 + near, "uplift on a side plate": T_1 <= min(P_y, P_u), "shear of a side plate": V_1 <= V_c,
            "bearing and tear-out at the holes of a side plate": R_1 <= n * rows * r_h, "block shear of a side plate": R_1 <= R_bs, "tension and bending of a side plate at the seat": r <= 1}
    found |= {"ratio: uplift on a side plate": T_1 / min(P_y, P_u), "ratio: bearing and tear-out at the holes of a side plate": R_1 / (n * rows * r_h)}
    return found | {f"verdict: {words}": met(ok) for words, ok in held.items()}


SIDE = {"T": 3100, "V": 1300, "H_perp": 190, "F_y": 36e3, "F_u": 58e3, "t": 0.25, "w": 4.5, "D": 0.375, "d_h": 0.4375, "n": 3, "rows": 2, "s": 1.75, "s_row": 1.625, "a_end": 2.5, "e_top": 1.125}


def side_cases():
    one = {"n": 1, "rows": 1, "s": 0, "s_row": 0}
    for id, change in (("group", {}), ("up", {"V": 0}), ("aside", {"T": 0}), ("one", one), ("one-tall", one | {"e_top": 3.0, "w": 3.0}), ("one-row", {"rows": 1, "s_row": 0}), ("side-by-side", {"n": 1, "s": 0, "rows": 3, "e_top": 1.75, "w": 6.0}), ("strong", {"F_y": 50e3, "F_u": 65e3, "w": 5.0}),
                       ("close", {"s": 0.9}), ("close-rows", {"s_row": 0.875}), ("near-side", {"w": 2.75}), ("thick-screws", {"D": 0.25, "d_h": 0.3125, "e_top": 1.5, "s": 3.0, "s_row": 2.0, "w": 5.0}), ("tight", {"d_h": 0.375}), ("too-tight", {"d_h": 0.37}), ("play", {"d_h": 0.44}),
                       ("weak", {"T": 90000}), ("sheared", {"V": 60000}), ("bent", {"H_perp": 1900}), ("soft", {"F_y": 36e3, "F_u": 40e3}), ("in-line", {"n": 4, "rows": 2, "s": 1.5, "e_top": 3.5}), ("wide-rows", {"n": 2, "rows": 3, "w": 7.5, "s_row": 2.25, "e_top": 1.0})):
        g = SIDE | change
        yield id, g, side_plate(g), "AISC 360-16 D2, F11, H1, J3.10, J4"


def blade(g):
    T, V, w, t, D, d_h, n, rows, s, s_row, F_y, F_u, top, H = (g[name] for name in "T V w t D d_h n rows s s_row F_y F_u e_top H_perp".split())
    many, d_n, side = n * rows, d_h + 1 / 16, w / 2 - (rows - 1) * s_row / 2
    R, A_b = math.hypot(T, V), math.pi * D * D / 4
    r_v = 2 * 0.563 * g["F_u_pin"] * A_b / 2
    up_, aside_ = min([top - d_h / 2] + ([s - d_h] if n > 1 else [])), min([side - d_h / 2] + ([s_row - d_h] if rows > 1 else []))
    clear = up_ if V <= 0 else aside_ if T <= 0 else min(up_, aside_)
    r_b, r_t, r_p = 2.4 * D * t * F_u / 2, 1.2 * clear * t * F_u / 2, 1.8 * F_y * D * t / 2
    r_h = min(r_b, r_t, r_p)
    up, aside = (t, n, s, rows, s_row, top, side, d_n, F_y, F_u), (t, rows, s_row, n, s, side, top, d_n, F_y, F_u)
    R_up, R_side = tearing(*up)["R_a"], tearing(*aside)["R_a"]
    R_bs = R_up if V <= 0 else R_side if T <= 0 else min(R_up, R_side)
    A_g, A_n = w * t, w * t - rows * d_n * t
    P_y, P_u, V_y, V_u = F_y * A_g / 1.67, F_u * A_n / 2, 0.6 * F_y * A_g / 1.5, 0.6 * F_u * A_n / 2
    y = g["a_end"] + s * (n - 1) / 2
    M_x, M_y, room = V * y, H * y, bar(w, t, y, F_y)
    r = together(T / P_y, M_x / room["M_cx"] + M_y / room["M_cy"])
    keys = "t n s lines g l_v l_h d_n F_y F_u".split()
    named = lambda use, values: {f"{use}.{key}" + (" [in]" if key in ("l_v", "l_h") else ""): value for key, value in zip(keys, values)}
    found = {"N": many, "e_side": side, "d_n": d_n, "R": R, "A_b": A_b, "r_v": r_v, "l_up": up_, "l_side": aside_, "l_c": clear, "r_b": r_b, "r_t": r_t, "r_p": r_p, "r_h": r_h, "R_bs": R_bs, "A_g": A_g, "A_n": A_n, "P_y": P_y, "P_u": P_u, "V_y": V_y,
             "V_u": V_u, "y": y, "M_x": M_x, "M_y": M_y, "bar-bending.L_b [in]": y, "at-seat.P_r": T, "at-seat.P_c": P_y, "at-seat.M_rx": M_x, "at-seat.M_ry": M_y, "at-seat.M_cx": room["M_cx"], "at-seat.M_cy": room["M_cy"], "at-seat.r": r}
    found |= named("block-up", up) | (named("block-side", aside) if V > 0 else {})
    # The least spacing of holes is 2 2/3 diameters.
    held = {"the pins fit the holes": d_h >= D, "play of the pins in the holes": d_h - D <= 1 / 16 + near, "edge distances of the pins in the blade": min(top, side) >= D, "shear of the pins": R <= many * r_v, "bearing and tear-out at the holes": R <= many * r_h,
            "block shear of the blade": R <= R_bs, "uplift on the blade": T <= min(P_y, P_u), "shear of the blade": V <= min(V_y, V_u), "tension and bending of the blade at the seat": r <= 1}
    if n > 1:
        held["spacing along the grain, in the steel"] = s >= 8 / 3 * D - near
        low = [k * s for k in range(n)]
        k = sum(low) / n
        # Holes cut the halves of a rectangle: each takes its width times the distance of its center, one on the axis two quarters.
        at = [(j - (rows - 1) / 2) * s_row for j in range(rows)]
        lost = sum(abs(x) * d_n if abs(x) > 1e-12 else 2 * (d_n / 2) * (d_n / 4) for x in at)
        Z_n, Z_m = t * (w * w / 4 - lost), A_n * t / 4
        M_un, M_um = F_u * Z_n / 2, F_u * Z_m / 2
        r_n = T / P_u + V * k / M_un + H * k / M_um
        found |= {"k [in]": k, "Z_n [in^3]": Z_n, "Z_m [in^3]": Z_m, "M_un": M_un, "M_um": M_um, "r_n": r_n}
        held["net section of the blade at the lowest pins"] = r_n <= 1
    if rows > 1:
        held["spacing of the rows, in the steel"] = s_row >= 8 / 3 * D - near
    expects = {f"verdict: {words}": met(ok) for words, ok in held.items()}
    for words, there in (("spacing along the grain, in the steel", n > 1), ("net section of the blade at the lowest pins", n > 1), ("spacing of the rows, in the steel", rows > 1)):
        expects |= {} if there else {f"verdict: {words}": "not asked"}
    pin = {"pin-connected.T": T, "pin-connected.t": t, "pin-connected.w": w, "pin-connected.d": D, "pin-connected.d_h": d_h, "pin-connected.e_end": top, "pin-connected.F_u": F_u} if many <= 1 else {}
    alone = "verdict: pin-connected: play of a single pin in its hole"
    return found | pin | expects | {alone: met(d_h - D <= 1 / 32 + near) if many <= 1 else "not asked"}


BLADE = {"T": 3100, "V": 1300, "H_perp": 90, "F_y": 36e3, "F_u": 58e3, "t": 0.375, "w": 4.75, "D": 0.5, "d_h": 0.53125, "F_u_pin": 60e3, "n": 3, "rows": 2, "s": 2.25, "s_row": 1.75, "a_end": 3.5, "e_top": 1.375}


def blade_cases():
    one = {"n": 1, "rows": 1, "s": 0, "s_row": 0}
    for id, change in (("group", {}), ("up", {"V": 0}), ("aside", {"T": 0}), ("one", one), ("one-loose", one | {"d_h": 0.5625, "H_perp": 0}), ("one-row", {"rows": 1, "s_row": 0}), ("side-by-side", {"n": 1, "s": 0, "rows": 3, "w": 6.5}), ("four-rows", {"rows": 4, "w": 8.0, "n": 2}),
                       ("three-rows", {"rows": 3, "w": 6.5}), ("strong", {"F_y": 50e3, "F_u": 65e3, "w": 5.0}), ("close", {"s": 1.25}), ("spacing", {"s": 4 / 3}), ("close-rows", {"s_row": 1.25}), ("row-spacing", {"s_row": 4 / 3}), ("near-side", {"w": 2.6}), ("near-top", {"e_top": 0.45}),
                       ("edge", {"e_top": 0.5}), ("tight", {"d_h": 0.5}), ("too-tight", {"d_h": 0.49}), ("play", {"d_h": 0.5625}), ("more-play", {"d_h": 0.565}), ("weak", {"T": 90000}), ("sheared", {"V": 60000}), ("bent", {"H_perp": 1900}), ("soft", {"F_y": 36e3, "F_u": 40e3}),
                       ("hard", {"F_y": 50e3, "F_u": 52e3}), ("thin", {"t": 0.1875, "D": 0.25, "d_h": 0.28125, "e_top": 2.0, "w": 6.0}), ("up-close", {"V": 0, "s": 1.3, "e_top": 3.0}), ("aside-close", {"T": 0, "s_row": 1.3, "w": 6.0}), ("one-aside", one | {"T": 0, "w": 3.0}), ("one-up", one | {"V": 0, "w": 3.0})):
        g = BLADE | change
        yield id, g, blade(g), "AISC 360-16 D2, F11, H1, J3, J4, J7; a hole on the axis by its two halves", {"tol": 1e-5}


# Fillet welds: a weld as a line, its resultant at the worst point.
def weld(g):
    T, V, H, M_x, M_y, x, t, a = (g[name] for name in "T V H M_x M_y x t a".split())
    thin = min(t, g["t_p"])
    least = 1 / 8 if thin <= 0.25 else 3 / 16 if thin <= 0.5 else 1 / 4 if thin <= 0.75 else 5 / 16
    shear = math.hypot(V, H)
    if g["shape"] == "bar":
        whole = x - 2 * a
        part = min(whole, g["held"]) if g["held"] > 0 else whole
        parts = [-g["apart"] / 2, g["apart"] / 2] if g["apart"] > 0 else [0.0]
        # Two lines of weld, one on each face, about the middle of the bar.
        inertia = 2 * sum(part**3 / 12 + part * at**2 for at in parts)
        far = max(parts) + part / 2
        length = part * len(parts)
        f_n = T / (2 * length) + M_x * far / inertia + M_y / t / length
        f_v = shear / (2 * length)
        F_b = 0.6 * g["F_u"] * t / 2 / 2
        found = {"l_0": whole, "l_1": part, "S [in^2]": inertia / far}
    else:
        length = math.pi * x
        f_n = max(T / length + math.hypot(M_x, M_y) / (math.pi * x * x / 4), g["local"])
        f_v = shear / length
        F_b = 0.6 * g["F_u"] * (0.93 * t if g["shape"] == "pipe" else a) / 2
        found = {}
    f = math.hypot(f_n, f_v)
    F_w, F_p = 0.6 * g["F_EXX"] * 0.707 * a / 2, 0.6 * g["F_up"] * g["t_p"] / 2
    return found | {"t_min": thin, "a_min": least, "l [in]": length, "f_n": f_n, "f_v": f_v, "f": f, "F_b": F_b, "F_w": F_w, "F_p": F_p, "verdict: minimum leg of the weld": met(a >= least), "verdict: weld metal": met(f <= F_w), "verdict: steel beside the welds": met(f <= min(F_b, F_p)),
                    "ratio: weld metal": f / F_w, "ratio: steel beside the welds": f / min(F_b, F_p)}


WELD = {"T": 2100, "V": 700, "H": 310, "M_x": 3300, "M_y": 170, "shape": "bar", "x": 4.5, "t": 0.4375, "t_p": 0.625, "F_u": 58e3, "F_up": 65e3, "F_EXX": 70e3, "a": 0.1875, "held": 0, "apart": 0, "local": 0}


def weld_cases():
    pipe, rod = {"shape": "pipe", "x": 3.5, "t": 0.216, "F_u": 60e3}, {"shape": "round", "x": 1.75, "t": 1.75, "a": 0.25}
    for id, change in (("bar", {}), ("held", {"held": 2.75}), ("held-all", {"held": 5.5}), ("two-parts", {"held": 1.125, "apart": 2.5}), ("two-parts-all", {"held": 6.0, "apart": 3.0, "x": 2.25}), ("shortest", {"x": 1.125}), ("thin-plate", {"t_p": 0.125}), ("strong-plate", {"t": 1.0, "F_u": 65e3, "F_up": 58e3}),
                       ("pipe", pipe), ("pipe-local", pipe | {"local": 2900}), ("pipe-one-way", pipe | {"M_y": 2600}), ("rod", rod), ("rod-thin-plate", rod | {"t_p": 0.1875}), ("pipe-strained", pipe | {"M_x": 9000}), ("electrode", {"F_EXX": 60e3}), ("small", {"a": 0.125, "t": 0.5}), ("strained", {"M_x": 30000}),
                       ("slight", {"T": 90, "V": 20, "H": 10, "M_x": 50, "M_y": 20, "F_u": 30e3})):
        g = WELD | change
        yield id, g, weld(g), "AISC 360-16 J2; the weld as a line", {"tol": 1e-5}
    for id, x in (("too-narrow", 1.12), ("far-too-narrow", 0.5)):
        yield id, WELD | {"x": x}, {"refused": "the bar is too narrow for this weld"}, "six legs, 1 1/8 in, at least"


# The plate on the concrete and the seat.
def foot_plate(g):
    b, d, F_y = g["b"], g["d"], g["F_y"]
    c_b, c_d = (0.707 * g["core_b"],) * 2 if g["core"] == "round" else (g["core_b"], g["core_d"])
    four = g["pattern"] == "four"
    at = pull(g["P"], g["M_x"], g["M_y"], b, d, c_b, c_d, g["pattern"], g["g_x"], g["g_y"])
    a_x, a_y, N = at["a_x"], at["a_y"], at["N_a"]
    m_x, m_y = max(0.0, a_x - c_b / 2), max(0.0, a_y - c_d / 2)
    e_x, i_x = (b / 2 - a_x, a_x) if four else (b / 2, b / 2)
    e_y, i_y = (d / 2 - a_y, a_y) if four else (d / 2, d / 2)
    spread = lambda lever, *to: lever / sum(min(lever, edge) for edge in to) if lever > 0 else 0.0
    k_x, k_y = spread(m_x, e_y, i_y), spread(m_y, e_x, i_x)
    beyond = lambda whole, inner: max(0.0, whole / 2 - inner / 2)
    o_x, o_y, u_x, u_y = beyond(b, max(g["press_b"], c_b)), beyond(d, max(g["press_d"], c_d)), beyond(b, c_b), beyond(d, c_d)
    q = max(0.0, g["P"]) / (b * d)
    m_N = max(k_x, k_y) * N
    m_C = max(q * o_x**2 / 2 + at["C_x"] / d * u_x / 2, q * o_y**2 / 2 + at["C_y"] / b * u_y / 2)
    m_r = max(m_N, m_C)
    t_req = math.sqrt(m_r * 1.67 / (F_y / 4))
    return {"c_b": c_b, "c_d": c_d, "a_x": a_x, "a_y": a_y, "N_a": N, "m_x": m_x, "m_y": m_y, "e_x": e_x, "e_y": e_y, "i_x": i_x, "i_y": i_y, "k_x": k_x, "k_y": k_y, "m_N [lbf]": m_N, "o_x": o_x, "o_y": o_y, "u_x": u_x, "u_y": u_y, "q": q, "m_C [lbf]": m_C, "m_r [lbf]": m_r,
            "t_req": t_req, "verdict: bending of the plate below the standoff": met(g["t"] >= t_req), "ratio: bending of the plate below the standoff": t_req / g["t"]}


FOOT = {"P": -2300, "M_x": 5100, "M_y": 2700, "b": 10.5, "d": 9.0, "t": 0.75, "F_y": 36e3, "core": "bar", "core_b": 4.5, "core_d": 0.625, "press_b": 0, "press_d": 0, "pattern": "four", "g_x": 4.0, "g_y": 3.25}


def foot_cases():
    down, turn = {"P": 9000}, {"b": 8.0, "d": 10.0, "core_b": 2.5, "core_d": 5.0, "g_x": 3.25, "g_y": 3.75, "M_x": 1300, "M_y": 4600}
    for name in ("one", "two across", "two along", "four"):
        close = {"g_y": 0.75} if name == "one" else {}
        for id, change in (("up", {}), ("down", down), ("round", {"core": "round", "core_b": 3.5, "core_d": 0.216}), ("turned", turn), ("turned-down", turn | down | {"M_x": 600, "M_y": 900}), ("pressed", down | {"press_b": 6.0, "press_d": 7.0, "M_x": 100, "M_y": 150}), ("thin", {"t": 0.25, "F_y": 50e3})):
            g = FOOT | change | {"pattern": name} | close
            yield f"{name.replace(' ', '-')}-{id}", g, foot_plate(g), "moments at bend lines, spread at 45 degrees, AISC 360-16 F11.1"
    for id, change in (("inside", {"g_x": 1.5, "core_b": 6.0}), ("inside-y", {"g_y": 1.5, "core_d": 4.0, "core_b": 4.5}), ("wide-core", down | {"core_b": 11.0, "core_d": 9.5}), ("wide-press", down | {"press_b": 11.0, "press_d": 9.5, "M_x": 0, "M_y": 0}), ("near-edge", {"g_x": 5.2, "g_y": 4.45}), ("near-core", {"g_x": 2.6, "g_y": 0.6})):
        g = FOOT | change
        yield id, g, foot_plate(g), "moments at bend lines, spread at 45 degrees, AISC 360-16 F11.1"
    for id, change, words in (("no-thickness", {"core_d": 0}, "a bar needs its thickness"), ("beyond-x", {"g_x": 5.25}, "the anchors are outside the plate"), ("beyond-y", {"g_y": 4.5}, "the anchors are outside the plate"), ("far-beyond-y", {"g_y": 4.8}, "the anchors are outside the plate"), ("far-beyond-x", {"g_x": 5.8}, "the anchors are outside the plate")):
        yield id, FOOT | change, {"refused": words}, "as one would see from a drawing"


def seat(g):
    c_b, c_d = (0.707 * g["core_b"],) * 2 if g["core"] == "round" else (g["core_b"], g["core_d"])
    out = max(0.0, g["b"] / 2 - c_b / 2, g["d"] / 2 - c_d / 2)
    m = g["q"] * out * out / 2
    thick = lambda m: math.sqrt(m * 1.67 / (g["F_y"] / 4))
    found = {"c_b": c_b, "c_d": c_d, "o": out, "m [lbf]": m, "m_c [lbf]": g["F_y"] * g["t"] ** 2 / 4 / 1.67, "t_req": thick(m), "verdict: seat plate thick enough to spread the end bearing": met(g["t"] >= thick(m)),
             "ratio: seat plate thick enough to spread the end bearing": thick(m) / g["t"]}
    words = "bending of the seat plate by the side plates"
    if g["wide"] <= 0:
        return found | {f"verdict: {words}": "not asked"}
    lever = max(0.0, g["apart"] - c_d / 2)
    m_s = max(g["T_s"] * lever / g["wide"], m + g["M_s"] / g["wide"])
    return found | {"o_s": lever, "m_s [lbf]": m_s, "t_s": thick(m_s), f"verdict: {words}": met(g["t"] >= thick(m_s)), f"ratio: {words}": thick(m_s) / g["t"]}


def seat_cases():
    base = {"q": 310, "b": 7.5, "d": 5.5, "core": "bar", "core_b": 4.5, "core_d": 0.625, "t": 0.75, "wide": 0, "apart": 0, "T_s": 0, "M_s": 0, "F_y": 36e3}
    sides = {"wide": 3.5, "apart": 2.875, "T_s": 1700, "M_s": 900}
    for id, change in (("bar", {}), ("long", {"core_b": 1.5}), ("pipe", {"core": "round", "core_b": 3.5, "core_d": 0.216}), ("covered", {"b": 4.0, "d": 0.5}), ("sides-up", sides | {"q": 0, "M_s": 60}), ("sides-bent", sides | {"T_s": 90}), ("sides-inside", sides | {"apart": 1.0, "core_d": 2.5, "M_s": 0, "b": 4.0, "d": 2.0}),
                       ("thin", {"t": 0.25}), ("thin-sides", sides | {"t": 0.25, "F_y": 50e3}), ("sides-pipe", sides | {"core": "round", "core_b": 3.0})):
        g = base | change
        yield id, g, seat(g), "AISC 360-16 F11.1, moments at bend lines"


# The standoff as a cantilever.
def standoff(g):
    F_y, x, t, h, y, legs = (g[name] for name in "F_y x t h y legs".split())
    P, V_x, V_y = g["P"], g["V_x"], g["V_y"]
    found = {}
    if g["shape"] == "bar":
        A, r_g, V_c = x * t, min(x, t) / math.sqrt(12), 0.6 * F_y * x * t / 1.5
        room = bar(x, t, y + h, F_y)
        M_cx, M_cy = room["M_cx"], room["M_cy"]
        found |= {"bar-bending.w": x, "bar-bending.t": t, "bar-bending.L_b [in]": y + h}
    elif g["shape"] == "round":
        A, r_g = math.pi * x * x / 4, x / 4
        V_c, M_cx = 0.6 * F_y * A / 1.5, min(1 / 6, 1.6 * math.pi / 32) * F_y * x**3 / 1.67
        M_cy = M_cx
    else:
        wall = 0.93 * t
        hole = x - 2 * wall
        A, r_g = math.pi / 4 * (x * x - hole * hole), math.sqrt(x * x + hole * hole) / 4
        V_c, M_cx = 0.6 * F_y * A / 2 / 1.67, F_y * (x**3 - hole**3) / 6 / 1.67
        M_cy = M_cx
        found |= {"t_d": wall, "x_i": hole, "verdict: the wall of the pipe is compact": met(x / wall <= 0.07 * E / F_y)}
    # Two legs side by side are a frame that is hinged under the seat.
    N_m = 0.0 if legs == 1 else V_x * y / g["g"]
    M_x = V_x * (y + h) if legs == 1 else V_x / legs * h
    M_y, V = V_y / legs * (y + h), math.hypot(V_x, V_y) / legs
    C_r, T_r = max(0.0, P / legs + N_m), max(0.0, N_m - P / legs)
    s = g["K"] * h / r_g
    F_e = math.pi**2 * E / s**2
    F_cr = F_y if s <= 25 else F_y * 0.658 ** (F_y / F_e) if F_y <= 2.25 * F_e else 0.877 * F_e
    P_c, P_t = F_cr * A / 1.67, F_y * A / 1.67
    found |= {"A": A, "r_g [in]": r_g, "V_c": V_c, "M_cx": M_cx, "M_cy": M_cy, "N_m": N_m, "M_x": M_x, "M_y": M_y, "V": V, "C_r": C_r, "T_r": T_r, "s []": s, "F_e": F_e, "F_cr": F_cr, "P_c": P_c, "P_t": P_t,
              "verdict: download on the standoff": met(C_r <= P_c), "verdict: shear of the standoff": met(V <= V_c), "ratio: shear of the standoff": V / V_c}
    pressed, pulled = "verdict: compression and bending of the standoff", "verdict: tension and bending of the standoff"
    found |= {pressed: "not asked", pulled: "not asked"}
    if C_r <= P_c and (C_r > 0 or T_r <= 0):
        B = 1 / (1 - 1.6 * C_r / (F_e * A))
        r = together(C_r / P_c, B * M_x / M_cx + B * M_y / M_cy)
        found |= {"B []": B, "with-compression.P_r": C_r, "with-compression.P_c": P_c, "with-compression.M_rx": B * M_x, "with-compression.M_ry": B * M_y, "with-compression.M_cx": M_cx, "with-compression.M_cy": M_cy, "with-compression.r": r, pressed: met(r <= 1)}
    if T_r > 0:
        r = together(T_r / P_t, M_x / M_cx + M_y / M_cy)
        found |= {"with-tension.P_r": T_r, "with-tension.P_c": P_t, "with-tension.M_rx": M_x, "with-tension.M_ry": M_y, "with-tension.M_cx": M_cx, "with-tension.M_cy": M_cy, "with-tension.r": r, pulled: met(r <= 1)}
    return found


STAND = {"P": 5100, "V_x": 430, "V_y": 170, "y": 4.5, "h": 2.75, "F_y": 36e3, "shape": "bar", "x": 4.0, "t": 0.75, "legs": 1, "g": 0, "K": 2.1}


def standoff_cases():
    pipe, rod, two, up = {"shape": "pipe", "x": 2.375, "t": 0.154, "F_y": 35e3}, {"shape": "round", "x": 1.75, "t": 0}, {"legs": 2, "g": 3.25}, {"P": -1900}
    for id, change in (("bar", {}), ("bar-up", up), ("bar-upright", {"x": 0.75, "t": 2.0}), ("short", {"h": 2.5, "t": 1.0}), ("bar-tall", {"h": 9.0}), ("bar-slender", {"h": 24.0, "P": 900, "V_x": 40, "V_y": 10}), ("pipe", pipe), ("pipe-up", pipe | up), ("rod", rod), ("rod-up", rod | up), ("two-bars", two), ("two-bars-up", two | up), ("two-rods", two | rod),
                       ("two-pipes", two | pipe | {"V_x": 900}), ("idle", {"P": 0, "V_x": 0, "V_y": 0}), ("shear-alone", {"P": 0}), ("crushed", {"P": 90000}), ("thin-pipe", pipe | {"t": 0.04, "P": 500}), ("weak", {"V_x": 4000}), ("weak-up", up | {"V_x": 4000}), ("sheared", {"V_x": 50000}), ("strong", {"F_y": 50e3, "h": 6.0}),
                       ("inelastic", {"h": 12.0, "P": 3000, "V_x": 90, "V_y": 20}), ("held", {"K": 1.0, "h": 8.0}), ("two-idle", two | {"P": 0, "V_x": 0, "V_y": 0}), ("edge-25", {"h": 2.55, "t": 0.75}), ("above-25", {"h": 2.65, "t": 0.75}), ("two-both-ways", two | {"P": 1000}), ("thinner-pipe", pipe | {"t": 0.0425, "P": 500}), ("elastic", {"h": 14.1, "P": 900, "V_x": 60, "V_y": 10}), ("crushed-two", two | {"P": 5000, "V_x": 70000, "g": 1.0})):
        g = STAND | change
        yield id, g, standoff(g), "AISC 360-16 E3, F8, F11, G5, H1, J4; a cantilever, or two legs hinged at the top", {"tol": 1e-5}
    for id, change, words in (("bar-without-t", {"t": 0}, "a bar needs its thickness"), ("pipe-without-t", pipe | {"t": 0}, "a pipe needs the thickness of its wall"), ("full-pipe", pipe | {"t": 1.5}, "the wall is as thick as half the pipe"), ("two-without-g", two | {"g": 0}, "two legs need the spacing between them"),
                              ("just-full-pipe", {**pipe, "x": 1.86, "t": 1.0}, "the wall is as thick as half the pipe")):
        yield id, STAND | change, {"refused": words}, "as the section is made"


# The seat between a blade and what stands below it.
def blade_seat(g):
    t_p, x, V, H, T = g["t_p"], g["x"], g["V"], g["H"], g["T"]
    line = g["w"] - 2 * g["a"]
    below, bending = "verdict: the welds of the bar are below the blade, as far as the seat spreads the force", "bending of the seat between blade and standoff"
    wall_words = "wall of the pipe under the blade"
    if g["shape"] == "bar":
        return {"l [in]": line, "held": min(line, x + 5 * t_p), "apart": 0, below: met(g["t"] <= g["t_b"] + 5 * t_p), f"verdict: {bending}": "not asked", f"verdict: {wall_words}": "not asked"}
    pipe = g["shape"] == "pipe"
    wall = 0.93 * g["t"] if pipe else 0.0
    square, reach = 0.707 * x, line / 2 - x / 2
    M_1, M_2, C = g["M_x"] + V * t_p, g["M_y"] + H * t_p, max(0.0, g["P"]) if pipe else 0.0
    found = {"l [in]": line, "t_w [in]": wall, "c [in]": square, "reach": reach, "M_1": M_1, "M_2": M_2, "C": C, below: "not asked"}
    if reach >= t_p / 2 - near:
        o = min(2.5 * t_p, reach, x / 2 - wall)
        held, apart = wall + 2 * o, x - wall
        # Two lengths of the blade, as a section: its modulus at the far end.
        inertia = 2 * (held**3 / 12 + held * (apart / 2) ** 2)
        p = T / (2 * held) + M_1 * (apart / 2 + held / 2) / inertia
        m = max(p * o / 2, M_2 / (2 * square))
        l_e = min(g["t_b"] + 5 * t_p, square)
        n_T = max((T / 2 + M_1 / apart) / l_e, M_2 / square**2)
        n = max((max(T / 2, C / 4) + M_1 / apart) / l_e, (C / 4 + M_2 / square) / square)
        found |= {"o": o, "l_e": l_e}
    else:
        held, apart = min(line, square), 0.0
        p = T / held + M_1 / (held**2 / 6)
        m = p * x / 4 + M_2 / (2 * held)
        n_T = p / 2 + M_2 / (held * square)
        n = n_T + C / (4 * square)
    out = max(0.0, g["b"] / 2 - square / 2, g["d"] / 2 - square / 2)
    m_r = m + g["q"] * out * out / 2
    t_req = math.sqrt(m_r * 1.67 / (g["F_y"] / 4))
    found |= {"held": held, "apart": apart, "p [lbf/in]": p, "m [lbf]": m, "n_T": n_T, "n [lbf/in]": n, "r_g [in]": out, "m_r [lbf]": m_r, "t_req": t_req, f"verdict: {bending}": met(t_p >= t_req), f"ratio: {bending}": t_req / t_p}
    found |= {"ring-weld.T": 0, "ring-weld.V": V, "ring-weld.H": H, "ring-weld.x": x, "ring-weld.t": g["t"], "ring-weld.t_p": t_p, "ring-weld.F_u": g["F_u_leg"], "ring-weld.F_up": g["F_u"], "ring-weld.a": g["a"], "ring-weld.local": n_T, "name: ring-weld.shape": g["shape"]}
    if pipe:
        n_a = g["F_y_leg"] * wall / 1.5
        found |= {"n_a": n_a, f"verdict: {wall_words}": met(n <= n_a), f"ratio: {wall_words}": n / n_a}
    return found


RING = {"T": 2100, "P": -2100, "V": 450, "H": 130, "M_x": 2300, "M_y": 700, "q": 270, "b": 7.0, "d": 5.5, "t_b": 0.375, "w": 5.5, "a": 0.1875, "t_p": 0.625, "shape": "pipe", "x": 3.5, "t": 0.216, "F_y": 36e3, "F_u": 58e3, "F_y_leg": 35e3, "F_u_leg": 60e3}


def blade_seat_cases():
    down, rod, bar_, narrow = {"P": 9000, "T": 0}, {"shape": "round", "x": 2.5, "t": 2.5, "F_y_leg": 50e3, "F_u_leg": 65e3}, {"shape": "bar", "x": 3.0, "t": 0.5}, {"w": 3.25}
    for id, change in (("pipe", {}), ("pipe-down", down), ("pipe-far-down", {"P": 40000, "T": 0, "M_y": 100}), ("pipe-across", {"M_y": 9000, "M_x": 100, "T": 100}), ("pipe-across-down", down | {"M_y": 9000, "M_x": 100}), ("thin-seat", {"t_p": 0.25}), ("thick-seat", {"t_p": 1.5}), ("wide-blade", {"w": 9.0, "t_p": 0.75, "x": 3.5}),
                       ("small-pipe", {"x": 1.66, "t": 0.14, "w": 9.0}), ("rod", rod), ("rod-down", rod | down), ("narrow", narrow), ("narrow-down", narrow | down), ("narrower", {"w": 2.5}), ("narrow-rod", rod | {"w": 2.0}), ("just-reaching", {"w": 4.5}), ("not-quite-reaching", {"w": 4.4}), ("all-under", {"b": 2.0, "d": 2.25}), ("deep", {"b": 3.0}),
                       ("bar", bar_), ("long-bar", bar_ | {"x": 8.0}), ("short-bar", bar_ | {"x": 1.0}), ("thick-bar", bar_ | {"t": 3.5, "t_p": 0.625}), ("bar-just", bar_ | {"t": 3.5}), ("bar-over", bar_ | {"t": 3.51}), ("weak-wall", {"t": 0.05, "P": 15000, "M_x": 9000}), ("weak-seat", {"F_y": 20e3, "M_x": 9000}),
                       ("by-uplift", {"M_x": 0, "V": 0, "M_y": 0, "H": 0, "P": 500}), ("thick-blade", {"t_b": 0.75, "t_p": 0.25})):
        g = RING | change
        yield id, g, blade_seat(g), "two lengths of weld as a section, strips of the seat, AISC 360-16 J10.2"
    for id, change, words in (("no-line", {"w": 0.375}, "the blade is too narrow for this weld"), ("less-than-line", {"w": 0.3}, "the blade is too narrow for this weld"), ("full-pipe", {"x": 1.86, "t": 1.0, "w": 6.0}, "the wall is as thick as half the pipe"), ("over-full-pipe", {"x": 1.5, "t": 1.0, "w": 6.0}, "the wall is as thick as half the pipe")):
        yield id, RING | change, {"refused": words}, "as the seat is made"


def tearing_cases():
    base = {"t": 0.375, "n": 3, "s": 2.25, "lines": 2, "g [in]": 1.75, "l_v [in]": 1.375, "l_h [in]": 1.5, "d_n": 0.5625, "F_y": 36e3, "F_u": 58e3}
    for id, change in (("one-side", {}), ("middle", {"l_h [in]": 3.0, "g [in]": 0.9}), ("both-sides", {"l_h [in]": 0.6, "g [in]": 4.0}), ("one-line", {"lines": 1}), ("one-hole", {"n": 1, "lines": 1}), ("three-lines", {"lines": 3, "n": 2}), ("strong", {"F_y": 50e3, "F_u": 65e3}), ("rupture", {"F_y": 50e3, "F_u": 52e3}),
                       ("three-middle", {"lines": 3, "g [in]": 0.7, "l_h [in]": 2.5}), ("three-sides", {"lines": 3, "g [in]": 3.0, "l_h [in]": 0.7})):
        g = base | change
        yield id, g, tearing(*(g.get(name, g.get(f"{name} [in]")) for name in "t n s lines g l_v l_h d_n F_y F_u".split())), "AISC 360-16 J4.3"


def bar_cases():
    for id, w, t, L_b, F_y in (("short", 4.5, 0.75, 1.5, 36e3), ("between", 4.5, 0.5, 9.0, 36e3), ("between-strong", 5.0, 0.375, 12.0, 50e3), ("long", 6.0, 0.25, 20.0, 50e3), ("longer", 6.0, 0.1875, 40.0, 36e3), ("upright", 0.75, 4.5, 9.0, 36e3), ("just-between", 4.0, 0.5, 4.1, 36e3)):
        yield id, {"w": w, "t": t, "L_b [in]": L_b, "F_y": F_y}, bar(w, t, L_b, F_y), "AISC 360-16 F11"


def single_pin(g):
    clear, side = g["e_end"] - g["d_h"] / 2, g["w"] / 2 - g["d_h"] / 2
    wide = min(2 * g["t"] + 0.63, side)
    sheared = 2 * g["t"] * (clear + g["d"] / 2)
    P_t, P_v = g["F_u"] * 2 * g["t"] * wide / 2, 0.6 * g["F_u"] * sheared / 2
    return {"a": clear, "b_0": side, "b_e": wide, "P_t": P_t, "A_sf": sheared, "P_v": P_v, "verdict: play of a single pin in its hole": met(g["d_h"] - g["d"] <= 1 / 32 + near), "verdict: plate beyond a single pin": met(clear >= 1.33 * wide),
            "verdict: tension beside a single pin": met(g["T"] <= P_t), "verdict: shear beyond a single pin": met(g["T"] <= P_v), "ratio: shear beyond a single pin": g["T"] / P_v, "ratio: tension beside a single pin": g["T"] / P_t}


def single_pin_cases():
    base = {"T": 5100, "t": 0.375, "w": 5.5, "d": 0.75, "d_h": 0.78125, "e_end": 2.5, "F_u": 58e3}
    for id, change in (("wide", {}), ("narrow", {"w": 2.5}), ("loose", {"d_h": 0.785}), ("near-end", {"e_end": 1.75}), ("weak", {"T": 90000}), ("barely", {"e_end": 0.5, "w": 0.9}), ("small", {"d": 0.5, "d_h": 0.53125, "t": 0.25, "F_u": 65e3})):
        g = base | change
        yield id, g, single_pin(g), "AISC 360-16 D5"
    for id, change, words in (("end", {"e_end": 0.390625}, "the hole runs out of the end of the plate"), ("beyond-end", {"e_end": 0.3}, "the hole runs out of the end of the plate"), ("beyond-end-near", {"e_end": 0.27}, "the hole runs out of the end of the plate"), ("side", {"w": 0.78125}, "the hole is as wide as the plate"), ("beyond-side", {"w": 0.7}, "the hole is as wide as the plate")):
        yield id, base | change, {"refused": words}, "as a drawing shows it"


# What is said of a base: steel of its parts, clearance, finish, levels.
def steel_cases():
    for id, shape, leg, thick, steel, leg_steel in (("bar", "bar", 4.0, 0.5, "A36", "A572 Gr 50"), ("rod", "round", 1.5, 0.25, "A572 Gr 50", "A36"), ("pipe", "pipe", 3.5, 0.216, "A588", "A53 Gr B")):
        inside = 0.707 * leg
        (F_y, F_u), (F_y_leg, F_u_leg) = GRADES[steel, "plate"], GRADES[leg_steel, FORM[shape]]
        yield id, {"steel": steel, "leg_shape": shape, "leg": leg, "leg_thick": thick, "leg_steel": leg_steel}, {
            "name: leg_core": "bar" if shape == "bar" else "round", "name: leg_form": FORM[shape], "leg_t": leg if shape == "round" else thick, "leg_deep": thick if shape == "bar" else leg, "core_b": leg if shape == "bar" else inside, "core_d": thick if shape == "bar" else inside,
            "F_y": F_y, "F_u": F_u, "F_y_leg": F_y_leg, "F_u_leg": F_u_leg}, "outlines of a bar, a rod and a pipe; grades as in AISC Manual Tables 2-4 to 2-6"


def clearance_cases():
    base = {"standoff": 3.0, "ground": "concrete", "earth [in]": 20.0, "under": "crawl space", "weather": "covered", "species": "Douglas Fir-Larch", "durable": "none", "code": "IRC 2021"}
    rows = "post over exposed earth", "column in a crawl space over exposed earth"
    slab = "verdict: end grain above the slab or pier, code minimum"
    for id, change, row in (("crawl", {}, rows[1]), ("open", {"under": "open air"}, rows[0]), ("commercial-crawl", {"code": "IBC 2021"}, rows[0]), ("commercial-open", {"code": "IBC 2021", "under": "open air", "ground": "wood"}, rows[0])):
        g = base | change
        yield id, g, {"name: condition": row, slab: "met" if g["ground"] == "concrete" else "not asked", "field.clear [in]": g["standoff"]}, "IRC 2021 R317.1 knows crawl spaces, IBC 2021 2304.12 does not"


def finish_cases():
    words = "verdict: steel in contact with treated wood", "verdict: steel exposed to weather"
    good = ("hot-dip galvanized", "stainless", "as the report allows")
    for weather in ("covered", "exposed"):
        for durable in ("treated", "natural"):
            for coat in (*good, "painted", "bare"):
                yield f"{weather}-{durable}-{coat.replace(' ', '-')}", {"finish": coat, "weather": weather, "durable": durable}, {
                    words[0]: met(coat in good) if durable == "treated" else "not asked", words[1]: met(coat in good) if weather == "exposed" else "not asked"}, "IBC 2021 2304.10.6.1: zinc, stainless steel, or what the report says"


def level_cases():
    base = {"base_level": -14.5, "standoff": 1.5, "height": 104.0, "brace_x": "knee braces", "brace_y": "other", "level_x": "", "level_y": "", "spread_x": 1.25, "spread_y": 0.75}
    for id, change in (("below", {}), ("above", {"base_level": 23.0}), ("datum", {"base_level": 0.75})):
        g = base | change
        end = g["base_level"] + g["standoff"]
        yield id, g, {"field.level": g["base_level"], "field.end": end, "top_level": end + g["height"], "apart_x": 1.25, "apart_y": 0}, "levels added up"


if __name__ == "__main__":
    named = lambda file, about, cases: table(file, about, "bases_steel", cases)
    named("side-plate-steel--holes", "Side plates with screws.", side_cases())
    named("blade--holes", "Blades with pins.", blade_cases())
    named("weld--lines", "Fillet welds as lines.", weld_cases())
    named("anchor-plate--bend-lines", "Plates below a standoff.", foot_cases())
    named("seat--bend-lines", "Seat plates on a standoff.", seat_cases())
    named("standoff--cantilevers", "Standoffs of one leg and of two.", standoff_cases())
    named("blade-seat--sections", "Seats between a blade and a standoff.", blade_seat_cases())
    named("block-shear--ways", "Ways in which a plate can be torn.", tearing_cases())
    named("bar-bending--clause", "Flat bars on edge and on the flat.", bar_cases())
    named("pin-connected--clause", "Plates on a single pin.", single_pin_cases())
    named("base-steel--parts", "Steel of the parts of a base.", steel_cases())
    named("clearance--rows", "The row of the table of clearances.", clearance_cases())
    named("finish--all", "Every finish in every place.", finish_cases())
    named("post-level--ends", "Levels of end grain and beam.", level_cases())
