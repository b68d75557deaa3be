"""Shear and moment of a post by its diagrams, and what is left of it where it is cut: cells of the section (brace_foot.py), with every factor in it."""
import math
import numpy as np

from brace_foot import section, stress, widths, wood
from csvout import put, verdict
from ground_motion import category, motion


def moment(id, brace, P, H, height, drop, w, K_e):
    """Lengths in ft. A post on a hinge from its base up, a cantilever from its top down, one between walls as a beam."""
    row = {"id": id, "P": P, "H": H, "height": height, "brace": brace, "drop": drop, "w": w, **({} if K_e is None else {"K_e": K_e})}
    K_e = K_e or 1.0; sways = brace in ("none", "knee braces", "rigid frame"); span = height - drop if brace == "knee braces" else height
    if brace == "knee braces" and drop >= height: return row | {"=refused": "the foot of the knee brace is below the base"}
    if sways:
        H_b = H + w * height
        shape = np.polynomial.Polynomial([0, H, w / 2] if brace == "none" else [0, H_b, -w / 2])
        zero = [z for z in np.atleast_1d(shape.deriv().roots()).real if 0 < z < span] if w else []
        M_0 = max((abs(shape(z)) for z in zero), default=0.0); M_e = shape(span)
        if brace == "none": row |= {"=x_0": -H / w if w else 0.0}
        else: row |= {"=x_0": H_b / w if w else 0.0}
    else: H_b = H + math.copysign(abs(w) * height / 2, H); M_e, M_0 = w * height**2 / 8, 0.0; row |= {"=x_0": 0.0}
    V_up = 0.0
    if brace == "knee braces" and 0 < drop < height:
        # The piece above the brace, a beam from the brace to the hinge at the beam.
        V_up = abs(M_e) / drop + abs(w) * drop / 2
        F = np.linalg.solve([[1, -1], [drop, 0]], [H_b - w * height, H_b * height - w * height**2 / 2]); row |= {"=F_b": F[0], "=F_t": F[1]}
    l = height - min(drop, height / 3) if brace == "knee braces" else height
    K = 2.1 if brace == "none" else max(2.4, K_e) if brace in ("knee braces", "rigid frame") else K_e
    return row | {"=H_b": H_b, "=V_w": H_b - H, "=M_e": M_e, "=M_0": M_0, "=M": max(abs(M_e), M_0), "=V_up": V_up, "=V": max(abs(H) + abs(w) * height, V_up), "=M_base": abs(M_e) if brace == "none" else 0.0, "=span": span, "=l": l, "=K": K, "=l_e": 12 * max(K * l, K_e * height),
                  "=M_H": abs(H) * (span if sways else 0.0), "=lever": span if sways else 0.0, "=name: sways": "yes" if sways else "no"}


def moments():
    found = []
    for brace in ("none", "knee braces", "shear walls", "rigid frame", "other"):
        drop = 2.75 if brace == "knee braces" else 0.0
        for k, (H, w, K_e) in enumerate(((310.0, 17.0, None), (-270.0, 23.0, 1.2), (140.0, -31.0, 0.8), (-190.0, -13.0, 2.39), (0.0, 19.0, 0.9), (230.0, 0.0, 1.1), (-60.0, 21.0, 2.2), (0.0, -16.0, 1.3))):
            found.append(moment(f"{brace.split()[0]}-{k + 1}", brace, 5100.0 - 900 * k, H, 9.25 + k / 4, drop, w, K_e))
    for drop in (0.0, 0.4, 3.0, 3.3, 5.5, 9.2): found.append(moment(f"knee-drop-{drop:g}", "knee braces", 3100.0, 170.0, 9.3, drop, -29.0, 2.1))
    return found + [moment("knee-at-base", "knee braces", 3100.0, 170.0, 9.3, 9.3, 11.0, 1.0), moment("knee-below-base", "knee braces", 3100.0, 170.0, 9.3, 9.4, 11.0, 1.0), moment("walls-with-drop", "shear walls", 3100.0, 170.0, 9.3, 2.5, 11.0, 0.9)]


def sections():
    found = []
    for id, b, d, A_n, V_x, V_y, star, F_v, C_D, C_M, C_t, C_i, P in (("pressed", 7.5, 9.5, 51.0, 1310.0, 890.0, 910.0, 170.0, 1.15, 0.97, 0.8, 0.85, 21300.0), ("pulled", 5.5, 7.25, 27.0, 470.0, 1930.0, 760.0, 180.0, 1.6, 0.97, 0.7, 0.8, -3100.0), ("crushed", 5.5, 7.25, 27.0, 470.0, 930.0, 760.0, 180.0, 0.9, 0.97, 0.7, 0.8, 21000.0)):
        f_c = max(P, 0) / A_n; allowed = F_v * C_D * C_M * C_t * C_i; f_v = 1.5 * math.hypot(V_x, V_y) / (b * d)
        found.append({"id": id, "b": b, "d": d, "A_n": A_n, "V_x": V_x, "V_y": V_y, "F_c_star": star, "F_v": F_v, "C_D": C_D, "C_M_v": C_M, "C_t": C_t, "C_i": C_i, "P": P, "=f_c": f_c, "=F_v'": allowed, "=f_v": f_v,
                      "=verdict: compression on the net section": verdict(f_c <= star), "=verdict: shear of the post": verdict(f_v <= allowed)})
    return found


def sizes():
    """A nominal size, dimensions, or both where they are the same within a hundredth."""
    dry, green = {"6x8": (5.5, 7.25), "8x10": (7.25, 9.25)}, {"6x8": (5.5, 7.5), "8x10": (7.5, 9.5)}; found = []
    wrong, need = ("the width is not that of the nominal size", "the depth is not that of the nominal size"), "width"
    def add(id, nominal=None, width=None, depth=None, dressed="green", refused=None):
        row = {"id": id, **({"nominal": nominal} if nominal else {}), **({"width": width} if width else {}), **({"depth": depth} if depth else {}), "dressed": dressed}
        if refused: found.append(row | {"=refused": refused}); return
        b, d = (green if dressed == "green" else dry)[nominal] if nominal else (width, depth)
        found.append(row | {"=b": b, "=d": d})
    add("nominal", "6x8"); add("nominal-dry", "8x10", dressed="dry"); add("given", width=6.75, depth=8.25); add("both", "6x8", 5.5, 7.5); add("both-near", "8x10", 7.509, 9.491); add("width-too", "8x10", width=7.491); add("depth-too", "8x10", depth=9.509)
    add("wide", "6x8", width=5.5105, refused=wrong[0]); add("narrow", "6x8", width=5.4895, refused=wrong[0]); add("deep", "6x8", depth=7.5105, refused=wrong[1]); add("shallow", "6x8", 5.5, 7.4895, refused=wrong[1])
    add("width-alone", width=6.75, refused="depth"); add("depth-alone", depth=6.75, refused="width"); add("nothing", refused="width")
    return found


CUTS = [(7.5, 9.5, 1, 0, 2.0, 2.25, 0.5), (9.5, 7.5, 2, 0, 1.5, 2.5, 0.25), (7.5, 11.5, 1, 1, 1.25, 2.5, 0.75), (9.5, 7.25, 2, 1, 1.5, 2.25, 0.375), (7.5, 9.5, 0, 1, 1.75, 3.0, 0.625), (9.5, 11.5, 2, 2, 1.5, 3.25, 0.5), (7.25, 9.5, 1, 2, 1.25, 2.75, 0.25), (11.5, 9.5, 0, 2, 2.0, 2.5, 0.75),
        (7.5, 9.5, 1, 1, 2.0, 0.0, 0.5), (7.5, 9.5, 1, 1, 2.0, 0.4, 0.5), (7.5, 9.5, 0, 0, 2.0, 2.25, 0.5), (7.5, 9.5, 1, 0, 2.0, 2.5, 0.0), (7.5, 11.5, 1, 1, 1.25, 2.5, 0.0), (9.5, 9.5, 1, 1, 2.25, 3.5, 0.625)]
ENDS, SHORT = "the mortises of this direction end in the post, and do not meet", "the mortises of this direction stop short of those of the other"


def cuts():
    found = []
    for k, (along, across, n, n_b, w, deep, house) in enumerate(CUTS):
        s = section(wood(along, across, n, n_b, w, deep, house)); depth, beside, between = widths(along, across, n, n_b, w, deep, house)
        found.append({"id": f"cut-{k + 1}", "d": along, "b": across, "n": n, "n_b": n_b, "mortise_width": w, "mortise_depth": deep, "housing": house, "=A_n": s[0], "=e": abs(s[1]), "=I_n": s[3], "=c": max(abs(x) for x, _ in s[6]), "=d_n": depth, "=b_m": beside, "=b_c": between,
                      f"=verdict: {ENDS}": verdict(n * deep <= along), f"=verdict: {SHORT}": verdict(deep + w / 2 <= along / 2) if n and n_b else "not asked"})
    row = lambda id, d, b, n, n_b, w, deep, house, **e: {"id": id, "d": d, "b": b, "n": n, "n_b": n_b, "mortise_width": w, "mortise_depth": deep, "housing": house} | e
    found += [row("meet", 7.5, 9.5, 2, 0, 1.5, 3.8, 0.25, **{f"=verdict: {ENDS}": "not met"}), row("touch", 7.5, 9.5, 2, 0, 1.5, 3.75, 0.25, **{f"=verdict: {ENDS}": "met"}), row("one-through", 7.5, 9.5, 1, 0, 1.5, 7.6, 0.25, **{f"=verdict: {ENDS}": "not met"}),
              row("reach", 7.5, 9.5, 1, 1, 1.5, 3.0, 0.25, **{f"=verdict: {SHORT}": "met"}), row("reach-too-far", 7.5, 9.5, 1, 1, 1.5, 3.05, 0.25, **{f"=verdict: {SHORT}": "not met"}), row("reach-wider", 7.5, 9.5, 1, 1, 1.7, 3.0, 0.25, **{f"=verdict: {SHORT}": "not met"}),
              row("housed-away", 5.5, 9.5, 2, 0, 1.5, 2.0, 2.75, **{"=refused": "the housings remove the whole post"}), row("housed-away-across", 9.5, 5.5, 0, 2, 1.5, 2.0, 2.75, **{"=refused": "the housings remove the whole post"}), row("housed-nearly", 5.5, 9.5, 2, 0, 1.5, 2.0, 2.7, **{"=d_n": 0.1}),
              row("cut-away", 5.5, 4.0, 2, 0, 4.1, 2.75, 0.0, **{"=refused": "the mortises remove the whole post"}), row("as-wide", 7.5, 4.0, 1, 0, 4.0, 2.0, 0.0, **{"=refused": "the mortise is as wide as the post"}), row("nothing-between", 9.5, 5.5, 0, 2, 2.0, 2.75, 0.25, **{"=refused": "the mortises leave no wood between them"}),
              row("wide-not-deep", 7.5, 4.0, 1, 0, 4.5, 0.0, 0.25, **{"=b_m": 4.0}), row("wide-other-way", 7.5, 4.0, 0, 1, 4.5, 1.0, 0.25, **{"=b_m": 3.75})]
    return found


def feet():
    found = []
    for k, (bx, by, nx, ny, w, deep, house) in enumerate(CUTS):
        for P in (6100.0, -2300.0) if k < 8 else (4300.0,):
            mx, my, vx, vy, lx, ly, E = 1900.0, 1450.0, 830.0, 610.0, 151.0, 133.0, 470e3
            star, F_t, F_b, F_v, C_D, CMb, CMv, C_t, C_F, Cfu, C_i = 890.0, 640.0, 1050.0, 165.0, 1.6, 0.91, 0.97, 0.8, 0.95, 0.86 if bx != by else 0.93, 0.85
            s = section(wood(bx, by, nx, ny, w, deep, house)); ex, ey = abs(s[1]), abs(s[2])
            fx, fy = stress(s, 12 * mx + abs(P) * ex, 0), stress(s, 0, 12 * my + abs(P) * ey)
            Fb, Fv = F_b * C_D * CMb * C_t * C_F * C_i, F_v * C_D * CMv * C_t * C_i; Fx, Fy = Fb * (Cfu if bx < by else 1), Fb * (Cfu if by < bx else 1)
            e = {"=F_b_star": Fb, "=F_bx'": Fx, "=F_by'": Fy, "=F_v'": Fv, "=f_bx": fx, "=f_by": fy, "=n_x": nx, "=n_y": ny, "=net-x.A_n": s[0], "=net-y.A_n": s[0]}
            if P >= 0:
                cx, cy = (0.822 * E * (side / l) ** 2 for side, l in ((bx, lx), (by, ly))); g = P / bx / by; r = (P / s[0] / star) ** 2 + fx / Fx / (1 - g / cx) + fy / Fy / (1 - g / cy)
                e |= {"=f_c": P / s[0], "=f_g": g, "=F_cEx": cx, "=F_cEy": cy, "=r_c": r, "=verdict: bending and compression at the brace foot": verdict(r <= 1), "=verdict: bending and tension at the brace foot": "not asked"}
            else:
                r = -P / s[0] / F_t + fx / Fx + fy / Fy; e |= {"=f_t": -P / s[0], "=r_t": r, "=verdict: bending and tension at the brace foot": verdict(r <= 1), "=verdict: bending and compression at the brace foot": "not asked"}
            allowed = lambda depth, beside, between, whole: min(Fv * beside * depth / 1.5 * (depth / whole) ** 2, Fv * between * depth / 1.5)
            Vx, Vy = allowed(*widths(bx, by, nx, ny, w, deep, house), bx), allowed(*widths(by, bx, ny, nx, w, deep, house), by); r_v = math.hypot(vx / Vx, vy / Vy)
            e |= {"=V_rx'": Vx, "=V_ry'": Vy, "=r_v": r_v, "=verdict: shear at the brace foot": verdict(r_v <= 1)}
            for way, n in (("x", nx), ("y", ny)):
                if n: e[f"=name: shop.faces_{way}"] = "both" if n == 2 else "one"
            e |= {"=shop.mortise_w": w, "=shop.mortise_d": deep, "=shop.low": 27.0} | ({"=shop.housed": house} if house else {})
            found.append({"id": f"foot-{k + 1}-{'pressed' if P >= 0 else 'pulled'}", "b": bx, "d": by, "brace_x": "knee braces" if nx else "other", "brace_y": "knee braces" if ny else "rigid frame", "brace_faces_x": "both" if nx == 2 else "one", "brace_faces_y": "both" if ny == 2 else "one", "mortise_width": w, "mortise_depth": deep, "housing": house,
                          "M_x": mx, "M_y": my, "V_x": vx, "V_y": vy, "drop": 27.0, "l_x": lx, "l_y": ly, "E_min'": E, "P": P, "F_c_star": star, "F_t'": F_t, "F_b": F_b, "F_v": F_v, "C_D": C_D, "C_M_b": CMb, "C_M_v": CMv, "C_t": C_t, "C_F": C_F, "C_fu": Cfu, "C_i": C_i} | e)
    # A post that buckles is not asked for its section here: the column says so.
    still = {k: v for k, v in found[0].items() if k[0] != "="}; words = "=verdict: bending and compression at the brace foot"
    found += [still | {"id": "buckles-along-x", "l_x": 900.0, words: "not asked"}, still | {"id": "buckles-along-y", "l_y": 1100.0, words: "not asked"}, still | {"id": "no-load", "P": 0.0, "=f_c": 0.0, "=verdict: bending and tension at the brace foot": "not asked"}]
    return found


def given():
    """What category leaves out an earthquake: that of the ground motion, or the one that is given, or A."""
    found = []; far = dict(wind_x="toward +x only", wind_y="both ways")
    def add(id, sdc, **g): found.append({"id": id, "earthquake": "no", "wind": "yes", **far, **g, "=name: sdc": sdc})
    add("typed", "ABCDEF"[category(0.42, 0.18, 0.1, "II") - 1], S_DS_job=0.42, S_D1_job=0.18, S_1_job=0.1)
    add("mapped", "ABCDEF"[category(*motion(0.31, 0.12, "D"), 0.12, "II") - 1], S_S=0.31, S_1_job=0.12, site_class="D")
    add("category", "C", sdc_job="C"); add("nothing", "A"); add("half", "A", S_DS_job=0.42); add("other-half", "B", S_S=0.42, sdc_job="B"); add("second-half", "E", S_D1_job=0.42, sdc_job="E"); add("last-half", "A", S_1_job=0.3); add("crossed", "A", S_S=0.3, S_D1_job=0.2)
    return found


def capped():
    found = []
    for id, P, b, d, F, quake in (("light", 1900.0, 7.5, 9.5, 310.0, "yes"), ("heavy", 3400.0, 7.5, 9.5, 310.0, "yes"), ("lifted", -3400.0, 5.5, 7.25, 310.0, "yes"), ("no-earthquake", 3400.0, 7.5, 9.5, 310.0, "no")):
        words = "=verdict: axial load of a cantilevered column in an earthquake"; A = F * b * d
        found.append({"id": id, "P": P, "earthquake": quake, "b": b, "d": d, "F_c'": F} | ({words: verdict(max(P, 0) <= 0.15 * A), "=P_a": A, "=P_max": 0.15 * A, "=C": max(P, 0.0)} if quake == "yes" else {words: "not asked"}))
    return found


def main():
    lengths = "b d b_n d_n width depth mortise_width mortise_depth housing l_e e c b_m b_c mortise_w mortise_d low housed l_x l_y drop"
    stresses = "F_c_star F_v F_v' f_c f_v F_b F_b_star F_bx' F_by' F_t' E_min' f_bx f_by f_g F_cEx F_cEy f_t F_c'"
    u = {"in": lengths, "psi": stresses, "lbf": "P H H_b V_w V V_up V_x V_y V_rx' V_ry' F_b F_t C P_a P_max", "lbf ft": "M M_e M_0 M_H M_base M_x M_y", "ft": "height x_0 span l lever", "in^2": "A_n", "in^4": "I_n"}
    put("sections_of_posts", "post-moment--diagrams.csv", "Shear and moment of a post by its diagrams, held in each way, the wind with the shear or against it", moments(), {**u, "psi": "", "ft": "height drop x_0 span l lever", "in": "l_e", "lbf/ft": "w"}, "statics and NDS 2018 App. G")
    put("sections_of_posts", "post-section--factors.csv", "Net section and shear of a post with every factor in it", sections(), u, "NDS 2018 3.4.2, 3.6.3, Table 4.3.1")
    put("sections_of_posts", "post-size--ways.csv", "The size of a post by its nominal size, its dimensions, or both", sizes(), u, "PS 20 dressed sizes, NDS Supplement 2018 Table 1A")
    put("sections_of_posts", "mortised-section--edges.csv", "Sections with one, two or no faces cut each way, and cuts that meet", cuts(), u, "cells of the section")
    put("sections_of_posts", "brace-foot--factors.csv", "Posts cut for braces, pressed and pulled, with every factor in it: corners of the cells of the section", feet(), {**u, "lbf": u["lbf"].replace("F_b F_t", "")}, "NDS 2018 3.4.3, 3.9, Table 4.3.1 and cells of the section")
    put("sections_of_posts", "given-cases--categories.csv", "The category of a job whose reactions have no earthquake in them", given(), u, "ASCE 7-16 11.6")
    put("sections_of_posts", "cantilevered-column--share.csv", "Axial load of a cantilever in an earthquake", capped(), u, "ASCE 7-16 12.2.5.2")


if __name__ == "__main__": main()
