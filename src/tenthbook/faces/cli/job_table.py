"""`tenthbook job table`: a job's readings, dispositions or undone list for a spreadsheet."""

from __future__ import annotations

from pathlib import Path

import click

from tenthbook.faces.cli.output import check_free, open_bench, plain_errors, say, tell, write_file

_TABLES = ("readings", "dispositions", "undone")
_FILE = click.Path(dir_okay=False, path_type=Path)


@click.command(name="table")
@click.argument("job")
@click.argument("table", type=click.Choice(_TABLES))
@click.option("--csv", "as_csv", type=_FILE, help="Write it as text with commas, UTF-8.")
@click.option("--xlsx", "as_xlsx", type=_FILE, help="Write it as a workbook of one sheet, every cell as text.")
@click.option("--replace", is_flag=True, help="Let a file that lies there give way.")
@click.pass_context
def write_table(
    ctx: click.Context, job: str, table: str, as_csv: Path | None, as_xlsx: Path | None, replace: bool
) -> None:
    """Write TABLE of JOB for a spreadsheet: its readings, its dispositions, or what is undone."""
    from tenthbook.faces.papers import at_head, job_table
    from tenthbook.numbers.sheet import write_csv, write_workbook

    if as_csv is None and as_xlsx is None:
        raise click.UsageError("found no file; expected --csv FILE, --xlsx FILE or both", ctx)
    with plain_errors():
        for target in filter(None, (as_csv, as_xlsx)):
            check_free(target, replace=replace)
        made = job_table(at_head(open_bench(ctx), job), table)
        contents: list[tuple[Path, bytes]] = []
        if as_csv is not None:
            contents.append((as_csv, write_csv(made.columns, made.rows)))
        if as_xlsx is not None:
            contents.append((as_xlsx, write_workbook([made])))
        for target, content in contents:
            write_file(target, content)
            say(str(target))
    tell(f"{len(made.rows)} rows, every cell as text")
