"""Piers, pads and what is under them, worked line by line, from the clauses: every symbol of every sheet, and what each sheet hands on.

As in anchors_line_by_line.py: a function for each sheet, in inches, pounds and psi but for soil, which is in feet and psf."""
import math

import numpy as np

import anchors_line_by_line as anchors
from anchors_line_by_line import BARS, ROUND, Sheet, equal_square, line_by_line, size, vary

anchors.SCRIPT[0] = "ground_line_by_line.py"
BY = "worked by oracle/ground_line_by_line.py"

# --- soil ---------------------------------------------------------------------------------------------------------------

CLASSES = {"class 1": ("crystalline bedrock", 12000, 1200, 0.70, 0), "class 2": ("sedimentary and foliated rock", 4000, 400, 0.35, 0),
           "class 3": ("sandy gravel and gravel (GW, GP)", 3000, 200, 0.35, 0),
           "class 4": ("sand, silty sand, clayey sand, silty gravel, clayey gravel (SW, SP, SM, SC, GM, GC)", 2000, 150, 0.25, 0),
           "class 5": ("clay, sandy clay, silty clay, clayey silt, silt, sandy silt (CL, ML, MH, CH)", 1500, 100, 0, 130)}

def soil_values(soil, report="none", q_rep=0.0, S_rep=0.0, mu_rep=0.0, c_rep=0.0):
    p = Sheet("soil-values")
    p.text(**{"class": soil}, report=report); p.psf(q_rep=q_rep, c_rep=c_rep); p.pcf(S_rep=S_rep); p.num(mu_rep=mu_rep); p.given()
    if soil == "soils report":
        p.fit("the soils report is named", report != "none")
        q, S, mu, c = q_rep, S_rep, mu_rep, c_rep
    else:
        material, q, S, mu, c = CLASSES[soil]
        p.text(material=material)
    p.psf(q_a=q, c_s=c); p.pcf(S_lat=S); p.num(mu=mu)
    return p

def frost(depth, frost, rock="no", free="no", risk="II", framing="other", area=0.0, eave=0.0):
    p = Sheet("frost")
    p.inch(depth=depth, frost=frost, eave=eave); p.text(rock=rock, free=free, risk=risk, framing=framing); p.area(area=area); p.given()
    a_max = (600 if framing == "light-frame" else 400) * 144
    p.area(a_max=a_max)
    p.must("depth below undisturbed ground", 12, depth)
    small = free == "yes" and risk == "I" and 0 < area <= a_max and 0 < eave <= 120
    if rock != "yes" and not small: p.must("depth for frost protection", frost, depth)
    return p

def nonconstrained(P, h, b, d, S_lat, half_inch="no", short_term="yes"):
    p = Sheet("pier")
    p.lbf(P=P); p.inch(h=h, b=b, d=d); p.pcf(S_lat=S_lat); p.text(half_inch=half_inch, short_term=short_term); p.given()
    k = 2 if half_inch == short_term == "yes" else 1
    S_1 = k * S_lat * min(d / 12, 12) / 3
    A = 2.34 * P / (S_1 * b / 12)
    need = A / 2 * (1 + math.sqrt(1 + 4.36 * (h / 12) / A)) if P > 0 else 0.0
    p.num(k_p=k); p.psf(S_1=S_1); p.inch(A=12 * A, d_req=12 * need)
    p.must("depth of the pier for shear, nonconstrained", 12 * need, d)
    return p

def constrained(P, h, b, d, S_lat, slab, half_inch="no", short_term="yes"):
    p = Sheet("pier-constrained")
    p.lbf(P=P); p.inch(h=h, b=b, d=d); p.pcf(S_lat=S_lat); p.text(slab=slab, half_inch=half_inch, short_term=short_term); p.given()
    k = 2 if half_inch == short_term == "yes" else 1
    S_3 = k * S_lat * min(d / 12, 12)
    need = math.sqrt(4.25 * P * h / 12 / (S_3 * b / 12))
    p.num(k_p=k); p.psf(S_3=S_3); p.inch(d_req=12 * need)
    p.fit("slab that constrains the pier", slab == "yes")
    p.must("depth of the pier for shear, constrained", 12 * need, d)
    return p

def bearing(P, W, B, L, q_a, shape="rectangular", M_x=0.0, M_y=0.0):
    p = Sheet("soil-bearing")
    p.lbf(P=P, W=W); p.text(shape=shape); p.inch(B=B, L=L); p.inlb(M_x=M_x, M_y=M_y); p.psf(q_a=q_a); p.given()
    N = P + W
    p.lbf(N=N)
    if N <= 0: return p
    e_x, e_y = abs(M_x) / N, abs(M_y) / N
    p.inch(e_x=e_x, e_y=e_y)
    if shape == "round":
        e = math.hypot(e_x, e_y)
        p.inch(e=e)
        p.fit("the whole round base bears on the soil: the load is within an eighth of the diameter", e <= B / 8)
        if e > B / 8: return p
        # A linear pressure: N / area + M / section modulus.
        q = N / (math.pi * B ** 2 / 4) + N * e / (math.pi * B ** 3 / 32)
    else:
        u_x, u_y = e_x / B, e_y / L
        p.num(u_x=u_x, u_y=u_y)
        p.fit("the load stays on the base", max(u_x, u_y) <= 0.45)
        if max(u_x, u_y) > 0.45: return p
        # One way: linear within the kern, else a triangle over three times the distance from the load to the edge.
        one = lambda u: 1 + 6 * u if u <= 1 / 6 else 2 / (3 * (0.5 - u))
        k = 1 + 6 * (u_x + u_y) if u_x + u_y <= 1 / 6 else one(u_x) * one(u_y)
        p.num(k_x=one(u_x), k_y=one(u_y), k=k)
        q = k * N / (B * L)
    p.psi(q=q)
    p.must("pressure on the soil", q * 144, q_a)
    return p

def uplift(P, W_c, W_s):
    p = Sheet("uplift-weight")
    p.lbf(P=P, W_c=W_c, W_s=W_s); p.given()
    T, R = -min(0.0, P), 0.6 * (W_c + W_s)
    p.lbf(T=T, R=R)
    p.must("weight resisting uplift", T, R)
    return p

def sliding(H, N, A, mu, c_s, S_lat=0.0, d_1=0.0, d_2=0.0, w=0.0):
    p = Sheet("sliding")
    p.lbf(H=H, N=N); p.area(A=A); p.num(mu=mu); p.psf(c_s=c_s); p.pcf(S_lat=S_lat); p.inch(d_1=d_1, d_2=d_2, w=w); p.given()
    N_p = max(0.0, N)
    F_f = mu * N_p if mu else min(c_s * A / 144, N_p / 2)
    # The pressure grows with the depth: its mean over the side.
    F_p = S_lat * (d_1 + d_2) / 24 * (d_2 - d_1) / 12 * w / 12
    p.lbf(N_p=N_p, F_f=F_f, F_p=F_p, R=F_f + F_p)
    p.must("sliding", H, F_f + F_p)
    return p

def overturning(P, H, a, W, B, M=0.0):
    p = Sheet("overturning")
    p.lbf(P=P, H=H, W=W); p.inch(a=a, B=B); p.inlb(M=M); p.given()
    T, C = max(0.0, -P), max(0.0, P)
    over, back = H * a + M + T * B / 2, (0.6 * W + C) * B / 2
    p.lbf(T=T, C=C); p.inlb(M_o=over, M_r=back)
    p.must("overturning", over, back)
    return p

def weight(shape, b, h_p, B=0.0, L=0.0, t=0.0, h_s=0.0, gamma_c=150.0, gamma_s=100.0):
    p = Sheet("foundation-weight")
    p.text(shape=shape); p.inch(b=b, h_p=h_p, B=B, L=L, t=t, h_s=h_s); p.pcf(gamma_c=gamma_c, gamma_s=gamma_s); p.given()
    A_p = math.pi * b * b / 4 if shape == "round" else b * b
    A_s = B * L - A_p if min(B, L) >= b else 0.0
    W_p, W_b, W_s = gamma_c * A_p * h_p / 1728, gamma_c * B * L * t / 1728, gamma_s * A_s * h_s / 1728
    p.area(A_p=A_p, A_s=A_s); p.lbf(W_p=W_p, W_b=W_b, W_c=W_p + W_b, W_s=W_s, W=W_p + W_b + W_s)
    return p

# --- concrete -------------------------------------------------------------------------------------------------------------

def forces(H, M_g, d, slab="no"):
    p = Sheet("pier-forces")
    p.lbf(H=H); p.inlb(M_g=M_g); p.inch(d=d); p.text(slab=slab); p.given()
    z_1 = z_2 = 0.0
    if d > 0 and H * d + M_g > 0 and slab == "no":
        # The pressure of a pier that rotates as a rigid body, k z (a - z): its sum is H, its moment about the ground -M_g.
        ka, k = np.linalg.solve([[d ** 2 / 2, -d ** 3 / 3], [d ** 3 / 3, -d ** 4 / 4]], [H, -M_g])
        pivot = ka / k
        V_p = k * pivot ** 3 / 6 - H
        z_1 = math.sqrt(2 * H / ka) # without the cubic part of the shear, which only moves it down
        z_2 = 1.27 * z_1
        p.num(k_z=pivot / d)
    elif d > 0:
        V_p = 4 * M_g / (3 * d) # all on one side, as the square of the depth
    else: V_p = 0.0
    p.lbf(V_p=V_p, V_u=max(H, V_p)); p.inch(z_1=z_1, z_2=z_2); p.inlb(M_u=M_g + H * d / 3)
    return p

def plain_pier(f_c, shape, b, cast, h_free, d, P_u, H_u, standoff, M_0, A_b, f_y, sdc, lam=1.0, slab="no"):
    p = Sheet("plain-pier")
    p.psi(f_c_=f_c, f_y=f_y); p.text(shape=shape, cast=cast, sdc=sdc); p.inch(b=b, h_free=h_free, d=d, standoff=standoff); p.lbf(P_u=P_u, H_u=H_u); p.inlb(M_0=M_0); p.area(A_b=A_b)
    p.num(**{"lambda": lam}); p.given()
    circle = shape == "round"
    area = lambda w: math.pi * w * w / 4 if circle else w * w
    w = b - 2 if cast == "earth" else b
    S = math.pi * w ** 3 / 32 if circle else w ** 3 / 6
    A = area(w)
    p.must("height of a plain pier above the ground", h_free, 3 * b)
    p.fit("plain pier, not allowed in SDC C and up", sdc in "AB")
    if sdc in "DEF": p.must("concrete of a pier in SDC D and up", 3000, f_c)
    T_u, C_u = max(0.0, -P_u), max(0.0, P_u)
    p.area(A_g=area(b), A_=A); p.lbf(T_u=T_u, T_b=0.9 * A_b * f_y, T_d=0.0, C_u=C_u); p.inch(b_=w); p.volume(S=S)
    p.must("uplift on the plain pier", T_u, 0.0)
    f = p.use(forces(H_u, M_0 + H_u * (standoff + h_free), d, slab))
    M_u = f["M_u"]
    f_u, f_d = M_u / S - C_u / A, 0.6 * 5 * lam * math.sqrt(f_c)
    p.inlb(M_u=M_u); p.psi(f_u=f_u, f_d=f_d)
    p.must("bending of the plain pier", f_u, f_d)
    P_n = 0.60 * f_c * A * (1 - (h_free / (32 * w)) ** 2)
    r = C_u / (0.6 * P_n) + M_u / (0.6 * 0.85 * f_c * S)
    V_n = 4 * lam * math.sqrt(f_c) * A / 3
    p.lbf(P_n=P_n, V_n=V_n, V_d=0.6 * V_n); p.num(r=r)
    p.must("compression of the plain pier", r, 1)
    p.must("shear of the plain pier", f["V_u"], 0.6 * V_n)
    return p

def plain_footing(f_c, B, L, t, b_c, d_c, P_u, sdc, M_u=0.0, W=0.0, lam=1.0):
    p = Sheet("plain-footing")
    p.psi(f_c_=f_c); p.inch(B=B, L=L, t=t, b_c=b_c, d_c=d_c); p.lbf(P_u=P_u, W=W); p.inlb(M_u=M_u); p.num(**{"lambda": lam}); p.text(sdc=sdc); p.given()
    h, l = t - 2, max(0.0, (B - b_c) / 2, (L - d_c) / 2)
    p.must("thickness of the pad", 8, t)
    if sdc in "CDEF": p.must("projection of a plain pad in SDC C and up", l, t)
    if sdc in "DEF": p.must("concrete of a pad in SDC D and up", 3000, f_c)
    N = P_u + 0.9 * W
    p.inch(h=h, l=l); p.lbf(N_u=N)
    if N <= 0 or P_u <= 0 and M_u <= 0: return p
    u = M_u / N / min(B, L)
    p.num(u=u)
    p.fit("the factored load stays on the pad", u <= 0.45)
    if u > 0.45: return p
    k = 1 + 6 * u if u <= 1 / 6 else 2 / (3 * (0.5 - u))
    q = max(0.0, k * N - 0.9 * W) / (B * L)
    root = lam * math.sqrt(f_c)
    M_s, S_m = q * 12 * l * l / 2, 12 * h * h / 6
    M_d = 0.6 * 5 * root * S_m
    V_s, V_n = q * 12 * max(0.0, l - h), 4 / 3 * root * 12 * h
    b_1, d_1 = min(B, b_c + h), min(L, d_c + h)
    V_p, b_o, beta = q * (B * L - b_1 * d_1), 2 * b_1 + 2 * d_1, max(b_c, d_c) / min(b_c, d_c)
    k_p = min(8 / 3, 4 / 3 * (1 + 2 / beta))
    V_np = k_p * root * b_o * h
    p.num(k=k, phi=0.6, beta=beta, k_p=k_p); p.psi(q_u=q); p.inlb(M_s=M_s, M_n=5 * root * S_m, M_d=M_d); p.volume(S_m=S_m); p.lbf(V_s=V_s, V_n=V_n, V_d=0.6 * V_n, V_p=V_p, V_np=V_np, V_dp=0.6 * V_np)
    p.inch(b_1=b_1, d_1=d_1, b_o=b_o)
    p.must("bending of the plain pad", M_s, M_d)
    p.must("one-way shear of the plain pad", V_s, 0.6 * V_n)
    p.must("punching shear of the plain pad", V_p, 0.6 * V_np)
    return p

def bars(b, bar, n_bars, d_tie=0.0):
    p = Sheet("pier-bars")
    p.inch(b=b, d_tie=d_tie); p.text(bar=bar); p.num(n_bars=n_bars); p.given()
    d_b = BARS[bar][0]
    ring = b - 2 * (3 + d_tie + d_b / 2)
    clear = ring * math.sin(math.pi / n_bars) - d_b
    p.inch(d_b=d_b, D_r=ring, s_b=clear)
    p.fit("the vertical bars and 3 in of cover fit in the pier", b > 6 + 2 * d_tie + d_b)
    p.must("clear spacing of the vertical bars", max(1.5, 1.5 * d_b), clear)
    return p

def ties(shape, b, h, bar, n_bars, tie, s, s_b):
    p = Sheet("pier-ties")
    p.text(shape=shape, bar=bar, tie=tie); p.inch(b=b, h=h, s=s, s_b=s_b); p.num(n_bars=n_bars); p.given()
    d_b, d_t = BARS[bar][0], BARS[tie][0]
    p.must("vertical bars within ties", 4, n_bars)
    p.must("spacing of the ties", s, min(16 * d_b, 48 * d_t, b))
    if shape == "square" and n_bars > 4:
        p.must("clear spacing of bars not held by a tie corner", s_b, 6)
        p.must("no two adjacent bars without a tie corner", n_bars, 8)
    top = 2 if d_t >= 0.5 else 3
    n_t = top + math.ceil((h - 5) / s - 1e-9)
    p.inch(d_b=d_b, d_t=d_t); p.num(n_top=top, n_t=n_t)
    p.field(None, tie_size=tie); p.field("in", out=b - 6, spacing=s); p.field("", top=top, many=n_t)
    p.piece("concrete: tie, its outside at most", f"{n_t} of {tie}, {shape}, {size(b - 6)}")
    return p

def in_ties(shape, b, d_t, n_x=0, n_y=0, s_x=0.0, s_y=0.0, d_a=0.0):
    p = Sheet("anchors-in-ties")
    p.text(shape=shape); p.inch(b=b, d_t=d_t, s_x=s_x, s_y=s_y, d_a=d_a); p.num(n_x=n_x, n_y=n_y); p.given()
    a_x, a_y = max(0, n_x - 1) * s_x / 2, max(0, n_y - 1) * s_y / 2
    a, a_t = math.hypot(a_x, a_y) if shape == "round" else max(a_x, a_y), b / 2 - 3 - d_t
    p.inch(a_x=a_x, a_y=a_y, a=a, a_t=a_t)
    p.fit("the ties near the top go around the anchors", a + d_a / 2 <= a_t)
    return p

def section(D, f_c, f_y, A_1, m_1, y_1, m_2, y_2, m_0, c):
    p = Sheet("pier-section")
    p.inch(D=D, y_1=y_1, y_2=y_2, c=c); p.psi(f_c_=f_c, f_y=f_y); p.area(A_1=A_1); p.num(m_1=m_1, m_2=m_2, m_0=m_0); p.given()
    beta = min(0.85, max(0.65, 0.85 - 0.05 * (f_c - 4000) / 1000))
    R, a = D / 2, min(beta * c, D)
    half = math.acos((R - a) / R)
    A_c, f_b = R * R * (half - math.sin(2 * half) / 2), 0.85 * f_c
    rows = [(m_1, y_1), (m_2, y_2), (m_0, 0.0), (m_2, -y_2), (m_1, -y_1)]
    F = []
    for m, y in rows:
        deep = R - y
        stress = max(-f_y, min(f_y, 29e6 * 0.003 * (c - deep) / c))
        F.append(m * A_1 * (stress - (f_b if deep < a else 0.0)))
    N = f_b * A_c + sum(F)
    M = f_b * 2 / 3 * (R * math.sin(half)) ** 3 + sum(f * y for f, (_, y) in zip(F, rows))
    p.num(beta_1=beta); p.inch(a=a, u=c - R); p.area(A_c=A_c); p.psi(f_b=f_b); p.lbf(**{f"F_{i + 1}": f for i, f in enumerate(F)}, N=N)
    p.inlb(M=M if abs(M) > 1e-6 else None) # all in compression: nothing is left but what is rounded
    return p

def interaction(D, f_c, f_y, A_1, m_1, y_1, m_2, y_2, m_0, T_d, P_4, P_u):
    p = Sheet("pier-interaction")
    p.inch(D=D, y_1=y_1, y_2=y_2); p.psi(f_c_=f_c, f_y=f_y); p.area(A_1=A_1); p.num(m_1=m_1, m_2=m_2, m_0=m_0); p.lbf(T_d=T_d, P_4=P_4, P_u=P_u); p.given()
    e_y, d_t = f_y / 29e6, D / 2 + y_1
    c_t, c_b = 3 / (6 + 1000 * e_y) * d_t, 3 / (3 + 1000 * e_y) * d_t
    at = [p.use(section(D, f_c, f_y, A_1, m_1, y_1, m_2, y_2, m_0, c), name) for name, c in (("shallow", c_t / 2), ("tension-controlled", c_t), ("balanced", c_b))]
    points = [(phi * s["N"], phi * s["M"]) for phi, s in zip((0.9, 0.9, 0.65), at)]
    xs, ys = [-T_d, *(x for x, _ in points), P_4], [0.0, *(y for _, y in points), 0.0]
    M_d = float(np.interp(P_u, xs, ys)) # nothing beyond the ends
    p.num(e_y=e_y); p.inch(d_t=d_t, c_t=c_t, c_b=c_b); p.inlb(M_1=points[0][1], M_2=points[1][1], M_3=points[2][1], M_d=M_d); p.lbf(P_1=points[0][0], P_2=points[1][0], P_3=points[2][0])
    return p

def strength(D, R, A_e, A_1, n_bars, f_c, f_y, P_u, M_u):
    p = Sheet("pier-strength")
    p.inch(D=D, R=R); p.area(A_e=A_e, A_1=A_1); p.num(n_bars=n_bars); p.psi(f_c_=f_c, f_y=f_y); p.lbf(P_u=P_u); p.inlb(M_u=M_u); p.given()
    A_st = n_bars * A_1
    T_d, P_o = 0.9 * A_st * f_y, 0.85 * f_c * (A_e - A_st) + f_y * A_st
    P_4 = 0.65 * P_o
    counted = 8 if n_bars >= 8 else 6 if n_bars >= 6 else 4 if n_bars >= 4 else 0
    def heights(first):
        """How far bars are from the axis, on one side and on it; where the sheet has none, the distance that it keeps for them."""
        ys = [round(math.sin(first + 2 * math.pi * i / counted), 9) for i in range(counted)]
        above = sorted({y for y in ys if y > 1e-6}, reverse=True)
        return [(ys.count(y), y) for y in above], ys.count(0.0)
    (on, m_0), (off, _) = heights(0.0), heights(math.pi / counted if counted else 0.0)
    (m_1, k_1), (m_2, _) = (on + [(0, 1.0)] * 2)[:2]
    (m_3, k_3), (m_4, k_4) = (off + [(0, math.sqrt(0.5)), (0, 0.5)][len(off) and 1:] + [(0, 0.5)])[:2]
    x = p.use(interaction(D, f_c, f_y, A_1, m_1, k_1 * R, m_2, math.sqrt(0.5) * R, m_0, T_d, P_4, P_u), "two-on-axis")
    y = p.use(interaction(D, f_c, f_y, A_1, m_3, k_3 * R, m_4, k_4 * R, 0, T_d, P_4, P_u), "none-on-axis")
    M_d = min(x["M_d"], y["M_d"])
    T_u, C_u = max(0.0, -P_u), max(0.0, P_u)
    p.area(A_st=A_st); p.lbf(T_d=T_d, P_o=P_o, P_4=P_4, P_d=0.8 * P_4, T_u=T_u, C_u=C_u); p.num(m_1=m_1, k_1=k_1, m_2=m_2, m_0=m_0, m_3=m_3, k_3=k_3, m_4=m_4, k_4=k_4); p.inlb(M_d=M_d)
    p.must("uplift on the reinforced pier", T_u, T_d)
    p.must("axial load on the reinforced pier", C_u, 0.8 * P_4)
    p.must("axial load and bending of the reinforced pier", M_u, M_d)
    return p

def pier_shear(shape, b, R, A_e, A_st, f_c, A_t, s, f_yt, P_u, V_u, lam=1.0):
    p = Sheet("pier-shear")
    p.text(shape=shape); p.inch(b=b, R=R, s=s); p.area(A_e=A_e, A_st=A_st, A_t=A_t); p.psi(f_c_=f_c, f_yt=f_yt); p.num(**{"lambda": lam}); p.lbf(P_u=P_u, V_u=V_u); p.given()
    root = math.sqrt(f_c)
    d = 0.8 * b if shape == "round" else b / 2 + R
    A_v, A_vm = 2 * A_t, max(0.75 * root, 50) * b * s / f_yt
    count = A_v >= A_vm and s <= d / 2
    k_s, rho = min(1.0, math.sqrt(2 / (1 + d / 10))), A_st / (4 * b * d)
    k_c = 2.0 if count else 8 * k_s * rho ** (1 / 3)
    v_c, v_N, v_m = k_c * lam * root, min(P_u / 6 / A_e, 0.05 * f_c), 5 * lam * root
    V_c = b * d * min(v_m, max(0.0, v_c + v_N))
    V_s = min(A_v * f_yt * d / s, 4 * root * b * d) if count else 0.0
    V_d = 0.75 * (V_c + V_s) if count else 0.75 / 2 * V_c
    p.inch(d=d); p.area(A_v=A_v, A_vm=A_vm); p.text(ties="yes" if count else "no"); p.num(k_s=k_s, rho_w=rho, k_c=k_c); p.psi(v_c=v_c, v_N=v_N, v_m=v_m, v_s=4 * root); p.lbf(V_c=V_c, V_s=V_s, V_d=V_d)
    p.must("shear of the reinforced pier", V_u, V_d)
    return p

def pier_development(bar, f_y, f_c, c_b, s_c, cover, top, foot, c_top, h_free, d, t, z_1, z_2, P_u, M_u):
    p = Sheet("pier-development")
    p.text(bar=bar, top=top, foot=foot); p.psi(f_y=f_y, f_c_=f_c); p.inch(c_b=c_b, s_c=s_c, cover=cover, c_top=c_top, h_free=h_free, d=d, t=t, z_1=z_1, z_2=z_2); p.lbf(P_u=P_u); p.inlb(M_u=M_u)
    p.given()
    b = p.use(anchors.development(bar, f_y, f_c, c_b, hook_s=s_c, hook_c=cover))
    need = lambda end: b["l_dh"] if end == "hook" else b["l_d"]
    p.inch(l_d=b["l_d"], l_dh=b["l_dh"], l_1=need(top), l_2=need(foot))
    if M_u > 0:
        up, down = max(0.0, h_free + z_1 - c_top), max(0.0, (d - z_2 if d > 0 else t) - 3)
        p.inch(l_up=up, l_down=down)
        p.must("development of the bars above the maximum moment", need(top), up)
        p.must("development of the bars below the maximum moment", need(foot), down)
    if t > 0 and P_u < 0:
        p.inch(l_pad=max(0.0, t - 3))
        p.must("development of the bars into the pad", need(foot), max(0.0, t - 3))
    return p

def reinforced(f_c, shape, b, h_free, d, t, standoff, bar, n_bars, tie, tie_spacing, bar_end, bar_foot, bar_top, sdc, P_u, H_u, M_0, slab="no", anchorage=None):
    p = Sheet("reinforced-pier")
    p.psi(f_c_=f_c); p.text(shape=shape, bar=bar, tie=tie, bar_end=bar_end, bar_foot=bar_foot, sdc=sdc)
    p.inch(b=b, h_free=h_free, d=d, t=t, standoff=standoff, tie_spacing=tie_spacing, bar_top=bar_top)
    p.num(n_bars=n_bars); p.lbf(P_u=P_u, H_u=H_u); p.inlb(M_0=M_0); p.given()
    d_b, A_1 = BARS[bar]
    d_tie, A_t = BARS[tie]
    circle = shape == "round"
    if sdc in "DEF": p.must("concrete of a reinforced pier in SDC D and up", 3000, f_c)
    ring = p.use(bars(b, bar, n_bars, d_tie))
    p.use(in_ties(shape, b, d_tie, **(anchorage or {})))
    p.use(ties(shape, b, h_free + d, bar, n_bars, tie, tie_spacing, ring["s_b"]))
    A_g, A_st = math.pi / 4 * b * b if circle else b * b, n_bars * A_1
    p.must("minimum vertical bars of a reinforced pier", 0.005 * A_g, A_st)
    p.must("maximum vertical bars of a reinforced pier", A_st, 0.08 * A_g)
    A_e = max(A_g / 2, min(A_g, A_st / 0.01))
    k = math.sqrt(A_e / A_g)
    R = k * ring["D_r"] / 2
    f = p.use(forces(H_u, M_0 + H_u * (standoff + h_free), d, slab))
    p.use(strength(k * b, R, A_e, A_1, n_bars, f_c, 60e3, P_u, f["M_u"]))
    r = (0.25 if circle else 0.3) * b
    p.must("slenderness of the pier as a cantilever", 2 * (h_free + d / 3) / r, 22)
    p.use(pier_shear(shape, k * b, R, A_e, A_st, f_c, A_t, tie_spacing, 60e3, P_u, f["V_u"]))
    s_c = ring["s_b"] + d_b
    p.use(pier_development(bar, 60e3, f_c, min((b - ring["D_r"]) / 2, s_c / 2), s_c, 3 + d_tie, bar_end, bar_foot, bar_top, h_free, d, t, f["z_1"], f["z_2"], P_u, f["M_u"]))
    p.area(A_1=A_1, A_t=A_t, A_g=A_g, A_st=A_st, A_e=A_e); p.inch(d_b=d_b, d_tie=d_tie, s=tie_spacing, b_e=k * b, R_e=R, r=r, s_c=s_c, c_top=bar_top); p.psi(f_y=60e3, f_yt=60e3)
    p.text(tie_size=tie, top=bar_end); p.num(k_e=k)
    long = h_free + max(d, t) - bar_top - 3
    p.field("", many=n_bars); p.field(None, of_size=bar, upper=bar_end, lower=bar_foot); p.field("in", across=ring["D_r"], long=long, below=bar_top, foot=3.0)
    hooks = (bar_end == "hook") + (bar_foot == "hook")
    if hooks: p.field("in", bend=16 * d_b)
    p.piece(f"concrete: vertical bar, {('straight', 'hooked at one end', 'hooked at both ends')[hooks]}", ", ".join([f"{n_bars} of {bar}", size(long)] + ([size(16 * d_b)] if hooks else [])))
    return p

def pier_concrete(f_c, shape, b, cast, h_free, d, standoff, bar, n_bars, t, sdc, P, H, M_x, M_y, pier_as="plain", bar_long=None, slab="no", **cage):
    p = Sheet("pier-concrete")
    p.psi(f_c_=f_c); p.text(shape=shape, cast=cast, bar=bar, pier_as=pier_as, sdc=sdc); p.inch(b=b, h_free=h_free, d=d, standoff=standoff, t=t, bar_long=bar_long); p.num(n_bars=n_bars)
    p.lbf(P=P, H=H); p.inlb(M_x=M_x, M_y=M_y); p.given()
    A_1, M_0 = BARS[bar][1], math.hypot(M_x, M_y)
    p.area(A_1=A_1); p.psi(f_y=60e3); p.inlb(M_0=M_0)
    if pier_as == "reinforced": p.use(reinforced(f_c, shape, b, h_free, d, t, standoff, bar, n_bars, sdc=sdc, P_u=P, H_u=H, M_0=M_0, slab=slab, **cage))
    else:
        if n_bars > 1: p.use(bars(b, bar, n_bars))
        p.use(plain_pier(f_c, shape, b, cast, h_free, d, P, H, standoff, M_0, n_bars * A_1, 60e3, sdc, slab=slab))
        if n_bars > 0:
            p.field("", bars=n_bars); p.field(None, bar_size=bar)
            if bar_long is None: p.piece("concrete: vertical bar, from 3 in above the foot to 3 in below the top", f"{n_bars} of {bar}")
            else:
                p.field("in", long=bar_long)
                p.piece("concrete: vertical bar", f"{n_bars} of {bar}, {size(bar_long)}")
    return p

def feet3(volume): return f"{volume / 1728:.6g} ft^3"

def concrete_order(V, f_c, waste=None):
    p = Sheet("concrete-order")
    p.volume(V=V); p.psi(f_c_=f_c); p.num(waste=waste); p.given()
    p.field("in^3", one=V)
    if waste is None: p.piece("concrete: concrete, without waste", f"{feet3(V)} of {f_c:,.0f} psi")
    else: p.piece("concrete: concrete, with the allowance for waste", f"{feet3(V * (1 + waste))} of {f_c:,.0f} psi")
    return p

EXPOSURE = {"F0": (2500, 1, "none asked for"), "F1": (3500, 0.55, "5 percent, aggregate 3/4 in"), "F2": (4500, 0.45, "6 percent, aggregate 3/4 in"),
            "F3": (5000, 0.40, "6 percent, aggregate 3/4 in; fly ash by 26.4.2.2(b)"),
            "S0": (2500, 1, "any type"), "S1": (4000, 0.50, "Type II or MS"), "S2": (4500, 0.45, "Type V or HS, no calcium chloride"), "W0": (2500, 1, "no requirement"),
            "W2": (4000, 0.50, "not reactive with alkali, or by 26.4.2.2(d)"),
            "C0": (2500, 1, "1.00 percent of cementitious material"), "C1": (2500, 1, "0.30 percent of cementitious material"), "C2": (5000, 0.40, "0.15 percent of cementitious material")}

def exposure(f_c, frost, freezing, sulfate, water, corrosion):
    p = Sheet("concrete-exposure")
    p.psi(f_c_=f_c); p.inch(frost=frost); p.text(freezing=freezing, sulfate=sulfate, water=water, corrosion=corrosion); p.given()
    found = {letter: EXPOSURE[name] for letter, name in zip("FSWC", (freezing, sulfate, water, corrosion))}
    p.psi(**{f"f_{letter}": f for letter, (f, _, _) in found.items()}); p.num(**{f"w_{letter}": w for letter, (_, w, _) in found.items()})
    p.text(air=found["F"][2], cement=found["S"][2], aggregate=found["W"][2], chloride=found["C"][2])
    f_min, w_cm = max(f for f, _, _ in found.values()), min(w for _, w, _ in found.values())
    p.psi(f_min=f_min); p.num(w_cm=w_cm)
    p.must("concrete strength for its exposure", f_min, f_c)
    p.field("psi", strength=f_c); p.field(None, entrained=found["F"][2], binder=found["S"][2], stone=found["W"][2], salt=found["C"][2])
    if w_cm < 1: p.field("", w=w_cm)
    return p

# --- whole foundations ----------------------------------------------------------------------------------------------------

def ground(p, soil, report, q_rep, S_rep, d, frost_, mu_rep=0.0, c_rep=0.0):
    p.use(frost(d, frost_))
    return p.use(soil_values(soil, report, q_rep, S_rep, mu_rep, c_rep))

def pier_foundation(shape, b, h_free, d, standoff, f_c, P, H_x, H_y, C_D, soil, frost_, sdc, pad="no", B=0.0, L=0.0, t=0.0, slab="no", cast="earth", bar=None, n_bars=0, tie_spacing=None,
                    report="none", q_rep=0.0, S_rep=0.0,
                    half_inch="no", M_x=0.0, M_y=0.0, pier_as="plain", waste=None, **cage):
    p = Sheet("pier-foundation")
    p.text(shape=shape, pad=pad, slab=slab, cast=cast, bar=bar, soil=soil, report=report, half_inch=half_inch, sdc=sdc)
    p.inch(b=b, h_free=h_free, d=d, standoff=standoff, B=B, L=L, t=t, tie_spacing=tie_spacing, frost=frost_)
    p.psi(f_c_=f_c); p.num(n_bars=n_bars, C_D=C_D); p.psf(q_rep=q_rep); p.pcf(S_rep=S_rep); p.lbf(P=P, H_x=H_x, H_y=H_y); p.inlb(M_x=M_x, M_y=M_y); p.given()
    circle = shape == "round"
    s = ground(p, soil, report, q_rep, S_rep, d, frost_)
    t_p, B_p, L_p = (t, B, L) if pad == "yes" else (0.0, 0.0, 0.0)
    h_p, h_s, arm = h_free + d - t_p, d - t_p, h_free + standoff
    w = p.use(weight(shape, b, h_p, B_p, L_p, t_p, h_s))
    p.use(concrete_order(w["A_p"] * h_p + B_p * L_p * t_p, f_c, waste))
    H, M = math.hypot(H_x, H_y), math.hypot(abs(H_x) * arm + M_x, abs(H_y) * arm + M_y)
    H_1 = 1.0 if H <= 0 < M else H
    h = M / H_1 if H_1 > 0 else arm
    b_s = b if circle else math.hypot(b, b)
    short = "yes" if C_D > 1.25 else "no"
    if slab == "yes": p.use(constrained(H_1, h, b_s, d, s["S_lat"], slab, half_inch, short))
    else: p.use(nonconstrained(H_1, h, b_s, d, s["S_lat"], half_inch, short))
    size_ = bar or "No. 4"
    p.text(plan="round" if circle else "rectangular", short_term=short, bar_size=size_)
    p.inch(top_x=b, top_y=b, h_c=h_free + d, t_p=t_p, B_p=B_p, L_p=L_p, h_s=h_s, h_p=h_p, h_a=h_p, h=h, b_s=b_s, tie_s=tie_spacing or 0.0, d_bar=BARS[size_][0]); p.lbf(H=H, H_1=H_1); p.inlb(M=M)
    p.psf(S_f=s["S_lat"] * d / 12 / 3)
    if pad == "yes": p.use(bearing(P, w["W"], B, L, s["q_a"]))
    else: p.use(bearing(P, w["W"], b, b, s["q_a"], "round" if circle else "rectangular"))
    p.use(uplift(P, w["W_c"], w["W_s"]))
    cage |= {"tie_spacing": tie_spacing} if pier_as == "reinforced" else {}
    c = p.use(pier_concrete(f_c, shape, b, cast, h_free, d, standoff, size_, n_bars, t_p, sdc, P, H, M_x, M_y, pier_as, slab=slab, **cage))
    side = p.use(equal_square(shape, b, b), "pier-square")["b_x"]
    p.area(A_1=c["A_1"]); p.inch(side=side)
    if pad == "yes": p.use(plain_footing(f_c, B, L, t, side, side, P, sdc))
    return p

def pad_foundation(B, L, t, d, shape, b, h_p, standoff, f_c, P, P_D, H_x, H_y, soil, frost_, sdc, side_bears="no", bar=None, n_bars=0, tie_spacing=None, report="none", q_rep=0.0, S_rep=0.0,
                   mu_rep=0.0, c_rep=0.0,
                   M_x=0.0, M_y=0.0, pier_as="plain", waste=None, above=0.0, **cage):
    p = Sheet("pad-foundation")
    p.text(shape=shape, side_bears=side_bears, bar=bar, soil=soil, report=report, sdc=sdc)
    p.inch(B=B, L=L, t=t, d=d, b=b, h_p=h_p, standoff=standoff, tie_spacing=tie_spacing, frost=frost_, above=above)
    p.psi(f_c_=f_c); p.num(n_bars=n_bars, mu_rep=mu_rep); p.psf(q_rep=q_rep, c_rep=c_rep); p.pcf(S_rep=S_rep); p.lbf(P=P, P_D=P_D, H_x=H_x, H_y=H_y); p.inlb(M_x=M_x, M_y=M_y); p.given()
    pier = h_p > 0
    s = ground(p, soil, report, q_rep, S_rep, d, frost_, mu_rep, c_rep)
    h_s = max(0.0, d - t)
    w = p.use(weight(shape, b, h_p, B, L, t, h_s))
    W = w["W"]
    p.use(concrete_order(B * L * t + w["A_p"] * h_p, f_c, waste))
    a, H = t + h_p + standoff, math.hypot(H_x, H_y)
    M_ox, M_oy = abs(H_x) * a + M_x, abs(H_y) * a + M_y
    p.text(plan="round" if pier and shape == "round" else "rectangular")
    p.inch(top_x=b if pier else B, top_y=b if pier else L, h_a=h_p if pier else t, h_c=t + h_p, b_p=b if pier else 0.0, tie_s=tie_spacing or 0.0, h_s=h_s, a=a); p.lbf(W=W, H=H)
    p.inlb(M_ox=M_ox, M_oy=M_oy)
    drawn = n_bars > 0 and bar is not None
    if drawn: p.field("in", d_bar=BARS[bar][0])
    p.field("", **{"foundation.bars": n_bars if drawn else 0}); p.field(None, **{"foundation.bar": bar if drawn else "none"})
    p.use(bearing(P, W, B, L, s["q_a"], M_x=M_ox, M_y=M_oy), "bearing-full")
    p.use(bearing(P, 0.6 * W, B, L, s["q_a"], M_x=M_ox, M_y=M_oy), "bearing-light")
    p.use(uplift(P, w["W_c"], w["W_s"]))
    S_s, N_D = s["S_lat"] if side_bears == "yes" else 0.0, min(P, P_D) + 0.6 * W
    p.use(sliding(H, N_D, B * L, s["mu"], s["c_s"], S_s, h_s, d, min(B, L)))
    p.use(overturning(P, abs(H_x), a, W, B, M_x), "overturning-x")
    p.use(overturning(P, abs(H_y), a, W, L, M_y), "overturning-y")
    side = p.use(equal_square(shape, b, b), "pier-square")["b_x"]
    p.pcf(S_s=S_s); p.lbf(N_D=N_D); p.inch(side=side)
    p.use(plain_footing(f_c, B, L, t, side, side, P, sdc, math.hypot(M_ox, M_oy), W))
    if pier:
        size_ = bar or "No. 4"
        cage |= {"tie_spacing": tie_spacing} if pier_as == "reinforced" else {}
        c = p.use(pier_concrete(f_c, shape, b, "formed", h_p, 0.0, standoff, size_, n_bars, t, sdc, P, H, M_x, M_y, pier_as, **cage))
        p.text(bar_size=size_); p.area(A_1=c["A_1"])
    return p

def concrete_bearing(f_c, b, d, B, D, h, P_u, plain="no"):
    p = Sheet("concrete-bearing")
    p.psi(f_c_=f_c); p.inch(b=b, d=d, B=B, D=D, h=h); p.lbf(P_u=P_u); p.text(plain=plain); p.given()
    e = min((B - b) / 2, (D - d) / 2, 2 * h)
    A_1, A_2 = b * d, (b + 2 * e) * (d + 2 * e)
    k, phi = min(2.0, math.sqrt(A_2 / A_1)), 0.60 if plain == "yes" else 0.65
    B_n = 0.85 * f_c * A_1 * k
    p.inch(e=e); p.area(A_1=A_1, A_2=A_2); p.num(k=k, phi=phi); p.lbf(B_n=B_n, B_d=phi * B_n, B_u=max(0.0, P_u))
    p.must("bearing on the concrete", max(0.0, P_u), phi * B_n)
    return p

def on_concrete(anchorage, H_x_E, H_y_E, press_x, press_y, top_above_earth, found_depth, foundation_name, foundation, gap="none", base_level=None, grout_thick=0.0):
    p = Sheet("on-concrete")
    p.lbf(H_x_E=H_x_E, H_y_E=H_y_E); p.inch(press_x=press_x, press_y=press_y, top_above_earth=top_above_earth, found_depth=found_depth, base_level=base_level, grout_thick=grout_thick)
    p.text(gap=gap, foundation_name=foundation_name); p.given()
    V_E = math.hypot(H_x_E, H_y_E)
    p.lbf(V_E=V_E)
    held = Sheet(anchorage); held.lbf(V_E=V_E); held.given(); p.use(held)
    top = p.use(equal_square(foundation["plan"], foundation["top_x"], foundation["top_y"]), "top-square")
    rest = Sheet("concrete-bearing"); rest.inch(B=top["b_x"], D=top["b_y"], h=foundation["h_a"]); rest.text(plain="yes"); rest.given(); p.use(rest)
    p.fit("the heights of the concrete add up", abs(foundation["h_c"] - found_depth - top_above_earth) <= 1)
    if base_level is not None: p.field("in", under=base_level - top_above_earth - found_depth)
    p.piece("concrete: foundation", f"1 of {foundation_name}")
    if gap == "grout":
        p.field("in", bed=grout_thick)
        p.piece("concrete: grout", f"{feet3(press_x * press_y * grout_thick)} of without waste")
    return p

# --- a base on wood -------------------------------------------------------------------------------------------------------

def lead_hole(screw, D, G, pulled, D_r=0.0):
    p = Sheet("lead-hole")
    p.text(screw=screw, pulled=pulled); p.inch(D=D); p.num(G=G); p.given()
    dense = 0 if G > 0.6 else 1 if G > 0.5 else 2
    if screw == "lag": p.inch(low=(0.65, 0.6, 0.4)[dense] * D, high=(0.85, 0.75, 0.7)[dense] * D, shank=D)
    else:
        k, k_w = (1.0, 0.875, 0.875)[dense], (0.9, 0.7, 1.0)[dense]
        p.inch(low=0.0, high=(min(k, k_w) if pulled == "yes" else k) * D_r, shank=k * D)
    return p

# Posts and beams of NDS Supplement 2018 Table 4D, and what else a species has: G, kind; F_c_perp and E.
WOODS = {("Douglas Fir-Larch", "Select Structural", 5.5, 7.25): (0.50, "softwood", 625.0, 1.6e6), ("Southern Pine", "No.1", 5.5, 5.25): (0.55, "softwood", 375.0, 1.5e6)}

def wood_floor(P, H_x, H_y, press_x, press_y, floor_species, floor_grade, floor_thick, floor_width, floor_along, floor_end, floor_screw, floor_screw_d, floor_screw_length, finish, floor_screws_along,
               floor_screws_across,
               floor_spacing_along, floor_spacing_across, earthquake="no", service="dry", temperature="up to 100 F", root=0.0):
    p = Sheet("wood-floor")
    p.lbf(P=P, H_x=H_x, H_y=H_y); p.text(earthquake=earthquake, floor_species=floor_species, floor_grade=floor_grade, floor_along=floor_along, floor_screw=floor_screw, finish=finish)
    p.num(floor_screws_along=floor_screws_along, floor_screws_across=floor_screws_across)
    p.inch(press_x=press_x, press_y=press_y, floor_thick=floor_thick, floor_width=floor_width, floor_end=floor_end, floor_screw_d=floor_screw_d, floor_screw_length=floor_screw_length,
           floor_spacing_along=floor_spacing_along,
           floor_spacing_across=floor_spacing_across); p.given()
    n = (floor_screws_along, floor_screws_across)
    s = (floor_spacing_along, floor_spacing_across)
    p.fit("the screws go through the plate on the floor", s[0] * (n[0] - 1) < press_x and s[1] * (n[1] - 1) < press_y)
    G, kind, F_c_perp, E = WOODS[floor_species, floor_grade, floor_width, floor_thick]
    wood = Sheet("timber-values")
    wood.text(species=floor_species, grade=floor_grade); wood.inch(b=floor_width, d=floor_thick); wood.given()
    p.use(wood, "floor")
    # Seen along the grain of the floor.
    turn = (lambda pair: pair) if floor_along == "x" else (lambda pair: pair[::-1])
    (run, wide), (H_l, H_r), (n_l, n_r), (s_l, s_r) = turn((press_x, press_y)), turn((H_x, H_y)), turn(n), turn(s)
    end = max(0.0, floor_end - (run - s_l * (n_l - 1)) / 2)
    p.inch(floor_run=run, floor_wide=wide, s_floor=s_l, s_row_floor=s_r, end_base=end); p.lbf(H_along=H_l, H_across=H_r, bears=max(0.0, P), up_lift=max(0.0, -P), side_x=abs(H_x), side_y=abs(H_y))
    p.num(n_floor=n_l, rows_floor=n_r)
    wet = service == "wet" and floor_species != "Southern Pine"
    hot = {"up to 100 F": 1.0, "100 to 125 F": 0.7 if service == "wet" else 0.8}[temperature]
    rest = Sheet("side-bearing")
    rest.inch(l_b=run, seat=wide, end=end); rest.psi(F_c_perp=F_c_perp); rest.num(C_M=0.67 if wet else 1.0, C_t=hot, C_i=1.0); rest.lbf(P=P); rest.given()
    p.use(rest)
    held = Sheet("floor-fasteners")
    held.lbf(H_along=H_l, H_across=H_r); held.num(G=G, n=n_l, rows=n_r); held.psi(E_wood=E); held.text(kind_of_wood=kind); held.inch(seat_l=run, seat_w=wide, s=s_l, s_row=s_r); held.given()
    p.use(held)
    hole = p.use(lead_hole(floor_screw, floor_screw_d, G, "yes", root))
    p.field(None, wood=floor_species, quality=floor_grade, kind=floor_screw); p.field("", many=n[0] * n[1]); p.field("in", size=floor_screw_d, long=floor_screw_length, shank=hole["shank"])
    if floor_screw == "lag": p.field("in", lead_min=hole["low"], lead_max=hole["high"])
    else: p.field("in", lead=hole["high"])
    p.piece("fasteners: screw into the floor", f"{n[0] * n[1]} of {size(floor_screw_d)}, {size(floor_screw_length)}, {floor_screw}, {finish}")
    return p

# --- the rows ---------------------------------------------------------------------------------------------------------------

def main():
    given_on = "; what is given is handed on"
    rename = {"frost_": "frost"}
    turn = lambda cases: [(id, {rename.get(k, k): v for k, v in given.items()}, worked) for id, given, worked in cases]

    report = dict(soil="soils report", report="Test pits, 2025", q_rep=2700.0, S_rep=170.0, mu_rep=0.3, c_rep=80.0)
    line_by_line("soil-values", "Soil, by class and by report", "IBC 2021 Table 1806.2, 1803.2, " + BY,
                 [(id, {("class" if k == "soil" else k): v for k, v in given.items()}, worked) for id, given, worked in
                  vary(soil_values, report, report={}, unnamed=dict(report="none"), **{f"class_{n}": dict(soil=f"class {n}") for n in range(1, 6)})],
                 refused=[("report-without-pressure", {"class": "soils report", "report": "Test pits, 2025", "q_rep": 0.0}, "give q_rep under [site]")])

    f = dict(depth=40.0, frost=36.0, rock="no", free="yes", risk="I", framing="other", area=390 * 144.0, eave=114.0)
    line_by_line("frost", "Frost protection and its exceptions", "IBC 2021 1809.4, 1809.5, " + BY,
                 vary(frost, f, small={}, shallow=dict(depth=35.0, free="no"), too_shallow=dict(depth=11.9), just_deep=dict(depth=12.0), rock=dict(rock="yes", free="no"), attached=dict(free="no"),
                      risk_2=dict(risk="II"), large=dict(area=410 * 144.0),
                      large_light=dict(area=410 * 144.0, framing="light-frame"), larger_light=dict(area=610 * 144.0, framing="light-frame"), unknown_area=dict(area=0.0), unknown_eave=dict(eave=0.0),
                      high=dict(eave=121.0), higher=dict(eave=131.0),
                      just=dict(area=400 * 144.0, eave=120.0), rock_large=dict(rock="yes", area=900 * 144.0)))

    l = dict(P=1300.0, h=50.0, b=17.0, d=66.0, S_lat=160.0, half_inch="no", short_term="yes")
    change = dict(plain={}, doubled=dict(half_inch="yes"), lasting=dict(half_inch="yes", short_term="no"), neither=dict(short_term="no"), shallow=dict(d=30.0, b=12.5), deep=dict(d=150.0),
                  half_deep=dict(d=143.0), no_arm=dict(h=0.0), none=dict(P=0.0))
    line_by_line("pier", "Depth for shear, nonconstrained", "IBC 2021 1807.3.2.1, Eq. 18-1, 1806.3.4, in feet, " + BY, vary(nonconstrained, l, **change))
    line_by_line("pier-constrained", "Depth for shear, constrained", "IBC 2021 1807.3.2.2, Eq. 18-2, 1806.3.4, in feet, " + BY,
                 vary(constrained, l | dict(slab="yes"), **change, no_slab=dict(slab="no")))

    s = dict(P=7000.0, W=5200.0, B=40.0, L=46.0, q_a=1900.0, shape="rectangular", M_x=41000.0, M_y=-23000.0)
    line_by_line("soil-bearing", "Pressure under bases", "statics of a linear pressure, and of a triangle where part of the base lifts; IBC 2021 1806.2, " + BY,
                 vary(bearing, s, kern={}, product=dict(M_x=70000.0, M_y=80000.0), lifts_x=dict(M_x=140000.0), lifts_y=dict(M_y=150000.0), lifts_both=dict(M_x=120000.0, M_y=120000.0),
                      kern_edge=dict(M_x=85000.0), kern_past=dict(M_x=62000.0, M_y=-5000.0), tips=dict(M_x=225000.0), tips_y=dict(M_y=255000.0), just_stands=dict(M_x=218000.0, M_y=1000.0),
                      round=dict(shape="round"), round_edge=dict(shape="round", M_x=52000.0, M_y=29000.0), round_past=dict(shape="round", M_x=60000.0), over=dict(q_a=900.0),
                      round_over=dict(shape="round", q_a=1200.0), up=dict(P=-5600.0), up_little=dict(P=-4300.0, M_x=4100.0, M_y=-2300.0), nothing=dict(P=-5200.0),
                      one_way=dict(M_y=0.0, M_x=79000.0), near_y=dict(M_y=87000.0), kern_near=dict(M_x=50000.0, M_y=29000.0)))

    line_by_line("uplift-weight", "Weight against uplift", "ASCE 7-16 2.4.1, 2.4.5, " + BY, vary(uplift, dict(P=-2900.0, W_c=3700.0, W_s=1400.0), met={}, over=dict(P=-3100.0), down=dict(P=900.0)))

    line_by_line("sliding", "Sliding", "IBC 2021 1806.3.1, 1806.3.2, Table 1806.2, in feet, " + BY,
                 vary(sliding, dict(H=1200.0, N=3100.0, A=1500.0, mu=0.3, c_s=120.0, S_lat=140.0, d_1=7.0, d_2=19.0, w=33.0), friction={}, cohesion=dict(mu=0.0), half=dict(mu=0.0, c_s=170.0),
                      up=dict(N=-800.0), over=dict(H=1450.0), no_side=dict(S_lat=0.0)))

    line_by_line("overturning", "Overturning", "ASCE 7-16 2.4.1; moments about the edge, " + BY,
                 vary(overturning, dict(P=2100.0, H=700.0, a=47.0, W=3300.0, B=39.0, M=9000.0), down={}, up=dict(P=-800.0), over=dict(H=1500.0)))

    w = dict(shape="round", b=17.0, h_p=41.0, B=35.0, L=39.0, t=11.0, h_s=23.0, gamma_c=145.0, gamma_s=105.0)
    line_by_line("foundation-weight", "Weight of foundations", "volumes times 145 and 105 pcf, " + BY,
                 vary(weight, w, round={}, square=dict(shape="square"), no_pad=dict(B=0.0, L=0.0, t=0.0, h_s=0.0), as_wide=dict(B=17.0, L=18.0), as_long=dict(B=18.0, L=17.0), no_width=dict(B=0.0),
                      no_length=dict(L=0.0), no_thickness=dict(B=12.0, L=10.0, t=0.0)),
                 refused=[("narrow-x", w | dict(B=16.9), "the pad has to be at least as wide"), ("narrow-y", w | dict(L=16.9), "the pad has to be at least as wide")])

    line_by_line("pier-forces", "Shear and moment along piers", "a rigid pier in soil whose pressure grows with depth and movement, solved for the pivot, " + BY,
                 vary(forces, dict(H=900.0, M_g=31000.0, d=50.0, slab="no"), earth={}, no_moment=dict(M_g=0.0), no_shear=dict(H=0.0), slab=dict(slab="yes"), pad=dict(d=0.0),
                      nothing=dict(H=0.0, M_g=0.0), slab_low=dict(slab="yes", M_g=20000.0), long=dict(d=95.0)))

    c = dict(f_c=3300.0, shape="round", b=19.0, cast="earth", h_free=9.0, d=43.0, P_u=5100.0, H_u=420.0, standoff=2.5, M_0=5000.0, A_b=0.8, f_y=57e3, sdc="B", lam=0.85, slab="no")
    line_by_line("plain-pier", "Plain piers", "ACI 318-19 14.3, 14.5, IBC 2021 1905.1.7, " + BY,
                 [(id, {{"f_c": "f_c'", "lam": "lambda"}.get(k, k): v for k, v in given.items()}, worked) for id, given, worked in
                  vary(plain_pier, c, round={}, square=dict(shape="square"), formed=dict(cast="formed"), square_formed=dict(shape="square", cast="formed"), up=dict(P_u=-700.0), nothing=dict(P_u=0.0),
                       sdc_a=dict(sdc="A"), sdc_c=dict(sdc="C", f_c=2900.0), sdc_d=dict(sdc="D"),
                       sdc_d_weak=dict(sdc="D", f_c=2900.0), sdc_e_weak=dict(sdc="E", f_c=2900.0), sdc_f_weak=dict(sdc="F", f_c=2900.0), sdc_d_just=dict(sdc="D", f_c=3000.0), tall=dict(h_free=58.0),
                       bent=dict(H_u=2200.0), sheared=dict(H_u=30000.0, d=20.0), pressed=dict(P_u=190e3), slab=dict(slab="yes"), no_bars=dict(A_b=0.0))],
                 below=[("slab", None, "slab")])

    g = dict(f_c=3300.0, B=44.0, L=49.0, t=12.0, b_c=14.0, d_c=17.0, P_u=15000.0, sdc="B", M_u=40000.0, W=2600.0, lam=0.85)
    line_by_line("plain-footing", "Plain pads", "ACI 318-19 14.3, 14.4, 14.5, IBC 2021 1905.1.7, " + BY,
                 [(id, {{"f_c": "f_c'", "lam": "lambda"}.get(k, k): v for k, v in given.items()}, worked) for id, given, worked in
                  vary(plain_footing, g, pad={}, along=dict(B=50.0), lifts=dict(M_u=150000.0), lifts_just=dict(M_u=126000.0), tips=dict(M_u=360000.0), tips_not=dict(M_u=330000.0),
                       narrow_pier=dict(b_c=5.0, d_c=17.0), turned_pier=dict(b_c=19.0, d_c=8.0), wide_pier=dict(b_c=43.0, d_c=48.0), wider_pier=dict(b_c=51.0, d_c=50.0), thin=dict(t=7.5),
                       just_thick=dict(t=8.0), sdc_c=dict(sdc="C", t=15.0), sdc_c_thin=dict(sdc="C", f_c=2900.0), sdc_d_weak=dict(sdc="D", f_c=2900.0), sdc_d=dict(sdc="D", f_c=3000.0, t=17.5),
                       sdc_e_weak=dict(sdc="E", f_c=2900.0), sdc_f_weak=dict(sdc="F", f_c=2900.0), sdc_a=dict(sdc="A", f_c=2900.0), up=dict(P_u=-2400.0), up_more=dict(P_u=-1500.0, M_u=9000.0),
                       up_little=dict(P_u=-1500.0, M_u=0.0), none=dict(P_u=0.0, M_u=0.0), none_moment=dict(P_u=0.0), load_alone=dict(M_u=0.0), over=dict(P_u=90000.0), light=dict(P_u=90.0, M_u=100.0),
                       balance=dict(P_u=-2340.0))])

    line_by_line("pier-bars", "Bars in a ring", "ACI 318-19 Table 20.5.1.3.1, 25.2.3; chords of a circle, " + BY,
                 vary(bars, dict(b=17.0, bar="No. 5", n_bars=5, d_tie=0.375), ring={}, no_ties=dict(d_tie=0.0), thick=dict(bar="No. 8", b=19.0), close=dict(n_bars=12),
                      thick_close=dict(bar="No. 8", n_bars=8, b=13.5), two=dict(n_bars=2), narrow=dict(b=7.3, n_bars=2), just_wide=dict(b=7.5, n_bars=2),
                      just_wide_tie=dict(b=6.7, n_bars=2, d_tie=0.0)))

    y = dict(shape="square", b=17.0, h=53.0, bar="No. 5", n_bars=6, tie="No. 3", s=7.5, s_b=3.3)
    line_by_line("pier-ties", "Ties of piers", "ACI 318-19 10.7.3.1, 10.7.6, 25.7.2, " + BY,
                 vary(ties, y, square={}, round=dict(shape="round", n_bars=10, s_b=7.0), four=dict(n_bars=4, s_b=8.0), five=dict(n_bars=5, s_b=6.4), eight=dict(n_bars=8), nine=dict(n_bars=9),
                      three=dict(n_bars=3), thick=dict(tie="No. 4", bar="No. 8"), thick_tie=dict(tie="No. 5", bar="No. 8"), thin_bar=dict(bar="No. 3"), wide_tie=dict(bar="No. 8", b=24.0, tie="No. 3"),
                      narrow=dict(b=13.0, bar="No. 8", tie="No. 4", s=13.5), whole=dict(h=50.0, s=9.0), past_whole=dict(h=50.5, s=9.0), close=dict(s=4.0), close_bars=dict(s_b=6.0)))

    t = dict(shape="round", b=21.0, d_t=0.375, n_x=2, n_y=3, s_x=6.0, s_y=3.5, d_a=0.75)
    line_by_line("anchors-in-ties", "Anchors inside ties", "ACI 318-19 10.7.6.1.5, Table 20.5.1.3.1, " + BY,
                 vary(in_ties, t, round={}, square=dict(shape="square"), square_turned=dict(shape="square", s_x=9.0), one=dict(n_x=1, n_y=1), none=dict(n_x=0, n_y=0), just=dict(b=16.9),
                      out=dict(b=16.5), thick_tie=dict(b=17.2, d_t=0.5), thick_anchor=dict(b=16.9, d_a=0.8)))

    e = dict(D=17.0, f_c=3700.0, f_y=58e3, A_1=0.44, m_1=1, y_1=5.3, m_2=2, y_2=3.7, m_0=2, c=6.1)
    unprimed = lambda cases: [(id, {("f_c'" if k == "f_c" else k): v for k, v in given.items()}, worked) for id, given, worked in cases]
    line_by_line("pier-section", "Sections at one depth of the neutral axis", "ACI 318-19 22.2; segments of a circle, " + BY,
                 unprimed(vary(section, e, some={}, **{f"c_{c:g}".replace(".", "p"): dict(c=c) for c in (2.5, 3.9, 5.0, 8.0, 10.2, 12.5, 14.6, 17.5, 21.0, 40.0, 50.0)},
                               **{f"soft_{c:g}".replace(".", "p"): dict(c=c, f_y=9e3) for c in (3.7, 5.5, 9.8, 14.0, 15.8)}, strong=dict(f_c=5600.0), stronger=dict(f_c=8300.0), thin=dict(c=1.1),
                               bare=dict(m_2=0, m_0=0))))

    i = dict(D=17.0, f_c=3700.0, f_y=58e3, A_1=0.44, m_1=1, y_1=5.3, m_2=2, y_2=3.7, m_0=3, T_d=183e3, P_4=650e3)
    line_by_line("pier-interaction", "Moment strength", "ACI 318-19 22.4.1.1, Table 21.2.2, a straight line from point to point, " + BY,
                 unprimed(vary(interaction, i, **{("up_" if P < 0 else "down_") + f"{abs(P) // 1000:g}": dict(P_u=P) for P in (-190e3, -150e3, -100e3, -20e3, 60e3, 160e3, 330e3, 660e3)},
                               lower=dict(P_u=270e3, f_y=41e3))))

    m = dict(D=17.0, R=5.3, A_e=227.0, A_1=0.44, n_bars=8, f_c=3700.0, f_y=58e3, P_u=9000.0, M_u=600e3)
    line_by_line("pier-strength", "Strength of reinforced piers", "ACI 318-19 22.4, Table 21.2.2; bars by their angles, " + BY,
                 unprimed(vary(strength, m, **{f"{n}_bars": dict(n_bars=n) for n in (2, 3, 4, 5, 6, 7, 8, 9)}, up=dict(P_u=-100e3, M_u=300e3), up_over=dict(P_u=-190e3), down=dict(P_u=300e3),
                               over=dict(P_u=500e3), eight_down=dict(P_u=200e3), six_down=dict(P_u=200e3, n_bars=6), four_down=dict(P_u=200e3, n_bars=4))))

    q = dict(shape="round", b=17.0, R=5.3, A_e=227.0, A_st=2.6, f_c=3700.0, A_t=0.11, s=5.5, f_yt=59e3, P_u=9000.0, V_u=9000.0, lam=0.85)
    line_by_line("pier-shear", "Shear of reinforced piers", "ACI 318-19 22.5, 10.6.2, 10.7.6.5, " + BY,
                 [(id, {{"f_c": "f_c'", "lam": "lambda"}.get(k, k): v for k, v in given.items()}, worked) for id, given, worked in
                  vary(pier_shear, q, ties={}, square=dict(shape="square"), wide_apart=dict(s=7.5), half=dict(s=6.8), past_half=dict(s=7.2), thin=dict(A_t=0.03), few=dict(A_t=0.042),
                       few_strong=dict(A_t=0.05, f_c=9000.0), deep=dict(s=14.0, b=30.0, R=11.5, A_t=0.2), pulled=dict(P_u=-90e3), pulled_out=dict(P_u=-200e3), pressed=dict(P_u=400e3),
                       much=dict(P_u=200e3, s=8.0),
                       strong_ties=dict(A_t=0.6, s=3.0), over=dict(V_u=35e3), small=dict(b=11.0, s=9.0), upper=dict(P_u=400e3, f_c=8000.0, lam=0.75, A_st=9.0))])

    d = dict(bar="No. 5", f_y=58e3, f_c=3700.0, c_b=2.1, s_c=4.3, cover=3.4, top="straight", foot="hook", c_top=2.5, h_free=9.0, d=61.0, t=11.0, z_1=12.0, z_2=15.0, P_u=-900.0, M_u=40e3)
    line_by_line("pier-development", "Development of bars of piers", "ACI 318-19 25.4.1.1, 16.3, Table 20.5.1.3.1, " + BY,
                 unprimed(vary(pier_development, d, straight_top={}, straight_foot=dict(top="hook", foot="straight"), no_moment=dict(M_u=0.0), on_a_pad=dict(d=0.0, z_1=0.0, z_2=0.0, t=17.0),
                               thin_pad=dict(t=2.5), thin_on_pad=dict(d=0.0, z_1=0.0, z_2=0.0, t=2.0, P_u=900.0), no_pad=dict(t=0.0), down=dict(P_u=900.0), nothing=dict(P_u=0.0), low=dict(c_top=30.0),
                               shallow=dict(d=16.0),
                      shallow_far=dict(d=25.0))))

    cage = dict(tie="No. 3", tie_spacing=5.5, bar_end="hook", bar_foot="straight", bar_top=2.5)
    r = dict(f_c=3600.0, shape="round", b=19.0, h_free=8.0, d=59.0, t=11.0, standoff=1.5, bar="No. 5", n_bars=6, sdc="B", P_u=-4000.0, H_u=1900.0, M_0=9000.0, slab="no", **cage)
    fixed = dict(n_x=2, n_y=3, s_x=4.5, s_y=3.0, d_a=0.625)
    fixings = [("n_x", "", "fixings.fixed_x"), ("n_y", "", "fixings.fixed_y"), ("s_x", "in", "fixings.apart_x"), ("s_y", "in", "fixings.apart_y"), ("d_a", "in", "fixings.d_fixed")]
    cases = unprimed(vary(reinforced, r, round={}, square=dict(shape="square", n_bars=4), both_hooked=dict(bar_foot="hook"), straight=dict(bar_end="straight"),
                          foot_hooked=dict(bar_end="straight", bar_foot="hook"), on_pad=dict(d=0.0, t=24.0), slender=dict(h_free=44.0, d=30.0),
                          slender_square=dict(shape="square", n_bars=8, h_free=54.0, d=30.0), few=dict(bar="No. 4", n_bars=4, b=24.0),
                          many=dict(bar="No. 8", n_bars=12, b=14.0), more=dict(bar="No. 8", n_bars=14, b=14.0), close=dict(n_bars=10, b=16.0), sdc_c=dict(sdc="C", f_c=2900.0),
                          sdc_d=dict(sdc="D", f_c=3000.0), sdc_d_weak=dict(sdc="D", f_c=2900.0), sdc_e_weak=dict(sdc="E", f_c=2900.0), sdc_f_weak=dict(sdc="F", f_c=2900.0), slab=dict(slab="yes"),
                          down=dict(P_u=30e3), hardly=dict(bar="No. 4", n_bars=4, b=31.0), wide=dict(n_bars=8, b=28.0)))
    cases = [(id, given | fixed, reinforced(**{("f_c" if k == "f_c'" else k): v for k, v in given.items()}, anchorage=fixed)) for id, given, _ in cases]
    line_by_line("reinforced-pier", "Reinforced piers", "ACI 318-19 Chapters 6, 10, 16, 22, 25, " + BY + given_on, cases, below=[("slab", None, "slab"), *fixings],
                 refused=[(f"no-{name.replace('_', '-')}", {k: v for k, v in cases[0][1].items() if k != name and k not in fixed}, f"needs `{name}`") for name in ("tie", "tie_spacing", "bar_end",
                     "bar_top")])

    k = dict(f_c=3600.0, shape="round", b=19.0, cast="formed", h_free=8.0, d=59.0, standoff=1.5, bar="No. 5", n_bars=6, t=11.0, sdc="B", P=4000.0, H=1900.0, M_x=9000.0, M_y=7000.0, pier_as="plain",
             bar_long=61.0, slab="no")
    below = [(name, unit, name) for name, unit in (("tie", None), ("tie_spacing", "in"), ("bar_end", None), ("bar_foot", None), ("bar_top", "in"), ("slab", None), ("pier_as", None),
                                                   ("bar_long", "in"))]
    line_by_line("pier-concrete", "Piers, plain and reinforced", "ACI 318-19 14.5, 22.4, " + BY + given_on,
                 unprimed(vary(pier_concrete, k, plain={}, unknown_length=dict(bar_long=None), one=dict(n_bars=1), no_bars=dict(n_bars=0), two=dict(n_bars=2),
                               reinforced=cage | dict(pier_as="reinforced", bar_long=None))), below)

    line_by_line("concrete-order", "Concrete to order", "what fills the forms, and a share of it for waste, " + BY,
                 [(id, {("f_c'" if n == "f_c" else n): v for n, v in given.items() if v is not None}, concrete_order(**given)) for id, given in
                  (("waste", dict(V=33333.0, f_c=3500.0, waste=0.08)), ("no-waste", dict(V=44444.0, f_c=4000.0)))])

    x = dict(f_c=4500.0, frost=30.0, freezing="F2", sulfate="S1", water="W2", corrosion="C1")
    line_by_line("concrete-exposure", "Exposure of concrete", "ACI 318-19 Tables 19.3.2.1, 19.3.3.1, " + BY,
                 unprimed(vary(exposure, x, freezing={}, sulfate=dict(freezing="F1", sulfate="S2", f_c=4400.0), water=dict(freezing="F0", sulfate="S0"), salt=dict(corrosion="C2", f_c=5100.0),
                               dry=dict(freezing="F0", sulfate="S0", water="W0", corrosion="C0", f_c=2500.0), strong=dict(freezing="F3", f_c=4900.0),
                               sulfate_alone=dict(freezing="F0", water="W0", f_c=3900.0))))

    pf = dict(shape="round", b=19.0, h_free=8.0, d=59.0, standoff=1.5, f_c=3600.0, P=6000.0, H_x=-800.0, H_y=500.0, C_D=1.6, soil="class 4", frost_=36.0, sdc="B", cast="formed", bar="No. 5", n_bars=6,
              tie_spacing=5.5, half_inch="no", M_x=9000.0, M_y=7000.0, slab="no", waste=0.08)
    pad = dict(pad="yes", B=33.0, L=37.0, t=11.0)
    named = {k: v for k, v in report.items() if k in ("soil", "report", "q_rep", "S_rep")}
    cage = {k: v for k, v in cage.items() if k != "tie_spacing"}
    rows = turn(unprimed(vary(pier_foundation, pf, round={}, square=dict(shape="square"), pad=pad, pad_not_used=pad | dict(pad="no"), pad_square=pad | dict(shape="square", P=-6000.0),
                              slab=dict(slab="yes"), slab_moved=dict(slab="yes", half_inch="yes"), slab_lasting=dict(slab="yes", half_inch="yes", C_D=1.15), moved=dict(half_inch="yes"),
                              lasting=dict(half_inch="yes", C_D=1.15),
                              at_125=dict(half_inch="yes", C_D=1.25),
                              over_125=dict(half_inch="yes", C_D=1.33), report=named, moment_alone=dict(H_x=0.0, H_y=0.0), nothing=dict(H_x=0.0, H_y=0.0, M_x=0.0, M_y=0.0),
                              no_bars=dict(bar=None, n_bars=0, tie_spacing=None), reinforced=cage | dict(pier_as="reinforced"))))
    line_by_line("pier-foundation", "Piers in the ground", "IBC 2021 1806, 1807.3, ACI 318-19 14.5, " + BY + given_on, rows, below + [("waste", "", "concrete_waste")],
                 refused=[("pad-too-thick", {**rows[2][1], "t": 59.0}, "the whole pad has to be in the ground"),
                          ("bars-of-no-size", {k: v for k, v in rows[0][1].items() if k not in ("bar", "waste")}, "give bar, the size of the vertical bars"),
                          ("one-bar-of-no-size", {k: v for k, v in rows[0][1].items() if k not in ("bar", "waste")} | {"n_bars": 1}, "give bar, the size of the vertical bars")])

    pads = dict(B=43.0, L=47.0, t=13.0, d=20.0, shape="round", b=19.0, h_p=17.0, standoff=1.5, f_c=3600.0, P=6000.0, P_D=3900.0, H_x=-500.0, H_y=300.0, soil="class 4", frost_=18.0, sdc="B",
                side_bears="yes", bar="No. 5", n_bars=6, tie_spacing=5.5, M_x=9000.0, M_y=7000.0, waste=0.08, above=10.0)
    rows = turn(unprimed(vary(pad_foundation, pads, pier={}, square=dict(shape="square", n_bars=4), block=dict(h_p=0.0, n_bars=0, bar=None, tie_spacing=None), block_round=dict(h_p=0.0),
                              post_bars=dict(h_p=0.0, shape="square"), no_side=dict(side_bears="no"), less_dead=dict(P_D=6900.0), up=dict(P=-2000.0), turned=dict(B=49.0, L=41.0), report=report,
                              high=dict(d=12.0, above=18.0),
                              no_bars=dict(n_bars=0, bar=None), size_of_no_bars=dict(n_bars=0), reinforced=cage | dict(pier_as="reinforced", t=24.0, d=31.0))))
    line_by_line("pad-foundation", "Pads on the ground", "IBC 2021 1806, ASCE 7-16 2.4.1, ACI 318-19 14.5, " + BY + given_on, rows, below + [("waste", "", "concrete_waste")],
                 refused=[("bars-of-no-size", {k: v for k, v in rows[0][1].items() if k not in ("bar", "waste")}, "give bar, the size of the vertical bars"),
                          ("one-bar-of-no-size", {k: v for k, v in rows[0][1].items() if k not in ("bar", "waste")} | {"n_bars": 1}, "give bar, the size of the vertical bars")])

    line_by_line("concrete-bearing", "Bearing on concrete", "ACI 318-19 22.8.3, Table 21.2.1, " + BY,
                 unprimed(vary(concrete_bearing, dict(f_c=3400.0, b=7.5, d=5.0, B=13.0, D=12.5, h=9.0, P_u=31e3, plain="no"), along={}, across=dict(D=9.5), thin=dict(h=1.1), wide=dict(B=29.0, D=31.0),
                               plain=dict(plain="yes"), up=dict(P_u=-900.0), over=dict(P_u=170e3), as_wide=dict(B=7.5), as_long=dict(D=5.0))),
                 refused=[("too-wide", {"f_c'": 3400.0, "b": 7.5, "d": 5.0, "B": 7.4, "D": 12.5, "h": 9.0, "P_u": 31e3}, "the seat is larger"),
                          ("too-long", {"f_c'": 3400.0, "b": 7.5, "d": 5.0, "B": 13.0, "D": 4.9, "h": 9.0, "P_u": 31e3}, "the seat is larger")])

    # A base on concrete: what it is given, and what its foundation and its anchors read.
    site = dict(S_DS=0.3, S_D1=0.1, freezing="F0", sulfate="S0", water="W0", corrosion="C0", soil="class 4", frost=0.0)
    base = {"P": 900.0, "P_D": 700.0, "C_D": 1.6, "f_c'": 3600.0, "along-x.H_b": 150.0, "along-y.H_b": 90.0, "base.P_a": -400.0, "base.N_E": 100.0, "base.y_top": 1.5, "base.plate_t": 0.5,
            "base.press_x": 7.0, "base.press_y": 5.5, "base.room": 0.0, "anchors_x": 2, "anchors_y": 2, "anchor_s_x": 4.5, "anchor_s_y": 3.5,
            "fixings.n_fixed": 4, "finish": "painted", "d_a": 0.5, "pier_shape": "round", "pier_b": 19.0}
    cast = {"anchor_type": "cast", "h_ef": 7.0, "rod_grade": "F1554 Grade 36", "head": "hex"}
    screw = {"anchor_type": "screw", "h_ef": 3.1, "k_c": 17.0, "category": "category 1", "pullout": "does not govern", "N_sa": 15000.0, "V_sa": 7000.0, "ductile": "no", "c_ac": 6.5, "s_min": 3.25,
             "c_min": 2.75, "h_min": 6.0, "seismic_ok": "yes", "hole_d": 0.5, "hole_deep": 3.6,
             "name": "SA-1", "torque": 55.0}
    block = {"foundation_type": "pad", "pad_x": 31.0, "pad_y": 35.0, "pad_t": 13.0}
    pier_ = {"foundation_type": "pier"}
    units = {"in": "base.y_top base.plate_t base.room base.press_x base.press_y anchor_s_x anchor_s_y d_a pier_b h_ef c_ac s_min c_min h_min hole_d hole_deep pad_x pad_y pad_t frost",
             "lbf": "P P_D along-x.H_b along-y.H_b base.P_a base.N_E N_sa V_sa", "psi": "f_c'", "lbf ft": "torque",
             "": "S_DS S_D1 C_D anchors_x anchors_y fixings.n_fixed k_c"}
    units = {name: unit for unit, names in units.items() for name in names.split()}
    over = dict(H_x_E=110.0, H_y_E=-70.0, press_x=7.5, press_y=6.0, gap="none", base_level=31.0, grout_thick=0.8)
    square = dict(plan="rectangular", top_x=31.0, top_y=35.0, h_a=13.0, h_c=13.0)
    column = dict(plan="round", top_x=19.0, top_y=19.0, h_a=45.0, h_c=45.0)
    rows = []
    for id, kind, held, fact, own in (("block", block, screw, square, dict(top_above_earth=4.0, found_depth=9.0, foundation_name="F1")),
                                      ("pier", pier_, cast, column, dict(top_above_earth=6.0, found_depth=39.0, foundation_name="F2")),
                                      ("grouted", block, cast, square, dict(top_above_earth=3.0, found_depth=11.0, foundation_name="F3", gap="grout")),
                                      ("heights-apart", block, cast, square, dict(top_above_earth=3.0, found_depth=11.05, foundation_name="F4", base_level=None)),
                                      ("heights-apart-below", block, cast, square, dict(top_above_earth=3.0, found_depth=8.95, foundation_name="F5", base_level=-20.0))):
        mine = over | own
        given = {n: v for n, v in mine.items() if v is not None} | site | base | kind | held
        rows.append((id, given, on_concrete({"cast": "cast-in-rods", "screw": "drilled-anchors"}[held["anchor_type"]], **mine, foundation=fact)))
    line_by_line("on-concrete", "Bases on concrete", "levels and areas added up, " + BY + given_on, rows, [(name, units.get(name), name) for name in (*site, *base, *cast, *screw, *block)])

    wf = dict(P=1900.0, H_x=-210.0, H_y=130.0, press_x=7.5, press_y=5.0, floor_species="Douglas Fir-Larch", floor_grade="Select Structural", floor_thick=7.25, floor_width=5.5, floor_along="x",
              floor_end=13.0, floor_screw="lag", floor_screw_d=0.375, floor_screw_length=6.0, finish="painted",
              floor_screws_along=3, floor_screws_across=2, floor_spacing_along=2.25, floor_spacing_across=2.5, earthquake="no", service="dry", temperature="up to 100 F")
    floor = [("service", None, "service"), ("temperature", None, "temperature"), ("fabrication", None, "fabrication"), ("floor_plate", "in", "floor_plate"),
             ("floor_plate_F_e", "psi", "floor_plate_F_e"), ("floor_edge", "in", "floor_edge"), ("C_D", "", "C_D"), ("P_a", "lbf", "base.P_a")]
    rows = vary(wood_floor, wf, along={}, across=dict(floor_along="y", floor_screws_along=2, floor_screws_across=3, floor_spacing_along=2.5, floor_spacing_across=1.6), up=dict(P=-700.0),
                end_near=dict(floor_end=1.5), hot=dict(service="wet", temperature="100 to 125 F"), too_wide=dict(press_x=4.4), too_wide_across=dict(press_y=2.4),
                too_wide_three=dict(floor_screws_across=3, floor_spacing_across=1.6, press_y=3.1),
                wide_just=dict(press_x=4.6, press_y=2.6), wood_screws=dict(floor_screw="wood screw", floor_screw_d=0.242, floor_screw_length=4.5, root=0.196), as_wide=dict(press_x=4.5))
    pine = wf | dict(floor_species="Southern Pine", floor_grade="No.1", floor_thick=5.25)
    rows += vary(wood_floor, pine, pine=dict(service="wet"))
    # What the floor is told of earthquakes, and the root of wood screws of the table, go in beside what is given.
    rows = [(id, {k: v for k, v in given.items() if k != "root"} | dict(fabrication="dry", floor_plate=0.375, floor_plate_F_e=87000.0, floor_edge=1.25, C_D=1.15, P_a=-350.0), worked) for id, given,
            worked in rows]
    line_by_line("wood-floor", "Bases on a wood floor", "NDS 2018 3.10, 12.1.4, NDS Supplement 2018 Table 4D, " + BY + given_on, rows, floor)


if __name__ == "__main__":
    main()
