"""How a picture is written: elements, attributes and text, always escaped.

It knows nothing of what is drawn. Coordinates are rounded to 0.1, so that the same picture is always the same bytes.
"""

from __future__ import annotations

import re

_NO_XML = r"[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]"
_TURNING = r"[\u202a-\u202e\u2066-\u2069]"  # turns the direction of writing and could turn digits round
_UNFIT = re.compile(f"{_NO_XML}|{_TURNING}")
_SIGNS = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"})


def plain(text: str) -> str:
    """Make one line of a text that may hold anything.

    Args:
        text: Any text.

    Returns:
        The text with single spaces between words; what XML cannot hold is replaced by U+FFFD.
    """
    return " ".join(_UNFIT.sub("\ufffd", text).split())


def escape(text: str) -> str:
    """Write text so that it stays text.

    Args:
        text: Any text.

    Returns:
        Text fit for an element or for a quoted attribute.
    """
    return _UNFIT.sub("\ufffd", text).translate(_SIGNS)


def number(value: float) -> str:
    """Write a coordinate.

    Args:
        value: Coordinate [px].

    Returns:
        The coordinate rounded to 0.1, without needless digits or a negative zero.
    """
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


def element(tag: str, *children: str, **attributes: str | float | None) -> str:
    """Write one element.

    Args:
        tag: Its name.
        *children: Markup that was written by this function, or by `escape`.
        **attributes: Names with `_` for `-` and one dropped at the end (`class_`); numbers are coordinates, None is
            left out.

    Returns:
        The markup.
    """
    head = tag
    for key, value in attributes.items():
        if value is not None:
            written = escape(value) if isinstance(value, str) else number(value)
            head += f' {key.removesuffix("_").replace("_", "-")}="{written}"'
    inside = "".join(children)
    return f"<{head}>{inside}</{tag}>" if inside else f"<{head}/>"
