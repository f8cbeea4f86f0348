"""`tenthbook restore`: take a backup in, once all of it is proved, into an empty place."""

from __future__ import annotations

from pathlib import Path

import click

from tenthbook.faces.cli.carrying import proved_backup, take_in
from tenthbook.faces.cli.output import open_bench, plain_errors, say


@click.command(name="restore")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.pass_context
def command(ctx: click.Context, file: Path) -> None:
    """Take FILE in, into an empty data folder or database; a broken one is refused, and nothing is written (exit 1)."""
    with plain_errors(), file.open("rb") as opened, proved_backup(opened) as backup:
        take_in(open_bench(ctx), backup)
        say(f"digest {backup.summary.digest}")
