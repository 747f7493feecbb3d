# Writes stepper_corner.csv: the greatest torque of a hybrid stepper on a sine drive where both
# the current and the voltage are bounded, found by a general optimiser (handbook of stepping
# motors, voltage-fed synchronous operation; amplitudes, 50 rotor teeth):
# max Kt Iq, Id^2 + Iq^2 <= I^2, (R Id - X Iq)^2 + (R Iq + X Id + Kt w)^2 <= V^2.
# Nothing of it knows a plateau or a corner. Needs numpy and scipy (PyPI).
from importlib.metadata import version

import numpy as np
from scipy.optimize import minimize

MOTORS = [(0.45, 1.7, 1.5, 2.8, 24.0), (3.0, 4.2, 0.9, 3.8, 48.0), (9.0, 6.0, 0.45, 4.6, 60.0)]


def greatest(holding, amperes, ohms, henries, volts, rpm):
    kt = holding / (np.sqrt(2) * amperes)
    omega = rpm * 2 * np.pi / 60
    x = 50 * omega * henries
    emf = kt * omega
    # In shares of the greatest current and voltage.
    current = {"type": "ineq", "fun": lambda i: 1 - i[0] ** 2 - i[1] ** 2}
    voltage = {
        "type": "ineq",
        "fun": lambda i: 1 - (((ohms * i[0] - x * i[1]) * amperes) ** 2
                              + ((ohms * i[1] + x * i[0]) * amperes + emf) ** 2) / volts**2,
    }
    best = 0.0
    for start in ([0.0, 0.5], [-0.5, 0.5], [-0.9, 0.1], [-0.3, 0.0]):
        found = minimize(lambda i: -i[1], start, method="SLSQP", constraints=[current, voltage],
                         options={"maxiter": 500, "ftol": 1e-12})
        held = min(current["fun"](found.x), voltage["fun"](found.x)) > -1e-6
        if found.success and held:
            best = max(best, found.x[1])
    return kt * amperes * best


print(f"# numpy {version('numpy')}, scipy {version('scipy')}, SLSQP; four significant digits.")
print("motor,holding_nm,amperes,ohm,mh,volts,rpm,torque_nm")
for holding, amperes, ohms, millihenries, volts in MOTORS:
    for rpm in (60, 300, 600, 750, 900, 1200, 1800, 2400):
        torque = greatest(holding, amperes, ohms, millihenries / 1e3, volts, rpm)
        print(f"{holding} N m at {rpm},{holding},{amperes},{ohms},{millihenries},{volts},{rpm},{torque:.4g}")
