"""Rows of an invented book, for the tests of its checks: a sound one, changed cell by cell.

In: cells by column name. Out: drafts, and the findings of one check. Nothing here is for any engine.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.reading import draft_kept

HEAD: dict[str, str | bool] = {
    "type": "Test engine",
    "manual": "Manual (invented)",
    "revision": "1, 1 January 2026",
    "invented": True,
}
Cells = dict[str, str]
Check = Callable[[Draft], Iterator[Finding]]


def part(row: str, /, **cells: str) -> Cells:
    """Give a part.

    Args:
        row: Its id without the table's word.
        cells: Cells that stand instead; a blank one takes the cell out.

    Returns:
        The cells of its row.
    """
    whole = {"id": f"part.{row}", "name": row, "where_used": "oil pump", "quantity": "1", "page": "4-1"}
    return {column: text for column, text in {**whole, **cells}.items() if text}


def size(row: str = "bore", /, **cells: str) -> Cells:
    """Give a size of a part of the same name: a bore in inches, new and service limits sound.

    Args:
        row: Its id without the table's word.
        cells: Cells that stand instead; a blank one takes the cell out.

    Returns:
        The cells of its row.
    """
    whole = {
        "id": f"size.{row}",
        "part": f"part.{row}",
        "feature": f"{row} diameter",
        "kind": "absolute",
        "unit": "in",
        "new_min": "0.5124",
        "new_max": "0.5130",
        "page": "4-2",
    }
    return {column: text for column, text in {**whole, **cells}.items() if text}


def shaft(**cells: str) -> Cells:
    """Give the shaft that goes with the sound bore.

    Args:
        cells: Cells that stand instead; a blank one takes the cell out.

    Returns:
        The cells of its row.
    """
    return size("shaft", **{"new_min": "0.5108", "new_max": "0.5114", **cells})


def fit(row: str = "shaft-in-bore", /, **cells: str) -> Cells:
    """Give the fit of the sound shaft in the sound bore.

    Args:
        row: Its id without the table's word.
        cells: Cells that stand instead; a blank one takes the cell out.

    Returns:
        The cells of its row.
    """
    whole = {
        "id": f"fit.{row}",
        "name": row.replace("-", " "),
        "hole": "size.bore",
        "shaft": "size.shaft",
        "kind": "absolute",
        "unit": "in",
        "new_min": "0.0010",
        "new_max": "0.0022",
        "page": "4-3",
    }
    return {column: text for column, text in {**whole, **cells}.items() if text}


def book(*rows: Cells) -> Draft:
    """Make a draft of rows; the parts they measure stand in it too.

    Args:
        rows: Rows of any table; the word before the point of its id tells which.

    Returns:
        The draft.
    """
    tables: dict[str, list[Mapping[str, str]]] = {}
    for row in rows:
        tables.setdefault(f"{row['id'].split('.')[0]}s", []).append(row)
    given = {row["id"] for row in tables.get("parts", ())}
    measured = dict.fromkeys(row["part"] for row in tables.get("sizes", ()))
    tables.setdefault("parts", []).extend(part(one.removeprefix("part.")) for one in measured if one not in given)
    return draft_kept(HEAD, tables)


def found_by(check: Check, *rows: Cells) -> list[Finding]:
    """Give what one check finds in rows that are written as they should be.

    Args:
        check: The check.
        rows: As for `book`.

    Returns:
        Its findings.
    """
    draft = book(*rows)
    assert not draft.findings, [str(finding) for finding in draft.findings]
    return list(check(draft))


@dataclass(frozen=True)
class Pair:
    """Rows that break a rule, and their neighbour that keeps every rule of its check.

    Attributes:
        rule: Id of the rule.
        column: The column its finding names.
        broken: Rows that break it.
        sound: Rows next to them that do not.
    """

    rule: str
    column: str
    broken: tuple[Cells, ...]
    sound: tuple[Cells, ...]

    def __str__(self) -> str:
        return f"{self.rule}-{self.column}"


def pair(rule: str, column: str, broken: Cells | Iterable[Cells], sound: Cells | Iterable[Cells]) -> Pair:
    """Put rows that break a rule beside sound ones.

    Args:
        rule: Id of the rule.
        column: The column its finding names.
        broken: The row or rows that break it.
        sound: The row or rows that do not.

    Returns:
        Both.
    """
    both = [(one,) if isinstance(one, dict) else tuple(one) for one in (broken, sound)]
    return Pair(rule, column, *both)
