"""From data and a template to a tagged PDF.

The compiler runs in its PDF/UA-1 mode, in which a picture without words is an error. Fonts come from this folder
alone, and the date is given, so the same data make the same bytes.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

from tenthbook.numbers.because import TenthbookError

PaperSize = Literal["a4", "us-letter"]
_HERE = Path(__file__).parent


class CannotTypeset(TenthbookError):
    """A paper that the compiler refused."""


def typeset(template: str, data: Mapping[str, Any], *, title: str, size: PaperSize, made_on: str) -> bytes:
    """Typeset a paper.

    Args:
        template: Name of the template, without its ending.
        data: What it prints; text, lists and objects.
        title: Title of the document.
        size: "a4" or "us-letter".
        made_on: Day of the paper, as 2026-10-02.

    Returns:
        The bytes of the PDF.

    Raises:
        CannotTypeset: the compiler refused; nothing was made.
    """
    import typst

    day = datetime.datetime.combine(datetime.date.fromisoformat(made_on), datetime.time(), datetime.UTC)
    held = json.dumps({**data, "title": title, "size": size, "made_on": made_on})
    try:
        made: bytes = typst.compile(
            str(_HERE / "templates" / f"{template}.typ"),
            root=str(_HERE / "templates"),
            font_paths=[str(_HERE / "fonts")],
            ignore_system_fonts=True,
            sys_inputs={"data": held},
            pdf_standards="ua-1",
            timestamp=int(day.timestamp()),
        )
    except (typst.TypstError, RuntimeError, ValueError) as error:
        raise CannotTypeset(
            found=str(error)[:300], expected="a paper that can be set", todo="report this with the job's archive"
        ) from error
    return made
