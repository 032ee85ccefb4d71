#!/usr/bin/env python3
"""Reads made records, and the open ones where they are, with `wharve testrun`, and counts what is told rightly.

readings.py WHARVE [SOUND [FAULTY [SEED]]]: as many made records without and with a fault, from this seed on; 24, 36 and
5000 when nothing is said (what these seeds with a fault did not tell rightly has been looked at).
Faults add 0.3 to 10 times what the record is without them. Open records are looked for in $WHARVE_DATA/vibration and
in ../shared/data/vibration beside the repository. TAP.
"""
import csv
import json
import os
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from scipy.io import wavfile

import signals

PART = {"outer": "outer ring", "inner": "inner ring", "roller": "rolling element", None: None}


class Tap:
    def __init__(self):
        self.count = self.failed = 0

    def check(self, good, words):
        self.count += 1
        self.failed += not good
        print(f"{'ok' if good else 'not ok'} {self.count} - {words}", flush=True)

    def skip(self, words, why):
        self.count += 1
        print(f"ok {self.count} - {words} # SKIP {why}", flush=True)


def read(wharve, path, speed, options):
    done = subprocess.run([wharve, "testrun", str(path), "--speed", f"{speed:.2f} rpm", *options, "--json"],
                          capture_output=True, text=True, check=False)
    if done.returncode:
        sys.exit(f"{path}: {done.stderr}")
    return json.loads(done.stdout)["findings"]


def parts_found(wharve, path, speed, options):
    return [finding["part"] for finding in read(wharve, path, speed, options)]


def lines(orders):
    return ["--lines", ",".join(f"{part}={order:.5f}" for part, order in orders.items())]


def read_made(wharve, folder, seed, sound):
    made = signals.any_record(seed, sound)
    path = folder / "made.wav"
    wavfile.write(path, made["rate"], made["samples"].astype(np.float32))
    return made, read(wharve, path, made["stated"], lines(made["orders"]))


def told(made, found):
    if not found:
        return "nothing" if made["part"] else "right"
    if found[0]["part"] == PART[made["part"]]:
        return "right"
    return "either" if made["part"] and PART[made["part"]] in found[0]["says"] else "wrong"


def count(wharve, folder, seeds, sound):
    counts = {"right": 0, "either": 0, "nothing": 0, "wrong": 0}
    for seed in seeds:
        made, found = read_made(wharve, folder, seed, sound)
        how = told(made, found)
        counts[how] += 1
        if how != "right":
            print(f"# {seed}: {made['part']} of size {made['size']:.2f} at orders "
                  f"{ {k: round(v, 3) for k, v in made['orders'].items()} } with {', '.join(made['there'])}: {how}, {[finding['says'] for finding in found]}")
    return counts


def made_records(tap, wharve, sound, faulty, seed):
    near = {"outer": 3.5848, "inner": 5.4152, "roller": 4.7135, "cage": 0.39828}  # a university bearing data centre
    tap.check(all(abs(signals.DEEP_GROOVE_6205[part] - order) < 1e-4 for part, order in near.items()),
              "the model's bearing has the published lines")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        quiet = count(wharve, folder, range(seed, seed + sound), True)
        bound = 1 - 0.05 ** (1 / sound)
        tap.check(quiet["right"] == sound, f"{quiet['right']} of {sound} made records without a fault show nothing: "
                  f"with 95 % certainty a false alarm in fewer than {100 * bound:.2g} % of such")
        loud = count(wharve, folder, range(seed + 1000, seed + 1000 + faulty), False)
        tap.check(loud["right"] >= 0.9 * faulty and loud["wrong"] == 0,
                  f"{loud['right']} of {faulty} made faults are named rightly, {loud['either']} with another part that "
                  f"explains them nearly as well, {loud['nothing']} not found, "
                  f"{loud['wrong']} named wrongly")


# What makes the velocity: part, mm/s r.m.s. at times a turn, and at hertz. The limit is 2.8 mm/s.
SHAKEN = (("unbalance", {1: 6}, {}), ("misalignment", {1: 3, 2: 4}, {}), ("electrical", {1: 0.5}, {100: 5}),
          ("looseness", {0.5: 0.8, 1: 3, 2: 1.5, 3: 2, 4: 2, 5: 1.5, 6: 1.5}, {}), (None, {1: 2, 2: 1}, {100: 0.5}))


def shaken(rng, rate, seconds, turn, orders, hertz):
    """Sines of the velocity asked for, in m/s2, and a little noise."""
    time = np.arange(int(rate * seconds)) / rate
    sines = {**{turn * order: size for order, size in orders.items()}, **hertz}
    made = sum(size * 1e-3 * np.sqrt(2) * 2 * np.pi * f * np.sin(2 * np.pi * f * time + rng.uniform(0, 6))
               for f, size in sines.items())
    return (made + rng.normal(0, 0.05, time.size)).astype(np.float32)


def other_sources(tap, wharve):
    rng = np.random.default_rng(11)
    source = pathlib.Path(__file__).resolve().parents[2]
    with tempfile.TemporaryDirectory() as name:
        path = pathlib.Path(name) / "made.wav"
        for part, orders, hertz in SHAKEN:
            wavfile.write(path, 6400, shaken(rng, 6400, 8, 24.3, orders, hertz))
            found = parts_found(wharve, path, 1450, ["--unit", "m/s2", "--bearing", "6205"])
            tap.check(found == ([part] if part else []), f"{part or 'nothing'} at 1458 rpm: {found}")
        belt = 15.18 / 1.557 / (1914 / 60)  # speed and length of the belt, speed of the fan, of the machine file
        wavfile.write(path, 6400, shaken(rng, 6400, 8, 1914 / 60, {1: 1, belt: 5, 2 * belt: 4}, {}))
        found = parts_found(wharve, path, 1914, ["--unit", "m/s2", "--machine", str(source / "machines/dryer-fan.yaml")])
        tap.check(found == ["belt"], f"the dryer fan's belt: {found}")
        wavfile.write(path, 6400, shaken(rng, 6400, 8, 31.9, {1: 6}, {}))
        done = subprocess.run([wharve, "testrun", str(path), "--unit", "m/s2", "--json"], capture_output=True, text=True,
                              check=True)
        tap.check(json.loads(done.stdout)["findings"] == [], "without a speed no cause is named")


def data_folder():
    beside = pathlib.Path(__file__).resolve().parents[2].parent / "shared" / "data"
    for folder in (os.environ.get("WHARVE_DATA"), beside):
        if folder and (pathlib.Path(folder) / "vibration" / "index.csv").is_file():
            return pathlib.Path(folder) / "vibration"
    return None


def open_records(tap, wharve):
    folder = data_folder()
    if not folder:
        return tap.skip("open records of bearings", "not here: WHARVE_DATA names no folder that has vibration/index.csv")
    for row in csv.DictReader((folder / "index.csv").open(encoding="utf-8")):
        known = row["bearing"] == "6205"
        pillow = lines(signals.orders(8, 0.24))  # as the index reads it off the records
        want = next((part for part, word in (("inner ring", "inner"), ("outer ring", "outer"),
                                             ("rolling element", "ball")) if row["condition"].startswith(word)), None)
        ways = [("its lines", ["--bearing", "6205", "--mains", "60 Hz"] if known else pillow)]
        if not known:
            ways.append(("its speed only", []))
        for words, options in ways:
            found = parts_found(wharve, folder / row["file"], float(row["shaft_rpm"]), options)
            tap.check((found[0] if found else None) == want, f"{row['file']}, by {words}: {want or 'nothing'}; {found}")


def main():
    tap = Tap()
    sound, faulty, seed = (int(sys.argv[i]) if len(sys.argv) > i else usual
                           for i, usual in ((2, 24), (3, 36), (4, 5000)))
    made_records(tap, sys.argv[1], sound, faulty, seed)
    other_sources(tap, sys.argv[1])
    open_records(tap, sys.argv[1])
    print(f"1..{tap.count}")


if __name__ == "__main__":
    main()
