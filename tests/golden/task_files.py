#!/usr/bin/env python3
"""The solver's own task files: task_files.py ORDER ROOT. One TAP line each.

The example of docs/task-file.md costs what its hand count says, a mistake in a file is shown with its place, and no
bound of a file in bench/tasks is above what was found.
"""
import json
import pathlib
import re
import subprocess
import sys
import tempfile

# lid off 0.5 + 3, spindle out 6, bearing off upward 0.5 + 8, warm 20, bearing on 4, spindle in 6
BY_HAND = 48
BAD = [
    ("a key misspelt", '{"format": 1, "tasks": [{"name": "a", "minuts": 3}]}', '1:39: "minuts" is not known here'),
    ("a task that is not there", '{"format": 1, "tasks": [\n {"name": "a", "after": ["b"]}]}', "2:26: b is no task"),
    ("minutes below 0", '{"format": 1, "tasks": [{"name": "a", "minutes": -1}]}', '1:50: "minutes" is no such number'),
    ("two tasks of one name", '{"format": 1, "tasks": [{"name": "a"},\n{"name": "a"}]}', "2:1: another task has this name"),
    ("another form", '{"format": 2, "tasks": [{"name": "a"}]}', "1:1: this is not the form"),
    ("no tasks", '{"format": 1}', "1:1: there are no tasks"),
    ("a ring", '{"format": 1, "tasks": [{"name": "a", "after": ["b"]}, {"name": "b", "after": ["a"]}]}', "waits for"),
    ("a greatest wait below the least", '{"format": 1, "tasks": [{"name": "a"}, {"name": "b"}], "waits": ['
     '{"from": "a", "to": "b", "least": 3, "most": 2}]}', "the greatest wait is less than the least"),
    ("no value of a set-up", '{"format": 1, "set-ups": [{"name": "tool", "values": ["saw"]}], "tasks": [{"name": "a", '
     '"tool": "axe"}]}', "axe is no tool"),
    ("cut short", '{"format": 1, "tasks": [{"name": "a"', "1:"),
]


def solve(order, path):
    run = subprocess.run([order, path, "--seconds", "5"], capture_output=True, text=True, check=False)
    return run.returncode, run.stdout.split(), run.stderr


def faults(order, root):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "task.json"
        document = (root / "docs" / "task-file.md").read_text(encoding="utf-8")
        path.write_text(re.search(r"```json\n(.*?)```", document, re.S).group(1), encoding="utf-8")
        code, out, errors = solve(order, path)
        good = code == 0 and float(out[1]) == BY_HAND and out[3] == "yes"
        yield "the example of the document costs what the hand count says", None if good else f"{out} {errors}"
        for words, text, says in BAD:
            path.write_text(text, encoding="utf-8")
            code, out, errors = solve(order, path)
            yield f"{words} is shown", None if code and says in errors else f"{code} {out} {errors}"
    for file in sorted((root / "bench" / "tasks").glob("*.json")):
        code, out, errors = solve(order, file)
        good = code == 0 and float(out[2]) <= float(out[1]) + 1e-6
        yield f"{file.stem}: the bound is not above what was found", None if good else f"{out} {errors}"
        least = json.loads(file.read_text(encoding="utf-8")).get("proven")
        if least is not None:
            good = good and abs(float(out[1]) - least) < 1e-6 and out[3] == "yes"
            yield f"{file.stem}: proven, at the cost that stands in the file", None if good else f"{out} {errors}"


def main():
    number = failed = 0
    for number, (words, fault) in enumerate(faults(sys.argv[1], pathlib.Path(sys.argv[2])), 1):
        print(f"{'not ok' if fault else 'ok'} {number} - {words}")
        if fault:
            print("# " + fault.replace("\n", "\n# "))
        failed += bool(fault)
    print(f"1..{number}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
