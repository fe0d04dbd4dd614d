"""few_voussoirs.py: least thickness over mean radius of a semicircle of n equal voussoirs, by another program.

Each joint carries forces at its two ends, square to it and pressing, and any along it that friction of 0.7 allows; each
block is in balance under its own weight. Whether there are such forces is a linear program (HiGHS in scipy); the
thickness is halved in until it changes by less than 1e-8. "sectors" are parts of a ring with round edges, "straight"
have straight ones between the joints. These are the figures of tests/published/arch_test.cpp; ends with 1 where one
is off by more than 5e-6, half of its last digit.
"""

import math
import sys

import numpy as np
from scipy.optimize import linprog

EXPECTED = {7: (0.09625, 0.09570), 9: (0.10213, 0.10153), 15: (0.10627, 0.10607), 51: (0.10737, 0.10736)}
FRICTION = 0.7


def straight(a, b, inner, outer):
    """Area and centroid of the quadrilateral between the joints at angles a and b."""
    corners = [(r * math.cos(w), r * math.sin(w)) for r, w in ((inner, a), (outer, a), (outer, b), (inner, b))]
    area = cx = cy = 0.0
    for (x, y), (u, v) in zip(corners, corners[1:] + corners[:1]):
        cross = x * v - u * y
        area, cx, cy = area + cross / 2, cx + (x + u) * cross / 6, cy + (y + v) * cross / 6
    return area, cx / area, cy / area


def sector(a, b, inner, outer):
    area = (b - a) / 2 * (outer**2 - inner**2)
    reach = 2 / 3 * math.sin((b - a) / 2) / ((b - a) / 2) * (outer**3 - inner**3) / (outer**2 - inner**2)
    return area, reach * math.cos((a + b) / 2), reach * math.sin((a + b) / 2)


def stands(n, t, shape):
    inner, outer = 1 - t / 2, 1 + t / 2
    balance, right, slip = np.zeros((3 * n, 3 * (n + 1))), np.zeros(3 * n), []
    for k in range(n + 1):
        w = math.pi * k / n
        along, way = (math.cos(w), math.sin(w)), (-math.sin(w), math.cos(w))  # along the joint; on, to the next block
        for column, (x, y), force in ((3 * k, (inner * along[0], inner * along[1]), way),
                                      (3 * k + 1, (outer * along[0], outer * along[1]), way),
                                      (3 * k + 2, (0.0, 0.0), along)):  # its line goes through the middle of the ring
            line = np.array([force[0], force[1], x * force[1] - y * force[0]])
            if k < n:
                balance[3 * k : 3 * k + 3, column] += line
            if k > 0:
                balance[3 * k - 3 : 3 * k, column] -= line
        for sign in (1, -1):
            row = np.zeros(3 * (n + 1))
            row[3 * k : 3 * k + 3] = -FRICTION, -FRICTION, sign
            slip.append(row)
    for k in range(n):
        area, x, _ = shape(math.pi * k / n, math.pi * (k + 1) / n, inner, outer)
        right[3 * k : 3 * k + 3] = 0, area / t, x * area / t
    bounds = [(0, None), (0, None), (None, None)] * (n + 1)
    found = linprog(np.zeros(3 * (n + 1)), np.array(slip), np.zeros(len(slip)), balance, right, bounds, "highs")
    return found.status == 0


def least(n, shape):
    low, high = 0.05, 0.2
    while high - low > 1e-8:
        middle = (low + high) / 2
        low, high = (low, middle) if stands(n, middle, shape) else (middle, high)
    return high


worst = 0.0
for n, figures in EXPECTED.items():
    for name, shape, figure in zip(("sectors", "straight"), (sector, straight), figures):
        found = least(n, shape)
        worst = max(worst, abs(found - figure))
        print(f"{n:3d} {name:8s} {found:.7f}  (figure {figure})")
sys.exit(worst > 5e-6)
