#!/usr/bin/env python3
"""The solver of orders beside general ones on sequential ordering problems: order_peers.py ORDER ROOT [SECONDS]

Peers are Gecode by way of MiniZinc, and CBC on a mixed-integer model (positions, as of Miller, Tucker and Zemlin 1960).
All get the same files: the open instances, where they are, and small ones drawn here. Processor seconds of the whole
process count for a peer, seconds inside the process for ours. A ratio counts where both prove the optimum and the peer
needs a second or more; their geometric mean stands at the end. SECONDS: each peer's limit, usually 60.
"""
import math
import os
import pathlib
import random
import re
import resource
import shutil
import subprocess
import sys
import tempfile

MODEL = """include "circuit.mzn"; include "alldifferent.mzn";
int: n; array[1..n, 1..n] of int: cost; array[int, 1..2] of int: before;
array[1..n] of var 1..n: next; array[1..n] of var 1..n: place; array[1..n] of var int: step;
constraint circuit(next);
constraint place[1] = 1 /\\ place[n] = n /\\ next[n] = 1;
constraint forall(i in 1..n - 1)(place[next[i]] = place[i] + 1);
constraint forall(i in 1..n - 1)(next[i] != i /\\ cost[i, next[i]] >= 0);
constraint forall(i in 1..n)(step[i] = if i = n then 0 else cost[i, next[i]] endif);
constraint forall(k in index_set_1of2(before))(place[before[k, 1]] < place[before[k, 2]]);
constraint alldifferent(place);
solve :: int_search(step, max_regret, indomain_min) minimize sum(step);
output ["found ", show(sum(i in 1..n)(fix(step[i]))), "\\n"];
"""


def read(path):
    """The matrix of a file; -1 where the column comes before the row."""
    words = path.read_text(encoding="utf-8").split("EDGE_WEIGHT_SECTION")[1].split()
    n = int(words[0])
    return [[int(words[1 + i * n + j]) for j in range(n)] for i in range(n)]


def draw(path, n, pairs, seed):
    """A small problem: costs of 0 to 100, some pairs of an order, start and end fixed."""
    chance = random.Random(seed)
    order = [0, *chance.sample(range(1, n - 1), n - 2), n - 1]
    before = {tuple(sorted(chance.sample(range(1, n - 1), 2))) for _ in range(pairs)}
    ends = {(0, k) for k in range(1, n)} | {(k, n - 1) for k in range(n - 1)}
    first = {(order[i], order[j]) for i, j in before} | ends
    rows = [" ".join("-1" if (j, i) in first else "0" if i == j else str(chance.randint(0, 100)) for j in range(n))
            for i in range(n)]
    path.write_text("TYPE: SOP\nEDGE_WEIGHT_FORMAT: FULL_MATRIX\nEDGE_WEIGHT_SECTION\n" + f"{n}\n" + "\n".join(rows)
                    + "\nEOF\n", encoding="utf-8")


def timed(command, limit):
    """Output and processor seconds of a command with all its children, each ended at the limit of them."""
    most = math.ceil(limit)
    start = resource.getrusage(resource.RUSAGE_CHILDREN)
    run = subprocess.run(command, capture_output=True, text=True, check=False,
                         preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (most, most)))
    end = resource.getrusage(resource.RUSAGE_CHILDREN)
    return run.stdout, end.ru_utime + end.ru_stime - start.ru_utime - start.ru_stime


def by_gecode(matrix, folder, limit):
    """(optimum or None, seconds)"""
    n = len(matrix)
    pairs = [(j + 1, i + 1) for i in range(n) for j in range(n) if matrix[i][j] == -1]
    (folder / "peer.mzn").write_text(MODEL, encoding="utf-8")
    cells = "|".join(",".join(map(str, row)) for row in matrix)
    rows = "|".join(f"{a},{b}" for a, b in pairs)
    (folder / "peer.dzn").write_text(f"n = {n};\ncost = [|{cells}|];\nbefore = [|{rows}|];\n", encoding="utf-8")
    out, seconds = timed(["minizinc", "--solver", "gecode", str(folder / "peer.mzn"), str(folder / "peer.dzn")], limit)
    found = re.findall(r"^found (\d+)$", out, re.M)
    return (float(found[-1]) if found and "==========" in out else None), seconds


def linear(matrix):
    """The mixed-integer model as an LP file."""
    n = len(matrix)
    steps = [(i, j) for i in range(n - 1) for j in range(1, n) if i != j and matrix[i][j] >= 0]
    rows = ["\\ positions", "Minimize", " cost: " + "\n + ".join(f"{matrix[i][j]} x{i}_{j}" for i, j in steps),
            "Subject To"]
    rows += [" " + " + ".join(f"x{a}_{b}" for a, b in steps if a == i) + " = 1" for i in range(n - 1)]
    rows += [" " + " + ".join(f"x{a}_{b}" for a, b in steps if b == j) + " = 1" for j in range(1, n)]
    rows += [f" u{i} - u{j} + {n} x{i}_{j} <= {n - 1}" for i, j in steps]
    rows += [f" u{j} - u{i} <= -1" for i in range(n) for j in range(n) if matrix[i][j] == -1]
    rows += ["Bounds", *(f" 0 <= u{i} <= {n - 1}" for i in range(n)), "Binaries"]
    rows += [f" x{i}_{j}" for i, j in steps]
    return "\n".join(rows) + "\nEnd\n"


def by_cbc(matrix, folder, limit):
    (folder / "peer.lp").write_text(linear(matrix), encoding="utf-8")
    out, seconds = timed(["cbc", str(folder / "peer.lp"), "-solve", "-quit"], limit)
    found = re.search(r"Objective value:\s+([\d.]+)", out)
    return (float(found[1]) if found and "Result - Optimal solution found" in out else None), seconds


def ours(order, path, limit):
    """It ends by itself; with a limit set by the system its clock would only move with the ticks of that."""
    out = subprocess.run([order, str(path), "--seconds", str(limit)], capture_output=True, text=True, check=True).stdout
    _name, found, _bound, proven, seconds, nodes = out.split()
    return (float(found) if proven == "yes" else None), max(float(seconds), 1e-6), nodes


def instances(root, folder):
    data = os.environ.get("WHARVE_DATA")
    known = (pathlib.Path(data) if data else root.parent / "shared" / "data") / "planner" / "sop"
    if not known.is_dir():
        print(f"no {known}: only the problems drawn here")
    drawn = []
    for n in range(12, 28, 2):
        for pairs in (n, 2 * n):
            drawn.append(folder / f"drawn{n}-{pairs}.sop")
            draw(drawn[-1], n, pairs, n)
    return sorted(known.glob("*.sop")) + drawn


def main():
    order, root, limit = sys.argv[1], pathlib.Path(sys.argv[2]), float(sys.argv[3]) if len(sys.argv) > 3 else 60
    peers = {"gecode": ("minizinc", by_gecode), "cbc": ("cbc", by_cbc)}
    ratios = {name: [] for name in peers}
    wrong = 0
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        for path in instances(root, folder):
            best, seconds, nodes = ours(order, path, limit)
            print(f"{path.stem:12} ours {best if best is not None else 'not proven'} {seconds:.6f} s, {nodes} nodes")
            for name, (program, solve) in peers.items():
                if not shutil.which(program):
                    print(f"{'':12} {name} is not installed")
                    continue
                found, taken = solve(read(path), folder, limit)
                text = f"{'':12} {name} {found if found is not None else 'not proven'} {taken:.2f} s"
                if found is not None and best is not None:
                    wrong += abs(found - best) > 1e-6
                    text += f", ratio {taken / seconds:.0f}"
                    if taken >= 1:
                        ratios[name].append(taken / seconds)
                print(text, flush=True)
    for name, all_of in ratios.items():
        mean = math.exp(sum(map(math.log, all_of)) / len(all_of)) if all_of else math.nan
        print(f"{name}: geometric mean of {len(all_of)} ratios where it needs 1 s or more: {mean:.0f}")
    if wrong:
        print(f"{wrong} optima differ")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
