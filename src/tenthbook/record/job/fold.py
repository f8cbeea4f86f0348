"""The fold of a job's entries.

`fold` never refuses: history is history. An entry of a kind or version this book does not know is kept by number in
`unknown`, so that a newer book's entry is neither lost nor guessed at; an older version is lifted to the present one.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.job import aftermath
from tenthbook.record.job.facts import act_of, disposition_of, gauge_of, part_of, photograph_of, reading_of
from tenthbook.record.job.kinds import KINDS, PLAIN_ACTS
from tenthbook.record.job.places import unseen
from tenthbook.record.job.state import JobState, LaidDown, Paper, Question, Signature
from tenthbook.record.ledger import Entry, lifted

MENDING = frozenset({"corrected", "withdrawn", "returned", "gauge set", "book moved"})
Data = Mapping[str, Any]
Grounds = tuple[int, ...]
ON_PAPERS = frozenset(
    {
        *PLAIN_ACTS,
        "book moved",
        "opened",
        "book pinned",
        "row typed",
        "part removed",
        "gauge set",
        "settings chosen",
        "reading taken",
        "question asked",
        "question answered",
        "corrected",
        "withdrawn",
        "disposed",
        "re-verified",
    }
)


def _opened(state: JobState, _entry: Entry, data: Data) -> Grounds:
    state.opened = data
    return ()


def _book_pinned(state: JobState, _entry: Entry, data: Data) -> Grounds:
    state.book = data["digest"]
    return ()


def _row_typed(state: JobState, entry: Entry, data: Data) -> Grounds:
    table, cells = data["table"], data["cells"]
    if not isinstance(cells, dict) or not all(isinstance(text, str) for text in cells.values()):
        raise ValueError(cells)
    state.typed[entry.number] = (str(table), cells)
    return ()


def _part_removed(state: JobState, entry: Entry, data: Data) -> Grounds:
    state.parts[data["tag"]] = part_of(entry.number, data)
    state.tags[data["tag"]] = entry.number
    return ()


def _acted(state: JobState, entry: Entry, data: Data) -> Grounds:
    """Keep an act that is what it says; it rests on the entries and the part that it names."""
    state.acts[entry.number] = act_of(entry, data)
    state.acts_of_kind[entry.kind] = (*state.acts_of_kind.get(entry.kind, ()), entry.number)
    part = state.parts.get(data.get("tag", ""))
    named = [data[name] for name in ("entry", "photograph") if data.get(name, -1) >= 0]
    return (*named, *_numbers(data.get("rests_on")), *([part.entry] if part else []))


def _returned(state: JobState, entry: Entry, data: Data) -> Grounds:
    """A part that came back is not the part that was judged."""
    tag = state.acts[data["entry"]].told["tag"]
    if tag in state.parts:
        aftermath.spread_doubt(state, state.parts[tag].entry, entry.number)
    return _acted(state, entry, data)


def _numbers(told: object) -> Grounds:
    return tuple(told) if isinstance(told, list) else ()


def _book_moved(state: JobState, entry: Entry, data: Data) -> Grounds:
    state.book, state.book_moved = data["digest"], entry.number
    return _acted(state, entry, data)


def _grounds_of_reading(state: JobState, data: Data, gauge_set: int) -> Grounds:
    part = state.parts.get(data["tag"])
    typed = [number for number, (_, cells) in state.typed.items() if cells.get("id") == data["row"]]
    return (*([part.entry] if part else []), *([gauge_set] if gauge_set >= 0 else []), *typed)


def _reading_taken(state: JobState, entry: Entry, data: Data) -> Grounds:
    reading = reading_of(state, entry, data)
    state.readings[entry.number] = reading
    aftermath.index(state, reading)
    return _grounds_of_reading(state, data, reading.gauge_set)


def _question_asked(state: JobState, entry: Entry, data: Data) -> Grounds:
    reading = reading_of(state, entry, data)
    state.questions[entry.number] = Question(reading, data["asks"])
    return _grounds_of_reading(state, data, reading.gauge_set)


def _question_answered(state: JobState, _entry: Entry, data: Data) -> Grounds:
    answer = data["answer"]
    if answer not in ("stands", "read again"):
        raise ValueError(answer)
    question = state.questions.pop(data["entry"])
    if answer == "stands":
        state.readings[question.reading.entry] = question.reading
        aftermath.index(state, question.reading)
    return (data["entry"],)


def _gauge_set(state: JobState, entry: Entry, data: Data) -> Grounds:
    gauge = gauge_of(entry.number, data)
    state.gauges[gauge.id] = gauge
    state.gauge_sets[entry.number] = gauge
    return ()


def _settings_chosen(state: JobState, _entry: Entry, data: Data) -> Grounds:
    rule, conformance = data["rule"], data["conformance"]
    if rule not in ("plain", "guarded", "full U") or not 0.5 <= float(conformance) < 1:
        raise ValueError(rule)
    state.rule, state.conformance = rule, conformance
    return ()


def _corrected(state: JobState, entry: Entry, data: Data) -> Grounds:
    number = data["entry"]
    aftermath.correct(state, entry, data)
    held = state.readings.get(number) or (state.questions[number].reading if number in state.questions else None)
    if held is not None:  # with another gauge, part or row a reading rests on other entries
        for ground in _grounds_of_reading(state, aftermath.as_it_counts(state, number), held.gauge_set):
            if number not in state.resting_on(ground):
                state.resting[ground] = (number, state.resting.get(ground))
    return (number,)


def _withdrawn(state: JobState, entry: Entry, data: Data) -> Grounds:
    aftermath.withdraw(state, entry.number, data["entry"], data["reason"])
    return (data["entry"],)


def _re_verified(state: JobState, _entry: Entry, data: Data) -> Grounds:
    state.doubted.pop(data["entry"], None)
    return (data["entry"],)


def _photographed(state: JobState, entry: Entry, data: Data) -> Grounds:
    state.photographs[entry.number] = photograph_of(entry, data)
    return ()


def _disposed(state: JobState, entry: Entry, data: Data) -> Grounds:
    disposition = disposition_of(entry, data)
    state.decided[entry.number] = disposition
    part = state.parts.get(disposition.tag)
    return (*disposition.rests_on, *([part.entry] if part else []))


def _noted(state: JobState, entry: Entry, data: Data) -> Grounds:
    state.notes[entry.number] = data["text"]
    return ()


def _laid_down(state: JobState, entry: Entry, data: Data) -> Grounds:
    told = {name: text for name, text in data.items() if name != "to"}
    state.laid_down = LaidDown(entry.number, entry.kind, entry.draft.person, data.get("to", ""), told)
    return ()


def _taken_up(state: JobState, entry: Entry, data: Data) -> Grounds:
    aftermath.take_up(state, data["entry"], entry.number)
    return (data["entry"],)


def _papers_issued(state: JobState, entry: Entry, data: Data) -> Grounds:
    made_at = aftermath.number_of(state, data["rests_on"])
    state.papers[entry.number] = Paper(entry.number, data["paper"], data["digest"], made_at)
    return ()


def _signed(state: JobState, entry: Entry, data: Data) -> Grounds:
    binds = tuple(bound["entry"] for bound in data["binds"])
    words = (entry.draft.person, data["as_what"], data["statement_kept"])
    state.signatures[entry.number] = Signature(entry.number, *words, binds, data["key"])
    aftermath.supersede(state, data["supersedes"], entry.number)
    return (*binds, *(bound["entry"] for bound in data["gauges"]))


_STEPS: dict[str, Callable[[JobState, Entry, Data], Grounds]] = {
    **dict.fromkeys(PLAIN_ACTS, _acted),
    "book moved": _book_moved,
    "returned": _returned,
    "opened": _opened,
    "book pinned": _book_pinned,
    "row typed": _row_typed,
    "part removed": _part_removed,
    "settings chosen": _settings_chosen,
    "gauge set": _gauge_set,
    "reading taken": _reading_taken,
    "question asked": _question_asked,
    "question answered": _question_answered,
    "corrected": _corrected,
    "withdrawn": _withdrawn,
    "re-verified": _re_verified,
    "photographed": _photographed,
    "disposed": _disposed,
    "noted": _noted,
    "put down": _laid_down,
    "handed over": _laid_down,
    "taken up": _taken_up,
    "hand-over received": _taken_up,
    "papers issued": _papers_issued,
    "signed": _signed,
}


def _take_in(state: JobState, entry: Entry) -> None:
    data = lifted(KINDS, entry.kind, entry.draft.version, entry.data)
    if data is None:
        raise KeyError(entry.kind)
    crossed = (
        () if entry.draft.seen == state.head else unseen(state, entry.kind, data, entry.draft.person, entry.draft.seen)
    )
    grounds = _STEPS[entry.kind](state, entry, data)
    if crossed:
        state.conflicts[entry.number] = crossed
    for ground in grounds:
        state.resting[ground] = (entry.number, state.resting.get(ground))
    if entry.kind in ON_PAPERS:
        state.last_fact = entry.number
    if entry.kind in MENDING:
        state.last_mended = entry.number


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
    recorded = state.entries[-1].recorded_at if state.entries else ""
    for entry in entries:
        try:
            _take_in(state, entry)
        except (KeyError, TypeError, AttributeError, ArithmeticError, ValueError, IndexError, TenthbookError):
            state.unknown.append(entry.number)
        if entry.recorded_at < recorded:
            state.clock_findings.append(entry.number)
        recorded = entry.recorded_at
        state.number, state.head = entry.number, entry.hash
        state.entries.append(entry)
        state.by_request[entry.draft.request] = entry
    return state
