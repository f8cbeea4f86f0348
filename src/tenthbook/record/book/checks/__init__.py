"""Does this book contradict itself, or say what no engine would bear? It asks, never repairs.

Each module has a register of rules and one function that tries them on a draft:

- `limits`: within one row: service against new, digits, notes, places;
- `units`: a row in two units;
- `plausible`: sizes no such feature has;
- `fits`: a fit against its two sizes;
- `torques`: torques, stages and patterns against joint and thread;
- `links`: names that lead nowhere yet, rows nobody names, covers nobody opens, circles.

`check` gives all findings at once, those of how the book is written (`form_rules`) among them, in the order of the
tables and lines. A finding is wrong, asks, or says what is missing; none holds a corrected number. What a good manual
prints must pass: the published rows in tests/published keep the rules honest.
"""

from tenthbook.record.book.checks.whole import CHECK_RULES, check

__all__ = ["CHECK_RULES", "check"]
