"""What an act changes, and what its person looked at: where the two meet unseen, two people worked across each other.

Nothing is refused here; a measurement taken offline is a fact. What was done across is shown beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from tenthbook.record.job.state import JobState
from tenthbook.record.ledger import same_person

Place = tuple[str, ...]
_NOWHERE: frozenset[Place] = frozenset()
_READINGS = ("reading taken", "question asked")
_ABOUT_ENTRY = ("corrected", "withdrawn", "re-verified", "question answered")
_LAYING = ("put down", "taken up", "handed over", "hand-over received")
_ON_PART = ("cleaned", "inspected", "crack-tested", "finding seen", "sent out")
_ON_COVER = ("cover removed", "cover closed", "counted")
_ON_SCOPE = ("scope agreed", "event answered")
_ANSWERS = ("document answered", "extra finding approved", "look declined", "returned")


def _feature(data: Mapping[str, Any]) -> frozenset[Place]:
    return frozenset({("feature", str(data["tag"]), str(data["row"]))})


def _about(state: JobState, data: Mapping[str, Any]) -> frozenset[Place]:
    """An act about an entry is about what that entry is about, too."""
    number = data["entry"]
    places = frozenset({("entry", str(number))})
    target = state.entries[number] if 0 <= number < len(state.entries) else None
    if target is None or target.number in state.unknown:
        return places
    as_corrected = {**target.data, **data.get("fields", {})}
    return places | changes(state, target.kind, target.data) | changes(state, target.kind, as_corrected)


def changes(state: JobState, kind: str, data: Mapping[str, Any]) -> frozenset[Place]:
    """Say what an act changes.

    Args:
        state: The job, with every entry before the act.
        kind: Kind of the act.
        data: Its fields.

    Returns:
        The places.
    """
    if kind in _READINGS:
        return _feature(data) | {("part", str(data["tag"]))}
    if kind in _ABOUT_ENTRY:
        return _about(state, data)
    if kind in _ANSWERS:
        return _answered(state, data)
    if kind in ("part removed", "disposed"):
        return frozenset({("part" if kind == "part removed" else "disposition", _of(data))})
    if kind in _ON_PART:
        return frozenset({("part", _of(data))})
    return _CHANGED[kind](data) if kind in _CHANGED else _NOWHERE


def _of(data: Mapping[str, Any]) -> str:
    return str(data["tag"] or data.get("part", ""))


def _answered(state: JobState, data: Mapping[str, Any]) -> frozenset[Place]:
    number = data["entry"]
    places = frozenset({("entry", str(number))})
    sent = state.acts.get(number)
    return places | {("part", str(sent.told["tag"]))} if sent is not None and sent.kind == "sent out" else places


_CHANGED: dict[str, Callable[[Mapping[str, Any]], frozenset[Place]]] = {
    "gauge set": lambda data: frozenset({("gauge", str(data["gauge"]))}),
    "settings chosen": lambda _data: frozenset({("settings",)}),
    "book moved": lambda _data: frozenset({("book",)}),
    **dict.fromkeys(_ON_COVER, lambda data: frozenset({("cover", str(data["cover"]))})),
    **dict.fromkeys(_ON_SCOPE, lambda _data: frozenset({("scope",)})),
    **dict.fromkeys(_LAYING, lambda _data: frozenset({("hands",)})),
}


def _grounds(state: JobState, numbers: Collection[int]) -> set[Place]:
    """What a judgement rests on: the entries it names, and how the gauges of its readings were set."""
    read = (state.readings[number].gauge_set for number in numbers if number in state.readings)
    return {("entry", str(number)) for number in (*numbers, *read)}


def looked_at(state: JobState, kind: str, data: Mapping[str, Any]) -> frozenset[Place]:
    """Say what the person of an act looked at.

    Args:
        state: The job, with every entry before the act.
        kind: Kind of the act.
        data: Its fields.

    Returns:
        The places.
    """
    if kind in _READINGS:
        return _feature(data) | {("gauge", str(data["gauge"]))}
    if kind in _ABOUT_ENTRY:
        return frozenset({("entry", str(data["entry"]))})
    if kind == "disposed":
        own = {("part", _of(data)), ("disposition", _of(data)), ("scope",), ("settings",), ("book",)}
        return frozenset(own | _grounds(state, data["rests_on"]))
    if kind == "cover closed":
        return frozenset({("cover", str(data["cover"])), *(("entry", str(one)) for one in data["rests_on"])})
    return changes(state, kind, data) if kind != "part removed" else _NOWHERE


def unseen(state: JobState, kind: str, data: Mapping[str, Any], person: str, seen: str) -> tuple[int, ...]:
    """List the entries by others that changed what an act looks at, and that its person had not seen.

    Args:
        state: The job, with every entry before the act.
        kind: Kind of the act.
        data: Its fields.
        person: Who acts.
        seen: Hash of the head the person saw; empty for somebody who saw nothing of the job.

    Returns:
        Numbers of the entries, oldest first.
    """
    if seen == state.head:
        return ()
    wanted = looked_at(state, kind, data)
    met: list[int] = []
    for entry in reversed(state.entries):
        if entry.hash == seen:
            break
        if same_person(entry.draft.person, person) or entry.number in state.unknown:
            continue
        if wanted & changes(state, entry.kind, entry.data):
            met.append(entry.number)
    return tuple(reversed(met))
