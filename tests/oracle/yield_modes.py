"""Collapse load of a dowel in wood, without the yield-mode equations of the NDS.

Writes check values for the sheets `pin-yield` and `lag-yield`:

    python3 tests/oracle/yield_modes.py

Needs scipy. The cases come from a fixed seed, so the files change only when this script does.

The model is that from which the equations of NDS 2018 Table 12.3.1A were once derived, and is solved here
in two ways that share nothing with those equations:

    dowel     rigid, perfectly plastic in bending, plastic moment M = F_yb D^3 / 6
    wood      rigid, perfectly plastic in bearing, q = F_e D per unit of length, either way
    members   do not rotate, no gap, no friction, no tension along the dowel

1.  From above (kinematic theorem). Let the side member move by 1 against the main member. The dowel
    follows as straight pieces joined at plastic hinges. The work of crushing, q times the area swept
    between dowel and member, plus M times the rotation of each hinge, over the movement 1, is an upper
    bound of the load. Each mode is a family of such movements with two unknown places: where, in each
    member, the dowel either passes the member's own position (it rotates, crushing to both sides) or is
    bent by a hinge (beyond which it stays with the member). `scipy.optimize.minimize` finds the places.
    With x measured from the shear plane, u in the side member and v in the main member, the piece
    between them falls from 1 to 0 over u + v, so its slope is 1 / (u + v):

        Im, Is   the dowel moves with one member and crushes all of the other
        II       rotates in both
        IIIm     hinge in the side member, rotates in the main member
        IIIs     rotates in the side member, hinge in the main member
        IV       hinge in both

    A minimum at the end of a member says that the mode does not exist there; its cell is left blank.
    In double shear the dowel is symmetric about the middle of the main member: it cannot rotate in
    it, so II and IIIm drop out, and each half has half of the main member.

2.  From below (static theorem). The dowel is cut into short elements. Any bearing pressure within
    +-q that balances the load with bending moments within +-M can be carried, so the largest such load,
    found by linear programming, is the collapse load. This knows nothing of modes. The lowest mode
    of step 1 has to agree with it, or the script stops.

Only after that does anything of the NDS enter: each mode is divided by its reduction term R_d of
Table 12.3.1B, and Z is the least.
"""

import csv
import random

import numpy
import scipy
from scipy.optimize import linprog, minimize
from scipy.sparse import lil_matrix

from csvout import OUT
SOURCE = f"tests/oracle/yield_modes.py, plastic equilibrium solved numerically, scipy {scipy.__version__}"
AGREEMENT = 2e-4  # between the bounds; the elements of the lower one have a finite length
TOLERANCE = 1e-6  # of the values written: the minimum is flat, so its value is sharper than its place


def rotating(q, length):
    """Work and slope of work where the dowel crosses its member at a depth z, per unit of rotation."""
    return lambda z: (q * (z**2 + (length - z) ** 2) / 2, q * (2 * z - length))


def hinged(q, moment):
    """The same where a hinge at the depth z leaves the rest of the dowel with its member."""
    return lambda z: (q * z**2 / 2 + moment, q * z)


def least_work(side, main, l_s, l_m):
    """Least work over the two depths, or None if it is not found inside both members."""

    def work(place):
        (a, da), (b, db) = side(place[0] * l_s), main(place[1] * l_m)
        run = place[0] * l_s + place[1] * l_m
        value = (a + b) / run
        slope = numpy.array([(da - value) * l_s / run, (db - value) * l_m / run])
        return value / scale, slope / scale

    scale = 1.0
    scale = work((0.5, 0.5))[0]
    edge = 1e-9
    best = minimize(
        work, (0.5, 0.5), jac=True, method="L-BFGS-B", bounds=[(edge, 1)] * 2,
        options={"ftol": 1e-16, "gtol": 1e-13, "maxiter": 5000},
    )
    inside = all(1e-6 < place < 1 - 1e-6 for place in best.x)
    if inside and abs(best.jac).max() > 1e-5:
        raise SystemExit(f"no minimum found: {best}")
    return best.fun * scale if inside else None


def upper(case, double):
    """Collapse load of each mode that exists, before any reduction."""
    D = case["root"]
    q_m, q_s, M = case["F_em"] * D, case["F_es"] * D, case["F_yb"] * D**3 / 6
    l_s, l_m = case["l_s"], case["l_m"] / (2 if double else 1)
    turn_s, turn_m, bend_s, bend_m = rotating(q_s, l_s), rotating(q_m, l_m), hinged(q_s, M), hinged(q_m, M)
    modes = {"Im": q_m * l_m, "Is": q_s * l_s}
    if not double:
        modes["II"] = least_work(turn_s, turn_m, l_s, l_m)
        modes["IIIm"] = least_work(bend_s, turn_m, l_s, l_m)
    modes["IIIs"] = least_work(turn_s, bend_m, l_s, l_m)
    modes["IV"] = least_work(bend_s, bend_m, l_s, l_m)
    planes = 2 if double else 1
    return {mode: None if load is None else planes * load for mode, load in modes.items()}


def lower(case, double, pieces=400):
    """Largest load that some admissible pressure carries, by linear programming on elements."""
    D = case["root"]
    q_m, q_s, M = case["F_em"] * D, case["F_es"] * D, case["F_yb"] * D**3 / 6
    # One entry a member along the dowel: length, strength, share of the load that it puts in.
    members = [(case["l_s"], q_s, -0.5 if double else -1.0), (case["l_m"], q_m, 1.0)]
    if double:
        members.append((case["l_s"], q_s, -0.5))
    size = [(length / pieces, q) for length, q, _ in members for _ in range(pieces)]
    n = len(size)
    # Unknowns, scaled to 1: element pressure, shear and moment after each element, load.
    load_unit = 2 * min(q_m * case["l_m"], 2 * q_s * case["l_s"])
    P = 3 * n
    equal = lil_matrix((2 * n + len(members), 3 * n + 1))
    for k, (h, q) in enumerate(size):
        force = q * h / load_unit
        equal[k, k] = -force
        equal[k, n + k] = 1
        equal[n + k, 2 * n + k] = 1
        equal[n + k, k] = -load_unit * force * h / 2 / M
        if k:
            equal[k, n + k - 1] = -1
            equal[n + k, 2 * n + k - 1] = -1
            equal[n + k, n + k - 1] = -load_unit * h / M
    for index, (_, _, share) in enumerate(members):
        for k in range(index * pieces, (index + 1) * pieces):
            equal[2 * n + index, k] = size[k][0] * size[k][1] / load_unit
        equal[2 * n + index, P] = -share
    bounds = [(-1, 1)] * n + [(None, None)] * n + [(-1, 1)] * (n - 1) + [(0, 0)] + [(0, None)]
    cost = numpy.zeros(3 * n + 1)
    cost[P] = -1
    answer = linprog(cost, A_eq=equal.tocsr(), b_eq=numpy.zeros(equal.shape[0]), bounds=bounds, method="highs")
    if answer.status != 0:
        raise SystemExit(f"linear programme: {answer.message}")
    return answer.x[P] * load_unit


def reduction(mode, case):
    """R_d of NDS 2018 Table 12.3.1B, its note for threads included."""
    K_theta = 1 + 0.25 * case["theta"] / 90
    if case["root"] >= 0.25:
        return {"Im": 4.0, "Is": 4.0, "II": 3.6}.get(mode, 3.2) * K_theta
    K_D = 2.2 if case["root"] <= 0.17 else 10 * case["root"] + 0.5
    return K_D * K_theta if case["nominal"] >= 0.25 else K_D


def evaluate(case, double):
    modes = upper(case, double)
    collapse = min(load for load in modes.values() if load is not None)
    below = lower(case, double)
    if abs(below / collapse - 1) > AGREEMENT:
        raise SystemExit(f"the bounds differ: {below} and {collapse} for {case}")
    reduced = {m: None if load is None else load / reduction(m, case) for m, load in modes.items()}
    return reduced, min(z for z in reduced.values() if z is not None), below / collapse - 1


def wood(rng):
    return rng.randrange(1500, 7500, 50)


def pin_case(rng, k):
    """A blade between two wood sides, two plates on a wood main member, or three of wood, in turn."""
    D = rng.choice([0.25, 0.375, 0.5, 0.5, 0.625, 0.75, 0.875, 1.0])
    case = {"nominal": D, "root": D, "theta": rng.choice([0, 90, rng.randrange(1, 90)])}
    case["F_yb"] = rng.randrange(36000, 120000, 500)
    plate, steel = rng.choice([0.1875, 0.25, 0.375, 0.5]), rng.choice([61850, 87000, 97500])
    if k % 3 == 0:
        case |= {"l_m": plate, "F_em": steel, "l_s": rng.randrange(4, 33) / 8, "F_es": wood(rng)}
    elif k % 3 == 1:
        case |= {"l_m": rng.randrange(8, 93) / 8, "F_em": wood(rng), "l_s": plate, "F_es": steel}
    else:
        case |= {"l_m": rng.randrange(8, 93) / 8, "F_em": wood(rng), "l_s": rng.randrange(4, 33) / 8, "F_es": wood(rng)}
    return case


# Nominal and root diameter of lag screws: NDS 2018 Appendix L Table L2 (recalled). Any pair would do here.
LAGS = [(0.25, 0.173), (0.3125, 0.227), (0.375, 0.265), (0.5, 0.371), (0.625, 0.471), (0.75, 0.579), (1.0, 0.780)]


def lag_case(rng, k):
    """A plate or a wood side member on a wood main member, in turn; short ones too, for the rarer modes."""
    nominal, root = rng.choice(LAGS)
    case = {"nominal": nominal, "root": root, "theta": rng.choice([0, 90, rng.randrange(1, 90)])}
    case["F_yb"] = rng.choice([45000, 60000, 70000, rng.randrange(36000, 120000, 500)])
    case |= {"l_m": round(rng.uniform(2, 12) * nominal, 3), "F_em": wood(rng)}
    if k % 2:
        case |= {"l_s": rng.choice([0.075, 0.12, 0.1875, 0.25, 0.375]), "F_es": rng.choice([61850, 87000])}
    else:
        case |= {"l_s": round(rng.uniform(1, 6) * nominal, 3), "F_es": wood(rng)}
    return case


def write(name, title, make, double, count, seed):
    rng = random.Random(seed)
    modes = ["Im", "Is", "IIIs", "IV"] if double else ["Im", "Is", "II", "IIIm", "IIIs", "IV"]
    size = ["D [in]"] if double else ["D [in]", "D_r [in]"]
    header = ["id"] + size + ["l_m [in]", "l_s [in]", "F_em [psi]", "F_es [psi]", "F_yb [psi]", "theta [deg]"]
    header += [f"expect Z_{m} [lbf]" for m in modes] + ["expect Z [lbf]"]
    header += ["tolerance", "tolerance_kind", "source", "kind", "note"]
    governs, worst = {}, 0.0
    with open(OUT / name, "w", newline="") as file:
        file.write(f"# {title}\n# Made by tests/oracle/yield_modes.py, which says how; do not edit.\n")
        file.write("# A blank mode does not exist for the lengths given: its hinge or turning point would lie outside a member.\n")
        if not double:
            file.write("# D is the nominal diameter; D_r, the root diameter, is the D of the yield equations.\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header)
        for k in range(count):
            case = make(rng, k)
            reduced, Z, gap = evaluate(case, double)
            worst = max(worst, abs(gap))
            least = min((z, m) for m, z in reduced.items() if z is not None)[1]
            governs[least] = governs.get(least, 0) + 1
            diameters = [case["nominal"]] if double else [case["nominal"], case["root"]]
            row = [f"{'eq-double' if double else 'eq-single'}-{k + 1:02}"] + diameters
            row += [case[key] for key in ("l_m", "l_s", "F_em", "F_es", "F_yb", "theta")]
            row += ["" if reduced[m] is None else f"{reduced[m]:.8g}" for m in modes] + [f"{Z:.8g}"]
            out.writerow(row + [TOLERANCE, "rel", SOURCE, "independent", f"mode {least} governs"])
    print(f"{name}: {count} cases, governing modes {dict(sorted(governs.items()))}, bounds within {worst:.1e}")


if __name__ == "__main__":
    write("pin-yield--equilibrium.csv", "Dowels in double shear: plastic collapse loads over R_d.", pin_case, True, 60, 20180101)
    write("lag-yield--equilibrium.csv", "Dowels in single shear: plastic collapse loads over R_d.", lag_case, False, 60, 20180102)
