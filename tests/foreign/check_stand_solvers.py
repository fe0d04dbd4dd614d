"""check_stand_solvers.py SKEWBACK: holds the verdicts and load factors of `skewback stand` to three solvers of others.

Random dry assemblies (dry_assemblies.py) are proven by the tool and again here, over contacts worked out here:
- HiGHS (scipy): load factor on friction pyramids of 32 sides, inside the cone and round it. The tool's lies between.
- cvxopt, conelp: load factor on the true cone.
- Siconos, fc3d (proximal points, then Gauss-Seidel): one step of motion from rest under weight alone, exact (not associated) Coulomb friction. What it
  keeps still the tool must not call falling; what it lets fall the tool must not call standing.
Prints a line per assembly, the counts, and the worst disagreement of each kind; ends with 1 if one is over its bound.
"""

import contextlib
import json
import math
import os
import subprocess
import sys
import tempfile
from collections import Counter
from concurrent.futures import ProcessPoolExecutor

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

import numpy as np  # noqa: E402
import scipy.sparse as sparse  # noqa: E402
import siconos.numerics as siconos  # noqa: E402
from cvxopt import matrix, solvers, spmatrix  # noqa: E402
from scipy.optimize import linprog  # noqa: E402

import dry_assemblies  # noqa: E402

DRAWS = {"arch": 14, "legs": 14, "wall": 14, "tower": 12, "trestle": 10, "flat": 8, "row": 8}
AGREE = 1e-6  # the tool gives way by up to so much of its factor (docs/theory/stand.md)
ABOVE = 1e-7  # and never goes beyond by more than what solvers leave
SIDES = 32
CAP = 20.0  # the tool's own
# Upright joints between abutments: a row that has slipped at once falls without force; one whose joints stuck arches and
# stands. Both satisfy Coulomb's law from rest. Siconos finds the first, pads that stick at first the second: counted.
NOT_UNIQUE = {"row"}
STILL, FALLS = 2e-5, 1e-3  # acceleration over g
MOST_CORNERS = 150  # for Siconos, which is slow to settle many contacts


class Equations:
    """Balance of the free blocks about their centres, in mean weights; three columns (n, t1, t2) a contact corner."""

    def __init__(self, assembly):
        blocks = assembly["blocks"]
        self.free = [i for i, block in enumerate(blocks) if not block.fixed]
        row = {block: 6 * k for k, block in enumerate(self.free)}
        self.mean = np.mean([blocks[i].mass for i in self.free])
        self.rows = 6 * len(self.free)
        rows, cols, values, corners = [], [], [], 0
        for contact in assembly["contacts"]:
            n = contact.normal
            t1 = np.cross(n, np.eye(3)[np.argmin(np.abs(n))])
            t1 /= np.linalg.norm(t1)
            for p in contact.corners:
                for k, way in enumerate((n, t1, np.cross(n, t1))):
                    for block, sign in ((contact.a, -1), (contact.b, 1)):
                        if block in row:
                            wrench = sign * np.concatenate([way, np.cross(p - blocks[block].centre, way)])
                            rows += range(row[block], row[block] + 6)
                            cols += [3 * corners + k] * 6
                            values += wrench.tolist()
                corners += 1
        self.corners = corners
        self.A = sparse.csc_matrix((values, (rows, cols)), (self.rows, 3 * corners))
        self.weight, self.live = np.zeros(self.rows), np.zeros(self.rows)
        for i in self.free:
            self.weight[row[i] + 2] = -blocks[i].mass / self.mean
        case = assembly["live"]
        for i in self.free if "live_acceleration" in case else []:
            way = np.array(case["live_acceleration"]) / dry_assemblies.GRAVITY
            self.live[row[i] : row[i] + 3] = blocks[i].mass / self.mean * way
        for push in case.get("live", []):
            i = int(push["block"][1:])
            force = np.array(push["force"]) / (self.mean * dry_assemblies.GRAVITY)
            arm = np.array(push["point"]) - blocks[i].centre
            self.live[row[i] : row[i] + 6] += np.concatenate([force, np.cross(arm, force)])
        self.mass = sparse.block_diag(
            [sparse.block_diag([blocks[i].mass * np.eye(3), blocks[i].inertia]) for i in self.free], "csc"
        ) / self.mean


def highs(equations, friction, outer, with_live):
    """Largest factor, -inf if the loads cannot be balanced, or whether weight alone can. None: no answer."""
    mu = friction / math.cos(math.pi / SIDES) if outer else friction
    around = 2 * math.pi * np.arange(SIDES) / SIDES
    rays = np.vstack([np.ones(SIDES), mu * np.cos(around), mu * np.sin(around)])
    A = equations.A @ sparse.kron(sparse.eye(equations.corners), rays, "csc")
    cost, bounds = np.zeros(A.shape[1]), [(0, None)] * A.shape[1]
    if with_live:
        A = sparse.hstack([A, equations.live[:, None]], "csc")
        cost, bounds = np.append(cost, -1.0), bounds + [(0, CAP)]
    options = {"primal_feasibility_tolerance": 1e-9, "dual_feasibility_tolerance": 1e-9, "maxiter": 10000}
    answer = linprog(cost, A_eq=A, b_eq=-equations.weight, bounds=bounds, method="highs", options=options)
    if answer.status not in (0, 2):
        return None
    if not with_live:
        return answer.status == 0
    return -answer.fun if answer.status == 0 else -math.inf


def conelp(equations, friction, with_live):
    """On the true cone, by its dual: velocities y, least weight'y + CAP over, with -A'y in the dual cones, over >= 0
    and over >= 1 + live'y. Gives the largest factor, or whether weight alone balances; None: not converged."""
    size, corners = equations.rows, equations.corners
    scale = np.tile([1 / friction, 1.0, 1.0], corners)
    live = equations.live if with_live else np.zeros(size)
    cones = sparse.hstack([sparse.diags(scale) @ equations.A.T, sparse.csc_matrix((3 * corners, 1))])
    linear = sparse.csc_matrix(np.vstack([np.append(np.zeros(size), -1.0), np.append(live, -1.0)]))
    G = sparse.vstack([linear, cones], "coo")
    h = np.append([0.0, -1.0], np.zeros(3 * corners))
    solvers.options.update(show_progress=False, abstol=1e-9, reltol=1e-9, feastol=1e-9, maxiters=100)
    try:
        answer = solvers.conelp(
            matrix(np.append(equations.weight, CAP)),
            spmatrix(G.data.tolist(), G.row.tolist(), G.col.tolist(), G.shape),
            matrix(h),
            {"l": 2, "q": [3] * corners, "s": []},
        )
    except (ArithmeticError, ValueError):
        return None
    if not with_live:
        return {"optimal": True, "dual infeasible": False}.get(answer["status"])
    return answer["primal objective"] if answer["status"] == "optimal" else None


@contextlib.contextmanager
def silent():
    """Siconos prints from C when it does not converge."""
    kept, sink = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    os.dup2(sink, 1)
    try:
        yield
    finally:
        os.dup2(kept, 1), os.close(kept), os.close(sink)


def beyond_cones(r, friction):
    n, t = r[::3], np.hypot(r[1::3], r[2::3])
    return max(0.0, (-n).max(), (t - friction * n).max())


def one_step(equations, friction):
    """Greatest acceleration over g of a free block as weight is put on, and a word: "still", "falls", "unsettled"."""
    inverse = sparse.linalg.inv(equations.mass)
    W, q = equations.A.T @ inverse @ equations.A, equations.A.T @ (inverse @ equations.weight)
    r, u = np.zeros(3 * equations.corners), np.zeros(3 * equations.corners)
    problem = siconos.FrictionContactProblem(3, W.toarray(), q, np.full(equations.corners, friction))
    masses = equations.mass.diagonal()[::6]
    for solver, most in ((siconos.SICONOS_FRICTION_3D_PROX, 100), (siconos.SICONOS_FRICTION_3D_NSGS, 3000)):
        options = siconos.SolverOptions(solver)
        options.dparam[siconos.SICONOS_DPARAM_TOL] = 1e-8
        options.iparam[siconos.SICONOS_IPARAM_MAX_ITER] = most
        with silent():
            siconos.fc3d_driver(problem, r, u, options)
        wrench = equations.weight + equations.A @ r
        power = (wrench * (inverse @ wrench)).reshape(-1, 6).sum(axis=1)
        acceleration = math.sqrt((power / masses).max())
        if acceleration < STILL and beyond_cones(r, friction) < 1e-9:
            return acceleration, "still"
        if acceleration > FALLS and acceleration > 1000 * options.dparam[siconos.SICONOS_DPARAM_RESIDU]:
            return acceleration, "falls"
    return acceleration, "unsettled"


def tool(assembly):
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "blocks.json")
        with open(path, "w") as file:
            json.dump(dry_assemblies.as_json(assembly), file)
        done = subprocess.run([sys.argv[1], "stand", path, "--json", "--jobs", "1"], capture_output=True, timeout=120)
    if done.returncode not in (0, 3):
        raise RuntimeError(f"{assembly['name']}: skewback ended with {done.returncode}: {done.stderr.decode()}")
    return {case["id"]: case for case in json.loads(done.stdout)["cases"]}


def limit_view(case):
    """What view 1 alone says of weight alone."""
    by_motion = case["verdict"] == "falls" and case["reason"].startswith("let go in time")
    if case["verdict"] == "undecided" or by_motion:
        return "stands" if case["pads"] is not None else "undecided"
    return case["verdict"]


def compare(job):
    """A line for each assembly: counts, greatest disagreements, faults."""
    assembly = dry_assemblies.draw(*job)
    equations, friction = Equations(assembly), assembly["friction"]
    cases = tool(assembly)
    limit, verdict, factor = limit_view(cases["dead"]), cases["dead"]["verdict"], cases["live"]["load_factor"]
    counts, worst, faults = Counter([f"limit {limit}", f"verdict {verdict}"]), {}, []

    inside, outside = (highs(equations, friction, outer, False) for outer in (False, True))
    cone = conelp(equations, friction, False)
    for name, says in (("pyramid inside", inside), ("pyramid outside", outside), ("cone", cone)):
        counts[f"weight alone, {name}: {'no answer' if says is None else 'stands' if says else 'falls'}"] += 1
    if limit == "falls" and (inside or cone):
        faults.append("called falling; forces exist")
    if limit == "stands" and (outside is False or cone is False):
        faults.append("called standing; no forces exist")
    if limit == "undecided" and (inside or outside is False):
        counts["undecided though pyramids decide"] += 1

    text = ""
    if limit == "stands" and factor is not None:
        low, high = (highs(equations, friction, outer, True) for outer in (False, True))
        cone = conelp(equations, friction, True)
        if low is not None and high is not None:
            worst["under the pyramid inside"] = max(low - factor, 0.0) / max(low, 1e-3)
            worst["over the pyramid outside"] = max(factor - high, 0.0) / max(high, 1e-3)
            counts["factors bracketed"] += 1
            counts["factors at the cap"] += cases["live"]["load_factor_is_at_least"]
        if cone is not None:
            worst["under the cone's optimum"] = max(cone - factor, 0.0) / max(cone, 1e-3)
            worst["over the cone's optimum"] = max(factor - cone, 0.0) / max(cone, 1e-3)
            counts["factors against the cone"] += 1
        text = f", factor {factor:.9g} in [{low:.9g}, {high:.9g}], cone {cone if cone is None else format(cone, '.9g')}"
        faults += [f"{what}: {by:.1e}" for what, by in worst.items() if by > (ABOVE if "over" in what else AGREE + ABOVE)]
    elif limit == "stands":
        counts["no factor found"] += 1

    if equations.corners <= MOST_CORNERS:
        acceleration, motion = one_step(equations, friction)
        counts[f"motion {motion}"] += 1
        text += f", moves at {acceleration:.1e} g: {motion}"
        if motion == "still" and limit == "falls":
            faults.append("called falling; it keeps still")
        if motion == "falls" and limit == "stands":
            counts["motion falls, limit view stands, verdict " + verdict] += 1
        if motion == "falls" and verdict == "stands" and job[0] not in NOT_UNIQUE:
            faults.append("called standing; it moves off")
        if motion == "still" and limit == "stands":
            counts["motion still, limit view stands, verdict " + verdict] += 1
    line = f"{assembly['name']}: {len(assembly['blocks'])} blocks, {equations.corners} corners, limit {limit}, {verdict}{text}"
    return line, counts, worst, faults


def main():
    jobs = [(kind, seed) for kind, count in DRAWS.items() for seed in range(count)]
    counts, worst, bad = Counter(), {}, 0
    with ProcessPoolExecutor() as pool:
        for line, count, off, faults in pool.map(compare, jobs):
            print(line + "".join(f"\n    FAULT {fault}" for fault in faults), flush=True)
            counts += count
            bad += len(faults)
            for what, by in off.items():
                worst[what] = max(worst.get(what, (0.0, "")), (by, line.split(":")[0]))
    for what in sorted(counts):
        print(f"{counts[what]:4d} {what}")
    for what, (by, where) in worst.items():
        print(f"worst {what}: {by:.1e}, {where}")
    enough = counts["factors bracketed"] >= len(jobs) // 3 and counts["limit falls"] and counts["motion falls"]
    if not enough:
        print("too few compared")
    sys.exit(0 if enough and not bad else 1)


if __name__ == "__main__":
    main()
