#!/usr/bin/env python3
"""Kills programs that keep jobs, at random moments: kill.py POWER-RUN POWER-LOOK [--kills N] [--seed N].

Two at a time write into one store; one of the two or both are killed, again and again. After each kill the store is
opened as a program does that starts anew, within a second; at the end everything that was acknowledged is there, once.
"""
import argparse
import pathlib
import random
import subprocess
import sys
import tempfile
import time

LONGEST_START = 1.0


def looked(power_look, store):
    """(seconds to open and to see all of it, the lines)."""
    start = time.monotonic()
    done = subprocess.run([power_look], input=f"{store}\n", text=True, check=True, stdout=subprocess.PIPE)
    return time.monotonic() - start, done.stdout.splitlines()


def one_round(power_run, folder, number, rng):
    """Starts two, kills them; what they acknowledged."""
    running = [subprocess.Popen([power_run, folder, "-", "full", str(2 * number + i)], text=True, stdout=subprocess.PIPE)
               for i in range(2)]
    time.sleep(rng.uniform(0.005, 0.15))
    words = []
    for process in running:
        process.kill()
    for process in running:
        lines = process.stdout.read().split("\n")[:-1]  # a line that was cut off was not acknowledged
        words += lines
        process.wait()
        process.stdout.close()
    return words


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("power_run")
    parser.add_argument("power_look")
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--seed", type=int, default=time.time_ns() % 1000000)
    asked = parser.parse_args()
    rng, acknowledged, wrong, slowest = random.Random(asked.seed), [], [], 0.0
    with tempfile.TemporaryDirectory() as place:
        folder = pathlib.Path(place)
        for number in range((asked.kills + 1) // 2):
            acknowledged += one_round(asked.power_run, folder, number + 1, rng)
            if number % 10 and number + 1 < asked.kills // 2:
                continue
            seconds, lines = looked(asked.power_look, folder / "jobs.db")
            slowest = max(slowest, seconds)
            there = set(lines)
            if lines[0] != "sound":
                wrong.append(lines[0])
            wrong += [f"{word} is not there" for word in acknowledged if word.split()[0] != "copy" and word not in there]
            if len(there) != len(lines):
                wrong.append("an entry stands there twice")
            if wrong:
                break
    entries = sum(word.startswith("entry") for word in acknowledged)
    good = not wrong and entries > 0
    print(f"{'ok' if good else 'not ok'} 1 - {asked.kills} kills, {entries} entries acknowledged, none lost, seed {asked.seed}")
    for word in wrong[:5]:
        print("  " + word)
    quick = slowest <= LONGEST_START
    print(f"{'ok' if quick else 'not ok'} 2 - it starts again within a second: {slowest:.2f} s, all of it gone through\n1..2")


if __name__ == "__main__":
    sys.exit(main())
