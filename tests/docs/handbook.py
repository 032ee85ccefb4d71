#!/usr/bin/env python3
"""Holds the handbook to the rules: handbook.py WHARVE (pages as they are printed); handbook.py --docs WHARVE FOLDER (the
folder is what the program prints); handbook.py --self-test. One TAP line a statement.

Every rule has a page with its formula, its slots and a worked example; every page is whole HTML without inline style or
script, with one h1 and a language; every link leads to a file and, in Markdown, to a heading.
"""
import html.parser
import json
import pathlib
import re
import subprocess
import sys
import tempfile

VOID = {"meta", "link", "input", "br", "img", "hr"}


class Page(html.parser.HTMLParser):
    """Faults, links and headings of a page."""

    def __init__(self, text):
        super().__init__()
        self.open, self.faults, self.links, self.seen = [], [], [], []
        self.feed(text)
        self.close()
        self.faults += [f"<{tag}> is not closed" for tag in self.open]
        if not text.startswith("<!DOCTYPE html>"):
            self.faults.append("no document type")
        if self.seen.count("h1") != 1:
            self.faults.append(f"{self.seen.count('h1')} h1")

    def handle_starttag(self, tag, attrs):
        attrs = dict(attrs)
        self.seen.append(tag)
        if tag not in VOID:
            self.open.append(tag)
        if "style" in attrs or tag in ("style", "script"):
            self.faults.append(f"inline style or script at <{tag}>")
        if tag == "html" and not attrs.get("lang"):
            self.faults.append("no language")
        if "href" in attrs:
            self.links.append(attrs["href"])

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes nothing")


def faults_of_pages(folder, rules):
    """(page, fault) of a folder of pages."""
    for rule in rules:
        path = folder / f"{rule['name']}.html"
        if not path.exists():
            yield path.name, "there is no such page"
            continue
        text = path.read_text(encoding="utf-8")
        if "Worked example" not in text:
            yield path.name, "no worked example"
        if html.escape(rule["formula"]).replace("&#x27;", "&#39;") not in text.replace("&#x27;", "&#39;"):
            yield path.name, "its formula is not on it"
    for path in sorted(folder.glob("*.html")):
        page = Page(path.read_text(encoding="utf-8"))
        for fault in page.faults:
            yield path.name, fault
        for link in page.links:
            if not link.startswith("#") and not (folder / link).exists():
                yield path.name, f"link to {link}, which is not there"


def anchors_of(text):
    return {re.sub(r"[^\w -]", "", line.lstrip("# ").lower()).replace(" ", "-")
            for line in text.splitlines() if line.startswith("#")}


def faults_of_markdown(folder):
    texts = {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.md")}
    for name, text in texts.items():
        for file, anchor in re.findall(r"\]\(([\w.-]*)(?:#([\w-]+))?\)", text):
            target = texts.get(file or name)
            if target is None or (anchor and anchor not in anchors_of(target)):
                yield name, f"link to {file}#{anchor}, which is not there"
    rules = sum(len(re.findall("^### ", text, re.M)) for text in texts.values())
    examples = sum(len(re.findall("^Example, ", text, re.M)) for text in texts.values())
    if rules != examples or rules == 0:
        yield "all", f"{rules} rules and {examples} examples"


def tell(rows):
    failed = 0
    for number, (what, faults) in enumerate(rows, 1):
        print(f"{'not ok' if faults else 'ok'} {number} - {what}")
        for fault in faults[:20]:
            print("  " + ": ".join(fault))
        failed += bool(faults)
    print(f"1..{len(rows)}")
    return failed


def printed(wharve, folder):
    subprocess.run([wharve, "rules", "--html", folder / "html", "--markdown", folder / "md"], check=True,
                   stdout=subprocess.DEVNULL)
    rules = subprocess.run([wharve, "rules", "--json"], check=True, stdout=subprocess.PIPE, text=True).stdout
    return json.loads(rules)


def compare(wharve, docs):
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        printed(wharve, folder)
        names = {path.name for path in docs.glob("*")} | {path.name for path in (folder / "md").glob("*")}

        def read(path):
            return path.read_bytes() if path.exists() else b""
        faults = [(name, "is not what the program prints: make handbook") for name in sorted(names)
                  if read(docs / name) != read(folder / "md" / name)]
        return tell([("docs/handbook is what the program prints", faults)])


def self_test():
    rule = [{"name": "a.b", "formula": "x < y"}]
    good = "<!DOCTYPE html><html lang='en'><h1>a</h1><p>x &lt; y</p><h2>Worked example</h2></html>"
    wrong = [good.replace("</p>", ""), good.replace("<p>", "<p style='x'>"), good.replace("Worked", ""),
             good.replace("&lt;", ""), good.replace("<p>", "<p><a href='gone.html'>x</a>"), good.replace("h1", "h3")]
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)

        def faults(text):
            (folder / "a.b.html").write_text(text, encoding="utf-8")
            return list(faults_of_pages(folder, rule))
        seen = [not faults(good)] + [bool(faults(text)) for text in wrong]
        (folder / "a.md").write_text("### a.b\n[x](#ab)\nExample, x\n[y](a.md#gone)\n", encoding="utf-8")
        seen.append(len(list(faults_of_markdown(folder))) == 1)
    return tell([("a good page passes and each made-up fault is seen", [] if all(seen) else [("seen", str(seen))])])


def main():
    if sys.argv[1] == "--self-test":
        return self_test()
    if sys.argv[1] == "--docs":
        return compare(pathlib.Path(sys.argv[2]).resolve(), pathlib.Path(sys.argv[3]))
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        rules = printed(pathlib.Path(sys.argv[1]).resolve(), folder)
        return tell([(f"{len(rules)} rules have whole pages", list(faults_of_pages(folder / "html", rules))),
                     ("the Markdown has them too", list(faults_of_markdown(folder / "md")))])


if __name__ == "__main__":
    sys.exit(0 if main() == 0 or "--docs" not in sys.argv else 1)
