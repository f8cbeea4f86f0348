"""Rows that contradict themselves or leave out what they need are found, and their neighbours are not."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.book import draft_book
from tenthbook.record.book.checks.limits import RULES, check_limits
from tenthbook.record.book.findings import Weight
from tests.builders import book_files
from tests.unit.book.checks.rows import Cells, Pair, book, fit, found_by, pair, part, shaft, size

OUTSIDE, OTHER, NOUGHT, FINER = (
    "book.service-outside-new",
    "book.other-side",
    "book.nought",
    "book.finer-than-printed",
)
NOTE, PLACE, ONE_ROW, HALF = "book.note-lost", "book.place-stated", "book.one-row-a-feature", "book.half-or-full"


def wear(name: str, **cells: str) -> Cells:
    """A size whose service limit is wear counted from a new one."""
    return size(name, **{"kind": "wear from new", "side": "greatest", "reference": "new greatest", **cells})


def fits_of(*fits: Cells) -> list[Cells]:
    """The fits with the two sizes they name."""
    return [size(), shaft(), *fits]


PAIRS = [
    pair(OUTSIDE, "service_max", size(service_max="0.5128"), size(service_max="0.5130")),
    pair(OUTSIDE, "service_min", shaft(service_min="0.5110"), shaft(service_min="0.5108")),
    pair(
        OUTSIDE,
        "service_min",
        size("gap", new_max="0.020", new_min="", service_min="0.0205", service_max="0.0210"),
        size("gap", new_max="", new_min="0.010", service_max="0.047"),
    ),
    pair(
        OUTSIDE,
        "amount",
        wear("bore", amount="0.0004", reference="new least"),
        wear("bore", amount="0.0006", reference="new least"),
    ),
    pair("book.wear-start", "reference", wear("bore", amount="0.003", new_max=""), wear("bore", amount="0.003")),
    pair(
        OTHER,
        "service_min",
        fits_of(fit(service_min="0.0005")),
        fits_of(fit(service_min="0.0005", service_max="0.0037")),
    ),
    pair(
        OTHER,
        "side",
        wear("bore", measure="bore", side="least", reference="new least", amount="0.003"),
        wear("bore", measure="bore", amount="0.003"),
    ),
    pair(
        NOUGHT,
        "service_max",
        size("play", new_min="", new_max="", service_max="0"),
        size("play", new_min="0", new_max="0.010", service_max="0.016"),
    ),
    pair(
        NOUGHT,
        "service_max",
        size(service_min="0.000", service_max="0.000", new_min="", new_max=""),
        size(service_max="0.5140"),
    ),
    pair(
        NOUGHT,
        "new_max",
        fits_of(fit(new_min="0.0000", new_max="0.0000")),
        fits_of(fit(new_min="0.0010T", new_max="0.0000")),
    ),
    pair(NOUGHT, "new_min", size(measure="bore", new_min="0.0000"), size("taper", new_min="0", new_max="0.0005")),
    pair(NOUGHT, "service_min", shaft(service_min="0"), size("play", new_min="0", service_min="0", new_max="0.01")),
    pair(
        NOUGHT,
        "service_min",
        shaft(measure="diameter", service_min="0"),
        size("wheel", measure="angle", unit="deg", new_min="0", new_max="0"),
    ),
    pair(FINER, "new_min", size(new_min="0.039370"), size(new_min="0.51240")),
    pair(
        FINER,
        "other_new_max",
        size(other_unit="mm", other_new_max="13.03020"),
        size(other_unit="mm", other_new_max="13.0302"),
    ),
    pair(
        FINER,
        "list",
        size(new_min="", new_max="", kind="one of", list="0.0050; 0.010000", within="0.0002"),
        size(new_min="", new_max="", kind="one of", list="0.0050; 0.0100", within="0.0002"),
    ),
    pair(NOTE, "note", size(note_mark="3"), size(note_mark="3", note="measured in the free state")),
    pair(NOTE, "note", part("plug", note="(2)"), part("plug", note="see note 2")),
    pair(
        PLACE,
        "at",
        size("barrel", measure="choke", new_min="0.003", new_max="0.005"),
        size("barrel", measure="choke", new_min="0.003", new_max="0.005", at="5.75 in from the open end"),
    ),
    pair(
        PLACE,
        "at",
        size("spring", measure="spring load", unit="lbf", new_min="12.0", new_max="12.6", at="in the tester"),
        size("spring", measure="spring load", unit="lbf", new_min="12.0", new_max="12.6", at="loaded to 1.30 in"),
    ),
    pair(
        PLACE,
        "at",
        size("ring", feature="gap of the upper ring", measure="gap", new_min="0.010", new_max="0.020"),
        size("points", feature="gap of the springs", measure="gap", new_min="0.010", new_max="0.020"),
    ),
    pair(
        PLACE,
        "at",
        size("journal", measure="taper", new_min="", new_max="0.0005"),
        size("journal", measure="taper", kind="none", new_min="", new_max=""),
    ),
    pair(
        ONE_ROW,
        "effectivity",
        (size(), size("second", part="part.bore", feature="Bore  diameter")),
        (size(effectivity="serial 1 to 100"), size("second", part="part.bore", effectivity="serial 101 and up")),
    ),
    pair(
        ONE_ROW,
        "effectivity",
        (size(), size("second", part="part.bore", feature="bore diameter", effectivity="serial 101 and up")),
        (size(at="upper end"), size("second", part="part.bore", feature="bore diameter", at="lower end")),
    ),
    pair(
        ONE_ROW,
        "effectivity",
        (
            size(effectivity="model A"),
            size("second", part="part.bore", feature="bore diameter", effectivity="model A"),
        ),
        (
            size(measure="bore"),
            size(
                "second", part="part.bore", feature="bore diameter", measure="out-of-round", new_min="", new_max="0.001"
            ),
        ),
    ),
    pair(
        ONE_ROW,
        "effectivity",
        (size(measure="bore", ref="12"), size("second", part="part.bore", measure="bore", ref="12")),
        (size(measure="bore", ref="12"), size("second", measure="bore", ref="12")),
    ),
    pair(ONE_ROW, "effectivity", fits_of(fit(), fit("again", name="Shaft in bore")), fits_of(fit(), fit("other"))),
    pair(
        ONE_ROW,
        "effectivity",
        fits_of(fit(ref="7"), fit("again", ref="7")),
        [*fits_of(fit(ref="7"), fit("again", ref="7", hole="size.second")), size("second")],
    ),
    pair(
        HALF,
        "reckoned",
        size("flange", measure="run-out", new_min="", new_max="0.005"),
        size("flange", measure="run-out", new_min="", new_max="0.005", reckoned="full"),
    ),
    pair(
        HALF,
        "reckoned",
        fits_of(fit("radial-clearance")),
        fits_of(fit("radial-clearance", reckoned="half", new_min="0.0005", new_max="0.0011")),
    ),
    pair(HALF, "reckoned", size(feature="wear on each side"), size(feature="fillet radius")),
    pair("book.safety-limit", "kind", size(kind="none", new_min="", new_max="", safety="yes"), size(safety="yes")),
]


@pytest.mark.parametrize("one", PAIRS, ids=str)
def test_a_slip_is_found_and_its_neighbour_is_not(one: Pair) -> None:
    """The rule names the row that breaks it, and no rule speaks of the row beside it that is written rightly."""
    found = found_by(check_limits, *one.broken)
    assert (one.rule, one.column) in {(finding.rule, finding.column) for finding in found}, found
    assert found_by(check_limits, *one.sound) == []


def test_every_rule_of_rows_is_broken_by_one_of_these() -> None:
    """No rule stands in the register that no slip can break."""
    assert {one.rule for one in PAIRS} == {rule.id for rule in RULES}


def test_rows_for_one_feature_are_each_asked_once() -> None:
    """The later rows for one feature are asked; the first only where it alone is without a variant."""
    rows = [size(name, part="part.bore", feature="bore diameter") for name in ("one", "two", "three")]
    assert [finding.row for finding in found_by(check_limits, *rows)] == ["size.two", "size.three"]
    rows[1:] = [{**row, "effectivity": f"model {row['id']}"} for row in rows[1:]]
    (asked,) = found_by(check_limits, *rows)
    assert (asked.row, asked.found) == ("size.one", "the same as size.two, and says for no variant")


def test_a_row_that_is_written_wrongly_is_checked_as_far_as_it_can_be() -> None:
    """A least above its greatest states no limit, and the checks go on without one."""
    draft = book(size(new_min="0.5140", service_max="0.5100", note_mark="1"))
    assert [finding.rule for finding in draft.findings] == ["book.least-first"]
    assert [finding.rule for finding in check_limits(draft)] == [NOTE]


def test_a_finding_says_where_and_what_and_holds_no_other_number() -> None:
    """The row that contradicts itself is named with its file, line and figures, and asked about."""
    (asked,) = found_by(check_limits, size("pin", new_min="0.01", new_max="0.066", service_max="0.03", unit="mm"))
    assert (asked.place, asked.row, asked.weight) == ("sizes:1", "size.pin", Weight.ASKS)
    assert asked.found == "service greatest 0.03 mm beside new 0.01 to 0.066 mm"
    assert (
        asked.expected == "a service limit lies on or outside the new limit, since a new part is in service limits too"
    )


TENTHS = st.integers(1, 99_999).map(lambda tenths: Decimal(tenths) / 10_000)


@given(TENTHS, TENTHS, TENTHS)
def test_service_outside_new_is_a_matter_of_order_alone(one: Decimal, two: Decimal, three: Decimal) -> None:
    """A greatest in service is asked about when, and only when, it lies below the new greatest."""
    least, greatest = sorted((one, two))
    draft = book(size(new_min=f"{least}", new_max=f"{greatest}", service_max=f"{three}"))
    asked = [finding for finding in check_limits(draft) if finding.rule == OUTSIDE]
    assert bool(asked) == (least <= three < greatest)
    assert bool(draft.findings) == (three < least)


@pytest.mark.parametrize(("least", "columns"), [("0", ["least"]), ("0.0", ["least"]), ("", []), ("105", [])])
def test_a_torque_of_nought_may_be_dashes(least: str, columns: list[str]) -> None:
    """Nobody tightens to nothing; a blank is no limit and is not asked about."""
    heading = "id,joint,thread,unit,least,greatest,threads_are,page"
    torques = f"{heading}\ntorque.pump,pump nuts,5/16-24,lbf.in,{least},125,dry,9-1\n"
    found = [one for one in check_limits(draft_book(book_files(torques=torques))) if one.rule == "book.nought"]
    assert [one.column for one in found] == columns
