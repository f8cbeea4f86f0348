"""What cannot be asked of the gauge room: one error for each kind of misuse, and the checks that raise it.

An error here means that the question makes no sense (a probability above one, limits that cross). What is wrong with
the *part* is never an error: it is a verdict. In: floats and arrays. Out: the checked value, or an error of three parts
(found, expected, what to do). Sources: the ranges are those of the definitions in JCGM 100:2008 and JCGM 106:2012;
nothing is measured here.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.numbers.because import TenthbookError


class NotAProbability(TenthbookError):
    """A confidence or probability [-] outside its range."""


class NotAnUncertainty(TenthbookError):
    """A standard uncertainty, half-width or step [mm] that is negative or not a number."""


class TooFewDegrees(TenthbookError):
    """Degrees of freedom [-] below what the formula can use."""


class ImpossibleCorrelation(TenthbookError):
    """Correlation coefficients [-] that no set of quantities can have."""


class NeedsNormalInputs(TenthbookError):
    """Correlated inputs that are not all normal: their joint distribution is not settled by coefficients [-] alone."""


class LimitsCrossed(TenthbookError):
    """A lower limit [mm] above its upper limit [mm]."""


class NotASize(TenthbookError):
    """A size [mm] that is missing, not a number or without end."""


class NoReadings(TenthbookError):
    """A set of readings [mm] or trials [-] too small to say anything."""


class Unattainable(TenthbookError):
    """A wanted risk [-] that no acceptance limit can give."""


def checked_probability(probability: ArrayLike, name: str = "probability") -> NDArray[np.float64]:
    """Let only probabilities strictly between 0 and 1 pass.

    Args:
        probability: Probability or confidence [-]; any shape.
        name: What the caller calls it, for the message.

    Returns:
        The same [-], as floats.

    Raises:
        NotAProbability: one of them is outside, on an end, or not a number.

    Source: definition, JCGM 101:2008, 3.12 (from memory).
    """
    values = np.asarray(probability, dtype=np.float64)
    bad = ~((values > 0.0) & (values < 1.0))
    if bad.any():
        raise NotAProbability(
            found=f"{name} {_first(values, bad)}",
            expected="a number above 0 and below 1",
            todo="95 per cent is typed 0.95",
        )
    return values


def checked_uncertainty(uncertainty: ArrayLike, name: str = "standard uncertainty") -> NDArray[np.float64]:
    """Let only uncertainties of zero and above pass.

    Args:
        uncertainty: Uncertainty, half-width or step, any unit [mm]; any shape.
        name: What the caller calls it, for the message.

    Returns:
        The same [mm], as floats.

    Raises:
        NotAnUncertainty: one of them is negative, infinite or not a number.

    Source: definition, JCGM 100:2008, 2.2.3 (from memory).
    """
    values = np.asarray(uncertainty, dtype=np.float64)
    bad = ~((values >= 0.0) & (values < np.inf))
    if bad.any():
        raise NotAnUncertainty(
            found=f"{name} {_first(values, bad)}", expected="zero or a positive number", todo="type it without a sign"
        )
    return values


def checked_dof(dof: ArrayLike) -> NDArray[np.float64]:
    """Let only positive degrees of freedom pass; infinite is allowed.

    Args:
        dof: Degrees of freedom [-]; any shape; `inf` where none are stated.

    Returns:
        The same [-], as floats.

    Raises:
        TooFewDegrees: one of them is zero, negative or not a number.

    Source: definition, JCGM 100:2008, G.3 (from memory).
    """
    values = np.asarray(dof, dtype=np.float64)
    bad = ~(values > 0.0)
    if bad.any():
        raise TooFewDegrees(
            found=f"{_first(values, bad)} degrees of freedom",
            expected="a number above 0",
            todo="leave them out where the source states none",
        )
    return values


def _first(values: NDArray[np.float64], bad: NDArray[np.bool_]) -> str:
    """Write the first bad value [-] as the reader would."""
    return f"{np.atleast_1d(values)[np.atleast_1d(bad)][0]:.6g}"
