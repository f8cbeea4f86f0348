"""The rules of every room in one register."""

from __future__ import annotations

from tenthbook.numbers import limit
from tenthbook.numbers.because import Register
from tenthbook.record import job
from tenthbook.record.workup import doubt, undone


def all_rules() -> Register:
    """Gather the rules.

    Returns:
        One register; an id that two rooms gave is refused.
    """
    return limit.RULES.including(job.RULES, doubt.RULES, undone.RULES)
