"""check_by_command.py SKEWBACK CHECK_EVIDENCE: published cases as assembly files of solid blocks, through the commands.

Every case is written with its blocks as flat-faced solids one metre deep (domes aside), joints left to be detected,
proven by `skewback stand`, and its evidence checked by `skewback verify` and by CHECK_EVIDENCE. Expected values:
published or closed forms where a source is named, else computed independently by linear programs that share nothing
with the tool. Cases close to their limit are held to view 1 (the kind of its evidence); the verdict of both views is asked
for where there is room.
"""

import json
import math
import pathlib
import subprocess
import sys
import tempfile
import unittest

BINARY, CHECK = (pathlib.Path(p).resolve() for p in sys.argv[1:3])
GRAVITY, DENSITY = 9.81, 2000.0
MU = 10  # high enough that nothing slides, never unlimited


def prism(name, outline, low=-0.5, high=0.5, fixed=False):
    """Block over an outline in the x-z plane, counter-clockwise from -y."""
    n = len(outline)
    return {
        "id": name, "density": DENSITY, "fixed": fixed,
        "vertices": [[x, y, z] for y in (low, high) for x, z in outline],
        "faces": [list(range(n)), list(range(2 * n - 1, n - 1, -1))]
        + [[(i + 1) % n, i, i + n, (i + 1) % n + n] for i in range(n)],
    }


def brick(name, x0, x1, z0, z1, **more):
    return prism(name, [(x0, z0), (x1, z0), (x1, z1), (x0, z1)], **more)


def ground(top=0.0):
    return brick("ground", -20, 20, top - 1, top, fixed=True)


def arch(thickness, voussoirs, embrace_deg=180.0, radius=10.0):
    """Straight-edged voussoirs, radial joints, from right to left; the ground a wedge at each end."""
    half = math.radians(embrace_deg) / 2
    a, b = radius - thickness * radius / 2, radius + thickness * radius / 2

    def piece(name, start, end, **more):
        at = [(r * math.cos(t), r * math.sin(t)) for r, t in ((a, start), (b, start), (b, end), (a, end))]
        return prism(name, at, **more)

    first, step = math.pi / 2 - half, 2 * half / voussoirs
    blocks = [piece("right", first - 0.1, first, fixed=True)]
    blocks += [piece(f"v{i + 1}", first + i * step, first + (i + 1) * step) for i in range(voussoirs)]
    return blocks + [piece("left", first + 2 * half, first + 2 * half + 0.1, fixed=True)]


def wall(whole_at_bottom):
    length, height, blocks = 0.45, 0.25, [ground()]
    for course in range(8):
        whole = (course % 2 == 0) == whole_at_bottom
        cuts = [0, 1, 2, 3] if whole else [0, 0.5, 1.5, 2.5, 3]
        for k, (p, q) in enumerate(zip(cuts, cuts[1:])):
            blocks.append(brick(f"c{course}-{k}", p * length, q * length, course * height, (course + 1) * height))
    return blocks


def harmonic(n, stretch):
    blocks, tip = [brick("ground", -20, 0, -1, 0, fixed=True)], 0.0
    for level, k in enumerate(range(n, 0, -1)):
        tip += stretch / (2 * k)
        blocks.append(brick(f"b{level}", tip - 1, tip, 0.2 * level, 0.2 * (level + 1)))
    return blocks


def tilted_cube(tangent):
    """A unit cube on a plane that falls along x, its edges at 45 degrees to that."""
    angle, r = math.atan(tangent), math.sqrt(0.5)
    along, up = (math.cos(angle), 0, math.sin(angle)), (-math.sin(angle), 0, math.cos(angle))

    def slab(name, half, corners, low, high, fixed):
        points = [[half * c * along[0] + z * up[0], half * s, half * c * along[2] + z * up[2]]
                  for z in (low, high) for c, s in corners]
        faces = [[3, 2, 1, 0], [4, 5, 6, 7]] + [[i, (i + 1) % 4, (i + 1) % 4 + 4, i + 4] for i in range(4)]
        return {"id": name, "density": DENSITY, "fixed": fixed, "vertices": points, "faces": faces}

    square = [(1, 0), (0, 1), (-1, 0), (0, -1)]
    return [slab("ground", 3, square, -1, 0, True), slab("cube", r, square, 0, 1, False)]


def overhang(shift):
    """The best four: layout worked out in overhang_test.cpp."""
    s = 1 - math.sqrt(1 / 8)
    f = (s - 0.5) / (1 - s)
    a, q = (2.5 - f) / 4, -0.2
    b, c = a + s, (2 - f) * (a - 1) - (1 - f) * q + 0.5
    d = f * (b - 1) + (1 - f) * q + 0.5
    blocks = [brick("ground", -20, 0, -1, 0, fixed=True)]
    for name, edge, level in (("A", a, 0), ("B", b, 1), ("C", c, 1), ("D", d, 2)):
        blocks.append(brick(name, edge + shift - 1, edge + shift, 0.2 * level, 0.2 * (level + 1)))
    return blocks


def dome(thickness, edge_deg=90.0, sectors=16, courses=12):
    """Of radius 1, flat-faced: courses between cones through the centre, sectors between meridians, a cap."""
    a, b, edge = 1 - thickness / 2, 1 + thickness / 2, math.radians(edge_deg)
    step, width = edge / (courses + 0.5), 2 * math.pi / sectors

    def at(r, down, around):
        return [r * math.sin(down) * math.cos(around), r * math.sin(down) * math.sin(around), r * math.cos(down)]

    def piece(name, low, high, s, fixed=False):
        points = [at(r, t, f) for t in (low, high) for r, f in
                  ((a, s * width), (b, s * width), (b, (s + 1) * width), (a, (s + 1) * width))]
        faces = [[3, 2, 1, 0], [4, 5, 6, 7]] + [[i, (i + 1) % 4, (i + 1) % 4 + 4, i + 4] for i in range(4)]
        return {"id": name, "density": DENSITY, "fixed": fixed, "vertices": points, "faces": faces}

    blocks = []
    for s in range(sectors):
        blocks.append(piece(f"ground-{s}", edge + 0.05, edge, s, fixed=True))
        blocks += [piece(f"c{c}-{s}", edge - c * step, edge - (c + 1) * step, s) for c in range(courses)]
    n = sectors
    cap = [at(r, step / 2, s * width) for r in (a, b) for s in range(n)]
    faces = [list(range(n - 1, -1, -1)), list(range(n, 2 * n))]
    faces += [[i, (i + 1) % n, (i + 1) % n + n, i + n] for i in range(n)]
    return blocks + [{"id": "cap", "density": DENSITY, "fixed": False, "vertices": cap, "faces": faces}]


DEAD = {"id": "dead"}
PUSHED = {"id": "push", "live_acceleration": [GRAVITY, 0, 0]}


class ByCommand(unittest.TestCase):
    def proof(self, blocks, friction=MU, case=DEAD, joints="detect"):
        """What `stand` says of the one case, with the kind of its evidence, which must be true by both checkers."""
        with tempfile.TemporaryDirectory() as folder:
            here = pathlib.Path(folder)
            text = json.dumps({"blocks": blocks, "friction": friction, "joints": joints, "cases": [case]})
            (here / "assembly.json").write_text(text)
            proven = self.run_tool(BINARY, "stand", here / "assembly.json", "--json", "--motion", "never", "--out",
                                   here / "proof")
            self.assertIn(proven.returncode, (0, 3), proven.stderr)
            [found] = json.loads(proven.stdout)["cases"]
            found["kind"] = json.loads((here / "proof" / found["certificate"]).read_text())["kind"]
            if found["kind"] != "none":
                verified = self.run_tool(BINARY, "verify", here / "proof")
                self.assertEqual(verified.returncode, 0, verified.stdout + verified.stderr)
                again = self.run_tool(sys.executable, CHECK, here / "proof")
                self.assertEqual(again.returncode, 0, again.stdout + again.stderr)
            return found

    def run_tool(self, *command):
        return subprocess.run(list(map(str, command)), capture_output=True, text=True, timeout=300, check=False)

    def stands(self, *case, **more):
        self.assertEqual(self.proof(*case, **more)["kind"], "forces")

    def falls(self, *case, **more):
        found = self.proof(*case, **more)
        self.assertEqual((found["kind"], found["verdict"]), ("mechanism", "falls"))

    def carries(self, factor, near, blocks, **more):
        self.assertAlmostEqual(self.proof(blocks, case=PUSHED, **more)["load_factor"], factor, delta=near)

    def test_least_semicircle(self):
        # A1: t/R 0.1075 (Makris and Alexakis 2013, after Milankovitch 1907); a ring with room for both views
        self.falls(arch(0.1075 - 5e-4, 101))
        self.stands(arch(0.1075 + 5e-4, 101))
        both = self.proof(arch(0.15, 101))
        self.assertEqual((both["verdict"], both["views"]), ("stands", ["limit", "pads"]))

    def test_few_straight_edged_voussoirs(self):
        # A6 (tests/foreign/few_voussoirs.py): least t/R, to 1e-4
        for voussoirs, least in ((7, 0.09570), (9, 0.10153), (15, 0.10607), (51, 0.10736)):
            with self.subTest(voussoirs):
                self.falls(arch(least - 1e-4, voussoirs))
                self.stands(arch(least + 1e-4, voussoirs))

    def test_segments(self):
        # A5, computed independently: least t/R of half angle 45 to 110 degrees, to 1 %, and what flat edges leave out
        for half, least in ((45, 0.007487), (60, 0.022847), (75, 0.053688), (80, 0.068650), (100, 0.160735), (110, 0.232295)):
            with self.subTest(half):
                self.falls(arch(least * 0.99, 120, 2 * half))
                self.stands(arch(least * 1.01, 120, 2 * half))

    def test_least_semicircle_with_little_friction(self):
        # B4, computed independently, to 2e-4; half a per cent for flat edges
        for friction, least in ((0.38, 0.121570), (0.36, 0.141378), (0.33, 0.173973)):
            with self.subTest(friction):
                self.falls(arch(least * 0.995, 101), friction=friction)
                self.stands(arch(least * 1.005, 101), friction=friction)

    def test_no_thickness_helps_below_the_least_friction(self):
        # B3 (Cocchetti and Rizzi 2020, table 3): 0.309215, weight on the centreline
        for thickness in (0.15, 0.2, 0.3):
            self.falls(arch(thickness, 101), friction=0.305)

    def test_block_pushed_on_a_plane(self):
        # B5, closed form: min(mu, b/h)
        for friction, factor in ((0.3, 0.3), (0.6, 0.4)):
            self.carries(factor, 1e-6, [ground(), brick("block", 0, 0.4, 0, 1)], friction=friction)

    def test_true_cone(self):
        # B6, closed form: slips at tan = mu whichever way its edges lie
        self.stands(tilted_cube(0.7 - 1e-4), friction=0.7)
        self.falls(tilted_cube(0.7 + 1e-4), friction=0.7)

    def test_wall_in_running_bond(self):
        # C1, computed independently
        self.carries(0.523088, 5e-5, wall(True), friction=0.7)
        self.carries(0.495087, 5e-5, wall(False), friction=0.7)

    def test_shaken_arch(self):
        # C2: Oppenheim 1992 (0.370 g, from memory); straight edges and many voussoirs computed independently
        self.carries(0.37361, 2e-4, arch(0.15, 7, 157.5))
        self.carries(0.3534, 5e-4, arch(0.15, 200, 157.5))

    def test_harmonic_stack(self):
        # C3: Paterson and Zwick 2009: stands at -1e-6, falls at +1e-6
        for n in (2, 3, 4, 5, 10, 30):
            with self.subTest(n):
                reach = sum(1 / (2 * k) for k in range(1, n + 1))
                self.stands(harmonic(n, 1 - 1e-6 / reach), friction=0.7)
                self.falls(harmonic(n, 1 + 1e-6 / reach), friction=0.7)

    def test_best_overhang_of_four(self):
        # C4: (15 - 4 sqrt 2) / 8, Paterson et al., Maximum overhang; the layout is worked out here
        self.stands(overhang(-1e-5), friction=0)
        self.falls(overhang(1e-5), friction=0)

    def test_block_between_walls(self):
        # C5, logic: nothing clamps it
        blocks = [brick("left", -1, 0, -1, 2, fixed=True), brick("block", 0, 1, 0, 1), brick("right", 1, 2, -1, 2, fixed=True)]
        for friction in (0.6, 5):
            self.assertNotEqual(self.proof(blocks, friction=friction)["verdict"], "stands")

    def test_domes(self):
        # C6, computed independently for the continuum: t/R 0.0428 at friction from 0.25 up; blocks of finite size 0 to 6 % more
        for friction in (0.6, 0.25):
            self.falls(dome(0.0428 * 0.97), friction=friction)
            self.stands(dome(0.0428 * 1.06), friction=friction)

    def test_spurious_hoop(self):
        # C9, computed independently: a cap to 85 degrees that unlimited friction would let stand at a tenth of 0.0283
        self.assertNotEqual(self.proof(dome(0.0255, 85), friction=10)["verdict"], "stands")

    def test_eccentric_bed(self):
        # E1, closed form: b x h under N at e. Weight in the middle, as much again at the edge p: e = p / 2
        b, h = 0.9, 0.36
        block = brick("block", -h / 2, h / 2, 0.004, 0.504, low=-b / 2, high=b / 2)
        weight = DENSITY * b * h * 0.5 * GRAVITY
        bed = [[x, y, 0.0] for x, y in ((-h / 2, -b / 2), (h / 2, -b / 2), (h / 2, b / 2), (-h / 2, b / 2))]
        joint = {"a": "ground", "b": "block", "polygon": bed, "pad": {"thickness": 0.008, "kn": 2e9, "ks": 8e8}}
        for place in (0.02, 0.1, 0.14, 0.17):
            with self.subTest(place):
                e, n = place / 2, 2 * weight
                peak = n / (b * h) * (1 + 6 * e / h) if e <= h / 6 else 2 * n / (3 * b * (h / 2 - e))
                load = {"id": "edge", "live": [{"block": "block", "point": [place, 0, 0.504], "force": [0, 0, -weight]}]}
                found = self.proof([ground(-0.004), block], friction=0.6, case=load, joints=[joint])
                self.assertEqual(found["verdict"], "stands")
                self.assertAlmostEqual(found["joint_stress_max_pa"] / peak, 1, delta=1e-6)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
