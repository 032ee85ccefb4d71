#!/usr/bin/env python3
"""Random projects in the style of ProGen and ProGen/max, for own trials of the scheduling engine.

progen.py FOLDER [--sets j30,j60,j120,max10] [--each N] [--seed N]

Network complexity NC, resource factor RF and resource strength RS are crossed as in R. Kolisch, A. Sprecher, PSPLIB,
European J. Operational Research 96 (1997) 205-216 (levels from memory): N projects a cell. The project with time lags
has least waits between half and one and a half durations, and greatest waits that close rings of slack chance gives it
(after the idea of C. Schwindt's ProGen/max; not its exact draws). The files are in the form of their namesakes."""
import argparse
import itertools
import pathlib
import random

CELLS = {"j30": (30, (1.5, 1.8, 2.1), (0.25, 0.5, 0.75, 1.0), (0.2, 0.5, 0.7, 1.0)),
         "j60": (60, (1.5, 1.8, 2.1), (0.25, 0.5, 0.75, 1.0), (0.2, 0.5, 0.7, 1.0)),
         "j120": (120, (1.5, 1.8, 2.1), (0.25, 0.5, 0.75, 1.0), (0.1, 0.2, 0.3, 0.4, 0.5)),
         "max10": (10, (1.5, 1.8), (0.5, 0.75, 1.0), (0.0, 0.25, 0.5)),
         "max20": (20, (1.5, 1.8), (0.5, 0.75, 1.0), (0.0, 0.25, 0.5))}


def network(rng, n, complexity):
    """Arcs among 0..n+1 without ones that follow from others: each job three before and behind it at most."""
    behind, before = [set() for _ in range(n + 2)], [set() for _ in range(n + 2)]

    def reaches(a, b):
        stack, seen = [a], set()
        while stack:
            at = stack.pop()
            if at == b:
                return True
            if at not in seen:
                seen.add(at)
                stack.extend(behind[at])
        return False

    def add(a, b):
        behind[a].add(b)
        before[b].add(a)

    for j in range(1, n + 1):
        if j <= 3:
            add(0, j)
        else:
            open_jobs = [i for i in range(1, j) if len(behind[i]) < 3 and (i <= n - 3)] or [j - 1]
            add(rng.choice(open_jobs), j)
    for i in range(1, n + 1):
        if not behind[i]:
            later = [j for j in range(i + 1, n + 1) if len(before[j]) < 3]
            if i > n - 3 or not later:
                add(i, n + 1)
            else:
                add(i, rng.choice(later))
    wanted, tries = int(complexity * (n + 2)), 0
    while sum(map(len, behind)) < wanted and tries < 20000:
        tries += 1
        a, b = sorted(rng.sample(range(1, n + 1), 2))
        if len(behind[a]) >= 3 or len(before[b]) >= 3 or reaches(a, b):
            continue
        if any(reaches(x, y) for x in before[a] | {a} for y in behind[b] | {b} if y in behind[x]):
            continue
        add(a, b)
    return behind


def demand(rng, n, resources, factor):
    use = [[0] * resources for _ in range(n + 2)]
    cells = [(j, r) for j in range(1, n + 1) for r in range(resources)]
    rng.shuffle(cells)
    some = {j: 0 for j in range(1, n + 1)}
    for j, r in cells[:round(factor * len(cells))]:
        use[j][r] = rng.randint(1, 10)
        some[j] += 1
    for j in some:
        if not some[j]:
            use[j][rng.randrange(resources)] = rng.randint(1, 10)
    return use


def capacities(duration, start, use, strength):
    room = []
    for r in range(len(use[0])):
        least = max(row[r] for row in use)
        peak = max(sum(use[j][r] for j in range(len(use)) if start[j] <= t < start[j] + duration[j])
                   for t in range(max(start) + 1))
        room.append(max(least, least + round(strength * (peak - least))))
    return room


def longest(n, lags):
    """Of each pair the longest way, or None."""
    far = [[None] * n for _ in range(n)]
    for i in range(n):
        far[i][i] = 0
    for a, b, wait in lags:
        far[a][b] = wait if far[a][b] is None else max(far[a][b], wait)
    for k, i, j in itertools.product(range(n), repeat=3):
        if far[i][k] is not None and far[k][j] is not None:
            way = far[i][k] + far[k][j]
            if far[i][j] is None or way > far[i][j]:
                far[i][j] = way
    return far


def plain(name, rng, n, complexity, factor, strength):
    behind = network(rng, n, complexity)
    duration = [0] + [rng.randint(1, 10) for _ in range(n)] + [0]
    start = [0] * (n + 2)
    for j in range(n + 2):
        for k in behind[j]:
            start[k] = max(start[k], start[j] + duration[j])
    use = demand(rng, n, 4, factor)
    room = capacities(duration, start, use, strength)
    rule = "*" * 72
    lines = [rule, f"file with basedata            : {name}", rule, "projects                      :  1",
             f"jobs (incl. supersource/sink ):  {n + 2}", f"horizon                       :  {sum(duration)}", "RESOURCES",
             "  - renewable                 :  4   R", "  - nonrenewable              :  0   N",
             "  - doubly constrained        :  0   D", rule, "PRECEDENCE RELATIONS:",
             "jobnr.    #modes  #successors   successors"]
    for j in range(n + 2):
        lines.append(f"{j + 1:4}{1:9}{len(behind[j]):11}     " + "".join(f"{k + 1:6}" for k in sorted(behind[j])))
    lines += [rule, "REQUESTS/DURATIONS:", "jobnr. mode duration  R 1  R 2  R 3  R 4", "-" * 72]
    for j in range(n + 2):
        lines.append(f"{j + 1:3}{1:7}{duration[j]:6}  " + "".join(f"{u:5}" for u in use[j]))
    lines += [rule, "RESOURCEAVAILABILITIES:", "  R 1  R 2  R 3  R 4", "".join(f"{c:5}" for c in room), rule]
    return "\n".join(lines) + "\n"


def with_lags(rng, n, complexity, factor, strength):
    behind = network(rng, n, complexity)
    duration = [0] + [rng.randint(1, 10) for _ in range(n)] + [0]
    lags = []
    for j in range(n + 2):
        for k in sorted(behind[j]):
            wait = 0 if j == 0 else duration[j] if k == n + 1 else round(duration[j] * rng.uniform(0.5, 1.5))
            lags.append((j, k, wait))
    far = longest(n + 2, lags)
    pairs = [(i, j) for i in range(1, n + 1) for j in range(1, n + 1) if i != j and far[i][j] is not None]
    rng.shuffle(pairs)
    for i, j in pairs[:max(1, round(0.15 * n))]:
        lags.append((j, i, -round(far[i][j] + rng.uniform(0, 0.5) * (far[i][j] + duration[j]))))
    far = longest(n + 2, lags)
    use = demand(rng, n, 5, factor)
    room = capacities(duration, [far[0][j] or 0 for j in range(n + 2)], use, strength)
    lines = [f"{n}\t5\t0\t0"]
    for j in range(n + 2):
        mine = [(k, wait) for i, k, wait in lags if i == j]
        lines.append("\t".join([f"{j}", "1", f"{len(mine)}"] + [f"{k}" for k, _ in mine] + [f"[{w}]" for _, w in mine]))
    for j in range(n + 2):
        lines.append("\t".join(map(str, [j, 1, duration[j]] + use[j])))
    lines.append("\t".join(map(str, room)))
    return "\n".join(lines) + "\n"


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--sets", default="j30,j60,j120,max10")
    parser.add_argument("--each", type=int, default=1)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    options.folder.mkdir(parents=True, exist_ok=True)
    for name in options.sets.split(","):
        n, complexities, factors, strengths = CELLS[name]
        cells = itertools.product(complexities, factors, strengths, range(1, options.each + 1))
        for number, (complexity, factor, strength, _) in enumerate(cells, 1):
            rng = random.Random(f"{options.seed} {name} {number}")
            lags = name.startswith("max")
            file = options.folder / f"{name}_{number}.{'sch' if lags else 'sm'}"
            text = (with_lags(rng, n, complexity, factor, strength) if lags
                    else plain(file.stem, rng, n, complexity, factor, strength))
            file.write_text(text, encoding="ascii")


if __name__ == "__main__":
    main()
