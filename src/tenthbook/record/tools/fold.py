"""The fold of the tools' entries.

`fold_tools` never refuses: history is history. An entry of a kind or version this book does not know, or that fits
nothing recorded before it (a calibration of an instrument never registered, a doubt of nought), changes nothing and is
kept by number in `unknown`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from tenthbook.record.ledger import Entry
from tenthbook.record.ledger.folding import take_in
from tenthbook.record.tools.kinds import TOOL_KINDS
from tenthbook.record.tools.state import Calibration, Instrument, ToolsState, Withdrawal
from tenthbook.record.tools.typed import above_nought, factor_of, is_day

Data = Mapping[str, Any]


def _opened(state: ToolsState, entry: Entry, data: Data) -> None:
    if entry.number:
        raise ValueError(entry.number)
    state.opened = data


def _known(state: ToolsState, data: Data) -> Instrument:
    found = state.instruments.get(data["instrument"])
    if found is None:
        raise ValueError(data["instrument"])
    return found


def _registered(state: ToolsState, entry: Entry, data: Data) -> None:
    name = data["instrument"]
    if name in state.instruments:
        raise ValueError(name)
    words = (data["name"], data["measures"], data["range"], data["resolution"])
    state.instruments[name] = Instrument(name, *words, entry.number)


def _calibrated(state: ToolsState, entry: Entry, data: Data) -> None:
    instrument = _known(state, data)
    expanded, factor = above_nought(data["expanded"]), data["coverage_factor"]
    days = [day for day in (data["calibrated_on"], data["due"]) if day]
    if expanded is None or factor_of(factor) is None or not all(is_day(day) for day in days):
        raise ValueError(data["expanded"])
    named = (entry.number, entry.hash, data["certificate"], data["laboratory"], data["calibrated_on"], data["due"])
    told = Calibration(*named, expanded, factor, data["as_found"], data["reason"])
    by_day = sorted((*instrument.calibrations, told), key=lambda one: one.calibrated_on)
    state.instruments[instrument.id] = replace(instrument, calibrations=tuple(by_day))


def _withdrawn(state: ToolsState, entry: Entry, data: Data) -> None:
    instrument = _known(state, data)
    if instrument.withdrawn is not None or not (not data["since"] or is_day(data["since"])):
        raise ValueError(data["instrument"])
    told = Withdrawal(entry.number, data["reason"], entry.draft.acted_at[:10], data["since"])
    state.instruments[instrument.id] = replace(instrument, withdrawals=(*instrument.withdrawals, told))


def _returned(state: ToolsState, entry: Entry, data: Data) -> None:
    instrument = _known(state, data)
    if instrument.withdrawn is None:
        raise ValueError(data["instrument"])
    ended = replace(instrument.withdrawn, returned_on=entry.draft.acted_at[:10])
    withdrawals = (*instrument.withdrawals[:-1], ended)
    state.instruments[instrument.id] = replace(instrument, withdrawals=withdrawals)


def _noted(state: ToolsState, entry: Entry, data: Data) -> None:
    state.notes[entry.number] = data["text"]


_STEPS: dict[str, Callable[[ToolsState, Entry, Data], None]] = {
    "tools opened": _opened,
    "instrument registered": _registered,
    "calibrated": _calibrated,
    "instrument withdrawn": _withdrawn,
    "instrument returned to use": _returned,
    "noted": _noted,
}


def fold_tools(entries: Sequence[Entry], state: ToolsState | None = None) -> ToolsState:
    """Take entries of the tools in, one after the other.

    Args:
        entries: Entries by number, from where `state` stopped.
        state: Where to go on from; None for the start. It is not changed.

    Returns:
        The state after the last of them.
    """
    state = state or ToolsState()
    return take_in(state.copy(), entries, TOOL_KINDS, _STEPS) if entries else state
