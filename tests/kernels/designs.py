"""Random design files: invented motors, gearsets and bearings, spread over what the program is meant for."""

import math
import random

# Bore, outside: only what a generator needs to pick a bearing that has a chance to fit.
OUTPUT_BEARINGS = {
    "6800": 19, "6801": 21, "6802": 24, "6803": 26, "6804": 32, "6805": 37, "6806": 42, "6807": 47, "6808": 52,
    "6809": 58, "6810": 65, "6811": 72, "6812": 78, "6813": 85, "6904": 37, "6905": 42, "6906": 47, "6907": 55,
    "6908": 62, "6003": 35, "6004": 42, "6005": 47,
}


def random_design(rng: random.Random, name: str) -> str:
    module = rng.choice([0.8, 0.8, 0.9, 1.0, 1.0, 1.25])
    helix = rng.choice([0, 10, 15, 20, 20, 25])
    planets = rng.choice([3, 3, 3, 4, 4, 5])
    while True:
        sun = rng.randint(12, 24)
        planet = rng.randint(16, 45)
        ring = sun + 2 * planet
        if ((sun + ring) % planets == 0 or rng.random() < 0.2) and 3 <= 1 + ring / sun <= 10:
            break
    root = module * ring / math.cos(math.radians(helix)) + 2.5 * module
    rotor = max(40.0, min(130.0, root * rng.uniform(0.85, 1.25)))
    ring_made = rng.choice(["cut", "cut", "insert"])
    tip = root - 4.5 * module
    fitting = [key for key, outer in OUTPUT_BEARINGS.items() if tip - 34 < outer < tip - 12]
    bearing = rng.choice(fitting or ["6803"])
    count = rng.choice([1, 1, 2])
    rotor_circle = round(module * sun / math.cos(math.radians(helix)) + 2 * module + 4.8 + 6.72 + rng.uniform(0.6, 3), 1)
    stator_circle = round(rng.uniform(24, 30), 1)
    sun_made = rng.choice(["print", "buy", "buy"])
    teeth = "helical" if helix else "straight"
    if helix and ring_made == "insert" and sun_made == "buy" and rng.random() < 0.5:
        teeth = "herringbone"
    extras = ""
    if rng.random() < 0.3:
        extras += 'tip_relief = "0.03 mm"\n'
    if rng.random() < 0.3:
        extras += 'shift_rule = "balanced-sliding"\n'
    if rng.random() < 0.2:
        extras += 'planet = { bush = { bore = "5 mm", outer = "8 mm" } }\n'
    if (sun + ring) % planets:
        extras += 'spacing = "nearest"\n'
    return f"""# invented, for the tests
name = "{name}"

[requirement]
peak_torque = "{rng.uniform(1.5, 6):.2f} N m"

[motor]
kv = "{rng.randint(60, 300)} rpm/V"
kv_is = "line-peak"
phase_resistance = "{rng.uniform(0.05, 0.4):.3f} ohm"
pole_pairs = {rng.choice([7, 14, 20, 21])}
mass = "{rng.randint(90, 500)} g"
outer_diameter = "{rotor:.1f} mm"
height = "{rng.uniform(18, 32):.1f} mm"
shaft_diameter = "{rng.choice([4, 5, 6, 8])} mm"
shaft_extension = "{rng.uniform(4.5, 8):.1f} mm"
magnet = {{ diameter = "6 mm", thickness = "2.5 mm" }}
stator_bolts = {{ count = 4, thread = "M3", circle = "{stator_circle} mm" }}
rotor_bolts = {{ count = {rng.choice([3, 4, 6])}, thread = "M3", circle = "{rotor_circle} mm" }}
current_limit = "{rng.randint(12, 45)} A"

[gearset]
sun_teeth = {sun}
planet_teeth = {planet}
ring_teeth = {ring}
planets = {planets}
normal_module = "{module} mm"
{f'helix_angle = "{helix} deg"' if helix else ""}
face_width = "{rng.choice([12, 14, 14, 16, 18])} mm"
teeth = "{teeth}"
sun = {{ made = "{sun_made}" }}
ring = {{ made = "{ring_made}" }}
{extras}
[bearings]
output = {{ designation = "{bearing}", count = {count}{', spacing = "6 mm"' if count == 2 else ''} }}
"""
