"""`tenthbook tool`: the shop's instruments and their calibrations."""

from __future__ import annotations

from typing import Any

import click

from tenthbook.faces.cli.output import FINDINGS, act_of, open_bench, plain_errors, say, say_json
from tenthbook.faces.cli.words import fields_of

_JSON = click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")


@click.group(name="tool")
def command() -> None:
    """Register the shop's instruments, record their calibrations, and ask how each stands."""


def _record(ctx: click.Context, kind: str, data: dict[str, Any]) -> None:
    with plain_errors():
        entry = open_bench(ctx).crib.record(kind, data, act_of(ctx))
        say(f"entry {entry.number} of the tools: {entry.kind}, {data['instrument']}")


@command.command(name="register")
@click.argument("instrument")
@click.option("--name", required=True, help="What it is, such as bore gauge.")
@click.option("--measures", required=True, help="What it can measure, such as bore, outside, depth.")
@click.option("--range", "span", default="", help="Over which sizes, such as 1 in to 2 in.")
@click.option("--resolution", default="", help="Its smallest step with its unit, such as 0.0001 in.")
@click.pass_context
def register(ctx: click.Context, instrument: str, name: str, measures: str, span: str, resolution: str) -> None:
    """Register INSTRUMENT, by the id it is marked with."""
    known = {"name": name, "measures": measures, "range": span, "resolution": resolution}
    _record(ctx, "instrument registered", {"instrument": instrument, **known})


@command.command(name="calibrated")
@click.argument("instrument")
@click.argument("fields", nargs=-1, required=True)
@click.pass_context
def calibrated(ctx: click.Context, instrument: str, fields: tuple[str, ...]) -> None:
    """Record a calibration of INSTRUMENT from its certificate, its FIELDS as NAME=VALUE.

    For instance: tenthbook tool calibrated B2 certificate=C-1041 laboratory="Test house" calibrated_on=2026-03-02
    due=2027-03-31 expanded="0.00012 in" coverage_factor=2 as_found="in tolerance"
    """
    with plain_errors():
        data = fields_of([f"instrument={instrument}", *fields])
    _record(ctx, "calibrated", data)


@command.command(name="withdraw")
@click.argument("instrument")
@click.option("--reason", required=True, help="Why.")
@click.option("--since", default="", help="From which day its readings are in doubt, such as 2026-09-14.")
@click.pass_context
def withdraw(ctx: click.Context, instrument: str, reason: str, since: str) -> None:
    """Take INSTRUMENT out of use."""
    _record(ctx, "instrument withdrawn", {"instrument": instrument, "reason": reason, "since": since})


@command.command(name="return")
@click.argument("instrument")
@click.option("--reason", required=True, help="What was done about it.")
@click.pass_context
def put_back(ctx: click.Context, instrument: str, reason: str) -> None:
    """Put INSTRUMENT back into use."""
    _record(ctx, "instrument returned to use", {"instrument": instrument, "reason": reason})


@command.command(name="list")
@_JSON
@click.pass_context
def list_tools(ctx: click.Context, as_json: bool) -> None:
    """List the instruments and how each stands today; exit 1 where one is overdue or never calibrated."""
    from tenthbook.faces.store.database import utc_now
    from tenthbook.record.tools import standing_on

    with plain_errors():
        tools = open_bench(ctx).crib.state()
        today = utc_now()[:10]
        rows = []
        for instrument in tools.instruments.values():
            stands = standing_on(tools, instrument.id, today)
            last = stands.calibration
            known = {"certificate": last.certificate, "due": last.due} if last else {"certificate": "", "due": ""}
            doubt = f"{last.expanded} at k = {last.coverage_factor}" if last else ""
            named = {"instrument": instrument.id, "name": instrument.name, "measures": instrument.measures}
            rows.append({**named, "stands": stands.word, **known, "doubt": doubt})
        if as_json:
            say_json(rows)
        for row in rows if not as_json else []:
            due = f", due {row['due']}" if row["due"] else ""
            words = f"{row['instrument']:8} {row['name']}, {row['measures']}: {row['stands']}{due}"
            say(f"{words}; {row['doubt']}" if row["doubt"] else words)
        if not rows and not as_json:
            say("no instrument yet; register one: tenthbook tool register ID --name ... --measures ...")
    if any(row["stands"] in ("overdue", "never calibrated") for row in rows):
        raise SystemExit(FINDINGS)


@command.command(name="doubts")
@click.argument("job")
@_JSON
@click.pass_context
def doubts(ctx: click.Context, job: str, as_json: bool) -> None:
    """Say which readings of JOB a later calibration or withdrawal put in doubt; exit 1 where there is one."""
    with plain_errors():
        bench = open_bench(ctx)
        lines = bench.crib.findings(bench.state(job))
        if as_json:
            say_json(lines)
        else:
            say("\n".join(lines) or "no reading of this job is in doubt by its gauge")
    if lines:
        raise SystemExit(FINDINGS)
