"""Published and recalled numbers for anchor-rod and anchor-steel, as the sources print them."""
import csv, math, pathlib
from csvout import ACI, write
A1 = "AISC Design Guide 1, 2nd ed. (2006), Table A1, p. 52"
rows = [
 dict(id="A-CISC-36", d_a=0.75, grade="F1554 Grade 36", head="hex", **{"=f_ya": 248 / 6.894757}, tol=0.003, source="CISC note on ASTM F1554 (248 MPa)", kind="published", note="MPa to ksi"),
 dict(id="A-CISC-55", d_a=0.75, grade="F1554 Grade 55", head="hex", **{"=f_ya": 380 / 6.894757}, tol=0.003, source="CISC note on ASTM F1554 (380 MPa)", kind="published", note="MPa to ksi"),
 dict(id="A-CISC-105", d_a=0.75, grade="F1554 Grade 105", head="hex", **{"=f_ya": 724 / 6.894757}, tol=0.003, source="CISC note on ASTM F1554 (724 MPa)", kind="published", note="MPa to ksi"),
]
for d, area in zip((0.5, 0.625, 0.75, 0.875, 1.0), (0.142, 0.226, 0.334, 0.462, 0.606)):
    rows.append(dict(id=f"A-AREA-{d}", d_a=d, grade="F1554 Grade 36", head="hex", **{"=A_se": area}, tol=0.0006, tk="abs",
                     source="ASME B1.1 UNC tensile stress areas", kind="recalled"))
for d, area in ((0.375, 0.078), (1.125, 0.763), (1.25, 0.969)):
    rows.append(dict(id=f"A-AREA-{d}", d_a=d, grade="F1554 Grade 36", head="hex", **{"=A_se": area}, tol=0.0006, tk="abs",
                     source="check-values/tables/anchor_rods.csv (ASME B1.1)", kind="recalled"))
# Bearing areas by geometry: a regular hexagon of width F less the shank; the printed areas stand in the table.
for d in (0.375, 0.5, 0.625, 0.75, 0.875, 1.0, 1.125, 1.25):
    for head, F in (("hex", 1.5 * d), ("heavy hex", 1.5 * d + 0.125)):
        n = 200000  # the hexagon by integrating its width over the height, not by its area formula
        R = F / math.sqrt(3)
        area = sum(2 * min(F / 2, (R - abs(y)) * math.sqrt(3)) for y in ((k + 0.5) / n * 2 * R - R for k in range(n))) * 2 * R / n
        rows.append(dict(id=f"hexagon-{head.replace(' ', '-')}-{d}", d_a=d, grade="F1554 Grade 36", head=head, **{"=A_brg": area - math.pi * d * d / 4, "=w_head": 2 * R},
                         tol=0.0011, tk="abs", source="oracle/published_anchor_steel.py: width across flats of ASME B18.2.1/B18.2.2, hexagon less shank, integrated; corner to corner",
                         kind="independent"))
# Metric rods: ACI takes 0.9743 of a pitch off the diameter where ISO takes 0.9382, 1.3 percent less area at most.
for d, pitch, area in ((12, 1.75, 84.3), (16, 2, 157), (20, 2.5, 245), (24, 3, 353)):
    F = 1.5 * d  # ISO 4032: 18, 24, 30, 36 mm
    R = F / math.sqrt(3)
    n = 200000
    hexagon = sum(2 * min(F / 2, (R - abs(y)) * math.sqrt(3)) for y in ((k + 0.5) / n * 2 * R - R for k in range(n))) * 2 * R / n
    rows.append(dict(id=f"A-ISO-M{d}", d_a=f"M{d}", grade="ISO 898-1 4.6", head="hex", **{"=A_se": area / 25.4**2, "=f_ya": 240 / 6.894757}, tol=0.013,
                     source="ISO 898-1 nominal stress areas and yield strength, as public tables print them", kind="published", note=f"{area} mm2; 240 MPa"))
    rows.append(dict(id=f"hexagon-M{d}", d_a=f"{d} mm", grade="ISO 898-1 8.8", head="hex",
                     **{"=A_brg": (hexagon - math.pi * d * d / 4) / 25.4**2, "=w_head": 2 * R / 25.4, "=f_ya": 640 / 6.894757}, tol=0.0011,
                     source="oracle/published_anchor_steel.py: width across flats of ISO 4032, hexagon less shank, integrated; corner to corner", kind="independent"))
write("anchor-rod--areas-and-grades.csv", ["Anchor rods: effective area, bearing area, yield strength."],
      ["d_a [in]", "grade", "head"], ["A_se [in^2]", "A_brg [in^2]", "w_head [in]", "f_ya [ksi]"], rows)

rows = []
for size, d, n, T in (("1/2", 0.5, 13, (4, 6, 11)), ("5/8", 0.625, 11, (7, 10, 17))):
    A = math.pi / 4 * (d - 0.9743 / n) ** 2
    for (grade, fy, fu, share), t in zip((("36", 36, 58, 0.5), ("55", 55, 75, 0.6), ("105", 105, 125, 0.6)), T):
        rows.append(dict(id=f"A-DG1-TA1-{size}-{grade}", A_se=A, f_ya=fy, f_uta=fu, **{"=N_sa": float(t) / share}, tol=round(0.55 / share, 4), tk="abs",
                         source=A1, kind="published", note=f"the table prints {share:.0%} of the tensile strength to the nearest kip: {t}; A_se of {n} threads"))
rows.append(dict(id="A-PCA-34.5a", A_se=0.142, f_ya=36, f_uta=58, **{"=N_d": 6.177}, tol=0.001, source="PCA Notes on ACI 318-08, Chapter 34, Example 34.5", kind="recalled"))
X = "public verification test of the finite-element library xcfem/xc (verif/tests/materials/aci), which follows ACI 349.2R-07 Example {}; the report itself was not seen"
for e, A, d, f in (("A1", math.pi / 16, "1/2", 12.7627), ("A3", math.pi * 0.625**2 / 4, "5/8", 19.94176)):
    rows.append(dict(id=f"349.2R-{e}", A_se=A, f_ya=51, f_uta=65, shank="stud", **{"=N_sa": f, "=V_sa": f}, tol=2e-5, source=X.format(e), kind="recalled",
                     note=f"{d} in stud, gross shank area; f_uta 65 ksi of the A108 stud is from memory (AWS D1.1 Type B), not printed in that test; f_ya does not enter"))
write("anchor-steel--published.csv", ["Steel of an anchor. Design Guide 1 Table 3.1 is left out: it is AISC J3.6 with 0.75 of the gross area, another formula than ACI 318-19 17.6.1.2."],
      ["A_se [in^2]", "f_ya [ksi]", "f_uta [ksi]", "shank"], ["N_sa [kip]", "V_sa [kip]", "N_d [kip]"], rows)

# Table 17.5.3(a), and the clause's factors, as ratios of one strength to another
rows = []
for duct, phiN, phiV in (("yes", 0.75, 0.65), ("no", 0.65, 0.60)):
    rows.append(dict(id=f"A-T1753-steel-{duct}", A_se=1, f_ya=60, f_uta=80, ductile=duct, gap="none", **{"=phi_N": phiN, "=phi_V": phiV}, tol=1e-9, tk="abs",
                     source=ACI("Table 17.5.3(a)", 17), kind="published"))
write("anchor-steel--phi.csv", ["Strength reduction factors of steel."], ["A_se [in^2]", "f_ya [ksi]", "f_uta [ksi]", "ductile"], ["phi_N", "phi_V"], rows)

# Standing rods: plastic moment and axial resistance of the round section by summing strips; bending from a beam solved by finite differences.
import numpy as np
def strips(d, n=400000):
    y = (np.arange(n) + 0.5) / n * d - d / 2
    w = 2 * np.sqrt(d * d / 4 - y * y)
    return (w * abs(y)).sum() * d / n, (w * y * y).sum() * d / n / (d / 2), w.sum() * d / n
def moment(V, l, n=2000):
    """End moment of a bar with both ends held against turning, one end moved sideways until the shear is V: stiffness of n elements."""
    import scipy.sparse as sp, scipy.sparse.linalg as sl
    h = l / n
    k = np.array([[12, 6*h, -12, 6*h], [6*h, 4*h*h, -6*h, 2*h*h], [-12, -6*h, 12, -6*h], [6*h, 2*h*h, -6*h, 4*h*h]]) / h**3
    K = sp.lil_matrix((2*n+2, 2*n+2))
    for e in range(n):
        for a in range(4):
            for b in range(4): K[2*e+a, 2*e+b] += k[a, b]
    free = list(range(2, 2*n+1)); F = np.zeros(2*n+2); F[2*n] = V
    u = np.zeros(2*n+2); u[free] = sl.spsolve(K.tocsc()[free][:, free], F[free])
    return abs((K @ u)[1])
rows, rng = [], np.random.default_rng(17)
for k in range(16):
    A = float(rng.choice([0.142, 0.226, 0.334, 0.462, 0.606])); Fy = float(rng.choice([36000, 55000])); gap = float(rng.choice([0.5, 0.75, 1, 1.25, 1.5]))
    d = 2 * math.sqrt(A / math.pi)
    Z, S, area = strips(d)
    Mc, Pc = 0.9 * min(Fy * Z, 1.6 * Fy * S), 0.9 * Fy * area
    N, V = float(round(rng.uniform(0, 0.6) * Pc, -1)), float(round(rng.uniform(0.05, 0.3) * Pc, -1))
    if k % 3 == 0: N = float(round(rng.uniform(0, 0.19) * Pc, -1))
    M = moment(V, gap + d / 2, 200)
    # H1.1: the two straight lines through (0, 1), (0.2, 0.9) and (1, 0); the load is scaled until it meets them
    p, m = N / Pc, M / Mc
    lo, hi = 0.0, 100.0
    for _ in range(200):
        t = (lo + hi) / 2
        room = np.interp(p * t, [0, 0.2, 1.0], [1.0, 0.9, 0.0]) if p * t <= 1 else -1
        lo, hi = (t, hi) if m * t <= room else (lo, t)
    row = dict(id=f"standoff-{k+1:02}", A_se=A, F_y=Fy, l_gap=gap, N_ua=N, V_ua=V, **{"=M_u": M, "=M_c": Mc, "=P_c": Pc}, tol=1e-4,
               source="oracle/published_anchor_steel.py: strips of the round section, beam elements", kind="independent")
    # at the ratio r = 1 both say the same; elsewhere only loads at the same branch compare, so r is checked where it is near 1
    scale = lo
    row2 = dict(row, id=f"standoff-at-1-{k+1:02}", N_ua=N * scale, V_ua=V * scale, **{"=M_u": M * scale, "=r": 1.0}, tol=2e-4, note="loads scaled to the limit line of H1.1 by bisection")
    rows += [row, row2]
write("anchor-standoff--strips.csv", ["Rods that stand free: section by strips, bending by beam elements, interaction by scaling to the limit line."],
      ["A_se [in^2]", "F_y [psi]", "l_gap [in]", "N_ua [lbf]", "V_ua [lbf]"], ["M_u [lbf in]", "M_c [lbf in]", "P_c [lbf]", "r"], rows)
