#!/usr/bin/env python3
"""As a fitter works: fitter_facts.py WHARVE ROOT. One TAP line a fact of the shipped machines' jobs, for one fitter and
for two, and of the same jobs planned anew from several places. --self-test shows that each fact can be seen broken."""
import copy
import json
import re
import subprocess
import sys

import facts

JOBS = [("juice-clarifier", "foot-bearing"), ("juice-clarifier", "neck-bearing,foot-bearing"),
        ("juice-clarifier", "flat-belt"), ("dryer-fan", "wheel-bearing,drive-bearing"), ("dryer-fan", "drive-bearing"),
        ("yard-pump", "seal-ring,drive-bearing,pump-bearing"), ("yard-pump", "coupling-spacer")]
# A part found too late for nothing to be undone, at that share of the steps.
FOUND = {"juice-clarifier": "neck-seal", "dryer-fan": "v-belts", "yard-pump": "pump-cap-seal"}
SHARES = (0.2, 0.45, 0.6, 0.8)
# What carries or props a load stands for its own step only.
PROPS = {"jack": "off spindle"}
# A trial fit is over before the gasket is laid.
TRIALS = [("away dry-casing, way back", "on casing-gasket"), ("check centre", "on casing-gasket"),
          ("check wheel-runout", "on cone-gasket")]
# The stages of a ring of screws are told in one step.
RINGS = {"on casing": "15 N m, 30 N m, then once round", "on clamp-ring": "metal meets metal"}


def plan_of(wharve, root, machine, renew, *more):
    done = subprocess.run([wharve, "plan", f"{root}/machines/{machine}.yaml", "--renew", renew, "--json", *more],
                          capture_output=True, text=True)
    if done.returncode:
        raise SystemExit(done.stderr)
    return json.loads(done.stdout)["steps"]


def base(step):
    return re.sub(r" again( \d+)?$", "", step["id"])


def phases_fault(steps):
    """Nothing is fitted while anything has come off since dirty work last ended."""
    dirty = None
    for step in sorted(steps, key=lambda s: s["starts at"]):
        word = base(step).partition(" ")[0]
        if word == "off":
            dirty = step["id"]
        if base(step) == "clean":
            dirty = None
        if word in ("on", "warm") and dirty and step["stage"] != "taking down":  # there only for a fixture to stand on
            return f"{step['id']} after {dirty}, dirty work has not ended"
    return None


def props_fault(steps):
    """Of the fitter who sets it: set, used, taken away, nothing in between."""
    for prop, user in PROPS.items():
        for step in steps:
            if base(step) != f"set {prop}":
                continue
            own = [base(s) for s in steps if s["fitter"] == step["fitter"]]
            at = own.index(f"set {prop}")
            if own[at:at + 3] != [f"set {prop}", user, f"away {prop}"]:
                return "the plan walks off: " + ", ".join(own[at:at + 3])
    return None


def trials_fault(steps):
    places = {base(step): i for i, step in enumerate(steps)}
    for trial, gasket in TRIALS:
        if trial in places and gasket in places and places[trial] > places[gasket]:
            return f"{gasket} before {trial}"
    return None


def rings_fault(steps):
    for step in steps:
        words = RINGS.get(base(step))
        if words and not step.get("done") and words not in " ".join(step["lines"]):
            return f"{step['id']} does not tell all stages: {words}"
    return None


def power_fault(steps):
    """While power is on before the tests, and until it is locked off again, nobody has a hand at anything else."""
    for step in steps:
        if not base(step).startswith("isolate after "):
            continue
        check = "check " + base(step).removeprefix("isolate after ")
        bump = [s for s in steps if base(s) == check and s["starts at"] <= step["starts at"]][-1]
        begin, end = bump["starts at"], step["starts at"] + step["minutes"]
        for other in steps:
            late = other["starts at"] + other["minutes"] > begin + 1e-6 and other["starts at"] < end - 1e-6
            if late and other is not bump and other is not step and not other.get("done"):
                return f"{other['id']} while power is on for {bump['id']}"
    return None


def anew_fault(steps, anew, k):
    """What is done stands there, each caution is still where it was, each hold still ahead."""
    if [s["id"] for s in steps[:k]] != [s["id"] for s in anew[:k]]:
        return "what is done was changed"
    if not all(s.get("done") for s in anew[:k]) or any(s.get("done") for s in anew[k:]):
        return "not just what is done is marked as done"
    cautions = {(s["id"], s.get("turned")): s["cautions"] for s in steps}
    lost = [s["id"] for s in anew
            if (base(s), s.get("turned")) in cautions and s["cautions"] != cautions[base(s), s.get("turned")]]
    if lost:
        return "other cautions at " + ", ".join(lost)
    holds = {s["id"] for s in steps[k:] if s["id"].startswith("hold ")}
    lost = holds - {base(s) for s in anew[k:]}
    return "holds are gone: " + ", ".join(lost) if lost else None


FACTS = {"dirty and clean apart": phases_fault, "nothing stands on a prop meanwhile": props_fault,
         "no gasket for a trial fit": trials_fault, "a ring is tightened in one go": rings_fault,
         "all stand clear while power is on": power_fault}


def all_facts(wharve, root):
    for machine, renew in JOBS:
        for fitters in ("1", "2"):
            steps = plan_of(wharve, root, machine, renew, "--fitters", fitters)
            for words, fault in FACTS.items():
                yield f"{machine}, {renew}, {fitters}: {words}", fault(steps)
        steps = plan_of(wharve, root, machine, renew)
        for share in SHARES:
            k = int(share * len(steps))
            for also in ([], ["--also", FOUND[machine]]):
                anew = plan_of(wharve, root, machine, renew, "--done", f"1-{k}", *also)
                name = f"{machine}, {renew}, anew from {k}{', found more' if also else ''}"
                yield f"{name}: done stays, cautions and holds too", anew_fault(steps, anew, k)
                for words, fault in FACTS.items():
                    yield f"{name}: {words}", fault(anew)


def swapped(steps, one, other):
    steps = copy.deepcopy(steps)
    a, b = (next(i for i, s in enumerate(steps) if s["id"] == name) for name in (one, other))
    steps[a], steps[b] = steps[b], steps[a]
    steps[a]["starts at"], steps[b]["starts at"] = steps[b]["starts at"], steps[a]["starts at"]
    return steps


def all_wrong(wharve, root):
    steps = plan_of(wharve, root, "juice-clarifier", "neck-bearing,foot-bearing")
    yield "a part comes off late", phases_fault(swapped(steps, "off neck-housing", "on neck-housing"))
    yield "something between jack and spindle", props_fault(swapped(steps, "off spindle", "off casing"))
    yield "gasket before the centre", trials_fault(swapped(steps, "check centre", "on casing-gasket"))
    bare = copy.deepcopy(steps)
    for step in bare:
        step["lines"] = []
    yield "stages not told", rings_fault(bare)
    near = copy.deepcopy(steps)
    next(s for s in near if s["id"] == "on tension-screw")["starts at"] = \
        next(s for s in near if s["id"] == "check rotation")["starts at"]
    yield "a hand at the screw while power is on", power_fault(near)
    done = copy.deepcopy(steps)
    for step in done[:20]:
        step["done"] = True
    yield "done was changed", anew_fault(steps, swapped(done, "hold kit", "off feed-tube"), 20)
    yield "a caution is gone", anew_fault(steps, [dict(s, cautions=[]) for s in done], 20)
    yield "a hold is gone", anew_fault(steps, [s for s in done if s["id"] != "hold counted"], 20)
    yield "not marked as done", anew_fault(steps, steps, 20)


if __name__ == "__main__":
    sys.exit(facts.run(all_facts, all_wrong))
