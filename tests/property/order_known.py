#!/usr/bin/env python3
"""Published sequential ordering problems against their known optima: order_known.py ORDER ROOT

Reads best_known.csv and the files it names under $WHARVE_DATA/planner or ROOT/../shared/data/planner. ORDER is stopped
by nodes, so that the answers are the same everywhere. Without the data all is skipped, with the reason.
"""
import csv
import os
import pathlib
import subprocess
import sys

NODES = 5_000_000


def folder(root):
    data = os.environ.get("WHARVE_DATA")
    return (pathlib.Path(data) if data else root.parent / "shared" / "data") / "planner"


def lines(order, files):
    """Of each file: found, bound, proven."""
    run = subprocess.run([order, *files, "--seconds", "0", "--nodes", str(NODES)], capture_output=True, text=True,
                         check=True)
    for line in run.stdout.splitlines():
        name, found, bound, proven, _seconds, _nodes = line.split()
        yield name, float(found), float(bound), proven == "yes"


def faults(found, bound, proven, best):
    if bound > best:
        yield f"bound {bound} is above the optimum {best}"
    if found < best:
        yield f"found {found} is below the optimum {best}"
    if found > best:
        yield f"found {found}, the optimum is {best}"
    if not proven:
        yield f"not proven with {NODES} nodes"


def main():
    order, planner = sys.argv[1], folder(pathlib.Path(sys.argv[2]))
    table = planner / "best_known.csv"
    if not table.exists():
        print(f"1..0 # SKIP no {table}: the open data are not here")
        return 0
    with table.open(encoding="utf-8") as rows:
        best = {row["instance"]: row for row in csv.DictReader(rows) if row["kind"] == "sop"}
    answers = list(lines(order, [str(planner / row["file"]) for row in best.values()]))
    print(f"1..{len(best) + 1}")
    print(f"{'ok' if len(answers) == len(best) else 'not ok'} 1 - every file has its line")
    for number, (name, found, bound, proven) in enumerate(answers, 2):
        wrong = list(faults(found, bound, proven, float(best[name]["upper_bound"])))
        print(f"{'not ok' if wrong else 'ok'} {number} - {name}")
        for fault in wrong:
            print("# " + fault)
    return 0


if __name__ == "__main__":
    sys.exit(main())
