"""The triggers that keep the tables append-only.

SQLite runs no deletion trigger for a row that `INSERT OR REPLACE` removes, so the guard stands before the insertion
and names every key that a replacement could collide with.
"""

from __future__ import annotations

_GUARDS = {
    "ledger_entry": "id = NEW.id OR hash = NEW.hash"
    " OR (stream = NEW.stream AND (number = NEW.number OR request = NEW.request))",
    "kept_bytes": "digest = NEW.digest OR rowid = NEW.rowid",
}
_SQLITE = """
CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table}
BEGIN SELECT RAISE(ABORT, '{table} is append-only: no update'); END;
CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table}
BEGIN SELECT RAISE(ABORT, '{table} is append-only: no deletion'); END;
CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} WHEN EXISTS (SELECT 1 FROM {table} WHERE {guard})
BEGIN SELECT RAISE(ABORT, '{table} is append-only: it stands already'); END;
"""
_SQLITE_AWAY = """
DROP TRIGGER {table}_no_update; DROP TRIGGER {table}_no_delete; DROP TRIGGER {table}_no_replace;
"""


def sqlite_statements() -> tuple[str, str]:
    """Write the statements that set the triggers, and those that take them away.

    Returns:
        Two scripts for SQLite.
    """
    there = "".join(_SQLITE.format(table=table, guard=guard) for table, guard in _GUARDS.items())
    away = "".join(_SQLITE_AWAY.format(table=table) for table in _GUARDS)
    return there, away
