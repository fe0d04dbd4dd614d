"""Random dry assemblies for check_stand_solvers.py, and their geometry worked out without the tool's code.

An assembly is a dict: `kind`, `blocks` (Block), `friction`, `live` (a case), `listed` (joints given, else detected).
Blocks are convex, from corner points alone; contacts are where opposed faces in one plane overlap.
"""

import math
from dataclasses import dataclass, field

import numpy as np
from scipy.spatial import ConvexHull

FLAT = 1e-6  # m and rad: faces in one plane
GRAVITY = 9.81


@dataclass
class Block:
    points: np.ndarray
    fixed: bool = False
    density: float = 2000.0
    faces: list = field(default_factory=list)  # of corner indices, counter-clockwise from outside
    planes: np.ndarray = None  # per face: normal, offset
    mass: float = 0.0
    centre: np.ndarray = None
    inertia: np.ndarray = None  # about the centre, world axes


def flat_faces(points):
    """Faces of a hull: triangles in one plane joined, corners in order."""
    hull = ConvexHull(points)
    groups = []
    for triangle, plane in zip(hull.simplices, hull.equations):
        for other, corners in groups:
            if np.abs(other - plane).max() < 1e-7 * max(1.0, abs(plane[3])):
                corners.update(triangle)
                break
        else:
            groups.append((plane, set(triangle)))
    faces = []
    for plane, corners in groups:
        corners = sorted(corners)
        middle = points[corners].mean(axis=0)
        x = points[corners[0]] - middle
        y = np.cross(plane[:3], x)
        faces.append(sorted(corners, key=lambda i: math.atan2((points[i] - middle) @ y, (points[i] - middle) @ x)))
    return faces, np.array([plane for plane, _ in groups])


def measure(block):
    """Faces, mass, centre and inertia, by tetrahedra on the triangles of the faces."""
    block.faces, block.planes = flat_faces(block.points)
    origin = block.points.mean(axis=0)
    volume, first, second = 0.0, np.zeros(3), np.zeros((3, 3))
    for face in block.faces:
        corners = block.points[face] - origin
        for k in range(1, len(face) - 1):
            a, b, c = corners[0], corners[k], corners[k + 1]
            v = a @ np.cross(b, c) / 6
            volume += v
            first += v * (a + b + c) / 4
            s = a + b + c
            second += v / 20 * (np.outer(a, a) + np.outer(b, b) + np.outer(c, c) + np.outer(s, s))
    block.mass = block.density * volume
    mean = first / volume
    second = block.density * (second - volume * np.outer(mean, mean))
    block.centre = origin + mean
    block.inertia = np.trace(second) * np.eye(3) - second
    return block


def clip(subject, window):
    """Part of a convex polygon inside another, both counter-clockwise in the plane."""
    for k in range(len(window)):
        a, b = window[k], window[(k + 1) % len(window)]
        edge = b - a
        side = [edge[0] * (p[1] - a[1]) - edge[1] * (p[0] - a[0]) for p in subject]
        kept = []
        for i, p in enumerate(subject):
            q, s, t = subject[i - 1], side[i], side[i - 1]
            if (s < 0) != (t < 0):
                kept.append(q + (p - q) * (t / (t - s)))
            if s >= 0:
                kept.append(p)
        subject = kept
        if len(subject) < 3:
            return []
    return subject


def area(polygon):
    p = np.array(polygon)
    return 0.5 * np.sum(p[:, 0] * np.roll(p[:, 1], -1) - np.roll(p[:, 0], -1) * p[:, 1])


@dataclass
class Contact:
    a: int
    b: int
    normal: np.ndarray  # from a into b
    corners: np.ndarray


def contacts_of(blocks):
    """Where opposed faces in one plane overlap."""
    owner = [i for i, block in enumerate(blocks) for _ in block.faces]
    faces = [(block, face) for block in blocks for face in block.faces]
    planes = np.vstack([block.planes for block in blocks])
    opposed = np.abs(planes[:, None, :3] + planes[None, :, :3]).max(axis=2) < FLAT
    opposed &= np.abs(planes[:, None, 3] + planes[None, :, 3]) < FLAT
    found = []
    for i, j in zip(*np.nonzero(np.triu(opposed))):
        a, b = owner[i], owner[j]
        if a == b or (blocks[a].fixed and blocks[b].fixed):
            continue
        normal = planes[i, :3]
        x = np.eye(3)[np.argmin(np.abs(normal))]
        x = np.cross(normal, x) / np.linalg.norm(np.cross(normal, x))
        y = np.cross(normal, x)
        origin = faces[i][0].points[faces[i][1][0]]
        flat = [np.column_stack([(blk.points[f] - origin) @ x, (blk.points[f] - origin) @ y]) for blk, f in (faces[i], faces[j])]
        common = clip(list(flat[0]), list(flat[1][::-1]))
        if len(common) < 3 or area(common) < 1e-9:
            continue
        found.append(Contact(a, b, normal, np.array([origin + p[0] * x + p[1] * y for p in common])))
    return found


# The draws.


def log_between(rng, low, high):
    return low * (high / low) ** rng.random()


def turned(blocks, rng):
    """The whole leaning about a level axis, most by little."""
    angle, way = log_between(rng, 1e-3, 0.5), 2 * math.pi * rng.random()
    axis = np.array([math.cos(way), math.sin(way), 0])
    skew = np.array([[0, 0, axis[1]], [0, 0, -axis[0]], [-axis[1], axis[0], 0]])
    turn = np.eye(3) + math.sin(angle) * skew + (1 - math.cos(angle)) * skew @ skew
    for block in blocks:
        block.points = block.points @ turn.T
    return blocks


def brick(x, y, z, fixed=False):
    return Block(np.array([[i, j, k] for i in x for j in y for k in z], dtype=float), fixed)


def sector(along, across, inner, outer, low, high, half_width, fixed=False):
    """A voussoir: angles from the vertical in the plane of `along` and up, through the origin."""
    points = [
        r * (math.sin(t) * along + math.cos(t) * np.array([0, 0, 1])) + w * across
        for r in (inner, outer)
        for t in (low, high)
        for w in (-half_width, half_width)
    ]
    return Block(np.array(points), fixed)


def arch(rng):
    n = int(log_between(rng, 4, 90))
    embrace = math.pi * (0.3 + 0.75 * rng.random())
    thickness = 0.12 * (embrace / math.pi) ** 3 * log_between(rng, 0.5, 4)
    along, across, width = np.array([1.0, 0, 0]), np.array([0, 1.0, 0]), log_between(rng, 0.1, 2)
    step, foot = embrace / n, 0.1
    edges = [-embrace / 2 - foot] + [-embrace / 2 + i * step for i in range(n + 1)] + [embrace / 2 + foot]
    blocks = [
        sector(along, across, 1 - thickness / 2, 1 + thickness / 2, a, b, width, i in (0, n + 1))
        for i, (a, b) in enumerate(zip(edges, edges[1:]))
    ]
    return turned(blocks, rng) if rng.random() < 0.6 else blocks


def legs(rng):
    """Two to four half arches that lean on a key."""
    count = 2 + int(3 * rng.random() ** 1.5)
    shake = 0.15 * rng.random()
    bearings = [2 * math.pi * (k + shake * rng.random()) / count for k in range(count)]
    narrow = min((bearings[(k + 1) % count] - bearings[k]) % (2 * math.pi) for k in range(count))
    n, thickness = int(log_between(rng, 2, 110 / count)), log_between(rng, 0.04, 0.25)
    width = log_between(rng, 0.05, 0.2)
    top = math.asin(width / math.tan(min(narrow, 3) / 2) / (1 - thickness / 2)) * 1.1 + 0.02
    blocks, key = [], []
    for bearing in bearings:
        along = np.array([math.cos(bearing), math.sin(bearing), 0])
        across = np.array([-along[1], along[0], 0])
        end = top + 0.4 + 0.8 * rng.random()
        edges = list(np.linspace(top, end, n + 1)) + [end + 0.1]
        for i, (a, b) in enumerate(zip(edges, edges[1:])):
            blocks.append(sector(along, across, 1 - thickness / 2, 1 + thickness / 2, a, b, width, i == n))
        key += list(sector(along, across, 1 - thickness / 2, 1 + thickness / 2, top, top + 1, width).points[[0, 1, 4, 5]])
        key += list(sector(along, across, 1 - thickness / 2, 1 + thickness / 2, top - 1, top, width).points[[2, 3, 6, 7]])
    return blocks + [Block(np.unique(np.round(np.array(key), 12), axis=0))]


def wall(rng):
    courses, long = int(log_between(rng, 2, 13)), int(log_between(rng, 1, 9))
    length, height, depth = 0.45, log_between(rng, 0.1, 0.6), log_between(rng, 0.1, 1)
    bond = length * (0.15 + 0.7 * rng.random())
    blocks = [brick((-1, long * length + 1), (-1, depth + 1), (-0.5, 0), True)]
    for course in range(courses):
        cuts = [0.0] if course % 2 == 0 else [0.0, bond]
        while cuts[-1] + length < long * length - 1e-9:
            cuts.append(cuts[-1] + length)
        cuts.append(long * length)
        for a, b in zip(cuts, cuts[1:]):
            if rng.random() < 0.97 or course == 0:  # a block left out here and there
                blocks.append(brick((a, b), (0, depth), (course * height, (course + 1) * height)))
    return turned(blocks, rng) if rng.random() < 0.7 else blocks


def prism(rng, middle, radius, low, high):
    sides, start = 3 + int(4 * rng.random()), 2 * math.pi * rng.random()
    around = [start + 2 * math.pi * k / sides for k in range(sides)]
    return Block(
        np.array([[middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t), z] for t in around for z in (low, high)])
    )


def tower(rng):
    n, radius = int(log_between(rng, 4, 40)), 1.0
    blocks, middle, z = [brick((-5, 5), (-5, 5), (-1, 0), True)], np.zeros(2), 0.0
    shift = log_between(rng, 0.01, 0.4)
    for _ in range(n):
        height = log_between(rng, 0.1, 0.8)
        blocks.append(prism(rng, middle, radius, z, z + height))
        z += height
        middle = middle + radius * shift * (2 * rng.random(2) - 1)
        radius *= 0.9 + 0.15 * rng.random()
    return turned(blocks, rng)


def trestle(rng):
    """Two or three towers under one slab, and a tower on it."""
    count, n = 2 + int(2 * rng.random()), int(log_between(rng, 1, 12))
    blocks = [brick((-6, 6), (-6, 6), (-1, 0), True)]
    heights = [log_between(rng, 0.2, 0.8) for _ in range(n)]
    for k in range(count):
        place, z = 2 * np.array([math.cos(2 * math.pi * k / count), math.sin(2 * math.pi * k / count)]), 0.0
        for height in heights:
            blocks.append(prism(rng, place, 0.6, z, z + height))
            z += height
    blocks.append(brick((-2.5, 2.5), (-2.5, 2.5), (sum(heights), sum(heights) + 0.4)))
    z = sum(heights) + 0.4
    for k in range(int(5 * rng.random())):
        corner = 1.3 * np.array([(-1, -1, 1, 1)[k], (-1, 1, -1, 1)[k]])
        blocks.append(prism(rng, corner * (0.5 + 0.5 * rng.random()), 0.5, z, z + 0.5))
    return turned(blocks, rng)


def flat_arch(rng, upright=False):
    """Blocks in a row between abutments, joints fanned out, or all upright."""
    n, depth = int(log_between(rng, 3, 24)), log_between(rng, 0.1, 0.6)
    fan = 0.0 if upright else log_between(rng, 1e-3, 0.4)
    edges = [-1 + 2 * i / n for i in range(n + 1)]
    edges = [-1.3] + edges + [1.3]
    blocks = []
    for i, (a, b) in enumerate(zip(edges, edges[1:])):
        # the joint at x leans by fan * x, symmetric about the middle
        lean = [x * (1 + fan * depth) for x in (a, b)]
        points = [(a, 0), (b, 0), (lean[1], depth), (lean[0], depth)]
        blocks.append(Block(np.array([[x, y, z] for x, z in points for y in (0, 0.5)]), i in (0, n + 1)))
    return blocks


def row(rng):
    return flat_arch(rng, True)


def live_case(rng, blocks):
    """A push on one block, on several, or a level acceleration."""
    free = [i for i, block in enumerate(blocks) if not block.fixed]
    mean = GRAVITY * sum(blocks[i].mass for i in free) / len(free)
    if rng.random() < 0.3:
        way = 2 * math.pi * rng.random()
        return {"id": "live", "live_acceleration": [GRAVITY * math.cos(way), GRAVITY * math.sin(way), 0.0]}
    pushes = []
    for _ in range(1 + int(3 * rng.random())):
        i = free[int(len(free) * rng.random())]
        point = blocks[i].points[int(len(blocks[i].points) * rng.random())]
        point = 0.5 * (point + blocks[i].centre)
        force = mean * log_between(rng, 0.1, 30) * np.array([*(0.8 * (rng.random(2) - 0.5)), -1.0])
        pushes.append({"block": f"b{i}", "point": point.tolist(), "force": force.tolist()})
    return {"id": "live", "live": pushes}


KINDS = {"arch": arch, "legs": legs, "wall": wall, "tower": tower, "trestle": trestle, "flat": flat_arch, "row": row}


def draw(kind, seed):
    rng = np.random.default_rng([seed, sum(map(ord, kind))])
    blocks = KINDS[kind](rng)
    for block in blocks:
        block.density = log_between(rng, 1000, 4000)
        measure(block)
    return {
        "name": f"{kind} {seed}",
        "blocks": blocks,
        "contacts": contacts_of(blocks),
        "friction": log_between(rng, 0.15, 1.2),
        "live": live_case(rng, blocks),
        "listed": rng.random() < 0.5,
    }


def as_json(assembly):
    """The file that the tool reads (docs/assembly.md)."""
    blocks = []
    for i, block in enumerate(assembly["blocks"]):
        blocks.append({"id": f"b{i}", "vertices": block.points.tolist(), "faces": [[int(k) for k in f] for f in block.faces],
                       "density": block.density, "fixed": block.fixed})
    joints = "detect"
    if assembly["listed"]:
        joints = [{"a": f"b{c.a}", "b": f"b{c.b}", "polygon": c.corners.tolist()} for c in assembly["contacts"]]
    return {"blocks": blocks, "friction": assembly["friction"], "joints": joints,
            "cases": [{"id": "dead"}, assembly["live"]]}
