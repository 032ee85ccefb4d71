#!/usr/bin/env python3
"""What can befall a store, seen from the command line: mishaps.py WHARVE SOURCE-FOLDER. One TAP line a mishap.

Disk full, read-only, locked, a clock that goes back, a file cut off or with a flipped bit: told in clear words with the
right exit status, and whatever was acknowledged before is still there afterwards.
"""
import os
import pathlib
import resource
import signal
import sqlite3
import subprocess
import sys
import tempfile

FILE_ERROR = 3
MACHINE = "tests/machines/small-blower.yaml"


class Skipped(Exception):
    """Cannot be tried here."""


class Shop:
    """A folder with a store in it, and the program."""

    def __init__(self, wharve, source, folder):
        self.wharve, self.folder = wharve, folder
        self.machine = source / MACHINE

    def run(self, *words, clock=None, most=None):
        def limit():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
        environment = {**os.environ, **({"WHARVE_CLOCK": str(clock)} if clock else {})}
        return subprocess.run([self.wharve, *words], cwd=self.folder, text=True, check=False, env=environment, timeout=60,
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE, preexec_fn=limit if most else None)

    def open(self):
        self.must("job", "open", str(self.machine), "--renew", "bearing", "--who", "Ada")

    def must(self, *words, **options):
        done = self.run(*words, **options)
        assert done.returncode == 0, f"{words}: {done.stderr}"
        return done.stdout

    def note(self, text, **options):
        return self.run("job", "note", "1", text, "--who", "Ada", **options)

    def has(self, text):
        return text in self.must("job", "show", "1")


def expect(done, status, words):
    assert done.returncode == status, f"ended with status {done.returncode}, not {status}: {done.stderr}"
    assert words in done.stderr, f"does not say \"{words}\": {done.stderr}"


def fill(shop, **options):
    """Notes until one is refused; the number of those taken, and the refusal."""
    for number in range(3000):
        done = shop.note(f"{number} " + 3500 * "x", **options)
        if done.returncode != 0:
            return number, done
    raise AssertionError("it never filled up")


def file_too_large(shop):
    shop.open()
    most = (shop.folder / "workshop.db").stat().st_size + 60000
    taken, refused = fill(shop, most=most)
    expect(refused, FILE_ERROR, "nothing of this was taken")
    assert shop.has(f"{taken - 1} xxx") and not shop.has(f"text: {taken} xxx"), "not what was acknowledged"
    assert "sound" in shop.must("store", "check")
    assert shop.note("after").returncode == 0, "it does not go on when there is room"


def small_disk(shop, options):
    place = shop.folder / "disk"
    place.mkdir()
    mount = subprocess.run(["mount", "-t", "tmpfs", "-o", options, "tmpfs", place], check=False, stderr=subprocess.PIPE)
    if mount.returncode != 0:
        raise Skipped("no disk can be mounted here")
    return Shop(shop.wharve, shop.machine.parents[2], place)


def disk_full(shop):
    small = small_disk(shop, "size=600k")
    try:
        small.open()
        taken, refused = fill(small)
        expect(refused, FILE_ERROR, "the disk is full; nothing of this was taken")
        assert small.has(f"{taken - 1} xxx") and not small.has(f"text: {taken} xxx"), "not what was acknowledged"
        assert "sound" in small.must("store", "check")
    finally:
        subprocess.run(["umount", small.folder], check=True)


def read_only(shop):
    if os.geteuid() != 0:
        shop.open()
        (shop.folder / "workshop.db").chmod(0o444)
        expect(shop.note("x"), FILE_ERROR, "read-only")
        return
    small = small_disk(shop, "size=4m")
    try:
        small.open()
        subprocess.run(["mount", "-o", "remount,ro", small.folder], check=True)
        expect(small.note("x"), FILE_ERROR, "read-only")
    finally:
        subprocess.run(["umount", small.folder], check=True)


def locked(shop):
    shop.open()
    other = sqlite3.connect(shop.folder / "workshop.db")
    other.execute("BEGIN IMMEDIATE")
    expect(shop.note("x"), FILE_ERROR, "locked for five seconds; nothing of this was taken")
    assert "being planned" in shop.must("job", "list"), "it cannot be read meanwhile"
    other.rollback()
    assert shop.note("y").returncode == 0


def clock_back(shop):
    shop.open()
    shop.must("job", "note", "1", "later", "--who", "Ada", clock=2000000000000)
    assert "the clock stands before that of the entry before" in shop.must("job", "note", "1", "earlier", "--who", "Ada",
                                                                           clock=1000000000000)
    text = shop.must("job", "show", "1")
    assert text.index("later") < text.index("earlier"), "the order is not that of the numbers"
    assert "1 entries bear a clock before" in shop.must("store", "check")


def cut_off(shop):
    shop.open()
    store = shop.folder / "workshop.db"
    content = store.read_bytes()
    for size in (50, 4096, len(content) // 2):
        store.write_bytes(content[:size])
        done = shop.run("store", "check")
        assert done.returncode == FILE_ERROR and done.stderr.startswith("workshop.db: "), f"{size} bytes: {done.stderr}"
        assert shop.note("x").returncode != 0, "it writes into half a store"


def bit_flipped(shop):
    shop.open()
    shop.must("job", "note", "1", "a word that stands", "--who", "Ada")
    store = shop.folder / "workshop.db"
    content = bytearray(store.read_bytes())
    at = content.index(b"a word that stands")
    content[at] ^= 2
    store.write_bytes(content)
    expect(shop.run("store", "check"), FILE_ERROR, "job 1, entry 2: what is stored does not fit its hash")
    expect(shop.note("x"), FILE_ERROR, "job 1, entry 2")


def not_ours(shop):
    (shop.folder / "workshop.db").write_text("a letter to somebody\n" * 50)
    expect(shop.run("job", "list"), FILE_ERROR, "this is no store of this program")
    sqlite3.connect(shop.folder / "other.db").execute("CREATE TABLE a (b)").connection.commit()
    expect(shop.run("job", "list", "--store", "other.db"), FILE_ERROR, "no store of this program")


def newer(shop):
    shop.open()
    sqlite3.connect(shop.folder / "workshop.db").execute("PRAGMA user_version = 7").connection.commit()
    expect(shop.run("job", "list"), 2, "made by a newer program: its form is 7")


def copy_not_twice(shop):
    shop.open()
    shop.must("store", "backup", "copies/monday.db")
    expect(shop.run("store", "backup", "copies/monday.db"), 2, "there already")
    assert "sound" in shop.must("store", "check", "--store", "copies/monday.db")


MISHAPS = [file_too_large, disk_full, read_only, locked, clock_back, cut_off, bit_flipped, not_ours, newer, copy_not_twice]


def main():
    wharve, source = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()
    for number, mishap in enumerate(MISHAPS, 1):
        with tempfile.TemporaryDirectory() as folder:
            name, fault, skip = mishap.__name__.replace("_", " "), None, ""
            try:
                mishap(Shop(wharve, source, pathlib.Path(folder)))
            except Skipped as reason:
                skip = f" # SKIP {reason}"
            except AssertionError as error:
                fault = error
            print(f"{'not ok' if fault else 'ok'} {number} - {name}{skip}", flush=True)
            if fault:
                print(f"  {str(fault)[:1500]}")
    print(f"1..{len(MISHAPS)}")


if __name__ == "__main__":
    main()
