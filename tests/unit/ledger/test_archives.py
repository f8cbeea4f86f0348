"""One stream as one file that proves itself."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tenthbook.faces.store.verifier_text import verifier_text
from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import examine, pack, public_key_of, seal, sign, signature_holds
from tenthbook.record.ledger.entry import body_of
from tenthbook.record.ledger.verifier import BROKEN, END_UNPROVEN, MATCHES, build
from tests.builders import NOON, PERSON, chain, members_of, noted, small_archive

SECRET = bytes(range(32))


def signed_archive(secret: bytes = SECRET) -> bytes:
    """A note and a signed entry, packed."""
    first = chain(noted())[0]
    draft = noted(kind="signed", request="r-2")
    second = seal(draft, 1, NOON, first.hash, sign(secret, body_of(draft, 1, NOON, first.hash)))
    return pack([first, second], [], b"# verifier\n")


def test_the_same_stream_is_the_same_bytes() -> None:
    """Packed twice, it is one file."""
    assert small_archive()[0] == small_archive()[0]


def test_an_empty_stream_is_not_packed() -> None:
    """A stream that was never opened has no archive."""
    with pytest.raises(TenthbookError, match="without entries"):
        pack([], [], b"")


@pytest.mark.parametrize("end", [64, 8, 12])
def test_a_head_from_a_paper_is_matched(end: int) -> None:
    """The whole hash, or its first eight signs or more, proves the end, in either case of letters."""
    archive, head = small_archive(3)
    found = examine(archive, head[:end].upper())
    assert (found.answer, found.entries, found.whole) == (MATCHES, 3, True)
    assert str(found) == f"whole and matches: entry 2, head {head}"


def test_without_a_head_the_end_is_unproven() -> None:
    """A whole chain says nothing about entries cut off its end, and says so."""
    archive, head = small_archive(3)
    found = examine(archive)
    assert (found.answer, found.where, found.whole) == (END_UNPROVEN, f"entry 2, head {head}", True)


@pytest.mark.parametrize("head", ["", "abc", "0" * 64])
def test_another_head_or_too_short_a_one_is_broken(head: str) -> None:
    """Seven signs prove nothing, and another hash proves the contrary."""
    found = examine(small_archive()[0], head)
    assert (found.answer, found.whole) == (BROKEN, False)
    assert "the paper says" in str(found)


def test_entries_cut_off_the_end_are_found_by_the_head() -> None:
    """A shorter archive is whole in itself, and does not match the paper."""
    shorter, head = small_archive(2)[0], small_archive(3)[1]
    assert examine(shorter).answer == END_UNPROVEN
    assert examine(shorter, head).answer == BROKEN


def test_a_signature_is_checked_against_the_persons_key() -> None:
    """With the right key it is whole, with another it is broken, without one the signature is only bound."""
    archive = signed_archive()
    assert examine(archive, keys={PERSON: public_key_of(SECRET)}).whole
    assert examine(archive, keys={"another": public_key_of(b"\x07" * 32)}).whole
    assert examine(archive).whole
    found = examine(archive, keys={PERSON: public_key_of(b"\x07" * 32)})
    assert str(found) == f"broken at entry 1: the signature is not that of {PERSON}"


def test_a_faster_check_of_signatures_may_be_given() -> None:
    """The plain check and the library's give one answer."""
    prefix = len(b"tenthbook entry signature 1\n")

    def fast(key: bytes, message: bytes, signature: bytes) -> bool:
        return signature_holds(key, message[prefix:], signature)

    assert examine(signed_archive(), keys={PERSON: public_key_of(SECRET)}, check=fast).whole
    assert not examine(signed_archive(b"\x08" * 32), keys={PERSON: public_key_of(SECRET)}, check=fast).whole


def test_a_signature_counts_for_nothing_else() -> None:
    """The same bytes signed without the prefix do not hold."""
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    bare = Ed25519PrivateKey.from_private_bytes(SECRET).sign(b"body")
    assert not signature_holds(public_key_of(SECRET), b"body", bare)
    assert signature_holds(public_key_of(SECRET), b"body", sign(SECRET, b"body"))


@pytest.mark.parametrize("key", [b"", b"\x01" * 31])
def test_a_key_of_another_length_holds_nothing(key: bytes) -> None:
    """A torn key is no key."""
    assert not signature_holds(key, b"body", sign(SECRET, b"body"))


def test_the_verifier_inside_proves_the_archive_with_a_plain_python(tmp_path: Path) -> None:
    """The copy in the archive runs alone, isolated from every installed package, and answers as the room does."""
    archive, head = small_archive(2, verifier_text())
    script = tmp_path / "verify.py"
    script.write_bytes(members_of(archive)["verify.py"])
    command = [sys.executable, "-I", "-S", str(script)]
    good = subprocess.run([*command, head], input=archive, capture_output=True, check=False, timeout=60)
    assert (good.returncode, good.stdout.decode()) == (0, f"whole and matches: entry 1, head {head}\n")
    bad = subprocess.run(command, input=archive[:-1], capture_output=True, check=False, timeout=60)
    assert (bad.returncode, bad.stdout.decode()[:10]) == (1, "broken at ")


def test_members_are_stored_sorted_with_one_date() -> None:
    """Whoever builds from the same members builds the same file."""
    assert build({"b": b"2", "a": b"1"}) == build({"a": b"1", "b": b"2"})
    assert list(members_of(build({"b": b"2", "a": b"1"}))) == ["a", "b"]
