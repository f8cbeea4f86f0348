"""Tags: one a part on the bench, to be cut out and tied on; or blank ones with the next free ids, to write on by hand.

Words only, no colours: shops have tag colours of their own. The code holds the tag's id and nothing else, so that it
says the same years later; where it is torn or oily, the check digit guards the id that a hand copies.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tenthbook.faces.papers.heading import JobAtHead, heading_of
from tenthbook.faces.papers.typeset import PaperSize, typeset
from tenthbook.record.job.tags import next_tag

BLANK_TAGS = 8
_WHOLE_WIDTH, _HALF_WIDTH = 110, 60  # signs that a field holds; the ledger has the rest
_QUIET = 4  # modules left white around a code, as its standard asks


@dataclass(frozen=True, slots=True)
class TagRow:
    """What one tag says.

    Attributes:
        tag: Its id, with the check digit.
        name: What the manual calls the part; empty on a blank tag, as all that follows.
        number: Part number as printed.
        position: Where it sat.
        kept: Whether it must go back there.
        mated_with: Tag of the part it runs with.
        as_found: How it was found.
        bin: Where it is kept.
        removed_on: Day it was removed, as 2026-10-02.
        removed_by: Who removed it.
    """

    tag: str
    name: str = ""
    number: str = ""
    position: str = ""
    kept: bool = False
    mated_with: str = ""
    as_found: str = ""
    bin: str = ""
    removed_on: str = ""
    removed_by: str = ""


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[:most].rstrip()} ..."


def code_of(tag: str) -> str:
    """Draw the code of a tag.

    Args:
        tag: Its id, such as "P-0212-6".

    Returns:
        SVG of a QR code of version 1 at level H: the id in its alphanumeric mode, with its quiet zone.

    Source: ISO/IEC 18004 (from memory). Checked in: tests/unit/papers/test_tags.py
    """
    import segno

    code = segno.make(tag, version=1, error="h", mode="alphanumeric", boost_error=False)
    drawn: str = code.svg_inline(border=_QUIET, omitsize=True)
    return drawn.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)


def tag_rows(at: JobAtHead) -> list[TagRow]:
    """Gather the tags of the parts on the bench.

    Args:
        at: The job at its head.

    Returns:
        One a part, by tag.
    """
    state, rows = at.state, at.book.rows["parts"]
    found = []
    for part in sorted(state.parts.values(), key=lambda one: one.tag):
        typed, draft = rows[part.part], state.entries[part.entry].draft
        kept = typed.text("position") == "kept"
        words = (part.position, kept, part.mated_with, part.as_found, part.bin, draft.acted_at[:10], draft.person)
        found.append(TagRow(part.tag, typed.text("name"), typed.text("number"), *words))
    return found


def blank_rows(at: JobAtHead, count: int = BLANK_TAGS) -> list[TagRow]:
    """Give tags that are free.

    Args:
        at: The job at its head.
        count: How many.

    Returns:
        The next free ids, with nothing on them.
    """
    used = [*at.state.tags]
    for _ in range(count):
        used.append(next_tag(used))
    return [TagRow(tag) for tag in used[-count:]]


def _told(row: TagRow) -> dict[str, Any]:
    long = {"name": _cut(row.name, _WHOLE_WIDTH), "as_found": _cut(row.as_found, _WHOLE_WIDTH)}
    short = {
        "number": row.number,
        "position": row.position,
        "mated_with": row.mated_with,
        "bin": row.bin,
        "removed_on": row.removed_on,
        "removed_by": row.removed_by,
    }
    cut = {name: _cut(text, _HALF_WIDTH) for name, text in short.items()}
    return {"tag": row.tag, "kept": row.kept, **long, **cut, "code": code_of(row.tag)}


def tags(at: JobAtHead, rows: Sequence[TagRow], *, size: PaperSize = "a4", made_on: str) -> bytes:
    """Print tags, several a page, with lines to cut along.

    Args:
        at: The job at its head.
        rows: What they say.
        size: "a4" or "us-letter".
        made_on: Day of the paper, as 2026-10-02.

    Returns:
        The bytes of a tagged PDF, the same for the same job and day.

    Raises:
        CannotTypeset: the compiler refused; nothing was made.
    """
    told = [_told(row) for row in rows]
    data = {**heading_of(at), "tags": told}
    return typeset("tags", data, title=f"Tags, {data['engine']}, job {at.job}", size=size, made_on=made_on)
