"""Independent values for seismic-shear: C_s read off the design spectrum drawn through its corner points on log-log paper
(plateau, slope -1 to T_L, slope -2 after it), divided by R / I_e, with the lower limits as horizontal lines."""
import csv
import numpy as np
from csvout import OUT; rng = np.random.default_rng(128)
rows = []
for i in range(60):
    system, R, nb = [("not listed", 1.5, False), ("A15 wood panel walls", 6.5, False), ("other self-supporting structure", 1.25, True), ("A17 walls of other panels", 2.0, False)][i % 4]
    sds = round(float(rng.uniform(0.1, 1.8)), 3); sd1 = round(sds * float(rng.uniform(0.1, 0.6)), 3); s1 = round(float(rng.uniform(0.05, 1.0)), 2); ie = [1, 1.25, 1.5][i % 3]
    hn = round(float(rng.uniform(8, 34)), 1); TL = 0.15 if i % 5 == 0 else 8.0; T = 0.02 * hn * hn ** -0.25
    Ts = sd1 / sds; x = [1e-6, Ts, TL, 1e3] if Ts < TL else [1e-6, TL, TL * (1 + 1e-12), 1e3]
    # corners: plateau up to Ts, then down to (TL, sd1/TL), then slope -2
    if Ts < TL: y = [sds, sds, sd1 / TL, sd1 * TL / 1e6]
    else:  # the constant-velocity part is above the plateau: the curve leaves the plateau where slope -2 meets it
        t2 = (sd1 * TL / sds) ** 0.5; t2 = max(t2, TL)
        x = [1e-6, t2, 1e3]; y = [sds, min(sds, sd1 * TL / t2**2), sd1 * TL / 1e6]
    sa = sds if nb else float(np.exp(np.interp(np.log(T), np.log(x), np.log(y))))
    low = max(0.044 * sds * ie, 0.03 if nb else 0.01, (0.8 if nb else 0.5) * s1 / (R / ie) if s1 >= 0.6 else 0)
    cs = max(min(sa, sds) / (R / ie), low); W = round(float(rng.uniform(2000, 40000)), 0); wp = round(W * float(rng.uniform(0.05, 0.3)), 0); rho = [1, 1.3][i % 2]
    rows.append([f"spectrum-{i+1}", system, R, "D", sds, sd1, s1, ie, TL, "no", hn, W, wp, rho, cs, cs * W, cs * wp, 1e-6, "rel", "design spectrum on log-log paper", "independent", ""])
with open(f"{OUT}/seismic-shear--spectrum.csv", "w", newline="") as f:
    f.write("# C_s read off the design spectrum through its corner points (oracle/spectrum.py).\n")
    w = csv.writer(f, lineterminator="\n"); w.writerow(["id", "system", "R", "category", "S_DS", "S_D1", "S_1", "I_e", "T_L [s]", "exception_11_4_8", "h_n [ft]", "W [lbf]", "W_post [lbf]", "rho", "expect C_s", "expect V [lbf]", "expect Q_E [lbf]", "tolerance", "tolerance_kind", "source", "kind", "note"]); w.writerows(rows)
print(len(rows))
