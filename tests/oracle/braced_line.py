"""A line of knee-braced posts under load from above and from the side, in its plane, by the stiffness method. It writes nothing itself.

A line has posts 0, 1, ... from left to right, +x to the right, and bay i between post i and post i + 1. The beams lie at one
level; posts may be of unlike height, `h` from the hinge at the base to the beam, and their bases lie as much lower. A post
is hinged at its base and at the beam. The beam of a bay is one piece between hinges at its posts and runs on over the heads
of its braces (`through`: it runs on over inner posts too). Each bay has a brace at both ends, hinged at the post `a`
below the beam and at the beam `b` from the post. `w` is down positive. `H` acts on the beams along +x.

    V        force of a post on its base along +x: under load from above, the left end post has it negative (its foot is pushed
             to the left), the right one positive; over a line it comes to H
    P        force of a post on its base, down positive, beyond half of the load of each bay that the post stands in
    X_left   horizontal part of the force in the brace to the left of a post, push positive; pull negative
    X_right  the same to its right


"""
import numpy as np
from plane_frame import Frame

BRACE = (3.5, 5.5)
area, inertia = lambda size: size[0] * size[1], lambda size: size[0] * size[1]**3 / 12


def frame(posts, bays, a, b, H, times, through=False):
    """posts: (h, size, E); bays: (L, w, size, E); inches and pounds; areas `times` as large. Per post V, P, X_left, X_right;
    of the first bay the moment in the beam at its left brace head, and of the first post that at the brace foot."""
    m, n = Frame(), len(posts)
    x = np.concatenate([[0], np.cumsum([bay[0] for bay in bays])])
    for i, (h, size, E) in enumerate(posts):
        m.node(f"B{i}", x[i], -h); m.node(f"F{i}", x[i], -a); m.node(f"T{i}", x[i], 0)
        stiff = (E * area(size) * times, E * inertia(size))
        m.member(f"low{i}", f"B{i}", f"F{i}", *stiff); m.member(f"top{i}", f"F{i}", f"T{i}", *stiff, hinge_b=True)
    for j, (L, w, size, E) in enumerate(bays):
        # Heads of braces that meet at midspan are one node.
        heads = (f"K{j}", f"K{j}" if 2 * b == L else f"M{j}")
        m.node(heads[0], x[j] + b, 0); m.node(heads[1], x[j + 1] - b, 0)
        stiff = (E * area(size) * times, E * inertia(size))
        m.member(f"left{j}", f"T{j}", heads[0], *stiff, hinge_a=not through, w=w)
        if 2 * b < L: m.member(f"mid{j}", heads[0], heads[1], *stiff, w=w)
        m.member(f"right{j}", heads[1], f"T{j+1}", *stiff, hinge_b=not through, w=w)
        for name, foot, head in ((f"brace-left{j}", f"F{j}", heads[0]), (f"brace-right{j}", f"F{j+1}", heads[1])):
            m.member(name, foot, head, E * area(BRACE) * times, E * inertia(BRACE), True, True)
        m.loads[f"T{j}", "x"] = H / len(bays)
    m.solve({(f"B{i}", way) for i in range(n) for way in "xy"})
    assert m.condition < 1e13, m.condition
    half = [bay[0] * bay[1] / 2 for bay in bays]
    V = -np.array([m.reactions[f"B{i}", "x"] for i in range(n)])
    P = np.array([m.reactions[f"B{i}", "y"] for i in range(n)]) - np.array(half + [0]) - np.array([0] + half)
    part = b / np.hypot(a, b)
    X_right = np.array([m.ends[f"brace-left{j}"][0] * part for j in range(n - 1)] + [0])
    X_left = np.array([0] + [m.ends[f"brace-right{j}"][0] * part for j in range(n - 1)])
    largest = max(np.abs(part).max() for part in (V, P, X_left, X_right))
    assert abs(V.sum() - H) <= 1e-5 * largest and abs(P.sum()) <= 1e-5 * largest, (V.sum() - H, P.sum(), largest)
    return np.array([V, P, X_left, X_right]), m.ends["left0"][5], abs(m.ends["low0"][5])


def stiff(*line, **how):
    """What areas without end come to."""
    fine, coarse = frame(*line, times=1e5, **how), frame(*line, times=1e4, **how)
    return [(10 * f - c) / 9 for f, c in zip(fine, coarse)]
