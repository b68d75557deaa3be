"""Anchors worked line by line, from the clauses: every symbol of every sheet, and what each sheet hands to those that it uses.

Each function works one sheet with plain numbers in inches, pounds and psi and says what it comes to; those of whole bases call those
of the single modes, as a designer would. In each row all inputs differ, so that none can be taken for another."""
import math

from csvout import write


class Sheet:
    """What a sheet is given and what it comes to, each with its unit; what it uses; its limits; what it orders."""

    def __init__(self, name):
        self.name, self.values, self.used, self.limits, self.pieces, self.inputs = name, {}, {}, {}, {}, set()

    def _put(self, unit, values):
        for name, value in values.items():
            # A prime is written as a last underscore, a hyphen as two.
            name = name.replace("__", "-")
            self.values[name[:-1] + "'" if name.endswith("_") else name] = (value, unit)

    def inch(self, **values): self._put("in", values)
    def area(self, **values): self._put("in^2", values)
    def volume(self, **values): self._put("in^3", values)
    def lbf(self, **values): self._put("lbf", values)
    def psi(self, **values): self._put("psi", values)
    def inlb(self, **values): self._put("lbf in", values)
    def pcf(self, **values): self._put("pcf", values)
    def psf(self, **values): self._put("psf", values)
    def num(self, **values): self._put("", values)
    def text(self, **values): self._put(None, values)
    def field(self, unit, **values): self._put(unit, {f"field.{name}": value for name, value in values.items()})

    def given(self):
        """All that was put until here are inputs."""
        self.inputs = set(self.values)

    def use(self, sheet, name=None):
        self.used[name or sheet.name] = sheet
        return sheet

    def must(self, words, demand, capacity):
        ratio = max(0.0, demand / capacity) if capacity > 0 else None
        self.limits[words] = (demand <= capacity * (1 + 1e-9) if capacity > 0 else demand <= capacity, ratio)

    def fit(self, words, ok): self.limits[words] = (ok, None)
    def piece(self, words, what): self.pieces[words] = what

    def __getitem__(self, name): return self.values[name][0]

    def all(self):
        """Its own symbols, and what the sheets that it uses are given: these have rows of their own."""
        for name, (value, unit) in self.values.items():
            if name not in self.inputs: yield name, value, unit
        for used, sheet in self.used.items():
            for name in sheet.values:
                if name in sheet.inputs: yield f"{used}.{name}", *sheet.values[name]

    def all_pieces(self):
        found = {words: [what] for words, what in self.pieces.items()}
        for sheet in self.used.values():
            for words, what in sheet.all_pieces().items(): found.setdefault(words, []).extend(what)
        return found


def head(name, unit): return f"{name} [{unit}]" if unit else name


def line_by_line(sheet, about, source, cases, below=(), refused=(), tol=1e-6, asked=(), ordered=()):
    """Cases: an id, what is given and the sheet worked with it; limits that no case comes to are `asked`, lists without a piece `ordered`.
    `below` has the units of columns that only sheets below read, and how they are called here."""
    inputs, expects, rows, said = {}, {}, [], {name: unit for name, unit, _ in below}
    called = {name: column for name, _, column in below}
    words = list(dict.fromkeys([w for _, _, worked in cases for w in worked.limits] + list(asked)))
    orders = list(dict.fromkeys([w for _, _, worked in cases for w in worked.all_pieces()] + list(ordered)))
    for id, given, worked in cases:
        row = {"id": id, "tol": tol, "source": source, "kind": "independent"}
        for name, value in given.items():
            unit = said[name] if name in said else worked.values[name][1]
            name = called.get(name, name)
            inputs[head(name, unit)] = None
            row[name] = value
        for name, value, unit in worked.all():
            if value is None: continue
            expects[f"name: {name}" if unit is None else head(name, unit)] = None
            row["=" + (f"name: {name}" if unit is None else name)] = float(value) if unit is not None else value
        limits = worked.limits
        for w in words:
            ok, ratio = limits.get(w, (None, None))
            expects[f"verdict: {w}"] = None
            row[f"=verdict: {w}"] = "not asked" if ok is None else "met" if ok else "not met"
            if ratio is not None:
                expects[f"ratio: {w}"] = None
                row[f"=ratio: {w}"] = float(ratio)
        pieces = worked.all_pieces()
        for w in orders:
            expects[f"pieces: {w}"] = None
            row[f"=pieces: {w}"] = "; ".join(pieces.get(w, ["none"]))
        rows.append(row)
    for id, given, message in refused:
        given = {called.get(name, name): value for name, value in given.items()}
        for name in given: assert any(h.split(" [")[0] == name for h in inputs), name
        expects["refused"] = None
        rows.append({"id": id, "tol": tol, "source": source, "kind": "independent", "=refused": message, **given})
    write(f"{sheet}--line-by-line.csv", [f"{about}, line by line (oracle/{SCRIPT[0]})."], list(inputs), list(expects), rows)


SCRIPT = ["anchors_line_by_line.py"]

# --- single modes -----------------------------------------------------------------------------------------------------

PHI = {("steel", "ductile"): (0.75, 0.65), ("steel", "brittle"): (0.65, 0.60), ("pullout", "cast-in"): (0.70, 0.70), ("pullout", "category 1"): (0.65, 0.70),
       ("pullout", "category 2"): (0.55, 0.70), ("pullout", "category 3"): (0.45, 0.70)}
BREAKOUT = {"cast-in": (0.70, 0.75), "category 1": (0.65, 0.75), "category 2": (0.55, 0.65), "category 3": (0.45, 0.55)}
def phi_breakout(category, supplementary): return BREAKOUT[category][supplementary == "yes"]

ROUND = math.sqrt(math.pi) / 2  # side of the square of equal area over the diameter

def equal_square(shape, x, y):
    p = Sheet("equal-square")
    p.text(shape=shape); p.inch(x=x, y=y); p.given()
    k = ROUND if shape == "round" else 1
    p.num(k_r=k); p.inch(b_x=k * x, b_y=k * y)
    return p

def group(plan, B, D, d_a, n_x, n_y, s_x, s_y, plate_x=0.0, plate_y=0.0):
    p = Sheet("anchor-group")
    p.text(plan=plan); p.inch(B=B, D=D, d_a=d_a, s_x=s_x, s_y=s_y, plate_x=plate_x, plate_y=plate_y); p.num(n_x=n_x, n_y=n_y); p.given()
    e = p.use(equal_square(plan, B, D))
    run_x, run_y = (n_x - 1) * s_x, (n_y - 1) * s_y
    q_x, q_y = (e["b_x"] - run_x) / 2, (e["b_y"] - run_y) / 2
    out = (B - math.hypot(run_x, run_y)) / 2 if plan == "round" else min(q_x, q_y)
    corners = plan == "round" and n_x > 1 and n_y > 1
    p.num(k_r=e["k_r"], n=n_x * n_y)
    p.inch(b_x=e["b_x"], b_y=e["b_y"], q_x=q_x, q_y=q_y, c_out=out, c_x=min(q_x, out) if corners else q_x, c_y=min(q_y, out) if corners else q_y,
           s=s_x if n_y == 1 else s_y if n_x == 1 else min(s_x, s_y), outline=B if plan == "round" else 0.0)
    p.fit("the corners of the plate are on the round pier", plan != "round" or math.hypot(plate_x, plate_y) <= B)
    return p

THREADS = {0.375: (16, 0.164, 0.299), 0.5: (13, 0.291, 0.467), 0.625: (11, 0.454, 0.671), 0.75: (10, 0.654, 0.911), 0.875: (9, 0.891, 1.188), 1.0: (8, 1.163, 1.501)}
GRADES = {"F1554 Grade 36": (36e3, 58e3), "F1554 Grade 55": (55e3, 75e3), "F1554 Grade 105": (105e3, 125e3)}

def rod(d_a, grade, head):
    p = Sheet("anchor-rod")
    p.inch(d_a=d_a); p.text(grade=grade, head=head); p.given()
    n_t, hex_, heavy = THREADS[d_a]
    f_ya, f_uta = GRADES[grade]
    across = {"hex": 1.5 * d_a / math.cos(math.pi / 6), "heavy hex": (1.5 * d_a + 1 / 8) / math.cos(math.pi / 6), "hook": d_a}[head]
    p.num(n_t=n_t); p.psi(f_ya=f_ya, f_uta=f_uta); p.text(ductile="yes"); p.inch(w_head=across)
    p.area(A_se=math.pi * (d_a - 0.9743 / n_t) ** 2 / 4, A_brg={"hex": hex_, "heavy hex": heavy, "hook": 0.0}[head])
    return p

MULTIPLES = {("cast-in", "no"): (4, 0, 0), ("cast-in", "yes"): (6, 6, 0), "torque-controlled": (6, 8, 4), "displacement-controlled": (6, 10, 4), "screw": (6, 6, 4),
             "undercut": (6, 6, 2.5), "adhesive": (6, 6, 2)}

def spacing(anchor, d_a, h_ef, n, s, c, h_a, torqued="no", sides="weather", s_rep=0.0, c_rep=0.0, h_rep=0.0, c_ac_rep=0.0, w_head=0.0, d_agg=1.0):
    p = Sheet("anchor-spacing")
    p.text(anchor=anchor, torqued=torqued, sides=sides); p.num(n=n)
    p.inch(d_a=d_a, h_ef=h_ef, s=s, c=c, h_a=h_a, s_rep=s_rep, c_rep=c_rep, h_rep=h_rep, c_ac_rep=c_ac_rep, w_head=w_head, d_agg=d_agg); p.given()
    cast = anchor == "cast-in"
    tight = torqued if cast else "yes"
    k_s, k_c, k_ac = MULTIPLES[anchor, tight] if cast else MULTIPLES[anchor]
    cover = 3.0 if sides == "earth" else 1.5 if sides == "indoors" or d_a <= 0.625 else 2.0
    c_tab, c_agg = (k_c * d_a, 0.0) if cast else (c_rep or k_c * d_a, 2 * d_agg)
    s_min = k_s * d_a if cast else s_rep or k_s * d_a
    c_min = max(cover + max(d_a, w_head) / 2, c_tab, c_agg)
    p.text(tight=tight); p.num(k_s=k_s, k_c=k_c, k_ac=k_ac)
    p.inch(c_c=cover, s_min=s_min, c_tab=c_tab, c_agg=c_agg, c_min=c_min, c_ac=c_ac_rep or k_ac * h_ef)
    if n > 1: p.must("spacing of the anchors", s_min, s)
    p.must("edge distance of the anchors", c_min, c)
    if cast: p.fit("the heads are inside the concrete", h_ef + d_a <= h_a)
    else:
        p.must("minimum depth of concrete in the report", h_rep, h_a)
        if anchor == "adhesive":
            p.must("minimum embedment of an adhesive anchor", 4 * d_a, h_ef)
            p.must("maximum embedment of an adhesive anchor", h_ef, 20 * d_a)
        else:
            lim = max(2 / 3 * h_a, h_a - 4)
            p.inch(h_lim=lim)
            p.must("embedment for this depth of concrete", h_ef, lim)
            if anchor == "screw":
                p.must("minimum embedment of a screw anchor", max(1.5, 5 * d_a), h_ef)
                p.must("maximum embedment of a screw anchor", h_ef, 10 * d_a)
    return p

def seismic(sdc, N_ua, N_E, V_ua, V_E, route_N="none", route_V="none", Omega_0=1.0, overstrength="no", N_lim=0.0, V_lim=0.0, N_s=0.0, N_c=0.0, l_s=0.0, d_a=1.0, f_ratio=0.0):
    p = Sheet("anchor-seismic")
    p.text(sdc=sdc, route_N=route_N, route_V=route_V, overstrength=overstrength); p.lbf(N_ua=N_ua, N_E=N_E, V_ua=V_ua, V_E=V_E, N_lim=N_lim, V_lim=V_lim, N_s=N_s, N_c=N_c)
    p.num(Omega_0=Omega_0, f_ratio=f_ratio); p.inch(l_s=l_s, d_a=d_a); p.given()
    high = sdc in "CDEF"
    is_N, is_V = high and N_E > N_ua / 5, high and V_E > V_ua / 5
    by_limit = ("attachment yields", "largest force")
    # In the combinations of the overstrength route only what takes that route is designed.
    out = overstrength == "anchors" and not (is_N and route_N == "overstrength" or is_V and route_V == "overstrength")
    N_u = 0.0 if out else N_lim if is_N and route_N in by_limit else N_ua
    V_u = 0.0 if out else V_lim if is_V and route_V in by_limit else V_ua
    said = lambda yes: "yes" if yes else "no"
    p.text(high=said(high), seismic_N=said(is_N), seismic_V=said(is_V), counts=said(not out)); p.lbf(N_u=N_u, V_u=V_u)
    if is_N:
        p.fit("seismic design route for tension", route_N != "none")
        if route_N == "overstrength": p.fit("overstrength factor", Omega_0 > 1)
        if route_N in by_limit and overstrength == "no": p.must("tension that the attachment or the structure can deliver", N_ua, N_u)
        if route_N == "ductile anchor":
            p.must("concrete stronger than 1.2 times the steel", 1.2 * N_s, N_c)
            p.fit("steel strength is given", N_s > 0)
            p.must("stretch length", 8 * d_a, l_s)
            p.must("ratio of tensile to yield strength of threaded rods", 1.3, f_ratio)
    if is_V:
        p.fit("seismic design route for shear", route_V != "none")
        if route_V == "overstrength": p.fit("overstrength factor, shear", Omega_0 > 1)
        if route_V in by_limit and overstrength == "no": p.must("shear that the attachment or the structure can deliver", V_ua, V_u)
    return p

def loads(P_u, H_x, H_y, sdc, N_E=0.0, V_E=0.0, Omega_0=1.0, overstrength="no"):
    p = Sheet("anchor-loads")
    p.lbf(P_u=P_u, H_x=H_x, H_y=H_y, N_E=N_E, V_E=V_E); p.text(sdc=sdc, overstrength=overstrength); p.num(Omega_0=Omega_0); p.given()
    N, V = -min(0.0, P_u), math.hypot(H_x, H_y)
    route = "overstrength" if Omega_0 > 1 else "none"
    e = p.use(seismic(sdc, N, N_E, V, V_E, route, route, Omega_0, overstrength))
    k = e["V_u"] / V if V else 1.0
    p.lbf(N_ua=N, V_ua=V, N_u=e["N_u"], V_u=e["V_u"], V_x=k * abs(H_x), V_y=k * abs(H_y)); p.num(k_V=k); p.text(route=route, seismic_N=e["seismic_N"])
    return p

def standoff(A_se, F_y, l_gap, N_ua, V_ua, C_ua):
    p = Sheet("anchor-standoff")
    p.area(A_se=A_se); p.psi(F_y=F_y); p.inch(l_gap=l_gap); p.lbf(N_ua=N_ua, V_ua=V_ua, C_ua=C_ua); p.given()
    d = 2 * math.sqrt(A_se / math.pi)
    arm = l_gap + d / 2
    M, Z, S = V_ua * arm / 2, d ** 3 / 6, math.pi * d ** 3 / 32
    M_c, P_r, P_c = 0.9 * F_y * min(Z, 1.6 * S), max(N_ua, C_ua), 0.9 * F_y * A_se
    r = P_r / P_c + 8 * M / M_c / 9 if P_r / P_c >= 0.2 else P_r / P_c / 2 + M / M_c
    s_r = 1.2 * l_gap * 4 / d
    p.inch(d_e=d, l_v=arm); p.inlb(M_u=M, M_c=M_c); p.volume(Z=Z, S=S); p.lbf(P_r=P_r, P_c=P_c); p.num(s_r=s_r, r=r)
    p.must("slenderness of the free-standing rods", s_r, 25)
    p.must("axial force and bending in the free-standing rods", r, 1)
    return p

def steel(A_se, f_ya, f_uta, N_ua, V_ua, C_ua=0.0, ductile="yes", shank="rod", gap="none", l_gap=0.0):
    p = Sheet("anchor-steel")
    p.area(A_se=A_se); p.psi(f_ya=f_ya, f_uta=f_uta); p.text(ductile=ductile, shank=shank, gap=gap); p.inch(l_gap=l_gap); p.lbf(N_ua=N_ua, V_ua=V_ua, C_ua=C_ua); p.given()
    f_u = min(f_uta, 1.9 * f_ya, 125e3)
    k_V, k_g = 1.0 if shank == "stud" else 0.6, 0.8 if gap == "grout" else 1.0
    kind = "ductile" if ductile == "yes" else "brittle"
    phi_N, phi_V = PHI["steel", kind]
    N_sa, V_sa = A_se * f_u, k_V * k_g * A_se * f_u
    p.psi(f_u=f_u); p.lbf(N_sa=N_sa, V_sa=V_sa, N_d=phi_N * N_sa, V_d=phi_V * V_sa); p.text(**{"class": kind})
    p.num(k_V=k_V, k_g=k_g, phi_N=phi_N, phi_V=phi_V, r_N=N_ua / (phi_N * N_sa), r_V=V_ua / (phi_V * V_sa))
    p.must("tension on the steel of an anchor", N_ua, phi_N * N_sa)
    p.must("shear on the steel of an anchor", V_ua, phi_V * V_sa)
    if gap == "open": p.use(standoff(A_se, f_ya, l_gap, N_ua, V_ua, C_ua))
    return p

def steel_report(N_sa, V_sa, ductile, N_ua, V_ua, grouted="no"):
    p = Sheet("anchor-steel-report")
    p.lbf(N_sa=N_sa, V_sa=V_sa, N_ua=N_ua, V_ua=V_ua); p.text(ductile=ductile, grouted=grouted); p.given()
    kind = "ductile" if ductile == "yes" else "brittle"
    phi_N, phi_V = PHI["steel", kind]
    k_g = 0.8 if grouted == "yes" else 1.0
    N_d, V_d = phi_N * N_sa, phi_V * k_g * V_sa
    p.text(**{"class": kind}); p.num(phi_N=phi_N, phi_V=phi_V, k_g=k_g, r_N=N_ua / N_d, r_V=V_ua / V_d); p.lbf(N_d=N_d, V_d=V_d)
    p.must("tension on the steel of an anchor", N_ua, N_d)
    p.must("shear on the steel of an anchor", V_ua, V_d)
    return p

def breakout(f_c, h_ef, k_c, n_x, n_y, s_x, s_y, c_x1, c_x2, c_y1, c_y2, N_ua, e_N=0.0, cracked="yes", c_ac=0.0, lambda_a=1.0, category="cast-in", supplementary="no", headed="no", seismic="no"):
    p = Sheet("anchor-breakout")
    p.psi(f_c_=f_c); p.inch(h_ef=h_ef, s_x=s_x, s_y=s_y, c_x1=c_x1, c_x2=c_x2, c_y1=c_y1, c_y2=c_y2, e_N=e_N, c_ac=c_ac); p.num(k_c=k_c, n_x=n_x, n_y=n_y, lambda_a=lambda_a)
    p.text(cracked=cracked, category=category, supplementary=supplementary, headed=headed, seismic=seismic); p.lbf(N_ua=N_ua); p.given()
    edges = sorted((c_x1, c_x2, c_y1, c_y2))
    # With three or four edges within 1.5 h_ef the depth is reduced; the edge that is the last to be near tells.
    pairs = sorted(((c_x1, c_x2), (c_y1, c_y2)), key=max)
    third = max(max(pairs[0]), min(pairs[1]))
    spaced = [s for n, s in ((n_x, s_x), (n_y, s_y)) if n > 1]
    s_max = max(spaced, default=0.0)
    c_a_max = edges[-1] if edges[-1] < 1.5 * h_ef else third
    h = min(h_ef, max(c_a_max / 1.5, s_max / 3)) if third < 1.5 * h_ef else h_ef
    spread = 1.5 * h
    across = lambda c1, c2, n, s: min(c1, spread) + min(c2, spread) + (n - 1) * min(s, 2 * spread)
    b_x, b_y = across(c_x1, c_x2, n_x, s_x), across(c_y1, c_y2, n_y, s_y)
    near = edges[0]
    psi_ed = min(1.0, 0.7 + 0.3 * near / spread)
    psi_ec = spread / (spread + e_N)
    post = category != "cast-in" or k_c < 24
    psi_c = 1.0 if cracked == "yes" else 1.25 if not post else 1.4 if k_c <= 17 else 1.0
    psi_cp = 1.0 if cracked == "yes" or not post else min(1.0, max(near, 1.5 * h_ef) / c_ac)
    N_b = k_c * lambda_a * math.sqrt(f_c) * h ** 1.5
    if headed == "yes" and 11 <= h <= 25:
        deep = 16 * lambda_a * math.sqrt(f_c) * h ** (5 / 3)
        p.lbf(N_b1=N_b, N_b3=deep)
        if not post: N_b = max(N_b, deep)
    phi = phi_breakout(category, supplementary)
    k_E = 0.75 if seismic == "yes" else 1.0
    N_cbg = b_x * b_y / (9 * h * h) * psi_ec * psi_ed * psi_c * psi_cp * N_b
    N_d = k_E * phi * N_cbg
    p.inch(c_max=edges[-1], c_next=third, c_a_max=c_a_max, s_max=s_max, h_ef_=h, b_x=b_x, b_y=b_y, c_a_min=near); p.area(A_Nc=b_x * b_y, A_Nco=9 * h * h)
    p.num(psi_ed=psi_ed, psi_ec=psi_ec, psi_c=psi_c, psi_cp=psi_cp, phi=phi, k_E=k_E, r_N=N_ua / N_d); p.text(installed="post-installed" if post else "cast-in"); p.lbf(N_b=N_b, N_cbg=N_cbg, N_d=N_d)
    if n_x * n_y > 1: p.fit("spacing at which anchors act as a group", s_max <= 3 * h_ef)
    if post:
        p.fit("category of a post-installed anchor", category != "cast-in")
        p.must("concrete strength at a post-installed anchor", f_c, 8000)
    p.must("concrete breakout in tension", N_ua, N_d)
    return p

def pullout(f_c, grip, N_ua, A_brg=0.0, d_a=0.0, e_h=0.0, N_p_rep=0.0, n_rep=0.0, cracked="yes", category="cast-in", seismic="no"):
    p = Sheet("anchor-pullout")
    p.psi(f_c_=f_c); p.text(grip=grip, cracked=cracked, category=category, seismic=seismic); p.area(A_brg=A_brg); p.inch(d_a=d_a, e_h=e_h); p.lbf(N_p_rep=N_p_rep, N_ua=N_ua); p.num(n_rep=n_rep)
    p.given()
    N_p = {"headed": lambda: 8 * A_brg * f_c, "hooked": lambda: 0.9 * f_c * e_h * d_a, "by report": lambda: N_p_rep * (f_c / 2500) ** n_rep}[grip]()
    psi = 1.4 if cracked == "no" and grip != "by report" else 1.0
    phi, k_E = PHI["pullout", category][0], 0.75 if seismic == "yes" else 1.0
    N_d = k_E * phi * psi * N_p
    p.lbf(N_p=N_p, N_pn=psi * N_p, N_d=N_d); p.num(psi_cP=psi, phi=phi, k_E=k_E, r_N=N_ua / N_d)
    if grip == "by report": p.fit("category of a post-installed anchor", category != "cast-in")
    p.must("pullout of an anchor", N_ua, N_d)
    return p

def blowout(f_c, A_brg, h_ef, c_a1, c_a2, n, s, N_ua, lambda_a=1.0, supplementary="no", seismic="no"):
    p = Sheet("anchor-blowout")
    p.psi(f_c_=f_c); p.area(A_brg=A_brg); p.inch(h_ef=h_ef, c_a1=c_a1, c_a2=c_a2, s=s); p.num(n=n, lambda_a=lambda_a); p.text(supplementary=supplementary, seismic=seismic); p.lbf(N_ua=N_ua); p.given()
    if h_ef <= 2.5 * c_a1:
        p.num(r_N=0.0)
        return p
    one = 160 * c_a1 * math.sqrt(A_brg * f_c) * lambda_a
    q = c_a2 / c_a1
    corner = min(q, 3.0) / 4 + 1 / 4
    # A row acts as a group up to a spacing of 6 c_a1; then each anchor for itself, less near a corner.
    row = one * corner * n if n == 1 or s >= 6 * c_a1 else one * (1 + (n - 1) * s / (6 * c_a1))
    phi, k_E = phi_breakout("cast-in", supplementary), 0.75 if seismic == "yes" else 1.0
    N_d = k_E * phi * row
    p.lbf(N_sb=one, N_sbg=row, N_d=N_d); p.num(q=q, phi=phi, k_E=k_E, r_N=N_ua / N_d)
    p.must("side-face blowout", N_ua, N_d)
    return p

BARS = {"No. 3": (0.375, 0.11), "No. 4": (0.5, 0.20), "No. 5": (0.625, 0.31), "No. 6": (0.75, 0.44), "No. 7": (0.875, 0.60), "No. 8": (1.0, 0.79), "20M": (19.5 / 25.4, 300 / 25.4 ** 2)}

def development(bar, f_y, f_c, c_b, lam=1.0, hook_s=0.0, hook_c=0.0):
    p = Sheet("bar-development")
    p.text(bar=bar); p.psi(f_y=f_y, f_c_=f_c); p.inch(c_b=c_b, hook_s=hook_s, hook_c=hook_c); p.num(**{"lambda": lam}); p.given()
    d_b, A_b = BARS[bar]
    psi_s, q = 0.8 if d_b <= 0.75 else 1.0, min(2.5, c_b / d_b)
    k_d = 3 * f_y * psi_s / (40 * lam * math.sqrt(f_c) * q)
    psi_c = min(1.0, f_c / 15000 + 0.6)
    psi_r, psi_o = 1.0 if hook_s >= 6 * d_b else 1.6, 1.0 if hook_c >= 6 * d_b else 1.25
    l_hb = f_y * psi_r * psi_o * psi_c * d_b ** 1.5 / (55 * lam * math.sqrt(f_c))
    p.area(A_b=A_b); p.inch(d_b=d_b, l_d=max(12.0, k_d * d_b), l_hb=l_hb, l_dh=max(6.0, 8 * d_b, l_hb)); p.num(psi_s=psi_s, q=q, k_d=k_d, psi_c=psi_c, psi_r=psi_r, psi_o=psi_o)
    return p

def reinforcement(bar, n_bars, f_y, f_c, c_b, h_ef, g, c_top, top, l_bar, N_ua, lam=1.0):
    p = Sheet("anchor-reinforcement")
    p.text(bar=bar, top=top); p.num(n_bars=n_bars, **{"lambda": lam}); p.psi(f_y=f_y, f_c_=f_c); p.inch(c_b=c_b, h_ef=h_ef, g=g, c_top=c_top, l_bar=l_bar); p.lbf(N_ua=N_ua); p.given()
    b = p.use(development(bar, f_y, f_c, c_b, lam))
    up = h_ef - c_top - 2 * g / 3
    need = b["l_d"] if top == "straight" else b["l_dh"]
    N_d = 0.75 * n_bars * b["A_b"] * f_y
    p.inch(l_up=up, l_down=l_bar - up, l_need=need); p.lbf(N_d=N_d); p.num(r_N=N_ua / N_d)
    p.must("development of the bars above the breakout surface", need, up)
    p.must("development of the bars below the breakout surface", b["l_d"], l_bar - up)
    p.must("distance of the bars from the anchors", g, h_ef / 2)
    p.must("tension in the bars", N_ua, N_d)
    return p

def shear_breakout(f_c, d_a, l_e, h_a, c_a1, c_a2_1, c_a2_2, n, s, V_ua, V_par, cracked="yes", lambda_a=1.0, e_V=0.0, edge_bars="none", supplementary="no"):
    p = Sheet("anchor-shear-breakout")
    p.psi(f_c_=f_c); p.inch(d_a=d_a, l_e=l_e, h_a=h_a, c_a1=c_a1, c_a2_1=c_a2_1, c_a2_2=c_a2_2, s=s, e_V=e_V); p.num(n=n, lambda_a=lambda_a)
    p.text(cracked=cracked, edge_bars=edge_bars, supplementary=supplementary); p.lbf(V_ua=V_ua, V_par=V_par); p.given()
    side, wide = sorted((c_a2_1, c_a2_2))
    s_max = s if n > 1 else 0.0
    c = min(c_a1, max(wide, h_a, s_max / 2) / 1.5) if max(wide, h_a) < 1.5 * c_a1 else c_a1
    spread = 1.5 * c
    b = min(c_a2_1, spread) + min(c_a2_2, spread) + (n - 1) * min(s, 2 * spread)
    psi_ed, psi_ec = min(1.0, 0.7 + 0.3 * side / spread), spread / (spread + e_V)
    psi_c = 1.4 if cracked == "no" else {"none": 1.0, "No. 4": 1.2, "No. 4 in stirrups": 1.4}[edge_bars]
    psi_h = max(1.0, math.sqrt(spread / h_a))
    l = min(l_e, 8 * d_a)
    root = lambda_a * math.sqrt(f_c) * c ** 1.5
    V_b7, V_b9 = 7 * (l / d_a) ** 0.2 * math.sqrt(d_a) * root, 9 * root
    A_Vc, A_Vco = b * min(h_a, spread), 4.5 * c * c
    V = A_Vc / A_Vco * psi_ec * psi_ed * psi_c * psi_h * min(V_b7, V_b9)
    phi = phi_breakout("cast-in", supplementary)
    p.inch(c_a2_max=wide, s_max=s_max, c_a1_=c, b=b, c_a2=side, l_e_=l); p.area(A_Vc=A_Vc, A_Vco=A_Vco)
    p.lbf(V_b7=V_b7, V_b9=V_b9, V_b=min(V_b7, V_b9), V_cbg=V, V_d=phi * V); p.num(psi_ed=psi_ed, psi_ec=psi_ec, psi_c=psi_c, psi_h=psi_h, phi=phi)
    if n > 1: p.fit("spacing at which the row acts as a group", s <= 3 * c_a1)
    p.must("concrete breakout in shear toward the edge", V_ua, phi * V)
    r = V_ua / (phi * V)
    if V_par > 0:
        along = 2 * V / psi_ed
        r += V_par / (phi * along)
        p.lbf(V_cbg_par=along, V_d_par=phi * along)
        p.must("shear toward and along the edge together", r, 1)
    p.num(r_V=r)
    return p

def pryout(h_ef, N_cp, V_ua):
    p = Sheet("anchor-pryout")
    p.inch(h_ef=h_ef); p.lbf(N_cp=N_cp, V_ua=V_ua); p.given()
    k = 1 if h_ef < 2.5 else 2
    V_d = 0.70 * k * N_cp
    p.num(k_cp=k, phi=0.70, r_V=V_ua / V_d); p.lbf(V_cp=k * N_cp, V_d=V_d)
    p.must("pryout", V_ua, V_d)
    return p

def shear(f_c, d_a, h_ef, h_a, c_x, c_y, n_x, n_y, s_x, s_y, cracked, supplementary, N_cp, V_u, V_x, V_y, r_s):
    p = Sheet("anchor-shear")
    p.psi(f_c_=f_c); p.inch(d_a=d_a, h_ef=h_ef, h_a=h_a, c_x=c_x, c_y=c_y, s_x=s_x, s_y=s_y); p.num(n_x=n_x, n_y=n_y, r_s=r_s); p.text(cracked=cracked, supplementary=supplementary)
    p.lbf(N_cp=N_cp, V_u=V_u, V_x=V_x, V_y=V_y); p.given()
    if V_u <= 0:
        p.num(r_V=0.0)
        return p
    # All of what pushes toward an edge is on the row nearest to it; what goes along an edge is shared by the rows.
    x = p.use(shear_breakout(f_c, d_a, h_ef, h_a, c_x, c_y, c_y, n_y, s_y, V_x, V_y / n_x, cracked, supplementary=supplementary), "edge-x")
    y = p.use(shear_breakout(f_c, d_a, h_ef, h_a, c_y, c_x, c_x, n_x, s_x, V_y, V_x / n_y, cracked, supplementary=supplementary), "edge-y")
    o = p.use(pryout(h_ef, N_cp, V_u))
    p.num(r_V=max(r_s, x["r_V"], y["r_V"], o["r_V"]))
    return p

def interaction(r_N, r_V):
    p = Sheet("anchor-interaction")
    p.num(r_N=r_N, r_V=r_V); p.given()
    both = min(r_N, r_V) > 0.2
    p.num(r=r_N + r_V if both else max(r_N, r_V))
    if both: p.must("tension and shear together", r_N + r_V, 1.2)
    else: p.must("tension and shear, each alone", max(r_N, r_V), 1)
    return p

# --- whole bases ------------------------------------------------------------------------------------------------------

def position(p, plan, B, D, d_a, n_x, n_y, s_x, s_y, plate_x, plate_y):
    g = p.use(group(plan, B, D, d_a, n_x, n_y, s_x, s_y, plate_x, plate_y))
    p.num(k_r=g["k_r"], n=g["n"]); p.inch(**{name: g[name] for name in ("b_x", "b_y", "c_x", "c_y", "c_out", "s", "outline")})
    return g

def loaded(p, P_u, H_x, H_y, sdc, N_E, V_E, Omega_0, overstrength):
    l = p.use(loads(P_u, H_x, H_y, sdc, N_E, V_E, Omega_0, overstrength))
    p.lbf(**{name: l[name] for name in ("N_ua", "V_ua", "V_x", "V_y", "N_u", "V_u")}); p.num(k_V=l["k_V"]); p.text(route=l["route"])
    return l

def cast(f_c, plan, B, D, h_a, d_a, grade, head, h_ef, n_x, n_y, s_x, s_y, P_u, H_x, H_y, sdc, sides="earth", cracked="yes", supplementary="no", tension_by="concrete", bar=None, n_bars=1,
         bar_side=None, bar_off=None, bar_top=None, bar_end=None, bar_long=None, e_h=0.0, torqued="no", gap="none", l_gap=0.0, plate_x=0.0, plate_y=0.0, N_E=0.0, V_E=0.0, Omega_0=1.0,
         overstrength="no"):
    p = Sheet("cast-anchors")
    p.psi(f_c_=f_c)
    p.inch(B=B, D=D, h_a=h_a, d_a=d_a, h_ef=h_ef, s_x=s_x, s_y=s_y, e_h=e_h, l_gap=l_gap, plate_x=plate_x, plate_y=plate_y, bar_side=bar_side, bar_off=bar_off, bar_top=bar_top, bar_long=bar_long)
    p.text(plan=plan, sides=sides, cracked=cracked, supplementary=supplementary, tension_by=tension_by, bar=bar, bar_end=bar_end, grade=grade, head=head, torqued=torqued, gap=gap, sdc=sdc,
           overstrength=overstrength)
    p.num(n_bars=n_bars, n_x=n_x, n_y=n_y, Omega_0=Omega_0); p.lbf(P_u=P_u, H_x=H_x, H_y=H_y, N_E=N_E, V_E=V_E); p.given()
    g = position(p, plan, B, D, d_a, n_x, n_y, s_x, s_y, plate_x, plate_y)
    n, c_x, c_y = g["n"], g["c_x"], g["c_y"]
    r = p.use(rod(d_a, grade, head))
    p.use(spacing("cast-in", d_a, h_ef, n, g["s"], g["c_out"], h_a, torqued, sides, w_head=r["w_head"]))
    l = loaded(p, P_u, H_x, H_y, sdc, N_E, V_E, Omega_0, overstrength)
    N_u, V_u, quake = l["N_u"], l["V_u"], l["seismic_N"]
    C_n = max(0.0, P_u) / n if gap == "open" else 0.0
    s = p.use(steel(r["A_se"], r["f_ya"], r["f_uta"], N_u / n, V_u / n, C_n, gap=gap, l_gap=l_gap))
    crack = "yes" if quake == "yes" else cracked
    N_c = 0.0 if tension_by == "bars" else N_u
    b = p.use(breakout(f_c, h_ef, 24, n_x, n_y, s_x, s_y, c_x, c_x, c_y, c_y, N_c, cracked=crack, supplementary=supplementary, seismic=quake))
    p.lbf(C_n=C_n, N_c=N_c); p.text(crack=crack); p.inch(reach=1.5 * b["h_ef'"])
    if N_u > 0:
        grip = "hooked" if head == "hook" else "headed"
        p.text(grip=grip)
        o = p.use(pullout(f_c, grip, N_u / n, r["A_brg"], d_a, e_h, cracked=crack, seismic=quake))
        r_s = 0.0
        if head != "hook":
            # The row along the nearest edge, and that along the farther one.
            near, far = ((c_x, n_y, s_y), (c_y, n_x, s_x)) if c_x <= c_y else ((c_y, n_x, s_x), (c_x, n_y, s_y))
            side = p.use(blowout(f_c, r["A_brg"], h_ef, near[0], far[0], near[1], near[2], N_u * near[1] / n, supplementary=supplementary, seismic=quake))
            p.num(n_e=near[1], n_f=far[1], r_f=0.0); p.inch(s_e=near[2])
            if far[1] > 1:
                other = p.use(blowout(f_c, r["A_brg"], h_ef, far[0], far[0], far[1], far[2], N_u * far[1] / n, supplementary=supplementary, seismic=quake), "blowout-far")
                p.inch(s_f=far[2]); p.num(r_f=other["r_N"])
            r_s = max(side["r_N"], p["r_f"])
        if tension_by == "bars":
            p.psi(f_y=60e3)
            r_c = p.use(reinforcement(bar, n_bars, 60e3, f_c, bar_side, h_ef, bar_off, bar_top, bar_end, bar_long, N_u))["r_N"]
        else: r_c = b["r_N"]
        p.num(r_s=r_s, r_c=r_c, r_N=max(s["r_N"], r_c, o["r_N"], r_s))
    else: p.num(r_N=0.0)
    v = p.use(shear(f_c, d_a, h_ef, h_a, c_x, c_y, n_x, n_y, s_x, s_y, cracked, supplementary, b["N_cbg"], V_u, l["V_x"], l["V_y"], s["r_V"]))
    p.num(r_V=v["r_V"])
    p.use(interaction(p["r_N"], v["r_V"]))
    return p

def screws(f_c, plan, B, D, h_a, d_a, n_x, n_y, s_x, s_y, h_ef, k_c, category, N_sa, V_sa, ductile, c_ac, s_min, c_min, h_min, seismic_ok, P_u, H_x, H_y, sdc, pullout_="does not govern", N_p=0.0,
           n_p=0.0,
           sides="earth", cracked="yes", grouted="no", plate_x=0.0, plate_y=0.0, N_E=0.0, V_E=0.0, Omega_0=1.0, overstrength="no"):
    p = Sheet("screw-anchors")
    p.psi(f_c_=f_c); p.inch(B=B, D=D, h_a=h_a, d_a=d_a, s_x=s_x, s_y=s_y, h_ef=h_ef, c_ac=c_ac, s_min=s_min, c_min=c_min, h_min=h_min, plate_x=plate_x, plate_y=plate_y)
    p.text(plan=plan, sides=sides, cracked=cracked, grouted=grouted, category=category, pullout=pullout_, ductile=ductile, seismic_ok=seismic_ok, sdc=sdc, overstrength=overstrength)
    p.num(n_x=n_x, n_y=n_y, k_c=k_c, n_p=n_p, Omega_0=Omega_0); p.lbf(N_p=N_p, N_sa=N_sa, V_sa=V_sa, P_u=P_u, H_x=H_x, H_y=H_y, N_E=N_E, V_E=V_E); p.given()
    g = position(p, plan, B, D, d_a, n_x, n_y, s_x, s_y, plate_x, plate_y)
    n, c_x, c_y = g["n"], g["c_x"], g["c_y"]
    p.use(spacing("screw", d_a, h_ef, n, g["s"], g["c_out"], h_a, "no", sides, s_min, c_min, h_min, c_ac))
    if sdc in "CDEF": p.fit("screw anchors in SDC C and up", seismic_ok == "yes")
    l = loaded(p, P_u, H_x, H_y, sdc, N_E, V_E, Omega_0, overstrength)
    N_u, V_u, quake = l["N_u"], l["V_u"], l["seismic_N"]
    if quake == "yes": p.fit("concrete taken as cracked with earthquake in the tension", cracked == "yes")
    s = p.use(steel_report(N_sa, V_sa, ductile, N_u / n, V_u / n, grouted))
    b = p.use(breakout(f_c, h_ef, k_c, n_x, n_y, s_x, s_y, c_x, c_x, c_y, c_y, N_u, cracked=cracked, c_ac=c_ac, category=category, seismic=quake))
    p.inch(reach=1.5 * b["h_ef'"])
    if N_u > 0:
        r_p = p.use(pullout(f_c, "by report", N_u / n, N_p_rep=N_p, n_rep=n_p, cracked=cracked, category=category, seismic=quake))["r_N"] if pullout_ == "given" else 0.0
        p.num(r_p=r_p, r_N=max(s["r_N"], b["r_N"], r_p))
    else: p.num(r_N=0.0)
    v = p.use(shear(f_c, d_a, h_ef, h_a, c_x, c_y, n_x, n_y, s_x, s_y, cracked, "no", b["N_cbg"], V_u, l["V_x"], l["V_y"], s["r_V"]))
    p.num(r_V=v["r_V"])
    p.use(interaction(p["r_N"], v["r_V"]))
    return p

def size(value): return f"{value:.6g} in"

def rods(d_a, h_ef, rod_grade, head, finish, n, plate_t, room, e_h=0.0, gap="none", grout_thick=0.0):
    p = Sheet("rod-order")
    p.inch(d_a=d_a, h_ef=h_ef, e_h=e_h, grout_thick=grout_thick, plate_t=plate_t, room=room); p.text(rod_grade=rod_grade, head=head, finish=finish, gap=gap); p.num(n=n); p.given()
    bed = grout_thick if gap == "grout" else 0.0
    p.inch(bed=bed)
    p.field(None, grade=rod_grade, coat=finish, lower=head)
    if head == "hook": p.field("in", tip=e_h)
    if plate_t > 0:
        # Above the plate a washer of 3/16 in and a nut as high as the rod is thick; below it half of the room, and the nut below a head that is ordered as a nut.
        low = bed + plate_t + 3 / 16 + d_a
        high = bed + plate_t + room if room > 0 else low + 1
        long = math.ceil(4 * (h_ef + (low + high) / 2 + d_a + (0.0 if head == "hook" else 0.25)) - 1e-9) / 4
        p.field("in", low=low, high=high, long=long)
        if head == "hook": p.piece("anchors: hooked rod", f"{n} of {size(d_a)}, {size(long)}, {size(e_h)}, {rod_grade}, {finish}")
        else: p.piece("anchors: rod", f"{n} of {size(d_a)}, {size(long)}, {rod_grade}, {finish}")
    else:
        p.piece("anchors: rod, diameter by embedment: add the plate that the report names, nut and projection", f"{n} of {size(d_a)}, {size(h_ef)}, {rod_grade}, {finish}")
        p.field("in", above=d_a + 3 / 16)
    for what in ("nut", "washer"): p.piece(f"anchors: {what}", f"{n} of {size(d_a)}, {finish}")
    if head != "hook": p.piece("anchors: nut below", f"{n} of {size(d_a)}, {head}, {finish}")
    return p

def drilled(gap, V_E, hole_d, hole_deep, n, anchor_name, torque, **base):
    p = Sheet("drilled-anchors")
    p.text(gap=gap, anchor_name=anchor_name); p.lbf(V_E=V_E); p.inch(d_a=base["d_a"], h_ef=base["h_ef"], hole_d=hole_d, hole_deep=hole_deep); p.num(n=n); p.inlb(torque=torque); p.given()
    grouted = "yes" if gap == "grout" else "no"
    p.text(grouted=grouted)
    p.use(screws(grouted=grouted, V_E=V_E, **base))
    d = base["d_a"]
    p.fit("the drill bit fits the anchors", 0.7 * d <= hole_d <= 1.3 * d)
    p.fit("the holes are as deep as the embedment", hole_deep >= base["h_ef"])
    p.field(None, called=anchor_name); p.field("in", embedded=base["h_ef"], hole=hole_d, deep=hole_deep); p.field("lbf in", turn=torque)
    p.piece("anchors: screw anchor", f"{n} of {anchor_name}, {size(d)}, {size(hole_deep)}")
    return p

def cast_in(gap, n_bars, V_E, order, **base):
    p = Sheet("cast-in-rods")
    p.text(gap=gap); p.num(n_bars=n_bars); p.lbf(V_E=V_E); p.given()
    p.use(cast(gap=gap, n_bars=max(1, n_bars), V_E=V_E, **base))
    p.use(rods(base["d_a"], base["h_ef"], base["grade"], base["head"], e_h=base.get("e_h", 0.0), gap=gap, **order))
    return p

# --- the rows ---------------------------------------------------------------------------------------------------------

def case(work, id, columns=None, **given):
    """Arguments are called like inputs, but for primes and words of Python; what no column is has another name there."""
    names = {"f_c": "f_c'", "lam": "lambda", "pullout_": "pullout", "steel_class": "class"} | (columns or {})
    row = {names.get(name, name): value for name, value in given.items() if value is not None}
    return id, row, work(**given)

def vary(work, base, **cases):
    """Rows that differ from one in a few inputs."""
    return [case(work, id.replace("_", "-"), **(base | other)) for id, other in cases.items()]

def main():
    line_by_line("equal-square", "Squares of the area of an outline", "area of a circle, worked by oracle/anchors_line_by_line.py",
                 [case(equal_square, shape, shape=shape, x=17.0, y=23.0) for shape in ("round", "square", "rectangular")])

    g = dict(plan="rectangular", B=31.0, D=37.0, d_a=0.625, n_x=2, n_y=3, s_x=5.0, s_y=4.0, plate_x=9.0, plate_y=11.0)
    line_by_line("anchor-group", "Anchors in their concrete", "geometry, and the square of equal area (ACI 318-19 14.4.3.1.1), worked by oracle/anchors_line_by_line.py",
                 vary(group, g, rectangular={}, wider_apart=dict(s_y=6.0), single=dict(n_x=1, n_y=1), along=dict(n_y=1), across=dict(n_x=1, n_y=2, s_y=6.0),
                      round_four=dict(plan="round", n_y=2, B=16.0, D=17.0),
                      round_oblong=dict(plan="round", n_y=2, B=16.0, D=17.0, s_x=3.0, s_y=8.0), round_along=dict(plan="round", n_x=3, n_y=1, B=16.0, D=17.0),
                      round_across=dict(plan="round", n_x=1, n_y=2, B=16.0, D=17.0),
                      round_one=dict(plan="round", n_x=1, n_y=1, B=15.0, D=17.0), corners_over=dict(plan="round", B=14.0, D=15.0, n_y=2), corners_just=dict(plan="round", B=14.5, D=15.0, n_y=2)))

    line_by_line("anchor-rod", "Rods with heads and hooks", "effective area by ACI 318-19 R17.6.1.2, widths of hexagons, worked by oracle/anchors_line_by_line.py",
                 [case(rod, f"{grade[-2:].strip()}-{head.replace(' ', '-')}", d_a=d, grade=grade, head=head) for d, grade, head in
                  ((0.5, "F1554 Grade 36", "hex"), (0.75, "F1554 Grade 55", "heavy hex"), (0.625, "F1554 Grade 105", "hook"), (1.0, "F1554 Grade 55", "hex"))])

    s = dict(anchor="screw", d_a=0.5, h_ef=3.1, n=2, s=6.0, c=8.0, h_a=9.0, sides="weather", torqued="no", s_rep=2.75, c_rep=1.9, h_rep=5.0, c_ac_rep=6.25, w_head=0.8, d_agg=0.75)
    bare = dict(s_rep=0.0, c_rep=0.0, c_ac_rep=0.0, h_rep=0.0)
    line_by_line("anchor-spacing", "Spacing, edge distance and depth", "ACI 318-19 17.9, Table 17.9.2, Table 20.5.1.3.1, worked by oracle/anchors_line_by_line.py",
                 vary(spacing, s, report={}, bare=bare, thick_cast=dict(anchor="cast-in", d_a=0.64), thin_cast=dict(anchor="cast-in", d_a=0.625), torqued=dict(anchor="cast-in", torqued="yes"),
                      earth=dict(anchor="cast-in", sides="earth"),
                      indoors=dict(anchor="cast-in", sides="indoors", d_a=0.875), one=dict(n=1), wide_head=dict(anchor="cast-in", w_head=1.25), narrow_head=dict(anchor="cast-in", w_head=0.3),
                      torque_controlled=dict(anchor="torque-controlled") | bare, displacement=dict(anchor="displacement-controlled") | bare, undercut=dict(anchor="undercut") | bare,
                      adhesive=dict(anchor="adhesive") | bare,
                      adhesive_shallow=dict(anchor="adhesive", h_ef=1.9), adhesive_deep=dict(anchor="adhesive", h_ef=10.5, h_a=20.0), screw_shallow=dict(h_ef=2.4),
                      screw_small=dict(d_a=0.25, h_ef=1.6), screw_deep=dict(h_ef=5.1, h_a=12.5),
                      too_thin=dict(h_a=4.4), aggregate=dict(d_agg=1.5), heads_just=dict(anchor="cast-in", h_a=3.6), heads_out=dict(anchor="cast-in", h_a=3.55), close=dict(s=2.7), near=dict(c=1.6)))

    e = dict(sdc="C", N_ua=9000.0, N_E=1900.0, V_ua=4000.0, V_E=850.0, route_N="overstrength", route_V="overstrength", Omega_0=2.5, overstrength="no", N_lim=9900.0, V_lim=4100.0, N_s=14000.0,
             N_c=17000.0, l_s=7.0, d_a=0.75, f_ratio=1.35)
    line_by_line("anchor-seismic", "Earthquake on the anchors", "ACI 318-19 17.10.5, 17.10.6, worked by oracle/anchors_line_by_line.py",
                 vary(seismic, e, both={}, no_factor=dict(Omega_0=1.0), low_factor=dict(Omega_0=1.5), tension_alone=dict(V_E=790.0), shear_alone=dict(N_E=1700.0), neither=dict(N_E=1700.0, V_E=790.0),
                      sdc_a=dict(sdc="A"), sdc_b=dict(sdc="B"), sdc_d=dict(sdc="D"),
                      neither_over=dict(N_E=1700.0, V_E=790.0, overstrength="anchors"), both_over=dict(overstrength="anchors"), tension_over=dict(overstrength="anchors", V_E=790.0),
                      shear_over=dict(overstrength="anchors", N_E=1700.0),
                      none_over=dict(overstrength="anchors", route_N="none", route_V="none"), tension_other=dict(overstrength="anchors", route_N="ductile anchor", V_E=790.0),
                      shear_other=dict(overstrength="anchors", route_V="largest force", N_E=1700.0),
                      cantilevers=dict(overstrength="cantilevers", N_E=1700.0, V_E=790.0), none=dict(route_N="none", route_V="none"),
                      yields=dict(route_N="attachment yields", route_V="attachment yields"),
                      largest=dict(route_N="largest force", route_V="largest force"), yields_low=dict(route_N="attachment yields", route_V="attachment yields", N_lim=8900.0, V_lim=3950.0),
                      largest_low=dict(route_N="largest force", route_V="largest force", N_lim=8900.0, V_lim=3950.0),
                      largest_over=dict(route_N="largest force", route_V="largest force", overstrength="cantilevers"),
                      limits_unused=dict(route_N="largest force", route_V="largest force", N_E=1700.0, V_E=790.0), ductile=dict(route_N="ductile anchor"),
                      ductile_weak=dict(route_N="ductile anchor", N_c=16700.0, l_s=5.9, f_ratio=1.28),
                      ductile_none=dict(route_N="ductile anchor", N_s=0.0), at_a_fifth=dict(N_E=1800.0, V_E=800.0)))

    l = dict(P_u=-6000.0, H_x=-700.0, H_y=450.0, sdc="D", N_E=1500.0, V_E=300.0, Omega_0=2.0, overstrength="anchors")
    line_by_line("anchor-loads", "Loads on anchors", "ACI 318-19 17.10.5.1, 17.10.6.1, worked by oracle/anchors_line_by_line.py",
                 vary(loads, l, designed={}, tension_alone=dict(V_E=120.0), left_out=dict(N_E=600.0, V_E=120.0), basic=dict(Omega_0=1.0, overstrength="no", N_E=600.0, V_E=120.0),
                      down=dict(P_u=7000.0), no_shear=dict(H_x=0.0, H_y=0.0, V_E=0.0),
                      sdc_b=dict(sdc="B", overstrength="no"), little_over=dict(Omega_0=1.5)))

    f = dict(A_se=0.226, F_y=36e3, l_gap=1.5, N_ua=1100.0, V_ua=380.0, C_ua=700.0)
    line_by_line("anchor-standoff", "Free-standing rods", "AISC 360-16 F11.1, H1.1, J4.4, Table C-A-7.1, worked by oracle/anchors_line_by_line.py",
                 vary(standoff, f, bent={}, pressed=dict(C_ua=2400.0), a_fifth=dict(C_ua=1530.0), pulled=dict(N_ua=2700.0), slender=dict(l_gap=2.9), none=dict(N_ua=0.0, C_ua=0.0),
                      much=dict(V_ua=1400.0)))

    st = dict(A_se=0.334, f_ya=36e3, f_uta=58e3, N_ua=9000.0, V_ua=4000.0, C_ua=2500.0, ductile="yes", shank="rod", gap="none", l_gap=1.25)
    line_by_line("anchor-steel", "Steel of anchors", "ACI 318-19 17.6.1.2, 17.7.1.2, Table 17.5.3(a), worked by oracle/anchors_line_by_line.py",
                 vary(steel, st, rod={}, stud=dict(shank="stud"), grout=dict(gap="grout"), open=dict(gap="open"), brittle=dict(ductile="no"), soft=dict(f_uta=70e3), hard=dict(f_ya=105e3, f_uta=130e3),
                      over=dict(N_ua=15000.0, V_ua=8000.0)))

    sr = dict(N_sa=15000.0, V_sa=7000.0, ductile="no", grouted="no", N_ua=4100.0, V_ua=900.0)
    line_by_line("anchor-steel-report", "Steel of anchors by a report", "ACI 318-19 17.7.1.2.1, Table 17.5.3(a), worked by oracle/anchors_line_by_line.py",
                 vary(steel_report, sr, brittle={}, ductile=dict(ductile="yes"), grouted=dict(grouted="yes"), over=dict(N_ua=10000.0, V_ua=4300.0)))

    b = dict(f_c=4100.0, h_ef=7.0, k_c=24.0, n_x=2, n_y=3, s_x=5.0, s_y=4.0, c_x1=6.0, c_x2=14.0, c_y1=9.0, c_y2=17.0, N_ua=9500.0, e_N=0.7, cracked="yes", c_ac=12.5, lambda_a=0.9, category="cast-in",
             supplementary="no", headed="no", seismic="no")
    post = dict(k_c=17.0, category="category 1", cracked="no")
    deep = dict(headed="yes", c_x1=40.0, c_x2=41.0, c_y1=42.0, c_y2=43.0)
    line_by_line("anchor-breakout", "Breakout in tension", "ACI 318-19 17.6.2, Table 17.5.3(b), worked by oracle/anchors_line_by_line.py",
                 vary(breakout, b, two_near={}, three_near=dict(c_x2=8.0), four_near=dict(c_x2=8.0, c_y2=10.0), four_apart=dict(c_x1=2.5, c_x2=3.0, c_y1=2.0, c_y2=3.5, s_x=12.0),
                      third_just=dict(c_x2=11.0), fourth_just=dict(c_x2=8.0, c_y2=11.2),
                      other_axis=dict(c_x1=9.0, c_x2=17.0, c_y1=6.0, c_y2=8.0), one=dict(n_x=1, n_y=1, c_x1=3.0, c_x2=4.0, c_y1=3.5, c_y2=4.5),
                      along=dict(n_y=1, c_x1=2.5, c_x2=3.0, c_y1=2.0, c_y2=3.5, s_x=12.0, s_y=15.0),
                      across=dict(n_x=1, n_y=2, c_x1=2.5, c_x2=3.0, c_y1=2.0, c_y2=3.5, s_x=15.0, s_y=13.0), far=dict(c_x1=11.2, c_x2=14.0, c_y1=13.0, c_y2=12.0),
                      edge_just=dict(c_x1=10.0, c_x2=14.0, c_y1=13.0, c_y2=12.0),
                      apart=dict(n_y=2, s_x=20.5), too_far_apart=dict(n_y=2, s_y=21.5), too_far_along=dict(n_y=2, s_x=22.5), turned_round=dict(c_x1=14.0, c_x2=6.0, c_y1=17.0, c_y2=9.0),
                      turned=dict(c_x1=17.0, c_x2=10.0, c_y1=9.0, c_y2=7.0), uncracked=dict(cracked="no"), post_installed=post, by_its_k_c=post | dict(k_c=18.0),
                      own_factor=post | dict(k_c=25.0 - 1.5), split_far=post | dict(c_ac=9.0),
                      split_edge=post | dict(c_x1=11.5, c_x2=14.0, c_y1=13.0, c_y2=12.0, c_ac=14.0), no_category=dict(k_c=17.0), category_alone=dict(category="category 2", cracked="no"),
                      category_3=post | dict(category="category 3", supplementary="yes"),
                      strong=post | dict(f_c=8300.0), strong_cast=dict(f_c=8300.0), restrained=dict(supplementary="yes", seismic="yes"), deep_head=deep | dict(h_ef=24.0),
                      deepest=deep | dict(h_ef=25.0), deeper=deep | dict(h_ef=26.0),
                      just_deep=deep | dict(h_ef=11.8), barely_deep=deep | dict(h_ef=11.0), not_deep=deep | dict(h_ef=10.8), deep_no_head=deep | dict(h_ef=18.0, headed="no"),
                      deep_post=deep | dict(h_ef=18.0, k_c=17.0, category="category 1"), over=dict(N_ua=60000.0)),
                 refused=[("splitting-unknown", {"f_c'": 4100.0, "h_ef": 7.0, "k_c": 17.0, "n_x": 2, "n_y": 3, "s_x": 5.0, "s_y": 4.0, "c_x1": 6.0, "c_x2": 14.0, "c_y1": 9.0, "c_y2": 17.0,
                                                 "cracked": "no", "category": "category 1", "c_ac": 0.0},
                           "give the critical edge distance c_ac")])

    u = dict(f_c=3600.0, grip="headed", A_brg=0.6, d_a=0.5, e_h=1.8, N_p_rep=4400.0, n_rep=0.4, cracked="yes", category="cast-in", seismic="no", N_ua=3100.0)
    no_grip = "give the bearing area of the head"
    plain = lambda **given: {("f_c'" if k == "f_c" else k): v for k, v in given.items()}
    line_by_line("anchor-pullout", "Pullout", "ACI 318-19 17.6.3, Table 17.5.3(c), worked by oracle/anchors_line_by_line.py",
                 vary(pullout, u, headed={}, hooked=dict(grip="hooked"), reported=dict(grip="by report", category="category 2"), uncracked=dict(cracked="no"),
                      uncracked_hook=dict(cracked="no", grip="hooked"),
                      uncracked_report=dict(cracked="no", grip="by report", category="category 1"), earthquake=dict(seismic="yes"), no_category=dict(grip="by report"),
                      short_hook=dict(grip="hooked", e_h=1.5), long_hook=dict(grip="hooked", e_h=2.25), over=dict(N_ua=15000.0)),
                 refused=[("no-head", plain(**u | dict(A_brg=0.0)), no_grip), ("hook-short", plain(**u | dict(grip="hooked", e_h=1.45)), no_grip),
                          ("hook-long", plain(**u | dict(grip="hooked", e_h=2.3)), no_grip),
                          ("hook-of-nothing", plain(**u | dict(grip="hooked", d_a=0.0, e_h=0.0)), no_grip), ("no-report", plain(**u | dict(grip="by report", N_p_rep=0.0)), no_grip)])

    o = dict(f_c=3900.0, A_brg=0.7, h_ef=20.0, c_a1=4.0, c_a2=11.0, n=2, s=9.0, N_ua=14000.0, lambda_a=0.8, supplementary="no", seismic="no")
    line_by_line("anchor-blowout", "Side-face blowout", "ACI 318-19 17.6.4, worked by oracle/anchors_line_by_line.py",
                 vary(blowout, o, group={}, three=dict(n=3), one=dict(n=1), one_far=dict(n=1, c_a2=12.5), one_farther=dict(n=1, c_a2=17.0, s=25.0), group_far=dict(c_a2=12.5), corner=dict(s=25.0),
                      corner_far=dict(s=25.0, c_a2=12.5),
                      at_six=dict(s=24.0), under_six=dict(s=23.5), just_deep=dict(h_ef=10.2),
                      not_deep=dict(h_ef=10.0), restrained=dict(supplementary="yes", seismic="yes"), over=dict(N_ua=46000.0), square=dict(n=1, c_a2=4.0)),
                 refused=[("turned", plain(**o | dict(c_a2=3.9)), "c_a2 is smaller than c_a1")])

    d = dict(bar="No. 6", f_y=58e3, f_c=4200.0, c_b=1.6, lam=0.85, hook_s=4.6, hook_c=4.7)
    line_by_line("bar-development", "Development of bars", "ACI 318-19 25.4.2.4, 25.4.3.1, worked by oracle/anchors_line_by_line.py",
                 vary(development, d, near={}, thick=dict(bar="No. 7", c_b=1.3), metric=dict(bar="20M"), covered=dict(c_b=2.2), hooks_close=dict(hook_s=4.4), hooks_shallow=dict(hook_c=4.4),
                      both=dict(hook_s=4.1, hook_c=4.2), hooks_just=dict(hook_s=4.5, hook_c=4.5),
                      strong=dict(f_c=6050.0), strongest=dict(f_c=6500.0), under_6000=dict(f_c=5950.0), short=dict(bar="No. 3", f_c=9000.0, lam=1.0, c_b=1.5),
                      short_hook=dict(bar="No. 3", f_c=9000.0, lam=1.0), thick_hook=dict(bar="No. 8", f_c=9900.0, f_y=21e3, lam=1.0, hook_s=6.5, hook_c=6.5)))

    a = dict(bar="No. 5", n_bars=4, f_y=59e3, f_c=3700.0, c_b=2.1, h_ef=30.0, g=4.0, c_top=2.5, top="straight", l_bar=58.0, lam=0.95, N_ua=31000.0)
    line_by_line("anchor-reinforcement", "Bars in place of breakout", "ACI 318-19 17.5.2.1, 25.4.2.4, 25.4.3.1, worked by oracle/anchors_line_by_line.py",
                 vary(reinforcement, a, straight={}, hook=dict(top="hook"), too_short=dict(h_ef=22.0, l_bar=40.0), far=dict(g=15.5), over=dict(N_ua=56000.0), thick=dict(bar="No. 7", n_bars=5)))

    q = dict(f_c=3300.0, d_a=0.75, l_e=7.0, h_a=30.0, c_a1=8.0, c_a2_1=6.0, c_a2_2=14.0, n=2, s=4.5, V_ua=2600.0, V_par=1700.0, cracked="yes", lambda_a=0.85, e_V=0.6, edge_bars="none",
             supplementary="no")
    line_by_line("anchor-shear-breakout", "Breakout in shear", "ACI 318-19 17.7.2, worked by oracle/anchors_line_by_line.py",
                 vary(shear_breakout, q, row={}, other_side=dict(c_a2_1=14.5, c_a2_2=6.5), one=dict(n=1), narrow=dict(c_a2_2=11.0), thin=dict(h_a=11.0), narrow_thin=dict(c_a2_2=9.0, h_a=10.0),
                      thin_narrow=dict(c_a2_2=7.5, h_a=6.5),
                      apart=dict(c_a2_1=3.0, c_a2_2=4.0, h_a=3.5, s=20.0), apart_one=dict(c_a2_1=3.0, c_a2_2=4.0, h_a=3.5, s=20.0, n=1), too_far_apart=dict(s=25.0), group_just=dict(s=23.5),
                      edge_just=dict(c_a2_1=12.5), edge_near=dict(c_a2_1=11.5), thin_just=dict(h_a=12.5),
                      thin_under=dict(h_a=11.9), narrow_just=dict(c_a2_2=12.5, h_a=10.0), thin_edge=dict(c_a2_2=9.0, h_a=12.5), uncracked=dict(cracked="no"), bars=dict(edge_bars="No. 4"),
                      stirrups=dict(edge_bars="No. 4 in stirrups"), restrained=dict(supplementary="yes"),
                      thin_rod=dict(d_a=0.375, l_e=5.0), long=dict(l_e=5.0), thick_rod=dict(d_a=1.5), toward=dict(V_par=0.0), over=dict(V_ua=7900.0, V_par=12500.0),
                      both_over=dict(V_ua=5000.0, V_par=13000.0), three=dict(n=3)))

    line_by_line("anchor-pryout", "Pryout", "ACI 318-19 17.7.3, worked by oracle/anchors_line_by_line.py",
                 vary(pryout, dict(h_ef=2.6, N_cp=8000.0, V_ua=3100.0), deep={}, shallow=dict(h_ef=2.4), just=dict(h_ef=2.5), over=dict(h_ef=2.0, V_ua=5700.0)))

    w = dict(f_c=3100.0, d_a=0.625, h_ef=6.5, h_a=13.0, c_x=7.0, c_y=9.0, n_x=2, n_y=3, s_x=5.5, s_y=4.5, cracked="yes", supplementary="no", N_cp=21000.0, V_u=2900.0, V_x=2100.0, V_y=2000.0, r_s=0.1)
    line_by_line("anchor-shear", "Shear on anchors", "ACI 318-19 17.7.2.1, 17.7.3, worked by oracle/anchors_line_by_line.py",
                 vary(shear, w, toward_x={}, toward_y=dict(V_x=900.0, V_y=2750.0), near_x=dict(c_x=3.0, V_x=2750.0, V_y=900.0), steel=dict(r_s=0.93), pryout=dict(N_cp=2500.0),
                      none=dict(V_u=0.0, V_x=0.0, V_y=0.0), uncracked=dict(cracked="no", supplementary="yes")))

    line_by_line("anchor-interaction", "Tension and shear", "ACI 318-19 17.8, worked by oracle/anchors_line_by_line.py",
                 [case(interaction, id, r_N=N, r_V=V) for id, N, V in (("both", 0.55, 0.35), ("tension", 0.85, 0.19), ("shear", 0.18, 0.8), ("tension-just", 0.21, 0.9), ("shear-just", 0.95, 0.21),
                                                                       ("at-a-fifth", 0.2, 0.75), ("at-a-fifth-shear", 0.7, 0.2),
                                                                   ("met", 0.6, 0.6), ("over", 0.65, 0.6), ("tension-over", 1.05, 0.1), ("shear-over", 0.1, 1.05))])

    c = dict(f_c=3500.0, plan="rectangular", B=25.0, D=27.0, h_a=41.0, d_a=0.625, grade="F1554 Grade 55", head="hex", h_ef=13.0, n_x=2, n_y=2, s_x=5.0, s_y=4.0, P_u=-9000.0, H_x=-1300.0, H_y=800.0,
             sdc="B", sides="weather", cracked="yes",
             supplementary="no", tension_by="concrete", n_bars=3, e_h=2.5, torqued="no", gap="none", l_gap=1.25, plate_x=7.5, plate_y=6.5, N_E=2500.0, V_E=400.0, Omega_0=1.0, overstrength="no")
    by_bars = dict(tension_by="bars", bar="No. 5", n_bars=4, bar_side=3.5, bar_off=4.5, bar_top=2.0, bar_end="straight", bar_long=38.0, h_ef=30.0)
    quake = dict(sdc="D", Omega_0=2.5, overstrength="anchors")
    needs = "anchor reinforcement needs bar, bar_side"
    cases = vary(cast, c, square={}, turned=dict(B=29.0, D=26.0, s_x=3.5, s_y=4.5), uncracked=dict(cracked="no", supplementary="yes"), hook=dict(head="hook"),
                 heavy=dict(head="heavy hex", torqued="yes", sides="earth"), deep=dict(h_ef=26.0, B=13.0, D=15.0),
                 deep_turned=dict(h_ef=26.0, B=16.0, D=13.0, s_x=4.0, s_y=5.0), deep_restrained=dict(h_ef=30.0, B=13.0, D=15.0, supplementary="yes", sdc="D", Omega_0=2.0, V_E=90.0),
                 deep_even=dict(h_ef=26.0, B=14.0, D=14.0, s_x=4.5, s_y=4.5),
                 deep_far_edge=dict(h_ef=38.0, B=11.0, D=14.4, s_x=3.0, s_y=6.0), along=dict(n_y=1, h_ef=26.0, B=15.0, D=13.0), across=dict(n_x=1, h_ef=26.0, B=15.0, D=14.0),
                 along_far=dict(n_y=1, h_ef=26.0, B=20.0, D=10.0), across_far=dict(n_x=1, h_ef=26.0, B=10.0, D=20.0),
                 three=dict(n_x=3, s_x=4.5), three_across=dict(n_y=3, h_ef=26.0, B=18.0, D=20.0),
                 bars=by_bars, bars_hooked=by_bars | dict(bar_end="hook"), round=dict(plan="round", B=24.0, D=24.0), round_along=dict(plan="round", B=24.0, D=24.0, n_y=1),
                 open=dict(gap="open", P_u=9000.0), open_up=dict(gap="open"), grout=dict(gap="grout"),
                 down=dict(P_u=9000.0), nothing=dict(P_u=0.0, H_x=0.0, H_y=0.0, V_E=0.0, N_E=0.0), no_shear=dict(H_x=0.0, H_y=0.0, V_E=0.0), earthquake=quake | dict(cracked="no"),
                 earthquake_tension=quake | dict(V_E=100.0), earthquake_shear=quake | dict(N_E=1000.0, cracked="no"),
                 earthquake_little=quake | dict(N_E=1000.0, V_E=100.0), steel_governs=dict(d_a=0.5, B=60.0, D=62.0, h_ef=20.0, grade="F1554 Grade 36", head="heavy hex"),
                 side_governs=by_bars | dict(B=13.0, D=15.0, d_a=1.0, grade="F1554 Grade 105", head="heavy hex", bar="No. 8", n_bars=8))
    lost = lambda name: {("f_c'" if k == "f_c" else k): v for k, v in (c | by_bars).items() if k != name}
    line_by_line("cast-anchors", "Bases with cast-in anchors", "ACI 318-19 Chapter 17, worked by oracle/anchors_line_by_line.py; what is given is handed on", cases,
                 refused=[(f"no-{name.replace('_', '-')}", lost(name), needs) for name in ("bar", "bar_side", "bar_off", "bar_top", "bar_end", "bar_long")])

    x = dict(f_c=3600.0, plan="rectangular", B=25.0, D=27.0, h_a=21.0, d_a=0.5, n_x=2, n_y=2, s_x=5.0, s_y=4.0, h_ef=3.1, k_c=17.0, category="category 2", N_sa=15000.0, V_sa=7000.0, ductile="no",
             c_ac=6.5, s_min=3.25, c_min=2.75, h_min=6.0, seismic_ok="yes",
             P_u=-4300.0, H_x=-900.0, H_y=500.0, sdc="B", pullout_="given", N_p=2900.0, n_p=0.35, sides="weather", cracked="yes", grouted="no", plate_x=7.5, plate_y=6.5, N_E=1500.0, V_E=400.0,
             Omega_0=1.0, overstrength="no")
    line_by_line("screw-anchors", "Bases with screw anchors", "ACI 318-19 Chapter 17, worked by oracle/anchors_line_by_line.py; what is given is handed on",
                 vary(screws, x, square={}, uncracked=dict(cracked="no", c_ac=4.9), no_pullout=dict(pullout_="does not govern"), pullout_governs=dict(N_p=1200.0),
                      ductile=dict(ductile="yes"), grouted=dict(grouted="yes"), round=dict(plan="round", B=24.0, D=24.0), along=dict(n_y=1), across=dict(n_x=1, n_y=3),
                      down=dict(P_u=4300.0), nothing=dict(P_u=0.0, H_x=0.0, H_y=0.0, N_E=0.0, V_E=0.0), no_shear=dict(H_x=0.0, H_y=0.0, V_E=0.0), earthquake=quake | dict(cracked="yes"),
                      earthquake_uncracked=quake | dict(cracked="no"), earthquake_unfit=quake | dict(seismic_ok="no"),
                      sdc_a=dict(sdc="A", seismic_ok="no"), sdc_b=dict(seismic_ok="no"), sdc_c=dict(sdc="C", seismic_ok="no", Omega_0=2.5, overstrength="no"),
                      earthquake_little=quake | dict(N_E=500.0, V_E=100.0), earthquake_shear=quake | dict(N_E=500.0, cracked="no"),
                      steel_governs=dict(N_sa=2000.0, N_p=9000.0, B=60.0, D=62.0, s_x=9.0, s_y=8.5)))

    r = dict(d_a=0.625, h_ef=13.1, rod_grade="F1554 Grade 55", head="hex", e_h=2.5, finish="painted", gap="grout", grout_thick=0.8, n=4, plate_t=0.5, room=1.4)
    line_by_line("rod-order", "Rods to order", "lengths added up: plate, washer of 3/16 in, nut as high as the rod is thick; worked by oracle/anchors_line_by_line.py",
                 vary(rods, r, under_a_seat={}, free=dict(room=0.0), ungrouted=dict(gap="none"), heavy=dict(head="heavy hex", finish="stainless"), hook=dict(head="hook"),
                      hook_free=dict(head="hook", room=0.0, h_ef=12.9), reported=dict(plate_t=0.0), reported_hook=dict(plate_t=0.0, head="hook"),
                      longer=dict(h_ef=13.3), just=dict(h_ef=13.21), thick=dict(d_a=0.875, n=2), hook_longer=dict(head="hook", h_ef=13.35)))

    y = {k: v for k, v in x.items() if k not in ("grouted", "V_E")}
    w = dict(gap="none", V_E=400.0, hole_d=0.49, hole_deep=3.6, n=4, anchor_name="SA-1", torque=55.0 * 12)
    below = [(name, unit, name) for unit, names in ((None, "pullout sides cracked category ductile seismic_ok overstrength supplementary tension_by bar bar_end head torqued finish rod_grade"),
                                                    ("psi", "f_c'"), ("", "k_c n_p Omega_0"), ("lbf", "N_p N_sa V_sa"),
                                                    ("in", "c_ac s_min c_min h_min e_h bar_side bar_off bar_top bar_long grout_thick d_a h_ef")) for name in names.split()]
    below += [("plan", None, "foundation.plan"), ("B", "in", "foundation.top_x"), ("D", "in", "foundation.top_y"), ("h_a", "in", "foundation.h_a"), ("n_x", "", "anchors_x"), ("n_y", "", "anchors_y"),
              ("s_x", "in", "anchor_s_x"), ("s_y", "in", "anchor_s_y"),
              ("P_u", "lbf", "base.P_a"), ("H_x", "lbf", "along-x.H_b"), ("H_y", "lbf", "along-y.H_b"), ("N_E", "lbf", "base.N_E"), ("sdc", None, "seismic-site.sdc"),
              ("plate_x", "in", "base.press_x"), ("plate_y", "in", "base.press_y"),
              ("plate_t", "in", "base.plate_t"), ("room", "in", "base.room")]
    ordered = [("n", "", "fixings.n_fixed")]
    line_by_line("drilled-anchors", "Screw anchors in drilled holes", "ACI 318-19 Chapter 17, worked by oracle/anchors_line_by_line.py; what is given is handed on",
                 [case(drilled, id, **(w | y | other)) for id, other in dict(plain={}, grouted=dict(gap="grout"), loose=dict(hole_d=0.66), tight=dict(hole_d=0.345), just_loose=dict(hole_d=0.645),
                                                                             just_tight=dict(hole_d=0.355), short=dict(hole_deep=3.0), just_deep=dict(hole_deep=3.1)).items()],
                 below)

    z = {k: v for k, v in c.items() if k not in ("n_bars", "V_E", "gap")}
    order = dict(finish="painted", n=4, plate_t=0.5, room=1.4, grout_thick=0.8)
    rows = []
    for id, gap, n_bars, other in (("plain", "none", 6, {}), ("grouted", "grout", 5, {}), ("no-bars", "none", 0, {}), ("bars", "none", 5, by_bars)):
        base = z | {k: v for k, v in other.items() if k != "n_bars"} | (quake if id == "grouted" else {})
        rows.append((id, {("f_c'" if k == "f_c" else "rod_grade" if k == "grade" else k): v for k, v in (base | order | dict(gap=gap, n_bars=n_bars, V_E=400.0)).items() if k not in ("l_gap",)},
                     cast_in(gap, n_bars, 400.0, order, **base | dict(l_gap=0.0))))
    line_by_line("cast-in-rods", "Rods cast into concrete", "ACI 318-19 Chapter 17, worked by oracle/anchors_line_by_line.py; what is given is handed on", rows, below + ordered)


if __name__ == "__main__":
    main()
