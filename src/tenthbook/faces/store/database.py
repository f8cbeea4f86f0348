"""The ledger's interface over Django's ORM.

Models are imported inside functions, since Django must be set up for a folder first.
"""

from __future__ import annotations

import datetime
import hashlib
import os
from collections.abc import Sequence
from pathlib import Path

from tenthbook.faces.store.folder import VARIABLE
from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import Draft, Entry, NoSuchStream, read_entry, seal
from tenthbook.record.ledger.stream import Admit, Clock, already_recorded


class NoRoom(TenthbookError):
    """A data folder that cannot be used."""


def utc_now() -> str:
    """Read the clock.

    Returns:
        The time in UTC to the second, as entries write it.
    """
    return datetime.datetime.now(datetime.UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


class DjangoStore:
    """A store on the database that `open_store` made ready."""

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

        return list(EntryRow.objects.filter(number=0).order_by("stream").values_list("stream", flat=True))

    def entries(self, stream: str, after: int = -1) -> list[Entry]:
        """Read a stream; see `tenthbook.record.ledger.Store.entries`.

        Args:
            stream: Its id.
            after: Number of the last entry already known.

        Returns:
            Its entries by number.

        Raises:
            NoSuchStream: it was never opened.
        """
        from tenthbook.faces.store.models import EntryRow

        found = self._read(stream, max(after, 0) - 1)  # with the last one known, so that one question tells both
        if not found and not EntryRow.objects.filter(stream=stream).exists():
            raise NoSuchStream(found=f"job {stream!r}", expected="one of " + (", ".join(self.streams()) or "none yet"))
        return [entry for entry in found if entry.number > after]

    def _read(self, stream: str, after: int) -> list[Entry]:
        from tenthbook.faces.store.models import EntryRow

        rows = (
            EntryRow.objects.filter(stream=stream, number__gt=after).order_by("number").values_list("body", "signature")
        )
        return [read_entry(bytes(body), bytes(signature)) for body, signature in rows]

    def append(self, stream: str, draft: Draft, admit: Admit) -> Entry:
        """Record a draft; see `tenthbook.record.ledger.Store.append`.

        Args:
            stream: Its id.
            draft: What is proposed.
            admit: Judges the draft inside the write lock; raises to refuse.

        Returns:
            The entry, committed to disk.
        """
        from django.db import transaction

        from tenthbook.faces.store.models import EntryRow

        with transaction.atomic():
            standing = EntryRow.objects.filter(stream=stream)
            known = standing.filter(request=draft.request).values_list("body", "signature").first()
            if known is not None:
                return already_recorded(draft, read_entry(bytes(known[0]), bytes(known[1])))
            admit(lambda after: self._read(stream, after))
            head = standing.order_by("-number").values_list("number", "hash").first()
            number, previous = (head[0] + 1, head[1]) if head else (0, "")
            entry = seal(draft, number, self._clock(), previous)
            EntryRow.objects.create(
                stream=stream,
                number=entry.number,
                request=draft.request,
                kind=entry.kind,
                hash=entry.hash,
                body=entry.body,
                signature=entry.signature,
            )
        return entry

    def keep(self, content: bytes) -> str:
        """Keep bytes under their own SHA-256.

        Args:
            content: Any bytes.

        Returns:
            The digest, hexadecimal.
        """
        from django.db import transaction

        from tenthbook.faces.store.models import KeptBytes

        digest = hashlib.sha256(content).hexdigest()
        with transaction.atomic():
            if not KeptBytes.objects.filter(digest=digest).exists():
                KeptBytes.objects.create(digest=digest, content=content)
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
        from tenthbook.faces.store.models import KeptBytes

        content = KeptBytes.objects.filter(digest=digest).values_list("content", flat=True).first()
        if content is None:
            raise NoSuchStream(found=f"digest {digest[:16]}", expected="bytes that were kept before")
        return bytes(content)


def _set_up(settings: str, folder: Path) -> None:
    """Point Django at a folder; a second call in one process moves it there."""
    import django
    from django.conf import settings as django_settings

    os.environ[VARIABLE] = str(folder)
    if not django_settings.configured:
        os.environ["DJANGO_SETTINGS_MODULE"] = settings
        django.setup()
    from django.db import connections

    from tenthbook.faces.store.settings import DATABASE_FILE

    connections.close_all()
    connections["default"].settings_dict["NAME"] = folder / DATABASE_FILE


def _migrate() -> None:
    from django.core.management import call_command
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    executor = MigrationExecutor(connection)
    targets: Sequence[tuple[str, str]] = executor.loader.graph.leaf_nodes()
    if executor.migration_plan(targets):
        call_command("migrate", interactive=False, verbosity=0)


def open_store(
    folder: Path, *, clock: Clock = utc_now, settings: str = "tenthbook.faces.store.settings"
) -> DjangoStore:
    """Make a folder's database ready and give its store.

    Args:
        folder: Where the data lie; made where it is missing.
        clock: Gives the time of recording, UTC.
        settings: Django settings module to start with; the pages have their own.

    Returns:
        The store.

    Raises:
        NoRoom: the folder cannot be made or written.
    """
    from django.db import DatabaseError

    try:
        folder.mkdir(parents=True, exist_ok=True)
        _set_up(settings, folder.resolve())
        _migrate()
    except (OSError, DatabaseError) as error:
        raise NoRoom(
            found=f"{folder}: {error}", expected="a folder that can be written", todo="name another with --data"
        ) from error
    return DjangoStore(clock)
