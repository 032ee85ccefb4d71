#!/usr/bin/env python3
"""Random vibrations as WAV, CSV and universal file: each form gives the same figures, and they are those that SciPy has
from one transform of the whole record.

figures.py WHARVE   Prints TAP, a row a vibration.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

try:
    import numpy as np
    from scipy import fft, stats
    from scipy.io import wavfile
except ImportError:
    print("1..0 # SKIP python3-scipy is not installed")
    sys.exit(0)

RANDOM = np.random.default_rng(17)
RATES = [5120, 8000, 12800, 20000]
# How near: what is read off the samples themselves; a level of averaged pieces; the extremes of a filtered signal.
NEAR = {"acceleration": 1e-6, "crest-factor": 1e-6, "kurtosis": 1e-6, "velocity": 0.03, "displacement": 0.04}


def vibration(rate):
    """Sines between 15 and 900 Hz and noise, m/s2, as 32-bit numbers."""
    count = int(rate * RANDOM.uniform(8, 12))
    time = np.arange(count) / rate
    x = RANDOM.normal(size=count) * RANDOM.uniform(0.1, 2)
    for _ in range(4):
        x += RANDOM.uniform(0.5, 5) * np.sin(2 * np.pi * RANDOM.uniform(15, 900) * time + RANDOM.uniform(0, 6))
    return x.astype(np.float32)


def universal(x, rate):
    axis = f"{{:10d}}{0:5d}{0:5d}{0:5d} {{:20}} {{:20}}\n"
    head = "NONE\n" * 5 + f"{1:5d}{0:10d}{0:5d}{0:10d} {'NONE':10}{1:10d}{3:4d} {'NONE':10}{0:10d}{0:4d}\n"
    head += f"{2:10d}{len(x):10d}{1:10d}{0:13.5e}{1 / rate:13.5e}{0:13.5e}\n"
    head += axis.format(17, "Time", "s") + axis.format(12, "NONE", "m/s^2") + axis.format(0, "NONE", "NONE") * 2
    data = x.astype("<f4").tobytes()
    first = f"    58b{1:6d}{2:6d}{11:12d}{len(data):12d}{0:6d}{0:6d}{0:12d}{0:12d}\n"
    return b"    -1\n" + (first + head).encode() + data + b"\n    -1\n"


def wanted(x, rate):
    x = x.astype(float)
    whole, f = fft.rfft(x), fft.rfftfreq(len(x), 1 / rate)
    inside = (f >= 10) & (f <= 1000)
    velocity = np.where(inside, whole, 0)
    velocity[1:] /= 2j * np.pi * f[1:]
    # The band's sides slope over 8 % of the frequency they stand at; a record's ends, which are not joined to
    # anything, are left out: half a block at the start, up to one and a half at the end.
    slopes = np.clip(np.minimum((f - 10) / 0.8, (1000 - f) / 80), 0, 1)
    moved = whole * (0.5 - 0.5 * np.cos(np.pi * slopes))
    moved[1:] /= -(2 * np.pi * f[1:]) ** 2
    moved = fft.irfft(moved, len(x))[rate:-3 * rate // 2]
    rms = np.std(x)
    return {"acceleration": rms, "crest-factor": np.max(np.abs(x - np.mean(x))) / rms,
            "kurtosis": stats.kurtosis(x, fisher=False), "velocity": 1e3 * np.std(fft.irfft(velocity, len(x))),
            "displacement": 1e6 * np.ptp(moved)}


def told(wharve, path):
    done = subprocess.run([wharve, "testrun", path, "--unit", "m/s2", "--json"], stdout=subprocess.PIPE, check=True)
    return {figure["name"]: figure["value"] for figure in json.loads(done.stdout)["figures"]}


def try_one(wharve, folder, rate):
    """What is wrong, or None; the most that velocity and displacement are off."""
    x = vibration(rate)
    paths = [folder / "x.wav", folder / "x.csv", folder / "x.uff"]
    wavfile.write(paths[0], rate, x)
    paths[1].write_text(f"# rate: {rate} Hz\nblock across [m/s2]\n" + "".join(f"{v!r}\n" for v in x.tolist()))
    paths[2].write_bytes(universal(x, rate))
    forms = [told(wharve, path) for path in paths]
    want = wanted(x, rate)
    off = {name: max(abs(form[name] / want[name] - 1) for form in forms) for name in NEAR}
    apart = max(abs(form[name] / forms[0][name] - 1) for form in forms for name in NEAR)
    wrong = [f"{name} is off by {off[name]:.2g}" for name in NEAR if not off[name] <= NEAR[name]]
    if not apart <= 1e-9:
        wrong.append(f"the forms differ by {apart:.2g}")
    return ", ".join(wrong), off["velocity"], off["displacement"]


def main():
    with tempfile.TemporaryDirectory() as scratch:
        for number, rate in enumerate(RATES, 1):
            wrong, velocity, displacement = try_one(sys.argv[1], pathlib.Path(scratch), rate)
            print(f"{'not ok' if wrong else 'ok'} {number} - {rate} samples a second: velocity within {100 * velocity:.1f} %, "
                  f"displacement within {100 * displacement:.1f} %, as WAV, CSV and universal file")
            if wrong:
                print(f"  {wrong}")
    print(f"1..{len(RATES)}")


main()
