"""The commands from outside: exit codes, messages, and what is left on the disk.

usage: test_cli.py BINARY SOURCE_DIR
"""

import json
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time
import unittest

BINARY = pathlib.Path(sys.argv[1]).resolve()
SOURCE = pathlib.Path(sys.argv[2]).resolve()
DROVERS_HOP = (SOURCE / "examples/drovers-hop/brief.toml").read_text()
WREN_LEAT = (SOURCE / "examples/wren-leat/brief.toml").read_text()


def changed(text, old, new):
    assert old in text, f"the example no longer has {old!r}"
    return text.replace(old, new, 1)


def without_towpath():
    start = WREN_LEAT.index('[[plan.support]]\nid = "towpath"')
    return WREN_LEAT[:start] + WREN_LEAT[WREN_LEAT.index("[form]"):]


# name: (text, parts of the message)
BAD_BRIEFS = {
    "empty file": ("", ["an empty file", "skewback new"]),
    "missing unit": (changed(DROVERS_HOP, '"1.8 m"', '"1.8"'), ["form.rise", '"1.8"', "a length", "add the unit"]),
    "bare number": (changed(DROVERS_HOP, '"1.8 m"', "1.8"), ["form.rise", "the bare number 1.8", "in quotes"]),
    "unknown key": (changed(DROVERS_HOP, "friction = 0.6", "fricton = 0.6"),
                    ["joints.fricton", "unknown key", 'did you mean "friction"?']),
    "negative rise": (changed(DROVERS_HOP, '"1.8 m"', '"-1.8 m"'), ["form.rise", "-1.8 m", "over 0"]),
    "self-crossing outline": (
        changed(DROVERS_HOP, '["4.5 m", "0.95 m"], ["-4.5 m", "0.95 m"]', '["-4.5 m", "0.95 m"], ["4.5 m", "0.95 m"]'),
        ["plan.outline", "crosses or touches", "put the corners in order"]),
    "support off the outline": (changed(DROVERS_HOP, 'ends = [["-4.5 m", "0.95 m"]', 'ends = [["-5 m", "0.95 m"]'),
                                ["plan.support[1].ends[1]", "0.5 m off the outline", "the nearest is (-4.5, 0.95) m"]),
    "an arm with no support": (without_towpath(), ["nothing holds it up", "put a support at the end of that arm"]),
    "NaN": (changed(DROVERS_HOP, "friction = 0.6", "friction = nan"), ["joints.friction", "finite"]),
    "NaN with a unit": (changed(DROVERS_HOP, '"1.8 m"', '"nan m"'), ["form.rise", "finite"]),
    "invalid UTF-8": (DROVERS_HOP.encode() + b"# \xff\n", ["not UTF-8", "save the file as UTF-8"]),
    "not TOML": (changed(DROVERS_HOP, '"1.8 m"', '"1.8 m'), ["does not end on its line"]),
}


class Commands(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.here = pathlib.Path(self.folder.name)

    def tearDown(self):
        self.folder.cleanup()

    def skewback(self, *arguments, timeout=600):
        return subprocess.run([BINARY, *map(str, arguments)], cwd=self.here, capture_output=True, timeout=timeout)

    def on_disk(self):
        return sorted(str(p.relative_to(self.here)) for p in self.here.rglob("*"))

    def refused(self, arguments, says):
        before = self.on_disk()
        result = self.skewback(*arguments)
        message = result.stderr.decode()
        self.assertEqual(result.returncode, 2, message)
        for part in says:
            self.assertIn(part, message)
        self.assertEqual(self.on_disk(), before, "something was written")
        return result


class BadInput(Commands):
    def test_bad_briefs(self):
        for name, (text, says) in BAD_BRIEFS.items():
            with self.subTest(name):
                (self.here / "bad.toml").write_bytes(text if isinstance(text, bytes) else text.encode())
                for command in ("check", "run"):
                    self.refused([command, "bad.toml"], ["bad.toml"] + says)

    def test_no_file_and_a_directory(self):
        for command in ("check", "run"):
            self.refused([command, "nowhere.toml"], ["no such file"])
            self.refused([command, "."], ["a directory"])
        self.refused(["stand", "nowhere.json"], ["nowhere.json"])
        self.refused(["stand", "."], ["."])
        self.refused(["verify", "nowhere"], ["nowhere"])
        self.refused(["gentler", "nowhere.toml"], ["nowhere.toml"])

    def test_faults_as_json_name_line_and_column(self):
        text = changed(DROVERS_HOP, '"1.8 m"', "1.8")
        (self.here / "bad.toml").write_text(text)
        found = json.loads(self.refused(["check", "bad.toml", "--json"], []).stdout)
        self.assertIs(found["ok"], False)
        [fault] = found["faults"]
        lines = text.split("\n")
        self.assertEqual(lines[fault["line"] - 1][fault["column"] - 1:], "1.8")
        self.assertEqual(fault["key"], "form.rise")

    def test_usage_errors(self):
        for arguments in ([], ["fly"], ["run"], ["check", "a", "b"], ["new", "x", "--from", "nothing"],
                          ["run", "x.toml", "--until", "never"], ["run", "x.toml", "--jobs", "0"],
                          ["stand", "x.json", "--cap", "0"], ["stand", "x.json", "--friction", "-1"]):
            with self.subTest(arguments):
                self.refused(arguments, [])

    def test_results_never_replace_strangers(self):
        (self.here / "brief.toml").write_text(DROVERS_HOP)
        (self.here / "mine").mkdir()
        (self.here / "mine/notes.txt").write_text("keep")
        self.refused(["run", "brief.toml", "--out", "mine"], ["other things in it", "--out"])
        (self.here / "mine/summary.json").write_text('{"theirs": 1}')
        self.refused(["run", "brief.toml", "--out", "mine"], ["other things in it"])
        self.refused(["run", "brief.toml", "--out", "brief.toml"], ["a file of that name"])
        (self.here / "summary.json").write_text('{"ok": true, "required": []}')
        self.refused(["run", "brief.toml", "--out", "."], ["the folder that the brief is in"])


class NewAndCheck(Commands):
    def test_help_and_version(self):
        for arguments in (["--help"], ["--version"], *([c, "--help"] for c in ("new", "check", "run", "stand", "gentler", "verify", "daybook"))):
            result = self.skewback(*arguments)
            self.assertEqual(result.returncode, 0, arguments)
            self.assertTrue(result.stdout)
        text = self.skewback("--help").stdout.decode()
        for part in ("skewback new", "Exit codes", "licensed engineer", "verify"):
            self.assertIn(part, text)

    def test_every_starter_is_the_example_and_has_no_faults(self):
        for example in sorted((SOURCE / "examples").glob("*/brief.toml")):
            name = example.parent.name
            self.assertEqual(self.skewback("new", name, "--from", name).returncode, 0)
            self.assertEqual((self.here / name / "brief.toml").read_bytes(), example.read_bytes())
            checked = self.skewback("check", f"{name}/brief.toml", "--json")
            self.assertEqual(checked.returncode, 0, checked.stderr)
            self.assertEqual(json.loads(checked.stdout)["name"], name)

    def test_new_never_overwrites(self):
        self.assertEqual(self.skewback("new", "mine").returncode, 0)
        (self.here / "mine/brief.toml").write_text("changed")
        self.refused(["new", "mine"], ["there already"])
        self.assertEqual((self.here / "mine/brief.toml").read_text(), "changed")


def two_cubes(friction):
    """A cube on a fixed cube, with a push at its foot of its own weight times the load factor."""
    corners = [[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0], [0, 0, 1], [1, 0, 1], [1, 1, 1], [0, 1, 1]]
    faces = [[0, 3, 2, 1], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]]
    weight = 1000 * 9.81
    return {
        "blocks": [
            {"id": "ground", "vertices": [[x, y, z - 1] for x, y, z in corners], "faces": faces, "density": 1000,
             "fixed": True},
            {"id": "cube", "vertices": corners, "faces": faces, "density": 1000, "fixed": False},
        ],
        "friction": friction,
        "joints": "detect",
        "cases": [{"id": "dead"},
                  {"id": "push", "live": [{"block": "cube", "point": [0, 0.5, 0], "force": [weight, 0, 0]}]}],
    }


def spoiled(change):
    """Two cubes with their joint listed, after a change to the object; None from it keeps the object."""
    assembly = two_cubes(0.6)
    assembly["joints"] = [{"a": "ground", "b": "cube", "polygon": [[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]]}]
    change(assembly)
    return json.dumps(assembly)


def lower(assembly, by):
    assembly["joints"] = "detect"
    assembly["blocks"][1]["vertices"] = [[x, y, z - by] for x, y, z in assembly["blocks"][1]["vertices"]]


GOOD_CUBES = spoiled(lambda a: None)
# name: (text, parts of the message: where, and what is wrong there)
BAD_ASSEMBLIES = {
    "overlap": (spoiled(lambda a: lower(a, 0.3)), ['"ground" reaches 300 mm into "cube"', "[0.500000, 0.500000, 0.000000]"]),
    "one in the place of another": (
        spoiled(lambda a: (lower(a, 0), a["blocks"].append(dict(a["blocks"][1], id="twin")))), ['"cube" reaches', '"twin"']),
    "face inside out": (spoiled(lambda a: a["blocks"][1]["faces"][2].reverse()),
                        ["blocks[1].faces[2]", "a face inside out", "at [", '(block "cube")']),
    "solid inside out": (spoiled(lambda a: a["blocks"][1].update(faces=[f[::-1] for f in a["blocks"][1]["faces"]])),
                         ["blocks[1].faces", "volume of -1.0", "counter-clockwise"]),
    "open solid": (spoiled(lambda a: a["blocks"][1].update(faces=a["blocks"][1]["faces"][:-1])),
                   ["blocks[1].faces", "open surface", "vertices 0 at [0.000000, 0.000000, 0.000000] and 3 at", '(block "cube")']),
    "flat solid": (spoiled(lambda a: a["blocks"][1].update(vertices=[[x, y, 0] for x, y, z in a["blocks"][1]["vertices"]])),
                   ["blocks[1].faces", "volume"]),
    "face that is not flat": (spoiled(lambda a: a["blocks"][1]["vertices"].__setitem__(6, [1, 1, 1.1])),
                              ["blocks[1].faces[1]", "off one plane"]),
    "no such vertex": (spoiled(lambda a: a["blocks"][1]["faces"][0].__setitem__(0, 99)),
                       ["blocks[1].faces[0][0]", "99", "from 0 to 7"]),
    "zero density": (spoiled(lambda a: a["blocks"][1].update(density=0)), ["blocks[1].density", 'found 0; expected a number above 0 (block "cube")']),
    "no fixed block": (spoiled(lambda a: a["blocks"][0].update(fixed=False)), ["blocks", "no fixed block"]),
    "no free block": (spoiled(lambda a: a["blocks"][1].update(fixed=True)), ["blocks", "no free block"]),
    "load on a missing block": (spoiled(lambda a: a["cases"][1]["live"][0].update(block="nobody")),
                                ["cases[1].live[0].block", '"nobody"']),
    "joint to a missing block": (spoiled(lambda a: a["joints"][0].update(b="nobody")), ["joints[0].b", '"nobody"']),
    "joint to itself": (spoiled(lambda a: a["joints"][0].update(b="ground")), ["joints[0]", "joined to itself"]),
    "duplicate names": (spoiled(lambda a: a["blocks"].append(a["blocks"][1])), ["blocks[2].id", '"cube" for a second time']),
    "duplicate cases": (spoiled(lambda a: a["cases"][1].update(id="dead")), ["cases[1].id", '"dead" for a second time']),
    "joint that is not flat": (spoiled(lambda a: a["joints"][0]["polygon"].__setitem__(2, [1, 1, 0.05])),
                               ["joints[0]", "12.5 mm off one plane, at [", '(joint of "ground" and "cube")']),
    "joint that reaches beyond the faces": (
        spoiled(lambda a: a["joints"][0].update(polygon=[[-1, 0, 0], [1, 0, 0], [1, 1, 0], [-1, 1, 0]])),
        ["joints[0]", "1 m2 of the polygon beyond the faces of block"]),
    "joint that never slips": (spoiled(lambda a: a["joints"][0].update(friction=1e6)),
                               ["joints[0].friction", "up to 10"]),
    "heavier than anything": (spoiled(lambda a: a["blocks"][1].update(density=1e300)),
                              ["blocks[1].density", "no more than 1e5"]),
    "joint that crosses itself": (spoiled(lambda a: a["joints"][0].update(polygon=[[0, 0, 0], [1, 1, 0], [1, 0, 0], [0, 1, 0]])),
                                  ["joints[0]", "does not cross itself"]),
    "joint off the faces": (
        spoiled(lambda a: a["joints"][0].update(polygon=[[0, 0, 0.2], [1, 0, 0.2], [1, 1, 0.2], [0, 1, 0.2]])),
        ["joints[0]", 'no such face of block "ground"']),
    "no cases": (spoiled(lambda a: a.update(cases=[])), ["cases", "no load case"]),
    "negative friction": (spoiled(lambda a: a.update(friction=-1)), ["friction", "found -1"]),
    "NaN": (GOOD_CUBES.replace("[1, 1, 1]", "[1, NaN, 1]"), ["bad.json:1:", 'found "N"']),
    "infinite": (GOOD_CUBES.replace('"friction": 0.6', '"friction": Infinity'), ["bad.json:1:", 'found "I"']),
    "too large to hold": (GOOD_CUBES.replace('"friction": 0.6', '"friction": 1e400'), ["too large"]),
    "so large that its volume is not": (
        spoiled(lambda a: (lower(a, 0), a["blocks"][1].update(
            vertices=[[1e200 * c for c in p] for p in a["blocks"][1]["vertices"]]))), ["blocks[1].vertices", "1,000 km"]),
    "empty file": ("", ["bad.json:1:1", "an empty file"]),
    "truncated": (GOOD_CUBES[: len(GOOD_CUBES) // 2], ["bad.json:1:", "the end of the file"]),
    "more after the end": (GOOD_CUBES + "}", ["bad.json:1:", 'found "}"']),
    "a key twice": (GOOD_CUBES.replace('"friction": 0.6', '"friction": 0.6, "friction": 0.7'), ["friction", "twice"]),
    "a list": ("[]", ["expected an object"]),
    "lists without end": ("[" * 100000 + "]" * 100000, ["nested"]),
}


class BadAssemblies(Commands):
    def test_each_is_refused_at_its_place(self):
        (self.here / "bad.json").write_text(GOOD_CUBES)
        self.assertEqual(self.skewback("stand", "bad.json").returncode, 3)  # the push is too much for its friction
        for name, (text, says) in BAD_ASSEMBLIES.items():
            with self.subTest(name):
                self.assertNotEqual(text, GOOD_CUBES)
                (self.here / "bad.json").write_text(text)
                self.refused(["stand", "bad.json", "--out", "proof"], ["bad.json"] + says)


class Stand(Commands):
    def prove(self, friction, *arguments):
        (self.here / "cubes.json").write_text(json.dumps(two_cubes(friction)))
        return self.skewback("stand", "cubes.json", "--json", *arguments)

    def test_sliding_block(self):
        # Coulomb: a block on a level joint slides when the push exceeds mu times its weight. The push
        # runs along the line of steepest descent or across it, where the faceted cone is exact.
        result = self.prove(0.5)
        cases = {c["id"]: c for c in json.loads(result.stdout)["cases"]}
        self.assertEqual(cases["dead"]["verdict"], "stands")
        self.assertIsNone(cases["dead"]["load_factor"])
        self.assertAlmostEqual(cases["push"]["load_factor"], 0.5, delta=1e-6)
        self.assertEqual(cases["push"]["views"], ["limit", "motion"])
        self.assertEqual(cases["push"]["verdict"], "falls")
        self.assertEqual(cases["push"]["motion"]["ending"], "moving off")
        self.assertEqual(result.returncode, 3)  # at factor 1 the push moves it
        for key in ("friction_needed", "joint_stress_max_pa", "residual_rel", "certificate"):
            self.assertIn(key, cases["push"])

    def test_friction_given_replaces_the_files(self):
        result = self.prove(0.5, "--friction", "1.2")
        cases = {c["id"]: c for c in json.loads(result.stdout)["cases"]}
        self.assertAlmostEqual(cases["push"]["load_factor"], 1.2, delta=1e-6)
        self.assertEqual(result.returncode, 0)

    def test_numbers_that_are_none_are_refused(self):
        for option in ("--friction", "--cap"):
            result = self.prove(0.5, option, "nan")
            self.assertEqual(result.returncode, 2, option)
            self.assertIn(b"finite", result.stderr)
        result = self.skewback("move", "cubes.json", "--factor", "nan")
        self.assertEqual(result.returncode, 2)

    def test_evidence_is_written_and_verified(self):
        result = self.prove(0.5, "--out", "proof")
        for case in json.loads(result.stdout)["cases"]:
            self.assertTrue((self.here / "proof" / case["certificate"]).is_file())
        verified = self.skewback("verify", "proof", "--json")
        self.assertEqual(verified.returncode, 0, verified.stdout + verified.stderr)
        self.assertEqual(json.loads(verified.stdout)["failed"], 0)

    def test_tampered_evidence_is_caught(self):
        result = self.prove(0.5, "--out", "proof")
        [dead] = [c for c in json.loads(result.stdout)["cases"] if c["id"] == "dead"]
        assembly = json.loads((self.here / "proof/assembly.json").read_text())
        for block in assembly["blocks"]:
            block["density"] *= 1.01
        (self.here / "proof/assembly.json").write_text(json.dumps(assembly))
        verified = self.skewback("verify", "proof", "--json")
        self.assertEqual(verified.returncode, 3)
        claims = {f["file"]: f["ok"] for f in json.loads(verified.stdout)["files"]}
        self.assertIs(claims[dead["certificate"]], False)


class Surveys(Commands):
    PLACES = {"west right": (-4.5, 0.95), "west left": (-4.5, -0.95), "west back": (-5.4, 0),
              "east right": (4.5, -0.95), "east left": (4.5, 0.95), "east back": (5.4, 0)}

    def brief(self, text):
        (self.here / "brief.toml").write_text(DROVERS_HOP + text)

    def points(self, sign=1):
        text = ""
        for name, (x, y) in self.PLACES.items():
            support, mark = name.split()
            text += (f'[[survey.point]]\nsupport = "{support}"\nmark = "{mark}"\n'
                     f'measured = ["{x} m", "{sign * y} m", "0 m"]\n')
        return text

    def test_check_says_what_run_would(self):
        self.brief(self.points())
        self.assertEqual(self.skewback("check", "brief.toml").returncode, 0)
        self.brief(self.points(-1))
        self.refused(["check", "brief.toml"], ["mirrored", "survey"])
        self.brief('\n[survey]\nfile = "none.csv"\n')
        for command in (["check", "brief.toml"], ["run", "brief.toml"], ["refit", "brief.toml"]):
            self.refused(command, ["none.csv", "no such file"])

    def test_blocks_of_a_daybook_that_is_another_bridges(self):
        self.brief("")
        other = (self.here / "brief.toml").read_text().replace('"drovers-hop"', '"elsewhere"')
        (self.here / "other.toml").write_text(other)
        again = ["refit", "other.toml", "--blocks-of", "brief.toml", "--daybook", "site"]
        self.refused(again, ["site", "no such file", "a daybook"])
        self.refused(["refit", "other.toml", "--daybook", "site"], ["--daybook", "--blocks-of"])
        block = {"id": "a1", "order": 1, "mass_kg": 200.0, "made": "elsewhere", "needs": [], "joints": ["ground"],
                 "up": "back up", "centre_m": [0, 0, 1], "slings_m": [], "print_s": 0, "cure_s": 0, "journey_s": 0,
                 "lead_s": 0}
        for bridge, says in (("little", ["blocks of little", "those of drovers-hop"]),
                             ("drovers-hop", ["no block", "the blocks that the brief cuts"])):
            plan = {"format": 1, "bridge": bridge, "title": "", "assembly_sha256": "ab" * 32, "blocks": [block]}
            (self.here / "plan.json").write_text(json.dumps(plan))
            self.assertEqual(self.skewback("daybook", bridge, "begin", "--plan", "plan.json").returncode, 0)
            self.refused(again[:-1] + [bridge], says)

    def test_a_survey_given_is_the_whole_of_it(self):
        self.brief(self.points())
        (self.here / "one.csv").write_text("mark,x_mm,y_mm,z_mm\nwest left,-4500,-950,0\n")
        self.refused(["refit", "brief.toml", "--survey", "one.csv"], ["west", "1 mark", "fewer than three"])


class Run(Commands):
    def interrupted_after(self, seconds):
        (self.here / "brief.toml").write_text(WREN_LEAT)
        before = self.on_disk()
        process = subprocess.Popen([BINARY, "run", "brief.toml", "--out", "results/wren"], cwd=self.here,
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        time.sleep(seconds)
        process.send_signal(signal.SIGINT)
        _, message = process.communicate(timeout=300)
        if process.returncode != 130:
            return False
        self.assertIn(b"interrupted", message)
        self.assertEqual([p for p in self.on_disk() if p != "results"], before)
        return True

    def test_interrupt_leaves_no_folder(self):
        self.assertTrue(self.interrupted_after(0.3), "it ended before it could be interrupted")
        self.interrupted_after(1.5)

    def test_until_writes_what_was_run_and_says_what_was_not(self):
        (self.here / "brief.toml").write_text(DROVERS_HOP)
        result = self.skewback("run", "brief.toml", "--until", "form", "--json")
        self.assertEqual(result.returncode, 3, result.stderr)
        summary = json.loads(result.stdout)
        self.assertIn("form", summary)
        self.assertNotIn("stand", summary)
        self.assertTrue((self.here / "out/drovers-hop/summary.json").is_file())
        again = self.skewback("run", "brief.toml", "--until", "form")  # its own folder it may replace
        self.assertEqual(again.returncode, 3, again.stderr)

    def test_a_vehicle_that_does_not_fit_is_told(self):
        # its wheels are 1.3 m apart and 0.2 m wide
        text = changed(changed(DROVERS_HOP, "[loads]", "[loads]\nvehicle = true"), 'width = "1.5 m"', 'width = "1.3 m"')
        (self.here / "brief.toml").write_text(text)
        told = self.skewback("run", "brief.toml", "--until", "loads").stdout.decode()
        for part in ["note: the service vehicle does not fit", "a walk 1.30 m wide, and its wheels take 1.50 m",
                     *(f"vehicle-1-{stop}" for stop in range(1, 6))]:
            self.assertIn(part, told)
        summary = json.loads((self.here / "out/drovers-hop/summary.json").read_text())
        self.assertEqual(len(summary["loads_left_out"]), 1)


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0]], verbosity=2)
