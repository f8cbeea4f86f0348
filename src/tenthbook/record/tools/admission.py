"""May this be recorded of an instrument?

Every broken rule is named at once. Nothing is written on a refusal. Who may record it is the shop's own question.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from tenthbook.numbers.because import Refusal, Rule
from tenthbook.record.ledger import Draft
from tenthbook.record.tools import rules
from tenthbook.record.tools.state import ToolsState

Data = Mapping[str, Any]


def _broken(rule: Rule, found: str, expected: str = "", **case: Any) -> Iterator[Refusal]:
    if not rule.holds(**case):
        yield Refusal(rule.id, found, expected or rule.says, rule.todo)


def _registered(state: ToolsState, name: str) -> Iterator[Refusal]:
    known = list(state.instruments)
    expected = "one of " + (", ".join(known) or "none yet")
    yield from _broken(rules.REGISTERED, f"instrument {name!r}", expected, instrument=name, known=known)


def _admit_registration(state: ToolsState, draft: Draft, data: Data) -> Iterator[Refusal]:  # noqa: ARG001 - same shape
    name, known = data["instrument"], list(state.instruments)
    yield from _broken(rules.ID_NEW, f"a second instrument {name!r}", instrument=name, known=known)
    yield from _broken(rules.RESOLUTION, repr(data["resolution"]), resolution=data["resolution"])


def _admit_calibration(state: ToolsState, draft: Draft, data: Data) -> Iterator[Refusal]:
    yield from _registered(state, data["instrument"])
    days = {"calibrated_on": data["calibrated_on"], "due": data["due"], "day": draft.acted_at[:10]}
    due = f"due {data['due']}" if data["due"] else "no due day"
    found = f"calibrated on {data['calibrated_on']}, {due}, recorded on {days['day']}"
    yield from _broken(rules.DATES_IN_ORDER, found, **days)
    found = f"{data['expanded']} at k = {data['coverage_factor']}"
    facts = {"expanded": data["expanded"], "factor": data["coverage_factor"]}
    yield from _broken(rules.DOUBT_STATED, found, **facts)
    stated = {"as_found": data["as_found"], "reason": data["reason"]}
    yield from _broken(rules.REASON_STATED, f"{data['as_found']}, no reason given", **stated)


def _admit_use(state: ToolsState, draft: Draft, data: Data) -> Iterator[Refusal]:
    yield from _registered(state, data["instrument"])
    instrument = state.instruments.get(data["instrument"])
    if instrument is None:
        return
    out = instrument.withdrawn
    found = f"{instrument.id}, " + (f"withdrawn in entry {out.entry}" if out is not None else "in use")
    yield from _broken(rules.IN_USE, found, kind=draft.kind, withdrawn=out is not None)


def _admit_withdrawal(state: ToolsState, draft: Draft, data: Data) -> Iterator[Refusal]:
    yield from _admit_use(state, draft, data)
    day = draft.acted_at[:10]
    yield from _broken(rules.SINCE_PAST, f"{data['since']}, withdrawn on {day}", since=data["since"], day=day)


_OF_KIND: dict[str, Callable[[ToolsState, Draft, Data], Iterator[Refusal]]] = {
    "instrument registered": _admit_registration,
    "calibrated": _admit_calibration,
    "instrument withdrawn": _admit_withdrawal,
    "instrument returned to use": _admit_use,
}


def admit_tools(state: ToolsState, draft: Draft) -> tuple[Refusal, ...]:
    """Judge a proposed entry of the tools' stream.

    Args:
        state: The instruments as they stand.
        draft: What is proposed.

    Returns:
        Every rule it would break; empty where it may be recorded.
    """
    number, kind = state.number + 1, draft.kind
    refusals = [
        *_broken(rules.FIRST_OPENS, f"{kind!r} as entry {number}", number=number, kind=kind),
        *_broken(rules.KNOWN_KIND, f"{kind!r}, version {draft.version}", kind=kind, version=draft.version),
    ]
    if not refusals and kind in _OF_KIND:
        refusals += _OF_KIND[kind](state, draft, draft.data)
    return tuple(refusals)
