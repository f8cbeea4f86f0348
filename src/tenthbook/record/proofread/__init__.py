"""Which rows of a book were read a second time, by whom, and which of them differ.

No arithmetic finds 1.4065 typed for 1.4055 where both are plausible; a second reading does. It is blind: whoever reads
sees what the row is of and its page, not its figures, types what the page prints, and only then are the two compared.

- `blind`: what the second reader is shown, and what of a row is compared;
- `kinds`: the facts a book's own stream can hold;
- `overlay`: the fold of that stream, which says of each row how it stands;
- `rules` and `admission`: what may be recorded, and why not.

The overlay lies beside the book and never in it: it is keyed by the digest of a row, so it changes no pinned book, and
a row that is changed, or that is imported anew, is unread again. A row may be used unread; what rests on it says so.
Whether the same person may read again is answered plainly: on another day, and marked so.
"""

from tenthbook.record.proofread.admission import admit_reading
from tenthbook.record.proofread.blind import Difference, compare_again, compared_columns, shown_blind
from tenthbook.record.proofread.kinds import BOOK_KINDS
from tenthbook.record.proofread.overlay import Overlay, SecondReading, fold_overlay
from tenthbook.record.proofread.rules import RULES

__all__ = [
    "BOOK_KINDS",
    "RULES",
    "Difference",
    "Overlay",
    "SecondReading",
    "admit_reading",
    "compare_again",
    "compared_columns",
    "fold_overlay",
    "shown_blind",
]
