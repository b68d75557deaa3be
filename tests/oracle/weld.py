"""Independent values for `weld`: the weld is a row of many small springs under a stiff bar; pull, shears and moments give six
equations of equilibrium for the bar's six movements; the largest spring force a unit of length is the answer."""
import csv, math, random
from csvout import OUT
import numpy as np
def worst(pts, ds, F):
    # displacement of a point: u + w x r; springs of stiffness 1 a unit length in each direction, moments about x and y only from normal force
    A = np.zeros((5, 5)); rows = []
    for (x, y), d in zip(pts, ds):
        B = np.array([[1, 0, 0, 0, 0], [0, 1, 0, 0, 0], [0, 0, 1, x, y]])   # along, square, normal
        A += B.T @ B * d; rows.append(B)
    q = np.linalg.solve(A, F)
    return max(np.linalg.norm(B @ q) for B in rows)
random.seed(7); out = []
for i in range(12):
    shape = ['bar', 'bar', 'bar', 'round', 'pipe', 'pipe'][i % 6]
    T, V, H, Mx, My = random.choice([0, 1500, 4000]), random.choice([300, 900]), random.choice([0, 150]), random.choice([1500, 4000]), random.choice([0, 600])
    if i in (0, 6): Mx = My = 0; T = 2500
    if shape == 'round' or shape == 'pipe':
        x, t, a = random.choice([(2.375, .154, .125), (3.5, .216, .1875)]) if shape == 'pipe' else (1.5, 1.5, .25)
        My = 0 if i % 2 else My
        n = 4000; th = (np.arange(n) + .5) / n * 2 * math.pi; pts = [(x / 2 * math.cos(k), x / 2 * math.sin(k)) for k in th]; ds = [math.pi * x / n] * n
    else:
        x, t, a = random.choice([(4, .375, .1875), (3, .25, .125), (5, .5, .25)]); l = x - 2 * a; n = 4000
        pts = [((k + .5) / n * l - l / 2, s * t / 2) for s in (1, -1) for k in range(n)]; ds = [l / n] * (2 * n)
    f = worst(pts, ds, np.array([V, H, T, Mx, My], float))
    out.append([f'W{i+1:02}', T, V, H, Mx, My, shape, x, t, .5, 58, 58, a, f'{f:.6g}', .001, 'rel', 'oracle/weld.py', 'independent', ''])
# A bar of which only a part is held from below, or two parts.
for i, (T, V, H, Mx, My, x, t, a, held, apart) in enumerate([(1500, 300, 150, 1500, 600, 5, .5, .25, 2.5, 0), (1500, 300, 0, 4000, 0, 6, .5, .25, 1.2, 3), (900, 0, 200, 2500, 800, 4.5, .375, .1875, .9, 2.2)]):
    n = 2000; row = [(k + .5) / n * held - held / 2 for k in range(n)]; middles = (-apart / 2, apart / 2) if apart else (0,)
    pts = [(m + k, s * t / 2) for s in (1, -1) for m in middles for k in row]; ds = [held / n] * len(pts)
    out.append([f'H{i+1:02}', T, V, H, Mx, My, 'bar', x, t, .5, 58, 58, a, f'{worst(pts, ds, np.array([V, H, T, Mx, My], float)):.6g}', .001, 'rel', 'oracle/weld.py', 'independent', '', held, apart])
# A ring that is pulled harder in one place than all round; the shear goes all round.
ring = [(2.375 / 2 * math.cos(k), 2.375 / 2 * math.sin(k)) for k in (np.arange(4000) + .5) / 4000 * 2 * math.pi]
shear = worst(ring, [math.pi * 2.375 / 4000] * 4000, np.array([300, 0, 0, 0, 0], float))
out.append(['L01', 500, 300, 0, 0, 0, 'pipe', 2.375, .154, .5, 58, 58, .1875, f'{math.hypot(1000, shear):.6g}', .001, 'rel', 'oracle/weld.py', 'independent', '', '', '', 1000])
with open(OUT / 'weld--springs.csv', 'w', newline='') as fo:
    fo.write('# The force on an inch of weld, from a stiff bar on many small springs (oracle/weld.py).\n'); w = csv.writer(fo, lineterminator='\n')
    w.writerow(['id', 'T [lbf]', 'V [lbf]', 'H [lbf]', 'M_x [lbf in]', 'M_y [lbf in]', 'shape', 'x [in]', 't [in]', 't_p [in]', 'F_u [ksi]', 'F_up [ksi]', 'a [in]', 'held [in]', 'apart [in]', 'local [lbf/in]', 'expect f [lbf/in]', 'tolerance', 'tolerance_kind', 'source', 'kind', 'note']); w.writerows(row[:13] + (row[19:] + ['', '', ''])[:3] + row[13:19] for row in out)
DE = 'AISC Design Examples V16.0 '
rows = []
def r(id, x, t, tp, Fu, Fup, a, Fw, Fb, Fp, am, tol, src, note=''): rows.append([id, 0, 1, x, t, tp, Fu, Fup, 70, a, Fw, Fb, Fp, am, tol, 'rel', src, 'published', note])
r('J.1', 27.375, .25, .25, 65, 65, .1875, 2.785, '', 4.88, .125, .002, DE + 'Ex. J.1', '5.57 kip/in nominal; plate 527 kip for 54 in nominal')
r('II.C-1', 8.5, .5, .625, 65, 65, .25, 3.712, '', '', .1875, .001, DE + 'Ex. II.C-1', '0.928 kip/in for a sixteenth')
r('II.C-1-match', 8.5, .381, .381, 65, 65, .25, 3.712, 3.712, '', .1875, .002, DE + 'Ex. II.C-1, AISC Manual Eq. 9-7', '0.381 in matches 1/4 in welds on both sides')
r('II.C-2-match2', 8, .286, .143, 65, 65, .1875, 2.784, 2.784, 2.784, '', .003, DE + 'Ex. II.C-2, AISC Manual Eq. 9-6 and 9-7', '0.286 in and 0.143 in match 3/16 in welds')
r('II.C-2-match4', 8, .381, .190, 65, 65, .25, 3.712, 3.712, 3.712, .125, .003, DE + 'Ex. II.C-2, AISC Manual Eq. 9-6 and 9-7', '0.381 in and 0.190 in match 1/4 in welds')
r('II.B-1', 9.5, .375, .78, 65, 65, .25, 3.711, '', 15.17, .1875, .003, DE + 'Ex. II.B-1, web plate', '66.8 kip for 18 in of weld; flange 273 kip for 18 in')
r('K.10', 8, .5, .5, 65, 65, .2775, 4.125, '', '', .1875, .002, DE + 'Ex. K.10', '66.0 kip on 16 in of weld needs D = 4.44')
r('J.2A', 20, .625, .75, 65, 65, .3125, 4.64, '', '', .25, .002, DE + 'Ex. J.2A', '13.0 kip/in nominal with 1.40 for the direction: 9.28 without')
with open(OUT / 'weld--design-examples.csv', 'w', newline='') as fo:
    fo.write('# AISC 360-16 J2.4, J4.2(b) and Table J2.4 against worked examples that AISC publishes, without the increase for the direction of the force.\n# Read in a public text copy of the AISC Design Examples V16.0; the values used are the same in AISC 360-16 and 360-22.\n'); w = csv.writer(fo, lineterminator='\n')
    w.writerow(['id', 'T [lbf]', 'V [lbf]', 'x [in]', 't [in]', 't_p [in]', 'F_u [ksi]', 'F_up [ksi]', 'F_EXX [ksi]', 'a [in]', 'expect F_w [kip/in]', 'expect F_b [kip/in]', 'expect F_p [kip/in]', 'expect a_min [in]', 'tolerance', 'tolerance_kind', 'source', 'kind', 'note']); w.writerows(rows)
