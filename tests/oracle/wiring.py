"""Sheets that hand on what others work with: sizes and forces turned into the directions of a base, levels, moments, shares.

What each hands on follows from the words of its symbols; here it is worked with vectors and outlines, as one would from a drawing."""
import math

from csvout import write

def rows(about, cases):
    return [dict(case, tol=1e-9, source=f"oracle/wiring.py: {about}", kind="independent") for case in cases]

# A base seen from above, turned until its blade lies along the first axis.
def turned(id, along, post, H, seat, foot, n, s):
    order = (0, 1) if along == "x" else (1, 0)
    first, second = (lambda v: v[order[0]]), (lambda v: v[order[1]])
    return {"id": id, "along": along, "b_x": post[0], "b_y": post[1], "H_x": H[0], "H_y": H[1], "seat_x": seat[0], "seat_y": seat[1],
            "foot_x": foot[0], "foot_y": foot[1], "n_x": n[0], "n_y": n[1], "s_x": s[0], "s_y": s[1],
            "=d": first(post), "=b": second(post), "=H_plane": math.hypot(first(H)), "=H_perp": math.hypot(second(H)), "=seat_run": first(seat),
            "=seat_across": second(seat), "=foot_run": first(foot), "=foot_across": second(foot), "=n_plane": first(n), "=n_square": second(n),
            "=s_plane": first(s), "=s_square": second(s)}
base = dict(post=(7.5, 5.5), H=(-900.0, 400.0), seat=(7.0, 6.0), foot=(9.0, 8.0), n=(2, 1), s=(6.5, 0.5))
write("directions--turned.csv", ["What lies along a blade and across it, for a blade along x and one along y (oracle/wiring.py)."],
      ["along"] + [f"{of} [{unit}]" for of, unit in (("b_x", "in"), ("b_y", "in"), ("H_x", "lbf"), ("H_y", "lbf"), ("seat_x", "in"), ("seat_y", "in"), ("foot_x", "in"), ("foot_y", "in"))]
      + ["n_x", "n_y", "s_x [in]", "s_y [in]"],
      ["b [in]", "d [in]", "H_plane [lbf]", "H_perp [lbf]", "seat_run [in]", "seat_across [in]", "foot_run [in]", "foot_across [in]", "n_plane", "n_square", "s_plane [in]", "s_square [in]"],
      rows("a base seen from above and turned", [turned("along-x", "x", **base), turned("along-y", "y", **base)]))

# Screws of a floor: their places on a grid, and how far apart the outermost are.
def grid(id, n_x, n_y, p_x, p_y):
    at = [(i * p_x, j * p_y) for i in range(n_x) for j in range(n_y)]
    return {"id": id, "floor_screws_along": n_x, "floor_screws_across": n_y, "floor_spacing_along": p_x, "floor_spacing_across": p_y, "floor_screw_d": 0.375, "floor_screw_length": 5.0,
            "=fixed_x": len({x for x, _ in at}), "=fixed_y": len({y for _, y in at}), "=apart_x": max(x for x, _ in at), "=apart_y": max(y for _, y in at), "=n_fixed": len(at),
            "=d_fixed": 0.375, "=deep": 5.0}
write("floor-fixings--grid.csv", ["Screws of a base in a floor: how many, and how far apart the outermost are (oracle/wiring.py)."],
      ["floor_screws_along", "floor_screws_across", "floor_spacing_along [in]", "floor_spacing_across [in]", "floor_screw_d [in]", "floor_screw_length [in]"],
      ["fixed_x", "fixed_y", "apart_x [in]", "apart_y [in]", "n_fixed", "d_fixed [in]", "deep [in]"],
      rows("places on a grid, counted", [grid("3-by-2", 3, 2, 2.0, 4.5), grid("2-by-4", 2, 4, 3.0, 1.5)]))
write("anchor-fixings--grid.csv", ["Anchors of a base: how many, and how far apart (oracle/wiring.py)."],
      ["anchors_x", "anchors_y", "anchor_s_x [in]", "anchor_s_y [in]", "d_a [in]", "h_ef [in]"],
      ["fixed_x", "fixed_y", "apart_x [in]", "apart_y [in]", "n_fixed", "d_fixed [in]", "deep [in]"],
      rows("places on a grid, counted", [{"id": f"{n_x}-by-{n_y}", "anchors_x": n_x, "anchors_y": n_y, "anchor_s_x": 6.0, "anchor_s_y": 4.0, "d_a": 0.625, "h_ef": 7.0, "=fixed_x": n_x,
                                          "=fixed_y": n_y, "=apart_x": 6.0, "=apart_y": 4.0, "=n_fixed": len([0 for _ in range(n_x) for _ in range(n_y)]), "=d_fixed": 0.625, "=deep": 7.0}
                                         for n_x, n_y in ((2, 1), (1, 2), (2, 2))]))

# Anchors about the center of a base; more than two a side on concrete are not covered.
def pattern(id, ground, n, s):
    corners = [(sx * s[0] / 2, sy * s[1] / 2) for sx in (-1, 1) for sy in (-1, 1)]
    case = {"id": id, "ground": ground, "n_plane": n[0], "n_square": n[1], "s_plane": s[0], "s_square": s[1]}
    covered = ground == "wood" or min(n) <= 1 or max(n) <= 2
    return case | ({"=g_x": max(x for x, _ in corners), "=g_y": max(y for _, y in corners)} if covered else {"=refused": "only one, two or four anchors are covered"})
write("anchor-pattern--corners.csv", ["The outermost anchors or screws from the center of the base (oracle/wiring.py)."],
      ["ground", "n_plane", "n_square", "s_plane [in]", "s_square [in]"], ["g_x [in]", "g_y [in]", "refused"],
      rows("corners about a center", [pattern("two-by-two", "concrete", (2, 2), (6.0, 4.0)), pattern("two-along", "concrete", (2, 1), (6.0, 0.0)), pattern("two-across", "concrete", (1, 2), (0.0, 4.0)),
                                      pattern("three-by-two", "concrete", (3, 2), (6.0, 4.0)), pattern("two-by-three", "concrete", (2, 3), (6.0, 4.0)), pattern("screws", "wood", (4, 3), (6.0, 5.0))]))

# A nut beside a seat: its outline, twice as wide as the anchor, is clear of the seat, or it goes on below it.
def room(id, ground, d, deep, seat, s, tall):
    over = s[0] / 2 - d < seat[0] / 2 and s[1] / 2 - d < seat[1] / 2
    need = d + 3 / 16 if ground == "concrete" else deep
    return {"id": id, "ground": ground, "d": d, "deep": deep, "seat_run": seat[0], "seat_across": seat[1], "s_plane": s[0], "s_square": s[1], "tall": tall, "=room": tall if over else 0.0,
            "=verdict: room for the nuts or screws under the seat": ("met" if tall >= need else "not met") if over else "not asked"}
write("anchor-room--outlines.csv", ["Whether a seat is over the nuts or screws, and the room that is left for them (oracle/wiring.py)."],
      ["ground", "d [in]", "deep [in]", "seat_run [in]", "seat_across [in]", "s_plane [in]", "s_square [in]", "tall [in]"],
      ["room [in]", "verdict: room for the nuts or screws under the seat"],
      rows("outlines seen from above", [room("beside-run", "concrete", 0.5, 7.0, (7.0, 6.0), (8.1, 4.0), 1.0), room("beside-across", "concrete", 0.5, 7.0, (7.0, 6.0), (4.0, 7.1), 1.0),
                                        room("below-run", "concrete", 0.5, 7.0, (7.0, 6.0), (7.9, 4.0), 1.0), room("below-across", "concrete", 0.5, 7.0, (7.0, 6.0), (4.0, 6.9), 1.0),
                                        room("just-high", "concrete", 0.5, 7.0, (7.0, 6.0), (4.0, 4.0), 0.69), room("too-low", "concrete", 0.5, 7.0, (7.0, 6.0), (4.0, 4.0), 0.68),
                                        room("screw", "wood", 0.5, 3.0, (7.0, 6.0), (4.0, 4.0), 3.01), room("screw-low", "wood", 0.5, 3.0, (7.0, 6.0), (4.0, 4.0), 2.99)]))

# Round foundations and the square of the same area.
def square(id, shape, x, y):
    side = lambda d: math.sqrt(math.pi * d * d / 4) if shape == "round" else d
    return {"id": id, "shape": shape, "x": x, "y": y, "=b_x": side(x), "=b_y": side(y)}
write("equal-square--areas.csv", ["The square of the same area as a circle (oracle/wiring.py)."], ["shape", "x [in]", "y [in]"], ["b_x [in]", "b_y [in]"],
      rows("areas", [square("round", "round", 16.0, 12.0), square("square", "square", 16.0, 16.0), square("rectangular", "rectangular", 16.0, 24.0)]))

# Moments of a base that is rated for them.
def moment(id, M_x, M_y, own, rated):
    return {"id": id, "M_x": M_x, "M_y": M_y, "base_moment": own, "moment_rated": rated, "=M_gx": M_x + math.hypot(own) if rated == "yes" else 0.0, "=M_gy": M_y + math.hypot(own) if rated == "yes" else 0.0}
write("moment-to-ground--rated.csv", ["What moment a base hands to its foundation (oracle/wiring.py)."], ["M_x [lbf ft]", "M_y [lbf ft]", "base_moment [lbf ft]", "moment_rated"], ["M_gx [lbf ft]", "M_gy [lbf ft]"],
      rows("the given moment is added both ways", [moment("rated", 900.0, 400.0, -250.0, "yes"), moment("other", 100.0, 700.0, 300.0, "yes"), moment("hinge", 900.0, 400.0, 0.0, "no")]))

# The standoff of a made base: a bar on edge, a round bar, a pipe.
STEEL = {"A36": (36.0, 58.0), "A500 Gr C": (50.0, 62.0), "A572 Gr 50": (50.0, 65.0)}
def standoff(id, shape, leg, thick, steel, leg_steel):
    round_, deep = shape != "bar", thick if shape == "bar" else leg
    inside = lambda across: 0.707 * leg if round_ else across
    return {"id": id, "steel": steel, "leg_shape": shape, "leg": leg, "leg_thick": thick, "leg_steel": leg_steel, "=leg_t": leg if shape == "round" else thick, "=leg_deep": deep,
            "=core_b": inside(leg), "=core_d": inside(thick), "=F_y": STEEL[steel][0], "=F_u": STEEL[steel][1], "=F_y_leg": STEEL[leg_steel][0], "=F_u_leg": STEEL[leg_steel][1]}
write("base-steel--standoffs.csv", ["Standoffs of made bases: what their welds join, and what of a plate they hold (oracle/wiring.py)."],
      ["steel", "leg_shape", "leg [in]", "leg_thick [in]", "leg_steel"], ["leg_t [in]", "leg_deep [in]", "core_b [in]", "core_d [in]", "F_y [ksi]", "F_u [ksi]", "F_y_leg [ksi]", "F_u_leg [ksi]"],
      rows("outlines of a bar, a rod and a pipe; grades as in tables--steel-grades.csv", [standoff("bar", "bar", 4.0, 0.5, "A36", "A572 Gr 50"), standoff("rod", "round", 1.5, 0.0, "A572 Gr 50", "A36")]))

# Levels of post tops under a level beam, within 2 in.
def level(id, level_x, level_y, brace_x, brace_y, spread_x, spread_y, base_level=6.0):
    apart = [0.0 if said == "no" else spread if brace in ("knee braces", "rigid frame") else 0.0 for said, brace, spread in ((level_x, brace_x, spread_x), (level_y, brace_y, spread_y))]
    case = {"id": id, "base_level": base_level, "standoff": 1.0, "height": 108.0, "brace_x": brace_x, "brace_y": brace_y, "level_x": level_x, "level_y": level_y, "spread_x": spread_x, "spread_y": spread_y}
    if max(apart) > 2 and base_level == "": return case | {"=refused": "needs `base_level`"}
    return case | {"=apart_x": apart[0], "=apart_y": apart[1], "=verdict: posts under a level beam end at the same level, within 2 in": "not met" if max(apart) > 2 else "not asked",
                   **({"=top_level": base_level + 1.0 + 108.0} if base_level != "" else {})}
write("post-level--tops.csv", ["How far the tops of a line are apart in level, and whether that may be (oracle/wiring.py)."],
      ["base_level [in]", "standoff [in]", "height [in]", "brace_x", "brace_y", "level_x", "level_y", "spread_x [in]", "spread_y [in]"],
      ["apart_x [in]", "apart_y [in]", "top_level [in]", "verdict: posts under a level beam end at the same level, within 2 in", "refused"],
      rows("levels added up", [level("level", "", "", "knee braces", "rigid frame", 1.9, 1.5), level("apart-x", "", "", "knee braces", "shear walls", 2.1, 9.0), level("apart-y", "", "", "none", "rigid frame", 9.0, 2.1),
                               level("sloping-x", "no", "", "knee braces", "knee braces", 9.0, 1.0), level("sloping-y", "", "no", "rigid frame", "knee braces", 1.0, 9.0), level("said-level", "yes", "yes", "knee braces", "knee braces", 3.0, 1.0),
                               level("no-frames", "", "", "shear walls", "other", 9.0, 9.0), level("unknown", "", "", "knee braces", "none", 3.0, 0.0, ""), level("unknown-level", "", "", "knee braces", "none", 1.0, 0.0, "")]))
