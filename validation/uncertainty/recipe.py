"""Numbers for standard uncertainty: the end gauge of JCGM 100:2008, annex H.1, and quantiles.

`recipe.py` writes end_gauge.csv and quantiles.csv beside it; `recipe.py --check` computes them again and compares.
"""

import csv
import math
import sys
from pathlib import Path

from GTC import dof, reporting, type_b, uncertainty, ureal
from GTC.function import mul2
from scipy import stats

HERE = Path(__file__).resolve().parent

# Two processors may differ in the last bits; the quantiles come from iterations of their own.
RELATIVE_TOLERANCE = 1e-11


def end_gauge():
    """Annex H.1 with GTC, lengths in nanometres and temperatures in degrees Celsius."""
    standard = ureal(50.000623e6, 25, 18)
    difference = ureal(215, 5.8, 24) + ureal(0, 3.9, 5) + ureal(0, 6.7, 8)
    expansion = ureal(11.5e-6, type_b.uniform(2e-6))
    expansion_difference = ureal(0, type_b.uniform(1e-6), 50)
    temperature = ureal(-0.1, 0.2) + ureal(0, type_b.arcsine(0.5))
    temperature_difference = ureal(0, type_b.uniform(0.05), 2)

    first_order = (
        standard
        + difference
        - standard * (expansion_difference * temperature + expansion * temperature_difference)
    )
    second_order = (
        standard
        + difference
        - standard * (mul2(expansion_difference, temperature) + mul2(expansion, temperature_difference))
    )
    # The Guide cuts the degrees of freedom to 16 before it takes the factor.
    factor = reporting.k_factor(math.floor(dof(first_order)), 99)
    return [
        ("uncertainty of the difference", uncertainty(difference)),
        ("degrees of freedom of the difference", dof(difference)),
        ("uncertainty of the temperature", uncertainty(temperature)),
        ("combined uncertainty", uncertainty(first_order)),
        ("effective degrees of freedom", dof(first_order)),
        ("factor for 99 %", factor),
        ("expanded uncertainty", factor * uncertainty(first_order)),
        ("combined uncertainty with second order", uncertainty(second_order)),
    ]


PROBABILITIES = [0.001, 0.005, 0.025, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.975, 0.99, 0.995, 0.999, 0.999999]
DEGREES = [1, 2, 3, 4, 5, 6, 8, 9, 10, 12, 16, 16.75, 20, 25, 30, 50, 100, 200, 900, 1000, 1e4, 1e5, 1e6]


def quantiles():
    rows = []
    for probability in PROBABILITIES:
        rows.append((f"normal {probability} inf", float(stats.norm.ppf(probability))))
        for degrees in DEGREES:
            rows.append((f"student {probability} {degrees}", float(stats.t.ppf(probability, degrees))))
            rows.append((f"chi-squared {probability} {degrees}", float(stats.chi2.ppf(probability, degrees))))
    return rows


def main():
    files = {"end_gauge.csv": end_gauge(), "quantiles.csv": quantiles()}
    if "--check" not in sys.argv:
        for name, rows in files.items():
            with open(HERE / name, "w", newline="", encoding="utf-8") as file:
                writer = csv.writer(file, lineterminator="\n")
                writer.writerow(["what", "value"])
                writer.writerows((what, repr(value)) for what, value in rows)
        return 0
    compared, worst, wrong = 0, 0.0, []
    for name, rows in files.items():
        with open(HERE / name, newline="", encoding="utf-8") as file:
            committed = {row["what"]: float(row["value"]) for row in csv.DictReader(file)}
        if list(committed) != [what for what, _ in rows]:
            wrong.append(f"{name}: other rows than the recipe makes")
            continue
        for what, value in rows:
            compared += 1
            # A quantile that is nought is compared as it is.
            deviation = abs(value - committed[what]) / max(abs(value), 1e-3)
            worst = max(worst, deviation)
            if deviation > RELATIVE_TOLERANCE:
                wrong.append(f"{name}: {what}: {committed[what]!r} is committed, {value!r} computed")
    print(f"{compared} numbers compared, the worst lay off by {worst:.1e} of its size")
    print("\n".join(wrong), end="\n" if wrong else "")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
