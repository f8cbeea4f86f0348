"""The texts of a workbook: runs put together, escapes resolved, a warning where the look of a sign changes the text.

Texts stand either in the cells or once for all in a part of their own. Readings for another script are left out. A sign
that is raised, lowered or struck out is noted, because the plain text then reads as something else: 0.25 with a raised
5 is not 0.255.
Source for the form: ECMA-376 Part 1, 18.4 (shared strings) and 22.9.2.19 (ST_Xstring), from memory.
"""

from __future__ import annotations

import re

from tenthbook.numbers.because import Fault
from tenthbook.numbers.sheet.grid import BadTable

_MAIN = (
    "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
    "http://purl.oclc.org/ooxml/spreadsheetml/main",
)
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_LOOKS_ESCAPED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_NEEDS_ESCAPE = re.compile("[\x00-\x08\x0b-\x1f\ufffe\uffff]")
_SURROGATES = range(0xD800, 0xE000)
_KEEPS_THE_TEXT = frozenset(
    {"r", "rPr", "phoneticPr", "b", "i", "u", "sz", "color", "rFont", "family", "charset", "scheme", "outline"}
    | {"shadow", "condense", "extend"}
)
_NO = ("0", "false")


def escape(text: str) -> str:
    """Write a text so that markup can hold every sign of it.

    Args:
        text: Any text without half characters.

    Returns:
        The text; a sign that markup cannot hold is written by its number, and what looks like that is kept apart.

    Source: ECMA-376 Part 1, 22.9.2.19, from memory. Checked in: tests/published/test_ecma_376.py
    """
    return _NEEDS_ESCAPE.sub(lambda sign: f"_x{ord(sign[0]):04X}_", _LOOKS_ESCAPED.sub("_x005F_", text))


def unescape(text: str) -> str:
    """Read a text as markup holds it.

    Args:
        text: What `escape` or a spreadsheet has written.

    Returns:
        The text itself; the number of half a character is left as it stands.

    Source: ECMA-376 Part 1, 22.9.2.19, from memory. Checked in: tests/published/test_ecma_376.py
    """

    def sign(match: re.Match[str]) -> str:
        code = int(match[1], 16)
        return match[0] if code in _SURROGATES else chr(code)

    return _ESCAPED.sub(sign, text) if "_x" in text else text


def torn(place: str, found: str) -> BadTable:
    """Say that a part is not as a spreadsheet saves it.

    Args:
        place: The part, sheet or cell.
        found: What stands there.

    Returns:
        The error, to be raised.
    """
    return BadTable([Fault(place, found, "a workbook as a spreadsheet saves it; open it there and save it again")])


def bare_name(tag: str, prefix: str) -> str:
    """Take the prefix off that a part gives the names of spreadsheets.

    Args:
        tag: Name of an element as written.
        prefix: The prefix with its colon, or nothing.

    Returns:
        The name; one of another vocabulary keeps a colon.
    """
    if tag.startswith(prefix):
        return tag[len(prefix) :]
    return tag if ":" in tag else f":{tag}"


def prefix_of(place: str, root: str, attributes: dict[str, str], expected: str) -> str:
    """Find the prefix that a part gives the names of spreadsheets.

    Args:
        place: The part, for a fault.
        root: Name of its outermost element as written.
        attributes: What the element declares.
        expected: Its name without the prefix.

    Returns:
        The prefix with its colon, or nothing.

    Raises:
        BadTable: the part is another, or speaks another vocabulary.
    """
    before, colon, name = root.rpartition(":")
    if name != expected or attributes.get(f"xmlns:{before}" if colon else "xmlns") not in _MAIN:
        raise torn(place, f"the outermost element {root!r} and not that of a spreadsheet's {expected}")
    return before + colon


class Text:
    """One text while it is being read.

    Attributes:
        pieces: What the reader of the markup appends text to.
        raised: Whether a sign of it is raised, lowered or struck out.
    """

    def __init__(self) -> None:
        """Begin with nothing."""
        self.pieces: list[str] = []
        self.raised = False
        self._runs: list[str] = []
        self._aside = False

    def begin(self) -> None:
        """Begin another text."""
        self.raised = self._aside = False
        self._runs.clear()

    def start(self, name: str, attributes: dict[str, str]) -> bool:
        """Take an element that begins inside the text.

        Args:
            name: Its name.
            attributes: What it says.

        Returns:
            Whether it is known.
        """
        if name == "t":
            self.pieces.clear()
        elif name == "rPh":
            self._aside = True
        elif name == "vertAlign":
            self.raised |= attributes.get("val") != "baseline"
        elif name == "strike":
            self.raised |= attributes.get("val") not in _NO
        else:
            return name in _KEEPS_THE_TEXT
        return True

    def end(self, name: str) -> None:
        """Take an element that ends inside the text.

        Args:
            name: Its name.
        """
        if name == "rPh":
            self._aside = False
        elif name == "t" and not self._aside:
            self._runs.append("".join(self.pieces))

    def whole(self) -> str:
        """Put the text together.

        Returns:
            All its runs, without blanks around them.
        """
        return unescape("".join(self._runs)).strip()


class SharedTexts:
    """The texts that stand once for all cells.

    Attributes:
        texts: In their order, each with whether a sign of it is raised, lowered or struck out.
    """

    def __init__(self, place: str) -> None:
        """Begin with none.

        Args:
            place: What to call the part in a fault.
        """
        self.texts: list[tuple[str, bool]] = []
        self.text = Text()
        self._place = place
        self._prefix: str | None = None

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take an element that begins.

        Args:
            tag: Its name as written.
            attributes: What it says.

        Raises:
            BadTable: an element this reader does not know.
        """
        if self._prefix is None:
            self._prefix = prefix_of(self._place, tag, attributes, "sst")
            return
        name = bare_name(tag, self._prefix)
        if name == "si":
            self.text.begin()
        elif not self.text.start(name, attributes):
            raise torn(self._place, f"the unknown element {tag!r} in a text")

    def end(self, tag: str) -> None:
        """Take an element that ends.

        Args:
            tag: Its name as written.
        """
        name = bare_name(tag, self._prefix or "")
        if name == "si":
            self.texts.append((self.text.whole(), self.text.raised))
        else:
            self.text.end(name)
