"""Outlines as the example program of that name prints them, and their arcs as points."""

import json
import subprocess

import numpy

# mm. An arc's chords stay this near it.
SAGITTA = 5e-5


def read(program: str, *arguments: str) -> list[dict]:
    return json.loads(subprocess.run([program, *arguments], capture_output=True, check=True).stdout)


def arc_points(start: numpy.ndarray, end: numpy.ndarray, segment: dict) -> numpy.ndarray:
    """From the start up to, not including, the end."""
    if "centre" not in segment:
        return start[None]
    centre = numpy.array(segment["centre"])
    arm, last = start - centre, end - centre
    sweep = numpy.arctan2(arm[0] * last[1] - arm[1] * last[0], arm @ last)
    if segment["ccw"] and sweep < 0:
        sweep += 2 * numpy.pi
    if not segment["ccw"] and sweep > 0:
        sweep -= 2 * numpy.pi
    step = numpy.sqrt(8 * SAGITTA / numpy.hypot(*arm))
    # Equal arcs of different teeth must come out alike: rounding does not make a chord more.
    count = max(1, int(numpy.ceil(abs(sweep) / step - 1e-6)))
    return centre + turned(arm[None], numpy.arange(count) * sweep / count)


def turned(points: numpy.ndarray, angle) -> numpy.ndarray:
    """Broadcasts: points (..., 2) by angles (...)."""
    cosine, sine = numpy.cos(angle), numpy.sin(angle)
    x, y = points[..., 0], points[..., 1]
    return numpy.stack([cosine * x - sine * y, sine * x + cosine * y], axis=-1)


def outline(gear: dict) -> numpy.ndarray:
    """Bodies (teeth, or a ring's spaces), points of each, 2; the first body is centred on +x."""
    segments = gear["segments"]
    starts = [numpy.array(segment["start"]) for segment in segments]
    ends = starts[1:] + starts[:1]
    points = numpy.concatenate([arc_points(*three) for three in zip(starts, ends, segments)])
    return points.reshape(gear["teeth"], -1, 2)
