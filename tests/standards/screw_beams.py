"""Writes screw_beams.csv: first bending mode and least buckling load of round steel bars by
finite elements (Hermite beam elements, consistent mass and geometric stiffness)."""
from math import pi, sqrt

import numpy as np
import scipy
from scipy.linalg import eigh

E, RHO, ELEMENTS = 210e9, 7850.0, 60
# Degrees of freedom (deflection, turn) held at the left end and at the right one.
ENDS = {
    "fixed-free": ((0, 1), ()),
    "fixed-supported": ((0, 1), (0,)),
    "fixed-fixed": ((0, 1), (0, 1)),
}


def beam(diameter, length, held):
    """Critical speed in rpm and buckling load in N; sizes in m."""
    inertia, area, h = pi * diameter**4 / 64, pi * diameter**2 / 4, length / ELEMENTS
    bending = E * inertia / h**3 * np.array(
        [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
         [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
    mass = RHO * area * h / 420 * np.array(
        [[156, 22 * h, 54, -13 * h], [22 * h, 4 * h * h, 13 * h, -3 * h * h],
         [54, 13 * h, 156, -22 * h], [-13 * h, -3 * h * h, -22 * h, 4 * h * h]])
    axial = 1 / (30 * h) * np.array(
        [[36, 3 * h, -36, 3 * h], [3 * h, 4 * h * h, -3 * h, -h * h],
         [-36, -3 * h, 36, -3 * h], [3 * h, -h * h, -3 * h, 4 * h * h]])
    size = 2 * (ELEMENTS + 1)
    k, m, g = (np.zeros((size, size)) for _ in range(3))
    for i in range(ELEMENTS):
        at = slice(2 * i, 2 * i + 4)
        k[at, at] += bending
        m[at, at] += mass
        g[at, at] += axial
    fixed = {d for d in held[0]} | {2 * ELEMENTS + d for d in held[1]}
    free = np.ix_(*[[d for d in range(size) if d not in fixed]] * 2)
    omega = sqrt(eigh(k[free], m[free], eigvals_only=True, subset_by_index=[0, 0])[0])
    # Least load: the greatest eigenvalue of G x = (1/P) K x, K being positive definite.
    last = len(free[0]) - 1
    inverse = eigh(g[free], k[free], eigvals_only=True, subset_by_index=[last, last])[0]
    return omega * 60 / (2 * pi), 1 / inverse


print(f"# Finite elements: {ELEMENTS} Hermite beam elements, scipy {scipy.__version__}, numpy {np.__version__}")
print("# E 210 GPa (EN 1993-1-1), 7850 kg/m3; six significant digits.")
print("ends,root_mm,length_mm,rpm,buckling_n")
for ends, held in ENDS.items():
    for diameter, length in ((9.5, 300), (12.9, 700), (12.9, 1000), (16.9, 1400), (21.4, 2200)):
        rpm, load = beam(diameter / 1e3, length / 1e3, held)
        print(f"{ends},{diameter},{length},{rpm:.6g},{load:.6g}")
