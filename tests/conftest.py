"""What tests in every folder may ask for: a PostgreSQL server, started once a process, and a fresh database on it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest

from tests.builders import close_database
from tests.postgres import Cluster

_NUMBERS = itertools.count(1)
TEMPLATE = "prepared"


@pytest.fixture(scope="session")
def cluster(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Cluster]:
    """A server, with one database whose tables are made."""
    from tenthbook.faces.store.database import open_store

    with Cluster(tmp_path_factory.mktemp("server") / "cluster") as running:
        with pytest.MonkeyPatch.context() as patch:
            folder = tmp_path_factory.mktemp("prepared")
            patch.setenv("TENTHBOOK_DATA", str(folder))
            open_store(folder, database=running.create(TEMPLATE))
            close_database()
        yield running


@pytest.fixture
def postgresql(cluster: Cluster) -> Iterator[str]:
    """The setting of a fresh database on the server, its tables made."""
    name = f"fresh_{next(_NUMBERS)}"
    yield cluster.create(name, TEMPLATE)
    close_database()
    cluster.ask(f'DROP DATABASE "{name}" WITH (FORCE)')
