"""Independent values for sheets whose formula is short: the same physics in SI units (q in Pa from m/s, forces in N), turned back."""
import csv
import numpy as np
from csvout import OUT
rng = np.random.default_rng(29)
FT, PSF, LBF, MPH = 0.3048, 4.4482216152605 / 0.3048**2, 4.4482216152605, 0.44704
def write(name, comments, header, rows):
    with open(f"{OUT}/{name}.csv", "w", newline="") as f:
        for c in comments: f.write(f"# {c}\n")
        w = csv.writer(f, lineterminator="\n"); w.writerow(header); w.writerows(rows)
    print(name, len(rows))
# q = rho V^2 / 2 with the standard's own SI constant 0.613 N s2/m4 (Eq. 26.10-1.si); the two constants differ by 0.02 percent
rows = []
for i in range(40):
    e = "BCD"[i % 3]; zg, al = {"B": (365.76, 7.0), "C": (274.32, 9.5), "D": (213.36, 11.5)}[e]
    z = round(float(rng.uniform(0, 12) if i % 4 == 0 else rng.uniform(12, 120)), 1); V = round(float(rng.uniform(85, 180)), 1); kzt = round(float(rng.uniform(1, 1.8)), 2); ke = round(float(rng.uniform(0.8, 1)), 2)
    kz = 2.01 * (max(z * FT, 4.572) / zg) ** (2 / al)
    rows.append([f"si-{i+1}", V, e, z, kzt, 0.85, ke, kz, 0.613 * kz * kzt * 0.85 * ke * (V * MPH) ** 2 / PSF, 0.0015, "rel", "SI form of Eq. 26.10-1 with 0.613 and the metric z_g of the standard", "independent", ""])
write("velocity-pressure--si", ["The SI form of the equation, constant 0.613, turned back into psf (oracle/si_units.py)."],
    ["id", "V [mph]", "exposure", "z [ft]", "K_zt", "K_d", "K_e", "expect K_z", "expect q_h [psf]", "tolerance", "tolerance_kind", "source", "kind", "note"], rows)
# slats: Pa, m2, N; C_f from the drag of a plate or a cylinder as the figure gives it
rows = []
for i in range(24):
    m = ["flat", "round", "round"][i % 3]; eps = [0.06, 0.2, 0.5][(i // 3) % 3]; D = [2.0, 2.0, 14.0][i % 3]
    q = round(float(rng.uniform(8, 45)), 2); A = round(float(rng.uniform(4, 60)), 1); big = D * 25.4e-3 * np.sqrt(q * PSF) > 5.3  # the figure's SI border, metres and N/m2
    cf = {0.06: (2.0, 1.2, 0.8), 0.2: (1.8, 1.3, 0.9), 0.5: (1.6, 1.5, 1.1)}[eps][0 if m == "flat" else 2 if big else 1]
    F = q * PSF * 0.85 * cf * A * FT**2; least = 0.766 * 1000 * A * FT**2  # 16 psf is 0.766 kN/m2
    rows.append([f"si-{i+1}", q, m, D, eps, A, 0.85, 5, 30, cf, float(max(F, least) / LBF), 150, 0.001, "rel", "in newtons, with the SI border 5.3 of round members and 0.766 kN/m2", "independent", ""])
write("wind-slats--si", ["Forces on slats worked in SI units and turned back (oracle/si_units.py)."],
    ["id", "q_z [psf]", "member", "D [in]", "epsilon", "A_f [sf]", "G", "p_v [psf]", "A_v [sf]", "expect C_f", "expect H [lbf]", "expect P [lbf]", "tolerance", "tolerance_kind", "source", "kind", "note"], rows)
