"""Concrete breakout in shear, worked another way than the sheet.

Areas: on the side face, a rectangle 3 c wide and 1.5 c deep below the top for every anchor of the row, joined and cut by the outline of
the face, as polygons. Factors are read off the lines through their limits. The basic strength is scaled from one published value:
25.20286 kip for a welded 5/8 in stud 12 in from the edge in 4000 psi (ACI 349.2R-07 Example A3); 7/8 of it, for studs that are not
welded have 7 where welded ones have 8; the power 1.5 of the edge distance, by logarithms. Where 9 governs it is 9/7 of the same with
(l/d)^0.2 sqrt(d) taken out.
"""
import math
import numpy as np
from shapely.geometry import box
from shapely.ops import unary_union
from csvout import ACI, write

SOURCE = "oracle/breakout_shear.py: polygons (shapely), limits of the factors, scaling from a published value"
INPUTS = ["f_c' [psi]", "d_a [in]", "l_e [in]", "h_a [in]", "c_a1 [in]", "c_a2_1 [in]", "c_a2_2 [in]", "n", "s [in]", "cracked", "lambda_a", "V_par [lbf]", "e_V [in]", "edge_bars"]
EXPECTS = ["A_Vc [in^2]", "A_Vco [in^2]", "psi_ed", "psi_ec", "psi_c", "psi_h", "V_b [lbf]", "V_cbg [lbf]", "c_a1' [in]", "V_d [lbf]", "V_cbg_par [lbf]"]
ln = math.log

def evaluate(q):
    c = q["c_a1"]
    sides = [q["c_a2_1"], q["c_a2_2"]]
    gaps = [q["s"]] * (q["n"] - 1)
    if all(e < 1.5 * c for e in sides) and q["h_a"] < 1.5 * c:
        c = max([max(sides) / 1.5, q["h_a"] / 1.5] + [g / 3 for g in gaps])
    at = [sides[0] + i * q["s"] for i in range(q["n"])]
    face = box(0, -q["h_a"], at[-1] + sides[1], 0)
    body = unary_union([box(x - 1.5 * c, -1.5 * c, x + 1.5 * c, 0) for x in at]).intersection(face).area
    one = box(-1.5 * c, -1.5 * c, 1.5 * c, 0).area
    ed = float(np.interp(min(sides), [0, 1.5 * c], [0.7, 1.0]))
    ec = 1 / float(np.interp(q["e_V"], [0, 1.5 * c], [1.0, 2.0]))
    pc = 1.4 if q["cracked"] == "no" else {"none": 1.0, "No. 4": 1.2, "No. 4 in stirrups": 1.4}[q["edge_bars"]]
    # psi_h^2 is the depth that the body wants over the depth that is there
    ph = max(1.0, 1.5 * c / q["h_a"]) ** 0.5
    slender = lambda l, d: math.exp(0.2 * (ln(l) - ln(d)) + 0.5 * ln(d))
    ref = 25202.86 * 7 / 8
    common = math.exp(1.5 * (ln(c) - ln(12)) + 0.5 * (ln(q["f_c'"]) - ln(4000))) * q["lambda_a"]
    by_stiffness = ref * slender(min(q["l_e"], 8 * q["d_a"]), q["d_a"]) / slender(5.0, 0.625) * common
    bound = ref * 9 / 7 / slender(5.0, 0.625) * common
    Vb = min(by_stiffness, bound)
    V = body / one * ed * ec * pc * ph * Vb
    along = 2 * body / one * ec * pc * ph * Vb
    return {"=A_Vc": body, "=A_Vco": one, "=psi_ed": ed, "=psi_ec": ec, "=psi_c": pc, "=psi_h": ph, "=V_b": Vb, "=V_cbg": V, "=c_a1'": c, "=V_d": 0.7 * V, "=V_cbg_par": along if q["V_par"] else ""}

def case(**c):
    return {"f_c'": 4000.0, "d_a": 0.5, "l_e": 7.0, "h_a": 48.0, "c_a1": 5.0, "c_a2_1": 100.0, "c_a2_2": 100.0, "n": 1, "s": 0.0, "cracked": "yes", "lambda_a": 1.0,
            "V_par": 0, "e_V": 0.0, "edge_bars": "none"} | c

def main():
    rng = np.random.default_rng(1772)
    pick = lambda *v: v[rng.integers(len(v))]
    rows = []
    for k in range(44):
        n = int(pick(1, 1, 2, 2, 3))
        c1 = float(pick(2, 2.5, 3, 4, 5, 6, 8, 10, 12))
        s = min(float(rng.integers(4, 25)) / 2, 3 * c1) if n > 1 else 0.0
        d = float(pick(0.375, 0.5, 0.625, 0.75, 1.0))
        c = case(**{"f_c'": float(pick(2500, 3000, 4000, 5000))}, d_a=d, l_e=float(pick(2.5, 4, 6, 8, 12)), h_a=float(pick(4, 6, 8, 12, 36)), c_a1=c1,
                 c_a2_1=float(pick(2, 3, 4, 5, 6, 8, 12, 30)), c_a2_2=float(pick(2, 3, 4, 5, 6, 8, 12, 30)), n=n, s=s, cracked=pick("yes", "yes", "no"), lambda_a=float(pick(1, 1, 0.85)),
                 V_par=int(pick(0, 0, 100)), e_V=float(pick(0, 0, 0.5, 1)) if n > 1 else 0.0, edge_bars=pick("none", "none", "No. 4", "No. 4 in stirrups"))
        rows.append(dict(c, id=f"area-{k+1:02}", **evaluate(c)))
    for side in (8, 10, 12, 18):
        c = case(**{"f_c'": 3000.0}, d_a=0.75, l_e=12.0, c_a1=side / 2, c_a2_1=side / 2, c_a2_2=side / 2)
        rows.append(dict(c, id=f"pier-{side}", **evaluate(c), note="one bolt in the middle of a deep square pier: no c_a1' for deep concrete"))
    for n in (2, 3):
        c = case(n=n, s=15.0)
        one = evaluate(case())
        rows.append(dict(c, id=f"apart-{n}", **{"=V_cbg": n * one["=V_cbg"], "=A_Vc": n * one["=A_Vc"]}, note="at 3 c_a1 apart the row is as strong as its anchors one by one"))
    # narrow and thin: the strength no longer depends on the edge distance
    base = case(h_a=6.0, c_a2_1=5.0, c_a2_2=5.0)
    for c1 in (5.0, 8.0, 20.0):
        rows.append(dict(base, c_a1=c1, id=f"narrow-{c1:g}", **{k: v for k, v in evaluate(dict(base, c_a1=5.0)).items()}, note="narrow and thin: c_a1' = 4 in whatever the edge distance"))
    # Only narrow, only thin, and both with a spacing that counts; anchors whose bodies do not meet.
    for id, c in (("only-narrow", dict(h_a=40.0, c_a1=8.0, c_a2_1=5.0, c_a2_2=4.0)), ("only-thin", dict(h_a=6.0, c_a1=8.0)),
                  ("one-side", dict(h_a=6.0, c_a1=8.0, c_a2_1=5.0)), ("both-apart", dict(h_a=6.0, c_a1=8.0, c_a2_1=5.0, c_a2_2=4.0, n=2, s=15.0)),
                  ("both-close", dict(h_a=6.0, c_a1=8.0, c_a2_1=5.0, c_a2_2=4.0, n=2, s=9.0)), ("wide", dict(n=2, s=18.0))):
        rows.append(dict(case(**c), id=id, **evaluate(case(**c))))
    for r in rows: r |= dict(tol=1e-5, source=SOURCE, kind="independent")
    rows.append(dict(case(c_a1=1.75, d_a=0.5, l_e=7.0), id="A-PCA-34.4b", **{"=V_b": 1098.0, "=V_d": 769.0}, tol=0.002, source="PCA Notes on ACI 318-08, Chapter 34, Example 34.4", kind="recalled"))
    write("anchor-shear-breakout--areas.csv", ["Concrete breakout of a row of anchors in shear."], INPUTS, EXPECTS, rows)
    rows = [dict(case(), supplementary=s, id=f"A-T1753-shear-{s}", **{"=phi": p}, tol=1e-9, tk="abs", source=ACI("Table 17.5.3(b)", 17), kind="published") for s, p in (("no", .70), ("yes", .75))]
    write("anchor-shear-breakout--phi.csv", ["Strength reduction factors of concrete breakout in shear."], INPUTS + ["supplementary"], ["phi"], rows)

if __name__ == "__main__": main()
