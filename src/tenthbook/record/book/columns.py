"""What a column holds, and how its cells are written.

The words of a column are the ones a person filling in a table reads; documentation, empty books and the schema for
editors are made from them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Form(StrEnum):
    """How a cell is written.

    Attributes:
        TEXT: Words.
        WORD: One of a few words, those of the column.
        WORDS: Some of a few words, with semicolons between them.
        ID: Id of one row of another table.
        IDS: Ids of rows of other tables, with semicolons between them.
        GROUP: The value of a column of another table, such as the joint that several positions share.
        UNIT: A unit of one of the column's kinds.
        NUMBER: A number in the row's unit.
        LETTERED: The same, perhaps with T (tight) or L (loose) behind it.
        NUMBERS: Numbers in the row's unit, with semicolons between them.
        PLAIN: A number without a unit.
        PLAINS: Numbers without a unit, with semicolons between them.
        WHOLE: A whole number from 1.
        QUANTITY: A number with its own unit, of one of the column's kinds.
        YES: The word yes, or nothing.
    """

    TEXT = "text"
    WORD = "one of"
    WORDS = "some of"
    ID = "id"
    IDS = "ids"
    GROUP = "name"
    UNIT = "unit"
    NUMBER = "number"
    LETTERED = "number, perhaps with T or L"
    NUMBERS = "numbers"
    PLAIN = "plain number"
    PLAINS = "plain numbers"
    WHOLE = "whole number"
    QUANTITY = "number with its unit"
    YES = "yes or nothing"


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        name: As it stands in the heading.
        says: What belongs in it.
        needed: Whether a row must fill it.
        form: How a cell is written.
        of: What the form needs: the words, the tables, the kinds of unit, or the column that holds the unit.
    """

    name: str
    says: str
    needed: bool = False
    form: Form = Form.TEXT
    of: tuple[str, ...] = ()


ID = Column("id", "typed id of the row, never used again for another", needed=True)
NAME = Column("name", "what the manual calls it", needed=True)
PAGE = Column("page", "page of the manual this row was read from, as printed there", needed=True)
MARK = Column("note_mark", "number or sign of the note printed beside the row; its words then stand in note")
NOTE = Column("note", "words of the note beside the row")
EFFECTIVITY = Column("effectivity", "variants or serial numbers the row is for, as printed; blank: all")
FIGURE = Column("figure", "figure and item of the manual")
ENDING = (EFFECTIVITY, PAGE, MARK, NOTE)
