"""Weighs every explanation of an order afresh, in plain numpy, and some of them to 40 digits.

    python validation/enumeration/recipe.py                          writes usual.csv, full.csv and exact.csv
    python validation/enumeration/recipe.py --check                  computes them again and compares
    python validation/enumeration/recipe.py --weigh FILE MISTAKES    prints the probability of every explanation
    python validation/enumeration/recipe.py --time FILE MISTAKES     prints the seconds that one review takes

The orders, usual.json and full.json, are inputs. The method stands in README.md beside this file.
"""

import itertools
import json
import math
import sys
import time
from pathlib import Path

import mpmath
import numpy as np

HERE = Path(__file__).resolve().parent
POSTERIORS_FROM = 1e-5  # less probable explanations get no posterior
ROWS_AT_ONCE = 4096


class Model:
    """The arrays of one model: a row of `forms` for each reading and for each other meaning of one."""

    def __init__(self, model, share):
        priors = model["priors"]
        self.mean = np.array([prior["mean"] for prior in priors])
        self.variance = np.array([prior["standard_deviation"] for prior in priors]) ** 2
        self.count = len(model["readings"])
        meanings = model["readings"] + [meaning for mistake in model["mistakes"] for _, meaning in mistake["spoils"]]
        self.forms = np.zeros((len(meanings), len(priors)))
        for row, meaning in enumerate(meanings):
            for unknown, coefficient in meaning["terms"]:
                self.forms[row, unknown] += coefficient
        values = np.array([meaning["value"] - meaning["constant"] for meaning in meanings])
        self.surprise = values - self.forms @ self.mean
        self.error = np.array([meaning["standard_uncertainty"] for meaning in meanings]) ** 2
        self.rates = [mistake["rate"] for mistake in model["mistakes"]]
        self.spoils, row = [], self.count
        for mistake in model["mistakes"]:
            self.spoils.append([(reading, row + at) for at, (reading, _) in enumerate(mistake["spoils"])])
            row += len(mistake["spoils"])
        self.ln_share = math.log(share)
        self.own = [1.0] * self.count
        for rate, spoils in zip(self.rates, self.spoils):
            if len(spoils) == 1:
                self.own[spoils[0][0]] -= rate
        several = [rate for rate, spoils in zip(self.rates, self.spoils) if len(spoils) > 1]
        self.ln_sound = sum(math.log(own) for own in self.own) + sum(math.log1p(-rate) for rate in several)

    def ln_prior(self, mistakes):
        """A reading has one of its own mistakes or none; a mistake of several readings is made or not."""
        odds = 0.0
        for at in mistakes:
            sound = self.own[self.spoils[at][0][0]] if len(self.spoils[at]) == 1 else 1.0 - self.rates[at]
            odds += math.log(self.rates[at] / sound)
        return self.ln_share + self.ln_sound + odds

    def explanations(self, most):
        """Each permitted set of mistakes with the rows that the readings then have."""
        for size in range(most + 1):
            for mistakes in itertools.combinations(range(len(self.rates)), size):
                rows = list(range(self.count))
                spoiled = [change for at in mistakes for change in self.spoils[at]]
                if len({reading for reading, _ in spoiled}) < len(spoiled):
                    continue
                for reading, row in spoiled:
                    rows[reading] = row
                yield mistakes, rows

    def ln_evidence(self, rows):
        """The marginal likelihood of the readings: a normal with covariance A P A' + V."""
        forms, surprise = self.forms[rows], self.surprise[rows]
        spread = (forms * self.variance) @ forms.T + np.diag(self.error[rows])
        root = np.linalg.cholesky(spread)
        whitened = np.linalg.solve(root, surprise)
        return (
            -np.log(np.diag(root)).sum() - 0.5 * whitened @ whitened - 0.5 * self.count * math.log(2 * math.pi)
        )

    def ln_evidence_of_all(self, rows):
        """The same for a stack of explanations at once."""
        result = []
        for start in range(0, len(rows), ROWS_AT_ONCE):
            block = rows[start : start + ROWS_AT_ONCE]
            forms, surprise = self.forms[block], self.surprise[block]
            spread = (forms * self.variance) @ forms.transpose(0, 2, 1)
            diagonal = np.arange(self.count)
            spread[:, diagonal, diagonal] += self.error[block]
            root = np.linalg.cholesky(spread)
            whitened = np.linalg.solve(root, surprise[:, :, None])[:, :, 0]
            logarithms = np.log(root[:, diagonal, diagonal]).sum(axis=1)
            result.append(-logarithms - 0.5 * (whitened**2).sum(axis=1) - 0.5 * self.count * math.log(2 * math.pi))
        return np.concatenate(result)

    def posterior(self, rows):
        forms = self.forms[rows]
        spread = (forms * self.variance) @ forms.T + np.diag(self.error[rows])
        common = forms * self.variance
        gain = np.linalg.solve(spread, common).T
        return self.mean + gain @ self.surprise[rows], np.diag(self.variance) - gain @ common


def read(path):
    models = json.loads(Path(path).read_text())["models"]
    total = sum(model["weight"] for model in models)
    return [Model(model, model["weight"] / total) for model in models]


def review(models, most, stacked=False):
    """The explanations with their probabilities, and the posteriors of those that count."""
    names, rows, ln_weights = [], [], []
    for index, model in enumerate(models):
        listed = list(model.explanations(most))
        priors = [model.ln_prior(mistakes) for mistakes, _ in listed]
        if stacked:
            evidences = model.ln_evidence_of_all(np.array([row for _, row in listed]))
        else:
            evidences = [model.ln_evidence(row) for _, row in listed]
        names += [(index, mistakes) for mistakes, _ in listed]
        rows += [row for _, row in listed]
        ln_weights.append(np.array(priors) + np.array(evidences))
    ln_weights = np.concatenate(ln_weights)
    weights = np.exp(ln_weights - ln_weights.max())
    probabilities = weights / weights.sum()
    posteriors = {
        names[at]: models[names[at][0]].posterior(rows[at]) for at in np.flatnonzero(probabilities >= POSTERIORS_FROM)
    }
    return names, probabilities, posteriors


def table(names, probabilities):
    lines = [f"{index},{' '.join(map(str, mistakes))},{float(p)!r}" for (index, mistakes), p in zip(names, probabilities)]
    return "\n".join(["model,mistakes,probability", *lines]) + "\n"


def widened(path, factor):
    """The models of a file with the priors that are not firm made so many times as wide."""
    models = json.loads(Path(path).read_text())["models"]
    for model in models:
        for prior in model["priors"]:
            if not prior["firm"]:
                prior["standard_deviation"] *= factor
    return models


def exact_weight(model, share, mistakes):
    """Logarithm of the weight, means and standard deviations of the unknowns, at mpmath's precision."""
    mpf = mpmath.mpf
    meanings, ln_prior = list(model["readings"]), mpmath.log(mpf(share))
    own = [mpf(1)] * len(meanings)
    for at, mistake in enumerate(model["mistakes"]):
        rate = mpf(mistake["rate"])
        if len(mistake["spoils"]) == 1:
            own[mistake["spoils"][0][0]] -= rate
        elif at not in mistakes:
            ln_prior += mpmath.log(1 - rate)
    for at in mistakes:
        mistake = model["mistakes"][at]
        ln_prior += mpmath.log(mpf(mistake["rate"]))
        for reading, meaning in mistake["spoils"]:
            meanings[reading] = meaning
            if len(mistake["spoils"]) == 1:
                own[reading] = mpf(1)
    ln_prior += sum(mpmath.log(share) for share in own)
    readings, unknowns = len(meanings), len(model["priors"])
    mean = mpmath.matrix([mpf(prior["mean"]) for prior in model["priors"]])
    variance = [mpf(prior["standard_deviation"]) ** 2 for prior in model["priors"]]
    forms = mpmath.zeros(readings, unknowns)
    surprise = mpmath.zeros(readings, 1)
    for row, meaning in enumerate(meanings):
        for unknown, coefficient in meaning["terms"]:
            forms[row, unknown] += mpf(coefficient)
        expected = sum(forms[row, unknown] * mean[unknown] for unknown in range(unknowns))
        surprise[row] = mpf(meaning["value"]) - mpf(meaning["constant"]) - expected
    common = mpmath.matrix(readings, unknowns)
    for row, unknown in itertools.product(range(readings), range(unknowns)):
        common[row, unknown] = forms[row, unknown] * variance[unknown]
    spread = common * forms.T
    for row, meaning in enumerate(meanings):
        spread[row, row] += mpf(meaning["standard_uncertainty"]) ** 2
    root = mpmath.cholesky(spread)

    def whitened(column):
        result = []
        for row in range(readings):
            result.append((column[row] - sum(root[row, k] * result[k] for k in range(row))) / root[row, row])
        return result

    residual = whitened(surprise)
    ln_evidence = -sum(mpmath.log(root[row, row]) for row in range(readings))
    ln_evidence -= sum(entry**2 for entry in residual) / 2 + readings * mpmath.log(2 * mpmath.pi) / 2
    means, deviations = [], []
    for unknown in range(unknowns):
        along = whitened(common[:, unknown])
        means.append(mean[unknown] + sum(a * r for a, r in zip(along, residual)))
        deviations.append(mpmath.sqrt(variance[unknown] - sum(a * a for a in along)))
    return ln_prior + ln_evidence, means, deviations


def exact():
    """Every explanation of one model with up to one mistake and each 41st with two, as given and with wide priors."""
    mpmath.mp.dps = 40
    lines = [f"# mpmath {mpmath.__version__} at 40 digits", "factor,mistakes,ln_weight,means,standard_deviations"]
    for factor in [1, 400]:
        models = widened(HERE / "usual.json", factor)
        share = models[0]["weight"] / sum(model["weight"] for model in models)
        every = [mistakes for mistakes, _ in Model(models[0], share).explanations(2)]
        chosen = [mistakes for mistakes in every if len(mistakes) < 2]
        chosen += [mistakes for mistakes in every if len(mistakes) == 2][::41]
        for mistakes in chosen:
            ln_weight, means, deviations = exact_weight(models[0], share, mistakes)
            texts = [" ".join(repr(float(entry)) for entry in entries) for entries in (means, deviations)]
            lines.append(f"{factor},{' '.join(map(str, mistakes))},{float(ln_weight)!r},{texts[0]},{texts[1]}")
    return "\n".join(lines) + "\n"


def seconds(models, most, stacked):
    """The processor time of the quickest of as many reviews as fit into three seconds, at least three."""
    taken = []
    while len(taken) < 3 or sum(taken) < 3.0:
        start = time.process_time()
        review(models, most, stacked)
        taken.append(time.process_time() - start)
    return min(taken)


def columns(text):
    return [line.split(",") for line in text.splitlines() if not line.startswith("#")]


def compare(name, fresh, first_number, tolerance):
    old, new = columns((HERE / name).read_text()), columns(fresh)
    if [row[:first_number] for row in old] != [row[:first_number] for row in new]:
        return f"{name}: other rows"
    pairs = [
        (float(a), float(b))
        for one, other in zip(old[1:], new[1:])
        for left, right in zip(one[first_number:], other[first_number:])
        for a, b in zip(left.split(), right.split(), strict=True)
    ]
    worst = max(abs(a - b) / max(1.0, abs(b)) for a, b in pairs)
    print(f"{name}: {len(pairs)} numbers, worst difference {worst:.1e}")
    return None if worst <= tolerance else f"{name}: differs by {worst:.1e}"


def files():
    for name, most in [("usual", 2), ("full", 1)]:
        names, probabilities, _ = review(read(HERE / f"{name}.json"), most)
        yield f"{name}.csv", f"# numpy {np.__version__}\n" + table(names, probabilities), 2, 1e-10
    yield "exact.csv", exact(), 2, 1e-14


def main():
    match sys.argv[1:]:
        case ["--weigh", path, most]:
            names, probabilities, _ = review(read(path), int(most))
            print(table(names, probabilities), end="")
        case ["--time", path, most]:
            models = read(path)
            print(seconds(models, int(most), False), seconds(models, int(most), True))
        case ["--check"]:
            faults = [fault for fault in itertools.starmap(compare, files()) if fault]
            print("\n".join(faults), file=sys.stderr, end="\n" if faults else "")
            sys.exit(1 if faults else 0)
        case []:
            for name, text, *_ in files():
                (HERE / name).write_text(text)
                print(f"{name}: {text.count(chr(10))} lines")
        case _:
            sys.exit(__doc__)


if __name__ == "__main__":
    main()
