#!/usr/bin/env python3
"""Draws the fifty jobs of `jobs/` and stores what the program of the starting commit says of them and of the three
fixtures in `results.jsonl.gz`.

    make.py OLD_PROGRAM [TRIES]

Of the draws of each number that the program takes (exit 0 or 1), the one stays that reaches most that no job before it
reached: sheets, values, words that a value can be, limits met and not met. Ends with the sheets that no job reaches.
Same seed, same program: same jobs.
"""

import gzip
import io
import json
import re
import shutil
import subprocess
import sys
import tempfile
from collections import defaultdict
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import jobs

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
FIXTURES = ["orchard-pergola", "cart-barn", "creek-porch"]


class Printed(float):
    """A number as the program printed it."""

    def __new__(cls, text):
        number = super().__new__(cls, text)
        number.text = text
        return number


def check(program, folder):
    run = subprocess.run([program, "check", str(folder), "--json"], capture_output=True, text=True)
    if run.returncode not in (0, 1):
        return None
    return json.loads(run.stdout, parse_float=Printed, parse_int=Printed)


def packs(program, folder):
    """Whether shop and field sheets take the job too."""
    with tempfile.TemporaryDirectory() as out:
        run = subprocess.run([program, "package", str(folder), "-o", f"{out}/x.pdf"], capture_output=True, text=True)
    return run.returncode in (0, 1)


def write(files, folder):
    folder.mkdir(parents=True)
    for name, text in files.items():
        (folder / name).write_text(text)


def attempt(program, no, at):
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary) / "job"
        files = jobs.job(no, at)
        write(files, folder)
        found = check(program, folder)
    return found and (files, found)


def reached(files, found):
    """What a job reaches, as words that can be counted."""
    words = set()
    for post in found["posts"]:
        for name, value in post["values"].items():
            words.add(f"value {name}")
            if isinstance(value["value"], str) and re.fullmatch(r"[\w .,'-]{1,40}", value["value"]):
                words.add(f"word {name} {value['value']}")
        for limit in post["limits"]:
            words.add(f"limit {limit['sheet']} {limit['limit']} {limit['ok']}")
    for line in files["job.toml"].splitlines():
        if re.match(r"(roof|ridge|flow|high|system_.|risk|terrain|exposure|building|surface|rafter_kind|snow_exposure|wind|basis) =", line):
            words.add(f"set {line}")
    return words


def rank(no, files, found, have):
    """The lower the better."""
    return not (found["ok"] and jobs.theme(no)["fair"]), -len(reached(files, found) - have)


def compact(found):
    """One line a job: a post for each group of equal posts."""
    posts = {}
    for post in found["posts"]:
        known = posts.setdefault(post["group"], {
            "marks": [], "ok": post["ok"],
            "limits": [[limit[key] for key in ("sheet", "limit", "cite", "demand", "capacity", "unit", "ratio", "combination", "ok")]
                       for limit in post["limits"]],
            "values": {name: [value["value"], value["unit"]] for name, value in post["values"].items()}})
        known["marks"].append(post["mark"])
    return {"ok": found["ok"], "posts": list(posts.values())}


def dump(value):
    """JSON with numbers as they were printed."""
    if isinstance(value, Printed):
        return value.text
    if isinstance(value, dict):
        return "{" + ",".join(f"{json.dumps(key)}:{dump(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ",".join(dump(item) for item in value) + "]"
    return json.dumps(value, ensure_ascii=False)


def sheets():
    """Every sheet: its own names, what it uses and under which names."""
    known = {}
    for path in sorted((ROOT / "templates/sheets").rglob("*.sheet")):
        text = re.sub(r"--.*", "", path.read_text())
        names = set(re.findall(r"^\s+([A-Za-z][\w'-]*)\s+(?:number|length|area|volume|inertia|force|stress|moment|line-load|density|angle|time|speed|temperature|count|text|date|one of)\b", text, re.M))
        names |= set(re.findall(r"\blet ([A-Za-z][\w'-]*)", text))
        for take in re.findall(r"\btake (.*?) from", text, re.S):
            names |= {part.split("=")[0].strip() for part in take.split(",")}
        uses = re.findall(r"\buse ([a-z-]+)(\((?:[^()]|\([^()]*(?:\([^()]*\)[^()]*)*\))*\))?(?: as ([\w-]+))?", text)
        known[path.stem] = (names, [(sheet, name or sheet) for sheet, _, name in uses])
    return known


def unreached(stored):
    """Sheets whose values stand in no result; those of the loads by the shape of the roof."""
    known = sheets()
    names_of = defaultdict(set)
    for _, uses in known.values():
        for sheet, name in uses:
            names_of[sheet].add(name)
    symbols = defaultdict(list)
    for found in stored.values():
        for post in found["posts"]:
            by_use = defaultdict(set)
            for name in post["values"]:
                use, symbol = name.rsplit(".", 1)
                by_use[use.rsplit(".", 1)[-1]].add(symbol)
            for use, own in by_use.items():
                symbols[use].append(own)
    seen = {"post", "shop-sheet", "field-sheet"}
    for sheet, (own, _) in known.items():
        if any(len(used & own) > 0.8 * len(used) for name in names_of[sheet] for used in symbols[name]):
            seen.add(sheet)
    roofs = "\n".join(path.read_text() for path in HERE.glob("jobs/*/job.toml") if "[roof]" in path.read_text())
    if roofs:
        seen |= {"post-loads", "tributary-area", "dead-load", "roof-snow", "ground-elevation", "velocity-pressure", "bent-share"}
        for text, more in (('roof = "slats"', ["wind-slats"]), ("flow =", ["roof-live", "roof-wind", "wind-open-roof", "wind-post"]),
                           ("knee braces", ["braced-bent"]), ('sdc = "D"', ["seismic-category", "importance-of", "seismic-shear"])):
            if text in roofs:
                seen |= set(more)
    return sorted(set(known) - seen)


def main():
    program, tries = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 8
    shutil.rmtree(HERE / "jobs", ignore_errors=True)
    stored, have = {}, set()
    with ThreadPoolExecutor(2) as pool:
        for name in FIXTURES:
            stored[name] = check(program, ROOT / "fixtures" / name)
            have |= reached({"job.toml": (ROOT / "fixtures" / name / "job.toml").read_text()}, stored[name])
        for no in range(jobs.COUNT):
            name, first, taken = f"{no + 1:02}", 0, None
            while not taken:
                draws = list(pool.map(lambda at: attempt(program, no, at), range(first, first + tries)))
                ranked = sorted((draw for draw in draws if draw), key=lambda draw: rank(no, *draw, have))
                for files, found in ranked:
                    folder = HERE / "jobs" / name
                    write(files, folder)
                    if packs(program, folder):
                        taken = files, found
                        break
                    shutil.rmtree(folder)
                first += tries
            fresh = reached(*taken) - have
            have |= fresh
            stored[name] = taken[1]
            print(f"{name}: {len(ranked)} of {tries} draws taken, {len(taken[1]['posts'])} posts, {len(fresh)} new", flush=True)
    lines = "".join(dump({"job": name} | compact(found)) + "\n" for name, found in stored.items())
    packed = io.BytesIO()
    with gzip.GzipFile(filename="", mode="wb", fileobj=packed, compresslevel=9, mtime=0) as out:
        out.write(lines.encode())
    (HERE / "results.jsonl.gz").write_bytes(packed.getvalue())
    print(f"{len(have)} things reached, {len(packed.getvalue()) / 1e6:.2f} MB")
    print("no job reaches:", ", ".join(unreached(stored)) or "every sheet is reached")


if __name__ == "__main__":
    main()
