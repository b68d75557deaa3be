"""How strong the plates really are, by plastic limit analysis: the plate is cut into triangles that fold along their edges;
the pattern of folds with the least work is found by linear programming (an upper bound that falls as the mesh gets finer).
Compared with the fold lines of `seat` (even pressure, fold at the core) and `anchor-plate` (45 degree spread from an anchor).
A ratio of 1 or more says that the sheet's rule is on the safe side."""
import numpy as np
from scipy.optimize import linprog
from scipy.sparse import lil_matrix, hstack, vstack, csr_matrix, identity

def mesh(b, d, h):
    nx, ny = int(round(b / h)), int(round(d / h))
    P = [(-b / 2 + i * h, -d / 2 + j * h) for j in range(ny + 1) for i in range(nx + 1)]; T = []
    base = len(P)
    for j in range(ny):
        for i in range(nx):
            a = j * (nx + 1) + i; c = len(P); P.append((-b / 2 + (i + .5) * h, -d / 2 + (j + .5) * h))
            q = [a, a + 1, a + nx + 2, a + nx + 1]
            T += [(q[k], q[(k + 1) % 4], c) for k in range(4)]
    return np.array(P), T

def collapse(b, d, h, held, load):
    """least load factor; held(x, y) nodes stay, load: array of nodal forces (down positive)"""
    P, T = mesh(b, d, h); n = len(P); edge = {}
    for t in T:
        for k in range(3): edge.setdefault(tuple(sorted((t[k], t[(k + 1) % 3]))), []).append((t, t[(k + 2) % 3]))
    E = [(e, v) for e, v in edge.items() if len(v) == 2]
    R = lil_matrix((len(E), n)); L = np.zeros(len(E))
    for r, ((i, j), sides) in enumerate(E):
        a, c = P[i], P[j]; L[r] = np.hypot(*(c - a)); u = (c - a) / L[r]
        for (t, k) in sides:
            p = P[k]; s = (p - a) @ u; dist = abs((p - a)[0] * u[1] - (p - a)[1] * u[0])
            R[r, k] += 1 / dist; R[r, i] -= (1 - s / L[r]) / dist; R[r, j] -= s / L[r] / dist
    R = csr_matrix(R); m = len(E); F = load(P, T)
    free = np.array([not held(*p) for p in P])
    Rf = R[:, free]; nf = free.sum()
    # variables: w (free), theta+, theta-
    A = vstack([hstack([Rf, -identity(m), identity(m)]), hstack([csr_matrix(F[free][None, :]), csr_matrix((1, 2 * m))])])
    c = np.concatenate([np.zeros(nf), L, L])
    r = linprog(c, A_eq=A, b_eq=np.concatenate([np.zeros(m), [1]]), bounds=[(None, None)] * nf + [(0, None)] * (2 * m), method='highs')
    return r.fun

def even(P, T):
    F = np.zeros(len(P))
    for t in T:
        a, b_, c = P[list(t)]; A = abs((b_ - a)[0] * (c - a)[1] - (b_ - a)[1] * (c - a)[0]) / 2
        for k in t: F[k] += A / 3
    return F
def at(points):
    def f(P, T):
        F = np.zeros(len(P))
        for q in points: F[np.argmin(np.hypot(P[:, 0] - q[0], P[:, 1] - q[1]))] += 1
        return F
    return f

if __name__ == '__main__':
    for name, b, d, cb, cd in (('6x6 on a blade line 4', 6, 6, 4, 0), ('6x6 on a core 2x2', 6, 6, 2, 2), ('8x6 on 6x1', 8, 6, 6, 1), ('6x6 on a core 1x1', 6, 6, 1, 1)):
        for h in (0.5, 0.25):
            q = collapse(b, d, h, lambda x, y: abs(x) <= cb / 2 + 1e-9 and abs(y) <= cd / 2 + 1e-9, even)
            o = max((b - cb) / 2, (d - cd) / 2)
            print('even', name, h, 'q', round(q, 4), 'rule', round(2 / o ** 2, 4), 'ratio', round(q * o * o / 2, 3))
    for name, b, d, cb, cd, pts, k in (('two across, blade 4', 6, 6, 4, 0, [(0, 2), (0, -2)], .5), ('two across, 2.5x6', 3, 6, 3, 0, [(0, 2), (0, -2)], 2 / 3),
        ('two along, blade 4 in 8', 8, 4, 4, 0, [(3, 0), (-3, 0)], .5), ('four beside blade', 6, 6, 4, 0, [(1.5, 2), (-1.5, 2), (1.5, -2), (-1.5, -2)], 2 / (1.5 + 1.5)),
        ('four at corners of core 2x2', 6, 6, 2, 2, [(2, 2), (-2, 2), (2, -2), (-2, -2)], max(2 / (1 + 2), 2 * 1 / min(2, 6))),
        ('four beyond the blade 3', 7, 6, 3, 0, [(2.5, 2), (-2.5, 2), (2.5, -2), (-2.5, -2)], max(2 / (1 + 2), 2 * 1 / min(2, 6)))):
        for h in (0.5, 0.25):
            N = collapse(b, d, h, lambda x, y: abs(x) <= cb / 2 + 1e-9 and abs(y) <= cd / 2 + 1e-9, at(pts))
            print('anchors', name, h, 'N', round(N, 4), 'rule', round(1 / k, 4), 'ratio', round(N * k, 3))
