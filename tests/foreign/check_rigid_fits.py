"""check_rigid_fits.py PROGRAM: its weighted rigid fits against scipy's.

Rotation.align_vectors (SciPy; Kabsch's algorithm with weights) of the points about their weighted
means. Tolerances: 1e-9 rad between the rotations, 1e-9 m in the shift of the mean and in residuals.
Ends with 1 on any fault.
"""

import json
import subprocess
import sys

import numpy
from scipy.spatial.transform import Rotation

sets = json.loads(subprocess.run([sys.argv[1]], capture_output=True, check=True).stdout)
faults, worst = [], 0.0
for number, case in enumerate(sets):
    x, y = numpy.array(case["designed"]), numpy.array(case["measured"])
    w = numpy.array(case["accuracy"]) ** -2.0
    x_mean, y_mean = w @ x / w.sum(), w @ y / w.sum()
    theirs = Rotation.align_vectors(y - y_mean, x - x_mean, weights=w)[0]
    R, t = numpy.array(case["R"]), numpy.array(case["t"])
    turn = numpy.linalg.norm((Rotation.from_matrix(R) * theirs.inv()).as_rotvec())
    shift = numpy.linalg.norm(R @ x_mean + t - y_mean)
    rest = numpy.abs(y - y_mean - theirs.apply(x - x_mean) - numpy.array(case["residual"])).max()
    worst = max(worst, turn, shift, rest)
    if abs(numpy.linalg.det(R) - 1) > 1e-9 or max(turn, shift, rest) > 1e-9:
        faults.append(f"set {number}, {len(x)} points: turn {turn:.2g}, shift {shift:.2g} m, residuals {rest:.2g} m")
print("\n".join(faults) or f"{len(sets)} fits agree, worst difference {worst:.2g}")
sys.exit(1 if faults or len(sets) != 20 else 0)
