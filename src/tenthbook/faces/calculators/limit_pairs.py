"""Limits of a fit as pairs of text in a calculator's input: with units, or with the trade's letters.

A pair is [tightest, loosest]; a side is null where the row gives no limit. Letters need the field `unit` beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Annotated, Literal, Protocol

from pydantic import Field

from tenthbook.numbers.because import Fault, TenthbookError
from tenthbook.numbers.limit import Band, Limits
from tenthbook.numbers.quantity import Quantity, find_unit, quantity, read_lettered

_PAIR = (
    'a pair [tightest, loosest]: each "0.0037 in", or "0.0020T" / "0.0015L" with unit, or null where no limit is given'
)
LimitPair = Annotated[list[str | None], Field(min_length=2, max_length=2, description=_PAIR)]
LetterUnit = Annotated[
    Literal["in", "mm", "thou", "um"] | None,
    Field(description='unit of limits written with letters: "in", "mm", "thou" or "um"'),
]


class Limited(Protocol):
    """An input with the limits of a fit."""

    @property
    def new(self) -> list[str | None] | None:
        """New limits as typed."""

    @property
    def service(self) -> list[str | None] | None:
        """Service limits as typed."""

    @property
    def unit(self) -> str | None:
        """Unit of limits with letters."""


def _upside_down(limits: Limits) -> list[Fault]:
    try:
        _ = limits.service_resolved
    except TenthbookError as error:
        return [Fault("service", error.found, "a service side that, with the new limit of the other side, is a band")]
    return []


@lru_cache(maxsize=4096)
def _read_side(text: str | None, unit: str | None) -> Quantity | None:
    if text is None:
        return None
    stripped = text.strip()
    if unit is None or " " in stripped:
        read = quantity(stripped)
        if read.unit.kind != "length":
            raise TenthbookError(found=f"{text!r} (a {read.unit.kind})", expected="a length such as '0.0037 in'")
        return read
    return read_lettered(stripped, find_unit(unit)).clearance


def _read_pair(pair: Sequence[str | None] | None, unit: str | None, name: str, faults: list[Fault]) -> Band:
    sides: list[Quantity | None] = []
    for place, text in enumerate(pair or (None, None), 1):
        try:
            sides.append(_read_side(text, unit))
        except TenthbookError as error:
            hint = (
                ""
                if unit is not None or str(text).strip()[-1:] not in ("T", "L")
                else ", or the field unit beside letters"
            )
            faults.append(Fault(f"{name}.{place}", error.found, error.expected + hint))
            sides.append(None)
    try:
        return Band(*sides)
    except TenthbookError as error:
        faults.append(Fault(name, error.found, "the tightest first, then the loosest (T is negative)"))
        return Band()


def read_limits(item: Limited, faults: list[Fault]) -> Limits:
    """Read both pairs of an input.

    Args:
        item: The input.
        faults: Takes what is wrong with them.

    Returns:
        The limits as printed [in or mm]; a pair that is wrong stays blank.
    """
    limits = Limits(
        _read_pair(item.new, item.unit, "new", faults), _read_pair(item.service, item.unit, "service", faults)
    )
    if not faults:
        faults += _upside_down(limits)
    return limits
