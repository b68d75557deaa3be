"""What a made base stands on, by AISC 360-16 in ASD: a pipe between two plates, its welds, the plate on the concrete and the pull on four
anchors. Sections are summed over strips, welds are rows of springs under a stiff bar. It writes nothing itself."""
import math
import numpy as np
from anchors import contact, pattern
from whole_job import table

E = 29e6
thick = lambda m, F_y: math.sqrt(4 * 1.67 * m / F_y)  # plate for a moment on an inch: F_y Z / 1.67


def steel(name, form):
    r = table("steel-grades", steel=name, form=form)
    return r["F_y"], r["F_u"]


def together(p, *m):
    """H1-1a and b."""
    return p + 8 / 9 * sum(m) if p >= 0.2 else p / 2 + sum(m)


class Weld:
    """Fillet welds along both faces of a bar (`held`, `apart`: the stretches that what is below holds), or all round a ring."""
    def __init__(self, shape, x, t, t_p, F_u, F_up, a, held=None, apart=0.0):
        if shape == "bar":
            l = held or x - 2 * a
            row = np.linspace(-l / 2, l / 2, 2001); part = np.full(2001, l / 2000); part[[0, -1]] /= 2
            # Simpson: exact for what is linear or square along the weld
            part = np.where(np.arange(2001) % 2, 4.0, 2.0); part[[0, -1]] = 1.0; part *= l / 2000 / 3
            at = [(m + row, s * t / 2) for s in (1, -1) for m in ((-apart / 2, apart / 2) if apart else (0,))]
            X = np.concatenate([r for r, _ in at]); Y = np.concatenate([np.full(2001, y) for _, y in at]); part = np.tile(part, len(at))
            steel = 0.6 * F_u * t / 2 / 2
        else:
            turn = np.arange(3600) / 3600 * 2 * math.pi
            X, Y, part = x / 2 * np.cos(turn), x / 2 * np.sin(turn), np.full(3600, math.pi * x / 3600)
            steel = 0.6 * F_u * (0.93 * t if shape == "pipe" else a) / 2
        # Normal springs hold pull and moments; the shears are even, for the pieces are stiff.
        self.X, self.Y, self.length = X, Y, part.sum()
        self.I = np.array([[np.sum(part * X * X), np.sum(part * X * Y)], [np.sum(part * X * Y), np.sum(part * Y * Y)]])
        self.least = next(r["a_min"] for r in table("fillet-minimum") if (lambda lo, hi: lo <= min(t, t_p) <= hi)(*map(float, str(r["t"]).split("..")))) / a
        self.metal, self.beside = 0.6 * 70e3 * 0.707 * a / 2, min(steel, 0.6 * F_up * t_p / 2)
    def limits(self, take, sheet, T, V, H, M_x, M_y, local=0.0):
        p, q = np.linalg.solve(self.I, [M_x, M_y])
        f = math.hypot(max(np.max(T / self.length + p * self.X + q * self.Y), local), math.hypot(V, H) / self.length)
        take(sheet, "minimum leg of the weld", self.least)
        take(sheet, "weld metal", f / self.metal)
        take(sheet, "steel beside the welds", f / self.beside)


class Stand:
    """Seat plate, pipe, plate on the concrete with four anchors. Along the plane of the blade or side plates, and normal to it."""
    def __init__(self, base, plane):
        across = "yx"["xy".index(plane)]
        side = {"x": "width", "y": "depth"}
        self.base, self.plane = base, plane
        self.seat = [base[f"seat_{side[w]}"] for w in (plane, across)]
        self.foot = [base[f"foot_{side[w]}"] for w in (plane, across)]
        self.a = [base[f"anchor_s_{w}"] / 2 for w in (plane, across)]
        assert base["leg_shape"] == "pipe" and base["anchors_x"] == base["anchors_y"] == 2
        self.F_y, self.F_u = steel(base["steel"], "plate")
        self.F_yl, self.F_ul = steel(base["leg_steel"], "pipe")
        x, t = base["leg"], 0.93 * base["leg_thick"]
        self.tall = base["standoff"] - base["seat_thick"] - base["foot_thick"]
        y = (np.arange(200000) + 0.5) / 200000 * x / 2
        wide = np.sqrt(x**2 / 4 - y**2) - np.sqrt(np.maximum((x / 2 - t) ** 2 - y**2, 0))
        self.A, self.I, self.Z = (4 * np.sum(wide * y**n) * x / 2 / 200000 for n in (0, 2, 1))
        slender = 2.1 * self.tall / math.sqrt(self.I / self.A)
        self.F_e = math.pi**2 * E / slender**2
        F_cr = self.F_yl if slender <= 25 else 0.658 ** (self.F_yl / self.F_e) * self.F_yl if self.F_yl <= 2.25 * self.F_e else 0.877 * self.F_e
        self.P_c = F_cr * self.A / 1.67
        ring = lambda t_p: Weld("pipe", x, base["leg_thick"], t_p, self.F_ul, self.F_u, base["weld"])
        self.welds = ring(base["seat_thick"]), ring(base["foot_thick"])
        self.core = 0.707 * x

    def pull(self, P, M):
        """On the anchor that has most, from statics each way, added, the smaller moment held by one anchor alone; and the pushes of the
        plate's two ends, each way."""
        T, C = max(0, -P), max(0, P)
        c = [(f + self.core) / 4 for f in self.foot]
        lever = [min(2 * a, a + r) for a, r in zip(self.a, c)]
        kept = [r / (2 * (r + a)) for a, r in zip(self.a, c)]
        share = kept[0] if M[1] <= 0 else kept[1] if M[0] <= 0 else min(kept)
        tips = [m / (2 * z) for m, z in zip(M, lever)]
        N = max(0, T / 4 + sum(tips) + min(tips) - share * C)
        push = [m / r if m <= C * r else (m + C * a) / (a + r) for m, a, r in zip(M, self.a, c)]
        return N, push

    def proved(self, P, M):
        """The same plate as a contact problem (anchors.py): no anchor pulls harder, nor all of them together."""
        N, c = self.pull(P, M)[0], [(f + self.core) / 4 for f in self.foot]
        pulls = contact(P, *M, pattern("four", *self.a), *c, bool(P > 0))[0]
        assert pulls.max() <= N * 1.002 + 1 and pulls.sum() <= 4 * N + 2, (P, M, pulls, N)

    def limits(self, take, P, V, H, y_hinge):
        b = self.base
        T, C = max(0, -P), max(0, P)
        y_leg = y_hinge + b["seat_thick"]; y_foot = y_leg + self.tall
        M_c, P_t = self.F_yl * self.Z / 1.67, self.F_yl * self.A / 1.67
        take("standoff", "download on the standoff", C / self.P_c)
        take("standoff", "shear of the standoff", math.hypot(V, H) / (0.6 * self.F_yl * self.A / 2 / 1.67))
        m = [V * y_foot / M_c, H * y_foot / M_c]
        if C > 0 or T == 0:
            raised = 1 / (1 - 1.6 * C / (self.F_e * self.A))
            take("standoff", "compression and bending of the standoff", together(C / self.P_c, *(raised * r for r in m)))
        if T > 0: take("standoff", "tension and bending of the standoff", together(T / P_t, *m))
        self.welds[0].limits(take, "leg-weld", T, V, H, V * y_leg, H * y_leg)
        M = [V * y_foot, H * y_foot]
        self.welds[1].limits(take, "foot-weld", T, V, H, *M)

        # The plate: pulled up, the force spreads at 45 degrees from an anchor to the fold, inside the plate and short of its neighbour's share
        self.proved(P, M)
        N, push = self.pull(P, M)
        up = []
        for k in (0, 1):
            arm = max(0, self.a[k] - self.core / 2)
            at, edge = self.a[1 - k], self.foot[1 - k] / 2
            width = min(at + arm, edge) - max(at - arm, 0)
            up.append(N * arm / width if arm else 0)
        q = C / (self.foot[0] * self.foot[1])
        reach = [max(0, (f - self.core) / 2) for f in self.foot]
        down = [q * r**2 / 2 + c * r / 2 / other for r, c, other in zip(reach, push, self.foot[::-1])]
        take("anchor-plate", "bending of the plate below the standoff", thick(max(*up, *down), self.F_y) / b["foot_thick"])
        return y_foot + b["foot_thick"]

    def anchors(self, P, V, H, y_hinge):
        """Tension on all four, each taken to pull like the one that has most."""
        y_foot = y_hinge + self.base["seat_thick"] + self.tall
        return 4 * self.pull(P, [V * y_foot, H * y_foot])[0]
