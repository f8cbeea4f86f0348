"""Kinds of limit in five US Army technical manuals.

TM 10-3930-647-14&P, TM 5-6115-545-34, TM 5-6115-584-34, TM 10-3930-653-14&P and TM 5-4310-354-14, table 5-2.

Read (ground equipment, public domain): the wording of each kind and the figures of TM 5-4310-354-14, table 5-2. The
sizes a rate or a share is applied to are invented here; every result is exact, so no tolerance is used.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.limit import Band, Grade, Known, Limits, Missing, judge, resolve
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
from tenthbook.numbers.quantity import quantity

SHAFT_NEW = Band(quantity("0.6240 in"), quantity("0.6245 in"))
BORE_NEW = Band(quantity("0.6255 in"), quantity("0.6265 in"))


def service(said: Statement, known: Known | None = None) -> str:
    """The service limit a statement comes to, as text."""
    return str(resolve(said, known).limits.service)


def test_a_shaft_may_lose_its_wear_from_the_new_least() -> None:
    """A shaft of 0.6240 to 0.6245 with 0.0020 of wear may stay down to 0.6220 (TM 5-4310-354-14, table 5-2)."""
    said = WearFromNew(quantity("0.0020 in"), Side.LEAST, Reference.NEW_LEAST, SHAFT_NEW)
    resolved = resolve(said)
    assert str(resolved.limits.service) == "0.6220 in or more"
    assert resolved.arithmetic == ("new least 0.6240 in - wear 0.0020 in = service least 0.6220 in",)
    assert judge(quantity("0.6220 in").exact, resolved.limits).grade is Grade.SERVICE
    assert judge(quantity("0.6219 in").exact, resolved.limits).grade is Grade.REJECT


def test_a_bore_may_gain_its_wear_over_the_new_greatest() -> None:
    """TM 5-4310-354-14, table 5-2: bore 0.6255 to 0.6265, wear 0.0030 "over high limit" is 0.6295."""
    said = WearFromNew(quantity("0.0030 in"), Side.GREATEST, Reference.NEW_GREATEST, BORE_NEW)
    assert service(said) == "0.6295 in or less"


def test_total_wear_counts_from_the_part_itself() -> None:
    """The words "0.001 total wear" of a part that was 0.6243 new leave 0.6233, and ask when nobody measured it."""
    said = WearFromNew(quantity("0.001 in"), Side.LEAST, Reference.ORIGINAL, SHAFT_NEW)
    assert service(said, Known(original=quantity("0.6243 in"))) == "0.6233 in or more"
    with pytest.raises(Missing, match="no size when new"):
        resolve(said)


def test_a_rate_per_inch_of_diameter_is_multiplied_out() -> None:
    """The words "0.0005 per inch of diameter" on 2.3750 in is 0.0011875 in, every digit kept."""
    said = PerDiameter(quantity("0.0005 in"), quantity("1 in"))
    resolved = resolve(said, Known(diameter=quantity("2.3750 in")))
    assert resolved.limits.service.upper is not None
    assert resolved.limits.service.upper.number == Decimal("0.0011875")
    assert resolved.arithmetic[0].startswith("0.0005 in per 1 in of diameter x 2.3750 in = service greatest 0.0011875")


def test_a_rate_per_inch_of_travel_counts_the_travel() -> None:
    """The words "0.0005 per inch of travel" over 4.25 in is 0.002125 in; without the travel it is asked for by name."""
    said = PerLength(quantity("0.0005 in"), quantity("1 in"))
    assert service(said, Known(length=quantity("4.25 in"))) == "0.002125 in or less"
    with pytest.raises(Missing, match="no length"):
        resolve(said, Known(diameter=quantity("4.25 in")))


def test_a_rate_per_hundred_millimetres_keeps_its_own_unit() -> None:
    """A bend per 100 mm is counted on the length in any unit, and answered in the unit of the rate."""
    said = PerLength(quantity("0.05 mm"), quantity("100 mm"))
    assert service(said, Known(length=quantity("10 in"))) == "0.127 mm or less"


def test_a_share_of_the_original_is_exact() -> None:
    """The words "Original width + 15 %" of 0.4990 in is 0.57385 in."""
    said = ShareOfOriginal(Decimal(15))
    resolved = resolve(said, Known(original=quantity("0.4990 in")))
    assert str(resolved.limits.service) == "0.57385 in or less"
    assert resolved.arithmetic == ("size when new 0.4990 in +15 % = service greatest 0.57385 in",)
    assert service(ShareOfOriginal(Decimal(-10)), Known(original=quantity("0.50 in"))) == "0.45 in or more"


def test_a_multiple_of_another_row_follows_that_row() -> None:
    """The words "2 times the allowable taper of a new shaft" is twice the new greatest of the row it names."""
    said = MultipleOf(Decimal(2), "size.taper")
    rows = {"size.taper": Limits(Band(upper=quantity("0.0005 in")))}
    assert service(said, Known(rows=rows)) == "0.0010 in or less"
    with pytest.raises(Missing, match=r"size\.taper"):
        resolve(said)


def test_a_ribbon_and_a_condition_are_asked_of_a_person() -> None:
    """No size decides them: the question is put, and no limit is made up."""
    for said, words in (
        (Feel(quantity("0.0050 in")), "0.0050 in"),
        (Condition("replace if disturbed after 50 h"), "50 h"),
    ):
        resolved = resolve(said)
        assert words in resolved.question
        assert not resolved.limits.service.given


def test_dashes_are_no_limit_and_not_nought() -> None:
    """A size under a row of dashes is graded no limit."""
    resolved = resolve(NoneGiven())
    assert judge(quantity("0.0001 in").exact, resolved.limits).grade is Grade.NO_LIMIT


def test_a_row_that_does_not_apply_says_so() -> None:
    """N/A is not the same as a blank."""
    assert not resolve(NotApplicable()).applies
    assert resolve(NoneGiven()).applies


def test_one_of_a_list_is_the_nearest_within_its_band() -> None:
    """Shims of 0.005 and 0.010 in: 0.0101 counts as 0.010, and 0.0075 as neither."""
    said = OneOf((quantity("0.005 in"), quantity("0.010 in")), quantity("0.0002 in"))
    for found, grade in (("0.0101 in", Grade.SERVICE), ("0.0075 in", Grade.REJECT)):
        resolved = resolve(said, Known(found=quantity(found)))
        assert judge(quantity(found).exact, resolved.limits).grade is grade


def test_absolute_limits_stay_as_they_are_printed() -> None:
    """Kinds 1 and 2 need no arithmetic."""
    limits = Limits(SHAFT_NEW, Band(lower=quantity("0.6220 in")))
    assert resolve(Absolute(limits)).limits == limits


@given(st.integers(1, 99_999), st.integers(1, 9_999))
def test_inch_and_millimetre_agree(size: int, wear: int) -> None:
    """A wear allowance typed in inches and the same in millimetres come to one limit, exactly."""
    inches = [Fraction(size, 10_000) + 1, Fraction(wear, 10_000)]
    ends = []
    for unit, scale in (("in", Fraction(1)), ("mm", Fraction(254, 10))):
        start, amount = (quantity(f"{float(one * scale):.6f} {unit}") for one in inches)
        said = WearFromNew(amount, Side.GREATEST, Reference.NEW_GREATEST, Band(upper=start))
        upper = resolve(said).limits.service.upper
        assert upper is not None
        ends.append(upper.exact)
    assert ends[0] == ends[1]
