# Writes swing.csv: period of a rotor that swings in the field of its standing motor, J x'' =
# -T sin(50 x), let go at a hundredth of a full step and integrated. Needs numpy and scipy (PyPI).
from importlib.metadata import version

import numpy as np
from scipy.integrate import solve_ivp


def outward(_, state):
    return state[0]


outward.direction = -1
print(f"# scipy {version('scipy')}, solve_ivp (DOP853), rtol 1e-10")
print("torque_nm,inertia_kg_m2,frequency_hz")
for torque, inertia in [(2.1213, 1.52e-4), (0.3182, 2.0e-5), (1.3435, 9.0e-5), (6.01, 6.0e-4)]:
    start = 0.01 * 2 * np.pi / 200
    run = solve_ivp(
        lambda _, y: [y[1], -torque / inertia * np.sin(50 * y[0])], (0, 0.2), [start, 0.0],
        events=outward, method="DOP853", rtol=1e-10, atol=1e-14,
    )
    crossings = run.t_events[0]
    period = (crossings[-1] - crossings[0]) / (len(crossings) - 1)
    print(f"{torque},{inertia},{1 / period:.4f}")
