"""`tenthbook papers`: write a paper of a job as PDF."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from tenthbook.faces.cli.output import act_of, check_free, open_bench, plain_errors, say, tell, write_file

if TYPE_CHECKING:
    from tenthbook.record.bench import Bench

_NAMES = ("inspection", "measuring-sheet", "tags", "undone")  # as the catalogue has them, which is slow to import


def issue(
    bench: Bench, job: str, paper: str, act: dict[str, str], target: Path, *, size: str = "a4", blank: bool = False
) -> int:
    """Write a paper and record that it was issued, both or neither.

    Args:
        bench: The bench.
        job: Id of the job.
        paper: Name of the paper.
        act: Person, request and time.
        target: The file.
        size: "a4" or "us-letter".
        blank: Whether it is to be written on by hand.

    Returns:
        How many bytes were written.
    """
    from tenthbook.faces.papers import at_head, make_paper

    at, paper_size = at_head(bench, job), _size(size)
    issued_as, content = make_paper(at, paper, blank=blank, size=paper_size, made_on=act["acted_at"][:10])
    digest = hashlib.sha256(content).hexdigest()
    data = {"paper": issued_as, "digest": digest, "rests_on": at.state.head}
    write_file(target, content, lambda: bench.issue(job, data, act, at.state.head))
    return len(content)


def _size(size: str) -> Literal["a4", "us-letter"]:
    return "us-letter" if size == "us-letter" else "a4"


@click.command(name="papers")
@click.argument("job")
@click.argument("paper", type=click.Choice(_NAMES))
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path), required=False)
@click.option("--size", type=click.Choice(["a4", "us-letter"]), default="a4", help="Size of the sheet; a4 unless said.")
@click.option("--letter", is_flag=True, help="The same as --size us-letter.")
@click.option("--blank", is_flag=True, help="To be written on by hand: a measuring sheet, or tags with the next ids.")
@click.option("--replace", is_flag=True, help="Let a file that lies there give way.")
@click.pass_context
def command(
    ctx: click.Context, job: str, paper: str, file: Path | None, size: str, letter: bool, blank: bool, replace: bool
) -> None:
    """Write PAPER of JOB into FILE and record that it was issued.

    PAPER is the inspection report, the measuring sheet, the tags or the undone list.
    """
    target = file or Path(f"{job}-{paper}{'-blank' if blank else ''}.pdf")
    with plain_errors():
        check_free(target, replace=replace)
        wanted = "us-letter" if letter else size
        length = issue(open_bench(ctx), job, paper, act_of(ctx), target, size=wanted, blank=blank)
    tell(f"{length} bytes; it prints the head of the ledger it was made from")
    say(str(target))
