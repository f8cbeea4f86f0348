"""Small workbooks made by hand, part by part, so that each test can break one thing."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence

import pytest

from tenthbook.numbers.sheet import BadTable, Grid, read_workbook

NAME = "limits.xlsx"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
OF_PACKAGES = "http://schemas.openxmlformats.org/package/2006"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
SHEET = "xl/worksheets/sheet1.xml"


def relations(*targets: tuple[str, str, str]) -> str:
    """Relations of a part: id, last word of the kind, target."""
    each = "".join(f'<Relationship Id="{key}" Type="{RELATIONS}/{kind}" Target="{to}"/>' for key, kind, to in targets)
    return f'<Relationships xmlns="{OF_PACKAGES}/relationships">{each}</Relationships>'


def sheet(rows: str, before: str = "", after: str = "") -> str:
    """A sheet with these rows, and what stands before and after them."""
    return f'<worksheet xmlns="{MAIN}">{before}<sheetData>{rows}</sheetData>{after}</worksheet>'


def styles(*formats: str | int) -> str:
    """A style for each number format: a number of a built-in one, or a format of its own."""
    own = {code: 164 + place for place, code in enumerate(formats) if isinstance(code, str)}
    defined = "".join(f'<numFmt numFmtId="{key}" formatCode="{code}"/>' for code, key in own.items())
    used = "".join(f'<xf numFmtId="{own.get(code, code) if isinstance(code, str) else code}"/>' for code in formats)
    return f'<styleSheet xmlns="{MAIN}"><numFmts>{defined}</numFmts><cellXfs>{used}</cellXfs></styleSheet>'


def parts(rows: str = "", formats: Sequence[str | int] = (0,), shared: Sequence[str] = ()) -> dict[str, str | bytes]:
    """All parts of a workbook with one sheet called sizes; `shared` are the insides of its shared texts."""
    texts = "".join(f"<si>{text}</si>" for text in shared)
    return {
        "[Content_Types].xml": f'<Types xmlns="{OF_PACKAGES}/content-types"><Default Extension="xml" '
        f'ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="{KIND}.sheet.main+xml"/>'
        "</Types>",
        "_rels/.rels": relations(("r1", "officeDocument", "xl/workbook.xml")),
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{RELATIONS}"><sheets>'
        '<sheet name="sizes" sheetId="1" r:id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": relations(
            ("r1", "worksheet", "worksheets/sheet1.xml"),
            ("r2", "styles", "/xl/styles.xml"),
            ("r3", "sharedStrings", "sharedStrings.xml"),
        ),
        "xl/styles.xml": styles(*formats),
        "xl/sharedStrings.xml": f'<sst xmlns="{MAIN}">{texts}</sst>',
        SHEET: sheet(rows),
    }


def packed(held: Mapping[str, str | bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    """The zip of some parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as file:
        for name, content in held.items():
            file.writestr(name, content)
    return out.getvalue()


def changed(part: str, old: str, new: str, rows: str = "") -> bytes:
    """A workbook in which one part reads differently."""
    held = parts(rows)
    text = held[part]
    assert isinstance(text, str)
    assert old in text
    return packed({**held, part: text.replace(old, new)})


def text(reference: str, content: str) -> str:
    """A cell with its own text."""
    return f'<c r="{reference}" t="inlineStr"><is><t>{content}</t></is></c>'


def number(reference: str, written: str, style: int = 0) -> str:
    """A cell with a binary number."""
    return f'<c r="{reference}" s="{style}"><v>{written}</v></c>'


def row(number: int, *cells: str, says: str = "") -> str:
    """A row of cells."""
    return f'<row r="{number}" {says}>{"".join(cells)}</row>'


def read(content: bytes) -> Grid:
    """The one sheet of a workbook."""
    (grid,) = read_workbook(NAME, content).values()
    return grid


def lines(content: bytes) -> list[tuple[int, list[str]]]:
    """The lines of the one sheet of a workbook."""
    return [(line.number, list(line.cells)) for line in read(content).lines]


def faults(content: bytes) -> list[str]:
    """All that is wrong with a workbook."""
    with pytest.raises(BadTable) as caught:
        read_workbook(NAME, content)
    return [str(fault) for fault in caught.value.faults]
