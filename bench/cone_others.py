#!/usr/bin/python3
"""Other solvers on the programs that `bench_cone --write DIR` wrote: cone_others.py DIR [SECONDS].

HiGHS (through SciPy) on the linear program with inner cones of eight rays, cvxopt's conelp on the
true cones. Each run has its own process and is stopped after SECONDS (120); one run each, on a
machine that may be busy: processor seconds are what to compare.
"""
import pathlib
import resource
import subprocess
import sys
import time


def read(path):
    import numpy
    from scipy.io import mmread

    return mmread(path).tocsc() if path.suffix == ".mtx" else numpy.loadtxt(path)


def highs(where, method):
    from scipy.optimize import linprog

    A, b, c = (read(where / name) for name in ("lp_A.mtx", "lp_b.txt", "lp_c.txt"))
    bounds = read(where / "lp_bounds.txt")
    done = linprog(c, A_eq=A, b_eq=b, bounds=bounds, method=method)
    return -done.fun if done.status == 0 else done.message


def cvxopt(where):
    """max -b'y over A'y + z = c, z in the cones: conelp's own form, with y as the unknown."""
    from cvxopt import matrix, solvers, spmatrix

    A, b, c = (read(where / name) for name in ("cone_A.mtx", "cone_b.txt", "cone_c.txt"))
    columns = int(read(where / "cone_linear.txt"))
    G = A.T.tocoo()
    G = spmatrix(G.data.tolist(), G.row.tolist(), G.col.tolist(), G.shape)
    dims = {"l": columns, "q": [3] * ((A.shape[1] - columns) // 3), "s": []}
    solvers.options["show_progress"] = False
    done = solvers.conelp(matrix(-b), G, matrix(c), dims)
    return done["primal objective"] if done["status"] == "optimal" else done["status"]


RUNS = {
    "HiGHS interior point": lambda where: highs(where, "highs-ipm"),
    "HiGHS dual simplex": lambda where: highs(where, "highs-ds"),
    "cvxopt conelp": cvxopt,
}


def main():
    top, most = pathlib.Path(sys.argv[1]), float(sys.argv[2]) if len(sys.argv) > 2 else 120
    if len(sys.argv) > 3:
        before = time.perf_counter(), time.process_time()
        answer = RUNS[sys.argv[3]](top)
        print(f"{time.perf_counter() - before[0]:.2f} s ({time.process_time() - before[1]:.2f})", answer)
        return
    for where in sorted(p for p in top.iterdir() if p.is_dir()):
        for name in RUNS:
            try:
                run = subprocess.run(
                    [sys.executable, __file__, str(where), "0", name],
                    capture_output=True, text=True, timeout=most, check=False)
                said = (run.stdout or run.stderr).strip().splitlines()[-1]
            except subprocess.TimeoutExpired:
                said = f"stopped after {most:.0f} s"
            print(f"{where.name}: {name}: {said}", flush=True)


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_AS, (8 << 30, 8 << 30))
    main()
