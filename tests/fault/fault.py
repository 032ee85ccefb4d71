#!/usr/bin/env python3
"""Fails the k-th allocation, and the k-th call on a file, of a program for k = 1, 2, … until it passes.

fault.py WHARVE SOURCE-FOLDER     every command of COMMANDS; one TAP line a command and kind of fault
fault.py --self-test SLOPPY       a program that does it wrong in every way has to be caught, an honest one not

Of each run it is asked: no crash, no word of a sanitizer; a status that says what failed, with a message; each output
file absent, as before, or whole; no other file left. Once it passes it has to pass for greater k, too: a failure that
is merely ignored passes early and fails again. All k up to 200 are tried, then every tenth more. Last, the process that
makes a paper is killed in the middle of writing it. Entries of a job: after each fault the store is whole, and holds the
entry when it was acknowledged.
"""
import base64
import json
import os
import pathlib
import resource
import shutil
import struct
import subprocess
import sys
import tempfile

DENSE, FAR = 200, (1, 2, 3, 5, 8, 1000000)
# Exit statuses of base/status.h: a file, memory, a helper process.
STATUSES = {"file": (3, 7), "memory": (4, 7)}
OLD = b"what stood there before\n"
CLARIFIER, FAN = "machines/juice-clarifier.yaml", "machines/dryer-fan.yaml"
WHEEL = "machines/balance/dryer-fan-wheel.yaml"
DOWN = "machines/records/clarifier-run-down.csv"
RENEW = ["--renew", "neck-bearing,foot-bearing"]
SHEET = ["plan", CLARIFIER, *RENEW, "--sheet", "out/job-sheet.pdf"]
CHILD_DIED = (7,)
# A name, the command line, and the files that it writes.
COMMANDS = [
    ("check", ["check", CLARIFIER], []),
    ("check of what is wrong", ["check", "wrong.yaml"], []),
    ("figures", ["figures", CLARIFIER], []),
    ("figures as JSON", ["figures", FAN, "--json"], []),
    ("plan", ["plan", CLARIFIER, *RENEW], []),
    ("plan as JSON", ["plan", CLARIFIER, *RENEW, "--json"], []),
    ("plan with its papers", [*SHEET, "--section", "out/section.svg"], ["out/job-sheet.pdf", "out/section.svg"]),
    ("draw", ["draw", CLARIFIER, "--to", "out/section.svg"], ["out/section.svg"]),
    ("draw as a picture", ["draw", FAN, "--to", "out/section.png"], ["out/section.png"]),
    ("work by trials", ["work", "fit.interference", "seat.diameter=25.009 +- 0.002 mm", "bore=24.99..25 mm", "--trials",
                        "300"], []),
    ("work", ["work", "fit.interference", "seat.diameter=25.009 mm", "bore=24.995 mm"], []),
    ("rules", ["rules"], []),
    ("testrun of CSV", ["testrun", "record.csv", "--speed", "600 rpm", "--last", "last.json"], []),
    ("testrun of WAV and a universal file", ["testrun", "record.wav", "record.uff", "--bearing", "6205", "--speed",
                                             "600 rpm", "--json"], []),
    ("testrun of a run-down", ["testrun", "--run-down", DOWN, "--machine", CLARIFIER, "--accept", "--plots", "out"],
     ["out/run-down.svg"]),
    ("testrun of what is broken", ["testrun", "cut.uff"], []),
    ("balance", ["balance", WHEEL, "--plot", "out/fan.svg"], ["out/fan.svg"]),
]
PHOTO = base64.b64decode("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==")
NOTE, PICTURE = ["note", "1", "damp in the hall"], ["photo", "1", "photo.png"]
FIND = ["found", "1", "a cracked belt", "add=v-belts"]
LAST = b'{"figures": [{"name": "kurtosis", "place": "block", "direction": "across", "unit": "", "value": 3}]}'
WRONG = "format: 1\nname: 30\nprats:\n  - id: a\n"


def records():
    """The same second of a vibration as CSV, WAV and a universal file; one that is cut short."""
    samples = [(i * i * 7919 % 2003 - 1001) / 100 for i in range(1600)]
    head = b"WAVEfmt " + struct.pack("<IHHIIHH", 16, 3, 1, 1600, 6400, 4, 32) + b"data" + struct.pack("<I", 6400)
    wav = b"RIFF" + struct.pack("<I", 36 + 6400) + head + struct.pack("<1600f", *samples)
    axis = f"{{:10d}}{0:5d}{0:5d}{0:5d} {{:20}} {{:20}}\n"
    uff = "    -1\n    58\n" + "NONE\n" * 5
    uff += f"{1:5d}{0:10d}{0:5d}{0:10d} {'NONE':10}{1:10d}{3:4d} {'NONE':10}{0:10d}{0:4d}\n"
    uff += f"{4:10d}{1600:10d}{1:10d}{0:13.5e}{1 / 1600:13.5e}{0:13.5e}\n" + axis.format(17, "Time", "s")
    uff += axis.format(12, "NONE", "m/s^2") + axis.format(0, "NONE", "NONE") * 2
    rows = [f"{x:20.12e}" for x in samples]
    uff += "".join("".join(rows[i:i + 4]) + "\n" for i in range(0, 1600, 4))
    csv = "# rate: 1600 Hz\nblock across [m/s2]\n" + "".join(f"{x}\n" for x in samples)
    return {"record.csv": csv.encode(), "record.wav": wav, "record.uff": (uff + "    -1\n").encode(),
            "cut.uff": uff[:20000].encode(), "last.json": LAST}


class Run:
    """One run of a program in a folder of its own: how it ended and what it left."""

    def __init__(self, command, outputs, inputs, fault, most=None):
        with tempfile.TemporaryDirectory() as scratch:
            folder = pathlib.Path(scratch)
            for name, content in {**inputs, **{name: OLD for name in outputs}}.items():
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                (folder / name).write_bytes(content)
            environment = {**os.environ, "CAIRO_PDF_METADATA_CREATE_DATE": "2025-01-01T00:00:00Z"}
            environment.pop("WHARVE_FAULT", None)
            if fault:
                environment["WHARVE_FAULT"] = fault
            done = subprocess.run(command, cwd=folder, env=environment, timeout=120, check=False,
                                  stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                  preexec_fn=(lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (most, most)))
                                  if most else None)
            self.status, self.says = done.returncode, done.stderr
            left = {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
            self.files = {name: left.get(name) for name in outputs}
            self.strays = sorted(set(left) - set(inputs) - set(outputs))
            self.result = (done.returncode, done.stdout, done.stderr, self.files)

    def crashed(self):
        """Words on how it died, or None. A child's sanitizer is heard by its words."""
        if self.status < 0:
            return f"killed by signal {-self.status}"
        if b"Sanitizer" in self.says or b"runtime error" in self.says:
            return "a sanitizer spoke: " + self.says.decode(errors="replace")[:600]
        return None


def complaint(run, whole, statuses):
    """What is wrong with a run, or None; `whole` is the run without a fault."""
    if run.crashed():
        return run.crashed()
    if run.strays:
        return f"left behind: {', '.join(run.strays)}"
    for name, content in run.files.items():
        if content not in (None, OLD, whole.files[name]):
            return f"{name} is neither the old one nor whole"
    if run.result != whole.result and not run.status == whole.status != 0:  # it failed anyhow: its words may be lost
        if run.status not in statuses:
            return f"ended with status {run.status} instead of {' or '.join(map(str, statuses))}"
        if not run.says.strip():
            return f"ended with status {run.status} without a word"
    return None


def steps(dense=DENSE):
    k = 1
    while True:
        yield k
        k += 1 if k < dense else max(1, k // 10)


def try_faults(command, outputs, inputs, kind):
    """(What is wrong or None, how many k failed before it passed)."""
    whole = Run(command, outputs, inputs, None)
    if whole.crashed() or whole.strays or None in whole.files.values() or OLD in whole.files.values():
        return f"fails without any fault: status {whole.status}: {whole.says.decode(errors='replace')[:600]}", 0
    passed = None
    for k in steps():
        run = Run(command, outputs, inputs, f"{kind}:{k}")
        wrong = complaint(run, whole, STATUSES[kind])
        if wrong:
            return f"{kind}:{k}: {wrong}", k
        if run.result == whole.result:
            passed = k
            break
    for more in FAR:
        if Run(command, outputs, inputs, f"{kind}:{passed + more}").result != whole.result:
            return f"passes with {kind}:{passed} and fails with {kind}:{passed + more}: a failure went unseen", passed
    if passed == 1:
        return f"no call of kind {kind} could be made to fail", 1
    return None, passed - 1


def kill_in_writing(command, output, inputs):
    """A file may grow to half the paper's size: the process that passes it is killed by the system."""
    whole = Run(command, [output], inputs, None)
    if whole.status != 0:
        return f"fails without any fault: status {whole.status}"
    run = Run(command, [output], inputs, None, len(whole.files[output]) // 2)
    if run.result == whole.result:
        return "the process could not be killed"
    return complaint(run, whole, CHILD_DIED) or (None if run.files[output] == OLD else f"{output} is not as it was")


def entries(wharve, folder):
    """What the store holds after a fault, read without one: (what is wrong or None, number of entries)."""
    checked = subprocess.run([wharve, "store", "check", "--store", "jobs.db"], cwd=folder, capture_output=True, timeout=60,
                             check=False)
    if checked.returncode != 0:
        return f"the store is broken: {checked.stderr.decode(errors='replace')[:300]}", 0
    shown = subprocess.run([wharve, "job", "show", "1", "--json", "--store", "jobs.db"], cwd=folder, capture_output=True,
                           timeout=60, check=False)
    if shown.returncode != 0:
        return f"the job cannot be read: {shown.stderr.decode(errors='replace')[:300]}", 0
    return None, json.loads(shown.stdout)["entries made"]


def enter_under_faults(wharve, source, words, kind):
    """An entry of a job while a call fails: it is on the disk when it was acknowledged, the store is whole in any case."""
    with tempfile.TemporaryDirectory() as scratch:
        made = pathlib.Path(scratch) / "made"
        made.mkdir()
        (made / "photo.png").write_bytes(PHOTO)
        subprocess.run([wharve, "job", "open", source.resolve() / FAN, "--renew", "v-belts", "--who", "Ada", "--store", "jobs.db"],
                       cwd=made, check=True, capture_output=True, timeout=60)
        _, before = entries(wharve, made)

        def enter(name, fault):
            folder = pathlib.Path(scratch) / name
            shutil.copytree(made, folder)
            done = subprocess.run([wharve, "job", *words, "--who", "Ada", "--key", "k", "--store", "jobs.db"], cwd=folder,
                                  capture_output=True, timeout=60, check=False, env={**os.environ, **fault})
            return done, *entries(wharve, folder)

        whole = enter("whole", {})[0]
        for k in steps(DENSE // 4):
            done, wrong, after = enter(str(k), {"WHARVE_FAULT": f"{kind}:{k}"})
            if not wrong and done.returncode not in (0, *STATUSES[kind]):
                wrong = f"ended with status {done.returncode}: {done.stderr.decode(errors='replace')[:300]}"
            if not wrong and after < before + (done.returncode == 0):
                wrong = f"status {done.returncode}, {before} entries before, {after} after"
            if wrong:
                return f"{kind}:{k}: {wrong}", k
            if (done.returncode, done.stdout, done.stderr) == (whole.returncode, whole.stdout, whole.stderr):
                return (None, k - 1) if k > 1 else (f"no call of kind {kind} could be made to fail", 1)


def check(wharve, source):
    inputs = {name: (source / name).read_bytes() for name in (CLARIFIER, FAN, WHEEL, DOWN)}
    inputs["wrong.yaml"] = WRONG.encode()
    inputs.update(records())
    number = 0
    for name, arguments, outputs in COMMANDS:
        for kind in STATUSES:
            number += 1
            wrong, failed = try_faults([str(wharve), *arguments], outputs, inputs, kind)
            print(f"{'not ok' if wrong else 'ok'} {number} - {name}: {failed} failing calls of kind {kind}", flush=True)
            if wrong:
                print(f"  {wrong}")
    for words in (NOTE, PICTURE, FIND):
        for kind in STATUSES:
            number += 1
            wrong, failed = enter_under_faults(wharve, source, words, kind)
            print(f"{'not ok' if wrong else 'ok'} {number} - job {words[0]}: {failed} failing calls of kind {kind}", flush=True)
            if wrong:
                print(f"  {wrong}")
    number += 1
    wrong = kill_in_writing([str(wharve), *SHEET], "out/job-sheet.pdf", inputs)
    print(f"{'not ok' if wrong else 'ok'} {number} - the job sheet's process is killed while it writes: {wrong}")
    print(f"1..{number}")


def self_test(sloppy):
    """Each way of going wrong, the kind of fault that shows it, and the words of the complaint."""
    cases = [
        ("honest", "file", None), ("honest", "memory", None),
        ("blind", "file", "ended with status 0"), ("hasty", "file", "went unseen"),
        ("half", "file", "neither the old one nor whole"),
        ("litter", "file", "left behind"), ("silent", "file", "without a word"),
        ("muddled", "file", "ended with status 1"), ("crash", "memory", "killed by signal"),
        ("deaf", "memory", "could be made to fail"),
    ]
    for number, (way, kind, wanted) in enumerate(cases, 1):
        wrong, _ = try_faults([str(sloppy), way], ["copy.txt"], {"input.txt": b"a line\n" * 100}, kind)
        good = wrong is None if wanted is None else wrong is not None and wanted in wrong
        print(f"{'ok' if good else 'not ok'} {number} - the harness {'passes' if wanted is None else 'catches'} "
              f"a program that is {way} ({kind}): {wrong}")
    print(f"1..{len(cases)}")


if __name__ == "__main__":
    if sys.argv[1] == "--self-test":
        self_test(pathlib.Path(sys.argv[2]).resolve())
    else:
        check(pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]))
