"""The tables, the columns and the rules of a book in words, written from the tables and the register themselves.

What a person reads who begins to type, the notes on a workbook's headings and the pages of the documentation are all
made here, so that none of them can say something else than the reader of the book does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tenthbook.numbers.because import Rule
from tenthbook.record.book.columns import Column, Form
from tenthbook.record.book.examples import EXAMPLES
from tenthbook.record.book.findings import CheckRule
from tenthbook.record.book.statements import FIELDS
from tenthbook.record.book.tables import HEAD, HOLDS, TABLES

_COLUMNS_HEAD = """# The columns of a book

A book is `book.toml` and one CSV file a table, or one workbook with a sheet each. This page says what belongs in every
column; it is written from the tables themselves. All columns may stand in any order; one that may be blank may be left
out. A blank cell states nothing: a blank limit is no limit, never nought.
"""
_RULES_HEAD = """# What the checker asks of a book

Each finding names one of these rules; `tenthbook why RULE` says it again with its two cases. *Wrong*: the row
contradicts itself or cannot be read; while one cannot be read, no job can pin the book. *Asks*: it may be a slip or
may be so in the manual; look at the page again. *Missing*: another row names it and it is not there yet. None
proposes a number.
"""
_HOW = {
    Form.TEXT: "words",
    Form.ID: "an id of {of}",
    Form.IDS: "ids of {of}, with ; between them",
    Form.GROUP: "the value of {of}",
    Form.UNIT: "a unit of {of}",
    Form.NUMBER: "a number in {of}",
    Form.LETTERED: "a number in {of}, perhaps with T (tight) or L (loose) behind it",
    Form.NUMBERS: "numbers in {of}, with ; between them",
    Form.PLAIN: "a number without a unit",
    Form.PLAINS: "numbers without a unit, with ; between them",
    Form.WHOLE: "a whole number from 1",
    Form.QUANTITY: "a number, a blank and its unit of {of}",
    Form.YES: "yes or nothing",
}


def how_written(column: Column) -> str:
    """Say how the cells of a column are written.

    Args:
        column: The column.

    Returns:
        A few words, such as "a number in unit".
    """
    if column.name == "id":
        return "small letters and figures, with . - or _ between them"
    if column.form is Form.WORD:
        return "one of: " + ", ".join(column.of)
    if column.form is Form.WORDS:
        return "some of, with ; between them: " + ", ".join(column.of)
    if column.form is Form.GROUP:
        return f"a {column.of[1]} of {column.of[0]}"
    return _HOW[column.form].format(of=" or ".join(column.of))


def say_column(column: Column) -> str:
    """Say what a column is for, in one line.

    Args:
        column: The column.

    Returns:
        What belongs in it, how it is written, and whether a row must fill it.
    """
    words = [column.says, how_written(column), *(["every row fills it"] if column.needed else [])]
    return ". ".join(f"{one[0].upper()}{one[1:]}" for one in words)


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _table(name: str) -> Iterator[str]:
    yield from (f"## {name}", "", f"{HOLDS[name][0].upper()}{HOLDS[name][1:]}.", "")
    yield from ("| column | what belongs there | written | needed | for instance |", "| --- | --- | --- | --- | --- |")
    example = EXAMPLES[name][0]
    for column in TABLES[name]:
        needed, shown = "yes" if column.needed else "", example.get(column.name, "")
        cells = (_cell(column.says), _cell(how_written(column)), needed, f"`{shown}`" if shown else "")
        yield f"| `{column.name}` | {' | '.join(cells)} |"
    yield ""


def explain_kinds() -> str:
    """Say which columns each kind of limit fills.

    Returns:
        A Markdown table.
    """
    lines = ["| kind | must fill | may fill |", "| --- | --- | --- |"]
    for kind, (needed, others) in FIELDS.items():
        must = ", ".join(f"`{name}`" for name in needed) or ("at least one limit" if kind == "absolute" else "")
        lines.append(f"| {kind} | {must} | {', '.join(f'`{name}`' for name in others)} |")
    return "\n".join(lines) + "\n"


def explain_columns() -> str:
    """Let every table and column explain itself.

    Returns:
        Markdown: the head, the kinds of limit, then a section a table, with one filled-in row each.
    """
    head = [
        "## book.toml",
        "",
        "| name | what belongs there | needed |",
        "| --- | --- | --- |",
        *(f"| `{column.name}` | {column.says} | {'yes' if column.needed else ''} |" for column in HEAD),
        "",
        "## Kinds of limit",
        "",
        "What a row of sizes or fits fills, by its `kind`; the columns of another kind stay blank.",
        "",
        explain_kinds(),
    ]
    return "\n".join([_COLUMNS_HEAD, *head, *(line for name in TABLES for line in _table(name))])


def explain_rules(rules: Iterable[Rule]) -> str:
    """Write the rules of the checker down.

    Args:
        rules: Its register.

    Returns:
        Markdown: a table, sorted by id.
    """
    lines = [_RULES_HEAD, "| rule | says | when broken | then | source |", "| --- | --- | --- | --- | --- |"]
    for rule in sorted(rules, key=lambda one: one.id):
        weight = str(rule.weight) if isinstance(rule, CheckRule) else ""
        cells = (f"`{rule.id}`", _cell(rule.says), weight, _cell(rule.todo), _cell(rule.source))
        lines.append(f"| {' | '.join(cells)} |")
    return "\n".join(lines) + "\n"
