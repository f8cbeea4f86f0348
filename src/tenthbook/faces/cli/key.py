"""`tenthbook key`: keys to sign with, and who vouches for them."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import click

from tenthbook.faces.cli.output import (
    act_of,
    as_enrolled,
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


@click.group(name="key")
def command() -> None:
    """Make a key to sign with, vouch for another's, revoke one that is lost."""


@command.command(name="make")
@PHRASE_FILE
@click.pass_context
def make(ctx: click.Context, phrase_file: str | None) -> None:
    """Make a key for whoever acts, closed with a phrase of their own that is not the log-in's."""
    from tenthbook.faces.store.accounts import is_log_in
    from tenthbook.numbers.because import TenthbookError
    from tenthbook.record.bench.keys import make_key
    from tenthbook.record.ledger import fingerprint

    with plain_errors():
        bench, act = open_shop(ctx), act_of(ctx)
        phrase = read_phrase(phrase_file, twice=True, prompt="New phrase, 12 signs or more")
        if is_log_in(act["person"], phrase):
            raise TenthbookError(found="the password of the log-in", expected="a phrase of the key's own")
        entry = make_key(bench.people, phrase, os.urandom, act)
        print_of_it = fingerprint(bytes.fromhex(entry.data["public_key"]))
        say(f"entry {entry.number} of the shop: key made; fingerprint {print_of_it}")
        person, first = shlex.quote(act["person"]), not bench.people.state().holders()
        who = "it is the first of this shop and endorses itself" if first else "have a second person endorse it"
        tell(f"nobody can open it without the phrase, and the phrase is kept nowhere; {who}:")
        other, says = (person, "the first key of this shop") if first else ("SOMEBODY-ELSE", "compared it face to face")
        tell(f"tenthbook --person {other} key endorse {person} --says '{says}'")


@command.command(name="endorse")
@click.argument("person")
@click.option("--says", required=True, help="How you know that the key is that person's.")
@PHRASE_FILE
@click.pass_context
def endorse_key(ctx: click.Context, person: str, says: str, phrase_file: str | None) -> None:
    """Vouch for PERSON's key with your own; the first key of a shop endorses itself."""
    from tenthbook.record.bench.keys import endorse

    with plain_errors():
        bench, act = open_shop(ctx), act_of(ctx)
        person = as_enrolled(bench, person)
        entry = endorse(bench.people, person, says, read_phrase(phrase_file), act)
        state = bench.people.state()
        say(f"entry {entry.number} of the shop: {state.key_words(person)}")


@command.command(name="revoke")
@click.argument("person")
@click.option("--reason", required=True, help="Why, such as: tablet lost.")
@click.option("--since", required=True, help="From when its signatures are not trusted, such as 2026-10-02T12:00:00Z.")
@PHRASE_FILE
@click.pass_context
def revoke_key(ctx: click.Context, person: str, reason: str, since: str, phrase_file: str | None) -> None:
    """Say that PERSON's key is no longer to be trusted."""
    from tenthbook.record.bench.keys import revoke

    with plain_errors():
        bench, act = open_shop(ctx), act_of(ctx)
        person = as_enrolled(bench, person)
        entry = revoke(bench.people, person, reason, since, read_phrase(phrase_file), act)
        say(f"entry {entry.number} of the shop: key of {person} revoked from {since}")


@command.command(name="list")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def list_keys(ctx: click.Context, as_json: bool) -> None:
    """List the keys by their fingerprints, and how each stands."""
    from tenthbook.record.ledger import fingerprint

    with plain_errors():
        shop = open_bench(ctx).people.state()
        rows = [
            {
                "person": person,
                "fingerprint": fingerprint(bytes.fromhex(key.public_key)),
                "stands": shop.standing_of(key.public_key),
                "public_key": key.public_key,
            }
            for person in shop.people
            for key in shop.keys_of(person)
        ]
        if as_json:
            say_json(rows)
        elif rows:
            say("\n".join(f"{row['person']:12} {row['fingerprint']}  {row['stands']}" for row in rows))
        else:
            say("no key yet; make one: tenthbook key make")


@command.command(name="export")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--revoked", is_flag=True, help="Also keys revoked since, to prove archives signed before that.")
@click.option("--replace", is_flag=True, help="Let a file that lies there give way.")
@click.pass_context
def export(ctx: click.Context, file: Path, revoked: bool, replace: bool) -> None:
    """Write the public keys to FILE, for `tenthbook verify --keys`; keep it away from this machine."""
    with plain_errors():
        shop = open_bench(ctx).people.state()
        wanted = {"endorsed", "first key, endorsed by itself"} | ({"revoked"} if revoked else set())
        lines = [
            f"{person} {key.public_key}\n"
            for person in shop.people
            for key in shop.keys_of(person)
            if shop.standing_of(key.public_key) in wanted
        ]
        check_free(file, replace=replace)
        write_file(file, "".join(lines).encode())
        say(str(file))
