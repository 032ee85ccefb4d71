"""Made vibration records of machines whose condition is known: what the reading of records is tried on.

Nothing of the program is used here. A bearing with a fault is made as it is told in the literature (R. B. Randall and
J. Antoni, "Rolling element bearing diagnostics - a tutorial", Mechanical Systems and Signal Processing 25, 2011,
485-520): a blow at each pass with a little random slip, its size following the load zone (outer ring fixed, inner ring
by the turn, rolling element by the cage and by which ring it meets), ringing one or more resonances. Every record has
much else going on, whether or not its bearing has a fault: unbalance, misalignment, knocking once a turn, gears, a fan,
a belt, mains, noise that swells, chance blows, other bearings.
"""
import numpy as np

PARTS = ("outer", "inner", "roller")


def orders(balls, ratio):
    """Line orders of a bearing: outer ring, inner ring, rolling element (twice its spin), cage; contact angle nil."""
    return {"outer": balls / 2 * (1 - ratio), "inner": balls / 2 * (1 + ratio),
            "roller": (1 - ratio ** 2) / ratio, "cage": (1 - ratio) / 2}


DEEP_GROOVE_6205 = orders(9, 0.3126 / 1.537)


class Machine:
    """One machine during one record: its clock of turns, its resonances, and what is added up so far."""

    def __init__(self, seed, rate, seconds, speed, orders_of_bearing):
        self.rng = np.random.default_rng(seed)
        self.rate, self.count = rate, int(rate * seconds)
        self.time = np.arange(self.count) / rate
        self.orders = orders_of_bearing
        self.speed = speed * (1 + self.rng.uniform(-0.04, 0.04))  # what it really turns at
        drift = np.interp(self.time, np.linspace(0, seconds, 12), self.rng.normal(0, 0.0006, 12))
        self.turns = np.cumsum(self.speed / 60 * (1 + drift)) / rate + self.rng.uniform()
        self.signal = np.zeros(self.count)

    def sine(self, order, size, phase=None):
        phase = self.rng.uniform(0, 2 * np.pi) if phase is None else phase
        return size * np.sin(2 * np.pi * order * self.turns + phase)

    def moments(self, order, slip, jitter):
        """Sample places of blows `order` times a turn; slip is lasting, jitter is of each blow's own place."""
        at = np.arange(self.rng.uniform(), (self.turns[-1] - self.turns[0]) * order * (1 + slip), 1)
        at = at + self.rng.normal(0, jitter, at.size)
        at = np.sort(at / (order * (1 + slip)) + self.turns[0])
        return np.interp(at, self.turns, np.arange(self.count)), at

    def ring(self, places, sizes, modes):
        """Blows at places (parts of a sample are shared out), each ringing the modes (frequency, damping, share)."""
        train = np.zeros(self.count + 1)
        left = np.clip(places.astype(int), 0, self.count - 1)
        np.add.at(train, left, sizes * (1 - (places - left)))
        np.add.at(train, left + 1, sizes * (places - left))
        length = int(0.06 * self.rate)
        t = np.arange(length) / self.rate
        answer = sum(share * np.exp(-damping * 2 * np.pi * f * t) * np.sin(2 * np.pi * f * t)
                     for f, damping, share in modes)
        size = 1 << int(np.ceil(np.log2(self.count + length)))
        return np.fft.irfft(np.fft.rfft(train, size) * np.fft.rfft(answer, size), size)[:self.count]

    def modes(self, n):
        low = 0.06 if self.rate < 30000 else 0.03
        return [(self.rng.uniform(low, 0.42) * self.rate, self.rng.uniform(0.01, 0.06), self.rng.uniform(0.3, 1))
                for _ in range(n)]

    def noise(self, low=0.0, high=0.5):
        """Noise of unit size between two shares of the sampling rate."""
        spectrum = np.fft.rfft(self.rng.normal(size=self.count))
        f = np.fft.rfftfreq(self.count)
        spectrum[(f < low) | (f > high)] = 0
        made = np.fft.irfft(spectrum, self.count)
        return made / made.std()


def background(machine):
    """What goes on in any machine; the noise floor has size one. Gives the names of what was put in."""
    rng, there = machine.rng, []
    machine.signal += machine.noise() * rng.uniform(0.5, 1)
    for _ in range(3):
        low = rng.uniform(0, 0.35)
        machine.signal += machine.noise(low, low + rng.uniform(0.03, 0.15)) * rng.uniform(0, 0.7)
    machine.signal += machine.sine(1, rng.uniform(0.2, 2)) + machine.sine(2, rng.uniform(0, 1))
    machine.signal += machine.sine(3, rng.uniform(0, 0.3))
    for name, chance, add in DISTURBANCES:
        if rng.uniform() < chance:
            there.append(name)
            add(machine, rng)
    return there


def misalignment(machine, rng):
    for order in (1, 2, 3, 4):
        machine.signal += machine.sine(order, rng.uniform(0.2, 2) / order)


def knocking(machine, rng):
    """Looseness or a rub: knocks once or twice a turn."""
    places, _ = machine.moments(rng.choice([1, 2]), 0, 0.003)
    machine.signal += machine.ring(places, rng.uniform(1, 10) * rng.uniform(0.7, 1.3, places.size), machine.modes(2))


def gears(machine, rng):
    teeth = rng.integers(13, 60)
    for harmonic in (1, 2, 3):
        if teeth * harmonic * machine.speed / 60 < 0.45 * machine.rate:
            swell = 1 + machine.sine(1, rng.uniform(0, 0.4))
            machine.signal += swell * machine.sine(teeth * harmonic, rng.uniform(0.1, 1.5) / harmonic)


def fan(machine, rng):
    """Blades: a tone, and noise that swells as they pass."""
    blades = rng.integers(4, 13)
    swell = 1 + machine.sine(blades, rng.uniform(0, 0.3)) + machine.sine(1, rng.uniform(0, 0.3))
    machine.signal += machine.sine(blades, rng.uniform(0, 1)) + machine.noise(0, 0.25) * swell * rng.uniform(0.2, 1)


def belt(machine, rng):
    order = rng.uniform(0.15, 0.75)
    for harmonic in (1, 2, 3, 4):
        machine.signal += machine.sine(order * harmonic, rng.uniform(0.1, 1) / harmonic)
    machine.signal += machine.noise(0, 0.4) * (1 + machine.sine(order, rng.uniform(0, 0.2))) * rng.uniform(0.1, 0.6)


def mains(machine, rng):
    """Twice mains with its harmonics, and the tones of a drive with their sidebands."""
    hertz = rng.choice([50, 60])
    for harmonic in (1, 2, 4, 6):
        machine.signal += rng.uniform(0, 0.8) * np.sin(2 * np.pi * hertz * harmonic * machine.time + rng.uniform(0, 6))
    carrier = rng.uniform(0.15, 0.4) * machine.rate
    for side in (-2, 0, 2):
        machine.signal += rng.uniform(0, 1) * np.sin(2 * np.pi * (carrier + side * hertz) * machine.time)
    swell = 1 + rng.uniform(0, 0.2) * np.sin(4 * np.pi * hertz * machine.time)
    machine.signal += machine.noise(0.1, 0.4) * swell * rng.uniform(0, 0.5)


def drive(machine, rng):
    """A motor fed by a drive: tones and swelling noise at twice and six times its supply, which is no mains."""
    hertz = rng.uniform(20, 70)
    swell = 1 + sum(rng.uniform(0, size) * np.sin(2 * np.pi * hertz * k * machine.time + rng.uniform(0, 6))
                    for k, size in ((2, 0.5), (4, 0.2), (6, 0.3)))
    machine.signal += machine.noise(0.02, 0.3) * swell * rng.uniform(0.1, 0.6)
    machine.signal += sum(rng.uniform(0, 0.3) * np.sin(2 * np.pi * hertz * k * machine.time) for k in (1, 2, 6))


def swelling(machine, rng):
    """Noise that comes and goes with the turn, as of a seal or a flow, and slowly by itself."""
    swell = 1 + machine.sine(1, rng.uniform(0, 0.5)) + machine.sine(2, rng.uniform(0, 0.3))
    slow = np.interp(machine.time, np.linspace(0, machine.time[-1], 9), rng.uniform(0.6, 1.4, 9))
    machine.signal += machine.noise(0.05, 0.5) * swell * slow * rng.uniform(0.2, 1)


def chance_blows(machine, rng):
    """Grit, a dropped tool, flow: blows at any moment."""
    places = np.sort(rng.uniform(0, machine.count - 1, rng.integers(3, 80)))
    machine.signal += machine.ring(places, rng.uniform(3, 20) * rng.exponential(1, places.size), machine.modes(2))


def weak_pass(machine, rng):
    """A sound bearing is heard a little too: the stiffness changes as the rolling elements pass, the load follows."""
    order = machine.orders["outer"] * (1 + rng.uniform(-0.005, 0.005))
    machine.signal += machine.sine(order, rng.uniform(0, 0.15)) + machine.sine(2 * order, rng.uniform(0, 0.05))
    machine.signal += machine.noise(0.05, 0.5) * (1 + machine.sine(order, rng.uniform(0, 0.08))) * 0.7


def other_bearing(machine, rng):
    """A faint bearing elsewhere, of another geometry, heard through the frame."""
    other = orders(rng.integers(7, 15), rng.uniform(0.12, 0.3))
    if all(abs(other["outer"] * k / (own * h) - 1) > 0.04 for own in machine.orders.values() for k in (1, 2)
           for h in (1, 2)):
        places, _ = machine.moments(other["outer"], 0, 0.01)
        machine.signal += machine.ring(places, rng.uniform(0.2, 2) * np.ones(places.size), machine.modes(1))


DISTURBANCES = (("misalignment", 0.4, misalignment), ("knocking", 0.3, knocking), ("gears", 0.35, gears),
                ("fan", 0.4, fan), ("belt", 0.4, belt), ("mains", 0.6, mains), ("drive", 0.3, drive),
                ("swelling", 0.6, swelling),
                ("chance blows", 0.3, chance_blows), ("weak pass", 0.6, weak_pass),
                ("other bearing", 0.3, other_bearing))


def fault(machine, part, size):
    """Blows of a point fault in a part; size: how much of the record's own size they add, 1 is as much as is there."""
    rng = machine.rng
    slip = {"outer": rng.uniform(-0.004, 0.01), "inner": rng.uniform(-0.008, 0.004),
            "roller": rng.uniform(-0.006, 0.01)}[part]
    places, turns = machine.moments(machine.orders[part], slip, rng.uniform(0.001, 0.02))
    by_turn, by_cage = {"outer": (0.3, 0.1), "inner": (1.2, 0.2), "roller": (0.3, 1.2)}[part]
    swell = 1 + rng.uniform(by_turn / 4, by_turn) * np.cos(2 * np.pi * turns + rng.uniform(0, 6))
    swell = swell + rng.uniform(by_cage / 4, by_cage) * np.cos(2 * np.pi * machine.orders["cage"] * turns)
    if part == "roller":
        swell = swell * np.where(np.arange(places.size) % 2, 1, rng.uniform(0.4, 1))  # one ring nearer the sensor
    sizes = np.maximum(swell, 0) * rng.lognormal(0, rng.uniform(0.03, 0.3), places.size)
    rung = machine.ring(places, sizes, machine.modes(rng.integers(1, 4)))
    machine.signal += rung * (size * machine.signal.std() / rung.std())


def record(seed, part=None, size=0.0, rate=12000, seconds=10, speed=1797, bearing=None):
    """A made record: its samples in m/s2, what was put in besides, and the speed in rpm it really ran at."""
    machine = Machine(seed, rate, seconds, speed, bearing or DEEP_GROOVE_6205)
    there = background(machine)
    if part:
        fault(machine, part, size)
    return machine.signal, there, machine.speed


def any_record(seed, healthy):
    """A record with everything drawn from the seed: rate, speed, bearing, part, how clear. Gives record() and them."""
    rng = np.random.default_rng([seed, 7])
    rate, seconds = [(12000, 10), (12000, 5), (20000, 7), (48000, 5)][rng.integers(4)]
    speed = rng.uniform(1000, 2000)
    bearing = DEEP_GROOVE_6205 if rng.uniform() < 0.5 else orders(int(rng.integers(7, 13)), rng.uniform(0.17, 0.3))
    part = None if healthy else PARTS[seed % 3]
    size = np.exp(rng.uniform(np.log(0.3), np.log(10)))
    signal, there, real = record(seed, part, size, rate, seconds, speed, bearing)
    return {"samples": signal, "rate": rate, "seconds": seconds, "stated": speed, "real": real, "orders": bearing,
            "part": part, "size": size, "there": there}
