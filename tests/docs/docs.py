#!/usr/bin/env python3
"""Holds the documents to the program: docs.py [--write] WHARVE SOURCE-FOLDER DOCUMENT…; docs.py --self-test.

One TAP line a statement of a document that can be tried:

    ```console                      each "$ command" is typed in a shell, in a folder with machines/, tests/machines/, an
    $ build/wharve rules            empty out/ and build/wharve; what it prints is what stands below it, to the next "$"
    ```
    <!-- file: PATH -->             the block below is that file, whole
    Printed by `wharve …`           the document is what this command prints
    [words](PATH)                   the file is there
    <!-- keys: src/machine/a.c -->  every key that file reads stands in the document as `key`

--write puts right what a command prints and what a file holds.
"""
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

CONSOLE = re.compile(r"(?<=^```console\n).*?(?=^```$)", re.M | re.S)
FILE = re.compile(r"^(<!-- file: (\S+) -->\n+```\w*\n)(.*?)(?=^```$)", re.M | re.S)
PRINTED = re.compile(r"^Printed by `(wharve [^`]*)`", re.M)
LINK = re.compile(r"\]\((?!#)([^)#\s]+)[^)]*\)")
KEYS = re.compile(r"^<!-- keys: (\S+) -->$", re.M)
KEY = re.compile(r'(?:\.key = |\b(?:WAY|THING|CHECK)(?:_FORM|_NEEDED)?\()"([^"]+)"')


class Bench:
    """A folder in which the commands of a document are typed."""

    def __init__(self, wharve, source):
        self.scratch = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.scratch.name)
        for name in ("machines", "tests/machines"):
            if (source / name).is_dir():
                shutil.copytree(source / name, self.folder / name)
        for name in ("build", "out"):
            (self.folder / name).mkdir()
        (self.folder / "build" / "wharve").symlink_to(wharve)

    def typed(self, command):
        done = subprocess.run(["/bin/sh", "-c", command], cwd=self.folder, text=True, errors="replace", check=False,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        return done.stdout


def commands_of(block):
    """(command, what stands below it) of each command of a console block."""
    for part in re.split(r"^\$ ", block, flags=re.M)[1:]:
        lines, end = part.splitlines(keepends=True), 1
        while lines[end - 1].endswith("\\\n"):
            end += 1
        yield "".join(lines[:end]), "".join(lines[end:])


def rewritten(text, bench, source):
    """The document as it should stand."""
    printed = PRINTED.search(text)
    if printed:
        return bench.typed("build/" + printed[1])

    def console(match):
        return "".join(f"$ {command}{bench.typed(command)}" for command, _ in commands_of(match[0]))

    def whole_file(match):
        return match[1] + (source / match[2]).read_text(encoding="utf-8")
    return FILE.sub(whole_file, CONSOLE.sub(console, text))


def difference(wanted, found):
    for old, new in zip(wanted.splitlines() + ["(end)"], found.splitlines() + ["(end)"]):
        if old != new:
            return f'stands "{old}", should be "{new}"'
    return "differs at its end"


def rows_of(path, text, bench, source):
    """(what, fault or None) of each statement of a document."""
    printed = PRINTED.search(text)
    if printed:
        found = bench.typed("build/" + printed[1])
        yield printed[1], None if found == text else difference(text, found)
        return
    for block in CONSOLE.findall(text):
        for command, below in commands_of(block):
            found = bench.typed(command)
            yield command.strip(), None if found == below else difference(below, found)
    for _, name, block in FILE.findall(text):
        found = (source / name).read_text(encoding="utf-8")
        yield name, None if found == block else difference(block, found)
    for link in LINK.findall(text):
        yield f"link to {link}", None if (path.parent / link).exists() else "there is no such file"
    for name in KEYS.findall(text):
        missing = [key for key in KEY.findall((source / name).read_text(encoding="utf-8")) if f"`{key}`" not in text]
        yield f"keys of {name}", f"not in the document: {', '.join(missing)}" if missing else None


def work(wharve, source, documents):
    number = 0
    for path in documents:
        bench = Bench(wharve, source)
        for what, fault in rows_of(path, path.read_text(encoding="utf-8"), bench, source):
            number += 1
            print(f"{'not ok' if fault else 'ok'} {number} - {path.name}: {' '.join(what.split())}", flush=True)
            if fault:
                print("  " + fault)
    print(f"1..{number}")


SELF_TEST = """[a](here.txt)
```console
$ echo a; \\
  echo b
a
b
$ true
```
<!-- keys: here.txt -->
`one key`
<!-- file: here.txt -->

```c
.key = "one key"
```
"""
WRONG = [("b\n$", "c\n$"), ("$ true", "$ echo x"), ("(here.txt)", "(gone.txt)"), ("`one key`", "`another`"),
         ('key"\n```', 'key";\n```')]


def self_test():
    """A right document passes, each wrong one is seen, and --write mends what it can."""
    with tempfile.TemporaryDirectory() as scratch:
        source = pathlib.Path(scratch)
        (source / "here.txt").write_text('.key = "one key"\n', encoding="utf-8")
        bench, path = Bench("/bin/true", source), source / "document.md"

        def faults(text):
            return [fault for _, fault in rows_of(path, text, bench, source) if fault]
        wrong = [f"a right document: {fault}" for fault in faults(SELF_TEST)]
        wrong += [f'"{new}" is not seen to be wrong' for old, new in WRONG if not faults(SELF_TEST.replace(old, new))]
        if rewritten(SELF_TEST.replace("b\n$", "c\n$"), bench, source) != SELF_TEST:
            wrong.append("a wrong output is not mended")
    print(f"{'not ok' if wrong else 'ok'} 1 - the documents' check sees each wrong statement\n1..1")
    for line in wrong:
        print("  " + line)


def main(arguments):
    if arguments == ["--self-test"]:
        self_test()
        return
    write = arguments[0] == "--write"
    wharve, source = (pathlib.Path(name).resolve() for name in arguments[write:write + 2])
    documents = [pathlib.Path(name).resolve() for name in arguments[write + 2:]]
    if not write:
        work(wharve, source, documents)
        return
    for path in documents:
        text = path.read_text(encoding="utf-8")
        path.write_text(rewritten(text, Bench(wharve, source), source), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
