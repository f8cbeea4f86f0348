"""The rules for a second reading, each with its source and its two cases."""

from __future__ import annotations

from tenthbook.numbers.because import Register, Rule

RULES = Register()
_OWN = "rule of this book"

FIRST_OPENS = RULES.add(
    Rule(
        id="proofread.first-opens",
        says="Entry 0 opens the stream of a book, and nothing else does.",
        source=_OWN,
        holds=lambda number, kind: (number == 0) == (kind == "book opened"),
        passes={"number": 0, "kind": "book opened"},
        fails={"number": 3, "kind": "book opened"},
    )
)
ROW_STANDS = RULES.add(
    Rule(
        id="proofread.row-stands",
        says="What is read again is a row of the book as it stands now.",
        source=_OWN,
        holds=lambda digest, digests: digest in digests,
        passes={"digest": "ab", "digests": ("ab", "cd")},
        fails={"digest": "ef", "digests": ("ab", "cd")},
        todo="open the row again: it was changed, or there is none",
    )
)
BLIND = RULES.add(
    Rule(
        id="proofread.blind",
        says="A second reading is called verified only where every compared cell agrees, digit for digit.",
        source="two-person double entry, the second blind to the first: common practice, no source",
        holds=lambda kind, differs: (kind == "row verified") == (not differs),
        passes={"kind": "row verified", "differs": ()},
        fails={"kind": "row verified", "differs": ("service_max",)},
        todo="look at the page again; the page decides, not the majority",
    )
)
ANOTHER_DAY = RULES.add(
    Rule(
        id="proofread.another-day",
        says="Whoever typed a row reads it again on another day at the earliest.",
        source="common practice, no source",
        holds=lambda same_person, typed_on, read_on: not same_person or (bool(typed_on) and typed_on < read_on),
        passes={"same_person": True, "typed_on": "2026-03-09", "read_on": "2026-03-10"},
        fails={"same_person": True, "typed_on": "2026-03-09", "read_on": "2026-03-09"},
        todo="let another person read it, or read it another day",
    )
)
DISPUTE_ENDS = RULES.add(
    Rule(
        id="proofread.dispute-ends",
        says="A disputed row is verified by another person than the one who disputed it, or on another day.",
        source="both figures were on the screen: a reading at once is blind no more; common practice, no source",
        holds=lambda disputed_by, disputed_on, person, read_on: (
            not disputed_by or disputed_by != person or disputed_on < read_on
        ),
        passes={"disputed_by": "inspector", "disputed_on": "2026-03-11", "person": "owner", "read_on": "2026-03-11"},
        fails={"disputed_by": "inspector", "disputed_on": "2026-03-11", "person": "inspector", "read_on": "2026-03-11"},
        todo="mend the row from the page, let another person read it, or read it another day",
    )
)
SOMETHING_READ = RULES.add(
    Rule(
        id="proofread.something-read",
        says="A second reading names columns of the row's table that are compared, and at least one.",
        source=_OWN,
        holds=lambda strange, read: not strange and read > 0,
        passes={"strange": (), "read": 2},
        fails={"strange": ("page",), "read": 0},
        todo="type what the page prints: kind, unit and figures",
    )
)
