"""Frames of a line of posts, each step of the sheets held to the line as a whole: its base shears are the unknowns of one system of equations.

A brace before post i causes a base shear s_i there, one after it u_i. Each brace closes: beam and posts give way as far as the load on the
beam opens the brace, with the line swayed by y. What the sheets know of all before a post is a part of the same equations, turned
into one flexibility, one opening under load and one for a unit sway. Inches and pounds; beams by integrals of their moments."""
import math
import numpy as np

from csvout import write

GAUSS = np.polynomial.legendre.leggauss(6)


def integral(f, places):
    return sum((q - p) / 2 * sum(w * f((p + q) / 2 + (q - p) / 2 * x) for x, w in zip(*GAUSS)) for p, q in zip(places, places[1:]))


def bay(q, L, h_1, h_2, b, EI):
    """A unit base shear lifts the beam with h/b at b from its post: moments of simple beams."""
    lift = lambda z, at: (z * (L - at) if z < at else at * (L - z)) / L
    places = [0, b, L - b, L]
    one = lambda z: h_1 / b * lift(z, b); two = lambda z: h_2 / b * lift(z, L - b); load = lambda z: q * z * (L - z) / 2
    over = lambda f, g: integral(lambda z: f(z) * g(z), places) / EI
    return {"alpha": over(one, one), "beta": over(two, two), "gamma": over(one, two), "d_1": over(one, load), "d_2": over(two, load)}


class Line:
    """posts: (h, EI in the line's plane, load on the beam at the post); bays: spans."""
    def __init__(self, posts, spans, a, b, EI_b):
        self.n, self.posts, self.spans, self.a, self.b = len(posts), posts, spans, a, b
        self.p = [integral(lambda z: min(z, (h - a) / a * (h - z)) ** 2, [0, h - a, h]) / EI for h, EI, _ in posts]
        self.bays = [bay((posts[i][2] + posts[i + 1][2]) / 2, spans[i], posts[i][0], posts[i + 1][0], b, EI_b) for i in range(self.n - 1)]
        size = 2 * (self.n - 1)
        self.M, self.g, self.e = np.zeros((size, size)), np.zeros(size), np.zeros(size)
        for i, k in enumerate(self.bays):
            u, s = 2 * i, 2 * i + 1
            self.M[u, u] += k["alpha"] + self.p[i]; self.M[s, s] += k["beta"] + self.p[i + 1]; self.M[u, s] = self.M[s, u] = k["gamma"]
            self.g[u], self.g[s], self.e[u], self.e[s] = k["d_1"], k["d_2"], -1, 1
            if i: self.M[u, u - 1] = self.M[u - 1, u] = -self.p[i]
        self.under, self.swayed = np.linalg.solve(self.M, self.g), np.linalg.solve(self.M, self.e)

    def before(self, i, after):
        """Of all that is before post i, seen at the brace that ends there, or with the post itself at the brace after it:
        flexibility, opening under load, opening for a unit sway."""
        if not after and i == 0: return None
        size = 2 * i + 1 if after else 2 * i
        M, g, e = self.M[:size, :size].copy(), self.g[:size].copy(), self.e[:size].copy()
        if after and i == self.n - 1:
            # After the last post there is no brace: one that would only be held by the post.
            M, g, e = np.pad(M, (0, 1)), np.append(g, 0.0), np.append(e, -1.0); M[-1, -2] = M[-2, -1] = -self.p[i]
        if after: M[-1, -1] = self.p[i]; g[-1] = 0.0
        else: M[-1, -1] -= self.p[i]; e[-1] = 0.0
        k = 1 / np.linalg.inv(M)[-1, -1]
        return k, k * np.linalg.solve(M, g)[-1], k * np.linalg.solve(M, e)[-1]

    def shears(self, i, of):
        """s, u of post i."""
        return (of[2 * i - 1] if i else 0.0), (of[2 * i] if i < self.n - 1 else 0.0)


PLACES = lambda n: ["only"] if n == 1 else ["first"] + ["inner"] * (n - 2) + ["last"]
KNEE = "knee braces"


def stiffness(h, EI, at, brace):
    return (2 if at == "inner" and brace == "rigid frame" else 1) * EI / integral(lambda z: z**2, [0, h])


def of_post(line, i, E_p, I_p, E_b, I_b, brace=KNEE):
    n, at = line.n, PLACES(line.n)[i]; h = [q[0] for q in line.posts]; q = [k[2] for k in line.posts]
    return {"brace": brace, "at": at, "bay_0": line.spans[i - 1] / 12 if i else 0.0, "bay": line.spans[i] / 12 if i < n - 1 else 0.0, "h": h[i] / 12, "h_0": h[i - 1] / 12 if i else 0.0, "h_2": h[i + 1] / 12 if i < n - 1 else 0.0,
            "a": line.a / 12, "b": line.b / 12, "E_p": E_p[i], "I_p": I_p[i], "E_b": E_b, "I_b": I_b, "q_1": q[i] * 12, "q_2": q[i + 1] * 12 if i < n - 1 else 0.0}


def lines():
    E_p, I_p, E_b, I_b = [1.6e6, 1.3e6, 1.5e6, 1.2e6], [420.0, 530.0, 310.0, 610.0], 1.4e6, 870.0
    posts = [(111.0, E_p[0] * I_p[0], 31.0), (117.0, E_p[1] * I_p[1], 44.0), (108.0, E_p[2] * I_p[2], -13.0), (123.0, E_p[3] * I_p[3], 26.0)]
    return E_p, I_p, E_b, I_b, posts, [162.0, 186.0, 138.0], 30.0, 26.0


def from_start():
    E_p, I_p, E_b, I_b, posts, spans, a, b = lines(); found = []
    line = Line(posts, spans, a, b, E_b * I_b)
    for i in range(4):
        at, p = PLACES(4)[i], line.p[i]
        k0, g0, e0 = line.before(i, False) or (0.0, 0.0, 0.0)
        ku, gu, eu = line.before(i, True)
        k, g, e = line.before(i + 1, False) if i < 3 else (0.0, 0.0, 0.0)
        found.append({"id": f"post-{i + 1}", **of_post(line, i, E_p, I_p, E_b, I_b), "k_0": k0, "g_0": g0, "e_0": e0, "=p": p, "=k_u": ku, "=g_u": gu, "=e_u": eu, "=k": k, "=g": g, "=e": e, "=c": 0.0,
                      "=bays": 2 if at == "inner" else 1, "=lifts": 1 if posts[i][2] < 0 else 0, "=c_0": 1 / (p + line.bays[i - 1]["beta"]) if i else 0.0, "=c_2": 1 / (p + line.bays[i]["alpha"]) if i < 3 else 0.0})
    for brace, at in (("none", "inner"), ("rigid frame", "inner"), ("rigid frame", "last"), ("shear walls", "first"), (KNEE, "only"), ("none", "only")):
        i = PLACES(4).index(at) if at != "only" else 1
        c = {**of_post(line, i, E_p, I_p, E_b, I_b, brace), "at": at, "k_0": 1e-4, "g_0": 0.3, "e_0": 0.2}
        if brace == "none": c["q_1"] = 0.0
        found.append({"id": f"{brace}-{at}", **c, **{f"={k}": 0.0 for k in "p k_u g_u e_u k g e c_0 c_2".split()}, "=c": stiffness(posts[i][0], posts[i][1], at, brace), "=bays": {"only": 0, "inner": 2}.get(at, 1), "=lifts": 1 if c["q_1"] < 0 else 0})
    low = {**of_post(line, 0, E_p, I_p, E_b, I_b), "k_0": 0.0, "g_0": 0.0, "e_0": 0.0}
    found.append({"id": "foot-at-the-base", **low, "a": 9.25, "=refused": "the foot of the brace is at or below the base"})
    found.append({"id": "foot-below-the-base", **low, "a": 9.5, "=refused": "the foot of the brace is at or below the base"})
    return found


def from_end():
    E_p, I_p, E_b, I_b, posts, spans, a, b = lines(); found = []
    line = Line(posts, spans, a, b, E_b * I_b)
    keep = "brace at bay h h_2 b E_b I_b q_1 q_2".split()
    for i in range(4):
        c = of_post(line, i, E_p, I_p, E_b, I_b)
        (k0, g0, e0), (ku, gu, eu) = line.before(i, False) or (0.0, 0.0, 0.0), line.before(i, True)
        after = [line.shears(i + 1, of)[0] if i < 3 else 0.0 for of in (line.under, line.swayed)]
        (sg, ug), (se, ue) = line.shears(i, line.under), line.shears(i, line.swayed)
        found.append({"id": f"post-{i + 1}", **{k: c[k] for k in keep}, "p": line.p[i], "k_u": ku, "g_u": gu, "e_u": eu, "k_0": k0, "g_0": g0, "e_0": e0, "r_g": after[0], "r_e": after[1],
                      "=s_g": sg, "=s_e": se, "=u_g": ug, "=u_e": ue, "=V_g": sg - ug, "=V_e": se - ue})
    for brace, at in (("rigid frame", "inner"), ("none", "last"), (KNEE, "only"), ("other", "first")):
        c = of_post(line, 1, E_p, I_p, E_b, I_b, brace)
        found.append({"id": f"{brace}-{at}", **{k: c[k] for k in keep}, "at": at, "p": 1e-4, "k_u": 2e-4, "g_u": 0.1, "e_u": -0.4, "k_0": 3e-4, "g_0": 0.2, "e_0": 0.3, "r_g": 110.0, "r_e": 30.0, **{f"={k}": 0.0 for k in "s_g s_e u_g u_e V_g V_e".split()}})
    return found


def share(id, line, i, brace=KNEE, braces="push and pull", F=1400.0, F_least=900.0, winds=(130.0, 95.0, -60.0, 115.0), lifts=0, over=4.0, P_roof=9000.0, c=None, refused=None, n=None):
    """What frame-share is given of a line that was solved whole, and what the line comes to."""
    h = [post[0] for post in line.posts]; m = n or line.n; at = PLACES(m)[i]; last = i == m - 1
    sg, ug = zip(*(line.shears(k, line.under) for k in range(line.n))); se, ue = zip(*(line.shears(k, line.swayed) for k in range(line.n)))
    c_0 = [1 / (line.p[k] + line.bays[k - 1]["beta"]) if k else 0.0 for k in range(line.n)]; c_2 = [1 / (line.p[k] + line.bays[k]["alpha"]) if k < line.n - 1 else 0.0 for k in range(line.n)]
    c = c or [stiffness(h[k], line.posts[k][1], PLACES(m)[k], brace) for k in range(m)]
    bays = [0.0] if m == 1 else [1.0 if place in ("first", "last") else 2.0 for place in PLACES(m)]
    here = lambda v, k: v[k] if 0 <= k < m else 0.0
    W = sum(winds[:m])
    row = {"id": id, "brace": brace, "braces": braces, "at": at, "n": m, "bay_0": line.spans[i - 1] / 12 if i else 0.0, "bay": 0.0 if last else line.spans[i] / 12, "h": h[i] / 12, "h_0": here(h, i - 1) / 12, "h_2": here(h, i + 1) / 12,
           "a": line.a / 12, "F": F, "F_least": F_least, "W": W, "W_1": winds[i], "lifts": lifts, "V_g": sum(sg) - sum(ug), "V_e": sum(se) - sum(ue),
           "s_g": sg[i], "s_e": se[i], "u_g": ug[i], "u_e": ue[i], "t_g": here(ug, i - 1), "t_e": here(ue, i - 1), "r_g": here(sg, i + 1), "r_e": here(se, i + 1),
           "c": c[i], "c_m": here(c, i - 1), "c_n": here(c, i + 1), "bays": bays[i], "bays_m": here(bays, i - 1), "bays_n": here(bays, i + 1), "c_sum": sum(c),
           "c_0": c_0[i], "c_2": c_2[i], "c_b": here(c_2, i - 1), "c_a": here(c_0, i + 1), "c_0sum": sum(c_0), "c_2sum": sum(c_2), "over": over, "P_roof": P_roof}
    if refused: return row | {"=refused": refused}
    H = F if abs(F) >= abs(F_least) else F_least
    # Shears of all posts, from the brace before and after each.
    if brace == KNEE and m > 1:
        total = H + W / 2
        if braces == "push and pull":
            # One system for the shears and the sway that brings their sum to the load.
            size = len(line.g); border = np.array([-1.0 if k % 2 == 0 else 1.0 for k in range(size)])
            M = np.block([[line.M, -line.e[:, None]], [border[None, :], np.zeros((1, 1))]])
            found = np.linalg.solve(M, np.append(line.g, total))
            s, u = zip(*(line.shears(k, found) for k in range(line.n)))
        else:
            # Pressed down, the braces hold each other without a load along the line; a load along it goes to one brace of each bay, those that it pushes.
            size = len(line.g); border = np.array([-1.0 if k % 2 == 0 else 1.0 for k in range(size)])
            rest = np.linalg.solve(np.block([[line.M, -line.e[:, None]], [border[None, :], np.zeros((1, 1))]]), np.append(line.g, 0.0)) if lifts == 0 else np.zeros(size + 1)
            s, u = (list(v) for v in zip(*(line.shears(k, rest) for k in range(line.n))))
            push, stiff = (s, c_0) if total >= 0 else (u, c_2)
            for k in range(line.n): push[k] += abs(total) * stiff[k] / sum(stiff)
        V = s[i] - u[i] - winds[i] / 2
        X = [force * h[i] / line.a for force in (s[i], u[i])]
    else:
        frame = brace == "rigid frame" and m > 1
        shear = [(H + (W / 2 if frame else 0)) * k / sum(c) for k in c]
        V = shear[i] - (winds[i] / 2 if frame else 0.0); X = [0.0, 0.0]
        s = [shear[k] / bays[k] if frame and k else 0.0 for k in range(m)]; u = [-shear[k] / bays[k] if frame and k < m - 1 else 0.0 for k in range(m)]
    # A bay is turned over by what its two posts bring to it, each at its height.
    couple = lambda k: (s[k + 1] * h[k + 1] - u[k] * h[k]) / line.spans[k]
    T_1, T_2 = (couple(i - 1) if i else 0.0), (couple(i) if not last else 0.0)
    return row | {"=H": H, "=V": V, "=P": T_1 - T_2, "=T_1": T_1, "=T_2": T_2, "=X_1": X[0], "=X_2": X[1], "=P_over": over, "=v_1": s[i], "=v_2": u[i], "=v_m": here(u, i - 1), "=v_n": here(s, i + 1)}


def shares():
    E_p, I_p, E_b, I_b, posts, spans, a, b = lines(); line = Line(posts, spans, a, b, E_b * I_b); two = Line(posts[:2], spans[:1], a, b, E_b * I_b)
    found = [share(f"push-and-pull-{i + 1}", line, i) for i in range(4)] + [share(f"of-two-{i + 1}", two, i, F=-1300.0) for i in (0, 1)]
    found += [share(f"{name}-{i + 1}", line, i, braces="push only", **how) for name, how in (("push", dict()), ("back", dict(F=-1500.0)), ("lifted", dict(lifts=1)), ("lifted-more", dict(lifts=3, F=-1100.0)), ("least-back", dict(F=400.0, F_least=-950.0))) for i in range(4)]
    found += [share(f"{brace.split()[0]}-{i + 1}", line, i, brace=brace, F=1250.0) for brace in ("rigid frame", "none") for i in range(4)]
    found += [share(f"rigid-of-two-{i + 1}", two, i, brace="rigid frame") for i in (0, 1)]
    found += [share(f"only-{brace.split()[0]}", line, 0, brace=brace, n=1) for brace in (KNEE, "none", "rigid frame")]
    still = dict(F=0.0, F_least=0.0)
    found += [share(f"{brace.split()[0]}-still", line, 1, brace=brace, **still) for brace in ("shear walls", "other")]
    walls = "walls and other bracing attract the load"
    found += [share(f"{brace.split()[0]}-pushed-{F:g}", line, 1, brace=brace, F=F, F_least=0.0, refused=walls) for brace, F in (("shear walls", 90.0), ("other", -90.0), ("shear walls", 5.0))]
    found += [share("equal-to-least", line, 1, F=-900.0), share("below-least", line, 2, F=500.0, F_least=-900.0)]
    found += [share("over-a-hundredth", line, 1, over=-91.0, refused="the beam delivers the whole roof"), share("over-less", line, 1, over=95.0, refused="the beam delivers the whole roof"), share("over-within", line, 2, over=-89.0, P_roof=-9000.0),
              share("over-lifted", line, 2, over=89.9, P_roof=-9000.0)]
    return found


def flexibilities():
    found = []
    for q, L, h_1, h_2, b, E, I in ((31.0, 13.5, 9.25, 9.75, 2.25, 1.4e6, 870.0), (-17.0, 16.0, 10.5, 8.5, 3.0, 1.6e6, 640.0), (22.0, 6.0, 9.0, 9.5, 3.0, 1.3e6, 320.0)):
        k = bay(q / 12, L * 12, h_1 * 12, h_2 * 12, b * 12, E * I)
        found.append({"id": f"{L:g}-{b:g}", "q": q, "L": L, "h_1": h_1, "h_2": h_2, "b": b, "E_b": E, "I_b": I, **{f"={name}": value for name, value in k.items()}, "=u": b * (L - b)})
    return found + [{"id": "overlapping", "q": 22.0, "L": 5.9, "h_1": 9.0, "h_2": 9.5, "b": 3.0, "E_b": 1.3e6, "I_b": 320.0, "=refused": "the braces of a bay overlap"}]


UNITS = {"ft": "bay_0 bay h h_0 h_2 a b L h_1", "psi": "E_p E_b", "in^4": "I_p I_b", "lbf/ft": "q_1 q_2 q", "in/lbf": "k_0 p k_u k alpha beta gamma", "in": "g_0 g_u g d_1 d_2",
         "lbf": "F F_least W W_1 V_g s_g u_g t_g r_g over P_roof H V P X_1 X_2 T_1 T_2 P_over v_1 v_2 v_m v_n", "lbf/in": "V_e s_e u_e t_e r_e c c_m c_n c_sum c_0 c_2 c_b c_a c_0sum c_2sum", "ft^2": "u"}
UNIT = {name: f" [{unit}]" for unit, names in UNITS.items() for name in names.split()}


def put(name, about, what, cases):
    given, expects = [], []
    for case in cases:
        for k in case:
            if k != "id" and k not in given + expects: (expects if k[0] == "=" else given).append(k)
    rows = [dict({k: repr(float(v)) if isinstance(v, float) else v for k, v in case.items()}, tol=1e-8, source=f"oracle/lines_of_frames.py: {what}", kind="independent") for case in cases]
    # What is nothing in one way of working is next to nothing in the other.
    for row in rows:
        for k in [k for k in row if k[0] == "=" and row[k] == "-0.0"]: row[k] = "0.0"
    write(name, [f"{about} (oracle/lines_of_frames.py)."], [k + UNIT.get(k, "") for k in given], [k[1:] + UNIT.get(k[1:], "") for k in expects], rows)


def main():
    put("bay-flexibility--integrals.csv", "The beam of a braced bay, by integrals of its moments", "unit loads on a simple beam, integrated", flexibilities())
    put("frame-from-start--equations.csv", "Post by post from the first: flexibilities and openings of a line of unlike posts and bays, from the equations of the whole", "a part of the equations of the whole line, solved", from_start())
    put("frame-from-end--equations.csv", "Post by post from the last: base shears of a line of unlike posts and bays, from the equations of the whole", "the equations of the whole line, solved at once", from_end())
    put("frame-share--equations.csv", "Forces in a line of unlike posts and bays under a load along it: the whole line solved with its sway, and each bay in equilibrium", "the equations of the whole line with its sway, solved at once", shares())


if __name__ == "__main__": main()
