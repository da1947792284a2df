"""The virtual spring written a second time: the figures of [reference] in tests/published/control.toml.

Written from the formulas in the documentation, not from the Rust code: Radau with bounded steps instead of Dormand-Prince, numpy's
eigenvalues instead of squaring, the delay's hold by a state-space of its own. A sampled run beside the continuous one shows what
treating delay as a lag costs.
"""

import tomllib
from math import exp, floor, sqrt
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import expm
from scipy.optimize import brentq

JM, JC, JL, KG = 0.0155, 0.0001, 0.30, 1400.0
CG = 2 * 0.05 * sqrt(KG * JM)
PLAY, KT, SAT, LIMIT, LAG, FILTER = 0.008, 0.83, 0.15, 36.0, 75e-6, 0.0008
ZETA, PERIOD, DELAY = 0.7, 1e-3, 1.4e-3
K = 60.0
B = 2 * ZETA * sqrt(K * (JM + JC + JL))


def drive(wanted):
    share = max(-1.0, min(1.0, wanted / (KT * LIMIT)))
    return KT * LIMIT * share * (1 - SAT * share**2)


def gears(y):
    twist = y[0] - y[2]
    give = abs(twist) - PLAY / 2
    if give <= 0:
        return 0.0
    side = 1 if twist > 0 else -1
    return side * max(0.0, KG * give + CG * (y[1] - y[3]) * side)


def plant(y, torque, pull, load):
    push = gears(y)
    return [y[1], (torque - push) / JM, y[3], (push + pull) / load]


def continuous(place, pull, start, until, load=JC + JL):
    def rates(_, y):
        wanted = K * (place - y[0]) - B * y[4]
        return plant(y, y[5], pull, load) + [(y[1] - y[4]) / FILTER, (drive(wanted) - y[5]) / LAG]

    run = solve_ivp(rates, (0, until), start, method="Radau", rtol=1e-8, atol=1e-10, max_step=2e-4)
    assert run.success, run.message
    return run.y, np.array([gears(y) for y in run.y.T])


def sampled(place, until, period, delay):
    """Torque held from one reading to the next, late by whole periods."""
    y, filtered, last = [0.0] * 4, 0.0, 0.0
    queue = [0.0] * round(delay / period)
    farthest, keep = 0.0, exp(-period / FILTER)
    for _ in range(round(until / period)):
        filtered = keep * filtered + (1 - keep) * (y[0] - last) / period
        last = y[0]
        queue.append(drive(K * (place - y[0]) - B * filtered))
        torque = queue.pop(0)
        run = solve_ivp(lambda _, s: plant(s, torque, 0.0, JC + JL), (0, period), y, rtol=1e-8, atol=1e-10)
        y = list(run.y[:, -1])
        farthest = max(farthest, y[2])
    return farthest / place - 1


def radius(k, load, period=PERIOD, delay=DELAY):
    b = 2 * ZETA * sqrt(k * (JM + JC + JL))
    n = 2 if load is None else 4
    a, force = np.zeros((n, n)), np.zeros(n)
    force[1] = 1 / JM
    a[0, 1] = 1
    a[1, :2] = [-KG / JM, -CG / JM]
    if load is not None:
        a[1, 2:] = [KG / JM, CG / JM]
        a[2, 3] = 1
        a[3] = np.array([KG, CG, -KG, -CG]) / load
    whole = floor(delay / period)
    rest = delay - whole * period

    def hold(time):
        block = np.zeros((n + 1, n + 1))
        block[:n, :n], block[:n, n] = a, force
        block = expm(block * time)
        return block[:n, :n], block[:n, n]

    f1, g1 = hold(rest)
    f2, g2 = hold(period - rest)
    # States: plant, last reading, filtered speed, torques of the last whole + 1 periods.
    size = n + 2 + whole + 1
    keep = exp(-period / FILTER)
    ask = np.zeros(size)
    slope = np.zeros(size)
    slope[0], slope[n] = (1 - keep) / period, -(1 - keep) / period
    speed = slope.copy()
    speed[n + 1] = keep
    ask[0] = -k
    ask -= b * speed
    step = np.zeros((size, size))
    step[:n, :n] = f2 @ f1
    step[:n, n + 2 + whole] += f2 @ g1
    if whole:
        step[:n, n + 1 + whole] += g2
    else:
        step[:n] += np.outer(g2, ask)
    step[n, 0] = 1
    step[n + 1] = speed
    step[n + 2] = ask
    for place in range(whole):
        step[n + 3 + place, n + 2 + place] = 1
    return max(abs(np.linalg.eigvals(step)))


stepped, _ = continuous(0.1, 0.0, [0.0] * 6, 1.0)
let_go, let_go_gears = continuous(0.0, 8.0, [0, 0, PLAY / 2, 0, 0, 0], 0.6)
fallen, fallen_gears = continuous(0.0, 8.0, [0, 0, 0, 2.0, 0, 0], 0.4)
loads = [JC, JC + JL, None]
worst = lambda k: max(radius(k, load) for load in loads) - 1
figures = {
    "step_overshoot": stepped[2].max() / 0.1 - 1,
    "release_peak_torque": let_go_gears.max() if let_go_gears.max() > -let_go_gears.min() else -let_go_gears.min(),
    "release_deflection": let_go[2].max() - PLAY / 2,
    "drop_peak_torque": np.abs(fallen_gears).max(),
    "drop_deflection": fallen[2].max(),
    "radius": [radius(20.0, load) for load in loads],
    "stiffest": brentq(worst, 1.0, 20000.0, rtol=1e-10) if worst(1.0) < 0 < worst(20000.0) else None,
}
listed = tomllib.loads((Path(__file__).parents[1] / "published/control.toml").read_text())["reference"]
for name, values in figures.items():
    pairs = zip(values, listed[name]) if isinstance(values, list) else [(values, listed[name])]
    for found, expected in pairs:
        print(f"{name}: {found:.7f}, listed {expected}")
        assert abs(found / expected - 1) < 1e-4, name
late = sampled(0.1, 0.5, 0.25e-3, 0.25e-3)
print(f"step sampled at 4 kHz, a period late: overshoot {late:.5f}; continuous with a lag of 0.075 ms: {figures['step_overshoot']:.5f}")
assert abs(late - figures["step_overshoot"]) < 5e-3
