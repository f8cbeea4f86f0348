"""The acts of the bench over a store."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import replace
from functools import partial
from typing import Any

from tenthbook.numbers.because import BookRow, Refused, TenthbookError
from tenthbook.record.bench.books import PREFIX, Books, unread_rows
from tenthbook.record.bench.crib import TOOLS, Crib
from tenthbook.record.bench.filling import Filling
from tenthbook.record.bench.packing import pack_stream
from tenthbook.record.bench.people import SHOP, People
from tenthbook.record.book import Book, book_bytes, book_digest, book_from_bytes, book_of, hindering, with_rows
from tenthbook.record.job import JobState, admit, draft, fold, rows_changed, rows_of
from tenthbook.record.job.handling import admit_move
from tenthbook.record.ledger import Draft, Entry, Projected, RequestReused, Sign, Store, Withheld
from tenthbook.record.ledger.stream import Since
from tenthbook.record.workup import WorkUp, work_up
from tenthbook.record.workup.admitting import BY_VERDICT, refuse_by_verdict


class NoBook(TenthbookError):
    """A question that needs the pinned book, asked before one was pinned."""


def is_job(stream: str) -> bool:
    """Ask whether a stream is that of a job.

    Args:
        stream: Its id.

    Returns:
        False for the shop's, the tools' and those of books.
    """
    return stream not in (SHOP, TOOLS) and not stream.startswith(PREFIX)


class Bench:
    """A store, and the acts that may be done on it."""

    def __init__(self, store: Store) -> None:
        """Work over a store.

        Args:
            store: Any store of the ledger's interface.
        """
        self.store = store
        self.books = Books(store)
        self.people = People(store)
        self.crib = Crib(store, self.people)
        self._states: dict[str, JobState] = {}
        self._books: dict[str, Book] = {}
        self._worked_up: dict[str, WorkUp] = {}

    def _fold(self, stream: str, since: Since) -> JobState:
        known = self._states.get(stream, JobState())
        state = fold(since(known.number), known)
        self._states[stream] = state  # of two threads the later may leave the shorter fold: it is only folded on again
        return state

    def _book(self, state: JobState) -> Book | None:
        """The book as the job has it: as it was pinned, with the rows typed since."""
        if not state.book:
            return None
        if state.book not in self._books:
            self._books[state.book] = book_from_bytes(self.store.fetch(state.book))
        typed = state.typed_rows
        grown = f"{state.book}+{','.join(map(str, typed))}" if typed else state.book
        if grown not in self._books:
            self._books[grown] = book_of(with_rows(self._books[state.book], typed.values()), kept=True)
        return self._books[grown]

    def state(self, stream: str) -> JobState:
        """Say where a job stands.

        Args:
            stream: Id of the job.

        Returns:
            The fold of its entries.

        Raises:
            NoSuchStream: it was never opened.
        """
        return self._fold(stream, lambda after: self.store.entries(stream, after))

    def jobs(self) -> list[str]:
        """List the jobs; the streams of books are none.

        Returns:
            Their ids, sorted.
        """
        return [stream for stream in self.store.streams() if is_job(stream)]

    def book(self, stream: str) -> Book:
        """Give the book a job is pinned to.

        Args:
            stream: Id of the job.

        Returns:
            The book as it was pinned.

        Raises:
            NoBook: none is pinned yet.
        """
        return self._pinned(stream, self.state(stream))

    def _pinned(self, stream: str, state: JobState) -> Book:
        book = self._book(state)
        if book is None:
            raise NoBook(
                found=f"job {stream} without a book", expected="a pinned book", todo="pin the book for this engine"
            )
        return book

    def record(
        self,
        stream: str,
        kind: str,
        data: Mapping[str, Any],
        *,
        person: str,
        request: str,
        acted_at: str,
        seen: str | None = None,
    ) -> Entry:
        """Record one act, or refuse it.

        Args:
            stream: Id of the job.
            kind: Kind of the entry.
            data: Its fields as typed.
            person: Id of the person who acted.
            request: The client's id for this request; sent twice, it is recorded once.
            acted_at: When it was done, UTC.
            seen: Hash of the head the person saw; None where the job was read just now.

        Returns:
            The entry, durably recorded; for a reading that may be a slip, a question asked.

        Raises:
            WrongInput: fields that do not fit the kind.
            Refused: rules the act would break; nothing was written.
        """
        if not is_job(stream):
            todo = "give the job another id; this one is kept for books, people or tools"
            expected = f"an id other than {SHOP!r} and {TOOLS!r}, and not beginning with {PREFIX!r}"
            raise NoBook(found=f"job {stream}", expected=expected, todo=todo)
        if kind != "opened":
            state = self.state(stream)
            seen = state.head if seen is None else seen
            book = partial(self._pinned, stream, state)
            filling = Filling(state, book, lambda: self._work(stream, state, book()), self.crib)
            kind, data = filling.fill(kind, data, request, acted_at[:10])
        proposal = draft(kind, data, person=person, request=request, seen=seen or "", acted_at=acted_at)
        return self.append(stream, proposal)

    def append(self, stream: str, proposal: Draft, sign: Sign | None = None) -> Entry:
        """Judge a draft inside the store's lock, record it, and write what it says in the tables.

        Args:
            stream: Id of the job.
            proposal: The draft.
            sign: Signs the body, for the kinds that are signed.

        Returns:
            The entry, durably recorded.

        Raises:
            Refused: rules the act would break; nothing was written.
        """
        held: list[JobState] = []

        def judge(since: Since) -> None:
            state = self._fold(stream, since)
            book = self._book(state)
            refusals = (*admit(state, proposal, book), *self.people.refusals(proposal))
            if not refusals and book is not None and proposal.kind == "book moved":
                other = self._book(replace(state, book=str(proposal.data["digest"]), typed={}))
                refusals = tuple(admit_move(state, proposal.data, book, other)) if other is not None else ()
            if not refusals and book is not None and proposal.kind in BY_VERDICT:
                refusals = refuse_by_verdict(book, state, self._work(stream, state, book), proposal)
            if refusals:
                raise Refused(refusals)
            held.append(state)

        def project(entry: Entry) -> list[Projected]:
            held.append(fold([entry], held[-1]))
            return rows_changed(held[-1], stream, entry)

        entry = self.store.append(stream, proposal, judge, sign=sign, project=project)
        if held and held[-1].number == entry.number:
            self._states[stream] = held[-1]
        return entry

    def open_job(
        self, stream: str, book: Book, data: Mapping[str, Any], *, person: str, request: str, acted_at: str
    ) -> Entry:
        """Open a job and pin its book.

        Args:
            stream: Id of the job.
            book: The book it is judged by; it is kept in the store.
            data: Fields of the entry `opened`, without the stream's id.
            person: Id of the person who opens it.
            request: The client's id for this request.
            acted_at: When it was opened, UTC.

        Returns:
            The entry that pinned the book.
        """
        digest = book_digest(book)
        who = {"person": person, "acted_at": acted_at}
        self.store.keep(book_bytes(book))
        self.record(stream, "opened", {**data, "stream": stream}, request=request, **who)
        pinned = {"type": book.type, "revision": str(book.head["revision"]), "digest": digest}
        return self.record(stream, "book pinned", pinned, request=f"{request}.book", **who)

    def move_book(self, stream: str, book: Book, reason: str, act: Mapping[str, str]) -> Entry:
        """Let a job go on by another revision of its book.

        Args:
            stream: Id of the job.
            book: The revision; it is kept in the store.
            reason: Why, and how it was checked to be the current one.
            act: Person, request and time.

        Returns:
            The entry.

        Raises:
            Refused: another engine's book, or one without what the job uses; nothing was written.
        """
        kept = self.store.keep(book_bytes(book))
        told = {"type": book.type, "revision": str(book.head["revision"]), "digest": book_digest(book)}
        if kept != told["digest"]:
            raise NoBook(found=f"bytes {kept[:12]}", expected=f"those of the book, {told['digest'][:12]}")
        return self.record(stream, "book moved", {**told, "reason": reason}, **act)

    def type_row(
        self, stream: str, table: str, cells: Mapping[str, str], *, person: str, request: str, acted_at: str
    ) -> Entry:
        """Type a row of the manual into the book of a job.

        Args:
            stream: Id of the job.
            table: Table of the book.
            cells: The row's cells by column; blank ones state nothing.
            person: Id of the person who types it.
            request: The client's id for this request.
            acted_at: When it was typed, UTC.

        Returns:
            The entry.

        Raises:
            WrongInput: a table or a column the book does not have.
            Refused: rules the row would break; nothing was written.
        """
        filled = {name: text.strip() for name, text in cells.items() if text.strip()}
        before = self.state(stream).by_request.get(request)
        if before is not None:
            digest = str(before.data.get("digest", ""))
        else:
            draft = with_rows(self.book(stream), [(table, filled)])
            closed = hindering(draft, filled.get("id", ""))
            digest = "0" * 64 if closed else book_digest(book_of(draft, kept=True))
        data = {"table": table, "cells": filled, "digest": digest}
        return self.record(stream, "row typed", data, person=person, request=request, acted_at=acted_at)

    def typed_first(self, stream: str, table: str, row: str) -> dict[str, str]:
        """Say who typed a row first.

        Args:
            stream: Id of the job.
            table: Table of the row.
            row: Its id.

        Returns:
            `typed_by` and `typed_on`: of the entry that typed it in this job, else those of the book's head; empty
            where they are not known.
        """
        state = self.state(stream)
        for number, (name, cells) in state.typed_rows.items():
            if (name, cells.get("id")) == (table, row):
                (entry,) = [one for one in state.by_request.values() if one.number == number]
                return {"typed_by": entry.draft.person, "typed_on": entry.draft.acted_at[:10]}
        head = self.book(stream).head
        return {name: str(head.get(name, "")) for name in ("typed_by", "typed_on")}

    def look(self, stream: str) -> tuple[JobState, Book, WorkUp]:
        """Give a job, its book and what follows from them, all at one head.

        Args:
            stream: Id of the job.

        Returns:
            State, book and work-up.

        Raises:
            NoBook: none is pinned yet.
        """
        state = self.state(stream)
        book = self._pinned(stream, state)
        return state, book, self._work(stream, state, book)

    def _work(self, stream: str, state: JobState, book: Book) -> WorkUp:
        known = self._worked_up.get(stream)
        if known is None or known.head != state.head:
            known = self._worked_up[stream] = work_up(book, state, known)
        return known

    def work_up(self, stream: str) -> WorkUp:
        """Work a job up to its head.

        Args:
            stream: Id of the job.

        Returns:
            Every verdict with its reason, and what is undone.
        """
        return self.look(stream)[2]

    def unread(self, stream: str) -> tuple[BookRow, ...]:
        """List the rows that a job's verdicts rest on and that nobody read a second time, or that are disputed.

        Args:
            stream: Id of the job.

        Returns:
            The rows, in the order of the verdicts.
        """
        _, book, work = self.look(stream)
        return unread_rows(work, self.books.overlay(book))

    def issue(self, stream: str, data: Mapping[str, Any], act: Mapping[str, str], seen: str) -> Entry:
        """Record that a paper left the book, and lay the head it shows down in the shop's stream.

        Args:
            stream: Id of the job.
            data: Fields of the entry `papers issued`.
            act: Person, request and time.
            seen: Hash of the head the paper was made from.

        Returns:
            The entry.
        """
        state = self.state(stream)
        shown = next(one for one in reversed(state.entries) if one.hash == data["rests_on"])
        entry = self.record(stream, "papers issued", data, **act, seen=seen)
        self.people.anchor(stream, shown, {**act, "request": f"{act['request']}.anchor"})
        return entry

    def photograph(
        self, stream: str, salt: bytes, content: bytes, data: Mapping[str, Any], act: Mapping[str, str]
    ) -> Entry:
        """Lay a photograph beside the entries, and record it.

        Args:
            stream: Id of the job.
            salt: Random [32 bytes], used once.
            content: The photograph as it came.
            data: Fields of the entry `photographed`, but for its commitment.
            act: Person, request and time.

        Returns:
            The entry.

        Raises:
            RequestReused: another act, or another photograph, was recorded under this request id.
            Refused: rules the act would break; the bytes lie there, named by nothing.
        """
        known = self.state(stream).by_request.get(act["request"])
        named = self._photographed_before(known, content) if known else self.store.attach(salt, content)
        return self.record(stream, "photographed", {**data, "photograph_detached": named}, **act)

    def _photographed_before(self, known: Entry, content: bytes) -> str:
        """The commitment under which the same photograph lies that was sent before."""
        named = str(known.data.get("photograph_detached", ""))
        with suppress(Withheld):  # of what was taken away nobody can say any more whether it was the same
            if not named or self.store.attached(named)[1] != content:
                found = f"request {known.draft.request} on entry {known.number} ({known.kind}), and another photograph"
                raise RequestReused(found=found, expected="a new request id for a new photograph")
        return named

    def rebuild(self) -> int:
        """Drop the tables and write them anew from the entries.

        Returns:
            How many rows they hold.
        """
        counted = itertools.count()

        def rows() -> Iterator[Projected]:  # read inside the store's lock, so that nothing recorded meanwhile is missed
            for stream in self.jobs():
                for row in rows_of(self.state(stream), stream):
                    next(counted)
                    yield row

        self.store.project_anew(rows())
        return next(counted)

    def archive(self, stream: str, verifier: bytes) -> bytes:
        """Pack a stream into its archive.

        Args:
            stream: Its id.
            verifier: Text of the verifier, as released.

        Returns:
            The bytes of the ZIP.
        """
        return pack_stream(self.store, stream, verifier)
