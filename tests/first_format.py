"""How an archive of the first format was packed, so that the tests can make more of them than the one that is kept."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence

from tenthbook.record.ledger import Entry
from tenthbook.record.ledger.verifier import FORMAT_1, README_1, build


def pack_first(entries: Sequence[Entry], blobs: Iterable[bytes], verifier: bytes) -> bytes:
    """Pack a stream as one was packed before there was a second format.

    Args:
        entries: The whole stream by number; at least one entry.
        blobs: The books that the entries pin.
        verifier: Text of the verifier, as then released.

    Returns:
        The bytes of the ZIP, the same for the same stream.
    """
    members = {
        "format.txt": FORMAT_1.encode(),
        "README.txt": README_1.encode(),
        "entries.jsonl": b"".join(entry.body + b"\n" for entry in entries),
        "seals.txt": "".join(f"{entry.hash} {entry.signature.hex() or '-'}\n" for entry in entries).encode(),
        "head.txt": f"{entries[-1].number} {entries[-1].hash}\n".encode(),
        "verify.py": verifier,
    }
    return build(members | {f"blobs/{hashlib.sha256(blob).hexdigest()}": blob for blob in blobs})
