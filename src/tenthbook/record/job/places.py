"""What an act changes, and what its person looked at: where the two meet unseen, two people worked across each other.

Nothing is refused here; a measurement taken offline is a fact. What was done across is shown beside it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tenthbook.record.job.state import JobState
from tenthbook.record.ledger import same_person

Place = tuple[str, ...]
_NOWHERE: frozenset[Place] = frozenset()
_READINGS = ("reading taken", "question asked")
_ABOUT_ENTRY = ("corrected", "withdrawn", "re-verified", "question answered")
_LAYING = ("put down", "taken up", "handed over", "hand-over received")


def _feature(data: Mapping[str, Any]) -> frozenset[Place]:
    return frozenset({("feature", str(data["tag"]), str(data["row"]))})


def _about(state: JobState, data: Mapping[str, Any]) -> frozenset[Place]:
    """An act about an entry is about what that entry is about, too."""
    number = data["entry"]
    places = frozenset({("entry", str(number))})
    target = state.entries[number] if 0 <= number < len(state.entries) else None
    if target is not None and target.kind in _READINGS:
        return places | _feature(target.data) | {("part", str(target.data["tag"]))}
    return places


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
    if kind in ("part removed", "disposed"):
        return frozenset({("part" if kind == "part removed" else "disposition", str(data["tag"]))})
    if kind == "gauge set":
        return frozenset({("gauge", str(data["gauge"]))})
    if kind == "settings chosen":
        return frozenset({("settings",)})
    return frozenset({("hands",)}) if kind in _LAYING else _NOWHERE


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
        return frozenset({("part", str(data["tag"])), ("disposition", str(data["tag"]))})
    return changes(state, kind, data) if kind != "part removed" else _NOWHERE


def unseen(state: JobState, kind: str, data: Mapping[str, Any], person: str, seen: str) -> tuple[int, ...]:
    """List the entries by others that changed what an act looks at, and that its person had not seen.

    Args:
        state: The job, with every entry before the act.
        kind: Kind of the act.
        data: Its fields.
        person: Who acts.
        seen: Hash of the head the person saw.

    Returns:
        Numbers of the entries, oldest first.
    """
    if seen == state.head or not seen:
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
