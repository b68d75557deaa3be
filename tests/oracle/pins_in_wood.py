"""Wood at pins and on steel by the clauses of the NDS, with every factor in it and on both sides of each edge: distances, tear-out, net section, bearing, cheeks."""
import math
import numpy as np

from csvout import put, verdict


WORDS = dict(a="minimum end distance of the pins", s="minimum spacing of the pins along the grain", rows="spacing of the rows", s_across="spacing along the grain of pins loaded across it", row_across="spacing across the grain of pins loaded across it", outer="outer rows on one steel plate", e="edge distance of the pins")


def geometry(id, D, l, direction, wood, n, rows, a, s, e, s_row):
    """Tables 12.5.1A to D. Where the load is along the grain, half of what the full value needs is the least end distance."""
    full = (7 if wood == "softwood" else 5) * D if direction == "toward the end" else 4 * D
    slim = l / D; met = dict.fromkeys(WORDS, "not asked"); met["a"] = verdict(a * (1 + 1e-9) >= full / 2)
    C_a = 1.0 if D < 0.25 else min(1.0, a / full); at_least = lambda have, need: verdict(have * (1 + 1e-9) >= need)
    row = {"=a_full": full, "=a_min": full / 2, "=C_a": C_a, "=r_l": slim}
    if direction != "across":
        C_s = 1.0 if n == 1 or D < 0.25 else min(1.0, s / (4 * D)); row |= {"=s_full": 4 * D, "=s_min": 3 * D}
        if n > 1: met["s"] = at_least(s, 3 * D)
        if rows > 1: met["rows"] = at_least(s_row, 1.5 * D); row["=r_min"] = 1.5 * D
        edge = 1.5 * D if slim <= 6 or rows == 1 else max(1.5 * D, s_row / 2)
    else:
        C_s = 1.0; between = 2.5 * D if slim <= 2 else (5 * l + 10 * D) / 8 if slim < 6 else 5 * D; row["=s_min"] = between; edge = 4 * D
        if n > 1: met["s_across"] = at_least(s, between)
        if rows > 1: met["row_across"] = at_least(s_row, 3 * D); row["=r_min"] = 3 * D
    if rows > 1: met["outer"] = verdict(s_row * (rows - 1) <= 5 * (1 + 1e-9))
    met["e"] = at_least(e, edge)
    return {"id": id, "D": D, "l": l, "direction": direction, "wood": wood, "n": n, "rows": rows, "a": a, "s": s, "e": e, "s_row": s_row} | row | {"=C_s": C_s, "=e_min": edge, "=C_delta": min(C_a, C_s)} | {f"=verdict: {WORDS[k]}": v for k, v in met.items()}


def geometries():
    found = []
    def add(*g): found.append(geometry(f"{len(found) + 1}", *g))
    for direction in ("toward the end", "away from the end", "across"):
        for wood in ("softwood", "hardwood"):
            for D in (0.242, 0.25, 0.26, 0.5, 0.625):
                for n, rows in ((1, 1), (2, 1), (1, 2), (3, 2)): add(D, 2.75, direction, wood, n, rows, 3.1 * D + 0.3 * n, 3.4 * D, 2.3 * D, 1.9 * D + 0.1)
    for k in (1.99, 2.0, 2.1, 4.0, 5.5, 5.99, 6.0, 6.3, 6.7):
        for direction in ("across", "away from the end"): add(0.5, 0.5 * k, direction, "softwood", 2, 2, 2.25, 1.9, 1.1, 2.5)
    for f in (0.99, 1.0, 1.01):
        for D, wood, toward in ((0.5, "softwood", 7), (0.5, "hardwood", 5)): add(D, 2.5, "toward the end", wood, 2, 2, toward / 2 * D * f, 3 * D * f, 1.5 * D * f, 1.5 * D * f)
        add(0.5, 2.5, "away from the end", "softwood", 2, 3, 2.0 * 0.5 * f, 4 * 0.5 * f, 0.9, 2.5 * f); add(0.5, 4.0, "across", "softwood", 2, 2, 1.1, 2.5 * f, 2.0 * f, 1.5 * f); add(0.5, 4.0, "away from the end", "softwood", 2, 2, 2.5, 1.7, 1.2 * f, 2.4)
        add(0.5, 2.5, "toward the end", "softwood", 2, 2, 3.5 * f, 2.0 * f, 0.9, 5.0 * f)
    return found


def net():
    found = []
    for id, b, d, slot, run, D, rows, bore, over, F, C, P in (("through", 7.5, 9.5, 0.5, 5.0, 0.5, 2, 7.5, None, 825.0, (1.6, 0.93, 0.9, 0.97, 0.8), -11300.0), ("blind", 7.5, 9.5, 0.625, 11.0, 0.625, 1, 5.25, 0.03125, 675.0, (1.15, 0.93, 0.9, 0.97, 0.85), -2700.0), ("bored-past", 5.5, 7.25, 0.375, 3.0, 0.375, 3, 8.0, 0.04, 575.0, (1.6, 0.91, 0.9, 0.95, 0.8), -23900.0),
                                                                ("bored-to-slot", 5.5, 7.25, 1.5, 4.0, 0.375, 3, 1.25, 0.04, 575.0, (1.6, 0.91, 0.9, 0.95, 0.8), 8100.0), ("all-gone", 5.5, 3.0, 1.0, 3.0, 0.95, 3, 5.5, 0.05, 575.0, (1.6, 0.91, 0.9, 0.95, 0.8), -100.0)):
        g = {"id": id, "b": b, "d": d, "slot": slot, "slot_run": run, "D": D, "rows": rows, "bore": bore, **({} if over is None else {"oversize": over}), "F_t": F, **dict(zip(("C_D", "C_M", "C_t", "C_F", "C_i"), C)), "P": P}
        hole = D + (0.0625 if over is None else over); out = slot * min(run, d) + rows * hole * max(0.0, min(bore, b) - slot)
        if b * d <= out: found.append(g | {"=refused": "slot and holes remove the whole post"}); continue
        allowed = F * math.prod(C); T = max(0.0, -P)
        found.append(g | {"=D_h": hole, "=l_h": max(0.0, min(bore, b) - slot), "=A_out": out, "=A_n": b * d - out, "=F_t'": allowed, "=T": T, "=f_t": T / (b * d - out), "=verdict: tension on the net section": verdict(T / (b * d - out) <= allowed)})
    return found


def tears():
    found = []; net_, row_, group = ("uplift on the net section at the pins", "row tear-out at the pins", "group tear-out at the pins")
    base = dict(t=5.25, w=9.5, D=0.5, oversize=0.03125, n=2, rows=2, a=3.75, s=2.25, s_row=2.75, F_v=165.0, F_t=675.0, C_D=1.6, C_M_v=0.97, C_t_v=0.8, C_M=0.93, C_t=0.9, C_F=0.95, C_i=0.85, P=-8100.0)
    def add(id, refused=None, **changes):
        q = base | changes; g = {"id": id} | {k: v for k, v in q.items() if v is not None}
        if refused: found.append(g | {"=refused": refused}); return
        hole = q["D"] + (0.0625 if q["oversize"] is None else q["oversize"]); Fv, Ft = q["F_v"] * q["C_D"] * q["C_M_v"] * q["C_t_v"] * q["C_i"], q["F_t"] * q["C_D"] * q["C_M"] * q["C_t"] * q["C_F"] * q["C_i"]
        # Two planes beside a row, each as long as the least piece between pins or to the end, times the pins; shear is two thirds of its peak.
        critical = q["a"] if q["n"] == 1 else min(q["a"], q["s"]); one = q["n"] * Fv * q["t"] * critical; T = max(0.0, -q["P"]); n_net = q["w"] - q["rows"] * hole
        e = {"=T": T, "=F_v'": Fv, "=F_t'": Ft, "=D_h": hole, "=w_n": n_net, "=Z_NT'": Ft * q["t"] * n_net, "=s_crit": critical, "=Z_RTi'": one, "=Z_RT'": q["rows"] * one, f"=verdict: {net_}": verdict(T <= Ft * q["t"] * n_net), f"=verdict: {row_}": verdict(T <= q["rows"] * one), f"=verdict: {group}": "not asked"}
        if q["rows"] > 1: A = q["t"] * (q["rows"] - 1) * (q["s_row"] - hole); e |= {"=A_g": A, "=Z_GT'": one + Ft * A, f"=verdict: {group}": verdict(T <= one + Ft * A)}
        found.append(g | e)
    add("two-rows"); add("three-rows", rows=3, n=3, a=1.75); add("one-row", rows=1, P=-2900.0); add("one-pin", rows=1, n=1, s=1.5); add("pins-side-by-side", n=1, s=1.5, rows=3, s_row=1.75); add("pressed", P=5100.0); add("torn", P=-21000.0, rows=1); add("torn-off", P=-71000.0); add("plain-holes", oversize=None, D=0.625)
    add("holes-as-wide", refused="the holes are together as wide as the post", D=0.96875, rows=3, w=3.0); add("holes-meet", refused="the rows are so close that their holes meet", s_row=0.53125)
    return found


def ends():
    found = []; words = ("bearing on the end grain", "end grain that bears on the seat", "bearing on a steel plate where the stress is over 0.75 F_c*")
    for id, b, d, sb, sd, slot, run, F, C, P, seat in (("seat-inside", 7.5, 9.5, 6.5, 8.25, 0.5, 5.0, 925.0, (1.15, 0.91, 0.8, 0.95, 0.85), 19300.0, "steel"), ("seat-outside", 5.5, 7.25, 6.0, 8.0, 0.375, 4.5, 1150.0, (1.6, 0.8, 0.7, 1.05, 0.8), 26100.0, "other"), ("lifted", 5.5, 7.25, 6.0, 6.5, 0.375, 4.5, 1150.0, (1.6, 0.8, 0.7, 1.05, 0.8), -6100.0, "other"),
                                                       ("crossed", 7.5, 9.5, 9.0, 6.5, 0.625, 3.5, 700.0, (0.9, 0.91, 0.9, 0.95, 0.8), 14100.0, "other"), ("crossed-more", 7.5, 9.5, 9.0, 6.5, 0.625, 3.5, 700.0, (0.9, 0.91, 0.9, 0.95, 0.8), 16900.0, "steel"), ("slotted-away", 5.5, 4.0, 5.0, 4.0, 5.0, 4.0, 700.0, (1.6, 0.8, 0.7, 1.05, 0.8), 100.0, "steel"),
                                                       ("sliver", 5.5, 4.0, 5.0, 4.0, 4.76, 4.0, 700.0, (1.6, 0.8, 0.7, 1.05, 0.8), 100.0, "steel"), ("inch", 5.5, 4.0, 5.0, 4.0, 4.73, 4.0, 700.0, (1.6, 0.8, 0.7, 1.05, 0.8), 100.0, "steel"), ("at-0.75", 8.0, 8.0, 8.0, 8.0, 0.0, 2.0, 1000.0, (0.96, 0.91, 0.9, 1.05, 0.8), None, "other"), ("over-0.75", 8.0, 8.0, 8.0, 8.0, 0.0, 2.0, 1000.0, (0.96, 0.91, 0.9, 1.05, 0.8), 1.02, "other"), ("over-0.75-steel", 8.0, 8.0, 8.0, 8.0, 0.0, 2.0, 1000.0, (0.96, 0.91, 0.9, 1.05, 0.8), 1.02, "steel")):
        A, star = min(b, sb) * min(d, sd) - slot * run, F * math.prod(C)
        if P is None or P == 1.02: P = 0.75 * star * A * (P or 0.99)
        g = {"id": id, "b": b, "d": d, "seat_b": sb, "seat_d": sd, "slot": slot, "slot_run": run, "F_c": F, **dict(zip(("C_D", "C_M", "C_t", "C_F", "C_i"), C)), "P": P, "seat": seat}
        if A <= 0: found.append(g | {"=refused": "the slot removes all the wood on the seat"}); continue
        f = max(0.0, P) / A
        found.append(g | {"=A_brg": A, "=F_c_star": star, "=f_c": f, f"=verdict: {words[0]}": verdict(f <= star), f"=verdict: {words[1]}": verdict(A >= 1), f"=verdict: {words[2]}": verdict(seat == "steel") if f > 0.75 * star else "not asked"})
    return found


def at_pins():
    found = []; words = "=verdict: shear of the wood at the pins"
    for id, b, d, slot, t, e, H in (("through", 7.5, 9.5, 0.5, None, 2.25, 1900.0), ("short", 7.5, 9.5, 0.625, 4.5, 2.75, 2100.0), ("long", 5.5, 7.25, 0.75, 6.0, 1.75, 2900.0), ("all-slot", 5.5, 7.25, 5.5, None, 1.75, 900.0), ("all-slot-short", 5.5, 7.25, 5.5, 3.0, 1.75, 900.0)):
        C = (1.6, 0.97, 0.8, 0.85); g = {"id": id, "b": b, "d": d, "slot": slot, **({} if t is None else {"t": t}), "e": e, "F_v": 165.0, **dict(zip(("C_D", "C_M_v", "C_t", "C_i"), C)), "H": H}
        if b <= slot: found.append(g | {"=refused": "the slot is as wide as the post"}); continue
        Fv, wide, deep = 165.0 * math.prod(C), min(b - slot, t or 99), d - e; V = Fv * wide * deep / 1.5 * (deep / d) ** 2
        found.append(g | {"=F_v'": Fv, "=d_e": deep, "=b_v": wide, "=V_r'": V, words: verdict(H <= V)})
    return found


def cheeks():
    found = []; C = (1.6, 0.97, 0.8, 0.85)
    for id, b, d, slot, H in (("thick", 7.5, 9.5, 0.625, 480.0), ("thin", 5.5, 7.25, 0.75, 640.0), ("gone", 5.5, 7.25, 5.5, 100.0)):
        g = {"id": id, "b": b, "d": d, "slot": slot, "F_v": 165.0, **dict(zip(("C_D", "C_M_v", "C_t", "C_i"), C)), "H_perp": H}
        if slot >= b: found.append(g | {"=refused": "the slot is as wide as the post"}); continue
        t, Fv = (b - slot) / 2, 165.0 * math.prod(C); V = Fv * d * t / 1.5 * (t / b) ** 2
        found.append(g | {"=t_c": t, "=F_v'": Fv, "=V_r'": V, "=verdict: shear normal to the blade on a cheek": verdict(H <= V)})
    return found


def faces():
    return [{"id": id, "H_perp": H, "blade_wide": w, "blade_tall": h, "F_c_perp": 625.0, "C_M_perp": 0.67, "C_t": 0.8, "=F_c_perp'": 625.0 * 0.67 * 0.8, "=f_c_perp": H / w / h * 2, "=verdict: bearing of the wood on the face of the steel": verdict(H / w / h * 2 <= 335.0)} for id, H, w, h in (("met", 2900.0, 4.5, 5.25), ("not-met", 4100.0, 3.5, 5.75))]


def sills():
    found = []
    for l_b, seat, sill, end, P in ((5.5, 4.5, 5.25, 3.25, 6100.0), (5.9, 7.0, 5.5, 2.9, 17100.0), (6.0, 7.0, 5.5, 4.0, 15100.0), (6.2, 4.0, 5.5, 4.0, -9100.0), (5.5, 6.5, 7.25, 3.0, 9900.0), (4.5, 6.5, 7.25, 3.1, 8100.0)):
        A, C_b = l_b * min(seat, sill), (1 + 0.375 / l_b if l_b < 6 and end >= 3 else 1.0); F, f = 625.0 * 0.67 * 0.8 * 0.97 * C_b, max(P, 0.0) / (l_b * min(seat, sill))
        found.append({"id": f"{l_b:g}-{end:g}", "l_b": l_b, "seat": seat, "sill": sill, "end": end, "F_c_perp": 625.0, "C_M": 0.67, "C_t": 0.8, "C_i": 0.97, "P": P, "=A_brg": A, "=C_b": C_b, "=F_c_perp'": F, "=f_c_perp": f, "=verdict: bearing perpendicular to grain": verdict(f <= F)})
    return found


def terms():
    """Table 12.3.1B for pins in double shear, and the modes that crush."""
    found = []
    for D, theta in ((0.16, 35.0), (0.17, 50.0), (0.18, 70.0), (0.24, 90.0), (0.25, 40.0), (0.26, 60.0), (0.75, 0.0)):
        for g in (0.0, 0.1):
            K = 2.2 if D <= 0.17 else 10 * D + 0.5; angle = 1 + theta / 360; I, III = (4 * angle, 3.2 * angle) if D >= 0.25 else (K, K)
            found.append({"id": f"{D:g}-{g:g}", "D": D, "l_m": 0.375, "l_s": 2.75, "F_em": 87000.0, "F_es": 4650.0, "F_yb": 61000.0, "theta": theta, "g": g, "=K_theta": angle, "=K_D": K, "=R_dI": I, "=R_dIII": III, "=Z_Im": D * 0.375 * 87000.0 / I, "=Z_Is": 2 * D * 2.75 * 4650.0 / I, **({"=R_e": 87000.0 / 4650.0} if g == 0 else {"=q_m": 87000.0 * D, "=q_s": 4650.0 * D, "=M_y": 61000.0 * D**3 / 6})})
    return found


def screw_terms():
    """Table 12.3.1B for screws in single shear: the root diameter where threads bear."""
    found = []
    for D, D_r, theta in ((0.16, 0.0, 35.0), (0.17, 0.0, 50.0), (0.18, 0.0, 70.0), (0.24, 0.0, 90.0), (0.25, 0.0, 40.0), (0.26, 0.0, 60.0), (0.75, 0.579, 20.0), (0.25, 0.173, 50.0), (0.3125, 0.227, 45.0), (0.24, 0.165, 60.0), (0.26, 0.17, 30.0), (0.27, 0.26, 15.0), (0.26, 0.19, 25.0), (0.35, 0.25, 25.0)):
        for g in (0.0, 0.1):
            d = D_r or D; K = 2.2 if d <= 0.17 else 10 * d + 0.5; angle = 1 + theta / 360
            R = (4 * angle, 3.6 * angle, 3.2 * angle) if d >= 0.25 else ((K * angle if D >= 0.25 else K),) * 3
            found.append({"id": f"{D:g}-{D_r:g}-{g:g}", "D": D, "l_m": 3.25, "l_s": 0.4375, "F_em": 4650.0, "F_es": 87000.0, "F_yb": 61000.0, "theta": theta, "D_r": D_r, "g": g, "=D_y": d, "=K_theta": angle, **({"=K_D": K} if d < 0.25 else {}), "=R_dI": R[0], "=R_dII": R[1], "=R_dIII": R[2], "=Z_Im": d * 3.25 * 4650.0 / R[0], "=Z_Is": d * 0.4375 * 87000.0 / R[0],
                          **({"=R_e": 4650.0 / 87000.0, "=R_t": 3.25 / 0.4375} if g == 0 else {"=q_m": 4650.0 * d, "=q_s": 87000.0 * d, "=M_y": 61000.0 * d**3 / 6})})
    return found


def main():
    u = {"in": "D l a s e s_row a_full a_min s_full s_min r_min e_min b d slot slot_run bore oversize D_h l_h t w w_n s_crit seat_b seat_d d_e b_v t_c blade_wide blade_tall l_b seat sill end l_m l_s D_r D_y g", "in^2": "A_out A_n A_g A_brg",
         "psi": "F_t F_v F_c F_t' F_v' f_t f_c F_c_star F_c_perp F_c_perp' f_c_perp F_em F_es F_yb", "lbf": "P T Z_NT' Z_RTi' Z_RT' Z_GT' H V_r' H_perp Z_Im Z_Is", "deg": "theta", "lbf/in": "q_m q_s", "lbf in": "M_y"}
    put("pins_in_wood", "geometry-factor--edges.csv", "End, edge and spacing of pins on both sides of each edge", geometries(), u, "NDS 2018 12.5.1, Tables 12.5.1A to D")
    put("pins_in_wood", "net-tension--factors.csv", "Net section of a post with slot and holes, with every factor in it", net(), u, "NDS 2018 3.1.2, 3.8.1, Table 4.3.1")
    put("pins_in_wood", "tear-out--factors.csv", "Tear-out at pins with every factor in it", tears(), u, "NDS 2018 App. E, Table 4.3.1")
    put("pins_in_wood", "end-bearing--factors.csv", "Bearing on the end grain with every factor in it", ends(), {**u, "in": u["in"].replace(" seat sill", " sill")}, "NDS 2018 3.10.1")
    put("pins_in_wood", "shear-at-pins--factors.csv", "Shear at pins with every factor in it", at_pins(), u, "NDS 2018 3.4.3.3, Table 4.3.1")
    put("pins_in_wood", "slot-cheeks--factors.csv", "Cheeks of a slot with every factor in it", cheeks(), u, "NDS 2018 3.4.3.2, Table 4.3.1")
    put("pins_in_wood", "slot-bearing--factors.csv", "Bearing on the face of steel with every factor in it", faces(), u, "NDS 2018 3.10.2, Table 4.3.1")
    put("pins_in_wood", "side-bearing--factors.csv", "Bearing across the grain of a sill with every factor in it", sills(), u, "NDS 2018 3.10.2, 3.10.4, Table 4.3.1")
    put("pins_in_wood", "pin-yield--terms.csv", "Reduction terms of pins on both sides of each diameter", terms(), u, "NDS 2018 Table 12.3.1B")
    put("pins_in_wood", "lag-yield--terms.csv", "Reduction terms of screws on both sides of each diameter", screw_terms(), u, "NDS 2018 Table 12.3.1B")


if __name__ == "__main__": main()
