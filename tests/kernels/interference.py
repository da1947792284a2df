"""Which bodies meet, judged by a mesh kernel at several turns of the stage, against the program's verdicts.

    python interference.py BODIES [--random N] [--moved N] DESIGN...

BODIES is the example `bodies`. Of each design also variants with one kind of body moved along the axis by a millimetre or so: verdicts
must agree on what that breaks. Triangles miss curved faces by a hundredth of a millimetre, so volumes under that much times the
smaller surface are contact, not overlap.
"""

import argparse
import json
import math
import pathlib
import random
import subprocess
import sys
import tempfile

import manifold3d
import numpy

from designs import random_design

TURNS = [0.0, 0.21, 0.77, 1.9]  # of the carrier, rad
ENGAGED = {"thread", "insert in its hole", "pressed", "inside the motor", "gear mesh"}
VOLUME = 0.05  # share by which volumes of overlaps may differ


class Solid:
    def __init__(self, body, place, pin):
        self.name, self.motion, self.place, self.pin = body["name"], body["motion"], place, pin
        self.on_pin = body["on_pin"]
        self.solid = body["solid"]

    def at(self, turn, teeth):
        sun, planet, ring = teeth
        place = self.place
        spin, carried = place["turn"], place["angle"]
        if self.motion == "planet":
            spin, carried = spin + turn * (1 - ring / planet), carried + turn
        elif self.motion == "carrier":
            spin, carried = spin + turn, carried + turn
        elif self.motion == "rotor":
            spin, carried = spin + turn * (1 + ring / sun), carried + turn * (1 + ring / sun)
        along = [place["distance"] * math.cos(carried), place["distance"] * math.sin(carried), 0]
        return self.solid.rotate([0, 0, math.degrees(spin)]).translate(along)


def apart(a, b):
    """Boxes (min x, y, z, max x, y, z) that don't overlap."""
    return any(a[i] >= b[i + 3] or b[i] >= a[i + 3] for i in range(3))


def still(a, b):
    if a.motion != b.motion:
        return False
    return a.motion != "planet" or a.pin == b.pin


def judge(data):
    """Pairs of names: shared volume of still pairs, of turning ones the most at any turn, and the bound under which it is contact."""
    solids, areas = [], {}
    for body in data["bodies"]:
        mesh = manifold3d.Mesh(
            numpy.array(body["vertices"], numpy.float32), numpy.array(body["triangles"], numpy.uint32)
        )
        body["solid"] = manifold3d.Manifold(mesh)
        if body["solid"].status() != manifold3d.Error.NoError or body["solid"].is_empty():
            raise ValueError(f"{body['name']}: {body['solid'].status()}")
        areas[body["name"]] = body["solid"].surface_area()
        for index, place in enumerate(body["places"]):
            solids.append(Solid(body, place, index if body["on_pin"] else None))
    found = {}
    for turn in TURNS:
        placed = [(solid, solid.at(turn, data["teeth"])) for solid in solids]
        boxes = [shape.bounding_box() for _, shape in placed]
        for i, (a, shape) in enumerate(placed):
            for j in range(i):
                b, other = placed[j]
                same = still(a, b)
                if (same and turn > 0) or apart(boxes[i], boxes[j]):
                    continue
                volume = (shape ^ other).volume()
                key = tuple(sorted([a.name, b.name]))
                bound = 2 * data["tolerance"] * min(areas[a.name], areas[b.name])
                known = found.get(key, (0, bound, same))
                # Of copies the pair that shares most; still pairs as such.
                found[key] = (max(volume, known[0]), bound, same)
    return found


def compare(data):
    """Disagreements, and how many overlaps both saw."""
    found = judge(data)
    verdicts = {tuple(sorted(meeting["bodies"])): meeting for meeting in data["meetings"]}
    faults, agreed, unseen = [], 0, 0
    for key, (volume, bound, same) in found.items():
        verdict = verdicts.get(key, {"verdict": "far", "volume": None})
        if volume > bound and verdict["verdict"] not in ENGAGED | {"overlaps"}:
            faults.append(f"{key}: {volume:.2f} mm3 shared (bound {bound:.2f}), the program says {verdict['verdict']}")
        if same and verdict["volume"] is not None and abs(volume - verdict["volume"]) > bound + VOLUME * volume:
            faults.append(f"{key}: {volume:.2f} mm3 shared, the program says {verdict['volume']:.2f}")
    for key, meeting in verdicts.items():
        if meeting["verdict"] != "overlaps":
            continue
        volume, bound, _ = found.get(key, (0, 0, False))
        if volume > bound:
            agreed += 1
        elif meeting["turning"]:
            unseen += 1  # a few turns needn't show what a full one does
        elif meeting["volume"] > 2 * bound:
            faults.append(f"{key}: the program says {meeting['volume']:.2f} mm3 overlap, the kernel finds {volume:.2f}")
    return faults, agreed, unseen, len(found)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("bodies")
    parser.add_argument("designs", nargs="*")
    parser.add_argument("--random", type=int, default=0)
    parser.add_argument("--moved", type=int, default=2)
    options = parser.parse_args()
    rng = random.Random(5)
    failed = clean = pairs = agreed = unseen = variants = wrong = skipped = 0
    with tempfile.TemporaryDirectory() as folder:
        paths = [pathlib.Path(path) for path in options.designs]
        made = 0

        def run(*arguments):
            answer = subprocess.run([options.bodies, *map(str, arguments)], capture_output=True, text=True)
            return json.loads(answer.stdout) if answer.returncode == 0 else None

        todo = iter(range(10000))
        while paths or made < options.random:
            if paths:
                path = paths.pop(0)
            else:
                name = f"random-{next(todo)}"
                path = pathlib.Path(folder) / f"{name}.toml"
                path.write_text(random_design(rng, name))
            data = run(path)
            if data is None:
                skipped += 1  # can't be laid out
                continue
            made += not str(path).startswith("designs")
            names = [body["name"] for body in data["bodies"]]
            mistakes = [m for m in data["meetings"] if m["verdict"] in ("overlaps", "touches")]
            for mistake in mistakes:
                wrong += 1
                print(f"{path.name}: {mistake['bodies']} {mistake['verdict']}, {mistake['depth']:.3f} deep")
            cases = [("as designed", data)]
            for _ in range(options.moved):
                name, by = rng.choice(names), rng.choice([-1, 1]) * rng.uniform(0.6, 1.6)
                cases.append((f"{name} moved by {by:.2f}", run(path, name, by)))
            for what, case in cases:
                faults, both, blind, looked = compare(case)
                pairs, agreed, unseen, variants = pairs + looked, agreed + both, unseen + blind, variants + 1
                clean += not faults
                for fault in faults:
                    failed += 1
                    print(f"{path.name}, {what}: {fault}")
    print(
        f"{made} random designs ({skipped} can't be built), {variants} cases, {pairs} pairs of kinds met by the kernel, {clean} cases agree, "
        f"{agreed} overlaps seen by both, {unseen} of turning bodies not at these turns, {wrong} mistakes in designs as they are, "
        f"{failed} disagreements"
    )
    sys.exit(failed > 0)


main()
