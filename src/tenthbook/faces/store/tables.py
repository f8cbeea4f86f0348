"""The tables that repeat the entries: readings, dispositions, the use of tools."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from tenthbook.faces.store.faults import said_plainly
from tenthbook.record.ledger import Projected, Table
from tenthbook.record.ledger.projection import COLUMNS

if TYPE_CHECKING:
    from tenthbook.faces.store.models import Repeated

_CHUNK = 500


def model_of(table: Table) -> type[Repeated]:
    """Find the model of a table.

    Args:
        table: Which.

    Returns:
        The model.
    """
    from tenthbook.faces.store.models import DispositionRow, ReadingRow, ToolUseRow

    models: dict[Table, type[Repeated]] = {"reading": ReadingRow, "disposition": DispositionRow, "tool use": ToolUseRow}
    return models[table]


def write_rows(rows: Iterable[Projected]) -> None:
    """Put rows into the tables, in the place of those that stand.

    Args:
        rows: The rows; written inside whatever transaction is open.
    """
    wanted = {(row.table, row.stream, row.entry): row for row in rows}  # of two for one place the later one stands
    for table, columns in COLUMNS.items():  # in one order for all writers, so that none waits for another in a circle
        model: Any = model_of(table)
        made = [model(stream=row.stream, entry=row.entry, **row.cells) for row in wanted.values() if row.table == table]
        if made:
            places = ["stream", "entry"]
            model.objects.bulk_create(
                made, _CHUNK, update_conflicts=True, unique_fields=places, update_fields=list(columns)
            )


class Tables:
    """The part of a store that reads and rebuilds the tables."""

    def projected(self, table: Table, stream: str | None = None) -> list[Projected]:
        """Read a table.

        Args:
            table: Which.
            stream: Of this stream alone; None for all.

        Returns:
            Its rows by stream and entry.
        """
        with said_plainly(writing=False):
            model: Any = model_of(table)
            found = model.objects.all() if stream is None else model.objects.filter(stream=stream)
            named = list(COLUMNS[table])
            held = sorted(found.values_list("stream", "entry", *named), key=lambda cells: cells[:2])
            return [Projected(table, of, entry, dict(zip(named, cells, strict=True))) for of, entry, *cells in held]

    def project_anew(self, rows: Iterable[Projected]) -> None:
        """Drop every table and write it anew, all at once or not at all.

        Args:
            rows: What stands in the tables from here on.
        """
        from django.db import connection, transaction

        models: list[Any] = [model_of(table) for table in COLUMNS]
        with said_plainly(writing=True) as at_work, transaction.atomic():
            if connection.vendor == "postgresql":  # whoever records meanwhile writes its rows after these
                named = ", ".join(model._meta.db_table for model in models)
                with connection.cursor() as cursor:
                    cursor.execute(f"LOCK TABLE {named} IN EXCLUSIVE MODE")
            for model in models:
                model.objects.all().delete()
            write_rows(rows)
            at_work.committing = True
