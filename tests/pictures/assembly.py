"""Renders a made design put together, cut open in front, with VTK.

usage: assembly.py FOLDER OUT.png [--whole]
Needs: pip install vtk
"""

import argparse
import json
import pathlib

import vtk

from scene import look_from, save, window as new_window

COLOURS = {
    "vented-base": (0.55, 0.62, 0.68), "stator-mount": (0.85, 0.62, 0.38), "magnet-cup": (0.78, 0.42, 0.38),
    "rotor-adapter": (0.42, 0.48, 0.66), "planet": (0.62, 0.52, 0.70), "planet-washer": (0.80, 0.66, 0.25),
    "planet-sleeve": (0.80, 0.66, 0.25), "output-carrier": (0.86, 0.76, 0.46), "carrier-back-plate": (0.78, 0.66, 0.34),
    "ring-housing": (0.50, 0.68, 0.56), "bearing-keeper": (0.74, 0.50, 0.60), "output-clamp-ring": (0.80, 0.48, 0.40),
    "ring-insert": (0.34, 0.54, 0.40), "inner-spacer": (0.7, 0.7, 0.7), "outer-spacer": (0.7, 0.7, 0.7),
}


def place(part, axis, size_z):
    transform = vtk.vtkTransform()
    transform.RotateZ(axis["angle_deg"])
    transform.Translate(axis["distance_mm"], 0, 0)
    transform.RotateZ(axis["turn_deg"] - axis["angle_deg"])
    if part["assembly"]["flipped"]:
        transform.Translate(0, 0, part["assembly"]["z_mm"] + size_z)
        transform.RotateX(180)
    else:
        transform.Translate(0, 0, part["assembly"]["z_mm"])
    return transform


def body(polydata_port, colour, plane, opacity=1.0):
    normals = vtk.vtkPolyDataNormals()
    normals.SetFeatureAngle(25)
    normals.SetInputConnection(polydata_port)
    source = normals.GetOutputPort()
    actors = []
    if plane is not None:
        clipper = vtk.vtkClipClosedSurface()
        planes = vtk.vtkPlaneCollection()
        planes.AddItem(plane)
        clean = vtk.vtkCleanPolyData()
        clean.SetInputConnection(polydata_port)
        clipper.SetInputConnection(clean.GetOutputPort())
        clipper.SetClippingPlanes(planes)
        clipper.GenerateFacesOn()
        again = vtk.vtkPolyDataNormals()
        again.SetFeatureAngle(25)
        again.SetInputConnection(clipper.GetOutputPort())
        source = again.GetOutputPort()
    mapper = vtk.vtkPolyDataMapper()
    mapper.SetInputConnection(source)
    mapper.ScalarVisibilityOff()
    actor = vtk.vtkActor()
    actor.SetMapper(mapper)
    actor.GetProperty().SetColor(*colour)
    actor.GetProperty().SetSpecular(0.1)
    actor.GetProperty().SetOpacity(opacity)
    actors.append(actor)
    edges = vtk.vtkFeatureEdges()
    edges.SetInputConnection(source)
    edges.SetFeatureAngle(35)
    edges.BoundaryEdgesOff()
    edges.ManifoldEdgesOff()
    edges.NonManifoldEdgesOff()
    edges.ColoringOff()
    lines = vtk.vtkPolyDataMapper()
    lines.SetInputConnection(edges.GetOutputPort())
    outline = vtk.vtkActor()
    outline.SetMapper(lines)
    outline.GetProperty().SetColor(0.15, 0.15, 0.15)
    actors.append(outline)
    return actors


def cylinder(radius, inner, z0, z1):
    """A tube, for bought bodies."""
    ring = vtk.vtkDiskSource()
    ring.SetInnerRadius(inner)
    ring.SetOuterRadius(radius)
    ring.SetCircumferentialResolution(96)
    extrude = vtk.vtkLinearExtrusionFilter()
    extrude.SetInputConnection(ring.GetOutputPort())
    extrude.SetVector(0, 0, z1 - z0)
    extrude.CappingOn()
    triangles = vtk.vtkTriangleFilter()
    triangles.SetInputConnection(extrude.GetOutputPort())
    moved = vtk.vtkTransformPolyDataFilter()
    transform = vtk.vtkTransform()
    transform.Translate(0, 0, z0)
    moved.SetTransform(transform)
    moved.SetInputConnection(triangles.GetOutputPort())
    return moved


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("folder", type=pathlib.Path)
    arguments.add_argument("out")
    arguments.add_argument("--whole", action="store_true")
    options = arguments.parse_args()
    report = json.loads((options.folder / "report.json").read_text())
    plane = None
    if not options.whole:
        plane = vtk.vtkPlane()
        plane.SetOrigin(0, 0, 0)
        plane.SetNormal(0, 1, 0)
    renderer = vtk.vtkRenderer()
    renderer.SetBackground(1, 1, 1)
    keep = []
    for part in report["parts"]:
        for axis in part["assembly"]["axes"]:
            reader = vtk.vtkSTLReader()
            reader.SetFileName(str(options.folder / part["file"]))
            moved = vtk.vtkTransformPolyDataFilter()
            moved.SetTransform(place(part, axis, part["size_mm"][2]))
            moved.SetInputConnection(reader.GetOutputPort())
            keep += [reader, moved]
            for actor in body(moved.GetOutputPort(), COLOURS.get(part["name"], (0.7, 0.7, 0.7)), plane):
                renderer.AddActor(actor)
    where = report["layout"]
    bearing = next(one for one in report["bearings"] if one["place"] == "output")
    z0, z1 = where["output_bearing_mm"]
    steel = (0.82, 0.83, 0.85)
    step = (bearing["outer_mm"] - bearing["bore_mm"]) / 2
    count = round((z1 - z0) / bearing["width_mm"] - 0.2) if z1 - z0 > 1.5 * bearing["width_mm"] else 1
    rows = [(z0, z0 + bearing["width_mm"])] + ([(z1 - bearing["width_mm"], z1)] if count > 1 else [])
    for low, high in rows:
        for outer, inner in [(bearing["outer_mm"] / 2, bearing["outer_mm"] / 2 - 0.3 * step), (bearing["bore_mm"] / 2 + 0.3 * step, bearing["bore_mm"] / 2)]:
            tube = cylinder(outer, inner, low, high)
            keep.append(tube)
            for actor in body(tube.GetOutputPort(), steel, plane):
                renderer.AddActor(actor)
    look_from(renderer, (0.6, -1.0, 0.45), 1.3)
    window = new_window(1100, 1000)
    window.AddRenderer(renderer)
    save(window, options.out)


if __name__ == "__main__":
    main()
