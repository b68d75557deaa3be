"""The post of a whole job: column, bending, net sections, by NDS 2018 3.3 to 3.9, without the sheets' closed forms where there is another
way: moments walked up the post, the stability factors as roots of Ylinen's equation, cut sections put together from cells. It
writes nothing itself."""
import math
import numpy as np
import brace_foot


def ylinen(alpha, c):
    """C_P or C_L: the smaller root of c C^2 - (1 + alpha) C + alpha = 0."""
    return min(np.roots([c, -(1 + alpha), alpha]).real) if c < 1 else min(1, alpha)


class Way:
    """One direction of the post in one combination: shear on the base and at most, moment at most and at the base."""
    def __init__(self, H, w, height, brace, drop):
        sways = brace in ("none", "knee braces", "rigid frame")
        if sways:
            free = height - drop if brace == "knee braces" else height
            self.H_b = H + w * height
            z = np.linspace(0, free, 4001)
            # From a hinge up; a cantilever from its top down.
            walk = H * z + w * z**2 / 2 if brace == "none" else self.H_b * z - w * z**2 / 2
            self.M, end = np.abs(walk).max(), walk[-1]
            self.M_base = abs(end) if brace == "none" else 0.0
            # Above the brace foot the moment falls to nothing at the beam; the wind adds at the beam or at the brace.
            up = abs(end) / drop + abs(w) * drop / 2 if brace == "knee braces" else 0.0
        else:
            self.H_b = H + math.copysign(abs(w) * height / 2, H)
            self.M, self.M_base, up = abs(w) * height**2 / 8, 0.0, 0.0
        # Common practice, on the safe side: all of the wind is added.
        self.V = max(abs(H) + abs(w) * height, up)


def effective_length(height, brace, drop, K_e=1.0):
    """App. G: 2.1 for a cantilever, 2.4 for a hinge under a top that sways, from the hinge to the brace foot, at least two thirds of the height."""
    return max({"none": 2.1 * height, "knee braces": max(2.4, K_e) * max(height - drop, height * 2 / 3), "rigid frame": max(2.4, K_e) * height}.get(brace, 0), K_e * height)


class Post:
    """`limits(lim, combination, P, x, y, A_n)` takes every limit of the post in one ASD combination; `x` and `y` are Ways."""
    def __init__(self, mark, b, d, height, v, brace, drop, faces=(0, 0), mortise=(0, 0, 0), net=(0.002, "")):
        """`v`: strengths with all factors but C_D, C_P and C_L; `brace`: along x and y; `faces` with braces; mortise width, depth, housing;
        `net`: tolerance of the net section at the base, and why."""
        self.mark, self.b, self.d, self.height, self.v, self.drop = mark, b, d, height, v, drop
        self.l = [effective_length(height, way, drop) for way in brace]
        self.knee, self.net = "knee braces" in brace, net
        if self.knee:
            self.cut = brace_foot.section(brace_foot.wood(b, d, *faces, *mortise))
            self.width = brace_foot.widths(b, d, *faces, *mortise), brace_foot.widths(d, b, *faces[::-1], *mortise)

    def limits(self, lim, k, P, x, y, A_n):
        b, d, v, C_D = self.b, self.d, self.v, k.C_D
        take = lambda sheet, words, ratio, *how: lim.take(self.mark, sheet, words, ratio, k, *how)
        slender = self.l[0] / b, self.l[1] / d
        take("column", "slenderness of the post", max(slender) / 50)
        euler = lambda s: 0.822 * v["E_min"] / s**2
        star = v["F_c"] * C_D
        F_c = star * ylinen(euler(max(slender)) / star, 0.8)
        C = max(P, 0) / (b * d)
        take("column", "compression of the post as a column", C / F_c)
        take("post-section", "compression on the net section", max(P, 0) / A_n / star, *self.net)
        take("post-section", "shear of the post", 1.5 * math.hypot(x.V, y.V) / (b * d) / (v["F_v"] * C_D))

        # Bending: 1 about the axis of the larger side
        (d1, s1, M1), (d2, s2, M2) = ((d, slender[1], y.M), (b, slender[0], x.M)) if d >= b else ((b, slender[0], x.M), (d, slender[1], y.M))
        l_u = self.height
        l_e = 2.06 * l_u if l_u < 7 * d1 else 1.63 * l_u + 3 * d1 if l_u <= 14.3 * d1 else 1.84 * l_u  # Table 3.3.3, any loading
        R_B = math.sqrt(l_e * d1 / d2**2)
        take("bending", "slenderness of the post for bending", R_B / 50)
        F_bE, F_b = 1.2 * v["E_min"] / R_B**2, v["F_b"] * C_D
        F_b1 = F_b * (ylinen(F_bE / F_b, 0.95) if d1 > d2 else 1.0)
        f1, f2 = M1 * d1 / 2 / (d2 * d1**3 / 12), M2 * d2 / 2 / (d1 * d2**3 / 12)
        if P >= 0:
            take("bending", "compression against buckling in the direction of d", C / euler(s1))
            side = C / euler(s2) + (f1 / F_bE) ** 2
            take("bending", "bending and compression against lateral buckling", side)
            take("bending", "bending and compression together", (C / F_c) ** 2 + f1 / F_b1 / (1 - C / euler(s1)) + f2 / F_b / (1 - side))
        else:
            T = -P / (b * d)
            take("bending", "bending and tension together", T / (v["F_t"] * C_D) + f1 / F_b + f2 / F_b)
            take("bending", "bending, less tension", max(0, f1 - T) / F_b1 + f2 / F_b)

        if not self.knee: return
        # At the brace foot: the load acts in the middle of the whole post, off the centroid of what is left.
        area, cx, cy = self.cut[:3]
        bent = lambda mx, my: brace_foot.stress(self.cut, mx, my)
        M = x.M + abs(P * cx), y.M + abs(P * cy)
        if P >= 0:
            # Moments along x and y are raised each by its own buckling: two stresses of the same corner.
            f = bent(M[0] / (1 - C / euler(slender[0])), M[1] / (1 - C / euler(slender[1])))
            take("brace-foot", "bending and compression at the brace foot", (P / area / star) ** 2 + f / F_b)
        else:
            take("brace-foot", "bending and tension at the brace foot", -P / area / (v["F_t"] * C_D) + bent(*M) / F_b)
        ratio = []
        for (depth, beside, between), side, V in zip(self.width, (b, d), (x.V, y.V)):
            allowed = 2 / 3 * v["F_v"] * C_D * depth * min(beside * (depth / side) ** 2, between)
            ratio.append(V / allowed)
        take("brace-foot", "shear at the brace foot", math.hypot(*ratio))
