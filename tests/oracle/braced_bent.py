"""Independent values for braced-bent: random knee-braced frames, in their plane, by the stiffness method for any plane
frame. Nothing of the sheet's closed forms is used. A public frame solver gave the same values, to six figures.

Posts run from a hinged base to a hinge at the beam; the beam of each span is one piece between hinges; braces are
hinged at both ends. Sizes and stiffnesses are random. Half of each span's load acts at each of its beam ends.
n = 2: one span. n = 4, 6: two or three spans side by side; an inner post carries braces on both sides and is twice as
heavy as the outer ones, and members do not shorten, so that the share is even. "push only": in every span the brace that would pull is left out.
"""
import csv
import numpy as np
from csvout import OUT
from plane_frame import Frame
rng = np.random.default_rng(20260)

def frame(H, h, a, b, L, spans, push_only, Ip, Ib, Ap, Ab, At, E):
    """Inches and pounds. Outer base shears, moment at the outer brace feet, brace forces, outer base pull and push, beam moments."""
    m = Frame()
    for i in range(spans + 1):
        x = i * L; k = 1 if i in (0, spans) else 2
        m.node(f"B{i}", x, 0); m.node(f"F{i}", x, h - a); m.node(f"T{i}", x, h)
        m.member(f"low{i}", f"B{i}", f"F{i}", E * k * Ap, E * k * Ip); m.member(f"top{i}", f"F{i}", f"T{i}", E * k * Ap, E * k * Ip)
    for j in range(spans):
        x = j * L
        m.node(f"P{j}", x + b, h); m.node(f"Q{j}", x + L - b, h)
        m.member(f"b1{j}", f"T{j}", f"P{j}", E * Ab, E * Ib, hinge_a=True); m.member(f"b2{j}", f"P{j}", f"Q{j}", E * Ab, E * Ib)
        m.member(f"b3{j}", f"Q{j}", f"T{j+1}", E * Ab, E * Ib, hinge_b=True)
        # the load goes to the right: the left brace pulls
        if not push_only: m.member(f"k1{j}", f"F{j}", f"P{j}", E * At, E * Ip / 8, True, True)
        m.member(f"k2{j}", f"F{j+1}", f"Q{j}", E * At, E * Ip / 8, True, True)
        for i in (j, j + 1): m.loads[f"T{i}", "x"] = m.loads.get((f"T{i}", "x"), 0) + H / spans / 2
    m.solve({(f"B{i}", way) for i in range(spans + 1) for way in "xy"})
    rx = [m.reactions[f"B{i}", "x"] for i in range(spans + 1)]; ry = [m.reactions[f"B{i}", "y"] for i in range(spans + 1)]
    foot = [abs(m.ends[f"low{i}"][5]) for i in (0, spans)]
    k1 = [] if push_only else [m.ends[f"k1{j}"][0] for j in range(spans)]
    k2 = [m.ends[f"k2{j}"][0] for j in range(spans)]
    beam = max(abs(m.ends[f"b1{j}"][5]) for j in range(spans)) if not push_only else max(abs(m.ends[f"b3{j}"][2]) for j in range(spans))
    return rx, ry, foot, k1, k2, beam

rows = []
for i in range(200):
    n = 2 if i < 140 else (4 if i % 2 else 6); push = i % 4 == 3 and n == 2; spans = n // 2
    H = round(float(rng.uniform(300, 8000)), 0); h = round(float(rng.uniform(7, 16)), 2); a = round(float(rng.uniform(0.12, 0.6)) * h, 2); L = round(float(rng.uniform(6, 24)), 2); b = round(float(rng.uniform(0.08, 0.48)) * L, 2)
    Ip, Ib = rng.uniform(60, 900, 2); Ap, Ab = rng.uniform(12, 90, 2); At = rng.uniform(8, 60); E = rng.uniform(0.9e6, 1.9e6)
    if n > 2: Ap, Ab = Ap * 1e5, Ab * 1e5  # nothing shortens
    rx, ry, foot, k1, k2, beam = frame(H, 12 * h, 12 * a, 12 * b, 12 * L, spans, push, Ip, Ib, Ap, Ab, At, E)
    assert abs(sum(rx) + H) < 1e-6 * H
    V = -rx[-1]; M = foot[-1] / 12; F = abs(k2[-1]); T = ry[-1]
    if not push:  # both ends of the frame must agree, and the braces must pull and push alike
        assert abs(rx[0] - rx[-1]) < 1e-5 * H, (rx, n)
        assert abs(abs(k1[0]) - F) < 1e-5 * F and abs(foot[0] - foot[-1]) < 1e-5 * foot[0]
    assert abs(-ry[0] - T) < 1e-5 * T
    rows.append([f"bent-{i+1}", H, h, a, b, L, n, "push only" if push else "push and pull", *(f"{v:.8g}" for v in (V, F, M, T, beam / 12)), 1e-5, "rel", "plane frame by the stiffness method, oracle/braced_bent.py", "independent", ""])
with open(OUT / "braced-bent--frame-solver.csv", "w", newline="") as f:
    f.write("# 200 random knee-braced frames solved by the stiffness method (oracle/braced_bent.py): 140 of one span, 35 of them with braces that only push, and 60 of two or three spans. Values are those of the outer leeward post.\n")
    w = csv.writer(f, lineterminator="\n"); w.writerow(["id", "H [lbf]", "h [ft]", "a [ft]", "b [ft]", "L [ft]", "n", "braces", "expect V [lbf]", "expect F_brace [lbf]", "expect M_post [lbf ft]", "expect T_couple [lbf]", "expect M_beam [lbf ft]", "tolerance", "tolerance_kind", "source", "kind", "note"]); w.writerows(rows)
