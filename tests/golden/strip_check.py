#!/usr/bin/env python3
"""Task files of products to be stripped beside a plain dynamic programme: strip_check.py ORDER FILE...

The programme goes over sets of parts off, tool in hand and way up (Held and Karp, J. SIAM 10, 1962), each part by
whichever of its ways is open: it knows nothing of choices made beforehand, as the solver makes them.
"""
import json
import pathlib
import subprocess
import sys


def change(set_up, held, needed):
    """Minutes from one value to another; a value not asked for is left as it is."""
    if needed is None or needed == held:
        return 0
    return set_up.get("change", 0) + dict(zip(set_up["values"], set_up.get("getting", []))).get(needed, 0)


def ways_of(job):
    place = {task["name"]: i for i, task in enumerate(job["tasks"])}
    for i, task in enumerate(job["tasks"]):
        for way in task.get("ways", [task]):
            yield i, way["minutes"], sum(1 << place[name] for name in way.get("after", [])), [
                way.get(set_up["name"]) for set_up in job["set-ups"]]


def least(job):
    """The least minutes to take every part off."""
    ways, set_ups = list(ways_of(job)), job["set-ups"]
    states = {(0, *(set_up["start"] for set_up in set_ups)): 0}
    for _ in job["tasks"]:
        behind = {}
        for (off, *held), minutes in states.items():
            for i, takes, after, needed in ways:
                if off >> i & 1 or after & ~off:
                    continue
                cost = minutes + takes + sum(map(change, set_ups, held, needed))
                state = (off | 1 << i, *(n or h for n, h in zip(needed, held)))
                if cost < behind.get(state, cost + 1):
                    behind[state] = cost
        states = behind
    return min(states.values())


def main():
    failed = 0
    for number, path in enumerate(sys.argv[2:], 1):
        run = subprocess.run([sys.argv[1], path], capture_output=True, text=True, check=True)
        name, found, bound, _, _, _ = run.stdout.split()
        right = least(json.loads(pathlib.Path(path).read_text(encoding="utf-8")))
        good = abs(float(found) - right) < 1e-6 and float(bound) < right + 1e-6
        print(f"{'ok' if good else 'not ok'} {number} - {name}: what the plain programme finds, no bound above")
        if not good:
            print(f"# {right}: {run.stdout.strip()}")
        failed += not good
    print(f"1..{len(sys.argv) - 2}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
