"""Which sheets does a workbook hold, and what stands in them?

Goes in: the bytes of a workbook (XLSX) and the name to call it by. Comes out: a grid for each sheet by its name, or
everything that cannot be read, with the cell. Names of sheets are names only.
Source for the form: ECMA-376 Part 1, 18.2 (workbook), from memory. Checked in: tests/published/test_ecma_376.py
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from tenthbook.numbers.because import Fault
from tenthbook.numbers.sheet.cells import Sheet
from tenthbook.numbers.sheet.formats import Formats, formats_of
from tenthbook.numbers.sheet.grid import BadTable, Grid
from tenthbook.numbers.sheet.package import Package
from tenthbook.numbers.sheet.strings import SharedTexts, torn

_TYPES = "[Content_Types].xml"
_MAIN_TYPES = ("spreadsheetml.sheet.main+xml", "spreadsheetml.template.main+xml")
_RELATION_ID = (
    "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id",
    "{http://purl.oclc.org/ooxml/officeDocument/relationships}id",
)


@dataclass(frozen=True, slots=True)
class _Relation:
    kind: str
    path: str
    outside: bool


def _resolved(folder: str, target: str) -> str:
    steps = [] if target.startswith("/") else folder.split("/")
    for step in target.split("/"):
        if step == "..":
            steps = steps[:-1]
        elif step not in ("", "."):
            steps.append(step)
    return "/".join(step for step in steps if step)


def _relations(package: Package, path: str) -> dict[str, _Relation]:
    folder, _, file = path.rpartition("/")
    listed = f"{folder}/_rels/{file}.rels"
    if not package.holds(listed):
        return {}
    return {
        each.get("Id", ""): _Relation(
            each.get("Type", "").rpartition("/")[2],
            _resolved(folder, each.get("Target", "")),
            each.get("TargetMode") == "External",
        )
        for each in package.tree(listed)
    }


def _check_types(package: Package, path: str) -> None:
    types = package.tree(_TYPES)
    said = {each.get("PartName", "").removeprefix("/").lower(): each.get("ContentType", "") for each in types}
    every = " ".join(each.get("ContentType", "") for each in types).lower()
    if any(word in every for word in ("macroenabled", "vbaproject", "macrosheet")):
        raise BadTable([Fault(package.name, "a workbook with macros", "one without; save it as XLSX")])
    by_ending = {each.get("Extension", "").lower(): each.get("ContentType", "") for each in types}
    found = said.get(path.lower()) or by_ending.get(path.rpartition(".")[2].lower(), "")
    if not found.endswith(_MAIN_TYPES):
        raise BadTable([Fault(package.name, f"a file of the kind {found!r}", "a workbook saved as XLSX")])


def _of_kind(relations: dict[str, _Relation], kind: str) -> str | None:
    return next((each.path for each in relations.values() if each.kind == kind and not each.outside), None)


def _named(element: Element, name: str) -> Iterator[Element]:
    return (each for each in element.iter() if each.tag.rpartition("}")[2] == name)


def _listed_sheets(package: Package, book: Element, relations: dict[str, _Relation]) -> dict[str, str]:
    """Pair the names of the sheets with their parts.

    Raises:
        BadTable: a sheet that is hidden, twice, not there, or not of cells.
    """
    listed: dict[str, str] = {}
    faults: list[Fault] = []
    for element in _named(book, "sheet"):
        name = element.get("name", "")
        place = f"{package.name}, {name}"
        relation = relations.get(next((element.get(key, "") for key in _RELATION_ID if element.get(key)), ""))
        if element.get("state", "visible") != "visible":
            faults.append(Fault(place, "a hidden sheet", "none; show or delete it, so that all is seen"))
        elif relation is None or relation.outside or not package.holds(relation.path):
            raise torn(place, "a sheet that is not inside the workbook")
        elif relation.kind != "worksheet":
            faults.append(Fault(place, f"a sheet of the kind {relation.kind!r}", "a sheet of cells; delete the other"))
        elif name.lower() in map(str.lower, listed) or relation.path in listed.values():
            raise torn(place, "a sheet twice")
        else:
            listed[name] = relation.path
    if faults:
        raise BadTable(faults)
    if not listed:
        raise torn(package.name, "a workbook without a sheet")
    return listed


def _shared_texts(package: Package, path: str | None) -> list[tuple[str, bool]]:
    if path is None:
        return []
    shared = SharedTexts(f"{package.name}, {path}")
    package.walk(path, shared.start, shared.end, shared.text.pieces.append)
    return shared.texts


def _formats(package: Package, path: str | None, book: Element) -> Formats:
    from_1904 = any(each.get("date1904") in ("1", "true") for each in _named(book, "workbookPr"))
    return formats_of(package.tree(path) if path else None, from_1904=from_1904)


def read_sheets(name: str, content: bytes) -> dict[str, Grid]:
    """Read the sheets of a workbook; `read_workbook` says how.

    Args:
        name: What to call it in a fault.
        content: Its bytes.

    Returns:
        A grid for each sheet, by the sheet's name.

    Raises:
        BadTable: what cannot be read.
    """
    package = Package(name, content)
    path = _of_kind(_relations(package, ""), "officeDocument")
    if path is None or not package.holds(_TYPES):
        raise BadTable([Fault(name, "a zip that holds no workbook", "a workbook saved as XLSX")])
    _check_types(package, path)
    book, relations = package.tree(path), _relations(package, path)
    sheets = _listed_sheets(package, book, relations)
    texts = _shared_texts(package, _of_kind(relations, "sharedStrings"))
    formats = _formats(package, _of_kind(relations, "styles"), book)
    grids: dict[str, Grid] = {}
    faults: list[Fault] = []
    for title, part in sheets.items():
        sheet = Sheet(f"{name}, {title}", texts, formats)
        package.walk(part, sheet.start, sheet.end, sheet.text.pieces.append)
        grids[title] = sheet.grid()
        faults += sheet.findings.faults()
    if faults:
        raise BadTable(faults)
    return grids
