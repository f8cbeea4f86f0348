"""Which inputs move together, and whether the stated coefficients can be true at all.

One micrometer that reads both bore and shaft makes their errors move together; whoever leaves that out gets the
clearance's doubt wrong. This module builds and checks the matrix; `budget` and `montecarlo` use it. In: names and
pairs, or a matrix. Out: a matrix that some set of quantities can have. Sources: JCGM 100:2008, 5.2 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.faults import ImpossibleCorrelation

_ROUNDING = 1e-9
"""An eigenvalue may be negative by this much [-] from rounding alone: coefficients are typed with few digits."""


def matrix_from_pairs(names: Sequence[str], pairs: Sequence[tuple[str, str, float]]) -> NDArray[np.float64]:
    """Write stated pairs into a correlation matrix and check it.

    Args:
        names: Names of the inputs, in their order.
        pairs: Two names and their correlation coefficient [-] each; pairs not named are uncorrelated.

    Returns:
        Correlation matrix [-], inputs by inputs.

    Raises:
        ImpossibleCorrelation: an unknown name, a pair given twice, an input paired with itself, or coefficients that
            cannot be.

    Source: JCGM 100:2008, 5.2.2 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    matrix = np.eye(len(names))
    seen: set[frozenset[str]] = set()
    for first, second, coefficient in pairs:
        pair = frozenset((first, second))
        if pair in seen or len(pair) == 1 or not pair <= set(names):
            raise ImpossibleCorrelation(
                found=f"the pair {first}, {second}", expected="two different inputs of this budget, each pair once"
            )
        seen.add(pair)
        row, column = names.index(first), names.index(second)
        matrix[row, column] = matrix[column, row] = coefficient
    return checked_correlations(matrix, names)


def checked_correlations(matrix: ArrayLike, names: Sequence[str] = ()) -> NDArray[np.float64]:
    """Let only a correlation matrix pass that some set of quantities can have.

    Args:
        matrix: Correlation coefficients [-], inputs by inputs.
        names: Names for the message; numbers from 1 where left out.

    Returns:
        The same [-], as floats.

    Raises:
        ImpossibleCorrelation: not square, not symmetric, a diagonal that is not 1, a coefficient beyond 1, or
            coefficients that contradict each other (not positive semidefinite); the message names the pair.

    Source: JCGM 100:2008, 5.2.2 and C.3.6 (from memory). Checked in: tests/unit/gauge/test_correlation.py
    """
    values = np.asarray(matrix, dtype=np.float64)
    if values.ndim != 2 or values.shape[0] != values.shape[1]:
        raise ImpossibleCorrelation(
            found=f"a table of shape {values.shape}", expected="as many rows as columns, one an input"
        )
    named = list(names) or [str(number) for number in range(1, len(values) + 1)]
    _refuse(~(np.abs(values) <= 1.0), named, values, "a number from -1 to 1")
    _refuse(values != values.T, named, values, "the same coefficient both ways round")
    _refuse(np.diag(np.diag(values) != 1.0), named, values, "1 for an input with itself")
    roots, vectors = np.linalg.eigh(values)
    if roots[0] < -_ROUNDING:
        pull = values * np.outer(vectors[:, 0], vectors[:, 0])
        _refuse(pull == pull.min(), named, values, "coefficients that all inputs can have at once")
    return values


def factor(matrix: NDArray[np.float64]) -> NDArray[np.float64]:
    """Find how independent draws must be mixed to be correlated as stated.

    Args:
        matrix: Checked correlation matrix [-].

    Returns:
        Matrix F [-] with F times its transpose equal to `matrix`; exists also where coefficients are exactly 1.

    Valid for: matrices that `checked_correlations` lets pass.
    Source: JCGM 101:2008, 6.4.8.2 and C.5 (from memory; by eigenvalues here, because a matrix may be singular).
        Checked in: tests/unit/gauge/test_montecarlo.py
    """
    roots, vectors = np.linalg.eigh(matrix)
    return np.asarray(vectors * np.sqrt(np.maximum(roots, 0.0)), dtype=np.float64)


def _refuse(bad: NDArray[np.bool_], names: Sequence[str], values: NDArray[np.float64], expected: str) -> None:
    """Raise for the first bad pair, if there is one [-]."""
    if bad.any():
        row, column = np.argwhere(bad)[0]
        raise ImpossibleCorrelation(
            found=f"correlation {values[row, column]:.6g} of {names[row]} with {names[column]}",
            expected=expected,
            todo="correct this pair, or leave it out if it is not known",
        )
