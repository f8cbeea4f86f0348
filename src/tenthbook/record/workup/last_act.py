"""The last certain act of a job, in words: what was done, to what, with which value, by whom, when.

An act is certain where it counts: not withdrawn, not in doubt, not asked about, readable by this version. What is only
said or written about the job, such as a note, a signature or a paper, is no act on the engine.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.job.aftermath import as_it_counts
from tenthbook.record.ledger import Entry
from tenthbook.record.workup.still_open import named

Data = Mapping[str, Any]
Words = tuple[str, str]  # what it was done to, and its value


@dataclass(frozen=True, slots=True)
class LastAct:
    """The last certain act.

    Attributes:
        entry: Number of its entry.
        kind: What was done, by the kind of the entry.
        what: To what.
        value: With which value or result; empty where there is none.
        person: By whom.
        at: When, UTC, by the device's clock.
    """

    entry: int
    kind: str
    what: str
    value: str
    person: str
    at: str

    @property
    def text(self) -> str:
        """All of it in one line."""
        value = f", {self.value}" if self.value else ""
        return f"{self.kind}: {self.what}{value}; {self.at}, {self.person}"


def _of(book: Book, state: JobState, data: Data) -> str:
    return named(book, state, str(data["tag"] or data.get("part", "")))


def _reading(book: Book, state: JobState, data: Data) -> Words:
    row = book.sizes.get(data["row"])
    place = ", ".join(one for one in (data["station"], data["direction"]) if one)
    what = f"{_of(book, state, data)}, {row.feature if row is not None else data['row']}"
    return (f"{what} ({place})" if place else what, data["value"])


def _look(book: Book, state: JobState, data: Data) -> Words:
    row = book.rows["inspections"].get(data["inspection"])
    how = f", {row.text('what')}" if row is not None else ""
    return f"{_of(book, state, data)}{how}", str(data.get("result", data.get("process", "")))


def _cover(book: Book, _state: JobState, data: Data) -> Words:
    row = book.rows["access"].get(data["cover"])
    return row.text("name") if row is not None else data["cover"], str(data.get("says", ""))


def _counted(book: Book, state: JobState, data: Data) -> Words:
    cover, _ = _cover(book, state, data)
    return f"{data['what']}, {cover}", f"{data['came_back']} of {data['went_out']} came back"


def _returned(book: Book, state: JobState, data: Data) -> Words:
    sent = state.acts.get(data["entry"])
    return _of(book, state, sent.told) if sent is not None else f"entry {data['entry']}", data["document"]


def _found(book: Book, state: JobState, data: Data) -> Words:
    where = _of(book, state, data) if data["tag"] else "engine"
    return f"{where}, {data['place']}", " ".join(one for one in (data["term"], data["extent"]) if one)


_TOLD: dict[str, Callable[[Book, JobState, Data], Words]] = {
    "part removed": lambda book, state, data: (_of(book, state, data), data["position"]),
    "reading taken": _reading,
    "question asked": _reading,
    "gauge set": lambda _book, _state, data: (f"{data['gauge']} {data['name']}", data["expanded"]),
    "disposed": lambda book, state, data: (_of(book, state, data), data["disposition"]),
    "cover removed": _cover,
    "cover closed": _cover,
    "counted": _counted,
    "cleaned": _look,
    "inspected": _look,
    "crack-tested": _look,
    "finding seen": _found,
    "bagged": lambda _book, _state, data: (f"bag {data['bag']}, {data['place']}", f"{data['count']} {data['what']}"),
    "preserved": lambda _book, _state, data: (data["what"], f"{data['preserved_with']}, until {data['until']}"),
    "sent out": lambda book, state, data: (_of(book, state, data), f"to {data['to']}"),
    "returned": _returned,
    "scope agreed": lambda _book, _state, data: (data["work"], data["standard"]),
    "event answered": lambda _book, _state, data: (data["event"], data["answer"]),
    "times stated": lambda _book, _state, data: (data["of"], data["total"]),
    "component listed": lambda _book, _state, data: (data["item"], data["where"]),
    "document listed": lambda _book, _state, data: (f"{data['document']} {data['number']}", data["applies"]),
    "document answered": lambda _book, _state, data: (f"entry {data['entry']}", data["answer"]),
    "owner approved": lambda _book, _state, data: (data["work"], data["ceiling"]),
    "finding priced": lambda _book, _state, data: (data["work"], data["price"]),
    "extra finding approved": lambda _book, _state, data: (f"entry {data['entry']}", data["by"]),
    "look declined": lambda _book, _state, data: (f"entry {data['entry']}", data["by"]),
    "task taken on": lambda _book, _state, data: (data["task"], data["before"]),
}
ACTS = frozenset(_TOLD)


def certain(state: JobState, entry: Entry) -> bool:
    """Ask whether an entry is a certain act on the engine.

    Args:
        state: The job.
        entry: The entry.

    Returns:
        False for what does not count, what is in doubt, and what is no act.
    """
    number = entry.number
    lost = entry.kind == "question asked" and number not in state.readings
    return entry.kind in ACTS and not lost and state.counts(number) and number not in state.doubted


def last_act(book: Book, state: JobState) -> LastAct | None:
    """Give the last certain act.

    Args:
        book: The pinned book.
        state: The job.

    Returns:
        The act as it counts, corrections in place; None before the first.
    """
    entry = next((one for one in reversed(state.entries) if certain(state, one)), None)
    if entry is None:
        return None
    what, value = _TOLD[entry.kind](book, state, as_it_counts(state, entry.number))
    kind = "reading taken" if entry.kind == "question asked" else entry.kind
    return LastAct(entry.number, kind, what, value, entry.draft.person, entry.draft.acted_at)
