"""Largest pressure under a rigid rectangle on soil that takes no tension, by finding the plane of pressure numerically.

The plane p = max(0, a + b x + c y) is found by Newton's method so that its integral and its two moments (sums over a grid) balance the load.
"""
import numpy as np
from scipy.optimize import least_squares

def largest(u, v, n=400):
    """q_max B L / N for eccentricities u B and v L on a unit square."""
    x = (np.arange(n) + 0.5) / n - 0.5
    X, Y = np.meshgrid(x, x)
    def out(k):
        p = np.maximum(0, k[0] + k[1] * X + k[2] * Y)
        return [p.mean() - 1, (p * X).mean() - u, (p * Y).mean() - v]
    k = np.array([1.0, 12 * u, 12 * v])
    best = None
    for start in (k, k * 1.5, k * 3, k * [-1, 2, 2], k * [-2, 3, 3], k*[-6,8,8]):
        s = least_squares(out, start, xtol=1e-14, ftol=1e-14, gtol=1e-14)
        if best is None or s.cost < best.cost: best = s
        if best.cost < 1e-14: break
    if best.cost > 1e-10: return None
    k = best.x
    return k[0] + 0.5 * abs(k[1]) + 0.5 * abs(k[2])

if __name__ == "__main__":
    f = lambda u: 1 + 6 * u if u <= 1 / 6 else 2 / (3 * (0.5 - u))
    for u in (0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4):
        row = []
        for v in (0.0, 0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4):
            q = largest(u, v)
            row.append("none" if q is None else f"{q:.3f}/{f(u)*f(v):.3f}{'!' if f(u)*f(v) < q*0.999 else ''}")
        print(u, *row)
