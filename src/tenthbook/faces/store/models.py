"""What the database holds, as rows.

Of an entry the canonical body is what counts; the other columns repeat what a query or a constraint needs. Entries,
kept bytes, marks and closed keys are only ever added. The three tables below them only repeat the entries.
"""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models


class EntryRow(models.Model):
    """One entry of one stream."""

    stream = models.CharField(max_length=60)
    number = models.PositiveIntegerField()
    request = models.CharField(max_length=200)
    kind = models.CharField(max_length=60)
    hash = models.CharField(max_length=64, unique=True)
    body = models.BinaryField()
    signature = models.BinaryField()

    class Meta:
        """Its table and what may stand in it once."""

        db_table = "ledger_entry"
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["stream", "number"], name="one_entry_a_number"),
            models.UniqueConstraint(fields=["stream", "request"], name="one_entry_a_request"),
        ]


class KeptBytes(models.Model):
    """Bytes under their own SHA-256."""

    digest = models.CharField(max_length=64, primary_key=True)
    content = models.BinaryField()

    class Meta:
        """Its table."""

        db_table = "kept_bytes"


class AttachedBytes(models.Model):
    """Bytes beside the entries, with their salt, under the commitment that entries name."""

    commitment = models.CharField(max_length=64, primary_key=True)
    salt = models.BinaryField()
    content = models.BinaryField()

    class Meta:
        """Its table."""

        db_table = "attached_bytes"


class WithheldMark(models.Model):
    """Word of bytes that were taken away, and the shop's entry that says why."""

    commitment = models.CharField(max_length=64, primary_key=True)
    entry = models.CharField(max_length=64)

    class Meta:
        """Its table."""

        db_table = "withheld_mark"


class ClosedKey(models.Model):
    """A person's secret key, closed with a phrase."""

    person = models.CharField(max_length=60, db_index=True)
    public_key = models.BinaryField()
    salt = models.BinaryField()
    nonce = models.BinaryField()
    closed = models.BinaryField()

    class Meta:
        """Its table."""

        db_table = "closed_key"


class Account(models.Model):
    """The person that a log-in stands for."""

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="account")
    person = models.CharField(max_length=60)

    class Meta:
        """Its table."""

        db_table = "account"


class Repeated(models.Model):
    """What every table that repeats entries has: the stream, the entry, and whether it counts."""

    stream = models.CharField(max_length=60)
    entry = models.PositiveIntegerField()
    acted_at = models.CharField(max_length=20)
    counts = models.BooleanField()

    class Meta:
        """No table of its own."""

        abstract = True


class ReadingRow(Repeated):
    """A reading as it counts now."""

    tag = models.CharField(max_length=20)
    part = models.CharField(max_length=100)
    row = models.CharField(max_length=100)
    row_digest = models.CharField(max_length=64)
    value = models.CharField(max_length=80)
    size_pm = models.BigIntegerField(null=True)
    station = models.CharField(max_length=100)
    direction = models.CharField(max_length=100)
    gauge = models.CharField(max_length=40)
    person = models.CharField(max_length=60)

    class Meta:
        """Its table, and what is asked of it across jobs."""

        db_table = "reading"
        constraints: ClassVar = [models.UniqueConstraint(fields=["stream", "entry"], name="one_reading_an_entry")]
        indexes: ClassVar = [
            models.Index(fields=["row", "counts"], name="reading_by_row"),
            models.Index(fields=["gauge", "counts"], name="reading_by_gauge"),
            models.Index(fields=["part", "counts"], name="reading_by_part"),
        ]


class DispositionRow(Repeated):
    """A disposition as it counts now."""

    tag = models.CharField(max_length=20)
    part = models.CharField(max_length=100)
    word = models.CharField(max_length=40)
    person = models.CharField(max_length=60)

    class Meta:
        """Its table, and what is asked of it across jobs."""

        db_table = "disposition"
        constraints: ClassVar = [models.UniqueConstraint(fields=["stream", "entry"], name="one_disposition_an_entry")]
        indexes: ClassVar = [models.Index(fields=["part", "counts"], name="disposition_by_part")]


class ToolUseRow(Repeated):
    """The use of a tool as it counts now."""

    gauge = models.CharField(max_length=40)
    certificate = models.CharField(max_length=100)
    used_by = models.CharField(max_length=60)

    class Meta:
        """Its table, and what is asked of it across jobs."""

        db_table = "tool_use"
        constraints: ClassVar = [models.UniqueConstraint(fields=["stream", "entry"], name="one_use_an_entry")]
        indexes: ClassVar = [models.Index(fields=["gauge", "counts"], name="use_by_gauge")]
