"""May this be recorded, after all that follows from the job? Dispositions by their verdicts, covers by what is open.

Judged inside the store's lock, after the rules of the job itself; a refusal writes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from tenthbook.numbers.because import Refusal
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.ledger import Draft
from tenthbook.record.workup.deciding import refuse_disposition
from tenthbook.record.workup.gate_rules import CLOSED_SETTLED
from tenthbook.record.workup.gates import gate_of_cover
from tenthbook.record.workup.whole import WorkUp

BY_VERDICT = frozenset({"disposed", "cover closed"})
SHOWN = 3  # open lines that a refusal repeats


def refuse_by_verdict(book: Book, state: JobState, work: WorkUp, draft: Draft) -> tuple[Refusal, ...]:
    """Judge a proposed act by what follows from the job.

    Args:
        book: The pinned book.
        state: The job as it stands.
        work: The same, worked up.
        draft: What is proposed.

    Returns:
        Every rule it would break.
    """
    if draft.kind == "disposed":
        return tuple(refuse_disposition(book, state, work, draft.data))
    if draft.kind == "cover closed":
        return tuple(_over_open_work(book, state, work, draft.data["cover"]))
    return ()


def _over_open_work(book: Book, state: JobState, work: WorkUp, cover: str) -> Iterator[Refusal]:
    gate = gate_of_cover(book, state, work, cover)
    if gate is None:
        return
    opens = tuple(line.text for line in gate.opens)
    if not CLOSED_SETTLED.holds(opens=opens, overridden_by=gate.overridden_by):
        more = f"; and {len(opens) - SHOWN} more" if len(opens) > SHOWN else ""
        found = f"{cover} over {'; '.join(opens[:SHOWN])}{more}"
        yield Refusal(CLOSED_SETTLED.id, found, CLOSED_SETTLED.says, CLOSED_SETTLED.todo)
