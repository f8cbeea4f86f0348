"""Files that are no workbook, or one nobody should unpack: each is refused with what to do, and quickly."""

from __future__ import annotations

import struct
import zipfile
from time import process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.because import Fault
from tenthbook.numbers.sheet import BadTable, SheetOut, cells, package, read_workbook, write_workbook
from tests.unit.sheet.workbooks import (
    MAIN,
    RELATIONS,
    SHEET,
    changed,
    faults,
    lines,
    number,
    packed,
    parts,
    row,
    sheet,
    text,
)

GOOD = packed(parts(row(1, number("A1", "1"))))
COMPOUND_FILE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
QUICK = 20.0
"""Most a refusal or a pass over blank rows may take of a slow, busy processor [s]."""


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"", "bytes that are no workbook; expected a workbook saved as XLSX"),
        (b"id,size\na,1\n", "bytes that are no workbook; expected a workbook saved as XLSX"),
        (b"PK\x05\x06" + bytes(18), "bytes that are no workbook; expected a workbook saved as XLSX"),
        (COMPOUND_FILE + bytes(600), "a workbook of the old binary kind; expected the same, saved as XLSX"),
        (
            COMPOUND_FILE + bytes(600) + "EncryptedPackage".encode("utf-16-le"),
            "an encrypted workbook; expected one saved without a password",
        ),
        (packed({"word.txt": "x"}), "a zip that holds no workbook; expected a workbook saved as XLSX"),
        (GOOD[: len(GOOD) // 2], "a torn file; expected a whole workbook"),
        (GOOD[:-30], "a torn file; expected a whole workbook"),
        (GOOD[:4], "a torn file; expected a whole workbook"),
    ],
)
def test_what_is_no_whole_workbook_says_what_it_is(content: bytes, fault: str) -> None:
    """A text, an old or an encrypted workbook and a torn file are told apart."""
    (said,) = faults(content)
    assert said.startswith(f"limits.xlsx: found {fault}")


def test_a_flipped_bit_in_a_part_is_found() -> None:
    """What comes out must have the checksum that the zip states."""
    plain = packed(parts(row(1, number("A1", "12345"))), zipfile.ZIP_STORED)
    (said,) = faults(plain.replace(b"<v>12345</v>", b"<v>12344</v>"))
    assert said.startswith(f"limits.xlsx: found a torn part '{SHEET}'")


@pytest.mark.parametrize(
    ("extra", "fault"),
    [
        ("../evil.xml", "a part called '../evil.xml'"),
        ("xl/../../evil.xml", "a part called 'xl/../../evil.xml'"),
        ("/etc/evil.xml", "a part called '/etc/evil.xml'"),
        ("C:/evil.xml", "a part called 'C:/evil.xml'"),
        ("xl\\evil.xml", r"a part called 'xl\\evil.xml'"),
        ("xl//evil.xml", "a part called 'xl//evil.xml'"),
        ("XL/WORKBOOK.XML", "2 parts called 'xl/workbook.xml'"),
        ("xl/vbaProject.bin", "a workbook with macros; expected one without; save it as XLSX"),
        ("xl/macrosheets/sheet1.xml", "a workbook with macros; expected one without; save it as XLSX"),
    ],
)
def test_names_of_parts_are_plain_and_none_is_a_macro(extra: str, fault: str) -> None:
    """A name that leads elsewhere, a name twice and a macro are refused before anything is unpacked."""
    (said,) = faults(packed({**parts(), extra: "x"}))
    assert said.startswith(f"limits.xlsx: found {fault}")


def test_a_part_twice_is_refused() -> None:
    """Two parts of one name could be read as either."""
    other = SHEET.replace("1", "2")
    content = packed({**parts(), other: "x"}).replace(other.encode(), SHEET.encode())
    (said,) = faults(content)
    assert said.startswith(f"limits.xlsx: found 2 parts called '{SHEET}'")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("spreadsheetml.sheet.main+xml", "spreadsheetml.sheet.macroEnabled.main+xml"),
        ("</Types>", '<Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/></Types>'),
    ],
)
def test_a_workbook_that_says_it_has_macros_is_refused(old: str, new: str) -> None:
    """What a workbook says of itself counts, whatever its parts are called."""
    assert faults(changed("[Content_Types].xml", old, new)) == [
        "limits.xlsx: found a workbook with macros; expected one without; save it as XLSX"
    ]


@pytest.mark.parametrize("kind", ["wordprocessingml.document.main+xml", "ms-excel.sheet.binary.main"])
def test_another_kind_of_document_is_refused(kind: str) -> None:
    """A letter, or a workbook of the binary kind, is named by its kind."""
    (said,) = faults(changed("[Content_Types].xml", "spreadsheetml.sheet.main+xml", kind))
    assert kind in said
    assert said.endswith("expected a workbook saved as XLSX")


def patched(content: bytes, offset: int, form: str, value: int) -> bytes:
    """A zip in whose entries one field reads differently, in the entry itself and in the directory."""
    changed_bytes = bytearray(content)
    for mark, shift in ((b"PK\x03\x04", 0), (b"PK\x01\x02", 2)):
        at = changed_bytes.find(mark)
        while at >= 0:
            struct.pack_into(form, changed_bytes, at + offset + shift, value)
            at = changed_bytes.find(mark, at + 4)
    return bytes(changed_bytes)


def test_an_encrypted_part_is_refused() -> None:
    """The zip's own encryption is named."""
    (said,) = faults(patched(GOOD, 6, "<H", 1))
    assert said == "limits.xlsx: found an encrypted workbook; expected one saved without a password"


def test_an_unusual_packing_is_refused() -> None:
    """Only the two ways of packing that workbooks use are unpacked."""
    (said,) = faults(packed(parts(), zipfile.ZIP_LZMA))
    assert said.startswith("limits.xlsx: found parts packed in an unusual way")


def test_a_part_that_unpacks_to_far_more_is_refused_unopened() -> None:
    """A bomb is known by its ratio, before anything is inflated."""
    start = process_time()
    said = faults(packed({**parts(), "xl/media/image1.png": bytes(20_000_000)}))
    assert process_time() - start < QUICK
    assert said == [
        "limits.xlsx: found part 'xl/media/image1.png' packed more than 200 times; "
        "expected a workbook as a spreadsheet saves it"
    ]


def test_parts_that_say_they_are_too_large_together_are_refused_unopened() -> None:
    """The stated sizes are added up first."""
    (said,) = [fault for fault in faults(patched(GOOD, 22, "<L", 30_000_000)) if "once unpacked" in fault]
    assert said.startswith("limits.xlsx: found 210000000 bytes once unpacked; expected at most 200000000")


def test_a_part_larger_than_it_says_is_cut_off_and_refused() -> None:
    """What comes out is counted as it comes, whatever the directory says."""
    held = parts("".join(row(line, text(f"A{line}", "x" * 40)) for line in range(1, 20_000)))
    content = bytearray(packed(held))
    directory = content.rfind(SHEET.encode()) - 46
    assert content[directory : directory + 4] == b"PK\x01\x02"
    struct.pack_into("<L", content, directory + 24, 1000)
    (said,) = faults(bytes(content))
    assert said.startswith(f"limits.xlsx: found a torn part '{SHEET}'")


def test_one_part_under_many_sheets_is_refused() -> None:
    """Listing a large part again and again would multiply it."""
    again = '<sheet name="again" sheetId="2" r:id="r1"/></sheets>'
    (said,) = faults(changed("xl/workbook.xml", "</sheets>", again))
    assert said.startswith("limits.xlsx, again: found a sheet twice")


def test_what_comes_out_is_counted_over_all_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    """A part that is unpacked again and again counts each time."""
    size = sum(len(content) for content in parts().values())
    monkeypatch.setattr(package, "_MOST_UNPACKED", size)
    opened = package.Package("limits.xlsx", packed(parts()))
    assert len(b"".join(opened.pieces("XL/workbook.xml"))) == len(parts()["xl/workbook.xml"])
    with pytest.raises(BadTable, match=f"found more than {size} bytes once unpacked"):
        [list(opened.pieces("xl/workbook.xml")) for _ in range(20)]


def test_a_file_larger_than_50_million_bytes_is_refused() -> None:
    """A table for a mechanic is small."""
    assert faults(b"PK\x03\x04" + bytes(50_000_000)) == ["limits.xlsx: found 50000004 bytes; expected at most 50000000"]


def test_blank_cells_are_counted_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """Formatted cells without end are refused after so many."""
    monkeypatch.setattr(cells, "_MOST_CELLS", 100)
    assert lines(packed(parts("<row><c/></row>" * 100))) == []
    (said,) = faults(packed(parts("<row><c/></row>" * 101)))
    assert said.startswith("limits.xlsx, sizes: found more than 100 cells, blank or not; expected at most 100; delete")


def test_thousands_of_parts_are_refused() -> None:
    """The directory itself is bounded."""
    (said,) = faults(packed({**parts(), **{f"xl/media/{place}.png": "" for place in range(1000)}}))
    assert said.startswith("limits.xlsx: found more than 1000 parts inside")


BILLION = "<!DOCTYPE x [<!ENTITY a 'lol'>{}]>".format(
    "".join(f"<!ENTITY {name} '{f'&{inner};' * 10}'>" for inner, name in zip("abcdefghi", "bcdefghij", strict=True))
)
OUTSIDE = "<!DOCTYPE x [<!ENTITY j SYSTEM 'file:///etc/passwd'>]>"


@pytest.mark.parametrize("declared", [BILLION, OUTSIDE, "<!DOCTYPE x>", "<!DOCTYPE x SYSTEM 'http://127.0.0.1/x.dtd'>"])
@pytest.mark.parametrize("part", [name for name in parts() if name.endswith(".xml")])
def test_no_part_may_declare_a_document_type(part: str, declared: str) -> None:
    """Entities that multiply or that fetch a file are stopped where they are declared."""
    held = parts(row(1, '<c r="A1" t="inlineStr"><is><t>&j;</t></is></c>'))
    start = process_time()
    (said,) = faults(packed({**held, part: declared + str(held[part])}))
    assert process_time() - start < QUICK
    assert said.startswith(f"limits.xlsx: found part '{part}' that declares a document type")


def test_a_document_type_in_another_encoding_is_found_too() -> None:
    """The declaration is found by the reader of the markup, not by its bytes."""
    held = parts()
    (said,) = faults(packed({**held, SHEET: (BILLION + str(held[SHEET])).encode("utf-16")}))
    assert said.startswith(f"limits.xlsx: found part '{SHEET}' that declares a document type")


def test_an_entity_that_nobody_declared_is_torn_markup() -> None:
    """An unknown entity is not left out of a text."""
    (said,) = faults(packed(parts(row(1, text("A1", "0.5&j;")))))
    assert said.startswith(f"limits.xlsx: found torn markup in part '{SHEET}'")


@pytest.mark.parametrize("part", ["xl/workbook.xml", "xl/styles.xml", "xl/sharedStrings.xml", SHEET])
@pytest.mark.parametrize("content", ["", "no markup", "<a><b>", "<?xml version='1.0' encoding='none'?><a/>", "\0"])
def test_torn_markup_is_refused_with_its_part(part: str, content: str) -> None:
    """Each part that is needed must be whole."""
    (said,) = faults(packed({**parts(), part: content.replace("<a>", str(parts()[part]).partition(">")[0] + ">")}))
    assert said.startswith(f"limits.xlsx: found torn markup in part '{part}'")


def test_a_part_that_should_be_small_is_bounded() -> None:
    """Parts that are held in memory whole may not be large."""
    noise = "".join(f"<x{place}/>" for place in range(500_000))
    (said,) = faults(packed({**parts(), "xl/styles.xml": f"<styleSheet>{noise}</styleSheet>"}))
    assert said.startswith("limits.xlsx: found part 'xl/styles.xml' of more than 4000000 bytes")


def test_endless_kinds_of_elements_are_refused() -> None:
    """Memory does not grow with the names somebody invents."""
    noise = "".join(f"<x{place}/>" for place in range(2000))
    (said,) = faults(packed({**parts(), SHEET: sheet("", before=noise)}))
    assert said.startswith("limits.xlsx, sizes: found more than 1000 kinds of elements")


def test_a_million_blank_and_formatted_rows_are_passed_over() -> None:
    """Rows that somebody only formatted are no content and do not stop the reading."""
    blank = "".join(f'<row r="{line}"/>' for line in range(10, 500_000))
    formatted = "".join(f'<row r="{line}"><c r="A{line}" s="0"/></row>' for line in range(500_000, 1_048_576))
    content = packed(parts(row(9, text("A9", "id")) + blank + formatted + row(1_048_576, text("A1048576", "end"))))
    start = process_time()
    assert lines(content) == [(9, ["id"]), (1_048_576, ["end"])]
    assert process_time() - start < QUICK


def test_more_rows_than_a_table_holds_are_refused() -> None:
    """200 000 rows with content are the end."""
    content = packed(parts("".join(f'<row r="{line}"><c><v>{line}</v></c></row>' for line in range(1, 200_002))))
    assert faults(content) == ["limits.xlsx, sizes: found more than 200000 rows; expected at most 200000 rows"]


def test_a_long_text_under_many_cells_is_refused() -> None:
    """A shared text can stand in every cell; what comes out is bounded, not only what went in."""
    rows = "".join('<row><c t="s"><v>0</v></c><c t="s"><v>0</v></c></row>' for _ in range(1000))
    (said,) = faults(packed(parts(rows, shared=[f"<t>{'x1y2z3' * 5000}</t>"])))
    assert said == "limits.xlsx, sizes: found more than 50000000 signs; expected at most 50000000 signs"


@pytest.mark.parametrize("state", ["hidden", "veryHidden"])
def test_a_hidden_sheet_is_refused(state: str) -> None:
    """What is read is what is seen."""
    (said,) = faults(changed("xl/workbook.xml", 'sheetId="1"', f'sheetId="1" state="{state}"'))
    assert said.startswith("limits.xlsx, sizes: found a hidden sheet; expected none; show or delete it")


def test_a_sheet_of_pictures_is_refused() -> None:
    """A sheet without cells cannot be read as a table."""
    (said,) = faults(changed("xl/_rels/workbook.xml.rels", "/worksheet", "/chartsheet"))
    assert said.startswith("limits.xlsx, sizes: found a sheet of the kind 'chartsheet'; expected a sheet of cells")


@pytest.mark.parametrize(
    ("part", "old", "new", "fault"),
    [
        ("xl/workbook.xml", 'r:id="r1"', 'r:id="r9"', "limits.xlsx, sizes: found a sheet that is not inside"),
        ("xl/workbook.xml", 'r:id="r1"', "", "limits.xlsx, sizes: found a sheet that is not inside"),
        ("xl/_rels/workbook.xml.rels", "sheet1.xml", "sheet7.xml", "limits.xlsx, sizes: found a sheet that is not ins"),
        (
            "xl/_rels/workbook.xml.rels",
            'Target="worksheets/sheet1.xml"',
            'Target="worksheets/sheet1.xml" TargetMode="External"',
            "limits.xlsx, sizes: found a sheet that is not inside",
        ),
        ("xl/_rels/workbook.xml.rels", "sharedStrings.xml", "none.xml", "limits.xlsx: found no part 'xl/none.xml' ins"),
        ("xl/_rels/workbook.xml.rels", "sheet1.xml", "../../../x", "limits.xlsx, sizes: found a sheet that is not ins"),
        ("_rels/.rels", "xl/workbook.xml", "xl/none.xml", "limits.xlsx: found a file of the kind 'application/xml'"),
        ("_rels/.rels", '/officeDocument"', '/other"', "limits.xlsx: found a zip that holds no workbook"),
    ],
)
def test_what_is_not_inside_is_not_fetched(part: str, old: str, new: str, fault: str) -> None:
    """A sheet or text that lies elsewhere is refused; nothing outside the zip is looked for."""
    content = packed({**parts(), part: str(parts()[part]).replace(old, new, 1)})
    assert content != packed(parts())
    (said,) = faults(content)
    assert said.startswith(fault)


def test_a_link_to_another_workbook_is_left_alone() -> None:
    """A link is no cell; it is neither followed nor read."""
    held = parts(row(1, number("A1", "1")))
    held["xl/_rels/workbook.xml.rels"] = str(held["xl/_rels/workbook.xml.rels"]).replace(
        "<Relationship ",
        f'<Relationship Id="r8" Type="{RELATIONS}/externalLink" Target="externalLinks/link1.xml"/>'
        f'<Relationship Id="r9" Type="{RELATIONS}/styles" Target="http://127.0.0.1/s" TargetMode="External"/>'
        "<Relationship ",
        1,
    )
    held["xl/externalLinks/link1.xml"] = "<!DOCTYPE x><torn"
    assert lines(packed(held)) == [(1, ["1"])]


@pytest.mark.parametrize("names", ["sizes|SIZES", "sizes|sizes"])
def test_two_sheets_of_one_name_are_refused(names: str) -> None:
    """A name that means two sheets means neither."""
    listed = "".join(
        f'<sheet name="{name}" sheetId="{place}" r:id="r{place}"/>' for place, name in enumerate(names.split("|"), 1)
    )
    held: dict[str, str | bytes] = {
        **parts(),
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{RELATIONS}"><sheets>{listed}</sheets></workbook>',
        "xl/worksheets/sheet2.xml": sheet(""),
        "xl/_rels/workbook.xml.rels": str(parts()["xl/_rels/workbook.xml.rels"])
        .replace('"r2"', '"r7"')
        .replace(
            "</Relationships>",
            f'<Relationship Id="r2" Type="{RELATIONS}/worksheet" Target="worksheets/sheet2.xml"/></Relationships>',
        ),
    }
    (said,) = faults(packed(held))
    assert said.endswith("open it there and save it again")
    assert "found a sheet twice" in said


def test_a_workbook_without_sheets_is_refused() -> None:
    """There is nothing to read."""
    listed = '<sheet name="sizes" sheetId="1" r:id="r1"/>'
    assert faults(changed("xl/workbook.xml", listed, ""))[0].startswith("limits.xlsx: found a workbook without a sheet")


WRITTEN = write_workbook([SheetOut("sizes", ["id", "size"], [{"id": "a", "size": "0.5090"}], {"size": "in inches"})])


@given(st.integers(0, len(WRITTEN) - 1), st.integers(1, 255))
@settings(deadline=None, max_examples=300)
def test_one_changed_byte_gives_the_same_table_or_a_fault(place: int, flip: int) -> None:
    """Damage is either without effect on the cells or named; it never changes a digit and never ends otherwise."""
    broken = bytearray(WRITTEN)
    broken[place] ^= flip
    kept: list[tuple[str, ...]] = []
    found: tuple[Fault, ...] = ()
    try:
        grids = read_workbook("t.xlsx", bytes(broken))
        kept = [line.cells for grid in grids.values() for line in grid.lines]
    except BadTable as error:
        found = error.faults
    assert found or kept == [("id", "size"), ("a", "0.5090")]


@given(st.binary(max_size=200))
@settings(deadline=None)
def test_no_bytes_stop_the_reader_with_anything_but_faults(tail: bytes) -> None:
    """Whatever follows the first signs of a zip is refused with a fault."""
    with pytest.raises(BadTable):
        read_workbook("t.xlsx", b"PK\x03\x04" + tail)


PLAIN = {
    name: str(content)
    for name, content in parts(
        row(1, text("A1", "id"), number("B1", "0.5", 1), '<c r="C1" t="s"><v>0</v></c>') + row(3, number("B3", "7")),
        formats=[0, "0.0"],
        shared=["<r><rPr><b/></rPr><t>a</t></r>"],
    ).items()
}
JUNK = (
    '"',
    "<",
    ">",
    "/",
    "9" * 5000,
    "-1",
    "xmlns",
    "&",
    't="b"',
    "<f/>",
    "<v>",
    "</v>",
    "_x0000_",
    "x:",
    "<c>",
    "\0",
)


@given(st.data())
@settings(deadline=None, max_examples=300)
def test_no_markup_stops_the_reader_with_anything_but_faults(data: st.DataObject) -> None:
    """Whatever stands where in a part, with all checksums right, is read or refused."""
    part = data.draw(st.sampled_from(sorted(PLAIN)))
    content = PLAIN[part]
    place = data.draw(st.integers(0, len(content)))
    junk, over = data.draw(st.sampled_from(JUNK)), data.draw(st.sampled_from((0, 1, 5, 30)))
    broken = packed({**PLAIN, part: content[:place] + junk + content[place + over :]}, zipfile.ZIP_STORED)
    names: list[str] = []
    found: tuple[Fault, ...] = ()
    try:
        names = list(read_workbook("t.xlsx", broken))
    except BadTable as error:
        found = error.faults
    assert found or names


def test_a_number_of_a_format_may_be_absurd() -> None:
    """A format that nobody defined shows a number as it is."""
    held = {**PLAIN, "xl/styles.xml": PLAIN["xl/styles.xml"].replace('numFmtId="0"/', f'numFmtId="{"9" * 5000}"/')}
    assert lines(packed(held))[1] == (3, ["", "7"])
