"""The ledger's interface over Django's ORM, on a file or on a PostgreSQL server.

Models are imported inside functions, since Django must be set up for a folder first.
"""

from __future__ import annotations

import datetime
import hashlib
from pathlib import Path
from typing import Any

from tenthbook.faces.store.carrying import Carrying
from tenthbook.faces.store.faults import CannotRead, NotRecorded, said_plainly
from tenthbook.faces.store.opening import prepare
from tenthbook.faces.store.place import NoRoom
from tenthbook.faces.store.rows import bytes_of, entry_of, fits, row_of
from tenthbook.faces.store.tables import Tables, write_rows
from tenthbook.record.ledger import Draft, Entry, NoSuchStream, Project, Sign, seal
from tenthbook.record.ledger.stream import Admit, Clock, already_recorded

__all__ = ["CannotRead", "DjangoStore", "NoRoom", "NotRecorded", "open_store", "utc_now"]


def utc_now() -> str:
    """Read the clock.

    Returns:
        The time in UTC to the second, as entries write it.
    """
    return datetime.datetime.now(datetime.UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _lock(stream: str) -> None:
    """Let one writer at a stream in; on the file the write lock that the transaction took is for all of it."""
    from django.db import connection

    if connection.vendor == "postgresql":
        key = int.from_bytes(hashlib.sha256(stream.encode()).digest()[:8], "big", signed=True)
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [key])


# asked with every act: written out, since composing them would take longer than their answers
_TOLD = "SELECT number, body, signature, request, kind FROM ledger_entry WHERE stream = %s"
_AFTER = f"{_TOLD} AND number > %s ORDER BY number"
_BY_REQUEST = f"{_TOLD} AND request = %s"
_HEAD = "SELECT number, hash FROM ledger_entry WHERE stream = %s ORDER BY number DESC LIMIT 1"


def _ask(question: str, *given: str | int) -> list[tuple[Any, ...]]:
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute(question, given)
        return list(cursor.fetchall())


class DjangoStore(Tables, Carrying):
    """A store on the database that `open_store` made ready; see `tenthbook.record.ledger.Store`."""

    def __init__(self, clock: Clock = utc_now) -> None:
        """Use the default database.

        Args:
            clock: Gives the time of recording, UTC.
        """
        self._clock = clock

    def streams(self) -> list[str]:
        """List the streams.

        Returns:
            Their ids, sorted.
        """
        from tenthbook.faces.store.models import EntryRow

        with said_plainly(writing=False):
            return sorted(EntryRow.objects.order_by().values_list("stream", flat=True).distinct())

    def entries(self, stream: str, after: int = -1) -> list[Entry]:
        """Read a stream.

        Args:
            stream: Its id.
            after: Number of the last entry already known.

        Returns:
            Its entries by number.

        Raises:
            NoSuchStream: it was never opened.
            BadEntry: an entry that was changed by hand.
        """
        from tenthbook.faces.store.models import EntryRow

        with said_plainly(writing=False):
            found = self._read(stream, max(after, 0) - 1)  # with the last one known, so that one question tells both
            if not found and not EntryRow.objects.filter(stream=stream).exists():
                expected = "one of " + (", ".join(self.streams()) or "none yet")
                raise NoSuchStream(found=f"job {stream!r}", expected=expected)
        return [entry for entry in found if entry.number > after]

    def _read(self, stream: str, after: int) -> list[Entry]:
        return [entry_of(stream, *row) for row in _ask(_AFTER, stream, after)]

    def rows(self, stream: str) -> list[tuple[bytes, bytes, str]]:
        """Read a stream as it lies there, without believing it.

        Args:
            stream: Its id.

        Returns:
            Body, signature and stated hash of each entry by number.
        """
        from tenthbook.faces.store.models import EntryRow

        with said_plainly(writing=False):
            held = EntryRow.objects.filter(stream=stream).order_by("number").values_list("body", "signature", "hash")
            return [(bytes_of(body), bytes_of(signature), stated) for body, signature, stated in held]

    def append(
        self, stream: str, draft: Draft, admit: Admit, *, sign: Sign | None = None, project: Project | None = None
    ) -> Entry:
        """Record a draft, durably, exactly once.

        Args:
            stream: Its id.
            draft: What is proposed.
            admit: Judges the draft inside the write lock; raises to refuse.
            sign: Signs the body inside the lock, for the kinds that are signed.
            project: Says what the entry writes in the tables.

        Returns:
            The entry, committed to disk.

        Raises:
            NotRecorded: the database did not take it.
            AnswerLost: the database went away while it was to be committed.
            BadEntry: a name that no column holds.
        """
        from django.db import transaction

        from tenthbook.faces.store.models import EntryRow

        fits(stream, draft)
        with said_plainly(writing=True) as at_work, transaction.atomic():
            _lock(stream)
            for known in _ask(_BY_REQUEST, stream, draft.request):
                return already_recorded(draft, entry_of(stream, *known))
            admit(lambda after: self._read(stream, after))
            head = _ask(_HEAD, stream)
            number, previous = (head[0][0] + 1, head[0][1]) if head else (0, "")
            entry = seal(draft, number, self._clock(), previous, sign)
            row_of(EntryRow, stream, entry).save(force_insert=True)
            write_rows(project(entry) if project is not None else ())
            at_work.committing = True
        return entry


def open_store(
    folder: Path,
    *,
    clock: Clock = utc_now,
    settings: str = "tenthbook.faces.store.settings",
    database: str | None = None,
) -> DjangoStore:
    """Make a folder's database ready and give its store.

    Args:
        folder: Where the data lie; made where it is missing.
        clock: Gives the time of recording, UTC.
        settings: Django settings module to start with; the pages have their own.
        database: The setting that names a server; that of the environment without it, empty for the folder's file.

    Returns:
        The store.

    Raises:
        NoRoom: the folder or the database cannot be made or written.
    """
    prepare(folder, settings, database)
    return DjangoStore(clock)
