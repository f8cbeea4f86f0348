"""`tenthbook job revise`: what another revision of the book would move in a job, and moving the job to it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tenthbook.faces.cli.output import act_of, open_bench, plain_errors, say, say_json, tell

if TYPE_CHECKING:
    from tenthbook.record.workup.moving import Moved


def _lines(found: tuple[Moved, ...]) -> Iterator[str]:
    moved = [one for one in found if one.is_moved]
    for one in moved:
        yield f"{one.place}: {one.before or 'nothing'} -> {one.after or 'nothing'}"
        yield from (f"    {line}" for line in one.because.lines())
    still = ", ".join(one.place for one in found if not one.is_moved)
    if still:
        yield f"rests on a row that differs, and says the same: {still}"
    yield f"{len(moved)} moved, {len(found) - len(moved)} touched and not moved"


@click.command(name="revise")
@click.argument("job")
@click.option(
    "--book", required=True, type=click.Path(exists=True, path_type=Path), help="The revision: a folder or a workbook."
)
@click.option(
    "--reason", default="", help="Why, and how it was checked to be the current one; without it, a look only."
)
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def revise(ctx: click.Context, job: str, book: Path, reason: str, as_json: bool) -> None:
    """Say what another revision of its book would move in JOB; with --reason, let the job go on by it."""
    from tenthbook.faces.cli.book_files import read_draft
    from tenthbook.record.book import book_of
    from tenthbook.record.workup.moving import what_would_move

    with plain_errors():
        other = book_of(read_draft(book))
        bench = open_bench(ctx)
        state, pinned, _ = bench.look(job)
        found = what_would_move(pinned, other, state)
        if as_json:
            told = [{"place": one.place, "before": one.before, "after": one.after, "rows": one.rows} for one in found]
            say_json(told)
        else:
            say("\n".join(_lines(found)))
        if reason:
            entry = bench.move_book(job, other, reason, act_of(ctx))
            tell(f"entry {entry.number}: the job goes on by revision {other.head['revision']}")
        else:
            tell("a look only; move the job with --reason")
