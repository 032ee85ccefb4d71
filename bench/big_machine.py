#!/usr/bin/env python3
"""The job of a large machine, and what it costs to order.

big_machine.py PARTS [SEED [FITTERS]]  writes one as a task file; the same for the same seed
big_machine.py ORDER --curve           solves machines of 50 to 1000 parts with ORDER, a line each

Sub-assemblies stand in each other, several levels deep; each comes off whole and is stripped on the bench, one in two
in a fixture that is taken off again. Within one, parts lie under others. Every part comes off, all is washed, every
part goes on again the other way round. One part in eight has two ways out; on the frame the second is downward, with
the machine turned. Some are warmed and must be seated before they are cold; the largest take two to lift.
"""
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile

TOOLS = 12
IN_ONE = 9  # a sub-assembly of fewer parts has none in it
HEAVY = 40  # parts
SIZES = (50, 100, 200, 300, 1000)  # parts
SECONDS = 5
FITTERS = (1, 2, 3, 4)


class Job:
    """The tasks of one machine, in the order they are thought of."""

    def __init__(self, parts, seed):
        self.random = random.Random(seed)
        self.tasks, self.waits, self.on_again = [], [], []
        self.off_all = self.assembly("part", parts, "frame", None)
        self.task("wash", 45, 0, "bench", self.off_all)
        self.tasks += self.on_again

    def task(self, name, minutes, tool, place, after, **more):
        self.tasks.append(self.made(name, minutes, tool, place, after, **more))

    @staticmethod
    def made(name, minutes, tool, place, after, **more):
        task = {"name": name, "minutes": minutes, "place": place, "after": after, **more}
        if tool:
            task["tool"] = f"tool {tool}"
        if place == "frame":
            task.setdefault("way up", "upright")
        return task

    def off(self, part, size, place, after):
        name, minutes, tool = f"off {part}", self.random.randint(1, 9), self.random.randint(0, TOOLS)
        if size > 1 or self.random.random() > 1 / 8:
            self.task(name, minutes, tool, place, after, crew=2 if size >= HEAVY else 1)
            return
        turned = {"way up": "on its side"} if place == "frame" else {}
        self.tasks.append({"name": name, "ways": [
            self.made("up", minutes, 1, place, after), self.made("down", minutes + 2, 2, place, after, **turned)]})

    def on(self, part, size, place, after):
        minutes, tool = self.random.randint(1, 9), self.random.randint(0, TOOLS)
        after = ["wash"] + after
        if self.random.random() < 1 / 25:
            self.on_again.append(self.made(f"warm {part}", 20, 0, place, after, alone=True))
            self.waits.append({"from": f"warm {part}", "to": f"on {part}", "most": 2, "joined": True})
            after = []
        self.on_again.append(self.made(f"on {part}", minutes, tool, place, after, crew=2 if size >= HEAVY else 1))

    def members(self, name, parts):
        """The parts of a sub-assembly, each with how many it is made of itself."""
        members = []
        while parts > 0:
            single = parts < IN_ONE or self.random.random() < 0.7
            size = 1 if single else min(parts, self.random.randint(4, parts))
            members.append((f"{name}.{len(members) + 1}", size))
            parts -= size
        return members

    def some(self, parts, word):
        return [f"{word} {part}" for part, _ in parts if self.random.random() < 0.5]

    def assembly(self, name, parts, place, first):
        """Strips and builds one sub-assembly once `first` is done; the tasks that take its parts off."""
        members, offs, inside = self.members(name, parts), [], {}
        for i, (part, size) in enumerate(members):
            offs.append(f"off {part}")
            self.off(part, size, place, self.some(members[max(0, i - 3):i], "off") + ([first] if first else []))
            if size > 1:
                inside[part] = self.on_bench(part, size, offs)
        for i, (part, size) in reversed(list(enumerate(members))):
            self.on(part, size, place, self.some(members[i + 1:i + 4], "on") + inside.get(part, []))
        return offs

    def on_bench(self, part, size, offs):
        """The same of a part that is itself of several; what must be done before it goes on again."""
        fixture, first, begun = self.random.random() < 0.5, f"off {part}", len(self.on_again)
        if fixture:
            self.task(f"set fixture {part}", 2, 0, "bench", [first])
            first = f"set fixture {part}"
        offs += self.assembly(part, size - 1, "bench", first)
        built = [task["name"] for task in self.on_again[begun:]]
        if not fixture:
            return built
        self.on_again.append(self.made(f"away fixture {part}", 1, 0, "bench", built))
        return [f"away fixture {part}"]


def written(parts, seed, fitters):
    job = Job(parts, seed)
    tools = ["none"] + [f"tool {i}" for i in range(1, TOOLS + 1)]
    head = {"format": 1, "fitters": fitters, "set-ups": [
        {"name": "tool", "values": tools, "start": "none", "getting": [0] + [0.5] * TOOLS},
        {"name": "way up", "values": ["upright", "on its side"], "start": "upright", "change": 6, "shared": True},
        {"name": "place", "values": ["frame", "bench"], "start": "frame", "change": 2}]}
    return (json.dumps(head)[:-1] + ',\n"tasks": [\n' + ",\n".join(map(json.dumps, job.tasks)) + '\n],\n"waits": [\n'
            + ",\n".join(map(json.dumps, job.waits)) + "\n]}\n")


def solved(order, path):
    """The line that ORDER prints, and the most memory its process took, MiB."""
    with subprocess.Popen([order, path, "--seconds", str(SECONDS)], stdout=subprocess.PIPE, text=True) as run:
        line = run.stdout.read().split()
        _, status, usage = os.wait4(run.pid, 0)
        run.returncode = os.waitstatus_to_exitcode(status)
    if run.returncode != 0:
        raise SystemExit(f"{order} ends with {run.returncode} on {path}")
    return line, usage.ru_maxrss / 1024


def curve(order):
    print(f"machines made by chance, {SECONDS} s each; found and bound in minutes, of the process the most MiB")
    print("fitters parts     found     bound  gap % proven      s     nodes   MiB")
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "machine.json"
        for fitters in FITTERS:
            for parts in SIZES:
                path.write_text(written(parts, 1, fitters), encoding="utf-8")
                (_, found, bound, proven, seconds, nodes), memory = solved(order, path)
                gap = 100 * (1 - float(bound) / float(found))
                print(f"{fitters:7} {parts:5} {float(found):9.2f} {float(bound):9.2f} {gap:6.2f} {proven:>6} "
                      f"{float(seconds):6.2f} {nodes:>9} {memory:5.0f}", flush=True)


def main():
    if sys.argv[-1] == "--curve":
        curve(sys.argv[1])
    else:
        parts, seed, fitters = map(int, (sys.argv[1:] + ["1", "1"][len(sys.argv) - 2:])[:3])
        sys.stdout.write(written(parts, seed, fitters))


if __name__ == "__main__":
    main()
