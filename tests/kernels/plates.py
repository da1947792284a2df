"""Plates read by the 3MF Consortium's own library, strictly: no warnings, sound meshes, names, and the volume of report.json.

    python plates.py HUBWRIGHT DESIGN...
"""

import json
import pathlib
import subprocess
import sys
import tempfile

import lib3mf
import numpy

# As printed, triangles against the exact body: the bound of the STL files.
VOLUME = 5e-4


def volume(item):
    vertices = numpy.array([list(v.Coordinates) for v in item.GetVertices()])
    corners = vertices[numpy.array([list(t.Indices) for t in item.GetTriangleIndices()])]
    return numpy.einsum("ij,ij->", corners[:, 0], numpy.cross(corners[:, 1], corners[:, 2])) / 6


def check(wrapper, path, exact):
    """Faults of one plate, and the names of its pieces."""
    model = wrapper.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(path))
    faults = [str(reader.GetWarning(i)) for i in range(reader.GetWarningCount())]
    if model.GetUnit() != lib3mf.ModelUnit.MilliMeter:
        faults.append("unit")
    objects = model.GetMeshObjects()
    while objects.MoveNext():
        item = objects.GetCurrentMeshObject()
        name = item.GetName()
        if not (item.IsValid() and item.IsManifoldAndOriented()):
            faults.append(f"{name} is no closed body")
        off = volume(item) / exact[name] - 1
        if abs(off) > VOLUME:
            faults.append(f"{name}: volume off by {off:.1e}")
    pieces = []
    items = model.GetBuildItems()
    while items.MoveNext():
        pieces.append(items.GetCurrent().GetPartNumber())
    return faults, pieces


def main():
    program, *designs = sys.argv[1:]
    wrapper = lib3mf.get_wrapper()
    failed = plates = 0
    for design in designs:
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "out"
            subprocess.run([program, "make", design, "--out", str(out)], check=False, stdout=subprocess.DEVNULL)
            report = json.loads((out / "report.json").read_text())
            exact = {part["name"]: part["volume_mm3"] for part in report["parts"]}
            wanted = sorted(f"{part['name']}-{i + 1}" for part in report["parts"] for i in range(part["count"]))
            rig = pathlib.Path(folder) / "rig"
            subprocess.run([program, "rig", design, "--out", str(rig)], check=True, stdout=subprocess.DEVNULL)
            parts = json.loads((rig / "rig.json").read_text())["parts"]
            volumes = {part["name"]: part["volume_mm3"] for part in parts}
            pieces = []
            for path in sorted(rig.glob("plate-*.3mf")):
                faults, some = check(wrapper, path, volumes)
                pieces += some
                plates += 1
                for fault in faults:
                    failed += 1
                    print(f"{design} rig {path.name}: {fault}")
            if sorted(pieces) != sorted(f"{name}-1" for name in volumes):
                failed += 1
                print(f"{design}: pieces of the rig {sorted(pieces)}")
            found = []
            for path in sorted(out.glob("plate-*.3mf")):
                faults, pieces = check(wrapper, path, exact)
                found += pieces
                plates += 1
                for fault in faults:
                    failed += 1
                    print(f"{design} {path.name}: {fault}")
            if sorted(found) != wanted:
                failed += 1
                print(f"{design}: pieces {sorted(found)} instead of {wanted}")
    print(f"{plates} plates read, {failed} faults")
    sys.exit(1 if failed else 0)


main()
