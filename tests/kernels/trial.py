"""Identification a second time: the same log by scipy's least squares, against what the program says: values, standard errors, intervals.

Models from the documentation, not from the Rust code; torque, resistance, speeds by `curve_fit`, temperatures by `least_squares` on the network
of heat.py solved by Radau. Student's t by scipy.

    python trial.py IDENTIFY        (the example `identify`)
"""

import json
import subprocess
import sys
import tempfile
from math import exp, log, sqrt
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import curve_fit, fsolve, least_squares
from scipy.stats import t as student

import heat

# Two solvers of one problem: values to a millionth of their standard error would be luck; a thousandth of it says nothing else was solved.
LINEAR = 1e-3
# Temperatures by two integrators, derivatives by two steps.
HEAT = 2e-2

# A seed without outliers: chance calls a sound reading one in one test of twenty, and then both would fit others.
rng = np.random.default_rng(9)
program = sys.argv[1]
columns = "test,time [s],current [A],voltage [V],torque [N m],speed [rad/s],rotor_speed [rad/s],angle [rad],winding [degC],mount [degC],ambient [degC]"
names = [column.split(" ")[0] for column in columns.split(",")]
rows = []


def note(test, **values):
    # As many digits as both sides read: the log is the only thing they share.
    values = {name: float(f"{value:.9g}") for name, value in values.items()}
    rows.append(dict(values, test=test))
    return values


def column(test, name):
    return np.array([row[name] for row in rows if row["test"] == test])


# Readings.
limit, kt = 36.0, 0.096
for k in range(1, 16):
    note("spin", rotor_speed=12.0 * k, voltage=sqrt(3) / 1.5 * kt * 12 * k + rng.normal(0, 0.05))
    note("resistance", current=0.8 * k, voltage=0.01 + 2 * 0.091 * (1 + 0.00393 * k) * 0.8 * k + rng.normal(0, 0.01), winding=20.0 + k)
    note("no-load", rotor_speed=70.0 + 10 * k, current=0.8 + 0.002 * (70 + 10 * k) + rng.normal(0, 0.02))
    note("backlash", angle=0.0085 + rng.normal(0, 0.0005))
    for way in (1, -1):
        note("stiffness", torque=way * 0.8 * k, angle=way * 0.8 * k / 180 + way * 0.0045 + 0.002 + rng.normal(0, 4e-4))
steps = [(2.0 * k, 1) for k in range(1, 19)] + [(2.0 * k, -1) for k in range(17, 0, -1)]
for current, way in steps:
    torque = 0.04 + 0.63 * current * (1 - 0.19 * (current / limit) ** 2) - 0.22 * way + rng.normal(0, 0.08)
    note("torque", current=current, torque=torque)


# The network with four other constants; beyond the mount all conductances go with one factor.
def beyond(temperatures):
    w, m = temperatures[0], temperatures[1]
    flow = (w - m) / heat.RWM
    return np.array(heat.net(temperatures, 0.0, 0.0)) + np.array([flow, -flow, 0, 0, 0])


def estimated(rise=40.0):
    """Mount to air of the network as it is: K/W with the mount so far over the air."""
    def off(unknown):
        power, r, a, p = unknown
        mount = heat.AMBIENT + rise
        return (beyond([mount, mount, r, a, p]) + np.array([0, power, 0, 0, 0]))[1:]
    power = fsolve(off, [10.0, 60.0, 50.0, 45.0], xtol=1e-12)[0]
    return rise / power


MOUNT_TO_AIR = estimated()
TIMES = np.arange(0.0, 3000.1, 20.0)
OFF, CURRENT = 2000.0, 8.0
# Of the readings; the fit takes what the resistance test of the same log gives.
R20 = 0.091


def temperatures(p, r20=R20):
    rwm, rma, cw, cm = p
    factor = MOUNT_TO_AIR / rma
    capacity = np.array([cw, cm, *heat.CAPACITY[2:]])

    def rates(copper):
        def at(_, t):
            flow = (t[0] - t[1]) / rwm
            own = np.array([copper * (1 + 0.00393 * (t[0] - 20)) - flow, flow, 0, 0, 0])
            return (own + factor * beyond(t)) / capacity
        return at

    on, off = TIMES[TIMES <= OFF], TIMES[TIMES >= OFF]
    options = dict(method="Radau", rtol=1e-9, atol=1e-9)
    warm = solve_ivp(rates(1.5 * CURRENT**2 * r20), (0, OFF), [heat.AMBIENT] * 5, t_eval=on, **options)
    cool = solve_ivp(rates(0.0), (OFF, TIMES[-1]), warm.y[:, -1], t_eval=off, **options)
    both = np.concatenate([warm.y[:2], cool.y[:2, 1:]], axis=1)
    return both.reshape(-1)


truth = [1.1, 0.9 * MOUNT_TO_AIR, 30.0, 120.0]
course = temperatures(truth) + rng.normal(0, 0.3, 2 * len(TIMES))
for time, winding, mount in zip(TIMES, course, course[len(TIMES):]):
    note("heat", time=time, current=CURRENT if time < OFF else 0.0, winding=winding, mount=mount, ambient=heat.AMBIENT)

with tempfile.TemporaryDirectory() as folder:
    path = Path(folder) / "log.csv"
    lines = [columns] + [",".join(str(row.get(name, "")) for name in names) for row in rows]
    path.write_text("\n".join(lines) + "\n")
    found = json.loads(subprocess.run([program, str(path)], check=True, capture_output=True, text=True).stdout)
assert found["joint"]["current_limit"] == limit, found["joint"]
results = {test["test"]: test for test in found["tests"]}
for test in results.values():
    # Normal scatter without slips: both sides fit the same readings.
    assert not test["outliers"] and not test["impossible"], test
identified = {one["name"]: one for test in found["tests"] for one in test["identified"]}
failed = 0


def compare(name, value, error, freedom, interval, tolerance):
    """Value and ends within a share of the standard error."""
    global failed
    one = identified[name]
    reach = tolerance * error
    ends = max(abs(a - b) for a, b in zip(one["interval_95"], interval))
    good = abs(one["value"] - value) <= reach and ends <= 2 * reach and abs(one["standard_error"] / error - 1) <= tolerance
    good = good and one["degrees_of_freedom"] == freedom
    failed += not good
    print(f"{'ok  ' if good else 'OFF '} {name}: {one['value']:.6g} +- {one['standard_error']:.3g}, scipy {value:.6g} +- {error:.3g}")


def fit(model, x, y, start, told):
    values, covariance = curve_fit(model, x, y, start, absolute_sigma=False, xtol=1e-14, ftol=1e-14)
    freedom = len(y) - len(values)
    reach = student.ppf(0.975, freedom)
    for index, name in told.items():
        value, error = values[index], sqrt(covariance[index, index])
        compare(name, value, error, freedom, [value - reach * error, value + reach * error], LINEAR)
    return values


fit(lambda w, k: sqrt(3) / 1.5 * k * w, column("spin", "rotor_speed"), column("spin", "voltage"), [0.1], {0: "torque constant, per peak phase ampere"})
warm = 1 + 0.00393 * (column("resistance", "winding") - 20)
resistance, _ = fit(lambda x, r, v: 2 * r * x + v, column("resistance", "current") * warm, column("resistance", "voltage"), [0.1, 0.0], {0: "phase resistance at 20 degC", 1: "offset of the meters"})
speed = column("no-load", "rotor_speed")
fit(lambda w, a, b: a + b * (w - speed.mean()), speed, column("no-load", "current"), [1.0, 0.0], {0: "no-load current at the mean speed"})
fit(lambda x, b: b + 0 * x, column("backlash", "angle"), column("backlash", "angle"), [0.01], {0: "backlash, mean over the places"})
torque = column("stiffness", "torque")
fit(lambda t, c, z, b: c * t + z + b / 2 * np.sign(t), torque, column("stiffness", "angle"), [0.005, 0.0, 0.01], {2: "backlash"})
ways = np.array([way for _, way in steps])
told = {0: "torque per ampere at the output", 1: "offset of scale and tare", 2: "saturation at the current limit", 3: "friction at rest, at the output"}
fit(lambda i, k, c, a, f: c + k * i * (1 - a * (i / limit) ** 2) - f * ways, column("torque", "current"), column("torque", "torque"), [0.6, 0.0, 0.1, 0.1], told)

measured = np.concatenate([column("heat", "winding"), column("heat", "mount")])
start = [log(value) for value in (0.9, MOUNT_TO_AIR, 35.0, 105.0)]
solved = least_squares(lambda p: temperatures(np.exp(p), resistance) - measured, start, jac="3-point", xtol=1e-10, ftol=1e-12)
freedom = len(measured) - 4
covariance = np.linalg.inv(solved.jac.T @ solved.jac) * 2 * solved.cost / freedom
reach = student.ppf(0.975, freedom)
told = ["resistance winding to mount", "resistance mount to air", "heat capacity of the winding", "heat capacity of the mount"]
for index, name in enumerate(told):
    value, error = exp(solved.x[index]), sqrt(covariance[index, index])
    compare(name, value, value * error, freedom, [value * exp(-reach * error), value * exp(reach * error)], HEAT)
print(f"{failed} quantities off")
sys.exit(1 if failed else 0)
