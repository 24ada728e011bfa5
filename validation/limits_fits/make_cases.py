#!/usr/bin/env python3
"""Makes zones.csv: limits of ISO 286 zones as two packages from the Python registry give them.

Sources: pressfit 0.1.0 (shafts c to u without r, t, holes H, grades 5 to 11, up to 500 mm) and
isofits 1.0 (its own table of 75 zones over 3 and up to 400 mm, among them the holes J to R that
pressfit does not hold). They were typed by different people from different printed tables.

Run:  python3 -m venv .venv && .venv/bin/pip install pressfit==0.1.0 isofits==1.0
      .venv/bin/python make_cases.py > zones.csv

Sizes: the upper end of every intermediate step of ISO 286-1 and a size just above its lower end, so
that a slip at a border shows.
"""

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


def number(value):
    return f"{value:g}"


def main():
    print("# Limits of ISO 286 tolerance zones, deviations in micrometres, sizes in millimetres.")
    print("# Recipe: validation/limits_fits/make_cases.py")
    print(f"# Libraries: pressfit {version('pressfit')}, isofits {version('isofits')}")
    print("source,size_mm,zone,lower_um,upper_um")
    for size in SIZES_MM:
        for grade in GRADES:
            fit = pressfit.fit(f"H{grade}/h{grade}", size)
            print(f"pressfit,{number(size)},H{grade},{number(fit.hole_ei_um)},{number(fit.hole_es_um)}")
            for letter in SHAFTS:
                fit = pressfit.fit(f"H{grade}/{letter}{grade}", size)
                low, high = number(fit.shaft_ei_um), number(fit.shaft_es_um)
                print(f"pressfit,{number(size)},{letter}{grade},{low},{high}")
    for body, table in (("hole", hole_data), ("shaft", shaft_data)):
        for zone in table:
            if zone in ("over", "inc."):
                continue
            for size in SIZES_MM:
                if not 3 < size <= 400:
                    continue
                upper = isofits.isotol(body, size, zone, "upper")
                lower = isofits.isotol(body, size, zone, "lower")
                # A plain zero where the table has a negative one.
                print(f"isofits,{number(size)},{zone},{number(lower + 0.0)},{number(upper + 0.0)}")


if __name__ == "__main__":
    main()
