"""The store that lives in memory: for tests, and for reading an archive."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from tenthbook.record.ledger.attached import Withheld, commitment
from tenthbook.record.ledger.entry import Draft, Entry, Sign, seal
from tenthbook.record.ledger.keybox import KeyBox
from tenthbook.record.ledger.projection import Project, Projected, Table
from tenthbook.record.ledger.stream import Admit, Clock, Holdings, NoSuchStream, NotEmpty, already_recorded


class MemoryStore:
    """A store that lives as long as the process; see `Store` for what each of its acts promises."""

    def __init__(self, clock: Clock) -> None:
        """Start empty.

        Args:
            clock: Gives the time of recording, UTC.
        """
        self._clock = clock
        self._streams: dict[str, list[Entry]] = {}
        self._kept: dict[str, bytes] = {}
        self._attached: dict[str, tuple[bytes, bytes]] = {}
        self._withheld: dict[str, str] = {}
        self._boxes: list[KeyBox] = []
        self._accounts: list[bytes] = []
        self._tables: dict[tuple[Table, str, int], Projected] = {}

    def streams(self) -> list[str]:
        """List the streams.

        Returns:
            Their ids, sorted.
        """
        return sorted(self._streams)

    def entries(self, stream: str, after: int = -1) -> list[Entry]:
        """Read a stream.

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

    def rows(self, stream: str) -> list[tuple[bytes, bytes, str]]:
        """Read a stream as it lies there.

        Args:
            stream: Its id.

        Returns:
            Body, signature and stated hash of each entry by number.
        """
        return [(entry.body, entry.signature, entry.hash) for entry in self._streams.get(stream, [])]

    def append(
        self, stream: str, draft: Draft, admit: Admit, *, sign: Sign | None = None, project: Project | None = None
    ) -> Entry:
        """Record a draft.

        Args:
            stream: Its id.
            draft: What is proposed.
            admit: Judges the draft; raises to refuse.
            sign: Signs the body, for the kinds that are signed.
            project: Says what the entry writes in the tables.

        Returns:
            The entry.
        """
        standing = self._streams.get(stream, [])
        for entry in standing:
            if entry.draft.request == draft.request:
                return already_recorded(draft, entry)
        admit(lambda after: standing[after + 1 :])
        entry = seal(draft, len(standing), self._clock(), standing[-1].hash if standing else "", sign)
        rows = list(project(entry)) if project is not None else []
        self._streams.setdefault(stream, []).append(entry)
        self._write(rows)
        return entry

    def _write(self, rows: Iterable[Projected]) -> None:
        self._tables.update({(row.table, row.stream, row.entry): row for row in rows})

    def projected(self, table: Table, stream: str | None = None) -> list[Projected]:
        """Read a table.

        Args:
            table: Which.
            stream: Of this stream alone; None for all.

        Returns:
            Its rows by stream and entry.
        """
        rows = [row for row in self._tables.values() if row.table == table and stream in (None, row.stream)]
        return sorted(rows, key=lambda row: (row.stream, row.entry))

    def project_anew(self, rows: Iterable[Projected]) -> None:
        """Drop every table and write it anew.

        Args:
            rows: What stands in the tables from here on.
        """
        fresh = list(rows)
        self._tables.clear()
        self._write(fresh)

    def attach(self, salt: bytes, content: bytes) -> str:
        """Lay bytes beside the entries.

        Args:
            salt: Random [32 bytes], used once.
            content: The bytes.

        Returns:
            The commitment, hexadecimal.
        """
        named = commitment(salt, content)
        if named not in self._withheld:
            self._attached.setdefault(named, (salt, content))
        return named

    def attached(self, commitment: str) -> tuple[bytes, bytes]:
        """Read bytes that lie beside the entries.

        Args:
            commitment: What the entry names.

        Returns:
            Salt and content.

        Raises:
            Withheld: they were taken away.
            NoSuchStream: nothing was ever laid there.
        """
        if commitment in self._withheld:
            raise withheld_by(commitment, self._withheld[commitment])
        if commitment not in self._attached:
            raise nothing_under(commitment)
        return self._attached[commitment]

    def withhold(self, commitment: str, entry: str) -> None:
        """Take bytes away and leave word of it.

        Args:
            commitment: What the entries name.
            entry: Hash of the shop's entry that says why.
        """
        self._withheld.setdefault(commitment, entry)
        self._attached.pop(commitment, None)

    def withheld(self) -> dict[str, str]:
        """List what was taken away.

        Returns:
            Hash of the shop's entry by commitment.
        """
        return dict(sorted(self._withheld.items()))

    def put_box(self, box: KeyBox) -> None:
        """Keep a closed key.

        Args:
            box: The key.
        """
        self._boxes.append(box)

    def boxes(self, person: str) -> list[KeyBox]:
        """Give a person's closed keys.

        Args:
            person: Id of the person.

        Returns:
            The keys in the order they were kept.
        """
        return [box for box in self._boxes if box.person == person]

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
            raise nothing_under(digest)
        return self._kept[digest]

    @contextmanager
    def holdings(self) -> Iterator[Holdings]:
        """Give all it holds.

        Yields:
            The holdings.
        """
        streams = [(name, list(entries)) for name, entries in sorted(self._streams.items())]
        kept = [content for _, content in sorted(self._kept.items())]
        attached = [pair for _, pair in sorted(self._attached.items())]
        yield Holdings(streams, kept, attached, self.withheld(), list(self._boxes), list(self._accounts))

    def load(self, holdings: Holdings) -> None:
        """Take in all that another store held.

        Args:
            holdings: What it held.

        Raises:
            NotEmpty: this store holds something.
        """
        if any((self._streams, self._kept, self._attached, self._withheld, self._boxes, self._accounts)):
            raise NotEmpty(found="a store that holds something", expected="an empty one")
        self._streams = {name: list(entries) for name, entries in holdings.streams}
        self._withheld = dict(holdings.withheld)
        for content in holdings.kept:
            self.keep(content)
        for salt, content in holdings.attached:
            self.attach(salt, content)
        self._boxes, self._accounts = list(holdings.boxes), list(holdings.accounts)


def nothing_under(digest: str) -> NoSuchStream:
    """Name a hash under which nothing lies.

    Args:
        digest: The hash.

    Returns:
        The fault, to be raised.
    """
    return NoSuchStream(found=f"digest {digest[:16]}", expected="bytes that were kept before")


def withheld_by(commitment: str, entry: str) -> Withheld:
    """Name what was taken away.

    Args:
        commitment: What the entries name.
        entry: Hash of the shop's entry.

    Returns:
        The fault, to be raised.
    """
    return Withheld(
        found=f"what lay under {commitment[:16]}, withheld",
        expected="nothing: it was taken away lawfully",
        todo=f"the shop's entry {entry[:16]} says by whom and why",
    )
