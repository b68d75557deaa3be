"""Posts of wood by the clauses of the NDS: which table and which factor applies, columns and bending at their edges, what is ordered.

Factors of stability are roots of the quadratics from which the standard's formulas come; factors of moisture, size and flat use are written
here from the Supplement. Inches, pounds and psi."""
import math
import numpy as np

from csvout import put, verdict
from whole_job import table


def stability(alpha, c):
    """The smaller root of c C^2 - (1 + alpha) C + alpha = 0 for columns, with half of 1.9 for beams."""
    return float(min(np.roots([c, -(1 + alpha), alpha]).real))


# Holes of screws, as parts of the diameter.
def hole(screw, D, G, pulled):
    dense, middle = G > 0.6, G > 0.5
    c = {"id": f"{screw.split()[0]}-{D:g}-{G:g}-{pulled}", "screw": screw, "D": D, "G": G, "pulled": pulled}
    if screw == "lag": low, high = (0.65, 0.85) if dense else (0.6, 0.75) if middle else (0.4, 0.7); return c | {"=low": low * D, "=high": high * D, "=shank": D}
    root = {0.138: 0.113, 0.216: 0.171, 0.268: 0.209}[D]
    lateral = 1.0 if dense else 0.875; drawn = 0.9 if dense else 0.7 if middle else 1.0
    return c | {"=low": 0.0, "=high": (min(lateral, drawn) if pulled == "yes" else lateral) * root, "=shank": lateral * D, "=k": lateral, "=k_w": drawn, "=D_r": root}


def holes(): return [hole(screw, D, G, pulled) for screw, Ds in (("lag", (0.375, 0.625)), ("wood screw", (0.138, 0.268))) for D in Ds for G in (0.42, 0.5, 0.52, 0.6, 0.63, 0.7) for pulled in ("no", "yes")]


def orders():
    found = []
    for b, d, height, species, grade, durable, protected in ((7.5, 9.5, 9.25, "Douglas Fir-Larch", "No.1", "treated", "preservative-treated"), (5.5, 7.25, 8.5, "White Oak", "Select Structural", "natural", "naturally durable heartwood"),
                                                             (11.5, 9.5, 10.75, "Hem-Fir", "No.2", "none", "not treated")):
        for tenon, more in ((None, None), (3.0, None), (4.5, 6.0), (0.0, 9.0), (None, 6.0)):
            c = {"id": f"{species.split()[0]}-{tenon}-{more}", "b": b, "d": d, "height": height, "species": species, "grade": grade, "durable": durable, **({} if tenon is None else {"tenon": tenon}), **({} if more is None else {"allowance": more})}
            long = lambda l: f"1 of {b:g} in, {d:g} in, {l:g} ft, {species}, {grade}, {protected}"
            pieces = {"timber: post": None, "timber: post, finished length": None, "timber: post, without tenon and allowance": None}
            total = height + (tenon or 0) / 12 + (more or 0) / 12 if tenon is not None else height
            pieces["timber: post, without tenon and allowance" if tenon is None else "timber: post, finished length" if more is None else "timber: post"] = long(round(total, 6))
            c |= {"=name: shop.timber": species, "=name: shop.quality": grade, "=name: shop.protected": protected, "=shop.shoulder": height, **{f"=pieces: {k}": v or "none" for k, v in pieces.items()}}
            if tenon: c["=shop.head"] = tenon
            if tenon is not None: c["=shop.whole" if more is None else "=shop.ordered"] = total
            found.append(c)
    return found


def columns():
    found = []
    for id, b, d, l1, l2, F_c, E, C_D, C_M, C_t, C_F, C_i, P, CME, CtE, CiE, Cfu, c in (
            ("both", 5.5, 9.5, 117.0, 103.0, 925.0, 580e3, 1.15, 0.91, 0.8, 1.05, 0.85, 9100.0, 0.93, 0.9, 0.95, 0.97, None), ("other-way", 9.5, 7.25, 211.0, 98.0, 1150.0, 470e3, 1.6, 0.8, 0.7, 1.1, 0.8, 14300.0, 0.9, 0.92, 0.95, 0.9, 0.9),
            ("lifted", 7.5, 11.5, 131.0, 119.0, 700.0, 440e3, 1.6, 0.91, 0.9, 0.95, 0.8, -5200.0, 0.92, 0.94, 0.95, 0.96, 0.85), ("slender", 5.5, 7.5, 180.0, 275.0, 925.0, 580e3, 0.9, 0.91, 0.8, 1.05, 0.85, 4100.0, 0.93, 0.9, 0.95, 0.97, None),
            ("too-slender", 5.5, 7.5, 180.0, 276.0, 925.0, 580e3, 0.9, 0.91, 0.8, 1.05, 0.85, 9900.0, 0.93, 0.9, 0.95, 0.97, None)):
        s = max(l1 / d, l2 / b); star = F_c * C_D * C_M * C_t * C_F * C_i; E_adj = E * CME * CtE * CiE * Cfu; F_cE = 0.822 * E_adj / s**2; C_P = stability(F_cE / star, c or 0.8); f_c = max(P, 0.0) / (b * d)
        found.append({"id": id, "b": b, "d": d, "l_e1": l1, "l_e2": l2, "F_c": F_c, "E_min": E, "C_D": C_D, "C_M": C_M, "C_t": C_t, "C_F": C_F, "C_i": C_i, "P": P, "C_M_E": CME, "C_t_E": CtE, "C_i_E": CiE, "C_fu_E": Cfu, **({"c": c} if c else {}),
                      "=s_1": l1 / d, "=s_2": l2 / b, "=s_max": s, "=F_c_star": star, "=E_min'": E_adj, "=F_cE": F_cE, "=alpha_c": F_cE / star, "=C_P": C_P, "=F_c'": star * C_P, "=f_c": f_c,
                      "=verdict: slenderness of the post": verdict(s <= 50), "=verdict: compression of the post as a column": verdict(f_c <= star * C_P)})
    return found


def bending(b, d, l1, l2, l_u, Fc, Ft, E, F_b, C_D, C_M, C_t, C_F, C_fu, C_i, P, M_1, M_2):
    """Moments in lbf ft."""
    l_e = 2.06 * l_u if l_u / d < 7 else 1.63 * l_u + 3 * d if l_u / d <= 14.3 else 1.84 * l_u
    R_B = math.sqrt(l_e * d) / b; F_bE = 1.2 * E / R_B**2; star = F_b * C_D * C_M * C_t * C_F * C_i
    C_L = stability(F_bE / star, 0.95) if b < d else 1.0
    f_1, f_2 = (12 * abs(M) * across / 2 / (along * across**3 / 12) for M, along, across in ((M_1, b, d), (M_2, d, b)))
    e = {"=r_side": b / d, "=l_e": l_e, "=R_B": R_B, "=F_bE": F_bE, "=F_b_star": star, "=C_L": C_L, "=F_b1'": star * C_L, "=F_b2'": star * C_fu, "=f_b1": f_1, "=f_b2": f_2, "=verdict: slenderness of the post for bending": verdict(R_B <= 50)}
    words = dict(zip(("buckle", "lateral", "together", "tension", "less"), ("compression against buckling in the direction of d", "bending and compression against lateral buckling", "bending and compression together", "bending and tension together", "bending, less tension")))
    said = {k: "not asked" for k in words}
    if P >= 0:
        f_c = P / (b * d); c1, c2 = (math.pi**2 / 12 * E * 0.822 * 12 / math.pi**2 * (h / l) ** 2 for h, l in ((d, l1), (b, l2)))
        lateral = f_c / c2 + (f_1 / F_bE) ** 2
        e |= {"=f_c": f_c, "=F_cE1": c1, "=F_cE2": c2, "=r_2": lateral}; said["buckle"], said["lateral"] = verdict(f_c < c1), verdict(lateral < 1)
        if f_c < c1 and lateral < 1:
            # Each moment grows as the loads come near to those that buckle.
            r = (f_c / Fc) ** 2 + f_1 / (star * C_L) / (1 - f_c / c1) + f_2 / (star * C_fu) / (1 - lateral)
            e["=r_1"] = r; said["together"] = verdict(r <= 1)
    else:
        f_t = -P / (b * d); r1, r2 = f_t / Ft + f_1 / star + f_2 / (star * C_fu), max(f_1 - f_t, 0) / (star * C_L) + f_2 / (star * C_fu)
        e |= {"=f_t": f_t, "=r_1": r1, "=r_2": r2}; said["tension"], said["less"] = verdict(r1 <= 1), verdict(r2 <= 1)
    return e | {f"=verdict: {words[k]}": v for k, v in said.items()}


BENT = "b d l_e1 l_e2 l_u F_c' F_t' E_min' F_b C_D C_M C_t C_F C_fu C_i P M_1 M_2".split()


def bent():
    base = dict(zip(BENT, (7.5, 9.5, 141.0, 123.0, 111.0, 760.0, 590.0, 430e3, 900.0, 1.6, 0.91, 0.8, 0.97, 0.86, 0.85, 9100.0, 1650.0, -890.0)))
    cases = {"pushed": {}, "pushed-other": dict(M_1=-1650.0, M_2=430.0, P=4100.0), "short": dict(l_u=65.0), "just-long": dict(l_u=71.0), "at-7-d": dict(l_u=66.5), "long": dict(l_u=137.0), "at-14.3-d": dict(l_u=135.85), "longer": dict(l_u=151.0), "square": dict(b=9.5, C_fu=1.0, C_F=0.93),
             "no-load": dict(P=0.0), "light": dict(P=-2100.0), "pulled": dict(P=-14500.0, M_1=1450.0, M_2=310.0), "pulled-much": dict(P=-27000.0, M_1=2900.0), "pulled-bent": dict(P=-4000.0, M_1=2900.0, M_2=1500.0), "bent-much": dict(M_1=4100.0), "just-together": dict(M_1=900.0, M_2=300.0, P=12100.0),
             "buckling": dict(l_e1=480.0, l_e2=230.0, P=15200.0, M_1=10.0, M_2=5.0), "lateral": dict(l_e1=200.0, l_e2=290.0, P=19500.0, M_1=10.0), "lateral-bent": dict(l_e2=250.0, P=18000.0, b=3.5, l_u=240.0, M_1=2800.0),
             "thin": dict(b=2.0, l_u=600.0, M_1=100.0, M_2=20.0, P=100.0), "swapped": dict(b=9.6)}
    found = []
    for id, changes in cases.items():
        q = base | changes
        found.append({"id": id} | q | (bending(*(q[k] for k in BENT)) if q["b"] <= q["d"] else {"=refused": "d must be the larger side"}))
    return found


FROM = {"F_c'": "column.F_c'", "F_t'": "base.F_t'", "E_min'": "column.E_min'", "C_D": "C_D", "C_M": "timber-values.C_M_b", "C_t": "timber-values.C_t_s", "C_F": "timber-values.C_F_b"}


def turned():
    """Which side comes first, and what a post that is bent both ways comes to."""
    found = []
    for id, b, d, C_fu in (("along-y", 7.5, 9.5, 0.86), ("along-x", 9.5, 7.5, 0.86), ("square", 7.5, 7.5, 1.0)):
        l_x, l_y, M_x, M_y, height = 141.0, 127.0, 1350.0, 780.0, 9.25
        rest = dict(zip(BENT[5:15], (760.0, 590.0, 430e3, 900.0, 1.6, 0.91, 0.8, 0.97, C_fu, 0.85)))
        sides = (b, d, l_y, l_x) if d >= b else (d, b, l_x, l_y); moments = (M_y, M_x) if d >= b else (M_x, M_y)
        e = bending(*sides, height * 12, *rest.values(), 9100.0, *moments)
        found.append({"id": id, "b": b, "d": d, "l_x": l_x, "l_y": l_y, "M_x": M_x, "M_y": M_y, "height": height, **{FROM.get(k, f"timber-values.{k}"): v for k, v in rest.items()}, "P": 9100.0,
                      **{f"=bending.{k}": v for k, v in zip(("b", "d", "l_e1", "l_e2"), sides)}, "=bending.M_1": moments[0], "=bending.M_2": moments[1], **{f"=bending.{k[1:]}": e[k] for k in ("=r_1", "=r_2", "=f_b1", "=f_b2", "=F_cE1", "=F_cE2")}})
    return found


# Which values a post has.
WET = {True: {"c": 0.91, "perp": 0.67}, False: {"perp": 0.67, "v": 0.97, "E": 0.9}}
T_WOOD = {("dry", "up to 100 F"): (1, 1), ("dry", "100 to 125 F"): (0.9, 0.8), ("dry", "125 to 150 F"): (0.9, 0.7), ("wet", "up to 100 F"): (1, 1), ("wet", "100 to 125 F"): (0.9, 0.7), ("wet", "125 to 150 F"): (0.9, 0.5)}
NO_1 = ("No.1", "Dense No.1", "No.1 Dense", "No.1 open grain")


def wood(id, species, grade, b, d, service, temperature="up to 100 F", incised="no"):
    t, w = sorted((b, d)); wet = service == "wet"
    c = {"id": id, "species": species, "grade": grade, "b": b, "d": d, "service": service, "temperature": temperature, "incised": incised}
    gravity = next(r for r in table("specific-gravity") if r["species"] == species)
    strengths = "F_b F_t F_v F_c_perp F_c E E_min".split(); one = dict.fromkeys("c perp s b v E".split(), 1.0)
    if t >= 4.5:
        kind = "posts" if w - t <= 2 else "beams"
        row = next(r for r in table("posts-and-timbers") if (r["species"], r["grade"], r["class"]) == (species, grade, kind))
        C_M = one | ({"c": 0.91, "perp": 0.67} if wet and species != "Southern Pine" else {})
        C_F = {"b": 1.0 if w <= 12 else (12 / w) ** (1 / 9), "t": 1.0, "c": 1.0}
        flat = (1.0, 1.0) if kind == "posts" else (0.86, 1.0) if "Select" in grade else (0.74, 0.9) if grade in NO_1 else (1.0, 1.0)
        c |= {"=name: class": kind}
    else:
        wide = {3.5: 4, 3.5625: 4, 3.0: 4, 4.0: 4, 3.9: 4, 5.5: 6, 5.6: 6, 7.25: 8, 7.5: 8, 8.0: 8}[w]
        row = next(r for r in table("dimension-lumber") if (r["species"], r["grade"], r["width"] if "width" in r else r["w_nom"]) == (species, grade, wide))
        C_F = {k: row[f"C_F_{k}"] for k in "btc"}
        C_M = one | ({"perp": 0.67, "v": 0.97, "E": 0.9, "c": 0.8 if row["F_c"] * C_F["c"] > 750 else 1.0, "b": 0.85 if row["F_b"] * C_F["b"] > 1150 else 1.0} if wet else {})
        flat = (1.0 if wide <= 4 else 1.05, 1.0); c |= {"=t_nom": 4, "=w_nom": wide}
    heat = T_WOOD[service, temperature]
    return c | {"=t": t, "=w": w, "=G": gravity["G"], "=name: kind_of_wood": gravity["kind_of_wood"] if "kind_of_wood" in gravity else gravity["kind"], "=C_t_E": heat[0], "=C_t_s": heat[1], **{f"={k}": row[k] for k in strengths},
                **{f"=C_M_{k}": v for k, v in C_M.items()}, **{f"=C_F_{k}": v for k, v in C_F.items()}, "=C_fu": flat[0], "=C_fu_E": flat[1], "=C_i": 0.8 if incised == "yes" else 1.0, "=C_i_E": 0.95 if incised == "yes" else 1.0}


def woods():
    dfl, sp = "Douglas Fir-Larch", "Southern Pine"; found = []
    def add(*args, **more): found.append(wood(f"{len(found) + 1}", *args, **more))
    for b, d in ((7.5, 9.5), (9.7, 7.5), (7.5, 7.5), (4.5, 4.5), (4.6, 4.6), (11.5, 5.5), (5.5, 12.0), (5.5, 12.5), (15.5, 13.5), (8.0, 10.5)): add(dfl, "No.1", b, d, "wet", "100 to 125 F", "yes")
    for grade in ("Select Structural", "Dense Select Structural", "No.1", "Dense No.1", "No.2"): add(dfl, grade, 5.5, 9.5, "dry", "125 to 150 F")
    for grade in ("No.1 Dense", "Select Structural", "Dense Select Structural", "No.2"): add(sp, grade, 5.5, 9.5, "wet", "125 to 150 F", "yes")
    add(sp, "No.1", 7.5, 7.5, "wet"); add(sp, "No.1", 7.5, 7.5, "dry"); add("Redwood", "No.1 open grain", 5.5, 9.5, "dry"); add("Redwood", "No.1 open grain", 7.5, 9.5, "dry"); add("White Oak", "Select Structural", 7.5, 11.5, "wet", incised="yes")
    for species in (dfl, sp, "Hem-Fir", "Western Cedars", "Eastern White Pine", "Red Oak", "White Oak", "Spruce-Pine-Fir"):
        for grade in ("Select Structural", "No.1", "No.2"):
            for w in (3.5, 5.5, 7.25): add(species, grade, 3.5, w, "wet", "100 to 125 F")
    add(dfl, "No.1", 3.5, 5.5, "dry", incised="yes"); add(dfl, "No.2", 3.0, 7.5, "dry"); add(dfl, "No.2", 4.0, 4.0, "dry"); add(dfl, "No.2", 3.9, 5.5, "dry"); add(dfl, "No.2", 3.5, 8.0, "dry", "100 to 125 F")
    thin = "a piece less than 3 in thick"
    found += [{"id": "thin", "species": dfl, "grade": "No.2", "b": 2.9, "d": 5.5, "service": "dry", "temperature": "up to 100 F", "incised": "no", "=refused": thin}, {"id": "no-such-width", "species": dfl, "grade": "No.2", "b": 3.5, "d": 4.6, "service": "dry", "temperature": "up to 100 F", "incised": "no", "=refused": "has no row for"}]
    return found


def factors():
    """Tables 11.3.3, 11.3.4 and 12.5.2."""
    heat = {"up to 100 F": (1, 1), "100 to 125 F": (0.8, 0.7), "125 to 150 F": (0.7, 0.5)}; found = []
    def add(fastener, load, D, n, rows, plates, end, fab, service, temperature, C_D):
        c = {"id": f"{len(found) + 1}", "fastener": fastener, "load": load, "D": D, "n": n, "rows": rows, "plates": plates, "end_grain": end, "fabrication": fab, "service": service, "temperature": temperature, "C_D": C_D}
        lateral = load == "lateral"
        if not lateral and fastener in ("pin", "bolt"): found.append(c | {"=refused": "pins and bolts have no withdrawal value"}); return
        if end == "yes" and not lateral and fastener == "wood screw": found.append(c | {"=refused": "wood screws may not be loaded in withdrawal from end grain"}); return
        how = "any" if not lateral else "one fastener" if n == rows == 1 else "one row" if rows == 1 else "separate plates" if "each" in plates else "other"
        entry = ("dowel" if D >= 0.25 else "small dowel") if lateral else f"{fastener} withdrawal"
        C_M = 0.7 if service == "wet" else 1.0 if fab == "dry" or not lateral else 0.7 if D < 0.25 else 1.0 if how != "other" else 0.4
        C_t = heat[temperature][service == "wet"]; C_eg = 1.0 if end == "no" else 0.67 if lateral else 0.75
        found.append(c | {"=name: entry": entry, "=name: arrangement": how, "=C_M": C_M, "=C_t": C_t, "=C_eg": C_eg, "=C_con": C_D * C_M * C_t * C_eg})
    for D in (0.216, 0.25, 0.26, 0.5):
        for n, rows, plates in ((1, 1, "one plate"), (2, 1, "one plate"), (1, 2, "one plate"), (3, 2, "a plate for each row"), (4, 3, "one plate")):
            add("lag", "lateral", D, n, rows, plates, "no", "wet", "dry", "100 to 125 F", 1.15)
    for fastener in ("pin", "bolt", "lag", "wood screw"):
        for load in ("lateral", "withdrawal"):
            for end in ("no", "yes"): add(fastener, load, 0.242 if fastener == "wood screw" else 0.375, 2, 2, "one plate", end, "dry", "wet", "125 to 150 F", 1.6)
    add("lag", "withdrawal", 0.242, 1, 1, "one plate", "yes", "wet", "dry", "100 to 125 F", 0.9)
    return found


def main():
    size = "b d l_e l_e1 l_e2 l_u l_x l_y D low high shank D_r tenon allowance head t w"
    stress = "F_c F_t F_v F_b F_c_perp E E_min E_min' F_c' F_t' F_c_star F_cE F_cE1 F_cE2 F_bE F_b_star F_b1' F_b2' f_b1 f_b2 f_c f_t"
    units = {"in": size, "psi": stress, "lbf": "P", "lbf ft": "M_1 M_2 M_x M_y", "ft": "height shoulder ordered whole"}
    put("posts_of_wood", "lead-hole--edges.csv", "Lead holes on both sides of the specific gravities at which they change", holes(), units, "NDS 2018 12.1.4.2, 12.1.5.2, 12.1.5.3 and Appendix L")
    put("posts_of_wood", "post-order--lengths.csv", "The post to order, with and without tenon and allowance: lengths added up", orders(), units, "lengths from the foot up")
    put("posts_of_wood", "column--factors.csv", "Columns with every factor in them; the stability factor is a root of its quadratic", columns(), units, "NDS 2018 3.7.1, Table 4.3.1")
    put("posts_of_wood", "column-bending--edges.csv", "Posts bent both ways, pushed and pulled, at the edges of the clauses; stability factors are roots of their quadratics", bent(), units, "NDS 2018 3.3.3, 3.9")
    put("posts_of_wood", "post-bending--turned.csv", "A post bent both ways, its larger side along y and along x", turned(), units, "NDS 2018 3.9")
    put("posts_of_wood", "timber-values--sizes.csv", "Which table and which factors a size, a species, a grade and a place have", woods(), units, "NDS 2018 2.3.3, 4.3.8 and NDS Supplement 2018 Tables 4A, 4B and 4D")
    put("posts_of_wood", "connection-factors--edges.csv", "Factors of connections on both sides of each edge, and what has no value", factors(), units, "NDS 2018 Tables 11.3.3 and 11.3.4, 12.5.2")


if __name__ == "__main__": main()
