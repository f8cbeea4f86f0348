"""`tenthbook demo`: plays on invented data, in a folder of its own, and shows its answers."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tenthbook.record.ledger import examine

Ask = Callable[..., Result]
STORY = Path(__file__).parents[2] / "story"


def test_it_plays_and_prints_its_verdicts(ask: Ask, tmp_path: Path) -> None:
    """Two parts beyond their limits, the passing fit that saves nothing, and what is undone."""
    result = ask("demo", "--data", "played")
    assert result.exit_code == 0, result.exception
    assert result.stdout.startswith("Invented data. Not for any engine.\n")
    assert "end clearance, total 0.0097 in: BEYOND, above by 0.0005" in result.stdout
    assert "P-0212-6 diameter at the bush 0.5094 in: BEYOND, below by 0.0004" in result.stdout
    assert "P-0212-6 oil pump drive shaft: BEYOND" in result.stdout
    assert "Undone in this book:\n1. " in result.stdout
    assert "the worst of these rules: BEYOND" in result.stdout


def test_it_prints_doubt_forecasts_and_the_question(ask: Ask) -> None:
    """Undecided with the gauge that would decide, then decided; what new gears would make; the turn that was missed."""
    lines = [line.strip() for line in ask("demo", "--data", "played").stdout.splitlines()]
    undecided = lines.index("P-0210-0 gear bore diameter 1.4052 in: UNDECIDED, margin 0.0003")
    decided = lines.index("P-0210-0 gear bore diameter 1.40505 in: IN SERVICE LIMITS, margin 0.00045")
    named = next(place for place, line in enumerate(lines) if "bore gauge B2 would decide" in line)
    assert undecided < named < decided
    for made in ("0.00575 to 0.00675", "0.0068 to 0.0078"):
        assert any(line.startswith(f"with a new oil pump gear, driving: {made} in; odds new ") for line in lines)
    assert [line for line in lines if line.startswith("asked: ")] == [
        f"asked: {reading} lies far from what was expected; one turn {turn}, would not: was a turn missed?"
        for reading, turn in (
            ("0.4844 in", "more of the thimble, 0.025 in"),
            ("99.045 mm", "less of the dial, 1 mm"),
            ("7.430 mm", "more of the thimble, 0.5 mm"),
        )
    ]


def test_it_makes_a_paper_and_an_archive_that_proves_itself(ask: Ask, tmp_path: Path) -> None:
    """The PDF lies there, the archive is whole, and what it prints matches the file."""
    output = ask("demo", "--data", "played").stdout
    assert (tmp_path / "played" / "inspection-report.pdf").read_bytes().startswith(b"%PDF-")
    head = re.search(r"whole and matches: entry \d+, head ([0-9a-f]{64})", output)
    assert head
    content = (tmp_path / "played" / "0417.zip").read_bytes()
    assert examine(content, head[1]).whole
    verified = ask("verify", "played/0417.zip", "--head", head[1][:8])
    assert (verified.exit_code, verified.stdout.startswith("whole and matches")) == (0, True)


def test_played_again_it_makes_the_same_archive(ask: Ask, tmp_path: Path) -> None:
    """A second playing clears its own folder and ends in the same bytes."""
    ask("demo", "--data", "played")
    first = (tmp_path / "played" / "0417.zip").read_bytes()
    assert ask("demo", "--data", "played").exit_code == 0
    assert (tmp_path / "played" / "0417.zip").read_bytes() == first


def test_the_job_can_be_asked_afterwards(ask: Ask) -> None:
    """The demonstration's shop is a shop."""
    ask("demo", "--data", "played")
    assert ask("--data", "played", "job", "list").stdout.startswith("0417 ")
    assert ask("--data", "played", "job", "undone", "0417").exit_code == 1


def test_a_foreign_folder_is_not_touched(ask: Ask, tmp_path: Path) -> None:
    """Where other files lie nothing is written and nothing removed."""
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "letter.txt").write_text("dear reader")
    result = ask("demo", "--data", "mine")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "other files in" in result.stderr
    assert [path.name for path in folder.iterdir()] == ["letter.txt"]


def test_the_shops_folder_is_never_played_in(ask: Ask, tmp_path: Path) -> None:
    """Though the surroundings name the shop's folder, the demonstration keeps out of it, empty or not."""
    result = ask("demo")
    assert result.exit_code == 0, result.stderr
    assert not (tmp_path / "shop").exists()
    assert (tmp_path / "demo-shop" / "0417.zip").is_file()


def test_a_job_of_the_shops_own_is_not_cleared_away(ask: Ask, book_folder: Path) -> None:
    """A folder in which somebody opened a job of their own is not the demonstration's any more."""
    ask("demo", "--data", "played")
    words = ["--engine", "Test engine 1", "--reason", "x", "--scope", "x"]
    assert ask("--data", "played", "job", "new", "my-own", "--book", str(book_folder), *words).exit_code == 0
    ask("demo", "--data", "played")
    assert "my-own" in ask("--data", "played", "job", "list").stdout


def test_a_folder_named_before_the_command_counts_too(ask: Ask, tmp_path: Path) -> None:
    """What a person typed is never passed over: a folder before the command is the one that is played in."""
    assert ask("--data", "played", "demo").exit_code == 0
    assert (tmp_path / "played" / "0417.zip").is_file()


def test_a_story_that_is_not_there_is_named(ask: Ask, tmp_path: Path) -> None:
    """Without its script it says so, exit 2."""
    (tmp_path / "empty").mkdir()
    result = ask("demo", "--data", "played", "--story", "empty")
    assert (result.exit_code, "no dunlin-four.toml in empty" in result.stderr) == (2, True)


def test_a_story_that_turns_out_otherwise_stops(ask: Ask, tmp_path: Path) -> None:
    """A script that says another verdict than the book gives is stopped with both."""
    shutil.copytree(STORY, tmp_path / "story")
    script = tmp_path / "story" / "dunlin-four.toml"
    script.write_text(script.read_text().replace("BEYOND, above by 0.0005", "BEYOND, above by 0.0006"))
    result = ask("demo", "--data", "played", "--story", "story")
    assert result.exit_code == 2
    assert "found 'BEYOND, above by 0.0005'" in result.stderr
    assert "expected 'BEYOND, above by 0.0006'" in result.stderr


def test_in_a_process_of_its_own_it_plays(tmp_path: Path) -> None:
    """From a plain command in an empty folder, without any setting."""
    command = [sys.executable, "-m", "tenthbook", "demo"]
    surroundings = {"PATH": "/usr/bin:/bin", "HOME": str(tmp_path), "PYTHONPATH": str(STORY.parent / "src")}
    result = subprocess.run(
        command, cwd=tmp_path, env=surroundings, capture_output=True, text=True, check=False, timeout=120
    )
    assert (result.returncode, result.stderr) == (0, "")
    assert "whole and matches" in result.stdout
    assert sorted(path.name for path in tmp_path.iterdir()) == ["demo-shop"]


@pytest.mark.parametrize("words", [["--help"], ["demo", "--help"]])
def test_nothing_is_played_by_asking_for_help(ask: Ask, tmp_path: Path, words: list[str]) -> None:
    """Help writes no file."""
    assert ask(*words).exit_code == 0
    assert list(tmp_path.iterdir()) == []
