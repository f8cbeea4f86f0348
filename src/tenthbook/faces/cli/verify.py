"""`tenthbook verify`: prove an exported archive, or everything in the data folder; or find where it is broken."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from tenthbook.faces.cli.output import FINDINGS, open_bench, plain_errors, say, say_json, tell
from tenthbook.numbers.because import Fault, WrongInput

if TYPE_CHECKING:
    from tenthbook.record.ledger import Finding


def _keys(file: Path | None) -> dict[str, set[bytes]] | None:
    from tenthbook.record.ledger import read_keys

    if file is None:
        return None
    try:
        return read_keys(file.read_text(encoding="utf-8"))
    except ValueError as error:
        raise WrongInput(
            [Fault("--keys", str(error), "a person and a public key a line, as `key export` writes")]
        ) from error


def _data(finding: Finding) -> dict[str, object]:
    return {
        "answer": finding.answer,
        "where": finding.where,
        "entries": finding.entries,
        "notes": list(finding.notes),
        "head": finding.head,
    }


def _verify_archive(archive: Path, head: str | None, keys: Path | None, as_json: bool) -> bool:
    from tenthbook.faces.store.verifier_text import verifier_inside, verifier_text
    from tenthbook.record.ledger import examine, signed_message_holds

    content = archive.read_bytes()
    found = examine(content, head, _keys(keys), signed_message_holds)
    if as_json:
        say_json(_data(found))
    else:
        say("\n".join([str(found), *(f"  {note}" for note in found.notes)]))
    if found.whole and verifier_inside(content) != verifier_text():
        tell("the verifier inside the archive is not the one of this version; this answer is this version's own")
    return found.whole


def _verify_data(ctx: click.Context, heads: tuple[str, ...], keys: Path | None, as_json: bool) -> bool:
    from tenthbook.record.bench.proving import prove_store

    bench = open_bench(ctx)
    proofs = prove_store(bench.store, bench.people, heads, _keys(keys))
    if as_json:
        say_json([{"stream": one.stream, **_data(one.finding)} for one in proofs])
    for one in proofs if not as_json else []:
        say(f"{one.stream or '-'}: {one.finding}")
        for note in one.finding.notes:
            say(f"  {note}")
    if not proofs:
        tell("nothing is recorded here")
    return all(one.finding.whole for one in proofs)


@click.command(name="verify")
@click.argument("archive", type=click.Path(exists=True, dir_okay=False, path_type=Path), required=False)
@click.option("--head", multiple=True, help="Hash of an entry as a paper shows it; its first eight signs or more.")
@click.option(
    "--keys", type=click.Path(exists=True, dir_okay=False, path_type=Path), help="File of public keys kept elsewhere."
)
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def command(ctx: click.Context, archive: Path | None, head: tuple[str, ...], keys: Path | None, as_json: bool) -> None:
    """Prove ARCHIVE byte for byte; without ARCHIVE, everything in the data folder.

    The answer is "whole and matches", "whole, nothing outside proves the end", or "broken at" and where (exit 1).
    """
    with plain_errors():
        if archive is None:
            whole = _verify_data(ctx, head, keys, as_json)
        elif len(head) > 1:
            raise WrongInput([Fault("--head", f"{len(head)} heads", "one head for one archive")])
        else:
            whole = _verify_archive(archive, head[0] if head else None, keys, as_json)
    if not whole:
        raise SystemExit(FINDINGS)
