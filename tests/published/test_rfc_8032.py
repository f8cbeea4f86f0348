"""RFC 8032, Edwards-Curve Digital Signature Algorithm (EdDSA), January 2017, section 7.1, test vectors for Ed25519.

From memory (vectors 1, 2, 3 and SHA(abc)); each secret key is turned into its public key and signature by a second
implementation (the package `cryptography`), so a figure remembered wrong would be found: one sign of the public key of
SHA(abc) was, and was put right by it. The vector of 1023 bytes is not used here.
"""

from __future__ import annotations

import hashlib

import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.ledger import public_key_of, sign, signature_holds
from tenthbook.record.ledger.signature import PREFIX
from tenthbook.record.ledger.verifier import SIGNATURE_PREFIX, ed25519_holds

VECTORS = [
    pytest.param(
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        b"",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
        id="1",
    ),
    pytest.param(
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        bytes.fromhex("72"),
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
        id="2",
    ),
    pytest.param(
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        bytes.fromhex("af82"),
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
        id="3",
    ),
    pytest.param(
        "833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
        "ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
        hashlib.sha512(b"abc").digest(),
        "dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17ad9bef1177331a704",
        id="SHA(abc)",
    ),
]
ORDER = 2**252 + 27742317777372353535851937790883648493


def library_holds(public: bytes, message: bytes, signature: bytes) -> bool:
    """The second opinion."""
    try:
        Ed25519PublicKey.from_public_bytes(public).verify(signature, message)
    except (InvalidSignature, ValueError):
        return False
    return True


@pytest.mark.parametrize(("secret", "public", "message", "signature"), VECTORS)
def test_the_printed_signatures_hold(secret: str, public: str, message: bytes, signature: str) -> None:
    """The plain verifier accepts them, and the library makes them from the printed secret keys."""
    assert ed25519_holds(bytes.fromhex(public), message, bytes.fromhex(signature))
    key = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(secret))
    assert (key.public_key().public_bytes_raw().hex(), key.sign(message).hex()) == (public, signature)
    assert public_key_of(bytes.fromhex(secret)).hex() == public


@pytest.mark.parametrize(("secret", "public", "message", "signature"), VECTORS[:2])
def test_every_flipped_bit_of_a_signature_is_refused(secret: str, public: str, message: bytes, signature: str) -> None:
    """One bit of the 512 turned over, and it does not hold; nor does it by the library."""
    key = bytes.fromhex(public)
    for bit in range(0, 512, 5):
        turned = bytearray.fromhex(signature)
        turned[bit // 8] ^= 1 << bit % 8
        assert not ed25519_holds(key, message, bytes(turned)), bit
        assert not library_holds(key, message, bytes(turned)), bit


@pytest.mark.parametrize(("secret", "public", "message", "signature"), VECTORS[2:])
def test_every_flipped_bit_of_message_and_key_is_refused(
    secret: str, public: str, message: bytes, signature: str
) -> None:
    """Another message or another key by one bit does not hold; a key that is no point is no key."""
    given_signature = bytes.fromhex(signature)
    for bit in range(0, 8 * len(message), 7):
        turned = bytearray(message)
        turned[bit // 8] ^= 1 << bit % 8
        assert not ed25519_holds(bytes.fromhex(public), bytes(turned), given_signature), bit
    for bit in range(0, 256, 11):
        key = bytearray.fromhex(public)
        key[bit // 8] ^= 1 << bit % 8
        assert not ed25519_holds(bytes(key), message, given_signature), bit


@pytest.mark.parametrize(("secret", "public", "message", "signature"), VECTORS)
def test_a_scalar_beyond_the_order_is_refused(secret: str, public: str, message: bytes, signature: str) -> None:
    """Section 5.1.7: the same signature with the order added to its second half would be a second spelling of it."""
    held = bytes.fromhex(signature)
    scalar = int.from_bytes(held[32:], "little") + ORDER
    second = held[:32] + scalar.to_bytes(32, "little")
    assert not ed25519_holds(bytes.fromhex(public), message, second)
    assert not library_holds(bytes.fromhex(public), message, second)


@pytest.mark.parametrize(("key_length", "signature_length"), [(31, 64), (33, 64), (32, 63), (32, 65), (0, 0)])
def test_other_lengths_are_refused(key_length: int, signature_length: int) -> None:
    """A key has 32 bytes and a signature 64."""
    assert not ed25519_holds(b"\x01" * key_length, b"", b"\x01" * signature_length)


@pytest.mark.parametrize(
    "encoded",
    [
        b"\xff" * 32,
        (2**255 - 19).to_bytes(32, "little"),
        (1 + 2**255).to_bytes(32, "little"),
        (2).to_bytes(32, "little"),
    ],
)
def test_what_is_no_point_of_the_curve_is_refused(encoded: bytes) -> None:
    """Section 5.1.3: a coordinate beyond the field, nought with a sign, and a coordinate without a root."""
    assert not ed25519_holds(encoded, b"", bytes(64))
    assert not ed25519_holds(bytes.fromhex(VECTORS[0].values[1]), b"", encoded + bytes(32))  # type: ignore[arg-type]  # the printed key


@given(st.binary(min_size=32, max_size=32), st.binary(max_size=40), st.integers(0, 511))
@settings(deadline=None, max_examples=25)
def test_both_verifiers_agree_on_made_signatures(secret: bytes, body: bytes, bit: int) -> None:
    """What this book signs holds by the plain verifier and by the library, and turned by one bit by neither."""
    public, signature = public_key_of(secret), sign(secret, body)
    assert signature_holds(public, body, signature)
    assert ed25519_holds(public, PREFIX + body, signature)
    turned = bytearray(signature)
    turned[bit // 8] ^= 1 << bit % 8
    assert not signature_holds(public, body, bytes(turned))
    assert not ed25519_holds(public, PREFIX + body, bytes(turned))


def test_signer_and_verifier_use_one_prefix() -> None:
    """The prefix stands twice, since the verifier stands alone; it is the same."""
    assert PREFIX == SIGNATURE_PREFIX
