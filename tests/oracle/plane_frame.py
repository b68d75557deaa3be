"""A plane frame by the stiffness method, for any frame. It writes nothing itself."""
import numpy as np


class Frame:
    """Nodes that move along x and y, members that also turn at their ends: with the node, or by themselves at a hinge."""
    def __init__(self): self.at, self.dofs, self.members, self.loads = {}, {}, {}, {}
    def dof(self, *key): return self.dofs.setdefault(key, len(self.dofs))
    def node(self, name, x, y): self.at[name] = (x, y)
    def member(self, name, a, b, EA, EI, hinge_a=False, hinge_b=False, w=0.0):
        """`w`: load per length, across the member, to its right as one goes from `a` to `b`: down on a beam from left to right."""
        (xa, ya), (xb, yb) = self.at[a], self.at[b]; l = np.hypot(xb - xa, yb - ya); c, s = (xb - xa) / l, (yb - ya) / l
        turn = lambda end, hinge: self.dof(end, "turn", name) if hinge else self.dof(end, "turn")
        dofs = [self.dof(a, "x"), self.dof(a, "y"), turn(a, hinge_a), self.dof(b, "x"), self.dof(b, "y"), turn(b, hinge_b)]
        # along, across and turn at both ends
        T = np.zeros((6, 6))
        for k in (0, 3): T[k:k + 3, k:k + 3] = [[c, s, 0], [-s, c, 0], [0, 0, 1]]
        K = np.zeros((6, 6)); K[np.ix_([0, 3], [0, 3])] = EA / l * np.array([[1, -1], [-1, 1]])
        K[np.ix_([1, 2, 4, 5], [1, 2, 4, 5])] = EI / l**3 * np.array([[12, 6*l, -12, 6*l], [6*l, 4*l*l, -6*l, 2*l*l], [-12, -6*l, 12, -6*l], [6*l, 2*l*l, -6*l, 4*l*l]])
        self.members[name] = (dofs, T, K, w * l / 2 * np.array([0, -1, -l / 6, 0, -1, l / 6]))
    def solve(self, held):
        n = len(self.dofs); A = np.zeros((n, n)); F = np.zeros(n)
        for dofs, T, K, f in self.members.values(): A[np.ix_(dofs, dofs)] += T.T @ K @ T; F[dofs] += T.T @ f
        for key, load in self.loads.items(): F[self.dofs[key]] += load
        free = [i for key, i in self.dofs.items() if key not in held]
        # What is left over is taken with more digits than the solution, so that no processor's own rounding shows.
        A, F = A.astype(np.longdouble), F.astype(np.longdouble); u = np.zeros(n, np.longdouble)
        # of very unlike stiffness: brought to a diagonal of ones, and solved once more for what is left over
        d = 1 / np.sqrt(np.diag(A)[free]).astype(float); B = A[np.ix_(free, free)].astype(float) * np.outer(d, d)
        for _ in range(6): u[free] += d * np.linalg.solve(B, (d * (F - A @ u)[free]).astype(float))
        self.condition = np.linalg.cond(B)
        self.reactions = {key: float((A @ u - F)[self.dofs[key]]) for key in held}
        self.ends = {name: (K @ T @ u[dofs] - f).astype(float) for name, (dofs, T, K, f) in self.members.items()}
