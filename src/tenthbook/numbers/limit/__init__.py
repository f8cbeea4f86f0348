"""On which side of a limit a value lies, exactly, and what that is called.

- `bands`: a pair of limits as printed (`Band`, `Limits`) and many of them at once as arrays (`Bands`); how a service
  limit with one side blank takes that side from the new limits;
- `grades`: the five grades, the plain one and the one that minds the gauge's doubt, and which of several is the worst;
- `kinds`: the twelve ways a manual states a limit, kept as printed;
- `resolving`: what a statement comes to for one part, with its arithmetic;
- `rules`: what is decided here, as rules with their cases.

On the limit is within it. A blank is no limit, and no limit is not nought: a value that no limit judges is graded `no
limit`, never passed. Everything works over arrays of whole
picometres, or of exact fractions.
"""

from tenthbook.numbers.limit.bands import Band, Bands, Limits, NotABand, bands, service_bands
from tenthbook.numbers.limit.grades import (
    Grade,
    Verdict,
    grade_one,
    grade_plainly,
    grade_with_doubt,
    judge,
    margins_of,
    worst,
)
from tenthbook.numbers.limit.resolving import Known, Missing, Resolved, resolve
from tenthbook.numbers.limit.rules import RULES

__all__ = [
    "RULES",
    "Band",
    "Bands",
    "Grade",
    "Known",
    "Limits",
    "Missing",
    "NotABand",
    "Resolved",
    "Verdict",
    "bands",
    "grade_one",
    "grade_plainly",
    "grade_with_doubt",
    "judge",
    "margins_of",
    "resolve",
    "service_bands",
    "worst",
]
