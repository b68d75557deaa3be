"""Independent values for `anchor-forces`: a stiff plate on anchors that only pull and on four pads that only push (in the middle
of each reach), solved as a contact problem by a quadratic programme; and, for plates that are pulled up, the thickness from
plastic limit analysis (plates.py). Where anchors on both sides pull at once the sheet adds on the safe side: those cases are
not written as check values but counted here: the sheet may not give less than the contact problem."""
import csv, math, random, subprocess, io, os, sys, tempfile
import numpy as np
from scipy.optimize import nnls
from plates import collapse, at, even
from csvout import OUT
# The program that is compared.
SOCLE = os.environ.get('SOCLE', 'socle')

def contact(P, Mx, My, anchors, cx, cy, press):
    """anchor pulls and pad pushes: least sum of force^2/stiffness at equilibrium, none negative; pads and the held middle are stiff"""
    pads = [(cx, 0), (-cx, 0), (0, cy), (0, -cy)] + [(0, 0)] * press
    k = [1.0] * len(anchors) + [1e5] * len(pads)
    pts = anchors + pads; sg = [-1] * len(anchors) + [1] * len(pads)            # vertical: pads push up, anchors pull down
    A = np.array([sg, [s * p[0] for s, p in zip(sg, pts)], [s * p[1] for s, p in zip(sg, pts)]], float)
    rhs = np.array([P, Mx, My], float)                                          # P down is held by pushes; moments tip toward + x, + y
    W = np.diag(1 / np.sqrt(k)); big = 1e4
    f, _ = nnls(np.vstack([W, big * A]), np.concatenate([np.zeros(len(pts)), big * rhs]), maxiter=10000)
    assert np.abs(A @ f - rhs).max() < 1e-2 * max(1, abs(P)), (A @ f, rhs)
    return f[:len(anchors)], f[len(anchors):len(anchors) + 4]

def pattern(p, gx, gy): return {'one': [(0, gy)], 'two across': [(0, gy), (0, -gy)], 'two along': [(gx, 0), (-gx, 0)], 'four': [(gx, gy), (gx, -gy), (-gx, gy), (-gx, -gy)]}[p]
head = ['id', 'P [lbf]', 'M_x [lbf in]', 'M_y [lbf in]', 'b [in]', 'd [in]', 'core_b [in]', 'core_d [in]', 'pattern', 'g_x [in]', 'g_y [in]']
def run(rows, sheet, extra=()):
    f = os.path.join(tempfile.mkdtemp(), 'rows.csv')
    with open(f, 'w', newline='') as o: w = csv.writer(o); w.writerow(head + list(extra)); w.writerows(rows)
    t = subprocess.run([SOCLE, 'work', sheet, '--rows', f], capture_output=True, text=True)
    return list(csv.DictReader(io.StringIO(t.stdout))), t.stderr

if __name__ == '__main__':
    exact = [  # statically plain cases
        ('A01', -2200, 3900, 0, 6, 6, 4, .375, 'two across', 0, 2), ('A02', 0, 0, 1200, 6, 6, 4, .375, 'two across', 0, 2), ('A03', 1500, 0, 4000, 6, 6, 4, .375, 'two across', 0, 2),
        ('A04', 1500, 6000, 0, 6, 6, 4, .375, 'two across', 0, 2), ('A05', -2200, 0, 0, 6, 6, 4, .375, 'four', 2, 2), ('A06', 0, 5000, 0, 8, 6, 4, .375, 'four', 3, 2),
        ('A07', 2000, 9000, 0, 8, 6, 4, .375, 'four', 3, 2), ('A08', 0, 0, 2000, 8, 6, 4, .375, 'four', 3, 2), ('A09', 1000, 0, 3000, 8, 6, 4, .375, 'four', 3, 2),
        ('A10', -1800, 0, 0, 9, 5, 4, .375, 'two along', 3.5, 0), ('A11', 0, 4000, 0, 9, 5, 4, .375, 'two along', 3.5, 0), ('A12', 900, 5000, 0, 9, 5, 4, .375, 'two along', 3.5, 0),
        ('A13', -1000, 0, 0, 5, 6, 4, .375, 'one', 0, .75), ('A14', -1000, 0, 500, 5, 6, 4, .375, 'one', 0, .75), ('A15', -1500, 2000, 0, 5, 5, 3, .5, 'one', 0, 0), ('A16', 5000, 2000, 0, 6, 6, 4, .375, 'four', 2, 2),
        # tipped both ways, where only the anchor at the corner that goes up holds the smaller moment
        ('A17', 0, 8000, 900, 6, 8, .5, 6, 'four', 2.5, 2.25), ('A18', 500, 8000, 600, 7, 7, .375, 5, 'four', 3, 2.5), ('A19', 1500, 300, 8000, 8, 8, 5, .5, 'four', 2.25, 3.25)]
    out = []
    for c in exact:
        id, P, Mx, My, b, d, cb, cd, p, gx, gy = c
        cx, cy = (b / 2 + cb / 2) / 2, (d / 2 + cd / 2) / 2
        best = 0
        for s in (1, -1):
            N, Q = contact(P, Mx, s * My, pattern(p, gx, gy), cx, cy, P > 0); best = max(best, N.max())
        # forces under a tenth of a pound are the stiff pads giving a little
        out.append(list(c) + [f'{best:.5g}' if best > 1 else '', '0.004', 'rel', 'oracle/anchors.py', 'independent', ''] if best > 1 else list(c) + ['0', '0.5', 'abs', 'oracle/anchors.py', 'independent', 'held down by the load'])
    with open(OUT / 'anchor-forces--contact.csv', 'w', newline='') as f:
        f.write('# The pull on the anchors, from a stiff plate on anchors that only pull and pads that only push (oracle/anchors.py).\n'); w = csv.writer(f, lineterminator='\n')
        w.writerow(head + ['expect N_a [lbf]', 'tolerance', 'tolerance_kind', 'source', 'kind', 'note']); w.writerows(out)
    # never less than the contact problem
    random.seed(11); rows, ref = [], []
    for i in range(400):
        p = random.choice(['one', 'two across', 'two along', 'four']); b, d = random.choice([5, 6, 8]), random.choice([5, 6, 8]); cb, cd = random.choice([3, 4]), random.choice([.375, .5, 2])
        cy = (d + cd) / 4
        gx, gy = random.choice([1, 1.5, 2]), random.choice([1, 1.5, 2]) if p != 'one' else random.choice([0, .5, .4 * cy])
        P, Mx, My = random.choice([-3000, -500, 0, 1000, 6000]), random.choice([0, 1500, 6000]), random.choice([0, 500, 2500])
        best = max(contact(P, Mx, s * My, pattern(p, gx, gy), (b + cb) / 4, cy, P > 0)[0].max() for s in (1, -1))
        rows.append([f'R{i}', P, Mx, My, b, d, cb, cd, p, gx, gy]); ref.append(best)
    # four anchors under moments both ways, that stand far out
    for i in range(400):
        b, d = random.choice([6, 7, 8]), random.choice([6, 7, 8]); cb, cd = random.choice([.375, 2, 3, 5]), random.choice([.375, 2, 3, 5])
        gx, gy = b / 2 - random.choice([.75, 1.25]), d / 2 - random.choice([.75, 1.25])
        P, Mx = random.choice([-3000, -500, 0, 1000, 4000]), random.choice([1500, 4000, 8000]); My = random.choice([.05, .2, .5, 1, 3]) * Mx
        best = max(contact(P, Mx, s * My, pattern('four', gx, gy), (b + cb) / 4, (d + cd) / 4, P > 0)[0].max() for s in (1, -1))
        rows.append([f'F{i}', P, Mx, My, b, d, cb, cd, 'four', gx, gy]); ref.append(best)
    got, err = run(rows, 'anchor-forces')
    print(err[:500])
    ratio = [float(g['N_a [lbf]']) - r for g, r in zip(got, ref)]
    big = [(float(g['N_a [lbf]']) / r) for g, r in zip(got, ref) if r > 50]
    print('cases', len(got), 'least surplus', min(ratio), 'ratios', min(big), np.median(big), max(big))
    unsafe = [(row, g['N_a [lbf]'], r) for g, r, row in zip(got, ref, rows) if float(g['N_a [lbf]']) < r * .998 - 1]
    if unsafe or len(got) != len(rows): sys.exit(f'{len(got)} of {len(rows)} worked; unsafe: {unsafe}')
