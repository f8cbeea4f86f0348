"""Bytes: those kept under their own hash, those beside the entries that may be withheld, and closed keys."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from typing import Any

from tenthbook.faces.store.faults import said_plainly
from tenthbook.faces.store.rows import bytes_of
from tenthbook.record.ledger import KeyBox, commitment
from tenthbook.record.ledger.memory import nothing_under, withheld_by


class Beside:
    """The part of a store that keeps bytes and keys."""

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
        standing = KeptBytes.objects.filter(digest=digest)
        with said_plainly(writing=True) as at_work:
            if standing.exists():
                return digest
            with transaction.atomic():
                if not standing.exists():
                    _lay_down(KeptBytes(digest=digest, content=content))
                at_work.committing = True
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

        with said_plainly(writing=False):
            content = KeptBytes.objects.filter(digest=digest).values_list("content", flat=True).first()
        if content is None:
            raise nothing_under(digest)
        return bytes_of(content)

    def attach(self, salt: bytes, content: bytes) -> str:
        """Lay bytes beside the entries.

        Args:
            salt: Random [32 bytes], used once.
            content: The bytes.

        Returns:
            The commitment that an entry names, hexadecimal.
        """
        from django.db import transaction

        from tenthbook.faces.store.models import AttachedBytes, WithheldMark

        named = commitment(salt, content)
        standing = AttachedBytes.objects.filter(commitment=named)
        marked = WithheldMark.objects.filter(commitment=named)
        with said_plainly(writing=True) as at_work:
            if standing.exists():
                return named
            with transaction.atomic():
                if not standing.exists() and not marked.exists():  # what was withheld does not come back
                    _lay_down(AttachedBytes(commitment=named, salt=salt, content=content))
                at_work.committing = True
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
        from tenthbook.faces.store.models import AttachedBytes, WithheldMark

        with said_plainly(writing=False):
            mark = WithheldMark.objects.filter(commitment=commitment).values_list("entry", flat=True).first()
            if mark is not None:
                raise withheld_by(commitment, mark)
            found = AttachedBytes.objects.filter(commitment=commitment).values_list("salt", "content").first()
        if found is None:
            raise nothing_under(commitment)
        return bytes_of(found[0]), bytes_of(found[1])

    def withhold(self, commitment: str, entry: str) -> None:
        """Take bytes away, with their salt, and leave word of it; done twice it is done once.

        Args:
            commitment: What the entries name.
            entry: Hash of the shop's entry that says who took them away and why.
        """
        from django.db import connection, transaction

        from tenthbook.faces.store.models import AttachedBytes, WithheldMark

        with said_plainly(writing=True) as at_work, transaction.atomic():
            if not WithheldMark.objects.filter(commitment=commitment).exists():
                _lay_down(WithheldMark(commitment=commitment, entry=entry))
            AttachedBytes.objects.filter(commitment=commitment).delete()
            at_work.committing = True
        if connection.vendor == "sqlite":
            _empty_the_log()

    def withheld(self) -> dict[str, str]:
        """List what was taken away.

        Returns:
            Hash of the shop's entry by commitment.
        """
        from tenthbook.faces.store.models import WithheldMark

        with said_plainly(writing=False):
            return dict(WithheldMark.objects.order_by("commitment").values_list("commitment", "entry"))

    def put_box(self, box: KeyBox) -> None:
        """Keep a closed key.

        Args:
            box: The key, closed with its owner's phrase.
        """
        from tenthbook.faces.store.models import ClosedKey

        halves = {"public_key": box.public_key, "salt": box.salt, "nonce": box.nonce, "closed": box.closed}
        with said_plainly(writing=True):
            ClosedKey.objects.create(person=box.person, **halves)

    def boxes(self, person: str) -> list[KeyBox]:
        """Give a person's closed keys.

        Args:
            person: Id of the person.

        Returns:
            The keys in the order they were kept.
        """
        from tenthbook.faces.store.models import ClosedKey

        with said_plainly(writing=False):
            return [box_of(row) for row in ClosedKey.objects.filter(person=person).order_by("id")]


def box_of(row: object) -> KeyBox:
    """Read a closed key from its row.

    Args:
        row: A row of `ClosedKey`.

    Returns:
        The key.
    """
    halves = (bytes_of(getattr(row, name)) for name in ("public_key", "salt", "nonce", "closed"))
    return KeyBox(str(getattr(row, "person", "")), *halves)


def _lay_down(row: Any) -> None:
    """Write a row that may not stand yet; on a server somebody may lay down the same at once, and that is well."""
    from django.db import connection

    type(row).objects.bulk_create([row], ignore_conflicts=connection.vendor == "postgresql")


def _empty_the_log() -> None:
    """Bring what is in the log of the file into the table, where what was deleted is overwritten.

    Where another reads on meanwhile the log stays until it is emptied in its turn; what is withheld is withheld all the
    same.
    """
    from django.db import DatabaseError, connection

    with suppress(DatabaseError), connection.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
