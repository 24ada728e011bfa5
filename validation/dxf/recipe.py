"""Draws every order of the demo, reads the drawings with ezdxf and an XML parser, and compares.

    python validation/dxf/recipe.py                     writes sizes.csv
    python validation/dxf/recipe.py --check             draws again, audits, measures and compares
    python validation/dxf/recipe.py --pictures FOLDER   writes a page with the pictures that changed
    python validation/dxf/recipe.py --accept            takes the hashes of the pictures over, once somebody has looked

What is compared stands in README.md beside this file.
"""

import csv
import hashlib
import io
import json
import math
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import ezdxf
import resvg_py

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
sys.path.insert(0, str(ROOT / "validation"))
from program import program  # noqa: E402
VIEWS = ["shaft", "flange", "housing", "pair"]
LOOKS = [("iso", "millimetre"), ("asme", "inch"), ("asme", "dual"), ("iso", "dual")]
PICTURED = LOOKS[:2]
RECORDED = "01-hay-truck"
MILLIMETRES_PER_INCH = 25.4
# Numbers in a DXF have six decimals, on paper that may be at 1:10.
READ_BACK = 2e-5


def run(*words):
    return subprocess.run(words, cwd=ROOT, check=False, capture_output=True, text=True, env={**os.environ, "NO_COLOR": "1"})


class Order:
    """An order with its review and its drawings."""

    def __init__(self, executable, sheet, looks):
        self.name = sheet.stem
        self.looks = looks
        self.review = json.loads(run(executable, "check", str(sheet), "--format", "json").stdout)
        self.drawings = {}
        for view in VIEWS:
            for standard, units in looks:
                for form in ["dxf", "svg"]:
                    words = ["--view", view, "--standard", standard, "--units", units, "--format", form]
                    drawn = run(executable, "draw", str(sheet), *words)
                    if drawn.returncode != 0:
                        sys.exit(f"{sheet}: {drawn.stderr}")
                    self.drawings[view, standard, units, form] = drawn.stdout

    def dimension(self, name, side):
        for one in self.review.get("dimensions", []):
            if one["dimension"] == name and one["side"] in (None, side):
                return one
        return None


def text_numbers(words):
    """The numbers of the leading unit in a dimension's text, which come before any bracket."""
    return [(number, len(number.partition(".")[2])) for number in re.findall(r"\d*\.\d+|\d+", words.split("[")[0])]


def limits_in(words):
    """The least and the largest size that a text allows, with a step of its last decimal."""
    # Each unit has its own way to state a tolerance; the leading one is compared.
    words = words.split("[")[0]
    numbers = text_numbers(words.replace("%%c", " ").replace("%%p", " ±").replace("/-", " "))
    if len(numbers) < 2:
        return None
    (first, places), (second, _) = numbers[0], numbers[1]
    step = 10.0**-places
    if "%%p" in words:
        return float(first) - float(second), float(first) + float(second), step
    if " +" in words:
        return float(first) - float(numbers[2][0]), float(first) + float(second), step
    return min(float(first), float(second)), max(float(first), float(second)), step


def check_dxf(order, key, text, faults, rows):
    view, standard, units, _ = key
    place = f"{order.name}, {view}, {standard}, {units}"
    document = ezdxf.read(io.StringIO(text))
    audit = document.audit()
    faults += [f"{place}: {one.message}" for one in audit.errors + audit.fixes]
    factor = document.dimstyles.get("AXLEWRIGHT").dxf.dimlfac
    space = document.modelspace()
    compared, names = 0, set()
    for entity in space.query("DIMENSION"):
        data = [tag.value for tag in entity.get_xdata("AXLEWRIGHT") if tag.code != 1001]
        name, side, basis, scaled = data[:4]
        if (name, side) in names:
            faults.append(f"{place}: two dimensions {name}, {side}")
        names.add((name, side))
        if entity.get_geometry_block() is None or len(entity.get_geometry_block()) < 3:
            faults.append(f"{place}: the dimension {name} has no picture")
        known = order.dimension(name, first_side(order) if side == "both" else side)
        size = data[-1] if isinstance(data[-1], float) else None
        if size is None:
            if "NOT KNOWN" not in entity.dxf.text:
                faults.append(f"{place}: {name} has no size and does not say so")
            continue
        # Which unit leads is seen from the measurement itself, which is in that unit.
        stated = entity.dxf.actual_measurement
        unit = MILLIMETRES_PER_INCH if abs(stated * MILLIMETRES_PER_INCH - size) < abs(stated - size) else 1.0
        if abs(stated * unit - size) > READ_BACK * unit:
            faults.append(f"{place}: {name} states {stated}, its data {size}")
        if scaled == "to scale":
            measured = entity.get_measurement() * factor * unit
            if abs(measured - size) > 10 * READ_BACK:
                faults.append(f"{place}: {name} measures {measured:.5f} mm on the paper, not {size:.5f}")
        if known is None:
            continue
        compared += 1
        if abs(size - known["cut"]["millimetres"]) > READ_BACK:
            faults.append(f"{place}: {name} is {size}, the review says {known['cut']['millimetres']}")
        if basis != known["basis"]:
            faults.append(f"{place}: {name} is {basis}, the review says {known['basis']}")
        limits = limits_in(entity.dxf.text)
        if limits and "(" not in entity.dxf.text:
            least, most, step = limits
            true = [known[end]["millimetres"] / unit for end in ("least", "most")]
            inside = true[0] - 1e-6 <= least and most <= true[1] + 1e-6
            # Both are rounded inwards, by less than a step.
            close = least - true[0] < 1.01 * step and true[1] - most < 1.01 * step
            if not (inside and close):
                faults.append(f"{place}: {name} allows {least} to {most}, the review {true[0]:.6f} to {true[1]:.6f}")
        if order.name == RECORDED and (standard, units) == LOOKS[0]:
            rows.append([view, name, side, basis, f"{size:.4f}", entity.dxf.text])
    if view == "flange":
        check_circles(order, place, space, factor, faults)
    return compared


def first_side(order):
    sides = [one["side"] for one in order.review["dimensions"] if one["side"]]
    return sides[0] if sides else None


def check_circles(order, place, space, factor, faults):
    """The circles of the flange against the review, without a look at any dimension."""
    # At 1:5 a millimetre of paper is 0.2 in of the part, and no millimetre of paper is less than one of the part.
    unit = MILLIMETRES_PER_INCH if factor < 0.5 else 1.0
    outlines = [one for one in space.query("CIRCLE") if one.dxf.layer == "OUTLINE"]
    flange = order.dimension("flange_diameter", None)
    circle, hole = order.dimension("bolt_circle", None), order.dimension("stud_hole", None)
    if not outlines or flange is None:
        return
    largest = max(outlines, key=lambda one: one.dxf.radius)
    found = 2 * largest.dxf.radius * factor * unit
    if abs(found - flange["cut"]["millimetres"]) > 10 * READ_BACK:
        faults.append(f"{place}: the flange is {found:.4f} mm wide")
    centre = largest.dxf.center
    # The symbol in the title block has circles of its own.
    apart = [one for one in outlines if 1.0 < one.dxf.center.distance(centre) < largest.dxf.radius]
    access = order.review["fitted"]["access_hole"]
    if access["diameter"] and access["circle"]:
        # Straight below the axis, with the size and the circle of the sheet.
        size, across = (access[name]["size"]["millimetres"] for name in ("diameter", "circle"))
        found = [
            one
            for one in apart
            if abs(one.dxf.center.x - centre.x) < 1e-5 and abs(2 * one.dxf.radius * factor * unit - size) < 10 * READ_BACK
        ]
        if len(found) != 1 or abs(2 * (centre.y - found[0].dxf.center.y) * factor * unit - across) > 10 * READ_BACK:
            faults.append(f"{place}: the access hole of {size:.4f} mm does not lie on its circle")
        apart = [one for one in apart if one not in found]
    if not apart or circle is None:
        return
    for one in apart:
        across = 2 * one.dxf.center.distance(centre) * factor * unit
        if abs(across - circle["cut"]["millimetres"]) > 10 * READ_BACK:
            faults.append(f"{place}: a hole lies on a circle of {across:.4f} mm")
        wide = 2 * one.dxf.radius * factor * unit
        if hole and abs(wide - hole["cut"]["millimetres"]) > 10 * READ_BACK:
            faults.append(f"{place}: a hole is {wide:.4f} mm wide")
    holes = order.review["fitted"]["holes"]
    if len(apart) != holes:
        faults.append(f"{place}: {len(apart)} holes, not {holes}")
    angles = sorted(math.atan2(one.dxf.center.y - centre.y, one.dxf.center.x - centre.x) for one in apart)
    steps = [b - a for a, b in zip(angles, angles[1:])]
    if any(abs(step - 2 * math.pi / holes) > 1e-5 for step in steps):
        faults.append(f"{place}: the holes are not equally spaced")


def check_svg(order, key, text, faults):
    place = f"{order.name}, {', '.join(key)}"
    try:
        tree = ElementTree.fromstring(text)
    except ElementTree.ParseError as error:
        faults.append(f"{place}: {error}")
        return 0
    compared, seen = 0, set()
    for element in tree.iter():
        name = element.get("data-dimension")
        if name is None:
            continue
        if element.get("id") in seen:
            faults.append(f"{place}: two dimensions {element.get('id')}")
        seen.add(element.get("id"))
        known = order.dimension(name, element.get("data-side") or first_side(order))
        if known and element.get("data-mm"):
            compared += 1
            if abs(float(element.get("data-mm")) - known["cut"]["millimetres"]) > 1e-4:
                faults.append(f"{place}: {name} is {element.get('data-mm')}")
    if not seen:
        faults.append(f"{place}: no dimension has a name")
    return compared


def picture(text):
    return bytes(resvg_py.svg_to_bytes(svg_string=text, dpi=72))


def drawn():
    executable = program()
    sheets = sorted((ROOT / "demo" / "orders").glob("*.toml"))
    with ThreadPoolExecutor(max_workers=2) as pool:
        # Two looks for each order, so that all four come up for every fourth one.
        looks = [[LOOKS[number % 4], LOOKS[(number + 1) % 4]] for number in range(len(sheets))]
        return list(pool.map(lambda sheet, own: Order(executable, sheet, own), sheets, looks))


def hashes(orders):
    return {
        f"{order.name}-{view}-{standard}-{units}": hashlib.sha256(picture(order.drawings[view, standard, units, "svg"])).hexdigest()
        for order in orders
        for view in VIEWS
        for standard, units in order.looks
        if (standard, units) in PICTURED
    }


def accepted():
    path = HERE / "pictures.csv"
    return dict(csv.reader(path.read_text().splitlines()[1:])) if path.exists() else {}


def examine(orders):
    faults, rows, read, named = [], [], 0, 0
    for order in orders:
        for key, text in order.drawings.items():
            if key[-1] == "dxf":
                read += check_dxf(order, key, text, faults, rows)
            else:
                named += check_svg(order, key, text, faults)
    print(f"{len(orders)} orders, {sum(len(order.drawings) for order in orders)} drawings")
    print(f"{read} sizes read from DXF and {named} from SVG, held against the reviews")
    if read < 30 * len(orders) or named < 30 * len(orders):
        faults.append("too few sizes were found to compare")
    return faults, rows


def table(rows):
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["view", "dimension", "side", "basis", "millimetres", "text"])
    writer.writerows(rows)
    return out.getvalue()


def page(folder, orders):
    """New pictures beside the ones that were there before, for the eyes of a person."""
    folder.mkdir(parents=True, exist_ok=True)
    known, rows = accepted(), []
    for order in orders:
        for view in VIEWS:
            for standard, units in [look for look in order.looks if look in PICTURED]:
                name = f"{order.name}-{view}-{standard}-{units}"
                shown = picture(order.drawings[view, standard, units, "svg"])
                if hashlib.sha256(shown).hexdigest() == known.get(name):
                    continue
                old, new = folder / f"{name}-old.png", folder / f"{name}.png"
                if new.exists():
                    new.replace(old)
                new.write_bytes(shown)
                before = f'<img src="{old.name}" alt="before">' if old.exists() else "not there before"
                rows.append(f'<h2>{name}</h2><div>{before}</div><div><img src="{new.name}" alt="now"></div>')
    style = "<style>body{font-family:sans-serif;background:#ddd}img{width:100%;background:#fff}</style>"
    html = f"<!doctype html><meta charset=utf-8><title>Drawings that changed</title>{style}{''.join(rows)}"
    (folder / "index.html").write_text(html)
    print(f"{len(rows)} pictures changed: {folder / 'index.html'}")


def check(orders):
    faults, rows = examine(orders)
    if table(rows) != (HERE / "sizes.csv").read_text():
        faults.append("sizes.csv: the drawings say something else now")
    known, now = accepted(), hashes(orders)
    changed = sorted(name for name in now if known.get(name) != now[name])
    print(f"{len(now)} pictures, {len(changed)} changed (regression)")
    faults += [f"picture {name} changed: look at it (--pictures FOLDER), then --accept" for name in changed]
    print("\n".join(faults[:40]), file=sys.stderr, end="\n" if faults else "")
    sys.exit(1 if faults else 0)


def main():
    match sys.argv[1:]:
        case ["--check"]:
            check(drawn())
        case ["--pictures", folder]:
            page(Path(folder), drawn())
        case ["--accept"]:
            lines = [f"{name},{value}" for name, value in sorted(hashes(drawn()).items())]
            (HERE / "pictures.csv").write_text("\n".join(["picture,sha256", *lines]) + "\n")
            print(f"pictures.csv: {len(lines)} pictures")
        case []:
            faults, rows = examine(drawn())
            (HERE / "sizes.csv").write_text(table(rows))
            print(f"sizes.csv: {len(rows)} sizes, {len(faults)} faults")
            print("\n".join(faults[:40]))
        case _:
            sys.exit(__doc__)


if __name__ == "__main__":
    main()
