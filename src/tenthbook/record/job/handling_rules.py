"""The rules for covers, parts, looks and tests, each with its source and its two cases.

In the register of `rules`.
"""

from __future__ import annotations

from tenthbook.numbers.because import Rule
from tenthbook.record.job.rules import RULES

_OWN = "rule of this book"
_TRADE = "common practice, no source"
KIND_OF_LOOK = {
    "clean": "cleaned",
    "look": "inspected",
    "crack test": "crack-tested",
    "hardness test": "inspected",
    "pressure test": "inspected",
    "magnetism test": "inspected",
}

COVER_IN_BOOK = RULES.add(
    Rule(
        id="cover.in-book",
        says="A cover is one of the book's.",
        source=_OWN,
        holds=lambda cover, covers: cover in covers,
        passes={"cover": "access.pump-cover", "covers": ("access.pump-cover",)},
        fails={"cover": "access.roof", "covers": ("access.pump-cover",)},
        todo="take the id from the book; type the row where the book lacks it",
    )
)
COVER_STATE = RULES.add(
    Rule(
        id="cover.on-or-off",
        says="A cover that is on comes off, and one that is off is counted under and closed.",
        source=_OWN,
        holds=lambda wants_off, is_off: wants_off == is_off,
        passes={"wants_off": True, "is_off": True},
        fails={"wants_off": True, "is_off": False},
        todo="record first what happened before it",
    )
)
COVER_ORDER = RULES.add(
    Rule(
        id="cover.order",
        says="A cover comes off after the one before it, and goes back after those behind it.",
        source=_OWN,
        holds=lambda in_the_way: not in_the_way,
        passes={"in_the_way": ()},
        fails={"in_the_way": ("access.accessory-housing",)},
        todo="record the other covers first",
    )
)
PART_REACHED = RULES.add(
    Rule(
        id="part.reached",
        says="A part behind a cover is removed after the cover came off.",
        source=_OWN,
        holds=lambda behind, off: not behind or behind in off,
        passes={"behind": "access.pump-cover", "off": ("access.pump-cover",)},
        fails={"behind": "access.pump-cover", "off": ()},
        todo="record the cover as removed first, with those before it",
    )
)
MATE_TAGGED = RULES.add(
    Rule(
        id="part.mate-tagged",
        says="The part it runs with is named by its own tag.",
        source=_OWN,
        holds=lambda mate, tags: not mate or mate in tags,
        passes={"mate": "P-0211-8", "tags": ("P-0211-8",)},
        fails={"mate": "P-0211-8", "tags": ()},
        todo="tag the other part first, or leave it out and correct it later",
    )
)
PART_HERE = RULES.add(
    Rule(
        id="part.here",
        says="A part is measured, cleaned, looked at and sent out while it is here.",
        source=_OWN,
        holds=lambda away: not away,
        passes={"away": ""},
        fails={"away": "P-0211-8"},
        todo="record it as returned first",
    )
)
PART_NOT_SCRAPPED = RULES.add(
    Rule(
        id="part.not-scrapped",
        says="A part that is scrapped or replaced is not measured any more.",
        source=_OWN,
        holds=lambda word: word not in ("scrap", "replace", "mandatory replace"),
        passes={"word": "hold"},
        fails={"word": "scrap"},
        todo="withdraw the disposition first if it was wrong; a new part gets a tag of its own",
    )
)
ONE_PLACE = RULES.add(
    Rule(
        id="part.tag-or-id",
        says="A part is named by its tag; one that was not removed, by its id in the book. Never both.",
        source=_OWN,
        holds=lambda tag, part: bool(tag) != bool(part),
        passes={"tag": "P-0211-8", "part": ""},
        fails={"tag": "P-0211-8", "part": "part.pump-body"},
        todo="name one of the two",
    )
)
IN_PLACE_WORD = RULES.add(
    Rule(
        id="disposed.in-place",
        says="A part not removed is not disturbed, looked at in place, or on hold; one with a tag was disturbed.",
        source=_OWN,
        holds=lambda tag, word: word == "hold" or bool(tag) != (word in ("not disturbed", "looked at in place")),
        passes={"tag": "", "word": "looked at in place"},
        fails={"tag": "P-0211-8", "word": "not disturbed"},
        todo="remove it under a tag first, or choose another word",
    )
)
LOOK_OF_PART = RULES.add(
    Rule(
        id="look.of-part",
        says="A look that names an inspection of the book closes one of the same part and of the same kind.",
        source=_OWN,
        holds=lambda inspection, part, row_part, kind, row_kind: not inspection or (part, kind) == (row_part, row_kind),
        passes={
            "inspection": "inspection.a",
            "part": "part.a",
            "row_part": "part.a",
            "kind": "cleaned",
            "row_kind": "cleaned",
        },
        fails={
            "inspection": "inspection.a",
            "part": "part.a",
            "row_part": "part.b",
            "kind": "cleaned",
            "row_kind": "cleaned",
        },
        todo="name an inspection of this part, or none",
    )
)
CLEANED_FIRST = RULES.add(
    Rule(
        id="look.cleaned-first",
        says="A part is cleaned before it is looked at or tested for cracks, where the book asks for cleaning.",
        source="common practice, no source: cleaning stands before inspection in the order of an overhaul",
        holds=lambda dirty: not dirty,
        passes={"dirty": ()},
        fails={"dirty": ("inspection.pump-body-clean",)},
        todo="record the cleaning first",
    )
)
PLUGS_BACK = RULES.add(
    Rule(
        id="cleaned.plugs",
        says="Not more plugs go back into passages than came out.",
        source=_OWN,
        holds=lambda plugs_out, plugs_in: plugs_in <= plugs_out,
        passes={"plugs_out": 3, "plugs_in": 2},
        fails={"plugs_out": 2, "plugs_in": 3},
        todo="count them again",
    )
)
DEMAGNETISED = RULES.add(
    Rule(
        id="crack.demagnetised",
        says="Where the book asks for it, the residual field is read after demagnetising, and written down.",
        source=_TRADE,
        holds=lambda asked, residual: not asked or bool(residual.strip()),
        passes={"asked": True, "residual": "0.3 on the field indicator"},
        fails={"asked": True, "residual": ""},
        todo="demagnetise, read the field indicator, and write its reading down",
    )
)
CLEANED_AFTER = RULES.add(
    Rule(
        id="crack.cleaned-after",
        says="A part is cleaned of the test's fluids before the test counts.",
        source=_TRADE,
        holds=lambda cleaned_after: cleaned_after == "yes",
        passes={"cleaned_after": "yes"},
        fails={"cleaned_after": "no"},
        todo="clean the part, then record the test",
    )
)
INDICATION_TOLD = RULES.add(
    Rule(
        id="look.found-told",
        says="What was found or indicated is told: what, and where.",
        source=_OWN,
        holds=lambda indicated, says: not indicated or bool(says.strip()),
        passes={"indicated": True, "says": "line of 3 mm at the root of tooth 4"},
        fails={"indicated": True, "says": ""},
        todo="say what it is and where",
    )
)
ROW_SHOWN = RULES.add(
    Rule(
        id="photographed.row-in-book",
        says="A photograph that names a size shows one of the book's.",
        source=_OWN,
        holds=lambda row, rows: not row or row in rows,
        passes={"row": "size.drive-slot", "rows": ("size.drive-slot",)},
        fails={"row": "size.nothing", "rows": ("size.drive-slot",)},
        todo="name a size row of the book, or none",
    )
)
BOOK_SAME_TYPE = RULES.add(
    Rule(
        id="book.same-type",
        says="A job is moved to another revision of the book for the same engine type.",
        source=_OWN,
        holds=lambda type, pinned: type == pinned,
        passes={"type": "Dunlin Four", "pinned": "Dunlin Four"},
        fails={"type": "Redshank Twin", "pinned": "Dunlin Four"},
        todo="open a job of its own for another engine",
    )
)
BOOK_HOLDS = RULES.add(
    Rule(
        id="book.holds-what-is-used",
        says="The book that a job is moved to holds every part and every row that the job already uses.",
        source=_OWN,
        holds=lambda missing: not missing,
        passes={"missing": ()},
        fails={"missing": ("size.shaft",)},
        todo="keep the ids of rows from one revision to the next; put the missing ones in",
    )
)
