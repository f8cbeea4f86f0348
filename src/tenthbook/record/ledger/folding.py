"""The fold that the shop's stream and the tools' stream share: history is taken in as it stands, and never refused.

An entry of a kind or version that is not known, or that does not fit its form, is kept by number in `unknown`. A clock
that ran backward is a finding.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Protocol, TypeVar

from tenthbook.record.ledger.entry import Entry
from tenthbook.record.ledger.forms import Kind, lifted


class Folded(Protocol):
    """What a state keeps of every stream.

    Attributes:
        number: Number of the last entry, -1 before the first.
        head: Hash of the last entry, empty before the first.
        recorded_at: When the last entry was recorded, by the store's clock, UTC.
        unknown: Numbers of entries that cannot be read.
        clock_findings: Numbers of entries recorded earlier than the one before.
    """

    number: int
    head: str
    recorded_at: str
    unknown: list[int]
    clock_findings: list[int]


_State = TypeVar("_State", bound=Folded)
Step = Callable[[_State, Entry, Mapping[str, Any]], None]


def take_in(
    state: _State, entries: Sequence[Entry], kinds: Mapping[str, Kind], steps: Mapping[str, Step[_State]]
) -> _State:
    """Take entries in, one after the other.

    Args:
        state: Where to go on from; it is written in.
        entries: Entries by number, from where it stopped.
        kinds: The kinds that the stream can hold.
        steps: What each kind does to the state; a ValueError says that an entry fits nothing before it.

    Returns:
        The same state, after the last of them.
    """
    for entry in entries:
        try:
            data = lifted(kinds, entry.kind, entry.draft.version, entry.data)
            if data is None:
                raise ValueError(entry.kind)
            steps[entry.kind](state, entry, kinds[entry.kind].fields.model_validate(dict(data)).model_dump())
        except ValueError:
            state.unknown.append(entry.number)
        if entry.recorded_at < state.recorded_at:
            state.clock_findings.append(entry.number)
        state.number, state.head, state.recorded_at = entry.number, entry.hash, entry.recorded_at
    return state
