"""check_labels.py DIR SCHEMA, or --make PROGRAM SCHEMA (which writes a folder first): scans the labels of an output folder.

DIR/erect/labels.pdf is drawn by pdftoppm at 150 dots an inch and read by zbarimg; every block of
DIR/erect/plan.json must be there once, spares beside, with the text that follows from the plan.
The plan is held against SCHEMA by jsonschema. Ends with 1 on any fault.
"""

import hashlib
import json
import math
import subprocess
import sys
import tempfile
from pathlib import Path

try:
    import jsonschema
except ImportError:
    jsonschema = None

faults = []


def expect(true, text):
    if not true:
        faults.append(text)


def scanned(pdf, scratch):
    subprocess.run(["pdftoppm", "-r", "150", "-gray", "-png", pdf, f"{scratch}/page"], check=True)
    texts = []
    for page in sorted(Path(scratch).glob("page*.png")):
        read = subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", page],
                              capture_output=True, check=False)
        lines = read.stdout.decode().splitlines()
        expect(lines, f"{page.name}: nothing could be read")
        expect(len(lines) <= 8, f"{page.name}: {len(lines)} labels")
        texts += lines
    return texts


def wanted(plan, block, name):
    then = [b["id"] for b in plan["blocks"] if block["id"] in b["needs"]]
    on = [j for j in block["joints"] if j not in then]
    x, y = block["centre_m"][:2]
    level = {round(1e3 * math.hypot(s[0] - x, s[1] - y)) for s in block["slings_m"]}
    held = "" if block["held_by"] in (None, "slings") else ", " + block["held_by"]
    lifting = (f"{len(block['slings_m'])} slings {','.join(str(mm) for mm in sorted(level))} mm level "
               f"from the centre of gravity{held}") if block["slings_m"] else "no lifting plan"
    return ";".join(["SKEWBACK2", plan["bridge"], name, f"{block['mass_kg']:.0f} kg",
                     f"{block['order']}/{len(plan['blocks'])}", "on " + ",".join(on),
                     "then " + ",".join(then), (block["up"] or "up not told").replace(";", ","), lifting,
                     plan["assembly_sha256"][:12]])


def check(folder, schema):
    plan = json.loads((folder / "erect/plan.json").read_text())
    if jsonschema:
        for error in jsonschema.Draft7Validator(json.loads(schema.read_text())).iter_errors(plan):
            expect(False, f"plan.json: {error.message[:200]}")
    if (folder / "assembly.json").exists():
        found = hashlib.sha256((folder / "assembly.json").read_bytes()).hexdigest()
        expect(found == plan["assembly_sha256"], f"assembly.json is {found}, not that of the plan")
    with tempfile.TemporaryDirectory() as scratch:
        texts = scanned(folder / "erect/labels.pdf", scratch)
    expect(len(texts) == len(set(texts)), "a label comes twice")
    spares = 0
    for block in plan["blocks"]:
        one, two = wanted(plan, block, block["id"]), wanted(plan, block, block["id"] + "/2")
        expect(one in texts, f"{block['id']}: no label says {one}")
        spares += two in texts
        texts = [t for t in texts if t not in (one, two)]
    expect(not texts, f"of no block: {texts}")
    print(f"labels: {len(plan['blocks'])} blocks and {spares} spares scanned; plan against its schema: "
          + ("yes" if jsonschema else "no, jsonschema is not installed"))


def main():
    if sys.argv[1] == "--make":
        with tempfile.TemporaryDirectory() as scratch:
            subprocess.run([sys.argv[2], scratch], check=True)
            check(Path(scratch), Path(sys.argv[3]))
    else:
        check(Path(sys.argv[1]), Path(sys.argv[2]))
    for fault in faults:
        print("FAULT:", fault)
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
