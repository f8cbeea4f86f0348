"""What does one cell hold? Its text, or its number and the format it is shown in; all else is a finding."""

from __future__ import annotations

from collections.abc import Sequence

from tenthbook.numbers.sheet import findings
from tenthbook.numbers.sheet.findings import Findings, Kind
from tenthbook.numbers.sheet.formats import Formats, say_date, shortest
from tenthbook.numbers.sheet.strings import torn, unescape

_UNREAD = "?"  # stands where a finding is, so that the cell counts as filled; no grid with findings is handed out


class Values:
    """Reads the cells of one sheet."""

    def __init__(self, name: str, texts: Sequence[tuple[str, bool]], formats: Formats, found: Findings) -> None:
        """Keep what cells refer to.

        Args:
            name: What to call the sheet in a fault.
            texts: The texts that stand once for all cells, each with whether its look changes it.
            formats: The number formats by style.
            found: Where to put what cannot be read.
        """
        self._name, self._texts, self._formats, self._found = name, texts, formats, found
        self._short: dict[str, str | None] = {}
        self._styles: dict[str | None, tuple[str, bool]] = {}

    def refuse(self, kind: Kind, place: str, found: str) -> str:
        """Note a cell that cannot be read.

        Args:
            kind: Why not.
            place: The cell.
            found: What it holds.

        Returns:
            A text that is not blank.
        """
        self._found.add(kind, place, found)
        return _UNREAD

    def text(self, text: str, raised: bool, place: str) -> str:
        """Take a text, unless it is not what it looks like.

        Args:
            text: Without blanks around it.
            raised: Whether a sign of it is raised, lowered or struck out.
            place: The cell.

        Returns:
            The text.
        """
        if raised:
            return self.refuse(findings.RAISED, place, f"{text!r} with raised, lowered or struck signs")
        if "\0" in text:
            return self.refuse(findings.CONTROL, place, "a NUL character")
        return text

    def number(self, written: str, style: str | None, place: str) -> tuple[str, str]:
        """Read a binary number.

        Args:
            written: As the workbook holds it.
            style: Number of the cell's style, or None for the first.
            place: The cell.

        Returns:
            The shortest digits that give the number, and the number format of the cell.
        """
        number_format, shows_date = self._styles.get(style) or self._style(style, place)
        text = self._short.get(written)
        if text is None:
            text = self._short[written] = shortest(written)
        if text is None:
            text = self.refuse(findings.NO_NUMBER, place, f"{written!r} as a number")
        elif shows_date:
            said = say_date(text, number_format, from_1904=self._formats.from_1904)
            text = self.refuse(findings.DATE, place, said)
        return text, number_format

    def other(self, kind: str, value: str, place: str) -> str:
        """Read a cell that is neither a number nor a text of its own.

        Args:
            kind: Its kind as the workbook names it.
            value: What it holds.
            place: The cell.

        Returns:
            Its text.

        Raises:
            BadTable: a kind of cell that is not known, or a text that is not there.
        """
        if kind == "s":
            if not value.isdecimal() or int(value) >= len(self._texts):
                raise torn(f"{self._name}:{place}", f"text number {value!r}, which is not there")
            return self.text(*self._texts[int(value)], place)
        if kind == "str":
            return self.text(unescape(value).strip(), False, place)
        if kind == "e":
            return self.refuse(findings.ERROR, place, f"the error {value}")
        if kind == "b":
            return self.refuse(findings.TRUTH, place, f"{'FALSE' if value in ('0', 'false') else 'TRUE'} as a value")
        if kind == "d":
            return self.refuse(findings.DATE, place, f"a date, {value}")
        raise torn(f"{self._name}:{place}", f"a cell of the unknown kind {kind!r}")

    def _style(self, style: str | None, place: str) -> tuple[str, bool]:
        index = int(style or 0)
        if not 0 <= index < len(self._formats.codes):
            raise torn(f"{self._name}:{place}", f"style {index}, which is not there")
        found = self._formats.codes[index], self._formats.dates[index]
        return self._styles.setdefault(style, found)
