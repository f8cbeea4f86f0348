"""RFC 7914: The scrypt Password-Based Key Derivation Function. C. Percival, S. Josefsson, August 2016.

Section 12, test vectors; the figures from memory, and held by two implementations that share no code: the library the
key box uses, and the one of Python's own library.
"""

from __future__ import annotations

import hashlib

import pytest
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from tenthbook.record.ledger.keybox import BLOCK, COST, LANES, stretch

VECTORS = [
    (
        b"password",
        b"NaCl",
        (1024, 8, 16),
        "fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b3731622eaf30d92e22a3886ff109279d9830dac727afb94a83ee6d"
        "8360cbdfa2cc0640",
    ),
    (
        b"pleaseletmein",
        b"SodiumChloride",
        (16384, 8, 1),
        "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2d5432955613f0fcf62d49705242a9af9e61e85dc0d651e40"
        "dfcf017b45575887",
    ),
]


@pytest.mark.parametrize(("phrase", "salt", "cost", "printed"), VECTORS)
def test_the_printed_vectors(phrase: bytes, salt: bytes, cost: tuple[int, int, int], printed: str) -> None:
    """Both implementations give the printed key [64 bytes]."""
    n, r, p = cost
    assert Scrypt(salt=salt, length=64, n=n, r=r, p=p).derive(phrase).hex() == printed
    assert hashlib.scrypt(phrase, salt=salt, n=n, r=r, p=p, dklen=64, maxmem=2**26).hex() == printed


def test_a_phrase_is_stretched_as_it_says() -> None:
    """A phrase costs N 2^16, r 8, p 1 [64 MB], and gives what the other implementation gives."""
    assert (COST, BLOCK, LANES) == (65536, 8, 1)
    other = hashlib.scrypt(b"four words of a bench", salt=b"s" * 16, n=2**16, r=8, p=1, dklen=32, maxmem=2**27)
    assert stretch("four words of a bench", b"s" * 16) == other


def test_one_phrase_in_two_spellings_of_a_letter() -> None:
    """A letter with its accent apart is the same phrase: two keyboards write it differently (Unicode NFC)."""
    assert stretch("Kurbelgeh\u00e4use", b"s" * 16) == stretch("Kurbelgeha\u0308use", b"s" * 16)
