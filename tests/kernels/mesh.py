"""The gears' outlines turned in mesh, judged by shapely: gap, overlap and transmission error.

usage: mesh.py OUTLINES [--random N]

OUTLINES is the example program of that name: it prints outlines as lines and arcs, and how the gears stand at first. All
else is done here: arcs to points, motion, distances. The ring stands still; the carrier takes the planets round, so that
every mesh goes through two tooth pitches.
"""

import argparse
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import numpy
import shapely

from outlines import outline, read, turned

# mm, from the issue: the gap from the design backlash, and the transmission error along the line of action.
GAP = 1e-2
TRANSMISSION_ERROR = 2e-3
STEPS_A_PITCH = 40
PITCHES = 2
# Contacts lie within little more than a pitch of the pitch point; teeth on either side of it whose distance is taken.
TEETH_ASIDE = 2
# Points in a piece of an outline, as trees hold it.
PIECE = 8
# mm. The moved gear stops this far short of contact, for the rest to be measured.
SHORT = 5e-4


@dataclass
class Fixed:
    """Sun or ring: what planets are measured against, in its own frame."""

    internal: bool
    boundary: shapely.Polygon
    pieces: shapely.STRtree

    @classmethod
    def of(cls, gear: dict) -> "Fixed":
        ring = outline(gear).reshape(-1, 2)
        starts = numpy.arange(0, len(ring), PIECE)
        pieces = ring[(starts[:, None] + numpy.arange(PIECE + 1)) % len(ring)]
        boundary = shapely.polygons(ring)
        shapely.prepare(boundary)
        return cls(gear["internal"], boundary, shapely.STRtree(shapely.linestrings(pieces)))

    def overlaps(self, bodies: numpy.ndarray) -> numpy.ndarray:
        polygons = shapely.polygons(bodies)
        if self.internal:
            return ~shapely.contains_properly(self.boundary, polygons)
        return shapely.intersects(self.boundary, polygons)

    def distances(self, teeth: numpy.ndarray, most: float) -> numpy.ndarray:
        """Of the nearest of each step's teeth, infinite beyond `most`; `teeth` is steps, teeth, points, 2."""
        steps, _, points, _ = teeth.shape
        starts = numpy.arange(0, points - 1, PIECE)
        pieces = teeth[:, :, numpy.minimum(starts[:, None] + numpy.arange(PIECE + 1), points - 1)]
        lines = shapely.linestrings(pieces.reshape(-1, PIECE + 1, 2))
        (index, _), distance = self.pieces.query_nearest(
            lines, max_distance=most, return_distance=True, all_matches=False
        )
        nearest = numpy.full(len(lines), numpy.inf)
        nearest[index] = distance
        return nearest.reshape(steps, -1).min(axis=1)


@dataclass
class Motion:
    """A planet's axis and turn at each step, in the frame of the gear it meshes with."""

    axis: numpy.ndarray
    turn: numpy.ndarray
    # Direction from the planet's axis to the pitch point.
    pitch_point: numpy.ndarray


def motions(stage: dict, planet: dict, carrier: numpy.ndarray) -> tuple[Motion, Motion]:
    """With the sun and with the ring, for carrier turns from where the stage stands at first."""
    sun_teeth, planet_teeth, ring_teeth = (stage[name]["teeth"] for name in ("sun", "planet", "ring"))
    arm = planet["position"] + carrier
    axis = turned(numpy.array([stage["centre_distance"], 0.0]), arm)
    # Rolling inside the fixed ring, and on a sun that turns 1 + zr / zs times as fast as the carrier.
    turn = planet["turn"] + carrier * (1 - ring_teeth / planet_teeth)
    sun_turn = carrier * (1 + ring_teeth / sun_teeth)
    with_sun = Motion(turned(axis, -sun_turn), turn - sun_turn, arm - sun_turn + numpy.pi)
    ring_turn = stage["ring_turn"]
    return with_sun, Motion(turned(axis, -ring_turn), turn - ring_turn, arm - ring_turn)


class Planet:
    def __init__(self, gear: dict):
        self.bodies = outline(gear)
        self.teeth = gear["teeth"]

    def whole(self, motion: Motion, play: numpy.ndarray) -> numpy.ndarray:
        points = self.bodies.reshape(1, -1, 2)
        return turned(points, (motion.turn + play)[:, None]) + motion.axis[:, None]

    def near_teeth(self, motion: Motion, play: numpy.ndarray) -> numpy.ndarray:
        pitch = 2 * numpy.pi / self.teeth
        middle = numpy.round((motion.pitch_point - motion.turn) / pitch).astype(int)
        which = (middle[:, None] + numpy.arange(-TEETH_ASIDE, TEETH_ASIDE + 1)) % self.teeth
        points = turned(self.bodies[which], (motion.turn + play)[:, None, None])
        return points + motion.axis[:, None, None]


@dataclass
class Worst:
    """mm; `overlaps` counts positions."""

    gap: float = 0.0
    play: float = 0.0
    transmission_error: float = 0.0
    overlaps: int = 0
    interrupted: int = 0

    def join(self, other: "Worst") -> "Worst":
        return Worst(
            max(self.gap, other.gap),
            max(self.play, other.play),
            max(self.transmission_error, other.transmission_error),
            self.overlaps + other.overlaps,
            self.interrupted + other.interrupted,
        )


@dataclass
class Mesh:
    fixed: Fixed
    planet: Planet
    planet_base_radius: float
    planet_pitch_radius: float
    backlash: float
    continuous: bool

    def judge(self, motion: Motion) -> Worst:
        # The play is measured round the pitch circle; flanks part along the line of action.
        half_play = 0.5 * self.backlash / self.planet_pitch_radius
        half_gap = half_play * self.planet_base_radius
        centred = numpy.zeros(len(motion.turn))
        overlaps = self.fixed.overlaps(self.planet.whole(motion, centred)).sum()
        gap = self.fixed.distances(self.planet.near_teeth(motion, centred), half_gap + 2 * GAP)
        if not self.continuous:
            narrow = max(0.0, half_gap - gap.min())
            return Worst(gap=narrow, overlaps=int(overlaps), interrupted=1)
        contacts = []
        for side in (1, -1):
            play = side * numpy.clip(gap - SHORT, 0, half_gap) / self.planet_base_radius
            overlaps += self.fixed.overlaps(self.planet.whole(motion, play)).sum()
            rest = self.fixed.distances(self.planet.near_teeth(motion, play), 2 * GAP)
            contacts.append(play + side * rest / self.planet_base_radius)
        ahead, behind = contacts
        errors = numpy.abs([ahead - half_play, behind + half_play]) * self.planet_base_radius
        return Worst(
            gap=float(numpy.abs(gap - half_gap).max()),
            play=float(numpy.abs((ahead - behind) * self.planet_pitch_radius - self.backlash).max()),
            transmission_error=float(errors.max()),
            overlaps=int(overlaps),
        )


def meshes(stage: dict) -> tuple[Mesh, Mesh]:
    module, helix = stage["normal_module"], stage["helix_angle"]
    transverse_angle = numpy.arctan(numpy.tan(stage["pressure_angle"]) / numpy.cos(helix))
    sun_teeth, planet_teeth, ring_teeth = (stage[name]["teeth"] for name in ("sun", "planet", "ring"))
    base_radius = 0.5 * planet_teeth * module / numpy.cos(helix) * numpy.cos(transverse_angle)
    distance = stage["centre_distance"]
    planet = Planet(stage["planet"])
    with_sun, with_ring = (ratio >= 1 for ratio in stage["contact_ratios"])
    sun_pitch = distance * planet_teeth / (sun_teeth + planet_teeth)
    ring_pitch = distance * planet_teeth / (ring_teeth - planet_teeth)
    return (
        Mesh(Fixed.of(stage["sun"]), planet, base_radius, sun_pitch, stage["backlash"], with_sun),
        Mesh(Fixed.of(stage["ring"]), planet, base_radius, ring_pitch, stage["backlash"], with_ring),
    )


def judge(stage: dict) -> tuple[str, list[Worst]]:
    both = meshes(stage)
    worst = [Worst(), Worst()]
    # A pitch goes by in each mesh when the carrier passes one of the ring's.
    whole_way = PITCHES * 2 * numpy.pi / stage["ring"]["teeth"]
    for index, planet in enumerate(stage["planets"]):
        # The other planets are the same gears in another phase.
        steps = STEPS_A_PITCH * PITCHES if index == 0 else 3
        carrier = whole_way * numpy.arange(steps) / steps
        found = [mesh.judge(motion) for mesh, motion in zip(both, motions(stage, planet, carrier))]
        worst = [old.join(new) for old, new in zip(worst, found)]
    return stage["name"], worst


def faults_of(name: str, mesh: str, worst: Worst) -> list[str]:
    faults = []
    if worst.overlaps:
        faults.append(f"{name}, {mesh}: overlap at {worst.overlaps} positions")
    if not worst.gap <= GAP or not worst.play <= GAP:
        faults.append(f"{name}, {mesh}: gap off by {worst.gap}, play by {worst.play} mm")
    if not worst.transmission_error < TRANSMISSION_ERROR:
        faults.append(f"{name}, {mesh}: transmission error {worst.transmission_error} mm")
    return faults


def line(name: str, mesh: str, worst: Worst) -> str:
    figures = [1e3 * value for value in (worst.gap, worst.play, worst.transmission_error)]
    return f"{name:16} {mesh:16}" + "".join(f"{value:10.3f}" for value in figures) + f"{worst.overlaps:10}"


def main() -> int:
    arguments = argparse.ArgumentParser()
    arguments.add_argument("outlines")
    arguments.add_argument("--random", type=int, default=100)
    options = arguments.parse_args()
    stages = read(options.outlines, "stages", str(options.random))
    names = ("sun and planet", "planet and ring")
    random = [Worst(), Worst()]
    faults = []
    print(f"{'worst, um':16} {'':16}{'gap':>10}{'play':>10}{'error':>10}{'overlaps':>10}")
    with ProcessPoolExecutor(2) as pool:
        for name, worst in pool.map(judge, stages):
            for index, mesh in enumerate(names):
                faults += faults_of(name, mesh, worst[index])
                if name.startswith("random-"):
                    random[index] = random[index].join(worst[index])
                else:
                    print(line(name, mesh, worst[index]))
    for mesh, worst in zip(names, random):
        print(line(f"{options.random} random", mesh, worst))
    interrupted = sum(worst.interrupted for worst in random)
    print(f"{interrupted} random meshes whose section is not always in contact (helical): gap and overlap only")
    for fault in faults[:40]:
        print("FAULT", fault)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
