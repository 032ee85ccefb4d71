#!/usr/bin/env python3
"""Run-downs made by integrating the equation of motion, with noise, fitted by the program and by SciPy's least squares
on the integrated equation; and how often the stated uncertainty holds the true time to standstill. Prints TAP.

run_down.py PROGRAM     PROGRAM fits sets of readings, see run_down.c
"""
import subprocess
import sys

try:
    import numpy as np
    from scipy import integrate, optimize
except ImportError:
    print("1..0 # SKIP python3-scipy is not installed")
    sys.exit(0)

RANDOM = np.random.default_rng(11)
RPM = 2 * np.pi / 60


def fit(program, sets):
    """One row of numbers for each set (times, speeds, from)."""
    text = "".join(f"{len(t)} {start!r}\n" + "".join(f"{x!r} {y!r}\n" for x, y in zip(t.tolist(), w.tolist()))
                   for t, w, start in sets)
    done = subprocess.run([program], input=text, stdout=subprocess.PIPE, text=True, check=True)
    return [[float(x) for x in line.split()] for line in done.stdout.splitlines()]


def slowed(t, steady, viscous, air, first):
    """The speed at times t by integrating the equation."""
    def slope(_, w):
        return -(steady + viscous * w + air * w * w)
    return integrate.solve_ivp(slope, (0, t[-1] + 1e-9), [first], t_eval=t, rtol=1e-11, atol=1e-11, method="LSODA").y[0]


def stands(steady, viscous, air, first):
    """Seconds to standstill by quadrature."""
    return integrate.quad(lambda w: 1 / (steady + viscous * w + air * w * w), 0, first, epsabs=0, epsrel=1e-11)[0]


def sample(viscous=False, share=0.05, noise=2e-3, count=80):
    """A made run-down down to a share of its first speed."""
    first, seconds, part = RANDOM.uniform(1000, 6000) * RPM, RANDOM.uniform(30, 1200), RANDOM.uniform(0.15, 0.7)
    steady, air = part * first / seconds, (1 - part) / (seconds * first)
    sticky = RANDOM.uniform(0.5, 1.5) / seconds if viscous else 0
    whole = stands(steady, sticky, air, first)
    past = integrate.quad(lambda w: 1 / (steady + sticky * w + air * w * w), 0, share * first)[0]
    t = np.linspace(0, whole - past, count)
    w = slowed(t, steady, sticky, air, first)
    return t, w + noise * first * RANDOM.standard_normal(count), (steady, sticky, air, first), whole


def against_scipy(program):
    """Terms and their uncertainties beside SciPy's."""
    made = [sample() for _ in range(25)]
    worst = 0
    for (t, w, true, _), row in zip(made, fit(program, [(t, w, true[3]) for t, w, true, _ in made])):
        scale = np.array([true[0], true[2], true[3]])
        found = optimize.least_squares(lambda p: slowed(t, p[0] * scale[0], 0, p[1] * scale[1], p[2] * scale[2]) - w,
                                       [1.1, 0.9, 1.0], xtol=1e-12, ftol=1e-14, gtol=1e-12, diff_step=1e-5)
        covariance = np.linalg.inv(found.jac.T @ found.jac) * 2 * found.cost / (len(t) - 3)
        rest = found.fun
        kept = min(max((rest[1:] @ rest[:-1]) / (rest @ rest), 0), 0.99)
        u = np.sqrt(np.diag(covariance) * (1 + kept) / (1 - kept))
        ours = np.array([row[1], row[3], row[4]]) / scale
        if row[0] or row[2]:
            return f"status {row[0]}, viscous {row[2]}"
        off = np.abs(np.array([row[5], row[7], row[8]]) / scale / u - 1)
        worst = max(worst, np.max(np.abs(ours - found.x) / u), np.max(off))
    return None if worst < 2e-3 else f"off by {worst:.3g} of the standard uncertainty"


def exact(program):
    """Without noise the terms come back, with the viscous one too."""
    for viscous in (False, True):
        made = [sample(viscous, noise=0) for _ in range(20)]
        for (t, w, true, whole), row in zip(made, fit(program, [(t, w, true[3]) for t, w, true, _ in made])):
            if row[0] or not np.allclose(row[1:5], true, rtol=2e-5, atol=1e-7) or abs(row[9] / whole - 1) > 1e-5:
                return f"{row} for {true}, {whole}"
    return None


def held(program):
    """Of 600 records read down to a fifth of their speed, 95 % must hold the true time within two uncertainties."""
    made = [sample(share=0.2, noise=1e-3, count=60) for _ in range(600)]
    rows = fit(program, [(t, w, true[3]) for t, w, true, _ in made])
    told = [(row, whole) for row, (_, _, _, whole) in zip(rows, made) if not row[0] and np.isfinite(row[9])]
    inside = sum(abs(row[9] - whole) <= 2 * row[10] for row, whole in told) / len(told)
    print(f"# {len(told)} of {len(made)} tell a time; {100 * inside:.1f} % of them hold the true one")
    return None if len(told) > 500 and 0.92 <= inside <= 0.98 else f"{inside:.3f} of {len(told)}"


def other_law(power, share, noise):
    """A run-down whose air drag grows with another power of the speed; the true time to standstill."""
    first, seconds, part = RANDOM.uniform(100, 600), RANDOM.uniform(30, 1200), RANDOM.uniform(0.2, 0.6)
    steady, air = part * first / seconds, (1 - part) * first / seconds / first**power

    def drag(w):
        return steady + air * abs(w)**power
    whole, past = (integrate.quad(lambda w: 1 / drag(w), 0, top)[0] for top in (first, share * first))
    t = np.linspace(0, whole - past, 120)
    w = integrate.solve_ivp(lambda _, w: -drag(w), (0, t[-1] + 1e-9), [first], t_eval=t, rtol=1e-9, atol=1e-9).y[0]
    return t, w + noise * first * RANDOM.standard_normal(len(t)), first, whole


def other_laws(program):
    """Powers of 1.8 to 2.2, read down to a half, a fifth or a twentieth: what is left open holds the error."""
    made = [other_law(RANDOM.uniform(1.8, 2.2), share, 1e-3) for share in (0.5, 0.2, 0.05) for _ in range(60)]
    rows = fit(program, [(t, w, first) for t, w, first, _ in made])
    told = [(row, whole) for row, (_, _, _, whole) in zip(rows, made) if not row[0] and np.isfinite(row[9])]
    inside = sum(abs(row[9] - whole) <= 2 * np.hypot(row[10], row[11]) for row, whole in told) / len(told)
    early = sum(row[9] + 2 * np.hypot(row[10], row[11]) < whole for row, whole in told) / len(told)
    print(f"# {len(told)} of {len(made)} tell a time; {100 * inside:.1f} % hold the true one, {100 * early:.1f} % are early")
    return None if len(told) > 150 and inside >= 0.95 and early <= 0.025 else f"{inside:.3f}, {early:.3f}"


def not_told(program):
    """A record that stops far up does not tell when it stands; one that does not fall tells nothing."""
    t, w, true, _ = sample(share=0.9, noise=5e-3)
    rows = fit(program, [(t, w, true[3]), (t, np.full_like(t, 300.0), 300.0), (t[:5], w[:5], 300.0)])
    good = np.isinf(rows[0][9]) and (rows[1][0] or np.isinf(rows[1][-3])) and rows[2][0]
    return None if good else str(rows)


if __name__ == "__main__":
    checks = [("terms and uncertainties agree with SciPy", against_scipy), ("without noise the terms come back", exact),
              ("stated uncertainties hold the true time", held),
              ("other laws of drag are held by what is left open", other_laws), ("what a record does not tell is not told", not_told)]
    failed = 0
    print(f"1..{len(checks)}")
    for number, (title, check) in enumerate(checks, 1):
        wrong = check(sys.argv[1])
        failed += wrong is not None
        print(f"{'not ok' if wrong else 'ok'} {number} - run-down: {title}" + (f"\n# {wrong}" if wrong else ""))
    sys.exit(0)
