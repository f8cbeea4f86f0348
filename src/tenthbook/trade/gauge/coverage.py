"""Which interval holds the trials: the shortest one, and the one with equal tails.

Reads results of trials and draws none. Only the two tails that an interval can end in are sorted, not the trials
between. In: trial values. Out: ends of intervals in the same unit. Sources: JCGM 101:2008, 7.6 and 7.7 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tenthbook.trade.gauge.faults import NoReadings, checked_probability


@dataclass(frozen=True, slots=True)
class Intervals:
    """Both intervals of one confidence.

    Attributes:
        shortest: Low and high end [mm, or the result's unit] of the shortest interval.
        symmetric: Low and high end [mm] of the interval with equal tails.

    Source: JCGM 101:2008, 7.7.2 (from memory).
    """

    shortest: tuple[float, float]
    symmetric: tuple[float, float]


def intervals(values: NDArray[np.float64], confidence: float) -> Intervals:
    """Find the shortest and the symmetric interval that hold a share of the trials.

    Where a distribution is flat, many intervals are as short as each other up to the scatter of the trials, and the
    very shortest is a matter of luck. Of all that are as short to one part in the root of the number of trials, the
    middle one is taken; the ends then repeat from seed to seed.

    Args:
        values: Trial values [mm, or the result's unit]; one axis, any order; **reordered in place**.
        confidence: Share of the trials to hold [-].

    Returns:
        Both intervals [mm]; the ends are trial values.

    Raises:
        NotAProbability: a confidence outside 0 to 1, ends excluded.
        NoReadings: so few trials that no interval leaves one of them out.

    Source: JCGM 101:2008, 7.7.2 (from memory); the choice among ties is this book's own. Checked in:
        tests/published/test_jcgm_101.py
    """
    trials = values.size
    held = _held(trials, confidence)
    left_out = trials - held
    if left_out < 1 or held < 1:
        raise NoReadings(
            found=f"{trials} trials for a confidence of {confidence!r}",
            expected=f"at least {least_trials(confidence)}, better a hundred times as many",
            todo="ask for more trials",
        )
    _sort_tails(values, left_out, held)
    widths = values[held:] - values[:left_out]
    tied = np.flatnonzero(widths <= widths.min() * (1.0 + trials**-0.5))
    low = int(tied[tied.size // 2])
    middle = (left_out + 1) // 2 - 1
    return Intervals(
        (float(values[low]), float(values[low + held])),
        (float(values[middle]), float(values[middle + held])),
    )


def least_trials(confidence: float) -> int:
    """Say how few trials still make an interval: one that holds a trial's width and leaves one out.

    Args:
        confidence: Share of the trials to hold [-].

    Returns:
        Number of trials [-]; an interval of so few says next to nothing.

    Raises:
        NotAProbability: a confidence outside 0 to 1, ends excluded.

    Source: JCGM 101:2008, 7.7.2 (from memory), solved for the number of trials. Checked in:
        tests/unit/gauge/test_montecarlo.py
    """
    share = float(checked_probability(confidence, "confidence"))
    trials = max(2, int(0.5 / min(share, 1.0 - share)) - 1)
    while not 0 < _held(trials, share) < trials:
        trials += 1
    return trials


def _held(trials: int, confidence: float) -> int:
    """How many of the trials [-] an interval holds: the share, rounded to a whole number."""
    return int(float(checked_probability(confidence, "confidence")) * trials + 0.5)


def _sort_tails(values: NDArray[np.float64], left_out: int, held: int) -> None:
    """Bring the lowest and highest `left_out` values [mm] into order at the two ends; sort all where the tails meet."""
    if held <= left_out:
        values.sort()
        return
    values.partition(left_out - 1)
    rest = values[left_out:]
    rest.partition(held - left_out)
    values[:left_out].sort()
    values[held:].sort()
