"""Everything that was recorded in a job, in order, with what became of it beside it.

Command, page and paper print these same lines. Nothing is left out and nothing smoothed: the original stands, and what
was corrected, withdrawn, done across or put in doubt stands beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from tenthbook.numbers.because.errors import one_line
from tenthbook.record.job import JobState
from tenthbook.record.ledger import Entry

_NOT_TOLD = (
    "asks",
    "binds",
    "calibration",
    "gauges",
    "key",
    "photograph_detached",
    "rests_on",
    "row_digest",
    "statement_kept",
)


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One entry as it is shown.

    Attributes:
        number: Its number.
        kind: Its kind.
        person: Who acted.
        acted_at: When it was done, by the device's clock, UTC.
        recorded_at: When it was recorded, by the store's clock, UTC.
        told: Its fields in words.
        marks: What became of it; empty where it counts as it stands.
        counts: Whether it counts.
        hash: Its hash.
    """

    number: int
    kind: str
    person: str
    acted_at: str
    recorded_at: str
    told: str
    marks: tuple[str, ...]
    counts: bool
    hash: str


def told(data: Mapping[str, Any]) -> str:
    """Write an entry's fields in words.

    Args:
        data: The fields.

    Returns:
        Name and value, by name; what only a machine reads is left out.
    """
    words = []
    for name, value in sorted(data.items()):
        if name in _NOT_TOLD or value in ("", [], {}, -1):
            continue
        if isinstance(value, Mapping):
            value = ", ".join(f"{one} {text}" for one, text in value.items())
        if isinstance(value, list):
            value = ", ".join(map(str, value))
        words.append(f"{name.replace('_', ' ')} {value}")
    return "; ".join(words)


def _named(state: JobState, numbers: tuple[int, ...]) -> str:
    return ", ".join(f"{number} ({state.entries[number].draft.person})" for number in numbers)


def _by(state: JobState, number: int, kind: str) -> int:
    entries = (one for one in state.entries if one.kind == kind and one.data.get("entry") == number)
    return max((one.number for one in entries), default=-1)


def _marks(state: JobState, entry: Entry) -> Iterator[str]:
    number = entry.number
    for made in state.corrections.get(number, ()):
        yield f"corrected by entry {made.entry}, {made.person}: {told(made.fields)} ({made.reason})"
    if number in state.withdrawn:
        yield f"withdrawn by entry {_by(state, number, 'withdrawn')}: {state.withdrawn[number]}"
    if number in state.questions:
        yield f"asked and not answered: {state.questions[number].asks}"
    if number in state.doubted:
        yield f"IN DOUBT: it rested on what entry {', '.join(map(str, state.doubted[number]))} changed"
    if number in state.conflicts:
        yield f"done without having seen entry {_named(state, state.conflicts[number])}"
    if number in state.clock_findings:
        yield f"the clock ran backward: entry {number - 1} was recorded at {state.entries[number - 1].recorded_at}"
    if number in state.unknown:
        yield "this version cannot read it"
    signature = state.signatures.get(number)
    if signature is not None and signature.superseded_by >= 0:
        yield f"superseded by entry {signature.superseded_by}"


def history(state: JobState) -> list[HistoryLine]:
    """List all that was recorded.

    Args:
        state: The job.

    Returns:
        A line an entry, in order.
    """
    return [
        HistoryLine(
            entry.number,
            entry.kind,
            one_line(entry.draft.person),
            entry.draft.acted_at,
            entry.recorded_at,
            one_line(told(entry.data)),
            tuple(map(one_line, _marks(state, entry))),
            state.counts(entry.number),
            entry.hash,
        )
        for entry in state.entries
    ]


def standing_lines(state: JobState) -> list[str]:
    """Say what a job's record asks to be looked at: work handed over, doubts, acts across each other, stale papers.

    Args:
        state: The job.

    Returns:
        A line each; empty where nothing does.
    """
    lines = []
    laid = state.laid_down
    if laid is not None and laid.ended < 0:
        to = f" to {laid.to}, not received yet" if laid.to else ", not taken up yet"
        lines.append(f"{laid.kind} by {laid.person} in entry {laid.entry}{to}: {laid.told.get('stands', '')}")
    for number, by in sorted(state.doubted.items()):
        kind = state.entries[number].kind
        lines.append(f"in doubt: entry {number}, {kind}, since entry {', '.join(map(str, by))}")
    for number, met in sorted(state.conflicts.items()):
        lines.append(f"done across: entry {number} without having seen entry {_named(state, met)}")
    for number, paper in sorted(state.stale_papers.items()):
        lines.append(f"stale: {paper.paper} of entry {number}; it was made at entry {paper.made_at}")
    lines += [f"the clock ran backward at entry {number}" for number in state.clock_findings]
    return [*map(one_line, lines)]
