"""Print mass again, by counting: every layer of a part's STL drawn on a fine grid, walls by distance from the outline, skins by
what lies above and below, the rest at the infill's share. Slow and independent of the program's offsets.

    python mass.py HUBWRIGHT DESIGN...
"""

import json
import pathlib
import subprocess
import sys
import tempfile

import manifold3d
import numpy
import trimesh
from scipy import ndimage
from shapely.geometry import Polygon
from shapely import contains_xy

# Edge of a cell, mm: a quarter of a line.
CELL = 0.1
# The issue's own bound for the count, and for a part printed solid.
COUNTED = 0.03
SOLID = 1e-3


def layer_cells(body, z, low, shape):
    """Cells whose middle lies in the section at height z: inside an odd number of its outlines."""
    cells = numpy.zeros(shape, bool)
    xs = low[0] + (numpy.arange(shape[0]) + 0.5) * CELL
    ys = low[1] + (numpy.arange(shape[1]) + 0.5) * CELL
    for outline in body.slice(z).to_polygons():
        polygon = Polygon(outline)
        west, south, east, north = polygon.bounds
        i = slice(*numpy.searchsorted(xs, [west, east]))
        j = slice(*numpy.searchsorted(ys, [south, north]))
        x, y = numpy.meshgrid(xs[i], ys[j], indexing="ij")
        cells[i, j] ^= contains_xy(polygon, x, y)
    return cells


def counted(mesh, settings, line_width):
    """Plastic of a print, mm3."""
    height = settings["layer_height"]
    walls = settings["walls"] * line_width
    skins = settings["skins"]
    low, high = mesh.bounds
    low = low[:2] - 2 * CELL
    shape = tuple(numpy.ceil((high[:2] - low) / CELL).astype(int) + 2)
    layers = int(round(high[2] / height))
    body = manifold3d.Manifold(
        manifold3d.Mesh(numpy.array(mesh.vertices, numpy.float32), numpy.array(mesh.faces, numpy.uint32))
    )
    cells = [layer_cells(body, (k + 0.5) * high[2] / layers, low, shape) for k in range(layers)]
    full = core = 0
    for k, here in enumerate(cells):
        full += here.sum()
        if settings["infill"] >= 1:
            continue
        if k < skins or k + skins >= layers:
            continue
        inside = ndimage.distance_transform_edt(here) * CELL > walls + CELL / 2
        for other in cells[k - skins : k + skins + 1]:
            inside &= other
        core += inside.sum()
    cell = CELL * CELL * high[2] / layers
    return (full - core * (1 - settings["infill"])) * cell


def settings_of(part, resolved):
    own = resolved["parts"][part]
    material = own["material"]
    return {
        "layer_height": float(str(own["layer_height"]).split()[0]),
        "walls": own["walls"],
        "skins": own["skins"],
        "infill": own["infill"],
        "material": material,
    }


def main():
    program, *designs = sys.argv[1:]
    failed = checked = 0
    for design in designs:
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "out"
            subprocess.run([program, "make", design, "--out", str(out)], check=False, stdout=subprocess.DEVNULL)
            report = json.loads((out / "report.json").read_text())
            resolved = report["input"]
            line = float(str(resolved["printer"]["line_width"]).split()[0])
            for part in report["parts"]:
                mesh = trimesh.load(out / part["file"])
                settings = settings_of(part["name"], resolved)
                # mm of filament times its section is the program's plastic.
                diameter = float(str(resolved["printer"]["filament_diameter"]).split()[0])
                plastic = part["filament_mm"] * numpy.pi * diameter**2 / 4
                checked += 1
                if settings["infill"] >= 1:
                    off, bound = plastic / mesh.volume - 1, SOLID
                else:
                    off, bound = plastic / counted(mesh, settings, line) - 1, COUNTED
                word = "ok" if abs(off) <= bound else "OFF"
                print(f"{report['design']:16} {part['name']:20} {off:+.2%} {word}")
                failed += abs(off) > bound
    print(f"{checked} parts counted, {failed} off")
    sys.exit(1 if failed else 0)


main()
