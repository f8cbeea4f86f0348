"""How sure are we: several doubts put together into one, with its coverage factor.

The framework of the uncertainty guide for linear models. It does not sample (see `montecarlo`) and does not judge a
part (see `conformity`). In: standard uncertainties, sensitivities and degrees of freedom, inputs on the last axis, any
number of budgets on the axes before it. Out: one record of arrays. Every contribution is in the unit of the result.
Nothing is rounded on the way: the guide's printed 93 nm of example H.1 multiplies a rounded 32 nm, unrounded it is 92.5
nm. Sources: JCGM 100:2008, 5.1, 5.2 and annex G (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.correlation import checked_correlations
from tenthbook.trade.gauge.distributions import coverage_factor
from tenthbook.trade.gauge.faults import NotASize, TooFewDegrees, checked_dof, checked_uncertainty

_ROUNDING = 1e-12
"""Degrees of freedom this close below a whole number [-] are that number: 1/(1/49) is not 49 in binary."""


@dataclass(frozen=True, slots=True)
class Budget:
    """Several doubts put together.

    Attributes:
        contributions: |sensitivity| times standard uncertainty of each input [mm, or the unit of the result]; inputs
            last.
        shares: Share of the combined variance each input answers for [-]; they sum to 1; negative where a correlation
            helps.
        combined: Combined standard uncertainty [mm].
        effective_dof: Effective degrees of freedom [-], not rounded; infinite where all inputs' are.
        used_dof: The same cut down to a whole number [-].
        coverage_factor: Student's factor k [-] at the confidence asked for, with `used_dof`.
        expanded: Expanded uncertainty [mm].
        dof_valid: False where correlated inputs carry finite degrees of freedom: the formula does not hold, and
            they are counted as one input with the least degrees of freedom among them.

    Source: JCGM 100:2008, 7.2.1 and table H.1 (from memory).
    """

    contributions: NDArray[np.float64]
    shares: NDArray[np.float64]
    combined: NDArray[np.float64]
    effective_dof: NDArray[np.float64]
    used_dof: NDArray[np.float64]
    coverage_factor: NDArray[np.float64]
    expanded: NDArray[np.float64]
    dof_valid: NDArray[np.bool_]


def draw_up(
    standards: ArrayLike,
    sensitivities: ArrayLike = 1.0,
    dof: ArrayLike = np.inf,
    correlations: ArrayLike | None = None,
    confidence: ArrayLike = 0.95,
) -> Budget:
    """Draw up the whole budget.

    Args:
        standards: Standard uncertainties [mm, or each input's unit]; inputs on the last axis.
        sensitivities: How much the result moves for one unit of each input [-]; broadcasts with `standards`.
        dof: Degrees of freedom of each input [-]; infinite where none are stated; broadcasts with `standards`.
        correlations: Correlation matrix [-], inputs by inputs, the same for all budgets; None for independent inputs.
        confidence: Two-sided confidence [-]; one, or one a budget.

    Returns:
        The budget [mm], one entry for each set of leading axes.

    Raises:
        NotAnUncertainty: a negative uncertainty.
        ImpossibleCorrelation: coefficients that cannot be; the pair is named by its numbers.
        TooFewDegrees: effective degrees of freedom below 1, for which Student's table has no row.
        NotAProbability: a confidence outside 0 to 1, ends excluded.

    Valid for: results that are linear in their inputs over a few standard uncertainties.
    Source: JCGM 100:2008, 5.1.2, 5.2.2 and G.6.4 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    signed = np.atleast_1d(_signed(standards, sensitivities))
    degrees = np.broadcast_to(checked_dof(dof), signed.shape)
    matrix = None if correlations is None else checked_correlations(correlations)
    shared = signed if matrix is None else signed @ matrix
    parts = signed * shared
    variance = np.maximum(parts.sum(axis=-1), 0.0)
    shares = _share(parts, variance)
    effective, valid = _degrees(signed, shares, degrees, matrix)
    used = truncated(effective)
    factor = coverage_factor(confidence, used)
    combined = np.sqrt(variance)
    return Budget(np.abs(signed), shares, combined, effective, used, factor, factor * combined, valid)


def combined_standard(
    standards: ArrayLike, sensitivities: ArrayLike = 1.0, correlations: ArrayLike | None = None
) -> NDArray[np.float64]:
    """Say the combined standard uncertainty alone: the quick way for many budgets.

    Args:
        standards: Standard uncertainties [mm, or each input's unit]; inputs on the last axis.
        sensitivities: How much the result moves for one unit of each input [-]; broadcasts with `standards`.
        correlations: Correlation matrix [-], inputs by inputs; None for independent inputs.

    Returns:
        Combined standard uncertainty [mm], shape of the leading axes.

    Raises:
        NotAnUncertainty: a negative uncertainty.
        ImpossibleCorrelation: coefficients that cannot be.

    Source: JCGM 100:2008, 5.1.2 and equation 16 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    signed = np.atleast_1d(_signed(standards, sensitivities))
    other = signed if correlations is None else signed @ checked_correlations(correlations)
    return np.asarray(np.sqrt(np.maximum(np.einsum("...i,...i->...", signed, other), 0.0)), dtype=np.float64)


def effective_dof(contributions: ArrayLike, dof: ArrayLike) -> NDArray[np.float64]:
    """Say how many degrees of freedom a sum of independent doubts has.

    Args:
        contributions: Sensitivity times standard uncertainty of each input [mm]; inputs on the last axis.
        dof: Degrees of freedom of each input [-]; broadcasts.

    Returns:
        Effective degrees of freedom [-], not cut to a whole number; infinite where every contribution's are, or all are
        zero.

    Raises:
        TooFewDegrees: degrees of freedom of zero or less.

    Valid for: independent inputs.
    Source: JCGM 100:2008, G.4.1, equation G.2b, the Welch-Satterthwaite formula (from memory).
        Checked in: tests/published/test_jcgm_100.py
    """
    squares = np.square(np.atleast_1d(np.asarray(contributions, dtype=np.float64)))
    degrees = np.broadcast_to(checked_dof(dof), squares.shape)
    return _welch(_share(squares, squares.sum(axis=-1)), degrees)


def truncated(dof: ArrayLike) -> NDArray[np.float64]:
    """Cut effective degrees of freedom down to a whole number, on the safe side.

    Args:
        dof: Degrees of freedom [-]; any shape; infinite stays infinite.

    Returns:
        The next lower whole number [-].

    Raises:
        TooFewDegrees: below 1.

    Source: JCGM 100:2008, G.4.1, note 1 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    whole = np.floor(checked_dof(dof) * (1.0 + _ROUNDING))
    if (whole < 1.0).any():
        raise TooFewDegrees(
            found=f"{np.min(np.asarray(dof, dtype=np.float64)):.4g} effective degrees of freedom",
            expected="at least 1",
            todo="take more readings of the input that rules the budget",
        )
    return np.asarray(whole, dtype=np.float64)


def product_term(curvature: ArrayLike, first: ArrayLike, second: ArrayLike) -> NDArray[np.float64]:
    """Say what two inputs add through their product, where the first order alone would say nothing.

    Args:
        curvature: How the sensitivity to one input grows with the other [mm, or result per unit of both]; any shape.
        first: Standard uncertainty of one input [-, or its unit].
        second: Standard uncertainty of the other [-, or its unit].

    Returns:
        Further contribution [mm] to the combined uncertainty, to be added as a square.

    Raises:
        NotAnUncertainty: a negative uncertainty.

    Valid for: independent inputs that enter as a product, with symmetric distributions.
    Source: JCGM 100:2008, 5.1.2 note and H.1.7 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    return np.abs(np.asarray(curvature, dtype=np.float64)) * checked_uncertainty(first) * checked_uncertainty(second)


def _signed(standards: ArrayLike, sensitivities: ArrayLike) -> NDArray[np.float64]:
    """Sensitivity times uncertainty [mm], the sign kept for correlations."""
    signed = checked_uncertainty(standards) * np.asarray(sensitivities, dtype=np.float64)
    if not np.isfinite(signed).all():
        raise NotASize(
            found="a sensitivity without a number", expected="finite numbers", todo="leave it out where it is 1"
        )
    return np.asarray(signed, dtype=np.float64)


def _share(parts: NDArray[np.float64], variance: NDArray[np.float64]) -> NDArray[np.float64]:
    """Share of the variance [-]; zero for all where there is no doubt at all."""
    total = variance[..., np.newaxis]
    return np.divide(parts, total, out=np.zeros_like(parts), where=total > 0.0)


def _welch(shares: NDArray[np.float64], dof: NDArray[np.float64]) -> NDArray[np.float64]:
    """The Welch-Satterthwaite formula in shares of the variance [-]."""
    with np.errstate(divide="ignore"):
        return np.asarray(1.0 / (np.square(shares) / dof).sum(axis=-1), dtype=np.float64)


def _degrees(
    signed: NDArray[np.float64],
    shares: NDArray[np.float64],
    dof: NDArray[np.float64],
    matrix: NDArray[np.float64] | None,
) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """Effective degrees of freedom [-], and whether the formula holds for them.

    With correlated inputs it does not: ten readings sharing one master would be credited with a thousand times its
        degrees of freedom. All
    correlated inputs are then counted as one, with the least degrees of freedom among them.
    """
    if matrix is None:
        return _welch(shares, dof), np.ones(signed.shape[:-1], dtype=np.bool_)
    mixed = (matrix != np.eye(len(matrix))).any(axis=-1)
    entangled = np.where(mixed & (signed != 0.0), dof, np.inf).min(axis=-1, initial=np.inf)
    group = np.where(mixed, shares, 0.0).sum(axis=-1)
    alone = np.where(mixed, 0.0, shares)
    every = np.concatenate([alone, group[..., np.newaxis]], axis=-1)
    degrees = np.concatenate([dof, entangled[..., np.newaxis]], axis=-1)
    return _welch(every, degrees), np.asarray(np.isinf(entangled), dtype=np.bool_)
