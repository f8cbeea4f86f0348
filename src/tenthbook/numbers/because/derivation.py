"""The derivation record: how an answer was reached, in the form that is printed.

It holds references and finished lines, never live objects, so that it can be stored, printed and walked years later:
"what rests on this reading" and "what does that correction undo" are walks over these records.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BookRow:
    """A row of the book that an answer used.

    Attributes:
        row: Id of the row in its book.
        page: Page of the manual it was transcribed from, as typed.
        digest: SHA-256 of the row as it then stood, hexadecimal.
    """

    row: str
    page: str
    digest: str


@dataclass(frozen=True, slots=True)
class Because:
    """Why an answer is what it is.

    Attributes:
        rule: Id of the rule that decided, as `tenthbook why` knows it.
        entries: Numbers of the entries of this stream it rests on, ascending.
        rows: Rows of the book it rests on.
        arithmetic: The working, a finished line each, in the numbers and units as printed.
    """

    rule: str
    entries: tuple[int, ...] = ()
    rows: tuple[BookRow, ...] = ()
    arithmetic: tuple[str, ...] = ()

    def lines(self) -> list[str]:
        """Give the whole record as lines of text, the same for command, page and paper.

        Returns:
            The working, then the rows of the book, the entries and the rule.
        """
        out = list(self.arithmetic)
        out += [f"book row {row.row}, page {row.page}" for row in self.rows]
        if self.entries:
            out.append("entries " + ", ".join(str(number) for number in self.entries))
        out.append(f"rule {self.rule}")
        return out
