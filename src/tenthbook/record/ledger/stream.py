"""What every store must do.

A store keeps streams of entries, bytes under their own hash, bytes beside the entries that may be withheld, closed keys
and the tables that repeat the entries. `append` is the only way in: inside the store's write lock it lets `admit` read
the stream as it is and judge whether the draft may be recorded, seals it to the head, has it signed where it is signed,
and writes what it says in the tables. A request sent twice is recorded once and answered the same. Every store passes
one test of this contract.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from typing import Protocol

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger.entry import Draft, Entry, Sign
from tenthbook.record.ledger.keybox import KeyBox
from tenthbook.record.ledger.projection import Project, Projected, Table

Since = Callable[[int], Sequence[Entry]]  # entries after a number, inside the lock
Admit = Callable[[Since], None]
Clock = Callable[[], str]


class NoSuchStream(TenthbookError):
    """A stream that was never opened."""


class RequestReused(TenthbookError):
    """One request id, two different acts."""


@dataclass(frozen=True, slots=True)
class Holdings:
    """All that a store holds, to be carried elsewhere; what is large comes one by one.

    Attributes:
        streams: Each stream with its entries by number.
        kept: Bytes under their own hash.
        attached: Salt and content of each piece of bytes beside the entries.
        withheld: Hash of the shop's entry by commitment.
        boxes: Closed keys.
        accounts: Each log-in account as canonical bytes, its password stretched; only a store looks inside.
    """

    streams: Iterable[tuple[str, Sequence[Entry]]]
    kept: Iterable[bytes]
    attached: Iterable[tuple[bytes, bytes]]
    withheld: Mapping[str, str]
    boxes: Iterable[KeyBox]
    accounts: Iterable[bytes]


class NotEmpty(TenthbookError):
    """A store that holds something, where an empty one is needed."""


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

    def rows(self, stream: str) -> Iterable[tuple[bytes, bytes, str]]:
        """Read a stream as it lies there, without believing it: for whoever proves it.

        Args:
            stream: Its id.

        Returns:
            Body, signature and stated hash of each entry by number; nothing for a stream that was never opened.
        """

    def append(
        self, stream: str, draft: Draft, admit: Admit, *, sign: Sign | None = None, project: Project | None = None
    ) -> Entry:
        """Record a draft, durably, exactly once.

        Args:
            stream: Its id; the first entry opens it.
            draft: What is proposed.
            admit: Judges the draft inside the write lock, given a way to read the entries after a number; raises to
                refuse.
            sign: Signs the body inside the lock, for the kinds that are signed.
            project: Says what the entry writes in the tables; written with it or not at all.

        Returns:
            The entry; for a request already recorded, the entry it became then.

        Raises:
            RequestReused: the request id stands on a different act.
            BadEntry: a signature missing, one where none belongs, or one that does not hold.
            TenthbookError: whatever `admit` raised; nothing was written.
        """

    def projected(self, table: Table, stream: str | None = None) -> list[Projected]:
        """Read a table.

        Args:
            table: Which.
            stream: Of this stream alone; None for all.

        Returns:
            Its rows by stream and entry.
        """

    def project_anew(self, rows: Iterable[Projected]) -> None:
        """Drop every table and write it anew, all at once or not at all.

        Args:
            rows: What stands in the tables from here on; first asked for once nobody else can record.
        """

    def attach(self, salt: bytes, content: bytes) -> str:
        """Lay bytes beside the entries.

        Args:
            salt: Random [32 bytes], used once.
            content: A photograph as it came, or who a person is.

        Returns:
            The commitment that an entry names, hexadecimal.
        """

    def attached(self, commitment: str) -> tuple[bytes, bytes]:
        """Read bytes that lie beside the entries.

        Args:
            commitment: What the entry names.

        Returns:
            Salt and content.

        Raises:
            Withheld: they were taken away; the entry of the shop that did so is named.
            NoSuchStream: nothing was ever laid there.
        """

    def withhold(self, commitment: str, entry: str) -> None:
        """Take bytes away, with their salt, and leave word of it; done twice it is done once.

        Args:
            commitment: What the entries name.
            entry: Hash of the shop's entry that says who took them away and why.
        """

    def withheld(self) -> dict[str, str]:
        """List what was taken away.

        Returns:
            Hash of the shop's entry by commitment.
        """

    def put_box(self, box: KeyBox) -> None:
        """Keep a closed key.

        Args:
            box: The key, closed with its owner's phrase.
        """

    def boxes(self, person: str) -> list[KeyBox]:
        """Give a person's closed keys.

        Args:
            person: Id of the person.

        Returns:
            The keys in the order they were kept.
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

    def holdings(self) -> AbstractContextManager[Holdings]:
        """Give all it holds, as it stands at one moment, while others go on writing.

        Returns:
            A context, inside which the holdings may be read once.
        """

    def load(self, holdings: Holdings) -> None:
        """Take in all that another store held, all at once or not at all; the tables are not written.

        Args:
            holdings: What it held; entries keep their numbers, times and hashes.

        Raises:
            NotEmpty: this store holds something.
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
