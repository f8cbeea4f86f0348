"""A workbook of 20 000 rows, from bytes to rows under their heading, beside two general readers of the same bytes.

Half of the cells are texts, half are binary numbers, once with the texts in the cells and once shared. The compiled
reader returns floats and stops at nothing; the general library in Python is in its read-only mode. Beside them, what a
million rows cost that somebody only formatted, and writing. Prints times and ratios; asserts nothing. Run: python
benchmarks/bench_sheet.py
"""

from __future__ import annotations

import io
import random
import zipfile
from collections.abc import Callable
from functools import partial
from time import perf_counter

import openpyxl
from python_calamine import CalamineWorkbook

from tenthbook.numbers.sheet import SheetOut, read_workbook, table_of, write_workbook

ROWS, FORMATTED = 20_000, 1_000_000
COLUMNS = ("id", "part", "name", "note", "new low", "new high", "worn", "page")
AIM_S = 2.0
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def best_of(times: int, work: Callable[[], object]) -> float:
    """The best of several runs [s]."""
    spent = []
    for _ in range(times):
        start = perf_counter()
        work()
        spent.append(perf_counter() - start)
    return min(spent)


def cells(line: int, chance: random.Random) -> list[str | float]:
    """One row: four texts, four numbers."""
    low = chance.randrange(5_000, 60_000) / 10_000
    return [
        f"S-{line}",
        f"P-{line % 400:04}",
        "journal, main",
        f"see {line}",
        low,
        low + 0.001,
        low + 0.002,
        line % 300,
    ]


def in_cells() -> bytes:
    """A workbook with its texts in the cells."""
    chance = random.Random(1)
    book, out = openpyxl.Workbook(write_only=True), io.BytesIO()
    sheet = book.create_sheet("sizes")
    sheet.append(COLUMNS)
    for line in range(ROWS):
        sheet.append(cells(line, chance))
    book.save(out)
    return out.getvalue()


def shared(content: bytes) -> bytes:
    """The same with its texts in a part of their own, as most spreadsheets save it."""
    texts: dict[str, int] = {}
    rows = openpyxl.load_workbook(io.BytesIO(content), read_only=True)["sizes"].iter_rows(values_only=True)

    def cell(value: object) -> str:
        if isinstance(value, str):
            return f' t="s"><v>{texts.setdefault(value, len(texts))}</v></c>'
        return f"><v>{value!r}</v></c>"

    lines = (
        f'<row r="{line}">'
        + "".join(f'<c r="{letter}{line}"{cell(value)}' for letter, value in zip("ABCDEFGH", row, strict=True))
        + "</row>"
        for line, row in enumerate(rows, 1)
    )
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData>{"".join(lines)}</sheetData></worksheet>'
    table = f'<sst xmlns="{MAIN}">{"".join(f"<si><t>{text}</t></si>" for text in texts)}</sst>'
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings"
    form = "application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
    override = f'<Override PartName="/xl/sharedStrings.xml" ContentType="{form}"/></Types>'
    relation = f'<Relationship Id="texts" Type="{kind}" Target="/xl/sharedStrings.xml"/></Relationships>'
    return changed(
        content,
        {
            "xl/worksheets/sheet1.xml": lambda _: sheet,
            "[Content_Types].xml": lambda text: text.replace("</Types>", override),
            "xl/_rels/workbook.xml.rels": lambda text: text.replace("</Relationships>", relation),
        },
        {"xl/sharedStrings.xml": table},
    )


def formatted(content: bytes) -> bytes:
    """A workbook whose million rows hold nothing but a format."""
    rows = "".join(f'<row r="{line}"><c r="A{line}" s="0"/></row>' for line in range(1, FORMATTED + 1))
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>'
    return changed(content, {"xl/worksheets/sheet1.xml": lambda _: sheet}, {})


def changed(content: bytes, changes: dict[str, Callable[[str], str]], added: dict[str, str]) -> bytes:
    """A workbook with some parts changed and some added."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            text = old.read(name).decode()
            new.writestr(name, changes[name](text) if name in changes else text)
        for name, text in added.items():
            new.writestr(name, text)
    return out.getvalue()


def ours(content: bytes) -> int:
    """Rows under their heading, by this project."""
    return len(table_of(read_workbook("limits.xlsx", content)["sizes"])[0].rows)


def compiled(content: bytes) -> int:
    """Rows of values, by the compiled reader."""
    return len(CalamineWorkbook.from_filelike(io.BytesIO(content)).get_sheet_by_name("sizes").to_python())


def general(content: bytes) -> int:
    """Rows of values, by the general library in Python."""
    sheet = openpyxl.load_workbook(io.BytesIO(content), read_only=True)["sizes"]
    return len(list(sheet.iter_rows(values_only=True)))


def main() -> None:
    """Time the readers in turns and print the ratios."""
    content = in_cells()
    for what, book in (("texts in the cells", content), ("shared texts", shared(content))):
        assert ours(book) + 1 == compiled(book) == general(book) == ROWS + 1
        mine, theirs, slow = (best_of(3, partial(read, book)) for read in (ours, compiled, general))
        print(f"{ROWS} rows of {len(COLUMNS)}, {what}: {mine:.2f} s, {mine / AIM_S:.2f} of the aim of {AIM_S:.0f} s")
        print(f"  compiled reader {theirs:.2f} s, ratio {mine / theirs:.1f}; in Python {slow:.2f} s, {mine / slow:.2f}")
    blank = formatted(content)
    passed = best_of(1, lambda: read_workbook("limits.xlsx", blank))
    print(f"{FORMATTED} formatted rows without content, passed over: {passed:.2f} s")
    rows = [dict(zip(COLUMNS, map(str, cells(line, random.Random(1))), strict=True)) for line in range(ROWS // 10)]
    written = best_of(3, lambda: write_workbook([SheetOut("sizes", COLUMNS, rows)]))
    print(f"writing {ROWS // 10} rows of text: {written:.2f} s")


if __name__ == "__main__":
    main()
