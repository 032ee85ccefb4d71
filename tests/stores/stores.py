#!/usr/bin/env python3
"""Reads the stores of former programs: stores.py WHARVE FOLDER. One TAP line a question put to a store.

Each is copied, read, brought up to date by writing into the copy, and read again: what was said of the job then is said
of it now, word for word.
"""
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile


def say(wharve, folder, *words):
    done = subprocess.run([wharve, *words, "--store", "old.db"], cwd=folder, text=True, check=False,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    return done.stdout


def within(old, new):
    """What an old answer says and the new one does not; new words may come beside the old."""
    if isinstance(old, dict):
        return [fault for key, value in old.items()
                for fault in ([f"{key} is gone"] if key not in new else within(value, new[key]))]
    if isinstance(old, list):
        return [f"{len(old)} became {len(new)}"] if len(old) != len(new) else \
            [fault for pair in zip(old, new) for fault in within(*pair)]
    return [] if old == new else [f"{old!r} became {new!r}"]


def questions(wharve, store, folder):
    """(question, what is wrong with the answer) of one store."""
    shutil.copy(store, folder / "old.db")
    shutil.copytree(f"{store}.files", folder / "old.db.files")
    told = json.loads(store.with_suffix(".json").read_text(encoding="utf-8"))
    report = store.with_suffix(".txt").read_text(encoding="utf-8")
    for moment in ("as it is", "brought up to date"):
        if moment != "as it is":
            say(wharve, folder, "gauges", "later-1", "uncertainty=1 mm", "--who", "Eve")
        yield f"{moment}: the job", within(told, json.loads(say(wharve, folder, "job", "show", "1", "--json")))
        yield f"{moment}: the report", [] if say(wharve, folder, "report", "1") == report else ["it says something else"]
        yield f"{moment}: the check", [] if say(wharve, folder, "store", "check").startswith("sound") else ["not sound"]


def main():
    number = 0
    for store in sorted(pathlib.Path(sys.argv[2]).glob("*.db")):
        with tempfile.TemporaryDirectory() as folder:
            for question, faults in questions(pathlib.Path(sys.argv[1]).resolve(), store, pathlib.Path(folder)):
                number += 1
                print(f"{'not ok' if faults else 'ok'} {number} - {store.name} {question}")
                for fault in faults[:5]:
                    print("  " + fault)
    print(f"1..{number}")


if __name__ == "__main__":
    main()
