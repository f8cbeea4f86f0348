"""`tenthbook papers`: write a paper of a job as PDF."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from tenthbook.faces.cli.output import act_of, check_free, open_bench, plain_errors, say, tell, write_file

if TYPE_CHECKING:
    from tenthbook.record.bench import Bench


def issue_inspection(bench: Bench, job: str, size: str, act: dict[str, str], target: Path) -> int:
    """Write the inspection report and record that it was issued, both or neither.

    Args:
        bench: The bench.
        job: Id of the job.
        size: "a4" or "us-letter".
        act: Person, request and time.
        target: The file.

    Returns:
        How many bytes were written.
    """
    from tenthbook.faces.papers import inspection_report
    from tenthbook.record.bench.signing import record_words

    state = bench.state(job)
    paper_size: Literal["a4", "us-letter"] = "us-letter" if size == "us-letter" else "a4"
    made_on = act["acted_at"][:10]
    _, book, work = bench.look(job)
    unread = bench.unread(job)
    told = record_words(bench, job)
    content = inspection_report(job, book, state, work, unread=unread, record=told, size=paper_size, made_on=made_on)
    digest = hashlib.sha256(content).hexdigest()
    data = {"paper": "inspection report", "digest": digest, "rests_on": state.head}
    write_file(target, content, lambda: bench.issue(job, data, act, state.head))
    return len(content)


@click.command(name="papers")
@click.argument("job")
@click.argument("paper", type=click.Choice(["inspection"]))
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path), required=False)
@click.option("--size", type=click.Choice(["a4", "us-letter"]), default="a4", help="Size of the sheet; a4 unless said.")
@click.option("--replace", is_flag=True, help="Let a file that lies there give way.")
@click.pass_context
def command(ctx: click.Context, job: str, paper: str, file: Path | None, size: str, replace: bool) -> None:
    """Write PAPER of JOB into FILE and record that it was issued."""
    target = file or Path(f"{job}-{paper}.pdf")
    with plain_errors():
        check_free(target, replace=replace)
        length = issue_inspection(open_bench(ctx), job, size, act_of(ctx), target)
    tell(f"{length} bytes; it prints the head of the ledger it was made from")
    say(str(target))
