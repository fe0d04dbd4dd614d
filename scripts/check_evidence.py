#!/usr/bin/env python3
"""check_evidence.py FOLDER: checks the evidence of a results folder; Python's standard library only.

Reads FOLDER/assembly.json, FOLDER/evidence/*.json, and the same one folder down, there with the
parent's assembly where there is none. Formats: docs/assembly.md, docs/evidence.md.
Exit: 0 every claim is true, 1 some are not, 2 the input cannot be read or claims nothing.
"""
import json, pathlib, sys
from math import copysign, dist, fsum, sqrt

BALANCE = 1e-8  # of the largest block weight: balance, moments over the block's radius, and cones
IN_PLANE, OFF_PLANE = 1e-8, 1e-6  # m, outside the hull of a joint and off its plane
RESISTS = 1e-8  # of the largest speed, that a contact may resist
FAULTS = (OSError, KeyError, TypeError, IndexError, ValueError, AttributeError, ZeroDivisionError)

class NotTrue(Exception): pass

def claim(true, words):
    if not true: raise NotTrue(words)

def add(a, b, s=1.0): return [x + s * y for x, y in zip(a, b, strict=True)]
def dot(a, b): return fsum(x * y for x, y in zip(a, b, strict=True))
def norm(a): return sqrt(dot(a, a))
def scaled(a, s): return [s * x for x in a]
def total(rows): return [fsum(c) for c in zip(*rows)] if rows else [0.0] * 3
def turn(s, e, q): return (e[0] - s[0]) * (q[1] - s[1]) - (e[1] - s[1]) * (q[0] - s[0])
def cross(a, b): return [turn((0, 0), (a[i], a[j]), (b[i], b[j])) for i, j in ((1, 2), (2, 0), (0, 1))]
def split(v, n): return dot(v, n), norm(add(v, n, -dot(v, n)))  # across, along

def area(points):
    rest = [add(p, points[0], -1) for p in points[1:]]
    return scaled(total([cross(q, r) for q, r in zip(rest, rest[1:])]), 0.5)

def refuse(text): raise ValueError("not a finite number: " + text)
def read(path): return json.loads(path.read_text(encoding="utf-8"), parse_constant=refuse)

class Block:
    def __init__(self, j):
        self.fixed, self.vertices = j.get("fixed", False), j["vertices"]
        self.faces = [[self.vertices[i] for i in face] for face in j["faces"]]
        edges = [(f[i - 1], f[i]) for f in j["faces"] for i in range(len(f))]
        if min(map(min, j["faces"])) < 0 or sorted(edges) != sorted((b, a) for a, b in edges):
            raise ValueError(f"block {j['id']} is not closed")
        apex, six, firsts = self.vertices[0], [], []
        for face in self.faces:  # divergence theorem: a pyramid from one corner to each triangle
            p, *rest = [add(v, apex, -1) for v in face]
            for q, r in zip(rest, rest[1:]):
                six.append(dot(p, cross(q, r)))
                firsts.append(scaled(total([p, q, r]), six[-1] / 4))
        density = j.get("density", 0) if self.fixed else j["density"]
        if not (fsum(six) > 0 and (self.fixed or density > 0)):
            raise ValueError(f"block {j['id']} has no volume or no weight")
        self.masses = [(density * fsum(six) / 6, add(apex, total(firsts), 1 / fsum(six)))]
        self.masses += [(c["mass"], c["point"]) for c in j.get("carried", [])]
        self.middle = self.masses[0][1]
        self.radius = max(dist(v, self.middle) for v in self.vertices)

def half_hull(row):
    out = []
    for p in row:
        while len(out) > 1 and turn(out[-2], out[-1], p) <= 0: out.pop()
        out.append(p)
    return out

class Joint:
    def __init__(self, j, blocks, friction, tolerance):
        self.a, self.b, self.mu = j["a"], j["b"], j.get("friction", friction)
        outlines = [part["polygon"] for part in j.get("parts", [j])]
        across = area(max(outlines, key=lambda o: norm(area(o))))
        self.n, self.corners = scaled(across, 1 / norm(across)), sum(outlines, [])
        self.at = scaled(total(self.corners), 1 / len(self.corners))
        self.ball = max(dist(p, self.at) for p in self.corners)
        reach = j.get("pad", {}).get("thickness", 0) / 2 + max(tolerance, j.get("gap_tolerance", 0))
        looks = self.side(blocks[self.a], reach)  # faces of a beside the joint look into b
        if not looks * self.side(blocks[self.b], reach) < 0:
            raise ValueError(f"joint {self.a} | {self.b}: no faces of both blocks beside it")
        self.n = scaled(self.n, copysign(1, looks))
        x = cross(self.n, min(([1, 0, 0], [0, 1, 0], [0, 0, 1]), key=lambda e: abs(dot(e, self.n))))
        self.x, self.y = scaled(x, 1 / norm(x)), cross(self.n, scaled(x, 1 / norm(x)))
        flat = sorted({self.flat(p) for p in self.corners})
        hull = half_hull(flat)[:-1] + half_hull(flat[::-1])  # counter-clockwise, closed
        self.sides = list(zip(hull, hull[1:]))
    def flat(self, p): return dot(add(p, self.at, -1), self.x), dot(add(p, self.at, -1), self.y)
    def side(self, block, reach):
        """Area along n of the block's faces in this plane that come near the joint."""
        near = [area(f) for f in block.faces
                if all(abs(dot(add(p, self.at, -1), self.n)) <= reach for p in f) and all(
                    min(c) - self.ball <= m <= max(c) + self.ball for c, m in zip(zip(*f), self.at))]
        return fsum(dot(a, self.n) for a in near if abs(dot(a, self.n)) > 0.99 * norm(a))
    def miss(self, p):
        """Of a point: m off the plane, m outside the hull."""
        q = self.flat(p)
        out = max(0.0, *(-turn(s, e, q) / dist(s, e) for s, e in self.sides))
        return abs(dot(add(p, self.at, -1), self.n)), out

def beyond(force, n, mu):  # N by which a force leaves its cone
    across, along = split(force, n)
    return max(along - mu * across, -across)

class Claim:
    """An evidence file set against the assembly; `loads`: per block, forces and where they act."""
    def __init__(self, blocks, joints, cases, e, points=()):
        claim(e["case"] in cases, f"no case {e['case']}")
        case, self.e, self.blocks, self.joints, self.points = cases[e["case"]], e, blocks, joints, points
        live, shake = case.get("live", []), case.get("live_acceleration", [0, 0, 0])
        factor, mu = e.get("load_factor"), e.get("friction")
        claim(factor is not None or not (live or any(shake)), "no load factor for live load")
        here = list(blocks) if e.get("present") is None else list(dict.fromkeys(e["present"]))
        self.mu = lambda joint: joint.mu if mu is None else mu
        pull = add(g := case.get("gravity", [0, 0, -9.81]), shake, factor or 0)
        self.masses = {i: blocks[i].masses for i in here}
        if e.get("carried") is not None:  # in place of what the assembly says
            self.masses = {i: blocks[i].masses[:1] for i in here}
            for c in e["carried"]:
                claim(c["mass"] >= 0, "a carried mass below zero")
                self.masses[c["block"]] = self.masses[c["block"]] + [(c["mass"], c["point"])]
        self.loads = {i: [(scaled(pull, m), p) for m, p in self.masses[i]] for i in here}
        for f in (f for f in live if f["block"] in self.loads):
            self.loads[f["block"]].append((scaled(f["force"], factor), f["point"]))
        self.free = [i for i in here if not blocks[i].fixed]
        self.weight = max((fsum(m for m, _ in self.masses[i]) for i in self.free), default=0) * norm(g) or 1.0
    def pushes(self):
        for c in self.e["contacts"]:  # one force, or all of a joint
            points, forces = ([c["point"]], [c["force"]]) if "point" in c else (c["points"], c["forces"])
            for p, f in zip(points, forces, strict=True):
                claim(not isinstance(p, int) or p >= 0, "no such point")
                yield c["a"], c["b"], self.points[p] if isinstance(p, int) else p, f
    def forces(self):
        sums, cone, worst = {i: list(rows) for i, rows in self.loads.items()}, 0.0, 0.0
        for a, b, p, f in self.pushes():
            tries = []  # two joints may meet in a corner
            for j in (j for j in self.joints if {j.a, j.b} == {a, b}):
                over = beyond(f if j.b == b else scaled(f, -1), j.n, self.mu(j)) / self.weight
                off, out = j.miss(p)
                tries.append((max(off / OFF_PLANE, out / IN_PLANE, over / BALANCE), off, out, over))
            claim(tries and a in sums and b in sums, f"{a} | {b}: a force where no joint is")
            rank, off, out, over = min(tries)
            claim(rank <= 1, f"{a} | {b}: {off:.2g} m off the plane, {out:.2g} m outside the joint, "
                  f"{over:.2g} of the largest block weight beyond its cone")
            cone = max(cone, over)
            for block, sign in ((a, -1), (b, 1)):
                sums[block].append((scaled(f, sign), p))
        for pf in self.e.get("prop_forces", []):
            prop = self.e["props"][max(pf["prop"], 0)]
            over = beyond(pf["force"], prop["direction"], prop["friction"]) / self.weight
            claim(pf["prop"] >= 0 and prop["block"] in sums and over <= BALANCE
                  and abs(norm(prop["direction"]) - 1) < 1e-9, f"prop {pf['prop']}: {over:.2g} beyond")
            sums[prop["block"]].append((pf["force"], prop["point"]))
        for i in self.free:
            moment = total([cross(add(p, self.blocks[i].middle, -1), f) for f, p in sums[i]])
            force, radius = norm(total([f for f, _ in sums[i]])), self.blocks[i].radius
            off = max(force, norm(moment) / radius) / self.weight
            claim(off <= BALANCE, f"{i}: out of balance by {off:.2g} of the largest block weight")
            worst = max(worst, off)
        return f"forces, out of balance {worst:.1e}, beyond cones {cone:.1e}"
    def mechanism(self):
        moves, rest = {m["id"]: (m["v"], m["w"]) for m in self.e["blocks"]}, ([0.0] * 3, [0.0] * 3)
        def at(i, p): return add(moves.get(i, rest)[0], cross(moves.get(i, rest)[1], p))
        fast = {i: max(norm(at(i, p)) for p in self.blocks[i].vertices) for i in self.loads}
        speed, worst = max(fast.values()), 0.0
        claim(speed > 0 and all(fast[i] <= 1e-9 * speed for i in fast if self.blocks[i].fixed),
              "nothing moves, or the ground does")
        touching = [(add(at(j.b, p), at(j.a, p), -1), j.n, self.mu(j), f"{j.a} | {j.b}")
                    for j in self.joints if {j.a, j.b} <= set(self.loads) for p in j.corners]
        touching += [(at(q["block"], q["point"]), q["direction"], q["friction"], "prop")
                     for q in self.e.get("props", []) if q["block"] in self.loads]
        for opening, n, mu, where in touching:
            apart, slip = split(opening, n)
            worst = max(worst, mu * slip - apart)
            over = (mu * slip - apart) / speed
            claim(over <= RESISTS, f"{where}: resists at {over:.2g} of the largest speed")
        rows = [(dot(f, at(i, p)), norm(f)) for i in self.free for f, p in self.loads[i]]
        work, sizes = fsum(w for w, _ in rows), fsum(f for _, f in rows)
        agrees = abs(work - self.e["work"]) <= 1e-6 * work + 1e-12 * speed * sizes
        claim(work > worst * sizes and agrees, f"the loads do {work:.6g} W, too little or not as said")
        return f"mechanism, work {work / (self.weight * speed):.1e}, resisted {worst / speed:.1e}"

def main(folder):
    counts = {"true": 0, "not true": 0, "no claim": 0, "unreadable": 0}
    for here in [folder] + sorted(p for p in folder.iterdir() if p.is_dir() and p.name != "evidence"):
        files, own = sorted((here / "evidence").glob("*.json")), here / "assembly.json"
        j = read(own if own.exists() else here.parent / "assembly.json") if files else {"blocks": []}
        blocks = {b["id"]: Block(b) for b in j["blocks"]}
        if len(blocks) < len(j["blocks"]) or not isinstance(j.get("joints", []), list):
            raise ValueError("assembly.json: two blocks of one id, or joints that are not listed")
        joints = [Joint(x, blocks, j.get("friction", 0.6), j.get("contact_tolerance", 1e-3))
                  for x in j.get("joints", [])]
        shared = here / "evidence-points.json"  # points that files of evidence name by their places
        points = read(shared) if shared.exists() else []
        for path in files:
            try:
                e, kind, words = read(path), "no claim", "undecided"
                if e["kind"] != "none":
                    check = {"forces": Claim.forces, "mechanism": Claim.mechanism}[e["kind"]]
                    words = check(Claim(blocks, joints, {c["id"]: c for c in j["cases"]}, e, points))
                    kind = "true"
            except NotTrue as fault:
                kind, words = "not true", fault
            except FAULTS as fault:
                kind, words = "unreadable", f"{type(fault).__name__} {fault}"
            counts[kind] += 1
            print(f"{path.relative_to(folder)}: {kind}: {words}")
    print(", ".join(f"{n} {kind}" for kind, n in counts.items()))
    true, false, _, unreadable = counts.values()
    return 2 if unreadable or not true + false else 1 if false else 0

if __name__ == "__main__":
    try:
        sys.exit(main(pathlib.Path(sys.argv[1])) if sys.argv[1:] else print(__doc__) or 2)
    except FAULTS as fault:
        print(f"{type(fault).__name__}: {fault}", file=sys.stderr)
        sys.exit(2)
