"""The tables repeat the entries: written one by one or all at once they are the same."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import MemoryStore, Projected, Table
from tests.builders import STREAM, SettableClock, Workplace

TABLES: tuple[Table, ...] = ("reading", "disposition", "tool use")


def tables(place: Workplace) -> list[Projected]:
    """Every row of every table."""
    return [row for table in TABLES for row in place.store.projected(table)]


def rebuilt(place: Workplace) -> list[Projected]:
    """Every row, dropped and made anew."""
    place.bench.rebuild()
    return tables(place)


def test_a_reading_stands_in_the_table_with_its_size() -> None:
    """Tag, part, row, digits as typed, whole picometres [pm], gauge and person; 0.5110 in is 12 979 400 000 pm."""
    place = Workplace().open()
    place.remove("part.shaft")
    place.set_gauge("M1", "0.0001 in")
    place.read("P-0001-3", "size.shaft", "0.5110 in", "M1")
    (row,) = place.store.projected("reading")
    wanted = {"tag": "P-0001-3", "part": "part.shaft", "value": "0.5110 in", "size_pm": 12_979_400_000, "counts": True}
    assert (row.stream, row.entry) == (STREAM, 4)
    assert {name: row.cells[name] for name in wanted} == wanted
    (use,) = place.store.projected("tool use")
    assert (use.entry, use.cells["gauge"], use.cells["used_by"]) == (4, "M1", "mechanic")


def test_what_was_withdrawn_or_asked_does_not_count() -> None:
    """It stays in the table, marked."""
    place = Workplace().open()
    place.remove("part.shaft")
    place.read("P-0001-3", "size.shaft", "0.5110 in")
    place.record("withdrawn", {"entry": 3, "reason": "misread"})
    asked = place.read("P-0001-3", "size.shaft", "0.4860 in")
    assert [(row.entry, row.cells["counts"]) for row in place.store.projected("reading")] == [
        (3, False),
        (asked.number, False),
    ]
    place.answer(asked.number, "stands")
    assert place.store.projected("reading")[1].cells["counts"] is True


def test_a_later_disposition_outdates_the_one_before() -> None:
    """Of one part, the last decided counts."""
    place = Workplace().open()
    place.remove("part.shaft")
    for word in ("hold", "replace"):
        place.record("disposed", {"tag": "P-0001-3", "disposition": word, "reason": "step"})
    told = [(row.cells["word"], row.cells["counts"]) for row in place.store.projected("disposition")]
    assert told == [("hold", False), ("replace", True)]


ACTS = st.lists(st.tuples(st.integers(0, 9), st.integers(0, 30), st.integers(0, 40)), max_size=30)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(ACTS)
def test_dropped_and_rebuilt_the_tables_are_equal(acts: list[tuple[int, int, int]]) -> None:
    """Whatever legal and illegal acts came, row by row and all at once give the same tables."""
    place = Workplace().open()
    for what, number, tenths in acts:
        value, tag = f"0.51{tenths:02d} in", next(iter(place.state.parts), "P-0001-3")
        reading = {"tag": tag, "row": "size.shaft", "value": value, "gauge": "M1" if number % 2 else ""}
        proposals: list[tuple[str, dict[str, Any]]] = [
            ("part removed", {"part": "part.shaft"}),
            ("gauge set", {"gauge": "M1", "name": "m", "measures": "outside", "expanded": "0.0001 in"}),
            ("reading taken", reading),
            ("reading taken", {**reading, "value": "0.4860 in"}),
            ("question answered", {"entry": number, "answer": "stands" if tenths % 2 else "read again"}),
            ("corrected", {"entry": number, "fields": {"value": value}, "reason": "misread"}),
            ("corrected", {"entry": number, "fields": {"gauge": "M1"}, "reason": "the other gauge"}),
            ("corrected", {"entry": number, "fields": {"certificate": f"C-{tenths}"}, "reason": "misread"}),
            ("withdrawn", {"entry": number, "reason": "misread"}),
            ("disposed", {"tag": tag, "disposition": "hold", "reason": "step"}),
        ]
        try:
            place.record(*proposals[what])
        except TenthbookError:
            continue
    before = tables(place)
    assert before == rebuilt(place)
    assert place.state.unknown == []


def test_what_is_recorded_just_before_the_tables_are_made_anew_stands_in_them() -> None:
    """The entries are read once nobody else can record, not when the rebuilding was asked for."""

    class Late(MemoryStore):
        """A store that somebody else records in just before its tables are dropped."""

        def project_anew(self, rows: Iterable[Projected]) -> None:
            """Let the other one record, then go on."""
            Workplace(self).read("P-0001-3", "size.shaft", "0.5110 in", request="late")
            super().project_anew(rows)

    place = Workplace(Late(SettableClock())).open()
    place.remove("part.shaft")
    assert place.bench.rebuild() == 1
    assert len(place.store.projected("reading")) == 1
