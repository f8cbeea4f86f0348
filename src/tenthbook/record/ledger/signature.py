"""Who signed: Ed25519 over a fixed prefix and the body.

The prefix keeps a signature made for one purpose from counting for another. Keys come from outside, opened for one
request; nothing here keeps or prints one. Whether an authority accepts an electronic signature is the authority's
decision.

Source: RFC 8032 (Ed25519). Checked in: tests/published/test_rfc_8032.py
"""

from __future__ import annotations

PREFIX = b"tenthbook entry signature 1\n"
SIGNED_KINDS = frozenset({"signed", "released", "gate overridden", "key endorsed", "key revoked"})


def sign(secret_key: bytes, body: bytes) -> bytes:
    """Sign a body.

    Args:
        secret_key: Ed25519 secret key [32 bytes].
        body: Canonical body of the entry.

    Returns:
        The signature [64 bytes].

    Source: RFC 8032, section 5.1.6.
    """
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    return Ed25519PrivateKey.from_private_bytes(secret_key).sign(PREFIX + body)


def public_key_of(secret_key: bytes) -> bytes:
    """Give the public half of a key.

    Args:
        secret_key: Ed25519 secret key [32 bytes].

    Returns:
        The public key [32 bytes].

    Source: RFC 8032, section 5.1.5.
    """
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    return Ed25519PrivateKey.from_private_bytes(secret_key).public_key().public_bytes_raw()


def signature_holds(public_key: bytes, body: bytes, signature: bytes) -> bool:
    """Say whether a signature belongs to a body and a key.

    Args:
        public_key: Ed25519 public key [32 bytes].
        body: Canonical body of the entry.
        signature: The signature [64 bytes].

    Returns:
        True where it holds.

    Source: RFC 8032, section 5.1.7.
    """
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    try:
        Ed25519PublicKey.from_public_bytes(public_key).verify(signature, PREFIX + body)
    except (InvalidSignature, ValueError):
        return False
    return True
