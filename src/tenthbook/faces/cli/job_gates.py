"""`tenthbook job where|gates|override`: where the work stands, and what is open before a cover closes."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from tenthbook.faces.cli.output import FINDINGS, act_of, open_bench, plain_errors, say, say_json, tell
from tenthbook.faces.cli.phrases import PHRASE_FILE, read_phrase

if TYPE_CHECKING:
    from tenthbook.record.workup import Gate
    from tenthbook.record.workup.whereabouts import CoverOff, Whereabouts


def _gate_lines(gate: Gate) -> Iterator[str]:
    overridden = f"; overridden by entry {gate.overridden_by}" if gate.overridden_by >= 0 else ""
    yield f"{gate.id}: {len(gate.opens)} open{overridden}"
    yield from (f"    {line.text} (rule {line.because.rule})" for line in gate.opens)


@click.command(name="gates")
@click.argument("job")
@click.option("--gate", default="", help="One gate alone, such as cover:access.pump-cover.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def gates(ctx: click.Context, job: str, gate: str, as_json: bool) -> None:
    """List what is open before each cover of JOB closes, and before its release; exit 1 while there is anything."""
    from tenthbook.record.bench.overriding import show_gate
    from tenthbook.record.workup import gates_of

    with plain_errors():
        bench = open_bench(ctx)
        state, book, work = bench.look(job)
        shown = show_gate(bench, job, gate) if gate else None
        found = (shown.gate,) if shown is not None else gates_of(book, state, work)
    if as_json:
        say_json(
            [
                {"gate": one.id, "title": one.title, "overridden_by": one.overridden_by, "opens": _opens(one)}
                for one in found
            ]
        )
    else:
        say("\n".join(line for one in found for line in _gate_lines(one)))
    if shown is not None and gate.startswith("cover:") and shown.lines:
        words = shlex.join([job, gate, "--shown", shown.digest])
        tell(f"to close it all the same, signed: tenthbook job override {words} --reason ...")
    if any(one.opens for one in found):
        raise SystemExit(FINDINGS)


def _opens(gate: Gate) -> list[dict[str, object]]:
    return [{"place": line.place, "what": line.what, "because": line.because.lines()} for line in gate.opens]


@click.command(name="override")
@click.argument("job")
@click.argument("gate")
@click.option("--shown", required=True, help="Digest of the gate as `gates --gate` showed it.")
@click.option("--reason", required=True, help="Why; it stands on every paper.")
@PHRASE_FILE
@click.pass_context
def override(ctx: click.Context, job: str, gate: str, shown: str, reason: str, phrase_file: str | None) -> None:
    """Let a cover of JOB close over what is open, and sign for it; never a release."""
    from tenthbook.record.bench.keys import opener
    from tenthbook.record.bench.overriding import override_gate

    with plain_errors():
        bench, act = open_bench(ctx), act_of(ctx)
        key = opener(bench.people, act["person"], read_phrase(phrase_file))
        entry = override_gate(bench, job, gate, shown, reason, key, act)
        say(f"entry {entry.number}: {gate} overridden by {act['person']}, {len(entry.data['opens'])} lines open")


def _cover_lines(covers: tuple[CoverOff, ...], indent: str = "    ") -> Iterator[str]:
    for one in covers:
        yield f"{indent}{one.gate.title}: {one.count} open"
        yield from (f"{indent}    {line.text}" for line in one.first)
        yield from _cover_lines(one.inside, f"{indent}    ")


def _where_lines(found: Whereabouts) -> Iterator[str]:
    yield f"last certain: {found.last.text}" if found.last is not None else "nothing done yet"
    if found.days_away:
        yield f"days away: {found.days_away}"
    if found.hand_over:
        yield found.hand_over
    yield from (f"uncertain: {line.text}" for line in found.uncertain)
    yield from (f"{'OVERDUE' if one.overdue else 'until'} {one.until}: {one.what}" for one in found.clocks)
    yield from (f"waits: {line.text}" for line in found.waits)
    if found.covers:
        yield "covers off:"
        yield from _cover_lines(found.covers)
    yield found.says


@click.command(name="where")
@click.argument("job")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def where(ctx: click.Context, job: str, as_json: bool) -> None:
    """Say where the work on JOB was left: what is certain, what is not, which clocks run, which covers are off."""
    from dataclasses import asdict

    from tenthbook.faces.store.database import utc_now
    from tenthbook.record.workup import where_was_i

    with plain_errors():
        state, book, work = open_bench(ctx).look(job)
        found = where_was_i(book, state, work, utc_now())
        if as_json:
            say_json({**asdict(found), "says": found.says})
        else:
            say("\n".join(_where_lines(found)))
