"""`tenthbook job`: open a job, record in it, and ask where it stands."""

from __future__ import annotations

from pathlib import Path

import click

from tenthbook.faces.cli import job_book, job_entry, job_gates, job_record, job_revise, job_table
from tenthbook.faces.cli.output import (
    FINDINGS,
    act_of,
    check_free,
    open_bench,
    plain_errors,
    say,
    say_json,
    tell,
    write_file,
)
from tenthbook.faces.cli.words import fields_of

_JSON = click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")


@click.group(name="job")
def command() -> None:
    """Open a job, record in it, and ask where it stands."""


command.add_command(job_book.type_row)
command.add_command(job_book.missing)
command.add_command(job_book.write_job_book)
command.add_command(job_revise.revise)
command.add_command(job_table.write_table)
for _one in (
    job_entry.entry,
    job_gates.where,
    job_gates.gates,
    job_gates.override,
    job_record.show_history,
    job_record.correct,
    job_record.photograph,
    job_record.photo,
    job_record.review,
    job_record.sign,
    job_record.withhold,
):
    command.add_command(_one)


@command.command(name="new")
@click.argument("job")
@click.option(
    "--book", required=True, type=click.Path(exists=True, path_type=Path), help="The book: a folder or a workbook."
)
@click.option("--engine", required=True, help="Engine type and serial number.")
@click.option("--reason", required=True, help="Why the engine came in.")
@click.option("--scope", required=True, help="What was agreed, such as: repair, to service limits.")
@click.pass_context
def new(ctx: click.Context, job: str, book: Path, engine: str, reason: str, scope: str) -> None:
    """Open JOB and pin its book."""
    from tenthbook.faces.cli.book_files import read_draft
    from tenthbook.record.book import book_of
    from tenthbook.record.book.checks import check

    with plain_errors():
        draft = read_draft(book)
        read = book_of(draft)
        bench = open_bench(ctx)
        data = {"installation": "bench", "engine": engine, "reason": reason, "scope": scope, "invented": read.invented}
        entry = bench.open_job(job, read, data, **act_of(ctx))
        say(f"job {job} opened; book {read.type}, revision {read.head['revision']}, pinned as entry {entry.number}")
        if read.type.casefold() not in engine.casefold():
            tell(f"the book is for {read.type}, the engine is {engine}: is it the book of this engine?")
        asked = len(check(draft))
        if asked:
            tell(f"the checker asks about {asked} things in it: tenthbook book check {book}")


@command.command(name="list")
@_JSON
@click.pass_context
def list_jobs(ctx: click.Context, as_json: bool) -> None:
    """List the jobs."""
    with plain_errors():
        bench = open_bench(ctx)
        rows = [
            {"job": stream, **{name: bench.state(stream).opened.get(name) for name in ("engine", "scope")}}
            for stream in bench.jobs()
        ]
        if as_json:
            say_json(rows)
        elif rows:
            say("\n".join(f"{row['job']:16} {row['engine']}, {row['scope']}" for row in rows))
        else:
            say("no job yet; open one: tenthbook job new JOB --book FOLDER --engine ... --reason ... --scope ...")


@command.command(name="record")
@click.argument("job")
@click.argument("kind")
@click.argument("fields", nargs=-1)
@click.pass_context
def record(ctx: click.Context, job: str, kind: str, fields: tuple[str, ...]) -> None:
    """Record KIND in JOB, its FIELDS as NAME=VALUE; a list has semicolons between.

    For instance: tenthbook job record 0417 "reading taken" tag=P-0004-8 row=size.shaft value="0.5094 in"
    """
    from tenthbook.record.job import fields_from_text

    with plain_errors():
        bench = open_bench(ctx)
        entry = bench.record(job, kind, fields_from_text(kind, fields_of(fields)), **act_of(ctx))
        say(f"entry {entry.number}: {entry.kind}")
        if entry.kind == "reading taken":
            from tenthbook.faces.cli.showing import verdict_lines

            say("\n".join(verdict_lines(bench.work_up(job), entry.data["tag"], entry.data["row"])))
        if entry.kind == "question asked":
            tell(f"{entry.data['asks']} The reading does not count yet; answer with:")
            answer = f"tenthbook job record {job} 'question answered' entry={entry.number} answer="
            tell(f"{answer}'read again'  or  {answer}stands")
            raise SystemExit(FINDINGS)


@command.command(name="status")
@click.argument("job")
@_JSON
@click.pass_context
def status(ctx: click.Context, job: str, as_json: bool) -> None:
    """Say where JOB stands: every verdict with its reason."""
    from tenthbook.faces.cli.showing import status_data, status_lines

    with plain_errors():
        bench = open_bench(ctx)
        if as_json:
            say_json(status_data(bench, job))
        else:
            say("\n".join(status_lines(bench, job)))


@command.command(name="undone")
@click.argument("job")
@_JSON
@click.pass_context
def undone(ctx: click.Context, job: str, as_json: bool) -> None:
    """List what is undone in JOB; exit 1 while there is anything."""
    from tenthbook.faces.cli.showing import undone_data, undone_lines

    with plain_errors():
        work = open_bench(ctx).work_up(job)
        if as_json:
            say_json(undone_data(work))
        else:
            say("\n".join(undone_lines(work)))
    if work.undone:
        raise SystemExit(FINDINGS)


@command.command(name="export")
@click.argument("job")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path), required=False)
@click.option("--replace", is_flag=True, help="Let a file that lies there give way.")
@click.pass_context
def export(ctx: click.Context, job: str, file: Path | None, replace: bool) -> None:
    """Write JOB into one archive that proves itself."""
    from tenthbook.faces.store.verifier_text import verifier_text

    with plain_errors():
        bench = open_bench(ctx)
        content = bench.archive(job, verifier_text())
        target = file or Path(f"{job}.zip")
        check_free(target, replace=replace)
        write_file(target, content)
    tell(f"{len(content)} bytes; prove it with: tenthbook verify {target}")
    say(str(target))
