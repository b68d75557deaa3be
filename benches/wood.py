"""Pin yield, group action and column of 10,000 posts as whole arrays: the same formulas and inputs as chain.rs.

    python3 -m venv venv && venv/bin/pip install numpy
    venv/bin/python benches/wood.py                       # seconds for one post
    venv/bin/python benches/wood.py --json 100            # inputs and outputs
    cargo bench --bench chain -- --json 100 > chain.json
    venv/bin/python benches/wood.py --compare chain.json  # fails if they differ by more than 1e-12
"""
import json
import platform
import sys
import time

import numpy as np

POSTS, ROUNDS, AGREES = 10_000, 15, 1e-12


def fraction(at):
    """SplitMix64 as in inputs.rs, as a number from 0 to 1; `at` is an array of integers."""
    with np.errstate(over="ignore"):
        bits = (at + np.uint64(1)) * np.uint64(0x9E3779B97F4A7C15)
        bits = (bits ^ (bits >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        bits = (bits ^ (bits >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return ((bits ^ (bits >> np.uint64(31))) >> np.uint64(11)) / 2.0**53


def draw(posts):
    """The inputs of inputs.rs, in inches, pounds and radians, drawn in its order."""
    post, what = np.arange(posts, dtype=np.uint64) * np.uint64(100), 0

    def between(least, most):
        nonlocal what
        what += 1
        return least + (most - least) * fraction(post + np.uint64(what))

    def one_of(values):
        return np.array(values)[between(0.0, float(len(values))).astype(int)]

    b, d = between(5.0, 12.0), between(5.0, 12.0)
    blade, e_wood = between(0.1875, 0.75), between(0.9e6, 1.9e6)
    same = np.ones(posts)
    return {
        "G": between(0.31, 0.73), "D": between(0.1875, 1.0), "theta": between(0.0, np.pi / 2), "l_m": blade,
        "l_s": between(1.0, 5.0), "F_em": between(58e3, 90e3), "F_yb": between(36e3, 90e3), "n": np.floor(between(1.0, 5.0)),
        "s": between(1.5, 4.0), "E_m": 29e6 * same, "A_m": blade * between(2.0, 6.0), "E_s": e_wood, "A_s": b * d, "b": b, "d": d,
        "l_e1": between(60.0, 180.0), "l_e2": between(60.0, 180.0), "F_c": between(500.0, 1500.0), "E_min": 0.37 * e_wood,
        "C_D": one_of([0.9, 1.0, 1.15, 1.25, 1.6]), "C_M": one_of([0.91, 1.0]), "C_t": one_of([0.9, 1.0]), "C_F": same,
        "C_i": one_of([0.8, 1.0]), "P": between(-2e3, 20e3),
    }  # fmt: skip


def chain(G, D, theta, l_m, l_s, F_em, F_yb, n, s, E_m, A_m, E_s, A_s, b, d, l_e1, l_e2, F_c, E_min, C_D, C_M, C_t, C_F, C_i, P):
    """The sheets dowel-bearing, pin-yield, group-action and column."""
    large = D >= 0.25

    def nearest_50(value):
        return np.floor(value / 50 + 0.5) * 50

    small = nearest_50(16600 * G**1.84)
    along = np.where(large, nearest_50(11200 * G), small)
    across = np.where(large, nearest_50(6100 * G**1.45 / np.sqrt(D)), small)
    F_es = along * across / (along * np.sin(theta) ** 2 + across * np.cos(theta) ** 2)

    K_theta = 1 + 0.25 * theta / (np.pi / 2)
    K_D = np.where(D <= 0.17, 2.2, 10 * D + 0.5)
    R_1, R_3 = np.where(large, 4 * K_theta, K_D), np.where(large, 3.2 * K_theta, K_D)
    R_e = F_em / F_es
    k_3 = -1 + np.sqrt(2 * (1 + R_e) / R_e + 2 * F_yb * (2 + R_e) * D**2 / (3 * F_em * l_s**2))
    modes = [
        D * l_m * F_em / R_1,
        2 * D * l_s * F_es / R_1,
        2 * k_3 * D * l_s * F_em / ((2 + R_e) * R_3),
        2 * D**2 / R_3 * np.sqrt(2 * F_em * F_yb / (3 * (1 + R_e))),
    ]
    Z = np.minimum.reduce(modes)

    gamma = 270000 * D**1.5
    K_m, K_s = E_m * A_m, E_s * A_s
    R_EA = np.minimum(K_s / K_m, K_m / K_s)
    u = 1 + gamma * s / 2 * (1 / K_m + 1 / K_s)
    m = u - np.sqrt(u**2 - 1)
    C_1 = m * (1 - m ** (2 * n)) / (n * ((1 + R_EA * m**n) * (1 + m) - 1 + m ** (2 * n)))
    C_g = np.where((n > 1) & large, C_1 * (1 + R_EA) / (1 - m), 1.0)

    s_max = np.maximum(l_e1 / d, l_e2 / b)
    F_c_star = F_c * C_D * C_M * C_t * C_F * C_i
    F_cE = 0.822 * E_min / s_max**2
    alpha = F_cE / F_c_star
    beta = (1 + alpha) / (2 * 0.8)
    C_P = beta - np.sqrt(beta**2 - alpha / 0.8)
    return {
        "dowel-bearing.F_e_theta": F_es, "pin-yield.Z": Z, "group-action.C_g": C_g, "Z_row": n * Z * C_g * C_D,
        "column.F_cE": F_cE, "column.C_P": C_P, "column.F_c'": F_c_star * C_P, "column.f_c": np.maximum(P, 0) / (b * d),
    }  # fmt: skip


def compare(path):
    with open(path) as file:
        there = json.load(file)
    inputs = {name: np.array(values) for name, values in there["inputs"].items()}
    posts, widest = len(inputs["G"]), 0.0
    own = draw(posts)
    for name, values in inputs.items():
        assert np.allclose(own[name], values, rtol=1e-15, atol=0), f"another input {name} is drawn"
    for name, values in chain(**inputs).items():
        other = np.array(there["outputs"][name], dtype=float)
        gap = np.abs(values - other) / np.maximum(np.maximum(np.abs(values), np.abs(other)), np.finfo(float).tiny)
        assert np.all(gap <= AGREES), f"{name} differs by {gap.max():.1e}"
        widest = max(widest, gap.max())
    print(f"{posts} posts agree to {widest:.1e} in {len(there['outputs'])} values each")


def main(args):
    if args[:1] == ["--compare"]:
        return compare(args[1])
    if args[:1] == ["--json"]:
        inputs = draw(int(args[1]) if len(args) > 1 else 100)
        lists = {"inputs": inputs, "outputs": chain(**inputs)}
        return print(json.dumps({part: {name: list(map(float, values)) for name, values in of.items()} for part, of in lists.items()}))
    inputs, seconds = draw(POSTS), []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        chain(**inputs)
        seconds.append(time.perf_counter() - start)
    print(f"medians of {ROUNDS} rounds, numpy {np.__version__}, Python {platform.python_version()}, one thread")
    print(f"whole arrays {sorted(seconds)[ROUNDS // 2] / POSTS:.3e} s each")


if __name__ == "__main__":
    main(sys.argv[1:])
