"""From the columns of a row to what it states: one of the twelve kinds of limit, kept as printed.

A wear allowance stays an allowance, a rate stays a rate; they resolve against a part (`numbers.limit.resolve`), and
nobody computes while typing.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.limit import Band, Limits
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
from tenthbook.numbers.quantity import Quantity, shown
from tenthbook.record.book import form_rules
from tenthbook.record.book.findings import At, Finding

_SIDES = ("new_min", "new_max", "service_min", "service_max")
_NEW = ("new_min", "new_max")
# The columns a kind must fill, and those it may fill beside them.
FIELDS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "absolute": ((), _SIDES),
    "wear from new": (("amount", "side", "reference"), _NEW),
    "per diameter": (("amount", "per", "over"), ("side",)),
    "per length": (("amount", "per", "over"), ("side",)),
    "share of original": (("per_cent",), _NEW),
    "multiple": (("times", "of_row"), _NEW),
    "feel": (("ribbon",), ()),
    "condition": (("condition",), _NEW),
    "none": ((), ()),
    "one of": (("list", "within"), ()),
    "not applicable": ((), ()),
}
_OWNED = tuple(dict.fromkeys(name for needed, others in FIELDS.values() for name in (*needed, *others)))


def _band(at: At, prefix: str, values: Mapping[str, Any], findings: list[Finding]) -> Band:
    least, greatest = values.get(f"{prefix}_min"), values.get(f"{prefix}_max")
    if least is None or greatest is None:
        return Band(least, greatest)
    if not form_rules.LEAST_FIRST.holds(least=least.number, greatest=greatest.number):
        findings.append(at.breaks(form_rules.LEAST_FIRST, f"{prefix}_min", f"{least.typed} to {greatest}"))
        return Band()
    return Band(least, greatest)


def _kind_fields(at: At, kind: str, cells: Mapping[str, str]) -> list[Finding]:
    """Say what the kind lacks, and what stands there of another kind."""
    needed, others = FIELDS[kind]
    lacking = tuple(name for name in needed if not cells.get(name))
    strange = tuple(name for name in _OWNED if cells.get(name) and name not in needed and name not in others)
    if kind == "absolute" and not any(cells.get(name) for name in _SIDES):
        lacking = ("a limit",)
    if not lacking and not strange:
        return []
    found = [f"nothing in {', '.join(lacking)}"] if lacking else []
    found += [f"something in {', '.join(strange)}"] if strange else []
    expected = f"for {kind}: " + (", ".join((*needed, *(f"perhaps {name}" for name in others))) or "no limit at all")
    return [at.breaks(form_rules.KIND_FIELDS, "kind", f"{kind} with {' and '.join(found)}", expected)]


_MAKERS: dict[str, Callable[[Mapping[str, Any], Limits], Statement]] = {
    "absolute": lambda values, limits: Absolute(limits),  # noqa: ARG005 - the same shape as the others
    "wear from new": lambda values, limits: WearFromNew(
        values["amount"], Side(values["side"]), Reference(values["reference"]), limits.new
    ),
    "per diameter": lambda values, limits: PerDiameter(values["amount"], values["per"], _side(values)),  # noqa: ARG005
    "per length": lambda values, limits: PerLength(values["amount"], values["per"], _side(values)),  # noqa: ARG005
    "share of original": lambda values, limits: ShareOfOriginal(values["per_cent"]),  # noqa: ARG005
    "multiple": lambda values, limits: MultipleOf(values["times"], values["of_row"]),  # noqa: ARG005
    "feel": lambda values, limits: Feel(values["ribbon"]),  # noqa: ARG005
    "condition": lambda values, limits: Condition(values["condition"]),  # noqa: ARG005
    "none": lambda values, limits: NoneGiven(),  # noqa: ARG005
    "one of": lambda values, limits: OneOf(values["list"], values["within"]),  # noqa: ARG005
    "not applicable": lambda values, limits: NotApplicable(),  # noqa: ARG005
}


def _side(values: Mapping[str, Any]) -> Side:
    return Side(values.get("side", Side.GREATEST))


def _above_nought(at: At, values: Mapping[str, Any], findings: list[Finding]) -> bool:
    """Refuse a rate over nothing: what is counted on must be above nought."""
    wrong = [name for name in ("per", "amount", "times", "ribbon") if name in values and _exact(values[name]) <= 0]
    findings += [at.breaks(form_rules.NUMBER, name, str(values[name]), "a number above nought") for name in wrong]
    return not wrong


def _apart(at: At, sizes: tuple[Quantity, ...], within: Quantity) -> Iterator[Finding]:
    """The first two sizes of a list that a reading could be taken for at once."""
    ordered = sorted(sizes, key=lambda one: one.number)
    for one, other in itertools.pairwise(ordered):
        if not form_rules.APART.holds(gap=other.number - one.number, within=within.number):
            yield at.breaks(form_rules.APART, "within", f"{one.typed} and {other}, within {within.typed}")
            return


def _exact(value: Any) -> Any:
    return value if isinstance(value, Decimal) else value.exact


def _twice(value: Quantity) -> Quantity:
    return Quantity(shown(2 * Fraction(value.number), value.decimals), value.unit)


def _doubled(statement: Statement, limits: Limits) -> tuple[Statement, Limits]:
    """Turn limits printed on the radius, a side or half the swing into those of the whole."""

    def twice(band: Band) -> Band:
        return Band(*(None if side is None else _twice(side) for side in (band.lower, band.upper)))

    whole = Limits(twice(limits.new), twice(limits.service))
    if isinstance(statement, Absolute):
        return Absolute(whole), whole
    if isinstance(statement, WearFromNew):
        return replace(statement, amount=_twice(statement.amount), new=whole.new), whole
    if isinstance(statement, PerDiameter | PerLength):
        return replace(statement, amount=_twice(statement.amount)), whole
    return statement, whole


def state(
    at: At, cells: Mapping[str, str], values: Mapping[str, Any], findings: list[Finding]
) -> tuple[Statement, Limits]:
    """Say what a row states.

    Args:
        at: Where the row stands.
        cells: Its cells as typed.
        values: What they mean.
        findings: Takes what contradicts the row's kind.

    Returns:
        The statement and the row's own least and greatest [unit as printed], those of the whole where the row prints
        half. A row that cannot be read states that no limit is given; it has findings, and no book is made of it.
    """
    kind = values.get("kind")
    limits = Limits(_band(at, "new", values, findings), _band(at, "service", values, findings))
    if kind is None:
        return NoneGiven(), limits
    wrong = _kind_fields(at, kind, cells)
    findings += wrong
    if wrong or not _above_nought(at, values, findings) or any(name not in values for name in FIELDS[kind][0]):
        return NoneGiven(), limits
    if kind == "one of":
        findings += _apart(at, values["list"], values["within"])
    try:
        _ = limits.service_resolved
    except TenthbookError as error:
        expected = "a service side that makes a band with the new limit of the other side"
        findings.append(at.breaks(form_rules.LEAST_FIRST, "service_min", error.found, expected))
        return NoneGiven(), Limits(limits.new)
    statement = _MAKERS[kind](values, limits)
    return _doubled(statement, limits) if values.get("reckoned") == "half" else (statement, limits)
