"""What a backup says in lines: its streams, seals, removals, closed keys, accounts, and the list of all its members.

Every page is written here and read back here, and has one spelling: what is read and would be written otherwise is
refused. What could not be read back is refused before it is written. In: values. Out: bytes, and the values again.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger.backup_zip import BrokenBackup, Member, broken
from tenthbook.record.ledger.canonical import NotCanonical, canonical
from tenthbook.record.ledger.entry import Entry
from tenthbook.record.ledger.keybox import NONCE_LENGTH, SALT_LENGTH, KeyBox
from tenthbook.record.ledger.verifier import Row, lines_of

FORMAT = b"tenthbook backup 1\n"
README = b"""This file is a whole bench book: all that its store held, to be taken in by an empty one elsewhere.

format.txt      the form of this file
streams/        for each stream its entries, an entry a line, in the form that was hashed (RFC 8785), and their seals:
                SHA-256 of each entry, and its signature, or - where it has none
streams.txt     number, hash of the last entry, count of the entries, and name of each stream
kept/           what entries rest on, such as books and signed statements, each named by its SHA-256
beside/         what lies beside the entries, such as photographs: 32 bytes of salt, then the content, each named by
                the SHA-256 of both
withheld.txt    what lay there and was taken away lawfully: its name, and the hash of the shop's entry that says why
boxes.jsonl     signing keys, each closed with its owner's phrase
accounts.jsonl  log-in accounts, their passwords stretched
manifest.txt    SHA-256, length and name of every member above, and their count

Whoever holds this file can read the whole book and may try phrases and passwords: keep it as you keep the store.
"""
FIRST, LAST = ("format.txt", "README.txt"), ("withheld.txt", "boxes.jsonl", "accounts.jsonl")
INDEX, MANIFEST = "streams.txt", "manifest.txt"
_LINE = re.compile(r"([1-9][0-9]{0,14}) ([0-9a-f]{64}) ([1-9][0-9]{0,14}) (.+)")
_SEAL = re.compile(r"([0-9a-f]{64}) (?:-|([0-9a-f]{128}))")
_WITHHELD = re.compile(r"([0-9a-f]{64}) ([0-9a-f]{64})")
_PARTS = {
    name: re.compile(f"[0-9a-f]{{{2 * length}}}")
    for name, length in {"public_key": 32, "salt": SALT_LENGTH, "nonce": NONCE_LENGTH, "closed": 48}.items()
}
Held = TypeVar("Held")


@dataclass(frozen=True, slots=True)
class StreamLine:
    """A stream, as the list of streams has it.

    Attributes:
        stream: Its id.
        head: Hash of its last entry.
        entries: How many it has.
    """

    stream: str
    head: str
    entries: int


def members_of_stream(number: int) -> tuple[str, str]:
    """Name the two members of a stream.

    Args:
        number: Its place in the list of streams, from 1.

    Returns:
        Name of its entries, and of their seals.
    """
    return f"streams/{number}-entries.jsonl", f"streams/{number}-seals.txt"


def index_page(streams: Sequence[StreamLine]) -> bytes:
    """Write the list of streams.

    Args:
        streams: In the order of their members.

    Returns:
        A line each: number, head, count of entries, and the id as JSON text, so that it stays one line.
    """
    return b"".join(
        f"{number} {line.head} {line.entries} ".encode() + canonical(line.stream) + b"\n"
        for number, line in enumerate(streams, 1)
    )


def read_index(page: bytes) -> list[StreamLine]:
    """Read the list of streams.

    Args:
        page: As written.

    Returns:
        The streams in order.

    Raises:
        BrokenBackup: another spelling, or a stream twice.
    """
    found = [_LINE.fullmatch(line) for line in _lines(page, INDEX)]
    streams = [StreamLine(str(_spelled(match[4], INDEX)), match[2], int(match[3])) for match in found if match]
    if index_page(streams) != page or len({line.stream for line in streams}) != len(streams):
        raise broken(f"{INDEX}: not a list of streams", "number, head, count and id of each stream, once")
    return streams


def seals_page(entries: Iterable[Entry]) -> bytes:
    """Write the seals of a stream.

    Args:
        entries: By number.

    Returns:
        Hash and signature of each, a line each; - for no signature.
    """
    return "".join(f"{entry.hash} {entry.signature.hex() or '-'}\n" for entry in entries).encode()


def rows_of(bodies: bytes, seals: bytes, name: str) -> list[Row]:
    """Put entries and seals together.

    Args:
        bodies: An entry a line.
        seals: A seal a line.
        name: Of the member that holds the seals.

    Returns:
        Body, signature and stated hash of each entry, none of it believed.

    Raises:
        BrokenBackup: not as many seals as entries, or a line that is no seal.
    """
    *lines, end = bodies.split(b"\n")
    sealed = _lines(seals, name)
    matches = [_SEAL.fullmatch(seal) for seal in sealed]
    if end or len(lines) != len(sealed) or not all(matches):
        raise broken(
            f"{name}: {len(sealed)} seals for {len(lines)} entries", "for each entry a hash, and a signature or -"
        )
    return [
        (line, bytes.fromhex(match[2] or ""), match[1]) for line, match in zip(lines, matches, strict=True) if match
    ]


def withheld_page(withheld: Mapping[str, str]) -> bytes:
    """Write what was taken away.

    Args:
        withheld: Hash of the shop's entry by commitment.

    Returns:
        A line each, sorted.

    Raises:
        TenthbookError: something that is no hash.
    """
    return _carried(withheld, lines_of(withheld.items()), read_withheld)


def read_withheld(page: bytes) -> dict[str, str]:
    """Read what was taken away.

    Args:
        page: As written.

    Returns:
        Hash of the shop's entry by commitment.

    Raises:
        BrokenBackup: another spelling.
    """
    found = [_WITHHELD.fullmatch(line) for line in page.decode("ascii", "replace").split("\n")]
    withheld = {match[1]: match[2] for match in found if match}
    if lines_of(withheld.items()) != page:
        raise broken("withheld.txt: not a sorted list", "a commitment and the hash of an entry, each line once")
    return withheld


def boxes_page(boxes: Sequence[KeyBox]) -> bytes:
    """Write closed keys.

    Args:
        boxes: In the order they were kept.

    Returns:
        A line each, canonical JSON, bytes as hexadecimal figures.

    Raises:
        TenthbookError: a box whose parts have another length.
    """
    plain = ({"person": box.person} | {name: getattr(box, name).hex() for name in _PARTS} for box in boxes)
    return _carried(boxes, b"".join(canonical(box) + b"\n" for box in plain), read_boxes)


def read_boxes(page: bytes) -> list[KeyBox]:
    """Read closed keys.

    Args:
        page: As written.

    Returns:
        The keys in the order they were kept.

    Raises:
        BrokenBackup: another spelling, or a box whose parts have another length.
    """
    boxes = []
    for line in _lines(page, "boxes.jsonl"):
        held = _spelled(line, "boxes.jsonl")
        if not isinstance(held, dict) or set(held) != {"person", *_PARTS} or not isinstance(held["person"], str):
            raise broken(f"boxes.jsonl: {line[:40]}", "a person and the parts of a closed key")
        if not all(part.fullmatch(str(held[name])) for name, part in _PARTS.items()):
            raise broken(f"boxes.jsonl: the key of {held['person']}", "parts as long as those of a closed key")
        boxes.append(KeyBox(held["person"], **{name: bytes.fromhex(held[name]) for name in _PARTS}))
    return boxes


def accounts_page(accounts: Sequence[bytes]) -> bytes:
    """Write accounts.

    Args:
        accounts: Each as canonical JSON.

    Returns:
        A line each, in the order given.

    Raises:
        TenthbookError: one that is not canonical JSON.
    """
    return _carried(accounts, b"".join(account + b"\n" for account in accounts), read_accounts)


def read_accounts(page: bytes) -> list[bytes]:
    """Read accounts.

    Args:
        page: As written.

    Returns:
        Each as canonical JSON.

    Raises:
        BrokenBackup: a line that is something else.
    """
    lines = _lines(page, "accounts.jsonl")
    for line in lines:
        _spelled(line, "accounts.jsonl")
    return [line.encode() for line in lines]


def manifest_page(members: Sequence[Member]) -> bytes:
    """Write the list of all members.

    Args:
        members: In the order they lie there.

    Returns:
        SHA-256, length and name of each, and their count at the end.
    """
    lines = [f"{member.digest} {member.size} {member.name}\n" for member in members]
    return "".join([*lines, f"end {len(lines)}\n"]).encode()


def _lines(page: bytes, name: str) -> list[str]:
    try:
        *lines, end = page.decode().split("\n")
    except UnicodeDecodeError as error:
        raise broken(f"{name}: not text", "UTF-8") from error
    if end:
        raise broken(f"{name}: its last line does not end", "whole lines")
    return lines


def _spelled(text: str, name: str) -> Any:
    """Read a text that stands in its one spelling."""
    try:
        held = json.loads(text)
        if canonical(held) == text.encode():
            return held
    except (ValueError, RecursionError, NotCanonical):
        pass
    raise broken(f"{name}: {text[:40]}", "canonical JSON, a value a line")


def _carried(given: Held, page: bytes, read: Callable[[bytes], Held]) -> bytes:
    """A page, if what is read back from it is what was given."""
    try:
        if read(page) == given:
            return page
    except BrokenBackup as error:
        raise TenthbookError(found=f"{error.found} in the store", expected=error.expected) from error
    raise TenthbookError(found="what could not be read back", expected="what a store of this book holds")
