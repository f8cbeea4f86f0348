"""What stands at the head of every paper: which job, which book, and the head of the ledger it was made from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from tenthbook.numbers.because import BookRow
from tenthbook.record.bench import Bench
from tenthbook.record.bench.signing import RecordWords, record_words
from tenthbook.record.book import Book, book_digest
from tenthbook.record.job import JobState
from tenthbook.record.proofread import Overlay
from tenthbook.record.workup import WorkUp


@dataclass(frozen=True, slots=True)
class JobAtHead:
    """A job at one head, as papers are made from it.

    Attributes:
        job: Its id.
        book: The book as the job has it.
        state: The job.
        work: The same, worked up.
        unread: Rows that verdicts rest on and that nobody read a second time.
        record: Who signed what, by which keys, and what of the record asks to be looked at.
        read_again: What of the book was read a second time.
    """

    job: str
    book: Book
    state: JobState
    work: WorkUp
    unread: Sequence[BookRow] = ()
    record: RecordWords = field(default_factory=RecordWords)
    read_again: Overlay = field(default_factory=Overlay)


def at_head(bench: Bench, job: str) -> JobAtHead:
    """Look at a job as papers need it.

    Args:
        bench: The bench.
        job: Its id.

    Returns:
        The job at its head.
    """
    state, book, work = bench.look(job)
    overlay = bench.books.overlay(book)
    return JobAtHead(job, book, state, work, bench.unread(job), record_words(bench, job), overlay)


def heading_of(at: JobAtHead) -> dict[str, Any]:
    """Gather what stands at the head and the foot of a paper.

    Args:
        at: The job at its head.

    Returns:
        Text by name, finished for printing; `invented` as true or false.
    """
    head, state = at.book.head, at.state
    return {
        "job": at.job,
        "engine": state.opened["engine"],
        "reason": state.opened["reason"],
        "scope": state.opened["scope"],
        "invented": state.opened["invented"],
        "manual": str(head["manual"]),
        "revision": str(head["revision"]),
        "book_digest": book_digest(at.book),
        "head": state.head,
        "number": str(state.number),
    }
