"""What a correction, a withdrawal or a new signature does to what is there already.

A correction counts at the original's place and the original stays visible. Every later judgement that rested on what
was corrected, by however many steps, turns doubted; what was seen directly, such as a reading, does not: it is reckoned
anew. Doubt ends when the judgement is looked at again, or signed anew.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from tenthbook.record.job.facts import act_of, disposition_of, gauge_of, part_of, photograph_of, reading_of
from tenthbook.record.job.kinds import KINDS
from tenthbook.record.job.state import Correction, JobState, Question, Reading
from tenthbook.record.ledger import Entry, lifted

JUDGEMENTS = frozenset({"disposed", "signed", "cover closed", "document answered", "gate overridden"})
CORRECTABLE: dict[str, tuple[str, ...]] = {
    "opened": ("engine", "reason"),
    "part removed": ("position", "mated_with", "as_found", "bin"),
    "scope agreed": ("manual", "revision", "checked_current", "agreed_with"),
    "event answered": ("answer", "says"),
    "times stated": ("of", "total", "since_overhaul", "read_from"),
    "component listed": ("item", "number", "serial", "condition", "where"),
    "document listed": ("number", "effective", "subject", "applies", "why", "due"),
    "document answered": ("method",),
    "owner approved": ("work", "ceiling", "by", "how"),
    "finding priced": ("work", "price", "days"),
    "task taken on": ("task", "before", "supervised_by"),
    "cover removed": ("says",),
    "bagged": ("bag", "place", "what"),
    "cleaned": ("inspection", "process", "preserved_with"),
    "inspected": ("inspection", "says"),
    "crack-tested": ("inspection", "method", "procedure", "operator", "level", "equipment", "says", "residual"),
    "finding seen": ("term", "place", "extent", "says"),
    "preserved": ("what", "preserved_with", "until"),
    "sent out": ("to", "work", "due"),
    "returned": ("document", "says"),
    "counted": ("says",),
    "gauge set": ("name", "measures", "expanded", "coverage_factor", "set_on", "certificate", "due"),
    "reading taken": ("tag", "row", "row_digest", "value", "station", "direction", "gauge"),
    "question asked": ("tag", "row", "row_digest", "value", "station", "direction", "gauge"),
    "photographed": ("tag", "row", "says"),
    "disposed": ("reason", "procedure"),
    "noted": ("text",),
}


def number_of(state: JobState, head: str) -> int:
    """Find an entry by its hash.

    Args:
        state: The job.
        head: The hash.

    Returns:
        Its number; -1 where it is not in this stream.
    """
    return next((entry.number for entry in reversed(state.entries) if entry.hash == head), -1)


def index(state: JobState, reading: Reading) -> None:
    """Put a reading among those of its feature.

    Args:
        state: The job.
        reading: The reading.
    """
    place = (reading.tag, reading.row)
    numbers = (*state.features.get(place, ()), reading.entry)
    state.features[place] = numbers if len(numbers) < 2 or numbers[-2] < numbers[-1] else tuple(sorted(numbers))


def _unindex(state: JobState, reading: Reading) -> None:
    place = (reading.tag, reading.row)
    state.features[place] = tuple(one for one in state.features.get(place, ()) if one != reading.entry)


def as_it_counts(state: JobState, number: int) -> Mapping[str, Any]:
    """Give an entry's fields as they count: lifted to the present version, with what was corrected in place.

    Args:
        state: The job.
        number: Number of the entry.

    Returns:
        Its fields.

    Raises:
        KeyError: an entry of a kind or version this book does not know.
    """
    entry = state.entries[number]
    data = lifted(KINDS, entry.kind, entry.draft.version, entry.data)
    if data is None:
        raise KeyError(entry.kind)
    for correction in state.corrections.get(number, ()):
        data = {**data, **correction.fields}
    return data


def _redo_opened(state: JobState, _entry: Entry, data: Mapping[str, Any], _asks: str) -> None:
    state.opened = data


def _redo_part(state: JobState, entry: Entry, data: Mapping[str, Any], _asks: str) -> None:
    state.parts[data["tag"]] = part_of(entry.number, data)


def _redo_act(state: JobState, entry: Entry, data: Mapping[str, Any], _asks: str) -> None:
    state.acts[entry.number] = act_of(entry, data)


def _redo_gauge(state: JobState, entry: Entry, data: Mapping[str, Any], _asks: str) -> None:
    gauge = state.gauge_sets[entry.number] = gauge_of(entry.number, data)
    if state.gauges[gauge.id].entry == entry.number:
        state.gauges[gauge.id] = gauge


def _redo_reading(state: JobState, entry: Entry, data: Mapping[str, Any], asks: str) -> None:
    before = state.readings.pop(entry.number, None)
    if before is not None:
        _unindex(state, before)
    state.questions.pop(entry.number, None)
    reading = reading_of(state, entry, data)
    if asks:
        state.questions[entry.number] = Question(reading, asks)
    else:
        state.readings[entry.number] = reading
        index(state, reading)


def _redo_photograph(state: JobState, entry: Entry, data: Mapping[str, Any], _asks: str) -> None:
    state.photographs[entry.number] = photograph_of(entry, data)


def _redo_disposition(state: JobState, entry: Entry, data: Mapping[str, Any], _asks: str) -> None:
    state.decided[entry.number] = disposition_of(entry, data)


def _redo_note(state: JobState, entry: Entry, data: Mapping[str, Any], _asks: str) -> None:
    state.notes[entry.number] = data["text"]


_REDO: dict[str, Callable[[JobState, Entry, Mapping[str, Any], str], None]] = {
    "opened": _redo_opened,
    "part removed": _redo_part,
    "gauge set": _redo_gauge,
    "reading taken": _redo_reading,
    "question asked": _redo_reading,
    "photographed": _redo_photograph,
    "disposed": _redo_disposition,
    "noted": _redo_note,
}


def correct(state: JobState, entry: Entry, data: Mapping[str, Any]) -> None:
    """Let other fields count in the place of an entry.

    Args:
        state: The job.
        entry: The entry that corrects.
        data: Its fields.
    """
    number = data["entry"]
    target = state.entries[number]
    made = Correction(entry.number, data["fields"], data["reason"], entry.draft.person)
    before = state.corrections.get(number, ())
    state.corrections[number] = (*before, made)
    try:
        redo = _REDO.get(target.kind, _redo_act)
        redo(state, target, as_it_counts(state, number), data["asks"])
    except Exception:
        state.corrections[number] = before
        raise
    spread_doubt(state, number, entry.number)


def withdraw(state: JobState, by: int, number: int, reason: str) -> None:
    """Let an entry count no more.

    Args:
        state: The job.
        by: Number of the entry that withdraws it.
        number: Number of the entry withdrawn.
        reason: Why.
    """
    target = state.entries[number] if 0 <= number < len(state.entries) else None
    state.withdrawn[number] = reason
    if target is not None and target.kind == "part removed":
        state.parts.pop(str(target.data["tag"]), None)
    if target is not None and target.kind == "gauge set":
        _take_gauge_away(state, number)
    state.questions.pop(number, None)
    spread_doubt(state, number, by)


def _take_gauge_away(state: JobState, number: int) -> None:
    gauge = state.gauge_sets.pop(number)
    earlier = [one for one in state.gauge_sets.values() if one.id == gauge.id]
    state.gauges.pop(gauge.id, None)
    if earlier:
        state.gauges[gauge.id] = max(earlier, key=lambda one: one.entry)


def spread_doubt(state: JobState, number: int, by: int) -> None:
    """Let every judgement that rested on an entry, by however many steps, turn doubted.

    Args:
        state: The job.
        number: Number of the entry.
        by: Number of the entry that brings the doubt.
    """
    reached: set[int] = set()
    waiting = [number]
    while waiting:
        for later in state.resting_on(waiting.pop()):
            if later not in reached:
                reached.add(later)
                waiting.append(later)
    for later in sorted(reached):
        superseded = later in state.signatures and state.signatures[later].superseded_by >= 0
        if state.entries[later].kind in JUDGEMENTS and later not in state.withdrawn and not superseded:
            state.doubted[later] = (*state.doubted.get(later, ()), by)


def take_up(state: JobState, number: int, by: int) -> None:
    """End a putting down or a hand-over.

    Args:
        state: The job.
        number: Number of the entry that laid the work down.
        by: Number of the entry that took it up.
    """
    if state.laid_down is not None and state.laid_down.entry == number:
        state.laid_down = replace(state.laid_down, ended=by)


def supersede(state: JobState, number: int, by: int) -> None:
    """Let a new signature take the place of an old one.

    Args:
        state: The job.
        number: Number of the old one; -1 for none.
        by: Number of the new one.
    """
    if number in state.signatures:
        state.signatures[number] = replace(state.signatures[number], superseded_by=by)
        state.doubted.pop(number, None)
