#!/usr/bin/env python3
"""Limits of ISO 286 zones as two packages from the Python registry give them.

Sources: pressfit 0.1.0 (shafts c to u without r, t, holes H, grades 5 to 11, up to 500 mm) and
isofits 1.0 (its own table of 75 zones over 3 and up to 400 mm, among them the holes J to R that
pressfit does not hold). They were typed by different people from different printed tables.

Writes zones.csv beside itself; with --check it looks up again and compares.

Sizes: the upper end of every intermediate step of ISO 286-1 and a size just above its lower end, so
that a slip at a border shows.
"""

import pathlib
import sys
from importlib.metadata import version

import isofits
import pressfit
from data import hole_data, shaft_data  # installed by isofits as a bare module

ENDS_MM = [
    0, 3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315,
    355, 400, 450, 500,
]
SIZES_MM = [
    size for low, high in zip(ENDS_MM, ENDS_MM[1:]) for size in (low + 0.1, float(high))
]
SHAFTS = ["c", "d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "s", "u"]
GRADES = range(5, 12)

FILE = pathlib.Path(__file__).with_name("zones.csv")


def number(value):
    return f"{value:g}"


def lines():
    made = [
        "# Limits of ISO 286 tolerance zones, deviations in micrometres, sizes in millimetres.",
        "# Recipe: validation/limits_fits/recipe.py",
        f"# Libraries: pressfit {version('pressfit')}, isofits {version('isofits')}",
        "source,size_mm,zone,lower_um,upper_um",
    ]

    def add(source, size, zone, lower, upper):
        # A plain zero where the table has a negative one.
        fields = [source, number(size), zone, number(lower + 0.0), number(upper + 0.0)]
        made.append(",".join(fields))

    for size in SIZES_MM:
        for grade in GRADES:
            fit = pressfit.fit(f"H{grade}/h{grade}", size)
            add("pressfit", size, f"H{grade}", fit.hole_ei_um, fit.hole_es_um)
            for letter in SHAFTS:
                fit = pressfit.fit(f"H{grade}/{letter}{grade}", size)
                add("pressfit", size, f"{letter}{grade}", fit.shaft_ei_um, fit.shaft_es_um)
    for body, table in (("hole", hole_data), ("shaft", shaft_data)):
        for zone in table:
            if zone in ("over", "inc."):
                continue
            for size in SIZES_MM:
                if 3 < size <= 400:
                    upper, lower = isofits.isotol(body, size, zone, "both")
                    add("isofits", size, zone, lower, upper)
    return made


def check(made):
    """Compares with the committed file; the numbers are exact decimals, so the text must be the same."""
    committed = FILE.read_text(encoding="utf-8").splitlines()
    wrong = [
        f"{FILE.name}:{place + 1}: {old!r} is committed, {new!r} computed"
        for place, (old, new) in enumerate(zip(committed, made))
        if old != new
    ]
    if len(committed) != len(made):
        wrong.append(f"{FILE.name}: {len(committed)} lines are committed, {len(made)} made")
    worst = max((deviation(old, new) for old, new in zip(committed, made)), default=0.0)
    numbers = sum(is_number(field) for line in made for field in line.split(","))
    print(f"{numbers} numbers compared, the worst lay off by {worst:.1e} of its size")
    print("\n".join(wrong), end="\n" if wrong else "")
    return 1 if wrong else 0


def is_number(field):
    try:
        float(field)
    except ValueError:
        return False
    return True


def deviation(old, new):
    """Largest relative difference of two lines' numbers."""
    pairs = [
        (float(a), float(b))
        for a, b in zip(old.split(","), new.split(","))
        if is_number(a) and is_number(b)
    ]
    return max((abs(a - b) / max(abs(b), 1e-12) for a, b in pairs), default=0.0)


def main():
    made = lines()
    if "--check" in sys.argv:
        return check(made)
    FILE.write_text("\n".join(made) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
