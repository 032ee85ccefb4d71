#!/usr/bin/env python3
"""Random inputs worked by the program and by SciPy: distributions and their quantiles, fits of lives, waves of
readings, bent shafts, curves of oil turned round. Prints TAP; each row is one kind of calculation.

oracle.py PROGRAM [COUNT]   PROGRAM answers lines of "RULE input input …" (SI) with its results, see answer.c
"""
import subprocess
import sys

try:
    import numpy as np
    from scipy import integrate, linalg, optimize, special, stats
except ImportError:
    print("1..0 # SKIP python3-scipy is not installed")
    sys.exit(0)

RANDOM = np.random.default_rng(20)


def ask(program, questions):
    """Results of many rules at once: one list of numbers a question."""
    text = "".join(f"{rule} {' '.join(repr(float(x)) for x in inputs)}\n" for rule, inputs in questions)
    done = subprocess.run([program], input=text, stdout=subprocess.PIPE, text=True, check=True)
    return [[float(x) for x in line.split()] for line in done.stdout.splitlines()]


def log_uniform(low, high):
    return float(np.exp(RANDOM.uniform(np.log(low), np.log(high))))


# ---- each kind: a question, and what the library says: (rule, inputs, {result: value}, relative, absolute) ----

def student():
    freedom, share = log_uniform(1, 1e5), RANDOM.uniform(0.5, 0.9999)
    x = special.betaincinv(freedom / 2, 0.5, 1 - share)
    return "conformity.coverage-factor", [freedom, share], {0: np.sqrt(freedom * (1 - x) / x)}, 2e-8, 0


def normal():
    share = RANDOM.uniform(0.5, 0.999999)
    return "conformity.guard-factor", [share], {0: stats.norm.ppf(share)}, 1e-10, 1e-12


def conformance():
    least, most = np.sort(RANDOM.uniform(-3, 3, 2))
    y, u = RANDOM.uniform(-4, 4), log_uniform(0.05, 5)
    share = stats.norm.cdf(most, y, u) - stats.norm.cdf(least, y, u)
    return "conformity.probability", [y, u, least, most], {0: share}, 1e-9, 1e-13


def poisson_stock():
    stock, mean = int(RANDOM.integers(0, 60)), log_uniform(0.01, 60)
    return "reliability.stock-suffices", [stock, mean], {0: stats.poisson.cdf(stock, mean)}, 1e-10, 1e-14


def poisson_spares():
    mean, wanted = log_uniform(0.01, 300), RANDOM.uniform(0.5, 0.9995)
    return "reliability.spares", [mean, wanted], {0: stats.poisson.ppf(wanted, mean)}, 0, 1e-9


def mtbf():
    hours, failures, sure = log_uniform(1, 1e5) * 3600, int(RANDOM.integers(1, 80)), RANDOM.uniform(0.5, 0.99)
    return ("reliability.mtbf", [hours, failures, sure],
            {0: hours / failures, 1: 2 * hours / stats.chi2.ppf(sure, 2 * failures + 2)}, 1e-9, 0)


def lives():
    failed, running = int(RANDOM.integers(3, 18)), int(RANDOM.integers(0, 10))
    shape, life = log_uniform(0.6, 4), log_uniform(10, 1e5) * 3600
    whole = life * RANDOM.weibull(shape, failed + running)
    return np.concatenate([whole[:failed], whole[failed:] * RANDOM.uniform(0.1, 1, running)]), failed


def weibull():
    hours, failed = lives()
    t = hours / hours.max()

    def slope(b):
        return (t**b * np.log(t)).sum() / (t**b).sum() - 1 / b - np.log(t[:failed]).mean()
    shape = optimize.brentq(slope, 0.06, 99)
    life = hours.max() * ((t**shape).sum() / failed) ** (1 / shape)
    line = stats.weibull_min(shape, scale=life)
    return "reliability.weibull-shape", [failed, *hours], {0: shape, 1: life, 2: line.ppf(0.1), 3: line.mean()}, 1e-8, 0


def weibull_interval():
    hours, failed = lives()
    share, sure = RANDOM.uniform(0.02, 0.4), RANDOM.uniform(0.6, 0.99)
    logs = np.log(hours)

    def loss(p):
        z = (logs - p[0]) / np.exp(p[1])
        return -(z[:failed] - p[1]).sum() + np.exp(z).sum()
    start = optimize.minimize(loss, [logs.mean(), np.log(logs.std())], method="Nelder-Mead",
                              options={"xatol": 1e-11, "fatol": 1e-13, "maxiter": 4000}).x
    mu, scale = start[0], np.exp(start[1])
    z = (logs - mu) / scale
    r, first, second = failed, (z * np.exp(z)).sum(), (z * z * np.exp(z)).sum()
    information = np.array([[np.exp(z).sum(), first + np.exp(z).sum() - r],
                            [first + np.exp(z).sum() - r, 2 * first + second - 2 * (z[:failed].sum()) - r]]) / scale**2
    covariance, w = np.linalg.inv(information), np.log(-np.log1p(-share))
    spread = stats.norm.ppf((1 + sure) / 2) * np.sqrt(np.array([1, w]) @ covariance @ np.array([1, w]))
    middle = mu + scale * w
    return ("reliability.b-life", [failed, share, sure, *hours],
            dict(enumerate(np.exp([middle, middle - spread, middle + spread]))), 3e-5, 0)


def ranks():
    hours, failed = lives()
    order, number, x, y, n = np.argsort(hours, kind="stable"), 0.0, [], [], len(hours)
    for place, part in enumerate(order):
        if part < failed:
            number += (n + 1 - number) / (1 + n - place)
            x.append(np.log(-np.log1p(-(number - 0.3) / (n + 0.4))))
            y.append(np.log(hours[part]))
    line = stats.linregress(x, y)
    return ("reliability.weibull-ranks", [failed, *hours],
            {0: 1 / line.slope, 1: np.exp(line.intercept), 3: line.rvalue**2}, 1e-8, 0)


def age():
    shape, life, ratio = RANDOM.uniform(1.6, 6), log_uniform(10, 1e5) * 3600, RANDOM.uniform(2.5, 40)

    def rate(x):
        reached = np.exp(-x**shape)
        run = integrate.quad(lambda t: np.exp(-t**shape), 0, x, epsabs=0, epsrel=1e-12)[0]
        return (reached + ratio * (1 - reached)) / run
    best = optimize.minimize_scalar(rate, bounds=(0.01, 3), method="bounded", options={"xatol": 1e-10})
    return "reliability.replacement-age", [shape, life, 1, ratio], {0: best.x * life, 1: best.fun / life}, 1e-4, 0


def waves():
    k = int(RANDOM.integers(6, 25))
    readings, angle = RANDOM.normal(size=k), np.arange(k) * 2 * np.pi / k
    terms = np.c_[np.ones(k), np.cos(angle), np.sin(angle), np.cos(2 * angle), np.sin(2 * angle)]
    fit, rest, *_ = np.linalg.lstsq(terms, readings, rcond=None)
    covariance = rest[0] / (k - 5) * np.linalg.inv(terms.T @ terms)
    wave = int(RANDOM.integers(1, 3))
    a, b, swing = fit[2 * wave - 1], fit[2 * wave], wave
    return (["", "conformity.off-centre", "conformity.oval"][wave], readings,
            {0: swing * np.hypot(a, b), 1: np.arctan2(b, a) % (2 * np.pi) / wave,
             2: swing * np.sqrt(covariance[2 * wave, 2 * wave]), 3: np.sqrt(rest[0] / (k - 5))}, 1e-7, 1e-9)


def bent_shaft():
    steps = int(RANDOM.integers(1, 6))
    lengths, diameters = RANDOM.uniform(0.05, 0.3, steps), RANDOM.uniform(0.02, 0.08, steps)
    ends, modulus = np.cumsum(lengths), RANDOM.uniform(70e9, 210e9)
    left, right = np.sort(RANDOM.uniform(0, ends[-1], 2))
    right = max(right, left + 0.2 * ends[-1]) if left < 0.7 * ends[-1] else right
    left, right = (left, min(right, ends[-1])) if right - left > 0.05 else (0.0, ends[-1])
    load, at, place = log_uniform(10, 1e4), *RANDOM.uniform(0, ends[-1], 2)
    span = right - left

    def moment(s, a):
        return ((right - a) * max(s - left, 0) + (a - left) * max(s - right, 0)) / span - max(s - a, 0)
    stops = np.unique([0, left, right, at, place, *ends])
    bend = 0.0
    for a, b in zip(stops, stops[1:]):
        stiff = modulus * np.pi / 64 * diameters[min(np.searchsorted(ends, (a + b) / 2), steps - 1)] ** 4
        bend += integrate.fixed_quad(np.vectorize(lambda s: moment(s, at) * moment(s, place)), a, b, n=4)[0] / stiff
    return ("shaft.stepped-deflection", [load, at, left, right, place, modulus, *np.ravel(np.c_[lengths, diameters])],
            {0: load * bend, 2: load * (right - at) / span, 3: load * (at - left) / span}, 1e-6, 1e-15)


def oil_curve():
    at_40 = log_uniform(8, 800)
    at_100 = at_40 ** RANDOM.uniform(0.45, 0.62)
    wanted = log_uniform(at_100, at_40)

    def z(v):
        return np.log10(np.log10(v + 0.7 + np.exp(-1.47 - 1.84 * v - 0.51 * v * v)))

    def viscosity(T):
        line = z(at_40) + (z(at_100) - z(at_40)) * np.log(T / 313.15) / np.log(373.15 / 313.15)
        return optimize.brentq(lambda v: z(v) - line, 0.3, 1e5)
    T = optimize.brentq(lambda T: viscosity(T) - wanted, 312, 374)
    return "lubricant.temperature-for", [at_40 * 1e-6, at_100 * 1e-6, wanted * 1e-6], {0: T}, 1e-8, 0


def stiff_rotor():
    """Whirls of a stiff rotor on two springs: eigenvalues of its two degrees of freedom in one complex plane."""
    mass, tilting = log_uniform(1, 1000), log_uniform(0.01, 100)
    polar, speed = tilting * RANDOM.uniform(0.05, 2), RANDOM.uniform(0, 2000)
    below, above = RANDOM.uniform(-0.5, 1, 2)
    above = above if below + above > 0.05 else 0.1 - below
    low, high = log_uniform(1e4, 1e9), log_uniform(1e4, 1e9)
    stiff = np.array([[low + high, high * above - low * below],
                      [high * above - low * below, low * below**2 + high * above**2]])
    inert, spin = np.diag([mass, tilting]), np.diag([0, polar * speed])
    none = np.zeros((2, 2))
    unit = np.sqrt(np.linalg.norm(stiff) / mass)
    whirls = linalg.eigvals(np.block([[none, np.eye(2)], [stiff / unit**2, spin / unit]]),
                            np.block([[np.eye(2), none], [none, inert]])).real * unit
    forward, backward = np.sort(whirls[whirls > 0]), np.sort(-whirls[whirls < 0])
    return ("whirl.rigid", [mass, polar, tilting, below, above, low, high, speed],
            {0: forward[0], 1: backward[0], 2: forward[1], 3: backward[1]}, 1e-7, 1e-9 * unit)


KINDS = {"Student's t": student, "normal quantiles": normal, "conformance probability": conformance,
         "Poisson probabilities": poisson_stock, "Poisson spares": poisson_spares,
         "bounds of the mean time (chi-square)": mtbf, "Weibull by likelihood": weibull,
         "interval of a B life": weibull_interval, "Weibull by median ranks": ranks, "age replacement": age,
         "waves of readings": waves, "bent stepped shafts": bent_shaft, "oil curves turned round": oil_curve,
         "stiff rotors on two springs": stiff_rotor}
SLOW = {weibull_interval: 20, age: 10, bent_shaft: 2, weibull: 2, oil_curve: 4}


def main(program, count):
    for number, (name, kind) in enumerate(KINDS.items(), 1):
        asked = [kind() for _ in range(count // SLOW.get(kind, 1))]
        answers = ask(program, [(rule, inputs) for rule, inputs, *_ in asked])
        worst, bad = 0.0, []
        for (rule, inputs, wanted, relative, absolute), got in zip(asked, answers):
            for result, value in wanted.items():
                off = abs(got[result] - value)
                worst = max(worst, off / max(abs(value), 1e-300))
                if not off <= relative * abs(value) + absolute:
                    bad.append(f"{rule} {list(map(float, inputs))}: {got[result]!r}, library {value!r}")
        print(f"{'not ok' if bad or len(answers) != len(asked) else 'ok'} {number} - {name}: {len(asked)} inputs, "
              f"farthest {worst:.1e} off")
        for line in bad[:3]:
            print(f"# {line}")
    print(f"1..{len(KINDS)}")


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 400)
