"""On which side of a limit a value lies, exactly, and what that is called.

- `bands`: a pair of limits as printed (`Band`, `Limits`) and many of them at once as arrays (`Bands`); how a service
  limit with one side blank takes that side from the new limits;
- `grades`: the five grades, the plain one and the one that minds the gauge's doubt, and which of several is the worst;
- `rules`: what is decided here, as rules with their cases.

On the limit is within it. A blank is no limit, and no limit is not nought: a value that no limit judges is graded `no
limit`, never passed. So far a row states an absolute least and greatest. Everything works over arrays of whole
picometres, or of exact fractions.
"""

from tenthbook.numbers.limit.bands import Band, Bands, Limits, NotABand, bands, service_bands
from tenthbook.numbers.limit.grades import Grade, Verdict, grade_plainly, grade_with_doubt, judge, worst
from tenthbook.numbers.limit.rules import RULES

__all__ = [
    "RULES",
    "Band",
    "Bands",
    "Grade",
    "Limits",
    "NotABand",
    "Verdict",
    "bands",
    "grade_plainly",
    "grade_with_doubt",
    "judge",
    "service_bands",
    "worst",
]
