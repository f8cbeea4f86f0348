"""What somebody signs: the statement as it is shown, and the signature that binds it.

A statement names the acts by their hashes, the head it rests on, and the gauges with their calibration as then known.
It is shown first, with its digest; a signature binds that digest and is refused once the job has gone on. The key is
opened with its phrase for this one request.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tenthbook.numbers.because import Fault, Refusal, Refused, Register, Rule, WrongInput
from tenthbook.numbers.because.errors import one_line
from tenthbook.record.bench.history import standing_lines
from tenthbook.record.job import JobState, Signature, as_it_counts, draft
from tenthbook.record.ledger import Entry, RequestReused, fingerprint, same_person, sign
from tenthbook.record.shop import ShopState

if TYPE_CHECKING:
    from tenthbook.record.bench.bench import Bench

RULES = Register()
AS_SHOWN = RULES.add(
    Rule(
        id="signed.as-shown",
        says="What is signed is the statement that was shown, to the letter.",
        source="rule of this book",
        holds=lambda shown, stands: shown == stands,
        passes={"shown": "ab", "stands": "ab"},
        fails={"shown": "ab", "stands": "cd"},
        todo="review the statement again: the job has gone on since",
    )
)
_LEFT_OUT = ("asks", "row_digest")


@dataclass(frozen=True, slots=True)
class Statement:
    """A statement to be signed.

    Attributes:
        text: The words, as they are shown and kept.
        digest: SHA-256 of them, hexadecimal.
        data: Fields of the entry `signed`, but for the key.
    """

    text: str
    digest: str
    data: Mapping[str, Any]


def _told(data: Mapping[str, Any]) -> str:
    fields = sorted(data.items())  # in one order, whether it was recorded here or read back
    shown = ((name, text) for name, text in fields if name not in _LEFT_OUT and text not in ("", [], {}))
    return "; ".join(f"{name} {text}" for name, text in shown)


def _act_lines(state: JobState, entry: Entry) -> list[str]:
    draft = entry.draft
    lines = [f"  entry {entry.number}, {entry.kind} by {draft.person} at {draft.acted_at}: {_told(entry.data)}"]
    for made in state.corrections.get(entry.number, ()):
        lines.append(f"      corrected by entry {made.entry}: {_told(made.fields)} ({made.reason})")
    return [*lines, f"      {entry.hash}"]


def _gauge_lines(state: JobState, number: int) -> list[str]:
    data = as_it_counts(state, number)
    known = f"certificate {data['certificate']}, due {data['due'] or 'not stated'}" if data["certificate"] else ""
    doubt = f"{data['expanded']} at k = {data['coverage_factor']}"
    calibrated = known or "its calibration is not recorded"
    return [f"  {data['gauge']}, {data['name']}: {doubt}; {calibrated}", f"      {state.entries[number].hash}"]


def _gauges_behind(state: JobState, numbers: Sequence[int]) -> list[int]:
    read = {state.readings[number].gauge_set for number in numbers if number in state.readings}
    return sorted(number for number in read if number >= 0)


def _bound(state: JobState, numbers: Sequence[int]) -> list[dict[str, Any]]:
    return [{"entry": number, "hash": state.entries[number].hash} for number in numbers]


def state_what_is_signed(
    state: JobState, stream: str, person: str, numbers: Sequence[int], as_what: str, supersedes: int = -1
) -> Statement:
    """Write the statement that somebody is to sign.

    Args:
        state: The job as it stands.
        stream: Its id.
        person: Who signs.
        numbers: Numbers of the acts it binds.
        as_what: "own work" or "second look".
        supersedes: Number of the signature it takes the place of; -1 for none.

    Returns:
        The statement.

    Raises:
        WrongInput: no acts, or a number that is not in the job.
    """
    wanted = sorted(set(numbers))
    strange = [one for one in wanted if not 0 <= one <= state.number]
    if strange or not wanted:
        found = ", ".join(map(str, strange)) or "none"
        raise WrongInput([Fault("entries", found, f"numbers from 0 to {state.number}")])
    gauges = _gauges_behind(state, wanted)
    lines = [
        f"Statement of {person}, to be signed as {as_what}",
        f"Job {stream}: {state.opened.get('engine', '')}; {state.opened.get('scope', '')}",
        *(["Invented data. Not for any engine."] if state.opened.get("invented") else []),
        f"Book {state.book}",
        f"It rests on entry {state.number}, head {state.head}",
        *([f"It takes the place of the signature of entry {supersedes}."] if supersedes >= 0 else []),
        "It binds:",
        *(line for number in wanted for line in _act_lines(state, state.entries[number])),
        "Gauges, and their calibration as now known:" if gauges else "No gauge is named.",
        *(line for number in gauges for line in _gauge_lines(state, number)),
        "The engine's manual, the directives and the licensed person rule. Whether a signature made so is accepted is",
        "the authority's decision.",
    ]
    text = "\n".join(map(one_line, lines)) + "\n"  # what was typed stays in its line
    digest = hashlib.sha256(text.encode("utf-8")).hexdigest()
    data = {"as_what": as_what, "statement_kept": digest, "rests_on": state.head, "supersedes": supersedes}
    bound = {"binds": _bound(state, wanted), "gauges": _bound(state, gauges)}
    return Statement(text, digest, {**data, **bound})


def sign_statement(
    bench: Bench,
    stream: str,
    shown: str,
    numbers: Sequence[int],
    as_what: str,
    secret_key: Callable[[], tuple[bytes, bytes]],
    act: Mapping[str, str],
    supersedes: int = -1,
) -> Entry:
    """Sign the statement that was shown.

    Args:
        bench: The bench.
        stream: Id of the job.
        shown: Digest of the statement as it was shown.
        numbers: Numbers of the acts it binds.
        as_what: "own work" or "second look".
        secret_key: Opens the signer's key for this request: secret and public half [32 bytes each].
        act: Person, request and time.
        supersedes: Number of the signature it takes the place of; -1 for none.

    Returns:
        The entry; its head is anchored in the shop's stream.

    Raises:
        Refused: the job has gone on, or a rule of the job or of the shop is broken; nothing was written.
        RequestReused: another act was recorded under this request id.
        WrongPhrase: the key did not open.
    """
    state = bench.state(stream)
    known = state.by_request.get(act["request"])
    if known is not None:
        entry = _signed_before(known, shown, act["person"])
        _anchor(bench, stream, entry, act)  # it may have broken off in between
        return entry
    statement = state_what_is_signed(state, stream, act["person"], numbers, as_what, supersedes)
    if not AS_SHOWN.holds(shown=shown, stands=statement.digest):
        found = f"a statement {shown[:16]}; as the job stands it is {statement.digest[:16]}"
        raise Refused([Refusal(AS_SHOWN.id, found, AS_SHOWN.says, AS_SHOWN.todo)])
    secret, public = secret_key()
    bench.store.keep(statement.text.encode("utf-8"))
    proposal = draft("signed", {**statement.data, "key": public.hex()}, seen=state.head, **act)
    entry = bench.append(stream, proposal, lambda body: sign(secret, body))
    _anchor(bench, stream, entry, act)
    return entry


def _anchor(bench: Bench, stream: str, entry: Entry, act: Mapping[str, str]) -> None:
    bench.people.anchor(stream, entry, {**act, "request": f"{act['request']}.anchor"})


def _signed_before(known: Entry, shown: str, person: str) -> Entry:
    """What stands under a request id that was sent before, where it is the signature of what was shown."""
    if (known.kind, known.draft.person, known.data.get("statement_kept")) == ("signed", person, shown):
        return known
    found = f"request {known.draft.request} on entry {known.number} ({known.kind}) and on another signature"
    raise RequestReused(found=found, expected="a new request id for a new act", todo="review the statement again")


@dataclass(frozen=True, slots=True)
class RecordWords:
    """What pages and papers say about the record itself.

    Attributes:
        signatures: A line a signature that was not superseded.
        keys: A line a person who signed: role, fingerprint, and who vouches for the key.
        standing: What asks to be looked at: work handed over, doubts, acts across each other, stale papers, gauges.
    """

    signatures: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()
    standing: tuple[str, ...] = ()


def _key_doubt(shop: ShopState, signature: Signature, entry: Entry) -> str:
    """What is to be said where a signature was not made with the key its person signs with now."""
    held = shop.owner_of(signature.key)
    mark = fingerprint(bytes.fromhex(signature.key))
    if held is None or not same_person(held[0].id, signature.person):
        return f"; NOT SIGNED WITH A KEY OF THIS PERSON: {mark}"
    live, ended = shop.live_key(signature.person), held[1].revoked
    if ended is not None and ended.since <= entry.recorded_at:
        return f"; SIGNED WITH A KEY NOT TRUSTED FROM {ended.since} ON: {mark}"
    return f"; signed with an earlier key, {mark}" if live is not None and live.public_key != signature.key else ""


def record_words(bench: Bench, stream: str) -> RecordWords:
    """Say who signed what, by which keys, and what of the record asks to be looked at.

    Args:
        bench: The bench.
        stream: Id of the job.

    Returns:
        The words.
    """
    state, shop = bench.state(stream), bench.people.state()
    lines, people = [], []
    for number, one in state.signatures.items():
        if one.superseded_by >= 0:
            continue
        people.append(one.person)
        doubt = f"; IN DOUBT since entry {state.doubted[number][0]}" if number in state.doubted else ""
        doubt += _key_doubt(shop, one, state.entries[number])
        acts = ", ".join(map(str, one.binds)) if len(one.binds) < 9 else f"{len(one.binds)} acts"
        lines.append(f"entry {number}: {one.person}, {one.as_what}, binding {acts}{doubt}")
    for act in state.acts_that_count("gate overridden"):
        people.append(act.person)
        opens = "; ".join(act.told["opens"])
        told = f"entry {act.entry}: {act.person} overrode {act.told['gate']}, {act.told['reason']}; open then: {opens}"
        lines.append(one_line(told))
    keys = tuple(one_line(shop.key_words(person)) for person in dict.fromkeys(people))
    return RecordWords(tuple(lines), keys, (*standing_lines(state), *bench.crib.findings(state)))
