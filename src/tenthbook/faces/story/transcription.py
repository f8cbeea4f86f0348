"""Act 0: how the book was made. Two slips are typed, the checker finds one, the blind second reading the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tenthbook.faces.story.clock import StoryClock, TurnedOutOtherwise
from tenthbook.faces.story.script import BookLine, Making, Script
from tenthbook.record.bench import Bench, Books, find_row
from tenthbook.record.book import Book, book_of, draft_again
from tenthbook.record.book.checks import check
from tenthbook.record.book.reading import draft_kept
from tenthbook.record.proofread import compare_again

NOTHING = "nothing to ask"


@dataclass(frozen=True, slots=True)
class BookScene:
    """A line of act 0 that was played.

    Attributes:
        line: The line.
        shows: What the book then showed, a line each.
    """

    line: BookLine
    shows: tuple[str, ...]


def slipped(book: Book, making: Making) -> Book:
    """Type the slips into a book.

    Args:
        book: The book as it should be.
        making: Act 0, which names the slips.

    Returns:
        The book as it was first typed.

    Raises:
        WrongInput: a slip in a row the book does not have.
    """
    rows = {table: {row.id: dict(row.cells) for row in held.values()} for table, held in book.rows.items()}
    for slip in making.slips:
        row = find_row(book, *slip.row.partition("/")[::2])
        rows[row.table][row.id][slip.column] = slip.typed
    return book_of(draft_kept(book.head, {table: list(held.values()) for table, held in rows.items()}))


def _checked(book: Book) -> tuple[str, list[str]]:
    found = check(draft_again(book))
    return (", ".join(dict.fromkeys(one.rule for one in found)) or NOTHING), [str(one) for one in found] or [NOTHING]


def _read_again(books: Books, book: Book, line: BookLine, request: str) -> tuple[str, list[str]]:
    row = find_row(book, *line.row.partition("/")[::2])
    act = {"person": line.who, "request": request, "acted_at": line.at}
    typed = {name: str(book.head.get(name, "")) for name in ("typed_by", "typed_on")}
    entry = books.read_again(book, row, line.cells, act, typed)
    differs = [str(one) for one in compare_again(row, line.cells)]
    return entry.kind, [f"{entry.kind}: {line.row}, page {row.page}", *differs]


def transcribe(script: Script, book: Book, bench: Bench, clock: StoryClock) -> Iterator[BookScene]:
    """Play act 0.

    Args:
        script: The script.
        book: The book as it should be.
        bench: Where it is played; its store must read `clock`.
        clock: The clock that the playing sets.

    Yields:
        A scene a line.

    Raises:
        TurnedOutOtherwise: the checker or the second reading finds something else than the script says, or the book
            is not as it should be in the end.
    """
    making = script.making
    if making is None:
        return
    standing, books = slipped(book, making), bench.books
    for number, line in enumerate(making.lines, 1):
        clock.now = line.at
        seen, shows = "", list[str]()
        if line.does == "book checked":
            seen, shows = _checked(standing)
        elif line.does == "row mended":
            making = making.model_copy(update={"slips": [one for one in making.slips if one.row != line.row]})
            standing = slipped(book, making)
            shows = [f"{line.row}: typed again from page {find_row(book, *line.row.partition('/')[::2]).page}"]
        elif line.does == "row read again":
            seen, shows = _read_again(books, standing, line, f"story.0.{number}")
        if line.sees and seen != line.sees:
            raise TurnedOutOtherwise(found=f"{seen!r} in act 0, line {number}", expected=repr(line.sees))
        yield BookScene(line, tuple(shows))
    if making.slips:
        raise TurnedOutOtherwise(found="a slip left in the book", expected="every slip mended in act 0")
