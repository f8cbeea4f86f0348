"""What is decided about limits, as rules with their cases."""

from __future__ import annotations

from fractions import Fraction

from tenthbook.numbers.because import Register, Rule
from tenthbook.numbers.limit.bands import Band, Limits
from tenthbook.numbers.limit.grades import Grade, judge, worst
from tenthbook.numbers.quantity import quantity

RULES = Register()


def _limits(new: tuple[str, str], service: tuple[str, str]) -> Limits:
    def band(pair: tuple[str, str]) -> Band:
        lower, upper = (quantity(f"{text} in") if text else None for text in pair)
        return Band(lower, upper)

    return Limits(band(new), band(service))


def _graded(value: str, new: tuple[str, str], service: tuple[str, str], grade: Grade) -> bool:
    return judge(quantity(f"{value} in").exact, _limits(new, service)).grade is grade


_NEW, _SERVICE = ("0.5108", "0.5114"), ("0.5098", "")

IN_NEW = RULES.add(
    Rule(
        id="limit.new",
        says="A value from the least to the greatest new limit is in new limits; on the limit is within it.",
        source="a part at its limit is acceptable: common practice, read in a published repair manual's general rules",
        holds=lambda value: _graded(value, _NEW, _SERVICE, Grade.NEW),
        passes={"value": "0.5108"},
        fails={"value": "0.51079"},
    )
)
IN_SERVICE = RULES.add(
    Rule(
        id="limit.service",
        says="A value outside new limits and from the least to the greatest service limit is in service limits; "
        "a service side left blank keeps the new limit of that side.",
        source="rule of this book",
        holds=lambda value: _graded(value, _NEW, _SERVICE, Grade.SERVICE),
        passes={"value": "0.5098"},
        fails={"value": "0.5115"},
    )
)
BEYOND = RULES.add(
    Rule(
        id="limit.beyond",
        says="A value outside the service limits is beyond them, by the exact difference, however small.",
        source="rule of this book",
        holds=lambda value: _graded(value, _NEW, _SERVICE, Grade.REJECT),
        passes={"value": "0.5094"},
        fails={"value": "0.5098"},
        todo="decide what becomes of the part; nothing beyond a limit goes back as it is",
    )
)
NO_LIMIT = RULES.add(
    Rule(
        id="limit.none",
        says="Where the book gives no limit the verdict is no limit: not nought, and not passed.",
        source="rule of this book; blank cells and dashes in published tables mean that no limit is given",
        holds=lambda value, new: _graded(value, new, ("", ""), Grade.NO_LIMIT),
        passes={"value": "0.4966", "new": ("0.4985", "0.4995")},
        fails={"value": "0.4990", "new": ("0.4985", "0.4995")},
        todo="look whether a fit that names this size settles it; else hold the part and ask the holder of the data",
    )
)
WORST = RULES.add(
    Rule(
        id="limit.worst",
        says="The worst verdict rules: a fit that passes does not save a part that fails its own limit.",
        source="rule of this book",
        holds=lambda grades, ruling: worst(grades) is ruling,
        passes={"grades": (Grade.SERVICE, Grade.REJECT), "ruling": Grade.REJECT},
        fails={"grades": (Grade.SERVICE, Grade.REJECT), "ruling": Grade.SERVICE},
    )
)
EXACT = RULES.add(
    Rule(
        id="limit.exact",
        says="Sizes are compared as typed, in exact numbers, never in binary fractions.",
        source="rule of this book; hole 2.0045 less shaft 2.0020 is 0.0025 and within a greatest of 0.0025",
        holds=lambda hole, shaft, greatest: Fraction(hole) - Fraction(shaft) <= Fraction(greatest),
        passes={"hole": "2.0045", "shaft": "2.0020", "greatest": "0.0025"},
        fails={"hole": "2.0046", "shaft": "2.0020", "greatest": "0.0025"},
    )
)
RULE_OF_GRADE = {Grade.NEW: IN_NEW, Grade.SERVICE: IN_SERVICE, Grade.REJECT: BEYOND, Grade.NO_LIMIT: NO_LIMIT}
