"""What counts as a length when two parts are put together: exact whole numbers, or numbers that carry their own digits.

It converts no units and rounds nothing. In go whole numbers of picometres (1 pm = 1e-9 mm, 254 pm = 1e-8 in),
`Decimal`, `Fraction` or floats; out come arrays that subtract and compare exactly as their numbers do. A float array
is accepted where a caller has nothing better.

Sources: rule of this book (a clearance is judged on exact numbers).
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.fit.faults import NotANumber, OutOfRange

Lengths: TypeAlias = NDArray[Any]
LengthsLike: TypeAlias = ArrayLike | Decimal | Fraction | Sequence[Decimal] | Sequence[Fraction]
Floats: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = NDArray[np.bool_]


def as_lengths(values: LengthsLike, name: str) -> Lengths:
    """Take numbers in as an array that keeps them exactly.

    Args:
        values: Whole numbers, decimals, fractions or floats, all in one unit ([pm], [mm] or [in]); any shape.
        name: What they are, for the message.

    Returns:
        int64, float64 or object array of the same shape, same unit.

    Raises:
        NotANumber: something in it is not a number, or not finite.

    Valid for: whole numbers up to 9e18; larger ones stay exact as objects, only slower.
    Source: rule of this book.
    """
    array: Lengths = np.asarray(values)
    if array.dtype.kind == "u":
        array = array.astype(object)
    if array.dtype.kind == "i":
        return array.astype(np.int64)
    if array.dtype.kind == "f":
        return as_floats(array, name)
    if array.dtype.kind != "O":
        raise _not_a_number(array.flat[0] if array.size else values, name)
    for value in array.flat:
        if not _is_exact(value):
            raise _not_a_number(value, name)
    return array


def as_floats(values: ArrayLike, name: str, *, least: float | None = None) -> Floats:
    """Take plain numbers in, and refuse what is not finite or lies too low.

    Args:
        values: Numbers without need of exactness, such as an uncertainty [pm] or [mm] or a temperature [degC]; any
            shape.
        name: What they are, for the message.
        least: Smallest value allowed, same unit; None for any.

    Returns:
        float64 array of the same shape, same unit.

    Raises:
        NotANumber: a value is not a finite number.
        OutOfRange: a value under `least`.

    Source: rule of this book.
    """
    try:
        array = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError) as no_number:
        raise _not_a_number(values, name) from no_number
    if not np.all(np.isfinite(array)):
        raise _not_a_number(array[~np.isfinite(array)].flat[0], name)
    if least is not None and bool(np.any(array < least)):
        raise OutOfRange(found=f"{name} {array.min():g}", expected=f"{least:g} or more")
    return array


def plain(value: Any) -> Any:
    """Give one number out as a plain Python number, so that it meets a decimal or a page without surprise.

    Args:
        value: One element of an array of lengths [mm], or any one unit.

    Returns:
        The same number, same unit: an int or float for array scalars, anything else as it is.

    Source: rule of this book.
    """
    return value.item() if isinstance(value, np.generic) else value


def _is_exact(value: object) -> bool:
    if isinstance(value, Decimal):
        return value.is_finite()
    return isinstance(value, int | np.integer | Fraction) and not isinstance(value, bool)


def _not_a_number(value: object, name: str) -> NotANumber:
    found = f"{value!r} as {name}"
    return NotANumber(found=found, expected="a finite number", todo="give every size as a number in one unit")
