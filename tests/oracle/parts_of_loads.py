"""What loads on a post are put together from, by the clauses of ASCE 7-16 and IBC 2021 and by statics: plan areas, weights, snow at the edges of its
clauses, wind along the ridge, braces, and what answers in the [seismic] part of a job go together."""
import math
import numpy as np
from shapely.geometry import Polygon, box

from csvout import put, verdict
from ground_motion import SYSTEMS, coefficients
from roof_of_any_shape import along_frames, end_wall, q_z, snow, tan, valley


def areas():
    """The roof of a post, as the part of the whole roof that is nearer to it than to its neighbours."""
    found = []
    base = dict(x=13.5, y=22.25, left=72.0, right=93.0, below=61.0, above=84.0, overhang_x=21.0, overhang_y=33.0)
    for at_x, at_y in (("only", "first"), ("first", "inner"), ("inner", "last"), ("last", "only"), ("inner", "inner"), ("first", "first"), ("last", "last")):
        g = dict(base)
        for k, at, low, high in (("x", at_x, "left", "right"), ("y", at_y, "below", "above")):
            if at in ("only", "first"): g[low] = 0.0
            if at in ("only", "last"): g[high] = 0.0
        reach = {low: g[low] if g[low] else g["overhang_x" if low in ("left", "right") else "overhang_y"] for low in ("left", "right", "below", "above")}
        roof = box(g["x"] - reach["left"] / 12, g["y"] - reach["below"] / 12, g["x"] + reach["right"] / 12, g["y"] + reach["above"] / 12)
        found.append({"id": f"{at_x}-{at_y}", **g, "at_x": at_x, "at_y": at_y, **{f"={k}": v for k, v in zip(("x_1", "y_1", "x_2", "y_2"), roof.bounds)}, "=A": roof.area})
        # What of its edges the grid gives is not read where there is no neighbour.
    given = dict(roof_from_x=11.0, roof_to_x=19.5, roof_from_y=17.25, roof_to_y=29.0)
    def own(id, refused=None, drop=(), **changes):
        g = {k: v for k, v in (given | changes).items() if k not in drop}; row = {"id": id, **base, "at_x": "inner", "at_y": "inner", **g}
        if refused: return row | {"=refused": refused}
        return row | {"=x_1": g["roof_from_x"], "=x_2": g["roof_to_x"], "=y_1": g["roof_from_y"], "=y_2": g["roof_to_y"], "=A": (g["roof_to_x"] - g["roof_from_x"]) * (g["roof_to_y"] - g["roof_from_y"])}
    outside = "the post is outside the part of the roof that it carries"
    found += [own("own"), own("own-at-low-edge", roof_from_x=13.5, roof_from_y=22.25), own("own-at-high-edge", roof_to_x=13.5, roof_to_y=22.25)]
    found += [own(f"own-without-{k}", k, (k,)) for k in given] + [own(f"own-with-{k}-alone", next(o for o in given if o != k), tuple(o for o in given if o != k)) for k in given]
    found += [own("east-of-post", outside, roof_from_x=13.6), own("west-of-post", outside, roof_to_x=13.4), own("north-of-post", outside, roof_from_y=22.3), own("south-of-post", outside, roof_to_y=22.2),
              own("no-width", outside, roof_from_x=13.5, roof_to_x=13.5), own("no-depth", outside, roof_from_y=22.25, roof_to_y=22.25)]
    return found


def weights():
    found = []
    for id, theta, layers in (("steep", 31.0, (2.1, 2.7, 0.9, 4.3, 1.6, 0.7)), ("one-layer", 12.0, (0.0, 0.0, 0.0, 3.4, 0.0, 0.0)), ("nothing", 12.0, (0.0,) * 6)):
        g = dict(zip("roofing sheathing insulation rafters ceiling other".split(), layers)) | dict(A=143.0, theta=theta, beam_x=63.25, beam_y=47.5, l_x=12.5, l_y=9.75, timbers=140.0, b=7.5, d=9.5, l=9.25, gamma_w=36.0)
        if not sum(layers): found.append({"id": id, **g, "=refused": "a roof weighs something"}); continue
        # Weight over the slope: the area of the slope is that of the plan over the cosine.
        slope = 143.0 / math.cos(math.radians(theta)); P_roof, post = sum(layers) * slope, 36.0 * 7.5 * 9.5 / 144 * 9.25; beams = 36.0 / 144 * (63.25 * 12.5 + 47.5 * 9.75)
        found.append({"id": id, **g, "=w_s": sum(layers), "=w": P_roof / 143.0, "=P_roof": P_roof, "=P_post": post, "=P_beams": beams, "=P_D": P_roof + post + beams + 140.0})
    return found


SNOW = "p_g risk terrain exposure building roof theta surface W rafters".split()


def snows():
    base = dict(zip(SNOW, (37.0, "III", "C", "sheltered", "open or unheated", "gable", 24.0, "other", 17.0, "other"))); found = []
    def add(id, **changes):
        g = base | changes; s = snow(*(g[k] for k in SNOW)); found.append({"id": id, **g, **{f"={k}": v for k, v in s.items()}})
    single = "single pieces from ridge to eave"
    for building in ("heated", "just above freezing or cold ventilated roof", "open or unheated", "kept below freezing", "heated greenhouse"):
        for surface in ("slippery", "other"):
            for theta in (4.9, 5.3, 9.5, 10.6, 14.5, 15.6, 29.0, 31.0, 37.0, 39.0, 44.0, 47.0, 69.0, 72.0): add(f"{building.split()[0]}-{building.split()[-1]}-{surface}-{theta:g}", building=building, surface=surface, theta=theta, W=31.0)
    for p_g in (0.0, 1.0, 19.0, 20.0, 21.0, 40.0, 123.0, 124.0): add(f"ground-{p_g:g}", p_g=p_g, theta=3.0, W=160.0); add(f"ground-{p_g:g}-steep", p_g=p_g, theta=22.0, W=33.0)
    for theta, W in ((3.0, 150.0), (3.1, 150.0), (2.9, 150.0), (14.9, 40.0), (15.0, 40.0), (15.5, 40.0)): add(f"low-{theta:g}-{W:g}", p_g=16.0, theta=theta, W=W)
    for rise in (0.49, 0.5, 0.51, 6.9, 7.0, 7.1):
        for W, rafters in ((19.0, "other"), (20.0, single), (21.0, single), (45.0, "other")): add(f"rise-{rise:g}-{W:g}", theta=round(math.degrees(math.atan(rise / 12)), 9) + (1e-7 if rise == 0.5 else -1e-7 if rise == 7.0 else 0), W=W, rafters=rafters)
    for roof in ("monoslope", "troughed"):
        for rise in (0.3, 0.37, 0.38, 0.4, 1.5, 5.5): add(f"{roof}-{rise:g}", roof=roof, theta=round(math.degrees(math.atan(rise / 12)), 9), W=22.0, p_g=41.0); add(f"{roof}-{rise:g}-deep", roof=roof, theta=round(math.degrees(math.atan(rise / 12)), 9), W=9.0, p_g=27.0, exposure="fully exposed", risk="IV")
    add("troughed-heavy", roof="troughed", theta=18.0, W=14.0, p_g=140.0); add("troughed-dense", roof="troughed", theta=3.0, W=14.0, p_g=135.0); add("troughed-cold", roof="troughed", theta=48.0, W=14.0); add("long-drift", theta=1.0 * 5, W=21.0, p_g=95.0); add("short-drift", theta=29.0, W=60.0, p_g=12.0)
    add("drift-over-all", theta=2.6, W=5.0, p_g=110.0, rafters="other"); add("no-drift", p_g=0.0, theta=20.0, W=40.0); add("small-drift", p_g=0.5, theta=20.0, W=25.0)
    return found


def valleys():
    return [{"id": f"{s_1:g}-{s_2:g}", "p_valley": 61.0, "p_high": 14.0, "W": 17.0, "s_1": s_1, "s_2": s_2, "l": 11.5, "=P": valley(61.0, 14.0, 17.0, s_1, s_2, 11.5)} for s_1, s_2 in ((0.0, 6.0), (3.5, 9.0), (9.0, 17.0), (0.0, 0.0))]


def walls():
    found = []
    for W_1, W_2, L, theta, h in ((13.0, 17.0, 41.0, 21.0, 12.5), (19.0, 11.0, 26.0, 9.5, 11.0), (15.0, 15.5, 90.0, 10.0, 14.0), (15.0, 12.5, 90.0, 10.5, 14.0), (62.0, 71.0, 44.0, 12.0, 17.0), (60.0, 71.0, 210.0, 8.0, 13.0), (49.0, 38.0, 240.0, 6.0, 9.0), (22.0, 25.0, 140.0, 23.0, 19.0), (19.0, 24.0, 36.0, 17.0, 31.0), (4.0, 3.5, 2.5, 10.0, 9.0)):
        w = end_wall(W_1, W_2, L, theta, h); found.append({"id": f"{W_1:g}-{W_2:g}-{L:g}", "W_1": W_1, "W_2": W_2, "L": L, "theta": theta, "h": h, **{f"={k}": v for k, v in w.items()}})
    return found


def ridges():
    found = []
    for id, q, B, n, A_S, A_E, A_5E in (("two", 17.0, 41.0, 2, 87.0, 390.0, 51.0), ("three", 18.0, 43.0, 3, 91.0, 410.0, 62.0), ("four", 21.0, 99.0, 4, 310.0, 1190.0, 84.0), ("wide", 16.0, 100.0, 6, 270.0, 1310.0, 91.0), ("wider", 19.0, 131.0, 5, 370.0, 1410.0, 101.0), ("without-zone", 19.0, 57.0, 5, 170.0, 510.0, None)):
        wall = {"B": B, "A_E": A_E, "A_5E": A_5E or 0.0}; F = along_frames(q, wall, n, A_S)
        found.append({"id": id, "q_h": q, "B": B, "n": n, "A_S": A_S, "A_E": A_E, **({} if A_5E is None else {"A_5E": A_5E}), "=F": F, "=p": F / A_E, "=phi": A_S / A_E, "=K_B": max(0.8, 1.8 - B / 100), "=n_f": max(n, 3), "=K_S": 0.6 + 0.073 * (max(n, 3) - 3) + 1.25 * (A_S / A_E) ** 1.8,
                      "=GC_w": (0.4 * (A_E - wall["A_5E"]) + 0.61 * wall["A_5E"]) / A_E, "=GC_l": -(0.29 * (A_E - wall["A_5E"]) + 0.43 * wall["A_5E"]) / A_E, "=share": wall["A_5E"] / A_E})
    g = dict(q_h=17.0, B=41.0, n=4)
    return found + [{"id": "solid", **g, "A_S": 391.0, "A_E": 390.0, "A_5E": 51.0, "=refused": "a frame has no more area than the whole end wall"}, {"id": "zone-over-wall", **g, "A_S": 91.0, "A_E": 390.0, "A_5E": 391.0, "=refused": "the end zone is a part of the end wall"}]


def pressures():
    found = []
    for V, exposure, z, K_zt, K_e in ((113.0, "B", 12.0, 1.07, 0.96), (97.0, "B", 16.0, 1.11, 0.91), (121.0, "C", 15.0, None, None), (141.0, "C", 31.0, 1.21, 0.88), (87.0, "D", 15.5, 1.4, 0.97)):
        c = {"id": f"{exposure}-{z:g}", "V": V, "exposure": exposure, "z": z, **({} if K_zt is None else {"K_zt": K_zt, "K_e": K_e})}
        found.append(c | {"=q_h": q_z(V, exposure, z, K_zt or 1.0) * (K_e or 1.0), "=z_c": max(z, 15.0)})
    return found + [{"id": "above-the-gradient", "V": 113.0, "exposure": "D", "z": 701.0, "=refused": "the height is above the gradient height"}, {"id": "other-direction-factor", "V": 113.0, "exposure": "C", "z": 21.0, "K_zt": 1.3, "K_d": 0.9, "K_e": 0.93, "=q_h": q_z(113.0, "C", 21.0, 1.3) * 0.93 * 0.9 / 0.85, "=z_c": 21.0}]


def edges_of_roof(): return [{"id": f"{q:g}-{fascia:g}", "q_h": q, "theta": theta, "fascia": fascia, "l": l, "=p_w": 1.5 * q, "=p_l": 1.0 * q, "=H": (q + q / 2) * fascia / 12 * l + q * fascia / 12 * l} for q, theta, fascia, l in ((17.0, 3.0, 7.5, 23.0), (21.0, 14.0, 5.5, 31.0))]


def live_loads():
    found = []
    for A in (143.0, 200.0, 205.0, 311.0, 599.0, 640.0):
        for rise in (2.0, 4.2, 7.5, 11.9, 12.5):
            theta = round(math.degrees(math.atan(rise / 12)), 6); R_1, R_2 = float(np.interp(A, [200, 600], [1, 0.6])), float(np.interp(12 * tan(theta), [4, 12], [1, 0.6])); L = max(12.0, 20 * R_1 * R_2)
            found.append({"id": f"{A:g}-{rise:g}", "A_t": A, "theta": theta, "=R_1": R_1, "=R_2": R_2, "=L_r": L, "=P": L * A})
    return found


def braces():
    """A brace along its length: its horizontal part and the triangle of drop and run."""
    found = []
    def add(id, worked, X_1, X_2, H, height, drop, run):
        push, pull = (max(0, X_1, X_2), max(0, -X_1, -X_2)) if worked == "yes" else (abs(H) * height / drop,) * 2
        angle = math.atan2(drop, run or drop)
        found.append({"id": id, "worked": worked, "X_1": X_1, "X_2": X_2, "H": H, "height": height, "drop": drop, "run": run, "=b": run or drop, "=X_push": push, "=X_pull": pull, "=F_push": push / math.cos(angle), "=F_pull": pull / math.cos(angle)})
    for k, (X_1, X_2) in enumerate(((910.0, -340.0), (-410.0, 730.0), (310.0, 670.0), (-290.0, -450.0), (-520.0, -380.0), (640.0, 210.0))): add(f"worked-{k + 1}", "yes", X_1, X_2, 150.0, 9.25, 2.75, 2.25)
    add("even", "yes", 910.0, -340.0, 150.0, 9.25, 2.75, 0.0); add("given", "no", 910.0, -340.0, -187.0, 9.25, 2.75, 2.25); add("given-even", "no", 910.0, -340.0, 213.0, 9.75, 2.25, 0.0)
    return found


LISTED = [None, "A15 wood panel walls", "A17 walls of other panels", "B22 frame with wood panel walls", "G6 cantilevered timber columns", "inverted pendulum", "other self-supporting structure"]
BRACES = ("none", "knee braces", "shear walls", "rigid frame", "other")
SAYS = {"alone": "cantilevered posts have no bracing at their tops", "fixed": "cantilevered posts are fixed at their bases", "walls": "a system of walls has shear walls in its direction", "held": "a system not listed has bracing at the tops",
        "over": "overstrength factor of the system"}


def goes_together(system, brace, rated, Omega):
    said = dict.fromkeys(SAYS, "not asked")
    if system in LISTED[4:6]: said["alone"], said["fixed"] = verdict(brace == "none"), verdict(rated == "yes")
    elif system in LISTED[1:4]: said["walls"] = verdict(brace == "shear walls")
    if system == "not listed": said["held"] = verdict(brace != "none")
    elif Omega > 1: said["over"] = verdict(Omega >= SYSTEMS[system][1])
    return {f"=verdict: {SAYS[k]}": v for k, v in said.items()}


def systems():
    found = []
    for system in LISTED[1:] + ["not listed"]:
        for brace in BRACES:
            for rated, Omega in (("yes", 1.0), ("no", 1.4), ("no", 2.6)): found.append({"id": f"{system.split()[0]}-{system.split()[-1]}-{brace}-{Omega:g}", "system": system, "brace": brace, "moment_rated": rated, "Omega_0": Omega, **goes_together(system, brace, rated, Omega)})
    return found


def directions():
    """Each direction with its own system, bracing and factor."""
    found = []
    for x, y, b_x, b_y, O_x, O_y in (("A15 wood panel walls", "not listed", "shear walls", "knee braces", 2.7, 1.3), ("G6 cantilevered timber columns", "B22 frame with wood panel walls", "none", "shear walls", 1.6, 2.2), ("other self-supporting structure", "G6 cantilevered timber columns", "other", "none", 1.9, 1.4),
                                     ("inverted pendulum", "A17 walls of other panels", "none", "rigid frame", 2.1, 1.7)):
        found.append({"id": f"{x.split()[0]}-{y.split()[0]}", "system_x": x, "system_y": y, "brace_x": b_x, "brace_y": b_y, "Omega_x": O_x, "Omega_y": O_y, "moment_rated": "yes", **FOOT, "=name: system-x.system": x, "=name: system-y.system": y, "=name: system-x.brace": b_x, "=name: system-y.brace": b_y,
                      "=system-x.Omega_0": O_x, "=system-y.Omega_0": O_y})
    return found


FOOT = {"P": 1900.0, "E": "yes", "post-size.b": 7.5, "post-size.d": 9.5, "column.F_c'": 310.0}


def over():
    found = []
    for x, y, O_x, O_y in (("G6 cantilevered timber columns", "A15 wood panel walls", 1.2, 2.7), ("inverted pendulum", "G6 cantilevered timber columns", 1.3, 1.1), ("A17 walls of other panels", "inverted pendulum", 2.4, 1.7), ("not listed", "G6 cantilevered timber columns", 1.0, 1.9),
                           ("inverted pendulum", "other self-supporting structure", 2.3, 1.0), ("B22 frame with wood panel walls", "not listed", 2.6, 1.4), ("G6 cantilevered timber columns", "inverted pendulum", 1.6, 2.2)):
        of = lambda s, job: max(job, SYSTEMS[s][1]) if s in LISTED[4:6] else job
        found.append({"id": f"{x.split()[0]}-{y.split()[0]}-{O_x:g}", "system_x": x, "system_y": y, "Omega_x_job": O_x, "Omega_y_job": O_y, "=Omega_x": of(x, O_x), "=Omega_y": of(y, O_y),
                      "=name: cantilevers_x": "yes" if x in LISTED[4:6] else "no", "=name: cantilevers_y": "yes" if y in LISTED[4:6] else "no"})
    return found


def coefficients_at():
    found = []
    for soil, S_S, S_1, measured, exception in (("A", 0.6, 0.26, "yes", "no"), ("A", 0.6, 0.26, "no", "no"), ("B", 0.6, 0.26, "yes", "yes"), ("B", 0.6, 0.26, "no", "yes"), ("C", 0.62, 0.57, "no", "no"), ("C", 0.2, 0.08, "no", "no"), ("C", 1.9, 0.7, "no", "yes"), ("D", 0.27, 0.11, "no", "no"), ("D", 0.25, 0.1, "no", "no"),
                                                ("D", 0.1, 0.04, "no", "no"), ("D", 1.4, 0.55, "no", "yes"), ("D", 1.45, 0.6, "no", "yes"), ("D", 1.6, 0.65, "no", "yes"), ("D", 0.7, 0.199, "no", "no"), ("D", 0.7, 0.2, "no", "no"), ("D", 0.7, 0.2, "no", "yes"), ("D", 0.7, 0.21, "no", "no"), ("unknown", 0.7, 0.21, "no", "no"),
                                                ("unknown", 0.7, 0.21, "no", "yes"), ("unknown", 0.4, 0.15, "no", "no"), ("unknown", 1.3, 0.15, "yes", "no"), ("E", 0.75, 0.199, "no", "yes"), ("E", 0.6, 0.13, "no", "no"), ("E", 0.2, 0.05, "no", "yes"), ("E", 0.76, 0.15, "no", "yes"), ("E", 0.8, 0.15, "no", "yes"), ("E", 0.6, 0.2, "no", "yes"), ("E", 0.6, 0.21, "no", "yes"), ("F", 0.2, 0.05, "no", "yes")):
        F = coefficients(S_S, S_1, soil, measured, exception); c = {"id": f"{soil}-{S_S:g}-{S_1:g}-{measured}-{exception}", "S_S": S_S, "S_1": S_1, "site_class": soil, "measured": measured, "exception": exception}
        found.append(c | ({"=F_a": F[0], "=F_v": F[1]} if F else {"=refused": "this ground requires a site-specific study"}))
    return found


def given_categories():
    found = []
    for n_req, sdc_job in ((2, "B"), (3, "B"), (3, "D"), (4, None), (5, "F"), (6, "E")):
        n_job = "ABCDEF".index(sdc_job) + 1 if sdc_job else 1
        found.append({"id": f"{n_req}-{sdc_job}", "n_req": n_req, "n_job": n_job, "sdc": "ABCDEF"[max(n_req, n_job) - 1], "rho": 1.3, **({"sdc_job": sdc_job} if sdc_job else {}), "=verdict: seismic design category": verdict(n_req <= n_job) if sdc_job else "not asked"})
    return found


def motions():
    return [{"id": f"{S_S:g}-{S_1:g}-{F_v:g}", "S_S": S_S, "S_1": S_1, "F_a": F_a, "F_v": F_v, "=S_M1": F_v * S_1, "=S_MS": max(F_a * S_S, F_v * S_1), "=S_DS": max(F_a * S_S, F_v * S_1) / 1.5, "=S_D1": F_v * S_1 / 1.5} for S_S, S_1, F_a, F_v in ((0.83, 0.26, 1.17, 2.08), (0.13, 0.09, 1.6, 3.1))]


def inspected():
    return [{"id": f"{V:g}-{exposure}", "V": V, "exposure": exposure, "=V_asd": V * 0.6**0.5} for V, exposure in ((113.0, "B"), (157.0, "C"))]


def main():
    ft, psf = "x y x_1 x_2 y_1 y_2 roof_from_x roof_to_x roof_from_y roof_to_y", "roofing sheathing insulation rafters ceiling other w_s w p_g p_f p_s p_r p_m p_balanced p_high p_valley p_wind p_lee p_d q_h p L_r p_w p_l"
    u = lambda **more: {"ft": ft + " l_x l_y l W l_d W_1 W_2 L h B h_r h_e a z z_c s_1 s_2 height drop run b", "psf": psf, "deg": "theta theta_1", "lbf": "P P_roof P_post P_beams P_D timbers F H X_1 X_2 X_push X_pull F_push F_pull", "pcf": "gamma_w", "sf": "A_S A_E A_5E A_t", "mph": "V V_asd", **more}
    put("parts_of_loads", "tributary-area--edges.csv", "The roof of a post by its place, and one that the job gives, with all that contradicts it", areas(), u(**{"in": "left right below above overhang_x overhang_y", "ft^2": "A"}), "plan areas")
    put("parts_of_loads", "dead-load--layers.csv", "Weights of roof, beams and post, added up", weights(), {"sf": "A", "deg": "theta", "psf": psf, "in^2": "beam_x beam_y", "ft": "l_x l_y l", "lbf": "timbers P_roof P_post P_beams P_D", "in": "b d", "pcf": "gamma_w"}, "ASCE 7-16 3.1")
    put("parts_of_loads", "roof-live--edges.csv", "Roof live load by area and slope, on both sides of each edge", live_loads(), u(), "ASCE 7-16 4.8.2")
    put("parts_of_loads", "roof-snow--edges.csv", "Snow on both sides of the edges of its clauses: slope, surface, rain, low slopes, unbalanced, troughed", [{("rafters" if k == "rafters" else k): v for k, v in case.items()} for case in snows()], u(psf=psf.replace(" rafters", "")), "ASCE 7-16 chapter 7")
    put("parts_of_loads", "valley-snow--integrals.csv", "Snow toward a valley, integrated", valleys(), u(psf=psf + " p_valley p_high"), "ASCE 7-16 7.6.3")
    put("parts_of_loads", "end-wall--polygons.csv", "End walls as polygons, and their end zones", walls(), u(**{"sf": "A_E A_5E"}), "ASCE 7-16 Figs. 28.3-1 and 28.3-2")
    put("parts_of_loads", "wind-along-ridge--edges.csv", "Wind along the ridge on both sides of each edge", ridges(), u(), "ASCE 7-16 28.3.5, Fig. 28.3-1")
    put("parts_of_loads", "velocity-pressure--factors.csv", "Velocity pressure with every factor in it", pressures(), u(), "ASCE 7-16 26.10")
    put("parts_of_loads", "wind-edges--edges.csv", "Wind on the edges of a roof, one after the other", edges_of_roof(), u(**{"in": "fascia"}), "ASCE 7-16 27.3.2, 27.3.4")
    put("parts_of_loads", "brace-forces--triangles.csv", "Forces along a brace from its horizontal part", braces(), u(), "the triangle of drop and run")
    put("parts_of_loads", "seismic-system--bracing.csv", "Each system with each bracing", systems(), u(), "ASCE 7-16 12.2.1, Tables 12.2-1 and 15.4-2")
    put("parts_of_loads", "earthquake-overstrength--systems.csv", "Overstrength factors of cantilevers in each direction", over(), u(), "ASCE 7-16 12.2.5.2, Tables 12.2-1 and 15.4-2")
    put("parts_of_loads", "earthquake-systems--directions.csv", "What resists earthquakes in each direction, handed on", directions(), u(**{"in": "post-size.b post-size.d b d", "psi": "F_c'"}), "ASCE 7-16 12.2.5.2: what is given is handed on,")
    put("parts_of_loads", "site-coefficients--edges.csv", "Site coefficients at the ends of the tables and at the edges of 11.4.8", coefficients_at(), u(), "ASCE 7-16 11.4.3, 11.4.4, 11.4.8, Tables 11.4-1 and 11.4-2")
    put("parts_of_loads", "seismic-given--categories.csv", "A category that the job gives, against that of the ground motion", given_categories(), u(), "ASCE 7-16 11.6")
    put("parts_of_loads", "seismic-ground--two.csv", "Design ground motion, that of the short period no less than that of 1 s", motions(), u(), "ASCE 7-16 11.4.4, 11.4.5 and IBC 2021 1613.2.3")
    put("parts_of_loads", "wind-inspection--speed.csv", "Wind speed for allowable stress design", inspected(), u(), "IBC 2021 1609.3.1")


if __name__ == "__main__": main()
