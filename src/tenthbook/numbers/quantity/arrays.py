"""Many lengths at once, exactly: int64 picometres.

A ten-thousandth of a thousandth of an inch (1e-8 in) is 254 pm and a millionth of a millimetre is 1 pm, so every
length a bench reads is a whole number of picometres. A finer one makes the whole array fall back to exact fractions,
slower and just as right.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tenthbook.numbers.quantity.typed import Quantity

PICOMETRES = 10**12
_LARGEST = 2**61


def picometres(lengths: Sequence[Quantity]) -> NDArray[Any]:
    """Turn lengths into whole picometres.

    Args:
        lengths: Lengths in any unit [in, mm, ...]; one-dimensional.

    Returns:
        int64 picometres [pm], same order; exact fractions (dtype object) where one of them is finer than 1 pm or too
        large for int64.
    """
    return exact_picometres([length.exact for length in lengths])


def exact_picometres(lengths: Sequence[Fraction]) -> NDArray[Any]:
    """Turn exact lengths into whole picometres.

    Args:
        lengths: Lengths [m], one-dimensional.

    Returns:
        As `picometres` [pm].
    """
    values = [length * PICOMETRES for length in lengths]
    if all(value.denominator == 1 and abs(value) < _LARGEST for value in values):
        return np.array([value.numerator for value in values], dtype=np.int64)
    return np.array([*values, None], dtype=object)[:-1]


def metres(value_pm: int | Fraction | np.integer[Any]) -> Fraction:
    """Turn picometres back into metres.

    Args:
        value_pm: One value out of an array of `picometres` [pm].

    Returns:
        The same length [m], exact.
    """
    return Fraction(int(value_pm) if isinstance(value_pm, np.integer) else value_pm) / PICOMETRES
