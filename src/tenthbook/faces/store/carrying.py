"""All that a store holds, out of one and into another, as it stood at one moment."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from tenthbook.faces.store.beside import Beside, box_of
from tenthbook.faces.store.faults import said_plainly
from tenthbook.faces.store.rows import bytes_of, entry_of, row_of
from tenthbook.record.ledger import Entry, canonical, commitment
from tenthbook.record.ledger.stream import Holdings, NotEmpty

_CHUNK = 500


def _streams() -> Iterator[tuple[str, list[Entry]]]:
    from tenthbook.faces.store.models import EntryRow

    for stream in sorted(EntryRow.objects.order_by().values_list("stream", flat=True).distinct()):
        rows = EntryRow.objects.filter(stream=stream).order_by("number").values_list("number", "body", "signature")
        yield stream, [entry_of(stream, *row) for row in rows]


def _accounts() -> Iterator[bytes]:
    from tenthbook.faces.store.models import Account

    held = Account.objects.select_related("user").prefetch_related("user__groups")
    for one in sorted(held, key=lambda account: account.user.username):
        user = one.user
        groups = sorted(group.name for group in user.groups.all())
        told = {"name": user.username, "password": user.password, "active": user.is_active}
        yield canonical({**told, "person": one.person, "groups": groups})


def _take_account(held: dict[str, Any]) -> None:
    from django.contrib.auth.models import Group, User

    from tenthbook.faces.store.models import Account

    user = User.objects.create(username=held["name"], password=held["password"], is_active=held["active"])
    user.groups.set([Group.objects.get_or_create(name=name)[0] for name in held["groups"]])
    Account.objects.create(user=user, person=held["person"])


@contextmanager
def _one_moment() -> Iterator[None]:
    """Whatever is read inside is read as it stood at one moment, while others go on writing."""
    from django.db import connection, transaction

    mode = getattr(connection, "transaction_mode", None)
    if connection.vendor == "sqlite":
        connection.ensure_connection()
        connection.transaction_mode = "DEFERRED"  # type: ignore[attr-defined]  # of the wrapper for SQLite alone
    try:
        with transaction.atomic(), connection.cursor() as cursor:
            if connection.vendor == "postgresql":
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            cursor.execute("SELECT 1 FROM ledger_entry LIMIT 1")  # the moment is that of the first question
            cursor.fetchall()
            yield
    finally:
        if connection.vendor == "sqlite":
            connection.transaction_mode = mode  # type: ignore[attr-defined]


class Carrying(Beside):
    """The part of a store that gives and takes all that is held."""

    @contextmanager
    def holdings(self) -> Iterator[Holdings]:
        """Give all it holds, as it stands at one moment, while others go on writing.

        Yields:
            The holdings; they may be read once.
        """
        from tenthbook.faces.store.models import AttachedBytes, ClosedKey, KeptBytes

        with said_plainly(writing=False), _one_moment():
            kept = KeptBytes.objects.order_by("digest").values_list("content", flat=True).iterator(1)
            beside = AttachedBytes.objects.order_by("commitment").values_list("salt", "content").iterator(1)
            yield Holdings(
                _streams(),
                (bytes_of(content) for content in kept),
                ((bytes_of(salt), bytes_of(content)) for salt, content in beside),
                self.withheld(),
                (box_of(row) for row in ClosedKey.objects.order_by("id")),
                _accounts(),
            )

    def load(self, holdings: Holdings) -> None:
        """Take in all that another store held, all at once or not at all; the tables are not written.

        Args:
            holdings: What it held.

        Raises:
            NotEmpty: this store holds something.
        """
        from django.contrib.auth.models import User
        from django.db import transaction

        from tenthbook.faces.store.models import AttachedBytes, ClosedKey, EntryRow, KeptBytes, WithheldMark

        with said_plainly(writing=True) as at_work, transaction.atomic():
            for model in (EntryRow, KeptBytes, AttachedBytes, ClosedKey, WithheldMark, User):
                if model._default_manager.exists():
                    raise NotEmpty(found="a database that holds something", expected="an empty one")
            for stream, entries in holdings.streams:
                EntryRow.objects.bulk_create((row_of(EntryRow, stream, entry) for entry in entries), _CHUNK)
            _each(_kept_row(content) for content in holdings.kept)
            _each(
                AttachedBytes(commitment=commitment(salt, content), salt=salt, content=content)
                for salt, content in holdings.attached
            )
            _each(WithheldMark(commitment=name, entry=entry) for name, entry in holdings.withheld.items())
            for box in holdings.boxes:
                halves = {"public_key": box.public_key, "salt": box.salt, "nonce": box.nonce, "closed": box.closed}
                ClosedKey.objects.create(person=box.person, **halves)
            for account in holdings.accounts:
                _take_account(json.loads(account))
            at_work.committing = True


def _each(rows: Iterable[Any]) -> None:
    """Write large rows one by one, so that no two of them are in memory."""
    for row in rows:
        row.save(force_insert=True)


def _kept_row(content: bytes) -> Any:
    from tenthbook.faces.store.models import KeptBytes

    return KeptBytes(digest=hashlib.sha256(content).hexdigest(), content=content)
