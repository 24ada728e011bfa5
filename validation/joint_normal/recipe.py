"""Probabilities of rectangles under correlated normals, and marginals of mixtures of normals.

    python validation/joint_normal/recipe.py            writes rectangles.csv and marginals.csv
    python validation/joint_normal/recipe.py --check    computes them again and compares

Where the numbers come from, and how exact they are, stands in README.md beside this file.
"""

import itertools
import math
import sys
from pathlib import Path

import mpmath
import numpy as np
import scipy
from scipy.integrate import quad
from scipy.special import ndtr

HERE = Path(__file__).resolve().parent
FAR = 9.0  # beyond this many standard deviations lies 2e-19


def legendre(nodes):
    return np.polynomial.legendre.leggauss(nodes)


def density(z):
    return np.exp(-0.5 * z * z) / math.sqrt(2 * math.pi)


def nested(covariance, lower, upper, nodes):
    """One Gauss-Legendre rule in each direction but the last, which is integrated in closed form."""
    root = np.linalg.cholesky(covariance)
    x, w = legendre(nodes)
    heights = np.zeros((1, 0))
    weights = np.ones(1)
    size = len(lower)
    for row in range(size - 1):
        below = heights @ root[row, :row]
        low = np.clip((lower[row] - below) / root[row, row], -FAR, FAR)
        high = np.clip((upper[row] - below) / root[row, row], -FAR, FAR)
        half = 0.5 * (high - low)
        z = (0.5 * (low + high))[:, None] + half[:, None] * x[None, :]
        weights = (weights[:, None] * half[:, None] * w[None, :] * density(z)).ravel()
        heights = np.hstack([np.repeat(heights, nodes, axis=0), z.reshape(-1, 1)])
    below = heights @ root[-1, :-1]
    last = ndtr((upper[-1] - below) / root[-1, -1]) - ndtr((lower[-1] - below) / root[-1, -1])
    return float(weights @ last)


def factors(loadings, own, lower, upper, nodes):
    """Given the common factors the conditions are independent: a product under an integral over one or two factors."""
    panels = np.linspace(-FAR, FAR, 19)
    x, w = legendre(nodes)
    z = np.concatenate([0.5 * (a + b) + 0.5 * (b - a) * x for a, b in zip(panels, panels[1:])])
    weight = np.concatenate([0.5 * (b - a) * w for a, b in zip(panels, panels[1:])]) * density(z)
    count = loadings.shape[1]
    grids = np.meshgrid(*[z] * count, indexing="ij")
    weights = np.ones_like(grids[0])
    for axis in range(count):
        weights = weights * weight.reshape([-1 if other == axis else 1 for other in range(count)])
    product = np.ones_like(grids[0])
    for row in range(len(lower)):
        mean = sum(loadings[row, k] * grids[k] for k in range(count))
        deviation = math.sqrt(own[row])
        product *= ndtr((upper[row] - mean) / deviation) - ndtr((lower[row] - mean) / deviation)
    return float(np.sum(weights * product))


class Cases:
    def __init__(self):
        self.rows = []

    def add(self, kind, forms, own, lower, upper, value, uncertainty):
        assert uncertainty < 1e-7, (kind, uncertainty)
        assert -1e-12 < value < 1 + 1e-12
        name = f"{kind}-{sum(row[0].startswith(kind + '-') for row in self.rows) + 1}"
        self.rows.append((name, np.atleast_2d(forms), np.asarray(own, float), lower, upper, value, uncertainty))


def bounds_of(generator, deviation, sides):
    """Bounds of the kinds that conditions have: from below, from above, or from both sides."""
    low, high = np.full(len(deviation), -np.inf), np.full(len(deviation), np.inf)
    for at, scale in enumerate(deviation):
        side = sides[at % len(sides)]
        if side in "lb":
            low[at] = -scale * generator.uniform(0.2, 2.8)
        if side in "ub":
            high[at] = scale * generator.uniform(0.2, 2.8)
    return low, high


def rectangles():
    cases = Cases()
    generator = np.random.default_rng(20240917)
    for size, count, nodes in [(2, 8, 120), (3, 8, 90), (4, 6, 64), (5, 4, 36)]:
        for case in range(count):
            forms = generator.normal(size=(size, size + 2 + case % 3))
            forms *= 10.0 ** generator.uniform(-2, 2, size=(size, 1))
            covariance = forms @ forms.T
            low, high = bounds_of(generator, np.sqrt(np.diag(covariance)), ["b", "lu", "lbu", "u"][case % 4])
            fine = nested(covariance, low, high, nodes)
            coarse = nested(covariance, low, high, nodes * 3 // 4)
            cases.add(f"general{size}", forms, np.zeros(size), low, high, fine, abs(fine - coarse))
    for size in range(2, 7):
        for case in range(4):
            count = 1 + case % 2
            loadings = generator.uniform(-1.2, 1.2, size=(size, count))
            own = generator.uniform(0.05, 1.0, size=size) ** 2
            deviation = np.sqrt(own + (loadings**2).sum(axis=1))
            low, high = bounds_of(generator, deviation, "lub" if case < 2 else "b")
            if case == 3:  # as fit conditions are when an order is sound: each is very likely to hold
                low, high = 2.0 * low, 2.0 * high
            fine = factors(loadings, own, low, high, 24)
            coarse = factors(loadings, own, low, high, 16)
            cases.add(f"factor{size}", loadings, own, low, high, fine, abs(fine - coarse))
    orthants(cases)
    singular(cases)
    return cases.rows


def orthants(cases):
    """All conditions x > 0, with probabilities in closed form."""
    for rho in [0.5, -0.3, 0.95]:
        forms = np.array([[1.0, 0.0], [rho, math.sqrt(1 - rho * rho)]])
        exact = 0.25 + math.asin(rho) / (2 * math.pi)
        cases.add("orthant2", forms, np.zeros(2), np.zeros(2), np.full(2, np.inf), exact, 1e-15)
    correlation = np.array([[1.0, 0.3, -0.2], [0.3, 1.0, 0.6], [-0.2, 0.6, 1.0]])
    exact = 0.125 + sum(math.asin(correlation[i, j]) for i, j in itertools.combinations(range(3), 2)) / (4 * math.pi)
    cases.add("orthant3", np.linalg.cholesky(correlation), np.zeros(3), np.zeros(3), np.full(3, np.inf), exact, 1e-15)
    for size in [2, 3, 4, 5, 6]:  # equal correlation one half: 1/(n + 1)
        forms = np.full((size, 1), math.sqrt(0.5))
        half = np.full(size, 0.5)
        cases.add(f"equal{size}", forms, half, np.zeros(size), np.full(size, np.inf), 1 / (size + 1), 1e-15)


def singular(cases):
    """Conditions that follow from one another."""

    def one(low, high):
        return float(ndtr(high) - ndtr(low))

    inf = np.inf
    cases.add("same", [[2.0], [2.0]], [0, 0], [-2.0, -2.0], [3.0, 3.0], one(-1.0, 1.5), 1e-15)
    cases.add("same", [[2.0], [2.0]], [0, 0], [-2.0, -1.0], [3.0, inf], one(-0.5, 1.5), 1e-15)
    cases.add("same", [[2.0], [0.01]], [0, 0], [-2.0, -inf], [inf, 0.007], one(-1.0, 0.7), 1e-15)
    cases.add("negative", [[2.0], [-2.0]], [0, 0], [-2.0, -1.0], [3.0, inf], one(-1.0, 0.5), 1e-15)
    cases.add("negative", [[2.0], [-2.0]], [0, 0], [0.5, 0.5], [inf, inf], 0.0, 1e-15)
    cases.add("negative", [[1.0, 2.0], [-0.5, -1.0]], [0, 0], [-inf, -1.0], [4.0, 1.2],
              one(-2.4 / math.sqrt(5), 2.0 / math.sqrt(5)), 1e-15)
    # The third is the sum of the first two.
    for lower, upper in [
        ((-1.0, -1.5, -1.2), (1.3, 2.0, 1.8)),
        ((-inf, -inf, -0.4), (1.0, 1.2, inf)),
        ((-2.0, -2.0, -3.0), (2.0, 2.0, 0.3)),
    ]:
        def slice_of(x, lower=lower, upper=upper):
            width = ndtr(min(upper[1], upper[2] - x)) - ndtr(max(lower[1], lower[2] - x))
            return density(x) * max(width, 0.0)

        low, high = max(lower[0], -FAR), min(upper[0], FAR)
        kinks = [k for k in (upper[2] - upper[1], lower[2] - lower[1], upper[2] - lower[1], lower[2] - upper[1])
                 if math.isfinite(k) and low < k < high]
        value, error = quad(slice_of, low, high, points=kinks or None, epsabs=1e-12, epsrel=0, limit=400)
        cases.add("sum", [[1, 0], [0, 1], [1, 1]], [0, 0, 0], lower, upper, value, error)
    # A constant that holds, and one that does not.
    cases.add("constant", [[1.0], [0.0]], [0, 0], [-1.0, -0.5], [inf, 0.5], one(-1.0, inf), 1e-15)
    cases.add("constant", [[1.0], [0.0]], [0, 0], [-1.0, 0.5], [inf, 1.5], 0.0, 1e-15)


def marginals():
    """At most and mean excess of mixtures, to 30 digits."""
    mpmath.mp.dps = 30
    mixtures = [
        [(1.0, 0.0, 1.0)],
        [(1.0, 795.3, 0.4)],
        [(0.9, 795.3, 0.4), (0.1, 820.7, 0.8)],
        [(0.6, 10.0, 0.01), (0.3, 12.0, 2.0), (0.1, -5.0, 30.0)],
        [(0.5, 1.0, 0.25), (0.5, 3.0, 0.0)],
    ]
    offsets = [-8.0, -5.0, -2.5, -1.0, -0.25, 0.0, 0.4, 1.0, 2.5, 5.0, 8.0]
    rows = []
    for number, parts in enumerate(mixtures):
        weight, mean, deviation = parts[0]
        for offset in offsets:
            bound = mean + offset * deviation
            at_most = excess = mpmath.mpf(0)
            for weight, centre, spread in parts:
                distance = mpmath.mpf(bound) - mpmath.mpf(centre)
                if spread == 0:
                    at_most += weight * (1 if distance >= 0 else 0)
                    excess += weight * max(-distance, 0)
                    continue
                z = distance / mpmath.mpf(spread)
                at_most += mpmath.mpf(weight) * mpmath.ncdf(z)
                excess += mpmath.mpf(weight) * spread * (mpmath.npdf(z) - z * mpmath.ncdf(-z))
            rows.append((number, parts, bound, float(at_most), float(excess)))
    return rows


def number(value):
    return repr(float(value))


def text_of_rectangles(rows):
    lines = [
        f"# numpy {np.__version__}, scipy {scipy.__version__}. x = forms . z + own error, z standard normal; the probability",
        "# that lower <= x <= upper in every row. Rows of a matrix are parted by a semicolon.",
        "case,forms,own_variance,lower,upper,probability,uncertainty",
    ]
    for name, forms, own, lower, upper, value, uncertainty in rows:
        matrix = ";".join(" ".join(number(entry) for entry in row) for row in forms)
        vectors = [" ".join(number(entry) for entry in vector) for vector in (own, lower, upper)]
        lines.append(",".join([name, matrix, *vectors, number(value), f"{uncertainty:.0e}"]))
    return "\n".join(lines) + "\n"


def text_of_marginals(rows):
    lines = [
        f"# mpmath {mpmath.__version__} at 30 digits. Parts are weight, mean and standard deviation, parted by semicolons.",
        "mixture,parts,bound,at_most,mean_excess",
    ]
    for name, parts, bound, at_most, excess in rows:
        listed = ";".join(" ".join(number(entry) for entry in part) for part in parts)
        lines.append(f"{name},{listed},{number(bound)},{number(at_most)},{number(excess)}")
    return "\n".join(lines) + "\n"


def numbers_of(text):
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return lines[0], [line.split(",") for line in lines[1:]]


def compare(path, fresh, inputs, columns, tolerance):
    """What is wrong, if anything. Inputs may differ in the last bits of a square root, the results by the tolerance."""
    old_head, old = numbers_of(path.read_text())
    new_head, new = numbers_of(fresh)
    if old_head != new_head or len(old) != len(new):
        return f"{path.name}: other rows or columns"
    worst = 0.0
    for one, other in zip(old, new):
        if one[0] != other[0] or not all(all_close(one[at], other[at]) for at in inputs):
            return f"{path.name}: {one[0]}: another input"
        for at in columns:
            a, b = float(one[at]), float(other[at])
            worst = max(worst, abs(a - b) / max(1.0, abs(b)))
    print(f"{path.name}: {len(columns) * len(new)} numbers, worst difference {worst:.1e}")
    return None if worst <= tolerance else f"{path.name}: differs by {worst:.1e}"


def all_close(one, other):
    a, b = ([float(entry) for entry in text.replace(";", " ").split()] for text in (one, other))
    return len(a) == len(b) and all(x == y or abs(x - y) <= 1e-12 * abs(y) for x, y in zip(a, b))


def main():
    files = [
        (HERE / "rectangles.csv", text_of_rectangles(rectangles()), [1, 2, 3, 4], [5], 1e-9),
        (HERE / "marginals.csv", text_of_marginals(marginals()), [1, 2], [3, 4], 1e-14),
    ]
    if "--check" in sys.argv[1:]:
        faults = [fault for fault in itertools.starmap(compare, files) if fault]
        print("\n".join(faults), file=sys.stderr, end="\n" if faults else "")
        sys.exit(1 if faults else 0)
    for path, text, *_ in files:
        path.write_text(text)
        print(f"{path.name}: {text.count(chr(10))} lines")


if __name__ == "__main__":
    main()
