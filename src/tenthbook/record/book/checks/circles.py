"""Does anything in the book wait for itself: a step, a cover, a set, a limit counted on another?

Goes in: a draft. Comes out: a finding a circle, with every row on it.
"""

from __future__ import annotations

from collections.abc import Iterator

from tenthbook.record.book.checks import link_rules
from tenthbook.record.book.checks.graphs import walk
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.book.tables import TABLES

_Place = tuple[str, str]  # table and id
# Columns whose rows wait for the rows they name; a row of one of a group may wait for a row of any other of it.
_WAITING: tuple[tuple[_Place, ...], ...] = (
    (("steps", "after"),),
    (("access", "behind"), ("access", "part"), ("parts", "behind")),
    (("parts", "sold_in"),),
    (("sizes", "over"), ("sizes", "of_row"), ("fits", "over"), ("fits", "of_row")),
)
_OF = {(table, column.name): column.of for table, columns in TABLES.items() for column in columns}


def _rows_named(draft: Draft, row: TypedRow, column: str) -> Iterator[_Place]:
    for name in row.several(column):
        for table in _OF[row.table, column]:
            if name in draft.rows[table]:
                yield table, name
                break


def _waits(draft: Draft, columns: tuple[_Place, ...]) -> dict[_Place, list[_Place]]:
    waits: dict[_Place, list[_Place]] = {}
    for table, column in columns:
        for row in draft.of(table):
            others = waits.setdefault((table, row.id), [])
            if column in row.values:
                others.extend(_rows_named(draft, row, column))
    return waits


def check_circles(draft: Draft) -> Iterator[Finding]:
    """Find what waits for itself by way of others.

    Args:
        draft: The book.

    Yields:
        A finding a circle, at its first row.
    """
    for columns in _WAITING:
        for circle in walk(_waits(draft, columns)).circles:
            table, row_id = circle[0]
            row = draft.rows[table][row_id]
            filled = (name for of, name in columns if of == table and circle[1] in _rows_named(draft, row, name))
            found = " waits for ".join(name for _, name in (*circle, circle[0]))
            yield row.at.breaks(link_rules.CIRCLE, next(filled), found)
