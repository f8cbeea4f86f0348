"""A book grows by the job: a row typed where it is needed, judged as any row, withdrawn while nothing rests on it."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.numbers.because import Refused, WrongInput
from tenthbook.record.book import book_digest, book_from_bytes, book_of, read_book, with_rows
from tests.builders import STREAM, Workplace, book_files, members_of

KEYWAY = {
    "id": "size.keyway",
    "part": "part.shaft",
    "feature": "keyway width",
    "measure": "width",
    "kind": "absolute",
    "unit": "in",
    "new_min": "0.1250",
    "new_max": "0.1260",
    "service_max": "0.1275",
    "page": "2-5",
}
EMPTY = {"parts": "id,name,where_used,quantity,page\n", "sizes": "id,part,feature,kind,unit,page\n"}
NO_FITS = {"fits": "id,name,hole,shaft,kind,unit,page\n"}


@pytest.fixture
def place() -> Workplace:
    """A job with the small book."""
    return Workplace().open()


def typed(place: Workplace, table: str, **cells: str) -> list[str]:
    """The rules a typed row breaks; none where it is recorded."""
    try:
        place.bench.type_row(STREAM, table, cells, **place.act())
    except Refused as refused:
        return [refusal.rule for refusal in refused.refusals]
    return []


def test_a_row_typed_in_the_job_is_measured_and_judged_at_once(place: Workplace) -> None:
    """The first verdict does not wait for a whole transcription."""
    assert typed(place, "sizes", **KEYWAY) == []
    tag = place.remove("part.shaft")
    place.read(tag, "size.keyway", "0.1270 in")
    judged = place.work_up().size(tag, "size.keyway")
    assert judged is not None
    assert judged.because.rows[0].page == "2-5"
    assert "0.1270 against service greatest 0.1275 in: within by 0.0005" in judged.because.arithmetic


def test_an_empty_book_grows_from_the_first_part_to_the_first_verdict() -> None:
    """A job may begin with a book that has no row at all."""
    place = Workplace().open(read_book(book_files(**EMPTY, **NO_FITS)))
    part = {"id": "part.shaft", "name": "pump shaft", "where_used": "oil pump", "quantity": "1", "page": "2-2"}
    assert typed(place, "parts", **part) == []
    assert typed(place, "sizes", **KEYWAY) == []
    tag = place.remove("part.shaft")
    place.read(tag, "size.keyway", "0.1280 in")
    assert [str(part.grade.name) for part in place.work_up().parts] == ["REJECT"]


@pytest.mark.parametrize(
    ("cells", "rules"),
    [
        ({"page": ""}, ["book.filled"]),
        ({"page": "from memory"}, ["book.page"]),
        ({"new_min": "0,1250"}, ["book.decimal-comma"]),
        ({"service_max": "----"}, ["book.blank"]),
        ({"part": "part.key"}, ["book.names-a-row"]),
        ({"new_min": "0.1270"}, ["book.least-first"]),
        ({"kind": "none"}, ["book.kind-fields"]),
        ({"id": "size.shaft"}, ["row.id-new"]),
    ],
)
def test_a_row_that_breaks_a_rule_is_refused_and_not_written(
    place: Workplace, cells: dict[str, str], rules: list[str]
) -> None:
    """The rules for a row are the same at the bench as in a file, but for an id that is taken."""
    before = place.bench.state(STREAM).number
    assert typed(place, "sizes", **{**KEYWAY, **cells}) == rules
    assert place.bench.state(STREAM).number == before


def test_a_column_that_is_not_there_is_named_and_refused_by_rule(place: Workplace) -> None:
    """Before a draft is made the columns are told; an entry made elsewhere is refused by the rule."""
    with pytest.raises(WrongInput, match="colour: found an unknown column"):
        typed(place, "sizes", **KEYWAY, colour="red")
    with pytest.raises(Refused) as caught:
        place.record("row typed", {"table": "sizes", "cells": {**KEYWAY, "colour": "red"}, "digest": "0" * 64})
    assert [refusal.rule for refusal in caught.value.refusals] == ["book.column-known"]


def test_an_id_that_was_withdrawn_is_not_given_again(place: Workplace) -> None:
    """An id names one row for ever, so that no reading can change its row."""
    typed(place, "sizes", **KEYWAY)
    place.record("withdrawn", {"entry": 2, "reason": "wrong page"})
    assert typed(place, "sizes", **KEYWAY) == ["row.id-new"]
    assert "size.keyway" not in place.bench.book(STREAM).sizes


def test_a_row_names_the_book_as_it_stands_with_it(place: Workplace) -> None:
    """The digest in the entry is that of the pinned book with the row, so that anybody can work it out again."""
    typed(place, "sizes", **KEYWAY)
    (entry,) = [one for one in place.store.entries(STREAM) if one.kind == "row typed"]
    with_it = book_of(with_rows(read_book(book_files()), [("sizes", KEYWAY)]))
    assert entry.data["digest"] == book_digest(with_it) == book_digest(place.bench.book(STREAM))
    data: dict[str, Any] = {"table": "sizes", "cells": {**KEYWAY, "id": "size.other"}, "digest": "0" * 64}
    with pytest.raises(Refused) as caught:
        place.record("row typed", data)
    assert [refusal.rule for refusal in caught.value.refusals] == ["row.book-with-it"]


def test_a_row_on_which_something_rests_is_not_withdrawn(place: Workplace) -> None:
    """A part on the bench, a reading or another row keeps the row it names."""
    typed(place, "sizes", **KEYWAY)
    tag = place.remove("part.shaft")
    reading = place.read(tag, "size.keyway", "0.1270 in")
    with pytest.raises(Refused) as caught:
        place.record("withdrawn", {"entry": 2, "reason": "wrong page"})
    assert [refusal.rule for refusal in caught.value.refusals] == ["withdrawn.nothing-rests"]
    place.record("withdrawn", {"entry": reading.number, "reason": "misread"})
    place.record("withdrawn", {"entry": 2, "reason": "wrong page"})
    assert place.bench.state(STREAM).typed_rows == {}


def test_a_part_row_is_kept_by_its_part_and_by_its_sizes(place: Workplace) -> None:
    """What names a row keeps it, whether it lies on the bench or stands in the book."""
    key = {"id": "part.key", "name": "key", "where_used": "oil pump", "quantity": "1", "page": "2-5"}
    typed(place, "parts", **key)
    typed(place, "sizes", **{**KEYWAY, "part": "part.key"})
    with pytest.raises(Refused, match=r"row size\.keyway"):
        place.record("withdrawn", {"entry": 2, "reason": "wrong page"})
    place.record("withdrawn", {"entry": 3, "reason": "wrong page"})
    place.remove("part.key")
    with pytest.raises(Refused, match="part P-0001-3"):
        place.record("withdrawn", {"entry": 2, "reason": "wrong page"})


def test_a_request_sent_twice_types_one_row(place: Workplace) -> None:
    """A row is typed exactly once, even though its digest would differ the second time."""
    act = place.act("row-1")
    first = place.bench.type_row(STREAM, "sizes", KEYWAY, **act)
    assert place.bench.type_row(STREAM, "sizes", KEYWAY, **act) == first


def test_a_table_that_is_not_there_is_named(place: Workplace) -> None:
    """The tables of a book are listed where another is asked for."""
    with pytest.raises(WrongInput, match="expected one of orientation"):
        place.bench.type_row(STREAM, "size", KEYWAY, **place.act())


def test_an_archive_holds_the_pinned_book_and_the_rows_typed_since(place: Workplace) -> None:
    """The bytes kept are those of the pinned book; the rows stand in the entries."""
    typed(place, "sizes", **KEYWAY)
    members = members_of(place.archive())
    (blob,) = [content for name, content in members.items() if name.startswith("kept/")]
    assert book_from_bytes(blob).sizes.keys() == read_book(book_files()).sizes.keys()
    assert b'"size.keyway"' in members["entries.jsonl"]
