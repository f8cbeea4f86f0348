"""The acts of the bench over a store."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tenthbook.numbers.because import Refused, TenthbookError
from tenthbook.record.book import Book, book_bytes, book_digest, book_from_bytes
from tenthbook.record.job import JobState, admit, draft, fold, next_tag, question_about
from tenthbook.record.ledger import Entry, Store, pack
from tenthbook.record.ledger.stream import Since
from tenthbook.record.workup import WorkUp, work_up


class NoBook(TenthbookError):
    """A question that needs the pinned book, asked before one was pinned."""


class Bench:
    """A store, and the acts that may be done on it."""

    def __init__(self, store: Store) -> None:
        """Work over a store.

        Args:
            store: Any store of the ledger's interface.
        """
        self.store = store
        self._states: dict[str, JobState] = {}
        self._books: dict[str, Book] = {}
        self._worked_up: dict[str, WorkUp] = {}

    def _fold(self, stream: str, since: Since) -> JobState:
        known = self._states.get(stream, JobState())
        state = fold(since(known.number), known)
        self._states[stream] = state  # of two threads the later may leave the shorter fold: it is only folded on again
        return state

    def _book(self, digest: str) -> Book | None:
        if digest and digest not in self._books:
            self._books[digest] = book_from_bytes(self.store.fetch(digest))
        return self._books.get(digest)

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

    def book(self, stream: str) -> Book:
        """Give the book a job is pinned to.

        Args:
            stream: Id of the job.

        Returns:
            The book as it was pinned.

        Raises:
            NoBook: none is pinned yet.
        """
        return self.look(stream)[1]

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
        if seen is None:
            seen = "" if kind == "opened" else self.state(stream).head
        data = self._filled(stream, kind, data, request)
        if kind == "reading taken":
            kind, data = self._asked(stream, data, request)
        proposal = draft(kind, data, person=person, request=request, seen=seen, acted_at=acted_at)

        def judge(since: Since) -> None:
            state = self._fold(stream, since)
            refusals = admit(state, proposal, self._book(state.book))
            if refusals:
                raise Refused(refusals)

        return self.store.append(stream, proposal, judge)

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

    def _asked(self, stream: str, data: Mapping[str, Any], request: str) -> tuple[str, Mapping[str, Any]]:
        """Turn a reading that may be a slip into a question; a request recorded before stays what it was."""
        before = self.state(stream).by_request.get(request)
        if before is not None and before.kind == "question asked":
            return before.kind, {**data, "asks": before.data["asks"]}
        if before is not None:
            return "reading taken", data
        question = question_about(self.state(stream), self.book(stream), data)
        return ("question asked", {**data, "asks": question}) if question else ("reading taken", data)

    def _filled(self, stream: str, kind: str, data: Mapping[str, Any], request: str) -> Mapping[str, Any]:
        """Fill in what the person need not type: the next free tag, and the digest of the row as pinned."""
        if kind == "part removed" and not data.get("tag"):
            before = self.state(stream).by_request.get(request)
            free = str(before.data.get("tag", "")) if before is not None else next_tag(self.state(stream).parts)
            return {**data, "tag": free}
        if kind == "reading taken" and "row_digest" not in data:
            size = self.book(stream).sizes.get(str(data.get("row")))
            return {**data, "row_digest": size.digest if size is not None else "0" * 64}
        return data

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
        book = self._book(state.book)
        if book is None:
            raise NoBook(
                found=f"job {stream} without a book", expected="a pinned book", todo="pin the book for this engine"
            )
        known = self._worked_up.get(stream)
        if known is None or known.head != state.head:
            known = self._worked_up[stream] = work_up(book, state)
        return state, book, known

    def work_up(self, stream: str) -> WorkUp:
        """Work a job up to its head.

        Args:
            stream: Id of the job.

        Returns:
            Every verdict with its reason, and what is undone.
        """
        return self.look(stream)[2]

    def archive(self, stream: str, verifier: bytes) -> bytes:
        """Pack a job into its archive.

        Args:
            stream: Id of the job.
            verifier: Text of the verifier, as released.

        Returns:
            The bytes of the ZIP.
        """
        entries = self.store.entries(stream)
        digest = fold(entries).book
        return pack(entries, [self.store.fetch(digest)] if digest else [], verifier)
