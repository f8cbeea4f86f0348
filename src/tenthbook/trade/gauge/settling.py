"""How many trials are enough, and does the budget hold against them.

Runs trials block by block until mean, uncertainty and both ends stand still in the digits that are quoted, and compares
a budget's interval with theirs. What a trial is, `montecarlo` tells. In: a sampler, the digits that matter. Out: the
outcome of all trials, and whether it settled. Sources: JCGM 101:2008, 7.9 and clause 8 (from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tenthbook.trade.gauge.faults import NoReadings, checked_probability
from tenthbook.trade.gauge.montecarlo import Outcome, Sampler, fill, summary


def propagate_until_settled(
    sampler: Sampler,
    confidence: float,
    digits: int = 2,
    seed: int = 1,
    most_trials: int = 10_000_000,
    least_trials: int = 0,
) -> Outcome:
    """Make trials block by block until the answer stands still in the digits that matter.

    A few blocks may agree by luck; a least number of trials keeps an answer from standing on that.

    Args:
        sampler: What to draw.
        confidence: Two-sided confidence of the shortest interval [-].
        digits: Significant digits of the standard uncertainty that matter [-], 1 or 2.
        seed: Any whole number from 0 up [-].
        most_trials: Ceiling [-]; reaching it is said in the answer.
        least_trials: Trials [-] that are made before any block is asked; never more than the ceiling.

    Returns:
        Mean, standard deviation and intervals [mm, or the result's unit] of all trials together.

    Raises:
        NotAProbability: a confidence outside 0 to 1, ends excluded.
        NoReadings: a ceiling below two blocks.

    Source: JCGM 101:2008, 7.9.4 (from memory). Checked in: tests/published/test_jcgm_101.py
    """
    block = block_size(confidence)
    if most_trials < 2 * block:
        raise NoReadings(found=f"a ceiling of {most_trials} trials", expected=f"at least two blocks of {block}")
    values: list[NDArray[np.float64]] = []
    figures: list[tuple[float, float, float, float]] = []
    streams = np.random.SeedSequence(seed)
    settled = False
    while not settled and len(values) < most_trials // block:
        out = np.empty(block)
        fill(sampler, out, streams.spawn(1)[0])
        one = summary(out, confidence)
        values.append(out)
        figures.append((one.mean, one.standard, *one.shortest))
        enough = len(values) > 1 and len(values) * block >= least_trials
        settled = enough and _stands_still(np.array(figures), block, digits)
    return summary(np.concatenate(values), confidence, settled=settled)


def block_size(confidence: float) -> int:
    """Say how many trials an adaptive run makes before it looks.

    Args:
        confidence: Two-sided confidence [-].

    Returns:
        Trials a block [-]: a hundred beyond the interval and a hundred within, and never below 10 000.

    Raises:
        NotAProbability: a confidence outside 0 to 1, ends excluded.

    Source: JCGM 101:2008, 7.9.4 b (from memory); the hundred within is this book's own. Checked in:
        tests/published/test_jcgm_101.py
    """
    share = float(checked_probability(confidence, "confidence"))
    return max(int(np.ceil(100.0 / min(share, 1.0 - share) * (1.0 - 1e-9))), 10_000)


def numerical_tolerance(standard: float, digits: int) -> float:
    """Say what difference no longer matters when an uncertainty is quoted to so many digits.

    Args:
        standard: Standard uncertainty [mm, or the result's unit], above 0.
        digits: Significant digits it is quoted with [-].

    Returns:
        Half a unit of its last quoted digit [mm]; 0 for an uncertainty of 0.

    Source: JCGM 101:2008, 7.9.2 (from memory). Checked in: tests/published/test_jcgm_101.py
    """
    if standard <= 0.0:
        return 0.0
    exponent = int(f"{standard:.{digits - 1}e}".partition("e")[2])
    return float(f"5e{exponent - digits}")


def framework_holds(estimate: float, expanded: float, ends: tuple[float, float], tolerance: float) -> bool:
    """Say whether the trials confirm the interval of the budget.

    Args:
        estimate: Result of the budget [mm, or the result's unit].
        expanded: Its expanded uncertainty [mm].
        ends: Low and high end of the trials' interval [mm], at the same confidence.
        tolerance: Numerical tolerance [mm] for the digits that matter; the trials themselves should be settled to a
            fifth of it.

    Returns:
        True where both ends differ by no more than the tolerance.

    Source: JCGM 101:2008, 8.1.3 and 8.2 (from memory). Checked in: tests/published/test_jcgm_101.py
    """
    return abs(estimate - expanded - ends[0]) <= tolerance and abs(estimate + expanded - ends[1]) <= tolerance


def _stands_still(figures: NDArray[np.float64], block: int, digits: int) -> bool:
    """Whether mean, uncertainty and both ends [mm] of the blocks agree within the tolerance."""
    blocks = len(figures)
    means, deviations = figures[:, 0], figures[:, 1]
    within = (block - 1) * np.square(deviations).sum() + block * np.square(means - means.mean()).sum()
    tolerance = numerical_tolerance(float(np.sqrt(within / (blocks * block - 1))), digits)
    return bool((2.0 * figures.std(axis=0, ddof=1) / np.sqrt(blocks) <= tolerance).all())
