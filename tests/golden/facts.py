"""Runs facts about plans and prints them as TAP: NAME.py [--self-test] WHARVE ROOT. A self-test is made of plans that are
wrong on purpose: there each fact has to be found wrong."""
import pathlib
import sys


def run(all_facts, all_wrong):
    """Each gives (words, what is wrong or None) of each fact; the exit status."""
    self_test = sys.argv[1] == "--self-test"
    wharve, root = sys.argv[1 + self_test], pathlib.Path(sys.argv[2 + self_test])
    failed = number = 0
    for number, (words, fault) in enumerate((all_wrong if self_test else all_facts)(wharve, root), 1):
        bad = (fault is None) == self_test
        print(f"{'not ok' if bad else 'ok'} {number} - {'found: ' if self_test else ''}{words}")
        if fault:
            print(f"# {fault}")
        failed += bad
    print(f"1..{number}")
    return 1 if failed else 0
