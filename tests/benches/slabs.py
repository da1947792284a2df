"""Reads a part's slabs, as `one-part --slabs` writes them."""

import json
import math


def load(path):
    with open(path) as file:
        return json.load(file)["slabs"]


def points(loop, tolerance, steps=None):
    """A loop's polygon; arcs in chords within the tolerance, or in the given numbers of steps."""
    found, used = [], []
    for index, segment in enumerate(loop):
        (x0, y0), (x1, y1) = segment["from"], segment["to"]
        if "centre" not in segment:
            count = 1
            if steps:
                count = steps[index]
            used.append(count)
            found += [(x0 + (x1 - x0) * k / count, y0 + (y1 - y0) * k / count) for k in range(count)]
            continue
        cx, cy = segment["centre"]
        radius = math.hypot(x0 - cx, y0 - cy)
        start, end = math.atan2(y0 - cy, x0 - cx), math.atan2(y1 - cy, x1 - cx)
        sweep = (end - start) % (2 * math.pi) if segment["ccw"] else -((start - end) % (2 * math.pi))
        if abs(sweep) < 1e-12:
            sweep = 2 * math.pi if segment["ccw"] else -2 * math.pi
        count = steps[index] if steps else max(1, math.ceil(abs(sweep) / (2 * math.acos(max(-1.0, 1 - tolerance / radius)))))
        used.append(count)
        found += [(cx + radius * math.cos(start + sweep * k / count), cy + radius * math.sin(start + sweep * k / count)) for k in range(count)]
    return found, used
