"""Both sides of the edges at which a clause changes its equation, and what lies beyond the last of them.

Each equation is written here anew from its clause, in plain Python; a case stands close enough to an edge that an edge moved by
a tenth takes the other equation. Cases that a clause does not cover are refused."""
import math

from csvout import write

def rows(clause, cases):
    return [dict(case, tol=1e-7, source=f"oracle/edges.py: {clause}, both sides of its edges", kind="independent") for case in cases]

# A flat bar on edge: the plastic moment, inelastic and elastic lateral buckling.
E = 29000.0
def bar(id, F_y, w, t, L_b):
    S, r = t * w**2 / 6, L_b * w / t**2
    M_p = 1.5 * S * F_y
    if r * F_y / E <= 0.08: M = M_p
    elif r * F_y / E <= 1.9: M = min(M_p, (1.52 - 0.274 * r * F_y / E) * F_y * S)
    else: M = min(M_p, 1.9 * E * S / r)
    return {"id": id, "w": w, "t": t, "L_b": L_b, "F_y": F_y, "=r_b": r, "=M_b": M * 1000, "=M_cx": M * 1000 / 1.67, "=M_cy": 1.5 * w * t**2 / 6 * F_y * 1000 / 1.67}
write("bar-bending--edges.csv", ["A flat bar at the edges between plastic moment, inelastic and elastic lateral buckling (oracle/edges.py)."],
      ["w [in]", "t [in]", "L_b [in]", "F_y [ksi]"], ["r_b", "M_b [lbf in]", "M_cx [lbf in]", "M_cy [lbf in]"],
      rows("AISC 360-16 F11", [bar(f"{F_y:g}-{L_b:g}", F_y, 4.0, 0.5, L_b)
                               for F_y, L_bs in ((36.0, (3.9, 4.2, 50.0, 95.0, 97.0, 150.0)), (50.0, (2.8, 3.0, 30.0, 68.0, 70.0)))
                               for L_b in L_bs]))

# Axial force and bending: from a ratio of 0.2 on, the other equation.
def together(p, m): return p + 8 / 9 * m if p >= 0.2 else p / 2 + m
write("axial-and-bending--edges.csv", ["Axial force and bending on both sides of a fifth of the axial strength (oracle/edges.py)."],
      ["P_r [lbf]", "P_c [lbf]", "M_rx [lbf in]", "M_cx [lbf in]", "M_ry [lbf in]", "M_cy [lbf in]"], ["p", "r"],
      rows("AISC 360-16 H1.1", [{"id": f"p-{p:g}", "P_r": 1000 * p, "P_c": 1000.0, "M_rx": 300.0, "M_cx": 1000.0, "M_ry": 200.0, "M_cy": 800.0,
                                 "=p": p, "=r": together(p, 0.55)} for p in (0.19, 0.2, 0.21)]))

# Pullout of hooks: bearing of the hook on the concrete, for hooks of 3 to 4.5 diameters.
HOOK = "give the bearing area of the head, or a hook with e_h from 3 to 4.5 d_a"
def hook(f_c, d, times, A_brg=0.0):
    inside = 3 <= times <= 4.5
    found = {"=N_pn": 0.9 * f_c * times * d * d} if inside else {"=refused": HOOK}
    return {"id": f"hook-{f_c:g}-{d:g}-{times:g}-{A_brg:g}", "f_c'": f_c, "grip": "hooked", "A_brg": A_brg, "d_a": d, "e_h": times * d, **found}
headed = [{"id": "head-without-area", "f_c'": 4000.0, "grip": "headed", "A_brg": 0.0, "d_a": 0.5, "e_h": 2.0, "=refused": HOOK},
          {"id": "head-beside-hook", "f_c'": 4000.0, "grip": "headed", "A_brg": 0.9, "d_a": 0.5, "e_h": 2.0, "=N_pn": 8 * 0.9 * 4000}]
write("anchor-pullout--edges.csv", ["Hooks at the ends of what the clause covers, and beyond (oracle/edges.py)."],
      ["f_c' [psi]", "grip", "A_brg [in^2]", "d_a [in]", "e_h [in]"], ["N_pn [lbf]", "refused"],
      rows("ACI 318-19 17.6.3.2.2", [hook(*case) for case in ((3000.0, 0.5, 3.0), (3000.0, 0.5, 4.5), (4000.0, 0.625, 4.4, 0.9), (4000.0, 0.625, 3.1), (3000.0, 0.5, 2.9), (3000.0, 0.5, 4.6))] + headed))

# Steel of an anchor: the strength that may be used ends at 1.9 f_ya and at 125 ksi; grout takes a fifth of the shear.
def steel(id, f_ya, f_uta, gap, shank="rod"):
    f_u = min(f_uta, 1.9 * f_ya, 125.0)
    V = f_u * 1000 * 0.334 * (1.0 if shank == "stud" else 0.6) * (0.8 if gap == "grout" else 1.0)
    return {"id": id, "A_se": 0.334, "f_ya": f_ya, "f_uta": f_uta, "gap": gap, "shank": shank, "=N_sa": f_u * 334.0, "=V_sa": V, "=N_d": 0.75 * f_u * 334.0, "=V_d": 0.65 * V}
write("anchor-steel--edges.csv", ["Strong and soft steel of anchors, with and without grout (oracle/edges.py)."],
      ["A_se [in^2]", "f_ya [ksi]", "f_uta [ksi]", "gap", "shank"], ["N_sa [lbf]", "V_sa [lbf]", "N_d [lbf]", "V_d [lbf]"],
      rows("ACI 318-19 17.6.1.2, 17.7.1.2", [steel("strong", 105.0, 150.0, "none"), steel("just", 105.0, 125.0, "grout"), steel("soft", 36.0, 75.0, "grout"),
                                             steel("plain", 36.0, 58.0, "none"), steel("stud", 51.0, 65.0, "grout", "stud")]))

# Hooked and straight bars: light concrete, strong concrete, cover and spacing.
def bars(id, bar, d_b, f_c, lam, c_b, s, c):
    straight = max(3 / 40 * 60000 * 0.8 / (lam * math.sqrt(f_c) * min(2.5, c_b / d_b)) * d_b, 12)
    strong = 1.0 if f_c >= 6000 else f_c / 15000 + 0.6
    hook = 60000 * strong * (1 if s >= 6 * d_b else 1.6) * (1 if c >= 6 * d_b else 1.25) / (55 * lam * math.sqrt(f_c)) * d_b**1.5
    return {"id": id, "bar": bar, "f_c'": f_c, "lambda": lam, "c_b": c_b, "hook_s": s, "hook_c": c, "=l_d": straight, "=l_dh": max(hook, 8 * d_b, 6)}
write("bar-development--edges.csv", ["Development of bars in light and in strong concrete, with near and far cover (oracle/edges.py)."],
      ["bar", "f_c' [psi]", "lambda", "c_b [in]", "hook_s [in]", "hook_c [in]"], ["l_d [in]", "l_dh [in]"],
      rows("ACI 318-19 25.4.2.4, 25.4.3.1", [bars("light", "No. 5", 0.625, 4000.0, 0.75, 2.0, 8.0, 8.0), bars("light-near", "No. 5", 0.625, 4000.0, 0.75, 1.25, 2.0, 2.0),
                                             bars("under-6000", "No. 6", 0.75, 5900.0, 1.0, 2.0, 3.0, 3.0), bars("over-6000", "No. 6", 0.75, 6100.0, 1.0, 2.0, 3.0, 3.0),
                                             bars("spacing-just", "No. 6", 0.75, 4000.0, 1.0, 2.0, 4.6, 3.0), bars("spacing-short", "No. 6", 0.75, 4000.0, 1.0, 2.0, 4.4, 3.0),
                                             bars("cover-just", "No. 6", 0.75, 4000.0, 1.0, 2.0, 3.0, 4.6), bars("cover-short", "No. 6", 0.75, 4000.0, 1.0, 2.0, 3.0, 4.4),
                                             bars("shortest-hook", "No. 3", 0.375, 10000.0, 1.0, 2.0, 8.0, 8.0)]))

# Edge distance and spacing of anchors that are not cast in: the report, twice the aggregate, multiples of the diameter.
def apart(id, kind, d, multiples, d_agg, s_rep=0.0, c_rep=0.0, c_ac_rep=0.0, sides="indoors", w_head=0.0):
    k_s, k_c, k_ac = multiples
    cast = kind == "cast-in"
    cover = {"earth": 3.0, "indoors": 1.5}.get(sides, 2.0 if d > 0.625 else 1.5)
    c_tab = k_c * d if cast or c_rep == 0 else c_rep
    c_agg = 0.0 if cast else 2 * d_agg
    return {"id": id, "anchor": kind, "d_a": d, "h_ef": 4.0, "n": 2, "s": 30.0, "c": 30.0, "h_a": 40.0, "sides": sides, "s_rep": s_rep, "c_rep": c_rep,
            "c_ac_rep": c_ac_rep, "w_head": w_head, "d_agg": d_agg, "=s_min": k_s * d if cast or s_rep == 0 else s_rep, "=c_tab": c_tab, "=c_agg": c_agg,
            "=c_min": max(cover + max(d, w_head) / 2, c_tab, c_agg), "=c_ac": c_ac_rep if c_ac_rep > 0 else k_ac * 4.0}
SCREW, CAST = (6, 6, 4), (4, 0, 0)
write("anchor-spacing--edges.csv", ["Spacing and edge distance of anchors by a report, by the aggregate and by the cover (oracle/edges.py)."],
      ["anchor", "d_a [in]", "h_ef [in]", "n", "s [in]", "c [in]", "h_a [in]", "sides", "s_rep [in]", "c_rep [in]", "c_ac_rep [in]", "w_head [in]", "d_agg [in]"],
      ["s_min [in]", "c_tab [in]", "c_agg [in]", "c_min [in]", "c_ac [in]"],
      rows("ACI 318-19 17.9.2, 17.9.5, Table 20.5.1.3.1",
           [apart("screw-bare", "screw", 0.5, SCREW, 1.0), apart("screw-aggregate", "screw", 0.375, SCREW, 1.5), apart("screw-report", "screw", 0.5, SCREW, 0.5, 2.75, 1.9, 6.25),
            apart("screw-report-c", "screw", 0.5, SCREW, 0.5, 0.0, 2.6), apart("cast-report", "cast-in", 0.5, CAST, 1.5, 9.0, 9.0), apart("cast-earth", "cast-in", 0.75, CAST, 1.0, sides="earth", w_head=1.4),
            apart("cast-weather-thick", "cast-in", 0.65, CAST, 1.0, sides="weather"), apart("cast-weather-thin", "cast-in", 0.6, CAST, 1.0, sides="weather")]))
