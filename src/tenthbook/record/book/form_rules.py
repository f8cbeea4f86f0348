"""The rules for how a book is written, each with its source and its two cases.

A book that breaks one of these, but for a name that leads nowhere yet, cannot be pinned by a job.
"""

from __future__ import annotations

import re
from decimal import Decimal, InvalidOperation

from tenthbook.numbers.because import Register
from tenthbook.record.book.findings import CheckRule, Weight

RULES = Register()
_OWN = "rule of this book"
_ID = re.compile(r"[a-z0-9]+([._-][a-z0-9]+)*")
_LONGEST_ID = 80
_DASHES = re.compile(r"[-–—._ ]+|n/?a|nil|none|nought|null", re.IGNORECASE)  # noqa: RUF001 - dashes as manuals print them
_COMMA = re.compile(r"[0-9],[0-9]")
_LOST_POINT = re.compile(r"[+-]?0[0-9]+[TL]?")
_NOT_A_PAGE = re.compile(r"\b(memory|web|internet|forum|www|https?|unknown|none|\?)\b|[?]", re.IGNORECASE)
_A_PLACE = re.compile(r"[0-9]|\b[ivxlc]+\b", re.IGNORECASE)


def _a_number(text: str) -> bool:
    if "e" in text.lower():
        return False
    try:
        return Decimal(text.rstrip("TL").strip()).is_finite()
    except InvalidOperation:
        return False


def _rule(rule_id: str, says: str, **rest: object) -> CheckRule:
    source = rest.pop("source", _OWN)
    weight = rest.pop("weight", Weight.WRONG)
    rule = CheckRule(id=rule_id, says=says, source=source, weight=weight, **rest)  # type: ignore[arg-type]  # the fields of a rule, passed on by name
    RULES.add(rule)
    return rule


FILE = _rule(
    "book.file",
    "A book has a file for each of its tables.",
    holds=lambda name, names: name in names,
    passes={"name": "fits.csv", "names": ("parts.csv", "fits.csv")},
    fails={"name": "fits.csv", "names": ("parts.csv",)},
    todo="add it, with its heading line alone where the manual has nothing for it",
)
TABLE = _rule(
    "book.table",
    "A table is whole: text in UTF-8, commas between the columns, quotations closed, a heading line.",
    source="RFC 4180",
    holds=lambda fault: not fault,
    passes={"fault": ""},
    fails={"fault": "semicolons between the columns"},
    todo="save it anew as comma-separated text in UTF-8",
)
CELLS = _rule(
    "book.cells",
    "Each line has a cell under each heading, so that no value slides under another heading.",
    source="rows set beside the wrong numbers, seen in copies of TM 5-6115-545-34 and TM 5-6115-584-34 (read)",
    holds=lambda cells, headings: cells == headings,
    passes={"cells": 14, "headings": 14},
    fails={"cells": 13, "headings": 14},
    todo="look for a comma lost or one too many",
)
COLUMN_KNOWN = _rule(
    "book.column-known",
    "A heading is one this book knows.",
    holds=lambda column, columns: column in columns,
    passes={"column": "service_max", "columns": ("service_min", "service_max")},
    fails={"column": "servise_max", "columns": ("service_min", "service_max")},
    todo="mend the heading",
)
COLUMN_THERE = _rule(
    "book.column-there",
    "A column that every row must fill is there.",
    holds=lambda column, columns: column in columns,
    passes={"column": "page", "columns": ("id", "page")},
    fails={"column": "page", "columns": ("id",)},
    todo="add the column",
)
HEAD_RULE = _rule(
    "book.head",
    "The head of a book names its type, its manual, the revision with its date, and whether it is invented.",
    holds=lambda fault: not fault,
    passes={"fault": ""},
    fails={"fault": "no revision"},
    todo="write it in book.toml",
)
FILLED = _rule(
    "book.filled",
    "A cell that every row must fill is filled.",
    holds=lambda text: bool(text),
    passes={"text": "4-14"},
    fails={"text": ""},
    todo="read it from the manual's page",
)
ID_FORM = _rule(
    "book.id-form",
    "An id is small letters and figures with points, hyphens or underlines between them, at most 80 signs.",
    holds=lambda text: len(text) <= _LONGEST_ID and _ID.fullmatch(text) is not None,
    passes={"text": "size.body-bore"},
    fails={"text": "../size"},
    todo="choose another id",
)
ID_ONCE = _rule(
    "book.id-once",
    "An id names one row of its table and is never given again.",
    holds=lambda row, ids: row not in ids,
    passes={"row": "size.bush", "ids": ("size.shaft",)},
    fails={"row": "size.bush", "ids": ("size.bush",)},
    todo="give the second row an id of its own, or take it out",
)
WORD = _rule(
    "book.word",
    "A column with words of its own holds one of them.",
    holds=lambda word, words: word in words,
    passes={"word": "second person", "words": ("none", "own look", "second person")},
    fails={"word": "inspector", "words": ("none", "own look", "second person")},
    todo="choose one of the column's words",
)
UNIT = _rule(
    "book.unit",
    "A unit is one this book knows, of the kind the column is for, written as it is printed.",
    holds=lambda kind, kinds: kind in kinds,
    passes={"kind": "length", "kinds": ("length",)},
    fails={"kind": "torque", "kinds": ("length",)},
    todo="write the unit the manual prints over the column",
)
COMMA = _rule(
    "book.decimal-comma",
    "A number is written with a decimal point.",
    source="0,0057 in a column of points, seen in a copy of TM 5-6115-584-34 (read)",
    holds=lambda text: _COMMA.search(text) is None,
    passes={"text": "0.0057"},
    fails={"text": "0,0057"},
    todo="look at the page and type it with a point",
)
LOST_POINT = _rule(
    "book.point-lost",
    "A number that begins with nought has a decimal point.",
    source="00098 to 0.0118 in, seen in a public page of limits in two units (read)",
    holds=lambda text: _LOST_POINT.fullmatch(text) is None,
    passes={"text": "0.0098"},
    fails={"text": "00098"},
    todo="look at the page and type it with its point",
)
BLANK = _rule(
    "book.blank",
    "Where the manual prints dashes or nothing the cell stays blank: no limit given, which is not nought.",
    source="dashes in TM 5-6115-545-34 (read)",
    holds=lambda text: _DASHES.fullmatch(text) is None,
    passes={"text": "0.0090"},
    fails={"text": "----"},
    todo="leave the cell blank",
)
NUMBER = _rule(
    "book.number",
    "A cell for a number holds one number with the digits that are printed, and nothing else.",
    holds=lambda text: _a_number(text),
    passes={"text": "0.0090"},
    fails={"text": "0.009O"},
    todo="look at the page and type the number alone; its unit stands in the column for units",
)
QUANTITY = _rule(
    "book.quantity",
    "A number with a unit of its own is written as number, blank, unit.",
    holds=lambda kind, kinds: kind in kinds,
    passes={"kind": "time", "kinds": ("time",)},
    fails={"kind": "", "kinds": ("time",)},
    todo="write it such as 2000 h",
)
LEAST_FIRST = _rule(
    "book.least-first",
    "A least is not above its greatest.",
    source="0.75 to 0.107 mm, seen in a public page of limits in two units (read)",
    holds=lambda least, greatest: least <= greatest,
    passes={"least": 0.0030, "greatest": 0.0042},
    fails={"least": 0.75, "greatest": 0.107},
    todo="look at the page: a figure slipped, or the two are changed over",
)
KIND_FIELDS = _rule(
    "book.kind-fields",
    "A row fills the columns of its kind of limit, and none of another kind's.",
    holds=lambda lacking, strange: not lacking and not strange,
    passes={"lacking": (), "strange": ()},
    fails={"lacking": ("reference",), "strange": ()},
    todo="fill the columns of the kind as printed, or choose the kind the manual means",
)
APART = _rule(
    "book.list-apart",
    "The sizes of a list lie apart: none stands twice, and none lies within what another is taken for.",
    holds=lambda gap, within: gap > 2 * within,
    passes={"gap": 0.003, "within": 0.0008},
    fails={"gap": 0.003, "within": 0.005},
    todo="look at the page: a figure of the list slipped, or within is meant smaller",
)
NAMES_A_ROW = _rule(
    "book.names-a-row",
    "What a row measures, and the two sizes of a fit, are rows of this book.",
    holds=lambda name, names: name in names,
    passes={"name": "part.pump-shaft", "names": ("part.pump-shaft",)},
    fails={"name": "part.pump-shat", "names": ("part.pump-shaft",)},
    todo="mend the id, or type the row it names first",
)
PAGE_RULE = _rule(
    "book.page",
    "A row names the page of the manual it was read from: not memory, not a page of somebody else's.",
    holds=lambda page: _NOT_A_PAGE.search(page) is None and _A_PLACE.search(page) is not None,
    passes={"page": "4-14"},
    fails={"page": "from memory"},
    todo="read the row again from the manual's page and write the page down",
)
FILE_KNOWN = _rule(
    "book.file-known",
    "A table in a book is one this book knows; another is not read.",
    weight=Weight.ASKS,
    holds=lambda name, names: name in names,
    passes={"name": "fits.csv", "names": ("parts.csv", "fits.csv")},
    fails={"name": "fit.csv", "names": ("parts.csv", "fits.csv")},
    todo="give it the name of its table, or take it out of the book",
)
WORKBOOK = _rule(
    "book.workbook",
    "A book's workbook is plain and shows all it holds: no formula, date, merged cell, hidden row or macro.",
    holds=lambda fault: not fault,
    passes={"fault": ""},
    fails={"fault": "a formula in sizes, F12"},
    todo="mend it in the spreadsheet and save it as XLSX",
)
NUMBER_CELL = _rule(
    "book.number-cell",
    "A cell of a book's workbook is text: a spreadsheet keeps a typed number as a binary one.",
    holds=lambda number_format: not number_format,
    passes={"number_format": ""},
    fails={"number_format": "General"},
    todo="type it again in a cell of text, digit for digit as printed",
)

# How a row must be written today, and no hindrance to reading it: a book that was kept before such a rule stays a book.
MANNERS = frozenset({ID_FORM.id, PAGE_RULE.id, APART.id, HEAD_RULE.id})
