"""Pullout, blowout, pryout and interaction: published and recalled numbers, and values from limits and geometry."""
import json, math, pathlib
import numpy as np
from shapely.geometry import LineString, Polygon
from csvout import ACI, write

CASES = {c["id"]: c for c in json.loads((pathlib.Path(__file__).parent / "published" / "cases.json").read_text())}
X = "public verification test of the finite-element library xcfem/xc (verif/tests/materials/aci), which follows ACI 349.2R-07 Example {}; the report itself was not seen"

# Pullout
rows = []
for key, c in CASES.items():
    if c["topic"] != "anchor_pullout" or "fc_psi" not in c["inputs"]: continue
    i, e = c["inputs"], c["expected"]
    kind = "published" if c["kind"] == "published" else "recalled"
    if "n" in i:
        rows.append(dict(id=key, **{"f_c'": i["fc_psi"], "A_brg": i["Abrg_in2"], "=N_d": e["phiNpn_lb"] / i["n"]}, tol=c["tolerance"]["rel"], source=c["source"], kind=kind, note="a fourth of the printed strength of four"))
        continue
    for fc, v in zip(i["fc_psi"], e["phiNp_kip"]):
        rows.append(dict(id=f"{key}-{fc}", **{"f_c'": fc, "A_brg": i["Abrg_in2"], "=N_d": 1000.0 * v}, tol=c["tolerance"]["rel"], source=c["source"], kind=kind))
for e, A, v in (("A1", 0.59, 18.88), ("A2", 0.589, 18.848), ("A3", 0.92, 29.44)):
    rows.append(dict(id=f"349.2R-{e}", **{"f_c'": 4000, "A_brg": A, "=N_pn": 1000.0 * v}, tol=1e-6, source=X.format(e), kind="published"))
for r in rows: r["grip"] = "headed"
for fc, d, m in ((3000, 0.5, 3.0), (3000, 0.5, 4.5), (4000, 0.625, 4.0), (2500, 0.75, 3.5)):
    e = m * d; n = 1000
    rows.append(dict(id=f"hook-{d}-{m}", grip="hooked", **{"f_c'": fc, "d_a": d, "e_h": e, "=N_pn": sum(0.9 * fc * d * e / n for _ in range(n))}, tol=1e-9,
                     source="oracle/anchors_other.py: pressure of 0.9 f_c' on the hook, summed in strips", kind="independent"))
for fc, m in ((2500, 1.0), (4000, 1.0), (10000, 2.0)):
    rows.append(dict(id=f"report-{fc}", grip="by report", **{"f_c'": fc, "N_p_rep": 2000, "n_rep": 0.5, "=N_pn": 2000 * math.sqrt(fc / 2500)}, tol=1e-9,
                     source="oracle/anchors_other.py: ratio of square roots", kind="independent", category="category 1"))
write("anchor-pullout--published.csv", ["Pullout of headed, hooked and reported anchors."], ["f_c' [psi]", "grip", "A_brg [in^2]", "d_a [in]", "e_h [in]", "N_p_rep [lbf]", "n_rep", "category"],
      ["N_pn [lbf]", "N_d [lbf]"], [dict({"category": "cast-in", "A_brg": 0, "d_a": 0, "e_h": 0, "N_p_rep": 0, "n_rep": 0}, **r) for r in rows])
rows = [dict(id=f"A-T1753-pullout-{c}".replace(" ", "-"), **{"f_c'": 3000, "grip": "by report", "N_p_rep": 1000, "category": c, "cracked": "yes", "=phi": p, "=psi_cP": 1.0}, tol=1e-9, tk="abs", source=ACI("Table 17.5.3(c)", 17), kind="published")
        for c, p in (("cast-in", .70), ("category 1", .65), ("category 2", .55), ("category 3", .45))]
rows += [dict(id="psi_cP-headed-uncracked", **{"f_c'": 3000, "grip": "headed", "N_p_rep": 0, "category": "cast-in", "cracked": "no", "=psi_cP": 1.4}, tol=1e-9, tk="abs", source=ACI("17.6.3.3", 17), kind="published")]
write("anchor-pullout--phi.csv", ["Strength reduction and cracking factors of pullout."], ["f_c' [psi]", "grip", "A_brg [in^2]", "N_p_rep [lbf]", "category", "cracked"], ["phi", "psi_cP"], [dict({"A_brg": 0.5}, **r) for r in rows])

# Blowout: corner and group factors by the lines through their limits
rows, rng = [], np.random.default_rng(1764)
for k in range(16):
    c1 = float(rng.choice([1.5, 2, 2.5, 3])); A = float(rng.choice([0.291, 0.454, 0.654, 0.911])); fc = float(rng.choice([2500, 3000, 4000]))
    ratio = float(rng.choice([1, 1.5, 2, 3, 5])); n = int(rng.choice([1, 1, 2, 3])); s = float(rng.choice([0.5, 1, 2, 3])) * 2 * c1 if n > 1 else 0.0
    Nsb = 160 * c1 * math.sqrt(A * fc)
    corner = float(np.interp(ratio, [1, 3], [0.5, 1.0]))
    if n == 1: N = Nsb * corner
    elif s >= 6 * c1: N = n * Nsb * corner
    else: N = Nsb * float(np.interp((n - 1) * s, [0, 6 * c1, 60 * c1], [1.0, 2.0, 11.0]))
    rows.append(dict(id=f"blowout-{k+1:02}", **{"f_c'": fc, "A_brg": A, "h_ef": 12, "c_a1": c1, "c_a2": ratio * c1, "n": n, "s": s, "=N_sbg": N, "=N_d": 0.7 * N}, tol=1e-9,
                     source="oracle/anchors_other.py: lines through the limits (corner: 1/2 at 1, 1 at 3; row: 1 at 0, 2 at 6 c_a1)", kind="independent", note="with the coefficient 160, which is recalled"))
write("anchor-blowout--limits.csv", ["Side-face blowout: corners and rows."], ["f_c' [psi]", "A_brg [in^2]", "h_ef [in]", "c_a1 [in]", "c_a2 [in]", "n", "s [in]"], ["N_sbg [lbf]", "N_d [lbf]"], rows)

# Pryout
rows = [dict(id="349.2R-A3", h_ef=6.63, N_cp=25912.6, **{"=V_cp": 51825.24}, tol=1e-6, source=X.format("A3"), kind="published"),
        dict(id="349.2R-A2", h_ef=3.06, N_cp=8125.0, **{"=V_cp": 16250.0}, tol=2e-4, source=X.format("A2"), kind="recalled", note="N_cp is worked (24 sqrt(4000) 3.06^1.5), not printed in that test"),
        dict(id="k_cp-2.49", h_ef=2.49, N_cp=1000, **{"=k_cp": 1.0, "=phi": 0.70}, tol=1e-9, source="ACI 318-19 17.7.3.1, Table 17.5.3(c)", kind="recalled"),
        dict(id="k_cp-2.5", h_ef=2.5, N_cp=1000, **{"=k_cp": 2.0, "=phi": 0.70}, tol=1e-9, source="ACI 318-19 17.7.3.1, Table 17.5.3(c)", kind="recalled")]
write("anchor-pryout--published.csv", ["Pryout."], ["h_ef [in]", "N_cp [lbf]"], ["V_cp [lbf]", "k_cp", "phi"], rows)

# Interaction: loads in a direction, scaled to the outline of what is allowed
outline = Polygon([(0, 0), (0, 1), (0.2, 1), (1, 0.2), (1, 0)]).exterior
rows = []
for a in (2, 8, 12, 20, 30, 45, 55, 65, 75, 82, 88):
    ray = LineString([(0.001 * math.cos(math.radians(a)), 0.001 * math.sin(math.radians(a))), (3 * math.cos(math.radians(a)), 3 * math.sin(math.radians(a)))])
    p = ray.intersection(outline)
    if p.is_empty or p.geom_type != "Point": continue
    both = p.x > 0.2 + 1e-12 and p.y > 0.2 + 1e-12
    rows.append(dict(id=f"outline-{a}", r_N=p.x, r_V=p.y, **{"=r": 1.2 if both else 1.0}, tol=1e-8, source="oracle/anchors_other.py: ray and outline of 17.8 intersected (shapely)", kind="independent",
                     note="on the outline; r is 1.2 where both count, 1 elsewhere"))
write("anchor-interaction--outline.csv", ["Tension and shear together. A-MG-8 is left out: its source prints 1.181 where its own two ratios add to 1.179."], ["r_N", "r_V"], ["r"], rows)

# Spacing
rows = []
names = {"torque": "torque-controlled", "displacement": "displacement-controlled", "screw": "screw", "undercut": "undercut", "adhesive": "adhesive"}
# The transcription says nothing of the spacing of adhesive anchors.
READ = [dict(kind="published", source=ACI("Tables 17.9.2(a), (b), 17.9.5", 17)), dict(kind="recalled", source="ACI 318-19 Tables 17.9.2(a), (b); 17.9.5")]
ac = {"torque": 4, "displacement": 4, "screw": 4, "undercut": 2.5, "adhesive": 2}
for k, v in CASES["A-T1792"]["expected"].items():
    if k in names: rows.append(dict(id=f"A-T1792-{k}", anchor=names[k], torqued="no", **{"=c_tab": v, "=s_min": CASES["A-T1792"]["expected"]["spacing_post"], "=c_ac": ac[k]}, **READ[k == "adhesive"], tol=1e-9, tk="abs"))
rows += [dict(id="A-T1792-cast", anchor="cast-in", torqued="no", **{"=s_min": 4.0}, **READ[0], tol=1e-9, tk="abs"),
         dict(id="A-T1792-cast-torqued", anchor="cast-in", torqued="yes", **{"=s_min": 6.0, "=c_tab": 6.0}, **READ[0], tol=1e-9, tk="abs")]
for r in rows: r |= dict(d_a=1, h_ef=1, n=2, s=20, c=20, h_a=40)
write("anchor-spacing--table.csv", ["Least spacing and edge distance, for d_a = 1 in and h_ef = 1 in, so that the multiples are read off."], ["anchor", "torqued", "d_a [in]", "h_ef [in]", "n", "s [in]", "c [in]", "h_a [in]"],
      ["s_min [in]", "c_tab [in]", "c_ac [in]"], rows)
# Lightweight factor, as a table
rows = []
for k, v in CASES["A-T17241"]["expected"].items():
    rows.append(dict(id=f"A-T17241-{k}", table="anchor-lambda", anchor="adhesive" if k == "bond" else k.replace("cast", "cast-in"), failure="bond" if k == "bond" else "concrete", **{"=share": round(v / 0.75, 10)}, tol=1e-9, tk="abs",
                     source="ACI 318-19 Table 17.2.4.1", kind="recalled"))
write("tables--anchor-lambda.csv", ["Lightweight factors of anchors, looked up in the table anchor-lambda."], ["table", "anchor", "failure"], ["share"], rows)
