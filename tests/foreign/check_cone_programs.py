"""check_cone_programs.py PROGRAMS: holds cone programs to cvxopt, a conic solver that shares nothing with ours.

PROGRAMS writes programs with our answers. Each is solved again by conelp over n, t1, t2 of every contact and the
columns. Where conelp finds an optimum, the optima are compared and ours is evaluated again from its forces; where it
proves that there is none, ours must say the same, and our proof is checked here. Prints every program and the worst.
"""

import json
import subprocess
import sys

import numpy as np
from cvxopt import matrix, solvers, spmatrix

FIRST_SEED, COUNT = 1, 60
AGREE = 1e-6
OPTIMAL, INFEASIBLE, UNBOUNDED = 0, 1, 2


def columns_of(program):
    """A, costs, bounds; three columns a contact, then the scalar ones."""
    contacts, columns = program["contacts"], program["columns"]
    A = np.zeros((6 * program["nodes"], 3 * len(contacts) + len(columns)))
    c = np.zeros(A.shape[1])
    for i, k in enumerate(contacts):
        for end in ("a", "b"):
            if k[end] >= 0:
                A[6 * k[end] : 6 * k[end] + 6, 3 * i : 3 * i + 3] = np.array(k["on_" + end]).reshape(3, 6).T
        c[3 * i : 3 * i + 3] = k["cost"]
    for i, k in enumerate(columns):
        A[:, 3 * len(contacts) + i] = k["rows"]
        c[3 * len(contacts) + i] = k["cost"]
    return A, c


def conelp(program, A, c):
    contacts, columns = program["contacts"], program["columns"]
    linear, cones, still = [], [], []  # linear: (column, sign, limit) for sign x <= limit
    for i, k in enumerate(contacts):
        if k["most"] is not None:
            linear.append((3 * i, 1.0, k["most"]))
        if k["friction"] == 0:
            linear.append((3 * i, -1.0, 0.0))
            still += [3 * i + 1, 3 * i + 2]
        else:
            cones.append((3 * i, k["friction"]))
    for i, k in enumerate(columns):
        column = 3 * len(contacts) + i
        if k["lower"] is not None:
            linear.append((column, -1.0, -k["lower"]))
        if k["upper"] is not None:
            linear.append((column, 1.0, k["upper"]))
    keep = [j for j in range(A.shape[1]) if j not in set(still)]
    place = {j: i for i, j in enumerate(keep)}
    rows, cols, values, h = [], [], [], []
    for j, sign, limit in linear:
        rows.append(len(h)), cols.append(place[j]), values.append(sign), h.append(limit)
    for j, friction in cones:
        for k, v in enumerate((-friction, -1.0, -1.0)):
            rows.append(len(h)), cols.append(place[j + k]), values.append(v), h.append(0.0)
    G = spmatrix(values, rows, cols, (len(h), len(keep)))
    solvers.options.update(show_progress=False, abstol=1e-9, reltol=1e-9, feastol=1e-9, maxiters=200)
    try:
        answer = solvers.conelp(
            matrix(c[keep]),
            G,
            matrix(h),
            {"l": len(linear), "q": [3] * len(cones), "s": []},
            matrix(A[:, keep]),
            matrix(np.array(program["b"], dtype=float)),
        )
    except (ArithmeticError, ValueError) as fault:
        return str(fault), None, None
    return answer["status"], answer["primal objective"], answer["relative gap"]


def breach(program, x):
    """Largest excess of a cone or bound."""
    worst = 0.0
    for i, k in enumerate(program["contacts"]):
        n, t = x[3 * i], np.hypot(x[3 * i + 1], x[3 * i + 2])
        worst = max(worst, -n, t - k["friction"] * n, n - k["most"] if k["most"] is not None else 0)
    for i, k in enumerate(program["columns"]):
        v = x[3 * len(program["contacts"]) + i]
        worst = max(worst, k["lower"] - v if k["lower"] is not None else 0, v - k["upper"] if k["upper"] is not None else 0)
    return worst


def power(program, A, y):
    """b'y less what the limits take, and the largest breach of the dual cones: positive and none is a proof of fall."""
    r, total, worst = -A.T @ y, np.dot(program["b"], y), 0.0
    for i, k in enumerate(program["contacts"]):
        need = max(0.0, k["friction"] * np.hypot(r[3 * i + 1], r[3 * i + 2]) - r[3 * i])
        if k["most"] is None:
            worst = max(worst, need)
        else:
            total -= need * k["most"]
    for i, k in enumerate(program["columns"]):
        v = r[3 * len(program["contacts"]) + i]
        limit = k["lower"] if v >= 0 else k["upper"]
        if limit is None:
            worst = max(worst, abs(v))
        else:
            total += v * limit
    return total, worst


def main():
    done = subprocess.run([sys.argv[1], str(FIRST_SEED), str(COUNT)], capture_output=True, check=True)
    bad, worst, met = 0, 0.0, 0
    for program in json.loads(done.stdout):
        A, c = columns_of(program)
        status, theirs, gap = conelp(program, A, c)
        x = np.array(program["f"] + program["x"])
        note = ""
        if status == "optimal":
            off = abs(c @ x - theirs) / (1 + abs(theirs))
            residual = np.abs(A @ x - program["b"]).max() / (1 + np.abs(program["b"]).max())
            ok = program["status"] == OPTIMAL and off <= AGREE and residual <= AGREE and breach(program, x) <= AGREE
            note = f"ours {c @ x:.9g}, off by {off:.1e}, residual {residual:.1e}"
            worst, met = max(worst, off), met + 1
        elif status == "primal infeasible":
            work, excess = power(program, A, np.array(program["y"]))
            ok = program["status"] == INFEASIBLE and work > 0.5 and excess <= AGREE
            note = f"power {work:.6g}, breach {excess:.1e}"
        elif status == "dual infeasible":
            residual = np.abs(A @ x).max()
            ok = program["status"] == UNBOUNDED and c @ x < -0.5 and residual <= AGREE
            note = f"ray of cost {c @ x:.6g}, residual {residual:.1e}"
        else:  # theirs stopped early: no comparison, but ours must stand on its own
            ok = program["status"] in (OPTIMAL, UNBOUNDED)
            note = f"no verdict of theirs ({theirs}, gap {gap}); our status {program['status']}, {c @ x:.9g}"
        bad += not ok
        print(f"{program['name']}: {len(program['contacts'])} contacts, conelp {status}: {note}{'' if ok else '   FAULT'}")
    print(f"{met} optima compared, worst disagreement {worst:.1e}")
    sys.exit(1 if bad or met < COUNT // 2 else 0)


main()
