"""One stream as one file that can be proved: what is packed, and in which order.

The archive holds the canonical bodies a line each, their seals, the bytes the stream refers to (its books), the head,
a page that says what it is, and the verifier. Packing the same stream gives the same bytes. The verifier's text comes
from outside, since this room opens no file.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger.entry import Entry
from tenthbook.record.ledger.verifier import FORMAT, README, build


def pack(entries: Sequence[Entry], blobs: Iterable[bytes], verifier: bytes) -> bytes:
    """Pack a stream into its archive.

    Args:
        entries: The whole stream by number; at least one entry.
        blobs: Bytes the entries refer to.
        verifier: Text of the verifier, as released.

    Returns:
        The bytes of the ZIP, the same for the same stream.

    Raises:
        TenthbookError: an empty stream.
    """
    if not entries:
        raise TenthbookError(found="a stream without entries", expected="a stream that was opened")
    members = {
        "format.txt": FORMAT.encode(),
        "README.txt": README.encode(),
        "entries.jsonl": b"".join(entry.body + b"\n" for entry in entries),
        "seals.txt": "".join(f"{entry.hash} {entry.signature.hex() or '-'}\n" for entry in entries).encode(),
        "head.txt": f"{entries[-1].number} {entries[-1].hash}\n".encode(),
        "verify.py": verifier,
    }
    members.update({f"blobs/{hashlib.sha256(blob).hexdigest()}": blob for blob in blobs})
    return build(members)
