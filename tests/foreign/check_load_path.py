"""check_load_path.py NETS: holds least load paths to cvxopt, a conic solver that shares nothing with ours.

NETS writes random nets with our answers. The program solved here is the primal one,

    minimise sum(l^2 q + t)  with  w^2 <= t q,  q >= 0,  plan and vertical balance at free points,

by conelp; ours works on the dual. Compares the sums of force times length, and the least of them
where ours is evaluated again from its force densities. Prints every seed.
"""

import json
import subprocess
import sys

import numpy as np
from cvxopt import matrix, solvers, spmatrix

FIRST_SEED, COUNT = 11, 12
AGREE = 1e-7  # conelp is asked for 1e-8


def least_path(net):
    points, edges = net["points"], net["edges"]
    row = {i: k for k, i in enumerate(i for i, p in enumerate(points) if not p["fixed"])}
    m, n = len(edges), len(row)
    A, b = np.zeros((3 * n, 3 * m)), np.zeros(3 * n)  # unknowns q, w, t
    cost = np.zeros(3 * m)
    for k, e in enumerate(edges):
        dx = points[e["a"]]["x"] - points[e["b"]]["x"]
        dy = points[e["a"]]["y"] - points[e["b"]]["y"]
        cost[k], cost[2 * m + k] = dx * dx + dy * dy, 1
        for end, sign in ((e["a"], 1), (e["b"], -1)):
            if end in row:
                A[3 * row[end], k], A[3 * row[end] + 1, k] = sign * dx, sign * dy
                A[3 * row[end] + 2, m + k] = sign
    for i, k in row.items():
        b[3 * k + 2] = points[i]["load"]
    rows, columns, values = [], [], []
    for k in range(m):  # (t + q, 2 w, t - q) in the cone
        for r, c, v in ((0, 2 * m + k, -1), (0, k, -1), (1, m + k, -2), (2, 2 * m + k, -1), (2, k, 1)):
            rows.append(3 * k + r), columns.append(c), values.append(float(v))
    G = spmatrix(values, rows, columns, (3 * m, 3 * m))
    keep = np.abs(A).sum(axis=1) > 0
    solvers.options.update(show_progress=False, abstol=1e-8, reltol=1e-8, feastol=1e-8)
    answer = solvers.conelp(
        matrix(cost), G, matrix(0.0, (3 * m, 1)), {"l": 0, "q": [3] * m, "s": []}, matrix(A[keep]), matrix(b[keep])
    )
    return answer["status"], answer["primal objective"]


def own_path(net):
    """Force times length of our answer, from its force densities and heights."""
    total, balance, load = 0.0, np.zeros((len(net["points"]), 3)), 0.0
    for e in net["edges"]:
        a, b = net["points"][e["a"]], net["points"][e["b"]]
        d = np.array([a["x"] - b["x"], a["y"] - b["y"], a["z"] - b["z"]])
        total += e["q"] * d @ d
        balance[e["a"]] += e["q"] * d
        balance[e["b"]] -= e["q"] * d
    worst = 0.0
    for p, push in zip(net["points"], balance):
        if p["fixed"]:
            continue
        load += p["load"]
        worst = max(worst, np.linalg.norm(push - np.array([0, 0, p["load"]])))
    return total, worst / load


def main():
    done = subprocess.run([sys.argv[1], str(FIRST_SEED), str(COUNT)], capture_output=True, check=True)
    bad = 0
    for net in json.loads(done.stdout):
        status, path = least_path(net)
        own, residual = own_path(net)
        off = abs(own - path) / path
        ok = status == "optimal" and off <= AGREE and residual <= 1e-8 and abs(own - net["path"]) <= 1e-8 * own
        bad += not ok
        print(
            f"seed {net['seed']}: {len(net['edges'])} edges, ours {own:.9g}, conelp {path:.9g} ({status}), "
            f"off by {off:.1e}, residual {residual:.1e}{'' if ok else '   FAULT'}"
        )
    sys.exit(1 if bad else 0)


main()
