"""One stream as one file that can be proved: what is packed, and in which order.

The archive holds the canonical bodies a line each, their seals, the bytes the stream refers to (its books, its signed
statements), what lies beside it or word of what was withheld, the head, a page that says what it is, and the verifier.
Packing the same stream gives the same bytes. The verifier's text comes from outside, since this room opens no file.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger.attached import commitment
from tenthbook.record.ledger.entry import Entry
from tenthbook.record.ledger.verifier import (
    FORMAT,
    LARGEST,
    MEMBERS,
    README,
    build,
    lines_of,
    pieces,
)


def _named(entries: Sequence[Entry]) -> dict[str, int]:
    """What the entries name, by the member it is to be, with the first entry that does."""
    named: dict[str, int] = {}
    for entry in entries:
        try:
            for folder, name in pieces(entry.kind, entry.data):
                named.setdefault(f"{folder}/{name}", entry.number)
        except ValueError as error:
            raise TenthbookError(found=f"entry {entry.number}: {error}", expected="64 figures, or nothing") from error
    return named


def pack(
    entries: Sequence[Entry],
    kept: Iterable[bytes],
    beside: Iterable[tuple[bytes, bytes]],
    withheld: Mapping[str, str],
    verifier: bytes,
) -> bytes:
    """Pack a stream into its archive.

    Args:
        entries: The whole stream by number; at least one entry.
        kept: Bytes the entries rest on; what none of them names is left out.
        beside: Salt and content of what lies beside the entries; what none of them names is left out.
        withheld: Hash of the shop's entry by commitment of what was taken away; of other streams too, if need be.
        verifier: Text of the verifier, as released.

    Returns:
        The bytes of the ZIP, the same for the same stream.

    Raises:
        TenthbookError: an empty stream, bytes that an entry names and that are neither given nor withheld, or more than
            one archive can hold.
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
    named = _named(entries)
    gone = {name: entry for name, entry in withheld.items() if f"beside/{name}" in named}
    wanted = named.keys() - {f"beside/{name}" for name in gone}
    given = {f"kept/{hashlib.sha256(content).hexdigest()}": content for content in kept}
    given |= {f"beside/{commitment(salt, content)}": salt + content for salt, content in beside}
    for name in sorted(wanted - given.keys()):
        raise TenthbookError(
            found=f"nothing for {name[:23]}, which entry {named[name]} names",
            expected="the bytes themselves, or word that they were withheld",
        )
    members |= {name: given[name] for name in wanted}
    members["keys.txt"] = lines_of(
        (entry.draft.person, str(entry.data.get("key"))) for entry in entries if entry.signature
    )
    members["withheld.txt"] = lines_of(gone.items())
    if len(members) > MEMBERS or sum(map(len, members.values())) > LARGEST:
        raise TenthbookError(
            found=f"{len(members)} members, {sum(map(len, members.values()))} bytes",
            expected=f"at most {MEMBERS} members and {LARGEST} bytes in one archive",
        )
    return build(members)
