"""One act at the bench, from what was typed to what was recorded."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import Refused, WrongInput
from tenthbook.record.bench import Bench, NoBook
from tenthbook.record.book import book_digest
from tenthbook.record.ledger import NoSuchStream, RequestReused
from tests.builders import NOON, OPENED, STREAM, Workplace, small_book


def test_opening_a_job_keeps_its_book_and_pins_it() -> None:
    """Two entries, the book's bytes under its digest."""
    place = Workplace().open()
    entries = place.store.entries(STREAM)
    assert [entry.kind for entry in entries] == ["opened", "book pinned"]
    assert entries[1].data["digest"] == book_digest(small_book())
    assert book_digest(place.bench.book(STREAM)) == book_digest(small_book())
    assert entries[1].draft.seen == entries[0].hash


def test_opening_the_same_job_with_one_request_twice_opens_it_once() -> None:
    """A tablet that sends again after a lost answer gets the same answer."""
    place = Workplace()
    act = place.act("open-1")
    first = place.bench.open_job(STREAM, small_book(), OPENED, **act)
    assert place.bench.open_job(STREAM, small_book(), OPENED, **act) == first
    assert len(place.store.entries(STREAM)) == 2


def test_a_job_is_opened_once() -> None:
    """Another request for the same job is refused by rule, and nothing is written."""
    place = Workplace().open()
    with pytest.raises(Refused, match=r"entry\.first-opens"):
        place.open()
    assert len(place.store.entries(STREAM)) == 2


def test_a_reading_sent_twice_is_recorded_once() -> None:
    """The same request and the same act give the same entry."""
    place = Workplace().open()
    tag, act = place.remove("part.shaft"), place.act("read-1")
    first = place.bench.record(STREAM, "reading taken", {"tag": tag, "row": "size.shaft", "value": "0.5110 in"}, **act)
    assert (
        place.bench.record(STREAM, "reading taken", {"tag": tag, "row": "size.shaft", "value": "0.5110 in"}, **act)
        == first
    )
    with pytest.raises(RequestReused):
        place.bench.record(STREAM, "reading taken", {"tag": tag, "row": "size.shaft", "value": "0.5111 in"}, **act)


def test_a_part_removed_twice_by_one_request_is_tagged_once() -> None:
    """Where the bench gives the tag, the same request gives the same tag again, not the next one."""
    place = Workplace().open()
    act = place.act("remove-1")
    first = place.bench.record(STREAM, "part removed", {"part": "part.shaft"}, **act)
    assert place.bench.record(STREAM, "part removed", {"part": "part.shaft"}, **act) == first


def test_a_refused_act_writes_nothing() -> None:
    """After a refusal the head is the one before."""
    place = Workplace().open()
    head = place.bench.state(STREAM).head
    with pytest.raises(Refused, match=r"part\.in-book"):
        place.remove("part.piston")
    with pytest.raises(WrongInput):
        place.record("noted", {})
    assert place.bench.state(STREAM).head == head


def test_what_was_seen_is_the_head_unless_said() -> None:
    """An entry names the head its person saw."""
    place = Workplace().open()
    head = place.bench.state(STREAM).head
    assert place.record("noted", {"text": "one"}).draft.seen == head
    late = place.bench.record(STREAM, "noted", {"text": "two"}, **place.act(), seen=head)
    assert late.draft.seen == head


def test_an_unknown_job_is_named() -> None:
    """A question about a job that was never opened says which there are."""
    place = Workplace().open()
    with pytest.raises(NoSuchStream, match=STREAM):
        place.bench.state("job-2")


def test_a_job_without_a_book_says_so() -> None:
    """Between opening and pinning there is nothing to judge by."""
    place = Workplace()
    place.record("opened", {"stream": STREAM, **OPENED})
    with pytest.raises(NoBook, match="without a book"):
        place.work_up()


def test_two_benches_over_one_store_see_each_others_entries() -> None:
    """Nothing in memory hides what another process recorded."""
    place = Workplace().open()
    other = Bench(place.store)
    assert other.state(STREAM).number == 1
    place.remove("part.shaft")
    assert list(other.state(STREAM).parts) == ["P-0001-3"]
    other.record(STREAM, "noted", {"text": "from the other"}, person="inspector", request="o-1", acted_at=NOON)
    assert place.bench.state(STREAM).notes == {3: "from the other"}


def test_the_row_of_a_reading_is_the_pinned_one() -> None:
    """A reading names its row by the digest of the pinned book; an unknown row is refused by rule."""
    place = Workplace().open()
    tag = place.remove("part.shaft")
    assert place.read(tag, "size.shaft", "0.5110 in").data["row_digest"] == small_book().sizes["size.shaft"].digest
    with pytest.raises(Refused, match=r"reading\.own-feature"):
        place.read(tag, "size.nothing", "0.5110 in")


def test_station_direction_and_gauge_are_kept() -> None:
    """Where and with what it was read stands in the entry."""
    place = Workplace().open()
    tag = place.remove("part.shaft")
    place.set_gauge("M1", "0.0001 in")
    where = {"station": "end", "direction": "across", "gauge": "M1"}
    data = {"tag": tag, "row": "size.shaft", "value": "0.5110 in", **where}
    entry = place.bench.record(STREAM, "reading taken", data, **place.act())
    assert {name: entry.data[name] for name in where} == where


def test_a_request_id_belongs_to_one_job() -> None:
    """The same request id in two jobs is two requests."""
    place = Workplace().open()
    act = place.act("shared")
    place.bench.record(STREAM, "noted", {"text": "one"}, **act)
    place.bench.open_job("job-2", small_book(), OPENED, **place.act())
    assert place.bench.record("job-2", "noted", {"text": "two"}, **act).number == 2
