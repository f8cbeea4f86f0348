"""`tenthbook job row|missing|book`: the book of a job, which grows by the job."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tenthbook.faces.cli.output import FINDINGS, act_of, open_bench, plain_errors, say, say_json, tell
from tenthbook.faces.cli.words import fields_of

if TYPE_CHECKING:
    from tenthbook.record.book.findings import Finding
    from tenthbook.record.workup import Missing


@click.command(name="row")
@click.argument("job")
@click.argument("table")
@click.argument("cells", nargs=-1)
@click.pass_context
def type_row(ctx: click.Context, job: str, table: str, cells: tuple[str, ...]) -> None:
    """Type a row of the manual into the book of JOB, its CELLS as COLUMN=VALUE.

    For instance: tenthbook job row 0417 sizes id=size.keyway part=part.pump-shaft feature="keyway width" kind=absolute
    unit=in new_min=0.1250 new_max=0.1260 service_max=0.1275 page=4-13
    """
    from tenthbook.record.book import draft_again
    from tenthbook.record.book.checks import check

    with plain_errors():
        bench = open_bench(ctx)
        entry = bench.type_row(job, table, fields_of(cells), **act_of(ctx))
        row = entry.data["cells"]["id"]
        say(
            f"entry {entry.number}: {entry.kind}, {table}/{row}, page {entry.data['cells']['page']}; not read again yet"
        )
        for finding in check(draft_again(bench.book(job))):
            if finding.row == row and finding.place.startswith(f"{table}:"):
                say(f"  {finding}")


def _wrong(findings: tuple[Finding, ...]) -> list[Finding]:
    return [one for one in findings if one.weight.value != "missing"]


def _lines(findings: tuple[Finding, ...], lacks: Missing) -> Iterator[str]:
    wrong = _wrong(findings)
    now = [f"{one.place}: {one.what} (rule {one.because.rule})" for one in lacks.now]
    groups = (
        ("wrong or to be asked about, whatever the job needs:", [str(one) for one in wrong]),
        ("missing for this job:", [*now, *(str(one) for one in lacks.rows)]),
        ("not yet needed:", [str(one) for one in lacks.later]),
    )
    for heading, lines in groups:
        if lines:
            yield heading
            yield from (f"  {line}" for line in lines)
    counts = len(wrong), len(now) + len(lacks.rows), len(lacks.later)
    yield "{} wrong or asked about, {} missing for this job, {} not yet needed".format(*counts)


@click.command(name="missing")
@click.argument("job")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def missing(ctx: click.Context, job: str, as_json: bool) -> None:
    """Say what the book of JOB lacks for it, apart from what is wrong and from what is not yet needed.

    Exit 1 while something is wrong or missing for this job.
    """
    from tenthbook.record.book import draft_again
    from tenthbook.record.book.checks import check
    from tenthbook.record.workup import missing_for

    with plain_errors():
        state, book, work = open_bench(ctx).look(job)
        findings = check(draft_again(book))
        lacks = missing_for(book, state, work, findings)
    if as_json:
        now = [{"place": one.place, "what": one.what, "rule": one.because.rule} for one in lacks.now]
        rest = {"rows": [str(one) for one in lacks.rows], "not_yet_needed": [str(one) for one in lacks.later]}
        say_json({"wrong": [str(one) for one in _wrong(findings)], "missing": now, **rest})
    else:
        say("\n".join(_lines(findings, lacks)))
    if _wrong(findings) or lacks.now or lacks.rows:
        raise SystemExit(FINDINGS)


@click.command(name="book")
@click.argument("job")
@click.argument("target", type=click.Path(path_type=Path))
@click.option("--replace", is_flag=True, help="Let a book that lies there give way.")
@click.pass_context
def write_job_book(ctx: click.Context, job: str, target: Path, replace: bool) -> None:
    """Write the book of JOB, with the rows typed in it, as TARGET: a workbook where it ends in .xlsx, else a folder."""
    from tenthbook.faces.cli.book_files import write_book
    from tenthbook.record.book import draft_again

    with plain_errors():
        write_book(target, draft_again(open_bench(ctx).book(job)), replace=replace)
        say(str(target))
    tell("what was read a second time stays with this shop: in another, every row is unread again")
