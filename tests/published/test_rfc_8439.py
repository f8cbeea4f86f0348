"""RFC 8439: ChaCha20 and Poly1305 for IETF Protocols. Y. Nir, A. Langley, June 2018.

Section 2.8.2, example and test vector of the authenticated encryption; the figures from memory. The key box is opened
here by the bare cipher, so that its layout is what it says.
"""

from __future__ import annotations

import dataclasses

import pytest
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305

from tenthbook.record.ledger import KeyBox, WeakPhrase, WrongPhrase, close_key, fingerprint, open_key, public_key_of
from tenthbook.record.ledger.keybox import stretch

TEXT = b"Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, "
TEXT += b"sunscreen would be it."
KEY, NONCE = bytes(range(0x80, 0xA0)), bytes.fromhex("070000004041424344454647")
BOUND = bytes.fromhex("50515253c0c1c2c3c4c5c6c7")
SECRET, PHRASE = bytes(range(32)), "four words of a bench"


@pytest.fixture(scope="module")
def box() -> KeyBox:
    """A closed key; closing one takes a quarter of a second."""
    return close_key(SECRET, PHRASE, "mechanic", b"s" * 16, b"n" * 12)


def test_the_printed_vector() -> None:
    """The first 16 bytes of the ciphertext and the tag are those printed."""
    closed = ChaCha20Poly1305(KEY).encrypt(NONCE, TEXT, BOUND)
    assert closed[:16].hex() == "d31a8d34648e60db7b86afbc53ef7ec2"
    assert closed[-16:].hex() == "1ae10b594f09e26a7e902ecbd0600691"
    assert ChaCha20Poly1305(KEY).decrypt(NONCE, closed, BOUND) == TEXT


def test_a_box_is_the_bare_cipher(box: KeyBox) -> None:
    """What closes a key is the stretched phrase, and the box binds whose key it is and its public half."""
    bound = b"tenthbook key box 1\nmechanic\n" + public_key_of(SECRET)
    assert ChaCha20Poly1305(stretch(PHRASE, b"s" * 16)).decrypt(b"n" * 12, box.closed, bound) == SECRET
    assert len(box.closed) == 48
    assert SECRET not in box.closed


def test_the_phrase_opens_it(box: KeyBox) -> None:
    """And no other phrase does, nor a box with another name or one bit changed."""
    assert open_key(box, PHRASE) == SECRET
    for wrong, phrase in (
        (box, "four words of a bank!"),
        (dataclasses.replace(box, person="inspector"), PHRASE),
        (dataclasses.replace(box, closed=bytes([box.closed[0] ^ 1]) + box.closed[1:]), PHRASE),
        (dataclasses.replace(box, public_key=bytes(32)), PHRASE),
    ):
        with pytest.raises(WrongPhrase, match="phrase"):
            open_key(wrong, phrase)


def test_a_short_phrase_closes_nothing() -> None:
    """Eleven signs are too few, and blanks around them do not count."""
    with pytest.raises(WeakPhrase, match="11 signs"):
        close_key(SECRET, "  eleven sign  ", "mechanic", b"s" * 16, b"n" * 12)


def test_a_fingerprint_is_read_aloud_in_fours() -> None:
    """Ten groups of four; one bit of the key changes it."""
    one, other = fingerprint(bytes(32)), fingerprint(b"\x01" + bytes(31))
    assert ([len(group) for group in one.split()], one == other) == ([4] * 10, False)
