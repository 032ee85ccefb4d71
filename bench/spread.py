#!/usr/bin/env python3
"""A million trials of a machine's whole sheet, beside NumPy: spread.py SPREAD MACHINE READINGS [OTHER-SPREAD]

The NumPy program is written here from what `spread dump` says of the sheet: the printed formulas of the bound rules, the
same distributions, limits and statistics (mean, standard uncertainty, 95 % interval, share outside, share without an
answer). Both run turn about, least of five, processor time on one core. OTHER-SPREAD is the same built by another
compiler: its digits have to be the same. `spread.py --write SPREAD MACHINE READINGS` prints the NumPy program.
"""
import os
import pathlib
import subprocess
import sys
import tempfile

import numpy as np

from formula import Formula

TRIALS, TURNS, CHECKED = 1000000, 5, 400000
BLOCKS = [0, 65536, 16384, 4096]  # rows; 0: whole columns
LEAST_RATIO, MOST_MIB, LEAST_SHARE = 1.5, 16, 0.85

# Rules whose printed formula is words, as a NumPy user would write them; inputs in their order.
IN_WORDS = {
    "bearing.warmed-to": "np.where({1} <= {0}, {1}, np.nan)",
    "lubricant.purchase": "np.ceil(1.15e4 * {0} - 1e-9) * 1e-4",
}

HEAD = '''"""Written by bench/spread.py from the machine's sheet: one trial a row, one figure a column."""
import re
import sys
import time

import numpy as np

FIGURES = {figures}
LIMITS = {limits}


def work(g, n):
'''
TAIL = '''

def ends_by_tails(low_tails, high_tails, n):
    """2.5 % and 97.5 % of n trials of which only the ends were kept."""
    low, high = np.concatenate(low_tails), np.concatenate(high_tails)
    k = int(0.025 * (n - 1))
    return np.partition(low, k)[k], np.partition(high, high.size - 1 - k)[high.size - 1 - k]


def whole(g, n):
    ret = []
    for x, (least, most) in zip(work(g, n), LIMITS):
        answered = x if np.isfinite(x.sum()) else x[np.isfinite(x)]
        outside = np.count_nonzero(answered < least) + np.count_nonzero(answered > most)
        k = int(0.025 * (answered.size - 1))
        part = np.partition(answered, (k, answered.size - 1 - k))
        ret.append((answered.mean(), answered.std(ddof=1), part[k], part[answered.size - 1 - k],
                    outside / answered.size, 1 - answered.size / n))
    return ret


def in_blocks(g, n, rows):
    pilot = work(np.random.Generator(np.random.PCG64(0)), 4096)
    about, near = [], []
    for x in pilot:
        x = np.sort(x[np.isfinite(x)])
        about.append(x.mean())
        near.append((x[int(0.04 * x.size)], x[int(0.96 * x.size)]))
    count = len(pilot)
    total, square = np.zeros(count), np.zeros(count)
    outside, answers = np.zeros(count), np.zeros(count)
    low, high = [[] for _ in range(count)], [[] for _ in range(count)]
    for first in range(0, n, rows):
        for f, x in enumerate(work(g, min(rows, n - first))):
            d = x - about[f]
            s = d.sum()
            if not np.isfinite(s):
                x = x[np.isfinite(x)]
                d = x - about[f]
                s = d.sum()
            total[f] += s
            square[f] += np.dot(d, d)
            answers[f] += x.size
            outside[f] += np.count_nonzero(x < LIMITS[f][0]) + np.count_nonzero(x > LIMITS[f][1])
            low[f].append(x[x <= near[f][0]])
            high[f].append(x[x >= near[f][1]])
    mean = total / answers
    ends = [ends_by_tails(low[f], high[f], answers[f]) for f in range(count)]
    return [(about[f] + mean[f], np.sqrt((square[f] - total[f] * mean[f]) / (answers[f] - 1)), *ends[f],
             outside[f] / answers[f], 1 - answers[f] / n) for f in range(count)]


def draws_only(g, n, rows):
    for first in range(0, n, rows):
        draw(g, min(rows, n - first))


if __name__ == "__main__":
    what, n, rows = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    g = np.random.Generator(np.random.PCG64(1))
    with np.errstate(all="ignore"):
        start = time.process_time()
        if what == "draw":
            draws_only(g, n, rows or n)
            ret = []
        else:
            ret = in_blocks(g, n, rows) if rows else whole(g, n)
        seconds = time.process_time() - start
    with open("/proc/self/status", encoding="ascii") as status:
        print("cost", seconds, re.search(r"VmHWM:\\s*(\\d+)", status.read())[1], sep="\\t")
    for cell, row in zip(FIGURES, ret):
        print("figure", cell, *map(repr, map(float, row)), sep="\\t")
'''


class Sheet:
    """What `spread dump` says."""

    def __init__(self, dump):
        self.cells, self.uses, self.limits = {}, [], {}
        for line in dump.splitlines():
            word, *rest = line.split("\t")
            if word == "cell":
                self.cells[int(rest[0])] = (rest[1], int(rest[2]), *map(float, rest[3:]))
            elif word == "use":
                self.uses.append((rest[0], rest[1], pairs(rest[2]), pairs(rest[3])))
            else:
                self.limits[int(rest[0])] = tuple(map(float, rest[1:]))
        wanted = set(self.limits)
        for use in reversed(self.uses):
            if any(c in wanted for _, c in use[3]):
                wanted.update(c for _, c in use[2] + use[3])
        self.uses = [use for use in self.uses if use[3][0][1] in wanted]
        self.drawn = [c for c, cell in self.cells.items() if cell[1] > 0 and c in wanted]


def pairs(words):
    words = words.split(" ")
    return [(words[i], int(words[i + 1])) for i in range(0, len(words), 2)]


def lines_of(sheet, varies):
    """The lines of the program, one equation each, of all that varies and is wanted."""
    for number, (rule, formula, ins, outs) in enumerate(sheet.uses):
        if not any(c in varies for _, c in ins):
            continue
        varies.update(c for _, c in outs)
        operands = [(symbol, f"v{c}" if c in varies else sheet.cells[c][2]) for symbol, c in ins]
        if "=" not in formula:
            columns = [value if isinstance(value, str) else repr(value) for _, value in operands]
            yield f"v{outs[0][1]}", IN_WORDS[rule].format(*columns), rule
            continue
        reader, results = Formula(formula, operands), dict(outs)
        equations = reader.equations()
        symbol, value = next(equations)
        while True:
            name = f"v{results[symbol]}" if symbol in results else f"a{number}_{symbol}".replace("'", "_")
            fixed = isinstance(value, float)
            if not fixed:
                yield name, value, rule
            elif symbol in results:
                yield name, f"np.full(n, {value!r})", rule
            try:
                symbol, value = equations.send(value if fixed else name)
            except StopIteration:
                break


def program_of(sheet):
    lines, drawn = list(lines_of(sheet, set(sheet.drawn))), sheet.drawn
    text = HEAD.format(figures=list(sheet.limits), limits=list(sheet.limits.values()))
    text += f"    {', '.join(f'v{c}' for c in drawn)}, = draw(g, n)\n"
    for name, value, _ in lines:
        text += f"    {name} = {value}\n"
    text += f"    return [{', '.join(f'v{c}' for c in sheet.limits)}]\n\n\ndef draw(g, n):\n    return [\n"
    for c in drawn:
        _, shape, best, least, most, u = sheet.cells[c]
        text += f"        g.uniform({least!r}, {most!r}, n),\n" if shape == 1 else f"        g.normal({best!r}, {u!r}, n),\n"
    return text + "    ]\n" + TAIL, len(drawn), sorted({rule for _, _, rule in lines if rule in IN_WORDS})


def figures_of(output):
    rows = [line.split("\t") for line in output.splitlines() if line.startswith("figure")]
    return {int(row[1]): tuple(map(float, row[2:])) for row in rows}


def cost_of(output):
    return [float(word) for word in output.splitlines()[0].split("\t")[1:]]


class Runner:
    """Runs both programs, one core each."""

    def __init__(self, spread, machine, readings, peer):
        self.ours, self.what = spread, [machine, readings]
        self.peer = [sys.executable, str(peer)]
        self.one = {**os.environ, "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}

    def run(self, mode, trials, threads=1, program=None):
        return self.output([program or self.ours, mode, *self.what, str(trials), str(threads)])

    def numpy(self, mode, trials, rows):
        return self.output([*self.peer, mode, str(trials), str(rows)])

    def output(self, line):
        return subprocess.run(line, env=self.one, check=True, text=True, stdout=subprocess.PIPE).stdout

    def two_copies(self, trials):
        """Seconds of clock until both of two copies at once are done."""
        line = [self.ours, "run", *self.what, str(trials), "1"]
        copies = [subprocess.Popen(line, text=True, stdout=subprocess.PIPE) for _ in range(2)]
        return max(cost_of(copy.communicate()[0])[1] for copy in copies)


def worst_difference(sheet, runner):
    """The greatest difference between both programs, in its standard errors, and where; and NumPy's columns."""
    scope = {}
    exec(compile(pathlib.Path(runner.peer[1]).read_text(), runner.peer[1], "exec"), scope)
    ours, worst = figures_of(runner.run("run", CHECKED)), (0, "")
    with np.errstate(all="ignore"):
        columns = scope["work"](np.random.Generator(np.random.PCG64(2)), CHECKED)
    for cell, x in zip(scope["FIGURES"], columns):
        mean, u, low, high, outside, none = ours[cell]
        x = x[np.isfinite(x)]
        n, m, s = x.size, x.mean(), x.std(ddof=1)
        fourth = np.mean((x - m) ** 4) / s ** 4
        least, most = sheet.limits[cell]

        def share(seen, told):
            """Standard errors between a share seen in NumPy's trials and one told by ours."""
            p = max((seen + told) / 2, 1 / n)
            return abs(seen - told) / np.sqrt(2 * p * (1 - p) / n)
        off = {"mean": abs(mean - m) / (s * np.sqrt(2 / n)),
               "u": abs(u - s) / (s * np.sqrt((fourth - 1) / (2 * n))),
               "low": share(np.count_nonzero(x < low) / n, 0.025), "high": share(np.count_nonzero(x < high) / n, 0.975),
               "outside": share((np.count_nonzero(x < least) + np.count_nonzero(x > most)) / n, outside),
               "none": share(1 - n / CHECKED, none)}
        what = max(off, key=off.get)
        worst = max(worst, (off[what], f"{sheet.cells[cell][0]}, {what}"))
    return worst


def measure(runner):
    """Least costs of the turns, each a dictionary from what was run to seconds; and the greatest KiB."""
    least, kib = {}, {}
    for _ in range(TURNS):
        rows = {"wharve": runner.run("run", TRIALS), "wharve, draws alone": runner.run("draw", TRIALS)}
        for block in BLOCKS:
            rows[block_words(block)] = runner.numpy("run", TRIALS, block)
        rows["NumPy, draws alone"] = runner.numpy("draw", TRIALS, 16384)
        two, copies = cost_of(runner.run("run", 2 * TRIALS, 2))[1], runner.two_copies(TRIALS)
        for what, output in rows.items():
            cost = cost_of(output)
            least[what] = min(least.get(what, 1e9), cost[0])
            kib[what] = max(kib.get(what, 0), cost[-1])
        least["two threads"] = min(least.get("two threads", 1e9), two)
        least["two copies"] = min(least.get("two copies", 1e9), copies)
    return least, kib


def block_words(rows):
    return f"NumPy, {f'blocks of {rows}' if rows else 'whole columns'}"


def verdict(good):
    return "good" if good else "TOO LITTLE"


def main(spread, machine, readings, other=None):
    sheet = Sheet(subprocess.run([spread, "dump", machine, readings], check=True, text=True, stdout=subprocess.PIPE).stdout)
    program, drawn, words = program_of(sheet)
    with tempfile.TemporaryDirectory() as scratch:
        peer = pathlib.Path(scratch) / "peer.py"
        peer.write_text(program, encoding="utf-8")
        runner = Runner(spread, machine, readings, peer)
        print(f"{len(sheet.limits)} figures that vary, {drawn} inputs drawn, {TRIALS} trials; formulas in words written by hand: "
              f"{len(words)} ({', '.join(words)})")
        off, where = worst_difference(sheet, runner)
        print(f"agreement: at most {off:.2f} standard errors apart ({where}); wanted 4: {verdict(off <= 4)}")
        same = True
        if other and pathlib.Path(other).exists():
            same = figures_of(runner.run("run", CHECKED, program=other)) == figures_of(runner.run("run", CHECKED))
            print(f"digits of both compilers: {'the same' if same else 'NOT THE SAME'}")
        else:
            print("digits of both compilers: not looked at, there is one build only")
        least, kib = measure(runner)
    ours = least["wharve"]
    for what, seconds in least.items():
        memory = f", {kib[what] / 1024:7.1f} MiB, {seconds / ours:5.2f} times wharve" if what in kib else " of clock"
        print(f"  {what:24} {seconds:7.3f} s{memory}")
    ratio = min(least[block_words(rows)] for rows in BLOCKS) / ours
    share = least["two copies"] / least["two threads"]
    print(f"fastest NumPy over wharve: {ratio:.2f}; wanted {LEAST_RATIO}: {verdict(ratio >= LEAST_RATIO)}")
    print(f"memory: {kib['wharve'] / 1024:.1f} MiB; wanted at most {MOST_MIB}: {verdict(kib['wharve'] <= 1024 * MOST_MIB)}")
    print(f"two threads over two copies at once: {share:.2f}; wanted {LEAST_SHARE}: {verdict(share >= LEAST_SHARE)}")
    small = kib["wharve"] <= 1024 * MOST_MIB
    return 0 if off <= 4 and same and small and ratio >= LEAST_RATIO and share >= LEAST_SHARE else 1


if __name__ == "__main__":
    if sys.argv[1] == "--write":
        print(program_of(Sheet(subprocess.run([sys.argv[2], "dump", *sys.argv[3:]], check=True, text=True,
                                              stdout=subprocess.PIPE).stdout))[0])
    else:
        sys.exit(main(*sys.argv[1:]))
