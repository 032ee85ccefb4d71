#!/usr/bin/env python3
"""A long search tells how far it is, and Ctrl-C takes the best so far: interrupt.py WHARVE ROOT. One TAP line each."""
import pathlib
import re
import signal
import subprocess
import sys


def main():
    wharve, root = sys.argv[1], pathlib.Path(sys.argv[2])
    line = [wharve, "plan", str(root / "machines" / "juice-clarifier.yaml"), "--renew", "neck-bearing,foot-bearing",
            "--fitters", "2", "--nodes", "1000000000", "--progress"]
    with subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as run:
        told = run.stderr.readline()
        run.send_signal(signal.SIGINT)
        out, errors = run.communicate(timeout=60)
    is_told = re.match(r"the order: (none found yet|\d+ min found)(, none under \d+ min)?, \d+ s; Ctrl-C", told)
    facts = [("a long search tells how far it is", bool(is_told)),
             ("when interrupted the program ends well, without an error", run.returncode == 0 and "wharve:" not in errors),
             ("the plan says that it was stopped", "stopped by hand, the best found so far" in out),
             ("and is whole", "Come back" in out)]
    print(f"1..{len(facts)}")
    for number, (what, so) in enumerate(facts, 1):
        print(f"{'ok' if so else 'not ok'} {number} - {what}")
    return 0 if all(so for _, so in facts) else 1


sys.exit(main())
