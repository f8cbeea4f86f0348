"""Does the README say what the job is, and do the documents show what the program really prints?

A block fenced as `console` is a session: a line `$ tenthbook ...` is run, and what it prints is compared with the
lines below it. A line `> ...` continues a command; a line `...` stands for any lines. Commands that write are not
run, unless the block is fenced as `console run`: then they run one after the other in an empty folder.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.docs.tree import ROOT, SOURCE, markdown_files, shown

READS_ONLY = {"calc", "why", "--help", "--version"}
PATIENCE_S = 60


@dataclass(frozen=True, slots=True)
class Shown:
    """A command of a document and what it is said to print.

    Attributes:
        command: As typed, without its prompt.
        printed: The lines below it.
    """

    command: str
    printed: str


def sessions(text: str) -> Iterator[tuple[bool, list[Shown]]]:
    """Read the sessions of a document.

    Args:
        text: The document.

    Yields:
        Whether the block is marked to be run whole, and its commands with their output.
    """
    for mark, block in re.findall(r"^```console( run)?\n(.*?)^```", text, re.DOTALL | re.MULTILINE):
        parts = re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]
        steps = []
        for part in parts:
            lines = part.splitlines()
            more = next((at for at, line in enumerate(lines[1:], 1) if not line.startswith("> ")), len(lines))
            command = "\n".join([lines[0], *(line[2:] for line in lines[1:more])])
            steps.append(Shown(command, "\n".join(lines[more:])))
        yield bool(mark), steps


def is_run(shown_step: Shown, *, marked: bool) -> bool:
    """Say whether a command is run by this check.

    Args:
        shown_step: The command.
        marked: Whether its block is marked to be run whole.

    Returns:
        True for commands of this program that only read, and for all of a marked block.
    """
    words = shown_step.command.split()
    return marked or (words[0] == "tenthbook" and len(words) > 1 and words[1] in READS_ONLY)


def agrees(printed: str, expected: str) -> bool:
    """Compare an output with what is shown.

    Args:
        printed: What the program printed.
        expected: What the document shows; a line of three full stops stands for any lines.

    Returns:
        Whether they agree, but for spaces at the ends of lines.
    """
    kept = [line.rstrip() for line in expected.strip().splitlines()]
    pattern = "\n".join(r"(?:.*\n)*?.*" if line == "..." else re.escape(line) for line in kept)
    return re.fullmatch(pattern, "\n".join(line.rstrip() for line in printed.strip().splitlines())) is not None


@pytest.fixture
def shell(tmp_path: Path) -> dict[str, str]:
    """Give an environment in which `tenthbook` is this very source, wherever the tests run."""
    command = tmp_path / "bin" / "tenthbook"
    command.parent.mkdir()
    start = shlex.join([sys.executable, "-c", "import sys; from tenthbook.faces.cli import main; sys.exit(main())"])
    command.write_text(f'#!/bin/sh\nexec {start} "$@"\n', encoding="utf-8")
    command.chmod(0o755)
    path = f"{command.parent}{os.pathsep}{os.environ['PATH']}"
    return {**os.environ, "PATH": path, "PYTHONPATH": str(SOURCE.parent), "COLUMNS": "100", "NO_COLOR": "1"}


@pytest.mark.parametrize("document", markdown_files(), ids=shown)
def test_sessions_show_what_is_printed(document: Path, shell: dict[str, str], tmp_path: Path) -> None:
    """What stands below a command in a document is what the command prints."""
    bench = tmp_path / "bench"
    bench.mkdir()
    for marked, steps in sessions(document.read_text(encoding="utf-8")):
        for step in steps:
            if is_run(step, marked=marked):
                done = subprocess.run(
                    ["sh", "-c", step.command],
                    cwd=bench if marked else ROOT,
                    env=shell,
                    stdin=subprocess.DEVNULL,
                    stdout=subprocess.PIPE,
                    stderr=subprocess.STDOUT,
                    text=True,
                    timeout=PATIENCE_S,
                    check=False,
                )
                assert agrees(done.stdout, step.printed), f"$ {step.command}\n{done.stdout}"


def test_the_first_paragraph_names_the_job() -> None:
    """The first paragraph of the README says for whom it is and what stands open before him."""
    blocks = re.split(r"\n\s*\n", (ROOT / "README.md").read_text(encoding="utf-8"))
    first = next(block for block in blocks if not re.match(r"\s*(#|!?\[|<)", block))
    assert {"mechanic", "engine"} <= set(re.findall(r"[a-z]+", first.lower()))


def test_the_readme_shows_a_calculation() -> None:
    """The README shows a calculation with its answer, and that session is run."""
    steps = [
        step
        for marked, steps in sessions((ROOT / "README.md").read_text(encoding="utf-8"))
        for step in steps
        if step.command.startswith("tenthbook calc ") and step.printed.strip() and is_run(step, marked=marked)
    ]
    assert steps


def test_a_session_is_read_as_it_stands() -> None:
    """Commands, their continued lines and their output are told apart; what writes is run in a marked block only."""
    text = (
        "```console\n$ tenthbook calc fit <<END\n> {}\n> END\n{\n}\n$ tenthbook demo\n```\n```console run\n$ ls\n```\n"
    )
    [(first, steps), (second, [listing])] = sessions(text)
    assert (first, second) == (False, True)
    assert steps == [Shown("tenthbook calc fit <<END\n{}\nEND", "{\n}"), Shown("tenthbook demo", "")]
    assert [is_run(step, marked=first) for step in steps] == [True, False]
    assert is_run(listing, marked=second)


@pytest.mark.parametrize(
    ("printed", "expected", "same"),
    [
        ("a\nb\n", "a\nb", True),
        ("a \nb\n", "a\nb\n", True),
        ("a\nc\nd\nb", "a\n...\nb", True),
        ("a\nc\n", "a\nb", False),
        ("a\nb\nc", "a\nb", False),
        ("0x00665", "0.00665", False),
        ("", "a", False),
    ],
)
def test_outputs_are_compared_line_by_line(printed: str, expected: str, same: bool) -> None:
    """An output agrees when each line does; three full stops stand for any lines."""
    assert agrees(printed, expected) is same
