"""Plans from files that other people's libraries wrote (ezdxf, json) and that were written by hand.

usage: check_plans.py BINARY SOURCE_DIR

A square canopy of 7.5 m on four corners, cut by springing lines; edges straight or bowed; a hole.
Expected values: the coordinates written, and closed forms for arcs.
"""

import json
import math
import pathlib
import subprocess
import sys
import tempfile
import unittest

import ezdxf
import ezdxf.units

BINARY = pathlib.Path(sys.argv[1]).resolve()
S = 0.9 / math.sqrt(2)  # leg of a corner cut 0.9 m wide
H = 3.75
NAMES = ["south-east", "north-east", "north-west", "south-west"]
# counter-clockwise: the two ends of the springing at each corner
CORNERS = [((H - S, -H), (H, -H + S)), ((H, H - S), (H - S, H)), ((-H + S, H), (-H, H - S)), ((-H, -H + S), (-H + S, -H))]
OUTLINE = [p for pair in CORNERS for p in pair]
HOLE = [(-0.5, 0.5), (0.5, 0.5), (0.4, 1.25), (-0.4, 1.25)]
WALK = [(-3.2, -1.0), (0.0, -0.8), (3.2, -1.0)]
MEETING = (0.1, -0.2)

REST = """
[form]
rise = "1.6 m"
[section]
depth_crown = "160 mm"
depth_springing = "220 mm"
[material]
density = "2400 kg/m3"
strength = "40 MPa"
[blocks]
mass_max = "500 kg"
length = "0.5 m"
[walkway]
width = "1 m"
"""


def brief(plan, walkway=""):
    return '[bridge]\nname = "canopy"\n[plan]\n' + plan + REST + walkway


def from_file(name, unit=None, extra=""):
    return brief(f'file = "{name}"\n' + (f'file_unit = "{unit}"\n' if unit else "") + extra)


def check(folder, text):
    path = pathlib.Path(folder) / "brief.toml"
    path.write_text(text)
    done = subprocess.run([BINARY, "check", path, "--json"], capture_output=True, text=True)
    return done.returncode, json.loads(done.stdout)


def pairs(points):
    return "[" + ", ".join(f'["{x!r} m", "{y!r} m"]' for x, y in points) + "]"


def reference(folder):
    plan = f'outline = {pairs(OUTLINE)}\nfree_edges = "straight"\nopenings = [{pairs(HOLE)}]\n'
    plan += f'meeting = ["{MEETING[0]} m", "{MEETING[1]} m"]\n'
    for name, ends in zip(NAMES, CORNERS):
        plan += f'[[plan.support]]\nid = "{name}"\nends = {pairs(ends)}\n'
    code, out = check(folder, brief(plan, f"lines = [{pairs(WALK)}]\n"))
    assert code == 0, out
    return out["plan"]


def dxf(path, version, unit, factor, outline="polyline"):
    doc = ezdxf.new(version)
    doc.units = unit
    space = doc.modelspace()
    f = lambda p: (p[0] * factor, p[1] * factor)
    add = space.add_polyline2d if version == "R12" else space.add_lwpolyline
    if outline == "polyline":
        add([f(p) for p in OUTLINE], dxfattribs={"layer": "OUTLINE"}, close=True)
    else:  # loose lines, some drawn backwards, in no order
        n = len(OUTLINE)
        for k in (3, 0, 5, 1, 7, 2, 6, 4):
            a, b = f(OUTLINE[k]), f(OUTLINE[(k + 1) % n])
            space.add_line(*((b, a) if k % 2 else (a, b)), dxfattribs={"layer": "outline"})
            if outline == "doubled":
                space.add_line(*((a, b) if k % 3 else (b, a)), dxfattribs={"layer": "outline"})
    add([f(p) for p in HOLE], dxfattribs={"layer": "Opening_1"}, close=True)
    for name, ends in zip(NAMES, CORNERS):
        space.add_line(f(ends[0]), f(ends[1]), dxfattribs={"layer": f"Support_{name}"})
    add([f(p) for p in WALK], dxfattribs={"layer": "walk"})
    space.add_point(f(MEETING), dxfattribs={"layer": "meeting"})
    space.add_text("not part of the plan", dxfattribs={"layer": "notes"})
    doc.saveas(path)


def geojson(path):
    def feature(role, kind, coordinates):
        return {"type": "Feature", "properties": {"role": role}, "geometry": {"type": kind, "coordinates": coordinates}}

    close = lambda ring: [list(p) for p in ring] + [list(ring[0])]
    features = [feature("outline", "Polygon", [close(OUTLINE), close(HOLE)])]
    features += [feature("support-" + n, "LineString", [list(p) for p in e]) for n, e in zip(NAMES, CORNERS)]
    features += [feature("walk", "LineString", [list(p) for p in WALK]), feature("meeting", "Point", list(MEETING)),
                 feature("trees", "MultiPoint", [[0, 0]])]
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))


def svg(path):
    """In millimetres on a page of 8 m; drawn turned by 90 degrees and shifted, then turned back."""
    mm = lambda p: (p[0] * 1000, -p[1] * 1000)
    turned = lambda p: (-mm(p)[1] + 70, mm(p)[0])  # rotate(90), then translate(70, 0)
    text = lambda points, f: " ".join("%r,%r" % f(p) for p in points)
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="8000mm" height="800cm" viewBox="-4000 -4000 8000 8000">\n'
        '<defs><path id="outline" d="M0 0 L1 1"/></defs>\n'
        '<g id="sheet" transform="rotate(-90) translate(-70)">\n'
        f'<polygon id="outline" points="{text(OUTLINE, turned)}"/></g>\n'
        f'<g id="opening-1"><path d="M{text(HOLE[:1], mm)} L {text(HOLE[1:], mm)} z"/></g>\n'
        + "".join(f'<line id="support-{n}" x1="{mm(a)[0]!r}" y1="{mm(a)[1]!r}" x2="{mm(b)[0]!r}" y2="{mm(b)[1]!r}"/>\n'
                  for n, (a, b) in zip(NAMES, CORNERS))
        + f'<polyline id="walk" points="{text(WALK, mm)}"/>\n'
        f'<circle id="meeting" cx="{mm(MEETING)[0]!r}" cy="{mm(MEETING)[1]!r}" r="40"/>\n</svg>\n')


def obj(path):
    """Faces between outline and hole, fanned by hand: a ring of quads and triangles."""
    hole = HOLE
    lines = ["# a plan", "o plan"]
    points = OUTLINE + hole + [MEETING] + WALK + [p for e in CORNERS for p in e]
    lines += [f"v {x * 1000!r} {y * 1000!r} 12" for x, y in points]
    lines.append("g outline")
    # hole corners 9..12 are: south-west, south-east, north-east, north-west
    for face in ([8, 1, 10, 9], [1, 2, 10], [2, 3, 11, 10], [3, 4, 11], [4, 5, 12, 11], [5, 6, 12], [6, 7, 9, 12], [7, 8, 9]):
        lines.append("f " + " ".join(str(i) for i in face))
    lines += ["g meeting", "p 13", "g walk", "l 14 15 16"]
    for k, name in enumerate(NAMES):
        lines += [f"g support-{name}", f"l {17 + 2 * k} {18 + 2 * k}"]
    path.write_text("\n".join(lines) + "\n")


def polygon_area(points):
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, points[1:] + points[:1])) / 2


class SamePlan(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.reference = reference(self.folder)

    def same(self, a, b, what):
        if isinstance(a, list):
            self.assertEqual(len(a), len(b), what)
            for k, (x, y) in enumerate(zip(a, b)):
                self.same(x, y, f"{what}[{k}]")
        elif isinstance(a, dict):
            self.assertEqual(set(a), set(b), what)
            for key in a:
                self.same(a[key], b[key], f"{what}.{key}")
        elif isinstance(a, float):
            self.assertAlmostEqual(a, b, delta=1e-6, msg=what)
        else:
            self.assertEqual(a, b, what)

    def expect_same(self, text):
        code, out = check(self.folder, text)
        self.assertEqual(code, 0, out)
        plan = out["plan"]
        for one in (plan, self.reference):  # a hole may start at any of its corners
            one["openings"] = [sorted(hole) for hole in one["openings"]]
        self.same(self.reference, plan, "plan")

    def test_dxf_of_each_version(self):
        for version in ("R12", "R2000", "R2004", "R2007", "R2010", "R2013"):
            for unit, factor in ((ezdxf.units.MM, 1000), (ezdxf.units.M, 1), (ezdxf.units.IN, 1 / 0.0254)):
                with self.subTest(version=version, unit=unit):
                    dxf(self.folder / "plan.dxf", version, unit, factor)
                    # R12 has no unit of its own
                    name = {1000: "mm", 1: "m"}.get(factor, "in") if version == "R12" else None
                    self.expect_same(from_file("plan.dxf", name))

    def test_dxf_of_loose_lines(self):
        dxf(self.folder / "plan.dxf", "R2010", ezdxf.units.MM, 1000, "lines")
        self.expect_same(from_file("plan.dxf"))

    def test_dxf_of_lines_drawn_twice(self):
        dxf(self.folder / "plan.dxf", "R2010", ezdxf.units.M, 1, "doubled")
        self.expect_same(from_file("plan.dxf"))

    def test_geojson(self):
        geojson(self.folder / "plan.geojson")
        self.expect_same(from_file("plan.geojson", "m"))

    def test_svg(self):
        svg(self.folder / "plan.svg")
        self.expect_same(from_file("plan.svg"))

    def test_obj(self):
        obj(self.folder / "plan.obj")
        self.expect_same(from_file("plan.obj", "mm"))

    def test_levels_by_id(self):
        svg(self.folder / "plan.svg")
        code, out = check(self.folder, from_file("plan.svg", extra='[[plan.support]]\nid = "north-west"\nlevel = "0.4 m"\n'))
        self.assertEqual(code, 0, out)
        self.assertEqual({s["id"]: s["level"] for s in out["plan"]["supports"]},
                         {"north-west": 0.4, "south-west": 0, "south-east": 0, "north-east": 0})


class Curves(unittest.TestCase):
    """Edges bowed inward by 0.75 m, as arcs; a round eye. Areas by closed form."""

    SAG = 0.75
    CHORD = 2 * (H - S)
    RADIUS = (CHORD ** 2 / 4 + SAG ** 2) / (2 * SAG)
    HALF = math.asin(CHORD / 2 / RADIUS)
    SEGMENT = RADIUS ** 2 * (HALF - math.sin(2 * HALF) / 2)
    AREA = 4 * H * H - 4 * S * S / 2 - 4 * SEGMENT

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())

    def curved(self, arcs):
        doc = ezdxf.new("R2010")
        doc.units = ezdxf.units.M
        space = doc.modelspace()
        if arcs:
            for k, (dx, dy) in enumerate(((0, -1), (1, 0), (0, 1), (-1, 0))):  # south, east, north, west
                away = H - self.SAG + self.RADIUS  # centre outside the plan
                towards = math.degrees(math.atan2(-dy, -dx))
                half = math.degrees(self.HALF)
                space.add_arc((dx * away, dy * away), self.RADIUS, towards - half, towards + half, dxfattribs={"layer": "outline"})
            for ends in CORNERS:
                space.add_line(*ends, dxfattribs={"layer": "outline"})
        else:
            bulge = -math.tan(self.HALF / 2)
            points = [(x, y, 0 if k % 2 == 0 else bulge) for k, (x, y) in enumerate(OUTLINE)]
            space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": "outline"})
        space.add_circle((0, 0), 0.9, dxfattribs={"layer": "opening"})
        for name, ends in zip(NAMES, CORNERS):
            space.add_line(*ends, dxfattribs={"layer": "support-" + name})
        doc.saveas(self.folder / "plan.dxf")
        rest = from_file("plan.dxf").replace('[walkway]\nwidth = "1 m"\n', "")
        code, out = check(self.folder, rest)
        self.assertEqual(code, 0, out)
        return out["plan"]

    def test_arcs_and_bulges_are_one_plan(self):
        plans = [self.curved(True), self.curved(False)]
        for plan in plans:
            # chords lie outside the bowed edges by at most 5 mm
            got = polygon_area(plan["outline"])
            self.assertGreater(got, self.AREA)
            self.assertLess(got - self.AREA, 4 * 2 * self.RADIUS * self.HALF * 5e-3)
            for x, y in plan["outline"]:
                on_arc = min(abs(math.hypot(x - dx * (H - self.SAG + self.RADIUS), y - dy * (H - self.SAG + self.RADIUS)) - self.RADIUS)
                             for dx, dy in ((0, -1), (1, 0), (0, 1), (-1, 0)))
                self.assertLess(on_arc, 1e-6)
            hole = plan["openings"][0]
            self.assertTrue(all(abs(math.hypot(*p) - 0.9) < 1e-9 for p in hole))
            sagitta = 0.9 * (1 - math.cos(math.pi / len(hole)))
            self.assertLessEqual(sagitta, 5e-3)
            self.assertGreater(0.9 * (1 - math.cos(math.pi / (len(hole) - 1))), 5e-3)  # and no more than needed
        a, b = (plan["outline"] for plan in plans)
        self.assertEqual(len(a), len(b))
        for p in a:
            self.assertLess(min(math.dist(p, q) for q in b), 1e-6)


class Broken(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())

    def refused(self, name, content, says, unit=None):
        (self.folder / name).write_text(content)
        code, out = check(self.folder, from_file(name, unit))
        self.assertEqual(code, 2, out)
        said = json.dumps(out["faults"])
        for part in says:
            self.assertIn(part, said)
        return out["faults"]

    def whole(self):
        dxf(self.folder / "whole.dxf", "R2010", ezdxf.units.MM, 1000)
        return (self.folder / "whole.dxf").read_text()

    def test_dxf(self):
        text = self.whole()
        lines = text.split("\n")
        half = len(lines) // 4 * 2
        self.refused("plan.dxf", "\n".join(lines[:half]) + "\n", ["EOF"])
        self.refused("plan.dxf", "\n".join(lines[:half + 1]) + "\n", ["the end of the file after a group code"])
        self.refused("plan.dxf", "", ["EOF"])
        self.refused("plan.dxf", "hello\nworld\n", ["a group code", "hello"])
        self.refused("plan.dxf", text.replace("OUTLINE", "outlines"), ["a closed line called outline"])
        at = text.index("\nOUTLINE", text.index("ENTITIES"))
        x = text.index("\n 10\n", at)
        self.refused("plan.dxf", text[:x] + "\n 10\nnan" + text[text.index("\n", x + 5):], ["a finite number", "OUTLINE"])

    def test_dxf_without_unit(self):
        text = self.whole()
        at = text.index("$INSUNITS")
        none = text[:at] + text[at:].replace("4\n", "0\n", 1)
        self.refused("plan.dxf", none, ["lengths without a unit", "file_unit"])
        self.refused("plan.dxf", text, ["0.001 m, where the brief says cm"], "cm")

    def test_gap_in_outline(self):
        doc = ezdxf.new("R2010")
        doc.units = ezdxf.units.M
        for a, b in zip(OUTLINE, OUTLINE[1:]):
            doc.modelspace().add_line(a, b, dxfattribs={"layer": "outline"})
        doc.saveas(self.folder / "gap.dxf")
        faults = self.refused("plan.dxf", (self.folder / "gap.dxf").read_text(), ["open between", f"{H * 2 - 2 * S:.4f}".rstrip("0")])
        self.assertIn("plan.dxf", faults[0]["file"])
        self.assertGreater(faults[0]["line"], 0)

    def test_spline(self):
        doc = ezdxf.new("R2010")
        doc.units = ezdxf.units.M
        doc.modelspace().add_spline([(0, 0), (1, 1), (2, 0)], dxfattribs={"layer": "outline"})
        doc.saveas(self.folder / "s.dxf")
        self.refused("plan.dxf", (self.folder / "s.dxf").read_text(), ["a SPLINE", "on layer outline", "LWPOLYLINE"])

    def test_geojson(self):
        geojson(self.folder / "whole.geojson")
        text = (self.folder / "whole.geojson").read_text()
        self.refused("plan.geojson", text, ["degrees of longitude and latitude"])
        named = json.loads(text) | {"crs": {"type": "name", "properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}}}
        self.refused("plan.geojson", json.dumps(named), ["CRS84", "project them"], "m")
        self.refused("plan.geojson", text[:-30], ["not JSON"], "m")
        self.refused("plan.geojson", text.replace('"LineString"', '"MultiLineString"', 1), ["MultiLineString", "support-south-east"], "m")
        self.refused("plan.geojson", text.replace("[-0.5, 0.5]", '["a", 0.5]', 1), ["no pair of numbers", "feature 1"], "m")
        self.refused("plan.geojson", "[1, 2]", ["no object"], "m")

    def test_svg(self):
        svg(self.folder / "whole.svg")
        text = (self.folder / "whole.svg").read_text()
        self.refused("plan.svg", text[:200], ["not XML"])
        self.refused("plan.svg", text.replace('width="8000mm"', 'width="8000"'), ["lengths without a unit"])
        self.refused("plan.svg", text.replace('height="800cm"', 'height="900cm"'), ["unevenly"])
        self.refused("plan.svg", text.replace("rotate(-90)", "rotate(-90"), ["a transform", '"line": 3'])
        self.refused("plan.svg", text.replace("<circle", "<ellipse"), ["ellipse", "meeting"])
        self.refused("plan.svg", text.replace('d="M', 'd="X', 2), ["path data", "opening-1"])

    def test_obj(self):
        obj(self.folder / "whole.obj")
        text = (self.folder / "whole.obj").read_text()
        self.refused("plan.obj", text, ["lengths without a unit"])
        self.refused("plan.obj", text.replace(" 12\n", " 800\n", 1), ["heights that differ by 0.788 m"], "mm")
        self.refused("plan.obj", text.replace("f 1 2 10", "f 1 2 99"), ["99", "one of the"], "mm")
        self.refused("plan.obj", text.replace("v ", "v x", 1), ["a finite coordinate"], "mm")

    def test_no_file(self):
        code, out = check(self.folder, from_file("none.dxf"))
        self.assertEqual(code, 2)
        self.assertIn("no such file", json.dumps(out))
        self.refused("plan.dwx", "", ["ends in", ".geojson"])


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=1)
