"""The heat network written a second time, solved by scipy: the figures of [network] in tests/published/motor-and-heat.toml.

Written from the formulas in the documentation, not from the Rust code; Radau instead of Dormand-Prince, fsolve instead of
elimination, brentq for the continuous current.
"""

import tomllib
from math import cbrt, exp, log, pi, sqrt, tanh
from pathlib import Path

from scipy.integrate import solve_ivp
from scipy.optimize import brentq, fsolve

SIGMA, G, ZERO = 5.670374e-8, 9.80665, 273.15
AMBIENT, AIRFLOW = 30.0, 0.0
RWM = 0.9
CAPACITY = [35.0, 105.0, 66.0, 30.0, 87.0]
GAP_AREA, GAP, OPEN_AREA, STATOR_HEIGHT = 2600e-6, 0.8e-3, 2800e-6, 0.077
BELL, SIDE, FACE, BELL_GAP = 0.086, 7300e-6, 5800e-6, 1.0e-3
WINDOWS, WIDTH, PASSAGE, RISE = 2000e-6, 0.013, 270e-6, 0.0215
K_PLATE, PLATE, R1, R2, RIM_GAP = 0.17, 5e-3, 0.0205, 0.0439, 0.1e-3
K_WALL, WALL, INSIDE, BAY, OUTSIDE, D = 0.17, 2.4e-3, 9000e-6, 0.022, 19000e-6, 0.093
R20, LIMIT_WINDING, LIMIT_PLASTIC = 0.085, 120.0, 80.0


def air(celsius):
    t = celsius + ZERO
    rho = 101325 / (287.05 * t)
    k = 2.64638e-3 * t**1.5 / (t + 245.4 * 10 ** (-12 / t))
    nu = 1.458e-6 * t**1.5 / (t + 110.4) / rho
    return k, nu, k / (rho * 1007), 1 / t, rho


def film(kind, length, surface, other, speed=0.0):
    k, nu, alpha, beta, _ = air((surface + other) / 2)
    pr = nu / alpha
    ra = G * beta * abs(surface - other) * length**3 / (nu * alpha)
    if kind == "plate":
        n = (0.825 + 0.387 * ra ** (1 / 6) / (1 + (0.492 / pr) ** (9 / 16)) ** (8 / 27)) ** 2
        f = 0.664 * sqrt(speed * length / nu) * cbrt(pr)
    else:
        n = (0.6 + 0.387 * (ra / (1 + (0.559 / pr) ** (9 / 16)) ** (16 / 9)) ** (1 / 6)) ** 2
        re = speed * length / nu
        f = 0.3 + 0.62 * sqrt(re) * cbrt(pr) / (1 + (0.4 / pr) ** (2 / 3)) ** 0.25 * (1 + (re / 282000) ** 0.625) ** 0.8
    nusselt = cbrt(n**3 + f**3) if speed > 0 else n
    return nusselt * k / length


def radiated(e, a, b):
    return SIGMA * e * ((a + ZERO) ** 4 - (b + ZERO) ** 4)


def between(a, b):
    return 1 / (1 / a + 1 / b - 1)


def series(a, b):
    return 1 / (1 / a + 1 / b) if a > 0 and b > 0 else 0.0


def per_kelvin(e, a, b):
    return radiated(e, a, b) / (a - b) if abs(a - b) > 1e-9 else 4 * SIGMA * e * (a + ZERO) ** 3


def net(t, copper, iron):
    w, m, r, a, p = t
    metal_plastic, metal_metal = between(0.55, 0.92), between(0.55, 0.55)
    q_wm = (w - m) / RWM
    q_mr = (m - r) * air((m + r) / 2)[0] * GAP_AREA / GAP + radiated(metal_metal, m, r) * GAP_AREA
    covered = SIDE - WINDOWS
    skin = air((r + p) / 2)[0] * covered / BELL_GAP + per_kelvin(metal_plastic, r, p) * covered
    q_rp = (r - p) * series(skin, K_WALL * covered / WALL)
    q_ro = WINDOWS * (film("plate", WIDTH, r, AMBIENT, AIRFLOW) * (r - AMBIENT) + radiated(0.55, r, AMBIENT))
    q_ra = FACE * (film("plate", BELL, r, a) * (r - a) + radiated(metal_plastic, r, a))
    h = film("plate", STATOR_HEIGHT, m, a) + per_kelvin(metal_plastic, m, a)
    x = sqrt(h / (K_PLATE * PLATE)) * (R2 - R1)
    back = pi * R1**2 + tanh(x) / x * pi * (R2**2 - R1**2)
    q_ma = (m - a) * (h * OPEN_AREA + series(K_PLATE * back / PLATE, h * back))
    q_mp = (m - p) * series(2 * pi * K_PLATE * PLATE / log(R2 / R1), air((m + p) / 2)[0] * 2 * pi * R2 * PLATE / RIM_GAP)
    q_ap = (a - p) * series(film("plate", BAY, p, a) * INSIDE, K_WALL * INSIDE / WALL)
    lift = max(a - AMBIENT, 0.0)
    flow = min(0.40 + 0.0045 * lift, 1.0) * PASSAGE * sqrt(2 * G * RISE * lift / (a + ZERO))
    q_ao = air(AMBIENT)[4] * 1007 * flow * (a - AMBIENT)
    q_po = OUTSIDE * (film("cylinder", D, p, AMBIENT, AIRFLOW) * (p - AMBIENT) + radiated(0.92, p, AMBIENT))
    return [
        copper * (1 + 0.00393 * (w - 20)) - q_wm,
        iron + q_wm - q_mr - q_ma - q_mp,
        q_mr - q_rp - q_ro - q_ra,
        q_ma + q_ra - q_ap - q_ao,
        q_rp + q_mp + q_ap - q_po,
    ]


def steady(copper, iron=0.0):
    found, _, ok, why = fsolve(net, [AMBIENT + d for d in (40, 38, 20, 18, 10)], (copper, iron), xtol=1e-12, full_output=True)
    assert ok == 1, why
    return found


def run(copper, until, iron=0.0, events=None):
    rates = lambda _, t: [q / c for q, c in zip(net(t, copper, iron), CAPACITY)]
    return solve_ivp(rates, (0, until), [AMBIENT] * 5, method="Radau", rtol=1e-9, atol=1e-9, events=events)


def room(_, t):
    return min(LIMIT_WINDING - t[0], LIMIT_PLASTIC - t[1])


room.terminal = True
over = lambda i: -room(0, steady(1.5 * i * i * R20))
figures = {
    "steady": list(steady(3.0, 0.5)),
    "after_600": list(run(10.0, 600.0, 0.5).y[:, -1]),
    "time_to_limit": run(80.0, 1e4, events=room).t_events[0][0],
    "time_to_plastic": run(12.0, 1e5, events=room).t_events[0][0],
    "continuous_current": brentq(over, 1.0, 8.0, xtol=1e-10),
}
listed = tomllib.loads((Path(__file__).parents[1] / "published/motor-and-heat.toml").read_text())["network"]
for name, values in figures.items():
    pairs = zip(values, listed[name]) if isinstance(values, list) else [(values, listed[name])]
    for found, expected in pairs:
        print(f"{name}: {found:.6f}, listed {expected}")
        assert abs(found / expected - 1) < 1e-5, name
