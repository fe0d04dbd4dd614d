"""The daybook from outside: what it writes, what it refuses, what it says.

usage: test_daybook.py BINARY
"""

import datetime
import json
import pathlib
import sqlite3
import subprocess
import sys
import tempfile
import unittest

BINARY = pathlib.Path(sys.argv[1]).resolve()
DAY = 86400


def block(name, order, needs):
    return {"id": name, "order": order, "mass_kg": 200.0, "made": "printed", "needs": needs, "joints": needs or ["ground"],
            "up": "back up", "centre_m": [0, 0, 1], "slings_m": [], "print_s": DAY / 4, "cure_s": 7 * DAY,
            "journey_s": DAY, "lead_s": 8.25 * DAY}


def plan(start=None):
    """Five blocks, two legs and a key; with a date, a network of certain times."""
    blocks = [block("a1", 1, []), block("b1", 2, []), block("a2", 3, ["a1"]), block("b2", 4, ["b1"]),
              block("key", 5, ["a2", "b2"])]
    out = {"format": 1, "bridge": "little", "title": "Little arch", "assembly_sha256": "ab" * 32, "blocks": blocks}
    if start:
        activities = []

        def add(name, of, kind, days, after):
            activities.append({"id": name, "block": of, "kind": kind, "least_s": days * DAY, "likely_s": days * DAY,
                               "most_s": days * DAY, "after": after})
            return name
        footings, before, cured = add("footings", "", "footings", 14, []), [], []
        for b in blocks:
            before = [add(f"print {b['id']}", b["id"], "print", 0.25, before)]
            cured.append(add(f"cure {b['id']}", b["id"], "cure", 7, before))
        placed = [footings, add("journey 1", "", "journey", 1, cured)]
        for b in blocks:
            placed = [add(f"place {b['id']}", b["id"], "place", 0.5, placed + (["journey 1"] if placed[0] != footings else []))]
        out["network"] = {"start": start, "activities": activities, "breakages": []}
    return out


class Daybook(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.here = pathlib.Path(self.folder.name)
        (self.here / "plan.json").write_text(json.dumps(plan()))

    def tearDown(self):
        self.folder.cleanup()

    def run_it(self, *arguments):
        words = [a if isinstance(a, bytes) else str(a) for a in arguments]
        return subprocess.run([BINARY, "daybook", "site", *words], cwd=self.here, capture_output=True,
                              timeout=120)

    def done(self, *arguments):
        result = self.run_it(*arguments)
        self.assertEqual(result.returncode, 0, result.stderr.decode())
        return result.stdout.decode()

    def found(self, *arguments):
        return json.loads(self.done(*arguments, "--json"))

    def events(self):
        with sqlite3.connect(f"file:{self.here}/site/daybook.sqlite?mode=ro", uri=True) as book:
            return book.execute("SELECT number, block, copy, what FROM event ORDER BY number").fetchall()

    def refused(self, arguments, says):
        before = self.events() if (self.here / "site").exists() else None
        result = self.run_it(*arguments)
        message = result.stderr.decode()
        self.assertEqual(result.returncode, 2, message)
        for part in says:
            self.assertIn(part, message)
        if before is None:
            self.assertFalse((self.here / "site").exists())
        else:
            self.assertEqual(self.events(), before)
        return result

    def to_site(self, *names):
        for event in ("printed", "cured", "shipped", "received"):
            self.done("record", *names, event, *(["--even-so"] if event == "cured" else []))  # on the same day

    def test_nothing_is_made_by_a_mistake(self):
        for command in (["list"], ["now"], ["counts"], ["record", "a1", "printed"], ["cancel", "1"]):
            self.refused(command, ["no such file", "begin --plan"])
        self.refused(["begin", "--plan", "none.json"], ["none.json", "no file"])
        (self.here / "bad.json").write_text("{}")
        self.refused(["begin", "--plan", "bad.json"], ["bad.json", "format"])
        for usage in ([], ["fly"], ["record", "a1"], ["begin"], ["cancel", "x"]):
            self.refused(usage, [])

    def test_a_block_goes_to_its_place(self):
        self.assertIn("5 blocks", self.done("begin", "--plan", "plan.json"))
        self.to_site("a1", "b1")
        self.assertEqual(self.found("now")["can_be_placed"], ["a1", "b1"])
        self.done("record", "a1", "placed", "--who", "Ada", "--note", "joint 8 mm")
        now = self.found("now")
        self.assertEqual((now["placed"], now["on_site"], now["next"]), (1, 1, "b1"))
        self.assertEqual(now["missing"]["block"], "a2")
        self.assertEqual(now["missing"]["held_back"], 1)
        self.assertAlmostEqual(now["missing"]["ready_s"], 8.25 * DAY)
        text = self.done("now")
        for part in ("1 of 5 placed", "Can be placed now: b1", "First that is missing: a2, not made", "8.2 days"):
            self.assertIn(part, text)
        last = self.found("list", "a1")["events"][-1]
        self.assertEqual((last["event"], last["who"], last["note"]), ("placed", "Ada", "joint 8 mm"))
        self.assertIn("Ada", self.done("list", "a1"))
        self.assertEqual({b["block"]: b["standing"] for b in self.found("list")["blocks"]},
                         {"a1": "placed", "b1": "on site", "a2": "not made", "b2": "not made", "key": "not made"})

    def test_messages_name_what_is_wrong(self):
        self.done("begin", "--plan", "plan.json")
        self.refused(["record", "kye", "printed"], ['"kye", no such block', 'did you mean "key"?'])
        self.refused(["record", "a1", "plced"], ['"plced"', 'did you mean "placed"?'])
        self.refused(["record", "a1", "cancel"], ['"cancel"'])
        self.refused(["record", "a1", "placed"], ["a1 placed", "not made", "on site or taken down", "--even-so"])
        self.refused(["record", "a1", "b1", "kye", "printed"], ["kye"])  # all or none
        self.refused(["record", "a1", "printed", "--when", "2027-03-05"], ["--when", "its zone"])
        self.refused(["record", "a1", "printed", "--when", "2999-01-01T00:00:00Z"], ["still to come"])
        self.refused(["record", "a1", "printed", "--photo", "none.jpg"], ["none.jpg"])
        self.refused(["list", "kye"], ['did you mean "key"?'])
        fault = json.loads(self.refused(["record", "kye", "printed", "--json"], []).stdout)["faults"][0]
        self.assertEqual(fault["expected"], "a block of little")
        self.done("record", "a1", "placed", "--even-so")

    def test_a_broken_block_is_made_again(self):
        self.done("begin", "--plan", "plan.json")
        self.to_site("a1")
        self.done("record", "a1", "broken")
        self.refused(["record", "a1", "placed", "--even-so"], ["broken", "a1/2"])
        self.assertEqual(self.found("counts"), {"ok": True, "handled": 1, "broken": 1})
        self.assertEqual(self.found("record", "a1", "reprinted")["events"][0]["copy"], 2)
        for event in ("cured", "shipped", "received", "placed"):
            self.done("record", "a1/2", event, *(["--even-so"] if event == "cured" else []))
        self.assertEqual(self.found("counts"), {"ok": True, "handled": 2, "broken": 1})

    def test_what_is_doubtful_is_refused(self):
        self.done("begin", "--plan", "plan.json")
        self.refused(["record", "a1/77", "printed", "--even-so"], ["a copy up to the next one, a1", "mend the number"])
        self.done("record", "a1", "printed")
        self.refused(["record", "a1", "cured"], ["after it was made", "7 days of curing", "--even-so"])
        for option in ("--note", "--who"):
            self.refused(["record", "a1", "note", option, b"Andr\xe9"], ["bytes that are not UTF-8, from byte 5"])
        (self.here / "plan.json").write_text(json.dumps(plan("2027-03-01")))
        self.done("begin", "--plan", "plan.json")
        self.to_site("b1")
        self.refused(["record", "b1", "placed"], ["not recorded as done: footings", "--even-so"])
        self.assertIn("not recorded as done: footings", self.done("now"))

    def test_a_correction_stays_written(self):
        self.done("begin", "--plan", "plan.json")
        self.done("record", "a1", "b1", "printed")
        self.refused(["cancel", "9"], ["event 9", "not there"])
        self.done("cancel", "1", "--note", "it was a2")
        self.refused(["cancel", "1"], ["taken back"])
        self.assertEqual([e[3] for e in self.events()], ["printed", "printed", "cancel"])
        self.assertEqual(self.found("list")["blocks"][0]["standing"], "not made")
        self.assertIn("taken back", self.done("list", "a1"))

    def test_is_not_kept_among_results(self):
        (self.here / "site").mkdir()
        (self.here / "site/summary.json").write_text("{}")
        result = self.run_it("begin", "--plan", "plan.json")
        self.assertEqual(result.returncode, 2)
        for part in ("summary.json", "a folder of its own"):
            self.assertIn(part, result.stderr.decode())
        self.assertEqual([p.name for p in (self.here / "site").iterdir()], ["summary.json"])

    def test_the_list_ends_with_a_count(self):
        self.done("begin", "--plan", "plan.json")
        self.done("record", "a1", "b1", "a1/2", "printed")
        self.done("record", "a1", "broken")
        self.assertTrue(self.done("list").endswith("5 blocks, 6 copies: 3 not made, 2 printed, 1 broken.\n"))

    def test_help_names_what_to_write(self):
        help = self.done("record", "--help")
        self.assertIn("daybook record [OPTIONS] BLOCK... EVENT\n", help)
        self.assertNotIn("2x", help)

    def replanned_days(self):
        """From now to the end, all draws alike: the plan's times are certain."""
        found = self.found("replan", "--draws", "200")
        finish = found["finish"]
        for share in ("p10", "p90", "pert"):
            self.assertAlmostEqual(finish[share]["s"], finish["p50"]["s"], delta=1e-3)
        return (finish["p50"]["s"] - found["now"]["s"]) / DAY, found

    def test_the_rest_is_planned_anew(self):
        """By hand: 14 days of footings against 1.25 of printing, 7 of curing, 1 on the road; 0.5 a block."""
        self.done("begin", "--plan", "plan.json")
        self.refused(["replan"], ["no programme"])
        start = (datetime.date.today() - datetime.timedelta(days=40)).isoformat()
        (self.here / "plan.json").write_text(json.dumps(plan(start)))
        self.done("begin", "--plan", "plan.json")
        days, found = self.replanned_days()
        self.assertAlmostEqual(days, 14 + 2.5, places=6)
        self.assertAlmostEqual(found["planned_median"]["s"], 16.5 * DAY, delta=1e-3)
        self.done("record", "footings", "done")
        self.assertAlmostEqual(self.replanned_days()[0], 9.25 + 2.5, places=6)
        self.to_site("a1", "b1", "a2", "b2", "key")
        self.assertAlmostEqual(self.replanned_days()[0], 2.5, places=6)
        self.done("record", "a1", "placed")
        self.done("record", "b1", "broken")
        days, found = self.replanned_days()
        self.assertAlmostEqual(days, 8.25 + 2, places=6)
        self.assertEqual(found["again"], ["b1"])
        self.assertIn("100 %  again b1", self.done("replan", "--draws", "100"))
        self.assertEqual(self.run_it("replan", "--draws", "100").stderr, b"")

    def test_a_struck_bridge_is_keyed_again(self):
        """It was to begin in a month; all of it is done by now."""
        start = (datetime.date.today() + datetime.timedelta(days=30)).isoformat()
        struck = plan(start)
        struck["network"]["activities"].append(
            {"id": "striking", "block": "", "kind": "striking", "least_s": DAY, "likely_s": DAY, "most_s": DAY,
             "after": ["place key"]})
        (self.here / "plan.json").write_text(json.dumps(struck))
        self.done("begin", "--plan", "plan.json")
        self.done("record", "footings", "done")
        names = ["a1", "b1", "a2", "b2", "key"]
        self.to_site(*names)
        self.done("record", *names, "placed")
        self.done("record", "striking", "done")
        found = self.found("replan", "--draws", "200")
        self.assertTrue(found["all_done"])
        self.assertLess(found["finish"]["p90"]["s"], -28 * DAY)
        self.assertEqual(found["critical"], [])
        self.assertIn("All that is needed is done; the last of it, striking, on ", self.done("replan", "--draws", "100"))
        self.refused(["record", "key", "taken-down"], ["the centring struck", 'record "centring put back" done'])
        self.assertIn("The centring is struck: nothing is to be taken down", self.done("now"))
        self.assertTrue(self.done("now").startswith("Little arch: 5 of 5 placed"))
        self.done("record", "key", "taken-down", "--even-so")
        self.assertTrue(self.done("now").startswith("WARNING: the centring is struck and the arch is not whole. Not in place: key"))
        now = self.found("now")
        self.assertEqual(now["struck_without"], [{"block": "key", "standing": "taken down"}])
        self.assertEqual((now["struck"], now["can_be_placed"], now["for_centring"]), (True, [], ["key"]))
        found = self.found("replan", "--draws", "200")
        self.assertEqual((found["once_more"], found["without_times"]), (["striking"], ["centring put back"]))
        self.assertIn("centring put back: needed first, but the plan has no times", self.done("replan", "--draws", "100"))
        self.done("record", "centring put back", "done")
        self.done("record", "key", "placed")
        self.assertAlmostEqual(self.replanned_days()[0], 1, places=6)
        self.done("record", "striking", "done")
        self.assertTrue(self.found("replan", "--draws", "200")["all_done"])
        struck["bridge"] = "other"
        (self.here / "plan.json").write_text(json.dumps(struck))
        self.refused(["begin", "--plan", "plan.json", "--even-so"], ["blocks of little", "a daybook of its own"])

    def test_several_at_once(self):
        self.done("begin", "--plan", "plan.json")
        running = [subprocess.Popen([BINARY, "daybook", "site", "record", "a1", "note", "--note", str(i)], cwd=self.here,
                                    stdout=subprocess.DEVNULL) for i in range(12)]
        self.assertEqual([p.wait(timeout=120) for p in running], [0] * 12)
        self.assertEqual([e[0] for e in self.events()], list(range(1, 13)))
        with sqlite3.connect(self.here / "site/daybook.sqlite") as book:
            self.assertEqual(book.execute("PRAGMA integrity_check").fetchone(), ("ok",))
            self.assertEqual(book.execute("PRAGMA journal_mode").fetchone(), ("wal",))
            with self.assertRaisesRegex(sqlite3.DatabaseError, "never deleted"):
                book.execute("DELETE FROM event")


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0]], verbosity=2)
