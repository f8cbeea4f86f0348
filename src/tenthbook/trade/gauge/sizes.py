"""What may stand for a size, and how far it lies inside its limits: exactly, where the numbers are exact.

A size is an int64 array of picometres, an exact object (Decimal, Fraction) or an array of such, or a float. Only sums,
differences and comparisons are made of it. Judges nothing (see `conformity`). In: sizes and limits of one unit, a
missing limit as None or as infinity. Out: margins in that unit and of that kind of number. Sources: JCGM 106:2012, 3.3
(from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.faults import LimitsCrossed, NotASize

Exact = Decimal | Fraction
"""One exact number [mm, or any unit]."""

Size = ArrayLike | Exact | Sequence[Exact]
"""One size or many [mm, or any unit]."""

Limit = Size | None | Sequence[Exact | float | None]
"""One limit or many [mm, or the size's unit]; None and infinity stand for "no limit given"."""


def margins(value: Size, lower: Limit, upper: Limit) -> tuple[NDArray[Any], NDArray[Any]]:
    """Say how far inside each limit a size lies, exactly where the numbers are exact.

    Args:
        value: Sizes [mm], [pm] or objects; any shape.
        lower: Lower limits, same unit [mm]; broadcasts.
        upper: Upper limits, same unit [mm]; broadcasts.

    Returns:
        Size minus lower limit and upper limit minus size [mm]; negative outside, `inf` where there is no limit.

    Raises:
        NotASize: a size that is not a number.
        LimitsCrossed: a lower limit above its upper limit.

    Source: JCGM 106:2012, 3.3 (from memory). Checked in: tests/unit/gauge/test_sizes.py
    """
    sizes = np.asarray(value)
    if sizes.dtype.kind == "f" and not np.isfinite(sizes).all():
        raise NotASize(found="a size that is not a finite number", expected="a number", todo="leave the reading out")
    low, high = _bound(lower, -np.inf), _bound(upper, np.inf)
    if np.asarray(low > high, dtype=np.bool_).any():
        raise LimitsCrossed(
            found="a lower limit above its upper limit", expected="lower first", todo="look at the row again"
        )
    return _gap(sizes, low), _gap(high, sizes)


def _bound(limit: Limit, missing: float) -> NDArray[Any]:
    """The limits as an array [mm], each None replaced by an infinity."""
    if limit is None:
        return np.asarray(missing)
    bound = np.asarray(limit)
    if bound.dtype == object:
        return np.asarray(np.frompyfunc(lambda one: missing if one is None else one, 1, 1)(bound))
    return bound


def _gap(greater: NDArray[Any], lesser: NDArray[Any]) -> NDArray[Any]:
    """Greater minus lesser [mm]; an infinity on either side gives infinity, also beside a Decimal."""
    if object not in (greater.dtype, lesser.dtype):
        return np.asarray(greater - lesser)
    return np.asarray(np.frompyfunc(_difference, 2, 1)(greater, lesser))


def _difference(greater: Any, lesser: Any) -> Any:
    """One difference [mm] of exact numbers."""
    if greater == np.inf or lesser == -np.inf:
        return np.inf
    return greater - lesser
