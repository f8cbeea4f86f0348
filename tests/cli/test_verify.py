"""`tenthbook verify`: exit 0 for a whole archive, 1 for every broken one."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tests.builders import members_of, small_archive

Ask = Callable[..., Result]
ARCHIVE, HEAD = small_archive(3)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A whole archive as a file."""
    path = tmp_path / "job.zip"
    path.write_bytes(ARCHIVE)
    return path


@pytest.mark.parametrize("head", [HEAD, HEAD[:8], HEAD[:20].upper()])
def test_a_whole_archive_matches_its_paper(ask: Ask, file: Path, head: str) -> None:
    """With the head of a paper the answer is "whole and matches"."""
    result = ask("verify", str(file), "--head", head)
    assert (result.exit_code, result.stdout) == (0, f"whole and matches: entry 2, head {HEAD}\n")


def test_without_a_paper_the_end_is_unproven(ask: Ask, file: Path) -> None:
    """A whole archive alone says that nothing outside proves its end, and exits 0."""
    result = ask("verify", str(file), "--json")
    assert result.exit_code == 0
    assert json.loads(result.stdout) == {
        "answer": "whole, nothing outside proves the end",
        "where": f"entry 2, head {HEAD}",
        "entries": 3,
        "head": HEAD,
        "notes": [],
    }


@pytest.mark.parametrize("head", ["0" * 64, HEAD[:7], "", HEAD + "0"])
def test_another_paper_is_broken(ask: Ask, file: Path, head: str) -> None:
    """Another hash, or too little of one, exits 1."""
    result = ask("verify", str(file), "--head", head)
    assert result.exit_code == 1
    assert result.stdout.startswith("broken at entry 2: ")


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"no archive",
        ARCHIVE[:-1],
        ARCHIVE + b"\n",
        ARCHIVE.replace(b"note 1", b"note 7"),
        *(ARCHIVE.replace(part, part[::-1], 1) for part in members_of(ARCHIVE).values() if part),
    ],
    ids=lambda content: f"{len(content)} bytes",
)
def test_a_broken_archive_exits_1(ask: Ask, file: Path, content: bytes) -> None:
    """Torn, lengthened, altered in any member: the place is told on standard output."""
    assert content != ARCHIVE
    file.write_bytes(content)
    for words in (["--head", HEAD], []):
        result = ask("verify", str(file), *words)
        assert (result.exit_code, result.stderr) == (1, "")
        assert result.stdout.startswith("broken at ")


def test_broken_is_told_as_json_too(ask: Ask, file: Path) -> None:
    """The answer, the place and no entries."""
    file.write_bytes(ARCHIVE[:-1])
    result = ask("verify", str(file), "--json")
    found = json.loads(result.stdout)
    assert (result.exit_code, found["answer"], found["entries"]) == (1, "broken at", 0)


@pytest.mark.parametrize("name", ["nothing.zip", "."])
def test_a_file_that_is_not_there_is_misuse(ask: Ask, name: str) -> None:
    """No archive to look at is exit 2, not broken."""
    assert ask("verify", name).exit_code == 2


def test_in_a_process_of_its_own_it_answers_the_same(file: Path) -> None:
    """Exit code and line are those of the archive."""
    for words, code, line in ((["--head", HEAD], 0, "whole and matches"), (["--head", "0" * 64], 1, "broken at")):
        command = [sys.executable, "-m", "tenthbook", "verify", str(file), *words]
        result = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
        assert result.returncode == code
        assert ("not the one of this version" in result.stderr) == (code == 0), (
            "another verifier lies inside, and is named"
        )
        assert result.stdout.startswith(line)
