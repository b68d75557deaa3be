"""What the scripts that work whole jobs share: the files of a job, load combinations, wood, and the list of limits.
Inches, pounds and radians throughout. It writes nothing itself."""
import csv, itertools, math, os, pathlib, re, tomllib
from csvout import OUT

TESTS = pathlib.Path(__file__).resolve().parent.parent
UNITS = {"in": 1, "ft": 12, "lbf": 1, "kip": 1e3, "psi": 1, "ksi": 1e3, "psf": 1 / 144, "psf/ft": 1 / 1728, "pcf": 1 / 1728, "sf": 144, "in^2": 1, "ft^2": 144,
         "lbf/ft": 1 / 12, "lbf ft": 12, "deg": math.pi / 180, "mph": 1, '"': 1, "%": 0.01}
PART = re.compile(r'(\d+/\d+|\d[\d,]*(?:\.\d+)?(?:[ -]\d+/\d+)?)\s*([a-z"%][a-z/^0-9"%]*(?: ft)?)?')


def value(text, unit=None):
    """`8 ft 6 in`, `7-1/2"`, `2 1/2` under a heading with its unit; a word is itself."""
    text = str(text).strip()
    sign, body = (-1, text[1:].strip()) if text.startswith("-") else (1, text)
    found = list(PART.finditer(body))
    if not found or PART.sub("", body).strip(): return text
    def one(part):
        whole = part[1].replace(",", "").replace("-", " ").split()
        number = sum(int(w.split("/")[0]) / int(w.split("/")[1]) if "/" in w else float(w) for w in whole)
        return number * UNITS[part[2] or unit or "in"] if part[2] or unit else number
    if any(part[2] and part[2] not in UNITS for part in found): return text
    return sign * sum(map(one, found))


def rows(path):
    """The rows of a CSV file, each a dictionary by the headings without their units; an empty cell is left out."""
    lines = [line for line in path.read_text(encoding="utf-8-sig").splitlines() if line and not line.startswith("#")]
    reader = csv.reader(lines); head = [re.fullmatch(r"(.*?)\s*(?:\[(.*)\])?", h).groups() for h in next(reader)]
    return [{name: value(cell, unit) for (name, unit), cell in zip(head, row) if cell.strip()} for row in reader]


def table(name, **keys):
    """The one row of a built-in table with these keys; without keys all of its rows."""
    found = [r for r in rows(TESTS.parent / "templates/tables" / f"{name}.csv") if all(r.get(k) == v for k, v in keys.items())]
    assert not keys or len(found) == 1, (name, keys, len(found))
    return found[0] if keys else found


class Job:
    """A job's folder: `self.site["frost"]`, `self.posts`, `self.row("bases", "knife 8")`, `self.cases["A1"]["W1"]["P"]`."""
    def __init__(self, name):
        self.name, self.folder = name, TESTS / "whole" / name
        for part, keys in tomllib.loads((self.folder / "job.toml").read_text()).items():
            setattr(self, part, {k: value(v) if isinstance(v, str) else v for k, v in keys.items()} if isinstance(keys, dict) else keys)
        self.posts = rows(self.folder / "posts.csv")
        given = self.folder / "reactions.csv"
        self.cases = {}
        for r in rows(given) if given.exists() else []:
            case = {k: r.get(k, 0.0) for k in ("P", "H_x", "H_y", "w_x", "w_y")}
            # Wind on a post is given without a sign: it blows the way that the shear of its case pushes.
            for w, H in (("w_x", "H_x"), ("w_y", "H_y")): case[w] = math.copysign(case[w], case[H])
            self.cases.setdefault(r["mark"], {})[r["case"]] = case
    def row(self, file, name): return next(r for r in rows(self.folder / f"{file}.csv") if r["name"] == name)


C_D = {"D": 0.9, "L": 1.0, "S": 1.15, "Lr": 1.25, "R": 1.25, "W": 1.6, "E": 1.6}  # NDS 2018 Table 2.3.2; R as Lr, construction


class Combination:
    """Factors of load cases; `quake` is the part of them that an earthquake brings, its vertical effect included."""
    def __init__(self, method, factors, quake=None):
        self.method, self.factors, self.quake = method, {c: f for c, f in factors.items() if f}, quake or {}
        self.C_D = max(C_D[c if c in C_D else c[0]] for c in self.factors)
        self.name = " ".join(f"{f:+.4g}{c}" for c, f in self.factors.items())
    def of(self, cases, what, quake=False): return sum(f * cases[c].get(what, 0) for c, f in (self.quake if quake else self.factors).items() if c in cases)


def combinations(cases, both=(), S_DS=0.0, rho=1.0, Omega=None):
    """ASCE 7-16 2.4.1 and 2.4.5 (asd), 2.3.1 and 2.3.6 (strength) by their sentences: each companion load also without it, each wind,
    each earthquake both ways, and of the cases named in `both` too. With `Omega` the earthquake combinations of overstrength alone:
    rho is 1 and Q_E is multiplied (2.3.6, 2.4.5 with 12.4.3)."""
    winds = [(c, s) for c in cases if c[0] == "W" for s in ((1, -1) if c in both else (1,))]
    quakes = [(c, s) for c in cases if c[0] == "E" for s in (1, -1)]
    roofs = [c for c in ("Lr", "S", "R") if c in cases]
    found = {}
    def add(method, factors, quake=None):
        kept = {c: f for c, f in factors.items() if c in cases}
        found.setdefault((method, tuple(sorted(kept.items()))), Combination(method, kept, quake))
    def companions(base, *terms):
        """Each term is a dictionary of alternatives, of which one or none acts."""
        for chosen in itertools.product(*[[None, *term.items()] for term in terms]):
            yield {**base, **dict(filter(None, chosen))}
    one = lambda f: {c: f for c in roofs}
    L = lambda f: {"L": f} if "L" in cases else {}
    W = lambda f: [{c: s * f} for c, s in winds]
    if Omega is None:
        for add_to, D in (("strength", 1.4), ("asd", 1.0)): add(add_to, {"D": D})
        for f in companions({"D": 1.2, "L": 1.6}, one(0.5)): add("strength", f)
        for r in roofs:
            for f in companions({"D": 1.2, r: 1.6}, L(1.0)): add("strength", f)
            for w in W(0.5): add("strength", {"D": 1.2, r: 1.6, **w})
        for w in W(1.0):
            for f in companions({"D": 1.2, **w}, L(1.0), one(0.5)): add("strength", f)
            add("strength", {"D": 0.9, **w})
        for f in companions({"D": 1.0}, L(1.0)): add("asd", f)
        for r in roofs: add("asd", {"D": 1.0, r: 1.0})
        for f in companions({"D": 1.0}, L(0.75), one(0.75)): add("asd", f)
        for w in W(0.6): add("asd", {"D": 1.0, **w}); add("asd", {"D": 0.6, **w})
        for w in W(0.45):
            for f in companions({"D": 1.0, **w}, L(0.75), one(0.75)): add("asd", f)
    E_v, E_h = 0.2 * S_DS, Omega or rho
    for c, s in quakes:
        def quake(method, D, v, h, *terms):
            for f in companions({"D": D + v * E_v, c: s * h * E_h}, *terms): add(method, f, {"D": v * E_v, c: s * h * E_h})
        snow = lambda f: {"S": f} if "S" in cases else {}
        quake("strength", 1.2, 1.0, 1.0, L(1.0), snow(0.2))
        quake("strength", 0.9, -1.0, 1.0)
        quake("asd", 1.0, 0.7, 0.7)
        quake("asd", 1.0, 0.525, 0.525, L(0.75), snow(0.75))
        quake("asd", 0.6, -0.7, 0.7)
    return list(found.values())


def wood(species, grade, b, d, service="dry", incised="no"):
    """Reference design values times all factors but C_D, C_L and C_P: NDS 2018 Tables 4.3.1 and 4.3.8, Supplement Table 4D; timbers,
    not hot, 12 in deep at most. A square post or a beam on edge."""
    t, w = min(b, d), max(b, d)
    assert t >= 4.5 and w <= 12
    r = table("posts-and-timbers", species=species, **{"class": "posts" if w - t <= 2 else "beams"}, grade=grade)
    wet, cut = service == "wet" and species != "Southern Pine", incised == "yes"
    v = {k: r[k] * (0.8 if cut and k in ("F_b", "F_t", "F_v", "F_c") else 0.95 if cut and k in ("E", "E_min") else 1.0)
         for k in ("F_b", "F_t", "F_v", "F_c", "F_c_perp", "E", "E_min")}
    v["F_c"] *= 0.91 if wet else 1; v["F_c_perp"] *= 0.67 if wet else 1
    v["G"] = table("specific-gravity", species=species)["G"]
    return v


def exposed(site):
    """The least strength of concrete for its exposure, ACI 318-19 Table 19.3.2.1."""
    return max(table("exposure-classes", **{"class": site[k]})["f_min"] for k in ("freezing", "sulfate", "water", "corrosion"))


class Limits:
    """The largest ratio of each post and limit, and what is not worked; `write` puts them in `tests/whole`."""
    def __init__(self, job): self.job, self.rows, self.left = job, {}, []
    def take(self, post, sheet, words, ratio, combination=None, tolerance=0.002, note=""):
        key = (post, sheet, words)
        # Of combinations that are equal but for rounding, the first.
        if key not in self.rows or ratio > self.rows[key][0] * (1 + 1e-9): self.rows[key] = (float(ratio), combination.name if combination else "", tolerance, note)
    def leave(self, sheet, words, why):
        """A limit that is not worked, for all posts; `words` may be `*`."""
        self.left.append((sheet, words, why))
    def write(self):
        folder = OUT if "CHECK_VALUES" in os.environ else TESTS / "whole"
        with open(folder / f"{self.job.name}.csv", "w", newline="") as file:
            out = csv.writer(file, lineterminator="\n")
            out.writerow(["id", "post", "sheet", "limit", "expect ratio", "combination", "tolerance", "tolerance_kind", "source", "kind", "note"])
            script = f"oracle/whole_{self.job.name.replace('-', '_')}.py"
            for at, ((post, sheet, words), (ratio, name, tolerance, note)) in enumerate(self.rows.items(), 1):
                out.writerow([f"{post}-{at}", post, sheet, words, f"{ratio:.7g}", name, tolerance, "rel", script, "independent", note])
            for sheet, words, why in self.left: out.writerow(["not worked", "", sheet, words, "", "", "", "", "", "", why])
        print(self.job.name, len(self.rows))
