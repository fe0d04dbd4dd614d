"""check_packing.py PROGRAMS [ASSEMBLY]: holds the packing program to HiGHS (scipy.optimize.linprog).

PROGRAMS writes programs with our optimum and our bound. Each is solved again; both must agree with it.
The rows are ours: this holds the solver, not the rows, which the tests beside the code hold by hand.
"""

import json
import subprocess
import sys

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import coo_matrix

AGREE = 1e-7  # of 1 mm and the objective

programs = json.loads(subprocess.run(sys.argv[1:], check=True, capture_output=True, text=True).stdout)
worst, positive = 0.0, 0
for p in programs:
    rows, cols, values = np.array(p["entries"]).T
    A = coo_matrix((values, (rows.astype(int), cols.astype(int))), shape=(p["rows"], p["columns"])).tocsr()
    bounds = [(None, None)] * p["free"] + [(0, None)] * (p["columns"] - p["free"])
    tight = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}
    other = linprog(p["cost"], A_ub=A, b_ub=p["most"], bounds=bounds, method="highs-ds", options=tight)
    if other.status != 0:
        sys.exit(f"{p['name']}: HiGHS says {other.message}")
    apart = max(abs(p["objective"] - other.fun), abs(p["bound"] - other.fun)) / (1 + other.fun)
    worst, positive = max(worst, apart), positive + (other.fun > 1e-3)
    print(f"{p['name']}: {p['objective']:.9f} mm, bound {p['bound']:.9f}, HiGHS {other.fun:.9f}, apart {apart:.1e}")
    if not p["converged"] or apart > AGREE:
        sys.exit(f"{p['name']}: apart by {apart:.2e}, allowed {AGREE}")
if positive < len(programs) / 2:
    sys.exit("most programs need no packer: nothing is checked")
print(f"{len(programs)} programs, worst apart {worst:.1e}")
