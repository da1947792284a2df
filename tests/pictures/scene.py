"""What both pictures share."""

import vtk


def window(width, height):
    found = vtk.vtkRenderWindow()
    found.SetOffScreenRendering(1)
    found.SetMultiSamples(8)
    found.SetSize(width, height)
    return found


def look_from(renderer, position, zoom, bounds=None):
    """A camera on the origin, drawn back until everything (or `bounds`) is in view."""
    camera = renderer.GetActiveCamera()
    camera.SetPosition(*position)
    camera.SetFocalPoint(0, 0, 0)
    camera.SetViewUp(0, 0, 1)
    camera.SetViewAngle(22)
    renderer.ResetCamera(bounds) if bounds else renderer.ResetCamera()
    camera.Zoom(zoom)
    renderer.ResetCameraClippingRange()


def save(rendered, path):
    rendered.Render()
    grab = vtk.vtkWindowToImageFilter()
    grab.SetInput(rendered)
    grab.ReadFrontBufferOff()
    writer = vtk.vtkPNGWriter()
    writer.SetFileName(path)
    writer.SetInputConnection(grab.GetOutputPort())
    writer.Write()
