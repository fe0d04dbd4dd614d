#!/usr/bin/env python3
"""Random and nasty requests to `skewback serve`: it must answer or hang up, and go on as before.

    fuzz_http.py SKEWBACK BRIEF [--requests 10000] [--seed 1] [--daybook DIR]

Fails on an answer that is none, on 500, on a state that has changed, on a file written anywhere but
beside the brief by the name asked for, and when the server does not end on SIGINT.
"""
import argparse
import collections
import concurrent.futures
import json
import os
import pathlib
import random
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time

READS = ["/", "/site", "/assets/index.js", "/api/state", "/api/findings", "/api/keys", "/api/export",
         "/api/daybook", "/api/node", "/api/compare", "/api/view/shape", "/api/view/blocks",
         "/api/view/proof", "/api/view/ground", "/api/view/stages", "/api/view/centring",
         "/api/view/layers", "/api/view/survey"]
WRITES = ["/api/edit", "/api/undo", "/api/redo", "/api/save", "/api/run", "/api/stop", "/api/ask",
          "/api/daybook/record", "/api/daybook/cancel"]
QUERIES = ["x=1&y=1", "x=nan&y=", "x=1e400&y=0", "case=dead", "case=%00", "case=" + "a" * 500, "block=b1",
           "block=../b1", "with=brief.toml", "with=../../etc/passwd", "with=%2e%2e%2fbrief.toml",
           "with=/etc/passwd", "with=nothing.toml", "a=1&a=2", "%", "=", "&&&", "x=%c0%af"]
NASTY_PATHS = ["/../../etc/passwd", "/assets/../../../etc/passwd", "/assets/%2e%2e/%2e%2e/etc/passwd",
               "/%00", "/api/view/%2e%2e", "/api/view/shape%00", "//etc/passwd", "/\\..\\x", "/%252e%252e/",
               "/api/daybook/" + "%F0%9F%8C%89" * 40, "/" + "a/" * 900, "/" + "%41" * 600, "*", "",
               "http://other.example/api/state", "/api/state#x", "/api/%73tate", "/API/STATE", "/api/state/",
               "/.git/config", "/brief.toml", "/api/daybook/'; drop table event; --", "/" + "a" * 8000]
MESSAGES = [{"revision": 1, "changes": [{"key": "form.rise", "text": "\"-3 m\""}]},
            {"revision": 1, "changes": [{"key": "plan.outline[99999999999]", "text": "[1,2]"}]},
            {"revision": 1, "changes": [{"key": "\n[x]\ny", "text": "\"\"\"\n"}]},
            {"revision": 99, "changes": [{"key": "form.rise", "text": "\"1.7 m\""}]},
            {"name": "../../x"}, {"name": "/tmp/x"}, {"name": ""}, {"name": "a" * 5000}, {"name": "x\u0000y"},
            {"until": "supper"}, {"until": "proof"}, {"case": "dead"}, {"case": "none such"},
            {"case": "dead", "persons": [{"at": [1e308, -1e308], "force_n": 1e308}]},
            {"case": "dead", "crowds": [{"at": [0, 0], "radius_m": -1, "pressure_pa": 5000}] * 60},
            {"case": "dead", "quick": True, "persons": [{"at": [0.5, 0.5], "force_n": 800}]},
            {"case": "dead", "pushes": [{"support": 2**31, "shift_m": [0, 0, 1e9], "turn_rad": 7}]},
            {"case": "dead", "without_blocks": ["", "x" * 1000, 7]}, {"case": "dead", "friction": -1},
            {"entries": [{"block": "nonsense", "what": "placed", "who": "w", "note": ""}], "even_so": False},
            {"entries": []}, {"entries": [{"block": "b1", "what": "flown", "who": "w" * 5000, "note": 3}]},
            {"number": -1, "who": "", "note": ""}, {"number": 2**63, "who": "w", "note": "n"}]
HEADS = ["Range: bytes=" + "0-0," * 1500 + "0-0", "Range: bytes=999999999999999999999-", "Range: bytes=-1",
         "Accept-Encoding: gzip, br", "If-None-Match: *", "If-None-Match: " + "\"x\", " * 1000,
         "Expect: 100-continue", "Connection: keep-alive", "Connection: upgrade\r\nUpgrade: websocket",
         "Transfer-Encoding: chunked", "Transfer-Encoding: gzip", "Content-Encoding: gzip",
         "Content-Length: 0\r\nContent-Length: 7", "Host: other.example", "X: " + "y" * 9000,
         "\r\n".join(f"X-{i}: {i}" for i in range(500)), "X-Forwarded-For: 127.0.0.1", "Bad Header", ": x",
         "Cookie: " + "\xff\xfe" * 50, "Authorization: Basic AAAA", "X-Lodge-Token: 0"]


def jitter(rng, value, depth=0):
    """A value of JSON, some of it changed."""
    roll = rng.random()
    if roll < 0.08:
        return rng.choice([None, True, -1, 0, 1e308, 2**64, "", "x", [], {}, [[]], "\u0000", "\ud800", "é" * 9])
    if isinstance(value, dict):
        out = {k: jitter(rng, v, depth + 1) for k, v in value.items() if rng.random() > 0.05}
        if rng.random() < 0.05:
            out[rng.choice(["extra", "__proto__", "", "revision", "quick"])] = 1
        return out
    if isinstance(value, list) and depth < 4:
        return [jitter(rng, v, depth + 1) for v in value] * rng.choice([1, 1, 1, 1, 2, 0])
    return value


def body_of(rng):
    roll = rng.random()
    if roll < 0.7:
        text = json.dumps(jitter(rng, rng.choice(MESSAGES)))
        return text.encode("utf-8", "surrogatepass")
    if roll < 0.8:
        return (rng.choice(["[", "{\"a\":"]) * rng.choice([5, 13, 1000, 200000])).encode()
    if roll < 0.9:
        raw = bytearray(json.dumps(rng.choice(MESSAGES)).encode())
        for _ in range(rng.randint(1, 4)):
            raw[rng.randrange(len(raw))] = rng.randrange(256)
        return bytes(raw)
    return rng.randbytes(rng.choice([0, 1, 100, 5000, 1_000_001 if rng.random() < 0.1 else 10]))


def request_of(rng, port, token):
    """Bytes to send, and whether they are so whole that an answer must come."""
    roll = rng.random()
    if roll < 0.06:
        return rng.randbytes(rng.choice([1, 10, 500, 20000])), False
    if roll < 0.09:
        return rng.choice([b"\r\n\r\n", b"GET", b"GET / HTTP/1.1\r\n", b"GET / HTTP/0.9\r\n\r\n", b"\0" * 100,
                           b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", b"GET /\r\n\r\n", b"\x16\x03\x01\x02\x00\x01",
                           b"GET / HTTP/1.1\nHost: x\n\n", b"A" * 70000]), False
    write = rng.random() < 0.5
    method = rng.choice(["POST"] * 12 + ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "BREW"]) \
        if write else rng.choice(["GET"] * 9 + ["HEAD"])
    path = rng.choice(NASTY_PATHS) if rng.random() < 0.2 else rng.choice(WRITES if write else READS)
    if rng.random() < 0.4:
        path += "?" + rng.choice(QUERIES)
    host = f"127.0.0.1:{port}" if rng.random() < 0.93 else rng.choice(["", "other.example", "127.0.0.1", "[::1]"])
    lines = [f"{method} {path} HTTP/1.1", f"Host: {host}"]
    if rng.random() < 0.1:
        lines.append("Origin: " + rng.choice([f"http://{host}", "null", "http://other.example"]))
    if rng.random() < 0.85:
        lines.append("X-Lodge-Token: " + (token if rng.random() < 0.97 else "f" * 32))
    body, whole = body_of(rng) if write else b"", True
    if write:
        if rng.random() < 0.93:
            lines.append("Content-Type: application/json")
        else:
            lines.append("Content-Type: " + rng.choice(["text/plain", "multipart/form-data; boundary=b", "a/b"]))
        length = len(body) if rng.random() < 0.93 else rng.choice([0, -1, "x", len(body) + 50, 10**12, 1])
        whole = length == len(body)
        lines.append(f"Content-Length: {length}")
    if rng.random() < 0.25:
        lines.append(rng.choice(HEADS))
        whole = False
    raw = "\r\n".join(lines).encode("utf-8", "surrogatepass") + b"\r\n\r\n" + body
    if rng.random() < 0.03:
        return raw[:rng.randrange(len(raw))], False
    return (raw, whole) if rng.random() > 0.02 else (raw + raw, False)


def send(port, raw, source, whole=True):
    """All that comes back. The other side may hang up, also while this one still talks. Nobody waits
    long for an answer to what is not whole: then it is this side that hangs up."""
    with socket.socket() as s:
        s.settimeout(60)
        s.bind((source, 0))
        s.connect(("127.0.0.1", port))
        try:
            s.sendall(raw)
        except ConnectionError:
            pass
        parts = []
        s.settimeout(60 if whole else 0.5)
        try:
            while part := s.recv(65536):
                parts.append(part)
        except ConnectionError:
            pass
        except TimeoutError:
            if whole:
                raise
        return b"".join(parts)


def judged(raw):
    """Status of an answer, 0 for none; raises on an answer that is not well formed."""
    if not raw:
        return 0
    match = re.match(rb"HTTP/1\.1 (\d{3})", raw)
    if not match:
        raise ValueError(f"no answer: {raw[:80]!r}")
    status = int(match[1])
    head, _, body = raw.partition(b"\r\n\r\n")
    length = re.search(rb"(?i)content-length: (\d+)", head)
    if status >= 400 and body and status != 100:
        json.loads(body[:int(length[1])])["faults"][0]["says"]
    return status


def ask(port, path, token=""):
    head = f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nX-Lodge-Token: {token}\r\n\r\n"
    raw = send(port, head.encode(), "127.0.0.2")
    if judged(raw) != 200:
        raise RuntimeError(f"{path}: {raw[:200]!r}")
    return raw.partition(b"\r\n\r\n")[2]


def settled(port):
    """The state once nothing is being worked out."""
    until = time.time() + 300
    while time.time() < until:
        state = json.loads(ask(port, "/api/state"))
        if state["busy"] is None and state["parts"]["proof"]["of"] == state["revision"]:
            return state
        time.sleep(0.3)
    raise RuntimeError("the work does not come to an end")


def memory_kb(pid):
    return int(re.search(r"VmRSS:\s+(\d+)", pathlib.Path(f"/proc/{pid}/status").read_text())[1])


def shoot(port, token, seed, count):
    def one(number):
        rng = random.Random(f"{seed}/{number}")
        raw, whole = request_of(rng, port, token)
        source = f"127.0.{rng.randint(1, 200)}.{rng.randint(1, 200)}"
        try:
            status = judged(send(port, raw, source, whole))
            return status or ("no answer" if whole else 0), number, raw
        except Exception as error:  # told with the request, by the number that makes it again
            return f"{type(error).__name__}: {error}", number, raw

    answers, wrong = collections.Counter(), []
    with concurrent.futures.ThreadPoolExecutor(12) as pool:
        for status, number, raw in pool.map(one, range(count)):
            answers[status if isinstance(status, int) else "wrong"] += 1
            if not isinstance(status, int) or status in (500, 501, 503):
                wrong.append(f"request {number}: {status}: {raw[:300]!r}")
    return answers, wrong


def start(binary, brief, daybook):
    command = [binary, "serve", str(brief)] + (["--daybook", daybook] if daybook else [])
    server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    match = re.match(r"http://127\.0\.0\.1:(\d+)/", server.stdout.readline())
    if not match:
        sys.exit("it does not start")
    return server, int(match[1])


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    options.add_argument("skewback")
    options.add_argument("brief", type=pathlib.Path)
    options.add_argument("--requests", type=int, default=10000)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--daybook", default="")
    given = options.parse_args()
    with tempfile.TemporaryDirectory() as top:
        folder = pathlib.Path(top) / "outer" / "bridge"
        shutil.copytree(given.brief.parent, folder)
        server, port = start(given.skewback, folder / given.brief.name, given.daybook)
        try:
            wrong = fuzz(server, port, given)
        finally:
            server.kill()
            server.wait()
        wrong += strangers(pathlib.Path(top), folder, given.brief.parent)
    print("\n".join(wrong[:40]) or "as before")
    sys.exit(1 if wrong else 0)


def fuzz(server, port, given):
    token = re.search(r'lodge-token" content="([^"]+)"', ask(port, "/").decode())[1]
    before, kept_kb = settled(port), memory_kb(server.pid)
    began = time.time()
    answers, wrong = shoot(port, token, given.seed, given.requests)
    took_s = time.time() - began
    print(f"seed {given.seed}: {given.requests} requests in {took_s:.1f} s; answers " +
          ", ".join(f"{k}: {n}" for k, n in sorted(answers.items(), key=str)))
    if server.poll() is not None:
        return wrong + [f"the server is gone: {server.returncode}"]
    after = settled(port)
    for state in (before, after):  # what a good message may change
        state.pop("saved", None)
    if after != before:
        wrong.append(f"state was {before}, is {after}")
    print(f"memory {kept_kb // 1024} MB before, {memory_kb(server.pid) // 1024} MB after")
    began = time.time()
    server.send_signal(signal.SIGINT)
    try:
        code = server.wait(20)
        print(f"ended with {code} after {time.time() - began:.1f} s")
        if code != 0:
            wrong.append(f"ended with {code}")
    except subprocess.TimeoutExpired:
        server.kill()
        wrong.append("does not end")
    return wrong


def strangers(top, folder, from_folder):
    """Files that should not be there."""
    names = {p.name for p in from_folder.iterdir()}
    found = []
    for path in top.rglob("*"):
        if path in (folder, folder.parent) or path.relative_to(top).parts[:2] == ("outer", "bridge") and \
                path.relative_to(folder).parts[0] in names:
            continue
        if path.parent != folder or not re.fullmatch(r"[A-Za-z0-9_-]+\.toml", path.name):
            found.append(f"a file nobody asked for: {path}")
    return found


if __name__ == "__main__":
    main()
