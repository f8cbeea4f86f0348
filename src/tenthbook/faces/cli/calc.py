"""`tenthbook calc`: one computation by itself, JSON in, JSON out."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from tenthbook.faces.calculators.registry import NAMES, load
from tenthbook.faces.cli.output import MISUSE, say, tell
from tenthbook.numbers.because import Fault, TenthbookError, WrongInput


def _read(file: str) -> bytes:
    if file == "-":
        return sys.stdin.buffer.read()
    try:
        return Path(file).read_bytes()
    except OSError as error:
        raise WrongInput(
            [Fault(file, error.strerror or "nothing that can be read", "a file with one JSON object")]
        ) from error


def _answer(name: str, file: str, example: bool, schema: bool) -> str:
    from tenthbook.faces.calculators.answers import to_json
    from tenthbook.faces.calculators.contract import parse

    calculator = load(name)
    if example:
        return to_json(calculator.shown_example())
    if schema:
        return to_json(calculator.schema())
    return to_json(calculator.run(parse(_read(file))))


@click.command(name="calc")
@click.argument("name", required=False)
@click.argument("file", default="-")
@click.option("--list", "listing", is_flag=True, help="List the calculators.")
@click.option("--example", is_flag=True, help="Print the published example: id, source, input, output.")
@click.option("--schema", is_flag=True, help="Print the forms of input and output as JSON Schema.")
@click.option("--json", "as_json", is_flag=True, help="List as JSON; answers are JSON anyway.")
def command(name: str | None, file: str, listing: bool, example: bool, schema: bool, as_json: bool) -> None:
    """Compute NAME on one JSON object from FILE, or from standard input.

    An object {"batch": [...]} computes many at once. A quantity is text with its unit, such as "1.2497 in".
    """
    if listing:
        rows = [{"name": known, "answers": listed.answers} for known, listed in NAMES.items()]
        from json import dumps

        say(dumps(rows, indent=2) if as_json else "\n".join(f"{row['name']:12} {row['answers']}" for row in rows))
        return
    if name is None:
        raise click.UsageError("found no NAME; expected one of " + ", ".join(NAMES) + ", or --list")
    try:
        say(_answer(name, file, example, schema))
    except TenthbookError as error:
        tell(str(error))
        raise SystemExit(MISUSE) from error
