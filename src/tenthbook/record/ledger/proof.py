"""Is a stream whole as it lies in the store, and does the shop's stream agree?

The same proof as an archive's, over rows that come straight from a database, with a signature check by the library.
What a release appended to the shop's stream, number and hash, is held against the stream that was released. It opens
nothing and reads no store: rows come in, a finding goes out.

Source: RFC 8032 (Ed25519). Checked in: tests/published/test_rfc_8032.py
"""

from __future__ import annotations

from collections.abc import Iterable

from tenthbook.record.ledger.signature import PREFIX, signature_holds
from tenthbook.record.ledger.verifier import Finding, Keys, Row, examine_rows


def signed_message_holds(public_key: bytes, message: bytes, signature: bytes) -> bool:
    """Check a signature by the library: the faster equal of the verifier's plain check.

    Args:
        public_key: Ed25519 public key [32 bytes].
        message: The signed bytes, with their prefix.
        signature: The signature [64 bytes].

    Returns:
        True where it holds.

    Source: RFC 8032, section 5.1.7.
    """
    return message.startswith(PREFIX) and signature_holds(public_key, message[len(PREFIX) :], signature)


def prove_stream(
    rows: Iterable[Row],
    stream: str,
    head: str | None = None,
    keys: Keys | None = None,
    anchors: Iterable[tuple[int, str]] = (),
) -> Finding:
    """Prove a stream as it lies in the store, or find where it is broken.

    Args:
        rows: For each entry by number its body, its signature or nothing, and the hash stated for it.
        stream: Id of the stream, as entry 0 must give it, if it gives one.
        head: Hash of an entry as known from outside, its first eight signs or more; None where nothing is known.
        keys: Public keys [32 bytes] by person id, known from outside; None where none is, and nobody asks.
        anchors: Number and hash of entries of this stream, as the shop's stream holds them.

    Returns:
        One of the three answers, how far it is proven or where it is broken, and what else ought to be known.
    """
    return examine_rows(rows, stream, head, keys, signed_message_holds, anchors)
