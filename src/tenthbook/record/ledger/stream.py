"""What every store must do, and the store that lives in memory.

A store keeps streams of entries and content-addressed bytes. `append` is the only way in: inside the store's write
lock it lets `admit` read the stream as it is and judge whether the draft may be recorded, and seals it to the head. A
request sent twice is recorded once and answered the same. Both stores pass one test of this contract.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from typing import Protocol

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger.entry import Draft, Entry, seal

Since = Callable[[int], Sequence[Entry]]  # entries after a number, inside the lock
Admit = Callable[[Since], None]
Clock = Callable[[], str]


class NoSuchStream(TenthbookError):
    """A stream that was never opened."""


class RequestReused(TenthbookError):
    """One request id, two different acts."""


class Store(Protocol):
    """Where entries and bytes are kept."""

    def streams(self) -> list[str]:
        """List the streams.

        Returns:
            Their ids, sorted.
        """

    def entries(self, stream: str, after: int = -1) -> list[Entry]:
        """Read a stream.

        Args:
            stream: Its id.
            after: Number of the last entry already known; -1 for the whole stream.

        Returns:
            Its entries by number.

        Raises:
            NoSuchStream: it was never opened.
        """

    def append(self, stream: str, draft: Draft, admit: Admit) -> Entry:
        """Record a draft, durably, exactly once.

        Args:
            stream: Its id; the first entry opens it.
            draft: What is proposed.
            admit: Judges the draft inside the write lock, given a way to read the entries after a number; raises to
                refuse.

        Returns:
            The entry; for a request already recorded, the entry it became then.

        Raises:
            RequestReused: the request id stands on a different act.
            TenthbookError: whatever `admit` raised; nothing was written.
        """

    def keep(self, content: bytes) -> str:
        """Keep bytes under their own SHA-256.

        Args:
            content: Any bytes, for instance a canonical book.

        Returns:
            The digest, hexadecimal.
        """

    def fetch(self, digest: str) -> bytes:
        """Read kept bytes back.

        Args:
            digest: SHA-256, hexadecimal.

        Returns:
            The bytes.

        Raises:
            NoSuchStream: nothing is kept under it.
        """


def already_recorded(draft: Draft, entry: Entry) -> Entry:
    """Answer a request that was recorded before.

    Args:
        draft: What is proposed now.
        entry: What stands under the same request id.

    Returns:
        The entry, where it records the same act.

    Raises:
        RequestReused: it records another act.
    """
    same = (draft.kind, draft.version, draft.person, dict(draft.data)) == (
        entry.kind,
        entry.draft.version,
        entry.draft.person,
        dict(entry.data),
    )
    if not same:
        found = f"request {draft.request} on entry {entry.number} ({entry.kind}) and on another act"
        raise RequestReused(
            found=found, expected="a new request id for a new act", todo="send the act again under its own id"
        )
    return entry


class MemoryStore:
    """A store that lives as long as the process: for tests and for reading an archive."""

    def __init__(self, clock: Clock) -> None:
        """Start empty.

        Args:
            clock: Gives the time of recording, UTC.
        """
        self._clock = clock
        self._streams: dict[str, list[Entry]] = {}
        self._kept: dict[str, bytes] = {}

    def streams(self) -> list[str]:
        """List the streams.

        Returns:
            Their ids, sorted.
        """
        return sorted(self._streams)

    def entries(self, stream: str, after: int = -1) -> list[Entry]:
        """Read a stream; see `Store.entries`.

        Args:
            stream: Its id.
            after: Number of the last entry already known.

        Returns:
            Its entries by number.

        Raises:
            NoSuchStream: it was never opened.
        """
        if stream not in self._streams:
            raise NoSuchStream(
                found=f"stream {stream!r}", expected="one of " + (", ".join(self.streams()) or "none yet")
            )
        return self._streams[stream][after + 1 :]

    def append(self, stream: str, draft: Draft, admit: Admit) -> Entry:
        """Record a draft; see `Store.append`.

        Args:
            stream: Its id.
            draft: What is proposed.
            admit: Judges the draft; raises to refuse.

        Returns:
            The entry.
        """
        standing = self._streams.get(stream, [])
        for entry in standing:
            if entry.draft.request == draft.request:
                return already_recorded(draft, entry)
        admit(lambda after: standing[after + 1 :])
        entry = seal(draft, len(standing), self._clock(), standing[-1].hash if standing else "")
        self._streams.setdefault(stream, []).append(entry)
        return entry

    def keep(self, content: bytes) -> str:
        """Keep bytes under their own SHA-256.

        Args:
            content: Any bytes.

        Returns:
            The digest, hexadecimal.
        """
        digest = hashlib.sha256(content).hexdigest()
        self._kept[digest] = content
        return digest

    def fetch(self, digest: str) -> bytes:
        """Read kept bytes back.

        Args:
            digest: SHA-256, hexadecimal.

        Returns:
            The bytes.

        Raises:
            NoSuchStream: nothing is kept under it.
        """
        if digest not in self._kept:
            raise NoSuchStream(found=f"digest {digest[:16]}", expected="bytes that were kept before")
        return self._kept[digest]
