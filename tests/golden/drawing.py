#!/usr/bin/env python3
"""What is off first, read from the section of the shipped clarifier: drawing.py WHARVE ROOT. One TAP line a fact.

The declared lines of the parts of which the section tells enough are taken out and read from the drawing instead: each
job's steps stay the same, word for word. Then the file is spoilt, an outline or a declared line at a time, and `check`
has to name it. --self-test before WHARVE shows that a plan that differs and a mistake that is not named are seen.
"""
import json
import pathlib
import re
import subprocess
import sys
import tempfile

JOBS = ["foot-bearing", "neck-bearing,foot-bearing", "bowl-seal", "thrust-plate", "neck-seal", "clutch-shoes"]
# Which way a part leaves is added where the section alone leaves both open.
DRAWN = {"feed-tube": "", "lock-ring": "", "bowl-top": "", "bowl-body": "", "casing-gasket": "", "splash-cone": "",
         "clamp-ring": "", "centre-plug": "", "pot-lid": "", "pot-seal": "", "spindle-pulley": "", "mount-ring": "",
         "neck-seal": "", "neck-bearing": "", "bottom-cover": "", "neck-housing": ", up", "thrust-plate": ", down",
         "height-shims": ", down"}

# What is spoilt: part, old line of it, new line; and what is said of it.
SPOILT = [
    ("the lid cannot pass the thrower", "pot-lid", "    off first: pot-lid-screws, spindle, thrower\n",
     "    off first: pot-lid-screws, spindle\n",
     ["the pot lid cannot pass the thrower: radius 26 mm against 32 mm",
      'write "thrower" into its "off first"']),
    ("cone and casing the wrong way round", "splash-cone", "    off first: casing\n", "",
     ["the splash cone cannot pass the bowl casing: radius 105 mm against 85 mm",
      'write "casing" into its "off first"']),
    ("the opening drawn too narrow", "spindle-pulley", "r 20..50, z 142..188", "r 20..80, z 142..188",
     ["the spindle with the spindle pulley cannot pass the pedestal with oil pot: radius 80 mm against 63 mm",
      "it stays where it is: one of the two outlines is wrong"]),
    ("two parts in one place", "neck-bearing", "r 22.5..42.5, z 330.5..349.5", "r 22.5..42.5, z 340..359",
     ["drawn in the same place"]),
]
# The sequence of two parts turned round: the first declared to come off after the second.
TURNED = [("thrower", "    off first: foot-bearing, thrower-pin, spindle\n", "    off first: pot-lid, spindle\n",
           "pot-lid", "    off first: pot-lid-screws, spindle, thrower\n", "    off first: pot-lid-screws, spindle\n",
           ["cannot pass the thrower", 'yet "thrower" comes off only after it: one of the two is the wrong way round'])]


# A machine that declares nothing of what its section shows.
DECLARES_NOTHING = "tests/machines/sieve-drum.yaml"
WAYS_IN = {"upper-bearing": ["hood", "drum nut", "drum", "neck cap", "felt", "upper bearing"],
           "lower-bearing": ["foot cap", "lower bearing"]}


def run(wharve, *words):
    done = subprocess.run([wharve, *words], capture_output=True, text=True)
    return done.returncode, done.stdout, done.stderr


def block_of(text, part):
    match = re.search(rf"(?m)^  - id: {part}\n(?:(?!  - id: |[a-z]).*\n)*", text[text.index("\nparts:\n"):])
    start = text.index("\nparts:\n") + match.start()
    return start, start + len(match[0])


def change(text, part, old, new):
    start, end = block_of(text, part)
    if text[start:end].count(old) != 1:
        raise SystemExit(f"{part}: \"{old.strip()}\" does not stand there once")
    return text[:start] + text[start:end].replace(old, new) + text[end:]


def drawn(text, part, hint):
    start, end = block_of(text, part)
    first = re.compile(r"(?m)^    off first: .*\n")
    oil = any("oil-pot" in line for line in first.findall(text[start:end]))  # no section tells that
    block = first.sub("    off first: oil-pot\n" if oil else "", text[start:end])
    head, rest = block.split("\n", 1)
    return f"{text[:start]}{head}\n    in the way: from drawing{hint}\n{rest}{text[end:]}"


def plan_of(wharve, path, job):
    status, out, err = run(wharve, "plan", str(path), "--renew", job)
    return re.sub(r"(?m)^  way .*\n", "", out) if status == 0 else err  # the other way out is searched less far


def facts(wharve, shipped, folder, self_test):
    """(what, whether it is so) of each fact."""
    text = shipped.read_text()
    path = folder / "machine.yaml"
    for part, hint in DRAWN.items():
        text = drawn(text, part, hint)
    if self_test:
        text = change(text, "splash-cone", "    off: 2 min\n", "    off: 4 min\n")
    path.write_text(text)
    for job in JOBS:
        yield f"{job}: the same plan from the drawing", plan_of(wharve, path, job) == plan_of(wharve, shipped, job)
    for what, part, old, new, says in SPOILT:
        path.write_text(shipped.read_text() if self_test else change(shipped.read_text(), part, old, new))
        status, _, err = run(wharve, "check", str(path))
        yield what, status == 2 and all(words in err for words in says)
    for one, old1, new1, two, old2, new2, says in TURNED:
        text = change(change(shipped.read_text(), one, old1, new1), two, old2, new2)
        path.write_text(shipped.read_text() if self_test else text)
        status, _, err = run(wharve, "check", str(path))
        yield f"{one} and {two} turned round", status == 2 and all(words in err for words in says)


def ways_in(wharve, machine):
    for renew, parts in WAYS_IN.items():
        steps = json.loads(run(wharve, "plan", str(machine), "--renew", renew, "--json")[1])["steps"]
        found = [step["part"].replace("-", " ") for step in steps if step["id"].startswith("off ")]
        yield f"{renew} of a machine that declares nothing", found == parts


def main():
    words = sys.argv[1:]
    self_test = words[0] == "--self-test"
    wharve, root = words[self_test:][:2]
    shipped = pathlib.Path(root) / "machines/juice-clarifier.yaml"
    with tempfile.TemporaryDirectory() as folder:
        found = list(facts(wharve, shipped, pathlib.Path(folder), self_test))
    found += ways_in(wharve, pathlib.Path(root) / DECLARES_NOTHING)
    if self_test:
        good = any(not so for what, so in found if "same plan" in what) and \
            not any(so for what, so in found if "same plan" not in what and "nothing" not in what)
        found = [("each mistake is seen", good)]
    print(f"1..{len(found)}")
    for number, (what, so) in enumerate(found, 1):
        print(f"{'ok' if so else 'not ok'} {number} - {what}")
    return 0 if all(so for _, so in found) else 1


sys.exit(main())
