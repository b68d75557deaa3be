"""Sideways buckling of a post that is a hinge at its base and is held by a knee brace and a beam.

The beam and the brace are stiff and move sideways together; the post is continuous from hinge to beam and carries
P over its whole length. The stability equation of the two pieces is solved by halving. The beam gives way in truth,
which makes the post longer: the sheet is to stand a little above these lengths."""
from math import pi, tan

from csvout import OUT

HEAD = "id,P [lbf],H [lbf],height [ft],brace,drop [ft],w [lbf/ft],K_e,expect l_e [in],tolerance,tolerance_kind,source,kind,note"


def length(r):
    """Effective length over the height; r is the drop over the height."""
    def f(x):
        u = r * x
        return x * (1 - r) * tan(x * (1 - r)) - (1 - r) / r * u * u / (1 - u / tan(u))
    low, high = 0.1, min(pi / 2 / (1 - r), pi / r) - 1e-9
    for _ in range(200):
        mid = (low + high) / 2
        low, high = (mid, high) if f(mid) < 0 else (low, mid)
    return pi / low


lines = ["# A post under knee braces that sways: made by oracle/sway_post.py, which says how; do not edit.",
         "# The sheet takes a round factor on a round length, which is 3 to 8 percent on the safe side of a stiff beam.", HEAD]
for at, (height, r, tolerance) in enumerate([(9, 0.25, 0.085), (10, 0.3, 0.055), (12, 1 / 3, 0.03)], 1):
    lines.append(f"sway-{at},0,500,{height},knee braces,{height * r:.9g},0,1,{length(r) * height * 12:.6g},{tolerance},rel,"
                 "\"oracle/sway_post.py, stability equation\",independent,")
(OUT / "post-moment--sway.csv").write_text("\n".join(lines) + "\n")
