"""`tenthbook user`: who works here, in which role, with which log-in."""

from __future__ import annotations

import json
import os
import shlex
from collections.abc import Mapping
from contextlib import suppress
from typing import TYPE_CHECKING, Any

import click

from tenthbook.faces.cli.output import (
    ENROL_YOURSELF,
    act_of,
    as_enrolled,
    open_bench,
    open_shop,
    plain_errors,
    say,
    say_json,
    tell,
)
from tenthbook.faces.cli.phrases import read_phrase

if TYPE_CHECKING:
    from tenthbook.record.bench import Bench

_ROLE = click.option(
    "--role",
    "roles",
    multiple=True,
    required=True,
    type=click.Choice(["mechanic", "inspector", "owner", "administrator"]),
    help="What the person may do; may be given more than once.",
)
_PASSWORD = click.option("--password-file", help="File whose first line is the password, or - for standard input.")


@click.group(name="user")
def command() -> None:
    """Enrol the people of the shop, change their roles, give them log-ins.

    The first person enrols themselves, as administrator. A person is one person under whatever account: keys and second
    looks go by the person.
    """


def _details(bench: Bench, name: str, licence: str) -> str:
    """Lay who a person is beside the entries, where it can be withheld."""
    if not name and not licence:
        return ""
    told = json.dumps({"licence": licence, "name": name}, ensure_ascii=False, sort_keys=True)
    return bench.store.attach(os.urandom(32), told.encode("utf-8"))


def _judge_first(shop: str, data: Mapping[str, Any], act: Mapping[str, str]) -> None:
    """Refuse the first person of a shop before it is opened, so that nothing is written on a refusal."""
    from tenthbook.record.bench.people import People
    from tenthbook.record.ledger import MemoryStore

    rehearsed = People(MemoryStore(lambda: act["acted_at"]))
    rehearsed.open(shop, act)
    rehearsed.judge("person enrolled", data, {**act, "request": f"{act['request']}.person"})


@command.command(name="add")
@click.argument("person")
@_ROLE
@click.option("--name", default="", help="Full name; it lies beside the entry and may be withheld by law.")
@click.option("--licence", default="", help="Kind and number of the licence; likewise.")
@click.option("--shop", default="Workshop", show_default=True, help="Name of the shop, where this is its first person.")
@click.pass_context
def add(ctx: click.Context, person: str, roles: tuple[str, ...], name: str, licence: str, shop: str) -> None:
    """Enrol PERSON, by the id that stands on entries."""
    with plain_errors():
        bench, act = open_bench(ctx), act_of(ctx)
        people = bench.people
        data = {"person": person, "roles": list(roles)}
        if people.state().number < 0:
            _judge_first(shop, data, act)
            people.open(shop, {**act, "request": f"{act['request']}.shop"})
        people.judge("person enrolled", data, act)
        entry = people.record("person enrolled", {**data, "details_detached": _details(bench, name, licence)}, act)
        say(f"entry {entry.number} of the shop: {person} enrolled as {', '.join(roles)}")
    tell(f"to sign, {person} makes a key: tenthbook --person {shlex.quote(person)} key make")


@command.command(name="list")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def list_people(ctx: click.Context, as_json: bool) -> None:
    """List the people of the shop, how their keys stand, and whether they can log in."""
    from tenthbook.faces.store.accounts import log_ins

    with plain_errors():
        shop = open_bench(ctx).people.state()
        accounts = log_ins()
        rows = [
            {
                "person": one.id,
                "roles": list(one.roles),
                "left": one.left is not None,
                "log_in": accounts.get(one.id, False),
                "key": shop.key_words(one.id),
            }
            for one in shop.people.values()
        ]
        if as_json:
            say_json(rows)
        for row in rows if not as_json else []:
            here = "left" if row["left"] else "log-in open" if row["log_in"] else "no log-in"
            say(f"{row['key']}; {here}")
        if not rows and not as_json:
            say(f"nobody yet; {ENROL_YOURSELF}")


@command.command(name="roles")
@click.argument("person")
@_ROLE
@click.option("--reason", required=True, help="Why.")
@click.pass_context
def change_roles(ctx: click.Context, person: str, roles: tuple[str, ...], reason: str) -> None:
    """Give PERSON other roles from now on."""
    with plain_errors():
        bench = open_shop(ctx)
        person = as_enrolled(bench, person)
        data = {"person": person, "roles": list(roles), "reason": reason}
        entry = bench.people.record("roles changed", data, act_of(ctx))
        say(f"entry {entry.number} of the shop: {person} is {', '.join(roles)}")


@command.command(name="leave")
@click.argument("person")
@click.option("--reason", required=True, help="Why.")
@click.pass_context
def leave(ctx: click.Context, person: str, reason: str) -> None:
    """Record that PERSON works here no more, and close the log-in; what they recorded and signed stands."""
    from tenthbook.faces.store.accounts import close_log_in

    with plain_errors():
        bench = open_shop(ctx)
        person = as_enrolled(bench, person)
        entry = bench.people.record("person left", {"person": person, "reason": reason}, act_of(ctx))
        close_log_in(person)
        say(f"entry {entry.number} of the shop: {person} has left; the log-in is closed")


def _opens_a_key(bench: Bench, person: str, word: str) -> bool:
    from tenthbook.record.ledger import WrongPhrase, open_key

    for box in bench.store.boxes(person):
        with suppress(WrongPhrase):
            open_key(box, word)
            return True
    return False


@command.command(name="password")
@click.argument("person")
@_PASSWORD
@click.pass_context
def password(ctx: click.Context, person: str, password_file: str | None) -> None:
    """Set the password of PERSON's log-in, 12 signs or more; it opens pages and signs nothing."""
    from tenthbook.faces.store.accounts import set_log_in
    from tenthbook.numbers.because import TenthbookError

    with plain_errors():
        bench = open_bench(ctx)
        person = as_enrolled(bench, person)
        if not bench.people.state().works_here(person):
            todo = f"enrol them first: tenthbook user add {shlex.quote(person)} --role ..."
            raise TenthbookError(
                found=f"{person}, who is not enrolled here", expected="a person of the shop", todo=todo
            )
        word = read_phrase(password_file, twice=True, prompt="New password, 12 signs or more")
        if _opens_a_key(bench, person, word):
            raise TenthbookError(found=f"the phrase of a key of {person}", expected="a password of the log-in's own")
        set_log_in(person, word)
        say(f"log-in of {person} is open")
