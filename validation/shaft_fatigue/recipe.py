#!/usr/bin/env python3
"""Stress, safety and damage of a shaft section, from the handbook's formulas at 30 digits.

    python validation/shaft_fatigue/recipe.py            computes the numbers and writes cases.csv
    python validation/shaft_fatigue/recipe.py --check    computes them again and compares

Where the formulas come from stands in README.md beside this file.
"""

import sys
from pathlib import Path

import mpmath
from mpmath import mp, mpf

mp.dps = 30
HERE = Path(__file__).resolve().parent
FILE = HERE / "cases.csv"

# Tensile strength, yield strength, corrected endurance limit, all MPa: a soft, a usual and a hard steel.
STEELS = [(700, 420, 210), (1000, 800, 300), (1750, 1610, 420)]
DIAMETERS_MM = [22, 28.575, 35.02, 44.45]
# Notch factors in bending and torsion.
NOTCHES = [(1, 1), (1.7, 1.4), (2.2, 3.0)]
# Bending moment and torque of three load cases, N m, as shares of a scale, and how often each comes.
LOADS = [
    [(0.4, 0.0, "3e7"), (0.7, 2.0, "8e3"), (1.5, 0.0, "2e6")],
    [(0.1, 0.0, "1e8"), (0.2, 1.2, "5e4"), (0.6, 0.0, "4e5")],
]
# Strength at a thousand cycles over the tensile strength.
AT_A_THOUSAND = mpf("0.77")


def section(steel, diameter, notch, loads):
    tensile, yielding, endurance = (mpf(value) for value in steel)
    d = mpf(str(diameter))
    bending, torsion = (mpf(str(value)) for value in notch)
    # The scale keeps every stress of the row below the tensile strength.
    scale = mpf("0.2") * tensile * d**3 / 1000
    exponent = mpmath.log10(AT_A_THOUSAND * tensile / endurance) / 3
    slope = 1 / exponent
    damage = mpf(0)
    rows = []
    for moment_share, torque_share, cycles in loads:
        moment = mpf(str(moment_share)) * scale / 10
        torque = mpf(str(torque_share)) * scale / 10
        n = mpf(cycles)
        sigma = 32 * moment * 1000 / (mp.pi * d**3)
        tau = 16 * torque * 1000 / (mp.pi * d**3)
        von_mises = mpmath.sqrt(sigma**2 + 3 * tau**2)
        # Bending turns with the shaft; torque comes and goes between nought and its full height.
        alternating = mpmath.sqrt((bending * sigma) ** 2 + 3 * (torsion * tau / 2) ** 2)
        mean = mpmath.sqrt(3) * torsion * tau / 2
        assert mean < tensile
        goodman = 1 / (alternating / endurance + mean / tensile)
        elliptic = 1 / mpmath.sqrt((alternating / endurance) ** 2 + (mean / yielding) ** 2)
        reversed_stress = alternating / (1 - mean / tensile)
        share = reversed_stress / endurance
        borne = mpf(10) ** 6 * share ** (-slope if share >= 1 else 1 - 2 * slope)
        damage += n / borne
        rows.append((moment, torque, n, von_mises, alternating, mean, goodman, elliptic, borne))
    return exponent, rows, damage


def text():
    columns = ["tensile", "yield", "endurance", "diameter", "bending_factor", "torsion_factor", "exponent", "damage"]
    each = ["moment", "torque", "cycles", "von_mises", "alternating", "mean", "goodman", "elliptic", "borne"]
    columns += [f"{name}_{number}" for number in (1, 2, 3) for name in each]
    lines = [f"# mpmath {mpmath.__version__}, 30 digits; MPa, mm, N m", ",".join(columns)]
    for steel in STEELS:
        for diameter in DIAMETERS_MM:
            for notch in NOTCHES:
                for loads in LOADS:
                    exponent, rows, damage = section(steel, diameter, notch, loads)
                    values = [*steel, diameter, *notch, exponent, damage]
                    values += [value for row in rows for value in row]
                    lines.append(",".join(mpmath.nstr(mpf(value), 17) for value in values))
    return "\n".join(lines) + "\n"


def compare(made, stands):
    worst, count = mpf(0), 0
    made, stands = made.splitlines()[1:], stands.splitlines()[1:]
    if len(made) != len(stands) or made[0] != stands[0]:
        return "rows or columns differ"
    for one, other in zip(made[1:], stands[1:]):
        for got, expected in zip(one.split(","), other.split(",")):
            count += 1
            worst = max(worst, abs(mpf(got) - mpf(expected)) / max(abs(mpf(expected)), mpf("1e-300")))
    print(f"{FILE.name}: {count} numbers, worst relative deviation {mpmath.nstr(worst, 2)}")
    return None if worst < mpf("1e-15") else "numbers differ"


def main():
    made = text()
    if "--check" in sys.argv[1:]:
        fault = compare(made, FILE.read_text())
        if fault:
            print(f"{FILE.name}: {fault}", file=sys.stderr)
        sys.exit(1 if fault else 0)
    FILE.write_text(made)
    print(f"{FILE.name}: {made.count(chr(10))} lines")


if __name__ == "__main__":
    main()
