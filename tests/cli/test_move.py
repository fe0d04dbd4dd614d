"""`skewback move` from outside: exit codes, messages, what is left on the disk, the same bytes.

usage: test_move.py BINARY SOURCE_DIR
"""

import json
import math
import pathlib
import signal
import subprocess
import sys
import tempfile
import time
import unittest

BINARY = pathlib.Path(sys.argv[1]).resolve()
SOURCE = pathlib.Path(sys.argv[2]).resolve()
BRIEF = SOURCE / "examples/drovers-hop/brief.toml"


def cube(name, low, high, **more):
    (x0, y0, z0), (x1, y1, z1) = low, high
    return {"id": name,
            "vertices": [[x0, y0, z0], [x1, y0, z0], [x1, y1, z0], [x0, y1, z0],
                         [x0, y0, z1], [x1, y0, z1], [x1, y1, z1], [x0, y1, z1]],
            "faces": [[0, 3, 2, 1], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]], **more}


# 600 kg, half as wide as high; a push at the top of a quarter of its weight is what it takes to tip it
STONE = {"blocks": [cube("ground-bank", (-2, -2, -1), (3, 3, 0), fixed=True),
                    cube("stone", (0, 0, 0), (0.5, 0.5, 1), density=2400)],
         "friction": 0.6, "joints": "detect",
         "cases": [{"id": "dead"}, {"id": "push", "live": [{"block": "stone", "point": [0, 0.25, 1],
                                                            "force": [600 * 9.81 / 4, 0, 0]}]}]}


class Move(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.here = pathlib.Path(self.folder.name)
        (self.here / "stone.json").write_text(json.dumps(STONE))

    def tearDown(self):
        self.folder.cleanup()

    def move(self, *arguments, code=0):
        result = subprocess.run([BINARY, "move", *map(str, arguments)], cwd=self.here, capture_output=True, timeout=300)
        self.assertEqual(result.returncode, code, result.stderr.decode() + result.stdout.decode())
        return result

    def refused(self, *arguments, says):
        before = sorted(self.here.rglob("*"))
        message = self.move(*arguments, code=2).stderr.decode()
        for part in says:
            self.assertIn(part, message)
        self.assertEqual(sorted(self.here.rglob("*")), before, "something was written")

    def test_rest_and_tipping_on_either_side_of_the_lever(self):
        # by hand: it tips at W b / (2 h) = W / 4 of push, here 0.2 m from the middle at 0.8 of it
        found = json.loads(self.move("stone.json", "--case", "push", "--factor", "0.8", "--json").stdout)
        self.assertEqual([c["ending"] for c in found["cases"]], ["at rest"])
        found = json.loads(self.move("stone.json", "--case", "push", "--factor", "1.1", "--json", code=3).stdout)
        self.assertEqual(found["cases"][0]["ending"], "moving off")
        self.assertEqual(found["cases"][0]["moved_block"], "stone")

    def test_every_case_in_words(self):
        text = self.move("stone.json", "--factor", "0.5").stdout.decode()
        for part in ("dead: comes to rest", "push: comes to rest", "energy error", "contact updates", "no clock's"):
            self.assertIn(part, text)

    def test_recorded_motion(self):
        (self.here / "scene.toml").write_text(
            '[[ground]]\nsupport = "bank"\nshift = ["0 mm", "0 mm", "-20 mm"]\nturn = "90 degrees"\nfrom = "0.5 s"\nover = "2 s"\n')
        self.move("stone.json", "--case", "dead", "--scene", "scene.toml", "--out", "out")
        self.assertEqual(sorted(p.name for p in (self.here / "out/motion").iterdir()), ["dead.json", "dead.svg"])
        text = (self.here / "out/motion/dead.json").read_text()
        file = json.loads(text)
        self.assertEqual(file["format"], "recorded motion")
        self.assertEqual(file["blocks"], ["ground-bank", "stone"])
        for frame in file["frames"]:
            self.assertIn(json.dumps(frame, separators=(",", ":")), text)  # digits that read back are the digits written
            for pose in frame["poses"]:
                self.assertAlmostEqual(math.hypot(*pose[3:]), 1, 12)
        # where a point of the stone goes: by hand, a quarter turn about its own middle and 20 mm down
        first, last = (file["frames"][k]["poses"][1] for k in (0, -1))
        self.assertAlmostEqual(last[2] - first[2], -0.02, 4)
        self.assertAlmostEqual(2 * math.degrees(math.atan2(last[6], last[3])), 90, 1)

    def test_the_same_bytes_for_any_jobs(self):
        for jobs in ("1", "3"):
            self.move("stone.json", "--factor", "0.5", "--jobs", jobs, "--out", "jobs" + jobs)
        for file in (self.here / "jobs1").rglob("*"):
            if file.is_file():
                other = self.here / "jobs3" / file.relative_to(self.here / "jobs1")
                self.assertEqual(file.read_bytes(), other.read_bytes(), file)

    def test_verify_checks_what_was_recorded(self):
        self.move("stone.json", "--case", "push", "--factor", "0.8", "--out", "out")
        checked = json.loads(subprocess.run([BINARY, "verify", "out", "--json"], cwd=self.here, capture_output=True).stdout)
        self.assertEqual([(f["kind"], f["ok"]) for f in checked["files"]], [("motion", True)])
        path = self.here / "out/motion/push.json"
        record = json.loads(path.read_text())
        record["joints"][0]["force_n"][2] *= 1.01
        path.write_text(json.dumps(record))
        result = subprocess.run([BINARY, "verify", "out"], cwd=self.here, capture_output=True)
        self.assertEqual(result.returncode, 3)
        self.assertIn("out of balance", result.stdout.decode())

    def test_raised_until_it_tips(self):
        # by hand: a quarter of its weight tips the stone, which is the whole load of the case
        found = json.loads(self.move("stone.json", "--case", "push", "--raise", "--out", "out", "--json", code=3).stdout)
        case = found["cases"][0]
        self.assertEqual(case["falling_block"], "stone")
        self.assertLess(case["held"], 1)
        self.assertAlmostEqual(case["held"], 1, delta=0.02)
        self.assertLess(case["moved_off"] / case["held"], 1.0101)
        self.assertEqual(json.loads((self.here / "out/motion/push.json").read_text())["ending"], "moving off")
        checked = subprocess.run([BINARY, "verify", "out"], cwd=self.here, capture_output=True)
        self.assertEqual(checked.returncode, 0, checked.stdout.decode())
        self.move("stone.json", "--case", "push", "--raise", "--out", "out", code=3)  # its own is replaced

    def test_how_far_a_footing_may_turn(self):
        # by hand: the stone tips over its edge at atan(b / h) = 26.6 degrees, before it slides at atan 0.6 = 31
        (self.here / "asked.toml").write_text('[footings]\nturn_most = "60 degrees"\nslow = 0.03\n[end]\nfar = "0.2 m"\n')
        result = self.move("stone.json", "--case", "dead", "--footing", "bank", "--scene", "asked.toml", "--out", "out", "--json")
        ways = json.loads(result.stdout)["cases"][0]["ways"]
        turns = [w for w in ways if w["unit"] == "rad" and not w["beyond"]]
        self.assertTrue(turns)
        for way in turns:
            self.assertAlmostEqual(math.degrees(way["held"]), 26.565, delta=1.0, msg=way["way"])
            self.assertEqual(way["falling_block"], "stone")
        self.assertTrue((self.here / "out/footings/dead.svg").exists())

    def test_draws(self):
        # friction from 0.3 to 0.9 evenly, a slope that asks for 0.5: a third slide
        slope = {"blocks": STONE["blocks"], "friction": 0.6, "joints": "detect",
                 "cases": [{"id": "slope", "gravity": [9.81 * 0.5 / math.hypot(1, 0.5), 0, -9.81 / math.hypot(1, 0.5)]}]}
        slope["blocks"] = [slope["blocks"][0], cube("stone", (0, 0, 0), (1, 1, 0.5), density=2400)]
        (self.here / "slope.json").write_text(json.dumps(slope))
        (self.here / "asked.toml").write_text("[draws]\nfriction_least = 0.5\nfriction_most = 1.5\nseed = 3\n")
        found = json.loads(self.move("slope.json", "--draws", "60", "--scene", "asked.toml", "--json", code=3).stdout)["cases"][0]
        self.assertLess(found["low"], 1 / 3)
        self.assertGreater(found["high"], 1 / 3)
        self.assertLess(found["high"] - found["low"], 0.3)
        for draw in found["draws"]:
            if abs(draw["friction_least"] - 0.5) > 0.01:
                self.assertEqual(draw["ending"], "at rest" if draw["friction_least"] > 0.5 else "moving off")

    def test_questions_that_cannot_be_asked(self):
        self.refused("stone.json", "--raise", "--draws", "3", says=["one question at a time"])
        self.refused("stone.json", "--footing", "bnk", says=["--footing", "did you mean \"bank\""])
        self.refused("stone.json", "--draws", "0", says=["--draws"])
        (self.here / "asked.toml").write_text('[draws]\nfriction_least = 2\nfriction_most = 1\nseeds = 1\n[footings]\nways = false\n')
        self.refused("stone.json", "--draws", "3", "--scene", "asked.toml",
                     says=["asked.toml:1", "less than friction_least", "seeds", "bearings = 8"])

    def test_faults(self):
        (self.here / "bad.toml").write_text('[[removal]]\nblock = "stome"\nat = "-1 s"\n[end]\ntime = 3\n')
        self.refused("stone.json", "--scene", "bad.toml",
                     says=["bad.toml:2", "did you mean \"stone\"", "bad.toml:3", "at least 0 s", "bad.toml:5", "a time"])
        self.refused("stone.json", "--case", "pusch", says=["--case", "did you mean \"push\""])
        self.refused("stone.json", "--scene", "none.toml", says=["none.toml", "no such file"])
        self.refused("nowhere.json", says=["nowhere.json"])
        self.refused(".", says=["without assembly.json"])
        self.refused("stone.json", "--damping", "soft", says=["--damping"])
        self.refused("stone.json", "--factor", "-1", says=["--factor"])

    def test_other_results_are_not_replaced(self):
        (self.here / "run").mkdir()
        (self.here / "run/summary.json").write_text('{"ok": true, "required": []}')
        self.refused("stone.json", "--out", "run", says=["results of something else"])
        self.move("stone.json", "--case", "dead", "--out", "mine")
        self.move("stone.json", "--case", "dead", "--out", "mine")  # its own are

    def test_a_brief_and_its_scene(self):
        scene = SOURCE / "examples/drovers-hop/settlement.toml"
        self.move(BRIEF, "--case", "dead", "--scene", scene, "--out", "out")
        self.move("out", "--case", "dead", "--scene", SOURCE / "examples/drovers-hop/removal.toml", code=3)

    def test_interrupted(self):
        (self.here / "long.toml").write_text(
            '[damping]\npurpose = "none"\n[end]\ntime = "3600 s"\nfar = "1000 m"\nsteps = 1000000000\n')
        run = subprocess.Popen([BINARY, "move", BRIEF, "--case", "dead", "--scene", "long.toml", "--out", "out"],
                               cwd=self.here, stderr=subprocess.PIPE, stdout=subprocess.PIPE)
        time.sleep(5)
        run.send_signal(signal.SIGINT)
        self.assertEqual(run.wait(timeout=60), 130)
        self.assertFalse((self.here / "out").exists())
        run.communicate()


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0]])
