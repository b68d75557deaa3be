"""Lines of knee-braced posts under load from above and from the side, in their plane, by the stiffness method for any
plane frame. Nothing of the sheets' closed forms is used.

What stands where and which way is positive says braced_line.py.

Members do not shorten: areas are taken 1e4 and 1e5 times as large as they are, and from these two what infinite areas come to,
for what is left of the shortening goes with one over the area. The posts, beams and braces of the comparison have their real areas.

Writes `brace-thrust--frame-solver.csv`, bents of one bay, for the sheet; and `lines/frames.csv`, whole lines, a row for each
post, for sheets that work a line post by post. There `w` is that of the bay to the right of the post, and the beam is one size
throughout; b across the frame and d along it of a post, b across and d upright of the beam; tolerances are a hundred-thousandth
of the largest V, P or X of the line.
"""
import csv, os, pathlib
import numpy as np
from csvout import OUT
from braced_line import frame, inertia, stiff

LINES = OUT if "CHECK_VALUES" in os.environ else pathlib.Path(__file__).resolve().parent.parent / "lines"
rng = np.random.default_rng(1317)


def clean(value, digits=3):
    return f"{round(float(value), digits) + 0.0:.{digits}f}"


POSTS = [(5.5, 5.5), (7.5, 7.5), (9.5, 9.5), (11.5, 11.5), (5.5, 7.5)]
BEAMS = [(3.5, 9.25), (5.5, 9.5), (5.5, 11.5), (5.5, 13.5), (7.5, 11.5), (7.5, 15.5)]
pick = lambda sizes: sizes[int(rng.integers(len(sizes)))]
E_of = lambda: float(rng.choice([0.9e6, 1.1e6, 1.3e6, 1.6e6, 1.9e6]))

# One bay, for the sheet: first the three cases of an 8x8 post, 7-1/2 in, and a 6x12 beam, 5-1/2 by 11-1/2 in.
cases = [(100.0, L, 10.0, 3.0, 3.0, (7.5, 7.5), 1e6, (5.5, 11.5), 1e6) for L in (12.0, 16.0, 20.0)]
for i in range(117):
    h, L = round(float(rng.uniform(7, 16)), 2), round(float(rng.uniform(6, 24)), 2)
    a, b = round(float(rng.uniform(0.12, 0.6)) * h, 2), round(float(rng.uniform(0.08, 0.49)) * L, 2)
    if i % 20 == 0: L = 2 * b
    w = round(float(rng.uniform(40, 900)), 0) * (-1 if i % 10 == 9 else 1)
    cases.append((w, L, h, a, b, pick(POSTS), E_of(), pick(BEAMS), E_of()))
rows, real = [], []
for at, (w, L, h, a, b, post, E_p, beam, E_b) in enumerate(cases, 1):
    line = ([(12 * h, post, E_p)] * 2, [(12 * L, w / 12, beam, E_b)], 12 * a, 12 * b, 0.0)
    (V, P, X_left, X_right), M_beam, M_post = stiff(*line)
    H = V[1]
    assert abs(V[0] + H) < 1e-6 * abs(H) and abs(X_right[0] - X_left[1]) < 1e-5 * abs(X_left[1])
    share = H / (w * L / 2)
    real.append(frame(*line, times=1)[0][0][1] / (w * L / 2) - share)
    if at <= 3: assert f"{share:.4f}" == ("0.1285", "0.1936", "0.2593")[at - 1], share
    M_mid = M_beam + w / 12 * (6 * L - 12 * b)**2 / 2
    F = X_left[1] * np.hypot(a, b) / b
    rows.append([f"bent-{at}", w, L, h, a, b, E_p, f"{inertia(post):.8g}", E_b, f"{inertia(beam):.8g}",
                 *(f"{v:.7g}" for v in (H, F, M_post / 12 * (1 if w > 0 else -1), M_beam / 12, M_mid / 12)),
                 1e-4, "rel", "plane frame by the stiffness method, oracle/frame.py", "independent",
                 f"thrust {share:.3f} of the load of a post" if at <= 3 else ""])
real = np.array(real)
with open(OUT / "brace-thrust--frame-solver.csv", "w", newline="") as f:
    f.write(f"# {len(rows)} knee-braced bents of one bay solved by the stiffness method (oracle/frame.py); members do not shorten, within 0.01 percent.\n")
    f.write(f"# With the real areas of post and beam, and braces of 3-1/2 x 5-1/2 in, H differs by {np.abs(real).mean():.1%} of the load of a post, w L / 2, on average, from {real.min():+.1%} to {real.max():+.1%}; in the three first by {', '.join(f'{r:+.1%}' for r in real[:3])}.\n")
    out = csv.writer(f, lineterminator="\n")
    out.writerow(["id", "w [lbf/ft]", "L [ft]", "h [ft]", "a [ft]", "b [ft]", "E_p [psi]", "I_p [in^4]", "E_b [psi]", "I_b [in^4]",
                  "expect H [lbf]", "expect F_brace [lbf]", "expect M_post [lbf ft]", "expect M_beam [lbf ft]", "expect M_mid [lbf ft]",
                  "tolerance", "tolerance_kind", "source", "kind", "note"])
    out.writerows(rows)

# Whole lines. Two of three have a load from the side, every fourth is loaded in one bay only, two have no load from above,
# in every seventh posts and bays are alike.
rows, real, ran = [], [], []
for at in range(1, 41):
    n = 2 + at % 5
    alike = at % 7 == 0
    post, E_p = pick(POSTS), E_of()
    h = round(float(rng.uniform(8, 13)), 1)
    posts = [(h if alike else round(h + float(rng.uniform(-2, 2)), 1), post if alike else pick(POSTS), E_p if alike else E_of()) for _ in range(n)]
    bay = round(float(rng.uniform(9, 20)), 1)
    spans = [bay if alike else round(bay * float(rng.uniform(0.7, 1.3)), 1) for _ in range(n - 1)]
    loads = [round(float(rng.uniform(80, 900)), 0) for _ in spans]
    if alike: loads = [loads[0]] * len(loads)
    if at % 4 == 0:
        only = int(rng.integers(n - 1)); loads = [w if j == only else 0.0 for j, w in enumerate(loads)]
    if at in (10, 25): loads = [0.0] * len(loads)
    beam, E_b = pick(BEAMS), E_of()
    a = round(float(rng.uniform(1.5, 3.5)), 2); b = round(min(float(rng.uniform(1.5, 4)), min(spans) / 2), 2)
    H = round(float(rng.uniform(300, 4000)), 0) * (-1 if at % 6 == 1 else 1) if at % 3 else 0.0
    line = ([(12 * h, size, E) for h, size, E in posts], [(12 * L, w / 12, beam, E_b) for L, w in zip(spans, loads)], 12 * a, 12 * b, H)
    solved = stiff(*line)[0]
    largest = np.abs(solved).max()
    load = max(abs(H), *(w * L / 2 for w, L in zip(loads, spans)))
    real.append(np.abs(frame(*line, times=1)[0][:2] - solved[:2]).max(axis=1) / load)
    ran.append(np.abs(stiff(*line, through=True)[0][:2] - solved[:2]).max(axis=1) / load)
    x = np.concatenate([[0], np.cumsum(spans)])
    for i, (h, size, E) in enumerate(posts):
        rows.append([f"line-{at}/{i+1}", f"line-{at}", i + 1, f"{x[i]:.1f}", h, *size, E, loads[i] if i < n - 1 else "", *beam, E_b, a, b, H,
                     *(clean(v) for v in solved[:, i]), f"{largest / 1e5:.3g}", "abs", "plane frame by the stiffness method, oracle/frame.py", "independent", ""])
real, ran = np.array(real), np.array(ran)
with open(LINES / "frames.csv", "w", newline="") as f:
    f.write("# 40 lines of knee-braced posts solved whole by the stiffness method; oracle/braced_line.py says what stands where and which way is positive.\n")
    f.write("# How much else comes to, on average and at most, as a share of H or of half the load of the heaviest bay, whichever is more:\n")
    for what, off in (("with real areas", real), ("with beams that run on over inner posts", ran)):
        f.write(f"# {what} V differs by {off[:, 0].mean():.1%} and {off[:, 0].max():.0%}, P by {off[:, 1].mean():.1%} and {off[:, 1].max():.0%}.\n")
    out = csv.writer(f, lineterminator="\n")
    out.writerow(["id", "line", "post", "x [ft]", "h [ft]", "b_p [in]", "d_p [in]", "E_p [psi]", "w [lbf/ft]", "b_b [in]", "d_b [in]", "E_b [psi]", "a [ft]", "b [ft]", "H [lbf]",
                  "expect V [lbf]", "expect P [lbf]", "expect X_left [lbf]", "expect X_right [lbf]", "tolerance", "tolerance_kind", "source", "kind", "note"])
    out.writerows(rows)
