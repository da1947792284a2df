"""The same part in OpenCASCADE: prisms, ruled sections, teeth swept along a helix; meshed and written as STL.

usage: with_opencascade.py SLABS.json OUT.stl
"""

import sys

from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepGProp import BRepGProp
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepOffsetAPI import BRepOffsetAPI_ThruSections
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.GC import GC_MakeArcOfCircle
from OCP.GProp import GProp_GProps
from OCP.StlAPI import StlAPI_Writer
from OCP.collections import List_TopoDS_Shape
from OCP.gp import gp_Pnt, gp_Vec

import math

from slabs import load

TOLERANCE = 0.01
# Sections along a helix; the loft through them is smooth.
SECTIONS = 5


def wire(segments, z):
    maker = BRepBuilderAPI_MakeWire()
    for segment in segments:
        a = gp_Pnt(*segment["from"], z)
        b = gp_Pnt(*segment["to"], z)
        if "centre" in segment:
            cx, cy = segment["centre"]
            (x0, y0), (x1, y1) = segment["from"], segment["to"]
            start, end = math.atan2(y0 - cy, x0 - cx), math.atan2(y1 - cy, x1 - cx)
            sweep = (end - start) % (2 * math.pi) if segment["ccw"] else -((start - end) % (2 * math.pi))
            radius = math.hypot(x0 - cx, y0 - cy)
            middle = gp_Pnt(cx + radius * math.cos(start + sweep / 2), cy + radius * math.sin(start + sweep / 2), z)
            edge = BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(a, middle, b).Value()).Edge()
        else:
            edge = BRepBuilderAPI_MakeEdge(a, b).Edge()
        maker.Add(edge)
    return maker.Wire()


def turned(segments, angle):
    cos, sin = math.cos(angle), math.sin(angle)
    turn = lambda p: (cos * p[0] - sin * p[1], sin * p[0] + cos * p[1])
    return [{key: turn(value) if key in ("from", "to", "centre") else value for key, value in one.items()} for one in segments]


def solid(loop, z0, z1):
    if loop["wall"] == "straight":
        face = BRepBuilderAPI_MakeFace(wire(loop["bottom"], z0), True).Face()
        return BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, z1 - z0)).Shape()
    loft = BRepOffsetAPI_ThruSections(True, loop["wall"] == "tapered")
    if loop["wall"] == "tapered":
        loft.AddWire(wire(loop["bottom"], z0))
        loft.AddWire(wire(loop["top"], z1))
    else:
        for index in range(SECTIONS):
            u = index / (SECTIONS - 1)
            loft.AddWire(wire(turned(loop["bottom"], loop["per_mm"] * (z1 - z0) * u), z0 + (z1 - z0) * u))
    loft.Build()
    return loft.Shape()


def listed(shapes):
    found = List_TopoDS_Shape()
    for shape in shapes:
        found.Append(shape)
    return found


def combined(operation, arguments, tools):
    operation.SetArguments(listed(arguments))
    operation.SetTools(listed(tools))
    operation.Build()
    return operation.Shape()


def main():
    parts = []
    for slab in load(sys.argv[1]):
        z0, z1 = slab["z"]
        outer = [solid(loop, z0, z1) for loop in slab["loops"] if loop["area"] > 0]
        holes = [solid(loop, z0, z1) for loop in slab["loops"] if loop["area"] < 0]
        body = outer[0] if len(outer) == 1 else combined(BRepAlgoAPI_Fuse(), outer[:1], outer[1:])
        parts.append(combined(BRepAlgoAPI_Cut(), [body], holes) if holes else body)
    whole = parts[0] if len(parts) == 1 else combined(BRepAlgoAPI_Fuse(), parts[:1], parts[1:])
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(whole, properties)
    BRepMesh_IncrementalMesh(whole, TOLERANCE, False, 0.5, False)
    writer = StlAPI_Writer()
    writer.ASCIIMode = False
    writer.Write(whole, sys.argv[2])
    print(f"volume {properties.Mass():.1f}")


main()
