"""What is still to do on the bench, each line with its reason."""

from __future__ import annotations

from typing import Any

from tenthbook.record.job import fold
from tenthbook.record.ledger import seal
from tenthbook.record.workup import NOTHING_OPEN, work_up
from tests.builders import NOON, SIZES_CSV, STREAM, Workplace, noted, small_book
from tests.intake import take_in


def lines(place: Workplace) -> list[tuple[str, str, str]]:
    """Place, what and rule of everything undone."""
    return [(line.place, line.what, line.because.rule) for line in place.work_up().undone]


def test_an_empty_bench_has_nothing_undone() -> None:
    """An engine that was taken in and not touched has nothing undone."""
    assert lines(take_in(Workplace().open())) == []
    assert NOTHING_OPEN == "Nothing open in this book"


def test_every_feature_of_a_part_on_the_bench_is_to_be_measured() -> None:
    """Features come in the book's order; one without a limit says so; a fit names the part it waits for."""
    place = take_in(Workplace().open())
    place.remove("part.shaft")
    assert lines(place) == [
        ("P-0001-3 pump shaft", "diameter: not measured", "undone.not-measured"),
        ("P-0001-3 pump shaft", "step in the slot: not measured; no limit in the book", "undone.not-measured"),
        ("shaft in bore", "pump housing not on the bench", "undone.no-mate"),
    ]


def test_a_part_beyond_its_limit_is_to_be_decided_first() -> None:
    """Decisions stand before measurements, with the reason of the verdict."""
    place = Workplace().open()
    tag = place.remove("part.shaft")
    place.read(tag, "size.shaft", "0.5094 in")
    assert lines(place)[0] == ("P-0001-3 pump shaft", "BEYOND: decide what becomes of it", "limit.worst")


def test_a_part_in_service_limits_asks_for_no_decision() -> None:
    """What passes, is measured all over and has its word is not undone."""
    place = take_in(
        Workplace().open(small_book(sizes=SIZES_CSV.replace("size.slot,part.shaft", "size.slot,part.plug")))
    )
    shaft, bore = place.remove("part.shaft"), place.remove("part.housing")
    place.read(shaft, "size.shaft", "0.5110 in")
    place.read(bore, "size.bore", "0.5130 in")
    for tag in (shaft, bore):
        place.record("disposed", {"tag": tag, "disposition": "in new limits", "reason": "measured"})
    assert lines(place) == []


def test_what_lacks_a_limit_is_to_be_decided() -> None:
    """No limit is not passed: somebody decides."""
    place = Workplace().open()
    place.read(place.remove("part.housing"), "size.bore", "0.5131 in")
    assert lines(place)[0][1] == "NO LIMIT: decide what becomes of it"


def test_an_entry_that_cannot_be_read_is_undone() -> None:
    """It is named by its number, with a newer version as the way on."""
    place = take_in(Workplace().open())
    entries = place.store.entries(STREAM)
    strange: Any = noted(kind="engine repainted")
    state = fold([*entries, seal(strange, 14, NOON, entries[-1].hash)])
    (line,) = work_up(small_book(), state).undone
    assert (line.place, line.because.entries, line.because.rule) == ("entry 14", (14,), "undone.unreadable")
