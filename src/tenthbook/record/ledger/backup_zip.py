"""The box a backup lies in: a ZIP that has one form only, written and read member by member.

Nothing is compressed, every date is 1 January 1980, and every size stands in the long fields (ZIP64), so that a small
backup and one beyond 4 GB are written by the same lines. Reading compares each byte outside the contents with what it
must be, and so finds bits that a plain reader would pass over. One member at a time is in memory, never all.

In: a binary file that can be written, or read at any place; this room opens none. Out: the same bytes for the same
members; for a reader, where each content lies, its length and its SHA-256.

Source: ZIP File Format Specification 6.3, sections 4.3.7, 4.3.12, 4.3.14 to 4.3.16 and 4.5.3 (from memory).
"""

from __future__ import annotations

import hashlib
import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import BinaryIO

from tenthbook.numbers.because import TenthbookError

PIECE = 1 << 20  # bytes read at a time
LONGEST_NAME = 100  # signs
_LONG, _SHORT = 0xFFFFFFFF, 0xFFFF
_NEEDED, _MADE, _DATE, _MODE = 45, 45 | 3 << 8, 33, 0o644 << 16
_HEAD = 30  # bytes before a member's name


class BrokenBackup(TenthbookError):
    """A backup that is torn, altered or of another form; nothing of it was taken over."""


def broken(found: str, expected: str) -> BrokenBackup:
    """Name what is wrong with a backup.

    Args:
        found: The member, and what is wrong there.
        expected: What belongs there.

    Returns:
        The fault, to be raised.
    """
    todo = "nothing was taken over; use another copy of the backup"
    return BrokenBackup(found=shown(found), expected=shown(expected), todo=todo)


def shown(text: str) -> str:
    """Make a text that nobody vouches for fit for one line.

    Args:
        text: Any text.

    Returns:
        Its first 300 signs, with a question mark for each that would break the line or steer a screen.
    """
    return "".join(sign if sign.isprintable() else "?" for sign in text[:300])


@dataclass(frozen=True, slots=True)
class Member:
    """One piece of a backup.

    Attributes:
        name: Its name in the ZIP.
        place: Where its content begins [bytes from the start of the file].
        size: Of its content [bytes].
        check: CRC-32 of its content, which the form of a ZIP asks for.
        digest: SHA-256 of its content, hexadecimal.
    """

    name: str
    place: int
    size: int
    check: int
    digest: str


def _head(name: str, size: int, check: int) -> bytes:
    common = struct.pack("<5H3L2H", _NEEDED, 0, 0, 0, _DATE, check, _LONG, _LONG, len(name), 20)
    return b"PK\3\4" + common + name.encode("ascii") + struct.pack("<2H2Q", 1, 16, size, size)


def _register(members: list[Member], place: int) -> Iterator[bytes]:
    """What stands after the last member: where each lies, and the three ends."""
    length = 0
    for member in members:
        name = member.name.encode("ascii")
        fields = (_MADE, _NEEDED, 0, 0, 0, _DATE, member.check, _LONG, _LONG, len(name), 28, 0, 0, 0, _MODE, _LONG)
        began = member.place - _HEAD - len(name) - 20
        yield (line := struct.pack("<4s6H3L5H2L", b"PK\1\2", *fields) + name + _longs(member.size, began))
        length += len(line)
    count = len(members)
    yield struct.pack("<4sQ2H2L4Q", b"PK\6\6", 44, _MADE, _NEEDED, 0, 0, count, count, length, place)
    yield struct.pack("<4sLQL", b"PK\6\7", 0, place + length, 1)
    yield struct.pack("<4s4H2LH", b"PK\5\6", 0, 0, _SHORT, _SHORT, _LONG, _LONG, 0)


def _longs(size: int, began: int) -> bytes:
    return struct.pack("<2H3Q", 1, 24, size, size, began)


class Packing:
    """A ZIP that is being written."""

    def __init__(self, out: BinaryIO) -> None:
        """Begin at the place where the file stands.

        Args:
            out: A file to be written; it is neither moved back nor closed.
        """
        self._out, self._place = out, 0
        self.members: list[Member] = []

    def add(self, name: str, content: bytes) -> Member:
        """Write one member.

        Args:
            name: ASCII, at most `LONGEST_NAME` signs, not written before.
            content: Its bytes.

        Returns:
            Where it lies and what its digest is.
        """
        check = zlib.crc32(content)
        head = _head(name, len(content), check)
        self._out.write(head)
        self._out.write(content)
        place = self._place + len(head)
        member = Member(name, place, len(content), check, hashlib.sha256(content).hexdigest())
        self.members.append(member)
        self._place = place + len(content)
        return member

    def end(self) -> int:
        """Write what ends the ZIP.

        Returns:
            Length of the whole file [bytes].
        """
        length = self._place
        for piece in _register(self.members, self._place):
            self._out.write(piece)
            length += len(piece)
        return length


def content_of(source: BinaryIO, member: Member) -> bytes:
    """Read a member's content once more.

    Args:
        source: The file it was found in.
        member: As it was found.

    Returns:
        Its bytes.

    Raises:
        BrokenBackup: the file has changed since.
    """
    source.seek(member.place)
    content = source.read(member.size)
    if len(content) != member.size or hashlib.sha256(content).hexdigest() != member.digest:
        raise broken(f"{member.name}: changed while it was read", "a file that nobody writes meanwhile")
    return content


def members_in(source: BinaryIO) -> Iterator[Member]:
    """Walk through a ZIP from its first byte to its last, and compare all that is not content.

    Args:
        source: A file that can be read at any place; read from its beginning.

    Yields:
        Each member, in order; the end of the file is compared after the last.

    Raises:
        BrokenBackup: torn, compressed, or any byte outside the contents that is not what it must be.
    """
    length = source.seek(0, 2)
    place, members = 0, list[Member]()
    while True:
        source.seek(place)
        head = source.read(_HEAD)
        if head[:4] != b"PK\3\4":
            break
        member = _member(source, head, place, length)
        yield member
        members.append(member)
        place = member.place + member.size
    if not members:
        raise broken("file: it does not begin as a backup does", "a backup")
    _compare_end(source, members, place, length)


def _member(source: BinaryIO, head: bytes, place: int, length: int) -> Member:
    method, named, longs = struct.unpack_from("<8xH16x2H", head.ljust(_HEAD, b"\0"))
    text, more = source.read(min(named, LONGEST_NAME)), source.read(20)
    name = text.decode("ascii", "replace")
    if method:
        raise broken(f"{name}: compressed", "members that are stored as they are")
    if not text.isascii() or len(text) != named or longs != 20 or len(more) != 20:
        raise broken(f"{name}: its head is altered, or torn off", "a whole member")
    size: int = struct.unpack_from("<4xQ", more)[0]
    begins = place + _HEAD + named + 20
    if size > length - begins:
        raise broken(f"{name}: {length - begins} bytes of {size}", "a whole member")
    check, digest = _followed(source, size)
    if head + text + more != _head(name, size, check):
        raise broken(f"{name}: its content or its head is altered", "the content it was written with")
    return Member(name, begins, size, check, digest)


def _followed(source: BinaryIO, size: int) -> tuple[int, str]:
    check, digest = 0, hashlib.sha256()
    while size and (piece := source.read(min(size, PIECE))):
        check, size = zlib.crc32(piece, check), size - len(piece)
        digest.update(piece)
    return check, digest.hexdigest()


def _compare_end(source: BinaryIO, members: list[Member], place: int, length: int) -> None:
    source.seek(place)
    for piece in _register(members, place):
        if source.read(len(piece)) != piece:
            raise broken(f"end of the file, after {members[-1].name}: torn or altered", "the list of all members")
        place += len(piece)
    if place != length:
        raise broken(f"end of the file: {length - place} bytes more", "nothing after the list of all members")
