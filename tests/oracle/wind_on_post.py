"""Wind on posts, beams and roof edges, by other ways than the sheets.

wind-members and wind-edges: in newtons and metres, from the printed figures of ASCE 7-16 Fig. 29.4-2 and 27.3.4, with the
border between small and large round members where the SI text has it, D sqrt(q) of 5.3 with q in N/m2 and D in m.
post-moment: shear and moment walked up the post in short steps, the greatest moment picked from all of them.
bent-share: the posts of a bent one by one, half of the wind on each carried up to the beam and shared there by braces;
the axial forces from moments about the ground."""
import random

from csvout import write

LBF, FT, IN = 4.4482216152605, 0.3048, 0.0254
PSF = LBF / FT**2
draw = random.Random(12)


def pick(low, high, digits=1):
    return round(draw.uniform(low, high), digits)


rows = []
for at in range(24):
    member = ["flat", "flat", "round"][at % 3]
    q, face = pick(6, 45, 2), pick(3, 30, 2)
    c = 2.0 if member == "flat" else 1.2 if face * IN * (q * PSF) ** 0.5 <= 5.3 else 0.8
    newtons = max(q * PSF * 0.85 * c, 16 * PSF) * face * IN
    rows.append({"id": f"member-{at + 1}", "q_z": q, "member": member, "face": face, "G": 0.85,
                 "=C_f": c, "=w": newtons / LBF * FT, "tol": 1e-8, "tk": "rel",
                 "source": "oracle/wind_on_post.py, in newtons, with the SI border 5.3 of round members", "kind": "independent"})
write("wind-members--si.csv", ["Wind on single members, worked in SI units and turned back: made by oracle/wind_on_post.py; do not edit."],
      ["q_z [psf]", "member", "face [in]", "G"], ["C_f", "w [lbf/ft]"], rows)

rows = []
for at in range(12):
    q, theta, fascia, l = pick(8, 40, 2), [0, 5, 22.5][at % 3], pick(0, 14, 2), pick(4, 30, 2)
    inward, outward = 1.5 * q * PSF, -1.0 * q * PSF
    rows.append({"id": f"edge-{at + 1}", "q_h": q, "theta": theta, "fascia": fascia, "l": l,
                 "=H": (inward - outward) * fascia * IN * l * FT / LBF, "tol": 1e-8, "tk": "rel",
                 "source": "oracle/wind_on_post.py, in newtons", "kind": "independent"})
write("wind-edges--si.csv", ["Wind on both edges of a roof, worked in SI units and turned back: made by oracle/wind_on_post.py; do not edit."],
      ["q_h [psf]", "theta [deg]", "fascia [in]", "l [ft]"], ["H [lbf]"], rows)


def walked(H, w, height, held, steps=20000):
    """Greatest moment of a post on a hinge, up to where the frame holds it, by steps; shear at the base."""
    shear, moment, greatest, step = H + w * height, 0.0, 0.0, held / steps
    base = shear
    for _ in range(steps):
        moment += (shear - w * step / 2) * step
        shear -= w * step
        greatest = max(greatest, abs(moment))
    return base, greatest


def cantilever(H, w, height, steps=20000):
    """The same of one that is fixed at its base, from the free top down."""
    shear, moment, greatest, step = H, 0.0, 0.0, height / steps
    for _ in range(steps):
        moment += (shear + w * step / 2) * step
        shear += w * step
        greatest = max(greatest, abs(moment))
    return shear, greatest


rows = []
for at in range(36):
    brace = ["knee braces", "rigid frame", "none"][at % 3]
    height, drop = pick(7, 14), pick(1.5, 3.5) if brace == "knee braces" else 0
    w = pick(5, 40) * draw.choice([1, -1])
    H = round(draw.uniform(-1.2, 1.2) * abs(w) * height, 1)
    base, greatest = cantilever(H, w, height) if brace == "none" else walked(H, w, height, height - drop)
    rows.append({"id": f"walk-{at + 1}", "P": 0, "H": H, "height": height, "brace": brace, "drop": drop,
                 "w": w, "K_e": 1, "=H_b": base, "=M": greatest, "tol": 1e-6, "tk": "rel",
                 "source": "oracle/wind_on_post.py, shear and moment by steps", "kind": "independent"})
write("post-moment--walked.csv", ["Wind on a post with the shear or against it, the frame swaying: made by oracle/wind_on_post.py; do not edit."],
      ["P [lbf]", "H [lbf]", "height [ft]", "brace", "drop [ft]", "w [lbf/ft]", "K_e"], ["H_b [lbf]", "M [lbf ft]"], rows)

rows = []
for at in range(24):
    brace, n = ["knee braces", "rigid frame"][at % 2], 2 + at % 4
    h, L, a, toward = pick(8, 13), pick(8, 18), pick(2, 3), draw.choice(["plus", "minus"])
    w, H = pick(5, 30), pick(-900, 2500)
    bases = [0.0] * n
    # Each bay hangs on two braced posts or two rigid corners; all give way alike.
    for bay in range(n - 1):
        for post in (bay, bay + 1):
            bases[post] += (H + n * w * h / 2) / (2 * (n - 1))
    bases = [base + w * h / 2 for base in bases]
    assert abs(sum(bases) - (H + n * w * h)) < 1e-6
    # Moments about the foot of the last post; the inner posts carry no couple in this model.
    overturning = H * h + sum(w * h * h / 2 for _ in range(n))
    push = overturning / ((n - 1) * L)
    post = draw.randrange(n)
    place = "first" if post == 0 else "last" if post == n - 1 else "inner"
    s = 1 if toward == "plus" else -1
    axial = {"first": -s, "inner": 0, "last": s}[place] * push
    rows.append({"id": f"bent-{at + 1}", "H": H, "W_p": n * w * h, "W_1": w * h, "toward": toward, "h": h,
                 "h_tall": h, "n": n, "L": L, "at": place, "brace": brace, "a": a, "b": a,
                 "=V": s * (bases[post] - w * h), "=P": axial, "tol": 1e-5, "tk": "abs",
                 "source": "oracle/wind_on_post.py, equilibrium of the bent", "kind": "independent"})
write("bent-share--wind-on-posts.csv", ["Posts of a bent with wind on themselves; their bases bring all of it to the ground: made by oracle/wind_on_post.py; do not edit."],
      ["H [lbf]", "W_p [lbf]", "W_1 [lbf]", "toward", "h [ft]", "h_tall [ft]", "n", "L [ft]", "at", "brace", "a [ft]", "b [ft]"], ["V [lbf]", "P [lbf]"], rows)
