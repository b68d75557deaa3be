"""Independent values for `bar-bending` and `standoff`: section properties summed over a fine raster, buckling loads as
eigenvalues of a finite-difference column and of a strip buckling sideways, forces by equilibrium of the drawn legs."""
import csv, math
from csvout import OUT
import numpy as np
from scipy.linalg import eigh
E, G = 29000.0, 11200.0

def raster(inside, bx, by, n=1200):
    """area, I, plastic modulus about the middle, bending about y = 0 (fibres above and below)"""
    x = (np.arange(n) + 0.5) / n * bx - bx / 2; y = (np.arange(n) + 0.5) / n * by - by / 2
    X, Y = np.meshgrid(x, y); m = inside(X, Y); da = bx / n * by / n
    return m.sum() * da, (Y[m] ** 2).sum() * da, np.abs(Y[m]).sum() * da

def rect(w, t): return (lambda X, Y: np.ones_like(X, bool)), t, w     # strong axis: y along the width
def disc(d, di=0): return (lambda X, Y: (X * X + Y * Y <= d * d / 4) & (X * X + Y * Y >= di * di / 4)), d, d

def cantilever(EI, L, n=400):
    """least buckling load of a column fixed below and free above: EI v'' = P (d - v), by finite elements"""
    K = np.zeros((2 * n + 2,) * 2); S = K.copy(); l = L / n
    k = EI / l ** 3 * np.array([[12, 6 * l, -12, 6 * l], [6 * l, 4 * l * l, -6 * l, 2 * l * l], [-12, -6 * l, 12, -6 * l], [6 * l, 2 * l * l, -6 * l, 4 * l * l]])
    s = 1 / (30 * l) * np.array([[36, 3 * l, -36, 3 * l], [3 * l, 4 * l * l, -3 * l, -l * l], [-36, -3 * l, 36, -3 * l], [3 * l, -l * l, -3 * l, 4 * l * l]])
    for e in range(n):
        i = slice(2 * e, 2 * e + 4); K[i, i] += k; S[i, i] += s
    w = eigh(S[2:, 2:], K[2:, 2:], eigvals_only=True)
    return 1 / w[-1]

def torsion(w, t, n=80):
    """St Venant constant of a w by t rectangle from Prandtl's stress function, by finite differences"""
    from scipy.sparse import kron, eye, diags
    from scipy.sparse.linalg import spsolve
    nx, ny = 6 * n, n; hx, hy = w / nx, t / ny
    d = lambda m, h: diags([1, -2, 1], [-1, 0, 1], shape=(m - 1, m - 1)) / h ** 2
    A = kron(d(nx, hx), eye(ny - 1)) + kron(eye(nx - 1), d(ny, hy))
    phi = spsolve(A.tocsc(), -2 * np.ones((nx - 1) * (ny - 1)))
    return 2 * phi.sum() * hx * hy

def sideways(w, t, L):
    """critical equal end moments of a strip on edge, ends held against twist: GJ f'' + M^2/(E I) f = 0"""
    n = 400; h = L / n
    A = (np.diag(2 * np.ones(n - 1)) - np.diag(np.ones(n - 2), 1) - np.diag(np.ones(n - 2), -1)) / h ** 2
    lam = np.linalg.eigvalsh(A)[0]
    _, Iy, _ = raster(lambda X, Y: np.ones_like(X, bool), w, t)
    return math.sqrt(lam * G * torsion(w, t) * E * Iy)

def write(name, comment, head, rows):
    with open(OUT / name, 'w', newline='') as f:
        f.write(comment); w = csv.writer(f, lineterminator='\n'); w.writerow(head); w.writerows(rows)

f4 = lambda v: f'{v:.5g}'
# ---- bar-bending -------------------------------------------------------------------------------------------------
rows = []
for i, (w, t, Fy) in enumerate([(4, 0.25, 36), (4, 0.375, 36), (3, 0.5, 50), (6, 0.5, 46)]):
    fn, bx, by = rect(w, t); A, I, Z = raster(fn, bx, by); fn, by2, bx2 = rect(w, t); A2, I2, Z2 = raster(lambda X, Y: np.ones_like(X, bool), w, t)
    rows.append([f'S{i+1}', w, t, 0, Fy, f4(I / (w / 2)), f4(Z), f4(I2 / (t / 2)), f4(Z2), f4(min(Fy * Z, 1.6 * Fy * I / (w / 2))), f4(Fy * Z2 / 1.67), 0.0005, 'rel', 'oracle/bars.py, raster', 'independent', ''])
for i, (w, t, L) in enumerate([(4, 0.25, 60), (6, 0.25, 60), (6, 0.375, 160)]):
    rows.append([f'L{i+1}', w, t, L, 50, '', '', '', '', f4(sideways(w, t, L)), '', 0.05, 'rel', 'oracle/bars.py, eigenvalue of sideways buckling', 'independent', 'the code rounds pi sqrt(E G) to 1.9 E (exactly 1.95 E) and takes J = w t^3/3: it may be off by a few percent'])
write('bar-bending--mechanics.csv', '# A flat bar: section moduli summed over a raster, sideways buckling in the elastic range as an eigenvalue (oracle/bars.py).\n',
      ['id', 'w [in]', 't [in]', 'L_b [in]', 'F_y [ksi]', 'expect S_x [in^3]', 'expect Z_x [in^3]', 'expect S_y [in^3]', 'expect Z_y [in^3]', 'expect M_b [kip in]', 'expect M_cy [kip in]', 'tolerance', 'tolerance_kind', 'source', 'kind', 'note'], rows)
# ---- standoff ----------------------------------------------------------------------------------------------------
rows = []
cases = [('bar', 4, 0.375, 1, 0, 12, 36, 3000, 600, 100, 5), ('bar', 3, 0.5, 1, 0, 20, 50, -2500, 400, 0, 4), ('round', 1.5, 0, 1, 0, 15, 36, 4000, 300, 200, 5), ('pipe', 2.375, 0.154, 1, 0, 40, 35, 5000, 250, 250, 5), ('pipe', 3.5, 0.216, 1, 0, 60, 35, -1500, 500, 0, 6), ('bar', 1.5, 0.5, 2, 3.5, 10, 36, 2000, 800, 50, 4), ('bar', 2, 0.375, 2, 4, 6, 36, -3000, 900, 0, 4)]
for i, (shape, x, t, legs, g, h, Fy, P, Vx, Vy, y) in enumerate(cases):
    if shape == 'bar': fn, bx, by = rect(x, t); A, Is, Zs = raster(fn, bx, by); _, Iw, Zw = raster(lambda X, Y: np.ones_like(X, bool), x, t)
    else:
        td = 0.93 * t; fn, bx, by = disc(x, x - 2 * td if shape == 'pipe' else 0); A, Is, Zs = raster(fn, bx, by, 3000); Iw, Zw = Is, Zs
    I = min(Is, Iw); Pe = cantilever(E * I, h)
    # free body: the shears act y above the top; each leg is fixed at its foot. Two legs: seat is a beam on two hinges.
    if legs == 1: N, Mx, My = 0, Vx * (y + h), Vy * (y + h)
    else:
        # unknown push/pull N and leg shears: sum of moments about the seat level, legs hinged there
        N = np.linalg.solve([[g]], [Vx * y])[0]; Mx = Vx / 2 * h; My = Vy / 2 * (y + h)
    C, T = max(0, P / legs + N), max(0, -P / legs + N)
    rows.append([f'O{i+1}', shape, x, t or '', legs, g or '', h, Fy, P, Vx, Vy, y, 2, f4(A), f4(math.sqrt(I / A)), f4(Pe / A), f4(Mx), f4(My) if My else '', f4(C) if C else '', f4(T) if T else '', f4(min(Fy * Zw, 1.6 * Fy * Iw / ((t if shape == 'bar' else x) / 2)) / 1.67), 0.0015, 'rel', 'oracle/bars.py', 'independent', ''])
write('standoff--mechanics.csv', '# Standoffs: area, radius of gyration and plastic modulus summed over a raster, elastic buckling as an eigenvalue of a finite-element\n# cantilever (so K is 2 here), forces at the foot by equilibrium (oracle/bars.py). M_cy is F_y Z, up to 1.6 F_y S for bars and rounds.\n',
      ['id', 'shape', 'x [in]', 't [in]', 'legs', 'g [in]', 'h [in]', 'F_y [ksi]', 'P [lbf]', 'V_x [lbf]', 'V_y [lbf]', 'y [in]', 'K', 'expect A [in^2]', 'expect r_g [in]', 'expect F_e [ksi]', 'expect M_x [lbf in]', 'expect M_y [lbf in]', 'expect C_r [lbf]', 'expect T_r [lbf]', 'expect M_cy [kip in]', 'tolerance', 'tolerance_kind', 'source', 'kind', 'note'], rows)
