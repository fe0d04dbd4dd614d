"""check_print_poses.py DIR SCHEMA, or --make PROGRAM SCHEMA (which writes a folder first): reads the pose files of an output folder and adds them up again.

From DIR/print/*.csv alone: volume, path and time of every block, against summary.json. Tolerances:
a row is rounded to 0.01 mm in place, 0.001 mm in the bead, 0.01 mm/s and 0.001 s, each a hundredth
of a per cent or less of what is added up, so sums may differ by 0.1 %. Prints what was read and
every fault; ends with 1 if there was any, or if there are no poses at all.
"""

import csv
import json
import math
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy

try:
    import jsonschema
except ImportError:
    jsonschema = None

SUM_REL = 1e-3
ROUND = 1 - math.pi / 4
faults = []


def expect(true, text):
    if not true:
        faults.append(text)


TYPES = {"object": dict, "array": list, "string": str, "number": (int, float), "integer": int}


def plain_check(value, schema, at):
    """The few words of JSON Schema that ours uses; a word it does not know is a fault."""
    for word, rule in schema.items():
        if word in ("$schema", "title", "properties"):
            continue
        good = True
        if word == "type":
            good = isinstance(value, TYPES[rule]) and not isinstance(value, bool)
        elif word == "const":
            good = value == rule
        elif word == "enum":
            good = value in rule
        elif word == "minLength":
            good = len(value) >= rule
        elif word == "minItems":
            good = len(value) >= rule
        elif word == "maxItems":
            good = len(value) <= rule
        elif word == "uniqueItems":
            good = len({json.dumps(v) for v in value}) == len(value)
        elif word == "minimum":
            good = value >= rule
        elif word == "exclusiveMinimum":
            good = value > rule
        elif word == "required":
            good = all(key in value for key in rule)
        elif word == "items":
            for i, item in enumerate(value):
                plain_check(item, rule, f"{at}[{i}]")
        elif word == "additionalProperties":
            for key in value.keys() - schema.get("properties", {}).keys():
                if rule is False:
                    good = False
                elif rule is not True:
                    plain_check(value[key], rule, f"{at}.{key}")
        else:
            sys.exit(f"schema: the word {word} is not known here")
        if not good:
            raise ValueError(f"{at}: not as the schema says ({word})")
    for key, rule in schema.get("properties", {}).items():
        if key in value:
            plain_check(value[key], rule, f"{at}.{key}")


def check_schema(path, data, schema):
    try:
        plain_check(data, schema, path.name)
    except (ValueError, TypeError, AttributeError) as fault:
        expect(False, f"{fault}")
    if jsonschema:
        validator = jsonschema.Draft7Validator(schema)
        for error in validator.iter_errors(data):
            expect(False, f"{path.name}: {error.message[:200]}")


def table(path):
    raw = path.read_bytes().decode("ascii")
    expect("\n" not in raw.replace("\r\n", ""), f"{path.name}: a line does not end in CR LF")
    rows = list(csv.reader(raw.splitlines(), strict=True))
    expect(len({len(row) for row in rows}) == 1, f"{path.name}: rows of unequal length")
    return rows[0], numpy.array(rows[1:], dtype=float)


def near(name, what, found, told):
    expect(abs(found - told) <= SUM_REL * abs(told), f"{name}: {what} adds up to {found:.6g}, summary.json says {told:.6g}")
    return abs(found / told - 1) if told else math.inf


def check_turns(name, q):
    expect(numpy.all(abs(numpy.linalg.norm(q, axis=1) - 1) < 2e-5), f"{name}: a quaternion is not of length 1")
    up = 1 - 2 * (q[:, 0] ** 2 + q[:, 1] ** 2)  # z of the tool's z
    expect(numpy.all(up > 0), f"{name}: the nozzle points up in row {int(numpy.argmin(up)) + 1}")
    turn = numpy.sum(q[1:] * q[:-1], axis=1)
    expect(numpy.all(turn >= 0), f"{name}: the quaternion changes sign")


def check_block(folder, block, schema):
    """Differences from the summary: of volume, path and time, relative."""
    path = folder / (block["files"] + ".csv")
    name = path.name
    columns, values = table(path)
    data = json.loads(path.with_suffix(".json").read_text(encoding="utf-8"))
    check_schema(path.with_suffix(".json"), data, schema)
    expect(columns == data["columns"], f"{name}: the .json has other columns")
    expect(numpy.array_equal(values, numpy.array(data["poses"], dtype=float)), f"{name}: the .json has other rows")
    expect(data["block"] == block["id"], f"{name}: the .json is of {data['block']}")
    expect(len(values) == block["poses"], f"{name}: {len(values)} rows, summary.json says {block['poses']}")
    expect(len(data["layers"]) == block["layers"], f"{name}: layers differ from summary.json")
    at = {column: values[:, i] for i, column in enumerate(columns)}
    expect(numpy.all(numpy.isfinite(values)), f"{name}: a number is not finite")

    steps = numpy.linalg.norm(numpy.diff(values[:, 1:4], axis=0), axis=1)  # mm
    passed = numpy.diff(at["time_s"])
    expect(numpy.all(passed >= 0), f"{name}: time runs backwards")
    width, height, speed = (at[c][:-1] for c in ("bead_width_mm", "bead_height_mm", "speed_mm_s"))
    lays = width > 0
    section = width * height - ROUND * height**2
    expect(numpy.all(section[lays] >= 0), f"{name}: a bead of less than nothing")
    flow = section * speed * 6e-5  # mm3/s to L/min
    slack = 6e-5 * (speed * 0.00051 * (width + height) + 0.0051 * section) + 6e-5
    given = at["flow_l_min"][:-1] + at.get("accelerator_ml_min", numpy.zeros(len(values)))[:-1] / 1e3
    expect(numpy.all(abs(flow - given)[lays] <= slack[lays]), f"{name}: mix and accelerator are not section times speed")
    expect(numpy.all(at["flow_l_min"][:-1][~lays] == 0), f"{name}: flows while it travels")
    expect(numpy.all(speed[lays] > 0), f"{name}: lays and stands still")
    expect(numpy.all(numpy.diff(at["layer"]) >= 0), f"{name}: layers out of order")
    expect(at["layer"].min() == 1 and at["layer"].max() == block["layers"], f"{name}: layers do not run from 1 to {block['layers']}")
    check_turns(name, values[:, 4:8])

    # a step by its speed and by the clock: places are rounded to 0.01 mm, times to 0.001 s
    by_speed = steps[lays] / speed[lays]
    slack = 0.002 + 0.03 / speed[lays] + 1e-3 * by_speed
    late = abs(by_speed - passed[lays]) - slack
    expect(numpy.all(late <= 0), f"{name}: {int(numpy.sum(late > 0))} rows whose time is not way over speed")
    time = by_speed.sum() + passed[~lays].sum()
    return (
        near(name, "volume", (section * steps)[lays].sum() * 1e-9, block["volume_m3"]),
        near(name, "path", steps[lays].sum() * 1e-3, block["path_m"]),
        near(name, "time", time, block["time_s"]),
    )


def main():
    if sys.argv[1] == "--make":
        with tempfile.TemporaryDirectory() as scratch:
            subprocess.run([sys.argv[2], f"{scratch}/out"], check=True)
            check(Path(scratch) / "out", Path(sys.argv[3]))
    else:
        check(Path(sys.argv[1]), Path(sys.argv[2]))
    for fault in faults:
        print("FAULT:", fault)
    sys.exit(1 if faults else 0)


def check(folder, schema):
    schema = json.loads(schema.read_text())
    printed = json.loads((folder / "summary.json").read_text())["print"]
    worst, rows, blocks = [0.0, 0.0, 0.0], 0, 0
    for block in printed["blocks"]:
        if block["files"] is None:
            expect(block["reason"], f"{block['id']}: no poses and no reason")
            continue
        worst = [max(pair) for pair in zip(worst, check_block(folder, block, schema))]
        rows += block["poses"]
        blocks += 1
    expect(blocks > 0, "no block has poses")
    known = {block["files"] for block in printed["blocks"]}
    for path in (folder / "print").glob("*.csv"):
        expect(f"print/{path.stem}" in known, f"{path.name}: of no block in summary.json")
    time_s = {block["id"]: block["time_s"] for block in printed["blocks"]}
    hours = sum(time_s[entry["id"]] for entry in printed["order"]) / 3600
    expect(abs(hours - printed["print_h"]) <= 1e-6 * max(1, hours), f"print_h {printed['print_h']}, blocks add up to {hours}")
    listed = [entry["id"] for entry in printed["order"] if not entry["spare"]]
    expect(sorted(listed) == sorted(b["id"] for b in printed["blocks"] if b["printable"] and b["way"] != "cast"),
           "order: not every printable block once")
    spares = [entry["id"] for entry in printed["order"] if entry["spare"]]
    expect(len(spares) == len(set(spares)) and set(spares) <= set(listed), "order: spares of no block")
    print(f"poses: {blocks} blocks, {rows} rows; volume, path, time off by at most "
          + ", ".join(f"{100 * w:.4f}" for w in worst) + " %; schema by "
          + ("jsonschema and the plain check" if jsonschema else "the plain check (jsonschema is not installed)"))


if __name__ == "__main__":
    main()
