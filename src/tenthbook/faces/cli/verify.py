"""`tenthbook verify`: prove an exported archive, or find where it is broken."""

from __future__ import annotations

from pathlib import Path

import click

from tenthbook.faces.cli.output import FINDINGS, say, say_json, tell


@click.command(name="verify")
@click.argument("archive", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--head", help="Hash of the last entry as a paper shows it; its first eight signs or more.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
def command(archive: Path, head: str | None, as_json: bool) -> None:
    """Prove ARCHIVE byte for byte.

    The answer is "whole and matches", "whole, nothing outside proves the end", or "broken at" and where (exit 1).
    """
    from tenthbook.faces.store.verifier_text import verifier_inside, verifier_text
    from tenthbook.record.ledger.verifier import examine

    content = archive.read_bytes()
    found = examine(content, head)
    if as_json:
        say_json({"answer": found.answer, "where": found.where, "entries": found.entries})
    else:
        say(str(found))
    if found.whole and verifier_inside(content) != verifier_text():
        tell("the verifier inside the archive is not the one of this version; this answer is this version's own")
    if not found.whole:
        raise SystemExit(FINDINGS)
