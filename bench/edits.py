"""How soon the lodge answers an edit, over HTTP: wall seconds from the message to each part.

usage: edits.py BINARY FOLDER... [--rounds N]

Serves a copy of each folder's brief.toml, waits until its proof is there, then changes form.rise up
and down N times (10), each time by a little more, and drags a point of a free edge out and back as
often; notes when the server's events tell of: the
shape as drawn and with its solid, the blocks, the first cases, all verdicts, and the end (the
friction each case needs). The processor seconds are the server's own, all its threads together.
"""

import argparse
import http.client
import json
import math
import os
import pathlib
import re
import shutil
import signal
import statistics
import subprocess
import tempfile
import time

MARKS = ["shape drawn", "shape", "blocks", "first cases", "all verdicts", "the end"]


def processor_s(pid):
    fields = pathlib.Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def ask(port, method, path, message=None, token=""):
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=300)
    body = None if message is None else json.dumps(message)
    link.request(method, path, body, {"X-Lodge-Token": token, "Content-Type": "application/json"})
    reply = link.getresponse()
    raw = reply.read()
    link.close()
    if reply.status != 200:
        raise RuntimeError(f"{path}: {reply.status} {raw[:300]!r}")
    return raw


def states(port):
    """Each state the server tells, from the present one on."""
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=600)
    link.request("GET", "/api/events")
    reply, kind = link.getresponse(), ""
    for line in reply:
        if line.startswith(b"event: "):
            kind = line[7:].strip()
        elif line.startswith(b"data: ") and kind == b"state":
            yield json.loads(line[6:])


def reached(state):
    """The marks that a state shows of its newest revision."""
    parts, newest = state["parts"], state["revision"]
    for name in ("shape", "blocks", "proof"):
        if parts[name]["failed"]:
            raise RuntimeError(f"{name}: {parts[name]['failed']}")
    there = {name: parts[name]["of"] == newest for name in ("shape", "blocks", "proof")}
    whole = {name: there[name] and not parts[name]["draft"] for name in there}
    all_proved = there["proof"] and "proved so far" not in parts["proof"]["draft"]
    return {"shape drawn": there["shape"], "shape": whole["shape"], "blocks": whole["blocks"],
            "first cases": there["proof"], "all verdicts": all_proved, "the end": whole["proof"]}


def point_of_a_free_edge(at):
    """The first point of the outline that no support ends at: its number."""
    ends = {at[key] for key in at if ".ends[" in key}
    count = sum(key.startswith("plan.outline[") and key.endswith("][1]") for key in at)
    return next(k for k in range(1, count + 1) if not {at[f"plan.outline[{k}][{i}]"] for i in (1, 2)} <= ends)


def one_edit(port, token, told, revision, values, pid):
    began, used = time.perf_counter(), processor_s(pid)
    ask(port, "POST", "/api/edit",
        {"revision": revision, "changes": [{"key": key, "text": json.dumps(f"{m:.4f} m")} for key, m in values.items()]},
        token)
    at = {}
    for state in told:
        if state["revision"] != revision + 1:
            continue
        now = time.perf_counter() - began
        for mark, there in reached(state).items():
            if there:
                at.setdefault(mark, now)
        if len(at) == len(MARKS):
            return at | {"processor": processor_s(pid) - used}
    raise RuntimeError("the stream ended")


def measure(binary, folder, rounds):
    with tempfile.TemporaryDirectory() as top:
        copy = pathlib.Path(top) / "bridge"
        shutil.copytree(folder, copy)
        server = subprocess.Popen([binary, "serve", str(copy / "brief.toml")], stdout=subprocess.PIPE, text=True)
        try:
            port = int(re.search(r":(\d+)/", server.stdout.readline())[1])
            token = re.search(r'lodge-token" content="([^"]+)"', ask(port, "GET", "/").decode())[1]
            told = states(port)
            while not reached(state := next(told))["the end"]:
                pass
            keys = [key for group in json.loads(ask(port, "GET", "/api/keys"))["groups"] for key in group["keys"]]
            at = {key["key"]: key["value"] for key in keys}
            point = f"plan.outline[{point_of_a_free_edge(at)}]"
            revision, rows = state["revision"], {"form.rise": [], point: []}
            for i in range(1, rounds + 1):
                for way in (1, -1):
                    by = 1 + way * 0.004 * i
                    moved = {f"{point}[{axis}]": at[f"{point}[{axis}]"] * by for axis in (1, 2)}
                    for name, values in (("form.rise", {"form.rise": at["form.rise"] * by}), (point, moved)):
                        rows[name].append(one_edit(port, token, told, revision, values, server.pid))
                        revision += 1
            return rows
        finally:
            server.send_signal(signal.SIGINT)
            server.wait(60)


def main():
    words = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    words.add_argument("binary")
    words.add_argument("folders", nargs="+", type=pathlib.Path)
    words.add_argument("--rounds", type=int, default=10)
    options = words.parse_args()
    for folder in options.folders:
        before = os.getloadavg()[0]
        for name, rows in measure(options.binary, folder, options.rounds).items():
            print(f"{folder.name}: {len(rows)} edits of {name}; load {before:.1f} before, {os.getloadavg()[0]:.1f} after")
            for mark in [*MARKS, "processor"]:
                all_s = sorted(row[mark] for row in rows)
                p95 = all_s[math.ceil(0.95 * len(all_s)) - 1]  # nearest rank
                print(f"  {mark:<13} median {statistics.median(all_s):7.3f} s, p95 {p95:7.3f} s, most {all_s[-1]:7.3f} s", flush=True)


if __name__ == "__main__":
    main()
