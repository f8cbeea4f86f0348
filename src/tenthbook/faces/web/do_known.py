"""The ids that a job knows, offered where one of them is typed: tags, covers, inspections, gauges, entries, persons."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.job.handling_rules import KIND_OF_LOOK
from tenthbook.record.job.looks import covers_off
from tenthbook.record.job.state import Act
from tenthbook.record.workup.still_open import named


@dataclass(frozen=True, slots=True)
class Known:
    """An id, and what it is of, in words."""

    id: str
    words: str


def _tags(book: Book, state: JobState) -> list[Known]:
    return [Known(one.tag, book.parts[one.part].name) for one in state.parts.values() if one.part in book.parts]


def _parts(book: Book) -> list[Known]:
    return [Known(one.id, one.name) for one in book.parts.values()]


def _covers(book: Book, state: JobState, kind: str) -> list[Known]:
    """The covers that the act can be of: what is on comes off; what is off is counted and closed."""
    off = covers_off(state)
    rows = (row for row in book.rows["access"].values() if (row.id in off) != (kind == "cover removed"))
    return [Known(row.id, row.text("name")) for row in rows]


def _inspections(book: Book, state: JobState, kind: str, of: str) -> list[Known]:
    """The inspections of a part; of all that are on the bench where none is named yet."""
    part = state.parts[of].part if of in state.parts else of
    parts = {part} if part in book.parts else {one.part for one in state.parts.values()} or set(book.parts)
    rows = (row for row in book.rows["inspections"].values() if row.text("part") in parts)
    fitting = (row for row in rows if KIND_OF_LOOK.get(row.text("what")) == kind)
    return [Known(row.id, f"{book.parts[row.text('part')].name}, {row.text('what')}") for row in fitting]


def _waiting(state: JobState, kind: str, *ended: str) -> list[Act]:
    done = {act.told["entry"] for one in ended for act in state.acts_that_count(one)}
    return [act for act in state.acts_that_count(kind) if act.entry not in done]


def _acts(acts: Iterable[Act], words: Callable[[Act], str]) -> list[Known]:
    return [Known(str(act.entry), words(act)) for act in acts]


def _laid_down(state: JobState, kind: str) -> list[Known]:
    laid = state.laid_down
    if laid is None or laid.ended >= 0 or laid.kind != kind:
        return []
    return [Known(str(laid.entry), f"{laid.kind} by {laid.person}")]


def _entries(book: Book, state: JobState, kind: str) -> list[Known]:
    """The entries that an act can be about."""
    if kind == "document answered":
        acts = _waiting(state, "document listed", "document answered")
        return _acts(acts, lambda act: f"{act.told['document']} {act.told['number']}")
    if kind == "returned":
        return _acts(state.away.values(), lambda act: named(book, state, act.told["tag"]))
    if kind in ("extra finding approved", "look declined"):
        acts = _waiting(state, "finding priced", "extra finding approved", "look declined")
        return _acts(acts, lambda act: str(act.told["work"]))
    if kind == "finding priced":
        return _acts(state.acts_that_count("finding seen"), lambda act: f"{act.told['term']}, {act.told['place']}")
    if kind == "re-verified":
        doubted = (number for number in state.doubted if number not in state.withdrawn)
        return [Known(str(number), f"{state.entries[number].kind}, in doubt") for number in doubted]
    ends = {"taken up": "put down", "hand-over received": "handed over"}
    return _laid_down(state, ends[kind]) if kind in ends else []


def known_for(
    book: Book, state: JobState, kind: str, of: str, gauges: Sequence[Known], people: Sequence[Known]
) -> dict[str, Sequence[Known]]:
    """Gather the ids that are offered in the form of a kind.

    Args:
        book: The pinned book.
        state: The job.
        kind: The kind.
        of: Tag or id of the part that is asked about; empty where none is known yet.
        gauges: The shop's instruments.
        people: The shop's people.

    Returns:
        Ids by the name of the field.
    """
    tags = _tags(book, state)
    return {
        "tag": [] if kind == "part removed" else tags,
        "mated_with": tags,
        "part": _parts(book),
        "cover": _covers(book, state, kind),
        "inspection": _inspections(book, state, kind, of),
        "entry": _entries(book, state, kind),
        "gauge": gauges,
        "supervised_by": people,
        "to": people if kind == "handed over" else [],
    }
