#!/usr/bin/env python3
"""What a fitter looks for in the plans of the shipped machines: order_facts.py WHARVE ROOT. One TAP line a fact.

Steps are found by part and by the first word of their id, never by their numbers. --self-test before WHARVE takes the same
plan, puts the two steps of each fact the wrong way round, and shows that the fact then fails.
"""
import copy
import json
import pathlib
import subprocess
import sys
import tempfile

import facts

BOTH = "neck-bearing,foot-bearing"
LOOK = "    look when renewed: foot-bearing\n"
POWER_ON_THE_WAY_BACK = "Motor bumped"

# The first stands before the second; each of several steps of the first before each of the second.
ORDER = [
    ("the pot seal is in the lid before the lid goes on", "on pot-seal", "on pot-lid"),
    ("lid before thrower", "on pot-lid", "on thrower"),
    ("thrower before its pin", "on thrower", "on thrower-pin"),
    ("thrower before the foot bearing", "on thrower", "on foot-bearing"),
    ("pin before the foot bearing", "on thrower-pin", "on foot-bearing"),
    ("foot bearing before its ring", "on foot-bearing", "on foot-ring"),
    ("neck housing before the neck bearing", "on neck-housing", "on neck-bearing"),
    ("neck bearing before the wear sleeve", "on neck-bearing", "on wear-sleeve"),
    ("wear sleeve before the neck cap", "on wear-sleeve", "on neck-cap"),
    ("neck seal in the cap before the cap", "on neck-seal", "on neck-cap"),
    ("bowl height as found before the bowl body comes off", "check bowl-height-found", "off bowl-body"),
    ("belt pull as found before the belt comes off", "check belt-pull-found", "off flat-belt"),
    ("bump test before the belt", "check rotation", "on flat-belt"),
    ("bump test before the bowl body", "check rotation", "on bowl-body"),
    ("isolated again before the belt", "does Isolate again", "on flat-belt"),
    ("marks before the screws of the slide plate", "check belt-marks", "on slide-plate-screws"),
    ("pull check before the screws of the slide plate", "check belt-span", "on slide-plate-screws"),
    ("screws of the slide plate before the centre check", "on slide-plate-screws", "check centre"),
    ("centre check before the splash cone", "check centre", "on splash-cone"),
    ("centre check before the casing gasket", "check centre", "on casing-gasket"),
    ("dry casing away before the splash cone", "away dry-casing", "on splash-cone"),
    ("jack away before the oil", "away jack", "fill oil-pot"),
    ("centre plug back before the oil", "on centre-plug", "fill oil-pot"),
    ("jack away before the centre plug is back", "away jack", "on centre-plug"),
    ("jack away before the bottom cover, whose thread it needs", "away jack", "off bottom-cover"),
    ("centre plug out before the cover that it sits in", "off centre-plug", "off bottom-cover"),
    ("centre plug back in the cover when that is on", "on bottom-cover", "on centre-plug"),
    ("gap of the pick-up before the belt guard", "check pickup-gap", "on belt-guard"),
    ("pins away before they are counted", "away bowl-pins", "check counted-before-hood"),
    ("oil after the last turning", "turned", "fill oil-pot"),
    ("bowl pins away before the cover", "away bowl-pins", "on guard-cover"),
    ("washed before dirty work ends", "does Wash", "does Dirty work ends"),
    ("every part is off before the wash", "off any", "does Wash"),
    ("nothing is warmed before dirty work ends", "does Dirty work ends", "warm any"),
    ("nothing is fitted before dirty work ends", "does Dirty work ends", "on any"),
    ("each energy is off before the first spanner", "does Each energy off", "off any"),
    ("standstill is seen before the first spanner", "does Standstill seen", "off any"),
    ("seat measured before the bearing is warmed", "check neck-seat", "warm neck-bearing"),
]
# From the end of the first to the start of the second pass at least so many minutes.
WAITS = [
    ("the wear sleeve is cold before the cap", "on wear-sleeve", "on neck-cap", 30),
    ("the adhesive on the lid cures before the first start", "on pot-lid-screws", "check start-current", 120),
    ("the seat is cold before the gauge", "off neck-bearing", "check neck-seat", 45),
]
OTHERS = [
    ("juice-clarifier", "foot-bearing"),
    ("dryer-fan", "wheel-bearing,drive-bearing"),
    ("dryer-fan", "drive-bearing"),
    ("dryer-fan", "v-belts"),
    ("yard-pump", "seal-ring,drive-bearing,pump-bearing"),
    ("yard-pump", "seal-ring"),
    ("yard-pump", "coupling-spacer"),
]


def plan_of(wharve, machine, renew):
    run = subprocess.run([wharve, "plan", str(machine), "--renew", renew, "--json"], capture_output=True, text=True,
                         check=True)
    return json.loads(run.stdout)


def is_event(step, event):
    """Whether a step is "off pot-lid", "warm any", "check centre", "turned" or "does Wash"."""
    does, _, name = event.partition(" ")
    if does == "turned":
        return "turned" in step
    if does == "does":
        return step["what"].startswith(name)
    if does == "check":
        return step.get("reading", {}).get("id") == name
    return "reading" not in step and step["id"].startswith(does + " ") and name in (step.get("part"), "any")


def places(steps, event):
    return [i for i, step in enumerate(steps) if is_event(step, event)]


def order_fault(steps, first, second):
    """What is wrong, or None. A fact about steps that do not exist is a fault, too."""
    a, b = places(steps, first), places(steps, second)
    if not a or not b:
        return f"there is no step \"{second if a else first}\""
    if max(a) > min(b):
        return f"\"{steps[max(a)]['what']}\" comes after \"{steps[min(b)]['what']}\""
    return None


def wait_fault(steps, first, second, minutes):
    fault = order_fault(steps, first, second)
    if fault:
        return fault
    a, b = steps[max(places(steps, first))], steps[min(places(steps, second))]
    passed = b["starts at"] - a["starts at"] - a["minutes"]
    return f"only {passed:.1f} of {minutes} min pass" if passed < minutes - 1e-6 else None


def parts_fault(steps):
    """Each part that comes off is fitted once, after it; no other is."""
    offs = sorted(steps[i]["part"] for i in places(steps, "off any"))
    ons = sorted(steps[i]["part"] for i in places(steps, "on any"))
    if not offs:
        return "no part comes off"
    if offs != sorted(set(offs)):
        return "a part comes off twice: " + ", ".join(p for p in set(offs) if offs.count(p) > 1)
    if offs != ons:
        twice = {part for part in ons if ons.count(part) > 1}
        return "off and fitted are not the same: " + ", ".join(sorted(twice | set(offs) ^ set(ons)))
    return next(filter(None, (order_fault(steps, f"off {part}", f"on {part}") for part in offs)), None)


def fixtures_fault(steps):
    """Each fixture that is set is taken away before it is set again, and at the end."""
    standing = set()
    for step in steps:
        if is_event(step, "set any"):
            if step["part"] in standing:
                return f"{step['part']} is set twice"
            standing.add(step["part"])
        if is_event(step, "away any"):
            if step["part"] not in standing:
                return f"{step['part']} is taken away and does not stand"
            standing.remove(step["part"])
    return f"left standing: {', '.join(sorted(standing))}" if standing else None


def isolation_fault(steps):
    """All energies are off before the first spanner; where power was on in between, they are locked again at once."""
    fault = order_fault(steps, "does Each energy off", "off any")
    bumped = places(steps, "does " + POWER_ON_THE_WAY_BACK)
    again = places(steps, "does Isolate again")
    if fault is None and [i + 1 for i in bumped] != again:
        fault = "power was on and the next step does not isolate again"
    return fault


def calls_fault(steps, most):
    """How often the electrician is called on the way in and on the way back: on each at most so often."""
    for stage, calls in zip(("taking down", "building up"), most):
        called = [step["what"] for step in steps if step["stage"] == stage and "call minutes" in step]
        if len(called) > calls:
            return f"{stage}, called for: {'; '.join(called)}"
    return None


def way_fault(plan, begins, least=None, most=None):
    """The way the foot bearing leaves, and what the other one costs more in hands."""
    choice = next((c for c in plan["choices"] if c["part"] == "foot-bearing"), None)
    if choice is None or not choice["way"].startswith(begins):
        return f"it does not leave {begins}: {choice and choice['way']}"
    more = choice["other way hands minutes more"]
    if least is not None and more is None:
        return "the other way cannot be gone"
    if least is not None and not least <= more <= most:
        return f"the other way costs {more} min of hands more, not {least} to {most}"
    return None


def without_look(root):
    """The clarifier's file with the one line struck that asks for a look at the thrust plate."""
    text = (root / "machines" / "juice-clarifier.yaml").read_text(encoding="utf-8")
    if text.count(LOOK) != 1:
        raise SystemExit(f"{text.count(LOOK)} lines say \"{LOOK.strip()}\", not one")
    return text.replace(LOOK, "")


def all_facts(wharve, root):
    """Each fact in words and what is wrong with it, or None."""
    machines = root / "machines"
    steps = plan_of(wharve, machines / "juice-clarifier.yaml", BOTH)["steps"]
    for words, first, second in ORDER:
        yield words, order_fault(steps, first, second)
    for words, first, second, minutes in WAITS:
        yield words, wait_fault(steps, first, second, minutes)
    yield "the electrician comes once on the way in, and before and after the casing", calls_fault(steps, (1, 2))
    for name, renew in [("juice-clarifier", BOTH)] + OTHERS:
        plan = plan_of(wharve, machines / f"{name}.yaml", renew)
        yield f"{name}, {renew}: each part off is fitted once", parts_fault(plan["steps"])
        yield f"{name}, {renew}: each fixture is taken away", fixtures_fault(plan["steps"])
        yield f"{name}, {renew}: isolated before the first spanner and after power", isolation_fault(plan["steps"])
    plan = plan_of(wharve, machines / "juice-clarifier.yaml", "foot-bearing")
    yield "foot bearing alone leaves down with the look, 45 min of hands less", way_fault(plan, "down", 40, 50)
    with tempfile.TemporaryDirectory() as folder:
        struck = pathlib.Path(folder) / "clarifier.yaml"
        struck.write_text(without_look(root), encoding="utf-8")
        yield "without the look it leaves up", way_fault(plan_of(wharve, struck, "foot-bearing"), "up")


def put_wrong(steps, first, second):
    """The same steps with the last of the first just after the first of the second."""
    steps = copy.deepcopy(steps)
    at, to = places(steps, first)[-1], places(steps, second)[0]
    steps.insert(to, steps.pop(at))
    return steps


def all_wrong(wharve, root):
    """Each fact, and its fault in a plan made wrong for it: here None is what must not be."""
    plan = plan_of(wharve, root / "machines" / "juice-clarifier.yaml", BOTH)
    steps = plan["steps"]
    for words, first, second in ORDER:
        turned = copy.deepcopy(steps)
        if first == "turned":  # a turning is no step of its own: turn it at the last step before the tests
            turned[places(steps, "check oil-level")[0]]["turned"] = "on its back"
        yield words, order_fault(turned if first == "turned" else put_wrong(steps, first, second), first, second)
    for words, first, second, minutes in WAITS:
        hasty = copy.deepcopy(steps)
        hasty[places(hasty, second)[0]]["starts at"] -= 24 * 60
        yield words, wait_fault(hasty, first, second, minutes)
    yield "the electrician comes too often", calls_fault(steps, (0, 1))
    once, away = places(steps, "on any")[3], places(steps, "away any")[-1]
    again = places(steps, "does Isolate again")[0]
    yield "a part is not fitted", parts_fault(steps[:once] + steps[once + 1:])
    yield "a part is fitted twice", parts_fault(steps + [steps[once]])
    yield "a fixture is left standing", fixtures_fault(steps[:away] + steps[away + 1:])
    yield "a fixture is taken away twice", fixtures_fault(steps + [steps[away]])
    yield "not isolated again", isolation_fault(steps[:again] + steps[again + 1:])
    yield "isolated again a step late", isolation_fault(steps[:again] + [steps[again + 1], steps[again]])
    yield "the bearing leaves the other way", way_fault(plan, "down")
    alone = plan_of(wharve, root / "machines" / "juice-clarifier.yaml", "foot-bearing")
    yield "the other way costs another time", way_fault(alone, "down", 4, 5)
    yield "the other way cannot be gone", way_fault(plan, "up", 40, 50)


if __name__ == "__main__":
    sys.exit(facts.run(all_facts, all_wrong))
