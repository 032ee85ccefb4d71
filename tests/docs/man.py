#!/usr/bin/env python3
"""Holds the manual page to the program: man.py WHARVE PAGE. One TAP line a command, and one for the exit statuses.

Every option of a command's --help stands in that command's part of the page, with a value where it takes one, and the
other way round. --self-test shows that a missing, an unknown and a wrong option are seen.
"""
import pathlib
import re
import subprocess
import sys

HELP_OPTION = re.compile(r"^  --([a-z]+)( \S+)?$", re.M)
HELP_COMMAND = re.compile(r"^  wharve ([a-z]+) ", re.M)
PAGE_OPTION = re.compile(r"^\.It Fl -([a-z]+)( .+)?$", re.M)
PAGE_STATUS = re.compile(r"^\.It (\d+)$", re.M)
SOURCE_STATUS = re.compile(r"X\(\w+, (\d+), ")


def options_of(pattern, text):
    """Each option and whether it takes a value."""
    return {name: bool(value) for name, value in pattern.findall(text) if name != "help"}


def parts_of(page):
    """The text below each heading of a command."""
    parts = re.split(r"^\.S[sh] (\S+).*$", page, flags=re.M)
    return dict(zip(parts[1::2], parts[2::2]))


def difference(program, page):
    words = []
    for name in sorted(program.keys() | page.keys()):
        if name not in page:
            words.append(f"--{name} is not in the page")
        elif name not in program:
            words.append(f"--{name} is in the page only")
        elif program[name] != page[name]:
            words.append(f"--{name} takes {'a' if program[name] else 'no'} value")
    return words


def report(rows):
    for number, (name, faults) in enumerate(rows, 1):
        print(f"{'not ok' if faults else 'ok'} {number} - {name}")
        for fault in faults:
            print("  " + fault)
    print(f"1..{len(rows)}")


def run(wharve, *arguments):
    return subprocess.run([wharve, *arguments], text=True, check=True, stdout=subprocess.PIPE).stdout


def work(wharve, page_path, status_path):
    page = pathlib.Path(page_path).read_text(encoding="utf-8")
    parts, rows = parts_of(page), []
    for command in HELP_COMMAND.findall(run(wharve, "--help")):
        program = options_of(HELP_OPTION, run(wharve, command, "--help"))
        faults = difference(program, options_of(PAGE_OPTION, parts.get(command, "")))
        rows.append((f"wharve.1: {command}", faults if command in parts else ["the page has no part for it"]))
    known = SOURCE_STATUS.findall(pathlib.Path(status_path).read_text(encoding="utf-8"))
    told = PAGE_STATUS.findall(parts.get("EXIT", ""))
    rows.append(("wharve.1: exit statuses", [] if known == told else [f"the program has {known}, the page {told}"]))
    report(rows)


def self_test():
    program = options_of(HELP_OPTION, "  --a X\n      words\n\n  --b\n      words\n  --help\n")
    page = options_of(PAGE_OPTION, ".It Fl -a Ar x\n.It Fl -b\n")
    wrong = [] if not difference(program, page) else ["a right page is found wrong"]
    for text in (".It Fl -a Ar x\n", ".It Fl -a Ar x\n.It Fl -b\n.It Fl -c\n", ".It Fl -a\n.It Fl -b\n"):
        if len(difference(program, options_of(PAGE_OPTION, text))) != 1:
            wrong.append(f"{text!r} is not seen to be wrong")
    report([("the manual page's check sees each wrong option", wrong)])


if __name__ == "__main__":
    if sys.argv[1:] == ["--self-test"]:
        self_test()
    else:
        work(*sys.argv[1:])
