"""Many writers on one stream: no gap, no number twice, no update lost; a request sent twice or late is one entry."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.builders import close_database
from tests.faults.stage import STREAM, look, start


@pytest.fixture(params=["file", "server"])
def setting(request: pytest.FixtureRequest) -> str:
    """The database setting of each kind."""
    return "" if request.param == "file" else str(request.getfixturevalue("postgresql"))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A data folder whose connections are closed afterwards."""
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path))
    yield tmp_path / "data"
    close_database()


@pytest.mark.parametrize(("writers", "each"), [(2, 60), (20, 8)])
def test_writers_at_once_leave_no_gap(folder: Path, setting: str, writers: int, each: int) -> None:
    """Two, and twenty, processes append as fast as they can."""
    from tenthbook.faces.store.database import open_store

    open_store(folder, database=setting or None)
    close_database()
    running = [start(folder, setting, f"w{number}", each) for number in range(writers)]
    for writer in running:
        writer.end()
    assert [writer.refused for writer in running] == [{}] * writers
    assert look(open_store(folder, database=setting or None), running) == writers * each


def test_a_doubled_and_a_delayed_request_are_recorded_once(folder: Path, setting: str) -> None:
    """Each request sent three times, by two processes of one name, the second long after the first: one entry each."""
    from tenthbook.faces.store.database import open_store

    open_store(folder, database=setting or None)
    close_database()
    at_once = [start(folder, setting, "same", 10, "--same", "3") for _ in range(2)]
    for writer in at_once:
        writer.end()
    late = start(folder, setting, "same", 10)
    late.end()
    assert late.acknowledged == at_once[0].acknowledged == at_once[1].acknowledged
    assert look(open_store(folder, database=setting or None), [*at_once, late]) == 10
    assert STREAM in open_store(folder, database=setting or None).streams()
