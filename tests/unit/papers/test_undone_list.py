"""The undone list on the wall says where, what and why, with a box to tick by hand."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from tenthbook.faces.papers import at_head, make_paper
from tenthbook.faces.papers.typeset import PaperSize
from tenthbook.faces.papers.undone import undone_data, undone_list
from tests.builders import STREAM, Workplace
from tests.printed import dots_of, signs_outside, size_of, words_of

DAY = "2026-10-02"


@pytest.fixture
def place() -> Workplace:
    """A job with a shaft beyond its limit and a cover not measured."""
    place = Workplace().open()
    place.read(place.remove("part.shaft"), "size.shaft", "0.5094 in")
    place.remove("part.cover")
    return place


def paper(place: Workplace, size: PaperSize = "a4") -> bytes:
    """The list of a job."""
    return undone_list(at_head(place.bench, STREAM), size=size, made_on=DAY)


def test_each_line_has_its_reason(place: Workplace) -> None:
    """Place and words are those of the work-up; the reason names rule, rows with page, and entries."""
    lines, undone = undone_data(at_head(place.bench, STREAM))["undone"], place.work_up().undone
    assert [(line["place"], line["what"], line["rule"]) for line in lines] == [
        (one.place, one.what, one.because.rule) for one in undone
    ]
    beyond = next(line for line in lines if line["what"].startswith("BEYOND"))
    assert beyond["rows"] == [{"row": "size.shaft", "page": "2-2"}]
    assert beyond["entries"] == "3"


def test_the_reasons_are_printed(place: Workplace) -> None:
    """Rule id, page and entries stand in words under each line."""
    words = " ".join(words_of(paper(place)))
    for line in undone_data(at_head(place.bench, STREAM))["undone"]:
        assert line["place"] in words
        assert line["what"] in words
        assert line["rule"] in words
    assert "size.shaft, page 2-2; entry 3" in words


def test_every_line_has_a_box(place: Workplace) -> None:
    """Down the left edge there is one box of at least 6 mm for each line."""
    dots = dots_of(paper(place), dots_per_mm=8)
    column = dots[:, int((15 + 3.2) * 8)]  # through the middle of the boxes
    gaps = [gap / 8 for gap in np.diff(np.flatnonzero(column)) if gap > 8]
    assert len([gap for gap in gaps if 6 <= gap <= 6.5]) == len(place.work_up().undone)


def test_a_job_with_nothing_undone_says_so() -> None:
    """The paper is made all the same, and says no more than that nothing is open in this book."""
    at = at_head(Workplace().open().bench, STREAM)
    empty = dataclasses.replace(at, work=dataclasses.replace(at.work, undone=()))
    (words,) = words_of(undone_list(empty, made_on=DAY))
    assert "Nothing open in this book. Ledger" in words


@pytest.mark.parametrize(("size", "sheet"), [("a4", (210, 297)), ("us-letter", (216, 279))])
def test_it_is_tagged_and_stays_inside(place: Workplace, size: PaperSize, sheet: tuple[int, int]) -> None:
    """Tagged, the same bytes every time, nothing outside the margins, on either sheet."""
    first = paper(place, size)
    assert first == paper(place, size)
    assert b"/StructTreeRoot" in first
    assert size_of(first) == sheet
    assert signs_outside(first) == []


def test_a_long_list_goes_on_over_the_pages() -> None:
    """Sixty parts not measured are sixty lines, whole, over the pages, the head repeated on each."""
    place = Workplace().open()
    for number in range(60):
        place.remove("part.plug", position=f"cylinder {number}")
    pages = words_of(paper(place))
    lines = len(place.work_up().undone)
    assert lines >= 60
    assert len(pages) >= 3
    assert all("what, and why" in page for page in pages)
    assert " ".join(pages).count("rule undone.") == sum(
        line.because.rule.startswith("undone.") for line in place.work_up().undone
    )
    assert signs_outside(paper(place)) == []


def test_it_is_asked_for_by_name(place: Workplace) -> None:
    """The catalogue makes it, and the ledger calls it the undone list."""
    assert make_paper(at_head(place.bench, STREAM), "undone", made_on=DAY) == ("undone list", paper(place))
