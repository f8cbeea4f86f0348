"""Points Django at a database and brings its tables up to date; hands an application role on a server its rights."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Any

from tenthbook.faces.store.folder import VARIABLE
from tenthbook.faces.store.place import SETTING, NoRoom, database_of

_MAKING = 0x7E27B00C  # the number under which servers know that tables are being made
_ADDED = ("ledger_entry", "kept_bytes", "withheld_mark", "closed_key")
_REPEATED = ("reading", "disposition", "tool_use")
_ACCOUNTS = ("account", "auth_user", "auth_group", "auth_user_groups", "auth_user_user_permissions")
_READ = ("django_migrations", "django_content_type", "auth_permission", "auth_group_permissions")


def _point(settings: str, folder: Path, url: str | None) -> None:
    """Point Django at a database; a second call in one process moves it there."""
    import django
    from django.conf import settings as django_settings

    os.environ[VARIABLE] = str(folder)
    wanted = database_of(folder, url)
    if not django_settings.configured:
        os.environ["DJANGO_SETTINGS_MODULE"] = settings
        django.setup()
    from django.db import connections

    held: Any = connections.settings["default"]
    connections.close_all()
    if held["ENGINE"] != wanted["ENGINE"]:
        with suppress(AttributeError):  # none was opened here
            del connections["default"]
    empty = {"USER": "", "PASSWORD": "", "HOST": "", "PORT": "", "CONN_HEALTH_CHECKS": False}
    held.update({**empty, **wanted})
    connections["default"].settings_dict.update(held)


def _steps() -> list[str]:
    """What is still to be done to the tables."""
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    executor = MigrationExecutor(connection)
    targets: Sequence[tuple[str, str]] = executor.loader.graph.leaf_nodes()
    return [str(step) for step, _ in executor.migration_plan(targets)]


def _may_make_tables() -> bool:
    """Whether whoever asks owns the tables, or may make the first ones."""
    from django.db import connection

    if connection.vendor != "postgresql":
        return True
    owned = "SELECT pg_has_role(relowner, 'USAGE') FROM pg_class WHERE oid = to_regclass('django_migrations')"
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT has_schema_privilege(current_schema(), 'CREATE') AND COALESCE(({owned}), true)")
        return bool(cursor.fetchone()[0])


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Let one process at a time make tables, whether on this machine or on another that has the same server."""
    from django.db import connection

    with ExitStack() as held:
        with suppress(ImportError):  # a system without such locks
            import fcntl

            place = os.open(folder, os.O_RDONLY)
            held.callback(os.close, place)
            fcntl.flock(place, fcntl.LOCK_EX)
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SELECT pg_advisory_lock(%s)", [_MAKING])
                held.callback(connection.close)  # which lets go of it
        yield


def _bring_up_to_date(folder: Path) -> None:
    from django.core.management import call_command

    if not (steps := _steps()):
        return
    if not _may_make_tables():
        todo = "open the book once as the owner of the tables, with the owner's setting; then again as this one"
        found = f"tables that lack {len(steps)} steps, and a role that may not make them"
        raise NoRoom(found=found, expected="tables that are up to date, or the role that owns them", todo=todo)
    with _alone(folder):
        if _steps():
            call_command("migrate", interactive=False, verbosity=0)


def prepare(folder: Path, settings: str, url: str | None) -> None:
    """Make a folder and a database ready.

    Args:
        folder: Where the data lie; made where it is missing.
        settings: Django settings module to start with.
        url: The setting; that of the environment without it.

    Raises:
        NoRoom: the folder or the database cannot be made or written, or the role may not bring the tables up to date.
    """
    from django.core.exceptions import ImproperlyConfigured
    from django.db import DatabaseError, InterfaceError

    on_server = database_of(folder, url)["ENGINE"].endswith("postgresql")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _point(settings, folder.resolve(), url)
        _bring_up_to_date(folder)
    except ImproperlyConfigured as error:
        expected = "the driver for PostgreSQL beside this book"
        raise NoRoom(found="no driver for PostgreSQL", expected=expected, todo="install tenthbook[postgres]") from error
    except (OSError, DatabaseError, InterfaceError) as error:
        words = str(error).strip().splitlines()
        why = words[0] if words else type(error).__name__
        if on_server and not isinstance(error, OSError):
            todo = f"look whether the server runs, and at {SETTING}"
            raise NoRoom(found=f"the server: {why}", expected="one that answers and may be used", todo=todo) from error
        expected = "a folder that can be written"
        raise NoRoom(found=f"{folder}: {why}", expected=expected, todo="name another with --data") from error


def grant_to(role: str) -> None:
    """Give a role of the server what the application needs, and no more.

    Entries, kept bytes, marks and closed keys it may read and add; nothing else can it do to them, triggers or not.

    Args:
        role: Name of the role, which exists.

    Raises:
        NoRoom: the database is a file, or whoever asks does not own it.
    """
    from django.db import DatabaseError, connection, transaction

    if connection.vendor != "postgresql":
        raise NoRoom(found="a database in a file", expected="a PostgreSQL server, which has roles")
    rights = [
        *((table, "SELECT, INSERT") for table in _ADDED),
        ("attached_bytes", "SELECT, INSERT, DELETE"),
        *((table, "SELECT, INSERT, UPDATE, DELETE") for table in (*_REPEATED, *_ACCOUNTS)),
        *((table, "SELECT") for table in _READ),
    ]
    try:
        with transaction.atomic(), connection.cursor() as cursor:
            named = connection.ops.quote_name(role)
            cursor.execute(f"GRANT USAGE ON SCHEMA public TO {named}")
            cursor.execute(f"GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO {named}")
            for table, what in rights:
                cursor.execute(f"REVOKE ALL ON {table} FROM {named}")
                cursor.execute(f"GRANT {what} ON {table} TO {named}")
    except DatabaseError as error:
        found = f"role {role}: {str(error).strip().splitlines()[0]}"
        raise NoRoom(found=found, expected="a role of the server, granted by the owner of the tables") from error
