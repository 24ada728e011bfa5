"""What is known after a further reading, and the expected chance of lying within bounds that follow what is then known.

    python validation/further_reading/recipe.py            writes after.csv and expected.csv
    python validation/further_reading/recipe.py --check    computes them again and compares

The mixture, mixture.json, is an input. The method stands in README.md beside this file.
"""

import itertools
import json
import math
import sys
from pathlib import Path

import numpy as np
import scipy
from scipy.special import ndtr
from scipy.stats import norm

HERE = Path(__file__).resolve().parent
SEED = 20_240_612
DRAWS = 100_000
NODES, FEWER = (8, 24), (6, 16)  # a panel of the values of a reading; the first condition


class Mixture:
    def __init__(self):
        data = json.loads((HERE / "mixture.json").read_text())
        self.weights = np.array([part["weight"] for part in data["parts"]])
        self.means = np.array([part["mean"] for part in data["parts"]])
        width = self.means.shape[1]
        roots = np.zeros((len(self.weights), width, width))
        for at, part in enumerate(data["parts"]):
            for row, entries in enumerate(part["root"]):
                roots[at, row, : len(entries)] = entries
        self.roots = roots
        self.covariances = roots @ roots.transpose(0, 2, 1)
        self.conditions, self.readings = data["conditions"], data["readings"]
        self.values, self.pairs = data["values"], data["pairs"]

    def branches(self, chosen):
        """Every part with every reading sound or mistaken: a mistaken one has the spread of what is usual on top."""
        for at, weight in enumerate(self.weights):
            for wrong in itertools.product([False, True], repeat=len(chosen)):
                own, error = weight, []
                for mistaken, reading in zip(wrong, chosen):
                    row = self.readings[reading]
                    own *= row["mistaken"] if mistaken else 1.0 - row["mistaken"]
                    error.append(row["standard_uncertainty"] ** 2 + (row["usual"] ** 2 if mistaken else 0.0))
                yield own, self.means[at], self.covariances[at], np.array(error)

    def posterior(self, chosen, values):
        """For values of shape (..., readings): weights, density, and the moments of the conditioned forms by branch."""
        forms = [self.readings[at]["form"] for at in chosen]
        wanted = [condition["form"] for condition in self.conditions]
        weights, means, covariances = [], [], []
        for own, mean, covariance, error in self.branches(chosen):
            read = covariance[np.ix_(forms, forms)] + np.diag(error)
            off = values - mean[forms]
            solved = np.linalg.solve(read, off[..., None])[..., 0]
            ln_density = -0.5 * (off * solved).sum(-1) - 0.5 * np.linalg.slogdet(2.0 * math.pi * read)[1]
            weights.append(own * np.exp(ln_density))
            common = covariance[np.ix_(wanted, forms)]
            means.append(mean[wanted] + solved @ common.T)
            covariances.append(covariance[np.ix_(wanted, wanted)] - common @ np.linalg.solve(read, common.T))
        weights = np.array(weights)
        density = weights.sum(axis=0)
        return weights / np.maximum(density, 1e-300), density, np.array(means), np.array(covariances)

    def within(self, weights, means, covariances, sizes, nodes):
        """The chance that both conditions hold about these sizes, the first one integrated by a Gauss-Legendre rule."""
        first, second = self.conditions
        node, share = np.polynomial.legendre.leggauss(nodes)
        total = np.zeros(sizes.shape[:-1])
        for weight, mean, covariance in zip(weights, means, covariances):
            v, w, c = covariance[0, 0] + first["own_variance"], covariance[1, 1] + second["own_variance"], covariance[0, 1]
            deviation, left = math.sqrt(v), math.sqrt(w - c * c / v)
            off = sizes - mean
            low = np.clip((off[..., 0] - first["below"]) / deviation, -9.0, 9.0)
            high = np.clip((off[..., 0] + first["above"]) / deviation, -9.0, 9.0)
            half = 0.5 * (high - low)[..., None]
            z = 0.5 * (high + low)[..., None] + half * node
            along = c / deviation * z
            upper = ndtr((off[..., 1, None] + second["above"] - along) / left)
            lower = ndtr((off[..., 1, None] - second["below"] - along) / left)
            total += weight * (half * share * norm.pdf(z) * (upper - lower)).sum(axis=-1)
        return total

    def after(self, chosen, values, nodes):
        """The density of the values, and the chance of fitting once the sizes follow the mean of what is then known."""
        weights, density, means, covariances = self.posterior(chosen, values)
        sizes = (weights[..., None] * means).sum(axis=0)
        return density, self.within(weights, means, covariances, sizes, nodes)

    def panels(self, reading, nodes):
        """A rule over all values that a reading may have: Gauss-Legendre panels, narrow about every part."""
        row = self.readings[reading]
        edges = set()
        for mean, covariance in zip(self.means, self.covariances):
            variance = covariance[row["form"], row["form"]] + row["standard_uncertainty"] ** 2
            for deviation in (math.sqrt(variance), math.sqrt(variance + row["usual"] ** 2)):
                steps = [-7.0, -5.0, -3.5, -2.0, -1.0, 0.0, 1.0, 2.0, 3.5, 5.0, 7.0]
                edges.update(round(mean[row["form"]] + step * deviation, 6) for step in steps)
        edges = np.array(sorted(edges))
        node, share = np.polynomial.legendre.leggauss(nodes)
        half = 0.5 * np.diff(edges)[:, None]
        return ((0.5 * (edges[1:] + edges[:-1])[:, None] + half * node).ravel(), (half * share).ravel())

    def expected(self, chosen, nodes):
        of_value, of_condition = nodes
        if not chosen:
            weights, _, means, covariances = self.posterior([], np.zeros((1, 0)))
            sizes = (weights[..., None] * means).sum(axis=0)
            return float(self.within(weights, means, covariances, sizes, of_condition)[0])
        rules = [self.panels(reading, of_value) for reading in chosen]
        grid = np.stack(np.meshgrid(*[rule[0] for rule in rules], indexing="ij"), axis=-1)
        shares = np.prod(np.stack(np.meshgrid(*[rule[1] for rule in rules], indexing="ij"), axis=-1), axis=-1)
        total = sure = 0.0
        for values, share in zip(np.array_split(grid, 64), np.array_split(shares, 64)):
            if values.size:
                density, fits = self.after(chosen, values, of_condition)
                total += (share * density * fits).sum()
                sure += (share * density).sum()
        assert abs(sure - 1.0) < 1e-6, sure
        return float(total)

    def sampled(self, chosen):
        """The same by brute force: truth, readings, sizes that follow the posterior mean, and whether it fits then."""
        chance = np.random.default_rng(SEED + sum(3**at for at in chosen))
        part = chance.choice(len(self.weights), size=DRAWS, p=self.weights)
        truth = self.means[part] + np.einsum("kij,kj->ki", self.roots[part], chance.standard_normal((DRAWS, self.means.shape[1])))
        values = np.zeros((DRAWS, len(chosen)))
        for at, reading in enumerate(chosen):
            row = self.readings[reading]
            wrong = chance.random(DRAWS) < row["mistaken"]
            deviation = np.sqrt(row["standard_uncertainty"] ** 2 + wrong * row["usual"] ** 2)
            values[:, at] = truth[:, row["form"]] + deviation * chance.standard_normal(DRAWS)
        weights, _, means, _ = self.posterior(chosen, values)
        sizes = (weights[..., None] * means).sum(axis=0) * np.ones((DRAWS, 1))
        fits = np.ones(DRAWS, bool)
        for at, condition in enumerate(self.conditions):
            made = truth[:, condition["form"]] + math.sqrt(condition["own_variance"]) * chance.standard_normal(DRAWS)
            fits &= (made >= sizes[:, at] - condition["below"]) & (made <= sizes[:, at] + condition["above"])
        return fits.mean(), fits.std() / math.sqrt(DRAWS)


def after(mixture):
    lines = [f"# numpy {np.__version__}, scipy {scipy.__version__}", "reading,value,means,deviations,covariance,within"]
    for reading, value in mixture.values:
        weights, _, means, covariances = mixture.posterior([reading], np.array([value]))
        sizes = (weights[:, None] * means).sum(axis=0)
        off = means - sizes
        whole = (weights[:, None, None] * (covariances + off[:, :, None] * off[:, None, :])).sum(axis=0)
        within = float(mixture.within(weights, means, covariances, sizes, NODES[1]))
        deviations = np.sqrt(np.diag(whole))
        texts = [" ".join(f"{entry:.12g}" for entry in entries) for entries in (sizes, deviations)]
        lines.append(f"{reading},{value!r},{texts[0]},{texts[1]},{whole[0, 1]:.12g},{within:.12g}")
    return "\n".join(lines) + "\n"


def expected(mixture):
    lines = [
        f"# numpy {np.__version__}, scipy {scipy.__version__}: quadrature with its uncertainty, and {DRAWS} draws, seed {SEED}",
        "readings,expected,uncertainty,sampled,standard_error",
    ]
    for chosen in [[], *([at] for at in range(len(mixture.readings))), *mixture.pairs]:
        fine, coarse = mixture.expected(chosen, NODES), mixture.expected(chosen, FEWER)
        by_force, error = mixture.sampled(chosen)
        assert abs(fine - coarse) < 1e-6, (chosen, fine, coarse)
        assert abs(by_force - fine) < 4.0 * error, (chosen, fine, by_force, error)
        name = " ".join(map(str, chosen))
        lines.append(f"{name},{fine:.12g},{abs(fine - coarse):.1e},{by_force:.8g},{error:.3g}")
    return "\n".join(lines) + "\n"


def files():
    mixture = Mixture()
    yield "after.csv", after(mixture)
    yield "expected.csv", expected(mixture)


def numbers(text):
    rows = [line.split(",") for line in text.splitlines() if not line.startswith("#")][1:]
    # The uncertainty of the quadrature is itself but rounding.
    return [[float(entry) for column in row[:2] + row[3:] for entry in column.split()] for row in rows]


def compare(name, fresh):
    old, new = numbers((HERE / name).read_text()), numbers(fresh)
    pairs = [(a, b) for one, other in zip(old, new, strict=True) for a, b in zip(one, other, strict=True)]
    worst = max(abs(a - b) / max(1.0, abs(b)) for a, b in pairs)
    print(f"{name}: {len(pairs)} numbers, worst difference {worst:.1e}")
    # A draw that lies on a bound may fall to the other side on another processor.
    return None if worst <= 1e-5 else f"{name}: differs by {worst:.1e}"


def main():
    match sys.argv[1:]:
        case ["--check"]:
            faults = [fault for fault in itertools.starmap(compare, files()) if fault]
            print("\n".join(faults), file=sys.stderr, end="\n" if faults else "")
            sys.exit(1 if faults else 0)
        case []:
            for name, text in files():
                (HERE / name).write_text(text)
                print(f"{name}: {text.count(chr(10))} lines")
        case _:
            sys.exit(__doc__)


if __name__ == "__main__":
    main()
