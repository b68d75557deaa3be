"""Independent values for `blade-seat`: the weld of a blade as a row of small springs on what holds it, and statics; then, for
blades over a ring, what the seat plate really carries by plastic limit analysis (plates.py), held along the ring alone, without
any help of the force's spread through the plate. The sheet may not allow more.

    python3 tests/oracle/blade_seat.py      writes ../check-values/blade-seat--strips.csv; needs scipy
"""
import math
import sys

import numpy as np
from csvout import write
from plates import collapse

INPUTS = ["T [lbf]", "P [lbf]", "V [lbf]", "H [lbf]", "M_x [lbf in]", "M_y [lbf in]", "q [psi]", "b [in]", "d [in]", "t_b [in]", "w [in]", "a [in]", "t_p [in]",
          "shape", "x [in]", "t [in]", "F_y [psi]", "F_u [psi]", "F_y_leg [psi]", "F_u_leg [psi]"]
EXPECTS = ["held [in]", "apart [in]", "p [lbf/in]", "m [lbf]", "n_T [lbf/in]", "n [lbf/in]", "t_req [in]"]
STEEL = (36000, 58000, 35000, 60000)
CASES = [("pipe-up", 1200, -1200, 0, 0, 0, 0, 0, 6, 6, .5, 4.5, .1875, .5, "pipe", 2.375, .154), ("pipe-along", 0, 2000, 500, 0, 2600, 0, 60, 6, 6, .5, 4.5, .1875, .5, "pipe", 2.375, .154),
         ("pipe-normal", 0, 3000, 0, 400, 0, 2100, 80, 6, 6, .5, 4.5, .1875, .5, "pipe", 2.375, .154), ("pipe-all", 900, -900, 300, 300, 1500, 1600, 0, 6, 6, .375, 5, .1875, .625, "pipe", 2.875, .203),
         ("pipe-thin-seat", 900, -900, 300, 0, 1500, 0, 0, 7, 7, .5, 6, .1875, .25, "pipe", 3.5, .216), ("rod-up", 1500, -1500, 250, 200, 1200, 900, 0, 5, 5, .375, 4, .1875, .5, "round", 1.5, 1.5),
         ("rod-down", 0, 4000, 250, 200, 1200, 900, 100, 5, 5, .375, 4, .1875, .5, "round", 1.5, 1.5), ("in-pipe", 800, -800, 200, 150, 900, 700, 0, 6, 6, .5, 4, .1875, .75, "pipe", 4.5, .237),
         ("in-pipe-down", 0, 5000, 200, 150, 900, 700, 120, 6, 6, .5, 4, .1875, .75, "pipe", 4.5, .237), ("bar-short", 1500, -1500, 300, 100, 1500, 500, 0, 6, 6, .5, 5, .1875, .25, "bar", 2, .5),
         ("bar-long", 1500, -1500, 300, 100, 1500, 500, 0, 6, 6, .5, 4, .1875, .5, "bar", 4, .5)]


def springs(held, apart, T, M, n=20000):
    """The largest force on an inch of a row of springs under a stiff blade, in one stretch or two."""
    row = (np.arange(n) + .5) / n * held - held / 2
    at = np.concatenate([row - apart / 2, row + apart / 2]) if apart else row
    length = held / n
    lift, turn = T / (len(at) * length), M / (np.sum(at**2) * length)
    return lift + turn * (np.max(at) + length / 2)


def work(T, P, V, H, M_x, M_y, q, b, d, t_b, w, a, t_p, shape, x, t, F_y, F_u, F_y_leg, F_u_leg):
    weld = w - 2 * a
    if shape == "bar":
        return {"held": min(weld, x + 5 * t_p), "apart": 0}
    wall = .93 * t if shape == "pipe" else 0
    side, beyond = .707 * x, (weld - x) / 2
    # Below the seat.
    along, normal = M_x + V * t_p, M_y + H * t_p
    down = max(P, 0) if shape == "pipe" else 0
    if beyond >= t_p / 2:
        out = min(2.5 * t_p, beyond, x / 2 - wall)
        held, apart = wall + 2 * out, x - wall
        p = springs(held, apart, T, along)
        # A cantilever loaded on `out`, from its middle spread at 45 degrees to both sides; a beam across the ring, turned in its middle.
        m = max(p * out * (out / 2) / out, normal / 2 / side)
        arc = min(t_b + 2 * 2.5 * t_p, side)
        couple = along / apart
        pull = max((T / 2 + couple) / arc, normal / side / side)
        push = max((max(T / 2, down / 4) + couple) / arc, (down / 4 + normal / side) / side)
    else:
        held, apart = min(weld, side), 0
        p = springs(held, 0, T, along)
        # Beams of an inch from side to side of the ring, a force and a couple in the middle.
        m = p * x / 4 + normal / held / 2
        pull = p / 2 + normal / held / side
        push = pull + down / 4 / side
    reach = max(0, (b - side) / 2, (d - side) / 2)
    m_r = m + q * reach**2 / 2
    found = {"held": held, "apart": apart, "p": p, "m": m, "n_T": pull, "t_req": math.sqrt(m_r * 4 * 1.67 / F_y)}
    return found | ({"n": push} if shape == "pipe" else {})


def limit(x, wall, held, apart, t_b, pattern, size=7, h=.25):
    """The load at which a plate of a plastic moment of 1 on an inch folds: a pull on the blade, or a moment either way."""
    ring = (x - wall) / 2
    def load(P, T):
        F = np.zeros(len(P))
        spots = [s + k for s in ((-apart / 2, apart / 2) if apart else (0,)) for k in ((np.arange(40) + .5) / 40 - .5) * held]
        def put(at, force):
            near = np.argsort(np.hypot(P[:, 0] - at[0], P[:, 1] - at[1]))[:3]
            # Shared by the three nearest corners so that its moments stay.
            A = np.array([[1, 1, 1], P[near, 0], P[near, 1]])
            F[near] += np.linalg.lstsq(A, np.array([force, force * at[0], force * at[1]]), rcond=None)[0]
        total = sum(s * s for s in spots)
        for s in spots:
            if pattern == "pull": put((s, 0), 1 / len(spots))
            if pattern == "along": put((s, 0), s / total)
            if pattern == "normal":
                for y in (-t_b / 2, t_b / 2): put((s, y), math.copysign(1 / t_b / len(spots), y))
        return F
    return collapse(size, size, h, lambda u, v: abs(math.hypot(u, v) - ring) <= .36 * h, load)


def main():
    rows = []
    for key, *case in CASES:
        given = dict(zip([name.split(" [")[0] for name in INPUTS], (*case, *STEEL)))
        found = work(**given)
        rows.append({"id": key, **given, **{f"={name}": f"{value:.6g}" for name, value in found.items()}, "tol": 1e-4, "source": "oracle/blade_seat.py, springs and statics", "kind": "independent"})
    write("blade-seat--strips.csv", ["A blade on a seat over a standoff: springs for the weld, statics for seat and ring (oracle/blade_seat.py)."], INPUTS, EXPECTS, rows)

    wrong = []
    for x, t, w, t_b, t_p in ((2.375, .154, 4.5, .5, .5), (2.375, .154, 4.5, .5, .625), (1.9, .145, 3.5, .3125, .5), (3.5, .216, 6, .5, .25), (3.5, .216, 6, .5, .75), (4.5, .237, 4, .5, .75), (4.5, .237, 3, .5, .75)):
        base = dict(T=0, P=0, V=0, H=0, M_x=0, M_y=0, q=0, b=7, d=7, t_b=t_b, w=w, a=.1875, t_p=t_p, shape="pipe", x=x, t=t, F_y=36000, F_u=58000, F_y_leg=35000, F_u_leg=60000)
        for name, pattern in (("T", "pull"), ("M_x", "along"), ("M_y", "normal")):
            found = work(**{**base, name: 1})
            folds = limit(x, .93 * t, found["held"], found["apart"], t_b, pattern)
            ratio = folds * found["m"]
            if ratio < 1: wrong.append((x, w, t_p, pattern, ratio))
    if wrong: sys.exit(f"the strips allow more than the plate carries: {wrong}")


if __name__ == "__main__": main()
