#!/usr/bin/python3
"""One command for the figures of the proof: cone_others.py BUILD/bench [SECONDS].

Runs bench_cone (Cholesky against CHOLMOD, limit programs, 1,000 patterns) and bench_stand (both views), then other
solvers on limit programs that `bench_cone --write` writes: Clp's barrier without crossover and HiGHS (through SciPy) on
inner cones of eight rays, cvxopt's conelp on the true cones, up to 250 blocks. Each run of those has its own process and
is stopped after SECONDS (120); one run each, ours a median. Ratios are of seconds by the clock in this run; on a busy machine
they scatter. Where friction does not govern (the vaults), eight rays have the optimum of the cone.
"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import time

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

try:
    import cvxopt as _, scipy as _  # noqa: E401, F401
except ImportError as missing:
    sys.exit(f"cone_others.py: {missing}; run it with a Python that has scipy and cvxopt (Debian: /usr/bin/python3)")

CONELP_BLOCKS = 250  # its matrices are dense


def read(path):
    import numpy
    from scipy.io import mmread

    return mmread(path).tocsc() if path.suffix == ".mtx" else numpy.loadtxt(path)


def highs(where, method):
    from scipy.optimize import linprog

    A, b, c = (read(where / name) for name in ("lp_A.mtx", "lp_b.txt", "lp_c.txt"))
    bounds = read(where / "lp_bounds.txt")
    start = time.perf_counter()
    done = linprog(c, A_eq=A, b_eq=b, bounds=bounds, method=method)
    return time.perf_counter() - start, -done.fun if done.status == 0 else done.message


def cvxopt(where):
    """max -b'y over A'y + z = c, z in the cones: conelp's own form, with y as the unknown."""
    from cvxopt import matrix, solvers, spmatrix

    A, b, c = (read(where / name) for name in ("cone_A.mtx", "cone_b.txt", "cone_c.txt"))
    columns = int(read(where / "cone_linear.txt"))
    G = A.T.tocoo()
    G = spmatrix(G.data.tolist(), G.row.tolist(), G.col.tolist(), G.shape)
    dims = {"l": columns, "q": [3] * ((A.shape[1] - columns) // 3), "s": []}
    solvers.options["show_progress"] = False
    start = time.perf_counter()
    done = solvers.conelp(matrix(-b), G, matrix(c), dims)
    return time.perf_counter() - start, done["primal objective"] if done["status"] == "optimal" else done["status"]


RUNS = {
    "HiGHS interior point": lambda where: highs(where, "highs-ipm"),
    "HiGHS dual simplex": lambda where: highs(where, "highs-ds"),
    "cvxopt conelp": cvxopt,
}


def other(where, name, most):
    """Seconds and optimum, or why there is none."""
    try:
        run = subprocess.run([sys.executable, __file__, "--one", str(where), name],
                             capture_output=True, text=True, timeout=most, check=False)
        return json.loads(run.stdout.splitlines()[-1]) if run.returncode == 0 else (None, run.stderr[-200:])
    except subprocess.TimeoutExpired:
        return None, f"stopped after {most:.0f} s"


def compare(where, most):
    own = json.loads((where / "own.json").read_text())
    print(f"{where.name}: ours {1e3 * own['seconds']:.2f} ms, factor {own['factor']:.9f}")
    found = {"Clp barrier": (own["clp_seconds"], own["clp_factor"])} if own["clp_seconds"] else {}
    for name in RUNS:
        if name != "cvxopt conelp" or own["blocks"] <= CONELP_BLOCKS:
            found[name] = other(where, name, most)
    best = None
    for name, (seconds, optimum) in found.items():
        if seconds is None or not isinstance(optimum, float):
            print(f"  {name}: {optimum}", flush=True)
            continue
        off = optimum / own["factor"] - 1
        print(f"  {name}: {seconds:.3f} s, {seconds / own['seconds']:.0f} x ours, optimum {optimum:.9f} ({off:+.1e})", flush=True)
        if best is None or seconds < best[0]:
            best = seconds, name
    if best:
        print(f"  best of the others: {best[1]}, {best[0] / own['seconds']:.1f} x ours", flush=True)


def main():
    if sys.argv[1] == "--one":
        print(json.dumps(RUNS[sys.argv[3]](pathlib.Path(sys.argv[2]))))
        return
    bench, most = pathlib.Path(sys.argv[1]).resolve(), float(sys.argv[2]) if len(sys.argv) > 2 else 120
    for name in ("bench_cone", "bench_stand"):
        print(f"-- {name}", flush=True)
        subprocess.run([bench / name], check=True)
    print("-- against others", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([bench / "bench_cone", "--write", folder], check=True)
        for where in sorted((p for p in pathlib.Path(folder).iterdir() if p.is_dir()), key=lambda p: (p.name[0] != "v", len(p.name), p.name)):
            compare(where, most)


if __name__ == "__main__":
    main()
