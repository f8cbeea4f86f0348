"""How the command line is asked here: in this process, in a folder of its own, with the database closed afterwards."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.builders import book_files, close_database

Ask = Callable[..., Result]


@pytest.fixture
def ask(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Ask]:
    """Ask the command line: `ask("job", "list")`; standard input as `typed`. The shop's data lie in `shop`."""
    from tenthbook.faces.cli.root import command

    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path / "shop"))
    monkeypatch.setenv("TENTHBOOK_PERSON", "mechanic")

    def run(*words: str, typed: str | bytes = "") -> Result:
        monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path / "shop"))
        return CliRunner().invoke(command, list(words), input=typed, prog_name="tenthbook")

    yield run
    close_database()


@pytest.fixture
def book_folder(tmp_path: Path) -> Path:
    """The small book as files."""
    folder = tmp_path / "book"
    folder.mkdir()
    for name, content in book_files().items():
        (folder / name).write_bytes(content)
    return folder


@pytest.fixture
def job(ask: Ask, book_folder: Path) -> str:
    """A job that was opened."""
    words = ["--engine", "Test engine 1", "--reason", "low oil pressure", "--scope", "repair, to service limits"]
    assert ask("job", "new", "0417", "--book", str(book_folder), *words).exit_code == 0
    return "0417"
