"""Do the two units a manual prints beside each other agree?

Both figures are kept and neither is mended: the slip may be in either. Two figures agree when they lie no further
apart than half a unit of the last printed digit of the one and of the other together; the comparison is exact.
In: a draft. Out: findings.

Sources: a bend "per 100 mm or 2.937 in" and a wear limit of 0.03 mm (0.0012 in), seen in a copy of
TM 10-3930-653-14&P (read); 0.75 to 0.107 mm beside 0.0030 to 0.0042 in, seen in a public page of limits in two units
(read). Checked in: tests/published/test_book_tables.py
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from tenthbook.numbers.because import Register
from tenthbook.numbers.quantity import Quantity, Unit, shown
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import CheckRule, Finding, Weight
from tenthbook.record.book.rows import TypedRow

RULES = Register()
_TWO_UNITS: dict[str, tuple[str, ...]] = {
    "sizes": ("new_min", "new_max", "service_min", "service_max", "amount", "per"),
    "fits": ("new_min", "new_max", "service_min", "service_max", "amount", "per"),
    "torques": ("least", "greatest"),
}
_PAIRS = (
    ("other_new_min", "other_new_max"),
    ("other_service_min", "other_service_max"),
    ("other_least", "other_greatest"),
)

UNITS_AGREE = CheckRule(
    id="book.units-agree",
    says="The same limit in two units agrees within half a unit of the last printed digit of each.",
    source="per 100 mm or 2.937 in, seen in a copy of TM 10-3930-653-14&P (read)",
    holds=lambda apart, allowed: apart <= allowed,
    passes={"apart": 0.00004, "allowed": 0.0005 + 0.00127},
    fails={"apart": 25.4, "allowed": 0.5 + 0.0127},
    todo="look at both figures on the page: one of them was read or printed wrong",
    weight=Weight.ASKS,
)
UNITS_ALIKE = CheckRule(
    id="book.units-alike",
    says="The second unit of a row measures the same kind of thing as the first.",
    source="rule of this book",
    holds=lambda first, second: first == second,
    passes={"first": "length", "second": "length"},
    fails={"first": "length", "second": "force"},
    todo="look at the page for the unit of each column",
)
FIRST_UNIT = CheckRule(
    id="book.first-unit",
    says="A figure in the second unit stands beside one in the first, the only one that is judged by.",
    source="rule of this book",
    holds=lambda first: bool(first),
    passes={"first": "0.0090"},
    fails={"first": ""},
    todo="look at the page: the first figure was left out, or the second slid under another heading",
    weight=Weight.ASKS,
)
OTHER_UNIT_ORDER = CheckRule(
    id="book.other-unit-order",
    says="In the second unit too a least is not above its greatest.",
    source="0.75 to 0.107 mm, seen in a public page of limits in two units (read)",
    holds=lambda least, greatest: least <= greatest,
    passes={"least": 0.075, "greatest": 0.107},
    fails={"least": 0.75, "greatest": 0.107},
    todo="look at the page: a figure slipped, or the two are changed over",
)
for _one in (UNITS_AGREE, UNITS_ALIKE, FIRST_UNIT, OTHER_UNIT_ORDER):
    RULES.add(_one)


@lru_cache(maxsize=256)
def _half_digit(decimals: int, unit: Unit) -> Fraction:
    """Half a unit of the last printed digit, in the coherent SI unit."""
    return unit.factor * Fraction(1, 2 * 10**decimals)


def _agree(row: TypedRow, column: str, first: Quantity, second: Quantity) -> Iterator[Finding]:
    allowed = _half_digit(first.decimals, first.unit) + _half_digit(second.decimals, second.unit)
    if not UNITS_AGREE.holds(apart=abs(first.exact - second.exact), allowed=allowed):
        converted = f"{shown(first.into(second.unit), second.decimals)} {second.unit}"
        yield row.at.breaks(UNITS_AGREE, f"other_{column}", f"{first} beside {second}; {first} is {converted}")


def _in_two_units(row: TypedRow, columns: tuple[str, ...], alike: bool) -> Iterator[Finding]:
    for column in columns:
        second = row.number(f"other_{column}")
        if second is None:
            continue
        first = row.number(column)
        if first is not None and alike:
            yield from _agree(row, column, first, second)
        elif not FIRST_UNIT.holds(first=row.text(column)):
            yield row.at.breaks(FIRST_UNIT, column, f"nothing beside {second}", f"the figure in {row.text('unit')}")


def _order(row: TypedRow) -> Iterator[Finding]:
    for least_column, greatest_column in _PAIRS:
        least, greatest = row.number(least_column), row.number(greatest_column)
        if least is None or greatest is None:
            continue
        if not OTHER_UNIT_ORDER.holds(least=least.number, greatest=greatest.number):
            found = f"{least.typed} to {greatest}"
            yield row.at.breaks(OTHER_UNIT_ORDER, least_column, found, "the least first, then the greatest")


def check_units(draft: Draft) -> Iterator[Finding]:
    """Find rows whose two printed units contradict each other.

    Args:
        draft: The book as it was written.

    Yields:
        A finding each, with both figures as printed and what the first of them is in the second unit.

    Source: common practice, no source; rows seen in TM 10-3930-653-14&P (read). Checked in:
        tests/published/test_book_tables.py
    """
    for table, columns in _TWO_UNITS.items():
        for row in draft.of(table):
            second = row.values.get("other_unit")
            if second is None:
                continue
            first = row.values.get("unit")
            alike = first is not None and first.dimension == second.dimension
            if first is not None and not UNITS_ALIKE.holds(first=first.kind, second=second.kind):
                found = f"{second}, a {second.kind}, beside {first}, a {first.kind}"
                yield row.at.breaks(UNITS_ALIKE, "other_unit", found, f"a {first.kind}")
            yield from _in_two_units(row, columns, alike)
            yield from _order(row)
