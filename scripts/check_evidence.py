#!/usr/bin/env python3
"""Checks the evidence of a results folder with nothing but Python's standard library.

    scripts/check_evidence.py FOLDER

Reads FOLDER/assembly.json and FOLDER/evidence/*.json, and the same one folder down (a folder without
an assembly of its own uses its parent's). Formats: docs/assembly.md, docs/evidence.md.
Exit: 0 every claim is true, 1 some are not, 2 the input cannot be read or claims nothing.
"""
import json
import math
import pathlib
import sys

BALANCE = 1e-8  # of the largest block weight; forces, cones, moments over the block's radius
IN_PLANE, OFF_PLANE = 1e-8, 1e-6  # m, from the hull of a joint and from its plane
RESISTS = 1e-8  # of the largest speed, what a contact may resist
LEAN = 0.99  # cosine between a joint and the faces beside it


class BadInput(Exception):
    pass


def add(a, b, s=1.0): return [x + s * y for x, y in zip(a, b)]
def dot(a, b): return math.fsum(x * y for x, y in zip(a, b))
def norm(a): return math.sqrt(dot(a, a))
def cross(a, b): return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
def total(rows): return [math.fsum(c) for c in zip(*rows)] if rows else [0.0] * 3
def area(points):
    return [x / 2 for x in total([cross(add(p, points[0], -1), add(q, points[0], -1))
                                  for p, q in zip(points[1:], points[2:])])]


def read(path):
    def refuse(text): raise ValueError("not a finite number: " + text)
    try:
        return json.loads(path.read_text(encoding="utf-8"), parse_constant=refuse)
    except (OSError, ValueError) as e:
        raise BadInput(f"{path}: {e}")


class Block:
    def __init__(self, j):
        self.id, self.fixed = j["id"], j.get("fixed", False)
        self.vertices = j["vertices"]
        self.faces = [[self.vertices[i] for i in face] for face in j["faces"]]
        edges = [(f[i - 1], f[i]) for f in j["faces"] for i in range(len(f))]
        if any(i < 0 for f in j["faces"] for i in f) or sorted(edges) != sorted((b, a) for a, b in edges):
            raise BadInput(f"block {self.id} is not closed")
        apex, six, moments = self.vertices[0], [], []
        for face in self.faces:  # divergence theorem: pyramids from one corner to each triangle
            p, *rest = [add(v, apex, -1) for v in face]
            for q, r in zip(rest, rest[1:]):
                six.append(dot(p, cross(q, r)))
                moments.append([six[-1] * x / 4 for x in total([p, q, r])])
        volume6 = math.fsum(six)
        if not volume6 > 0:
            raise BadInput(f"block {self.id} has no volume")
        density = j.get("density", 0) if self.fixed else j["density"]
        self.masses = [(density * volume6 / 6, add(apex, total(moments), 1 / volume6))]
        self.masses += [(c["mass"], c["point"]) for c in j.get("carried", [])]
        self.kg = math.fsum(m for m, _ in self.masses)
        self.middle = [math.fsum(m * p[i] for m, p in self.masses) / self.kg if self.kg else apex[i] for i in range(3)]
        self.radius = max(norm(add(v, self.middle, -1)) for v in self.vertices)


class Joint:
    def __init__(self, j, blocks, default, tolerance):
        self.a, self.b, self.mu = j["a"], j["b"], j.get("friction", default)
        outlines = [part["polygon"] for part in j.get("parts", [j])]
        across = area(max(outlines, key=lambda o: norm(area(o))))
        self.n = [x / norm(across) for x in across]
        self.corners = [p for o in outlines for p in o]
        self.at = [x / len(self.corners) for x in total(self.corners)]
        # the sense: faces of a beside the joint look into b, those of b into a
        reach = j.get("pad", {}).get("thickness", 0) / 2 + max(tolerance, j.get("gap_tolerance", 0))
        sides = [self.side(blocks[self.a], reach), -self.side(blocks[self.b], reach)]
        if not sides[0] * sides[1] > 0:
            raise BadInput(f"joint {self.a} | {self.b}: no faces of both blocks beside it")
        self.n = [math.copysign(1, sides[0]) * x for x in self.n]
        x = min(([1, 0, 0], [0, 1, 0], [0, 0, 1]), key=lambda e: abs(dot(e, self.n)))
        self.x = cross(self.n, x)
        self.x = [c / norm(self.x) for c in self.x]
        self.y = cross(self.n, self.x)
        self.hull = hull_of([self.flat(p) for p in self.corners])

    def flat(self, p): return (dot(add(p, self.at, -1), self.x), dot(add(p, self.at, -1), self.y))

    def side(self, block, reach):
        """Area along n of the block's faces in this plane that reach the joint's ball."""
        ball, sums = max(norm(add(p, self.at, -1)) for p in self.corners), 0.0
        for face in block.faces:
            if any(abs(dot(add(p, self.at, -1), self.n)) > reach for p in face):
                continue
            low, high = [min(c) for c in zip(*face)], [max(c) for c in zip(*face)]
            out, along = area(face), dot(area(face), self.n)
            if abs(along) > LEAN * norm(out) and all(
                    l - ball <= c <= h + ball for l, c, h in zip(low, self.at, high)):
                sums += along
        return sums

    def miss(self, p):
        """m off the plane, m outside the hull."""
        q, out = self.flat(p), 0.0
        for s, e in zip(self.hull, self.hull[1:] + self.hull[:1]):
            d = (e[0] - s[0], e[1] - s[1])
            out = max(out, (d[1] * (q[0] - s[0]) - d[0] * (q[1] - s[1])) / math.hypot(*d))
        return abs(dot(add(p, self.at, -1), self.n)), out


def hull_of(points):  # counter-clockwise
    def half(row):
        out = []
        for p in row:
            while len(out) > 1 and ((out[-1][0] - out[-2][0]) * (p[1] - out[-2][1])
                                    - (out[-1][1] - out[-2][1]) * (p[0] - out[-2][0])) <= 0:
                out.pop()
            out.append(p)
        return out[:-1]
    row = sorted(set(points))
    return half(row) + half(row[::-1])


class Model:
    def __init__(self, path):
        try:
            j = read(path)
            self.blocks = {b["id"]: Block(b) for b in j["blocks"]}
            if len(self.blocks) != len(j["blocks"]) or not isinstance(j["joints"], list):
                raise BadInput(f"{path}: two blocks of one id, or joints that are not listed")
            self.joints = [Joint(x, self.blocks, j.get("friction", 0.6), j.get("contact_tolerance", 1e-3))
                           for x in j["joints"]]
            self.cases = {c["id"]: c for c in j["cases"]}
        except (KeyError, TypeError, IndexError, ValueError, ZeroDivisionError) as e:
            raise BadInput(f"{path}: {type(e).__name__} {e}")

    def loads(self, case, factor, block):
        """Forces and where they act."""
        pull = add(case.get("gravity", [0, 0, -9.81]), case.get("live_acceleration", [0, 0, 0]), factor)
        return [([m * g for g in pull], p) for m, p in block.masses] + [
            ([factor * f for f in l["force"]], l["point"]) for l in case.get("live", []) if l["block"] == block.id]


def beyond(f, n, mu):
    """N by which a force leaves its cone."""
    along = dot(f, n)
    return max(norm(add(f, n, -along)) - mu * along, -along)


def check_forces(model, e, case, factor, present, weight):
    acting = {id: model.loads(case, factor, model.blocks[id]) for id in present}
    worst_cone = 0.0
    for c in e["contacts"]:
        a, b, p, f = c["a"], c["b"], c["point"], c["force"]
        if a not in acting or b not in acting:
            return f"force between {a} and {b}, not both there"
        tries = []
        for j in model.joints:
            if {j.a, j.b} == {a, b}:
                off, out = j.miss(p)
                mu = j.mu if e.get("friction") is None else e["friction"]
                cone = beyond(f if j.b == b else [-x for x in f], j.n, mu) / weight
                tries.append((max(off / OFF_PLANE, out / IN_PLANE, cone / BALANCE), off, out, cone))
        if not tries:
            return f"force between {a} and {b}, which have no joint"
        rank, off, out, cone = min(tries)
        if not rank <= 1:
            return (f"{a} | {b}: force {off:.3g} m off the joint's plane, {out:.3g} m outside its hull, "
                    f"{cone:.3g} of the largest block weight beyond friction")
        worst_cone = max(worst_cone, cone)
        acting[b].append((f, p))
        acting[a].append(([-x for x in f], p))
    for pf in e.get("prop_forces", []):
        prop = e["props"][pf["prop"]]
        if prop["block"] not in acting or not abs(norm(prop["direction"]) - 1) < 1e-9:
            return f"prop under {prop['block']}, which is not there, or without a unit direction"
        cone = beyond(pf["force"], prop["direction"], prop["friction"]) / weight
        if not cone <= BALANCE:
            return f"prop under {prop['block']}: {cone:.3g} of the largest block weight beyond its cone"
        acting[prop["block"]].append((pf["force"], prop["point"]))
    worst, who = 0.0, ""
    for id, forces in acting.items():
        block = model.blocks[id]
        if block.fixed:
            continue
        force = norm(total([f for f, _ in forces]))
        moment = norm(total([cross(add(p, block.middle, -1), f) for f, p in forces]))
        off = max(force, moment / block.radius) / weight
        if not off <= worst:
            worst, who = off, id
    if not worst <= BALANCE:
        return f"{who}: out of balance by {worst:.3g} of the largest block weight"
    return {"out of balance": worst, "beyond friction": worst_cone}


def check_mechanism(model, e, case, factor, present, weight):
    moves = {id: ([0.0] * 3, [0.0] * 3) for id in model.blocks}
    for m in e["blocks"]:
        if m["id"] not in moves:
            return f"no block {m['id']}"
        moves[m["id"]] = (m["v"], m["w"])
    def at(id, p): return add(moves[id][0], cross(moves[id][1], p))
    speed = max(norm(at(id, p)) for id in present for p in model.blocks[id].vertices)
    if not speed > 0:
        return "nothing moves"
    worst = 0.0
    touching = [(at(j.b, p), at(j.a, p), j.n, j.mu if e.get("friction") is None else e["friction"],
                 f"{j.a} | {j.b}") for j in model.joints if {j.a, j.b} <= present for p in j.corners]
    touching += [(at(q["block"], q["point"]), [0.0] * 3, q["direction"], q["friction"], f"prop under {q['block']}")
                 for q in e.get("props", []) if q["block"] in present]
    for vb, va, n, mu, where in touching:
        opening = add(vb, va, -1)
        apart = dot(opening, n)
        resists = (mu * norm(add(opening, n, -apart)) - apart) / speed
        if not resists <= RESISTS:
            return f"{where}: resists at {resists:.3g} of the largest speed"
        worst = max(worst, resists)
    power, loads = [], []
    for id in present:
        block = model.blocks[id]
        if block.fixed and any(norm(at(id, p)) > 1e-9 * speed for p in block.vertices):
            return f"{id} is fixed and moves"
        if not block.fixed:
            for f, p in model.loads(case, factor, block):
                power.append(dot(f, at(id, p)))
                loads.append(norm(f))
    work = math.fsum(power)
    if not work > worst * speed * math.fsum(loads):
        return f"the loads do {work:.3g} W, no more than what contacts resist may explain"
    if not abs(work - e["work"]) <= 1e-6 * work + 1e-9 * speed * math.fsum(loads):
        return f"the loads do {work:.6g} W, not {e['work']:.6g}"
    return {"work": work / (weight * speed), "resists": worst}


def check(model, e):
    """None: claims nothing. Text: what is not true. Otherwise the figures reached."""
    if e["kind"] == "none":
        return None
    if e["case"] not in model.cases:
        return f"no case {e['case']}"
    case = model.cases[e["case"]]
    live = case.get("live") or any(case.get("live_acceleration", []))
    if live and e.get("load_factor") is None:
        return "no load factor for a case with live load"
    factor = e.get("load_factor") or 0.0
    present = set(model.blocks) if e.get("present") is None else set(e["present"])
    if not present <= set(model.blocks):
        return f"no block {sorted(present - set(model.blocks))[0]}"
    free = [b for id, b in model.blocks.items() if id in present and not b.fixed]
    g = norm(case.get("gravity", [0, 0, -9.81]))
    weight = max((b.kg * g for b in free), default=0) or max(
        (norm(total([f for f, _ in model.loads(case, 1, b)])) for b in free), default=0) or 1.0
    checks = {"forces": check_forces, "mechanism": check_mechanism}
    return checks[e["kind"]](model, e, case, factor, present, weight)


def main(folder):
    counts = {"true": 0, "false": 0, "no claim": 0, "unreadable": 0}
    for here in [folder] + sorted(p for p in folder.iterdir() if p.is_dir() and p.name != "evidence"):
        files = sorted((here / "evidence").glob("*.json"))
        if not files:
            continue
        own = here / "assembly.json"
        model = Model(own if own.exists() else here.parent / "assembly.json")
        for path in files:
            try:
                e = read(path)
                found = check(model, e)
                kind = "no claim" if found is None else "false" if isinstance(found, str) else "true"
                words = found if kind == "false" else "" if found is None else e["kind"] + "".join(
                    f", {key} {value:.2g}" for key, value in found.items())
            except (BadInput, KeyError, TypeError, IndexError, ValueError) as fault:
                kind, words = "unreadable", f"{type(fault).__name__} {fault}"
            counts[kind] += 1
            print(f"{path.relative_to(folder)}: {kind}{': ' if words else ''}{words}")
    print(", ".join(f"{n} {kind}" for kind, n in counts.items()))
    if counts["unreadable"] or not counts["true"] + counts["false"]:
        return 2
    return 1 if counts["false"] else 0


if __name__ == "__main__":
    try:
        if len(sys.argv) != 2 or not pathlib.Path(sys.argv[1]).is_dir():
            raise BadInput("usage: check_evidence.py FOLDER")
        sys.exit(main(pathlib.Path(sys.argv[1])))
    except BadInput as fault:
        print(fault, file=sys.stderr)
        sys.exit(2)
