#!/usr/bin/env python3
"""A minute of two channels at 51.2 kHz, analysed in full by the program and by the same steps in SciPy, each on one core;
the bare transforms beside; then the memory of an hour's record.

records.py WHARVE TRANSFORMS [--no-hour]   Seconds are those of the processor, the least of three.

The steps, for each channel: averaged spectrum (Hann, half overlap, two seconds a block); r.m.s. of velocity and
displacement peak to peak from 10 to 1000 Hz; r.m.s., crest factor, kurtosis; squared envelopes of octaves in half-octave
steps with their kurtosis and averaged spectra; the same of the whitened record. SciPy does them twice: as the textbook
has it, each band by a filter and a Hilbert transform; and as somebody would who knows that one transform of the whole
record serves all bands, each turned back from its own bins at its own rate.
"""
import json
import os
import pathlib
import resource
import subprocess
import sys
import tempfile
import time

try:
    import numpy as np
    from scipy import fft, signal, stats
    from scipy.io import wavfile
    from scipy.ndimage import uniform_filter1d
except ImportError:
    sys.exit("python3-scipy is not installed")

RATE, SECONDS, BLOCK, SHAFT = 51200, 60, 2.0, 81.0
TOP = 30 * SHAFT  # highest line of an envelope looked at
SIZE = int(RATE * BLOCK)


def make(path, minutes):
    """Noise, the shaft's turning, blows that ring at 6 kHz; whole numbers of full scale 100 m/s2."""
    random = np.random.default_rng(1)
    count = SECONDS * RATE
    at = np.arange(count) / RATE
    x = np.empty((count, 2))
    for c in range(2):
        x[:, c] = random.normal(size=count) + 3 * np.sin(2 * np.pi * SHAFT * at + c)
        ring = np.arange(200)
        ring = 4 * np.exp(-ring / 40) * np.sin(2 * np.pi * 6000 * ring / RATE)
        for k in range(0, count - 200, RATE // 290 + c):
            x[k:k + 200, c] += ring
    x = np.round(x * 327.67).astype("<i2")
    size = minutes * x.nbytes
    head = b"RIFF" + (size + 36).to_bytes(4, "little") + b"WAVEfmt " + b"".join(
        n.to_bytes(k, "little") for n, k in [(16, 4), (1, 2), (2, 2), (RATE, 4), (4 * RATE, 4), (4, 2), (16, 2)])
    with open(path, "wb") as file:
        file.write(head + b"data" + size.to_bytes(4, "little"))
        for _ in range(minutes):
            file.write(x.tobytes())


def bands():
    high = 0.46 * RATE
    while high / 2 >= TOP / 2:
        yield high / 2, high
        high /= np.sqrt(2)


def welch(x, rate):
    size = fft.next_fast_len(int(rate * BLOCK), real=True)
    f, power = signal.welch(x, rate, "hann", size, size // 2, scaling="spectrum")
    return f, power


def figures(y, whole):
    """What both ways do alike; whole: the transform of the whole channel."""
    f, power = welch(y, RATE)
    velocity = power[1:] / (2 * np.pi * f[1:]) ** 2
    inside = (f[1:] >= 10) & (f[1:] <= 1000)
    rms = np.std(y)
    g = fft.rfftfreq(len(y), 1 / RATE)
    moved = np.where((g >= 10) & (g <= 1000), whole, 0)
    moved[1:] /= -(2 * np.pi * g[1:]) ** 2
    magnitude = uniform_filter1d(np.abs(whole), 2 * len(y) // 128 + 1)
    white = fft.irfft(np.where((g >= TOP / 2) & (g <= RATE / 2 - TOP / 2), whole / magnitude, 0), len(y)) ** 2
    welch(white, RATE)
    return {"velocity": np.sqrt(np.sum(velocity[inside]) / 1.5) * 1e3,
            "displacement": np.ptp(fft.irfft(moved, len(y))) * 1e6,
            "acceleration": rms, "crest-factor": np.max(np.abs(y - np.mean(y))) / rms,
            "kurtosis": stats.kurtosis(y, fisher=False)}


def squared(z, rate):
    e = (z.real**2 + z.imag**2) / 2
    kurtosis = np.mean(e**2) / np.mean(e) ** 2 - 2
    f, power = welch(e, rate)
    return kurtosis, power[f <= TOP]


def by_filters(y):
    for low, high in bands():
        squared(signal.hilbert(signal.sosfilt(signal.butter(4, [low, high], "bandpass", fs=RATE, output="sos"), y)), RATE)
    return figures(y, fft.rfft(y))


def by_bins(y):
    whole = fft.rfft(y)
    for low, high in bands():
        bins = whole[int(low * SECONDS):int(high * SECONDS)]
        size = fft.next_fast_len(2 * len(bins))
        squared(fft.ifft(bins, size) * (2 * size / len(y)), RATE * size / len(y))
    return figures(y, whole)


def scipy_run(path, way):
    began = time.process_time()
    _, x = wavfile.read(path)
    told = [way(x[:, c] / 327.68) for c in range(2)]
    return time.process_time() - began, told


def wharve_run(wharve, path):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run([wharve, "testrun", path, "--full-scale", "100 m/s2", "--speed", f"{60 * SHAFT:.0f} rpm", "--json"],
                          stdout=subprocess.PIPE, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    told = [{}, {}]
    for figure in json.loads(done.stdout)["figures"]:
        told[int(figure["channel"][-1]) - 1][figure["name"]] = figure["value"]
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, told


def agree(ours, theirs):
    """The most that a figure differs, as a share: SciPy's is of the whole record, ours of pieces."""
    return max(abs(a[name] / b[name] - 1) for a, b in zip(ours, theirs) for name in b)


def bare(transforms):
    """The bare transforms of the spectrum's blocks: ours by the library the program uses, SciPy's by its own."""
    count = 2 * (2 * SECONDS * RATE // SIZE - 1)
    ours = float(subprocess.run([transforms, str(SIZE), str(count)], stdout=subprocess.PIPE, text=True, check=True).stdout)
    x = np.random.default_rng(2).normal(size=SIZE)
    began = time.process_time()
    for _ in range(count):
        fft.rfft(x)
    return count, ours, time.process_time() - began


def main():
    os.environ["OMP_NUM_THREADS"] = "1"
    wharve, transforms = sys.argv[1:3]
    with tempfile.TemporaryDirectory() as folder:
        path = str(pathlib.Path(folder) / "minute.wav")
        make(path, 1)
        runs = {"wharve testrun": min((wharve_run(wharve, path) for _ in range(3)), key=lambda r: r[0])}
        runs["SciPy, by filters"] = min((scipy_run(path, by_filters) for _ in range(2)), key=lambda r: r[0])
        runs["SciPy, by bins of one transform"] = min((scipy_run(path, by_bins) for _ in range(3)), key=lambda r: r[0])
        ours = runs["wharve testrun"]
        print(f"{SECONDS} s of two channels at {RATE} samples a second, in full, on one core:")
        for name, (seconds, told) in runs.items():
            more = "" if told is ours[1] else (f"{seconds / ours[0]:8.1f} times as long; figures within "
                                               f"{100 * agree(ours[1], told):.1f} %")
            print(f"  {name:34} {seconds:7.2f} s{more}")
        count, our, their = bare(transforms)
        print(f"  bare: {count} transforms of {SIZE}: {our:.3f} s; SciPy's {their:.3f} s, {their / our:.1f} times as long")
        if "--no-hour" in sys.argv:
            return
        path = str(pathlib.Path(folder) / "hour.wav")
        make(path, 60)
        script = ("import resource,subprocess,sys; subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, check=True); "
                  "r=resource.getrusage(resource.RUSAGE_CHILDREN); print(r.ru_maxrss/1024, r.ru_utime+r.ru_stime)")
        done = subprocess.run([sys.executable, "-c", script, wharve, "testrun", path, "--full-scale", "100 m/s2", "--speed",
                               f"{60 * SHAFT:.0f} rpm"], stdout=subprocess.PIPE, text=True, check=True)
        memory, seconds = map(float, done.stdout.split())
        print(f"  an hour of the same, {os.path.getsize(path) / 1e6:.0f} MB: {memory:.0f} MiB, {seconds:.0f} s")


main()
