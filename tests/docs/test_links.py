"""Do the links between the documents lead somewhere?

Relative links and their headings are followed; addresses of the net are left alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from tests.docs.tree import markdown_files, shown

INLINE = re.compile(r"!?\[[^\]]*\]\(<?([^)\s>]+)>?(?: \"[^\"]*\")?\)")
NAMED = re.compile(r"^\[[^\]]+\]:\s*(\S+)", re.MULTILINE)


def without_code(text: str) -> str:
    """Leave out what is shown as code.

    Args:
        text: A document.

    Returns:
        The document without fenced blocks and code words.
    """
    return re.sub(r"`[^`\n]*`", "", re.sub(r"^```.*?^```", "", text, flags=re.DOTALL | re.MULTILINE))


def anchors(text: str) -> set[str]:
    """Name the headings as links name them.

    Args:
        text: A document.

    Returns:
        Lower-case words joined by hyphens.
    """
    heads = re.findall(r"^#+ +(.+?) *$", text, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


def dead_links(document: Path) -> Iterator[str]:
    """Follow the relative links of a document.

    Args:
        document: Its path.

    Yields:
        Links that lead nowhere.
    """
    text = document.read_text(encoding="utf-8")
    for link in INLINE.findall(without_code(text)) + NAMED.findall(without_code(text)):
        if re.match(r"[a-z]+:", link):
            continue
        name, _, heading = link.partition("#")
        target = (document.parent / name) if name else document
        if not target.exists():
            yield link
            continue
        if heading and target.suffix == ".md" and heading not in anchors(target.read_text(encoding="utf-8")):
            yield link


def test_relative_links_resolve() -> None:
    """Each relative link of each document leads to a file, and to a heading of it where it names one."""
    found = {shown(document): dead for document in markdown_files() if (dead := list(dead_links(document)))}
    assert found == {}


def test_the_check_bites(tmp_path: Path) -> None:
    """A link to a missing file or heading is found; one to a heading, to the net or in code is let through."""
    page = tmp_path / "page.md"
    page.write_text(
        "# Where it goes\n[a](#where-it-goes) [b](page.md) [c](https://a.example) `[d](none.md)`\n"
        "[e](none.md) ![f](none.png) [g](#nowhere)\n[h]: none.txt\n",
        encoding="utf-8",
    )
    assert sorted(dead_links(page)) == ["#nowhere", "none.md", "none.png", "none.txt"]
