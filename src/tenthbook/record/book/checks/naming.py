"""Does what a row names exist, and do rows that name each other agree?

Goes in: a draft. Comes out: findings, by the rules of `link_rules`. Which columns name rows is read from the tables
themselves; the three whose names the reading of a book already demands are left to it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator

from tenthbook.record.book.checks import link_rules
from tenthbook.record.book.checks.nearest import Nearest
from tenthbook.record.book.columns import Column, Form
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.book.tables import TABLES

_DEMANDED = {("sizes", "part"), ("fits", "hole"), ("fits", "shaft")}
# Columns that name rows, by table.
LINKS: dict[str, tuple[Column, ...]] = {
    table: tuple(column for column in columns if column.form in (Form.ID, Form.IDS, Form.GROUP))
    for table, columns in TABLES.items()
}
Named = dict[tuple[str, str], set[str]]


def named_by(draft: Draft) -> Named:
    """Gather what each column names.

    Args:
        draft: The book.

    Returns:
        The names by table and column.
    """
    named: Named = defaultdict(set)
    for table, columns in LINKS.items():
        for row in draft.of(table):
            for column in columns:
                if column.name in row.values:
                    named[table, column.name].update(row.several(column.name))
    return named


def _may_name(draft: Draft, column: Column) -> Collection[str]:
    """What a column may name."""
    if column.form is Form.GROUP:
        table, group = column.of
        return {row.text(group) for row in draft.of(table)}
    if len(column.of) == 1:
        return draft.rows[column.of[0]].keys()
    return {name for table in column.of for name in draft.rows[table]}


def _expected(column: Column, near: str) -> str:
    what = f"a {column.of[1]} of {column.of[0]}" if column.form is Form.GROUP else f"an id of {' or '.join(column.of)}"
    return what + (f", perhaps {near}" if near else "")


def _leads_nowhere(draft: Draft, named: Named) -> Iterator[Finding]:
    nearest: dict[tuple[str, ...], Nearest] = {}
    for table, columns in LINKS.items():
        for column in columns:
            if (table, column.name) in _DEMANDED or not named.get((table, column.name)):
                continue
            known = _may_name(draft, column)
            lost = {
                name for name in named[table, column.name] if not link_rules.LEADS_NOWHERE.holds(name=name, names=known)
            }
            if not lost:
                continue
            near = nearest.setdefault(column.of, Nearest(known))
            for row in draft.of(table):
                for name in row.several(column.name):
                    if name in lost:
                        expected = _expected(column, near.to(name))
                        yield row.at.breaks(link_rules.LEADS_NOWHERE, column.name, name, expected)


def _itself(draft: Draft, named: Named) -> Iterator[Finding]:
    """A name is looked for in the tables of its column in order, so a fit may count on a size of its own id."""
    for (table, name), names in named.items():
        tables = next(column.of for column in LINKS[table] if column.name == name)
        if table not in tables:
            continue
        before = [draft.rows[other] for other in tables[: tables.index(table)]]
        for row_id, row in draft.rows[table].items():
            if row_id in names and not any(row_id in rows for rows in before):
                yield from row.at.try_rule(link_rules.ITSELF, name, row_id, row=row_id, names=row.several(name))


def _both_ways(draft: Draft) -> Iterator[Finding]:
    parts, orientation = draft.rows["parts"], draft.rows["orientation"]
    for row in parts.values():
        for name in row.several("mates"):
            if name in parts and name != row.id:
                others = parts[name].several("mates")
                found = f"{name}, which does not name {row.id}"
                yield from row.at.try_rule(link_rules.MATES, "mates", found, row=row.id, others=others)
    for row in orientation.values():
        name = row.text("opposite")
        if name in orientation and name != row.id:
            back = orientation[name].text("opposite")
            found = f"{name}, whose opposite is {back or 'not given'}"
            yield from row.at.try_rule(link_rules.OPPOSITES, "opposite", found, row=row.id, back=back)


def _sets(draft: Draft) -> Iterator[Finding]:
    parts = draft.rows["parts"]
    pieces: dict[str, int] = defaultdict(int)
    for row in parts.values():
        pieces[row.text("sold_in")] += row.values.get("quantity", 1)
    for name, count in pieces.items():
        if name in parts:
            yield from parts[name].at.try_rule(
                link_rules.SET_MEMBERS, "id", f"{name}, a set of a single part", pieces=count
            )


def _over(draft: Draft) -> Iterator[Finding]:
    sizes = draft.rows["sizes"]
    for table in ("sizes", "fits"):
        for row in draft.of(table):
            other = sizes.get(row.text("over"))
            if other is not None and "unit" in other.values:
                yield from _counts_on(row, other)


def _counts_on(row: TypedRow, other: TypedRow) -> Iterator[Finding]:
    unit, measure = other.values["unit"], other.text("measure")
    found = f"{other.id}, {measure or other.text('feature')} in {unit}"
    yield from row.at.try_rule(link_rules.OVER, "over", found, kind=unit.kind, measure=measure)


def check_names_of_rows(draft: Draft, named: Named) -> Iterator[Finding]:
    """Find names that lead nowhere, rows that name themselves, and rows that name each other and do not agree.

    Args:
        draft: The book.
        named: What each column of it names.

    Yields:
        A finding each.
    """
    yield from _leads_nowhere(draft, named)
    yield from _itself(draft, named)
    yield from _both_ways(draft)
    yield from _sets(draft)
    yield from _over(draft)
