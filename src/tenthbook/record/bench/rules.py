"""The rules of every room in one register."""

from __future__ import annotations

from tenthbook.numbers import limit
from tenthbook.numbers.because import Register
from tenthbook.record import job, proofread, release, shop, tools
from tenthbook.record.bench import entry_of_job, overriding, signing
from tenthbook.record.book import importing
from tenthbook.record.book.checks import CHECK_RULES
from tenthbook.record.workup import deciding_rules, doubt, gate_rules, missing, undone, whereabouts


def all_rules() -> Register:
    """Gather the rules.

    Returns:
        One register; an id that two rooms gave is refused.
    """
    of_the_book = (CHECK_RULES, importing.RULES, proofread.RULES)
    return limit.RULES.including(
        job.RULES,
        doubt.RULES,
        undone.RULES,
        deciding_rules.RULES,
        gate_rules.RULES,
        whereabouts.RULES,
        missing.RULES,
        *of_the_book,
        shop.RULES,
        tools.RULES,
        release.RULES,
        signing.RULES,
        overriding.RULES,
        entry_of_job.RULES,
    )
