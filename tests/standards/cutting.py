# Writes cutting.csv: chip, work and greatest force of milling cutters by numerical
# integration and by turning the cutter step by step, from the definitions alone (chip
# f sin(phi), Kienzle's force on each tooth, forces as vectors). Needs numpy and scipy (PyPI).
from importlib.metadata import version

import numpy as np
from scipy.integrate import quad

print(f"# numpy {version('numpy')}, scipy {version('scipy')}")
print("width,flutes,exponent,mean_chip,work_per_volume,teeth,peak")
for width in (1.0, 0.5, 0.25, 0.1):
    arc = float(np.arccos(1 - 2 * width))
    mean = quad(np.sin, 0, arc)[0] / arc
    for flutes in (1, 2, 3, 4, 5, 6, 8):
        for m in (0.21, 0.25, 0.5):
            # Work on a tooth over its path, by the volume that it takes, at f = 1, D = 2.
            work = quad(lambda a: max(np.sin(a), 0.0) ** (1 - m), 0, arc)[0]
            per_volume = work / (2 * width)
            turn = np.linspace(0, 2 * np.pi, 72001)
            pull = np.zeros((2, turn.size))
            inside = np.zeros(turn.size)
            for tooth in range(flutes):
                a = (turn + 2 * np.pi * tooth / flutes) % (2 * np.pi)
                cuts = a <= arc
                inside += cuts
                f = np.where(cuts, np.maximum(np.sin(a), 0.0) ** (1 - m), 0.0)
                # Along the path and, 0.4 times as much, towards the axis.
                pull += f * np.array([np.cos(a) - 0.4 * np.sin(a), np.sin(a) + 0.4 * np.cos(a)])
            peak = np.hypot(*pull).max() / np.hypot(1, 0.4)
            print(f"{width},{flutes},{m},{mean:.6f},{per_volume:.6f},{inside[:-1].mean():.4f},{peak:.5f}")
