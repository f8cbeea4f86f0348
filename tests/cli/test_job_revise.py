"""`tenthbook job revise`: a look at what another revision would move, then the move."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tests.builders import BOOK_TOML, SIZES_CSV, book_files

Ask = Callable[..., Result]


@pytest.fixture
def revision(tmp_path: Path) -> str:
    """The next revision of the small book: the shaft's least went up."""
    folder = tmp_path / "next"
    folder.mkdir()
    changed = {"book": BOOK_TOML.replace("1, 1 January 2026", "2, 1 November 2026")}
    for name, content in book_files(sizes=SIZES_CSV.replace("0.5098", "0.5102"), **changed).items():
        (folder / name).write_bytes(content)
    return str(folder)


@pytest.fixture
def measured(ask: Ask, job: str) -> str:
    """A job with a shaft at 0.5100 in."""
    assert ask("job", "record", job, "part removed", "part=part.shaft").exit_code == 0
    reading = ["tag=P-0001-3", "row=size.shaft", "value=0.5100 in"]
    assert ask("job", "record", job, "reading taken", *reading).exit_code == 0
    return job


def test_a_look_tells_what_would_move_and_moves_nothing(ask: Ask, measured: str, revision: str) -> None:
    """Each verdict with what it is and what it would be; the job is as it was."""
    before = ask("job", "status", measured).stdout
    look = ask("job", "revise", measured, "--book", revision)
    assert look.exit_code == 0
    assert "P-0001-3 size.shaft: IN SERVICE LIMITS, margin 0.0002 -> BEYOND, below by 0.0002" in look.stdout
    assert "a look only" in look.stderr
    assert ask("job", "status", measured).stdout == before


def test_with_a_reason_the_job_goes_on_by_the_revision(ask: Ask, measured: str, revision: str) -> None:
    """The entry is made, and the verdict is the one that was foreseen."""
    moved = ask("job", "revise", measured, "--book", revision, "--reason", "current: the holder's list", "--json")
    assert moved.exit_code == 0
    assert {"place": "P-0001-3", "before": "IN SERVICE LIMITS", "after": "BEYOND"}.items() <= next(
        one for one in json.loads(moved.stdout) if one["place"] == "P-0001-3"
    ).items()
    assert "BEYOND, below by 0.0002" in ask("job", "status", measured).stdout


def test_a_book_without_what_the_job_uses_is_refused(ask: Ask, measured: str, tmp_path: Path) -> None:
    """Exit 1, by rule, and nothing was written."""
    folder = tmp_path / "other"
    folder.mkdir()
    for name, content in book_files(book=BOOK_TOML.replace("Test engine", "Other")).items():
        (folder / name).write_bytes(content)
    refused = ask("job", "revise", measured, "--book", str(folder), "--reason", "x")
    assert refused.exit_code == 1
    assert "rule book.same-type" in refused.stderr
    assert "book moved" not in ask("job", "history", measured).stdout
