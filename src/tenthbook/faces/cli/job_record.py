"""`tenthbook job history|correct|photograph|photo|review|sign`: what was recorded, mended, shown and signed."""

from __future__ import annotations

import os
import shlex
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tenthbook.faces.cli.output import (
    FINDINGS,
    act_of,
    check_free,
    open_bench,
    open_shop,
    plain_errors,
    say,
    say_json,
    tell,
    write_file,
)
from tenthbook.faces.cli.phrases import PHRASE_FILE, read_phrase
from tenthbook.faces.cli.words import fields_of, numbers_of

if TYPE_CHECKING:
    from tenthbook.record.bench import Bench
    from tenthbook.record.bench.history import HistoryLine

_ENTRIES = click.option("--entries", required=True, help="Numbers of the acts, such as 5,8-12.")
_AS_WHAT = click.option(
    "--as",
    "as_what",
    type=click.Choice(["own work", "second look"]),
    default="own work",
    show_default=True,
    help="What the signature says.",
)
_SUPERSEDES = click.option("--supersedes", type=int, default=-1, help="Number of the signature it takes the place of.")


def _history_lines(line: HistoryLine) -> list[str]:
    kept = "" if line.counts else "  (does not count)"
    head = f"{line.number:5}  {line.acted_at}  {line.person}: {line.kind}{kept}"
    told = [f"       {line.told}"] if line.told else []
    return [head, *told, *(f"       -> {mark}" for mark in line.marks)]


def _history(bench: Bench, stream: str) -> list[HistoryLine]:
    from tenthbook.numbers.because.errors import one_line
    from tenthbook.record.bench import is_job
    from tenthbook.record.bench.history import HistoryLine, history, told

    if is_job(stream):
        return history(bench.state(stream))
    lines = []
    for one in bench.store.entries(stream):  # nothing is reckoned of those: each line is the entry as it was recorded
        who, words = one_line(one.draft.person), one_line(told(one.data))
        when = (one.draft.acted_at, one.recorded_at)
        lines.append(HistoryLine(one.number, one.kind, who, *when, words, marks=(), counts=True, hash=one.hash))
    return lines


@click.command(name="history")
@click.argument("job")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def show_history(ctx: click.Context, job: str, as_json: bool) -> None:
    """Show everything recorded in JOB, with what became of it beside it; or all of "shop", "tools" or a book."""
    with plain_errors():
        lines = _history(open_bench(ctx), job)
        if as_json:
            say_json([{**asdict(line), "marks": list(line.marks)} for line in lines])
            return
        for line in lines:
            say("\n".join(_history_lines(line)))
        say(f"head {lines[-1].hash}")


@click.command(name="correct")
@click.argument("job")
@click.argument("entry", type=int)
@click.argument("fields", nargs=-1, required=True)
@click.option("--reason", required=True, help="Why it was wrong.")
@click.pass_context
def correct(ctx: click.Context, job: str, entry: int, fields: tuple[str, ...], reason: str) -> None:
    """Let other FIELDS, as NAME=VALUE, count in the place of ENTRY of JOB; the entry itself stays visible.

    For instance: tenthbook job correct 0417 12 value="0.5094 in" --reason "read one line too high"
    """
    with plain_errors():
        bench = open_bench(ctx)
        data = {"entry": entry, "fields": fields_of(fields), "reason": reason}
        made = bench.record(job, "corrected", data, **act_of(ctx))
        say(f"entry {made.number}: entry {entry} corrected")
        doubted = [number for number, by in bench.state(job).doubted.items() if made.number in by]
        if doubted:
            tell(f"in doubt since: entries {', '.join(map(str, doubted))}; look at them again, or sign anew")
        if made.data["asks"]:
            tell(f"{made.data['asks']} It does not count yet; answer with:")
            tell(f"tenthbook job record {job} 'question answered' entry={entry} answer=stands")
            raise SystemExit(FINDINGS)


@click.command(name="photograph")
@click.argument("job")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--says", required=True, help="What it shows.")
@click.option("--tag", default="", help="Tag of the part it shows.")
@click.option("--row", default="", help="Id of the book's row it shows.")
@click.pass_context
def photograph(ctx: click.Context, job: str, file: Path, says: str, tag: str, row: str) -> None:
    """Record the photograph FILE in JOB; its bytes are kept as they came."""
    from tenthbook.faces.photographs import look

    with plain_errors():
        content = file.read_bytes()
        seen = look(content)
        data = {"tag": tag, "row": row, "says": says, "media_type": seen.media_type, "taken_at": seen.taken_at}
        entry = open_bench(ctx).photograph(job, os.urandom(32), content, data, act_of(ctx))
        say(f"entry {entry.number}: {entry.kind}, {seen.width} x {seen.height}, {len(content)} bytes as they came")


@click.command(name="photo")
@click.argument("job")
@click.argument("entry", type=int)
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--original", is_flag=True, help="As it came, with all that the camera wrote into it.")
@click.option("--replace", is_flag=True, help="Let a file that lies there give way.")
@click.pass_context
def photo(ctx: click.Context, job: str, entry: int, file: Path, original: bool, replace: bool) -> None:
    """Write the photograph of ENTRY of JOB to FILE: a reduced copy without the camera's words, or the original."""
    from tenthbook.faces.photographs import reduced
    from tenthbook.numbers.because import Fault, WrongInput

    with plain_errors():
        bench = open_bench(ctx)
        shots = bench.state(job).photographs
        if entry not in shots:
            expected = "one of " + (", ".join(map(str, shots)) or "none")
            raise WrongInput([Fault("entry", str(entry), expected)])
        _, content = bench.store.attached(shots[entry].commitment)
        check_free(file, replace=replace)
        write_file(file, content if original else reduced(content))
        say(str(file))


@click.command(name="review")
@click.argument("job")
@_ENTRIES
@_AS_WHAT
@_SUPERSEDES
@click.pass_context
def review(ctx: click.Context, job: str, entries: str, as_what: str, supersedes: int) -> None:
    """Show the statement that a signature in JOB would bind, and its digest."""
    from tenthbook.record.bench.signing import state_what_is_signed

    with plain_errors():
        act = act_of(ctx)
        state = open_bench(ctx).state(job)
        statement = state_what_is_signed(state, job, act["person"], numbers_of(entries), as_what, supersedes)
        say(statement.text)
        say(f"digest {statement.digest}")
        instead = ["--supersedes", str(supersedes)] if supersedes >= 0 else []
        words = [job, "--entries", entries, "--as", as_what, *instead, "--shown", statement.digest]
        tell(f"to sign it: tenthbook job sign {shlex.join(words)}")


@click.command(name="sign")
@click.argument("job")
@_ENTRIES
@_AS_WHAT
@_SUPERSEDES
@click.option("--shown", required=True, help="Digest of the statement as `review` showed it.")
@PHRASE_FILE
@click.pass_context
def sign(
    ctx: click.Context, job: str, entries: str, as_what: str, supersedes: int, shown: str, phrase_file: str | None
) -> None:
    """Sign the statement in JOB that `review` showed, with the phrase of one's own key."""
    from tenthbook.record.bench.keys import opener
    from tenthbook.record.bench.signing import sign_statement

    with plain_errors():
        bench, act = open_bench(ctx), act_of(ctx)
        key = opener(bench.people, act["person"], read_phrase(phrase_file))
        entry = sign_statement(bench, job, shown, numbers_of(entries), as_what, key, act, supersedes)
        say(f"entry {entry.number}: signed by {act['person']} as {as_what}; head {entry.hash}")


@click.command(name="withhold")
@click.argument("job")
@click.argument("entry", type=int)
@click.option("--reason", required=True, help="Why.")
@click.option("--ground", required=True, help="The law or the order that asks it.")
@click.pass_context
def withhold(ctx: click.Context, job: str, entry: int, reason: str, ground: str) -> None:
    """Take away by law the photograph of ENTRY of JOB (or, with JOB "shop", who a person is).

    The entry stays, the chain stays whole, and papers say "withheld". Backups and archives made before still hold it.
    """
    from tenthbook.numbers.because import Fault, WrongInput

    with plain_errors():
        bench = open_shop(ctx)
        bench.people.take_away()
        entries = bench.store.entries(job)
        if not 0 <= entry < len(entries):
            raise WrongInput([Fault("entry", str(entry), f"a number from 0 to {len(entries) - 1}")])
        made = bench.people.withhold(entries[entry], job, reason, ground, act_of(ctx))
        say(f"entry {made.number} of the shop: what lay beside entry {entry} of {job} is withheld")
