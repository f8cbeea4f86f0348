"""How fast is the gauge room: many budgets against one-by-one, and trials against their bare draws.

Prints times and ratios; asserts nothing. Run it as `python benchmarks/bench_gauge.py` with the package importable. Two
questions: ten thousand fits with six uncertain inputs and the probability of each (against the `uncertainties` package
and against bare numpy), and a million trials of example H.1 of JCGM 100:2008 (against drawing its inputs and nothing
else).
"""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

import numpy as np
from numpy.typing import NDArray

from tenthbook.trade.gauge.budget import combined_standard
from tenthbook.trade.gauge.conformity import probability_within
from tenthbook.trade.gauge.draws import Input
from tenthbook.trade.gauge.montecarlo import linear_sampler, propagate
from tenthbook.trade.gauge.shapes import Shape

FITS, TRIALS = 10_000, 1_000_000
LOWER_MM, UPPER_MM = 0.020, 0.045

Columns = tuple[NDArray[np.float64], ...]

H_1 = [
    Input(Shape.NORMAL, 25.0, 50_000_623.0, 18),
    Input(Shape.NORMAL, 5.8, 215.0, 24),
    Input(Shape.NORMAL, 3.9, 0.0, 5),
    Input(Shape.NORMAL, 6.7, 0.0, 8),
    Input(Shape.NORMAL, 1e-6 / 3**0.5, 0.0, 50),
    Input(Shape.NORMAL, 0.05 / 3**0.5, 0.0, 2),
]
H_1_SLOPES = [1.0, 1.0, 1.0, 1.0, 5_000_000.0, -575.0]


def best_of(times: int, *works: Callable[[], object]) -> list[float]:
    """Shortest of several runs of each, taken in turns, so that a busy moment of the machine meets all alike.

    Args:
        times: How many runs [-].
        *works: What to time.

    Returns:
        Time of each [s].
    """
    spent: list[list[float]] = [[] for _ in works]
    for _ in range(times):
        for work, row in zip(works, spent, strict=True):
            start = perf_counter()
            work()
            row.append(perf_counter() - start)
    return [min(row) for row in spent]


def fits() -> Columns:
    """Ten thousand bores, shafts, both expansions and both temperatures [mm, 1/degC, degC]."""
    rng = np.random.default_rng(1)
    return (
        rng.uniform(40.02, 40.03, FITS),
        rng.uniform(39.98, 40.0, FITS),
        rng.uniform(18e-6, 23e-6, FITS),
        rng.uniform(11e-6, 12e-6, FITS),
        rng.uniform(18.0, 30.0, FITS),
        rng.uniform(18.0, 30.0, FITS),
    )


STANDARDS = np.array([0.002, 0.002, 1e-6, 1e-6, 0.5, 0.5])


def room(columns: Columns) -> NDArray[np.float64]:
    """Probability of each fit [-], by this room."""
    bore, shaft, bore_a, shaft_a, bore_t, shaft_t = columns
    bore_grown, shaft_grown = 1.0 / (1.0 + bore_a * (bore_t - 20.0)), 1.0 / (1.0 + shaft_a * (shaft_t - 20.0))
    slopes = np.empty((FITS, 6))
    slopes[:, 0], slopes[:, 1] = bore_grown, -shaft_grown
    slopes[:, 2], slopes[:, 3] = -bore * (bore_t - 20.0) * bore_grown**2, shaft * (shaft_t - 20.0) * shaft_grown**2
    slopes[:, 4], slopes[:, 5] = -bore * bore_a * bore_grown**2, shaft * shaft_a * shaft_grown**2
    standard = combined_standard(STANDARDS, slopes)
    return probability_within(bore * bore_grown - shaft * shaft_grown, standard, LOWER_MM, UPPER_MM)


def bare(columns: Columns) -> NDArray[np.float64]:
    """The same with nothing but numpy and one compiled normal distribution [-]."""
    from scipy.special import ndtr

    bore, shaft, bore_a, shaft_a, bore_t, shaft_t = columns
    bore_grown, shaft_grown = 1.0 / (1.0 + bore_a * (bore_t - 20.0)), 1.0 / (1.0 + shaft_a * (shaft_t - 20.0))
    clearance = bore * bore_grown - shaft * shaft_grown
    u = STANDARDS
    variance = (
        (bore_grown * u[0]) ** 2
        + (shaft_grown * u[1]) ** 2
        + (bore * (bore_t - 20.0) * bore_grown**2 * u[2]) ** 2
        + (shaft * (shaft_t - 20.0) * shaft_grown**2 * u[3]) ** 2
        + (bore * bore_a * bore_grown**2 * u[4]) ** 2
        + (shaft * shaft_a * shaft_grown**2 * u[5]) ** 2
    )
    standard = np.sqrt(variance)
    return np.asarray(ndtr((UPPER_MM - clearance) / standard) - ndtr((LOWER_MM - clearance) / standard))


def one_by_one(columns: Columns) -> list[float]:
    """The same fit by fit with the `uncertainties` package [-]."""
    from statistics import NormalDist

    from uncertainties import ufloat

    normal, answers = NormalDist(), []
    for row in zip(*(column.tolist() for column in columns), strict=True):
        bore, shaft, bore_a, shaft_a, bore_t, shaft_t = map(ufloat, row, STANDARDS.tolist())
        clearance = bore / (1 + bore_a * (bore_t - 20)) - shaft / (1 + shaft_a * (shaft_t - 20))
        size, standard = clearance.nominal_value, clearance.std_dev
        answers.append(normal.cdf((UPPER_MM - size) / standard) - normal.cdf((LOWER_MM - size) / standard))
    return answers


def draw_only() -> None:
    """A million draws of each input of H.1 and nothing else, as whole arrays."""
    generator = np.random.Generator(np.random.PCG64(1))
    for one in H_1:
        generator.standard_t(one.dof, TRIALS)


def main() -> None:
    """Time both questions and print the ratios."""
    columns = fits()
    ours, least = best_of(50, lambda: room(columns), lambda: bare(columns))
    [slow] = best_of(2, lambda: one_by_one(columns))
    apart = np.abs(room(columns) - np.array(one_by_one(columns))).max()
    print(f"{FITS} fits, six uncertain inputs: {1e3 * ours:.2f} ms, greatest difference {apart:.1e}")
    print(f"  uncertainties package, one by one: {1e3 * slow:.0f} ms, {slow / ours:.0f} times as long")
    print(f"  bare numpy: {1e3 * least:.2f} ms, this room takes {ours / least:.2f} times as long")
    sampler = linear_sampler(H_1, H_1_SLOPES)
    drawn, *whole = best_of(
        7,
        draw_only,
        lambda: propagate(sampler, 0.99, TRIALS, workers=1),
        lambda: propagate(sampler, 0.99, TRIALS, workers=2),
    )
    print(f"{TRIALS} trials of H.1, only drawn: {1e3 * drawn:.0f} ms")
    for workers, spent in enumerate(whole, start=1):
        print(
            f"  drawn, added and read, {workers} worker(s): {1e3 * spent:.0f} ms, {spent / drawn:.2f} of only drawing"
        )


if __name__ == "__main__":
    main()
