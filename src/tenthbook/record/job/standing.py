"""May this act about what stands already be recorded? Corrections, withdrawals, dispositions, hand-over, signatures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from tenthbook.numbers.because import Refusal, Rule
from tenthbook.record.book import Book, hindering, with_rows
from tenthbook.record.job.aftermath import CORRECTABLE, as_it_counts
from tenthbook.record.job.kinds import PLAIN_ACTS
from tenthbook.record.job.places import unseen
from tenthbook.record.job.standing_rules import (
    AT_HEAD,
    BINDS_STANDING,
    CORRECTABLE_FIELD,
    IN_DOUBT,
    NOTHING_RESTS,
    OPEN_HAND_OVER,
    OWN_WORK,
    SECOND_PERSON,
    SEEN_ALL,
    SEEN_KNOWN,
    STANDS,
    SUPERSEDES_OWN,
    SUPERSEDES_WHOLE,
    TO_ANOTHER,
)
from tenthbook.record.job.state import JobState
from tenthbook.record.ledger import Draft, person_name

_JUDGING = (
    "question answered",
    "corrected",
    "withdrawn",
    "re-verified",
    "disposed",
    "cover closed",
    "document answered",
    "extra finding approved",
    "look declined",
    "book moved",
    "taken up",
    "hand-over received",
    "signed",
    "gate overridden",
)
_TAKEN_BACK = (
    *(kind for kind in PLAIN_ACTS if kind != "gate overridden"),
    "row typed",
    "part removed",
    "gauge set",
    "reading taken",
    "question asked",
    "photographed",
    "disposed",
    "noted",
)
_ENDS = {"taken up": "put down", "hand-over received": "handed over"}


def broken(rule: Rule, found: str, expected: str = "", **case: Any) -> Iterator[Refusal]:
    """Refuse where a rule does not hold.

    Args:
        rule: The rule.
        found: What was found.
        expected: What is expected; the rule's own words without it.
        case: The facts it is asked about.

    Yields:
        The refusal, or nothing.
    """
    if not rule.holds(**case):
        yield Refusal(rule.id, found, expected or rule.says, rule.todo)


def _named(state: JobState, numbers: tuple[int, ...]) -> str:
    entries = (state.entries[number] for number in numbers)
    return ", ".join(f"entry {one.number} ({one.kind} by {one.draft.person})" for one in entries)


def admit_seen(state: JobState, draft: Draft) -> Iterator[Refusal]:
    """Ask whether the person saw the job as far as the act needs it.

    Args:
        state: The job as it stands.
        draft: What is proposed.

    Yields:
        What the act would break.
    """
    known = draft.seen == state.head or any(entry.hash == draft.seen for entry in reversed(state.entries))
    yield from broken(SEEN_KNOWN, f"head {draft.seen[:16]}, which is not of this job", seen=draft.seen, known=known)
    if (known or not draft.seen) and draft.kind in _JUDGING:
        missed = unseen(state, draft.kind, draft.data, draft.person, draft.seen)
        yield from broken(SEEN_ALL, f"{_named(state, missed)}, recorded since", unseen=missed)


def _standing(state: JobState, kinds: tuple[str, ...]) -> list[int]:
    gone = {*state.withdrawn, *state.unknown}
    answered = {entry.data["entry"] for entry in state.entries if entry.kind == "question answered"}
    lost = {number for number in answered if number not in state.readings}
    return [one.number for one in state.entries if one.kind in kinds and one.number not in gone | lost]


def _stands(state: JobState, entry: int, kinds: tuple[str, ...]) -> Iterator[Refusal]:
    standing = _standing(state, kinds)
    shown = [*map(str, standing[-12:])]
    expected = "an act that counts: " + (", ".join(shown) or "none")
    yield from broken(STANDS, f"entry {entry}", expected, entry=entry, standing=standing)


def admit_correction(state: JobState, draft: Draft) -> Iterator[Refusal]:
    """Judge a correction by itself; what it would make of the act is judged as the act is.

    Args:
        state: The job as it stands.
        draft: What is proposed.

    Yields:
        What the act would break.
    """
    entry, fields = draft.data["entry"], draft.data["fields"]
    yield from _stands(state, entry, tuple(CORRECTABLE))
    if entry not in _standing(state, tuple(CORRECTABLE)):
        return
    kind, counts = state.entries[entry].kind, as_it_counts(state, entry)
    may = CORRECTABLE[kind]
    strange = tuple(name for name in fields if name not in may)
    same = not strange and all(counts[name] == text for name, text in fields.items())
    found = f"{', '.join(strange)} of {kind!r}" if strange else "fields as they count already"
    yield from broken(CORRECTABLE_FIELD, found, "one of " + ", ".join(may), strange=strange, same=same)


def _rests_on_row(state: JobState, table: str, row: str, book: Book) -> list[str]:
    """What would be left without ground if a typed row were withdrawn."""
    readings = [one for one in state.readings.values() if one.entry not in state.withdrawn]
    readings += [question.reading for question in state.questions.values()]
    rests = [f"entry {one.entry}" for one in readings if table == "sizes" and one.row == row]
    rests += [f"part {one.tag}" for one in state.parts.values() if table == "parts" and one.part == row]
    return rests + [f"row {one.row}" for one in hindering(with_rows(book, (), {(table, row)}), row)]


def _rests_on(state: JobState, entry: int, book: Book) -> list[str]:
    kind = state.entries[entry].kind
    if kind == "row typed":
        table, cells = state.typed[entry]
        return _rests_on_row(state, table, cells["id"], book)
    own = ("corrected", "withdrawn", "re-verified")
    bearing = [
        one for one in sorted(state.resting_on(entry)) if state.counts(one) and state.entries[one].kind not in own
    ]
    return [f"entry {one}" for one in bearing] if kind in ("part removed", "gauge set") else []


def admit_withdrawal(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    """Judge a withdrawal.

    Args:
        state: The job as it stands.
        draft: What is proposed.
        book: The pinned book.

    Yields:
        What the act would break.
    """
    entry = draft.data["entry"]
    if entry in state.questions:  # it is answered, or corrected
        yield from broken(STANDS, f"entry {entry}, asked about", "an answer to it", entry=entry, standing=())
        return
    yield from _stands(state, entry, _TAKEN_BACK)
    if entry in _standing(state, _TAKEN_BACK):
        rests = _rests_on(state, entry, book)
        found = f"entry {entry} ({state.entries[entry].kind}), on which rests {', '.join(rests)}"
        yield from broken(NOTHING_RESTS, found, "an act on which nothing rests", rests=rests)


def admit_re_verified(state: JobState, draft: Draft) -> Iterator[Refusal]:
    """Judge a second look at what is in doubt.

    Args:
        state: The job as it stands.
        draft: What is proposed.

    Yields:
        What the act would break.
    """
    doubted = [number for number in state.doubted if number not in state.signatures]
    expected = "one of " + (", ".join(map(str, doubted)) or "none: nothing is in doubt")
    entry = draft.data["entry"]
    yield from broken(IN_DOUBT, f"entry {entry}", expected, entry=entry, doubted=doubted)


def admit_laying_down(state: JobState, draft: Draft) -> Iterator[Refusal]:
    """Judge a hand-over, its receipt, and the taking up of work that was put down.

    Args:
        state: The job as it stands.
        draft: What is proposed.

    Yields:
        What the act would break.
    """
    person = person_name(draft.person)
    if draft.kind == "handed over":
        to = person_name(draft.data["to"])
        found = f"{draft.person} handing over to {draft.data['to']}"
        yield from broken(TO_ANOTHER, found, giver=person, receiver=to, named=to)
        return
    laid, wanted = state.laid_down, _ENDS[draft.kind]
    is_open = laid is not None and laid.ended < 0
    entry = draft.data["entry"]
    facts = {"laid_down": laid.entry if laid is not None and is_open else -1, "word": laid.kind if laid else ""}
    expected = f"entry {laid.entry}, {laid.kind}" if laid is not None and is_open else "nothing: no work is laid down"
    yield from broken(OPEN_HAND_OVER, f"entry {entry}", expected, entry=entry, wanted=wanted, **facts)
    if draft.kind == "hand-over received" and laid is not None and laid.entry == entry and is_open:
        found = f"{draft.person}; it was handed over by {laid.person} to {laid.to}"
        named = {"giver": person_name(laid.person), "receiver": person, "named": person_name(laid.to)}
        yield from broken(TO_ANOTHER, found, **named)


def _with_what_they_bind(state: JobState, binds: list[int]) -> list[int]:
    reached: set[int] = set()
    waiting = list(binds)
    while waiting:
        number = waiting.pop()
        if number not in reached:
            reached.add(number)
            waiting += state.signatures[number].binds if number in state.signatures else ()
    return sorted(reached)


def _left_out(state: JobState, supersedes: int, binds: list[int]) -> tuple[int, ...]:
    """What a signature bound, still counts, and is not bound by the one that takes its place."""
    before = state.signatures[supersedes].binds if supersedes in state.signatures else ()
    decided = {one.entry for one in state.dispositions.values()}
    gone = {number for number in state.decided if number not in decided}
    gone |= {number for number, one in state.signatures.items() if one.superseded_by >= 0}
    return tuple(one for one in before if one not in binds and one not in gone and state.counts(one))


def _workers(state: JobState, binds: list[int]) -> tuple[set[str], set[str]]:
    """Who did and signed the bound acts, and what bound signatures bind in their turn, and with which keys."""
    binds = _with_what_they_bind(state, binds)
    people = {person_name(state.entries[one].draft.person) for one in binds}
    people |= {person_name(made.person) for one in binds for made in state.corrections.get(one, ())}
    bound = set(binds)
    own = [one for one in state.signatures.values() if one.as_what == "own work" and bound & set(one.binds)]
    return people | {person_name(one.person) for one in own}, {one.key for one in own}


def admit_override(state: JobState, draft: Draft) -> Iterator[Refusal]:
    """Judge an override against the job; what was open, and whose key it is, is judged outside.

    Args:
        state: The job as it stands.
        draft: What is proposed.

    Yields:
        What the act would break.
    """
    rests_on = draft.data["rests_on"]
    found = f"a gate at head {rests_on[:16]}; the job stands at {state.head[:16]}"
    yield from broken(AT_HEAD, found, rests_on=rests_on, seen=draft.seen, head=state.head)


def admit_signature(state: JobState, draft: Draft) -> Iterator[Refusal]:
    """Judge a signature against the job; whose key it is, the shop's own rules judge.

    Args:
        state: The job as it stands.
        draft: What is proposed.

    Yields:
        What the act would break.
    """
    data: Mapping[str, Any] = draft.data
    found = f"a statement on head {data['rests_on'][:16]}; the job stands at {state.head[:16]}"
    yield from broken(AT_HEAD, found, rests_on=data["rests_on"], seen=draft.seen, head=state.head)
    bound = [(one["entry"], one["hash"]) for one in (*data["binds"], *data["gauges"])]
    wrong = tuple(
        number
        for number, digest in bound
        if not (0 <= number <= state.number)
        or state.entries[number].hash != digest
        or not state.counts(number)
        or number in state.doubted
    )
    yield from broken(BINDS_STANDING, ", ".join(f"entry {number}" for number in wrong), wrong=wrong)
    if wrong:
        return
    signer, as_what = person_name(draft.person), data["as_what"]
    workers, keys = _workers(state, [one["entry"] for one in data["binds"]])
    found = f"{draft.person} signing what {', '.join(sorted(workers))} recorded"
    yield from broken(OWN_WORK, found, as_what=as_what, signer=signer, workers=tuple(workers))
    facts = {"as_what": as_what, "signer": signer, "workers": tuple(workers)}
    yield from broken(SECOND_PERSON, f"{draft.person}, who did or signed the work", key=data["key"], keys=keys, **facts)
    own = [
        number
        for number, one in state.signatures.items()
        if person_name(one.person) == signer and one.as_what == as_what and one.superseded_by < 0
    ]
    left_out = _left_out(state, data["supersedes"], [one["entry"] for one in data["binds"]])
    found = f"entry {', '.join(map(str, left_out))}, bound by the signature of entry {data['supersedes']}, left out"
    yield from broken(SUPERSEDES_WHOLE, found, left_out=left_out)
    expected = "one of " + (", ".join(map(str, own)) or "none")
    yield from broken(SUPERSEDES_OWN, f"entry {data['supersedes']}", expected, supersedes=data["supersedes"], own=own)
