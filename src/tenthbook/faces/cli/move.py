"""`tenthbook move`: carry a shop from one database to another, and prove every chain there."""

from __future__ import annotations

import shlex
import tempfile
from pathlib import Path

import click

from tenthbook.faces.cli.carrying import proved_backup, take_in, without_setting
from tenthbook.faces.cli.output import open_bench, plain_errors, say, tell


@click.command(name="move")
@click.argument("target")
@click.option("--app-role", help="Role of the server that the application will use; it gets the right to add, no more.")
@click.pass_context
def command(ctx: click.Context, target: str, app_role: str | None) -> None:
    """Carry all that is held to TARGET: the URL of a PostgreSQL server as its owner, or another data folder.

    The target must be empty. What is held here stays as it is. On a server the tables are made first, so that an empty
    shop is prepared there in the same way.
    """
    from tenthbook.faces.store.database import open_store
    from tenthbook.faces.store.folder import data_folder
    from tenthbook.faces.store.opening import grant_to
    from tenthbook.faces.store.place import SETTING
    from tenthbook.numbers.because import Fault, WrongInput
    from tenthbook.record.bench import Bench
    from tenthbook.record.ledger.backup import write_backup

    is_server = target.startswith(("postgresql:", "postgres:"))
    folder: Path = ctx.obj["data"] or data_folder()
    with plain_errors(), tempfile.TemporaryFile() as between:
        if app_role and not is_server:
            raise WrongInput([Fault("--app-role", app_role, "a PostgreSQL server as the target, which has roles")])
        with open_bench(ctx).store.holdings() as held:
            write_backup(between, held)
        with proved_backup(between) as backup:
            place = folder if is_server else Path(target)
            store = open_store(place, database=target if is_server else "")
            if app_role:  # first, so that a role that is not there leaves the target empty
                grant_to(app_role)
            take_in(Bench(store), backup)
        if app_role:
            say(f"role {app_role} may read and add entries there, and change none")
    use = f"set {SETTING} to the application's URL"
    if not is_server:
        use = f"use it with --data {shlex.quote(target)}{without_setting()}"
    tell(f"{use}; put what is held here away, so that nobody records in two places")
