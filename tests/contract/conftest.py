"""A store of each kind, empty: in memory, on the file, on the server."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tenthbook.record.ledger import MemoryStore, Store
from tests.builders import close_database
from tests.contract.stores import CLOCK, django_store


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder for a database, whose connections are closed afterwards."""
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path))
    yield tmp_path / "data"
    close_database()


@pytest.fixture(params=["file", "server"])
def setting(request: pytest.FixtureRequest) -> str:
    """The setting of each kind of database: empty for the file in the folder."""
    return "" if request.param == "file" else str(request.getfixturevalue("postgresql"))


@pytest.fixture(params=["memory", "file", "server"])
def store(request: pytest.FixtureRequest, folder: Path) -> Store:
    """An empty store of each kind."""
    if request.param == "memory":
        return MemoryStore(CLOCK)
    return django_store(folder, "" if request.param == "file" else request.getfixturevalue("postgresql"))
