"""The triggers that keep the tables append-only, on either database.

They are seat belts: whoever owns the database can take them off, and the chain tells it. SQLite runs no deletion
trigger for a row that `INSERT OR REPLACE` removes, so a guard stands before the insertion and names every key that a
replacement could collide with. Bytes beside the entries may go once a mark says that they were withheld.
"""

from __future__ import annotations

FIRST = ("ledger_entry", "kept_bytes")
SECOND = ("withheld_mark", "closed_key")
ATTACHED = "attached_bytes"
_KEYS = {
    "ledger_entry": "id = NEW.id OR hash = NEW.hash"
    " OR (stream = NEW.stream AND (number = NEW.number OR request = NEW.request))",
    "kept_bytes": "digest = NEW.digest OR rowid = NEW.rowid",
    "withheld_mark": "commitment = NEW.commitment OR rowid = NEW.rowid",
    "closed_key": "id = NEW.id",
    ATTACHED: "commitment = NEW.commitment OR rowid = NEW.rowid",
}
_MARKED = "EXISTS (SELECT 1 FROM withheld_mark WHERE commitment = OLD.commitment)"
_NO_UPDATE = """CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table}
BEGIN SELECT RAISE(ABORT, '{table} is append-only: no update'); END;
"""
_NO_DELETE = """CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} {unless}
BEGIN SELECT RAISE(ABORT, '{table} is append-only: no deletion'); END;
"""
_NO_REPLACE = """CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table}
WHEN EXISTS (SELECT 1 FROM {table} WHERE {keys})
BEGIN SELECT RAISE(ABORT, '{table} is append-only: it stands already'); END;
"""
_REFUSE = """CREATE OR REPLACE FUNCTION tenthbook_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION '% is append-only: no %', TG_TABLE_NAME, lower(TG_OP); END $$;
"""
# The mark is sought where the table stands: a temporary table of the same name would be found first.
_UNLESS_MARKED = """CREATE OR REPLACE FUNCTION tenthbook_unless_withheld() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE marked boolean;
BEGIN
  EXECUTE format('SELECT EXISTS (SELECT 1 FROM %I.withheld_mark WHERE commitment = $1)', TG_TABLE_SCHEMA)
  INTO marked USING OLD.commitment;
  IF marked THEN RETURN OLD; END IF;
  RAISE EXCEPTION '% is append-only: no deletion', TG_TABLE_NAME;
END $$;
"""
_SERVER = """CREATE TRIGGER {table}_no_change BEFORE UPDATE{and_delete} ON {table}
FOR EACH ROW EXECUTE FUNCTION tenthbook_append_only();
CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table}
FOR EACH STATEMENT EXECUTE FUNCTION tenthbook_append_only();
"""
_SERVER_ATTACHED = f"""CREATE TRIGGER {ATTACHED}_no_delete BEFORE DELETE ON {ATTACHED}
FOR EACH ROW EXECUTE FUNCTION tenthbook_unless_withheld();
"""


def statements(vendor: str, tables: tuple[str, ...]) -> str:
    """Write the statements that set the triggers of tables.

    Args:
        vendor: "sqlite" or "postgresql".
        tables: Which tables.

    Returns:
        A script for that database.
    """
    if vendor == "sqlite":
        every = _NO_UPDATE + _NO_DELETE + _NO_REPLACE
        unless = {ATTACHED: f"WHEN NOT {_MARKED}"}
        return "".join(every.format(table=table, keys=_KEYS[table], unless=unless.get(table, "")) for table in tables)
    plain = "".join(
        _SERVER.format(table=table, and_delete="" if table == ATTACHED else " OR DELETE") for table in tables
    )
    beside = _UNLESS_MARKED + _SERVER_ATTACHED if ATTACHED in tables else ""
    return _REFUSE + plain + beside
