"""Writes the shafts of every order of the demo as STEP files, reads them with OpenCascade, and compares.

    python validation/step/recipe.py                     writes measured.csv
    python validation/step/recipe.py --check             writes the shafts again, measures and compares

What is compared stands in README.md beside this file.
"""

import importlib.util
import json
import math
import os
import re
import subprocess
import sys
import tempfile
from importlib.metadata import version
from pathlib import Path

from OCP.BRep import BRep_Tool
from OCP.TopAbs import TopAbs_VERTEX
from OCP.TopoDS import TopoDS

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
sys.path.insert(0, str(ROOT / "validation"))
from program import program  # noqa: E402
RECORDED = "01-hay-truck"
TOOTHED = ["01-hay-truck", "13-metric-camper"]
MILLIMETRES_PER_INCH = 25.4

# As docs/drawing.md has them.
PILOT_CHAMFER, END_CHAMFER = 1.0, 1.5
SHOULDER_RATIO, SPLINE_RESERVE = 1.1, 0.5
# Radii that differ by less are one.
SAME = 0.001

# The review prints six decimals of a millimetre, and diameters go into a volume twice: 7e-8 of a thin step. The goal is 1e-4.
VOLUME = 3e-7
# The flanks of teeth are integrated by OpenCascade to some 1e-6.
TOOTHED_VOLUME = 1e-6
PLACE = 2e-6

spec = importlib.util.spec_from_file_location("solid_recipe", ROOT / "validation" / "solid" / "recipe.py")
solid = importlib.util.module_from_spec(spec)
spec.loader.exec_module(solid)


def run(*words):
    environment = {**os.environ, "NO_COLOR": "1"}
    return subprocess.run(words, cwd=ROOT, check=False, capture_output=True, text=True, env=environment)


class Sizes:
    """The sizes of one shaft in millimetres, from what `check --format json` prints and the assumptions of the manual."""

    def __init__(self, review, side):
        self.review, self.side = review, side
        fitted = review["fitted"]
        shaft = fitted["shaft"]
        self.fillets = [self.of(shaft["flange_fillet"]), self.of(shaft["shoulder_fillet"])]
        ring = self.of(shaft["ring_width"])
        inner = self.of(fitted["bearing"]["inner_width"])
        own = next(one for one in fitted["differential"]["sides"] if one["side"] == side)
        engagement = self.of(own["engagement"])
        length, shoulder = self.cut("overall_length"), self.cut("shoulder_distance")
        major, journal = self.cut("spline_major_diameter"), self.cut("journal_diameter")
        seal = self.cut("seal_journal_diameter")
        self.length, self.pilot_height = length, self.cut("wheel_pilot_height")
        self.thickness = self.cut("flange_thickness")
        self.register_height = self.cut("register_height")
        # A reading or part that is not there leaves None, and arithmetic with that fails: nothing is put in its place.
        self.spline_length = max(engagement or 1.5 * major, major) + SPLINE_RESERVE * major
        stated = self.of(shaft["body_diameter"])
        body = (stated, stated) if stated else (0.5 * (seal + major), major)
        seal_end = shoulder + inner + 2 * ring
        start = length - self.spline_length
        shoulder_diameter = max(SHOULDER_RATIO * journal, journal + 2 * self.fillets[1])
        # From outboard to inboard: beginning, end, and the diameter at each.
        self.steps = [
            (-self.pilot_height, -self.register_height, *2 * [self.cut("wheel_pilot_diameter")]),
            (-self.register_height, 0.0, *2 * [self.cut("register_diameter")]),
            (0.0, self.thickness, *2 * [self.cut("flange_diameter")]),
            (self.thickness, shoulder, *2 * [shoulder_diameter]),
            (shoulder, shoulder + inner, *2 * [journal]),
            (shoulder + inner, shoulder + inner + ring, *2 * [self.cut("ring_seat_diameter")]),
            (shoulder + inner + ring, seal_end, seal, seal),
            (seal_end, start, *body),
            (start, length, major, major),
        ]
        self.circle, self.hole, self.holes = self.cut("bolt_circle"), self.cut("stud_hole"), fitted["holes"]
        access = fitted["access_hole"]
        self.access = None
        if access["there"]:
            self.access = (self.of(access["diameter"]), self.of(access["circle"]))
        self.spline = fitted["spline"]

    @staticmethod
    def of(size):
        return None if size is None else size["size"]["millimetres"]

    def cut(self, name):
        for one in self.review["dimensions"]:
            if one["dimension"] == name and one["side"] in (None, self.side):
                return one["cut"]["millimetres"]
        return None

    def fillet(self, at):
        """The fillet in the corner before the fourth and the fifth step, as far as it has room."""
        before, step = self.steps[at - 1], self.steps[at]
        return min(self.fillets[at - 3], 0.5 * (before[3] - step[2]), step[1] - step[0])

    def volume(self, teeth):
        """Cylinders and cones, less chamfers and holes, with fillets by Pappus."""
        total = sum(cone(end - begin, r / 2, q / 2) for begin, end, r, q in self.steps)
        pilot, major = self.steps[0][2] / 2, self.steps[-1][2] / 2
        total -= cone(PILOT_CHAMFER, pilot, pilot) - cone(PILOT_CHAMFER, pilot - PILOT_CHAMFER, pilot)
        if teeth:
            total -= self.spline_length * (math.pi * major**2 - self.toothed_area())
        else:
            total -= cone(END_CHAMFER, major, major) - cone(END_CHAMFER, major - END_CHAMFER, major)
        for at in (3, 4):
            f, r = self.fillet(at), self.steps[at][2] / 2
            square = f * f * (r + f / 2)
            quarter = math.pi / 4 * f * f * (r + f - 4 * f / (3 * math.pi))
            total += 2 * math.pi * (square - quarter)
        return total - sum(math.pi / 4 * d**2 * self.thickness for _, _, d in self.drilled())

    def toothed_area(self):
        spline = self.spline
        sizes = [spline[name]["millimetres"] for name in ("tooth_thickness_least", "tooth_thickness_most")]
        pitch, root = spline["pitch_diameter"]["millimetres"], spline["minor_diameter"]["millimetres"]
        thickness, tip = sum(sizes) / 2, self.steps[-1][2]
        area, _ = solid.section(spline["teeth"], spline["pressure_angle_degrees"], pitch, thickness, root, tip)
        return float(area)

    def drilled(self):
        """Place and diameter of each hole; two stud holes lie level at the bottom, the access hole between them."""
        step = 2 * math.pi / self.holes
        angles = [-math.pi / 2 + step / 2 + step * number for number in range(self.holes)]
        found = [(self.circle / 2 * math.cos(a), self.circle / 2 * math.sin(a), self.hole) for a in angles]
        if self.access:
            found.append((0.0, -self.access[1] / 2, self.access[0]))
        return found

    def faces(self, teeth):
        """How many faces of each kind there have to be, by counting along the outline."""
        planes, cylinders, cones = 2, 0, 1
        for before, after in zip(self.steps, self.steps[1:]):
            planes += abs(before[3] - after[2]) / 2 >= SAME
        for at in (3, 4):
            # A fillet as high as its step leaves nothing of the plane.
            planes -= 0.5 * (self.steps[at - 1][3] - self.steps[at][2]) - self.fillet(at) < SAME
        for begin, end, r, q in self.steps:
            cylinders += r == q
            cones += r != q
        cylinders += len(self.drilled())
        count = self.spline["teeth"] if teeth else 0
        flanks = 2 * count
        if teeth:
            # Tips and roots in place of one cylinder; the body stands at the tips and closes every space with a wall.
            cylinders += 2 * count - 1
            planes += count if self.steps[-2][3] == self.steps[-1][2] else 0
        else:
            cones += 1
        return {"planes": planes, "cylinders": cylinders, "cones": cones, "tori": 2, "extruded": flanks}


def cone(length, r, q):
    return math.pi * length * (r * r + r * q + q * q) / 3


def ends(shape):
    heights = [BRep_Tool.Pnt_s(TopoDS.Vertex(one)).Z() for one in solid.each(shape, TopAbs_VERTEX)]
    return min(heights), max(heights)


def check_shaft(place, file, sizes, teeth, faults, worst):
    """Holds one file against the sizes; returns its row."""
    row, hollows = solid.measure(file)
    found = dict(zip(solid.MEASURED, row))
    volume, allowed = sizes.volume(teeth), TOOTHED_VOLUME if teeth else VOLUME
    off = abs(found["volume_mm3"] / volume - 1)
    worst["toothed" if teeth else "plain"] = max(worst["toothed" if teeth else "plain"], off)
    if off > allowed:
        faults.append(f"{place}: {found['volume_mm3']:.3f} mm3, the sizes make {volume:.3f}")
    low, high = ends(solid.read(file))
    if abs(low + sizes.pilot_height) > PLACE or abs(high - sizes.length) > PLACE:
        faults.append(f"{place}: it reaches from {low:.6f} to {high:.6f} mm")
    wanted = sizes.drilled()
    if len(hollows) != len(wanted):
        faults.append(f"{place}: {len(hollows)} holes, not {len(wanted)}")
    for x, y, diameter in wanted:
        nearest = min((math.hypot(one[1] - x, one[2] - y) for one in hollows), default=math.inf)
        close = [one for one in hollows if math.hypot(one[1] - x, one[2] - y) < PLACE]
        worst["hole"] = max(worst["hole"], nearest)
        if not close or abs(close[0][3] - diameter) > PLACE:
            faults.append(f"{place}: no hole of {diameter:.4f} mm at {x:.4f}, {y:.4f}; the nearest lies {nearest:.2e} mm off")
        elif abs(close[0][4]) > PLACE or abs(close[0][5] - sizes.thickness) > PLACE:
            faults.append(f"{place}: a hole runs from {close[0][4]} to {close[0][5]} mm")
    for kind, count in sizes.faces(teeth).items():
        if found[kind] != count:
            faults.append(f"{place}: {found[kind]} {kind}, not {count}")
    if found["largest_tolerance_mm"] > 1e-6:
        faults.append(f"{place}: a gap of {found['largest_tolerance_mm']} mm had to be allowed")
    return row


def check_text(place, text, review, sizes, inches, faults):
    """Name, tooth data and unit, from the text of the file."""
    product = re.search(r"=PRODUCT\('((?:[^']|'')*)','((?:[^']|'')*)'", text)
    side, spline = sizes.side, sizes.spline
    told = [review["reference"], f"axle shaft {side},"]
    if spline:
        told += [f"{spline['teeth']} teeth", spline["pitch"], f"{spline['pressure_angle_degrees']:g} deg"]
        major, minor = sizes.steps[-1][2], spline["minor_diameter"]["millimetres"]
        unit = MILLIMETRES_PER_INCH if inches else 1.0
        shown = [f"{size / unit:.4f} in" if inches else f"{size / unit:.3f} mm" for size in (major, minor)]
        told += [f"major {shown[0]}", f"minor {shown[1]}"]
    for words in told:
        if product is None or words not in product[2]:
            faults.append(f"{place}: the product is not called `{words}`: {product and product[2]}")
    if ("CONVERSION_BASED_UNIT('INCH'" in text) != inches:
        faults.append(f"{place}: the file is in the wrong unit")


def examine(folder):
    executable, faults, rows = program(), [], []
    worst = {"plain": 0.0, "toothed": 0.0, "hole": 0.0}
    made = {"plain": 0, "toothed": 0, "refused": 0}
    for number, sheet in enumerate(sorted((ROOT / "demo" / "orders").glob("*.toml"))):
        review = json.loads(run(executable, "check", str(sheet), "--format", "json").stdout)
        sides = [one["side"] for one in review["fitted"]["differential"]["sides"]]
        for side in sides:
            for teeth in [False, True] if sheet.stem in TOOTHED else [False]:
                inches = number % 2 == 0
                place = f"{sheet.stem}, {side}{', teeth' if teeth else ''}"
                file = folder / f"{sheet.stem}-{side}{'-teeth' if teeth else ''}.step"
                words = ["--side", side, "--units", "inch" if inches else "millimetre", "--out", str(file)]
                drawn = run(executable, "draw", str(sheet), "--format", "step", *words, *(["--teeth"] if teeth else []))
                if "wants no shaft on that side" in drawn.stderr:
                    continue
                if drawn.returncode != 0:
                    if "nothing gives" not in drawn.stderr or "accepted:" not in drawn.stderr:
                        faults.append(f"{place}: {drawn.stderr}")
                    made["refused"] += 1
                    continue
                sizes = Sizes(review, side)
                row = check_shaft(place, file, sizes, teeth, faults, worst)
                check_text(place, file.read_text(encoding="ascii"), review, sizes, inches, faults)
                made["toothed" if teeth else "plain"] += 1
                if sheet.stem == RECORDED:
                    rows.append(row)
    print(f"{made['plain']} shafts without teeth, {made['toothed']} with, all valid; {made['refused']} lack a size and were refused")
    print(f"volume: {worst['plain']:.1e} off at worst without teeth, {worst['toothed']:.1e} with; holes: {worst['hole']:.1e} mm")
    if made["plain"] < 45 or made["toothed"] < 4 or made["refused"] > 2:
        faults.append(f"other shafts than expected: {made}")
    return faults, rows


def main():
    with tempfile.TemporaryDirectory() as folder:
        faults, rows = examine(Path(folder))
    source = f"OpenCascade through cadquery-ocp-novtk {version('cadquery-ocp-novtk')}"
    shown = [[value if isinstance(value, str) else round(value, 3) for value in row] for row in rows]
    table = solid.text("What OpenCascade measures of the shafts of one order.", source, solid.MEASURED, shown)
    table = table.replace("validation/solid/recipe.py", "validation/step/recipe.py")
    path = HERE / "measured.csv"
    if "--check" not in sys.argv:
        path.write_text(table, encoding="utf-8")
    elif path.read_text(encoding="utf-8") != table:
        faults.append("measured.csv: the files say something else now (regression)")
    print("\n".join(faults[:40]), file=sys.stderr, end="\n" if faults else "")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
