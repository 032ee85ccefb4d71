#!/usr/bin/env python3
"""Averaged spectra of random signals by the program and by SciPy's welch: each line within 1e-9 of the greatest.

spectra.py PROGRAM   PROGRAM answers as tests/property/spectra.c says. Prints TAP, a row a window.
"""
import subprocess
import sys

try:
    import numpy as np
    from scipy import signal
except ImportError:
    print("1..0 # SKIP python3-scipy is not installed")
    sys.exit(0)

RANDOM = np.random.default_rng(6)
# By number, as in study/spectrum.h; SciPy's name or coefficients.
HFT70 = [1, 1.90796, 1.07349, 0.18199]
HFT90D = [1, 1.942604, 1.340318, 0.440811, 0.043097]
WINDOWS = ["boxcar", "hann", "hamming", "blackmanharris", "flattop", ("general_cosine", HFT70), ("general_cosine", HFT90D)]
TOLERANCE = 1e-9


def signal_of(count, rate):
    """Noise of a colour, sines, blows, an offset."""
    time = np.arange(count) / rate
    x = RANDOM.normal(size=count) * 10 ** RANDOM.uniform(-3, 1) + RANDOM.normal() * 10
    for _ in range(RANDOM.integers(0, 4)):
        x += 10 ** RANDOM.uniform(-2, 2) * np.sin(2 * np.pi * RANDOM.uniform(0, rate / 2) * time + RANDOM.uniform(0, 6))
    if RANDOM.random() < 0.5:
        x[:: int(RANDOM.integers(50, 500))] += 20
    return x


def case(window):
    rate = 10 ** RANDOM.uniform(1, 5)
    size = 2 * int(RANDOM.choice([8, 50, 64, 243, 500, 512, 1000, 1024]))
    overlap = float(RANDOM.choice([0, 0.25, 0.5, 0.75]))
    count = size + int(RANDOM.integers(0, 6 * size))
    return rate, size, window, overlap, signal_of(count, rate)


def ask(program, cases):
    text = "".join(f"{rate!r} {size} {window} {overlap} {len(x)} {' '.join(map(repr, x.tolist()))}\n"
                   for rate, size, window, overlap, x in cases)
    done = subprocess.run([program], input=text, stdout=subprocess.PIPE, text=True, check=True)
    return [np.array(line.split(), float) for line in done.stdout.splitlines()]


def worst_of(program, window):
    cases = [case(window) for _ in range(40)]
    worst = 0
    for (rate, size, _, overlap, x), got in zip(cases, ask(program, cases)):
        name = WINDOWS[window]
        weights = signal.get_window(name, size) if name != "boxcar" else np.ones(size)
        steps, power = signal.welch(x, rate, weights, size, size - (size - int(size * overlap)), scaling="spectrum")
        worst = max(worst, np.max(np.abs(got[:-2] - power)) / np.max(power))
        worst = max(worst, abs(got[-2] / (rate / size) - 1))
        worst = max(worst, abs(got[-1] / (size * np.sum(weights**2) / np.sum(weights) ** 2) - 1))
    return worst


failed = 0
for number in range(len(WINDOWS)):
    worst = worst_of(sys.argv[1], number)
    failed += worst > TOLERANCE
    name = WINDOWS[number] if isinstance(WINDOWS[number], str) else f"{len(WINDOWS[number][1])} cosines"
    print(f"{'not ok' if worst > TOLERANCE else 'ok'} {number + 1} - 40 spectra, {name}: off by {worst:.1e} of the greatest line")
print(f"1..{len(WINDOWS)}")
