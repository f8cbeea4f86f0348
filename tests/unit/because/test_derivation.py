"""Why an answer is what it is, as it is printed."""

from __future__ import annotations

from tenthbook.numbers.because import Because, BookRow


def test_a_reason_is_told_from_the_working_to_the_rule() -> None:
    """The working stands first, then the rows with their pages, the entries and the rule."""
    because = Because("limit.new", (3, 7), (BookRow("size.shaft", "4-13", "ab"),), ("0.5110 lies within",))
    assert because.lines() == ["0.5110 lies within", "book row size.shaft, page 4-13", "entries 3, 7", "rule limit.new"]


def test_a_reason_without_entries_names_none() -> None:
    """Where nothing was recorded, no line speaks of entries."""
    assert Because("undone.no-mate").lines() == ["rule undone.no-mate"]
