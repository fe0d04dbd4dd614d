"""`skewback vary` from outside: the same results however the runs are split, killed and resumed.

usage: test_vary.py BINARY SOURCE_DIR [MPIRUN]
"""

import csv
import json
import os
import pathlib
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest

BINARY = pathlib.Path(sys.argv[1]).resolve()
SOURCE = pathlib.Path(sys.argv[2]).resolve()
MPIRUN = sys.argv[3] if len(sys.argv) > 3 and sys.argv[3] else shutil.which("mpirun")
BRIEF = (SOURCE / "examples/drovers-hop/brief.toml").read_text().replace('mesh_size = "0.2 m"', 'mesh_size = "0.3 m"')

# 15 runs; those with a rise of -1 m are bad briefs
GRID = """
[[vary]]
key = "form.rise"
values = ["1.4 m", "1.6 m", "1.8 m", "2.0 m", "-1 m"]
[[vary]]
key = "material.density"
from = "2200 kg/m3"
to = "2600 kg/m3"
steps = 3
[runs]
until = "cut"
front = ["body.mass_kg less", "form.thrust_max_n less"]
"""
RUNS = 15


class Vary(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.here = pathlib.Path(self.folder.name)
        (self.here / "brief.toml").write_text(BRIEF)
        (self.here / "over.toml").write_text(GRID)

    def tearDown(self):
        self.folder.cleanup()

    def command(self, out, *more):
        return [str(BINARY), "vary", "brief.toml", "--over", "over.toml", "--out", str(out), *more]

    def vary(self, out, *more, code=0, before=(), env=None):
        done = subprocess.run([*before, *self.command(out, *more)], cwd=self.here, capture_output=True, text=True,
                              timeout=600, env=env)
        self.assertEqual(done.returncode, code, done.stdout + done.stderr)
        return done

    def files(self, out):
        return {f.name: f.read_bytes() for f in (self.here / out).iterdir() if not f.name.startswith("journal")}

    def whole(self):
        """The results to compare with: one process, one job."""
        self.vary("whole", "--jobs", "1")
        return self.files("whole")

    def lines(self, out):
        """Runs that a journal holds."""
        path = self.here / out / "journal.jsonl"
        return max(0, path.read_bytes().count(b"\n") - 1) if path.exists() else 0

    def test_results(self):
        done = self.vary("out", "--json")
        told = json.loads(done.stdout)
        self.assertEqual((told["runs"], told["done"], told["no_structure"]), (RUNS, RUNS, 3))
        with open(self.here / "out/results.csv", newline="") as file:
            rows = list(csv.DictReader(file))
        self.assertEqual([r["run"] for r in rows], [str(i) for i in range(RUNS)])
        self.assertEqual(rows[4]["form.rise"], "1.6 m")
        self.assertEqual(rows[4]["material.density"], "2400 kg/m3")
        for row in rows[12:]:
            self.assertEqual(row["exit"], "2")
            self.assertIn("bad brief: form.rise", row["note"])
            self.assertEqual(row["body.mass_kg"], "")
        # a property of the figures, not the tool's own output: the volume of one shape does not depend on density,
        # so mass goes with it, up to the change of shape by its weight
        for a, b in ((0, 2), (3, 5), (6, 8), (9, 11)):
            ratio = float(rows[b]["body.mass_kg"]) / float(rows[a]["body.mass_kg"])
            self.assertAlmostEqual(ratio, 2600 / 2200, delta=0.01)
        # on the front: no other is lighter and pushes less
        good = [(float(r["body.mass_kg"]), float(r["form.thrust_max_n"]), r["on_front"]) for r in rows[:12]]
        for mass, thrust, on in good:
            better = any(m <= mass and t <= thrust and (m, t) != (mass, thrust) for m, t, _ in good)
            self.assertEqual(on, "no" if better else "yes", (mass, thrust))
        self.assertEqual(set(self.files("out")),
                         {"results.csv", "histograms.svg", "scatter.svg", "front.svg", "plots.pdf"})
        # the same figure as an ordinary run with that value in the brief
        (self.here / "one.toml").write_text(
            BRIEF.replace('rise = "1.8 m"', 'rise = "1.6 m"').replace('"2400 kg/m3"', '"2400 kg/m3"'))
        subprocess.run([str(BINARY), "run", "one.toml", "--until", "cut", "--out", "one"], cwd=self.here, check=False,
                       capture_output=True, timeout=300)
        summary = json.loads((self.here / "one/summary.json").read_text())
        self.assertEqual(float(rows[4]["body.mass_kg"]), summary["body"]["mass_kg"])
        self.assertEqual(float(rows[4]["form.thrust_max_n"]), summary["form"]["thrust_max_n"])

    def test_same_bytes_whatever_the_threads(self):
        whole = self.whole()
        self.vary("two", "--jobs", "2")
        self.vary("five", "--jobs", "5")
        self.assertEqual(self.files("two"), whole)
        self.assertEqual(self.files("five"), whole)

    def test_same_bytes_from_shards(self):
        whole = self.whole()
        for k in (3, 1, 2):
            self.vary(f"part{k}", "--shard", f"{k}/3")
            self.assertEqual(self.files(f"part{k}"), {})
        self.vary("merged", "--merge", "part1", "part2", "part3")
        self.assertEqual(self.files("merged"), whole)
        missing = self.vary("lacking", "--merge", "part1", "part3", code=3)
        self.assertIn("5 runs are missing", missing.stderr)

    def test_killed_ten_times(self):
        # 60 short runs
        (self.here / "over.toml").write_text(GRID.replace("steps = 3", "steps = 12").replace('"cut"', '"body"'))
        whole = self.whole()
        dice = random.Random(20270301)
        before = 0
        for kill in range(10):
            process = subprocess.Popen(self.command("out", "--resume", "--jobs", "2"), cwd=self.here,
                                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
            # every other time at least one more run is finished, else anywhere in its start too
            goal = self.lines("out") + kill % 2
            while process.poll() is None and self.lines("out") < goal:
                time.sleep(0.01)
            time.sleep(dice.uniform(0, 0.3))
            self.assertIsNone(process.poll(), "it was done before it could be killed")
            os.kill(process.pid, signal.SIGKILL)
            process.wait()
            self.assertGreaterEqual(self.lines("out"), before)  # what was finished is still there
            before = self.lines("out")
        self.assertGreaterEqual(before, 5)
        self.vary("out", "--resume")
        self.assertEqual(self.files("out"), whole)

    def test_interrupted_and_resumed(self):
        process = subprocess.Popen(self.command("out", "--jobs", "1"), cwd=self.here, stdout=subprocess.PIPE,
                                   stderr=subprocess.PIPE, text=True)
        while process.poll() is None and self.lines("out") < 2:
            time.sleep(0.01)
        process.send_signal(signal.SIGINT)
        _, errors = process.communicate(timeout=60)
        self.assertEqual(process.returncode, 130, errors)
        self.assertIn("--resume", errors)
        self.assertGreaterEqual(self.lines("out"), 2)
        self.assertEqual(self.files("out"), {})
        self.vary("out", "--resume")
        self.assertEqual(self.files("out"), self.whole())

    def test_refusals(self):
        self.vary("out")
        self.assertIn("--resume", self.vary("out", code=2).stderr)
        (self.here / "brief.toml").write_text(BRIEF + "\n# another text\n")
        self.assertIn("another brief", self.vary("out", "--resume", code=2).stderr)
        self.assertIn("another brief", self.vary("joined", "--merge", "out", code=2).stderr)
        self.assertIn("2/4", self.vary("out2", "--shard", "5/4", code=2).stderr)
        self.assertIn("no journal", self.vary("out3", "--merge", ".", code=2).stderr)
        (self.here / "over.toml").write_text(GRID.replace("form.rise", "form.rice"))
        self.assertIn("over.toml:3:", self.vary("out4", code=2).stderr)
        for name in ("out2", "out3", "out4"):
            self.assertFalse((self.here / name).exists())

    def test_a_figure_that_no_run_has(self):
        def over(figure):
            text = GRID.replace("[runs]", f'[runs]\nfigures = ["body.mass_kg", "{figure}"]')
            (self.here / "over.toml").write_text(text)

        over("bodi.mass_kg")
        self.assertIn("did you mean body?", self.vary("refused", code=2).stderr)
        over("body.mas_kg")
        said = self.vary("slip", code=3).stderr
        self.assertIn("no run has the figure body.mas_kg", said)
        self.assertNotIn("no run has the figure body.mass_kg", said)
        self.assertIn("results.csv", self.files("slip"))

    def test_draws(self):
        def draws(chunk):
            (self.here / "over.toml").write_text(f"[tolerances]\ndraws = 60\nchunk = {chunk}\n")
        draws(60)
        whole = self.whole()
        with open(self.here / "whole/results.csv", newline="") as file:
            rows = list(csv.DictReader(file))
        self.assertEqual([r["draw"] for r in rows], [str(i) for i in range(60)])
        for row in rows:
            self.assertLessEqual(float(row["key_gap_min_m"]), float(row["key_gap_max_m"]))
            self.assertEqual(int(row["packed_joints"]) > 0, float(row["packers_m"]) > 0)
        self.assertGreater(len({r["key_gap_max_m"] for r in rows}), 50)
        draws(7)  # nine runs in three parts
        for k in (1, 2, 3):
            self.vary(f"part{k}", "--shard", f"{k}/3")
        self.vary("merged", "--merge", "part1", "part2", "part3")
        self.assertEqual(self.files("merged"), whole)

    def test_draws_proved(self):
        """The first draws are proved as packed; `run` proves the same ones and finds the same."""
        (self.here / "over.toml").write_text("[tolerances]\ndraws = 12\nchunk = 5\nproofs = 8\n")
        self.whole()
        with open(self.here / "whole/results.csv", newline="") as file:
            rows = list(csv.DictReader(file))
        for k, row in enumerate(rows):
            proved = k < 8 and row["goes_in"] == "yes"
            self.assertEqual(row["stands"] != "", proved, row)
        self.assertTrue(any(row["stands"] for row in rows))
        (self.here / "brief.toml").write_text(BRIEF + "\n[tolerances]\ndraws = 100\nproof_draws = 8\n")
        subprocess.run([str(BINARY), "run", "brief.toml", "--out", "run", "--until", "survey"], cwd=self.here,
                       capture_output=True, timeout=600)
        with open(self.here / "run/tolerances/draws.csv", newline="") as file:
            own = list(csv.DictReader(file))
        for a, b in zip(rows, own):
            self.assertEqual(a["load_factor"] != "", b["load_factor"] != "")
            if a["load_factor"]:
                self.assertAlmostEqual(float(a["load_factor"]), float(b["load_factor"]), 3)

    def test_mpi(self):
        version = subprocess.run([str(BINARY), "vary", "--help"], capture_output=True, text=True, timeout=60).stdout
        if not MPIRUN or "with MPI" not in version:
            self.skipTest("no mpirun here, or built without MPI")
        whole = self.whole()
        env = dict(os.environ, OMPI_ALLOW_RUN_AS_ROOT="1", OMPI_ALLOW_RUN_AS_ROOT_CONFIRM="1")
        for n in ("2", "3"):
            self.vary("mpi" + n, before=[MPIRUN, "--oversubscribe", "-n", n], env=env)
            self.assertEqual(self.files("mpi" + n), whole)
        # bad input and a journal that is there let all processes go
        self.vary("mpi2", code=2, before=[MPIRUN, "--oversubscribe", "-n", "2"], env=env)


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0]], verbosity=2)
