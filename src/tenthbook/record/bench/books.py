"""The second reading of a book's rows, over a store.

Each engine type has a stream of its own for its book, beside the jobs. It holds what was read again, row by row, by
the digest of the row as it stood; no job and no pinned book changes by it.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from typing import Any

from tenthbook.numbers.because import BookRow, Fault, Refused, WrongInput
from tenthbook.record.book import Book, TypedRow
from tenthbook.record.book.cells import read_cells
from tenthbook.record.book.findings import At, Finding
from tenthbook.record.ledger import Entry, NoSuchStream, Store, draft_of
from tenthbook.record.proofread import BOOK_KINDS, Overlay, admit_reading, compare_again, compared_columns, fold_overlay
from tenthbook.record.workup import WorkUp

PREFIX = "book."  # of the streams that hold what was read again of a book


def stream_of(head: Mapping[str, str | bool]) -> str:
    """Name the stream of a book.

    Args:
        head: The book's head.

    Returns:
        The id of its stream, made of the engine type, and of type and manual to the letter: another manual's book has
        a stream of its own. A revision of the same manual goes on in the same one: a row that it leaves as it was,
        page included, stays read.
    """
    exact = hashlib.sha256(f"{head.get('type')}\n{head.get('manual')}".encode()).hexdigest()[:8]
    name = re.sub(r"[^a-z0-9]+", "-", str(head.get("type")).lower()).strip("-")[:40]
    return f"{PREFIX}{name}-{exact}" if name else f"{PREFIX}{exact}"


def find_row(book: Book, table: str, row: str) -> TypedRow:
    """Find a row.

    Args:
        book: The book.
        table: Its table.
        row: Its id.

    Returns:
        The row.

    Raises:
        WrongInput: no such table, or no such row in it.
    """
    if table not in book.rows:
        raise WrongInput([Fault("table", repr(table), "one of " + ", ".join(book.rows))])
    if row not in book.rows[table]:
        raise WrongInput([Fault("row", repr(row), f"an id of {table}")])
    return book.rows[table][row]


class Books:
    """A store, and the second readings recorded in it."""

    def __init__(self, store: Store) -> None:
        """Work over a store.

        Args:
            store: Any store of the ledger's interface.
        """
        self.store = store
        self._overlays: dict[str, Overlay] = {}

    def overlay(self, book: Book) -> Overlay:
        """Say what of a book was read a second time.

        Args:
            book: The book.

        Returns:
            The overlay; empty where nothing was.
        """
        stream = stream_of(book.head)
        known = self._overlays.get(stream, Overlay())
        try:
            known = self._overlays[stream] = fold_overlay(self.store.entries(stream, known.number), known)
        except NoSuchStream:
            return Overlay()
        return known

    def _record(
        self,
        stream: str,
        book: Book | None,
        kind: str,
        data: Mapping[str, Any],
        *,
        person: str,
        request: str,
        acted_at: str,
    ) -> Entry:
        standing = self.store.entries(stream) if stream in self.store.streams() else []
        seen = standing[-1].hash if standing else ""
        who = {"person": person, "request": request, "seen": seen, "acted_at": acted_at}
        proposal = draft_of(BOOK_KINDS, kind, data, **who)

        def judge(since: Any) -> None:
            entries = since(-1)
            refusals = admit_reading(fold_overlay(entries), proposal, book)
            if refusals:
                raise Refused(refusals)

        return self.store.append(stream, proposal, judge)

    def _open(self, book: Book, act: Mapping[str, str]) -> None:
        stream = stream_of(book.head)
        if stream not in self.store.streams():
            words = {"type": book.type, "manual": str(book.head["manual"]), "invented": book.invented}
            data = {"stream": stream, "installation": "bench", **words}
            self._record(stream, book, "book opened", data, **{**act, "request": f"{act['request']}.book"})

    def read_again(
        self, book: Book, row: TypedRow, cells: Mapping[str, str], act: Mapping[str, str], typed: Mapping[str, str]
    ) -> Entry:
        """Record a second, blind reading of a row.

        Args:
            book: The book.
            row: The row as it stands in it.
            cells: What was read from the page, by column; blank ones were not seen there.
            act: Person, request and time.
            typed: Who typed the row first, and on which day: `typed_by`, `typed_on`; empty where it is not known.

        Returns:
            The entry: row verified, or row disputed with the columns that differ.

        Raises:
            WrongInput: a cell that is no figure, no unit or no word of its column.
            Refused: rules the reading would break; nothing was written.
        """
        read = {name: text.strip() for name, text in cells.items() if text.strip()}
        findings: list[Finding] = []
        read_cells(At(f"{row.table}/{row.id}"), compared_columns(row.table), read, findings)
        if findings:
            raise WrongInput([one.fault for one in findings])
        self._open(book, act)
        differs = [one.column for one in compare_again(row, read)]
        data = {"table": row.table, "row": row.id, "row_digest": row.digest, "cells": read, **typed}
        kind = "row disputed" if differs else "row verified"
        return self._record(stream_of(book.head), book, kind, {**data, "differs": differs} if differs else data, **act)

    def imported(self, head: Mapping[str, str | bool], digests: Iterable[str], act: Mapping[str, str]) -> Entry | None:
        """Record that rows came from elsewhere, so that no earlier reading of them counts.

        Args:
            head: The head of the book they enter.
            digests: SHA-256 of each row.
            act: Person, request and time.

        Returns:
            The entry; None where nothing of this book was ever read again.
        """
        named = sorted(set(digests))
        stream = stream_of(head)
        if stream not in self.store.streams() or not named:
            return None
        return self._record(stream, None, "rows imported", {"digests": named}, **act)


def rows_used(work: WorkUp) -> tuple[BookRow, ...]:
    """List the rows of the book that a job's verdicts rest on.

    Args:
        work: The worked-up job.

    Returns:
        Each row once, in the order of the verdicts.
    """
    judged = [*(size.because for size in work.sizes), *(fit.because for fit in work.fits)]
    return tuple(dict.fromkeys(row for because in judged for row in because.rows))


def unread_rows(work: WorkUp, overlay: Overlay) -> tuple[BookRow, ...]:
    """List the rows that verdicts rest on and that nobody read a second time, or that are disputed.

    Args:
        work: The worked-up job.
        overlay: What was read again.

    Returns:
        The rows, in the order of the verdicts.
    """
    return tuple(row for row in rows_used(work) if not overlay.verified(row.digest))
