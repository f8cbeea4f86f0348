"""Is each cover opened, in the right order, and closed again?

The order of steps is what they say under `after`, and the order of the phases of the job; the order of the lines is no
order. A cover opened twice is closed twice.

Goes in: a draft. Comes out: findings, by the rules of `link_rules`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from tenthbook.record.book.checks import link_rules
from tenthbook.record.book.checks.graphs import Before, walk
from tenthbook.record.book.checks.naming import Named
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.book.tables_of_assembly import PHASES

_RANKS = {phase: rank for rank, phase in enumerate(PHASES)}


def _order_of(draft: Draft) -> Before[str]:
    waits = {row.id: row.several("after") for row in draft.of("steps")}
    ranks = {row.id: _RANKS[row.values["phase"]] for row in draft.of("steps") if "phase" in row.values}
    return Before(waits, walk(waits).order, ranks)


def _steps_by_cover(draft: Draft, column: str) -> dict[str, list[TypedRow]]:
    by_cover: dict[str, list[TypedRow]] = defaultdict(list)
    for row in draft.of("steps"):
        for cover in row.several(column):
            by_cover[cover].append(row)
    return by_cover


def _list(rows: Iterable[TypedRow]) -> str:
    return ", ".join(row.id for row in rows)


def _opened_before(order: Before[str], openers: Iterable[TypedRow], step: TypedRow) -> list[str]:
    """The steps that opened a cover before a step, that step itself among them."""
    return [opener.id for opener in openers if opener is step or order.is_before(opener.id, step.id)]


def _closed(draft: Draft, order: Before[str]) -> Iterator[Finding]:
    opens, closes = _steps_by_cover(draft, "opens"), _steps_by_cover(draft, "closes")
    for cover in draft.rows["access"]:
        openers, closers = opens.get(cover, []), closes.get(cover, [])
        for step in openers:
            after = [closer.id for closer in closers if closer is step or order.is_before(step.id, closer.id)]
            found = f"{cover}, closed by {_list(closers) or 'no step'}" + (", not after it" if closers else "")
            yield from step.at.try_rule(
                link_rules.COVER_CLOSED, "opens", found, "a later step that closes it", answered_by=after
            )
        for step in closers:
            before = _opened_before(order, openers, step)
            found = f"{cover}, opened by {_list(openers) or 'no step'}" + (", not before it" if openers else "")
            yield from step.at.try_rule(
                link_rules.COVER_CLOSED,
                "closes",
                found,
                "an earlier step that opens it",
                answered_by=before,
            )


def _in_turn(draft: Draft, order: Before[str]) -> Iterator[Finding]:
    opens = _steps_by_cover(draft, "opens")
    for cover in draft.of("access"):
        outer = opens.get(cover.text("behind"), [])
        for step in opens.get(cover.id, []) if outer and cover.text("behind") != cover.id else ():
            found = f"{cover.id}, behind {cover.text('behind')}, which {_list(outer)} opens, not before it"
            yield from step.at.try_rule(
                link_rules.COVER_ORDER,
                "opens",
                found,
                opened_before=_opened_before(order, outer, step),
            )


def check_covers(draft: Draft, named: Named) -> Iterator[Finding]:
    """Find covers that are not opened, not closed, or opened out of turn.

    Args:
        draft: The book.
        named: What each column of it names.

    Yields:
        A finding each; none in a book that has no steps yet.
    """
    if not draft.rows["steps"]:
        return
    hiding = named.get(("parts", "behind"), set()) | named.get(("access", "behind"), set())
    opened = named.get(("steps", "opens"), set())
    for row in draft.of("access"):
        if row.id in hiding:
            yield from row.at.try_rule(
                link_rules.COVER_OPENED, "id", f"no step that opens {row.id}", cover=row.id, opened=opened
            )
    order = _order_of(draft)
    yield from _closed(draft, order)
    yield from _in_turn(draft, order)
