"""A draft, the entry it becomes, and what ties it to the one before."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from typing import Any

import pytest

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import BadEntry, Draft, public_key_of, read_entry, seal, sign
from tests.builders import NOON, chain, noted

SECRET = bytes(range(32))
KEY = public_key_of(SECRET).hex()


def signed(body: bytes) -> bytes:
    """Sign as the bench does."""
    return sign(SECRET, body)


def to_sign(**data: str) -> Draft:
    """An act that is signed, with the signer's key in it."""
    return dataclasses.replace(noted(kind="signed"), data={"key": KEY, **data})


def changed(body: bytes, **fields: Any) -> bytes:
    """A body with other fields, in the same form."""
    return json.dumps({**json.loads(body), **fields}, sort_keys=True, separators=(",", ":")).encode()


def test_an_entry_reads_back_as_it_was_sealed() -> None:
    """Body to entry gives number, fields, times, links and hash again."""
    first, second = chain(noted("one"), noted("two", request="r-2"))
    assert read_entry(second.body) == second
    assert second.previous == first.hash
    assert (second.number, second.kind, second.data["text"], second.recorded_at) == (1, "noted", "two", NOON)


def test_the_hash_covers_body_and_signature() -> None:
    """SHA-256 of both, in hexadecimal."""
    entry = seal(to_sign(), 0, NOON, "", signed)
    assert entry.signature == sign(SECRET, entry.body)
    assert entry.hash == hashlib.sha256(entry.body + entry.signature).hexdigest()
    assert read_entry(entry.body, entry.signature) == entry


@pytest.mark.parametrize("field", [field.name for field in dataclasses.fields(Draft)])
def test_every_field_of_a_draft_is_under_the_hash(field: str) -> None:
    """No field can change without the hash changing."""
    other: dict[str, Any] = {"version": 2, "data": {"text": "another"}, "acted_at": "2026-10-02T12:00:01Z"}
    plain = seal(noted(), 0, NOON, "")
    assert seal(dataclasses.replace(noted(), **{field: other.get(field, "another")}), 0, NOON, "").hash != plain.hash


def test_number_time_and_link_are_under_the_hash() -> None:
    """Place, time of recording and the entry before are sealed too."""
    hashes = {
        seal(noted(), 0, NOON, "").hash,
        seal(noted(), 1, NOON, "").hash,
        seal(noted(), 0, "2026-10-02T12:00:01Z", "").hash,
        seal(noted(), 0, NOON, "ab").hash,
    }
    assert len(hashes) == 4


@pytest.mark.parametrize(
    "time",
    [
        "",
        "2026-10-02 12:00:00",
        "2026-10-02T12:00:00",
        "2026-10-02T12:00:00+02:00",
        "2026-10-02T12:00:00.5Z",
        "2026-10-02T12:00:00Z\n",
    ],
)
def test_a_time_is_utc_to_the_second(time: str) -> None:
    """Local times, fractions and missing zones are refused, on both clocks."""
    with pytest.raises(BadEntry, match="recorded_at"):
        seal(noted(), 0, time, "")
    with pytest.raises(BadEntry, match="acted_at"):
        seal(dataclasses.replace(noted(), acted_at=time), 0, NOON, "")


@pytest.mark.parametrize("field", ["kind", "person", "request"])
def test_kind_person_and_request_stand_on_every_entry(field: str) -> None:
    """An empty one is refused."""
    blank: dict[str, Any] = {field: "  "}
    with pytest.raises(BadEntry, match=f"an empty {field}"):
        seal(dataclasses.replace(noted(), **blank), 0, NOON, "")


def test_only_the_kinds_that_are_signed_carry_a_signature() -> None:
    """A signature on a note and a release without one are both refused."""
    with pytest.raises(BadEntry, match="a signature on 'noted'"):
        seal(noted(), 0, NOON, "", signed)
    with pytest.raises(BadEntry, match="no signature on 'released'"):
        seal(noted(kind="released"), 0, NOON, "")


@pytest.mark.parametrize("key", [KEY[:-1], KEY.upper(), "", 7, None])
def test_a_signed_act_names_the_signers_key(key: Any) -> None:
    """Without 64 figures in its data there is nothing the signature could be held against."""
    with pytest.raises(BadEntry, match="without a public key"):
        seal(to_sign(key=key), 0, NOON, "", signed)


def test_a_signature_by_another_key_is_refused() -> None:
    """What is named and what signed are one key, or nothing is written."""
    with pytest.raises(BadEntry, match="a signature by another key"):
        seal(to_sign(key=public_key_of(b"\x07" * 32).hex()), 0, NOON, "", signed)


@pytest.mark.parametrize("body", [b"", b"\xff", b"[]", b"{}", b"null", b'{"number":0}'])
def test_bytes_that_are_no_entry_are_refused(body: bytes) -> None:
    """Neither torn bytes nor other fields become an entry."""
    with pytest.raises(BadEntry):
        read_entry(body)


def test_an_entry_with_a_field_more_is_refused() -> None:
    """What an entry does not have, it cannot smuggle."""
    body = seal(noted(), 0, NOON, "").body
    with pytest.raises(BadEntry, match="other fields"):
        read_entry(changed(body, extra="x"))


def test_another_spelling_of_an_entry_is_refused() -> None:
    """Blanks between the fields make other bytes, so they are no entry."""
    body = seal(noted(), 0, NOON, "").body
    with pytest.raises(BadEntry, match="another spelling"):
        read_entry(body.replace(b",", b", ", 1))


@pytest.mark.parametrize(("field", "value"), [("kind", ["noted"]), ("data", {"value": 0.5094}), ("number", 0.0)])
def test_a_field_of_another_form_is_a_fault_of_the_book(field: str, value: Any) -> None:
    """A list for a kind, a binary fraction and a number with a point raise an error that says what was expected."""
    with pytest.raises(TenthbookError):
        read_entry(changed(seal(noted(), 0, NOON, "").body, **{field: value}))


def test_bytes_nested_without_end_are_refused() -> None:
    """A hostile row stops as a fault, not as an overflow."""
    with pytest.raises(TenthbookError):
        read_entry(b"[" * 100_000 + b"]" * 100_000)
