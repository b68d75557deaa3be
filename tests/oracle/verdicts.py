"""Cases in which a limit is just met and just not met.

What a limit allows is taken from another check-value file, where it is published or worked another way, or from the
clause itself; one input is then set a hundredth to either side of it. `verdicts_*.py` say for each limit which."""
import csv
import pathlib

from csvout import ACI, NDS, OUT

aci = lambda what, *where: f"{what}, {ACI(*where)}"
nds = lambda what, *where: f"{what}, {NDS(*where)}"

READ = pathlib.Path(__file__).resolve().parent.parent / "check-values"
ABOUT = ["tolerance", "tolerance_kind", "source", "kind", "note"]


class Case:
    """A row of a check-value file: what it gives, and what it expects."""

    def __init__(self, file, id):
        lines = (line for line in open(READ / f"{file}.csv") if not line.startswith("#"))
        self.row = next(row for row in csv.DictReader(lines) if row["id"] == id)
        self.file, self.id, self.kind = file, id, self.row["kind"]
        self.tolerance = float(self.row["tolerance"])
        given = {name: cell for name, cell in self.row.items() if cell and name != "id"}
        self.given = {name: cell for name, cell in given.items() if name not in ABOUT and not name.startswith("expect ")}

    def __getitem__(self, symbol):
        names = [name for name in self.row if name.split(" [")[0] == f"expect {symbol}"]
        return float(self.row[names[0]])

    def number(self, name):
        return float(self.given[name])

    def source(self, what):
        return f"{what} of `{self.id}` in {self.file}.csv: {self.row['source']}"


def plain(input):
    """In pounds: a column stands in one unit, and the files that cases come from differ."""
    name, cell = input
    for big, small in (("[kip]", "[lbf]"), ("[ksi]", "[psi]")):
        if name.endswith(big):
            return name.replace(big, small), f"{float(cell) * 1000:.10g}"
    return name, cell


class Sheet:
    """The cases of one sheet, `SHEET--verdicts.csv`."""

    def __init__(self, name):
        self.name, self.rows = name, []

    def add(self, key, given, words, verdict, source, kind, ratio=None, tolerance=""):
        row = {"id": key, **dict(map(plain, given.items())), f"expect verdict: {words}": verdict, "source": source, "kind": kind}
        if ratio is not None:
            row[f"expect ratio: {words}"] = f"{ratio:.12g}"
            row |= {"tolerance": tolerance, "tolerance_kind": "rel"}
        self.rows.append(row)

    def near(self, key, words, given, at, source, kind, more=False, by=0.01, tolerance=None):
        """`at`: inputs at which the limit is just reached, by name, or what makes them from a factor. `more`: more of
        them is better. With a tolerance the ratio is expected too: it is the factor, or one over it."""
        for share in (1 - by, 1 + by):
            inputs = at(share) if callable(at) else {name: value * share for name, value in at.items()}
            inputs = {name: f"{value:.10g}" for name, value in inputs.items()}
            ratio = None if tolerance is None else 1 / share if more else share
            self.add(f"{key}-{share:.2f}", {**given, **inputs}, words, "met" if (share > 1) == more else "not met",
                     f"{share:.2f} of {source}", kind, ratio, tolerance)

    def from_case(self, key, words, case, symbol, at, given={}, more=False, by=0.01, ratio=True, kind=None):
        """The same, where what is allowed is what a case of another file expects."""
        tolerance = max(case.tolerance, 1e-7) if ratio else None
        self.near(key, words, {**case.given, **given}, at, case.source(symbol), kind or case.kind, more, by, tolerance)

    def either(self, key, words, given, met, not_met, source, kind="recalled"):
        """A condition on names or counts."""
        self.add(f"{key}-met", {**given, **met}, words, "met", source, kind)
        self.add(f"{key}-not", {**given, **not_met}, words, "not met", source, kind)

    def write(self):
        names = [name for row in self.rows for name in row if name not in ["id", *ABOUT]]
        given = dict.fromkeys(name for name in names if not name.startswith("expect "))
        expects = dict.fromkeys(name for name in names if name.startswith("expect "))
        header = ["id", *given, *expects, *ABOUT]
        with open(OUT / f"{self.name}--verdicts.csv", "w", newline="") as file:
            file.write(f"# Limits of {self.name}, just met and just not met.\n")
            file.write("# Made by oracle/verdicts.py and the scripts that use it, which say how; do not edit.\n")
            out = csv.DictWriter(file, header, restval="", lineterminator="\n")
            out.writeheader()
            out.writerows(self.rows)
