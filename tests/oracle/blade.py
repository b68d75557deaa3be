"""Independent values for the sheet `blade`: the plate is drawn, not calculated. Lengths of metal along a path of tearing
are measured by walking along it in small steps and asking at each step whether it is in a hole (a circle of the
diameter with the allowance for damage); moments are sums over single pins; the plastic modulus is summed over thin strips
of what metal is there. Paths are listed for each direction and the weakest taken. Nothing of the sheet's algebra is used."""
import csv, math, random
from csvout import OUT

def measure(p, q, holes, step=1e-4):
    """length of metal between p and q"""
    n = max(1, int(math.dist(p, q) / step)); d = math.dist(p, q) / n; hit = 0
    near = [(hx, hy, r) for hx, hy, r in holes if min(p[0], q[0]) - r <= hx <= max(p[0], q[0]) + r and min(p[1], q[1]) - r <= hy <= max(p[1], q[1]) + r]
    for i in range(n):
        u = (i + 0.5) / n; x = p[0] + u * (q[0] - p[0]); y = p[1] + u * (q[1] - p[1])
        if all((x - hx) ** 2 + (y - hy) ** 2 > r * r for hx, hy, r in near): hit += 1
    return hit * d

def block(paths, holes, t, Fy, Fu):
    best = 1e99
    for shear, tension in paths:
        gv = sum(math.dist(p, q) for p, q in shear) * t
        nv = sum(measure(p, q, holes) for p, q in shear) * t
        nt = sum(measure(p, q, holes) for p, q in tension) * t
        best = min(best, min(0.6 * Fu * nv, 0.6 * Fy * gv) + Fu * nt)
    return best / 2

def case(i, c):
    t, w, D, dh, n, rows, s, sr, a, e, T, V, H, Fy, Fu, Fp = (c[k] for k in 't w D d_h n rows s s_row a_end e_top T V H_perp F_y F_u F_u_pin'.split())
    dn = dh + 0.0625; top = a + (n - 1) * s + e
    xs = [w / 2 + (j - (rows - 1) / 2) * sr for j in range(rows)]; ys = [a + j * s for j in range(n)]
    holes = [(x, y, dn / 2) for x in xs for y in ys]
    lo, hi, le, ri = ys[0], ys[-1], xs[0], xs[-1]
    up = [([((le, lo), (le, top))], [((le, lo), (w, lo))])]
    if rows > 1:
        up += [([((le, lo), (le, top)), ((ri, lo), (ri, top))], [((le, lo), (ri, lo))]),
               ([((le, lo), (le, top)), ((ri, lo), (ri, top))], [((0, lo), (le, lo)), ((ri, lo), (w, lo))])]
    side = [([((le, lo), (w, lo))], [((le, lo), (le, top))])]
    if n > 1:
        side += [([((le, lo), (w, lo)), ((le, hi), (w, hi))], [((le, lo), (le, hi))]),
                 ([((le, lo), (w, lo)), ((le, hi), (w, hi))], [((le, hi), (le, top)), ((le, hi), (le, top))])]
    Rup = block(up, holes, t, Fy, Fu); Rside = block(side, holes, t, Fy, Fu)
    Rbs = Rup if V == 0 else Rside if T == 0 else min(Rup, Rside)
    An = measure((0, lo), (w, lo), holes) * t
    N = n * rows
    Mx = sum(V / N * y for y in ys) * rows; My = sum(H / N * y for y in ys) * rows
    out = dict(A_n=An, P_u=Fu * An / 2, R_bs=Rbs, M_x=Mx, M_y=My)
    if n > 1:
        strips = 200000; Zn = 0
        for k in range(strips):
            x = (k + 0.5) / strips * w
            if all(abs(x - hx) > dn / 2 for hx in xs): Zn += abs(x - w / 2) * t * w / strips
        Mun = Fu * Zn / 2; Mum = Fu * An * t / 4 / 2
        kx = sum(V / N * (y - lo) for y in ys) * rows; ky = sum(H / N * (y - lo) for y in ys) * rows
        out.update(Z_n=Zn, r_n=T / out['P_u'] + kx / Mun + ky / Mum)
    return out

random.seed(20240731)
keys = 'T V H_perp F_y F_u t w D d_h F_u_pin n rows s s_row a_end e_top'.split()
unit = dict(T='lbf', V='lbf', H_perp='lbf', F_y='psi', F_u='psi', F_u_pin='psi', t='in', w='in', D='in', d_h='in', s='in', s_row='in', a_end='in', e_top='in')
exp = [('A_n', 'in^2'), ('P_u', 'lbf'), ('R_bs', 'lbf'), ('M_x', 'lbf in'), ('M_y', 'lbf in'), ('Z_n', 'in^3'), ('r_n', '')]
rows_out = []
for i in range(14):
    n, rows = random.choice([1, 2, 3, 4]), random.choice([1, 1, 2, 3, 4])
    D = random.choice([0.375, 0.5, 0.625, 0.75]); dh = D + random.choice([1 / 32, 1 / 16])
    sr = 0 if rows == 1 else 3 * D; es = random.choice([1.5, 2, 3]) * D
    steel = random.choice([(36e3, 58e3), (50e3, 65e3)])
    c = dict(T=random.choice([0, 1500, 4000]), V=random.choice([0, 600, 1200]), H_perp=random.choice([0, 150]), F_y=steel[0], F_u=steel[1], t=random.choice([0.25, 0.375, 0.5]),
             w=(rows - 1) * sr + 2 * es, D=D, d_h=dh, F_u_pin=58e3, n=n, rows=rows, s=0 if n == 1 else random.choice([3, 4]) * D, s_row=sr, a_end=random.choice([3, 4]), e_top=random.choice([1.5, 2]) * D)
    if c['T'] == 0 and c['V'] == 0: c['T'] = 2500
    o = case(i, c)
    rows_out.append([f'B{i+1:02}'] + [c[k] for k in keys] + [f'{o[k]:.6g}' if o.get(k) else '' for k, _ in exp] + [0.0008, 'rel', 'oracle/blade.py', 'independent', ''])
with open(OUT / 'blade--drawn-plate.csv', 'w', newline='') as f:
    f.write('# The blade of random bases, measured on a drawn plate and summed pin by pin: oracle/blade.py.\n')
    w_ = csv.writer(f, lineterminator='\n')
    w_.writerow(['id'] + [k + (f' [{unit[k]}]' if k in unit else '') for k in keys] + ['expect ' + k + (f' [{u}]' if u else '') for k, u in exp] + ['tolerance', 'tolerance_kind', 'source', 'kind', 'note'])
    w_.writerows(rows_out)
