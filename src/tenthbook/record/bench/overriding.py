"""A cover closed while something is open, by somebody who signs for it: what was open is shown, and stays in sight.

A release is never overridden: what cannot be done is stated in it as a limitation.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tenthbook.numbers.because import Fault, Refusal, Refused, Register, Rule, WrongInput
from tenthbook.record.bench.bench import Bench
from tenthbook.record.job import draft
from tenthbook.record.ledger import Entry, sign
from tenthbook.record.workup.gates import RELEASE, Gate, gates_of

RULES = Register()
AS_SHOWN = RULES.add(
    Rule(
        id="gate.as-shown",
        says="What is overridden is what was shown: the same open lines, at the same head.",
        source="rule of this book",
        holds=lambda shown, stands: shown == stands,
        passes={"shown": "ab", "stands": "ab"},
        fails={"shown": "ab", "stands": "cd"},
        todo="look at the gate again as it stands, and decide anew",
    )
)
NEVER_RELEASE = RULES.add(
    Rule(
        id="gate.never-release",
        says="A release is not overridden; what is open is done, or stated in it as a limitation.",
        source="rule of this book",
        holds=lambda gate: gate != RELEASE,
        passes={"gate": "cover:access.pump-cover"},
        fails={"gate": RELEASE},
        todo="settle what is open",
    )
)
SOMETHING_OPEN = RULES.add(
    Rule(
        id="gate.something-open",
        says="Only a gate with something open is overridden.",
        source="rule of this book",
        holds=lambda opens: bool(opens),
        passes={"opens": ("shaft: not measured",)},
        fails={"opens": ()},
        todo="close the cover: nothing in this book is in its way",
    )
)


@dataclass(frozen=True, slots=True)
class Shown:
    """A gate as it is shown before somebody overrides it.

    Attributes:
        gate: The gate.
        lines: What is open, a line each.
        digest: SHA-256 of gate, head and lines, hexadecimal; the override repeats it.
    """

    gate: Gate
    lines: tuple[str, ...]
    digest: str


def show_gate(bench: Bench, stream: str, gate: str) -> Shown:
    """Show a gate.

    Args:
        bench: The bench.
        stream: Id of the job.
        gate: Id of the gate, such as cover:access.pump-cover.

    Returns:
        What is open, with the digest that an override repeats.

    Raises:
        WrongInput: no such gate now.
    """
    state, book, work = bench.look(stream)
    found = {one.id: one for one in gates_of(book, state, work)}
    if gate not in found:
        raise WrongInput([Fault("gate", repr(gate), "one of " + ", ".join(found))])
    lines = tuple(line.text for line in found[gate].opens)
    text = "\n".join((gate, state.head, *lines))
    return Shown(found[gate], lines, hashlib.sha256(text.encode("utf-8")).hexdigest())


def override_gate(
    bench: Bench,
    stream: str,
    gate: str,
    shown: str,
    reason: str,
    secret_key: Callable[[], tuple[bytes, bytes]],
    act: Mapping[str, str],
) -> Entry:
    """Override a gate as it was shown, and sign for it.

    Args:
        bench: The bench.
        stream: Id of the job.
        gate: Id of the gate.
        shown: Digest of the gate as it was shown.
        reason: Why.
        secret_key: Opens the signer's key for this request: secret and public half [32 bytes each].
        act: Person, request and time.

    Returns:
        The entry; its head is anchored in the shop's stream.

    Raises:
        Refused: the job has gone on, nothing is open, or a release; nothing was written.
        WrongPhrase: the key did not open.
    """
    known = bench.state(stream).by_request.get(act["request"])
    if known is not None and (known.kind, known.data.get("gate")) == ("gate overridden", gate):
        return known
    stands = show_gate(bench, stream, gate)
    cases = (
        (
            AS_SHOWN,
            f"a gate as {shown[:16]}; now it is {stands.digest[:16]}",
            {"shown": shown, "stands": stands.digest},
        ),
        (NEVER_RELEASE, gate, {"gate": gate}),
        (SOMETHING_OPEN, f"{gate} with nothing open", {"opens": stands.lines}),
    )
    refusals = [Refusal(rule.id, found, rule.says, rule.todo) for rule, found, case in cases if not rule.holds(**case)]
    if refusals:
        raise Refused(refusals)
    secret, public = secret_key()
    head = bench.state(stream).head
    told = {"gate": gate, "opens": list(stands.lines), "reason": reason, "rests_on": head, "key": public.hex()}
    proposal = draft("gate overridden", told, seen=head, **act)
    entry = bench.append(stream, proposal, lambda body: sign(secret, body))
    bench.people.anchor(stream, entry, {**act, "request": f"{act['request']}.anchor"})
    return entry
