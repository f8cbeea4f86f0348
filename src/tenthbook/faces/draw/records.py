"""What a picture is made of, and what cannot be drawn.

The digits are printed as they are given and the value only says where they lie: nothing is rounded or formatted here,
and no verdict is judged.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from tenthbook.faces.draw.svg import plain
from tenthbook.numbers.because import TenthbookError

VERDICTS = ("new", "service", "beyond", "undecided", "none")
LONGEST = 24
LONGEST_UNIT = 12
_FARTHEST = 1e12


class CannotDraw(TenthbookError):
    """Values that have no place on a drawing to scale."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A number and where it lies.

    Attributes:
        value: Position in the drawing's unit.
        text: The digits as they are to be printed.
    """

    value: float
    text: str


Limits = tuple[Mark | None, Mark | None]


@dataclass(frozen=True, slots=True)
class GapDrawing:
    """The clearance between two parts, a tight fit below zero.

    Attributes:
        inner: Name of the inner part, the shaft's side.
        outer: Name of the outer part, the hole's side.
        unit: Unit of all numbers, as printed.
        reading: The clearance found.
        doubt: Half width of the reading's doubt, in the drawing's unit; None where nothing is known of it.
        new: Least and greatest for new parts; None for a side that is not given.
        service: Least and greatest in service; None for a side that is not given.
        forecast: Least and greatest that other parts would make; None for no forecast.
        forecast_label: What would make the forecast, for instance `with new gears`.
        verdict: One of new, service, beyond, undecided, none.
        sentence: The whole picture in words, for those who cannot see it.
    """

    inner: str
    outer: str
    unit: str
    reading: Mark
    doubt: float | None
    new: Limits
    service: Limits
    forecast: tuple[Mark, Mark] | None
    forecast_label: str
    verdict: str
    sentence: str


@dataclass(frozen=True, slots=True)
class EdgeDrawing:
    """A single size, drawn as the edge of its material; larger lies to the right, or higher.

    Attributes:
        feature: What was measured, for instance `shaft diameter`.
        unit: Unit of all numbers, as printed.
        reading: The size found.
        doubt: Half width of the reading's doubt, in the drawing's unit; None where nothing is known of it.
        new: Least and greatest for new parts; None for a side that is not given.
        service: Least and greatest in service; None for a side that is not given.
        verdict: One of new, service, beyond, undecided, none.
        sentence: The whole picture in words, for those who cannot see it.
        bore: Whether the material lies beyond the size (a bore) rather than below it (a shaft, a thickness).
    """

    feature: str
    unit: str
    reading: Mark
    doubt: float | None
    new: Limits
    service: Limits
    verdict: str
    sentence: str
    bore: bool = False


def check_order(what: str, pair: Limits) -> None:
    """Refuse a pair whose least is above its greatest.

    Args:
        what: What the pair is, for the message.
        pair: Least and greatest, either may be None.

    Raises:
        CannotDraw: the least is above the greatest.
    """
    least, greatest = pair
    if least is not None and greatest is not None and least.value > greatest.value:
        raise CannotDraw(
            found=f"{what} least {least.text} above greatest {greatest.text}",
            expected="the least first, not above the greatest",
            todo="look at the row these limits come from",
        )


def check_values(values: Iterable[float], doubt: float | None) -> None:
    """Refuse numbers that have no place on a scale.

    Args:
        values: Every position of the drawing, in its unit.
        doubt: Half width of the reading's doubt, in the drawing's unit.

    Raises:
        CannotDraw: a value is not a number within 1e12 of zero, or the doubt is below zero.
    """
    known = list(values)
    if doubt is not None and not 0 <= doubt <= _FARTHEST:
        raise CannotDraw(found=f"a doubt of {doubt}", expected="zero or more; None where it is not known")
    if not all(abs(value) <= _FARTHEST for value in known):
        raise CannotDraw(
            found=f"positions {known}",
            expected=f"numbers within {_FARTHEST:g} of zero",
            todo="draw only what was read or printed",
        )


def check_digits(marks: Iterable[Mark], unit: str) -> None:
    """Refuse numbers without digits, and what is too long to be a printed number or a unit.

    Args:
        marks: Every number of the drawing.
        unit: Their unit as printed.

    Raises:
        CannotDraw: a number has no digits or more than 24 signs, or the unit more than 12.
    """
    for mark in marks:
        if not 0 < len(plain(mark.text)) <= LONGEST:
            raise CannotDraw(
                found=f"the digits {mark.text!r}", expected=f"1 to {LONGEST} signs, as the number is printed"
            )
    if len(plain(unit)) > LONGEST_UNIT:
        raise CannotDraw(found=f"the unit {unit!r}", expected=f"at most {LONGEST_UNIT} signs")


def check_words(name: str, verdict: str, sentence: str) -> None:
    """Refuse a drawing without a usable name, a known verdict or a sentence.

    Args:
        name: Prefix of every id.
        verdict: The verdict's name.
        sentence: The picture in words.

    Raises:
        CannotDraw: one of the three is not usable.
    """
    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]*", name):
        raise CannotDraw(found=f"the drawing's name {name!r}", expected="a letter, then letters, digits, - or _")
    if verdict not in VERDICTS:
        raise CannotDraw(found=f"the verdict {verdict!r}", expected=f"one of {', '.join(VERDICTS)}")
    if not sentence.strip():
        raise CannotDraw(found="no sentence", expected="the picture in words, for those who cannot see it")
