"""DXF files read by another make (ezdxf): no error, nothing to mend, only what was meant to be there.

usage: check_dxf.py DIR        every .dxf below it
       check_dxf.py --make BINARY
"""

import collections
import csv
import pathlib
import subprocess
import sys
import tempfile

import ezdxf
import ezdxf.recover
import ezdxf.units

LAYERS = {"0": 7, "CUT_OUTER": 1, "CUT_INNER": 5, "ENGRAVE": 3, "SHEET": 8, "NOTES": 7}


def check(path):
    raw = path.read_bytes()
    assert raw.isascii(), path
    for doc, auditor in ((ezdxf.readfile(path), None), ezdxf.recover.readfile(path)):
        auditor = auditor or doc.audit()
        assert not auditor.errors, (path, [e.message for e in auditor.errors])
        assert not auditor.fixes, (path, [f.message for f in auditor.fixes])
    assert doc.dxfversion == "AC1009", doc.dxfversion
    assert doc.units == ezdxf.units.MM, doc.units
    layers = {l.dxf.name: l.dxf.color for l in doc.layers}
    for name, colour in LAYERS.items():
        assert layers.get(name) == colour, (path, layers)
    space = doc.modelspace()
    count = collections.Counter((e.dxftype(), e.dxf.layer) for e in space)
    assert {kind for kind, _ in count} <= {"POLYLINE", "TEXT"}, count
    assert {layer for _, layer in count} <= set(LAYERS), count
    for line in space.query("POLYLINE"):
        assert len(line.vertices) >= 2, path
        assert line.is_closed == (line.dxf.layer != "ENGRAVE"), (path, line.dxf.layer)
    notes = " ".join(t.dxf.text for t in space.query("TEXT"))
    assert "Unit: millimetres" in notes, notes
    low, high = doc.header["$EXTMIN"], doc.header["$EXTMAX"]
    xs = [v.dxf.location.x for line in space.query("POLYLINE") for v in line.vertices]
    ys = [v.dxf.location.y for line in space.query("POLYLINE") for v in line.vertices]
    for got, want in zip((*low[:2], *high[:2]), (min(xs), min(ys), max(xs), max(ys))):
        assert abs(got - want) < 1e-3, (path, low, high)
    return count


def folder(where):
    files = sorted(pathlib.Path(where).rglob("*.dxf"))
    assert files, f"no DXF in {where}"
    total = collections.Counter()
    for path in files:
        total += check(path)
    for listed in pathlib.Path(where).rglob("centring/parts.csv"):
        with open(listed, newline="") as f:
            rows = [row for row in csv.DictReader(f) if row["area_m2"]]
        mine = sum((check(p) for p in listed.parent.glob("*.dxf")), collections.Counter())
        assert mine["POLYLINE", "CUT_OUTER"] == len(rows), (listed, mine)
        assert mine["POLYLINE", "CUT_INNER"] == sum(int(row["holes"]) for row in rows), (listed, mine)
    print(f"{len(files)} files: " + ", ".join(f"{n} {kind} on {layer}" for (kind, layer), n in sorted(total.items())))


if sys.argv[1] == "--make":
    for cutter in ("router", "laser"):
        with tempfile.TemporaryDirectory() as made:
            subprocess.run([sys.argv[2], made, cutter], check=True)
            folder(made)
else:
    folder(sys.argv[1])
