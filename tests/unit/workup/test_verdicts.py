"""A verdict on each size, each fit and each part, with the working as printed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tenthbook.numbers.limit import Grade
from tenthbook.record.workup import FitVerdict, PartVerdict, SizeVerdict, headline
from tests.builders import FITS_CSV, Workplace, small_book


def measured(*readings: tuple[str, str, str], place: Workplace | None = None) -> Workplace:
    """A job in which parts were removed and read: part, row, value."""
    place = place or Workplace().open()
    tags: dict[str, str] = {}
    for part, row, value in readings:
        if part not in tags:
            tags[part] = place.remove(part)
        place.read(tags[part], row, value)
    return place


def size_of(place: Workplace, row: str) -> SizeVerdict:
    """The one verdict on a size."""
    (found,) = [size for size in place.work_up().sizes if size.size.id == row]
    return found


def fit_of(place: Workplace, row: str) -> FitVerdict:
    """The one verdict on a fit."""
    (found,) = [fit for fit in place.work_up().fits if fit.fit.id == row]
    return found


def part_of(place: Workplace, part: str) -> PartVerdict:
    """The one verdict on a part."""
    (found,) = [verdict for verdict in place.work_up().parts if verdict.part.part == part]
    return found


SHAFT = ("part.shaft", "size.shaft")
BORE = ("part.housing", "size.bore")


def test_a_size_is_judged_with_its_working() -> None:
    """The verdict names reading, row, page, arithmetic and rule."""
    size = size_of(measured((*SHAFT, "0.5094 in")), "size.shaft")
    assert (size.text, headline(size.verdict)) == ("0.5094", "BEYOND, below by 0.0004")
    assert size.because.lines() == [
        "read 0.5094 in",
        "0.5094 against service least 0.5098 in: below by 0.0004",
        "book row size.shaft, page 2-2",
        "entries 3",
        "rule limit.beyond",
    ]


def test_several_readings_count_by_their_exact_mean() -> None:
    """A third of a tenth is kept, and all readings are named."""
    size = size_of(measured((*SHAFT, "0.5110 in"), (*SHAFT, "0.5110 in"), (*SHAFT, "0.5111 in")), "size.shaft")
    assert size.value == (Fraction("0.5110") * 2 + Fraction("0.5111")) / 3 * Fraction(254, 10_000)
    assert size.text == "0.511033"
    assert size.because.entries == (3, 4, 5)
    assert size.because.arithmetic[0] == "mean of 0.5110, 0.5110, 0.5111 = 0.511033 in"


def test_a_mean_that_needs_more_digits_has_them() -> None:
    """The mean of two tenths is half a tenth, not rounded away."""
    assert size_of(measured((*SHAFT, "0.5097 in"), (*SHAFT, "0.5098 in")), "size.shaft").text == "0.50975"


def test_a_reading_in_millimetres_is_judged_in_the_rows_inches() -> None:
    """Both numbers stand in the working."""
    size = size_of(measured((*SHAFT, "12.9794 mm")), "size.shaft")
    assert (size.text, size.verdict.grade) == ("0.5110", Grade.NEW)
    assert size.because.arithmetic[0] == "read 12.9794 mm = 0.5110 in"


def test_mixed_units_make_one_mean() -> None:
    """Inch and millimetre readings of one feature count together, exactly."""
    size = size_of(measured((*SHAFT, "0.5110 in"), (*SHAFT, "12.9794 mm")), "size.shaft")
    assert size.value == Fraction("0.5110") * Fraction(254, 10_000)
    assert "12.9794 mm" in size.because.arithmetic[0]


def test_a_withdrawn_reading_changes_the_verdict_back() -> None:
    """Only readings that count make the mean; without any there is no verdict."""
    place = measured((*SHAFT, "0.5110 in"), (*SHAFT, "0.5010 in"))
    assert size_of(place, "size.shaft").verdict.grade is Grade.REJECT
    place.record("withdrawn", {"entry": 4, "reason": "one turn low"})
    assert size_of(place, "size.shaft").verdict.grade is Grade.NEW
    place.record("withdrawn", {"entry": 3, "reason": "wrong shaft"})
    assert place.work_up().sizes == ()


def test_a_clearance_is_hole_less_shaft() -> None:
    """The fit's working shows the sum and names the rows of both parts."""
    fit = fit_of(measured((*BORE, "0.5130 in"), (*SHAFT, "0.5094 in")), "fit.shaft")
    assert (fit.text, headline(fit.verdict)) == ("0.0036", "IN SERVICE LIMITS, margin 0.0001")
    assert fit.because.arithmetic == (
        "0.5130 - 0.5094 = 0.0036 in",
        "0.0036 against service greatest 0.0037 in: within by 0.0001",
    )
    assert [row.row for row in fit.because.rows] == ["fit.shaft", "size.bore", "size.shaft"]


def test_a_tight_fit_is_written_with_its_letter() -> None:
    """Negative clearance is T, and its service limit is a least tightness."""
    fit = fit_of(
        measured(("part.cover", "size.plug-hole", "0.2504 in"), ("part.plug", "size.plug", "0.2510 in")), "fit.plug"
    )
    assert (fit.text, fit.verdict.grade) == ("0.0006T", Grade.NEW)
    assert fit.because.arithmetic[0] == "0.2504 - 0.2510 = -0.0006 in (tight)"
    loose = fit_of(
        measured(("part.cover", "size.plug-hole", "0.2510 in"), ("part.plug", "size.plug", "0.2510 in")), "fit.plug"
    )
    assert (loose.text, headline(loose.verdict)) == ("0.0000", "BEYOND, above by 0.0002")


def test_a_fit_of_two_units_says_both() -> None:
    """A clearance between an inch bore and a millimetre plug is worked in the fit's unit."""
    row = "fit.odd,flange in bore,size.bore,size.flange,absolute,in,,,,0.5,,2-9,"
    place = Workplace().open(small_book(fits=FITS_CSV + row + "\n"))
    fit = fit_of(measured((*BORE, "0.5130 in"), ("part.cover", "size.flange", "6.000 mm"), place=place), "fit.odd")
    assert fit.value == Fraction("0.5130") * Fraction(254, 10_000) - Fraction(6, 1000)
    assert fit.because.arithmetic[0].startswith("0.5130 in - 6.000 mm = 0.2767")


def test_a_fit_waits_for_both_parts() -> None:
    """One measured part makes no fit."""
    assert measured((*SHAFT, "0.5110 in")).work_up().fits == ()


def test_parts_kept_to_their_position_are_paired_within_it() -> None:
    """A left shaft is not judged in a right bore."""
    place = Workplace().open()
    left, right = place.remove("part.shaft", position="left"), place.remove("part.shaft", position="right")
    bore = place.remove("part.housing", position="right")
    place.read(left, "size.shaft", "0.5110 in")
    place.read(right, "size.shaft", "0.5111 in")
    place.read(bore, "size.bore", "0.5130 in")
    assert [(fit.hole.part.tag, fit.shaft.part.tag) for fit in place.work_up().fits] == [(bore, right)]


def test_the_worst_verdict_rules_the_part() -> None:
    """A fit that passes does not save a shaft that fails its own limit."""
    place = measured((*BORE, "0.5130 in"), (*SHAFT, "0.5094 in"))
    assert fit_of(place, "fit.shaft").verdict.grade is Grade.SERVICE
    part = part_of(place, "part.shaft")
    assert (part.grade, part.because.rule) == (Grade.REJECT, "limit.worst")
    assert part.because.arithmetic[-1] == "the worst of these rules: BEYOND"
    assert part.because.entries == (3, 5)


def test_a_size_without_a_limit_is_settled_by_its_fit() -> None:
    """A bore outside new limits that has no service limit is as good as its fit."""
    place = measured((*BORE, "0.5131 in"), (*SHAFT, "0.5110 in"))
    assert size_of(place, "size.bore").verdict.grade is Grade.NO_LIMIT
    assert part_of(place, "part.housing").grade is Grade.NEW


def test_a_size_without_a_limit_and_without_a_fit_has_no_limit() -> None:
    """Alone on the bench the bore is not passed: no limit."""
    place = measured((*BORE, "0.5131 in"))
    assert part_of(place, "part.housing").grade is Grade.NO_LIMIT
    assert "the book gives no service limit" in size_of(place, "size.bore").because.arithmetic[1]


def doubtful(shaft: str, bore: str, gauge: str, fits: str = FITS_CSV) -> Workplace:
    """Shaft and bore, each read with a gauge of 0.00002 but for the one that is named: that one has 0.0004."""
    place = Workplace().open(small_book(fits=fits))
    for name, measures in (("M1", "outside"), ("B1", "bore")):
        place.set_gauge(name, "0.0004 in" if name == gauge else "0.00002 in", measures)
    place.read(place.remove("part.shaft"), "size.shaft", shaft, "M1")
    place.read(place.remove("part.housing"), "size.bore", bore, "B1")
    return place


def test_an_undecided_size_without_a_service_limit_is_settled_by_its_fit() -> None:
    """Doubt at the new limit of a bore that has no other is settled where the fit is decided."""
    place = doubtful("0.5103 in", "0.5129 in", "B1")
    assert size_of(place, "size.bore").verdict.grade is Grade.UNDECIDED
    assert (fit_of(place, "fit.shaft").verdict.grade, part_of(place, "part.housing").grade) == (
        Grade.SERVICE,
        Grade.SERVICE,
    )


def test_a_fit_that_is_itself_undecided_rules_the_part() -> None:
    """The size is settled by a judged fit, and the fit's own verdict, undecided, is then the part's."""
    place = doubtful("0.5094 in", "0.5130 in", "B1")
    assert fit_of(place, "fit.shaft").verdict.grade is Grade.UNDECIDED
    assert part_of(place, "part.housing").grade is Grade.UNDECIDED
    assert part_of(place, "part.shaft").grade is Grade.REJECT


def test_a_fit_without_a_limit_settles_nothing() -> None:
    """Where the fit has no limit to be judged by, the undecided bore stays undecided."""
    place = doubtful(
        "0.5103 in", "0.5129 in", "B1", FITS_CSV.replace("absolute,in,0.0010,0.0022,,0.0037", "none,in,,,,")
    )
    assert fit_of(place, "fit.shaft").verdict.grade is Grade.NO_LIMIT
    assert part_of(place, "part.housing").grade is Grade.UNDECIDED


def test_an_undecided_size_with_a_service_limit_is_not_saved_by_its_fit() -> None:
    """The shaft has a limit of its own: while that is undecided the shaft is, whatever the fit says."""
    place = doubtful("0.5099 in", "0.5126 in", "M1")
    assert headline(size_of(place, "size.shaft").verdict) == "UNDECIDED, margin 0.0001"
    assert fit_of(place, "fit.shaft").verdict.grade is Grade.SERVICE
    assert part_of(place, "part.shaft").grade is Grade.UNDECIDED
    assert "UNDECIDED: read it again with a gauge that decides" in [line.what for line in place.work_up().undone]


def test_a_row_of_dashes_is_told_as_such() -> None:
    """A measured feature without any limit says that the book gives none."""
    size = size_of(measured(("part.shaft", "size.slot", "0.0010 in")), "size.slot")
    assert (headline(size.verdict), size.because.arithmetic[1]) == ("NO LIMIT", "the book gives no limit")


@pytest.mark.parametrize(
    ("value", "line"),
    [
        ("0.5108 in", "0.5108 against new least 0.5108 in: within by 0.0000"),
        ("0.5113 in", "0.5113 against new greatest 0.5114 in: within by 0.0001"),
        ("0.5100 in", "0.5100 against service least 0.5098 in: within by 0.0002"),
        ("0.5115 in", "0.5115 against service greatest 0.5114 in: above by 0.0001"),
    ],
)
def test_the_comparison_that_decided_is_printed(value: str, line: str) -> None:
    """Value, limit, which limit and by how much, in the figures of the book."""
    assert size_of(measured((*SHAFT, value)), "size.shaft").because.arithmetic[1] == line
