"""`tenthbook job entry`: the entry of a job, ready to sign, or everything that is missing in it."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING

import click

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

if TYPE_CHECKING:
    from tenthbook.record.bench.entry_of_job import JobEntry

_FORMS = ("work", "inspection", "europe", "nz")  # as the release has them, which is slow to import


@click.command(name="entry")
@click.argument("job")
@click.argument("fields", nargs=-1)
@click.option("--form", type=click.Choice(_FORMS), default="work", show_default=True, help="Which record it is.")
@click.option(
    "--pdf", type=click.Path(dir_okay=False, path_type=Path), help="Write it as PDF, once nothing is missing."
)
@click.option("--replace", is_flag=True, help="Let a file that lies there give way.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def entry(
    ctx: click.Context, job: str, fields: tuple[str, ...], form: str, pdf: Path | None, replace: bool, as_json: bool
) -> None:
    """Write the entry of JOB, its FIELDS as NAME=VALUE; refused while a field is missing (exit 1).

    Forms: work (14 CFR 43.9), inspection (14 CFR 43.11), europe (M.A.801), nz (rule 43.69).

    For instance: tenthbook job entry 0417 date=2026-11-20 approver="..." certificate_number=... certificate_kind="..."
    signature="in ink" own_work=yes repair.supercharger=no repair.gearing=none repair.structural=no
    """
    from tenthbook.record.bench.entry_of_job import entry_of_job

    with plain_errors():
        bench = open_bench(ctx)
        made = entry_of_job(bench, job, form, fields_of(fields))
        missing = [str(one) for one in made.text.missing]
        if as_json:
            opens = [line.text for line in made.opens]
            say_json({"lines": made.text.lines, "ready": made.text.ready, "missing": missing, "opens": opens})
        else:
            say("\n".join(made.text.lines))
            for one in missing:
                tell(one)
            if made.opens:
                tell(f"{len(made.opens)} open in this book before a release: tenthbook job gates {job} --gate release")
        if pdf is not None and made.text.ready:
            check_free(pdf, replace=replace)
            _issue(ctx, job, made, pdf)
    if missing:
        raise SystemExit(FINDINGS)


def _issue(ctx: click.Context, job: str, made: JobEntry, pdf: Path) -> None:
    from tenthbook.faces.papers import at_head
    from tenthbook.faces.papers.entry import entry_sheet

    bench, act = open_bench(ctx), act_of(ctx)
    at = at_head(bench, job)
    content = entry_sheet(at, made, made_on=act["acted_at"][:10])
    data = {"paper": "entry to sign", "digest": hashlib.sha256(content).hexdigest(), "rests_on": at.state.head}
    write_file(pdf, content, lambda: bench.issue(job, data, act, at.state.head))
    tell(str(pdf))
