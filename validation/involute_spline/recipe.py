#!/usr/bin/env python3
"""Inch involute splines worked out apart from the Rust code.

Source: the formulas of ANSI B92.1-1970 (R1993) for diameters, basic widths and class tolerances,
as two public transcriptions give them, and plane geometry for the pins.

The pins are not computed by the standard's closed formula. A circle of the pin's diameter is made
to touch one flank of its space: the flank is a curve unwound from the base circle, and mpmath's
findroot solves for the roll angle of the touching point and the distance of the pin's centre, so
that the point lies half a pin from the centre and the line between them stands square on the flank.
The space is mirror-symmetric about the x-axis, so that the other flank is touched as well.

Writes cases.csv beside itself; with --check it computes again and compares. The file is the same
byte for byte each time: there is nothing random in it, and mpmath rounds alike everywhere.
"""

import pathlib
import sys

import mpmath
from mpmath import cos, mp, mpf, pi, sin, tan

mp.dps = 30

FILE = pathlib.Path(__file__).with_name("cases.csv")

FORMS = [
    # angle, root, fit, external minor below N, internal major above N, internal minor below N,
    # widening of the basic width, coarsest and finest pitch
    ("30", "flat", "side", "1.35", "1.35", "1", "0", 2.5, 32),
    ("30", "flat", "major", "1.35", "1", "1", "0", 3, 16),
    ("30", "fillet", "side", None, "1.8", "1", "0", 2.5, 48),
    ("37.5", "fillet", "side", "1.3", "1.6", "0.8", "0.1", 2.5, 48),
    ("45", "fillet", "side", "1", "1.4", "0.6", "0.2", 10, 128),
]
PITCHES = [4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64, 80, 128]
TEETH = [6, 7, 9, 10, 13, 16, 19, 22, 27, 28, 29, 30, 31, 33, 35, 40, 47, 60, 83, 100]
CLASSES = {4: mpf("0.71"), 5: mpf(1), 6: mpf("1.40"), 7: mpf(2)}
# Pins as multiples of 1/P: the standard's two, and one thinner and one thicker.
PINS = ["1.5", "1.728", "1.92", "2.16"]
# Class 5 in 0.0001 in: coarsest pitch of the group, then m = a N + b and variation = c N + d.
GROUPS = [
    (4, "0.15", 13, "0.23", 18),
    (6, "0.15", 11, "0.20", 15),
    (10, "0.10", 11, "0.17", 14),
    (16, "0.07", 11, "0.12", 13),
    (24, "0.07", 11, "0.12", 11),
    (64, "0.06", 9, "0.10", 10),
    (128, "0.05", 9, "0.08", 9),
]


def flank_point(base_radius, start, roll):
    """Point of the involute that leaves the base circle at polar angle `start`, turning left."""
    x = base_radius * (cos(start + roll) + roll * sin(start + roll))
    y = base_radius * (sin(start + roll) - roll * cos(start + roll))
    return x, y


def touch(base_radius, start, external, pin, roll, centre):
    """Solves for the roll angle of the touching point and the distance of the pin's centre.

    `roll` and `centre` are first guesses. Inside, the flank above the axis leans the other way: it
    is the mirror image of one that starts below the axis.
    """
    mirror = 1 if external else -1

    def gaps(roll, centre):
        x, y = flank_point(base_radius, mirror * start, roll)
        y *= mirror
        # The flank runs along the base radius through the point where the string leaves the circle.
        along_x = cos(mirror * start + roll)
        along_y = mirror * sin(mirror * start + roll)
        return [
            ((x - centre) ** 2 + y**2 - (pin / 2) ** 2) / base_radius**2,
            ((x - centre) * along_x + y * along_y) / base_radius,
        ]

    roll, centre = mpmath.findroot(gaps, (roll, centre))
    x, y = flank_point(base_radius, mirror * start, roll)
    return roll, centre, mpmath.hypot(x, y), mirror * y


def first_guess(base_radius, start, external, pin):
    """Roll angle whose normal meets the axis one pin radius from the flank, by bisection."""
    if external:
        def pin_at(roll):
            return 2 * base_radius * (tan(start + roll) - roll)

        thin, thick = max(mpf(0), -start), mpf("1.5") - start
        if pin_at(thin) > pin:
            return None
    else:
        def pin_at(roll):
            return 2 * base_radius * (roll - tan(roll - start))

        # The largest pin has its centre on the base circle, where the normal is square to the axis.
        thin, thick = start + mpf("1.5"), start
        if pin_at(thick) < pin:
            return None
    for _ in range(60):
        middle = (thin + thick) / 2
        if pin_at(middle) < pin:
            thin = middle
        else:
            thick = middle
    roll = (thin + thick) / 2
    turn = start + roll if external else roll - start
    return roll, base_radius / cos(turn)


def gauge(external, teeth, pitch_diameter, angle, width, pin):
    """Size over or between two pins, distance of their centres and diameter of contact."""
    base_radius = pitch_diameter * cos(angle) / 2
    # Polar angle, from the middle of the space, at which the flank leaves the base circle.
    if external:
        start = pi / teeth - width / pitch_diameter - (tan(angle) - angle)
    else:
        start = width / pitch_diameter + (tan(angle) - angle)
    guess = first_guess(base_radius, start, external, pin)
    if guess is None:
        return None
    roll, centre, contact_radius, side = touch(base_radius, start, external, pin, *guess)
    if roll < 0 or side < 0:
        return None
    # Two pins: opposite for an even count, else half a pitch away from opposite.
    apart = pi if teeth % 2 == 0 else pi - pi / teeth
    centres = mpmath.hypot(centre - centre * cos(apart), centre * sin(apart))
    size = centres + pin if external else centres - pin
    return size, 2 * centre, 2 * contact_radius


def text(value):
    return "" if value is None else mpmath.nstr(value, 18)


COLUMNS = (
    "teeth,diametral,angle,root,fit,class,pin,"
    "pitch_diameter,base_diameter,basic,"
    "external_major,external_form,external_minor,internal_major,internal_form,internal_minor,"
    "machining,variation,"
    "thickness,over_size,over_contact,over_state,"
    "width,between_size,between_contact,between_state"
)


def external_state(gauged, pin, form, major, minor, base):
    if gauged is None:
        return "falls"
    _, centres, contact = gauged
    if not max(form, base) <= contact <= major:
        return "off"
    if centres + pin <= major:
        return "sunk"
    if centres - pin <= minor:
        return "root"
    return "touches"


def internal_state(gauged, pin, form, major, minor, base):
    if gauged is None:
        return "falls"
    _, centres, contact = gauged
    if not max(minor, base) <= contact <= form:
        return "off"
    if centres - pin >= minor:
        return "sunk"
    if centres + pin >= major:
        return "root"
    return "touches"


def case(form, teeth, pitch, klass, factor):
    angle_text, root, fit, below, above, inner, widening, _, _ = form
    n, p = mpf(teeth), mpf(pitch)
    angle = mpf(angle_text) * pi / 180
    diameter = n / p
    base = diameter * cos(angle)
    basic = (pi / 2 + mpf(widening)) / p
    clearance = min(max(diameter / 1000, mpf("0.002")), mpf("0.010"))
    if below is None:
        below = "1.8" if pitch <= 12 else "2"
    major_e, minor_e = (n + 1) / p, (n - mpf(below)) / p
    major_i, minor_i = (n + mpf(above)) / p, (n - mpf(inner)) / p
    form_e = minor_i - 2 * clearance
    if fit == "major":
        form_i = (n + mpf("0.8")) / p - mpf("0.004") + 2 * clearance
    else:
        form_i = (n + 1) / p + 2 * clearance
    _, a, b, c, d = [group for group in GROUPS if group[0] <= pitch][-1]
    scale = CLASSES[klass] / 10000
    machining = (mpf(a) * n + b) * scale
    variation = (mpf(c) * n + d) * scale
    pin = mpf(factor) / p
    thickness = basic - machining - variation
    width = basic + machining + variation
    over = gauge(True, teeth, diameter, angle, thickness, pin)
    between = gauge(False, teeth, diameter, angle, width, pin)
    over_state = external_state(over, pin, form_e, major_e, minor_e, base)
    between_state = internal_state(between, pin, form_i, major_i, minor_i, base)
    over = over or (None, None, None)
    between = between or (None, None, None)
    numbers = [
        pin, diameter, base, basic, major_e, form_e, minor_e, major_i, form_i, minor_i,
        machining, variation, thickness, over[0], over[2],
    ]
    fields = [str(teeth), f"{pitch:g}", angle_text, root, fit, str(klass)]
    fields += [text(number) for number in numbers]
    fields += [over_state, text(width), text(between[0]), text(between[2]), between_state]
    return ",".join(fields)


def lines():
    made = [
        "# Inch involute splines worked out with mpmath to 30 digits; inches.",
        "# Recipe: validation/involute_spline/recipe.py",
        f"# Library: mpmath {mpmath.__version__}, {mp.dps} digits, findroot on circle and involute",
        "# Source of the formulas: ANSI B92.1-1970 (R1993) as two public transcriptions give it",
        "# thickness is the smallest actual tooth thickness of the class, width the largest space",
        COLUMNS,
    ]
    for form in FORMS:
        for i, pitch in enumerate(PITCHES):
            if not form[7] <= pitch <= form[8]:
                continue
            for j, teeth in enumerate(TEETH):
                for k, factor in enumerate(PINS):
                    # Two of the four pins each time; every pair of pin and class comes up.
                    if (j + k) % 2 == 0:
                        klass = 4 + (i + j // 2 + k // 2) % 4
                        made.append(case(form, teeth, pitch, klass, factor))
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
