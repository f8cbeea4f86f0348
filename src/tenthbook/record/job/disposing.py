"""May this disposition be recorded? What the verdicts say of it, the work-up judges."""

from __future__ import annotations

from collections.abc import Iterator

from tenthbook.numbers.because import Refusal
from tenthbook.record.book import Book
from tenthbook.record.job.handling import admit_place
from tenthbook.record.job.handling_rules import IN_PLACE_WORD
from tenthbook.record.job.looks import looks_due
from tenthbook.record.job.standing import broken
from tenthbook.record.job.standing_rules import LOOK_FIRST, PROCEDURE, RESTS_ON_STANDING
from tenthbook.record.job.state import JobState
from tenthbook.record.ledger import Draft

SERVICEABLE = ("in new limits", "in service limits", "looked at in place")


def admit_disposition(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    """Judge a disposition.

    Args:
        state: The job as it stands.
        draft: What is proposed.
        book: The pinned book.

    Yields:
        What the act would break.
    """
    data = draft.data
    tag, part, word = data["tag"], data["part"], data["disposition"]
    yield from admit_place(state, data, book)
    yield from broken(IN_PLACE_WORD, f"{word} for {tag or part}", tag=tag, word=word)
    yield from broken(PROCEDURE, f"{word} without a procedure", word=word, procedure=data["procedure"])
    gone = tuple(one for one in data["rests_on"] if not (0 <= one <= state.number and state.counts(one)))
    yield from broken(RESTS_ON_STANDING, ", ".join(f"entry {one}" for one in gone), gone=gone)
    if tag in state.parts or part in book.parts:
        due = looks_due(state, book, state.parts[tag].part if tag else part, tag or part)
        waiting = tuple(one.row.id for one in due if one.closed_by < 0)
        found = f"{word} with {', '.join(waiting)} open"
        yield from broken(LOOK_FIRST, found, word=word, open_looks=waiting, serviceable=SERVICEABLE)
