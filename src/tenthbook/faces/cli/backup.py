"""`tenthbook backup`: write all that is held into one file that proves itself, while others go on recording."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from tenthbook.faces.cli.carrying import summary_line, without_setting, write_all
from tenthbook.faces.cli.output import check_free, open_bench, plain_errors, say, tell


@click.command(name="backup")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--replace", is_flag=True, help="Let a file that lies there give way.")
@click.pass_context
def command(ctx: click.Context, file: Path, replace: bool) -> None:
    """Write everything into FILE: streams, books, photographs, closed keys, log-ins; and prove what was written.

    Others may go on recording meanwhile; the file holds one moment. Keep it away from this machine.
    """
    with plain_errors():
        check_free(file, replace=replace)
        bench = open_bench(ctx)
        bench.people.take_away()
        summary = write_all(bench.store, file)
        say(f"{file}: {summary_line(summary)}; {summary.size} bytes")
        say(f"digest {summary.digest}")
    tell(f"try it now and then{without_setting()}: tenthbook --data EMPTY-FOLDER restore {shlex.quote(str(file))}")
