"""Stores as the tests of their contract need them, and what admits everything.

In: a folder and a setting. Out: a store whose clock shows what it is told.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from tenthbook.record.ledger import Entry, Store
from tests.builders import SettableClock

Since = Callable[[int], Sequence[Entry]]
CLOCK = SettableClock()


def admit_all(since: Since) -> None:
    """Refuse nothing.

    Args:
        since: Reads the entries after a number.
    """


def django_store(folder: Path, database: str = "") -> Store:
    """Open the database in a folder, or on a server.

    Args:
        folder: The folder.
        database: The setting of the server; empty for the file.

    Returns:
        The store.
    """
    from tenthbook.faces.store.database import open_store

    return open_store(folder, clock=CLOCK, database=database)
