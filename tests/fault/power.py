#!/usr/bin/env python3
"""Loss of power: power.py POWER-RUN POWER-LOOK [--images N] [--seed N]. One TAP line a way of writing.

A run of the store is written down, call by call. From that the disk is built as it would stand had the power gone at a
sync or an acknowledgement: what was not synced is dropped, kept at random, or torn at 512 bytes; a name that its folder
was not synced for may be there or not. Each such disk is opened again: no acknowledged entry may be lost, none doubled,
every chain and every photo sound, a copy that has its name whole. With synchronous writing lowered, the same harness
has to find losses: it can fail.
"""
import argparse
import os
import pathlib
import random
import shutil
import subprocess
import sys
import tempfile
import time

SECTOR = 512


class File:
    """What a name stands for: the bytes that are surely there, and what was written since the last sync."""

    def __init__(self):
        self.durable, self.pending = bytearray(), []

    def sync(self):
        for change in self.pending:
            apply(self.durable, change)
        self.pending = []

    def as_left(self, rng):
        """The bytes after the loss; rng None: only what is surely there."""
        content = bytearray(self.durable)
        for kind, offset, data in self.pending if rng else []:
            if rng.random() < 0.5:
                continue
            if kind == "W" and len(data) > SECTOR and rng.random() < 0.4:
                for at in range(0, len(data), SECTOR):
                    if rng.random() < 0.5:
                        apply(content, ("W", offset + at, data[at:at + SECTOR]))
            else:
                apply(content, (kind, offset, data))
        return bytes(content)


def apply(content, change):
    kind, offset, data = change
    if len(content) < offset:
        content.extend(bytes(offset - len(content)))
    if kind == "T":
        del content[offset:]
    else:
        content[offset:offset + len(data)] = data


class Disk:
    """All names and files, as the program sees them and as a loss of power would leave them."""

    def __init__(self):
        self.now, self.durable, self.pending = {}, {}, []
        self.acknowledged = []

    def file(self, path):
        if path not in self.now:
            self.now[path] = File()
            self.pending.append(("name", path, self.now[path]))
        return self.now[path]

    def take(self, kind, path, offset, data, other):
        if kind == "A":
            self.acknowledged.append(data.decode())
        elif kind in "WT":
            self.file(path).pending.append((kind, offset, data))
        elif kind == "C":
            self.file(path)
        elif kind == "S":
            self.file(path).sync()
        elif kind == "U":
            self.now.pop(path, None)
            self.pending.append(("gone", path, None))
        elif kind == "R":
            self.now[other] = self.now.pop(path)
            self.pending.append(("gone", path, None))
            self.pending.append(("name", other, self.now[other]))
        elif kind == "D":
            folder = "" if path == "." else path
            for change in [c for c in self.pending if os.path.dirname(c[1]) == folder]:
                rename(self.durable, change)
                self.pending.remove(change)

    def write(self, folder, rng):
        """The disk as left: of the names not synced, the first so many of each folder came through."""
        names = dict(self.durable)
        for under in {os.path.dirname(change[1]) for change in self.pending} if rng else []:
            changes = [change for change in self.pending if os.path.dirname(change[1]) == under]
            for change in changes[:rng.randint(0, len(changes))]:
                rename(names, change)
        for path, file in names.items():
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_bytes(file.as_left(rng))


def rename(names, change):
    kind, path, file = change
    if kind == "gone":
        names.pop(path, None)
    else:
        names[path] = file


def operations(record):
    content, at = record.read_bytes(), 0
    while at < len(content):
        end = content.index(b"\n", at)
        kind, path, offset, size, other = content[at:end].decode().split(" ")
        at = end + 1 + int(size)
        yield kind, path, int(offset), content[end + 1:at], other


def answers(process, path):
    """What power-look says of one store."""
    process.stdin.write(f"{path}\n")
    process.stdin.flush()
    lines = []
    while (line := process.stdout.readline().rstrip("\n")) != "end":
        if not line and process.poll() is not None:
            return ["broken: the program that looks died"]
        lines.append(line)
    return lines


def complaint(lines, acknowledged):
    """What is wrong with a store after the loss, as (sort, words), or None."""
    if lines[0] != "sound":
        return "broken", lines[0]
    entries = [line for line in lines if line.startswith("entry ")]
    if len({line.split()[3] for line in entries}) != len(entries):
        return "doubled", "an entry stands there twice"
    missing = [word for word in acknowledged if word.split()[0] in ("entry", "photo") and word not in lines]
    return ("lost", f"{len(missing)} acknowledged are not there, first: {missing[0]}") if missing else None


def judge(process, folder, disk):
    """All that is wrong with the disk in a folder."""
    found = []
    store, copy = folder / "jobs.db", folder / "copy.db"
    copied = [at for at, word in enumerate(disk.acknowledged) if word.startswith("copy")]
    if store.exists():
        found.append(complaint(answers(process, store), disk.acknowledged))
    elif disk.acknowledged:
        found.append(("lost", "there is no store"))
    if copy.exists():  # whole as soon as it has its name
        found.append(complaint(answers(process, copy), disk.acknowledged[:copied[0]] if copied else []))
    elif copied:
        found.append(("lost", "there is no copy"))
    return [fault for fault in found if fault]


def record_run(power_run, scratch, mode, seed):
    folder, record = scratch / f"run-{mode}", scratch / f"record-{mode}"
    folder.mkdir()
    subprocess.run([power_run, folder, record, mode, str(seed)], check=True)
    return list(operations(record))


def crash_all(power_look, scratch, made, images, rng):
    """(images tried, faults) of images at random moments."""
    moments = [i for i, operation in enumerate(made) if operation[0] in "SDA"]
    wanted = sorted(rng.choice(moments) + rng.choice((0, 1)) for _ in range(images))  # before or after it took effect
    disk, faults, done = Disk(), [], 0
    with subprocess.Popen([power_look], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        for number, moment in enumerate(wanted):
            while done < moment:
                disk.take(*made[done])
                done += 1
            folder = scratch / "image"
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
            disk.write(folder, rng if number % 3 else None)
            faults += judge(process, folder, disk)
        process.stdin.close()
    return len(wanted), faults


def shown(faults):
    sorts = [sort for sort, _ in faults]
    words = ", ".join(f"{sorts.count(sort)} {sort}" for sort in sorted(set(sorts)))
    return words or "nothing lost, nothing doubled, nothing broken"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("power_run")
    parser.add_argument("power_look")
    parser.add_argument("--images", type=int, default=300)
    parser.add_argument("--seed", type=int, default=time.time_ns() % 1000000)
    asked = parser.parse_args()
    print(f"# seed {asked.seed}")
    number = 0
    with tempfile.TemporaryDirectory() as place:
        scratch = pathlib.Path(place)
        for mode, images in (("full", asked.images), ("normal", asked.images // 6), ("off", asked.images // 6)):
            number += 1
            rng = random.Random(f"{asked.seed} {mode}")
            made = record_run(asked.power_run, scratch, mode, asked.seed)
            tried, faults = crash_all(asked.power_look, scratch, made, images, rng)
            good = not faults if mode == "full" else bool(faults)
            wanted = "" if mode == "full" else " (the harness has to find losses here)"
            print(f"{'ok' if good else 'not ok'} {number} - synchronous {mode}, {tried} losses of power, seed {asked.seed}: "
                  f"{shown(faults)}{wanted}", flush=True)
            for sort, words in faults[:5] if not good else []:
                print(f"  {sort}: {words}")
    print(f"1..{number}")


if __name__ == "__main__":
    sys.exit(main())
