"""Thickness of plates from plastic limit analysis (plates.py), written as check values for `seat` and `anchor-plate`.
Only cases where the fold of the sheet is the exact one are written; elsewhere the sheet is on the safe side (run plates.py)."""
import csv, math
from csvout import OUT
from plates import collapse, at, even
def thick(lam, load, Fy): return math.sqrt(4 * 1.67 * load / lam / Fy)
R = []
for i, (q, b, d, cb, cd, Fy) in enumerate([(400, 6, 6, 4, 0, 36e3), (700, 6, 6, 2, 2, 36e3), (900, 8, 6, 6, 1, 50e3), (350, 5, 7, 3, .5, 36e3), (600, 4, 4, 3, .5, 36e3), (500, 6, 6, 1, 1, 50e3)]):
    lam = collapse(b, d, .25, lambda x, y: abs(x) <= cb / 2 + 1e-9 and abs(y) <= cd / 2 + 1e-9, even)
    R.append([f'P{i+1}', q, b, d, 'bar', cb, cd, 2, Fy, f'{thick(lam, q, Fy):.5g}', .001, 'rel', 'oracle/plates.py, plastic limit analysis', 'independent', ''])
with open(OUT / 'seat--limit-analysis.csv', 'w', newline='') as f:
    f.write('# Thickness of a seat plate under even pressure by plastic limit analysis with folds anywhere (oracle/plates.py), then the factor 1.67.\n'); w = csv.writer(f, lineterminator='\n')
    w.writerow('id,q [psi],b [in],d [in],core,core_b [in],core_d [in],t [in],F_y [psi],expect t_req [in],tolerance,tolerance_kind,source,kind,note'.split(',')); w.writerows(R)
R = []
for i, (p, P, b, d, cb, cd, gx, gy, Fy, pts) in enumerate([('two across', -4000, 3, 6, 3, 0.001, 0, 2, 36e3, [(0, 2), (0, -2)]), ('two across', -4000, 2.5, 5, 2, 0.5, 0, 1.75, 36e3, [(0, 1.75), (0, -1.75)]),
      ('four', -6000, 6, 6, 4, 0.001, 1.5, 2, 36e3, 0), ('four', -6000, 7, 5, 2, 0.001, 2.5, 1, 50e3, 0), ('four', -8000, 6, 8, 5, 2, 2, 3, 36e3, 0), ('four', -5000, 5, 8, 2, 1, 1.5, 2.5, 36e3, 0), ('four', -5000, 8, 6, 1, 2, 2.5, 1.5, 36e3, 0), ('two along', -3000, 8, 2, 4, 0.5, 3.5, 0, 36e3, [(3.5, 0), (-3.5, 0)])]):
    pts = pts or [(gx, gy), (-gx, gy), (gx, -gy), (-gx, -gy)]
    lam = collapse(b, d, .25, lambda x, y: abs(x) <= cb / 2 + 1e-9 and abs(y) <= cd / 2 + 1e-9, at(pts))
    R.append([f'U{i+1}', P, 0, 0, b, d, 2, Fy, 'bar', cb, cd, cb, cd, p, gx or '', gy or '', f'{-P / len(pts):.6g}', f'{thick(lam, -P / len(pts), Fy):.5g}', '', .002, 'rel', 'oracle/plates.py, plastic limit analysis', 'independent', ''])
# download on a grouted seat wider than the post, and on a bottom plate under a bar: even pressure, limit analysis again
for i, (P, b, d, pb, pd, cb, cd, Fy) in enumerate([(12000, 8, 8, 6, 6, 4, .375, 36e3), (9000, 6, 6, 4, .5, 4, .5, 36e3)]):
    lam = collapse(b, d, .25, lambda x, y: abs(x) <= pb / 2 + 1e-9 and abs(y) <= pd / 2 + 1e-9, even)
    R.append([f'D{i+1}', P, 0, 0, b, d, 2, Fy, 'bar', cb, cd, pb, pd, 'two across', '', 2, '', f'{thick(lam, P / b / d, Fy):.5g}', f'{P / b / d / lam:.5g}', .002, 'rel', 'oracle/plates.py, plastic limit analysis', 'independent', ''])
# a moment alone: the pad under one end pushes up; a cantilever cut in strips
for i, (Mx, My, b, d, cb, cd, p, gx, gy, Fy) in enumerate([(6000, 0, 8, 6, 4, .375, 'four', 3, 2, 36e3), (0, 3000, 8, 6, 4, .375, 'four', 3, 2, 36e3)]):
    if Mx: g, c, core, n, wide = gx, (b + cb) / 4, cb, 4000, d; M, reach = Mx, (b - cb) / 2
    else: g, c, core, n, wide = gy, (d + cd) / 4, cd, 4000, b; M, reach = My, (d - cd) / 2
    C = M / (g + c); p_ = C / reach / wide                      # even pressure over the reach whose middle is the pad
    m = sum(p_ * reach / n * ((k + .5) / n * reach) for k in range(n))
    R.append([f'M{i+1}', 0, Mx, My, b, d, 2, Fy, 'bar', cb, cd, cb, cd, p, gx, gy, '', '', f'{m:.5g}', .002, 'rel', 'oracle/plate_rows.py, strips', 'independent', 'push up at the toe, by strips'])
with open(OUT / 'anchor-plate--limit-analysis.csv', 'w', newline='') as f:
    f.write('# Plates pulled up at their anchors or pressed down, by plastic limit analysis with folds anywhere (oracle/plates.py), then the factor 1.67.\n'); w = csv.writer(f, lineterminator='\n')
    w.writerow('id,P [lbf],M_x [lbf in],M_y [lbf in],b [in],d [in],t [in],F_y [psi],core,core_b [in],core_d [in],press_b [in],press_d [in],pattern,g_x [in],g_y [in],expect N_a [lbf],expect t_req [in],expect m_C [lbf],tolerance,tolerance_kind,source,kind,note'.split(',')); w.writerows(R)
# a round core: the square inside it, drawn on the mesh, holds the plate less than the round itself
R = []
for i, (q, b, D, Fy) in enumerate([(500, 6, 2 * math.sqrt(2), 36e3), (800, 8, 4 * math.sqrt(2), 36e3), (600, 5, math.sqrt(2), 50e3)]):
    s = D / math.sqrt(2)
    lam = collapse(b, b, .25, lambda x, y: abs(x) <= s / 2 + 1e-9 and abs(y) <= s / 2 + 1e-9, even)
    R.append([f'R{i+1}', q, b, b, 'round', f'{D:.6g}', '', 2, Fy, f'{thick(lam, q, Fy):.5g}', .001, 'rel', 'oracle/plates.py, plastic limit analysis', 'independent', 'the square inside the round core'])
with open(OUT / 'seat--limit-analysis.csv', 'a', newline='') as f: csv.writer(f, lineterminator='\n').writerows(R)
