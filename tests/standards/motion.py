# Writes traverse.csv and swing.csv.
#
# traverse.csv: the shortest time of a move from rest to rest under bounds of speed,
# acceleration and jerk, found as a linear programme: time is cut into steps of constant jerk,
# the distance covered in a given time is made as large as it can be, and the time at which it
# is the wanted one is searched. Nothing of it knows trapezoids or S-ramps. Steps are coarse,
# so the times are a few thousandths too long.
#
# swing.csv: period of a rotor that swings in the field of its standing motor, J x'' =
# -T sin(50 x), let go at a hundredth of a full step and integrated.
#
# Run: python3 tests/standards/motion.py   (needs numpy and scipy, PyPI)
import os
from importlib.metadata import version

import numpy as np
from scipy.integrate import solve_ivp
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


def traverse(path):
    with open(path, "w") as out:
        out.write(f"# scipy {version('scipy')}, linprog (HiGHS) and brentq, {STEPS} steps of time\n")
        out.write("move_mm,speed_m_per_min,acceleration_m_per_s2,build_up_s,time_s\n")
        for speed, acceleration, build_up in [
            (12.0, 0.5, 0.0), (12.0, 0.5, 0.1), (12.0, 0.5, 0.6), (30.0, 5.0, 0.0),
            (30.0, 5.0, 0.05), (30.0, 5.0, 0.2), (6.0, 2.0, 0.02),
        ]:
            for length in (10, 50, 100, 300, 600):
                time = shortest(length / 1e3, speed / 60, acceleration, build_up)
                out.write(f"{length},{speed},{acceleration},{build_up},{time:.5f}\n")


def swing(path):
    with open(path, "w") as out:
        out.write(f"# scipy {version('scipy')}, solve_ivp (DOP853), rtol 1e-10\n")
        out.write("torque_nm,inertia_kg_m2,frequency_hz\n")
        for torque, inertia in [(2.1213, 1.52e-4), (0.3182, 2.0e-5), (1.3435, 9.0e-5), (6.01, 6.0e-4)]:
            start = 0.01 * 2 * np.pi / 200
            zero = lambda t, y: y[0]
            zero.direction = -1
            run = solve_ivp(lambda t, y: [y[1], -torque / inertia * np.sin(50 * y[0])], (0, 0.2),
                            [start, 0.0], events=zero, method="DOP853", rtol=1e-10, atol=1e-14)
            crossings = run.t_events[0]
            period = (crossings[-1] - crossings[0]) / (len(crossings) - 1)
            out.write(f"{torque},{inertia},{1 / period:.4f}\n")


here = os.path.dirname(os.path.abspath(__file__))
traverse(os.path.join(here, "traverse.csv"))
swing(os.path.join(here, "swing.csv"))
