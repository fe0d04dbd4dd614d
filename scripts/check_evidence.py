#!/usr/bin/env python3
"""check_evidence.py FOLDER: checks the evidence of a results folder; Python's standard library only.

Reads FOLDER/assembly.json and FOLDER/evidence/*.json, and the same one folder down (a folder without
an assembly of its own uses its parent's). Formats: docs/assembly.md, docs/evidence.md.
Exit: 0 every claim is true, 1 some are not, 2 the input cannot be read or claims nothing.
"""
import json
import pathlib
import sys
from math import copysign, fsum, hypot, sqrt

BALANCE = 1e-8  # of the largest block weight: balance, moments over the block's radius, and cones
IN_PLANE, OFF_PLANE = 1e-8, 1e-6  # m, outside the hull of a joint and off its plane
RESISTS = 1e-8  # of the largest speed, that a contact may resist
FAULTS = (OSError, KeyError, TypeError, IndexError, ValueError, AttributeError, ZeroDivisionError)


class NotTrue(Exception):
    pass


def claim(true, words):
    if not true:
        raise NotTrue(words)


def add(a, b, s=1.0): return [x + s * y for x, y in zip(a, b, strict=True)]
def dot(a, b): return fsum(x * y for x, y in zip(a, b, strict=True))
def norm(a): return sqrt(dot(a, a))
def scaled(a, s): return [s * x for x in a]
def total(rows): return [fsum(c) for c in zip(*rows)] if rows else [0.0] * 3


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def area(points):
    p, *rest = points
    return scaled(total([cross(add(q, p, -1), add(r, p, -1)) for q, r in zip(rest, rest[1:])]), 0.5)


def read(path):
    def refuse(text):
        raise ValueError("not a finite number: " + text)
    return json.loads(path.read_text(encoding="utf-8"), parse_constant=refuse)


class Block:
    def __init__(self, j):
        self.id, self.fixed, self.vertices = j["id"], j.get("fixed", False), j["vertices"]
        self.faces = [[self.vertices[i] for i in face] for face in j["faces"]]
        edges = [(f[i - 1], f[i]) for f in j["faces"] for i in range(len(f))]
        if min(map(min, j["faces"])) < 0 or sorted(edges) != sorted((b, a) for a, b in edges):
            raise ValueError(f"block {self.id} is not closed")
        apex, six, firsts = self.vertices[0], [], []
        for face in self.faces:  # divergence theorem: a pyramid from one corner to each triangle
            p, *rest = [add(v, apex, -1) for v in face]
            for q, r in zip(rest, rest[1:]):
                six.append(dot(p, cross(q, r)))
                firsts.append(scaled(total([p, q, r]), six[-1] / 4))
        density = j.get("density", 0) if self.fixed else j["density"]
        if not (fsum(six) > 0 and (self.fixed or density > 0)):
            raise ValueError(f"block {self.id} has no volume or no weight")
        self.masses = [(density * fsum(six) / 6, add(apex, total(firsts), 1 / fsum(six)))]
        self.masses += [(c["mass"], c["point"]) for c in j.get("carried", [])]
        self.kg, self.middle = fsum(m for m, _ in self.masses), self.masses[0][1]
        self.radius = max(norm(add(v, self.middle, -1)) for v in self.vertices)


class Joint:
    def __init__(self, j, blocks, friction, tolerance):
        self.a, self.b, self.mu = j["a"], j["b"], j.get("friction", friction)
        outlines = [part["polygon"] for part in j.get("parts", [j])]
        across = area(max(outlines, key=lambda o: norm(area(o))))
        self.n, self.corners = scaled(across, 1 / norm(across)), sum(outlines, [])
        self.at = scaled(total(self.corners), 1 / len(self.corners))
        self.ball = max(norm(add(p, self.at, -1)) for p in self.corners)
        reach = j.get("pad", {}).get("thickness", 0) / 2 + max(tolerance, j.get("gap_tolerance", 0))
        looks = self.side(blocks[self.a], reach)  # faces of a beside the joint look into b
        if not looks * self.side(blocks[self.b], reach) < 0:
            raise ValueError(f"joint {self.a} | {self.b}: no faces of both blocks beside it")
        self.n = scaled(self.n, copysign(1, looks))
        x = cross(self.n, min(([1, 0, 0], [0, 1, 0], [0, 0, 1]), key=lambda e: abs(dot(e, self.n))))
        self.x = scaled(x, 1 / norm(x))
        self.y = cross(self.n, self.x)
        row = sorted({self.flat(p) for p in self.corners})
        self.hull = half_hull(row) + half_hull(row[::-1])

    def flat(self, p):
        return dot(add(p, self.at, -1), self.x), dot(add(p, self.at, -1), self.y)

    def side(self, block, reach):
        """Area along n of the block's faces in this plane that come near the joint."""
        out = 0.0
        for face in block.faces:
            if all(abs(dot(add(p, self.at, -1), self.n)) <= reach for p in face) and all(
                    min(c) - self.ball <= m <= max(c) + self.ball for c, m in zip(zip(*face), self.at)):
                along = dot(area(face), self.n)
                out += along if abs(along) > 0.99 * norm(area(face)) else 0
        return out

    def miss(self, p):
        """Of a point: m off the plane, m outside the hull."""
        q, out = self.flat(p), 0.0
        for s, e in zip(self.hull, self.hull[1:] + self.hull[:1]):
            out = max(out, -turn(s, e, q) / hypot(e[0] - s[0], e[1] - s[1]))
        return abs(dot(add(p, self.at, -1), self.n)), out


def turn(s, e, q): return (e[0] - s[0]) * (q[1] - s[1]) - (e[1] - s[1]) * (q[0] - s[0])


def half_hull(row):  # counter-clockwise, without its last point
    out = []
    for p in row:
        while len(out) > 1 and turn(out[-2], out[-1], p) <= 0:
            out.pop()
        out.append(p)
    return out[:-1]


def split(v, n): return dot(v, n), norm(add(v, n, -dot(v, n)))


def beyond(force, n, mu):  # N by which a force leaves its cone
    across, along = split(force, n)
    return max(along - mu * across, -across)


class Claim:
    """An evidence file set against the assembly; `loads`: per block, forces and where they act."""
    def __init__(self, blocks, joints, cases, e):
        claim(e["case"] in cases, f"no case {e['case']}")
        case, self.e, self.blocks, self.joints = cases[e["case"]], e, blocks, joints
        live = case.get("live", []), case.get("live_acceleration", [0, 0, 0])
        factor, friction = e.get("load_factor"), e.get("friction")
        claim(factor is not None or not (live[0] or any(live[1])), "no load factor for live load")
        here = list(blocks) if e.get("present") is None else list(dict.fromkeys(e["present"]))
        self.mu = lambda joint: joint.mu if friction is None else friction
        g = case.get("gravity", [0, 0, -9.81])
        pull = add(g, live[1], factor or 0)
        self.loads = {i: [(scaled(pull, m), p) for m, p in blocks[i].masses] for i in here}
        for f in live[0]:
            if f["block"] in self.loads:
                self.loads[f["block"]].append((scaled(f["force"], factor), f["point"]))
        self.free = [i for i in here if not blocks[i].fixed]
        self.weight = max((blocks[i].kg for i in self.free), default=0) * norm(g) or 1.0

    def forces(self):
        sums, cone = {i: list(rows) for i, rows in self.loads.items()}, 0.0
        for c in self.e["contacts"]:
            a, b, p, f = c["a"], c["b"], c["point"], c["force"]
            claim(a in sums and b in sums, f"{a} | {b}: a force, and not both are there")
            tries = []  # two joints may meet in a corner
            for j in (j for j in self.joints if {j.a, j.b} == {a, b}):
                over = beyond(f if j.b == b else scaled(f, -1), j.n, self.mu(j)) / self.weight
                off, out = j.miss(p)
                tries.append((max(off / OFF_PLANE, out / IN_PLANE, over / BALANCE), off, out, over))
            claim(tries, f"{a} | {b}: a force, and no joint")
            rank, off, out, over = min(tries)
            claim(rank <= 1, f"{a} | {b}: {off:.2g} m off the plane, {out:.2g} m outside the joint, "
                  f"{over:.2g} of the largest block weight beyond its cone")
            cone = max(cone, over)
            sums[b].append((f, p))
            sums[a].append((scaled(f, -1), p))
        for pf in self.e.get("prop_forces", []):
            claim(pf["prop"] >= 0, "a force of no prop")
            prop = self.e["props"][pf["prop"]]
            over = beyond(pf["force"], prop["direction"], prop["friction"]) / self.weight
            claim(prop["block"] in sums and abs(norm(prop["direction"]) - 1) < 1e-9
                  and over <= BALANCE, f"prop under {prop['block']}: {over:.2g} beyond its cone")
            sums[prop["block"]].append((pf["force"], prop["point"]))
        worst = 0.0
        for i in self.free:
            middle = self.blocks[i].middle
            moment = total([cross(add(p, middle, -1), f) for f, p in sums[i]])
            off = max(norm(total([f for f, _ in sums[i]])), norm(moment) / self.blocks[i].radius)
            claim(off <= BALANCE * self.weight, f"{i}: out of balance by {off / self.weight:.2g} "
                  "of the largest block weight")
            worst = max(worst, off / self.weight)
        return f"forces, out of balance {worst:.1e}, beyond cones {cone:.1e}"

    def mechanism(self):
        moves = {m["id"]: (m["v"], m["w"]) for m in self.e["blocks"]}
        rest = ([0.0] * 3, [0.0] * 3)
        def at(i, p): return add(moves.get(i, rest)[0], cross(moves.get(i, rest)[1], p))
        speed = max(norm(at(i, p)) for i in self.loads for p in self.blocks[i].vertices)
        claim(speed > 0, "nothing moves")
        for i in set(self.loads) - set(self.free):
            claim(all(norm(at(i, p)) <= 1e-9 * speed for p in self.blocks[i].vertices),
                  f"{i} is fixed and moves")
        touching = [(add(at(j.b, p), at(j.a, p), -1), j.n, self.mu(j), f"{j.a} | {j.b}")
                    for j in self.joints if {j.a, j.b} <= set(self.loads) for p in j.corners]
        touching += [(at(q["block"], q["point"]), q["direction"], q["friction"], "a prop")
                     for q in self.e.get("props", []) if q["block"] in self.loads]
        worst = 0.0
        for opening, n, mu, where in touching:
            apart, slip = split(opening, n)
            worst = max(worst, mu * slip - apart)
            claim(mu * slip - apart <= RESISTS * speed,
                  f"{where}: resists at {(mu * slip - apart) / speed:.2g} of the largest speed")
        rows = [(dot(f, at(i, p)), norm(f)) for i in self.free for f, p in self.loads[i]]
        work, sizes = fsum(w for w, _ in rows), fsum(f for _, f in rows)
        claim(work > worst * sizes, f"the loads do {work:.2g} W, not more than what is resisted")
        claim(abs(work - self.e["work"]) <= 1e-6 * work + 1e-9 * speed * sizes,
              f"the loads do {work:.6g} W, not {self.e['work']:.6g}")
        return f"mechanism, work {work / (self.weight * speed):.1e}, resisted {worst / speed:.1e}"


def main(folder):
    counts = {"true": 0, "not true": 0, "no claim": 0, "unreadable": 0}
    for here in [folder] + sorted(p for p in folder.iterdir() if p.is_dir() and p.name != "evidence"):
        files, own = sorted((here / "evidence").glob("*.json")), here / "assembly.json"
        if not files:
            continue
        j = read(own if own.exists() else here.parent / "assembly.json")
        blocks = {b["id"]: Block(b) for b in j["blocks"]}
        if len(blocks) < len(j["blocks"]) or not isinstance(j["joints"], list):
            raise ValueError("assembly.json: two blocks of one id, or joints that are not listed")
        joints = [Joint(x, blocks, j.get("friction", 0.6), j.get("contact_tolerance", 1e-3))
                  for x in j["joints"]]
        cases = {c["id"]: c for c in j["cases"]}
        for path in files:
            try:
                e = read(path)
                kind, words = "no claim", "undecided"
                if e["kind"] != "none":
                    check = {"forces": Claim.forces, "mechanism": Claim.mechanism}[e["kind"]]
                    kind, words = "true", check(Claim(blocks, joints, cases, e))
            except NotTrue as fault:
                kind, words = "not true", fault
            except FAULTS as fault:
                kind, words = "unreadable", f"{type(fault).__name__} {fault}"
            counts[kind] += 1
            print(f"{path.relative_to(folder)}: {kind}: {words}")
    print(", ".join(f"{n} {kind}" for kind, n in counts.items()))
    bad = counts["unreadable"] or not counts["true"] + counts["not true"]
    return 2 if bad else 1 if counts["not true"] else 0


if __name__ == "__main__":
    try:
        sys.exit(main(pathlib.Path(sys.argv[1])) if len(sys.argv) == 2 else __doc__ and 2)
    except FAULTS as fault:
        print(f"{type(fault).__name__}: {fault}", file=sys.stderr)
        sys.exit(2)
