"""One act at the bench, from what was typed to what was recorded, over any store.

- `Bench.open_job` keeps the book, opens the stream and pins the book to it;
- `Bench.record` fills in what the book knows, drafts, judges inside the store's write lock, and appends, or refuses
  with every broken rule and writes nothing;
- `Bench.state`, `book`, `work_up` and `archive` answer from what was recorded;
- `People` and `keys`: who may record what, whose key signs, where heads are anchored, what was withheld;
- `Crib`: the shop's instruments, and what a later calibration says about earlier readings;
- `signing`: the statement that somebody signs, as it is shown, and what papers say of signatures and keys;
- `history`: everything that was recorded, with what became of it beside it;
- `Books` records which rows of a book were read a second time, blind, and `unread_rows` says which verdicts rest on
  rows that were not;
- `all_rules` gathers the rules of every room into one register.

Command line, pages, the story and the tests call these same functions. The room knows the store only by the ledger's
interface, and keeps in memory nothing but the fold of what it has already read, by number, so that another process's
entries are never missed.
"""

from tenthbook.record.bench.bench import Bench, NoBook, is_job
from tenthbook.record.bench.books import PREFIX, Books, find_row, rows_used, stream_of, unread_rows
from tenthbook.record.bench.crib import TOOLS, Crib
from tenthbook.record.bench.people import SHOP, People
from tenthbook.record.bench.rules import all_rules

__all__ = [
    "PREFIX",
    "SHOP",
    "TOOLS",
    "Bench",
    "Books",
    "Crib",
    "NoBook",
    "People",
    "all_rules",
    "find_row",
    "is_job",
    "rows_used",
    "stream_of",
    "unread_rows",
]
