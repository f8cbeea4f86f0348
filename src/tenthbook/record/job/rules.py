"""The rules for a proposed act, each with its source and its two cases.

A rule is a pure predicate on plain facts; `admission` supplies the facts and says what was found.
"""

from __future__ import annotations

from decimal import Decimal

from tenthbook.numbers.because import Register, Rule, TenthbookError
from tenthbook.numbers.quantity import Quantity, plain, quantity
from tenthbook.record.job.kinds import KINDS
from tenthbook.record.job.tags import tag_holds

RULES = Register()
_OWN = "rule of this book"
_NOUGHT = quantity("0 in")
MAY_BE_NOUGHT = (
    "taper",
    "out-of-round",
    "run-out",
    "straightness",
    "flatness",
    "step",
    "choke",
    "backlash",
    "end play",
    "gap",
    "angle",
)
_NEED_BOOK = (
    "row typed",
    "cover removed",
    "cover closed",
    "cleaned",
    "inspected",
    "crack-tested",
    "counted",
    "book moved",
    "part removed",
    "gauge set",
    "settings chosen",
    "reading taken",
    "question asked",
    "question answered",
    "corrected",
    "withdrawn",
    "re-verified",
    "photographed",
    "disposed",
    "put down",
    "taken up",
    "handed over",
    "hand-over received",
    "signed",
)


def _as_number(text: str) -> Decimal:
    try:
        return Decimal(plain(text))
    except TenthbookError:
        return Decimal(0)


def as_measured(value: str) -> Quantity | None:
    """Read a text as something measured.

    Args:
        value: What was typed, such as "0.5094 in" or "11.8 lbf".

    Returns:
        The quantity with its unit, or None where it is not one.
    """
    try:
        read = quantity(value)
    except TenthbookError:
        return None
    return read if read.unit.kind != "plain number" else None


def _doubt_stated(expanded: str, factor: str) -> bool:
    return (as_measured(expanded) or _NOUGHT).number > 0 and _as_number(factor) > 0


def _of_kind(value: str, kind: str) -> bool:
    read = as_measured(value)
    return read is not None and read.unit.kind == kind


def _may_be(value: str, measure: str) -> bool:
    number = (as_measured(value) or _NOUGHT).number
    return number > 0 or (number == 0 and measure in MAY_BE_NOUGHT)


FIRST_OPENS = RULES.add(
    Rule(
        id="entry.first-opens",
        says="Entry 0 opens the job, and nothing else does.",
        source=_OWN,
        holds=lambda number, kind: (number == 0) == (kind == "opened"),
        passes={"number": 0, "kind": "opened"},
        fails={"number": 4, "kind": "opened"},
        todo="open the job once, then record in it",
    )
)
KNOWN_KIND = RULES.add(
    Rule(
        id="entry.known-kind",
        says="Only kinds of entry that this book knows are recorded, in the version it writes.",
        source=_OWN,
        holds=lambda kind, version: kind in KINDS and KINDS[kind].version == version,
        passes={"kind": "noted", "version": 1},
        fails={"kind": "noted", "version": 99},
    )
)
BOOK_FIRST = RULES.add(
    Rule(
        id="book.pinned-first",
        says="A part or a reading is recorded against a pinned book.",
        source=_OWN,
        holds=lambda kind, pinned: pinned or kind not in _NEED_BOOK,
        passes={"kind": "noted", "pinned": False},
        fails={"kind": "reading taken", "pinned": False},
        todo="pin the book for this engine first",
    )
)
BOOK_ONCE = RULES.add(
    Rule(
        id="book.pinned-once",
        says="A job is pinned to one book, so that no verdict changes unseen.",
        source=_OWN,
        holds=lambda pinned: not pinned,
        passes={"pinned": False},
        fails={"pinned": True},
    )
)
ROW_ID_NEW = RULES.add(
    Rule(
        id="row.id-new",
        says="An id typed in a job is new to its table: never that of another row, nor of one withdrawn.",
        source=_OWN,
        holds=lambda row, ids: row not in ids,
        passes={"row": "size.slot-width", "ids": ("size.shaft",)},
        fails={"row": "size.shaft", "ids": ("size.shaft",)},
        todo="give the row an id of its own",
    )
)
ROW_DIGEST = RULES.add(
    Rule(
        id="row.book-with-it",
        says="A row typed in a job names the book as it stands with the row.",
        source=_OWN,
        holds=lambda digest, with_it: digest == with_it,
        passes={"digest": "ab", "with_it": "ab"},
        fails={"digest": "ab", "with_it": "cd"},
        todo="open the job again: somebody typed a row in between",
    )
)
TAG_WRITTEN = RULES.add(
    Rule(
        id="part.tag-check",
        says="A tag ends in its check digit.",
        source="ISO 7064, MOD 11,10",
        holds=tag_holds,
        passes={"tag": "P-0212-6"},
        fails={"tag": "P-0221-6"},
        todo="read the tag again",
    )
)
TAG_NEW = RULES.add(
    Rule(
        id="part.tag-new",
        says="A tag names one part and is never given again.",
        source=_OWN,
        holds=lambda tag, tags: tag not in tags,
        passes={"tag": "P-0002-1", "tags": ("P-0001-3",)},
        fails={"tag": "P-0001-3", "tags": ("P-0001-3",)},
    )
)
PART_IN_BOOK = RULES.add(
    Rule(
        id="part.in-book",
        says="A part on the bench is one the book knows.",
        source=_OWN,
        holds=lambda part, parts: part in parts,
        passes={"part": "part.pump-shaft", "parts": ("part.pump-shaft",)},
        fails={"part": "part.piston", "parts": ("part.pump-shaft",)},
        todo="type the part's row into the book from the manual's page",
    )
)
ON_BENCH = RULES.add(
    Rule(
        id="reading.part-on-bench",
        says="Only a part that was removed and tagged is measured.",
        source=_OWN,
        holds=lambda tag, tags: tag in tags,
        passes={"tag": "P-0001-3", "tags": ("P-0001-3",)},
        fails={"tag": "P-0002-1", "tags": ("P-0001-3",)},
        todo="record the part as removed, or read its tag again",
    )
)
OWN_FEATURE = RULES.add(
    Rule(
        id="reading.own-feature",
        says="A reading belongs to a feature of the part that carries the tag.",
        source=_OWN,
        holds=lambda part, row_part: part == row_part,
        passes={"part": "part.pump-shaft", "row_part": "part.pump-shaft"},
        fails={"part": "part.pump-shaft", "row_part": "part.pump-bush"},
        todo="choose the feature again",
    )
)
ROW_AS_PINNED = RULES.add(
    Rule(
        id="reading.row-as-pinned",
        says="A reading names its row of the pinned book as that row stands.",
        source=_OWN,
        holds=lambda digest, pinned_digest: digest == pinned_digest,
        passes={"digest": "ab", "pinned_digest": "ab"},
        fails={"digest": "ab", "pinned_digest": "cd"},
        todo="open the feature again, so that the row is read anew",
    )
)
OF_KIND = RULES.add(
    Rule(
        id="reading.kind",
        says="A reading is a number with a unit of the kind its row is printed in; a decimal comma is refused.",
        source=_OWN,
        holds=_of_kind,
        passes={"value": "0.5094 in", "kind": "length"},
        fails={"value": "0,5094 in", "kind": "length"},
        todo="type it again, such as 0.5094 in",
    )
)
POINT_OR_SIGN = RULES.add(
    Rule(
        id="reading.point-or-sign",
        says="A length without a decimal point or a sign is refused: a scanner types too.",
        source=_OWN,
        holds=lambda value: any(mark in value.lower().split()[0].partition("e")[0] for mark in ".+-"),
        passes={"value": "0.5094 in"},
        fails={"value": "5094 in"},
        todo="type the number with its point",
    )
)
ABOVE_ZERO = RULES.add(
    Rule(
        id="reading.above-zero",
        says="A size is above nought; a taper, a run-out and the like may be nought.",
        source=_OWN,
        holds=_may_be,
        passes={"value": "0.0000 in", "measure": "run-out"},
        fails={"value": "-0.5094 in", "measure": "diameter"},
        todo="type the size itself, not how far it lies from another",
    )
)
IN_CALIBRATION = RULES.add(
    Rule(
        id="gauge.in-calibration",
        says="A gauge is set, and read, up to the last day of its calibration where one is stated.",
        source="common practice, no source",
        holds=lambda due, day: not due or day <= due,
        passes={"due": "2027-03-31", "day": "2026-10-02"},
        fails={"due": "2026-09-30", "day": "2026-10-02"},
        todo="use a gauge in calibration, or have this one calibrated",
    )
)
GAUGE_SET = RULES.add(
    Rule(
        id="reading.gauge-set",
        says="A gauge that a reading names was set before, with its doubt in the kind of unit it reads.",
        source=_OWN,
        holds=lambda gauge, gauges: not gauge or gauge in gauges,
        passes={"gauge": "B2", "gauges": ("B2",)},
        fails={"gauge": "B2", "gauges": ("M1",)},
        todo="record the gauge as set, or leave it out: the verdict is then the plain one",
    )
)
DOUBT_STATED = RULES.add(
    Rule(
        id="gauge.doubt-stated",
        says="A gauge's doubt is above nought, with its unit and the factor it was expanded with.",
        source="JCGM 100:2008, 7.2.1: an expanded uncertainty is stated with its coverage factor (from memory)",
        holds=_doubt_stated,
        passes={"expanded": "0.00012 in", "factor": "2"},
        fails={"expanded": "0.00012 in", "factor": "0"},
        todo="take both from the gauge's certificate",
    )
)
CONFORMANCE = RULES.add(
    Rule(
        id="settings.conformance",
        says="The least probability of being right lies from 0.5 to below 1.",
        source="JCGM 106:2012, 8.3 (from memory)",
        holds=lambda conformance: Decimal("0.5") <= _as_number(conformance) < 1,
        passes={"conformance": "0.95"},
        fails={"conformance": "95"},
    )
)
QUESTION_OPEN = RULES.add(
    Rule(
        id="question.open",
        says="Only an open question is answered.",
        source=_OWN,
        holds=lambda entry, questions: entry in questions,
        passes={"entry": 8, "questions": (8,)},
        fails={"entry": 9, "questions": (8,)},
    )
)
