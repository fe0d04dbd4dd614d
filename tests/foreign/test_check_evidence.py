"""test_check_evidence.py: scripts/check_evidence.py on claims worked out by hand.

Two boxes of 1,000 kg, 1 x 1 x 0.5 m, on the ground, the upper a quarter metre along; what `carried`
of a claim means is docs/evidence.md's.
"""
import copy, json, pathlib, subprocess, sys, tempfile, unittest

SCRIPT = pathlib.Path(__file__).resolve().parents[2] / "scripts" / "check_evidence.py"
W = 1000 * 9.81  # N, each block
MIDDLE, BEYOND = [0.75, 0.5, 1.0], [1.25, 0.5, 1.0]  # of the upper block: its top, and the far edge of that


def box(name, x0, x1, z0, z1, fixed=False):
    vertices = [[x, y, z] for z in (z0, z1) for x, y in ((x0, 0), (x1, 0), (x1, 1), (x0, 1))]
    faces = [[3, 2, 1, 0], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]]
    return {"id": name, "vertices": vertices, "faces": faces, "density": 2000, "fixed": fixed}


def joint(a, b, x0, x1, z):
    return {"a": a, "b": b, "friction": 0.6, "polygon": [[x0, 0, z], [x1, 0, z], [x1, 1, z], [x0, 1, z]]}


def stack(carried_kg=None, at=None):
    blocks = [box("g", -2, 3, -1, 0, True), box("low", 0, 1, 0, 0.5), box("up", 0.25, 1.25, 0.5, 1)]
    if carried_kg is not None:
        blocks[2]["carried"] = [{"mass": carried_kg, "point": at or MIDDLE}]
    return {"blocks": blocks, "joints": [joint("g", "low", 0, 1, 0), joint("low", "up", 0.25, 1, 0.5)],
            "cases": [{"id": "dead"}]}


def forces(on_kg):
    """Under `on_kg` in the middle of the upper block: resultants straight down."""
    up = W + 9.81 * on_kg
    x = (0.5 * W + 0.75 * up) / (W + up)
    return {"case": "dead", "kind": "forces", "load_factor": None, "contacts": [
        {"a": "low", "b": "up", "point": [0.75, 0.5, 0.5], "force": [0, 0, up]},
        {"a": "g", "b": "low", "point": [x, 0.5, 0], "force": [0, 0, W + up]}]}


def tipping(on_kg):
    """The upper block about the edge at x = 1, under `on_kg` a quarter metre beyond it."""
    return {"case": "dead", "kind": "mechanism", "load_factor": 0, "work": 9.81 * (on_kg - 1000) / 4,
            "blocks": [{"id": "up", "v": [-0.5, 0, 1], "w": [0, 1, 0]}]}


def says(claim, kg, at=None):
    return dict(claim, carried=[{"block": "up", "mass": kg, "point": at or MIDDLE}])


def by_place(claim):
    """The same, all forces of a joint together, with the list their points are in."""
    contacts = [{"a": c["a"], "b": c["b"], "points": [i], "forces": [c["force"]]} for i, c in enumerate(claim["contacts"])]
    return dict(claim, contacts=contacts), [c["point"] for c in claim["contacts"]]


def run(assembly, claim, points=None):
    """Exit of the script: 0 true, 1 not true, 2 unreadable."""
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        (folder / "evidence").mkdir()
        (folder / "assembly.json").write_text(json.dumps(assembly))
        (folder / "evidence" / "e.json").write_text(json.dumps(claim))
        if points is not None:
            (folder / "evidence-points.json").write_text(json.dumps(points))
        return subprocess.run([sys.executable, str(SCRIPT), name], capture_output=True).returncode


class Carried(unittest.TestCase):
    def test_as_in_the_assembly_where_the_claim_says_nothing(self):
        self.assertEqual(run(stack(), forces(0)), 0)
        self.assertEqual(run(stack(1000), forces(1000)), 0)
        self.assertEqual(run(stack(1000), forces(0)), 1)
        self.assertEqual(run(stack(1000), dict(forces(1000), carried=None)), 0)

    def test_the_claims_own_stands_in_its_place(self):
        for assembly in (stack(), stack(1000)):
            self.assertEqual(run(assembly, says(forces(1000), 1000)), 0)
            self.assertEqual(run(assembly, says(forces(1000), 1001)), 1)
            self.assertEqual(run(assembly, says(forces(0), 1000)), 1)
            self.assertEqual(run(assembly, dict(forces(0), carried=[])), 0)
            self.assertEqual(run(assembly, dict(forces(1000), carried=[])), 1)
            halves = says(forces(1000), 500)
            halves["carried"] += copy.deepcopy(halves["carried"])
            self.assertEqual(run(assembly, halves), 0)

    def test_below_zero_and_on_no_block(self):
        self.assertEqual(run(stack(), says(forces(-10), -10)), 1)  # it would balance
        nowhere = says(forces(0), 0)
        nowhere["carried"][0]["block"] = "roof"
        self.assertEqual(run(stack(), nowhere), 2)

    def test_mechanisms_too(self):
        self.assertEqual(run(stack(5000, BEYOND), tipping(5000)), 0)
        for assembly in (stack(), stack(5000, BEYOND)):
            self.assertEqual(run(assembly, says(tipping(1100), 1100, BEYOND)), 0)
            self.assertEqual(run(assembly, says(tipping(900), 900, BEYOND)), 1)
            self.assertEqual(run(assembly, dict(tipping(0), carried=[])), 1)


class Points(unittest.TestCase):
    def test_by_place_in_a_shared_list(self):
        claim, points = by_place(forces(0))
        self.assertEqual(run(stack(), claim, points), 0)
        self.assertEqual(run(stack(), claim, points[:1]), 2)  # no such point
        self.assertEqual(run(stack(), claim), 2)
        self.assertEqual(run(stack(), claim, [[x + 0.01, y, z] for x, y, z in points]), 1)
        claim["contacts"][0]["forces"] *= 2
        self.assertEqual(run(stack(), claim, points), 2)  # more forces than points


if __name__ == "__main__":
    unittest.main()
