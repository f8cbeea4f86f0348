"""Do the tables of a book fit together: names, circles, covers, joints, views, and rows nothing uses yet?

Goes in: a draft. Comes out: findings, by the rules of `link_rules`. It walks each table a few times, whatever the
rows say, so a book of thousands of rows is checked in a fraction of a second.
"""

from __future__ import annotations

from collections.abc import Iterator

from tenthbook.record.book.checks.circles import check_circles
from tenthbook.record.book.checks.covers import check_covers
from tenthbook.record.book.checks.joints import check_joints
from tenthbook.record.book.checks.link_rules import RULES
from tenthbook.record.book.checks.naming import check_names_of_rows, named_by
from tenthbook.record.book.checks.running import check_running
from tenthbook.record.book.checks.unused import check_unused
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding

__all__ = ["RULES", "check_links"]


def check_links(draft: Draft) -> Iterator[Finding]:
    """Find what the tables of a book owe each other.

    Args:
        draft: The book as it was written.

    Yields:
        A finding each.
    """
    named = named_by(draft)
    yield from check_names_of_rows(draft, named)
    yield from check_circles(draft)
    yield from check_covers(draft, named)
    yield from check_joints(draft)
    yield from check_running(draft)
    yield from check_unused(draft, named)
