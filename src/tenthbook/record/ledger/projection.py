"""What an entry says in a table that can be asked: readings, dispositions, the use of tools.

The tables repeat the ledger for questions about many jobs at once. They are written with the entry, in one act of the
store, and hold nothing of their own: dropped and made anew from the entries they are the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from tenthbook.record.ledger.entry import Entry

Table = Literal["reading", "disposition", "tool use"]
Cell = str | int | bool | None
COLUMNS: dict[Table, dict[str, type]] = {
    "reading": {
        "tag": str,
        "part": str,
        "row": str,
        "row_digest": str,
        "value": str,
        "size_pm": int,
        "station": str,
        "direction": str,
        "gauge": str,
        "person": str,
        "acted_at": str,
        "counts": bool,
    },
    "disposition": {"tag": str, "part": str, "word": str, "person": str, "acted_at": str, "counts": bool},
    "tool use": {"gauge": str, "certificate": str, "used_by": str, "acted_at": str, "counts": bool},
}


@dataclass(frozen=True, slots=True)
class Projected:
    """One row of one table.

    Attributes:
        table: The table.
        stream: The stream of the entry it repeats.
        entry: The entry's number; one row for each entry and table.
        cells: What stands in it, by the names of `COLUMNS`; `size_pm` [pm] is None for what is no length, or finer.
    """

    table: Table
    stream: str
    entry: int
    cells: Mapping[str, Cell]


Project = Callable[[Entry], Iterable[Projected]]
