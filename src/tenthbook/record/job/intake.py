"""May what is settled at intake be recorded? Scope, times, documents, approvals, who takes on a task."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tenthbook.numbers.because import Refusal
from tenthbook.record.job.intake_rules import (
    ANSWERED_ONCE,
    COVERS_EVENTS,
    PRICE_READ,
    SHOWN_BY,
    SUPERVISED,
    TIMES_STATED,
    WITHIN_CEILING,
)
from tenthbook.record.job.looks import happened
from tenthbook.record.job.standing import broken
from tenthbook.record.job.state import Act, JobState
from tenthbook.record.ledger import Draft, person_name


def unanswered(state: JobState, asked: str, *answers: str) -> dict[int, Act]:
    """List what waits for an answer.

    Args:
        state: The job.
        asked: Kind of the acts that ask.
        answers: Kinds of the acts that answer, by naming the entry.

    Returns:
        The acts without an answer by entry number.
    """
    named = {act.told["entry"] for kind in answers for act in state.acts_that_count(kind)}
    return {act.entry: act for act in state.acts_that_count(asked) if act.entry not in named}


def priced(state: JobState) -> dict[int, Act]:
    """List extra work that was priced and that the owner has not answered.

    Args:
        state: The job.

    Returns:
        The acts by entry number.
    """
    return unanswered(state, "finding priced", "extra finding approved", "look declined")


def _waits(entry: int, waiting: dict[int, Act]) -> Iterator[Refusal]:
    expected = "one that waits: " + (", ".join(map(str, waiting)) or "none does")
    yield from broken(ANSWERED_ONCE, f"entry {entry}", expected, entry=entry, waiting=tuple(waiting))


def _scope(state: JobState, draft: Draft) -> Iterator[Refusal]:
    events, covers = tuple(happened(state)), tuple(draft.data["covers"])
    left = ", ".join(event for event in events if event not in covers)
    yield from broken(COVERS_EVENTS, f"{draft.data['work']} without {left}", events=events, covers=covers)


def _times(_state: JobState, draft: Draft) -> Iterator[Refusal]:
    case = {name: draft.data[name] for name in ("total", "since_overhaul")}
    yield from broken(TIMES_STATED, f"total {case['total']!r}, since overhaul {case['since_overhaul']!r}", **case)


def _answered_document(state: JobState, draft: Draft) -> Iterator[Refusal]:
    listed = unanswered(state, "document listed", "document answered")
    apply = {number: act for number, act in listed.items() if act.told["applies"] != "no"}
    yield from _waits(draft.data["entry"], apply)


def _price(price: str) -> Iterator[Refusal]:
    yield from broken(PRICE_READ, repr(price), price=price)


def _approved(_state: JobState, draft: Draft) -> Iterator[Refusal]:
    if draft.data["ceiling"]:
        yield from _price(draft.data["ceiling"])


def _priced(state: JobState, draft: Draft) -> Iterator[Refusal]:
    entry = draft.data["entry"]
    known = 0 <= entry <= state.number
    kind = state.entries[entry].kind if known else "none"
    counts = known and state.counts(entry)
    yield from broken(SHOWN_BY, f"entry {entry} ({kind})", kind=kind, counts=counts)
    yield from _price(draft.data["price"])


def _extra(state: JobState, draft: Draft) -> Iterator[Refusal]:
    waiting, entry = priced(state), draft.data["entry"]
    yield from _waits(entry, waiting)
    approvals = [act for act in state.acts_that_count("owner approved") if act.told["ceiling"]]
    if entry in waiting and approvals:
        taken = [state.acts[act.told["entry"]].told["price"] for act in state.acts_that_count("extra finding approved")]
        ceiling, prices = approvals[-1].told["ceiling"], (*taken, waiting[entry].told["price"])
        found = f"{' + '.join(prices)} against {ceiling}"
        yield from broken(WITHIN_CEILING, found, ceiling=ceiling, prices=prices)


def _declined(state: JobState, draft: Draft) -> Iterator[Refusal]:
    yield from _waits(draft.data["entry"], priced(state))


def _task(_state: JobState, draft: Draft) -> Iterator[Refusal]:
    supervisor = person_name(draft.data["supervised_by"])
    case = {"before": draft.data["before"], "worker": person_name(draft.person), "supervisor": supervisor}
    found = f"{draft.person}, {case['before']}, supervised by {supervisor or 'nobody'}"
    yield from broken(SUPERVISED, found, **case)


OF_INTAKE: dict[str, Callable[[JobState, Draft], Iterator[Refusal]]] = {
    "scope agreed": _scope,
    "times stated": _times,
    "document answered": _answered_document,
    "owner approved": _approved,
    "finding priced": _priced,
    "extra finding approved": _extra,
    "look declined": _declined,
    "task taken on": _task,
}
