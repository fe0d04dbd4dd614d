"""check_folder.py DIR: reads an output folder with readers that share nothing with the writer.

Python's csv, json and xml, assimp for the solids, poppler for the report. Prints what was read, and
every fault it finds; ends with 1 if there was any.
"""

import csv
import ctypes
import json
import re
import subprocess
import sys
import tempfile
import zipfile
import xml.etree.ElementTree as xml
from pathlib import Path

faults = []


def expect(true, text):
    if not true:
        faults.append(text)


def strict_json(path):
    def refuse(constant):
        raise ValueError(f"{path}: {constant} is not JSON")

    def no_twins(pairs):
        keys = [key for key, _ in pairs]
        expect(len(keys) == len(set(keys)), f"{path}: a key stands twice")
        return dict(pairs)

    return json.loads(path.read_bytes().decode("utf-8"), parse_constant=refuse, object_pairs_hook=no_twins)


def table(path):
    raw = path.read_bytes().decode("utf-8")
    expect("\n" not in raw.replace("\r\n", ""), f"{path.name}: a line does not end in CR LF")
    rows = list(csv.reader(raw.splitlines(), strict=True))
    for number, row in enumerate(rows):
        expect(len(row) == len(rows[0]), f"{path.name}: row {number} has {len(row)} fields")
    return [dict(zip(rows[0], row)) for row in rows[1:]]


def run(*command):
    done = subprocess.run(command, capture_output=True)
    expect(done.returncode == 0, f"{' '.join(map(str, command))}: {done.stderr.decode()[:300]}")
    return done.stdout.decode("utf-8", errors="replace")


def check_json(folder):
    count = 0
    for path in sorted(folder.rglob("*.json")):
        strict_json(path)
        count += 1
    summary = strict_json(folder / "summary.json")
    for case in summary["stand"]["cases"]:
        expect(case["verdict"] in ("stands", "falls", "undecided"), f"verdict {case['verdict']}")
        expect((folder / case["certificate"]).is_file(), f"no evidence {case['certificate']}")
    for stage in summary.get("erect", {}).get("stages", []):
        expect((folder / stage["certificate"]).is_file(), f"no evidence {stage['certificate']}")
    print(f"json: {count} files")
    return summary


def check_csv(folder, summary):
    blocks, joints = table(folder / "blocks.csv"), table(folder / "joints.csv")
    cut = summary["cut"]
    expect(len(blocks) == cut["blocks"], "blocks.csv and summary.json count blocks differently")
    expect(len(joints) == cut["joints"], "joints.csv and summary.json count joints differently")
    masses = [float(row["concrete_kg"]) for row in blocks]
    expect(abs(sum(masses) - cut["mass_kg"]) < 1e-3 * len(masses), "blocks.csv: masses do not add up")
    expect(abs(max(masses) - cut["block_mass_max_kg"]) < 1e-2, "blocks.csv: heaviest block differs")
    known = {block["id"] for block in strict_json(folder / "assembly.json")["blocks"]}
    for row in joints:
        expect(row["a"] in known and row["b"] in known, f"joints.csv: unknown block in {row}")
        length = sum(float(row[f"normal_{c}"]) ** 2 for c in "xyz")
        expect(abs(length - 1) < 1e-4, f"joints.csv: normal of joint {row['joint']} is not of length 1")
    print(f"csv: {len(blocks)} blocks, {len(joints)} joints")
    return known


def check_glb(folder, known):
    path = folder / "blocks.glb"
    text = run("assimp", "info", path)
    for name in known:
        expect(re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", text), f"assimp: no node {name}")
    expect(re.search(r"Primitive Types:.*triangles", text), "assimp: no triangles")
    box = {}
    for word in ("Minimum", "Maximum"):
        found = re.search(rf"{word} point\s*\(?([-\d.e+]+)[ ,]+([-\d.e+]+)[ ,]+([-\d.e+]+)", text)
        expect(found, f"assimp: no {word.lower()} point")
        box[word] = [float(v) for v in found.groups()] if found else [0, 0, 0]
    corners = [v for b in strict_json(folder / "assembly.json")["blocks"] for v in b["vertices"]]
    # the file is y up: its height is y, and world y points out of its -z
    rise = max(v[2] for v in corners) - min(v[2] for v in corners)
    expect(abs(box["Maximum"][1] - box["Minimum"][1] - rise) < 1e-3, "assimp: height is not along y")
    print(f"glb: {len(known)} blocks, {rise:.3f} m high")


NS = {"m": "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"}


def check_3mf(folder):
    """Python's zipfile and XML: closed meshes, named and placed, each of its block's mass."""
    blocks = {row["id"]: row for row in table(folder / "blocks.csv")}
    density = {b["id"]: b["density"] for b in strict_json(folder / "assembly.json")["blocks"]}
    solids = {b["id"]: b for b in strict_json(folder / "assembly.json")["blocks"]}
    with zipfile.ZipFile(folder / "blocks.3mf") as archive:
        expect(archive.testzip() is None, "blocks.3mf: a part with a wrong checksum")
        expect(all(i.date_time == (1980, 1, 1, 0, 0, 0) for i in archive.infolist()), "blocks.3mf: dates")
        root = xml.fromstring(archive.read("3D/3dmodel.model"))
    expect(root.get("unit") == "millimeter", "blocks.3mf: not in millimetres")
    places = {item.get("objectid"): item for item in root.iterfind("m:build/m:item", NS)}
    objects = root.findall("m:resources/m:object", NS)
    expect({o.get("name") for o in objects} == set(blocks), "blocks.3mf: other blocks than blocks.csv")
    worst = 0
    for block in objects:
        name = block.get("name")
        expect(block.get("partnumber") == name == places[block.get("id")].get("partnumber"), f"3mf: part number of {name}")
        points = [tuple(float(v.get(c)) / 1000 for c in "xyz") for v in block.iterfind("m:mesh/m:vertices/m:vertex", NS)]
        faces = [tuple(int(t.get(f"v{k}")) for k in (1, 2, 3)) for t in block.iterfind("m:mesh/m:triangles/m:triangle", NS)]
        edges = {}
        for a, b, c in faces:
            expect(len({a, b, c}) == 3, f"3mf: {name} has a triangle of fewer than three corners")
            for edge in ((a, b), (b, c), (c, a)):
                edges[edge] = edges.get(edge, 0) + 1
        expect(all(n == 1 and edges.get((b, a)) == 1 for (a, b), n in edges.items()), f"3mf: {name} is not closed")
        volume = 0
        for a, b, c in ((points[i] for i in f) for f in faces):
            volume += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])) / 6
        true = solid_volume(solids[name])
        worst = max(worst, abs(volume / true - 1))
        mass = float(blocks[name]["concrete_kg"])
        expect(abs(volume * density[name] - mass) < 1e-6 * mass + 0.006, f"3mf: {name} weighs {volume * density[name]}, not {mass}")
        shift = [float(v) / 1000 for v in places[block.get("id")].get("transform").split()[9:]]
        low = [min(p[k] for p in points) + shift[k] for k in range(3)]
        there = [min(p[k] for p in solids[name]["vertices"]) for k in range(3)]
        expect(max(abs(a - b) for a, b in zip(low, there)) < 1e-8, f"3mf: {name} is out of its place")
    expect(worst < 1e-6, f"3mf: a volume differs by {worst:.1e}")
    print(f"3mf: {len(objects)} blocks, volumes to {worst:.0e}")
    check_3mf_library(folder / "blocks.3mf", len(objects))


def solid_volume(block):
    """Faces fanned about their first corner: exact for flat faces of any outline."""
    volume = 0
    for face in block["faces"]:
        a, *rest = (block["vertices"][i] for i in face)
        for b, c in zip(rest, rest[1:]):
            volume += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])) / 6
    return volume


def check_3mf_library(path, count):
    """The format's reference library, where it is installed: reads without a warning."""
    try:
        lib = ctypes.CDLL("lib3MF.so.1")
    except OSError:
        print("3mf: no reference library here, not read by it")
        return
    p, n, yes = ctypes.c_void_p, ctypes.c_uint32(), ctypes.c_bool()
    model, reader, objects = p(), p(), p()
    good = lib.lib3mf_createmodel(ctypes.byref(model)) == 0
    good &= lib.lib3mf_model_queryreader(model, b"3mf", ctypes.byref(reader)) == 0
    good &= lib.lib3mf_reader_readfromfileutf8(reader, str(path).encode()) == 0
    expect(good, "3mf: the reference library cannot read it")
    if not good:
        return
    lib.lib3mf_reader_getwarningcount(reader, ctypes.byref(n))
    expect(n.value == 0, f"3mf: the reference library warns {n.value} times")
    lib.lib3mf_model_getmeshobjects(model, ctypes.byref(objects))
    read = 0
    while lib.lib3mf_resourceiterator_movenext(objects, ctypes.byref(yes)) == 0 and yes.value:
        mesh = p()
        lib.lib3mf_resourceiterator_getcurrent(objects, ctypes.byref(mesh))
        lib.lib3mf_meshobject_ismanifoldandoriented(mesh, ctypes.byref(yes))
        expect(yes.value, f"3mf: the reference library finds mesh {read + 1} open")
        read += 1
        yes.value = True
    expect(read == count, f"3mf: the reference library finds {read} blocks")
    print(f"3mf: reference library, {read} meshes closed")


def words(text):
    return re.sub(r"\s+", " ", text)


def check_pdf(folder, summary):
    path = folder / "report.pdf"
    text = words(run("pdftotext", "-layout", path, "-"))
    plain = words(run("pdftotext", path, "-"))
    pages = int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", path)).group(1))
    expect(pages >= 5, f"report.pdf: only {pages} pages")
    expect(f"page {pages} of {pages}" in text, "report.pdf: the last page is not numbered")
    for case in summary["stand"]["cases"]:
        expect(case["id"] in text or case["id"] in plain, f"report.pdf: no case {case['id']}")
    for check in summary["required"]:
        expect(check["name"] in text, f"report.pdf: no check {check['name']}")
    for phrase in ("This is a design aid.", "The licensed engineer of the place", "Never stand under the bridge",
                   "No partial factor is implied by silence", "Lifting plans belong to a competent person",
                   "What was not looked at", "View 2"):
        expect(phrase in plain, f"report.pdf: does not say '{phrase}'")
    with tempfile.TemporaryDirectory() as scratch:
        run("pdftoppm", "-r", "40", "-gray", path, f"{scratch}/page")
        images = sorted(Path(scratch).iterdir())
        expect(len(images) == pages, f"pdftoppm drew {len(images)} of {pages} pages")
        for number, image in enumerate(images, 1):
            pixels = image.read_bytes()[15:]
            expect(sum(v < 128 for v in pixels) > 100, f"page {number} is blank")
    print(f"pdf: {pages} pages")


def check_drawings(folder, summary):
    for name in ("plan.svg", "elevation.svg", "force-polygon.svg", "force-picture.svg"):
        root = xml.parse(folder / name).getroot()
        expect(root.tag.endswith("svg") and root.get("width", "").endswith("mm"), f"{name}: no size in mm")
        written = [node.text for node in root.iter("{http://www.w3.org/2000/svg}text")]
        expect(written, f"{name}: no words")
        expect("nan" not in (folder / name).read_text(), f"{name}: not a number in it")
        print(f"{name}: {len(written)} words")
    header = (folder / "picture.png").read_bytes()[:24]
    expect(header[:8] == b"\x89PNG\r\n\x1a\n", "picture.png: not a PNG")
    width = int.from_bytes(header[16:20], "big")
    expect(width == 1600, f"picture.png: {width} wide")


def main():
    folder = Path(sys.argv[1])
    summary = check_json(folder)
    known = check_csv(folder, summary)
    check_glb(folder, known)
    check_3mf(folder)
    check_pdf(folder, summary)
    check_drawings(folder, summary)
    for fault in faults:
        print("FAULT:", fault)
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
