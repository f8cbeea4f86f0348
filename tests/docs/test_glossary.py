"""Does the glossary explain every word that a command, a calculator, an entry or a table of a book uses?

One word for one thing: what a person types or reads anywhere stands in docs/glossary.md, a table `| word | means |`.
A first cell may hold several words with commas between; spaces, hyphens and underscores count as the same.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

import click

from tests.docs.tree import ROOT


def plain(word: str) -> str:
    """Bring a word to the form in which words are compared.

    Args:
        word: As written in the glossary or in the program.

    Returns:
        Lower case, single spaces, without marks of code or emphasis.
    """
    return re.sub(r"[\s_-]+", " ", word.strip(" `*")).lower()


def explained_words(text: str) -> list[str]:
    """Read the first column of the glossary's tables.

    Args:
        text: The document.

    Returns:
        Words in plain form, repeated as often as they are explained.
    """
    rows = [line.strip().strip("|").split("|") for line in text.splitlines() if line.strip().startswith("|")]
    words = [plain(word) for row in rows if len(row) >= 2 and row[1].strip() for word in row[0].split(",")]
    return [word for word in words if word != "word" and word.strip("-: ")]


def commands_of(command: click.Command) -> Iterator[str]:
    """Walk a command and all below it.

    Args:
        command: A command or a group of commands.

    Yields:
        Names of the commands below it.
    """
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            yield name
            inner = command.get_command(context, name)
            if inner is not None:
                yield from commands_of(inner)


def names_in_use() -> dict[str, str]:
    """Collect the words of the program's faces and records.

    Returns:
        Word as used to where it is used.
    """
    from tenthbook.faces.calculators.registry import NAMES
    from tenthbook.faces.cli import root
    from tenthbook.record.book.tables import TABLES
    from tenthbook.record.job.kinds import KINDS
    from tenthbook.record.shop import SHOP_KINDS
    from tenthbook.record.tools import TOOL_KINDS

    names: dict[str, str] = {}
    for command in vars(root).values():
        if isinstance(command, click.Command):
            names.update(dict.fromkeys(commands_of(command), "command"))
    names.update(dict.fromkeys(NAMES, "calculator"))
    for word, kind in (KINDS | SHOP_KINDS | TOOL_KINDS).items():
        names[word] = "entry kind"
        names.update(dict.fromkeys(kind.fields.model_fields, f"field of the entry {word}"))
    for table, columns in TABLES.items():
        names[table] = "table of a book"
        names.update(dict.fromkeys([column.name for column in columns], f"column of the table {table}"))
    return names


def test_every_word_in_use_is_explained() -> None:
    """Commands, calculators, entries with their fields and tables with their columns stand in the glossary."""
    explained = set(explained_words((ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")))
    names = names_in_use()
    assert "command" in names.values(), "found no group of commands in tenthbook.faces.cli.root"
    missing = [f"{name} ({place})" for name, place in names.items() if plain(name) not in explained]
    assert not missing, "\n".join(missing)


def test_a_word_is_explained_once() -> None:
    """No word stands in the glossary twice."""
    counted = Counter(explained_words((ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")))
    assert [word for word, times in counted.items() if times > 1] == []


def test_only_a_row_with_a_meaning_explains() -> None:
    """The head, the rule under it and a row without a meaning explain nothing."""
    text = "| word | means |\n| --- | --- |\n| `iso-fit`, end play | a thing |\n| bore |  |\n"
    assert explained_words(text) == ["iso fit", "end play"]
