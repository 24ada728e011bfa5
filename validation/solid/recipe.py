#!/usr/bin/env python3
"""What OpenCascade makes of the STEP files in parts/, and the section of involute teeth by numerical integration.

Sources: OpenCascade 8.0.1 through cadquery-ocp-novtk 8.0.1.1.0. Its reader turns each file into its own boundary model; its
analyzer says whether that is valid; its integration over the faces gives volume and area. The
involute by its definition, integrated by mpmath at 40 digits.

Writes measured.csv, cylinders.csv and sections.csv beside itself; with --check it reads the files again and compares. A file that does
not give exactly one valid, closed solid stops it either way.
"""

import math
import pathlib
import sys
from importlib.metadata import version

import mpmath
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_REVERSED, TopAbs_SHELL, TopAbs_SOLID, TopAbs_VERTEX
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

HERE = pathlib.Path(__file__).parent
PARTS = HERE / "parts"

# The last digits of OpenCascade may differ on another processor: lengths in mm, and others as a share of their size.
ALLOWED = 1e-9

MEASURED = [
    "part", "volume_mm3", "area_mm2", "centroid_z_mm", "largest_tolerance_mm",
    "planes", "cylinders", "cones", "spheres", "tori", "turned", "extruded",
]
KINDS = {
    GeomAbs_SurfaceType.GeomAbs_Plane: "planes",
    GeomAbs_SurfaceType.GeomAbs_Cylinder: "cylinders",
    GeomAbs_SurfaceType.GeomAbs_Cone: "cones",
    GeomAbs_SurfaceType.GeomAbs_Sphere: "spheres",
    GeomAbs_SurfaceType.GeomAbs_Torus: "tori",
    GeomAbs_SurfaceType.GeomAbs_SurfaceOfRevolution: "turned",
    GeomAbs_SurfaceType.GeomAbs_SurfaceOfExtrusion: "extruded",
}
CYLINDERS = ["part", "x_mm", "y_mm", "diameter_mm", "low_z_mm", "high_z_mm"]
SECTIONS = ["teeth", "angle_deg", "pitch_mm", "thickness_mm", "root_mm", "tip_mm", "area_mm2", "perimeter_mm"]


def each(shape, kind):
    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        yield explorer.Current()
        explorer.Next()


def read(file):
    """The one valid solid of a file."""
    reader = STEPControl_Reader()
    if reader.ReadFile(str(file)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise SystemExit(f"{file.name}: cannot be read")
    if reader.TransferRoots() != 1:
        raise SystemExit(f"{file.name}: not exactly one thing in it")
    shape = reader.OneShape()
    solids, shells = list(each(shape, TopAbs_SOLID)), list(each(shape, TopAbs_SHELL))
    if len(solids) != 1 or len(shells) != 1:
        raise SystemExit(f"{file.name}: {len(solids)} solids of {len(shells)} shells")
    if not BRepCheck_Analyzer(shape).IsValid():
        raise SystemExit(f"{file.name}: the solid is not valid")
    if not BRep_Tool.IsClosed_s(shells[0]):
        raise SystemExit(f"{file.name}: the shell is not closed")
    return solids[0]


def largest_tolerance(solid):
    """What the reader had to allow for gaps between neighbours."""
    vertices = [BRep_Tool.Tolerance_s(TopoDS.Vertex(one)) for one in each(solid, TopAbs_VERTEX)]
    edges = [BRep_Tool.Tolerance_s(TopoDS.Edge(one)) for one in each(solid, TopAbs_EDGE)]
    return max(vertices + edges, default=0.0)


def measure(file):
    """The row of a file, and those of its hollow cylinders that do not lie on the axis."""
    solid = read(file)
    volume, area = GProp_GProps(), GProp_GProps()
    BRepGProp.VolumeProperties_s(solid, volume)
    BRepGProp.SurfaceProperties_s(solid, area)
    row = dict.fromkeys(MEASURED, 0)
    row.update(
        part=file.stem,
        volume_mm3=volume.Mass(),
        area_mm2=area.Mass(),
        centroid_z_mm=volume.CentreOfMass().Z(),
        largest_tolerance_mm=largest_tolerance(solid),
    )
    hollows = []
    for one in each(solid, TopAbs_FACE):
        face = TopoDS.Face(one)
        surface = BRepAdaptor_Surface(face)
        row[KINDS[surface.GetType()]] += 1
        if surface.GetType() != GeomAbs_SurfaceType.GeomAbs_Cylinder:
            continue
        cylinder = surface.Cylinder()
        place = cylinder.Location()
        if face.Orientation() == TopAbs_REVERSED and math.hypot(place.X(), place.Y()) > 1e-6:
            along = cylinder.Axis().Direction().Z()
            ends = (place.Z() + v * along for v in (surface.FirstVParameter(), surface.LastVParameter()))
            hollows.append((file.stem, place.X(), place.Y(), 2 * cylinder.Radius(), *sorted(ends)))
    return [row[name] for name in MEASURED], sorted(hollows)


def section(teeth, angle_deg, pitch_mm, thickness_mm, root_mm, tip_mm):
    """Area and perimeter of a toothed section, from the definition of the involute and by quadrature alone."""
    mpmath.mp.dps = 40
    pitch, thickness, root, tip = (mpmath.mpf(value) for value in (pitch_mm, thickness_mm, root_mm, tip_mm))
    angle = mpmath.radians(mpmath.mpf(angle_deg))
    base = pitch / 2 * mpmath.cos(angle)

    def half(radius):
        """Half of the angle that a tooth spans at a radius."""
        at = mpmath.acos(base / radius)
        return thickness / pitch + (mpmath.tan(angle) - angle) - (mpmath.tan(at) - at)

    def slope(radius):
        """Length of flank for a step of the radius: the flank makes the angle `at` with the radius there."""
        return radius / base

    low, high = root / 2, tip / 2
    area = mpmath.pi * low**2 + teeth * mpmath.quad(lambda radius: 2 * half(radius) * radius, [low, high])
    flank = mpmath.quad(slope, [low, high])
    arcs = tip * half(high) + root * (mpmath.pi / teeth - half(low))
    return area, teeth * (2 * flank + arcs)


def sections():
    """Inch teeth of 24/48 pitch at the three pressure angles of the standards, as basic sizes."""
    rows = []
    for angle_deg, below in ((30.0, 1.35), (37.5, 1.3), (45.0, 1.0)):
        for teeth in range(28, 41):
            sizes = [value / 24 * 25.4 for value in (teeth, teeth - below, teeth + 1)]
            pitch, root, tip = sizes
            thickness = math.pi / 48 * 25.4
            area, perimeter = section(teeth, angle_deg, pitch, thickness, root, tip)
            rows.append((teeth, angle_deg, pitch, thickness, root, tip, float(area), float(perimeter)))
    return rows


def tables():
    """The text of the tables, by the name of their file."""
    measured, cylinders = [], []
    for file in sorted(PARTS.glob("*.step")):
        row, hollows = measure(file)
        measured.append(row)
        cylinders.extend(hollows)
    source = f"OpenCascade through cadquery-ocp-novtk {version('cadquery-ocp-novtk')}"
    quadrature = f"mpmath {version('mpmath')}, 40 digits"
    return {
        "measured.csv": text("What OpenCascade measures of the solids in parts/.", source, MEASURED, measured),
        "cylinders.csv": text("The hollow cylinders beside the axis, as it reads them.", source, CYLINDERS, cylinders),
        "sections.csv": text("Sections of involute teeth.", quadrature, SECTIONS, sections()),
    }


def text(what, source, names, rows):
    # Zeros without a sign, which would depend on the processor.
    fields = [[value if isinstance(value, str) else repr(value + 0) for value in row] for row in rows]
    lines = [f"# {what}", "# Recipe: validation/solid/recipe.py", f"# Library: {source}", ",".join(names)]
    return "\n".join(lines + [",".join(row) for row in fields]) + "\n"


def check(made):
    """Compares with the committed tables: names and counts exactly, measures to their last digits."""
    wrong, worst, numbers = [], 0.0, 0
    for name, new in made.items():
        committed = (HERE / name).read_text(encoding="utf-8").splitlines()
        lines = new.splitlines()
        if len(committed) != len(lines):
            wrong.append(f"{name}: {len(committed)} lines are committed, {len(lines)} made")
        for place, (old, now) in enumerate(zip(committed, lines)):
            for a, b in zip(old.split(","), now.split(",")):
                off = deviation(a, b)
                numbers += off is not None
                worst = max(worst, off or 0.0)
                if (off is None and a != b) or (off or 0.0) > ALLOWED:
                    wrong.append(f"{name}:{place + 1}: {a!r} is committed, {b!r} measured")
    parts = len(made["measured.csv"].splitlines()) - 4
    print(f"{parts} solids valid; {numbers} numbers compared, the worst lay off by {worst:.1e}")
    print("\n".join(wrong), end="\n" if wrong else "")
    return 1 if wrong else 0


def deviation(old, new):
    """How far two numbers lie apart, as a share of those greater than one; `None` where they are none."""
    try:
        a, b = float(old), float(new)
    except ValueError:
        return None
    return abs(a - b) / max(abs(b), 1.0)


def main():
    made = tables()
    if "--check" in sys.argv:
        return check(made)
    for name, content in made.items():
        (HERE / name).write_text(content, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
