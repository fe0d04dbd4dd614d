"""check_block_strength.py PROGRAM: holds the strength of blocks to finite elements (CalculiX, quadratic bricks).

Three blocks: (a) a hollow one with a concentrated load on its skin between two webs; (b) the same one pressed off its
middle by linear pressure on its beds; (c) a solid one under a strip of pad. PROGRAM gives our figures. Prints every
ratio of ours to theirs; the bands are stated beside each check.
"""

import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np

E, NU = 30e9, 0.2
CORNERS = [(0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0), (0, 0, 2), (2, 0, 2), (2, 2, 2), (0, 2, 2)]
EDGES = [(0, 1), (1, 2), (2, 3), (3, 0), (4, 5), (5, 6), (6, 7), (7, 4), (0, 4), (1, 5), (2, 6), (3, 7)]


def lines(*marks):
    """Grid lines through marks, (position, elements up to the next)."""
    out = [marks[0][0]]
    for (x0, n), (x1, _) in zip(marks, marks[1:]):
        out += list(x0 + (x1 - x0) * (np.arange(n) + 1) / n)
    return np.array(out)


class Mesh:
    """20-node bricks on a grid, where `solid` says so at their middles."""

    def __init__(self, xs, ys, zs, solid):
        self.grid = (xs, ys, zs)
        self.ids, self.points, self.elements, self.boxes = {}, [], [], []
        fine = [np.interp(np.arange(2 * len(g) - 1) / 2, np.arange(len(g)), g) for g in self.grid]
        for i in range(len(xs) - 1):
            for j in range(len(ys) - 1):
                for k in range(len(zs) - 1):
                    middle = [fine[d][2 * n + 1] for d, n in enumerate((i, j, k))]
                    if not solid(*middle):
                        continue
                    corner = [np.add((2 * i, 2 * j, 2 * k), c) for c in CORNERS]
                    places = corner + [(corner[a] + corner[b]) // 2 for a, b in EDGES]
                    self.elements.append([self.node(tuple(p), fine) for p in places])
                    self.boxes.append((i, j, k))
        self.points = np.array(self.points)

    def node(self, place, fine):
        if place not in self.ids:
            self.ids[place] = len(self.points) + 1
            self.points.append([fine[d][place[d]] for d in range(3)])
        return self.ids[place]

    def where(self, condition):
        return [n + 1 for n, p in enumerate(self.points) if condition(*p)]


def run(mesh, held, steps):
    """Stress at the nodes (n, 6) of each step. held: [(nodes, direction)]; steps: [[(element, face, pressure)]]."""
    text = ["*NODE, NSET=ALL"]
    text += ["%d, %.12g, %.12g, %.12g" % (n + 1, *p) for n, p in enumerate(mesh.points)]
    text.append("*ELEMENT, TYPE=C3D20R, ELSET=E")
    for e, nodes in enumerate(mesh.elements):
        row = [e + 1] + nodes
        text += [", ".join(map(str, row[:16])) + ",", ", ".join(map(str, row[16:]))]
    text += ["*MATERIAL, NAME=M", "*ELASTIC", "%g, %g" % (E, NU), "*SOLID SECTION, ELSET=E, MATERIAL=M", "*BOUNDARY"]
    text += ["%d, %d, %d" % (n, d, d) for nodes, d in held for n in nodes]
    for loads in steps:
        text += ["*STEP", "*STATIC", "*DLOAD, OP=NEW"]
        text += ["%d, P%d, %.12g" % (e + 1, face, p) for e, face, p in loads]
        text += ["*EL FILE", "S", "*END STEP"]
    with tempfile.TemporaryDirectory() as folder:
        job = pathlib.Path(folder) / "job"
        job.with_suffix(".inp").write_text("\n".join(text) + "\n")
        done = subprocess.run(["ccx", "-i", "job"], cwd=folder, capture_output=True, text=True, timeout=500)
        if not job.with_suffix(".frd").exists():
            sys.exit("ccx: " + done.stdout[-2000:])
        return read_frd(job.with_suffix(".frd"), len(mesh.points))


def read_frd(path, count):
    out, now = [], None
    for line in path.read_text().splitlines():
        if line.startswith(" -4"):
            now = None
            if line.split()[1] == "STRESS":
                now = np.zeros((count, 6))
                out.append(now)
        elif line.startswith(" -1") and now is not None:
            now[int(line[3:13]) - 1] = [float(line[13 + 12 * i : 25 + 12 * i]) for i in range(6)]
        elif line.startswith(" -3"):
            now = None
    return out


LEAF, WEB, SPAN, DEPTH, LENGTH, SIDE = 0.045, 0.045, 0.255, 0.34, 0.4, 0.1
WIDE = 3 * SPAN + 4 * WEB


def hollow_block(side=WEB):
    """Three tubes; its low side, outside x = 0, may be thicker than the webs."""
    marks = [(WEB - side, 2)]
    for i in range(3):
        x = WEB + i * (SPAN + WEB)
        patch, shift = (SPAN - SIDE) / 2, (SPAN - SIDE) / 4
        marks += [(x, 2), (x + shift, 2), (x + patch, 1), (x + SIDE, 2), (x + shift + SIDE, 2), (x + patch + SIDE, 4)]
        marks.append((x + SPAN, 2))
    marks.append((WIDE, 0))

    def solid(x, _, z):
        across = (x - WEB) % (SPAN + WEB)
        return z < LEAF or z > DEPTH - LEAF or across > SPAN or x < WEB or x > WIDE - WEB

    zs = lines((0, 2), (LEAF, 6), (DEPTH - LEAF, 2), (DEPTH, 0))
    return Mesh(lines(*marks), np.linspace(0, LENGTH, 17), zs, solid)


def on_top(mesh, x0, x1, y0, y1, pressure):
    xs, ys, zs = mesh.grid
    top = len(zs) - 2
    return [
        (e, 2, pressure)
        for e, (i, j, k) in enumerate(mesh.boxes)
        if k == top and x0 < (xs[i] + xs[i + 1]) / 2 < x1 and y0 < (ys[j] + ys[j + 1]) / 2 < y1
    ]


def skin_tension(mesh, places):
    """{place: (sagging, hogging, along)} under 10 kN on the square at each place."""
    low = mesh.grid[0][0]
    q = 10e3 / SIDE**2
    steps = [on_top(mesh, x - SIDE / 2, x + SIDE / 2, y - SIDE / 2, y + SIDE / 2, q) for x, y in places.values()]
    walls = lambda x: x < WEB + 1e-9 or x > WIDE - WEB - 1e-9 or (x - WEB) % (SPAN + WEB) > SPAN - 1e-9
    held = [
        (mesh.where(lambda x, y, z: z < 1e-9 and walls(x)), 3),
        (mesh.where(lambda x, y, z: z < 1e-9 and x < low + 1e-9), 1),
        (mesh.where(lambda x, y, z: z < 1e-9 and y < 1e-9), 2),
    ]
    x, _, z = mesh.points.T
    under = ~np.array([walls(v) for v in x]) & (np.abs(z - DEPTH + LEAF) < 1e-9)
    top = np.abs(z - DEPTH) < 1e-9
    out = {}
    for name, stress in zip(places, run(mesh, held, steps)):
        out[name] = sag, hog, along = stress[under, 0].max(), stress[top, 0].max(), stress[under, 1].max()
        print("skin %-18s sagging %.2f hogging %.2f along %.2f MPa" % (name, sag / 1e6, hog / 1e6, along / 1e6))
    return out


def check_skin(ours):
    middle = [WEB + i * (SPAN + WEB) + SPAN / 2 for i in range(3)]
    shift = (SPAN - SIDE) / 4
    bed = SIDE / 2
    found = skin_tension(
        hollow_block(),
        {
            "inner, middle": (middle[1], LENGTH / 2),
            "inner, at the bed": (middle[1], bed),
            "inner, near a web": (middle[1] - shift, bed),
            "inner, beside a web": (middle[1] - 2 * shift, bed),
            "outer, at the bed": (middle[0], bed),
            "outer, near a web": (middle[0] - shift, bed),
        },
    )
    found |= skin_tension(
        hollow_block(0.16), {"stiff, at the bed": (middle[0], bed), "stiff, near a web": (middle[0] - shift, bed), "stiff, beside a web": (middle[0] - 2 * shift, bed)}
    )
    worst = {}
    for name, (sag, hog, along) in found.items():
        tube, where = name.split(", ")
        pairs = [("inside", max(sag, hog)), ("along", along)] if where == "middle" else [("across", max(sag, hog))]
        for what, value in pairs:
            worst[tube, what] = max(worst.get((tube, what), 0), value)
    good = True
    for (tube, what), theirs in worst.items():
        ratio = ours[tube][what] / theirs
        print("skin %s %s: ours %.3f theirs %.3f MPa, ratio %.3f" % (tube, what, ours[tube][what] / 1e6, theirs / 1e6, ratio))
        good &= 1.0 <= ratio <= (1.25 if tube == "stiff" else 1.15)  # on the safe side, by no more
    return good


def check_middle(ours):
    """Pressed on both beds by N at 0.15 of the depth off the middle, all in compression: the beds' pressure is linear."""
    mesh = hollow_block()
    xs, ys, zs = mesh.grid
    N, e = 300e3, 0.15 * DEPTH
    cells = [(a, (xs[i], xs[i + 1]), (zs[k], zs[k + 1])) for a, (i, j, k) in enumerate(mesh.boxes) if j == 0]
    area = np.array([(x1 - x0) * (z1 - z0) for _, (x0, x1), (z0, z1) in cells])
    level = np.array([(z0 + z1 - DEPTH) / 2 for _, _, (z0, z1) in cells])
    own = np.array([(z1 - z0) ** 2 / 12 for _, _, (z0, z1) in cells])
    slope = N * e / (area * (level**2 + own)).sum()
    pressure = N / area.sum() + slope * level
    assert pressure.min() > 0
    steps = [[]]
    far = {(i, k): a for a, (i, j, k) in enumerate(mesh.boxes) if j == len(ys) - 2}
    for (a, _, _), p in zip(cells, pressure):
        i, _, k = mesh.boxes[a]
        steps[0] += [(a, 3, p), (far[i, k], 5, p)]
    held = [
        (mesh.where(lambda x, y, z: x < 1e-9 and abs(y - LENGTH / 2) < 1e-9 and z < 1e-9), 1),
        (mesh.where(lambda x, y, z: abs(y - LENGTH / 2) < 1e-9 and z < 1e-9 and (x < 1e-9 or x > WIDE - 1e-9)), 3),
        (mesh.where(lambda x, y, z: abs(y - LENGTH / 2) < 1e-9), 2),
    ]
    stress = run(mesh, held, steps)[0]
    middle = np.abs(mesh.points[:, 1] - LENGTH / 2) < 1e-9
    theirs = {"least": -stress[middle, 1].max(), "greatest": -stress[middle, 1].min()}
    good = True
    for what, value in theirs.items():
        ratio = ours["middle"][what] / value
        print("middle %s: ours %.3f theirs %.3f MPa, ratio %.4f" % (what, ours["middle"][what] / 1e6, value / 1e6, ratio))
        good &= abs(ratio - 1) < 0.02
    return good


def check_strips(ours):
    """Plane slab 0.4 m wide and 0.6 m high, pressed evenly from below, by a strip from above."""
    b, height, thick, good = 0.4, 0.6, 0.01, True
    for strip in ours["strips"]:
        a = strip["a"]
        marks = lines((0, 2 * round((b - a) / 0.04)), ((b - a) / 2, 2 * round(a / 0.04)), ((b + a) / 2, 2 * round((b - a) / 0.04)), (b, 0))
        mesh = Mesh(marks, np.array([0, thick]), np.linspace(0, height, 61), lambda *_: True)
        top, load = 59, []
        for e, (i, _, k) in enumerate(mesh.boxes):
            x = (marks[i] + marks[i + 1]) / 2
            if k == top and abs(x - b / 2) < a / 2:
                load.append((e, 2, 1e6))
            if k == 0:
                load.append((e, 1, 1e6 * a / b))
        held = [
            (mesh.where(lambda x, y, z: abs(x - b / 2) < 1e-9 and z < 1e-9), 1),
            (mesh.where(lambda x, y, z: abs(x - b / 2) < 1e-9 and z < 1e-9), 3),
            (mesh.where(lambda x, y, z: abs(x - b / 2) < 1e-9 and abs(z - height / 2) < 1e-9), 1),
            (mesh.where(lambda x, y, z: True), 2),
        ]
        stress = run(mesh, held, [load])[0]
        line = [n for n, (x, y, z) in enumerate(mesh.points) if abs(x - b / 2) < 1e-9 and y < 1e-9]
        line.sort(key=lambda n: mesh.points[n][2])
        z, s = mesh.points[line, 2], np.maximum(stress[line, 0], 0)
        s[z < height - b - 1e-9] = 0  # the far half spreads nothing any more
        tie = ((s[1:] + s[:-1]) / 2 * np.diff(z)).sum() / (1e6 * a)
        peak = s.max() / 1e6
        print(
            "strip a/b %.2f: tie ours %.4f theirs %.4f ratio %.3f; peak over pressure ours %.4f theirs %.4f ratio %.3f"
            % (a / b, strip["tie"], tie, strip["tie"] / tie, strip["stress"], peak, strip["stress"] / peak)
        )
        good &= 1.0 <= strip["tie"] / tie <= 1.2 and 1.0 <= strip["stress"] / peak <= 1.1  # on the safe side
    return good


def main():
    ours = json.loads(subprocess.run([sys.argv[1]], capture_output=True, text=True, check=True).stdout)
    good = [check(ours) for check in (check_skin, check_middle, check_strips)]
    print("good" if all(good) else "NOT within the bands")
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main())
