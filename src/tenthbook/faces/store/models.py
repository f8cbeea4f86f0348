"""An entry and a piece of kept bytes as rows.

The canonical body is what counts; the other columns repeat what a query or a constraint needs.
"""

from __future__ import annotations

from typing import ClassVar

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
