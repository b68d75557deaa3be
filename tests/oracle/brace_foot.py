"""Posts that mortises and housings cut at the brace foot, put together from rectangles of wood, without the sheets' algebra.

    python3 brace_foot.py      writes ../check-values/mortised-section--cells.csv, ../check-values/brace-foot--corners.csv

The section is cut along every edge of housing and mortise; a cell counts where its middle is in wood. Area, centroid and
the tensor of inertia are sums over cells. A moment is turned into stresses by solving for the plane of strain (2 x 2), and
the stress is looked up at every corner of wood, with the moment both ways round: the worst one counts. The load acts in
the middle of the whole post. Widths for shear are lines drawn across the cells."""
import csv, itertools, math, random
from csvout import OUT

SOURCE = ["oracle/brace_foot.py, cells of the section", "independent", ""]

def wood(bx, by, nx, ny, w, deep, house):
    """Cells (x0, x1, y0, y1) of what is left, the middle of the post being 0, 0. Faces are cut on the plus side first."""
    gone = []
    for n, turn in ((nx, False), (ny, True)):
        across, along = (by, bx) if turn else (bx, by)
        for side in (1, -1)[:n]:
            for cut, half in ((house, along / 2), (max(deep, house), w / 2)):
                a, b = sorted((side * across / 2, side * (across / 2 - cut)))
                gone.append((-half, half, a, b) if turn else (a, b, -half, half))
    xs = sorted({-bx / 2, bx / 2, *(min(max(x, -bx / 2), bx / 2) for g in gone for x in g[:2])})
    ys = sorted({-by / 2, by / 2, *(min(max(y, -by / 2), by / 2) for g in gone for y in g[2:])})
    cells = []
    for x0, x1 in zip(xs, xs[1:]):
        for y0, y1 in zip(ys, ys[1:]):
            x, y = (x0 + x1) / 2, (y0 + y1) / 2
            if not any(g[0] < x < g[1] and g[2] < y < g[3] for g in gone): cells.append((x0, x1, y0, y1))
    return cells

def section(cells):
    area = sum((x1 - x0) * (y1 - y0) for x0, x1, y0, y1 in cells)
    cx = sum((x1 - x0) * (y1 - y0) * (x0 + x1) / 2 for x0, x1, y0, y1 in cells) / area
    cy = sum((x1 - x0) * (y1 - y0) * (y0 + y1) / 2 for x0, x1, y0, y1 in cells) / area
    xx = sum((y1 - y0) * ((x1 - cx) ** 3 - (x0 - cx) ** 3) / 3 for x0, x1, y0, y1 in cells)
    yy = sum((x1 - x0) * ((y1 - cy) ** 3 - (y0 - cy) ** 3) / 3 for x0, x1, y0, y1 in cells)
    xy = sum(((x1 - cx) ** 2 - (x0 - cx) ** 2) * ((y1 - cy) ** 2 - (y0 - cy) ** 2) / 4 for x0, x1, y0, y1 in cells)
    corners = {(x - cx, y - cy) for c in cells for x in c[:2] for y in c[2:]}
    return area, cx, cy, xx, yy, xy, corners

def stress(s, mx, my):
    """Worst stress of moments that bend along x and along y."""
    _, _, _, xx, yy, xy, corners = s
    worst = 0
    for a, b in itertools.product((1, -1), repeat=2):
        # plane p x + q y with  p xx + q xy = mx,  p xy + q yy = my
        det = xx * yy - xy * xy
        p, q = (a * mx * yy - b * my * xy) / det, (b * my * xx - a * mx * xy) / det
        worst = max(worst, max(p * x + q * y for x, y in corners))
    return worst

def widths(bx, by, nx, ny, w, deep, house):
    """Along x: what the housings leave of the depth, the wood beside a mortise of this direction that runs through, and the wood on the middle line that mortises of the other leave."""
    depth = bx - nx * house
    line = lambda cells, x: sum(c[3] - c[2] for c in cells if c[0] < x < c[1])
    plain = wood(bx, by, nx, ny, 0, 0, house)
    beside = line(plain, 1e-7) - (w if nx and deep > 0 else 0)
    return depth, beside, line(wood(bx, by, 0, ny, w, deep, house), 1e-7)

if __name__ == "__main__":
    rng = random.Random(4032)
    draw = lambda: (rng.choice([5.5, 7.5, 9.5]), rng.choice([5.5, 7.5, 9.5]), rng.choice([1, 1.5, 2]), rng.choice([0, 1.5, 2, 2.5]), rng.choice([0, 0.25, 0.5]))
    def cases(count, kinds):
        done = 0
        while done < count:
            bx, by, w, deep, house = draw(); nx, ny = kinds[done % len(kinds)]
            if nx and ny and deep + w / 2 > min(bx, by) / 2 or max(nx, ny) * deep >= min(bx, by): continue
            done += 1
            yield bx, by, nx, ny, w, deep, house
    kinds = [(1, 0), (2, 0), (1, 1), (2, 1), (0, 1), (2, 2), (1, 2), (0, 2)]
    with open(OUT / "mortised-section--cells.csv", "w", newline="") as file:
        file.write("# What mortises and housings leave of a section, by counting cells.\n# Made by oracle/brace_foot.py, which says how; do not edit.\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow("id,d [in],b [in],n,n_b,mortise_width [in],mortise_depth [in],housing [in],expect A_n [in^2],expect e [in],expect I_n [in^4],expect c [in],expect d_n [in],expect b_m [in],expect b_c [in],tolerance,tolerance_kind,source,kind,note".split(","))
        for i, (bx, by, nx, ny, w, deep, house) in enumerate(cases(16, kinds)):
            s = section(wood(bx, by, nx, ny, w, deep, house))
            c = max(abs(x) for x, y in s[6])
            out.writerow([f"cut-{i + 1:02}", bx, by, nx, ny, w, deep, house, *(f"{v:.12g}" for v in (s[0], abs(s[1]), s[3], c, *widths(bx, by, nx, ny, w, deep, house))), 1e-9, "rel", *SOURCE])
    names = "b [in],d [in],brace_x,brace_y,brace_faces_x,brace_faces_y,mortise_width [in],mortise_depth [in],housing [in],M_x [lbf in],M_y [lbf in],V_x [lbf],V_y [lbf],l_x [in],l_y [in],E_min' [psi],P [lbf],F_c_star [psi],F_t' [psi],F_b [psi],F_v [psi],C_D,C_M_b,C_M_v,C_t,C_F,C_fu,C_i"
    with open(OUT / "brace-foot--corners.csv", "w", newline="") as file:
        file.write("# Stresses at the corners of posts cut for knee braces.\n# Made by oracle/brace_foot.py, which says how; do not edit.\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["id", *names.split(","), *(f"expect {x}" for x in ("f_bx [psi]", "f_by [psi]", "r_c", "r_t", "r_v")), "tolerance", "tolerance_kind", "source", "kind", "note"])
        for i, (bx, by, nx, ny, w, deep, house) in enumerate(cases(16, kinds)):
            mx, my = rng.randrange(0, 30000, 500), rng.randrange(0, 30000, 500)
            P = [2500, -1800, 0, 4000][i // 2 % 4]; vx, vy = rng.randrange(100, 1500, 50), rng.randrange(0, 1500, 50)
            lx, ly = rng.choice([96, 160]), rng.choice([96, 173]); E = 580000
            Fb, Fv, CD, Ci, Cfu = 1200 * 1.6 * 0.8, 170 * 1.6 * 0.8, 1.6, 0.8, rng.choice([1, 0.74])
            if bx == by: Cfu = 1
            s = section(wood(bx, by, nx, ny, w, deep, house))
            fx, fy = stress(s, mx + abs(P * s[1]), 0), stress(s, 0, my + abs(P * s[2]))
            assert abs(stress(s, mx + abs(P * s[1]), my + abs(P * s[2])) - fx - fy) < 1e-6 * (fx + fy + 1), "both bend the same corner most"
            Fx, Fy = Fb * (Cfu if bx < by else 1), Fb * (Cfu if by < bx else 1)
            rc = rt = ""
            if P >= 0:
                euler = lambda l, side: 0.822 * E * side**2 / l**2
                rc = (P / s[0] / 1472) ** 2 + fx / Fx / (1 - P / bx / by / euler(lx, bx)) + fy / Fy / (1 - P / bx / by / euler(ly, by))
            else:
                rt = -P / s[0] / 1056 + fx / Fx + fy / Fy
            allowed = lambda depth, beside, between, whole: min(Fv * beside * depth / 1.5 * (depth / whole) ** 2, Fv * between * depth / 1.5)
            rv = math.hypot(vx / allowed(*widths(bx, by, nx, ny, w, deep, house), bx), vy / allowed(*widths(by, bx, ny, nx, w, deep, house), by))
            way = lambda n: "knee braces" if n else "shear walls"
            faces = lambda n: "both" if n == 2 else "one"
            cell = lambda v: "" if v == "" else f"{v:.12g}"
            out.writerow([f"foot-{i + 1:02}", bx, by, way(nx), way(ny), faces(nx), faces(ny), w, deep, house, mx, my, vx, vy, lx, ly, E, P, 1472, 1056, 1200, 170, CD, 1, 1, 1, 1, Cfu, Ci,
                          *map(cell, (fx, fy, rc, rt, rv)), 1e-9, "rel", *SOURCE])
