"""One stream as one file: what is in it, and that it is the same bytes every time."""

from __future__ import annotations

import hashlib
import io
import struct
import zipfile
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import Draft, Entry, commitment, examine, pack, public_key_of, seal, sign
from tenthbook.record.ledger import verifier as verifier_module
from tenthbook.record.ledger.signature import PREFIX, SIGNED_KINDS
from tenthbook.record.ledger.verifier import SIGNATURE_PREFIX, build
from tests.builders import NOON, PERSON, chain, members_of, noted
from tests.first_format import pack_first

SECRET = bytes(range(32))
KEY = public_key_of(SECRET).hex()
BOOK, STATEMENT = b"a book", b"a statement"
SEEN, GONE = (b"\x01" * 32, b"a photograph"), (b"\x02" * 32, b"another")


def digest(content: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def recorded(kind: str, data: Mapping[str, object], request: str) -> Draft:
    """An act with these data."""
    return Draft(kind, 1, PERSON, request, "", NOON, data)


def stream() -> list[Entry]:
    """A book, two photographs and a signature."""
    entries = chain(
        recorded("book pinned", {"digest": digest(BOOK), "type": "x", "revision": "1"}, "r-1"),
        recorded("photographed", {"photograph_detached": commitment(*SEEN)}, "r-2"),
        recorded("photographed", {"photograph_detached": commitment(*GONE), "thumbnail_kept": ""}, "r-3"),
    )
    draft = recorded("signed", {"key": KEY, "statement_kept": digest(STATEMENT)}, "r-4")
    return [*entries, seal(draft, 3, NOON, entries[-1].hash, lambda body: sign(SECRET, body))]


def packed(withheld: Mapping[str, str] | None = None) -> bytes:
    """All of it packed; the second photograph withheld unless told otherwise."""
    gone = {commitment(*GONE): "ab" * 32} if withheld is None else withheld
    return pack(stream(), [BOOK, STATEMENT], [SEEN], gone, b"# v\n")


def test_the_members_are_just_what_the_entries_name() -> None:
    """Kept bytes under their hash, a photograph with its salt, word of the one withheld, who signed, and the head."""
    members, entries = members_of(packed()), stream()
    assert (
        sorted(members)
        == [
            "README.txt",
            f"beside/{commitment(*SEEN)}",
            *("entries.jsonl", "format.txt", "head.txt"),
            *sorted([f"kept/{digest(BOOK)}", f"kept/{digest(STATEMENT)}"]),
            *("keys.txt", "seals.txt", "verify.py", "withheld.txt"),
        ]
        == list(members)
    )
    assert members["format.txt"] == b"tenthbook archive 2\n"
    assert members["entries.jsonl"] == b"".join(entry.body + b"\n" for entry in entries)
    assert members["seals.txt"].decode().split("\n")[3] == f"{entries[3].hash} {entries[3].signature.hex()}"
    assert members["head.txt"].decode() == f"3 {entries[3].hash}\n"
    assert members[f"beside/{commitment(*SEEN)}"] == SEEN[0] + SEEN[1]
    assert members["withheld.txt"].decode() == f"{commitment(*GONE)} {'ab' * 32}\n"
    assert members["keys.txt"].decode() == f"{PERSON} {KEY}\n"


def test_the_same_stream_is_the_same_bytes() -> None:
    """Packed twice, and from what comes in another order and with more besides, it is one file."""
    others = {"cd" * 32: "ef" * 32, commitment(*GONE): "ab" * 32}
    again = pack(stream(), [STATEMENT, b"more", BOOK], [GONE, SEEN], others, b"# v\n")
    assert packed() == packed() == again
    assert examine(again).whole


def test_where_nothing_lies_beside_the_lists_are_empty() -> None:
    """No signature and nothing withheld is an empty page each, and not a page left out."""
    members = members_of(pack(chain(noted()), [], [], {}, b""))
    assert (members["keys.txt"], members["withheld.txt"], members["verify.py"]) == (b"", b"", b"")
    assert len(members) == 8


def test_an_empty_stream_is_not_packed() -> None:
    """A stream that was never opened has no archive, in either format."""
    with pytest.raises(TenthbookError, match="without entries"):
        pack([], [], [], {}, b"")


def test_what_an_entry_names_must_be_given_or_withheld() -> None:
    """A photograph lost without a word, or a statement, is not packed over; and kept bytes cannot be withheld."""
    with pytest.raises(TenthbookError, match=r"nothing for beside/.*, which entry 2 names"):
        packed(withheld={})
    with pytest.raises(TenthbookError, match=r"nothing for kept/.*, which entry 3 names"):
        pack(stream(), [BOOK], [SEEN, GONE], {digest(STATEMENT): "ab" * 32}, b"")


@pytest.mark.parametrize("value", ["abc", "AB" * 32, 7, None, ["ab" * 32]])
def test_a_field_that_names_bytes_holds_a_hash_or_nothing(value: object) -> None:
    """Anything else in it is refused when packing."""
    entries = chain(recorded("photographed", {"photograph_detached": value}, "r-1"))
    with pytest.raises(TenthbookError, match="entry 0: its photograph_detached is no hash"):
        pack(entries, [], [], {}, b"")


def test_more_than_one_file_can_hold_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """A ZIP of this form has bounds in bytes and members, and they are said before anything is written."""
    monkeypatch.setattr("tenthbook.record.ledger.archive.LARGEST", 1000)
    with pytest.raises(TenthbookError, match="at most 65534 members and 1000 bytes"):
        packed()


def test_a_name_with_a_line_break_makes_no_line_of_its_own() -> None:
    """Nobody writes a second line into the page of keys through an id."""
    draft = Draft("signed", 1, f"x {KEY}\ninspector", "r-1", "", NOON, {"key": KEY})
    entry = seal(draft, 0, NOON, "", lambda body: sign(SECRET, body))
    archive = pack([entry], [], [], {}, b"")
    assert members_of(archive)["keys.txt"].decode() == f"x {KEY} inspector {KEY}\n"
    assert examine(archive).whole


def test_the_first_format_is_still_packed() -> None:
    """As before there was a second: books under blobs, no page of keys, none of what was withheld."""
    members = members_of(pack_first(chain(noted()), [BOOK], b"# v\n"))
    assert members["format.txt"] == b"tenthbook archive 1\n"
    assert sorted(members)[:2] == ["README.txt", f"blobs/{digest(BOOK)}"]
    assert len(members) == 7


@given(st.dictionaries(st.from_regex(r"[a-z/.]{1,20}", fullmatch=True), st.binary(max_size=300), max_size=6))
def test_members_are_stored_as_a_plain_writer_would(members: dict[str, bytes]) -> None:
    """Sorted, uncompressed, one date: byte for byte what the standard library writes from the same members."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name in sorted(members):
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.create_system, entry.external_attr = 3, 0o644 << 16
            archive.writestr(entry, members[name])
    assert build(members) == out.getvalue()
    assert members_of(build(members)) == members


def test_the_verifier_knows_the_same_kinds_and_prefix() -> None:
    """It repeats them, since it imports nothing of the house."""
    assert (verifier_module.SIGNED_KINDS, SIGNATURE_PREFIX) == (SIGNED_KINDS, PREFIX)


def test_a_date_before_all_dates_stands_on_each_member() -> None:
    """1 January 1980, midnight: nothing of the day it was packed on is in the file."""
    assert struct.unpack_from("<2H", packed(), 10) == (0, 33)
