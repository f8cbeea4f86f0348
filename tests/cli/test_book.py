"""The command line of a book: begin, check, carry to a workbook and back, compare; nothing half written, no trace."""

from __future__ import annotations

import json
import os
from pathlib import Path

import jsonschema
import pytest
from click.testing import Result

from tenthbook.faces.cli import book_files as disk
from tenthbook.record.book import TABLES, book_digest, read_book
from tenthbook.record.book.empty import COLUMNS_FILE
from tests.cli.conftest import Ask

HEAD = ("--type", "Test Four", "--manual", "Manual (invented)", "--revision", "1, 1 January 2026", "--invented")


def no_stack_trace(result: Result, code: int) -> str:
    """The message of a refusal, once it is known to be one."""
    assert isinstance(result.exception, SystemExit), repr(result.exception)
    assert (result.exit_code, "Traceback" in result.output) == (code, False), result.output
    return result.stderr


def snapshot(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, with its bytes."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def digest(folder: Path) -> str:
    """The digest of the book in a folder."""
    return book_digest(read_book({path.name: path.read_bytes() for path in folder.iterdir() if path.suffix != ".md"}))


@pytest.fixture
def empty(ask: Ask, tmp_path: Path) -> Path:
    """An empty book in a folder."""
    assert ask("book", "new", "empty", *HEAD).exit_code == 0
    return tmp_path / "empty"


def replaced(folder: Path, file: str, old: str, new: str) -> None:
    """Mend or spoil a file of a book."""
    text = (folder / file).read_text()
    assert old in text
    (folder / file).write_text(text.replace(old, new))


def test_a_new_book_is_whole_and_explains_itself(ask: Ask, tmp_path: Path) -> None:
    """All tables, the head and the page of columns; the check has nothing to ask."""
    result = ask("book", "new", "mine", *HEAD, "--typed-by", "j.b.", "--typed-on", "2026-03-09")
    assert (result.exit_code, result.stdout) == (0, "mine\n")
    assert set(snapshot(tmp_path / "mine")) == {"book.toml", COLUMNS_FILE, *(f"{name}.csv" for name in TABLES)}
    assert {'typed_by = "j.b."', 'typed_on = "2026-03-09"'} <= set(
        (tmp_path / "mine" / "book.toml").read_text().split("\n")
    )
    checked = ask("book", "check", "mine")
    assert (checked.exit_code, checked.stdout) == (0, "nothing to ask; 0 rows\n")


def test_a_new_book_may_be_a_workbook(ask: Ask, tmp_path: Path) -> None:
    """The same book as one file, alone or beside the folder."""
    assert ask("book", "new", "--workbook", "mine.xlsx", *HEAD).stdout == "mine.xlsx\n"
    assert not (tmp_path / "mine").exists()
    assert ask("book", "new", "both", "--workbook", "both.xlsx", *HEAD).stdout == "both.xlsx\nboth\n"
    assert (tmp_path / "mine.xlsx").read_bytes() == (tmp_path / "both.xlsx").read_bytes()
    assert ask("book", "check", "mine.xlsx").stdout == "nothing to ask; 0 rows\n"


def test_a_new_book_never_falls_on_what_is_there(ask: Ask, tmp_path: Path) -> None:
    """A folder with anything in it, a file, a workbook: refused, and left as it was; an empty folder is taken."""
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "page.jpg").write_bytes(b"x")
    (tmp_path / "file").write_bytes(b"x")
    (tmp_path / "there.xlsx").write_bytes(b"x")
    (tmp_path / "free").mkdir()
    before = snapshot(tmp_path)
    assert "the folder full with files in it" in no_stack_trace(ask("book", "new", "full", *HEAD), 2)
    assert "file, which is no folder" in no_stack_trace(ask("book", "new", "file", *HEAD), 2)
    assert "there.xlsx, which is there" in no_stack_trace(ask("book", "new", "--workbook", "there.xlsx", *HEAD), 2)
    assert "ends in .xlsx" in no_stack_trace(ask("book", "new", "--workbook", "mine.csv", *HEAD), 2)
    assert "full with files" in no_stack_trace(ask("book", "new", "full", "--workbook", "mine.xlsx", *HEAD), 2)
    assert "there.xlsx" in no_stack_trace(ask("book", "new", "mine", "--workbook", "there.xlsx", *HEAD), 2)
    assert "no place for the book" in no_stack_trace(ask("book", "new", *HEAD), 2)
    assert "nowhere" in no_stack_trace(ask("book", "new", "nowhere/mine", *HEAD), 2)
    assert snapshot(tmp_path) == before
    assert ask("book", "new", "free", *HEAD).exit_code == 0


def test_a_head_that_says_nothing_is_refused(ask: Ask, tmp_path: Path) -> None:
    """A blank revision is named, and nothing is made."""
    words = ("--type", "T", "--manual", "M", "--revision", " ")
    assert no_stack_trace(ask("book", "new", "mine", *words), 2).startswith("revision: found nothing; expected ")
    assert snapshot(tmp_path) == {}


def test_a_check_groups_what_it_finds(ask: Ask, book_folder: Path) -> None:
    """Place and column, found, expected, the way on and the rule; wrong before asks before missing; then the counts."""
    replaced(book_folder, "sizes.csv", "0.5114", "0.51l4")
    replaced(book_folder, "sizes.csv", "size.flange,part.cover,flange thickness", "size.flange,part.cover,")
    (book_folder / "size.csv").write_text("id\n")
    result = ask("book", "check", "book")
    assert result.exit_code == 1
    lines = result.stdout.splitlines()
    assert lines[0] == "wrong:"
    assert lines[1].startswith("  sizes.csv:3 new_max: found '0.51l4'; expected ")
    assert lines[1].endswith(
        "; look at the page and type the number alone; its unit stands in the column for units (book.number)"
    )
    assert any(line.startswith("  sizes.csv:5 feature: found nothing; expected what is measured") for line in lines)
    assert lines.index("asks:") > lines.index("wrong:")
    assert any(
        line.startswith("  size.csv: found a table of another name; expected sizes.csv, perhaps") for line in lines
    )
    assert lines[-1].startswith("2 wrong, ")
    assert "ask `tenthbook why RULE`" in result.stderr


def test_a_check_answers_as_json(ask: Ask, book_folder: Path) -> None:
    """The same findings as data; a clean book has none."""
    replaced(book_folder, "sizes.csv", "0.5114", "0.51l4")
    data = json.loads(ask("book", "check", "book", "--json").stdout)
    found = next(one for one in data["findings"] if one["rule"] == "book.number")
    assert (found["place"], found["column"], found["row"], found["weight"]) == (
        "sizes.csv:3",
        "new_max",
        "size.shaft",
        "wrong",
    )
    assert ask("book", "new", "clean", *HEAD).exit_code == 0
    assert json.loads(ask("book", "check", "clean", "--json").stdout) == {"rows": 0, "findings": []}


def test_every_rule_a_check_names_can_be_asked_about(ask: Ask, book_folder: Path) -> None:
    """The id behind a finding is one that why knows."""
    replaced(book_folder, "parts.csv", "2-1", "from memory")
    replaced(book_folder, "fits.csv", "size.bore", "size.bor")
    data = json.loads(ask("book", "check", "book", "--json").stdout)
    for rule in {one["rule"] for one in data["findings"]}:
        assert ask("why", rule).stdout.startswith(f"{rule}\n")


def test_a_book_goes_to_a_workbook_and_back(ask: Ask, book_folder: Path, tmp_path: Path) -> None:
    """Folder, workbook, folder: the same book, and compare finds no difference between any two."""
    assert ask("book", "export", "book", "book.xlsx").stdout == "book.xlsx\n"
    assert ask("book", "export", "book.xlsx", "again").stdout == "again\n"
    assert digest(tmp_path / "again") == digest(book_folder)
    for old, new in (("book", "book.xlsx"), ("book.xlsx", "again"), ("book", "again")):
        result = ask("book", "compare", old, new)
        assert (result.exit_code, result.stdout) == (0, "no difference\n")


def test_an_export_replaces_only_when_told(ask: Ask, book_folder: Path, empty: Path, tmp_path: Path) -> None:
    """What lies there stays; with --replace a book gives way whole, and a folder with other files still does not."""
    ask("book", "export", "book", "book.xlsx")
    before = snapshot(tmp_path)
    assert "or --replace" in no_stack_trace(ask("book", "export", "empty", "book.xlsx"), 2)
    assert "with files in it" in no_stack_trace(ask("book", "export", "book", "empty"), 2)
    assert snapshot(tmp_path) == before
    assert ask("book", "export", "book", "empty", "--replace").exit_code == 0
    assert digest(empty) == digest(book_folder)
    assert ask("book", "export", "empty", "book.xlsx", "--replace").exit_code == 0
    (empty / "page.jpg").write_bytes(b"x")
    (tmp_path / "folder.xlsx").mkdir()
    assert "folder.xlsx, a folder" in no_stack_trace(ask("book", "export", "book", "folder.xlsx", "--replace"), 2)
    before = snapshot(tmp_path)
    assert "page.jpg in empty" in no_stack_trace(ask("book", "export", "book", "empty", "--replace"), 2)
    assert snapshot(tmp_path) == before


@pytest.mark.parametrize("target", ["out", "out.xlsx"])
def test_a_faulty_book_is_not_exported(ask: Ask, book_folder: Path, tmp_path: Path, target: str) -> None:
    """What is wrong is said, exit 1, and nothing is written."""
    replaced(book_folder, "sizes.csv", "0.5114", "0.51l4")
    before = snapshot(tmp_path)
    message = no_stack_trace(ask("book", "export", "book", target), 1)
    assert message.startswith("sizes.csv:3 new_max: found '0.51l4'")
    assert "nothing was written" in message
    assert snapshot(tmp_path) == before


@pytest.mark.parametrize("there", [False, True], ids=["new", "replaced"])
def test_a_disk_that_gives_up_leaves_nothing_half_written(
    ask: Ask, book_folder: Path, empty: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: bool
) -> None:
    """Whether a file cannot be written or the finished folder not be put in place, all is as before."""
    before = snapshot(tmp_path)
    target = "empty" if there else "out"
    write, rename = Path.write_bytes, Path.rename

    def full(path: Path, content: bytes) -> int:
        if path.name == "sizes.csv":
            raise OSError(28, "No space left on device")
        return write(path, content)

    def stuck(path: Path, to: Path) -> Path:
        if to.name == target and path.name.endswith(".old") is False:
            raise OSError(5, "Input/output error")
        return rename(path, to)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "write_bytes", full)
        assert "No space left" in no_stack_trace(ask("book", "export", "book", target, "--replace"), 2)
    assert snapshot(tmp_path) == before
    with monkeypatch.context() as patched:
        patched.setattr(Path, "rename", stuck)
        assert "Input/output error" in no_stack_trace(ask("book", "export", "book", target, "--replace"), 2)
    assert snapshot(tmp_path) == before


def test_a_comparison_tells_rows_cells_and_limits(ask: Ask, book_folder: Path, tmp_path: Path) -> None:
    """What was added, taken away and changed, which limits moved and which way; exit 1; as JSON the same."""
    ask("book", "export", "book", "new")
    replaced(tmp_path / "new", "sizes.csv", "0.5098", "0.5100")
    replaced(tmp_path / "new", "sizes.csv", "the fit settles it", "see the fit")
    replaced(tmp_path / "new", "parts.csv", "part.plug,cover plug", "part.stopper,cover plug")
    result = ask("book", "compare", "book", "new")
    assert result.exit_code == 1
    lines = result.stdout.splitlines()
    assert "parts part.stopper: id changed, was part.plug, page 2-3 [work]" in lines
    place = lines.index("sizes size.shaft: changed, page 2-2 [limit]")
    assert lines[place + 1] == "  service_min: 0.5098 -> 0.5100 [limit, stricter by 0.0002 in]"
    assert "  note: the fit settles it -> see the fit [words]" in lines
    assert lines[-1] == "1 id changed, 2 changed; limits moved: 1 stricter"
    data = json.loads(ask("book", "compare", "book", "new", "--json").stdout)
    assert [(one["table"], one["row"], one["way"], one["touches"]) for one in data] == [
        ("parts", "part.stopper", "id changed", "work"),
        ("sizes", "size.bore", "changed", "words"),
        ("sizes", "size.shaft", "changed", "limit"),
    ]
    assert data[2]["moves"][0]["direction"] == "stricter"


def test_a_limit_that_moves_by_its_unit_is_told(ask: Ask, book_folder: Path, tmp_path: Path) -> None:
    """The digits stay and the unit changes: each limit of the row has moved."""
    ask("book", "export", "book", "new")
    replaced(tmp_path / "new", "fits.csv", "absolute,in,0.0010", "absolute,mm,0.0010")
    lines = ask("book", "compare", "book", "new").stdout.splitlines()
    assert lines[1:3] == ["  unit: in -> mm [limit]", "  new_min: 0.0010 in -> 0.0010 mm [wider by 0.0244 mm]"]


def test_a_comparison_with_a_faulty_book_says_so(ask: Ask, book_folder: Path, tmp_path: Path) -> None:
    """Cells that cannot be read are compared as typed, and that is told."""
    ask("book", "export", "book", "new")
    replaced(tmp_path / "new", "sizes.csv", "0.5098", "0.51O0")
    result = ask("book", "compare", "book", "new")
    assert "  service_min: 0.5098 -> 0.51O0 [limit, cannot be told]" in result.stdout.splitlines()
    assert result.stderr.startswith("new: ")


@pytest.mark.parametrize("table", [None, *TABLES])
def test_the_schema_is_printed(ask: Ask, table: str | None) -> None:
    """Of a whole book or of one table; it is a schema."""
    schema = json.loads(ask("book", "schema", *([table] if table else [])).stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["title"] == (table or "book")


def test_an_unknown_table_is_answered_with_those_there_are(ask: Ask) -> None:
    """The tables stand in the message."""
    assert "expected one of orientation, access" in no_stack_trace(ask("book", "schema", "size"), 2)


@pytest.mark.parametrize("words", [["check"], ["export", "other.xlsx"], ["compare", "book"]])
@pytest.mark.parametrize(
    ("name", "found"),
    [("nowhere", "nothing at nowhere"), ("no.xlsx", "nothing at no.xlsx"), ("page.txt", "the file page.txt")],
)
def test_what_is_no_book_is_named(
    ask: Ask, book_folder: Path, tmp_path: Path, words: list[str], name: str, found: str
) -> None:
    """A path that holds no book is told, exit 2."""
    (tmp_path / "page.txt").write_text("x")
    message = no_stack_trace(ask("book", words[0], name, *words[1:]), 2)
    assert message.startswith(f"found {found}; expected the folder of a book")


def test_files_that_cannot_be_read_are_all_named(ask: Ask, book_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder called sizes.csv, a pipe, a file too large, a link to nowhere: each by its name, none waited for."""
    (book_folder / "sizes.csv").unlink()
    (book_folder / "sizes.csv").mkdir()
    os.mkfifo(book_folder / "torques.csv.csv")
    (book_folder / "steps.csv").unlink()
    (book_folder / "steps.csv").symlink_to("nowhere")
    with (book_folder / "parts.csv").open("wb") as large:
        large.truncate(60_000_000)
    assert no_stack_trace(ask("book", "check", "book"), 2).splitlines() == [
        "parts.csv: found 60000000 bytes; expected at most 50000000",
        "sizes.csv: found a folder; expected a file",
        "steps.csv: found something that is no file; expected a file",
        "torques.csv.csv: found something that is no file; expected a file",
    ]
    with (book_folder.parent / "large.xlsx").open("wb") as large:
        large.truncate(60_000_000)
    assert "large.xlsx: found 60000000 bytes" in no_stack_trace(ask("book", "check", "large.xlsx"), 2)


@pytest.mark.parametrize("words", [["check", "book"], ["check", "book.xlsx"], ["export", "book", "out"]])
def test_a_file_nobody_may_read_is_named(
    ask: Ask, book_folder: Path, monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    """What the system refuses is told with its words."""
    (book_folder.parent / "book.xlsx").write_bytes(b"x")

    def refuse(path: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert "Permission denied" in no_stack_trace(ask("book", *words), 2)


def test_a_file_the_system_cannot_find_out_about_is_named(
    ask: Ask, book_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file whose size is not told is no reason for a stack trace."""
    stat = Path.stat

    def refuse(path: Path, *, follow_symlinks: bool = True) -> os.stat_result:
        if path.name == "fits.csv":
            raise OSError(5, "Input/output error")
        return stat(path, follow_symlinks=follow_symlinks)

    monkeypatch.setattr(Path, "stat", refuse)
    message = no_stack_trace(ask("book", "check", "book"), 2)
    assert message == "fits.csv: found a file that cannot be read: Input/output error; expected one that can\n"


def test_a_folder_nobody_may_list_is_named(ask: Ask, book_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """So is a folder."""

    def refuse(path: Path) -> list[Path]:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "iterdir", refuse)
    assert "book: Permission denied" in no_stack_trace(ask("book", "check", "book"), 2)


def test_other_files_in_a_book_are_let_alone(ask: Ask, book_folder: Path) -> None:
    """Photographs of pages, notes and folders are no tables; a table of another name is asked about, unread."""
    before = ask("book", "check", "book").stdout
    (book_folder / "page-2-1.jpg").write_bytes(b"\xff\xd8")
    (book_folder / "pages").mkdir()
    assert ask("book", "check", "book").stdout == before
    (book_folder / "limits.ods").write_bytes(b"\x00" * 10)
    assert (
        "  limits.ods: found a table of another name; expected run_limits.csv, perhaps; "
        in ask("book", "check", "book").stdout
    )


def test_a_workbook_that_is_none_is_a_finding(ask: Ask, tmp_path: Path) -> None:
    """Text called .xlsx is told by rule, exit 1."""
    (tmp_path / "text.xlsx").write_text("id,name\n")
    result = ask("book", "check", "text.xlsx")
    assert (result.exit_code, "(book.workbook)" in result.stdout) == (1, True)


def test_a_book_that_lies_elsewhere_keeps_its_mode(ask: Ask, tmp_path: Path) -> None:
    """The folder is made as any folder would be, not for one person alone."""
    ask("book", "new", "mine", *HEAD)
    (tmp_path / "plain").mkdir()
    assert (tmp_path / "mine").stat().st_mode == (tmp_path / "plain").stat().st_mode
    assert disk.is_workbook(Path("A.XLSX"))


@pytest.mark.parametrize("name", ["new", "check", "export", "schema", "compare"])
def test_every_command_explains_itself(ask: Ask, name: str) -> None:
    """Each can be asked for help."""
    result = ask("book", name, "--help")
    assert (result.exit_code, result.stdout.startswith(f"Usage: tenthbook book {name}")) == (0, True)
