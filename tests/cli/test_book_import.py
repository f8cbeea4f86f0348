"""`tenthbook book import`: shown first, accepted by its code, written whole or not at all."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tenthbook.faces.cli import book_import
from tenthbook.faces.cli.root import command
from tenthbook.numbers.sheet import SheetOut, read_csv, write_workbook
from tenthbook.record.book import read_book
from tests.builders import book_files
from tests.unit.sheet.workbooks import number, packed, parts, row, sheet, styles, text

PAGE = """Id,Item,New,Service,Remarks
size.a,gear,0.0037-0.0057,0.0090 max,worn
size.b,spring,12.0-12.6 lbf,11.5 lbf min,
size.c,slot,----,----,
"""
MAPS = ("--map", "id=Id", "--map", "feature=Item", "--map", "new=New", "--map", "service=Service")
SETS = ("--set", "part=part.shaft", "--set", "kind=absolute", "--set", "page=4-14", "--unit", "in")
Send = Callable[..., Result]


@pytest.fixture
def send(book_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Send:
    """Send a page to the sizes of the small book: `send(content, *words)`; the file is called page.csv."""
    monkeypatch.chdir(tmp_path)

    def run(content: str | bytes, *words: str, name: str = "page.csv", typed: str = "") -> Result:
        (tmp_path / name).write_bytes(content.encode() if isinstance(content, str) else content)
        source = "-" if typed else name
        return CliRunner().invoke(
            command, ["--data", str(tmp_path / "shop"), "book", "import", "book", "sizes", source, *words], input=typed
        )

    return run


@pytest.fixture
def before(book_folder: Path) -> Callable[[], bool]:
    """Ask whether the folder of the book is byte for byte what it was."""
    held = snapshot(book_folder)
    return lambda: snapshot(book_folder) == held


def snapshot(folder: Path) -> dict[str, bytes]:
    """Every file in a folder, hidden ones among them."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def refused(result: Result, code: int) -> str:
    """The messages of a refusal, without a stack trace."""
    assert isinstance(result.exception, SystemExit), repr(result.exception)
    assert (result.exit_code, "Traceback" in result.output) == (code, False), result.output
    return result.stderr


def code_of(result: Result) -> str:
    """The code a preview gave."""
    assert result.exit_code == 0, result.output
    return result.stdout.rpartition("preview code: ")[2].strip()


def test_without_a_map_it_shows_what_was_sent_and_what_the_table_holds(send: Send, before: Callable[[], bool]) -> None:
    """Headings, first lines, columns with their meaning, ranges; exit 1, and nothing is guessed."""
    result = send(PAGE)
    assert "say which heading is which" in refused(result, 1)
    assert result.stdout.startswith("headings:\n  Id\n  Item\n  New\n  Service\n  Remarks\n\nfirst lines:\n  1  Id ")
    for words in ("columns of sizes:", "least for a new part", "a cell that holds new_min and new_max"):
        assert words in result.stdout
    data = json.loads(send(PAGE, "--json").stdout)
    assert (data["headings"][0], data["ranges"]["new"], data["columns"][0]["name"]) == (
        "Id",
        "new_min and new_max",
        "id",
    )
    assert before()


def test_a_preview_shows_every_cell_and_writes_nothing(send: Send, before: Callable[[], bool]) -> None:
    """Rows with their lines, what became of units and dashes, headings left out, the checker, the code."""
    result = send(PAGE, *MAPS, *SETS)
    lines = result.stdout.splitlines()
    assert result.exit_code == 0
    assert lines[:3] == [
        "Invented data. Not for any engine.",
        "page.csv: 3 rows for the table sizes",
        "left out: Remarks",
    ]
    heading = [
        "line",
        "id",
        "part",
        "feature",
        "kind",
        "unit",
        "new_min",
        "new_max",
        "service_min",
        "service_max",
        "page",
    ]
    assert lines[4].split() == heading
    assert lines[5].split() == [
        "2",
        "size.a",
        "part.shaft",
        "gear",
        "absolute",
        "in",
        "0.0037",
        "0.0057",
        "0.0090",
        "4-14",
    ]
    assert "line 4: new, service: dashes (----): no limit given, not nought" in lines
    assert "line 3: unit lbf, as the cells carry it, not in" in lines
    assert lines[-1] == f"preview code: {code_of(result)}"
    assert "nothing is written yet" in result.stderr
    assert before()


def test_what_was_accepted_is_written_and_nothing_else(send: Send, book_folder: Path) -> None:
    """The old bytes stay, the new rows stand behind them as shown, and the book reads."""
    held = snapshot(book_folder)
    code = code_of(send(PAGE, *MAPS, *SETS))
    result = send(PAGE, *MAPS, *SETS, "--accept", code)
    assert (result.exit_code, result.stdout) == (0, "book/sizes.csv: 3 rows added, 0 replaced\n")
    now = snapshot(book_folder)
    assert {name for name in now if now[name] != held.get(name)} == {"sizes.csv"}
    assert now["sizes.csv"].startswith(held["sizes.csv"])
    assert now["sizes.csv"].removeprefix(held["sizes.csv"]).decode() == (
        "size.a,part.shaft,gear,absolute,in,0.0037,0.0057,,0.0090,,4-14,\n"
        "size.b,part.shaft,spring,absolute,lbf,12.0,12.6,11.5,,,4-14,\n"
        "size.c,part.shaft,slot,none,in,,,,,,4-14,\n"
    )
    assert str(read_book(now).sizes["size.a"].limits.service) == "0.0090 in or less"


@pytest.mark.parametrize("code", ["000000-000000", "", "x"])
def test_another_code_is_refused(send: Send, before: Callable[[], bool], code: str) -> None:
    """It says what differs, exit 1, and the book is as it was."""
    message = refused(send(PAGE, *MAPS, *SETS, "--accept", code), 1)
    assert "the book and the rows differ from what that preview showed" in message
    assert before()


def test_a_code_does_not_open_the_way_for_another_page_or_map(send: Send, before: Callable[[], bool]) -> None:
    """One digit, one constant, the same file: the rows differ."""
    code = code_of(send(PAGE, *MAPS, *SETS))
    other = (*SETS[:-4], "--set", "page=4-15", "--unit", "in")
    for content, words in ((PAGE.replace("0.0090", "0.0091"), SETS), (PAGE, other)):
        assert "'" + code + "': the rows differ" in refused(send(content, *MAPS, *words, "--accept", code), 1)
    assert before()


def test_a_code_does_not_open_the_way_into_a_book_that_changed(send: Send, book_folder: Path) -> None:
    """Whoever typed a row meanwhile is asked to look again."""
    code = code_of(send(PAGE, *MAPS, *SETS))
    file = book_folder / "sizes.csv"
    file.write_text(file.read_text().replace("0.2507", "0.2508"))
    held = snapshot(book_folder)
    assert "the book differ from" in refused(send(PAGE, *MAPS, *SETS, "--accept", code), 1)
    assert snapshot(book_folder) == held


def test_a_book_that_changes_while_it_is_written_is_left_alone(
    send: Send, before: Callable[[], bool], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The folder is read once more when the bytes are ready."""
    code = code_of(send(PAGE, *MAPS, *SETS))
    reads = iter([book_files(), {**book_files(), "sizes.csv": b"id\n"}])
    monkeypatch.setattr(book_import, "read_files", lambda _folder: next(reads))
    assert "changed meanwhile" in refused(send(PAGE, *MAPS, *SETS, "--accept", code), 2)
    assert before()


def test_a_full_disk_leaves_the_book_as_it_was(
    send: Send, before: Callable[[], bool], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whole or not at all."""
    code = code_of(send(PAGE, *MAPS, *SETS))

    def full(self: Path, content: bytes) -> int:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken:
        held = Path.write_bytes
        broken.setattr(
            Path, "write_bytes", lambda self, content: (full if ".part" in self.name else held)(self, content)
        )
        assert "No space left on device" in refused(send(PAGE, *MAPS, *SETS, "--accept", code), 2)
    assert before()


def test_questions_and_faults_keep_everything_out(send: Send, before: Callable[[], bool]) -> None:
    """Each with file, line and heading; no code, even for the rows that are sound."""
    result = send(PAGE.replace("0.0037-0.0057", '"0,0057"').replace("----,----", "0.5,"), *MAPS, *SETS)
    message = refused(result, 1)
    assert "page.csv:2: New: found '0,0057'; expected a decimal point" in message
    assert "page.csv:4: new '0.5': a least or a greatest cannot be told" in message
    assert "preview code" not in result.stdout
    assert "not checked yet" in result.stdout
    for code in ("", "000000-000000"):
        refused(send(PAGE.replace("0.0057", "0,0057"), *MAPS, *SETS, "--accept", code), 1)
    assert before()


def test_a_wrong_finding_of_the_checker_keeps_everything_out(send: Send, before: Callable[[], bool]) -> None:
    """Least above greatest: shown in the preview, and no code."""
    result = send(PAGE.replace("0.0037-0.0057", "0.0057-0.0037"), *MAPS, *SETS)
    refused(result, 1)
    assert "page.csv:2: new_min: found 0.0057 to 0.0037 in" in result.stdout
    assert "rule book.least-first" in result.stdout
    assert before()


def test_ids_that_leave_the_folder_are_no_ids(send: Send, before: Callable[[], bool]) -> None:
    """An id is never a path."""
    result = send(PAGE.replace("size.a", "../../etc/passwd"), *MAPS, *SETS)
    refused(result, 1)
    assert "rule book.id-form" in result.stdout
    assert before()


def test_a_row_is_replaced_where_it_stands(send: Send, book_folder: Path) -> None:
    """Only when that is said; old and new are shown cell by cell."""
    page = "Id,Item,New,Service\nsize.shaft,diameter,0.5109-0.5114,0.5098 min\n"
    assert "size.shaft, a row of the book" in refused(send(page, *MAPS, *SETS), 1)
    shown = send(page, *MAPS, *SETS, "--replace")
    assert "line 2: replaces size.shaft: " in shown.stdout
    assert "new_min 0.5108 -> 0.5109" in shown.stdout
    held = (book_folder / "sizes.csv").read_text()
    result = send(page, *MAPS, *SETS, "--replace", "--accept", code_of(shown))
    assert result.stdout == "book/sizes.csv: 0 rows added, 1 replaced\n"
    expected = held.replace("in,0.5108,0.5114,0.5098,,yes,2-2", "in,0.5109,0.5114,0.5098,,yes,4-14")
    assert (book_folder / "sizes.csv").read_text() == expected


def test_pasted_text_comes_by_standard_input(send: Send) -> None:
    """With tabs, as a spreadsheet pastes it."""
    pasted = PAGE.replace(",", "\t")
    result = send(PAGE, *MAPS, *SETS, typed=pasted)
    assert "pasted text: 3 rows for the table sizes" in result.stdout
    assert code_of(result) == code_of(send(PAGE, *MAPS, *SETS))


def workbook(new_min: str, shown: str = "0.0000") -> bytes:
    """A workbook in which a limit is a binary number."""
    heading = row(1, text("A1", "Id"), text("B1", "Item"), text("C1", "Min"))
    held = parts(heading + row(2, text("A2", "size.a"), text("B2", "gear"), number("C2", new_min, 1)))
    return packed({**held, "xl/styles.xml": styles(0, shown)})


WORKBOOK_MAPS = ("--map", "id=Id", "--map", "feature=Item", "--map", "new_min=Min")


def test_binary_numbers_are_asked_about_until_answered(
    send: Send, book_folder: Path, before: Callable[[], bool]
) -> None:
    """How many decimals the manual prints is said once a column; then the noughts are back."""
    words = (*WORKBOOK_MAPS, *SETS)
    message = refused(send(workbook("0.5"), *words, name="page.xlsx"), 1)
    assert "Min: held as binary numbers" in message
    assert "(decimals new_min=N)" in message
    assert before()
    fault = refused(send(workbook("9.2300000001E-2"), *words, "--decimals", "new_min=4", name="page.xlsx"), 1)
    assert "page.xlsx, sizes:2: Min: found the binary number 0.092300000001" in fault
    assert before()
    answered = (*words, "--decimals", "new_min=4")
    code = code_of(send(workbook("0.5"), *answered, name="page.xlsx"))
    assert send(workbook("0.5"), *answered, "--accept", code, name="page.xlsx").exit_code == 0
    rows = read_csv("sizes.csv", (book_folder / "sizes.csv").read_bytes()).rows
    assert rows[-1].cells["new_min"] == "0.5000"


def two_sheets() -> bytes:
    """A workbook with two sheets, one with a name that would lead elsewhere."""
    cells = {"Id": "size.a", "Item": "gear", "New": "0.0037-0.0057", "Service": ""}
    return write_workbook([SheetOut("Page 4", tuple(cells), [cells]), SheetOut("..", tuple(cells), [cells])])


def test_of_several_sheets_one_is_named(send: Send, before: Callable[[], bool]) -> None:
    """The names are offered; a name is never a path."""
    for words, found in (
        ((), "found page.xlsx with several sheets; expected --sheet with one of Page 4, .."),
        (("--sheet", "page 4"), "found no sheet 'page 4' in page.xlsx; expected --sheet with one of Page 4, .."),
        (("--sheet", "../../book"), "found no sheet '../../book' in page.xlsx"),
    ):
        assert refused(send(two_sheets(), *MAPS, *SETS, *words, name="page.xlsx"), 2).startswith(found)
    for sheet_name in ("Page 4", ".."):
        assert code_of(send(two_sheets(), *MAPS, *SETS, "--sheet", sheet_name, name="page.xlsx"))
    assert "for a workbook only" in refused(send(PAGE, *MAPS, *SETS, "--sheet", "x"), 2)
    assert before()


def with_macros() -> bytes:
    """A workbook with a program in it."""
    return packed({**parts(row(1, text("A1", "Id"))), "xl/vbaProject.bin": b"x"})


def merged() -> bytes:
    """A workbook with merged cells."""
    after = '<mergeCells><mergeCell ref="A2:A3"/></mergeCells>'
    return packed({**parts(), "xl/worksheets/sheet1.xml": sheet(row(1, text("A1", "Id")), after=after)})


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("page.csv", PAGE.replace(",", ";").encode(), "semicolons between the columns"),
        ("page.csv", PAGE.replace(",", "\t").encode(), "tabs between the columns"),
        ("page.csv", PAGE.replace("worn", '"worn').encode(), "page.csv:2"),
        ("page.csv", PAGE.encode("utf-16"), "bytes that are not UTF-8"),
        ("page.csv", PAGE.replace("worn", "\xe4").encode("latin-1"), "page.csv:2: found bytes that are not UTF-8"),
        ("page.csv", b"", "an empty file"),
        ("page.csv", b"\n" * 1_000_000, "an empty file"),
        ("page.csv", PAGE.replace("Item", "").encode(), "a column without a name"),
        ("page.csv", PAGE.replace("Item", "Id").encode(), "column Id twice"),
        ("page.xlsx", b"PK\x03\x04torn", "page.xlsx"),
        ("page.xlsx", PAGE.encode(), "page.xlsx"),
        ("page.csv", workbook("0.5")[:400], "page.csv"),
        ("page.xlsx", with_macros(), "macros"),
        ("page.xlsx", merged(), "merged cells"),
        ("page.xlsx", packed(parts(row(1, '<c r="A1"><f>1+1</f><v>2</v></c>'))), "a formula"),
        ("page.xlsx", packed({**parts(), "xl/media/x": b"0" * 300_000_000}), "page.xlsx"),
        ("page.xlsx", packed({**parts(), "../x": b"0"}), "page.xlsx"),
    ],
    ids=range(17),
)
def test_what_is_torn_or_dangerous_is_refused_whole(
    send: Send, before: Callable[[], bool], name: str, content: bytes, says: str
) -> None:
    """Exit 2 with the place, no preview, and the book byte for byte as it was."""
    result = send(content, *MAPS, *SETS, name=name)
    assert says in refused(result, 2)
    assert result.stdout == ""
    assert before()


def test_a_line_with_a_cell_too_many_is_a_fault_of_the_page(send: Send, before: Callable[[], bool]) -> None:
    """The others are read, and none of them enters."""
    message = refused(send(PAGE.replace("worn", "worn,again"), *MAPS, *SETS), 1)
    assert "page.csv:2: found 6 cells; expected 5" in message
    assert before()


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["book", "size", "page.csv"], "expected sizes, perhaps"),
        (["book", "sizes", "nix.csv"], "found nothing at nix.csv"),
        (["book", "sizes", "book"], "which is no file"),
        (["nix", "sizes", "page.csv", *MAPS, *SETS], "nix"),
        (["page.csv", "sizes", "page.csv", *MAPS, *SETS], "tenthbook book export"),
        ([".", "sizes", "page.csv", *MAPS, *SETS], "no book.toml"),
        (["book", "sizes", "page.csv", "--map", "id"], "no ="),
        (["book", "sizes", "page.csv", *MAPS, *SETS, "--decimals", "new=four"], "new: found 'four'"),
        (["book", "sizes", "page.csv", "--map", "idd=Id"], "idd: found no such column of sizes; expected id, perhaps"),
        (["book", "sizes", "page.csv", *MAPS, *SETS, "--heading", "9"], "9 lines of heading"),
        (["book", "sizes", "page.csv", *MAPS, *SETS, "--heading", "0"], "Invalid value for '--heading'"),
    ],
)
def test_misuse_is_named(send: Send, before: Callable[[], bool], words: list[str], says: str) -> None:
    """Exit 2, without a stack trace."""
    send(PAGE)
    assert says in refused(CliRunner().invoke(command, ["book", "import", *words]), 2)
    assert before()


def test_a_page_that_is_too_large_or_cannot_be_read_is_named(send: Send, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before it is read, and without a stack trace."""
    with monkeypatch.context() as small:
        small.setattr(book_import, "MOST_BYTES", 10)
        assert "page.csv: found 135 bytes; expected at most 10" in refused(send(PAGE, *MAPS, *SETS), 2)

    def broken(self: Path) -> bytes:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Path, "read_bytes", broken)
    assert "page.csv: Input/output error" in refused(send(PAGE, *MAPS, *SETS), 2)


def test_a_table_that_is_torn_itself_takes_no_rows(send: Send, book_folder: Path) -> None:
    """The book's own file is mended first; it is not written over."""
    file = book_folder / "sizes.csv"
    file.write_text(file.read_text().replace("size.plug,part.plug,", "size.plug,"))
    held = snapshot(book_folder)
    message = refused(send(PAGE, *MAPS, *SETS), 2)
    assert "sizes.csv:7: found 11 cells" in message
    assert snapshot(book_folder) == held


def test_a_faulty_book_says_so_beside_the_preview(send: Send, book_folder: Path) -> None:
    """Rows may enter a book that has faults elsewhere; they are counted, not repeated."""
    file = book_folder / "fits.csv"
    file.write_text(file.read_text().replace("0.0010,0.0022", "0.0022,0.0010"))
    result = send(PAGE, *MAPS, *SETS)
    assert code_of(result)
    assert "the book has 1 faults of its own: tenthbook book check book" in result.stderr
    assert "fit.shaft" not in result.stdout


def test_as_json_it_gives_all_as_data(send: Send) -> None:
    """Rows, notes, what is left out, faults, questions, findings, the code; and what was written."""
    data = json.loads(send(PAGE, *MAPS, *SETS, "--json").stdout)
    assert data["rows"][0]["cells"]["service_max"] == "0.0090"
    assert (data["left_out"], data["faults"], data["questions"], data["invented"]) == (["Remarks"], [], [], True)
    written = json.loads(send(PAGE, *MAPS, *SETS, "--json", "--accept", data["code"]).stdout)
    assert written == {"file": "sizes.csv", "added": 3, "replaced": 0}
    faulty = send(PAGE.replace("size.", "size.n").replace("0.0057", "0.0O57"), *MAPS, *SETS, "--json")
    assert json.loads(faulty.stdout)["faults"][0]["path"] == "page.csv:2: New"
    assert faulty.exit_code == 1


def test_of_many_faults_the_first_are_told(send: Send) -> None:
    """Fifty lines, and how many there are besides."""
    rows = "".join(f"size.n{number},gear,0.0O37,,\n" for number in range(60))
    message = refused(send(PAGE + rows, *MAPS, *SETS), 1)
    assert "and 10 more; --json gives all" in message


def test_what_somebody_typed_cannot_steer_the_terminal(send: Send) -> None:
    """Signs that are no letters are shown by their number."""
    result = send(PAGE.replace("gear", "ge\x1b[2Jar").replace("Remarks", "Re\x1bmarks"), *MAPS, *SETS)
    assert "\x1b" not in result.output
    assert "ge\\x1b[2Jar" in result.stdout
