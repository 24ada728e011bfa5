"""Walks through the explanations of three orders by Markov chain Monte Carlo, and enumerates none.

    python validation/mixture/recipe.py                writes <order>.csv for every order beside it, in some minutes
    python validation/mixture/recipe.py --check        walks a short way with other seeds and compares, in less than a minute
    python validation/mixture/recipe.py --only ORDER   writes that one anew

The orders, *.json, are inputs. The method stands in README.md beside this file.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the matrices are small

import itertools
import json
import math
import sys
from pathlib import Path

import numpy as np
import scipy
from scipy.special import ndtr

HERE = Path(__file__).resolve().parent
SEED = 20_240_611
CHAINS = 64
SWEEPS, SETTLING = 500, 100
SHORT_SWEEPS, SHORT_SETTLING, SHORT_CHAINS = 60, 40, 32
WIDER = 1e4  # variance of the errors at first, in their own
BOUNDS_AT = (-1.5, -0.5, 0.5, 1.5)  # in standard deviations from the mean


class Order:
    """One order, all rows of all models in one array: readings as they say, then their other meanings, then the forms."""

    def __init__(self, path):
        data = json.loads(Path(path).read_text())
        models = data["models"]
        first = models[0]
        self.reading_names = data["readings"]
        self.form_names = [form["name"] for form in data["forms"]]
        self.readings, self.models = len(first["readings"]), len(models)
        structure = [(one["rate"], [reading for reading, _ in one["spoils"]]) for one in first["mistakes"]]
        for model in models:
            assert [(one["rate"], [reading for reading, _ in one["spoils"]]) for one in model["mistakes"]] == structure
        # The own meanings of each reading: the first is what it says. Rows are numbered alike in every model.
        self.own = [[reading] for reading in range(self.readings)]
        odds = [[0.0] for _ in range(self.readings)]
        sound = np.ones(self.readings)
        self.ties, self.ln_tie = [], []
        row = self.readings
        for rate, readings in structure:
            if len(readings) == 1:
                self.own[readings[0]].append(row)
                odds[readings[0]].append(math.log(rate))
                sound[readings[0]] -= rate
            else:
                self.ties.append({reading: row + at for at, reading in enumerate(readings)})
                self.ln_tie.append(math.log(rate / (1.0 - rate)))
            row += len(readings)
        self.own = [np.array(rows) for rows in self.own]
        self.ln_prior = [np.array([math.log(sound[at]), *own[1:]]) for at, own in enumerate(odds)]
        self.ln_tie = np.array(self.ln_tie)
        self.forms = np.arange(row, row + len(data["forms"]))
        weights = np.array([model["weight"] for model in models])
        self.ln_weight = np.log(weights / weights.sum())
        self.gram, self.surprise, self.error, self.form_means = [], [], [], []
        for model in models:
            mean = np.array([prior["mean"] for prior in model["priors"]])
            variance = np.array([prior["standard_deviation"] for prior in model["priors"]]) ** 2
            meanings = model["readings"] + [meaning for one in model["mistakes"] for _, meaning in one["spoils"]]
            coefficients = np.zeros((row + len(data["forms"]), len(mean)))
            for at, entry in enumerate(meanings + data["forms"]):
                for unknown, coefficient in entry["terms"]:
                    coefficients[at, unknown] += coefficient
            at_mean = coefficients @ mean
            values = np.array([meaning["value"] - meaning["constant"] for meaning in meanings])
            self.gram.append((coefficients * variance) @ coefficients.T)
            self.surprise.append(values - at_mean[:row])
            self.error.append(np.array([meaning["standard_uncertainty"] for meaning in meanings]) ** 2)
            self.form_means.append(at_mean[row:] + np.array([form["constant"] for form in data["forms"]]))
        self.gram, self.surprise = np.array(self.gram), np.array(self.surprise)
        self.error, self.form_means = np.array(self.error), np.array(self.form_means)


def drawn(ln_weights, chance):
    """One column of each row, as often as it weighs, and the weights brought to a sum of one."""
    weights = np.exp(ln_weights - ln_weights.max(axis=1, keepdims=True))
    weights /= weights.sum(axis=1, keepdims=True)
    at = (np.cumsum(weights, axis=1) < chance.random((len(weights), 1))).sum(axis=1)
    return np.minimum(at, ln_weights.shape[1] - 1), weights


class Walk:
    """Many chains at once. The state of a chain: its model, which ties are made, and which own meaning each reading has."""

    def __init__(self, order, chains, seed):
        self.order, self.chance = order, np.random.default_rng(seed)
        # While the chains settle, errors are taken for larger than they are at first, so that none stays where it began.
        self.error = order.error
        self.model = self.chance.integers(order.models, size=chains)
        self.made = np.zeros((chains, len(order.ties)), bool)
        self.meaning = np.zeros((chains, order.readings), int)
        # Half of the chains start with three readings mistaken somehow.
        for chain in range(0, chains, 2):
            for reading in self.chance.choice(order.readings, min(3, order.readings), replace=False):
                self.meaning[chain, reading] = self.chance.integers(len(order.own[reading]))
        self.chain = np.arange(chains)

    def tied_row(self, made, reading):
        """The row that a made tie gives a reading, or -1."""
        rows = np.full(len(made), -1)
        for at, tie in enumerate(self.order.ties):
            if reading in tie:
                rows[made[:, at]] = tie[reading]
        return rows

    def rows(self, made):
        own = np.stack([self.order.own[at][self.meaning[:, at]] for at in range(self.order.readings)], axis=1)
        for at, tie in enumerate(self.order.ties):
            for reading, row in tie.items():
                own[made[:, at], reading] = row
        return own

    def ln_evidence(self, model, rows):
        """Logarithm of the density of the readings, the unknowns integrated out, less a constant."""
        spread = self.order.gram[model[:, None, None], rows[:, :, None], rows[:, None, :]]
        diagonal = np.arange(rows.shape[1])
        spread[:, diagonal, diagonal] += self.error[model[:, None], rows]
        root = np.linalg.cholesky(spread)
        whitened = np.linalg.solve(root, self.order.surprise[model[:, None], rows][:, :, None])[:, :, 0]
        return -np.log(root[:, diagonal, diagonal]).sum(axis=1) - 0.5 * (whitened**2).sum(axis=1)

    def given_others(self, model, rows, others, candidates):
        """The surprise of the candidate rows given the other readings: residuals, covariance, and evidence of the others."""
        given = rows[:, others]
        spread = self.order.gram[model[:, None, None], given[:, :, None], given[:, None, :]]
        diagonal = np.arange(given.shape[1])
        spread[:, diagonal, diagonal] += self.error[model[:, None], given]
        root = np.linalg.cholesky(spread)
        common = self.order.gram[model[:, None, None], given[:, :, None], candidates[:, None, :]]
        surprise = self.order.surprise[model[:, None], given]
        whitened = np.linalg.solve(root, np.concatenate([surprise[:, :, None], common], axis=2))
        own, along = whitened[:, :, 0], whitened[:, :, 1:]
        across = along.transpose(0, 2, 1)
        covariance = self.order.gram[model[:, None, None], candidates[:, :, None], candidates[:, None, :]] - across @ along
        mean = (across @ own[:, :, None])[:, :, 0]
        ln_others = -np.log(root[:, diagonal, diagonal]).sum(axis=1) - 0.5 * (own**2).sum(axis=1)
        return mean, covariance, ln_others

    def options(self, reading, made):
        """The rows that a reading may take and their priors; a tied reading has the row of its tie alone."""
        rows = np.repeat(self.order.own[reading][None, :], len(made), axis=0)
        ln_prior = np.repeat(self.order.ln_prior[reading][None, :], len(made), axis=0)
        tied = self.tied_row(made, reading)
        rows[tied >= 0, 0] = tied[tied >= 0]
        ln_prior[tied >= 0, 1:] = -np.inf
        return rows, ln_prior

    def ln_pair(self, made, one, other, model):
        """Logarithm of the weight of every two meanings of two readings, given all others."""
        others = [at for at in range(self.order.readings) if at not in (one, other)]
        (first, ln_first), (second, ln_second) = self.options(one, made), self.options(other, made)
        candidates = np.concatenate([first, second], axis=1)
        mean, covariance, ln_others = self.given_others(model, self.rows(made), others, candidates)
        count = first.shape[1]
        residual = self.order.surprise[model[:, None], candidates] - mean
        diagonal = np.arange(candidates.shape[1])
        variance = covariance[:, diagonal, diagonal] + self.error[model[:, None], candidates]
        a, b = variance[:, :count, None], variance[:, None, count:]
        c = covariance[:, :count, count:]
        x, y = residual[:, :count, None], residual[:, None, count:]
        determinant = a * b - c * c
        ln_density = -0.5 * np.log(determinant) - 0.5 * (b * x * x - 2.0 * c * x * y + a * y * y) / determinant
        return ln_density + ln_first[:, :, None] + ln_second[:, None, :], ln_others

    def pair(self, one, other):
        """Draws the meanings of two readings together, and returns how probable it was that each is mistaken by itself."""
        ln_weights, _ = self.ln_pair(self.made, one, other, self.model)
        chains, first, second = ln_weights.shape
        at, weights = drawn(ln_weights.reshape(chains, -1), self.chance)
        self.meaning[:, one], self.meaning[:, other] = at // second, at % second
        weights = weights.reshape(chains, first, second)
        return weights[:, 1:, :].sum(axis=(1, 2)), weights[:, :, 1:].sum(axis=(1, 2))

    def can_be_made(self, tie, made):
        """Whether a tie meets only readings that nothing else spoils."""
        readings = list(self.order.ties[tie])
        free = (self.meaning[:, readings] == 0).all(axis=1)
        for other, members in enumerate(self.order.ties):
            if other != tie and not members.keys().isdisjoint(readings):
                free &= ~made[:, other]
        return free

    def two_ties_at_most(self):
        """Chains with at most two ties made draw which, out of every two that can be made together. Returns how probable it
        was that each reading is tied."""
        tied = np.zeros((len(self.model), self.order.readings))
        for at, tie in enumerate(self.order.ties):
            tied[:, list(tie)] += self.made[:, [at]]
        few = self.made.sum(axis=1) <= 2
        none, free = np.zeros_like(self.made), {}
        for at in range(len(self.order.ties)):
            free[at] = self.can_be_made(at, none)
        sets = [sorted(made) for size in range(3) for made in itertools.combinations(free, size) if self.disjoint(made)]
        ln_weights = np.full((len(self.model), len(sets)), -np.inf)
        for column, made in enumerate(sets):
            possible = few & np.all([free[at] for at in made], axis=0)
            if possible.any():
                rows = self.rows(none)
                for reading, row in [member for at in made for member in self.order.ties[at].items()]:
                    rows[:, reading] = row
                ln_evidence = self.ln_evidence(self.model[possible], rows[possible])
                ln_weights[possible, column] = ln_evidence + self.order.ln_tie[made].sum()
        ln_weights[~few] = 0.0
        at, weights = drawn(ln_weights, self.chance)
        for column, made in enumerate(sets):
            chosen = few & (at == column)
            self.made[chosen] = False
            self.made[np.ix_(chosen, made)] = True
        members = np.zeros((len(sets), self.order.readings))
        for column, made in enumerate(sets):
            members[column, [reading for at in made for reading in self.order.ties[at]]] = 1.0
        tied[few] = weights[few] @ members
        return tied

    def disjoint(self, ties):
        """Whether no reading is spoiled by two of these ties."""
        spoiled = [reading for tie in ties for reading in self.order.ties[tie]]
        return len(spoiled) == len(set(spoiled))

    def tie_beside_others(self, tie):
        """Makes a tie or not, whatever other ties are made."""
        off, on = self.made.copy(), self.made.copy()
        off[:, tie], on[:, tie] = False, True
        ln_off = self.ln_evidence(self.model, self.rows(off))
        ln_on = self.ln_evidence(self.model, self.rows(on)) + self.order.ln_tie[tie]
        ln_on = np.where(self.can_be_made(tie, off), ln_on, -np.inf)
        at, _ = drawn(np.stack([ln_off, ln_on], axis=1), self.chance)
        self.made[:, tie] = at == 1

    def tie_or_pair(self, tie, one, other):
        """Makes a tie, or lets two of its readings have meanings of their own while the rest of them are sound."""
        off, on = self.made.copy(), self.made.copy()
        off[:, tie], on[:, tie] = False, True
        kept = self.meaning[:, [one, other]].copy()
        self.meaning[:, [one, other]] = 0
        possible = self.can_be_made(tie, off)
        ln_on = self.ln_evidence(self.model, self.rows(on)) + self.order.ln_tie[tie]
        ln_on += self.order.ln_prior[one][0] + self.order.ln_prior[other][0]
        ln_pair, ln_others = self.ln_pair(off, one, other, self.model)
        chains, first, second = ln_pair.shape
        ln_off = (ln_pair + ln_others[:, None, None]).reshape(chains, -1)
        at, _ = drawn(np.concatenate([ln_off, ln_on[:, None]], axis=1), self.chance)
        made = at == first * second
        meaning = np.stack([np.where(made, 0, at // second), np.where(made, 0, at % second)], axis=1)
        self.meaning[:, [one, other]] = np.where(possible[:, None], meaning, kept)
        self.made[:, tie] = np.where(possible, made, self.made[:, tie])

    def model_with(self, one, other):
        """Draws the model and the meanings of two readings together, and returns how probable each model was."""
        ln_weights = []
        for index in range(self.order.models):
            ln_pair, ln_others = self.ln_pair(self.made, one, other, np.full(len(self.model), index))
            ln_weights.append(self.order.ln_weight[index] + ln_pair + ln_others[:, None, None])
        ln_weights = np.stack(ln_weights, axis=1)
        chains, models, first, second = ln_weights.shape
        at, weights = drawn(ln_weights.reshape(chains, -1), self.chance)
        self.model, at = at // (first * second), at % (first * second)
        self.meaning[:, one], self.meaning[:, other] = at // second, at % second
        return weights.reshape(chains, models, -1).sum(axis=2)

    def sweep(self):
        """Every reading once together with another one, the ties, and the model. Returns the probabilities met with."""
        order, mistaken = self.order, np.zeros((len(self.model), self.order.readings))
        shuffled = list(self.chance.permutation(order.readings))
        shuffled += shuffled[: len(shuffled) % 2]
        for one, other in zip(shuffled[::2], shuffled[1::2]):
            mistaken[:, one], mistaken[:, other] = self.pair(one, other)
        if order.ties:
            self.tie_beside_others(self.chance.integers(len(order.ties)))
            tie = self.chance.integers(len(order.ties))
            one, other = self.chance.choice(sorted(order.ties[tie]), 2, replace=False)
            self.tie_or_pair(tie, one, other)
        models = self.model_with(*self.chance.choice(order.readings, 2, replace=False))
        return mistaken, models

    def form_moments(self):
        """Mean and standard deviation of every form given the state of each chain."""
        rows = self.rows(self.made)
        candidates = np.repeat(self.order.forms[None, :], len(rows), axis=0)
        mean, covariance, _ = self.given_others(self.model, rows, list(range(self.order.readings)), candidates)
        diagonal = np.arange(len(self.order.forms))
        return self.order.form_means[self.model] + mean, np.sqrt(covariance[:, diagonal, diagonal])

    def count(self):
        """How many mistakes each chain holds."""
        return self.made.sum(axis=1) + (self.meaning > 0).sum(axis=1)

    def spoiled(self):
        """Which readings are mistaken in each chain."""
        by_tie = np.stack([self.tied_row(self.made, at) >= 0 for at in range(self.order.readings)], axis=1)
        return by_tie | (self.meaning > 0)


def table(order, chains, settling, sweeps, seed, bounds=None):
    """Rows of what was asked, given what, the estimate, its standard error, and the number of independent draws it is worth.

    Every chain gives one estimate of its own; the standard error is that of their mean. What is asked is given once with
    any number of mistakes, by the probabilities that the draws were made with, and once with two at most, by what was drawn."""
    walk = Walk(order, chains, seed)
    for at in range(settling):
        walk.error = order.error * WIDER ** max(0.0, 1.0 - 2.0 * at / settling)
        walk.sweep()
        walk.two_ties_at_most()
    walk.error = order.error
    mistaken, tied, models, means, deviations, counts, spoiled, model = [], [], [], [], [], [], [], []
    for at in range(sweeps):
        of_readings, of_models = walk.sweep()
        tied.append(walk.two_ties_at_most())
        mistaken.append(of_readings)
        models.append(of_models)
        mean, deviation = walk.form_moments()
        means.append(mean)
        deviations.append(deviation)
        counts.append(walk.count())
        spoiled.append(walk.spoiled())
        model.append(walk.model.copy())
    # Mistaken by itself or with others: these exclude each other.
    mistaken = np.array(mistaken) + np.array(tied)
    models, counts, spoiled, model = np.array(models), np.array(counts), np.array(spoiled), np.array(model)
    means, deviations = np.array(means), np.array(deviations)
    rows = []

    def add(what, which, at, given, by_draw, plain=None):
        """The mean over those draws that are `given`; the plain variance is that of a single independent draw."""
        kept, of_chain = given.mean(axis=0), (given * by_draw).mean(axis=0)
        estimate = of_chain.mean() / kept.mean()
        error = (of_chain - estimate * kept).std(ddof=1) / math.sqrt(chains) / kept.mean()
        variance = estimate * (1.0 - estimate) if plain is None else plain
        worth = variance / error**2 if error > 0.0 else math.inf
        rows.append((what, which, at, label, estimate, error, worth))
        return estimate

    everything, few = np.ones(counts.shape), (counts <= 2).astype(float)
    for label, given in [("any number", everything), ("two at most", few)]:
        for at, name in enumerate(order.reading_names):
            add("mistaken", at, name, given, mistaken[:, :, at] if given is everything else spoiled[:, :, at])
        for at in range(order.models):
            add("model", at, "", given, models[:, :, at] if given is everything else model == at)
        for most in range(6):
            add("mistakes", most, "at most", given, counts <= most)
        for at, name in enumerate(order.form_names):
            middle = (given * means[:, :, at]).sum() / given.sum()
            square = deviations[:, :, at] ** 2 + (means[:, :, at] - middle) ** 2
            spread = math.sqrt((given * square).sum() / given.sum())
            add("mean", at, name, given, means[:, :, at], spread**2)
            # The mean of the squares about the mean, as a standard deviation, by the delta method.
            add("deviation", at, name, given, (square + spread**2) / (2.0 * spread), spread**2)
            own = [round(float(middle + step * spread), 3) for step in BOUNDS_AT] if bounds is None else bounds[at, label]
            for bound in own:
                add(f"at most {bound!r}", at, name, given, ndtr((bound - means[:, :, at]) / deviations[:, :, at]))
    return rows


def text(rows, chains, sweeps):
    lines = [
        f"# numpy {np.__version__}, scipy {scipy.__version__}: {chains} chains of {sweeps} sweeps, seed {SEED}",
        "what,index,name,mistakes,estimate,standard_error,independent_draws",
    ]
    for what, which, name, label, estimate, error, worth in rows:
        lines.append(f"{what},{which},{name},{label},{estimate:.9g},{error:.3g},{min(worth, 1e9):.3g}")
    return "\n".join(lines) + "\n"


def committed(path):
    rows = [line.split(",") for line in path.read_text().splitlines() if not line.startswith("#")][1:]
    return [(what, int(at), name, label, float(estimate), float(error)) for what, at, name, label, estimate, error, _ in rows]


def check(path):
    """A short walk with another seed, against the long one. Chance alone passes five standard errors once in a million."""
    old = committed(path.with_suffix(".csv"))
    bounds = {}
    for what, which, _, label, *_ in old:
        if what.startswith("at most "):
            bounds.setdefault((which, label), []).append(float(what.removeprefix("at most ")))
    fresh = table(Order(path), SHORT_CHAINS, SHORT_SETTLING, SHORT_SWEEPS, SEED + 1, bounds)
    worst, usual, fault = 0.0, [], None
    scale = {(which, label): estimate for what, which, _, label, estimate, _ in old if what == "deviation"}
    for one, other in zip(old, fresh, strict=True):
        assert one[:4] == other[:4], f"{path.stem}: other rows"
        # A short walk may never meet with what is rare, and then knows nothing of its own error.
        least = 2e-4 if one[0] not in ("mean", "deviation") else 1e-3 * scale[one[1], one[3]]
        off = abs(one[4] - other[4]) / math.sqrt(one[5] ** 2 + other[5] ** 2 + least**2)
        usual.append(off)
        if off > worst:
            worst, fault = off, f"{path.stem}: {', '.join(map(str, one[:4]))}: {one[4]:.6g} and {other[4]:.6g}"
    print(f"{path.stem}: {len(old)} numbers, worst {worst:.1f} standard errors, usual {np.median(usual):.1f}")
    return None if worst <= 6.0 else f"{fault}, {worst:.1f} standard errors apart"


def main():
    orders = sorted(HERE.glob("*.json"))
    match sys.argv[1:]:
        case ["--check"]:
            faults = [fault for fault in map(check, orders) if fault]
            print("\n".join(faults), file=sys.stderr, end="\n" if faults else "")
            sys.exit(1 if faults else 0)
        case [] | ["--only", _]:
            for path in orders:
                if sys.argv[2:] in ([], [path.stem]):
                    rows = table(Order(path), CHAINS, SETTLING, SWEEPS, SEED)
                    path.with_suffix(".csv").write_text(text(rows, CHAINS, SWEEPS))
                    print(f"{path.stem}.csv: {len(rows)} numbers", flush=True)
        case _:
            sys.exit(__doc__)


if __name__ == "__main__":
    main()
