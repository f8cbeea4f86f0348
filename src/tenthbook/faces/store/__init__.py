"""Where the record is kept: Django's ORM on SQLite or PostgreSQL, by one setting, and nothing else knows it.

- `place`: the setting TENTHBOOK_DATABASE, a file in the data folder or a server;
- `opening`: tables made or brought up to date by one process at a time; the rights of an application's role;
- `models`, `migrations`, `triggers`: the tables, how they came to be, and their guards: no change, no deletion, no
  replacing insertion, no emptying;
- `database`: `DjangoStore`, the ledger's interface, and `open_store`; it appends. Its parts: `tables` repeats entries
  for questions across jobs, `beside` keeps bytes and closed keys, `carrying` gives and takes all that is held;
- `rows`: an entry as a row, and back; `faults`: what is said when the database fails; `accounts`: log-ins.

What was acknowledged is on disk. On the file the write lock is taken when a transaction begins (IMMEDIATE), the log is
written ahead (WAL) and synced at each commit (synchronous FULL); on the server a lock for each stream is taken before
its head is read, and a commit waits for the disk (synchronous_commit). What was withheld is overwritten in the file and
its log; a server keeps such bytes in freed pages, its log and its backups until it writes over them.

The triggers are seat belts: they stop slips and careless tools, not somebody who can change the file itself; that is
found by the chain of hashes.
"""
