"""The same part in manifold3d: extrusions, twisted extrusions and paired polygons, united; STL written by trimesh.

usage: with_manifold3d.py SLABS.json OUT.stl
"""

import sys

import manifold3d as m3
import numpy
import trimesh

from slabs import load, points

TOLERANCE = 0.01


def tapered(bottom, top, z0, z1):
    """A solid between two polygons of equal count."""
    count = len(bottom)
    area = sum(bottom[i][0] * bottom[(i + 1) % count][1] - bottom[(i + 1) % count][0] * bottom[i][1] for i in range(count))
    if area < 0:
        bottom, top = bottom[::-1], top[::-1]
    vertices = [(x, y, z0) for x, y in bottom] + [(x, y, z1) for x, y in top]
    triangles = []
    for i in range(count):
        j = (i + 1) % count
        triangles += [(i, j, count + j), (i, count + j, count + i)]
    low = m3.triangulate([numpy.array(bottom)])
    high = m3.triangulate([numpy.array(top)])
    triangles += [(a, c, b) for a, b, c in low] + [(count + a, count + b, count + c) for a, b, c in high]
    return m3.Manifold(m3.Mesh(numpy.array(vertices, numpy.float32), numpy.array(triangles, numpy.uint32)))


def solid(loop, z0, z1):
    """What one loop encloses between two heights."""
    bottom, steps = points(loop["bottom"], TOLERANCE)
    if loop["wall"] == "tapered":
        top, _ = points(loop["top"], TOLERANCE, steps)
        return tapered(bottom, top, z0, z1)
    section = m3.CrossSection([numpy.array(bottom)], m3.FillRule.NonZero)
    if loop["wall"] == "twisted":
        turn = numpy.degrees(loop["per_mm"] * (z1 - z0))
        return m3.Manifold.extrude(section, z1 - z0, 24, turn).translate((0, 0, z0))
    return m3.Manifold.extrude(section, z1 - z0).translate((0, 0, z0))


def main():
    parts = []
    for slab in load(sys.argv[1]):
        z0, z1 = slab["z"]
        outer = [solid(loop, z0, z1) for loop in slab["loops"] if loop["area"] > 0]
        holes = [solid(loop, z0, z1) for loop in slab["loops"] if loop["area"] < 0]
        body = m3.Manifold.batch_boolean(outer, m3.OpType.Add)
        if holes:
            body = body - m3.Manifold.batch_boolean(holes, m3.OpType.Add)
        parts.append(body)
    whole = m3.Manifold.batch_boolean(parts, m3.OpType.Add)
    mesh = whole.to_mesh()
    trimesh.Trimesh(mesh.vert_properties[:, :3], mesh.tri_verts, process=False).export(sys.argv[2])
    print(f"volume {whole.volume():.1f}")


main()
