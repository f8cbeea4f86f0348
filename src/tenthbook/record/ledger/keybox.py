"""A secret key at rest: closed with a phrase, opened for one request.

The phrase is stretched by scrypt (N 2^16, r 8, p 1: 64 MB and a quarter of a second for every guess) and closes the key
with ChaCha20-Poly1305, which also binds whose key it is. Salt and nonce come from outside. Nothing here keeps a phrase
or an opened key.

Sources: RFC 7914 (scrypt), RFC 8439 (ChaCha20-Poly1305), RFC 8032 (Ed25519). Checked in:
tests/published/test_rfc_7914.py, tests/published/test_rfc_8439.py
"""

from __future__ import annotations

import hashlib
import unicodedata
from dataclasses import dataclass

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger.signature import public_key_of

COST, BLOCK, LANES = 2**16, 8, 1
SALT_LENGTH, NONCE_LENGTH = 16, 12
SHORTEST_PHRASE = 12
_PURPOSE = b"tenthbook key box 1\n"


class WrongPhrase(TenthbookError):
    """A phrase that does not open the key."""


class WeakPhrase(TenthbookError):
    """A phrase that may not close a key."""


@dataclass(frozen=True, slots=True)
class KeyBox:
    """A closed key.

    Attributes:
        person: Whose it is.
        public_key: Its public half [32 bytes].
        salt: For scrypt [16 bytes].
        nonce: For ChaCha20-Poly1305 [12 bytes].
        closed: The closed secret half [48 bytes].
    """

    person: str
    public_key: bytes
    salt: bytes
    nonce: bytes
    closed: bytes


def stretch(phrase: str, salt: bytes) -> bytes:
    """Stretch a phrase into a key.

    Args:
        phrase: What the person types.
        salt: [16 bytes].

    Returns:
        A key [32 bytes].

    Source: RFC 7914. Checked in: tests/published/test_rfc_7914.py
    """
    from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

    return Scrypt(salt=salt, length=32, n=COST, r=BLOCK, p=LANES).derive(
        unicodedata.normalize("NFC", phrase).encode("utf-8", "surrogatepass")
    )


def _bound(person: str, public_key: bytes) -> bytes:
    return _PURPOSE + person.encode("utf-8") + b"\n" + public_key


def close_key(secret_key: bytes, phrase: str, person: str, salt: bytes, nonce: bytes) -> KeyBox:
    """Close a secret key with a phrase.

    Args:
        secret_key: Ed25519 secret key [32 bytes].
        phrase: At least 12 signs.
        person: Whose key it is.
        salt: Random [16 bytes], used once.
        nonce: Random [12 bytes], used once.

    Returns:
        The box, which may be stored.

    Raises:
        WeakPhrase: too short.

    Source: RFC 8439, section 2.8.
    """
    from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305

    if len(phrase.strip()) < SHORTEST_PHRASE:
        found = f"a phrase of {len(phrase.strip())} signs"
        raise WeakPhrase(found=found, expected=f"{SHORTEST_PHRASE} or more; a few words are best")
    public_key = public_key_of(secret_key)
    closed = ChaCha20Poly1305(stretch(phrase, salt)).encrypt(nonce, secret_key, _bound(person, public_key))
    return KeyBox(person, public_key, salt, nonce, closed)


def open_key(box: KeyBox, phrase: str) -> bytes:
    """Open a box for one request.

    Args:
        box: The box.
        phrase: What the person types.

    Returns:
        The secret key [32 bytes].

    Raises:
        WrongPhrase: another phrase, or a box that was changed.

    Source: RFC 8439, section 2.8.
    """
    from cryptography.exceptions import InvalidTag
    from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305

    try:
        return ChaCha20Poly1305(stretch(phrase, box.salt)).decrypt(
            box.nonce, box.closed, _bound(box.person, box.public_key)
        )
    except InvalidTag as error:
        found = f"a phrase that does not open the key of {box.person}"
        raise WrongPhrase(found=found, expected="the phrase of the key, not that of the log-in") from error


def fingerprint(public_key: bytes) -> str:
    """Write a key so that two people can compare it aloud.

    Args:
        public_key: [32 bytes].

    Returns:
        The first 20 bytes of its SHA-256 in groups of four figures.
    """
    digest = hashlib.sha256(public_key).hexdigest()[:40]
    return " ".join(digest[at : at + 4] for at in range(0, 40, 4))
