"""A draft, and the entry it becomes: who did what, when, resting on which head, sealed to the one before.

The body is the canonical form of everything but the signature; the hash covers body and signature. What was read back
is compared with what it would be written as, so that two spellings of one entry cannot exist.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger.canonical import canonical
from tenthbook.record.ledger.signature import SIGNED_KINDS, signature_holds

_TIME = re.compile(r"[0-9]{4}-[01][0-9]-[0-3][0-9]T[0-2][0-9]:[0-5][0-9]:[0-6][0-9]Z")
_TEXT = ("kind", "person", "request", "seen", "acted_at", "recorded_at", "previous")
_KEY = re.compile(r"[0-9a-f]{64}")
Sign = Callable[[bytes], bytes]
_FIELDS: dict[str, type] = {"number": int, "version": int, "data": dict, **dict.fromkeys(_TEXT, str)}


class BadEntry(TenthbookError):
    """Bytes that are not an entry, or an entry that may not be written."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What a person proposes to record.

    Attributes:
        kind: The fact, in the past tense ("reading taken").
        version: Version of the kind's data.
        person: Id of the person who acted.
        request: The client's own id for this request, unique in the stream: sent twice, it is recorded once.
        seen: Hash of the head the person saw; empty before the first entry.
        acted_at: When it was done by the device's clock, as claimed, UTC ("2026-10-02T09:15:00Z").
        data: The fact's fields; numbers as typed text.
    """

    kind: str
    version: int
    person: str
    request: str
    seen: str
    acted_at: str
    data: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Entry:
    """What was recorded.

    Attributes:
        number: Its place in the stream, from 0.
        draft: What was proposed, unchanged.
        recorded_at: When it was recorded by the store's clock, UTC.
        previous: Hash of the entry before; empty for entry 0.
        body: Canonical bytes of all the above.
        signature: Ed25519 signature [64 bytes], or empty.
        hash: SHA-256 of body and signature, hexadecimal.
    """

    number: int
    draft: Draft
    recorded_at: str
    previous: str
    body: bytes
    signature: bytes
    hash: str

    @property
    def kind(self) -> str:
        """The fact's kind."""
        return self.draft.kind

    @property
    def data(self) -> Mapping[str, Any]:
        """The fact's fields."""
        return self.draft.data


def body_of(draft: Draft, number: int, recorded_at: str, previous: str) -> bytes:
    """Write the bytes that are hashed, and signed where the kind is signed.

    Args:
        draft: What is proposed.
        number: Place in the stream, from 0.
        recorded_at: The store's time, UTC.
        previous: Hash of the entry before; empty for entry 0.

    Returns:
        The canonical body.

    Raises:
        BadEntry: a time that is not UTC to the second, an empty person, request or kind.
        NotCanonical: data the ledger cannot hold.
    """
    for name, value in (("acted_at", draft.acted_at), ("recorded_at", recorded_at)):
        if not _TIME.fullmatch(value):
            raise BadEntry(found=f"{name} {value!r}", expected="a time in UTC such as 2026-10-02T09:15:00Z")
    for name, value in (("kind", draft.kind), ("person", draft.person), ("request", draft.request)):
        if not value.strip():
            raise BadEntry(found=f"an empty {name}", expected=f"a {name} on every entry")
    return canonical(
        {
            "number": number,
            "kind": draft.kind,
            "version": draft.version,
            "person": draft.person,
            "request": draft.request,
            "seen": draft.seen,
            "acted_at": draft.acted_at,
            "recorded_at": recorded_at,
            "data": dict(draft.data),
            "previous": previous,
        }
    )


def person_name(person: str) -> str:
    """Tell a person whichever way a hand writes the id.

    Args:
        person: Id of a person as typed.

    Returns:
        The id without capitals and further blanks.
    """
    return " ".join(person.split()).casefold()


def same_person(one: str, other: str) -> bool:
    """Ask whether two ids name one person.

    Args:
        one: Id of a person as typed.
        other: Id of a person as typed.

    Returns:
        True where they differ in capitals and blanks at most, and name somebody.
    """
    return bool(person_name(one)) and person_name(one) == person_name(other)


def key_of(draft: Draft) -> bytes:
    """Read the public key that a signed act names.

    Args:
        draft: The act.

    Returns:
        The key [32 bytes].

    Raises:
        BadEntry: it names none.
    """
    key = draft.data.get("key")
    if not isinstance(key, str) or not _KEY.fullmatch(key):
        raise BadEntry(found=f"{draft.kind!r} without a public key", expected="the signer's public key, 64 figures")
    return bytes.fromhex(key)


def _entry(draft: Draft, number: int, recorded_at: str, previous: str, body: bytes, signature: bytes) -> Entry:
    if bool(signature) != (draft.kind in SIGNED_KINDS):
        found = f"{'a' if signature else 'no'} signature on {draft.kind!r}"
        raise BadEntry(
            found=found, expected="signatures on " + ", ".join(sorted(SIGNED_KINDS)) + " and on nothing else"
        )
    digest = hashlib.sha256(body + signature).hexdigest()
    return Entry(number, draft, recorded_at, previous, body, signature, digest)


def seal(draft: Draft, number: int, recorded_at: str, previous: str, sign: Sign | None = None) -> Entry:
    """Make an entry of a draft.

    Args:
        draft: What is proposed.
        number: Place in the stream, from 0.
        recorded_at: The store's time, UTC.
        previous: Hash of the entry before; empty for entry 0.
        sign: Signs the body, for the kinds that are signed.

    Returns:
        The entry with its hash.

    Raises:
        BadEntry: a field that no entry may have, a signature where none belongs, or one that does not hold under the
            key the act names.
    """
    body = body_of(draft, number, recorded_at, previous)
    signature = sign(body) if sign is not None else b""
    entry = _entry(draft, number, recorded_at, previous, body, signature)
    if signature and not signature_holds(key_of(draft), body, signature):
        raise BadEntry(found="a signature by another key", expected="one by the key that the act names")
    return entry


def read_entry(body: bytes, signature: bytes = b"") -> Entry:
    """Read an entry back from its stored bytes.

    Args:
        body: Canonical body.
        signature: Its signature, or empty.

    Returns:
        The entry, its hash computed anew.

    Raises:
        BadEntry: not JSON, not the fields of an entry, or not in canonical form.
    """
    try:
        held = json.loads(body)
    except (ValueError, RecursionError) as error:
        raise BadEntry(found="bytes that are not JSON", expected="a canonical entry") from error
    if not isinstance(held, dict) or {name: type(value) for name, value in held.items()} != _FIELDS:
        raise BadEntry(found="other fields than an entry's", expected=", ".join(sorted(_FIELDS)))
    draft = Draft(*(held[name] for name in ("kind", "version", "person", "request", "seen", "acted_at", "data")))
    entry = _entry(draft, held["number"], held["recorded_at"], held["previous"], body, signature)
    if canonical(held) != body:
        raise BadEntry(found=f"entry {entry.number} in another spelling", expected="the canonical form (RFC 8785)")
    return entry
