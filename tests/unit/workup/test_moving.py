"""What another revision of the book would move, and moving the job to it by an entry."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import Refused
from tenthbook.record.book import Book
from tenthbook.record.workup.moving import rows_that_differ, what_would_move
from tests.builders import BOOK_TOML, FITS_CSV, PARTS_CSV, SIZES_CSV, STREAM, Workplace, small_book

NEXT = BOOK_TOML.replace("1, 1 January 2026", "2, 1 November 2026")


@pytest.fixture
def place() -> Workplace:
    """A shaft (P-0001-3) at 0.5100 in a housing (P-0002-1) of 0.5128: both in service limits or new."""
    place = Workplace().open()
    shaft, housing = place.remove("part.shaft"), place.remove("part.housing")
    place.read(shaft, "size.shaft", "0.5100 in")
    place.read(housing, "size.bore", "0.5128 in")
    return place


def tighter() -> Book:
    """The next revision: the shaft's least went up to 0.5102."""
    return small_book(book=NEXT, sizes=SIZES_CSV.replace("0.5098", "0.5102"))


def test_a_tighter_limit_moves_what_rests_on_it_and_nothing_else(place: Workplace) -> None:
    """The shaft and its part turn beyond; the fit only cites the row; the bore is not touched at all."""
    book = place.bench.book(STREAM)
    assert rows_that_differ(book, tighter()) == {"size.shaft"}
    found = what_would_move(book, tighter(), place.state)
    moved = {one.place: (one.before, one.after) for one in found if one.is_moved}
    assert moved["P-0001-3 size.shaft"] == ("IN SERVICE LIMITS, margin 0.0002", "BEYOND, below by 0.0002")
    assert moved["P-0001-3"] == ("IN SERVICE LIMITS", "BEYOND")
    assert {one.place for one in found if not one.is_moved} == {"P-0002-1 P-0001-3 fit.shaft", "P-0002-1"}
    assert all("size.shaft" in one.rows for one in found)


def test_the_same_book_moves_nothing(place: Workplace) -> None:
    """With the rows as they are pinned, nothing is touched."""
    book = place.bench.book(STREAM)
    assert what_would_move(book, small_book(book=NEXT), place.state) == ()


def test_the_job_is_moved_by_an_entry(place: Workplace) -> None:
    """From then on the other revision judges; what was foreseen is what comes; typed rows are the new book's own."""
    foreseen = {one.place: one.after for one in what_would_move(place.bench.book(STREAM), tighter(), place.state)}
    entry = place.bench.move_book(STREAM, tighter(), "revision 2 is current: the holder's list", place.act())
    assert entry.data["revision"] == "2, 1 November 2026"
    size = place.work_up().size("P-0001-3", "size.shaft")
    assert size is not None
    assert (size.verdict.grade.word, size.because.rows[0].digest) == (
        "reject",
        tighter().sizes["size.shaft"].digest,
    )
    assert foreseen["P-0001-3 size.shaft"].startswith("BEYOND")
    place.read("P-0001-3", "size.shaft", "0.5103 in")


def test_a_job_is_moved_only_to_a_book_of_its_engine_that_holds_what_it_uses(place: Workplace) -> None:
    """Another type is refused, and a revision without a row or part that was measured."""
    with pytest.raises(Refused, match=r"book\.same-type"):
        place.bench.move_book(STREAM, small_book(book=NEXT.replace("Test engine", "Other")), "x", place.act())
    without = "\n".join(line for line in SIZES_CSV.splitlines() if not line.startswith("size.bore"))
    fits = "\n".join(line for line in FITS_CSV.splitlines() if not line.startswith("fit.shaft"))
    with pytest.raises(Refused, match=r"size\.bore.*book\.holds-what-is-used"):
        place.bench.move_book(STREAM, small_book(book=NEXT, sizes=without, fits=fits), "x", place.act())
    assert PARTS_CSV.startswith("id,")
