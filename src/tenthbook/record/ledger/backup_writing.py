"""All that a store holds, written into one file from front to back.

In: holdings, each piece of which is read once and may be let go. Out: what was written, and the digest that tells this
backup from any other. The caller opens the file, and puts it in its place only when it is whole and was read back.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import BinaryIO

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import backup_pages as pages
from tenthbook.record.ledger.attached import commitment
from tenthbook.record.ledger.backup_zip import Packing
from tenthbook.record.ledger.entry import Entry
from tenthbook.record.ledger.stream import Holdings


@dataclass(frozen=True, slots=True)
class Summary:
    """What a backup holds.

    Attributes:
        streams: How many.
        entries: In all streams.
        kept: Pieces of bytes under their own hash.
        attached: Pieces of bytes beside the entries.
        withheld: Pieces that were taken away.
        boxes: Closed keys.
        accounts: Log-in accounts.
        size: Of the file [bytes].
        digest: SHA-256 of the manifest, hexadecimal; noted elsewhere, it tells this backup from any other.
    """

    streams: int
    entries: int
    kept: int
    attached: int
    withheld: int
    boxes: int
    accounts: int
    size: int
    digest: str


def write_backup(out: BinaryIO, holdings: Holdings) -> Summary:
    """Write all that a store holds into one file.

    Args:
        out: The file, written from where it stands and never moved back.
        holdings: What the store holds; each iterable is read once, a piece at a time.

    Returns:
        What was written. The same holdings, given in the same order, make the same bytes. What was withheld is left
        out even where its bytes are still at hand, and bytes given twice are written once.

    Raises:
        TenthbookError: a stream without entries, or something that could not be read back.
    """
    packing = Packing(out)
    packing.add("format.txt", pages.FORMAT)
    packing.add("README.txt", pages.README)
    streams = _write_streams(packing, holdings.streams)
    packing.add(pages.INDEX, pages.index_page(streams))
    gone, boxes, accounts = dict(holdings.withheld), list(holdings.boxes), list(holdings.accounts)
    kept = _write_named(packing, (("kept", _digest(content), content) for content in holdings.kept), {})
    beside = (("beside", commitment(salt, content), salt + content) for salt, content in holdings.attached)
    attached = _write_named(packing, beside, gone)
    packing.add("withheld.txt", pages.withheld_page(gone))
    packing.add("boxes.jsonl", pages.boxes_page(boxes))
    packing.add("accounts.jsonl", pages.accounts_page(accounts))
    digest = packing.add(pages.MANIFEST, pages.manifest_page(packing.members)).digest
    entries = sum(line.entries for line in streams)
    counts = len(streams), entries, kept, attached, len(gone), len(boxes), len(accounts)
    return Summary(*counts, packing.end(), digest)


def _write_streams(packing: Packing, streams: Iterable[tuple[str, Iterable[Entry]]]) -> list[pages.StreamLine]:
    lines: list[pages.StreamLine] = []
    for number, (stream, given) in enumerate(streams, 1):
        entries = list(given)
        if not entries or stream in {line.stream for line in lines}:
            found = f"stream {stream!r} {'without entries' if not entries else 'twice'}"
            raise TenthbookError(found=found, expected="each stream once, with its entries")
        bodies, seals = pages.members_of_stream(number)
        packing.add(bodies, b"".join(entry.body + b"\n" for entry in entries))
        packing.add(seals, pages.seals_page(entries))
        lines.append(pages.StreamLine(stream, entries[-1].hash, len(entries)))
    return lines


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _write_named(packing: Packing, given: Iterable[tuple[str, str, bytes]], gone: Mapping[str, str]) -> int:
    written = set(gone)
    for folder, name, content in given:
        if name not in written:
            packing.add(f"{folder}/{name}", content)
            written.add(name)
    return len(written) - len(gone)
