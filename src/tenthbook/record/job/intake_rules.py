"""The rules for what is settled when the engine comes in, each with its source and its two cases.

In the register of `rules`.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from tenthbook.numbers.because import Rule
from tenthbook.record.job.money import money
from tenthbook.record.job.rules import RULES, as_measured

_OWN = "rule of this book"
_TRADE = "common practice, no source"


def _hours(text: str) -> Fraction | None:
    read = as_measured(text)
    return read.exact if read is not None and read.unit.kind == "time" and read.number >= 0 else None


def _times_stated(total: str, since_overhaul: str) -> bool:
    whole, since = _hours(total), _hours(since_overhaul) if since_overhaul else Fraction(0)
    return whole is not None and since is not None and since <= whole


def _within(ceiling: str, prices: tuple[str, ...]) -> bool:
    limit, asked = money(ceiling), [money(price) for price in prices]
    if limit is None:
        return not ceiling
    amounts = [one.amount for one in asked if one is not None and one.currency == limit.currency]
    return len(amounts) == len(asked) and sum(amounts, Decimal(0)) <= limit.amount


COVERS_EVENTS = RULES.add(
    Rule(
        id="scope.covers-events",
        says="The scope holds the inspection that each event forces which happened, or which nobody can rule out.",
        source=_TRADE,
        holds=lambda events, covers: set(events) <= set(covers),
        passes={"events": ("propeller strike",), "covers": ("propeller strike",)},
        fails={"events": ("propeller strike",), "covers": ()},
        todo="agree a scope that holds the inspection after the event, as the engine's manual asks for it",
    )
)
TIMES_STATED = RULES.add(
    Rule(
        id="times.stated",
        says="Running times are times with their unit, and the time since overhaul is not above the total.",
        source=_OWN,
        holds=_times_stated,
        passes={"total": "1840.5 h", "since_overhaul": "640 h"},
        fails={"total": "640 h", "since_overhaul": "1840.5 h"},
        todo="read both again from the log; leave the time since overhaul out where it is not known",
    )
)
PRICE_READ = RULES.add(
    Rule(
        id="price.read",
        says="A price is a number with a currency of three letters.",
        source=_OWN,
        holds=lambda price: money(price) is not None,
        passes={"price": "340.00 EUR"},
        fails={"price": "340"},
        todo="write it as 340.00 EUR",
    )
)
WITHIN_CEILING = RULES.add(
    Rule(
        id="price.within-ceiling",
        says="What the owner approved in all stays within the ceiling that was named last, in one currency.",
        source=_OWN,
        holds=_within,
        passes={"ceiling": "1200.00 EUR", "prices": ("340.00 EUR", "860.00 EUR")},
        fails={"ceiling": "1200.00 EUR", "prices": ("340.00 EUR", "860.01 EUR")},
        todo="ask the owner for a higher ceiling first, and record it as owner approved",
    )
)
ANSWERED_ONCE = RULES.add(
    Rule(
        id="entry.answered-once",
        says="What was priced, sent out or listed is answered once, by naming its entry.",
        source=_OWN,
        holds=lambda entry, waiting: entry in waiting,
        passes={"entry": 7, "waiting": (7, 9)},
        fails={"entry": 8, "waiting": (7, 9)},
        todo="name one that waits; to change an answer, withdraw it first",
    )
)
SHOWN_BY = RULES.add(
    Rule(
        id="price.shown-by",
        says="Extra work names the entry that shows why: a finding, a reading, a look, a disposition.",
        source=_OWN,
        holds=lambda kind, counts: (
            counts
            and kind
            in ("finding seen", "reading taken", "inspected", "crack-tested", "disposed", "noted", "question asked")
        ),
        passes={"kind": "finding seen", "counts": True},
        fails={"kind": "opened", "counts": True},
        todo="record what was seen first, then price the work it asks for",
    )
)
SUPERVISED = RULES.add(
    Rule(
        id="task.supervised",
        says="Whoever does a task for the first time is supervised by another person who has done it.",
        source="14 CFR 65.81(a), in general words (read)",
        holds=lambda before, worker, supervisor: before == "done before" or supervisor not in ("", worker),
        passes={"before": "first time", "worker": "helper", "supervisor": "mechanic"},
        fails={"before": "first time", "worker": "helper", "supervisor": ""},
        todo="name who stands beside you; without one the task waits",
    )
)
