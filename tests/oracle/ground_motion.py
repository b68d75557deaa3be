"""Earthquake by the clauses of ASCE 7-16: site coefficients, category, redundancy, base shear; and which answers contradict each other.

Tables are written here from the standard, not read from the project's. Other scripts take the functions; run alone, this one writes."""
import numpy as np

from csvout import write

COLUMNS_S, COLUMNS_1 = [0.25, 0.5, 0.75, 1.0, 1.25, 1.5], [0.1, 0.2, 0.3, 0.4, 0.5, 0.6]
F_A = {"A": [0.8] * 6, "B": [0.9] * 6, "C": [1.3, 1.3, 1.2, 1.2, 1.2, 1.2], "D": [1.6, 1.4, 1.2, 1.1, 1.0, 1.0], "E": [2.4, 1.7, 1.3]}
F_V = {"A": [0.8] * 6, "B": [0.8] * 6, "C": [1.5] * 5 + [1.4], "D": [2.4, 2.2, 2.0, 1.9, 1.8, 1.7], "E": [4.2, 3.3]}
STUDY = "this ground requires a site-specific study"


def coefficients(S_S, S_1, site_class, measured="no", exception="yes"):
    """Tables 11.4-1 and 11.4-2 with 11.4.3, 11.4.4 and 11.4.8; none where a study is required."""
    soil = "D" if site_class == "unknown" else "B" if site_class == "A" and measured == "no" else site_class
    if soil == "F" or soil == "D" and S_1 >= 0.2 and exception == "no" or soil == "E" and (S_S > 0.75 or S_1 >= 0.2): return None
    if site_class in "AB" and measured == "no": return 1.0, 1.0
    F_a = float(np.interp(S_S, COLUMNS_S[:len(F_A[soil])], F_A[soil])); F_v = float(np.interp(S_1, COLUMNS_1[:len(F_V[soil])], F_V[soil]))
    return max(F_a, 1.2) if site_class == "unknown" else F_a, F_v


def motion(S_S, S_1, *site):
    F_a, F_v = coefficients(S_S, S_1, *site)
    return 2 / 3 * max(F_a * S_S, F_v * S_1), 2 / 3 * F_v * S_1


def category(S_DS, S_D1, S_1, risk):
    """Tables 11.6-1 and 11.6-2 and the text of 11.6, A as 1 to F as 6."""
    higher = risk == "IV"
    def row(value, edges): return [1, 3 if higher else 2, 4 if higher else 3, 4][sum(value >= edge for edge in edges)]
    near = (6 if higher else 5) if S_1 >= 0.75 else 1
    return max(row(S_DS, (0.167, 0.33, 0.5)), row(S_D1, (0.067, 0.133, 0.2)), near)


def site(id, S_S=None, S_1=None, S_DS=None, S_D1=None, site_class="D", measured="no", exception="yes", risk="II", sdc=None, rho=None, refused=None):
    """What seismic-site is given, and what it comes to."""
    given = {"S_S": S_S, "S_1_job": S_1, "S_DS_job": S_DS, "S_D1_job": S_D1, "sdc_job": sdc, "rho_job": rho}
    case = {"id": id, "site_class": site_class, "measured": measured, "exception_11_4_8": exception, "risk": risk, **{k: v for k, v in given.items() if v is not None}}
    if refused: return case | {"=refused": refused}
    if S_DS is None:
        F_a, F_v = coefficients(S_S, S_1, site_class, measured, exception)
        case |= {"=site-coefficients.F_a": F_a, "=site-coefficients.F_v": F_v}
        S_DS, S_D1 = motion(S_S, S_1, site_class, measured, exception)
    # F_v is 0.8 at least, and a study may come to four fifths of the general procedure (21.3).
    elif S_1 is None: S_1 = 1.5 * S_D1 / 0.8 / 0.8
    n_req, n_job = category(S_DS, S_D1, S_1, risk), "ABCDEF".index(sdc) + 1 if sdc else 1
    n = max(n_req, n_job); r = rho if rho is not None else 1.3 if n >= 4 else 1.0
    raised = exception == "yes" and S_1 >= 0.2 and site_class in ("D", "unknown")
    return case | {"=S_DS": S_DS, "=S_D1": S_D1, "=S_1": S_1, "=n_req": n_req, "=n_job": n_job, "=n": n, "=name: sdc": "ABCDEF"[n - 1], "=rho": r, "=E_h": r,
                   "=E_v": 0.2 * S_DS, "=name: exception": "yes" if raised else "no"}


SYSTEMS = {"A15 wood panel walls": (6.5, 3.0, "building", 65), "A17 walls of other panels": (2.0, 2.5, "building", 35), "B22 frame with wood panel walls": (7.0, 2.5, "building", 65),
           "G6 cantilevered timber columns": (1.5, 1.5, "building", 35), "inverted pendulum": (2.0, 2.0, "nonbuilding", None), "other self-supporting structure": (1.25, 2.0, "nonbuilding", None)}


def response(system, R, S_DS, S_D1, S_1, I_e, raised, h_n, T_L=8.0):
    """C_s by 12.8.1.1, or by 15.4.1 for a nonbuilding structure, whose period is not that of 12.8-7. h_n in ft."""
    if SYSTEMS.get(system, (0, 0, "building"))[2] == "building":
        T = 0.02 * h_n**0.75
        upper = (1.5 if raised else 1.0) * S_D1 / (R / I_e) / T * min(1.0, T_L / T)
        return max(min(S_DS / (R / I_e), upper), 0.044 * S_DS * I_e, 0.01, 0.5 * S_1 / (R / I_e) if S_1 >= 0.6 else 0.0)
    return max(S_DS / (R / I_e), 0.044 * S_DS * I_e, 0.03, 0.8 * S_1 / (R / I_e) if S_1 >= 0.6 else 0.0)


def rows(clause, cases):
    return [dict(case, tol=1e-9, source=f"worked from ASCE 7-16 {clause} by oracle/ground_motion.py", kind="independent") for case in cases]


def shear(id, system, R, sdc, S_DS, S_D1, S_1, I_e, raised, h_n, W=24000.0, W_post=3100.0, rho=1.3, T_L=None):
    limit = SYSTEMS.get(system, (None,) * 4)
    C_s = response(system, R, S_DS, S_D1, S_1, I_e, raised == "yes", h_n, T_L or 8.0)
    banned = (system.startswith("A17") or system.startswith("G6")) and sdc in "EF"
    limited = limit[3] and not banned and (sdc in "DEF" or system.startswith("G6"))
    listed = system in SYSTEMS
    building = not listed or limit[2] == "building"
    T = 0.02 * h_n**0.75
    return {"id": id, "system": system, "R": R, "category": sdc, "S_DS": S_DS, "S_D1": S_D1, "S_1": S_1, "I_e": I_e, "exception_11_4_8": raised, "h_n": h_n, "W": W, "W_post": W_post,
            "rho": rho, **({"T_L": T_L} if T_L else {}), "=R_I": R / I_e, "=C_s2": S_DS * I_e / R, **({"=T": T} if building else {}),
            "=C_s5": max(0.044 * S_DS * I_e, 0.01 if building else 0.03),
            "=C_s6": (0.5 if building else 0.8) * S_1 * I_e / R if S_1 >= 0.6 else 0.0, "=C_s": C_s, "=V": C_s * W, "=E_h": rho * C_s * W, "=Q_E": C_s * W_post, "=E_v": 0.2 * S_DS,
            "=verdict: R of a system not listed": "not asked" if listed else "met" if R <= 1.5 else "not met",
            "=verdict: R is no more than that of the system": ("met" if R <= limit[0] else "not met") if listed else "not asked",
            "=verdict: the system is permitted in this design category": ("not met" if banned else "met") if listed else "not asked",
            "=verdict: height for this system": ("met" if h_n <= limit[3] else "not met") if limited else "not asked"}


def main():
    about = ["Ground motion given either way, category, redundancy and effects: every category, both sides of each edge, and what contradicts itself (oracle/ground_motion.py)."]
    inputs = ["site_class", "measured", "exception_11_4_8", "risk", "S_S", "S_1_job", "S_DS_job", "S_D1_job", "sdc_job", "rho_job"]
    twice, none, also, between = "the ground motion is given twice", "give the ground motion under [seismic]", "give S_1 as well", "the redundancy factor is 1.0 or 1.3"
    write("seismic-site--effects.csv", about, inputs,
          ["S_DS", "S_D1", "S_1", "site-coefficients.F_a", "site-coefficients.F_v", "n_req", "n_job", "n", "name: sdc", "rho", "E_v", "E_h", "name: exception", "refused"],
          rows("11.4, 11.6, 12.3.4 and 12.4.2.2", [
              site("rock", 0.31, 0.07, site_class="A", measured="yes"), site("rock-not-measured", 0.31, 0.07, site_class="A"), site("soft-rock", 0.62, 0.23, site_class="B", measured="yes"),
              site("dense", 0.83, 0.26, site_class="C"), site("stiff", 0.83, 0.21, site_class="D"), site("stiff-below", 0.83, 0.19, site_class="D"), site("stiff-at", 0.83, 0.2, site_class="D"),
              site("stiff-study", 0.83, 0.19, exception="no"), site("unknown", 1.27, 0.21, site_class="unknown"), site("unknown-study", 0.93, 0.15, site_class="unknown", exception="no"),
              site("soft", 0.61, 0.17, site_class="E"), site("dense-raised-not", 0.83, 0.41, site_class="C", exception="yes"),
              site("stiff-no-exception", 0.83, 0.21, exception="no", refused=STUDY), site("filled", 0.2, 0.05, site_class="F", refused=STUDY),
              site("typed", S_1=0.31, S_DS=0.41, S_D1=0.12), site("typed-without-S_1", S_DS=0.41, S_D1=0.19), site("typed-small", S_DS=0.1, S_D1=0.05),
              site("typed-stiff-no-exception", S_1=0.31, S_DS=0.41, S_D1=0.12, exception="no"), site("typed-dense", S_1=0.31, S_DS=0.41, S_D1=0.12, site_class="C"),
              site("typed-unknown", S_1=0.21, S_DS=0.41, S_D1=0.12, site_class="unknown"), site("typed-low", S_1=0.19, S_DS=0.41, S_D1=0.12, site_class="unknown"),
              site("typed-no-S_1-at", S_DS=0.41, S_D1=0.2, refused=also), site("typed-no-S_1-above", S_DS=0.41, S_D1=0.21, refused=also),
              site("both-short", 0.83, 0.21, S_DS=0.5, refused=twice), site("both-long", 0.83, 0.21, S_D1=0.3, refused=twice), site("both", 0.83, 0.21, S_DS=0.5, S_D1=0.3, refused=twice),
              site("nothing", refused=none), site("S_S-alone", 0.83, refused=none), site("S_1-alone", S_1=0.21, refused=none), site("S_DS-alone", S_DS=0.5, refused=none), site("S_D1-alone", S_D1=0.1, refused=none),
              site("S_S-with-study", 0.83, S_DS=0.5, S_D1=0.1, refused=none),
              *[site(f"job-{c}-over-A", S_1=0.03, S_DS=0.1, S_D1=0.05, sdc=c, exception="no") for c in "ABCDEF"],
              *[site(f"job-{c}-over-D", S_1=0.31, S_DS=0.6, S_D1=0.25, sdc=c) for c in "ACDEF"],
              site("needs-B", S_1=0.03, S_DS=0.2, S_D1=0.05), site("needs-C", S_1=0.03, S_DS=0.34, S_D1=0.05, site_class="C"), site("needs-D", S_1=0.03, S_DS=0.55, S_D1=0.05),
              site("needs-E", S_1=0.8, S_DS=1.2, S_D1=0.7), site("needs-F", S_1=0.8, S_DS=1.2, S_D1=0.7, risk="IV"),
              site("rho-1", S_1=0.31, S_DS=0.6, S_D1=0.25, rho=1.0), site("rho-1.3", S_1=0.03, S_DS=0.2, S_D1=0.05, rho=1.3),
              site("rho-1.05", S_1=0.31, S_DS=0.6, S_D1=0.25, rho=1.05, refused=between), site("rho-1.29", S_1=0.31, S_DS=0.6, S_D1=0.25, rho=1.29, refused=between), site("rho-1.15", S_1=0.31, S_DS=0.6, S_D1=0.25, rho=1.15, refused=between),
          ]))
    write("seismic-category--edges.csv", ["Categories on both sides of each edge of the tables, for a risk category II and IV (oracle/ground_motion.py)."], ["S_DS", "S_D1", "S_1", "risk"], ["n_req"],
          rows("Tables 11.6-1 and 11.6-2, 11.6", [{"id": f"{risk}-{S_DS:g}-{S_D1:g}-{S_1:g}", "S_DS": S_DS, "S_D1": S_D1, "S_1": S_1, "risk": risk, "=n_req": category(S_DS, S_D1, S_1, risk)}
               for risk in ("II", "IV") for S_DS, S_D1, S_1 in [(e * k, 0.01, 0.02) for e in (0.167, 0.33, 0.5) for k in (0.99, 1.0, 1.05)] + [(0.02, e * k, 0.03) for e in (0.067, 0.133, 0.2) for k in (0.99, 1.0, 1.05)]
               + [(0.03, 0.04, s) for s in (0.74, 0.75, 0.8)]]))
    systems = list(SYSTEMS)
    write("seismic-shear--edges.csv", ["Base shear: each limit of C_s where it governs, heights and systems at what the tables allow (oracle/ground_motion.py)."],
          ["system", "R", "category", "S_DS", "S_D1", "S_1", "I_e", "exception_11_4_8", "h_n [ft]", "W [lbf]", "W_post [lbf]", "rho", "T_L [s]"],
          ["R_I", "C_s2", "T [s]", "C_s5", "C_s6", "C_s", "V [lbf]", "E_h [lbf]", "Q_E [lbf]", "E_v", "verdict: R of a system not listed", "verdict: R is no more than that of the system",
           "verdict: the system is permitted in this design category", "verdict: height for this system"],
          rows("12.8.1.1, 15.4.1, Tables 12.2-1 and 15.4-2", [
              shear("short", "not listed", 1.4, "D", 0.31, 0.42, 0.23, 1.25, "no", 14.0), shear("short-1.5", "not listed", 1.5, "D", 0.31, 0.42, 0.23, 1.25, "no", 14.0), shear("R-1.6", "not listed", 1.6, "D", 0.31, 0.42, 0.23, 1.25, "no", 14.0),
              shear("upper", "not listed", 1.5, "C", 0.9, 0.03, 0.23, 1.5, "no", 14.0), shear("upper-raised", "not listed", 1.5, "C", 0.9, 0.03, 0.23, 1.5, "yes", 14.0),
              shear("upper-long", "not listed", 1.5, "C", 0.9, 0.12, 0.23, 1.5, "yes", 59.0, T_L=0.4), shear("upper-long-not-raised", "not listed", 1.5, "C", 0.9, 0.12, 0.23, 1.5, "no", 59.0, T_L=0.4),
              shear("upper-near-T_L", "not listed", 1.5, "C", 0.9, 0.12, 0.23, 1.25, "no", 59.0, T_L=0.41), shear("upper-below-T_L", "not listed", 1.5, "C", 0.9, 0.12, 0.23, 1.25, "no", 59.0, T_L=0.45),
              shear("lower", "A15 wood panel walls", 6.5, "D", 0.7, 0.01, 0.5, 1.25, "no", 30.0), shear("least", "A15 wood panel walls", 6.4, "B", 0.05, 0.004, 0.03, 1.25, "no", 30.0),
              shear("fault", "B22 frame with wood panel walls", 6.9, "E", 0.2, 0.05, 0.6, 1.25, "no", 30.0), shear("fault-more", "B22 frame with wood panel walls", 7.0, "E", 0.2, 0.05, 0.64, 1.25, "no", 30.0),
              shear("no-fault", "B22 frame with wood panel walls", 7.1, "E", 0.2, 0.05, 0.59, 1.25, "no", 30.0),
              shear("pendulum", "inverted pendulum", 2.0, "D", 0.4, 0.02, 0.23, 1.25, "yes", 30.0), shear("pendulum-over", "inverted pendulum", 2.1, "E", 0.4, 0.02, 0.23, 1.25, "no", 30.0),
              shear("pendulum-fault", "inverted pendulum", 1.9, "E", 0.1, 0.02, 0.61, 1.25, "no", 30.0), shear("pendulum-no-fault", "inverted pendulum", 1.9, "E", 0.1, 0.02, 0.59, 1.25, "no", 30.0), shear("pendulum-at-fault", "inverted pendulum", 1.9, "E", 0.1, 0.02, 0.6, 1.25, "no", 30.0),
              shear("other-least", "other self-supporting structure", 1.2, "B", 0.02, 0.01, 0.03, 1.25, "no", 30.0), shear("other-5", "other self-supporting structure", 1.25, "B", 0.9, 0.01, 0.03, 1.25, "no", 30.0),
              *[shear(f"{name.split()[0]}-{sdc}-{h:g}", name, SYSTEMS[name][0], sdc, 0.41, 0.2, 0.15, 1.25, "no", h) for name in systems[:4] for sdc in "BDEF"
                for h in (SYSTEMS[name][3] * 1.0, SYSTEMS[name][3] * 1.05)]]))


if __name__ == "__main__": main()
