#!/usr/bin/env python3
"""The pages' door over the network: what is answered, what is refused, what every answer carries. TAP.

serve.py WHARVE ROOT: starts the program on a free port of this machine.
"""
import http.client
import os
import re
import socket
import subprocess
import sys
import tempfile

wharve, root = map(os.path.abspath, sys.argv[1:])
results = []


def check(name, good, seen=""):
    results.append(good)
    print(f"{'ok' if good else 'not ok'} {len(results)} - {name}" + ("" if good else f"\n# saw {seen!r}"), flush=True)


def ask(method, path, body=None, **headers):
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    headers = {name.replace("_", "-"): value for name, value in headers.items()}
    link.request(method, path, body, headers)
    answer = link.getresponse()
    return answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read().decode()


def raw(data):
    """What comes back within a second for bytes as they stand; the door may also wait for more."""
    with socket.create_connection(("127.0.0.1", port), timeout=1) as link:
        link.sendall(data)
        try:
            return link.recv(1000)
        except (TimeoutError, ConnectionError):
            return b""


folder = tempfile.TemporaryDirectory()
server = subprocess.Popen([wharve, "serve", "--listen", "127.0.0.1:0", "--store", folder.name + "/workshop.db"], cwd=root, stdout=subprocess.PIPE, text=True)
port = int(re.search(r":(\d+)/", server.stdout.readline())[1])
try:
    for path in ["/", "/machines/juice-clarifier", "/machines/dryer-fan/parts/fan-wheel", "/machines/yard-pump/start", "/work",
                 "/work/belt.wrap", "/static/style.css"]:
        status, headers, text = ask("GET", path)
        check(f"GET {path}", status == 200 and len(text) > 500, (status, text[:80]))
    check("a page may not be kept", ask("GET", "/")[1]["cache-control"] == "no-store")
    policy = ask("GET", "/")[1]["content-security-policy"]
    check("no script or style stands in a page", "unsafe" not in policy and "default-src 'none'" in policy, policy)
    check("types are not guessed", ask("GET", "/")[1]["x-content-type-options"] == "nosniff")
    cookie = ask("GET", "/")[1]["set-cookie"]
    check("the visit is hidden from scripts and other sites", "HttpOnly" in cookie and "SameSite=Strict" in cookie, cookie)
    check("HEAD has no body", ask("HEAD", "/")[2] == "")

    status, _, text = ask("GET", "/work/belt.wrap?large=170+mm&small=100+mm&centres=520+mm")
    check("a rule is worked out", status == 200 and "Gives" in text and "172" in text, text[-900:])
    status, _, text = ask("GET", "/work/belt.wrap?large=%3Cb%3E&small=100+mm&centres=520+mm")
    check("what was typed comes back escaped", status == 422 and "&lt;b&gt;" in text and "<b>" not in text, text)
    status, _, text = ask("GET", "/machines/juice-clarifier/start?foot-bearing=renew")
    check("the way in and back is shown", status == 200 and "foot bearing" in text and "of work" in text, text[-500:])
    status, _, text = ask("GET", "/machines/juice-clarifier/start?spindle-fork=renew")
    check("only parts can be chosen", status == 200 and "of work" not in text, status)

    for path in ["/nope", "/static/../page.c", "/static/..%2f..%2fMakefile", "/machines/..%2f..", "/static/machine.html",
                 "/machines/%00", "//", "/machines/juice-clarifier/", "/work/no.such"]:
        check(f"{path} is not there", ask("GET", path)[0] == 404, ask("GET", path)[0])
    check("another method is told", ask("DELETE", "/")[0] == 405)
    check("another name is refused", ask("GET", "/", Host="elsewhere.example")[0] == 421)
    form = {"Content_Type": "application/x-www-form-urlencoded", "Cookie": cookie.split(";")[0]}
    check("a form without its token is refused", ask("POST", "/", "a=1", **form)[0] == 403)
    check("a form of another site is refused",
          "did not come from a page" in ask("POST", "/", "a=1", Origin="http://elsewhere.example", **form)[2])
    check("what is no form is refused", ask("POST", "/", "a=1", Content_Type="text/plain")[0] == 400)
    check("a body that is too large is refused", ask("POST", "/", "a" * 100_000)[0] == 413)
    check("a long address is refused", ask("GET", "/" + "a" * 5000)[0] == 414, ask("GET", "/" + "a" * 5000)[0])
    for name, data in {"no request": b"\r\n\r\n", "half a line": b"GET", "no such protocol": b"GET / NONE\r\n\r\n",
                       "zeros": bytes(2000), "no host": b"GET / HTTP/1.1\r\n\r\n",
                       "a wrong length": b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: x\r\n\r\n"}.items():
        answer = raw(data)
        check(f"{name} does no harm", not answer.startswith(b"HTTP/1.1 200"), answer[:60])
    check("it still answers", ask("GET", "/")[0] == 200)
finally:
    server.terminate()
    check("it ends when it is told to", server.wait(20) == 0, server.returncode)
print(f"1..{len(results)}")
sys.exit(0 if all(results) else 1)
