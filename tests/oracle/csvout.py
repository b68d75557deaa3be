"""Writes check-value files in the form of tests/check-values."""
import csv, os, pathlib
# Where the values are written: to be compared, a test has them written elsewhere.
OUT = pathlib.Path(os.environ.get("CHECK_VALUES", pathlib.Path(__file__).resolve().parent.parent / "check-values"))
# Clauses that were read in public transcriptions, which say where in the publication they stand.
ACI = "ACI 318M-19 {}, as transcribed in a public engineering notebook (Chapter {})".format
NDS = "NDS 2018 {}, as read in a public clause-by-clause verification of an engineering office (printed p. {})".format
def write(name, comments, inputs, expects, rows):
    """rows: dicts with id, inputs, expects, tol, kind_of_tol, source, kind, note; a missing cell stays blank."""
    done = {}
    # Sheets print pounds: numbers that a source gives in kip or ksi are written so, the tolerance too.
    for i, e in enumerate(expects):
        for big, small in ((" [kip]", " [lbf]"), (" [ksi]", " [psi]")):
            if e.endswith(big):
                sym = e[: -len(big)]
                expects[i] = sym + small
                for row in rows:
                    if row.get("=" + sym, "") != "" and id(row) not in done.setdefault(sym, set()):
                        done[sym].add(id(row)); row["=" + sym] = row["=" + sym] * 1000.0
                        if row.get("tk") == "abs" and not row.get("scaled"): row["tol"] *= 1000; row["scaled"] = True
    with open(OUT / name, "w", newline="") as file:
        for line in comments: file.write(f"# {line}\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["id"] + inputs + [f"expect {e}" for e in expects] + ["tolerance", "tolerance_kind", "source", "kind", "note"])
        for row in rows:
            bare = lambda h: h.split(" [")[0]
            cell = lambda v: f"{v:.10g}" if isinstance(v, float) else str(v)
            out.writerow([row["id"]] + [cell(row.get(bare(h), "")) for h in inputs] + [cell(row.get("=" + bare(e), "")) for e in expects]
                         + [row["tol"], row.get("tk", "rel"), row["source"], row["kind"], row.get("note", "")])
    print(name, len(rows))
def put(script, name, about, cases, units, clause, tol=1e-8):
    """cases: dicts with id, inputs by name and what is expected by `=` and its name; units: names by their unit."""
    unit = {column: f" [{unit}]" for unit, names in units.items() for column in names.split()}
    given, expects = [], []
    for case in cases:
        for k, v in case.items():
            if k != "id" and k not in given + expects: (expects if k[0] == "=" else given).append(k)
            if isinstance(v, float): case[k] = repr(float(v))
    of = lambda k: "" if k.startswith(("=name", "=verdict", "=pieces", "=ratio")) else unit.get(k.lstrip("=").split(".")[-1], "")
    write(name, [f"{about} (oracle/{script}.py)."], [k + of(k) for k in given], [k[1:] + of(k) for k in expects],
          [dict(case, tol=tol, source=f"worked from {clause} by oracle/{script}.py", kind="independent") for case in cases])
def verdict(ok): return "met" if ok else "not met"
