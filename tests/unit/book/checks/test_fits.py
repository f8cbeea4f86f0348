"""A fit is set beside what its two sizes make, exactly, and at most one thing is said about its figures."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tenthbook.record.book.checks.fits import RULES, check_fits
from tests.unit.book.checks.rows import Cells, Pair, book, fit, found_by, pair, shaft, size

SUM, LETTER, HALF, OWN = "book.fit-from-sizes", "book.fit-letter", "book.fit-half", "book.fit-own-sizes"


def fits_of(*sizes: Cells, **cells: str) -> list[Cells]:
    """A fit of the sound shaft in the sound bore, or of two other sizes."""
    return [*(sizes or (size(), shaft())), fit(**cells)]


MM = {"unit": "mm", "new_min": "0.025", "new_max": "0.056"}
MM_SIZES = (
    size(unit="mm", new_min="13.015", new_max="13.030"),
    shaft(unit="mm", new_min="12.974", new_max="12.990"),
)
PAIRS = [
    pair(SUM, "new_min", fits_of(new_min="0.0011"), fits_of()),
    pair(SUM, "new_max", fits_of(new_min="", new_max="0.0032"), fits_of(new_min="")),
    pair(
        SUM,
        "new_min",
        fits_of(*MM_SIZES, **{**MM, "new_max": "0.057"}),
        fits_of(*MM_SIZES, **MM),
    ),
    pair(
        SUM,
        "new_min",
        fits_of(**{**MM, "new_max": "0.066"}),
        fits_of(**{**MM, "new_max": "0.055"}),
    ),
    pair(
        SUM,
        "new_min",
        fits_of(other_unit="mm", other_new_max="0.056", new_max="0.0024"),
        fits_of(other_unit="mm", other_new_max="0.056", new_max="0.0023"),
    ),
    pair(
        LETTER, "new_min", fits_of(new_min="0.0022T", new_max="0.0010T"), fits_of(new_min="0.0010L", new_max="0.0022L")
    ),
    pair(LETTER, "new_min", fits_of(new_min="0.0010T"), fits_of(shaft(new_max="0.5134"), size(), new_min="0.0010T")),
    pair(LETTER, "new_min", fits_of(new_min="0.0005T", new_max="0.0022"), fits_of(kind="none", new_min="", new_max="")),
    pair(
        LETTER,
        "new_min",
        fits_of(size(new_min="0.5100", new_max="0.5103"), shaft(), new_min="0.0005", new_max="0.0014"),
        fits_of(size(new_min="0.5100", new_max="0.5103"), shaft(), new_min="0.0014T", new_max="0.0005T"),
    ),
    pair(
        HALF,
        "new_min",
        fits_of(new_min="0.0005", new_max="0.0011"),
        fits_of(reckoned="half", new_min="0.0005", new_max="0.0011"),
    ),
    pair(
        HALF,
        "new_min",
        fits_of(new_min="0.0020", new_max="0.0044"),
        fits_of(size(kind="none", new_min="", new_max=""), shaft()),
    ),
    pair(HALF, "new_min", fits_of(reckoned="half"), fits_of()),
    pair(OWN, "hole", fits_of(shaft="size.bore"), fits_of()),
    pair(
        OWN,
        "hole",
        fits_of(size(measure="bore"), shaft(measure="diameter"), hole="size.shaft", shaft="size.bore"),
        fits_of(size(measure="width"), shaft(measure="width")),
    ),
    pair("book.fit-units", "unit", fits_of(size(), shaft(unit="lbf")), fits_of(*MM_SIZES, **MM)),
    pair(
        "book.tight-fit",
        "new_min",
        fits_of(measure="tight fit"),
        fits_of(shaft(new_max="0.5134"), size(), measure="tight fit", new_min="0.0010T"),
    ),
]


@pytest.mark.parametrize("one", PAIRS, ids=str)
def test_a_slip_is_found_and_its_neighbour_is_not(one: Pair) -> None:
    """The rule names the fit that its sizes do not make, and no rule speaks of the one beside it that they do."""
    found = found_by(check_fits, *one.broken)
    assert [(finding.rule, finding.column) for finding in found] == [(one.rule, one.column)], found
    assert found_by(check_fits, *one.sound) == []


def test_every_rule_of_fits_is_broken_by_one_of_these() -> None:
    """No rule stands in the register that no slip can break."""
    assert {one.rule for one in PAIRS} == {rule.id for rule in RULES}


def test_the_sums_are_said() -> None:
    """The finding holds the printed fit and both sums as the rows print them, and takes no side."""
    (asked,) = found_by(check_fits, *fits_of(new_max="0.0032"))
    assert asked.found == (
        "0.0010 to 0.0032 in, and 0.5124 in less 0.5114 in is 0.0010 in, 0.5130 in less 0.5108 in is 0.0022 in"
    )
    assert asked.expected == "A new fit runs from least hole less greatest shaft to greatest hole less least shaft"


def test_the_digit_that_two_units_are_allowed_is_said() -> None:
    """Where a rounded conversion is let pass, the finding says how much was."""
    (asked,) = found_by(check_fits, *fits_of(**{**MM, "new_max": "0.066"}))
    assert asked.expected.endswith("; one unit of its last printed digit is let pass, since two units are printed")


def test_letters_that_stand_crossed_are_known_for_letters() -> None:
    """T typed for L on both figures turns their order over as well; the fit is asked about its letter all the same."""
    draft = book(*fits_of(new_min="0.0010T", new_max="0.0022T"))
    assert [finding.rule for finding in draft.findings] == ["book.least-first"]
    (asked,) = check_fits(draft)
    assert (asked.rule, asked.found.partition(" in,")[0]) == (LETTER, "0.0010T to 0.0022T")


def test_a_size_that_is_not_there_is_no_fault_of_the_fit() -> None:
    """A fit whose sizes are not typed yet, or cannot be read, is set beside nothing."""
    for rows in (
        [size(), fit()],
        [size(), shaft(unit="inches"), fit()],
        [size(new_min="0,5124"), shaft(new_min=""), fit()],
    ):
        assert list(check_fits(book(*rows))) == []


TENTHS = st.integers(0, 30)


@given(st.integers(4_000, 20_000), st.integers(-30, 60), TENTHS, TENTHS, st.booleans())
def test_a_fit_made_of_its_sizes_is_never_asked_about(
    least: int, gap: int, hole_spread: int, shaft_spread: int, letters: bool
) -> None:
    """Whatever the sizes, tight or loose, the fit they make passes, with signs or with letters."""
    rows, ends = made(least, gap, hole_spread, shaft_spread)
    printed = [lettered(end) if letters else f"{end:f}" for end in ends]
    assert found_by(check_fits, *rows, fit(new_min=printed[0], new_max=printed[1])) == []


@given(st.integers(4_000, 20_000), st.integers(-30, 60), TENTHS, TENTHS, st.integers(-40, 40), st.integers(0, 1))
def test_a_fit_one_figure_off_is_always_asked_about(
    least: int, gap: int, hole_spread: int, shaft_spread: int, slip: int, side: int
) -> None:
    """However little a figure of a fit is off, the fit is asked about, once."""
    assume(slip)
    rows, ends = made(least, gap, hole_spread, shaft_spread)
    ends[side] += Decimal(slip) / 10_000
    assume(ends[0] <= ends[1])
    asked = found_by(check_fits, *rows, fit(new_min=f"{ends[0]:f}", new_max=f"{ends[1]:f}"))
    assert len(asked) == 1
    assert asked[0].rule in (SUM, LETTER, HALF)


def made(least: int, gap: int, hole_spread: int, shaft_spread: int) -> tuple[list[Cells], list[Decimal]]:
    """Two sizes in ten-thousandths of an inch, and the ends of the fit they make."""
    inner = [Decimal(least + step) / 10_000 for step in (0, shaft_spread)]
    outer = [inner[1] + Decimal(gap + step) / 10_000 for step in (0, hole_spread)]
    rows = [
        size(new_min=f"{outer[0]:f}", new_max=f"{outer[1]:f}"),
        shaft(new_min=f"{inner[0]:f}", new_max=f"{inner[1]:f}"),
    ]
    return rows, [outer[0] - inner[1], outer[1] - inner[0]]


def lettered(clearance: Decimal) -> str:
    """A clearance as a table of fits prints it."""
    letter = "L" if clearance > 0 else "T"
    return f"{abs(clearance):f}{letter if clearance else ''}"
