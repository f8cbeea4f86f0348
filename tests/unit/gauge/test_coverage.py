"""Intervals of trials against a full sort, and their laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.typing import NDArray

from tenthbook.trade.gauge.coverage import intervals
from tenthbook.trade.gauge.faults import NoReadings

VALUES = arrays(np.float64, st.integers(50, 300), elements=st.floats(-1e3, 1e3))


@given(VALUES, st.floats(0.05, 0.97))
def test_partial_sorting_equals_a_full_sort(values: NDArray[np.float64], confidence: float) -> None:
    """Sorting only the tails finds an interval as short as a full sort, to one part in the root of the trials."""
    ordered = np.sort(values)
    held = int(confidence * values.size + 0.5)
    widths = ordered[held:] - ordered[: values.size - held]
    found = intervals(values.copy(), confidence)
    low, high = found.shortest
    assert high - low <= widths.min() * (1.0 + values.size**-0.5)
    assert ((values >= low) & (values <= high)).sum() >= held
    start = (values.size - held + 1) // 2 - 1
    assert found.symmetric == (ordered[start], ordered[start + held])


def test_shortest_leaves_out_the_long_tail() -> None:
    """Of a skewed distribution the shortest interval starts at the steep side and is shorter than the symmetric one."""
    trials = np.random.default_rng(5).exponential(1.0, 400_000)
    found = intervals(trials, 0.95)
    assert found.shortest[0] == pytest.approx(0.0, abs=0.002)
    assert found.shortest[1] == pytest.approx(-np.log(0.05), abs=0.03)
    assert found.symmetric == pytest.approx((-np.log(0.975), -np.log(0.025)), abs=0.05)


@pytest.mark.parametrize(("trials", "confidence"), [(10, 0.99), (1, 0.5), (10, 0.01)])
def test_too_few_trials_are_named(trials: int, confidence: float) -> None:
    """Where no trial can be left out, the message says how many are needed."""
    with pytest.raises(NoReadings, match=f"{trials} trials"):
        intervals(np.arange(float(trials)), confidence)
