"""Correlation matrices: what can be, what cannot, and whom the message names."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.typing import NDArray

from tenthbook.trade.gauge.correlation import checked_correlations, factor, matrix_from_pairs
from tenthbook.trade.gauge.faults import ImpossibleCorrelation

NAMES = ["bore", "shaft", "master"]


def test_pairs_become_a_matrix() -> None:
    """A stated pair stands both ways round, everything else is independent."""
    found = matrix_from_pairs(NAMES, [("shaft", "bore", 0.5)])
    assert found.tolist() == [[1.0, 0.5, 0.0], [0.5, 1.0, 0.0], [0.0, 0.0, 1.0]]


@pytest.mark.parametrize(
    "pairs",
    [
        [("bore", "bore", 1.0)],
        [("bore", "spindle", 0.1)],
        [("bore", "shaft", 0.1), ("shaft", "bore", 0.1)],
    ],
)
def test_senseless_pairs_are_named(pairs: list[tuple[str, str, float]]) -> None:
    """An input with itself, an unknown input and a pair given twice are refused by name."""
    with pytest.raises(ImpossibleCorrelation, match="the pair"):
        matrix_from_pairs(NAMES, pairs)


def test_coefficient_beyond_one_is_named() -> None:
    """A coefficient above 1 is refused, and the pair is named."""
    with pytest.raises(ImpossibleCorrelation, match=r"correlation 1\.2 of bore with shaft"):
        matrix_from_pairs(NAMES, [("bore", "shaft", 1.2)])


def test_contradicting_coefficients_are_named() -> None:
    """Two inputs cannot both follow a third and oppose each other: the pair that pulls hardest is named."""
    pairs = [("bore", "master", 0.9), ("shaft", "master", 0.9), ("bore", "shaft", -0.9)]
    with pytest.raises(ImpossibleCorrelation, match="all inputs can have at once") as caught:
        matrix_from_pairs(NAMES, pairs)
    assert "bore with" in str(caught.value)


@pytest.mark.parametrize(
    ("matrix", "text"),
    [
        ([[1.0, 0.5]], "as many rows as columns"),
        ([[1.0, 0.5], [0.4, 1.0]], "both ways round"),
        ([[1.0, 0.5], [0.5, 0.9]], "with itself"),
        ([[1.0, np.nan], [np.nan, 1.0]], "from -1 to 1"),
    ],
)
def test_ill_formed_matrices_are_named(matrix: list[list[float]], text: str) -> None:
    """A matrix that is not square, not symmetric or without ones on its diagonal is refused."""
    with pytest.raises(ImpossibleCorrelation, match=text):
        checked_correlations(matrix)


@given(arrays(np.float64, (4, 6), elements=st.floats(-1.0, 1.0)))
def test_factor_times_itself_is_the_matrix(mixing: NDArray[np.float64]) -> None:
    """Every matrix that some quantities have passes, and its factor rebuilds it."""
    mixing = mixing + np.eye(4, 6)
    mixing /= np.maximum(np.linalg.norm(mixing, axis=1, keepdims=True), 1e-3)
    matrix = mixing @ mixing.T
    matrix = 0.5 * (matrix + matrix.T)
    assume(np.allclose(np.diag(matrix), 1.0))
    matrix = np.clip(matrix, -1.0, 1.0)
    np.fill_diagonal(matrix, 1.0)
    mixed = factor(checked_correlations(matrix))
    assert mixed @ mixed.T == pytest.approx(matrix, abs=1e-7)
