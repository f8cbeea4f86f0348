"""What a value is called against its limits, and by how much."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from tenthbook.numbers.limit import (
    Band,
    Grade,
    Limits,
    NotABand,
    bands,
    grade_one,
    grade_with_doubt,
    judge,
    margins_of,
    service_bands,
    worst,
)
from tenthbook.numbers.quantity import Quantity, quantity
from tenthbook.numbers.quantity.arrays import picometres

NEW = Band(quantity("0.5108 in"), quantity("0.5114 in"))
SHAFT = Limits(NEW, Band(quantity("0.5098 in")))


def inches(text: str) -> Fraction:
    """A size in metres."""
    return quantity(f"{text} in").exact


@pytest.mark.parametrize(
    ("size", "grade", "side", "limit", "distance"),
    [
        ("0.5111", Grade.NEW, None, "0.5108", "0.0003"),
        ("0.5108", Grade.NEW, None, "0.5108", "0"),
        ("0.5114", Grade.NEW, None, "0.5114", "0"),
        ("0.5107", Grade.SERVICE, None, "0.5114", "0.0007"),
        ("0.5100", Grade.SERVICE, None, "0.5098", "0.0002"),
        ("0.5098", Grade.SERVICE, None, "0.5098", "0"),
        ("0.5097", Grade.REJECT, "below", "0.5098", "0.0001"),
        ("0.5094", Grade.REJECT, "below", "0.5098", "0.0004"),
        ("0.5115", Grade.REJECT, "above", "0.5114", "0.0001"),
        ("0.50979999", Grade.REJECT, "below", "0.5098", "0.00000001"),
    ],
)
def test_a_shaft_is_graded_with_the_limit_that_matters(
    size: str, grade: Grade, side: str | None, limit: str, distance: str
) -> None:
    """On the limit is within it; the verdict names the nearest limit and the exact distance."""
    verdict = judge(inches(size), SHAFT)
    assert verdict.limit is not None
    assert (verdict.grade, verdict.side, verdict.limit.typed, verdict.distance) == (
        grade,
        side,
        limit,
        Fraction(distance),
    )


def test_no_limit_is_not_nought() -> None:
    """Outside new limits with no service limit the verdict is no limit, with no distance to anything."""
    verdict = judge(inches("0.5120"), Limits(NEW))
    assert (verdict.grade, verdict.side, verdict.limit) == (Grade.NO_LIMIT, None, None)


def test_a_row_of_dashes_judges_nothing() -> None:
    """Where the book gives nothing, every value has no limit."""
    assert judge(inches("0"), Limits()).grade is Grade.NO_LIMIT


def test_a_service_limit_alone_passes_into_service_not_into_new() -> None:
    """Without new limits nothing is in new limits."""
    limits = Limits(Band(), Band(None, quantity("0.0037 in")))
    assert judge(inches("0.0037"), limits).grade is Grade.SERVICE
    assert judge(inches("0.0038"), limits).side == "above"


def test_the_distance_is_in_the_printed_unit_of_the_limit() -> None:
    """A reading in millimetres against a limit in inches is told in inches, exactly."""
    verdict = judge(quantity("12.9 mm").exact, SHAFT)
    assert verdict.distance == Fraction("0.5098") - Fraction("12.9") / Fraction("25.4")


def test_a_value_finer_than_a_picometre_is_still_exact() -> None:
    """A billionth of a billionth outside is outside."""
    assert judge(inches("0.5098") - Fraction(1, 10**30), SHAFT).grade is Grade.REJECT


@pytest.mark.parametrize("order", list(permutations([Grade.NEW, Grade.REJECT, Grade.NO_LIMIT])))
def test_the_worst_grade_rules_in_any_order(order: tuple[Grade, ...]) -> None:
    """The order of the rows never matters."""
    assert worst(order) is Grade.REJECT


def test_the_grades_stand_in_their_order() -> None:
    """Beyond is worse than undecided, that than no limit, that than service, that than new."""
    assert sorted(Grade, reverse=True) == [Grade.REJECT, Grade.UNDECIDED, Grade.NO_LIMIT, Grade.SERVICE, Grade.NEW]
    assert [grade.word for grade in sorted(Grade)] == ["new", "service", "no limit", "undecided", "reject"]


def graded(value: Quantity, guard_pm: float, limits: Limits) -> Grade:
    """One grade under doubt."""
    new = bands([limits.new])
    service = service_bands(new, bands([limits.service]))
    return Grade(int(grade_with_doubt(picometres([value]), guard_pm, new, service)[0]))


TENTH_PM = 2_540_000.0  # 0.0001 in


@pytest.mark.parametrize(
    ("size", "guard_pm", "grade"),
    [
        ("0.5111", TENTH_PM, Grade.NEW),
        ("0.5109", TENTH_PM, Grade.NEW),  # exactly the guard's distance: proven
        ("0.51089", TENTH_PM, Grade.SERVICE),  # doubt at the new limit alone only lowers it
        ("0.5099", TENTH_PM, Grade.SERVICE),
        ("0.50989", TENTH_PM, Grade.UNDECIDED),
        ("0.5098", TENTH_PM, Grade.UNDECIDED),
        ("0.5097", TENTH_PM, Grade.UNDECIDED),  # exactly the guard beyond: not yet proven
        ("0.50969", TENTH_PM, Grade.REJECT),
        ("0.5114", TENTH_PM, Grade.UNDECIDED),  # the greatest new limit is the greatest of service too
        ("0.51151", TENTH_PM, Grade.REJECT),
    ],
)
def test_a_band_is_proven_by_the_guards_distance(size: str, guard_pm: float, grade: Grade) -> None:
    """The best band that is proven is the grade, reject only if proven, else undecided."""
    assert graded(quantity(f"{size} in"), guard_pm, SHAFT) is grade


def test_outside_new_without_service_is_no_limit_only_when_proven_outside() -> None:
    """Near the new limit it is undecided, well outside it has no limit."""
    assert graded(quantity("0.51145 in"), TENTH_PM, Limits(NEW)) is Grade.UNDECIDED
    assert graded(quantity("0.5120 in"), TENTH_PM, Limits(NEW)) is Grade.NO_LIMIT


@given(st.integers(4980, 5220), st.floats(0, 1e8), st.floats(0, 1e8))
@settings(deadline=None)
def test_more_doubt_proves_nothing_more(tenths: int, guard_pm: float, more_pm: float) -> None:
    """A wider guard never turns undecided into proven, nor one proof into another but new into service."""
    value = quantity(f"0.{tenths:04d} in")
    before, after = graded(value, guard_pm, SHAFT), graded(value, guard_pm + more_pm, SHAFT)
    assert after in (before, Grade.UNDECIDED) or (before, after) == (Grade.NEW, Grade.SERVICE)


@given(st.integers(4980, 5220))
@settings(deadline=None)
def test_one_by_one_and_as_arrays_agree(tenths: int) -> None:
    """The verdict on one value is the array's grade without a guard."""
    value = quantity(f"0.{tenths:04d} in")
    assert judge(value.exact, SHAFT).grade is graded(value, 0.0, SHAFT)


SIDES = st.one_of(st.none(), st.integers(5094, 5118))


def band_of(lower: int | None, upper: int | None) -> Band:
    """A band in ten-thousandths of an inch, its sides in order."""
    sides = [None if side is None else quantity(f"0.{side} in") for side in (lower, upper)]
    if lower is not None and upper is not None and lower > upper:
        sides.reverse()
    return Band(*sides)


@settings(max_examples=400, deadline=None)
@given(st.integers(5090, 5120), st.integers(0, 12), SIDES, SIDES, SIDES, SIDES)
def test_one_value_with_doubt_is_graded_as_many_are(
    tenths: int, guard: int, new_least: int | None, new_most: int | None, least: int | None, most: int | None
) -> None:
    """Compared as fractions and as arrays of picometres, every value, guard and pair of bands has one grade."""
    value, distance = inches(f"0.{tenths}"), inches(f"0.{guard:04d}")
    limits = Limits(band_of(new_least, new_most), band_of(least, most))
    try:
        assert limits.service_resolved is not None
    except NotABand:
        reject()  # no book states such limits: the checker refuses them
    new = bands([limits.new])
    service = service_bands(new, bands([limits.service]))
    at, keep = picometres([quantity(f"0.{tenths} in")]), picometres([quantity(f"0.{guard:04d} in")])
    assert grade_one(margins_of(value, limits), distance) == Grade(int(grade_with_doubt(at, keep, new, service)[0]))
