#!/usr/bin/env python3
"""The pages' door over the network: what is answered, what is refused, what every answer carries. TAP.

serve.py WHARVE ROOT: starts the program on a free port of this machine.
"""
import http.client
import math
import os
import re
import socket
import ssl
import subprocess
import sys
import tempfile
import urllib.parse
import warnings

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


def ask_bytes(path, cookie):
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    link.request("GET", path, headers={"Cookie": cookie})
    return link.getresponse().read()


def raw(data):
    """What comes back within a second for bytes as they stand; the door may also wait for more."""
    with socket.create_connection(("127.0.0.1", port), timeout=1) as link:
        link.sendall(data)
        try:
            return link.recv(1000)
        except (TimeoutError, ConnectionError):
            return b""


folder = tempfile.TemporaryDirectory()
store = folder.name + "/workshop.db"


def start(*more):
    """Starts the program; its port goes into `port`."""
    global port
    process = subprocess.Popen([wharve, "serve", "--listen", "127.0.0.1:0", "--store", store, *more], cwd=root,
                               stdout=subprocess.PIPE, text=True)
    port = int(re.search(r":(\d+)/", process.stdout.readline())[1])
    return process


server = start()
try:
    for path in ["/", "/machines/juice-clarifier", "/machines/dryer-fan/parts/fan-wheel", "/machines/yard-pump/start", "/work-it-out",
                 "/work-it-out/belt.wrap", "/static/style.css"]:
        status, headers, text = ask("GET", path)
        check(f"GET {path}", status == 200 and len(text) > 500, (status, text[:80]))
    check("a page may not be kept", ask("GET", "/")[1]["cache-control"] == "no-store")
    policy = ask("GET", "/")[1]["content-security-policy"]
    check("no script or style stands in a page", "unsafe" not in policy and "default-src 'none'" in policy, policy)
    check("types are not guessed", ask("GET", "/")[1]["x-content-type-options"] == "nosniff")
    cookie = ask("GET", "/")[1]["set-cookie"]
    check("the visit is hidden from scripts and other sites", "HttpOnly" in cookie and "SameSite=Strict" in cookie, cookie)
    check("HEAD has no body", ask("HEAD", "/")[2] == "")

    status, _, text = ask("GET", "/work-it-out/belt.wrap?large=170+mm&small=100+mm&centres=520+mm")
    check("a rule is worked out", status == 200 and "Gives" in text and "172" in text, text[-900:])
    status, _, text = ask("GET", "/work-it-out/belt.wrap?large=%3Cb%3E&small=100+mm&centres=520+mm")
    check("what was typed comes back escaped", status == 422 and "&lt;b&gt;" in text and "<b>" not in text, text)
    status, _, text = ask("GET", "/machines/juice-clarifier/start?foot-bearing=renew")
    check("the way in and back is shown", status == 200 and "foot bearing" in text and "of work" in text, text[-500:])
    status, _, text = ask("GET", "/machines/juice-clarifier/start?spindle-fork=renew")
    check("only parts can be chosen", status == 200 and "of work" not in text, status)

    token = re.search(r'name="token" content="(\w+)"', ask("GET", "/", Cookie=cookie.split(";")[0])[2])[1]
    status, headers, _ = ask("POST", "/units", f"token={token}&to=inch&back=/work-it-out", Cookie=cookie.split(";")[0],
                             Content_Type="application/x-www-form-urlencoded")
    check("inch units are remembered", status == 303 and "units=inch" in headers["set-cookie"], headers)
    text = ask("GET", "/machines/juice-clarifier/parts/flat-belt", Cookie="units=inch")[2]
    check("figures are then in inches and pounds", " lbf" in text and " in<" in text or " in " in text, text[:300])

    for path in ["/nope", "/static/../page.c", "/static/..%2f..%2fMakefile", "/machines/..%2f..", "/static/machine.html",
                 "/machines/%00", "//", "/machines/juice-clarifier/", "/work-it-out/no.such"]:
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


def visit(cookie=None):
    """A page for signing in: (cookie, token)."""
    status, headers, text = ask("GET", "/sign-in", **({"Cookie": cookie} if cookie else {}))
    kept = headers.get("set-cookie", cookie or "").split(";")[0]
    return kept, re.search(r'name="token" content="(\w+)"', text)[1]


def post(path, cookie, token, **fields):
    body = urllib.parse.urlencode({"token": token, **fields})
    return ask("POST", path, body, Cookie=cookie, Content_Type="application/x-www-form-urlencoded")


def sign_in(name, word):
    cookie, token = visit()
    status, headers, text = post("/sign-in", cookie, token, name=name, word=word)
    return status, headers.get("set-cookie", "").split(";")[0], text


def people(name, role, word):
    subprocess.run([wharve, "people", name, "--role", role, "--store", store], input=word, text=True, check=True,
                   stdout=subprocess.DEVNULL)


people("Ada", "fitter", "four words of hers\n")
people("Ben", "reader", "4711-b\n")
people("Cid", "charge hand", "4711-c\n")
server = start()
try:
    status, headers, _ = ask("GET", "/bench")
    check("with people set up one has to sign in", status == 303 and headers["location"].startswith("/sign-in"), status)
    check("styles need no name", ask("GET", "/static/style.css")[0] == 200)
    check("a wrong word is refused", sign_in("Ada", "four words")[0] == 422)
    check("nobody of that name is told the same", sign_in("Zoe", "x")[2].count("do not fit") == 1)
    status, ada, _ = sign_in("Ada", "four words of hers")
    check("a fitter signs in", status == 303 and ada.startswith("visit="), status)
    check("and sees the bench", ask("GET", "/bench", Cookie=ada)[0] == 200)
    token = re.search(r'name="token" content="(\w+)"', ask("GET", "/gauges", Cookie=ada)[2])[1]
    gauge = {"name": "micrometer-1", "uncertainty": "0.003 mm", "key": "k1"}
    check("a gauge is for the charge hand", post("/gauges", ada, token, **gauge)[0] == 403)
    opening = {"renew": "foot-bearing", "key": "k2", "brought": "noise"}
    status, headers, _ = post("/machines/juice-clarifier/start", ada, token, **opening)
    check("a fitter opens a job", status == 303 and headers["location"] == "/jobs/1", status)
    check("the same form again opens no other", post("/machines/juice-clarifier/start", ada, token, **opening)[1]["location"]
          == "/jobs/1")
    check("a job does not come back to another site",
          post("/jobs/1/enter", ada, token, kind="note", text="x", key="k3", back="//elsewhere.example")[1]["location"] == "/jobs/1")
    check("a hold is never taken from a queue", "not taken from a queue" in post(
        "/jobs/1/enter", ada, token, kind="released", hold="mains", tried="start pressed", key="k4", queued="yes")[2])
    check("a fitter does not sign for the charge hand",
          post("/jobs/1/enter", ada, token, kind="signed", key="k5", **{"as": "charge hand"})[0] == 422)
    check("what is no photo is not kept", "no photo" in ask("POST", "/jobs/1/enter", "\r\n".join([
        "--b", 'Content-Disposition: form-data; name="token"', "", token, "--b",
        'Content-Disposition: form-data; name="kind"', "", "photo", "--b", 'Content-Disposition: form-data; name="key"', "", "k6",
        "--b", 'Content-Disposition: form-data; name="photo"; filename="a.png"', "", "MZ not a picture", "--b--", ""]),
        Cookie=ada, Content_Type="multipart/form-data; boundary=b")[2])
    def send(name, text, **fields):
        parts = {"token": token, "key": "r" + name, "what": "vibration", "when": "as left", "name": name, **fields}.items()
        lines = [line for key, value in parts for line in ("--b", f'Content-Disposition: form-data; name="{key}"', "", value)]
        lines += ["--b", f'Content-Disposition: form-data; name="record"; filename="{name}"', "", text, "--b--", ""]
        return ask("POST", "/jobs/1/test-run", "\r\n".join(lines), Cookie=ada, Content_Type="multipart/form-data; boundary=b")

    # 6 s of 2 m/s2 at the clarifier's once a turn, 80.96 Hz: 2/sqrt(2)/(2 pi 80.96) = 2.78 mm/s
    wave = "# sample_rate_hz=4000\nneck-bearing across [m/s2]\n" + "".join(
        f"{2 * math.sin(2 * math.pi * 80.96 * i / 4000):.4f}\n" for i in range(24000))
    check("a record is read and kept", send("neck.csv", wave)[0] == 303)
    text = ask("GET", "/jobs/1/test-run", Cookie=ada)[2]
    check("what it tells stands on the page", "2.78 mm/s" in text and "neck.csv" in text and "nothing found" in text, text[-3000:])
    check("no file of the reading is left", not [name for name in os.listdir(folder.name) if ".run." in name], os.listdir(folder.name))
    status, _, text = send("a.csv", "no record at all")
    check("what is no record is refused with its name", status == 422 and "a.csv" in text, (status, text[:400]))
    status, _, text = send("b.csv", wave, speed="5500 rpm")
    check("a speed above the stamped one is refused", status == 422, (status, text[:400]))
    check("the same record again is the same entry", send("neck.csv", wave)[0] == 303)
    papers = [ask_bytes("/jobs/1/report.pdf", ada) for _ in range(2)]
    check("the report on paper is the same bytes each time", papers[0] == papers[1] and papers[0].startswith(b"%PDF-"))
    check("the machine names its job", "Job 1:" in ask("GET", "/machines/juice-clarifier", Cookie=ada)[2])
    balance = {"turns": "clockwise", "angles": "with turning", "phases": "lag", "speed": "2300 rpm", "radius": "250 mm",
               "reads-1": "5.2 mm/s at 63 deg"}
    path = "/machines/dryer-fan/balance/"
    check("a trim balance above the stamped speed is refused with its reason",
          "above the stamped speed of 2200 rpm" in post(path + "fan-wheel", ada, token, **balance)[2])
    check("its next step has its pull and asks how it is fastened", "How is it fastened?" in post(
        path + "fan-wheel", ada, token, **{**balance, "speed": "1915 rpm"})[2])
    check("a sheet that reads badly says what is wrong", post(path + "fan-wheel", ada, token, **{**balance, "speed": "1915"})[0] == 422)
    for part, reason in (("fan-pulley", "does not allow"), ("shaft", "only fan wheels and pulleys"), ("no-such", "no such part")):
        check(f"{part} is not balanced here", reason in ask("GET", path + part, Cookie=ada)[2])
    for part in ("bowl-body", "lock-ring", "disc-stack", "spindle"):
        check(f"{part} is the maker's", "by the maker only" in post(
            "/machines/juice-clarifier/balance/" + part, ada, token, **balance)[2])
    _, ben, _ = sign_in("Ben", "4711-b")
    token_b = re.search(r'name="token" content="(\w+)"', ask("GET", "/bench", Cookie=ben)[2])[1]
    check("a reader reads", ask("GET", "/jobs/1/steps", Cookie=ben)[0] == 200)
    check("a reader enters nothing", post("/jobs/1/enter", ben, token_b, kind="note", text="x", key="k7")[0] == 403)
    check("the token of another visit is refused", post("/jobs/1/enter", ada, token_b, kind="note", text="x", key="k8")[0] == 403)
    people("Ben", "gone", "")
    check("who is gone is out at once", ask("GET", "/bench", Cookie=ben)[0] == 303)
    for _ in range(6):
        tried = sign_in("Cid", "guess")[2]
    check("guessing is slowed down", "Too many" in sign_in("Cid", "4711-c")[2], tried[-300:])
    post("/sign-out", ada, token)
    check("who signs out is out", ask("GET", "/bench", Cookie=ada)[0] == 303)
    server.terminate()
    server.wait(20)

    certificate, private = folder.name + "/c.pem", folder.name + "/k.pem"
    subprocess.run(["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-keyout", private, "-out", certificate, "-days",
                    "2", "-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost"], check=True, capture_output=True)
    server = start("--certificate", certificate, "--key", private)
    trust = ssl.create_default_context(cafile=certificate)
    link = http.client.HTTPSConnection("localhost", port, timeout=20, context=trust)
    link.request("GET", "/sign-in")
    answer = link.getresponse()
    cookie = answer.getheader("Set-Cookie") or ""
    check("with a certificate the pages come over https", answer.status == 200 and b"PIN" in answer.read(), answer.status)
    check("the visit then goes over https only", "Secure" in cookie, cookie)
    old = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    old.check_hostname, old.verify_mode = False, ssl.CERT_NONE
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        old.maximum_version = ssl.TLSVersion.TLSv1_1
    try:
        http.client.HTTPSConnection("localhost", port, timeout=20, context=old).request("GET", "/")
        check("TLS 1.1 is refused", False)
    except (ssl.SSLError, ConnectionError):
        check("TLS 1.1 is refused", True)
    check("plain http gets no page there", b"<html" not in raw(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n"))
    wrong = subprocess.run([wharve, "serve", "--listen", "127.0.0.1:0", "--store", store, "--certificate", certificate, "--key",
                            certificate], cwd=root, capture_output=True, text=True, timeout=20)
    check("a key that is none is named", wrong.returncode != 0 and certificate in wrong.stderr, wrong.stderr)
finally:
    server.terminate()
    server.wait(20)
print(f"1..{len(results)}")
sys.exit(0 if all(results) else 1)
