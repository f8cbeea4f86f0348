"""What a job writes in the tables that can be asked about many jobs: its readings, its dispositions, the use of tools.

Each row repeats one entry as it counts now. An entry changes its own row and those of the entries it corrects,
withdraws, answers or outdates; written one by one they make the same tables as all at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tenthbook.numbers.quantity import Quantity
from tenthbook.numbers.quantity.arrays import PICOMETRES
from tenthbook.record.job.aftermath import as_it_counts
from tenthbook.record.job.state import JobState, Reading
from tenthbook.record.ledger import Entry, Projected
from tenthbook.record.ledger.projection import Cell

_LARGEST = 2**63 - 1


def _size_pm(value: Quantity) -> int | None:
    """A length in whole picometres; None for what is no length, or is finer or larger than that."""
    whole = value.exact * PICOMETRES
    exact = value.unit.kind == "length" and whole.denominator == 1 and abs(whole) <= _LARGEST
    return whole.numerator if exact else None


def _reading_at(state: JobState, number: int) -> Reading | None:
    question = state.questions.get(number)
    return question.reading if question is not None else state.readings.get(number)


def _part_of(state: JobState, tag: str) -> str:
    return state.parts[tag].part if tag in state.parts else ""


def _reading_rows(state: JobState, stream: str, number: int) -> Iterator[Projected]:
    reading = _reading_at(state, number)
    counts = reading is not None and state.counts(number)
    if reading is None:  # asked about, and read again instead: it stands in the tables as not counting
        data, draft = as_it_counts(state, number), state.entries[number].draft
        tag, row, value, gauge = data["tag"], data["row"], data["value"], data["gauge"]
        places, digest = (data["station"], data["direction"]), data["row_digest"]
        size, certificate = None, ""
        person, acted_at = draft.person, draft.acted_at
    else:
        tag, row, value, gauge = reading.tag, reading.row, str(reading.value), reading.gauge
        places, digest, size = (reading.station, reading.direction), reading.row_digest, _size_pm(reading.value)
        then = state.gauge_of(reading)
        certificate = then.certificate if then is not None else ""
        person, acted_at = reading.person, reading.acted_at
    cells: dict[str, Cell] = {"tag": tag, "part": _part_of(state, tag), "row": row, "row_digest": digest}
    cells |= {"value": value, "size_pm": size, "station": places[0], "direction": places[1], "gauge": gauge}
    yield Projected("reading", stream, number, {**cells, "person": person, "acted_at": acted_at, "counts": counts})
    named = state.entries[number].data["gauge"] or any(
        "gauge" in one.fields for one in state.corrections.get(number, ())
    )
    if named:
        used: dict[str, Cell] = {"gauge": gauge, "certificate": certificate, "used_by": person, "acted_at": acted_at}
        yield Projected("tool use", stream, number, {**used, "counts": counts and bool(gauge)})


def _disposition_row(state: JobState, stream: str, number: int) -> Projected:
    one = state.decided[number]
    last = state.dispositions.get(one.tag)
    cells: dict[str, Cell] = {"tag": one.tag, "part": _part_of(state, one.tag), "word": one.word, "person": one.person}
    counts = last is not None and last.entry == number
    acted_at = state.entries[number].draft.acted_at
    return Projected("disposition", stream, number, {**cells, "acted_at": acted_at, "counts": counts})


def _rows(state: JobState, stream: str, numbers: Iterable[int]) -> Iterator[Projected]:
    for number in sorted(set(numbers)):
        if not 0 <= number < len(state.entries) or number in state.unknown:
            continue
        if state.entries[number].kind in ("reading taken", "question asked"):
            yield from _reading_rows(state, stream, number)
        elif number in state.decided:
            yield _disposition_row(state, stream, number)


def rows_of(state: JobState, stream: str) -> list[Projected]:
    """Write all that a job has in the tables.

    Args:
        state: The job.
        stream: Its id.

    Returns:
        Its rows by entry.
    """
    return list(_rows(state, stream, range(len(state.entries))))


def _touched(state: JobState, number: int) -> set[int]:
    """The entries whose rows an entry changes: itself, what it is about, and what that outdates."""
    entry = state.entries[number]
    touched = {number}
    about = entry.data.get("entry")
    if entry.kind in ("corrected", "withdrawn", "question answered") and isinstance(about, int):
        touched |= _touched_by_target(state, about)
    if number in state.decided:
        touched |= {one for one, other in state.decided.items() if other.tag == state.decided[number].tag}
    return touched


def _touched_by_target(state: JobState, about: int) -> set[int]:
    touched = {about}
    if about in state.decided:
        touched |= {one for one, other in state.decided.items() if other.tag == state.decided[about].tag}
    target = state.entries[about] if 0 <= about < len(state.entries) else None
    if target is not None and target.kind == "gauge set":
        touched |= {one.entry for one in state.readings.values() if one.gauge_set == about}
        touched |= {number for number, one in state.questions.items() if one.reading.gauge_set == about}
    return touched


def rows_changed(state: JobState, stream: str, entry: Entry) -> list[Projected]:
    """Write the rows that one entry changes.

    Args:
        state: The job with the entry taken in.
        stream: Its id.
        entry: The entry, the last of the state.

    Returns:
        The rows, to be put in the place of those that stand.
    """
    return list(_rows(state, stream, _touched(state, entry.number)))
