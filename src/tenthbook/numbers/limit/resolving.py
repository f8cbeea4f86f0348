"""What a stated limit comes to for one part, with the arithmetic as it is printed.

Goes in: a statement, and what of the part it needs (its original size, a diameter, a length, another row's limits).
Comes out: limits in the statement's own unit, a question only a person can answer, or what is missing. Nothing is
guessed: a limit that needs the original size of a part nobody measured says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.limit.bands import Band, Limits
from tenthbook.numbers.limit.kinds import (
    Absolute,
    Condition,
    Feel,
    MultipleOf,
    NoneGiven,
    NotApplicable,
    OneOf,
    PerDiameter,
    PerLength,
    Reference,
    ShareOfOriginal,
    Side,
    Statement,
    WearFromNew,
)
from tenthbook.numbers.quantity import Quantity, exact_decimal, shown


class Missing(TenthbookError):
    """Something a limit needs and nobody gave."""


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the part a limit is resolved for.

    Attributes:
        original: Its size when new [in or mm].
        diameter: The diameter a rate is counted on [in or mm].
        length: The length or travel a rate is counted on [in or mm].
        found: The size found, by which one of a list is chosen [in or mm].
        rows: Limits of other rows by id.
    """

    original: Quantity | None = None
    diameter: Quantity | None = None
    length: Quantity | None = None
    found: Quantity | None = None
    rows: Mapping[str, Limits] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Resolved:
    """What a statement comes to.

    Attributes:
        limits: Limits to judge by [in or mm]; blank where the row gives none or a person must look.
        arithmetic: The working, a line each, as printed.
        question: What a person must answer; empty where the size decides.
        applies: False for a row that does not apply.
    """

    limits: Limits
    arithmetic: tuple[str, ...] = ()
    question: str = ""
    applies: bool = True


def _need(value: Quantity | None, what: str) -> Quantity:
    if value is None:
        todo = f"measure the {what} or take it from the record"
        raise Missing(found=f"no {what}", expected=f"the {what} of this part", todo=todo)
    return value


def _length(value: Fraction, *figures: Quantity) -> Quantity:
    """Write an exact length in the first figure's unit, with the digits of the finest that was typed in it.

    A limit whose digits never end keeps thirty of them.
    """
    unit = figures[0].unit
    in_unit = value / unit.factor
    exact = in_unit if exact_decimal(in_unit) is not None else Fraction(round(in_unit * 10**30), 10**30)
    return Quantity(shown(exact, max(one.decimals for one in figures if one.unit == unit)), unit)


def _band(side: Side, limit: Quantity) -> Band:
    return Band(upper=limit) if side is Side.GREATEST else Band(lower=limit)


def _absolute(said: Absolute, known: Known) -> Resolved:  # noqa: ARG001 - the same shape as the others
    return Resolved(said.limits)


def _wear(said: WearFromNew, known: Known) -> Resolved:
    starts = {
        Reference.NEW_GREATEST: ("new greatest", said.new.upper),
        Reference.NEW_LEAST: ("new least", said.new.lower),
        Reference.ORIGINAL: ("size when new", known.original),
    }
    name, start = starts[said.reference]
    start = _need(start, name)
    sign, word = (1, "+") if said.side is Side.GREATEST else (-1, "-")
    limit = _length(start.exact + sign * said.amount.exact, said.amount, start)
    line = f"{name} {start} {word} wear {said.amount} = service {said.side} {limit}"
    return Resolved(Limits(said.new, _band(said.side, limit)), (line,))


def _rate(said: PerDiameter | PerLength, known: Known) -> Resolved:
    name = "diameter" if isinstance(said, PerDiameter) else "length"
    over = _need(known.diameter if name == "diameter" else known.length, name)
    limit = _length(said.amount.exact * over.exact / said.per.exact, said.amount)
    line = f"{said.amount} per {said.per} of {name} x {over} = service {said.side} {limit}"
    return Resolved(Limits(service=_band(said.side, limit)), (line,))


def _share(said: ShareOfOriginal, known: Known) -> Resolved:
    original = _need(known.original, "size when new")
    limit = _length(original.exact * (1 + Fraction(said.per_cent) / 100), original)
    side = Side.GREATEST if said.per_cent > 0 else Side.LEAST
    line = f"size when new {original} {said.per_cent:+} % = service {side} {limit}"
    return Resolved(Limits(service=_band(side, limit)), (line,))


def _multiple(said: MultipleOf, known: Known) -> Resolved:
    other = known.rows.get(said.row)
    allowed = _need(other.new.upper if other is not None else None, f"new greatest of row {said.row}")
    limit = _length(Fraction(said.factor) * allowed.exact, allowed)
    line = f"{said.factor} x new greatest {allowed} of row {said.row} = service greatest {limit}"
    return Resolved(Limits(service=Band(upper=limit)), (line,))


def _feel(said: Feel, known: Known) -> Resolved:  # noqa: ARG001 - the same shape as the others
    return Resolved(Limits(), question=f"Is a pull felt on a ribbon {said.ribbon} thick?")


def _condition(said: Condition, known: Known) -> Resolved:  # noqa: ARG001 - the same shape as the others
    return Resolved(Limits(), question=f"The row says: {said.words}. Is that so here?")


def _none(said: NoneGiven, known: Known) -> Resolved:  # noqa: ARG001 - the same shape as the others
    return Resolved(Limits(), ("no limit given, which is not nought",))


def _one_of(said: OneOf, known: Known) -> Resolved:
    found = _need(known.found, "size found")
    nearest = min(said.sizes, key=lambda size: abs(size.exact - found.exact))
    ends = [_length(nearest.exact + sign * said.within.exact, nearest, said.within) for sign in (-1, 1)]
    line = f"nearest of the list {nearest}, within {said.within}: {ends[0].typed} to {ends[1]}"
    return Resolved(Limits(service=Band(*ends)), (line,))


def _not_applicable(said: NotApplicable, known: Known) -> Resolved:  # noqa: ARG001 - the same shape as the others
    return Resolved(Limits(), ("the row does not apply to this part",), applies=False)


_WAYS: dict[type, Callable[[Any, Known], Resolved]] = {
    Absolute: _absolute,
    WearFromNew: _wear,
    PerDiameter: _rate,
    PerLength: _rate,
    ShareOfOriginal: _share,
    MultipleOf: _multiple,
    Feel: _feel,
    Condition: _condition,
    NoneGiven: _none,
    OneOf: _one_of,
    NotApplicable: _not_applicable,
}


def resolve(said: Statement, known: Known | None = None) -> Resolved:
    """Say what a stated limit comes to for one part.

    Args:
        said: What the row states, as printed [in or mm].
        known: What is known of the part; nothing where it is left out.

    Returns:
        Limits with the working, a question for a person, or that the row does not apply.

    Raises:
        Missing: the statement needs something of the part that is not known; it is named.

    Source: kinds seen in US Army TM 10-3930-647-14&P and TM 5-6115-545-34 (read); wear counted from a new limit as in
        TM 5-4310-354-14, table 5-2 (read). Checked in: tests/published/test_limit_kinds.py
    """
    return _WAYS[type(said)](said, known or Known())
