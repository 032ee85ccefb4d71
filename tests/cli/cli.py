#!/usr/bin/env python3
"""Works tables of command lines: cli.py WHARVE SOURCE-FOLDER TABLE…; cli.py --self-test. One TAP line a run.

One statement a line, its word first; text after " #" is comment. Each run is worked in a folder of its own where
machines/ is a copy of the shipped ones.

    edit  machines/x.yaml  old text -> new text     before the run: changes the copy; the old text has to be there once
    run   check machines/x.yaml                     as in a shell, without the program's name; begins a row
    then  check machines/x.yaml                     the same in the folder of the row before, as that left it
    exit  2                                         0 when it is not said
    out   text                                      standard output holds it; "out" alone: it is empty
    err   text                                      standard error holds it; "err" alone: it is empty
    not   text                                      neither holds it
    match regular expression                        a line of standard output matches, whole
    json  key.key.0  text                           the output is JSON and has this there; "json" alone: it is JSON
    file  out/x.svg  text                           the file was written and holds it
    none  out/x.svg                                 the file was not written
"""
import json
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile

CHECKS = "exit out err not match json file none".split()


class Broken(Exception):
    """A table that cannot be read."""


def rows_of(text):
    """(line, edits, arguments, checks, whether it goes on in the folder before) of each run of a table."""
    rows, edits = [], []
    for number, line in enumerate(text.splitlines(), 1):
        word, _, rest = re.sub(r"(^|\s)#( .*|$)", "", line).strip().partition(" ")
        rest = rest.strip()
        if not word:
            continue
        if word == "edit":
            name, _, change = rest.partition(" ")
            old, arrow, new = change.strip().partition(" -> ")
            if not arrow:
                raise Broken(f"line {number}: an edit is FILE  old -> new")
            edits.append((name, unescape(old), unescape(new)))
        elif word == "run" or (word == "then" and rows):
            rows.append((number, edits, shlex.split(rest), [], word == "then"))
            edits = []
        elif word in CHECKS and rows:
            rows[-1][3].append((word, rest))
        else:
            raise Broken(f'line {number}: "{word}" is no statement here')
    return rows


def unescape(text):
    return text.replace("\\n", "\n")


def apply(edits, folder):
    for name, old, new in edits:
        path = folder / name
        text = path.read_text(encoding="utf-8")
        if text.count(old) != 1:
            raise Broken(f"{name} has {old!r} {text.count(old)} times, an edit wants it once")
        path.write_text(text.replace(old, new), encoding="utf-8")


def json_fault(output, rest):
    try:
        node = json.loads(output)
    except ValueError as error:
        return f"the output is no JSON: {error}"
    keys, _, wanted = rest.partition("  ")
    for key in keys.split(".") if keys else []:
        try:
            node = node[int(key)] if isinstance(node, list) else node[key]
        except (KeyError, IndexError, ValueError, TypeError):
            return f"there is no {keys} in the JSON"
    wanted = wanted.strip()
    shown = node if isinstance(node, str) else json.dumps(node)
    return None if not wanted or shown == wanted else f"{keys} is {shown}, wanted {wanted}"


def file_fault(path, wanted):
    if not path.is_file():
        return f"{path.name} was not written"
    return None if wanted.encode() in path.read_bytes() else f'{path.name} does not hold "{wanted}"'


def holds(output, text):
    return text in output if text else not output


def fault_of(word, rest, done, folder):
    """What is wrong by one check of a run, or None."""
    if word == "exit":
        return None if done.returncode == int(rest) else f"exit status {done.returncode}, wanted {rest}"
    if word in ("out", "err"):
        good = holds(done.stdout if word == "out" else done.stderr, rest)
        return None if good else (f'"{rest}" is not in {word}' if rest else f"{word} is not empty")
    if word == "not":
        return f'"{rest}" is there' if rest in done.stdout + done.stderr else None
    if word == "match":
        good = any(re.fullmatch(rest, line) for line in done.stdout.splitlines())
        return None if good else f"no line matches {rest}"
    if word == "json":
        return json_fault(done.stdout, rest)
    name, _, wanted = rest.partition(" ")
    if word == "none":
        return f"{name} was written" if (folder / name).exists() else None
    return file_fault(folder / name, wanted.strip())


def work(wharve, row, folder):
    """All that is wrong with one row, worked in a folder."""
    _, edits, arguments, checks, _ = row
    try:
        apply(edits, folder)
    except (Broken, OSError) as error:
        return [str(error)]
    done = subprocess.run([str(wharve), *arguments], cwd=folder, text=True, errors="replace", timeout=60, check=False,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    if not any(word == "exit" for word, _ in checks):
        checks = [("exit", "0"), *checks]
    faults = [fault for check in checks if (fault := fault_of(*check, done, folder))]
    if faults:
        faults += ["out: " + line for line in done.stdout.splitlines()[:12]]
        faults += ["err: " + line for line in done.stderr.splitlines()[:12]]
    return faults


def work_rows(wharve, source, rows):
    """(row, all that is wrong with it) of each; a row that does not go on has a folder of its own."""
    folder = None
    for row in rows:
        if not row[4]:
            if folder:
                folder.cleanup()
            folder = tempfile.TemporaryDirectory()
            if (source / "machines").is_dir():
                shutil.copytree(source / "machines", pathlib.Path(folder.name) / "machines")
        yield row, work(wharve, row, pathlib.Path(folder.name))
    if folder:
        folder.cleanup()


def work_tables(wharve, source, tables):
    number = 0
    for table in tables:
        for row, faults in work_rows(wharve, source, rows_of(table.read_text(encoding="utf-8"))):
            number += 1
            print(f"{'not ok' if faults else 'ok'} {number} - {table.name}:{row[0]} wharve {shlex.join(row[2])}", flush=True)
            for fault in faults:
                print("  " + fault)
    print(f"1..{number}")


SELF_TEST = """
run    -c 'echo a 5; echo b >&2; mkdir out; echo svg > out/x; exit 2'
exit   2
out    a 5
err    b
not    c
match  a \\d
file   out/x  svg
none   out/y
run    -c 'echo "{\\"a\\": [1, \\"x\\"]}"'
err
json   a.1  x
then   -c 'echo more > kept'
then   -c 'cat kept'
out    more
run    -c 'test ! -e kept'
"""
SELF_FAIL = ["exit 0", "out z", "out", "err", "not a 5", "match a", "json", "file out/y", "file out/x  png", "none out/x"]


def faulty(wharve, source, row):
    return any(faults for _, faults in work_rows(wharve, source, [row]))


def self_test():
    """The shell stands in for the program: right checks pass, each wrong one is seen."""
    shell, source = pathlib.Path("/bin/sh"), pathlib.Path("/nowhere")
    rows = rows_of(SELF_TEST)
    wrong = [fault for _, faults in work_rows(shell, source, rows) for fault in faults]
    for check in SELF_FAIL:
        word, _, rest = check.partition(" ")
        end = [] if word == "exit" else [("exit", "2")]
        if not faulty(shell, source, (0, [], rows[0][2], [*end, (word, rest)], False)):
            wrong.append(f'"{check}" is not seen to be wrong')
    if not faulty(shell, source, (0, [("machines/none.yaml", "a", "b")], ["-c", "true"], [], False)):
        wrong.append("an edit of no file is not seen to be wrong")
    print(f"{'not ok' if wrong else 'ok'} 1 - the tables of command lines see each wrong answer\n1..1")
    for line in wrong:
        print("  " + line)


if __name__ == "__main__":
    if sys.argv[1] == "--self-test":
        self_test()
    else:
        work_tables(pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]), [pathlib.Path(a) for a in sys.argv[3:]])
