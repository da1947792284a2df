"""Renders the program's STL files to PNG with VTK, a general renderer.

usage: render.py FOLDER OUT.png [--view top|under|both] [PART...]     parts of one output folder, on a grid
Needs: pip install vtk
"""

import argparse
import math
import pathlib

import vtk

from scene import look_from, save, window as new_window

COLOURS = [(0.80, 0.66, 0.42), (0.45, 0.60, 0.58), (0.72, 0.45, 0.36), (0.56, 0.58, 0.66), (0.66, 0.70, 0.48)]


def actors(path: pathlib.Path, colour) -> tuple[list, tuple]:
    reader = vtk.vtkSTLReader()
    reader.SetFileName(str(path))
    clean = vtk.vtkCleanPolyData()
    clean.SetInputConnection(reader.GetOutputPort())
    normals = vtk.vtkPolyDataNormals()
    normals.SetInputConnection(clean.GetOutputPort())
    normals.SetFeatureAngle(25)
    normals.SplittingOn()
    mapper = vtk.vtkPolyDataMapper()
    mapper.SetInputConnection(normals.GetOutputPort())
    body = vtk.vtkActor()
    body.SetMapper(mapper)
    body.GetProperty().SetColor(*colour)
    body.GetProperty().SetSpecular(0.15)
    edges = vtk.vtkFeatureEdges()
    edges.SetInputConnection(clean.GetOutputPort())
    edges.SetFeatureAngle(30)
    edges.ManifoldEdgesOff()
    edges.ColoringOff()
    line_mapper = vtk.vtkPolyDataMapper()
    line_mapper.SetInputConnection(edges.GetOutputPort())
    lines = vtk.vtkActor()
    lines.SetMapper(line_mapper)
    lines.GetProperty().SetColor(0.15, 0.15, 0.15)
    lines.GetProperty().SetLineWidth(1.2)
    clean.Update()
    return [body, lines], clean.GetOutput().GetBounds()


def main() -> None:
    arguments = argparse.ArgumentParser()
    arguments.add_argument("folder", type=pathlib.Path)
    arguments.add_argument("out")
    arguments.add_argument("parts", nargs="*")
    arguments.add_argument("--view", default="both", choices=["top", "under", "both"])
    options = arguments.parse_args()
    paths = [options.folder / "parts" / f"{part}.stl" for part in options.parts] or sorted((options.folder / "parts").glob("*.stl"))
    views = ["top", "under"] if options.view == "both" else [options.view]
    cells = [(path, view) for path in paths for view in views]
    columns = min(len(cells), 4 if len(cells) > 3 else len(cells))
    rows = math.ceil(len(cells) / columns)
    window = new_window(480 * columns, 420 * rows)
    for index, (path, view) in enumerate(cells):
        renderer = vtk.vtkRenderer()
        column, row = index % columns, rows - 1 - index // columns
        renderer.SetViewport(column / columns, row / rows, (column + 1) / columns, (row + 1) / rows)
        renderer.SetBackground(1, 1, 1)
        found, bounds = actors(path, COLOURS[paths.index(path) % len(COLOURS)])
        for actor in found:
            renderer.AddActor(actor)
        title = vtk.vtkTextActor()
        title.SetInput(path.stem)
        title.GetTextProperty().SetColor(0.2, 0.2, 0.2)
        title.GetTextProperty().SetFontSize(18)
        title.SetPosition(12, 10)
        renderer.AddActor2D(title)
        look_from(renderer, (0.75, -1.0, 0.85 if view == "top" else -0.85), 1.35, bounds)
        window.AddRenderer(renderer)
    save(window, options.out)


if __name__ == "__main__":
    main()
