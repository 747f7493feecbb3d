# Writes traverse.csv: the shortest time of a move from rest to rest under bounds of speed,
# acceleration and jerk, found as a linear programme: time is cut into steps of constant jerk,
# the distance covered in a given time is made as large as it can be, and the time at which it
# is the wanted one is searched. Nothing of it knows trapezoids or S-ramps. Steps are coarse,
# so the times are a few thousandths too long. Needs numpy and scipy (PyPI).
from importlib.metadata import version

import numpy as np
from scipy.optimize import brentq, linprog
from scipy.sparse import lil_matrix

STEPS = 240


def farthest(time, speed, acceleration, build_up):
    h = time / STEPS
    n = STEPS
    # Unknown: a0..an, v0..vn, x0..xn at the ends of the steps; jerk follows from a.
    size = 3 * (n + 1)
    a, v, x = (lambda i: i), (lambda i: n + 1 + i), (lambda i: 2 * (n + 1) + i)
    same = lil_matrix((2 * n, size))
    for i in range(n):
        # Acceleration goes in straight lines: v by the mean, x by the exact integral.
        same[2 * i, v(i + 1)], same[2 * i, v(i)] = 1, -1
        same[2 * i, a(i)] = same[2 * i, a(i + 1)] = -h / 2
        same[2 * i + 1, x(i + 1)], same[2 * i + 1, x(i)], same[2 * i + 1, v(i)] = 1, -1, -h
        same[2 * i + 1, a(i)], same[2 * i + 1, a(i + 1)] = -h * h / 3, -h * h / 6
    less, most = None, None
    if build_up > 0:
        jerk = acceleration / build_up
        less = lil_matrix((2 * n, size))
        for i in range(n):
            less[2 * i, a(i + 1)], less[2 * i, a(i)] = 1, -1
            less[2 * i + 1, a(i + 1)], less[2 * i + 1, a(i)] = -1, 1
        most = np.full(2 * n, jerk * h)
    rest = (0, 0) if build_up > 0 else (-acceleration, acceleration)
    bounds = [(-acceleration, acceleration)] * (n + 1)
    bounds[0] = bounds[n] = rest
    bounds += [(0, 0)] + [(0, speed)] * (n - 1) + [(0, 0)]
    bounds += [(0, 0)] + [(0, None)] * n
    goal = np.zeros(size)
    goal[x(n)] = -1
    found = linprog(goal, A_ub=less if less is None else less.tocsr(), b_ub=most,
                    A_eq=same.tocsr(), b_eq=np.zeros(2 * n), bounds=bounds, method="highs")
    return -found.fun


def shortest(length, speed, acceleration, build_up):
    longest = 2 * (length / speed + speed / acceleration + 2 * build_up) + 4 * (
        length * max(build_up, 1e-9) / (2 * acceleration)) ** (1 / 3) + 2 * (length / acceleration) ** 0.5
    return brentq(lambda t: farthest(t, speed, acceleration, build_up) - length, 1e-3, longest, xtol=1e-6)


print(f"# scipy {version('scipy')}, linprog (HiGHS) and brentq, {STEPS} steps of time")
print("move_mm,speed_m_per_min,acceleration_m_per_s2,build_up_s,time_s")
for speed, acceleration, build_up in [
    (12.0, 0.5, 0.0), (12.0, 0.5, 0.1), (12.0, 0.5, 0.6), (30.0, 5.0, 0.0),
    (30.0, 5.0, 0.05), (30.0, 5.0, 0.2), (6.0, 2.0, 0.02),
]:
    for length in (10, 50, 100, 300, 600):
        time = shortest(length / 1e3, speed / 60, acceleration, build_up)
        print(f"{length},{speed},{acceleration},{build_up},{time:.5f}")
