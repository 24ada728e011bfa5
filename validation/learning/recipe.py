"""Posteriors of rates and variances by their conjugate distributions, and of rates that share their readings.

`recipe.py` writes rates.csv, variances.csv and shared.csv beside it; `recipe.py --check` computes them again and compares.
"""

import csv
import sys
from pathlib import Path

import numpy as np
from scipy import integrate, optimize, special, stats

HERE = Path(__file__).resolve().parent

# Two processors may differ in the last bits; quantiles come from iterations.
RELATIVE_TOLERANCE = 1e-9

# Rate beforehand, what it is worth in readings, slips (expected counts need not be whole), readings, probability.
RATES = [
    (0.005, 400, 0, 0, 0.95),
    (0.005, 400, 0, 1000, 0.95),
    (0.005, 400, 3, 200, 0.95),
    (0.005, 400, 15.4, 3341, 0.95),
    (0.0015, 400, 2.1, 2566, 0.90),
    (0.15, 400, 31.5, 147, 0.95),
    (0.02, 2000, 120, 2000, 0.99),
    (0.001, 1000, 0, 9999, 0.95),
    (0.5, 2, 1, 1, 0.5),
]

# Scale and degrees of freedom beforehand, sum of squares, errors, probability.
VARIANCES = [
    (1, 4, 0, 0, 0.95),
    (1, 8, 10, 4, 0.95),
    (1, 4, 400, 100, 0.95),
    (1, 4, 11.1, 100, 0.95),
    (0.25, 8, 3.7, 12, 0.90),
    (1, 4, 5400, 5400, 0.95),
    (2.5, 1, 0.3, 1, 0.5),
    (1, 4, 90000, 10000, 0.99),
]


def rates():
    """Beta posteriors: Gelman et al., Bayesian Data Analysis, 3rd ed., 2.4. The mean once more by numerical integration."""
    rows = []
    for rate, worth, slips, readings, probability in RATES:
        first = rate * worth + slips
        second = (1 - rate) * worth + readings - slips
        posterior = stats.beta(first, second)
        least, most = posterior.interval(probability)
        # Bayes' theorem without conjugacy: prior times likelihood, by the logarithm of the odds, where the density has no end.
        odds = np.linspace(special.logit(posterior.ppf(1e-13)), special.logit(posterior.ppf(1 - 1e-13)), 200001)
        grid = special.expit(odds)
        log = stats.beta(rate * worth, (1 - rate) * worth).logpdf(grid) + np.log(grid) + np.log1p(-grid)
        log += slips * np.log(grid) + (readings - slips) * np.log1p(-grid)
        weight = np.exp(log - log.max())
        mean = integrate.simpson(weight * grid, x=odds) / integrate.simpson(weight, x=odds)
        assert abs(mean / posterior.mean() - 1) < 1e-6, (mean, posterior.mean())
        rows.append([rate, worth, slips, readings, probability, float(posterior.mean()), float(least), float(most)])
    return ["rate", "worth", "slips", "readings", "probability", "mean", "least", "most"], rows


def variances():
    """Scaled inverse chi-squared posteriors: the same, 2.6, by scipy's inverse gamma distribution (ν/2, ν s²/2)."""
    rows = []
    for scale, degrees, squares, errors, probability in VARIANCES:
        after = degrees + errors
        scale_after = (degrees * scale + squares) / after
        posterior = stats.invgamma(after / 2, scale=after * scale_after / 2)
        least, most = posterior.interval(probability)
        # By the logarithm of the variance the density is largest at the scale, whatever the degrees of freedom.
        mode = optimize.minimize_scalar(
            lambda log: -(posterior.logpdf(np.exp(log)) + log),
            bracket=(np.log(scale_after) - 0.5, np.log(scale_after) + 0.6),
            options={"xtol": 1e-12},
        )
        assert abs(np.exp(mode.x) / scale_after - 1) < 1e-5, (np.exp(mode.x), scale_after)
        rows.append([scale, degrees, squares, errors, probability, float(scale_after), float(least), float(most)])
    return ["scale", "degrees", "squares", "errors", "probability", "scale_after", "least", "most"], rows


def shared():
    """Three mistakes that exclude each other in every reading: the Dirichlet posterior (the same, 3.4) and its marginals."""
    worth, readings = 400, 1500
    beforehand = [0.01, 0.005, 0.002]
    slips = [22, 3, 5.5]
    prior = np.array([worth * rate for rate in beforehand] + [worth * (1 - sum(beforehand))])
    counts = np.array(slips + [readings - sum(slips)])
    posterior = stats.dirichlet(prior + counts)
    whole = float((prior + counts).sum())
    rows = []
    for at, (rate, count) in enumerate(zip(beforehand, slips)):
        first = float((prior + counts)[at])
        least, most = stats.beta(first, whole - first).interval(0.95)
        rows.append([rate, worth, count, readings, float(posterior.mean()[at]), float(least), float(most)])
    return ["rate", "worth", "slips", "readings", "mean", "least", "most"], rows


def main():
    files = {"rates.csv": rates(), "variances.csv": variances(), "shared.csv": shared()}
    if "--check" not in sys.argv:
        for name, (heads, rows) in files.items():
            with open(HERE / name, "w", newline="", encoding="utf-8") as file:
                writer = csv.writer(file, lineterminator="\n")
                writer.writerow(heads)
                writer.writerows([repr(value) for value in row] for row in rows)
        return 0
    compared, worst, wrong = 0, 0.0, []
    for name, (heads, rows) in files.items():
        with open(HERE / name, newline="", encoding="utf-8") as file:
            committed = list(csv.reader(file))
        if committed[0] != heads or len(committed) != len(rows) + 1:
            wrong.append(f"{name}: other rows than the recipe makes")
            continue
        for row, stands in zip(rows, committed[1:]):
            for head, value, text in zip(heads, row, stands):
                compared += 1
                deviation = abs(value - float(text)) / max(abs(value), 1e-12) if value else abs(float(text))
                worst = max(worst, deviation)
                if deviation > RELATIVE_TOLERANCE:
                    wrong.append(f"{name}: {head}: {text} is committed, {value!r} computed")
    print(f"{compared} numbers compared, the worst lay off by {worst:.1e} of its size")
    print("\n".join(wrong), end="\n" if wrong else "")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
