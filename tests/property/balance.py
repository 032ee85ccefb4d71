#!/usr/bin/python3
"""Random balancing sheets against numpy.linalg.lstsq, and what a test run found: balance.py WHARVE [SHEETS].

Each sheet has its own number of planes, sensors and runs, masses that stay or come off, known effects, weights, and
either count of angles and phases. One TAP line a sort of sheet. --self-test shows that a wrong answer is seen.
"""
import json
import math
import pathlib
import random
import subprocess
import sys
import tempfile

import numpy

DEGREE = math.pi / 180
SEED = 20261126
HEAD = """format: 1
is: wheel
balancing: masses
turns: {turns}
angles: {angles}
phases: {phases}
speed: 1500 rpm
stamped speed: 1600 rpm
planes:
"""


def turned(against, number):
    return number.conjugate() if against else number


def polar(number):
    return abs(number), math.degrees(math.atan2(number.imag, number.real))


class Sheet:
    """A made sheet and what NumPy says to it."""

    def __init__(self, chance):
        self.planes, self.chance = chance.randint(1, 3), chance
        self.sensors = self.planes + chance.randint(0, 2)
        self.against, self.lag = chance.random() < 0.5, chance.random() < 0.5
        self.radius = [chance.uniform(0.1, 0.4) for _ in range(self.planes)]
        self.weight = [round(chance.uniform(0.5, 2), 3) for _ in range(self.sensors)]
        self.bare = [self.vector(5e-3) for _ in range(self.sensors)]
        self.effect = [[self.vector(2.0) for _ in range(self.planes)] for _ in range(self.sensors)]
        self.known = {(s, p) for s in range(self.sensors) for p in range(self.planes) if chance.random() < 0.1}
        self.runs, self.on, self.staying = [], [], numpy.zeros(self.planes, complex)
        self.add_run([])
        for plane in range(self.planes):
            self.add_run([plane])
        for _ in range(chance.randint(0, 3)):
            self.add_run([chance.randrange(self.planes)])

    def vector(self, size):
        return self.chance.uniform(0.4, 1) * size * complex(math.cos(a := self.chance.uniform(0, 7)), math.sin(a))

    def add_run(self, planes):
        """A run with a mass in each of these planes; sometimes it stays. Readings as they are printed, with a little noise."""
        stays = bool(planes) and self.chance.random() < 0.3
        now, lines = self.staying.copy(), []
        for plane in planes:
            mass, angle = round(self.chance.uniform(2, 9), 2), round(self.chance.uniform(0, 360), 1)
            at = numpy.exp(1j * angle * DEGREE)
            now[plane] += mass * 1e-3 * self.radius[plane] * turned(self.against, at)
            lines.append(f"{mass} g at {angle} deg on plane-{plane}")
        self.staying = now.copy() if stays else self.staying
        texts, row = [], []
        for sensor in range(self.sensors):
            true = self.bare[sensor] + numpy.dot(self.effect[sensor], now) + self.vector(2e-5)
            size, angle = polar(turned(self.lag, true) * 1e3)
            texts.append(f"{size:.4f} mm/s at {angle:.3f} deg")
            row.append(turned(self.lag, round(size, 4) * 1e-3 * numpy.exp(1j * round(angle, 3) * DEGREE)))
        self.on.append(now)
        self.runs.append((lines, stays, texts, row))

    def text(self):
        out = [HEAD.format(turns=self.chance.choice(["clockwise", "anticlockwise"]),
                           angles=("with", "against")[self.against] + " turning", phases=("lead", "lag")[self.lag])]
        out += [f"  - id: plane-{p}\n    radius: {r * 1e3!r} mm\n" for p, r in enumerate(self.radius)]
        out += ["sensors:\n"] + [f"  - id: sensor-{s}\n    weight: {w}\n" for s, w in enumerate(self.weight)] + ["runs:\n"]
        for number, (lines, stays, texts, _) in enumerate(self.runs):
            out.append(f"  - id: run-{number}\n")
            if lines:
                out.append(f"    fitted: {'; '.join(lines)}\n    fastened: screwed\n    stays: {'no yes'.split()[stays]}\n")
            out.append(f"    reads: {'; '.join(texts)}\n")
        if self.known:
            out.append("known effects:\n")
        for sensor, plane in sorted(self.known):
            size, angle = polar(turned(self.lag, self.effect[sensor][plane]))
            out.append(f"  - plane: plane-{plane}\n    sensor: sensor-{sensor}\n    effect: {size!r} m/s kg m\n"
                       f"    angle: {angle!r} deg\n    speed: 1500 rpm\n")
        return "".join(out)

    def answer(self):
        """What has to be added now, kg m, in the sheet's count of angles; by numpy.linalg.lstsq."""
        bare, effect = numpy.zeros(self.sensors, complex), numpy.array(self.effect)
        for sensor in range(self.sensors):
            unknown = [p for p in range(self.planes) if (sensor, p) not in self.known]
            side = numpy.array([row[3][sensor] for row in self.runs])
            for plane in set(range(self.planes)) - set(unknown):
                side = side - effect[sensor, plane] * numpy.array([on[plane] for on in self.on])
            matrix = numpy.array([[1, *(on[p] for p in unknown)] for on in self.on])
            found = numpy.linalg.lstsq(matrix, side, rcond=None)[0]
            bare[sensor], effect[sensor, unknown] = found[0], found[1:]
        weight = numpy.array(self.weight)
        wanted = numpy.linalg.lstsq(weight[:, None] * effect, -weight * bare, rcond=None)[0]
        return turned(self.against, wanted - self.staying)


def work(wharve, folder, text, *more):
    path = folder / "sheet.yaml"
    path.write_text(text, encoding="utf-8")
    done = subprocess.run([wharve, "balance", str(path), "--json", *more], capture_output=True, text=True, check=False)
    return json.loads(done.stdout) if done.stdout else {"verdict": "wrong", "says": done.stderr, "planes": []}


def fault_of(wharve, folder, sheet, answer):
    got = work(wharve, folder, sheet.text())
    if got["verdict"] != "fit":
        return f"{got['verdict']}: {got['says']}\n{sheet.text()}"
    for plane, wanted in zip(got["planes"], answer):
        found = plane["si"]["wanted"] * numpy.exp(1j * plane["si"]["angle"])
        if not abs(found - wanted) < 1e-9 * abs(wanted):
            return f"plane {plane['plane']}: {found}, NumPy {wanted}\n{sheet.text()}"
    return None


FINDINGS = [("outer ring", "likely", "refused"), ("rolling element", "about 7 in 10", "refused"),
            ("cage", "possible", "doubtful"), ("bent shaft", "likely", "refused"), ("resonance", "likely", "refused"),
            ("inner ring", "unlikely", "fit"), ("unbalance", "likely", "fit"), ("belt", "likely", "fit")]


def findings(wharve, folder):
    """What each finding of a test run does to a sheet that is right by itself."""
    text = Sheet(random.Random(7)).text()
    for part, sure, wanted in FINDINGS:
        record = {"record": "a.wav", "findings": [{"part": part, "says": f"the {part} speaks", "sure": sure}]}
        (folder / "found.json").write_text(json.dumps(record), encoding="utf-8")
        got = work(wharve, folder, text, "--findings", str(folder / "found.json"))
        seen = "refused" if got["verdict"] == "refused" else "doubtful" if any(
            f"the {part} speaks" in doubt["says"] for doubt in got["doubts"]) else got["verdict"]
        told = wanted == "fit" or any(f"the {part} speaks" in reason["says"] for reason in got["refused"] + got["doubts"])
        yield None if seen == wanted and told else f"{part}, {sure}: {seen}, wanted {wanted}: {got['says']}"


def report(number, name, faults):
    bad = [fault for fault in faults if fault]
    print(f"{'not ok' if bad else 'ok'} {number} - {name}")
    for fault in bad[:3]:
        print("  " + fault.replace("\n", "\n  "))
    return bool(bad)


def main():
    self_test = sys.argv[1] == "--self-test"
    wharve, count = sys.argv[1 + self_test], 5 if self_test else int(sys.argv[2]) if len(sys.argv) > 2 else 60
    chance = random.Random(SEED)
    sheets = [Sheet(chance) for _ in range(count)]
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        if self_test:
            seen = all(fault_of(wharve, folder, sheet, sheet.answer() * 1.00001) for sheet in sheets)
            print(f"{'ok' if seen else 'not ok'} 1 - a wrong answer is seen\n1..1")
            return
        report(1, f"{count} sheets as numpy.linalg.lstsq has them, seed {SEED}",
               [fault_of(wharve, folder, sheet, sheet.answer()) for sheet in sheets])
        report(2, f"{len(FINDINGS)} findings of a test run", list(findings(wharve, folder)))
    print("1..2")


if __name__ == "__main__":
    main()
