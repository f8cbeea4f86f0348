"""All findings of a book at once, in the order of its tables and lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tenthbook.record.book import form_rules
from tenthbook.record.book.checks import fits, limits, links, plausible, torques, units
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.tables import TABLES

CHECK_RULES = form_rules.RULES.including(
    limits.RULES, units.RULES, plausible.RULES, fits.RULES, torques.RULES, links.RULES
)
_CHECKS: tuple[Callable[[Draft], Iterator[Finding]], ...] = (
    limits.check_limits,
    units.check_units,
    plausible.check_plausible,
    fits.check_fits,
    torques.check_torques,
    links.check_links,
)
_ORDER = {name: place for place, name in enumerate(TABLES)}


def _where(finding: Finding) -> tuple[int, int]:
    file, _, line = finding.place.partition(":")
    return _ORDER.get(file.removesuffix(".csv"), -1), int(line) if line.isdigit() else 0


def check(draft: Draft) -> tuple[Finding, ...]:
    """Find everything wrong, doubtful or missing in a book.

    Args:
        draft: The book as it was written, sound or not.

    Returns:
        The findings, the head's first, then in the order of tables and lines; nothing for a book with which there is
        nothing to ask.
    """
    found = [*draft.findings, *(finding for one in _CHECKS for finding in one(draft))]
    return tuple(sorted(found, key=_where))
