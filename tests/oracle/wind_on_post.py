"""Wind on posts, beams and roof edges, by other ways than the sheets.

wind-members and wind-edges: in newtons and metres, from the printed figures of ASCE 7-16 Fig. 29.4-2 and 27.3.4, with the
border between small and large round members where the SI text has it, D sqrt(q) of 5.3 with q in N/m2 and D in m.
post-moment: shear and moment walked up the post in short steps, the greatest moment picked from all of them."""
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
    """Shear at the base of a post on a hinge, its greatest moment up to where the frame holds it, by steps; greatest shear from there to the
    beam, on which it is a hinge."""
    shear, moment, greatest, step = H + w * height, 0.0, 0.0, held / steps
    base = shear
    for _ in range(steps):
        moment += (shear - w * step / 2) * step
        shear -= w * step
        greatest = max(greatest, abs(moment))
    drop = height - held
    # The piece above, turned about its top: the shear at its foot; the wind takes from it what it adds.
    foot = (w * drop * drop / 2 - moment) / drop if drop > 0 else 0.0
    return base, greatest, max(abs(foot - w * drop * part / 100) for part in range(101)) if drop > 0 else 0.0


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
    base, greatest, above = (*cantilever(H, w, height), 0.0) if brace == "none" else walked(H, w, height, height - drop)
    rows.append({"id": f"walk-{at + 1}", "P": 0, "H": H, "height": height, "brace": brace, "drop": drop,
                 "w": w, "K_e": 1, "=H_b": base, "=M": greatest, "=V_up": above, "tol": 1e-6, "tk": "rel",
                 "source": "oracle/wind_on_post.py, shear and moment by steps", "kind": "independent"})
write("post-moment--walked.csv", ["Wind on a post with the shear or against it, the frame swaying: made by oracle/wind_on_post.py; do not edit."],
      ["P [lbf]", "H [lbf]", "height [ft]", "brace", "drop [ft]", "w [lbf/ft]", "K_e"], ["H_b [lbf]", "M [lbf ft]", "V_up [lbf]"], rows)
