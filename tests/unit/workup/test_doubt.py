"""What the gauge's doubt makes of a plain verdict, and which gauge would decide."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tenthbook.numbers.limit import Band, Grade, Limits, judge
from tenthbook.numbers.quantity import Unit, find_unit, quantity
from tenthbook.record.job import JobState
from tenthbook.record.workup import Ruling, headline
from tenthbook.record.workup.doubt import length_text, rule_on
from tests.builders import STREAM, Workplace, small_book

INCH = find_unit("in")
MILLIMETRE = find_unit("mm")
BODY_BORE = ("1.4030", "1.4040", "", "1.4055")
"""New from 1.4030 to 1.4040, in service 1.4055 at most [in]: the pump body of the demonstration (invented)."""
GUARDED_95 = Fraction("1.6448536269514722")
"""The 0.95 point of the normal distribution [-], as any table prints it: 1.645."""


def band(lower: str, upper: str, unit: Unit = INCH) -> Band:
    """A band as printed; empty text is a blank side."""
    return Band(*(quantity(f"{side} {unit.name}") if side else None for side in (lower, upper)))


def limits(new_lower: str, new_upper: str, lower: str, upper: str) -> Limits:
    """New limits, then service limits [in]."""
    return Limits(band(new_lower, new_upper), band(lower, upper))


def job(rule: str = "guarded", conformance: str = "0.95") -> JobState:
    """A job in which a rule was chosen."""
    return JobState(rule=rule, conformance=conformance)


def ruled(value: str, expanded: str = "", of: Limits | None = None, state: JobState | None = None) -> Ruling:
    """Judge a value in inches, its doubt given as expanded with 2."""
    u = Fraction(expanded) / 2 * INCH.factor if expanded else None
    return rule_on(Fraction(value) * INCH.factor, u, of or limits(*BODY_BORE), state or job())


def tenths(value: int) -> str:
    """So many hundred-thousandths of an inch as text [in]."""
    return f"{value / 100_000:.5f}"


Drawn = tuple[int, Limits]
GUARDS = st.integers(1, 200)
RULES = st.sampled_from(
    [("plain", "0.95"), ("guarded", "0.95"), ("guarded", "0.8"), ("guarded", "0.5"), ("full U", "0.95")]
)


@st.composite
def rows(draw: st.DrawFn, service: bool | None = None) -> tuple[int, int, int | None, int | None]:
    """New limits and wider service limits with blank sides [1e-5 in]."""
    low = draw(st.integers(50_000, 51_000))
    high = low + draw(st.integers(0, 200))
    given_service = draw(st.booleans()) if service is None else service
    lower = low - draw(st.integers(0, 200)) if given_service and draw(st.booleans()) else None
    upper = high + draw(st.integers(0, 200)) if given_service and (lower is None or draw(st.booleans())) else None
    return low, high, lower, upper


def as_limits(row: tuple[int, int, int | None, int | None]) -> Limits:
    """The same row as printed."""
    return limits(*("" if side is None else tenths(side) for side in row))


def near(row: tuple[int, int, int | None, int | None], offset: int) -> str:
    """A value about the row [in]."""
    return tenths(row[0] + offset)


OFFSETS = st.integers(-400, 700)


def test_the_telescoping_gauge_leaves_the_bore_undecided() -> None:
    """1.4052 with 0.0004 (k = 2): inside 1.4055 at face value by 0.0003, the guard asks for 0.00033."""
    ruling = ruled("1.4052", "0.0004")
    assert (headline(ruling), ruling.plain) == ("UNDECIDED, margin 0.0003", Grade.SERVICE)
    assert ruling.limit == quantity("1.4055 in")
    assert float(ruling.guard / INCH.factor) == pytest.approx(0.00032897, abs=5e-9)


def test_the_bore_gauge_decides_it() -> None:
    """1.40505 with 0.00012 (k = 2): in service limits with a margin of 0.00045."""
    ruling = ruled("1.40505", "0.00012")
    assert (headline(ruling), ruling.plain) == ("IN SERVICE LIMITS, margin 0.00045", Grade.SERVICE)
    assert float(ruling.guard / INCH.factor) == pytest.approx(0.0000987, abs=5e-8)


@pytest.mark.parametrize(
    ("rule", "conformance", "grade", "guard"),
    [
        ("plain", "0.95", Grade.SERVICE, 0.0),
        ("guarded", "0.95", Grade.UNDECIDED, 0.000328971),
        ("guarded", "0.90", Grade.SERVICE, 0.000256310),
        ("guarded", "0.5", Grade.SERVICE, 0.0),
        ("full U", "0.95", Grade.UNDECIDED, 0.0004),
        ("full U", "0.5", Grade.UNDECIDED, 0.0004),
    ],
)
def test_the_rule_of_the_job_says_how_wide_the_guard_is(
    rule: str, conformance: str, grade: Grade, guard: float
) -> None:
    """Plain asks for nothing, guarded for 1.645 or 1.282 standard uncertainties, full U for two of them."""
    ruling = ruled("1.4052", "0.0004", state=job(rule, conformance))
    assert ruling.grade is grade
    assert float(ruling.guard / INCH.factor) == pytest.approx(guard, abs=1e-9)
    assert ruling.standard_uncertainty == Fraction("0.0002") * INCH.factor


@pytest.mark.parametrize(("value", "grade"), [("1.4051", Grade.SERVICE), ("1.405101", Grade.UNDECIDED)])
def test_a_margin_as_wide_as_the_guard_is_enough(value: str, grade: Grade) -> None:
    """Full U with 0.0004: 1.4051 keeps exactly 0.0004 and is decided; a millionth more is not."""
    assert ruled(value, "0.0004", state=job("full U")).grade is grade


def test_a_job_is_guarded_until_something_else_is_chosen() -> None:
    """The same reading changes its verdict with the setting, and the setting is an entry."""
    place = Workplace().open()
    tag = place.remove("part.shaft")
    place.set_gauge("M1", "0.0004 in")
    place.read(tag, "size.shaft", "0.5101 in", "M1")
    seen = [headline(place.work_up().sizes[0].verdict)]
    for setting in ({"rule": "plain"}, {"rule": "full U"}, {"rule": "guarded", "conformance": "0.9"}):
        place.record("settings chosen", setting)
        seen.append(headline(place.work_up().sizes[0].verdict))
    margin = "margin 0.0003"
    decided = f"IN SERVICE LIMITS, {margin}"
    assert seen == [f"UNDECIDED, {margin}", decided, f"UNDECIDED, {margin}", decided]


def test_doubt_at_the_new_limit_alone_only_lowers_it() -> None:
    """1.4039 with 0.0004 is not proven new, and is well in service limits, against which its margin then stands."""
    ruling = ruled("1.4039", "0.0004")
    assert (ruling.grade, ruling.plain, ruling.limit) == (Grade.SERVICE, Grade.NEW, quantity("1.4030 in"))
    assert headline(ruling) == "IN SERVICE LIMITS, margin 0.0009"
    assert headline(ruled("1.4035", "0.0004")) == "IN NEW LIMITS, margin 0.0005"


def test_a_blank_service_side_is_guarded_at_the_new_limit() -> None:
    """The bore has no service least, so its new least stays the limit there: 0.0001 inside it is undecided."""
    assert headline(ruled("1.4031", "0.0004")) == "UNDECIDED, margin 0.0001"


def test_new_limits_alone_leave_undecided_at_their_edge() -> None:
    """Where the row gives no service limit, doubt at the new limit is doubt about everything."""
    new_only = limits("0.5124", "0.5130", "", "")
    assert headline(ruled("0.5129", "0.0004", new_only)) == "UNDECIDED, margin 0.0001"
    assert headline(ruled("0.5127", "0.0002", new_only)) == "IN NEW LIMITS, margin 0.0003"


@given(rows(), OFFSETS)
@settings(deadline=None)
def test_without_known_doubt_the_plain_verdict_is_the_answer(row: tuple[int, int, Any, Any], offset: int) -> None:
    """Grade, side, limit and margin are those of the value at face value, under every rule."""
    value = near(row, offset)
    for rule in ("plain", "guarded", "full U"):
        ruling, plain = (
            ruled(value, "", as_limits(row), job(rule)),
            judge(quantity(f"{value} in").exact, as_limits(row)),
        )
        assert (ruling.grade, ruling.plain, ruling.side) == (plain.grade, plain.grade, plain.side)
        assert (ruling.limit, ruling.distance) == (plain.limit, plain.distance)
        assert ruling.standard_uncertainty is None
        assert ruling.guard == 0


@given(rows(), OFFSETS, GUARDS)
@settings(deadline=None)
def test_the_plain_rule_keeps_the_plain_verdict_and_the_doubt_beside_it(
    row: tuple[int, int, Any, Any], offset: int, doubt: int
) -> None:
    """Nothing is undecided under it."""
    value = near(row, offset)
    ruling, plain = ruled(value, tenths(doubt), as_limits(row), job("plain")), ruled(value, "", as_limits(row))
    assert (ruling.grade, ruling.limit, ruling.distance) == (plain.grade, plain.limit, plain.distance)
    assert ruling.standard_uncertainty is not None


@given(rows(), OFFSETS, GUARDS, RULES)
@settings(deadline=None)
def test_beyond_and_no_limit_stay_whatever_the_doubt(
    row: tuple[int, int, Any, Any], offset: int, doubt: int, rule: tuple[str, str]
) -> None:
    """A doubtful gauge neither saves a part nor makes a limit."""
    value = near(row, offset)
    plain = ruled(value, "", as_limits(row))
    assume(plain.grade in (Grade.REJECT, Grade.NO_LIMIT))
    ruling = ruled(value, tenths(doubt), as_limits(row), job(*rule))
    assert (ruling.grade, ruling.side, ruling.limit, ruling.distance) == (
        plain.grade,
        plain.side,
        plain.limit,
        plain.distance,
    )


@given(rows(), OFFSETS, GUARDS, GUARDS, RULES)
@settings(deadline=None)
def test_more_doubt_never_improves_a_verdict(
    row: tuple[int, int, Any, Any], offset: int, doubt: int, more: int, rule: tuple[str, str]
) -> None:
    """Undecided never turns within, service never turns new, and no doubt makes a value beyond that was not."""
    value, state = near(row, offset), job(*rule)
    less = ruled(value, tenths(doubt), as_limits(row), state)
    much = ruled(value, tenths(doubt + more), as_limits(row), state)
    assert much.grade >= less.grade >= less.plain
    assert (much.grade is Grade.REJECT) == (less.plain is Grade.REJECT)


@given(rows(service=True), OFFSETS, GUARDS, st.integers(0, 200), st.integers(0, 200), RULES)
@settings(deadline=None)
def test_a_wider_limit_never_worsens_a_verdict(
    row: tuple[int, int, Any, Any], offset: int, doubt: int, down: int, up: int, rule: tuple[str, str]
) -> None:
    """Within never turns beyond or undecided by widening the service limits, nor undecided beyond."""
    low, high, lower, upper = row
    wide = (low, high, None if lower is None else lower - down, None if upper is None else upper + up)
    value, state = near(row, offset), job(*rule)
    narrow = ruled(value, tenths(doubt), as_limits(row), state)
    assert ruled(value, tenths(doubt), as_limits(wide), state).grade <= narrow.grade


@given(rows(), OFFSETS, GUARDS, st.sampled_from(["0.5", "0.6", "0.8", "0.9", "0.95", "0.99", "0.99999999"]))
@settings(deadline=None)
def test_a_higher_demand_never_decides_more(
    row: tuple[int, int, Any, Any], offset: int, doubt: int, demand: str
) -> None:
    """What is undecided at 0.95 is undecided at every higher probability of being right, and the other way round."""
    value = near(row, offset)
    usual = ruled(value, tenths(doubt), as_limits(row))
    other = ruled(value, tenths(doubt), as_limits(row), job("guarded", demand))
    assert (other.grade >= usual.grade) if float(demand) >= 0.95 else (other.grade <= usual.grade)


@given(rows(), OFFSETS, GUARDS)
@settings(deadline=None)
def test_the_verdict_is_that_of_a_second_reckoning(row: tuple[int, int, Any, Any], offset: int, doubt: int) -> None:
    """In whole hundred-thousandths: proven where the value keeps 1.645 times half the expanded doubt from each side."""
    low, high, lower, upper = row
    value = row[0] + offset
    keep = GUARDED_95 * doubt / 2
    serves = lower is not None or upper is not None
    least, most = (low if lower is None else lower), (high if upper is None else upper)
    if low + keep <= value <= high - keep:
        expected = Grade.NEW
    elif serves and least + keep <= value <= most - keep:
        expected = Grade.SERVICE
    elif low <= value <= high or (serves and least <= value <= most):
        expected = Grade.UNDECIDED
    else:
        expected = Grade.REJECT if serves else Grade.NO_LIMIT
    assert ruled(tenths(value), tenths(doubt), as_limits(row)).grade is expected


@given(rows(), OFFSETS, GUARDS, RULES)
@settings(deadline=None)
def test_inch_and_millimetre_agree(
    row: tuple[int, int, Any, Any], offset: int, doubt: int, rule: tuple[str, str]
) -> None:
    """The same row, value and doubt printed in millimetres give the same grade and the same guard."""

    def metric(side: int | None) -> str:
        return "" if side is None else f"{side * 254 / 1_000_000:.6f}"

    in_metric = Limits(*(band(metric(low), metric(high), MILLIMETRE) for low, high in (row[:2], row[2:])))
    value = row[0] + offset
    u = Fraction(doubt, 200_000) * INCH.factor
    metric_value = quantity(f"{value * 254 / 1_000_000:.6f} mm").exact
    one, other = (
        ruled(tenths(value), tenths(doubt), as_limits(row), job(*rule)),
        rule_on(metric_value, u, in_metric, job(*rule)),
    )
    assert (one.grade, one.side, one.guard, one.distance * INCH.factor) == (
        other.grade,
        other.side,
        other.guard,
        other.distance * MILLIMETRE.factor,
    )


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        ("0", INCH, "0 in"),
        ("0.0002", INCH, "0.0002 in"),
        ("0.000328970725", INCH, "0.00033 in"),
        ("0.0000999", INCH, "0.0001 in"),
        ("1.25", MILLIMETRE, "1.2 mm"),
        ("12.6", MILLIMETRE, "13 mm"),
    ],
)
def test_a_computed_length_has_two_figures(value: str, unit: Unit, text: str) -> None:
    """Doubt is written with two significant figures, in plain digits."""
    assert length_text(Fraction(value) * unit.factor, unit) == text


def read_with(*gauges: tuple[str, str, str], value: str = "0.5128 in") -> Workplace:
    """The bore read with the first of several gauges: id, expanded doubt, what it measures."""
    place = Workplace().open()
    tag = place.remove("part.housing")
    for gauge, expanded, measures in gauges:
        place.set_gauge(gauge, expanded, measures)
    place.read(tag, "size.bore", value, gauges[0][0])
    return place


def because(place: Workplace) -> list[str]:
    """The arithmetic of the one size."""
    return list(place.work_up().sizes[0].because.arithmetic)


def test_an_undecided_size_tells_doubt_guard_and_the_gauge_that_would_decide() -> None:
    """Value, limit, gauge, rule, then the way on."""
    place = read_with(("T1", "0.0004 in", "bore"), ("B2", "0.00012 in", "bore"))
    size = place.work_up().sizes[0]
    assert because(place) == [
        "read 0.5128 in",
        "0.5128 against new greatest 0.5130 in: within by 0.0002",
        "gauge T1, bore gauge: 0.0004 in at k = 2",
        "rule guarded: guard 1.645 x 0.0002 in = 0.00033 in",
        "the margin is smaller than the guard: undecided; bore gauge B2 would decide (0.00012 in at k = 2)",
    ]
    assert (size.because.rule, size.because.entries) == ("doubt.undecided", (3, 5))


def test_of_several_the_least_sure_gauge_that_decides_is_named() -> None:
    """The finest is not asked for where a plainer one is enough."""
    place = read_with(("T1", "0.0004 in", "bore"), ("B1", "0.00002 in", "bore"), ("B2", "0.00012 in", "bore"))
    assert "bore gauge B2 would decide" in because(place)[-1]


@pytest.mark.parametrize(
    "others",
    [
        [],
        [("B2", "0.0003 in", "bore")],
        [("M1", "0.00005 in", "outside")],
    ],
)
def test_where_no_gauge_is_good_enough_it_says_so(others: list[tuple[str, str, str]]) -> None:
    """None there, none sure enough, or none that can measure a bore."""
    assert because(read_with(("T1", "0.0004 in", "bore"), *others))[-1].endswith("no gauge on the bench would decide")


def test_on_the_limit_no_gauge_would_decide() -> None:
    """A margin of nought is smaller than any guard."""
    place = read_with(("T1", "0.0004 in", "bore"), ("B2", "0.00001 in", "bore"), value="0.5130 in")
    assert because(place)[-1].endswith("undecided; no gauge on the bench would decide")


def test_a_decided_size_shows_its_guard_and_names_no_gauge_to_fetch() -> None:
    """What is proven needs no better gauge."""
    lines = because(read_with(("B2", "0.00012 in", "bore"), ("B1", "0.00002 in", "bore")))
    assert lines[2:] == [
        "gauge B2, bore gauge: 0.00012 in at k = 2",
        "rule guarded: guard 1.645 x 0.00006 in = 0.000099 in",
    ]


@given(st.integers(1, 60), st.lists(st.integers(1, 60), min_size=1, max_size=4))
@settings(deadline=None, max_examples=40)
def test_the_gauge_that_is_named_does_decide(first: int, crib: list[int]) -> None:
    """Read again to the same value with it the size is decided; where none is named, none of them decides."""
    gauges = [(f"B{number}", tenths(doubt), "bore") for number, doubt in enumerate([first, *crib])]
    place = read_with(*((gauge, f"{doubt} in", kind) for gauge, doubt, kind in gauges))
    if place.work_up().sizes[0].verdict.grade is not Grade.UNDECIDED:
        return
    decides = []
    for gauge, _, _ in gauges:
        place.read("P-0001-3", "size.bore", "0.5128 in", gauge)
        if place.work_up().sizes[0].verdict.grade is Grade.NEW:
            decides.append(gauge)
    place.read("P-0001-3", "size.bore", "0.5128 in", "B0")
    line = because(place)[-1]
    named = [gauge for gauge in decides if f" {gauge} would decide" in line]
    assert bool(named) == bool(decides)
    assert ("no gauge on the bench would decide" in line) == (not decides)


def undecided_fit() -> Workplace:
    """Shaft in bore at 0.0036 of 0.0037: the bore read with 0.0004, a gauge of 0.00002 for it on the bench."""
    place = Workplace().open()
    shaft, bore = place.remove("part.shaft"), place.remove("part.housing")
    place.set_gauge("T1", "0.0004 in", "bore")
    place.set_gauge("B2", "0.00002 in", "bore")
    place.set_gauge("M1", "0.00002 in")
    place.read(shaft, "size.shaft", "0.5092 in", "M1")
    place.read(bore, "size.bore", "0.5128 in", "T1")
    return place


def test_a_fit_carries_the_doubt_of_both_sizes() -> None:
    """0.0002 and 0.00001 make 0.00020025, and the fit with a margin of 0.0001 is undecided."""
    (fit,) = undecided_fit().work_up().fits
    assert headline(fit.verdict) == "UNDECIDED, margin 0.0001"
    assert fit.verdict.standard_uncertainty is not None
    assert float(fit.verdict.standard_uncertainty / INCH.factor) == pytest.approx(0.000200250, abs=5e-10)
    assert fit.because.rule == "doubt.undecided"


def test_a_fit_with_one_doubt_unknown_is_judged_plainly() -> None:
    """Half a doubt is none: the plain verdict is the answer."""
    place = undecided_fit()
    place.read("P-0002-1", "size.bore", "0.5128 in")
    (fit,) = place.work_up().fits
    assert (fit.verdict.standard_uncertainty, headline(fit.verdict)) == (None, "IN SERVICE LIMITS, margin 0.0001")


def test_an_undecided_fit_is_decided_by_the_better_gauge_and_does_not_deny_it() -> None:
    """With the bore read by the gauge on the bench the fit is decided, so it must not say that no gauge would."""
    place = undecided_fit()
    before = place.work_up().fits[0].because.arithmetic[-1]
    place.read("P-0002-1", "size.bore", "0.5128 in", "B2")
    assert headline(place.work_up().fits[0].verdict) == "IN SERVICE LIMITS, margin 0.0001"
    assert "no gauge on the bench would decide" not in before


def test_a_gauge_in_millimetres_judges_a_row_in_inches() -> None:
    """The doubt keeps its printed unit in the reason and counts in the row's."""
    place = read_with(("T1", "0.01016 mm", "bore"))
    size = place.work_up().sizes[0]
    assert size.verdict.standard_uncertainty == Fraction("0.0002") * INCH.factor
    assert "gauge T1, bore gauge: 0.01016 mm at k = 2" in because(place)
    assert headline(size.verdict) == "UNDECIDED, margin 0.0002"


def test_a_gauge_set_anew_leaves_what_was_read_before() -> None:
    """A reading keeps the doubt of the gauge as it was set for it; a correction of that setting judges it anew."""
    place = read_with(("B2", "0.00012 in", "bore"))
    place.set_gauge("B2", "0.0004 in", "bore")
    size = place.work_up().sizes[0]
    assert (headline(size.verdict), size.because.entries) == ("IN NEW LIMITS, margin 0.0002", (3, 4))
    place.record("corrected", {"entry": 3, "fields": {"expanded": "0.0004 in"}, "reason": "misread certificate"})
    assert headline(place.work_up().sizes[0].verdict) == "UNDECIDED, margin 0.0002"


def test_of_two_settings_the_one_in_more_doubt_judges() -> None:
    """Readings of one feature before and after a gauge was set anew are judged with the larger of the two doubts."""
    place = read_with(("B2", "0.00012 in", "bore"))
    place.set_gauge("B2", "0.0004 in", "bore")
    place.read("P-0001-3", "size.bore", "0.5128 in", "B2")
    size = place.work_up().sizes[0]
    assert headline(size.verdict).startswith("UNDECIDED")
    assert size.because.entries == (3, 4, 5, 6)


def test_the_factor_divides_the_doubt() -> None:
    """0.0006 expanded with 3 is the same gauge as 0.0004 with 2."""
    place = read_with(("T1", "0.0004 in", "bore"))
    two = place.work_up().sizes[0].verdict
    wider = {"expanded": "0.0006 in", "coverage_factor": "3"}
    place.record("corrected", {"entry": 3, "fields": wider, "reason": "as its certificate states it"})
    assert place.work_up().sizes[0].verdict == two
    assert place.bench.state(STREAM).gauges["T1"].coverage_factor == "3"


def test_the_small_book_guards_what_this_file_says() -> None:
    """The bore of the small book has new limits only, 0.5124 to 0.5130, and the shaft a service least of 0.5098."""
    sizes = small_book().sizes
    assert (str(sizes["size.bore"].limits.new), sizes["size.bore"].limits.service.given) == (
        "0.5124 to 0.5130 in",
        False,
    )
    assert str(sizes["size.shaft"].limits.service) == "0.5098 in or more"
