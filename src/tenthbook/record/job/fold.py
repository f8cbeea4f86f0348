"""The fold of a job's entries.

`fold` never refuses: history is history. An entry of a kind or version this book does not know is kept by number in
`unknown`, so that a newer book's entry is neither lost nor guessed at.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity import quantity
from tenthbook.record.job.state import Gauge, JobState, PartOnBench, Question, Reading
from tenthbook.record.ledger import Entry


def _opened(state: JobState, entry: Entry) -> None:
    state.opened = entry.data


def _book_pinned(state: JobState, entry: Entry) -> None:
    state.book = entry.data["digest"]


def _row_typed(state: JobState, entry: Entry) -> None:
    table, cells = entry.data["table"], entry.data["cells"]
    if not isinstance(cells, dict) or not all(isinstance(text, str) for text in cells.values()):
        raise ValueError(cells)
    state.typed[entry.number] = (str(table), cells)


def _part_removed(state: JobState, entry: Entry) -> None:
    data = entry.data
    state.parts[data["tag"]] = PartOnBench(data["tag"], data["part"], data["position"], entry.number)


def _reading_of(entry: Entry) -> Reading:
    data, draft = entry.data, entry.draft
    places = (data["station"], data["direction"], data["gauge"])
    read = quantity(data["value"])
    named = (entry.number, data["tag"], data["row"], data["row_digest"])
    return Reading(*named, read, *places, draft.person, draft.acted_at)


def _reading_taken(state: JobState, entry: Entry) -> None:
    state.readings[entry.number] = _reading_of(entry)


def _question_asked(state: JobState, entry: Entry) -> None:
    state.questions[entry.number] = Question(_reading_of(entry), entry.data["asks"])


def _question_answered(state: JobState, entry: Entry) -> None:
    answer = entry.data["answer"]
    if answer not in ("stands", "read again"):
        raise ValueError(answer)
    question = state.questions.pop(entry.data["entry"])
    if answer == "stands":
        state.readings[question.reading.entry] = question.reading


def _gauge_set(state: JobState, entry: Entry) -> None:
    data = entry.data
    words = (data["gauge"], data["name"], data["measures"])
    gauge = Gauge(*words, quantity(data["expanded"]), data["coverage_factor"], data["set_on"], entry.number)
    if gauge.standard_uncertainty <= 0:
        raise ValueError(data["expanded"])
    state.gauges[gauge.id] = gauge


def _settings_chosen(state: JobState, entry: Entry) -> None:
    rule, conformance = entry.data["rule"], entry.data["conformance"]
    if rule not in ("plain", "guarded", "full U") or not 0.5 <= float(conformance) < 1:
        raise ValueError(rule)
    state.rule, state.conformance = rule, conformance


def _withdrawn(state: JobState, entry: Entry) -> None:
    state.withdrawn[entry.data["entry"]] = entry.data["reason"]


def _noted(state: JobState, entry: Entry) -> None:
    state.notes[entry.number] = entry.data["text"]


def _nothing(state: JobState, entry: Entry) -> None:
    """An entry that leaves the job where it stands."""


_STEPS: dict[tuple[str, int], Callable[[JobState, Entry], None]] = {
    ("opened", 1): _opened,
    ("book pinned", 1): _book_pinned,
    ("row typed", 1): _row_typed,
    ("part removed", 1): _part_removed,
    ("settings chosen", 1): _settings_chosen,
    ("gauge set", 1): _gauge_set,
    ("reading taken", 1): _reading_taken,
    ("question asked", 1): _question_asked,
    ("question answered", 1): _question_answered,
    ("withdrawn", 1): _withdrawn,
    ("noted", 1): _noted,
    ("papers issued", 1): _nothing,
}


def fold(entries: Sequence[Entry], state: JobState | None = None) -> JobState:
    """Take entries in, one after the other.

    Args:
        entries: Entries by number, from where `state` stopped.
        state: Where to go on from; None for the start. It is not changed.

    Returns:
        The state after the last of them.
    """
    state = state or JobState()
    if not entries:
        return state
    state = state.copy()
    for entry in entries:
        step = _STEPS.get((entry.kind, entry.draft.version))
        try:
            if step is None:
                raise KeyError(entry.kind)
            step(state, entry)
        except (KeyError, TypeError, AttributeError, ArithmeticError, ValueError, TenthbookError):
            state.unknown.append(entry.number)
        state.number, state.head = entry.number, entry.hash
        state.by_request[entry.draft.request] = entry
    return state
