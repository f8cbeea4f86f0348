"""Where the entries are kept: Django's ORM on SQLite, and nothing else knows it.

- `models`: an entry and a piece of kept bytes as rows;
- `migrations`: the tables and their triggers: no change, no deletion, no replacing insertion;
- `database`: `DjangoStore`, the ledger's interface over those rows, and `open_store`, which makes a folder's database
  ready;
- `settings`: SQLite as this book needs it.

What was acknowledged is on disk: the write lock is taken when a transaction begins (IMMEDIATE), the log is written
ahead (WAL) and synced at each commit (synchronous FULL). The triggers are seat belts: they stop slips and careless
tools, not somebody who can change the file itself; that is found by the chain of hashes.
"""
