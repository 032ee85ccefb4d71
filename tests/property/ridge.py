#!/usr/bin/env python3
"""Made vibration records of run-downs without a tacho: a rotor passing a resonance, multiples of its line, mains, a
structure's tone, noise, steady running before and silence after. The program finds the speed and when it stands at the
earliest. Prints TAP.

ridge.py PROGRAM     PROGRAM follows the line, see ridge.c
"""
import subprocess
import sys

try:
    import numpy as np
except ImportError:
    print("1..0 # SKIP python3-numpy is not installed")
    sys.exit(0)

RANDOM = np.random.default_rng(5)
RPM = 2 * np.pi / 60
RATE = 2560


def speed_at(t, first, steady, air):
    """Closed form of the run-down, 0 after standstill, and the time of that."""
    root = np.sqrt(steady * air)
    stands = np.arctan(first * np.sqrt(air / steady)) / root
    return np.sqrt(steady / air) * np.tan(root * (stands - np.clip(t, 0, stands))), stands


def record(first, seconds, part, noise, twice, resonance):
    """Samples, and the speed at each."""
    steady, air = part * first / seconds, (1 - part) / (seconds * first)
    lead, tail = RANDOM.uniform(8, 25), RANDOM.uniform(5, 25)
    stands = speed_at(np.zeros(1), first, steady, air)[1]
    t = np.arange(int((lead + stands + tail) * RATE)) / RATE
    w = speed_at(t - lead, first, steady, air)[0]
    angle = np.concatenate([[0], np.cumsum((w[1:] + w[:-1]) / 2) / RATE])
    r = w / (resonance * first)
    x = (w / first) * r**2 / np.hypot(1 - r**2, 0.16 * r) * np.cos(angle)
    x += (w / first)**2 * (twice * np.cos(2 * angle + 1) + 0.2 * np.cos(3 * angle + 2))
    x += 0.3 * np.cos(100 * np.pi * t) + 0.1 * np.cos(2 * np.pi * RANDOM.uniform(5, 90) * t)
    return x + noise * RANDOM.standard_normal(len(t)), t, w, stands


def follow(program, x, speed):
    head = f"{RATE} {len(x)} {speed!r}\n".encode()
    done = subprocess.run([program], input=head + x.tobytes(), stdout=subprocess.PIPE, check=True)
    rows = [[float(v) for v in line.split()] for line in done.stdout.decode().splitlines() if line]
    return rows[0], np.array(rows[1:]).reshape(-1, 2)


def made(program, count, noise):
    """Of `count` records: (time told over the true one, uncertainty over it, median error of the speed, share stray)."""
    told = []
    for _ in range(count):
        first, seconds, part = RANDOM.uniform(1400, 5000) * RPM, RANDOM.uniform(60, 200), RANDOM.uniform(0.2, 0.7)
        x, t, w, stands = record(first, seconds, part, noise, RANDOM.uniform(0, 1), RANDOM.uniform(0.2, 0.6))
        head, points = follow(program, x, first * RANDOM.uniform(0.97, 1.03))
        if head[0]:
            told.append((np.nan, np.nan, np.nan, np.nan))
            continue
        off = np.abs(points[:, 1] - np.interp(points[:, 0], t, w)) / first
        told.append((head[2] / stands, head[3] / stands, np.median(off), np.mean(off > 0.01)))
    return np.array(told)


def clear(program):
    """The line stands well out of the noise: every record is told, within 3 % and within its uncertainty."""
    told = made(program, 10, 0.5)
    off = np.abs(told[:, 0] - 1)
    held = np.mean(off <= 2 * told[:, 1] + 0.002)
    print(f"# time off by {100 * np.median(off):.2f} % (median), {100 * np.max(off):.2f} % (most); "
          f"{100 * held:.0f} % within two uncertainties; speed off by {1e6 * np.median(told[:, 2]):.0f} ppm")
    return None if np.max(off) < 0.03 and held >= 0.85 and np.median(told[:, 2]) < 5e-4 else str(told)


def loud(program):
    """Noise of twelve times the line: what is told is right within 6 % or three of its uncertainties, and
    most are told."""
    told = made(program, 10, 12.0)
    right = np.abs(told[:, 0] - 1) < np.maximum(0.06, 3 * told[:, 1])
    silent = ~np.isfinite(told[:, 0])
    print(f"# {np.sum(right)} right, {np.sum(silent)} not told, {np.sum(~right & ~silent)} wrong")
    return None if np.sum(right) >= 7 and np.sum(~right & ~silent) == 0 else str(told)


def nothing(program):
    """Noise and mains alone: no run-down."""
    for _ in range(3):
        t = np.arange(120 * RATE) / RATE
        head, _ = follow(program, RANDOM.standard_normal(len(t)) + 0.3 * np.cos(100 * np.pi * t), 3000 * RPM)
        if head[0] == 0:
            return str(head)
    return None


if __name__ == "__main__":
    checks = [("a clear line", clear), ("a line in loud noise", loud), ("no line, no run-down", nothing)]
    failed = 0
    print(f"1..{len(checks)}")
    for number, (title, check) in enumerate(checks, 1):
        wrong = check(sys.argv[1])
        failed += wrong is not None
        print(f"{'not ok' if wrong else 'ok'} {number} - run-down from vibration: {title}" +
              ("\n# " + wrong.replace("\n", "\n# ") if wrong else ""))
    sys.exit(1 if failed else 0)
