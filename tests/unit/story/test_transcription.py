"""Act 0: how the book was made; the checker finds one slip, the blind second reading the other."""

from __future__ import annotations

import pytest

from tenthbook.faces.story import (
    BookScene,
    Making,
    Script,
    StoryClock,
    TurnedOutOtherwise,
    slipped,
    transcribe,
)
from tenthbook.record.bench import Bench, stream_of
from tenthbook.record.book import Book
from tenthbook.record.ledger import MemoryStore
from tests.told import book_of
from tests.told import played as tell
from tests.told import script as told


def making() -> Making:
    """Its act 0."""
    act = told().making
    assert act is not None
    return act


def book() -> Book:
    """The book as it should be."""
    return book_of(told())


def played(script: Script) -> tuple[Bench, list[BookScene]]:
    """Act 0, played."""
    clock = StoryClock()
    bench = Bench(MemoryStore(clock))
    return bench, list(transcribe(script, book(), bench, clock))


def test_act_0_plays_to_its_end() -> None:
    """What the script says is found is what the checker and the second reading find."""
    _, scenes = played(told())
    assert [scene.line for scene in scenes] == making().lines


def test_the_checker_finds_the_lost_nought_and_nothing_else() -> None:
    """0.092 for 0.0092 is asked about beside its new limits; 1.4065 for 1.4055 is not, and could not be."""
    _, scenes = played(told())
    first = scenes[0]
    assert len(first.shows) == 1
    assert "service_max: found 0.092 in" in first.shows[0]
    assert [scene.shows for scene in scenes if scene.line.does == "book checked"][1:] == [("nothing to ask",)]


def test_the_blind_second_reading_finds_what_no_arithmetic_can() -> None:
    """The body bore is disputed with both figures side by side, mended from the page, and read again."""
    _, scenes = played(told())
    disputed = [scene for scene in scenes if scene.line.sees == "row disputed"]
    assert [scene.shows[1] for scene in disputed] == ["service_max: 1.4065 in the book, 1.4055 read again"]


def test_every_row_the_job_rests_on_was_read_twice() -> None:
    """No verdict of the demonstration rests on a row that nobody read again."""
    clock = StoryClock()
    bench = Bench(MemoryStore(clock))
    list(transcribe(told(), book(), bench, clock))
    tell(told(), bench, clock)
    assert bench.unread(told().job) == ()
    overlay = bench.books.overlay(book())
    assert {reading.person for reading in overlay.readings.values()} == {"inspector"}
    assert stream_of(book().head).startswith("book.dunlin-four-")


def test_the_slips_stand_in_the_book_as_it_was_first_typed() -> None:
    """The faulty book differs from the true one in the two cells alone."""
    faulty, true = slipped(book(), making()), book()
    differing = [
        (row.id, column)
        for table, rows in true.rows.items()
        for row in rows.values()
        for column, text in row.cells.items()
        if faulty.rows[table][row.id].cells[column] != text
    ]
    assert sorted(differing) == [("fit.end-clearance", "service_max"), ("size.body-bore", "service_max")]


@pytest.mark.parametrize("number", [0, 2, 3])
def test_a_line_that_turns_out_otherwise_stops_the_playing(number: int) -> None:
    """What is found must be what the script says, act and line named."""
    act = making()
    lines = list(act.lines)
    lines[number] = lines[number].model_copy(update={"sees": "something else"})
    script = told().model_copy(update={"making": act.model_copy(update={"lines": lines})})
    with pytest.raises(TurnedOutOtherwise, match=f"act 0, line {number + 1}"):
        played(script)


def test_a_slip_left_in_the_book_stops_the_playing() -> None:
    """Act 0 ends with a book without a slip."""
    act = making()
    lines = [line for line in act.lines if line.does != "row mended"]
    unseen = [line.model_copy(update={"sees": ""}) for line in lines]
    script = told().model_copy(update={"making": act.model_copy(update={"lines": unseen})})
    with pytest.raises(TurnedOutOtherwise, match="a slip left in the book"):
        played(script)


def test_a_script_without_act_0_plays_none() -> None:
    """A story may begin with the job."""
    assert played(told().model_copy(update={"making": None}))[1] == []
