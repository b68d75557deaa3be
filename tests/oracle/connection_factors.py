"""Rows for connection-factors, typed from a public transcription of NDS 2018 Tables 11.3.3 and 11.3.4 and 12.5.2 (not from the project's tables).

    python3 connection_factors.py      writes ../check-values/connection-factors--nds-11-3.csv
"""
import csv
from csvout import OUT as FOLDER
OUT = FOLDER / "connection-factors--nds-11-3.csv"
SRC = "NDS 2018 {}, as transcribed in a public clause-by-clause cross-check of an engineering office (printed p. {})"
T = {"up to 100 F": 0, "100 to 125 F": 1, "125 to 150 F": 2}
CT = {"dry": [1.0, 0.8, 0.7], "wet": [1.0, 0.7, 0.5]}
rows, k = [], 0
def add(fastener, load, D, n, r, plates, eg, fab, ser, temp, CD, CM, Ceg, where, page, note=""):
    global k; k += 1
    ct = CT[ser][T[temp]]
    rows.append([f"cf-{k:02}", fastener, load, D, n, r, plates, eg, fab, ser, temp, CD, CM if "11.3.3" in where else "", ct if "11.3.4" in where else "", Ceg if "12.5.2" in where else "",
                 1e-9, "abs", SRC.format(where, page), "published", note])
one, sep = "one plate", "a plate for each row"
# lateral, D >= 1/4: dry/dry 1.0; wet/dry 0.4, or 1.0 by footnote 2; any/wet 0.7
for (n, r, p, exempt) in [(1, 1, one, True), (3, 1, one, True), (2, 2, sep, True), (2, 2, one, False), (1, 2, one, False)]:
    for fab, ser in [("dry", "dry"), ("wet", "dry"), ("dry", "wet"), ("wet", "wet")]:
        cm = 0.7 if ser == "wet" else 1.0 if fab == "dry" or exempt else 0.4
        add("lag", "lateral", 0.5, n, r, p, "no", fab, ser, "up to 100 F", 1.6, cm, 1.0, "Table 11.3.3 and footnote 2", 67)
# lateral, D < 1/4: wet/dry 0.7 (several rows; the source is silent on which sentence of footnote 2 holds for one fastener)
for fab, ser, cm in [("dry", "dry", 1.0), ("wet", "dry", 0.7), ("dry", "wet", 0.7), ("wet", "wet", 0.7)]:
    add("wood screw", "lateral", 0.242, 3, 2, one, "no", fab, ser, "up to 100 F", 1.6, cm, 1.0, "Table 11.3.3 and footnote 2", 67)
# withdrawal of lag and wood screws: any/dry 1.0, any/wet 0.7
for f, D in [("lag", 0.375), ("wood screw", 0.242)]:
    for fab in ("dry", "wet"):
        for ser, cm in (("dry", 1.0), ("wet", 0.7)):
            add(f, "withdrawal", D, 2, 2, one, "no", fab, ser, "up to 100 F", 1.6, cm, 1.0, "Table 11.3.3", 67)
for ser in ("dry", "wet"):
    for t in T:
        add("pin", "lateral", 0.5, 2, 1, one, "no", "dry", ser, t, 1.0, 1.0 if ser == "dry" else 0.7, 1.0, "Tables 11.3.3 and 11.3.4", 67)
add("lag", "lateral", 0.5, 1, 1, one, "yes", "dry", "dry", "up to 100 F", 1.15, 1.0, 0.67, "12.5.2.2", 91)
add("wood screw", "lateral", 0.242, 1, 1, one, "yes", "dry", "dry", "up to 100 F", 1.15, 1.0, 0.67, "12.5.2.2", 91)
add("lag", "withdrawal", 0.5, 1, 1, one, "yes", "dry", "dry", "up to 100 F", 1.15, 1.0, 0.75, "12.2.1.3 and 12.5.2.1", 91)
with open(OUT, "w", newline="") as f:
    f.write("# Factors of Table 11.3.1 for pins, lag screws and wood screws, by moisture, temperature, arrangement and end grain.\n# Made by oracle/connection_factors.py from a transcription of the tables; only what the clause cited states is expected.\n")
    w = csv.writer(f, lineterminator="\n")
    w.writerow("id,fastener,load,D [in],n,rows,plates,end_grain,fabrication,service,temperature,C_D,expect C_M,expect C_t,expect C_eg,tolerance,tolerance_kind,source,kind,note".split(","))
    w.writerows(rows)
