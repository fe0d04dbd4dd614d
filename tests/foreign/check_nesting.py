"""Cut sheets read again by other people's libraries (ezdxf, shapely).

usage: check_nesting.py DIR [--gap 0.010] [--kerf 0] [--sheet 2.44 1.22]
       check_nesting.py --make BINARY

DIR holds centring/sheet-*.dxf and centring/parts.csv. No two parts overlap or are nearer than the
gap, all lie inside the sheet, every part of the list is cut once, and its area is that of the list.
With a kerf the lines are half of it outside the parts: shrunk back before they are measured.
"""

import argparse
import csv
import itertools
import math
import pathlib
import subprocess
import sys
import tempfile

import ezdxf
from shapely.geometry import LineString, Polygon, box

SLACK = 0.05  # mm


def points(entity):
    return [(v.dxf.location.x, v.dxf.location.y) for v in entity.vertices]


def read(path):
    space = ezdxf.readfile(path).modelspace()
    lines = lambda layer: [points(e) for e in space.query(f'POLYLINE[layer=="{layer}"]')]
    outer = [Polygon(p) for p in lines("CUT_OUTER")]
    inner = [Polygon(p) for p in lines("CUT_INNER")]
    assert all(p.is_valid for p in outer + inner), path
    parts = []
    for shell in outer:
        holes = [h for h in inner if shell.contains(h)]
        parts.append(Polygon(shell.exterior.coords, [h.exterior.coords for h in holes]))
    assert sum(len(p.interiors) for p in parts) == len(inner), f"{path}: a hole lies outside its part"
    (sheet,) = lines("SHEET")
    return Polygon(sheet), parts, [LineString(p) for p in lines("ENGRAVE")]


def check(folder, gap, kerf, size):
    folder = pathlib.Path(folder) / "centring"
    with open(folder / "parts.csv", newline="") as f:
        listed = [row for row in csv.DictReader(f) if row["area_m2"]]
    sheets = sorted(folder.glob("sheet-*.dxf"), key=lambda p: int(p.stem.split("-")[1]))
    assert sheets, f"no sheets in {folder}"
    nearest, cut, used, engraved = math.inf, [], [], 0
    for path in sheets:
        sheet, parts, marks = read(path)
        assert sheet.equals(box(0, 0, 1000 * size[0], 1000 * size[1])), f"{path}: {sheet}"
        parts = [p.buffer(-500 * kerf, join_style=2) for p in parts] if kerf else parts
        inside = box(gap * 1000 - SLACK, gap * 1000 - SLACK, 1000 * (size[0] - gap) + SLACK, 1000 * (size[1] - gap) + SLACK)
        for p in parts:
            assert inside.contains(p), f"{path}: a part reaches beyond the edge: {p.bounds}"
        for a, b in itertools.combinations(parts, 2):
            assert a.intersection(b).area == 0, f"{path}: parts overlap"
            nearest = min(nearest, a.distance(b))
        assert nearest >= 1000 * gap - SLACK, f"{path}: {nearest} mm apart"
        whole = [p.buffer(SLACK) for p in parts]
        for mark in marks:
            assert any(p.contains(mark) for p in whole), f"{path}: engraved beside the parts"
        engraved += len(marks)
        cut += [(path.stem.replace("-", " "), p.area * 1e-6) for p in parts]
        used.append(sum(p.area for p in parts) / sheet.area)
    assert len(cut) == len(listed), (len(cut), len(listed))
    for name in {row["sheet"] for row in listed}:
        got = sorted(a for s, a in cut if s == name)
        want = sorted(float(row["area_m2"]) for row in listed if row["sheet"] == name)
        assert len(got) == len(want), name
        for a, b in zip(got, want):
            assert abs(a - b) <= 2e-7 + (1e-6 if kerf else 0), f"{name}: area {a} cut, {b} listed"
    print(f"{folder}: {len(cut)} parts on {len(sheets)} sheets, {engraved} strokes, nearest {nearest:.3f} mm, "
          f"used {sum(used) / len(used):.3f}")


def main():
    args = argparse.ArgumentParser()
    args.add_argument("folder", nargs="?")
    args.add_argument("--make")
    args.add_argument("--gap", type=float, default=0.010)
    args.add_argument("--kerf", type=float, default=0.0)
    args.add_argument("--sheet", type=float, nargs=2, default=(2.44, 1.22))
    a = args.parse_args()
    if not a.make:
        check(a.folder, a.gap, a.kerf, a.sheet)
        return
    for cutter, kerf in (("router", 0.0), ("laser", 0.0003)):
        with tempfile.TemporaryDirectory() as folder:
            subprocess.run([a.make, folder, cutter], check=True)
            check(folder, a.gap, kerf, a.sheet)
            check(pathlib.Path(folder) / "odd", a.gap, kerf, a.sheet)


if __name__ == "__main__":
    sys.exit(main())
