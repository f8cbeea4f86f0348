"""Where a phrase comes from: typed unseen, or read from a file or from standard input."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from tenthbook.numbers.because import TenthbookError

PHRASE_FILE = click.option(
    "--phrase-file", help="File whose first line is the phrase, or - for standard input; asked for without it."
)


def read_phrase(source: str | None, *, twice: bool = False, prompt: str = "Phrase of the key") -> str:
    """Read a phrase.

    Args:
        source: A file, "-" for standard input, or None to ask.
        twice: True where a new phrase is typed a second time.
        prompt: What is asked.

    Returns:
        The phrase, without the end of its line.

    Raises:
        TenthbookError: bytes that are no text.
    """
    if source is None:
        typed: str = click.prompt(prompt, hide_input=True, confirmation_prompt=twice, err=True)
        return typed
    try:
        if source == "-":
            return sys.stdin.readline().rstrip("\r\n")
        lines = Path(source).read_text(encoding="utf-8-sig").splitlines()
    except UnicodeDecodeError as error:
        named = "standard input" if source == "-" else source
        raise TenthbookError(found=f"{named}, which is no text", expected="a first line in UTF-8") from error
    return lines[0] if lines else ""
