"""`skewback serve` from outside: how it starts, what it refuses, how it ends.

usage: test_serve.py BINARY BRIEF
"""

import http.client
import json
import pathlib
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import unittest

BINARY, BRIEF = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()
TOKEN = "abcdefghijklmnop-0123456789"


class Serving:
    """A server on a copy of the brief."""

    def __init__(self, folder, *arguments):
        self.process = subprocess.Popen([BINARY, "serve", str(folder / "brief.toml"), *map(str, arguments)],
                                        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        self.said = self.process.stdout.readline()
        self.port = int(re.search(r":(\d+)/", self.said)[1])
        found = re.search(r'lodge-token" content="([^"]+)"', self.get("/")[1].decode())
        self.token = found[1] if found else ""

    def ask(self, method, path, body=None, **heads):
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        heads = {name.replace("_", "-"): value for name, value in heads.items()}
        link.request(method, path, body, heads)
        reply = link.getresponse()
        found = reply.status, reply.read(), dict(reply.getheaders())
        link.close()
        return found

    def get(self, path, **heads):
        return self.ask("GET", path, **heads)

    def post(self, path, message, token=None):
        status, raw, _ = self.ask("POST", path, json.dumps(message), X_Lodge_Token=self.token if token is None else token,
                                  Content_Type="application/json")
        return status, raw

    def state(self):
        return json.loads(self.get("/api/state")[1])

    def wait_for(self, part):
        until = time.time() + 240
        while time.time() < until:
            state = self.state()
            if state["parts"][part]["of"] == state["revision"] and state["busy"] is None:
                return state
            if state["parts"][part]["failed"]:
                raise AssertionError(state)
            time.sleep(0.2)
        raise AssertionError(f"no {part} in time: {state}")

    def end(self, how=signal.SIGINT):
        began = time.time()
        if self.process.poll() is None:
            self.process.send_signal(how)
        _, errors = self.process.communicate(timeout=60)
        return self.process.returncode, errors, time.time() - began


class Serve(unittest.TestCase):
    def setUp(self):
        self.top = tempfile.TemporaryDirectory()
        self.folder = pathlib.Path(self.top.name) / "bridge"
        shutil.copytree(BRIEF.parent, self.folder)
        self.servers = []

    def tearDown(self):
        for server in self.servers:
            if server.process.poll() is None:
                server.process.kill()
            server.process.communicate()
        self.top.cleanup()

    def serve(self, *arguments):
        self.servers.append(Serving(self.folder, *arguments))
        return self.servers[-1]

    def refused(self, *arguments):
        done = subprocess.run([BINARY, "serve", *map(str, arguments)], capture_output=True, text=True, timeout=60)
        self.assertEqual(done.returncode, 2, done)
        self.assertEqual(done.stdout, "")
        return done.stderr

    def test_what_cannot_be_served_is_bad_input(self):
        bad = self.folder / "bad.toml"
        bad.write_text("name = 7\n")
        self.assertIn("bad.toml", self.refused(bad))
        self.refused(self.folder / "not-there.toml")
        brief = self.folder / "brief.toml"
        self.refused(brief, "--listen", "0.0.0.0")
        token = self.folder / "token"
        self.assertIn("no such file", self.refused(brief, "--listen", "0.0.0.0", "--token-file", token))
        for text in ("", "\n", "short\n", "with blanks in it and long enough\n"):
            token.write_text(text)
            self.refused(brief, "--listen", "0.0.0.0", "--token-file", token)
        self.refused(brief, "--daybook", self.folder / "none")
        self.refused(brief, "--port", "0")
        with socket.socket() as taken:
            taken.bind(("127.0.0.1", 0))
            taken.listen()
            self.assertIn("cannot be had", self.refused(brief, "--port", taken.getsockname()[1]))

    def test_the_page_comes_out_of_the_program(self):
        server = self.serve()
        for path in ("/", "/site"):
            status, raw, heads = server.get(path)
            self.assertEqual(status, 200)
            self.assertIn("default-src 'self'", heads["Content-Security-Policy"])
            parts = re.findall(r'(?:src|href)="\.?(/[^"]+)"', raw.decode())
            self.assertTrue(parts)
            for part in parts:
                status, body, heads = server.get(part)
                self.assertEqual(status, 200, part)
                self.assertTrue(body)
                self.assertEqual(server.get(part, If_None_Match=heads["ETag"])[0], 304)
        self.assertEqual(len(server.token), 32)

    def test_views_come_once_and_then_by_their_tag(self):
        server = self.serve()
        server.wait_for("proof")
        for name in ("shape", "blocks", "proof"):
            status, raw, heads = server.get(f"/api/view/{name}")
            self.assertEqual((status, raw[:4]), (200, b"SKB1"), name)
            head = json.loads(raw[8:8 + int.from_bytes(raw[4:8], "little")])
            self.assertEqual((head["view"], head["of"], head["fresh"]), (name, server.state()["revision"], True))
            status, raw, _ = server.get(f"/api/view/{name}", If_None_Match=heads["ETag"])
            self.assertEqual((status, raw), (304, b""))
        self.assertEqual(server.get("/api/view/stages")[0], 404)
        self.assertTrue(json.loads(server.get("/api/findings")[1])["list"])
        status, raw = server.post("/api/ask", {"case": "dead"})
        self.assertEqual((status, raw[:4]), (200, b"SKB1"), raw[:300])

    def test_a_change_is_seen_by_all_saved_beside_and_undone(self):
        server = self.serve()
        before = server.wait_for("proof")
        keys = [k for group in json.loads(server.get("/api/keys")[1])["groups"] for k in group["keys"]]
        rise = next(k for k in keys if k["key"] == "form.rise")
        changes = [{"key": "form.rise", "text": json.dumps(f"{rise['value'] * 1.05:.3f} m")}]
        old = {"revision": before["revision"], "changes": changes}
        self.assertEqual(server.post("/api/edit", old, token="")[0], 403)
        self.assertEqual(server.post("/api/edit", old)[0], 200)
        self.assertEqual(server.post("/api/edit", old)[0], 409)
        after = server.state()
        self.assertEqual(after["revision"], before["revision"] + 1)
        self.assertFalse(after["saved"])
        text = (self.folder / "brief.toml").read_bytes()
        self.assertEqual(server.post("/api/save", {"name": "higher"})[0], 200)
        self.assertEqual((self.folder / "brief.toml").read_bytes(), text)
        self.assertIn(changes[0]["text"], (self.folder / "higher.toml").read_text())
        self.assertEqual(server.post("/api/save", {"name": "higher"})[0], 400)
        self.assertEqual(server.post("/api/save", {"name": "../higher"})[0], 400)
        server.wait_for("proof")
        self.assertEqual(server.get("/api/compare?with=brief.toml")[0], 200)
        self.assertEqual(server.get("/api/compare?with=../bridge/brief.toml")[0], 400)
        self.assertEqual(server.post("/api/undo", {})[0], 200)
        status, raw = server.post("/api/undo", {})
        self.assertEqual(status, 409)
        self.assertIn("one with a change to undo", raw.decode())
        again = [k for group in json.loads(server.get("/api/keys")[1])["groups"] for k in group["keys"]]
        self.assertEqual(again, keys)

    def test_no_change_leads_out_of_the_folder(self):
        server = self.serve()
        (pathlib.Path(self.top.name) / "secret.svg").write_text("<svg/>")
        for text in ('"../secret.svg"', '"/etc/passwd"'):
            for key in ("plan.file", "survey.file"):
                status, raw = server.post("/api/edit", {"revision": server.state()["revision"],
                                                        "changes": [{"key": key, "text": text}]})
                self.assertEqual(status, 400)
                self.assertIn("a file in the folder of the brief", raw.decode())

    def test_events_tell_of_a_change_made_elsewhere(self):
        server = self.serve()
        server.wait_for("proof")
        stream = http.client.HTTPConnection("127.0.0.1", server.port, timeout=60)
        stream.request("GET", "/api/events")
        reply = stream.getresponse()
        self.assertEqual(reply.getheader("Content-Type"), "text/event-stream")
        self.assertEqual(reply.readline(), b"event: state\n")
        first = json.loads(reply.readline()[6:])
        keys = [k for group in json.loads(server.get("/api/keys")[1])["groups"] for k in group["keys"]]
        rise = next(k for k in keys if k["key"] == "form.rise")
        self.assertEqual(server.post("/api/edit", {
            "revision": first["revision"],
            "changes": [{"key": "form.rise", "text": json.dumps(f"{rise['value'] * 1.02:.3f} m")}]})[0], 200)
        while True:
            line = reply.readline()
            self.assertTrue(line, "the stream ended")
            if line.startswith(b"data: ") and json.loads(line[6:]).get("revision") == first["revision"] + 1:
                break
        code, errors, took_s = server.end()
        self.assertEqual(code, 0, errors)
        self.assertIn("in no file", errors)
        self.assertLess(took_s, 5)
        stream.close()

    def test_both_signals_end_it_well(self):
        for how in (signal.SIGINT, signal.SIGTERM):
            server = self.serve()
            server.wait_for("proof")
            code, errors, took_s = server.end(how)
            self.assertEqual((code, errors), (0, ""))
            self.assertLess(took_s, 3)

    def test_others_need_the_token(self):
        (self.folder / "token").write_text(TOKEN + "\n")
        server = self.serve("--listen", "0.0.0.0", "--token-file", self.folder / "token")
        self.assertIn("#token=" + TOKEN, server.said)
        self.assertEqual(server.token, "")
        self.assertNotIn(TOKEN, server.get("/site")[1].decode())
        self.assertEqual(server.get("/api/state")[0], 403)
        self.assertEqual(server.get("/api/events")[0], 403)
        self.assertEqual(server.get("/api/state", X_Lodge_Token=TOKEN)[0], 200)
        self.assertEqual(server.post("/api/undo", {}, token="x" * len(TOKEN))[0], 403)
        self.assertEqual(server.post("/api/undo", {}, token=TOKEN)[0], 409)  # nothing to undo

    def test_only_under_its_own_address(self):
        server = self.serve()
        self.assertEqual(server.get("/api/state", Host="bridge.example")[0], 403)
        self.assertEqual(server.get("/", Host=f"bridge.example:{server.port}")[0], 403)
        self.assertEqual(server.get("/api/state", Origin="http://bridge.example")[0], 403)
        self.assertEqual(server.get("/api/state", Host=f"localhost:{server.port}")[0], 200)
        self.assertEqual(server.get("/api/state", Origin=f"http://127.0.0.1:{server.port}")[0], 200)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
