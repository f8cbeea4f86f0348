"""The disk is full, read-only or busy: it is said plainly, nothing is half recorded, and the next act is recorded."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tenthbook.faces.store.database import NotRecorded
from tenthbook.record.ledger import Store
from tests.builders import close_database, noted
from tests.faults.stage import STREAM, look, start


def admit_all(_since: object) -> None:
    """Refuse nothing."""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A data folder whose connections are closed afterwards."""
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path))
    yield tmp_path / "data"
    close_database()


@pytest.fixture
def store(folder: Path) -> Store:
    """A store with two notes."""
    from tenthbook.faces.store.database import open_store

    opened = open_store(folder)
    for number in range(2):
        opened.append(STREAM, noted(f"note {number}", request=f"r-{number}"), admit_all)
    return opened


def test_a_full_disk_is_said_and_what_was_answered_is_there(folder: Path, store: Store) -> None:
    """A process whose files may not grow any further: its later acts are refused, its earlier ones are on disk."""
    from tenthbook.faces.store.database import open_store

    before = len(store.entries(STREAM))
    close_database()
    largest = max(file.stat().st_size for file in folder.iterdir())
    writer = start(folder, "", "full", 200, "--blocks", str(largest + 60_000))
    writer.end()
    assert writer.acknowledged
    assert writer.refused
    assert all("nothing was recorded" in words for words in writer.refused.values())
    again = open_store(folder)
    assert look(again, [writer]) == before + len(writer.acknowledged)
    again.append(STREAM, noted("room again", request="r-after"), admit_all)


def test_a_read_only_database_is_said(folder: Path, store: Store) -> None:
    """Opened for reading only, it answers questions and refuses acts; permission bits would stop nobody who is root."""
    from django.db import connections

    close_database()
    settings = connections["default"].settings_dict
    held = dict(settings["OPTIONS"])
    settings["NAME"] = f"file:{folder / 'shop.sqlite3'}?mode=ro"
    settings["OPTIONS"] = {**held, "uri": True, "init_command": "PRAGMA query_only=ON;"}
    try:
        assert len(store.entries(STREAM)) == 2
        with pytest.raises(NotRecorded, match="nothing was recorded"):
            store.append(STREAM, noted(request="r-9"), admit_all)
    finally:
        settings["OPTIONS"] = held
        settings["NAME"] = folder / "shop.sqlite3"
        close_database()
    assert store.append(STREAM, noted(request="r-9"), admit_all).number == 2


def test_a_database_that_stays_locked_is_said(folder: Path, store: Store) -> None:
    """Somebody holds the write lock longer than anybody waits: refused, and recorded once it is free."""
    from django.db import connections

    close_database()
    options = connections["default"].settings_dict["OPTIONS"]
    held = options["timeout"]
    options["timeout"] = 0.2
    try:
        with closing(sqlite3.connect(folder / "shop.sqlite3", isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            with pytest.raises(NotRecorded, match="nothing was recorded"):
                store.append(STREAM, noted(request="r-9"), admit_all)
            assert len(store.entries(STREAM)) == 2, "who only reads is not kept waiting"
            other.execute("ROLLBACK")
        assert store.append(STREAM, noted(request="r-9"), admit_all).number == 2
    finally:
        options["timeout"] = held
        close_database()


def test_a_server_set_to_read_only_is_said(folder: Path, postgresql: str) -> None:
    """A standby, or a server somebody set so, refuses acts and keeps what it holds."""
    from tenthbook.faces.store.database import open_store

    store = open_store(folder, database=postgresql)
    store.append(STREAM, noted(), admit_all)
    close_database()
    sign = "&" if "?" in postgresql else "?"
    reading = open_store(folder, database=f"{postgresql}{sign}options=-c%20default_transaction_read_only%3Don")
    assert len(reading.entries(STREAM)) == 1
    with pytest.raises(NotRecorded, match="nothing was recorded"):
        reading.append(STREAM, noted(request="r-2"), admit_all)
