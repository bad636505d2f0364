"""Solves a model of .ci/bench/peers with the HiGHS inside SciPy: milp.py FILE SECONDS. Prints one line of JSON."""
import json
import sys
import time

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

path, limit = sys.argv[1], float(sys.argv[2])
words = iter(open(path).read().split())
n, rows = int(next(words)), int(next(words))
cost, most = np.zeros(n), np.zeros(n)
for x in range(n):
    cost[x], most[x] = int(next(words)), int(next(words))
lo, hi, start, col, val = [], [], [0], [], []
for _ in range(rows):
    a, b, k = int(next(words)), int(next(words)), int(next(words))
    lo.append(a)
    hi.append(np.inf if b < a else b)
    for _ in range(k):
        col.append(int(next(words)))
        val.append(int(next(words)))
    start.append(len(col))
matrix = csr_matrix((val, col, start), shape=(rows, n))
before = time.process_time()
r = milp(cost, constraints=LinearConstraint(matrix, lo, hi), bounds=Bounds(0, most), integrality=np.ones(n),
         options={"time_limit": limit, "mip_rel_gap": 0})
took = time.process_time() - before
print(json.dumps({"proved": r.status == 0, "cost": None if r.x is None else round(float(cost @ np.round(r.x))), "seconds": took}))
