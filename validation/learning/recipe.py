"""Posteriors of rates and variances by their conjugate distributions, of rates that share their readings, and of orders that
scatter by an unknown multiple.

`recipe.py` writes the files beside it; `recipe.py --check` computes them again and compares.
"""

import csv
import random
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


# Orders whose readings scatter by an unknown multiple: each multiple with its share.
MULTIPLES = [(1, 0.7), (2, 0.2), (3, 0.1)]
# Variances of limit and set-up beforehand, what is known besides them, and what a slip adds; the size of the slip (mm).
LIMIT, SET_UP, KNOWN, SPREAD, SLIP = 0.04, 0.09, 0.01, 0.05, 3.0
# What the factors of instrument, limit and set-up are worth beforehand; the rate of the slip and what it is worth.
WORTH = np.array([4, 8, 8])
RATE, RATE_WORTH = 0.02, 400
# Orders, and readings of each; the first half of them has no set-up.
ORDERS, READINGS = 40, 8


def drawn_orders():
    """Errors of people whose limit is 1.6 times the variance that is believed, their set-up 0.7 times, and who slip in 4 %."""
    source = random.Random(20)
    orders = []
    for _ in range(ORDERS):
        level = source.random()
        multiple = 1 if level < 0.7 else 2 if level < 0.9 else 3
        errors = []
        for at in range(READINGS):
            learned = 1.6 * LIMIT + (0.7 * SET_UP if at >= READINGS // 2 else 0)
            slipped = source.random() < 0.04
            variance = KNOWN + multiple**2 * learned + (SPREAD if slipped else 0)
            errors.append(round(SLIP * slipped + float(stats.norm.ppf(source.random())) * variance**0.5, 4))
        orders.append(errors)
    return np.array(orders)


def ln_sum(terms):
    """The logarithm of a sum along the last axis; also of complex numbers."""
    largest = terms.real.max(axis=-1)
    return largest + np.log(np.exp(terms - largest[..., None]).sum(axis=-1))


def ln_orders(place, orders):
    """The logarithm of share times density of every order at every multiple, by ln φ of the three factors and the odds of the rate."""
    instrument, limit, set_up = np.exp(place[:3])
    ln_slip, ln_sound = -np.log1p(np.exp(-place[3])), -np.log1p(np.exp(place[3]))
    with_set_up = np.arange(READINGS) >= READINGS // 2
    by_multiple = []
    for multiple, share in MULTIPLES:
        variance = KNOWN + multiple**2 * instrument * (limit * LIMIT + set_up * SET_UP * with_set_up)
        sound = ln_sound - 0.5 * (np.log(variance) + orders**2 / variance)
        slip = ln_slip - 0.5 * (np.log(variance + SPREAD) + (orders - SLIP) ** 2 / (variance + SPREAD))
        by_multiple.append(np.log(share) + ln_sum(np.stack([sound, slip], axis=-1)).sum(axis=-1))
    return np.stack(by_multiple, axis=-1)


def scattered():
    """The mode of the posterior over factors and rate where multiples and slips are summed over, how likely each multiple of each
    order is there, and what the curvature says the factors and the rate are worth. No expectation-maximisation: Newton's steps on
    the sum itself, by complex differences, from several places."""
    orders = drawn_orders()

    def height(place):
        prior = -0.5 * (WORTH * (place[:3] + np.exp(-place[:3]))).sum()
        prior -= RATE_WORTH * (RATE * np.log1p(np.exp(-place[3])) + (1 - RATE) * np.log1p(np.exp(place[3])))
        return prior + ln_sum(ln_orders(place, orders)).sum()

    def slope(place):
        step = 1e-30
        return np.array([height(place + 1j * step * np.eye(4)[at]).imag / step for at in range(4)])

    def curvature(place):
        # Central differences of the slope, those of twice the step taken off so that the error is of fourth order.
        def differences(step):
            return np.array([(slope(place + step * np.eye(4)[at]) - slope(place - step * np.eye(4)[at])) / (2 * step)
                             for at in range(4)])
        found = (4 * differences(1e-3) - differences(2e-3)) / 3
        return 0.5 * (found + found.T)

    ends = []
    for factor in [0.5, 1, 2]:
        start = np.array([np.log(factor), 0, 0, special.logit(RATE)])
        place = optimize.minimize(lambda at: -height(at), start, jac=lambda at: -slope(at), method="BFGS").x
        for _ in range(5):
            place = place - np.linalg.solve(curvature(place), slope(place))
        ends.append(place)
    place = max(ends, key=height)
    assert all(np.abs(end - place).max() < 1e-9 for end in ends), ends
    covariance = np.linalg.inv(-curvature(place))
    limit, set_up = np.array([1, 1, 0, 0]), np.array([1, 0, 1, 0])
    rate = float(special.expit(place[3]))
    weights = ln_orders(place, orders)
    probabilities = np.exp(weights - ln_sum(weights)[:, None])
    # Both kinds of order have to be there, and some in doubt.
    assert (probabilities[:, 0] > 0.99).any() and (probabilities[:, 0] < 0.01).any()
    assert ((probabilities.max(axis=1) < 0.9).sum()) > 3
    heads = [f"error_{at + 1}" for at in range(READINGS)] + [f"multiple_{multiple}" for multiple, _ in MULTIPLES]
    rows = [[float(error) for error in errors] + [float(one) for one in chances]
            for errors, chances in zip(orders, probabilities)]
    estimate = [
        *(float(np.exp(one)) for one in place[:3]),
        rate,
        float(2 / (limit @ covariance @ limit)),
        float(2 / (set_up @ covariance @ set_up)),
        float(1 / (covariance[3, 3] * rate * (1 - rate))),
    ]
    names = ["instrument", "limit", "set_up", "rate", "limit_degrees", "set_up_degrees", "rate_worth"]
    return (heads, rows), (names, [estimate])


def main():
    orders, estimate = scattered()
    files = {
        "rates.csv": rates(),
        "variances.csv": variances(),
        "shared.csv": shared(),
        "scattered_orders.csv": orders,
        "scattered.csv": estimate,
    }
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
