"""Shear of posts of unlike height in one line, beam and braces stiff, one section throughout.

A knee-braced post is a beam on two supports, the brace foot and the beam, with the foot of the post as an overhang.
Its deflection under a unit load is got by summing M * m / EI over thin slices, and the load is shared by stiffness.
The tallest of the other posts stands for all of them, as the sheet has it; with two posts that is exact."""

from csvout import OUT

HEAD = "id,H [lbf],W_p [lbf],W_1 [lbf],toward,h [ft],h_tall [ft],n,L [ft],at,brace,a [ft],b [ft],expect V [lbf],tolerance,tolerance_kind,source,kind,note"
SLICES = 20000


def gives_way(h, a):
    """Deflection of the base under a unit load there, EI = 1."""
    run, total = h - a, 0.0
    for part, rise in ((run, 1.0), (a, run / a if a else 0.0)):
        step = part / SLICES
        for at in range(SLICES):
            m = (at + 0.5) * step * rise
            total += m * m * step
    return total


lines = ["# Shear of a post beside taller ones: made by oracle/unlike_posts.py, which says how; do not edit.", HEAD]
rows = [("knee braces", 9, 13, 2, "first", 2.5), ("knee braces", 9, 13, 3, "inner", 2.5), ("knee braces", 8, 9, 4, "last", 3),
        ("rigid frame", 8, 12, 2, "first", 0.001), ("none", 8, 12, 3, "first", 0.001), ("knee braces", 10, 10, 3, "inner", 2.5)]
for at, (brace, h, tall, n, place, a) in enumerate(rows, 1):
    braced = brace != "none"
    k = 2 if braced and place == "inner" else 1
    whole = 2 * (n - 1) if braced else n
    own, other = k / gives_way(h, a), (whole - k) / gives_way(tall, a)
    shear = 1000 * own / (own + other)
    lines.append(f"unlike-{at},1000,0,0,plus,{h},{tall},{n},16,{place},{brace},{a},3,{shear:.6g},1e-3,rel,"
                 "\"oracle/unlike_posts.py, unit load\",independent,")
(OUT / "bent-share--unlike-posts.csv").write_text("\n".join(lines) + "\n")
