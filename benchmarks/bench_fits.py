"""Ten thousand fits: as one batch of the calculator, one by one with a general package, and as bare arrays.

Prints times and ratios; asserts nothing. Run it as `python benchmarks/bench_fits.py` with the package importable. Two
questions. How fast is the whole contract, from JSON text to JSON text, beside the `uncertainties` package that is given
ready numbers? And how much does the room of fits add to the same formulas in bare numpy, once all is arrays?
"""

from __future__ import annotations

import json
from collections.abc import Callable
from statistics import NormalDist
from time import perf_counter
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr
from uncertainties import ufloat

from tenthbook.faces.calculators import load
from tenthbook.faces.calculators.answers import to_json
from tenthbook.faces.calculators.contract import parse
from tenthbook.numbers.limit import Bands
from tenthbook.trade.fit.clearance import GradedFits, clearance_uncertainty, grade_fits

FITS, ONE_BY_ONE = 10_000, 1_000
TENTH_PM = 2_540_000
NEW, SERVICE = (10, 22), (10, 37)
"""Limits of the clearance, in ten-thousandths of an inch; the service pair completed by the new one."""

FACTOR = NormalDist().inv_cdf(0.95)
Whole = NDArray[np.int64]


def best_of(times: int, work: Callable[[], object]) -> float:
    """Take the best of several runs.

    Args:
        times: How many runs [-].
        work: What to time, without arguments.

    Returns:
        Shortest wall time [s].
    """
    spent = []
    for _ in range(times):
        start = perf_counter()
        work()
        spent.append(perf_counter() - start)
    return min(spent)


def parts() -> tuple[Whole, Whole, Whole, Whole]:
    """Make parts as they are measured.

    Returns:
        Holes, shafts [0.0001 in], and both standard uncertainties [0.00001 in].
    """
    random = np.random.default_rng(1)
    shaft = random.integers(12_480, 12_500, FITS)
    return shaft + random.integers(0, 45, FITS), shaft, random.integers(5, 30, FITS), random.integers(5, 30, FITS)


def question(hole: int, shaft: int, u_hole: int, u_shaft: int) -> dict[str, Any]:
    """Ask for one fit as a mechanic types it.

    Args:
        hole: Size of the hole [0.0001 in].
        shaft: Size of the shaft [0.0001 in].
        u_hole: Standard uncertainty of the hole [0.00001 in].
        u_shaft: Standard uncertainty of the shaft [0.00001 in].

    Returns:
        An input of the calculator `fit`.
    """
    return {
        "hole": {"size": f"{hole / 1e4:.4f} in", "standard_uncertainty": f"{u_hole / 1e5:.5f} in"},
        "shaft": {"size": f"{shaft / 1e4:.4f} in", "standard_uncertainty": f"{u_shaft / 1e5:.5f} in"},
        "new": ["0.0010L", "0.0022L"],
        "service": [None, "0.0037L"],
        "unit": "in",
        "rule": "guarded",
    }


def one_by_one(rows: list[list[int]]) -> list[tuple[float, float, float, float]]:
    """Clearance, doubt and both chances, fit by fit with the `uncertainties` package.

    Args:
        rows: Hole, shaft [0.0001 in] and their standard uncertainties [0.00001 in].

    Returns:
        Clearance, its standard uncertainty [in], chance in new and in service limits [-].
    """
    answers = []
    for hole, shaft, u_hole, u_shaft in rows:
        clearance = ufloat(hole / 1e4, u_hole / 1e5) - ufloat(shaft / 1e4, u_shaft / 1e5)
        law = NormalDist(clearance.nominal_value, clearance.std_dev)
        new, service = (law.cdf(loose / 1e4) - law.cdf(tight / 1e4) for tight, loose in (NEW, SERVICE))
        answers.append((clearance.nominal_value, clearance.std_dev, new, service))
    return answers


def bare(hole: Whole, shaft: Whole, u_hole: NDArray[np.float64], u_shaft: NDArray[np.float64]) -> tuple[Any, ...]:
    """The formulas of the room of fits, with nothing but numpy and one compiled normal distribution.

    Args:
        hole: Sizes [pm].
        shaft: Sizes [pm].
        u_hole: Standard uncertainties [pm].
        u_shaft: Standard uncertainties [pm].

    Returns:
        Clearance, its standard uncertainty [pm], both grades, both chances [-].
    """
    clearance = hole - shaft
    u = np.sqrt(u_hole**2 + u_shaft**2)
    chances, inside = [], []
    for tight, loose in (NEW, SERVICE):
        above, below = clearance - tight * TENTH_PM, loose * TENTH_PM - clearance
        chances.append(ndtr(below / u) - ndtr(-above / u))
        inside.append(np.minimum(above, below))
    grades = []
    for guard in (0.0, FACTOR * u):
        proven, out = [margin >= guard for margin in inside], [margin < -guard for margin in inside]
        grades.append(np.select([proven[0], proven[1], out[0] & out[1]], [0, 1, 4], 3))
    return (clearance, u, *grades, *chances)


def main() -> None:
    """Time the two questions and print the ratios."""
    columns = parts()
    rows = np.stack(columns, axis=1).tolist()
    calculator, text = load("fit"), json.dumps({"batch": [question(*row) for row in rows]})
    document = parse(text)
    whole = best_of(3, lambda: to_json(calculator.run(parse(text))))
    run = best_of(3, lambda: calculator.run(document))
    items = [calculator.input.model_validate(item) for item in document["batch"]]
    computed = best_of(3, lambda: calculator.compute(items))
    slow = best_of(3, lambda: one_by_one(rows[:ONE_BY_ONE])) * FITS / ONE_BY_ONE
    answers = calculator.run(document)["batch"]
    apart = max(
        abs(answer["probability_new"] - new)
        for answer, (_, _, new, _) in zip(answers, one_by_one(rows[:ONE_BY_ONE]), strict=False)
    )
    print(f"{FITS} fits as one batch, from JSON text to JSON text: {1e3 * whole:.0f} ms")
    print(f"  from a read document to answers: {1e3 * run:.0f} ms; from read quantities: {1e3 * computed:.0f} ms")
    print(f"  uncertainties package, one by one, from numbers: {1e3 * slow:.0f} ms (of {ONE_BY_ONE}, scaled)")
    print(f"  whole batch over the package: {whole / slow:.2f}; greatest difference of a chance {apart:.1e}")

    hole, shaft = columns[0] * TENTH_PM, columns[1] * TENTH_PM
    u_hole, u_shaft = (doubt.astype(np.float64) * (TENTH_PM / 10) for doubt in columns[2:])
    given = np.ones(FITS, dtype=np.bool_)
    new, service = (
        Bands(np.full(FITS, tight * TENTH_PM), np.full(FITS, loose * TENTH_PM), given)
        for tight, loose in (NEW, SERVICE)
    )

    def room() -> GradedFits:
        return grade_fits(hole - shaft, clearance_uncertainty(u_hole, u_shaft), FACTOR, new, service)

    ours, least = best_of(50, room), best_of(50, lambda: bare(hole, shaft, u_hole, u_shaft))
    same = bool(np.all(room().grade == bare(hole, shaft, u_hole, u_shaft)[3]))
    print(f"{FITS} fits as arrays: {1e3 * ours:.2f} ms, bare numpy {1e3 * least:.2f} ms, grades the same: {same}")
    print(f"  the room takes {ours / least:.2f} times as long (aim 5); the package {slow / ours:.0f} times the room")


if __name__ == "__main__":
    main()
