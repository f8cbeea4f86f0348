"""The second, blind reading: what is shown, what is compared, what is recorded, and what falls away."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import Refused, TenthbookError, WrongInput
from tenthbook.record.bench import Books, find_row, rows_used, stream_of, unread_rows
from tenthbook.record.book import TABLES, Book, Form, TypedRow
from tenthbook.record.ledger import Draft, MemoryStore, draft_of
from tenthbook.record.proofread import (
    BOOK_KINDS,
    RULES,
    Overlay,
    admit_reading,
    compare_again,
    compared_columns,
    fold_overlay,
    shown_blind,
)
from tests.builders import NOON, OPENED, SettableClock, Workplace, small_book

SHAFT = {"kind": "absolute", "unit": "in", "new_min": "0.5108", "new_max": "0.5114", "service_min": "0.5098"}
NOBODY = {"typed_by": "", "typed_on": ""}


def act(number: int, person: str = "inspector", day: str = "2026-10-02") -> dict[str, str]:
    """Person, request and time."""
    return {"person": person, "request": f"r-{number}", "acted_at": f"{day}T12:00:00Z"}


@pytest.fixture
def books() -> Books:
    """A store without a reading."""
    return Books(MemoryStore(SettableClock()))


def shaft(book: Book | None = None) -> TypedRow:
    """The row of the shaft."""
    return find_row(book or small_book(), "sizes", "size.shaft")


def broken(draft: Draft, book: Book | None, number: int = 0) -> list[str]:
    """The rules a proposed entry would break."""
    return [refusal.rule for refusal in admit_reading(Overlay(number=number), draft, book)]


def proposal(kind: str = "row verified", person: str = "inspector", **changed: object) -> Draft:
    """A second reading of the shaft as an entry."""
    row = shaft()
    data = {"table": "sizes", "row": row.id, "row_digest": row.digest, "cells": dict(SHAFT), **changed}
    return draft_of(BOOK_KINDS, kind, data, person=person, request="r", seen="", acted_at=NOON)


def test_the_second_reader_sees_what_the_row_is_of_and_no_figure() -> None:
    """Part, feature and page are shown; figures, unit and kind are not, nor a note that may repeat them."""
    shown = shown_blind(find_row(small_book(), "sizes", "size.bore"))
    assert shown == {"id": "size.bore", "part": "part.housing", "feature": "bore diameter", "page": "2-1"}


@pytest.mark.parametrize("table", list(TABLES))
def test_every_figure_of_a_table_is_compared(table: str) -> None:
    """No column of numbers, units or quantities escapes the second reading."""
    figures = (Form.UNIT, Form.NUMBER, Form.LETTERED, Form.NUMBERS, Form.PLAIN, Form.PLAINS, Form.QUANTITY)
    compared = compared_columns(table)
    assert [column for column in TABLES[table] if column.form in figures and column not in compared] == []


def test_an_equal_reading_verifies_the_row(books: Books) -> None:
    """Digit for digit the same: the row was read a second time."""
    book = small_book()
    entry = books.read_again(book, shaft(), SHAFT, act(1), NOBODY)
    assert (entry.kind, entry.number) == ("row verified", 1)
    assert books.overlay(book).verified(shaft().digest)
    assert not books.overlay(book).verified(find_row(book, "sizes", "size.bore").digest)


@pytest.mark.parametrize(
    ("changed", "columns"),
    [
        ({"service_min": "0.5089"}, ["service_min"]),
        ({"service_min": "0.50980"}, ["service_min"]),
        ({"unit": "mm"}, ["unit"]),
        ({"service_min": ""}, ["service_min"]),
        ({"service_max": "0.5120"}, ["service_max"]),
        ({"kind": "none", "new_min": "0.5018"}, ["kind", "new_min"]),
    ],
)
def test_a_reading_that_differs_disputes_the_row(books: Books, changed: dict[str, str], columns: list[str]) -> None:
    """A figure, a digit, a unit or a blank that differs is named; the row is not verified."""
    entry = books.read_again(small_book(), shaft(), {**SHAFT, **changed}, act(1), NOBODY)
    assert (entry.kind, entry.data["differs"]) == ("row disputed", columns)
    assert not books.overlay(small_book()).verified(shaft().digest)


def test_the_page_decides_and_a_third_reading_may_verify(books: Books) -> None:
    """The last reading of a row is the one that counts, and both stay in the stream."""
    books.read_again(small_book(), shaft(), {**SHAFT, "service_min": "0.5089"}, act(1), NOBODY)
    books.read_again(small_book(), shaft(), SHAFT, act(2, "owner"), NOBODY)
    assert books.overlay(small_book()).verified(shaft().digest)
    assert [entry.kind for entry in books.store.entries(stream_of(small_book().head))] == [
        "book opened",
        "row disputed",
        "row verified",
    ]


def test_whoever_disputed_a_row_does_not_verify_it_at_once(books: Books) -> None:
    """Both figures were on the screen: the same person waits for another day, another person need not."""
    book, wrong = small_book(), {**SHAFT, "service_min": "0.5089"}
    books.read_again(book, shaft(), wrong, act(1), NOBODY)
    for person in ("inspector", " Inspector "):
        with pytest.raises(Refused) as caught:
            books.read_again(book, shaft(), SHAFT, act(2, person), NOBODY)
        assert [refusal.rule for refusal in caught.value.refusals] == ["proofread.dispute-ends"]
    books.read_again(book, shaft(), wrong, act(3), NOBODY)
    books.read_again(book, shaft(), SHAFT, act(4, day="2026-10-03"), NOBODY)
    assert books.overlay(book).verified(shaft().digest)


def test_a_name_written_otherwise_is_the_same_person(books: Books) -> None:
    """A capital letter makes nobody somebody else."""
    typed = {"typed_by": "mechanic", "typed_on": "2026-10-02"}
    with pytest.raises(Refused, match="another-day"):
        books.read_again(small_book(), shaft(), SHAFT, act(1, "Mechanic"), typed)


def test_what_is_no_figure_is_refused_and_not_written(books: Books) -> None:
    """A comma or a word in a figure is a slip of the hand, not a second reading."""
    with pytest.raises(WrongInput, match="decimal point"):
        books.read_again(small_book(), shaft(), {**SHAFT, "new_min": "0,5108"}, act(1), NOBODY)
    assert books.store.streams() == []


def test_another_manuals_book_has_a_stream_of_its_own(books: Books) -> None:
    """A reading made from one manual says nothing of a book typed from another, however alike their names are."""
    from tests.builders import BOOK_TOML

    books.read_again(small_book(), shaft(), SHAFT, act(1), NOBODY)
    for changed in (
        BOOK_TOML.replace("Manual of", "Another manual of"),
        BOOK_TOML.replace('"Test engine"', '"Test, engine"'),
    ):
        other = small_book(book=changed)
        assert not books.overlay(other).verified(shaft(other).digest)
    revised = small_book(book=BOOK_TOML.replace('revision = "1,', 'revision = "2,'))
    assert books.overlay(revised).verified(shaft(revised).digest), "a row the revision leaves as it was stays read"


def test_a_job_cannot_take_the_place_of_second_readings() -> None:
    """What begins as the stream of a book is no id of a job, to open or to record in."""
    place = Workplace()
    stream = stream_of(small_book().head)
    with pytest.raises(TenthbookError, match="not beginning with"):
        place.bench.open_job(stream, small_book(), OPENED, **place.act())
    place.bench.books.read_again(small_book(), shaft(), SHAFT, act(1), NOBODY)
    with pytest.raises(TenthbookError, match="not beginning with"):
        place.bench.record(stream, "noted", {"text": "hi"}, **place.act())


def test_a_row_that_is_changed_is_unread_again(books: Books) -> None:
    """The overlay is keyed by the row's digest: another figure is another row."""
    from tests.builders import SIZES_CSV

    books.read_again(small_book(), shaft(), SHAFT, act(1), NOBODY)
    changed = small_book(sizes=SIZES_CSV.replace("0.5098", "0.5096"))
    assert not books.overlay(changed).verified(shaft(changed).digest)


def test_verification_falls_away_on_import(books: Books) -> None:
    """Rows that came from elsewhere are unread, even where they are the same; other rows stay read."""
    book, bore = small_book(), find_row(small_book(), "sizes", "size.bore")
    assert books.imported(book.head, [shaft().digest], act(1)) is None
    books.read_again(book, shaft(), SHAFT, act(2), NOBODY)
    read = {"kind": "absolute", "unit": "in", "new_min": "0.5124", "new_max": "0.5130"}
    books.read_again(book, bore, read, act(3), NOBODY)
    assert books.imported(book.head, [shaft().digest], act(4)) is not None
    assert [books.overlay(book).verified(row.digest) for row in (shaft(), bore)] == [False, True]


def test_the_same_person_reads_again_on_another_day_and_is_marked(books: Books) -> None:
    """On the same day it is refused; on another it counts and says so; by another person it does not say so."""
    typed = {"typed_by": "mechanic", "typed_on": "2026-10-02"}
    with pytest.raises(Refused) as caught:
        books.read_again(small_book(), shaft(), SHAFT, act(1, "mechanic"), typed)
    assert [refusal.rule for refusal in caught.value.refusals] == ["proofread.another-day"]
    books.read_again(small_book(), shaft(), SHAFT, act(2, "mechanic", "2026-10-03"), typed)
    assert "the same person on another day" in str(books.overlay(small_book()).readings[shaft().digest])
    books.read_again(small_book(), shaft(), SHAFT, act(3, "inspector"), typed)
    assert "same person" not in str(books.overlay(small_book()).readings[shaft().digest])


def test_who_typed_it_on_a_day_not_known_cannot_read_again() -> None:
    """Without the day nobody can say that it was another one."""
    assert broken(proposal(person="mechanic", typed_by="mechanic"), small_book()) == ["proofread.another-day"]


@pytest.mark.parametrize(
    ("draft", "number", "rules"),
    [
        (proposal(), -1, ["proofread.first-opens"]),
        (proposal(), 0, []),
        (proposal(row="size.gone"), 0, ["proofread.row-stands"]),
        (proposal(row_digest="0" * 64), 0, ["proofread.row-stands"]),
        (proposal(cells={**SHAFT, "service_min": "0.5089"}), 0, ["proofread.blind"]),
        (proposal("row disputed", differs=["new_min"]), 0, ["proofread.blind"]),
        (proposal(cells={**SHAFT, "page": "2-2"}), 0, ["proofread.something-read"]),
        (proposal(cells={"unit": " "}), 0, ["proofread.something-read", "proofread.blind"]),
    ],
)
def test_what_may_be_recorded_of_a_second_reading(draft: Draft, number: int, rules: list[str]) -> None:
    """The comparison is made again where it is recorded, so that nobody calls a difference agreement."""
    assert broken(draft, small_book(), number) == rules


def test_every_rule_of_the_second_reading_was_broken_above() -> None:
    """No rule of this room goes untried."""
    assert {rule.id for rule in RULES} == {
        "proofread.first-opens",
        "proofread.row-stands",
        "proofread.blind",
        "proofread.another-day",
        "proofread.something-read",
        "proofread.dispute-ends",
    }


def test_a_request_sent_twice_is_one_reading(books: Books) -> None:
    """A reading is recorded exactly once."""
    first = books.read_again(small_book(), shaft(), SHAFT, act(1), NOBODY)
    assert books.read_again(small_book(), shaft(), SHAFT, act(1), NOBODY) == first


def test_a_row_that_is_not_there_is_named() -> None:
    """Table and row are answered with what there is."""
    with pytest.raises(WrongInput, match="table: found 'size'"):
        find_row(small_book(), "size", "size.shaft")
    with pytest.raises(WrongInput, match="an id of sizes"):
        find_row(small_book(), "sizes", "size.axle")


def test_the_overlay_goes_on_from_where_it_stopped(books: Books) -> None:
    """Folding the rest onto a part is folding the whole."""
    books.read_again(small_book(), shaft(), {**SHAFT, "unit": "mm"}, act(1), NOBODY)
    books.read_again(small_book(), shaft(), SHAFT, act(2, "owner"), NOBODY)
    entries = books.store.entries(stream_of(small_book().head))
    assert fold_overlay(entries[2:], fold_overlay(entries[:2])) == fold_overlay(entries)
    unknown = replace(entries[2], draft=replace(entries[2].draft, kind="row framed"))
    assert not fold_overlay([*entries[:2], unknown]).verified(shaft().digest)


@given(
    st.dictionaries(st.sampled_from(["new_min", "service_min", "unit", "kind"]), st.text("0123456789.inm", max_size=6))
)
def test_only_equal_cells_agree(changed: dict[str, str]) -> None:
    """Two readings agree if and only if no compared cell differs."""
    read = {**SHAFT, **changed}
    assert (compare_again(shaft(), read) == ()) == all(read[name].strip() == SHAFT[name] for name in SHAFT)


def test_a_job_names_the_rows_it_rests_on_that_nobody_read_again() -> None:
    """What was read again is not named; what rests on nothing measured is not named either."""
    place = Workplace().open()
    place.read(place.remove("part.shaft"), "size.shaft", "0.5110 in")
    place.read(place.remove("part.housing"), "size.bore", "0.5126 in")
    assert [row.row for row in place.bench.unread("job-1")] == ["size.shaft", "size.bore", "fit.shaft"]
    place.bench.books.read_again(small_book(), shaft(), SHAFT, act(1), NOBODY)
    assert [row.row for row in place.bench.unread("job-1")] == ["size.bore", "fit.shaft"]
    assert unread_rows(place.work_up(), Overlay()) == rows_used(place.work_up())
    assert place.bench.jobs() == ["job-1"]
