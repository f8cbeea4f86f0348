"""Which slips stand in the training copy of the demonstration's book, and how is it made from the good book?

`SLIPS` says what was mistyped in `story/books/dunlin-four-faulty`, `TORN` what was lost in the small book
`dunlin-four-torn`, `IN_WORKBOOKS` what a spreadsheet did. Each breaks one rule and no other. The files are made anew,
from the root of the project, with `PYTHONPATH=src python -m tests.unit.book.training`; the two README.md are written
by hand. The good book is only read.
"""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, field

from openpyxl.utils import get_column_letter

from tenthbook.record.book import TABLES, draft_book
from tenthbook.record.book.workbook import book_workbook
from tests.docs.tree import ROOT

BOOKS = ROOT / "story" / "books"
GOOD, FAULTY, TORN_BOOK = (BOOKS / name for name in ("dunlin-four", "dunlin-four-faulty", "dunlin-four-torn"))
FAULTY_WORKBOOK = BOOKS / "dunlin-four-faulty.xlsx"
TORN_WORKBOOK = TORN_BOOK / "as-a-workbook" / "dunlin-four-torn.xlsx"
HEAD = """\
# Invented data. Not for any engine. A training copy full of slips, for nothing else.
type = "Dunlin Four, training copy"
manual = "Dunlin Four overhaul manual (invented), mistyped on purpose"
"""
REVISION = 'revision = "3, 2 March 2026, typed for training"\n'
INVENTED = "invented = true\n"

Rows = list[list[str]]


@dataclass(frozen=True)
class Slip:
    """One slip: a cell mistyped, and what else the same slip spoils.

    Attributes:
        rule: Id of the rule it breaks.
        table: Table.
        row: Id of the row in the good book.
        column: Column; empty where the row is added, or loses its quotation marks.
        typed: What was typed there.
        happened: How it came about.
        also: Other cells of the row.
        added: Whether the row stands in the faulty book alone.
        beside: Further slips without which it would break nothing: table, row, column, typed.
        found_in: Row the rule names, where that is another.
    """

    rule: str
    table: str
    row: str
    column: str
    typed: str
    happened: str
    also: Mapping[str, str] = field(default_factory=dict)
    added: bool = False
    beside: tuple[tuple[str, str, str, str], ...] = ()
    found_in: str = ""

    @property
    def cells(self) -> dict[str, str]:
        """What is typed in the row."""
        return {**({self.column: self.typed} if self.column else {}), **self.also}


def added(
    rule: str, table: str, row: str, happened: str, beside: tuple[tuple[str, str, str, str], ...] = (), **cells: str
) -> Slip:
    """Say that a row was added that should not be there, or not so.

    Args:
        rule: Id of the rule it breaks.
        table: Table.
        row: Its id.
        happened: How it came about.
        beside: Cells of other rows that go with it: table, row, column, typed.
        **cells: Its other cells.

    Returns:
        The slip.
    """
    return Slip(rule, table, row, "", "", happened, cells, True, beside)


WRITING = (
    Slip("book.filled", "run_limits", "run.fuel-pressure", "page", "", "page not written down"),
    Slip("book.page", "torques", "torque.rocker-cover", "page", "from memory", "typed from memory"),
    Slip("book.id-form", "run_limits", "run.vacuum", "id", "run.Vacuum", "capital letter"),
    Slip("book.id-once", "oil_system", "oil.rod-4-gap", "id", "oil.rod-3-gap", "row copied down, id left as it was"),
    Slip("book.word", "parts", "part.propeller-bolt", "mandatory_when", "prop strike", "the shop's own word"),
    Slip("book.unit", "torques", "torque.spark-plugs", "unit", "lb-ft", "unit written as people say it"),
    Slip(
        "book.list-apart",
        "sizes",
        "size.main-reground",
        "within",
        "0.0050",
        "a nought lost in what counts as one of the list",
    ),
    Slip("book.decimal-comma", "fits", "fit.driven-tip-clearance", "new_max", "0,0057", "decimal comma"),
    Slip("book.point-lost", "sizes", "size.ring-top-iron-gap", "new_min", "00180", "decimal point lost"),
    Slip("book.blank", "sizes", "size.pin-bore", "service_max", "----", "the dashes of the page typed"),
    Slip("book.number", "sizes", "size.cam-end-play", "service_max", "0.016O", "letter O for a nought"),
    Slip("book.quantity", "access", "access.cylinder", "hours", "3.0", "unit of the time left out"),
    Slip("book.least-first", "sizes", "size.seat-width-inlet", "new_min", "0.60", "decimal point shifted"),
    Slip("book.kind-fields", "sizes", "size.fuel-rod", "reference", "", "wear, and not from where it is counted"),
    Slip("book.names-a-row", "sizes", "size.vacuum-bush-outside", "part", "part.vaccum-bush", "id misspelt"),
    Slip("book.column-known", "consumables", "", "shelf_life", "shelf-life", "heading with a hyphen"),
    Slip("book.cells", "follow_ups", "follow-up.oil-120", "", "", "quotation marks lost round a comma"),
)
LIMITS = (
    Slip("book.service-outside-new", "fits", "fit.rod-side-clearance", "service_max", "0.0108", "8 and 0 changed over"),
    Slip("book.wear-start", "sizes", "size.cam-lift-exhaust", "new_min", "", "new limit passed over"),
    added(
        "book.other-side",
        "sizes",
        "size.vacuum-pilot",
        "least typed for greatest",
        part="part.vacuum-housing",
        feature="pilot bore",
        measure="bore",
        kind="wear from new",
        unit="in",
        new_min="1.7500",
        new_max="1.7510",
        amount="0.0020",
        side="least",
        reference="new least",
        page="8-10",
    ),
    Slip("book.nought", "sizes", "size.drive-slot", "service_max", "0", "dashes read as nought", {"kind": "absolute"}),
    Slip("book.finer-than-printed", "sizes", "size.plug-gap", "service_max", "0.02283465", "computed from 0.58 mm"),
    Slip("book.note-lost", "sizes", "size.head-bore", "note", "", "mark of the note typed, its words lost"),
    Slip("book.place-stated", "sizes", "size.barrel-choke", "at", "", "depths of the choke lost with the heading"),
    Slip(
        "book.one-row-a-feature",
        "sizes",
        "size.guide-bore-exhaust",
        "effectivity",
        "serials 0101 to 0299",
        "wrong variant: that of the row above",
    ),
    Slip("book.half-or-full", "sizes", "size.seat-run-out", "reckoned", "", "half or full swing not asked"),
    Slip("book.safety-limit", "sizes", "size.crank-gear-dowel", "safety", "yes", "dashes typed, and marked for safety"),
)
UNITS = (
    Slip("book.units-agree", "sizes", "size.rod-twist", "per", "16.0", "digit misread in one of two units"),
    Slip("book.units-alike", "sizes", "size.spring-outer-load", "other_unit", "kg", "kg read for N"),
    Slip("book.first-unit", "sizes", "size.ring-second-gap", "service_max", "", "only the second unit typed"),
    Slip(
        "book.other-unit-order",
        "torques",
        "torque.spark-plugs",
        "other_least",
        "504",
        "least and greatest changed over",
        {"other_greatest": "456"},
    ),
)
PLAUSIBLE = (
    Slip("book.magnitude", "sizes", "size.dry-clearance", "new_max", "0.80", "zero slip"),
    Slip("book.measure-unit", "sizes", "size.relief-spring-length", "measure", "spring load", "word of the row above"),
    Slip("book.service-far-from-new", "fits", "fit.end-clearance", "service_max", "0.092", "nought lost"),
    Slip("book.new-spread", "sizes", "size.piston-land", "new_max", "4.7160", "2 read as 7"),
    Slip("book.share", "sizes", "size.edge-share", "per_cent", "75", "what must remain typed for what may go"),
    Slip("book.rate", "sizes", "size.sump-bow", "amount", "3", "thousandths in a row of inches"),
)
FITS = (
    Slip(
        "book.fit-own-sizes",
        "fits",
        "fit.plug-in-pin",
        "hole",
        "size.pin-plug",
        "hole and shaft changed over",
        {"shaft": "size.pin-bore"},
    ),
    Slip(
        "book.fit-units", "fits", "fit.relief-plunger-in-bore", "shaft", "size.relief-spring-load", "spring for plunger"
    ),
    Slip("book.tight-fit", "fits", "fit.rocker-shaft-in-head", "measure", "tight fit", "word of the row above"),
    Slip("book.fit-letter", "fits", "fit.crank-gear-on-pilot", "new_min", "0.0006L", "T taken for L"),
    Slip("book.fit-half", "fits", "fit.cam-clearance", "reckoned", "full", "radius taken for diameter"),
    Slip("book.fit-from-sizes", "fits", "fit.idler-gear-on-shaft", "new_min", "0.0016", "0 read as 6"),
)
TORQUES = (
    Slip("book.torque-order", "torques", "torque.pump-nuts", "set_to", "172", "1 read as 7"),
    Slip("book.torque-stages", "torques", "torque.base-nuts", "stages", "350; 200; 465", "stages changed over"),
    Slip("book.torque-pattern", "torques", "torque.propeller", "pattern", "1; 4; 2; 5; 3; 3; 6", "number typed twice"),
    Slip("book.thread", "torques", "torque.vacuum-drive", "thread", "1/4-38", "2 read as 3"),
    Slip("book.torque-for-thread", "torques", "torque.induction", "unit", "lbf.ft", "lbf.ft for lbf.in"),
    Slip(
        "book.torque-median",
        "torques",
        "torque.fuel-pump",
        "least",
        "420",
        "read from the row of the idler nut",
        {"greatest": "440"},
    ),
    Slip("book.locking", "torques", "torque.screen-plug", "locking", "", "safety wire passed over"),
    Slip("book.lubricant-named", "torques", "torque.crank-gear", "lubricant", "", "lubricated, with what not read"),
    Slip("book.running-torque", "torques", "torque.magneto-nuts", "running_torque", "", "self-locking, drag not asked"),
)
NAMES = (
    Slip("book.id-leads-nowhere", "parts", "part.oil-cooler", "behind", "access.cowing", "id misspelt"),
    Slip("book.itself", "parts", "part.rocker-cover", "then_also", "part.rocker-cover", "gasket meant, cover typed"),
    Slip(
        "book.mates-both-ways",
        "parts",
        "part.ring-oil-iron",
        "mates",
        "part.barrel-chromium; part.barrel-steel",
        "a barrel too many",
    ),
    added(
        "book.opposites",
        "orientation",
        "direction.forward",
        "front typed twice, by another word",
        what="direction",
        name="forward",
        means="toward the propeller",
        opposite="direction.rear",
        page="2-1",
    ),
    added(
        "book.set-members",
        "parts",
        "set.relief-valve",
        "set typed, its spring and seat forgotten",
        (("parts", "part.relief-plunger", "sold_in", "set.relief-valve"),),
        name="relief valve, set",
        where_used="accessory housing",
        quantity="1",
        page="4-8",
    ),
    Slip("book.over-kind", "sizes", "size.stem-bend", "over", "size.face-exhaust", "counted on an angle"),
    Slip("book.circle", "steps", "step.gauge-compare", "after", "step.compression", "before and after changed over"),
    added(
        "book.orphan",
        "consumables",
        "consumable.grease",
        "what takes the grease not typed",
        name="grease",
        specification="lithium soap grease",
        where_used="starter drive",
        page="12-1",
    ),
)
COVERS_AND_JOINTS = (
    added(
        "book.cover-opened",
        "access",
        "access.thermostat-cap",
        "cover typed, the step that takes it off forgotten",
        (("parts", "part.thermostatic-valve", "behind", "access.thermostat-cap"),),
        name="thermostatic valve cap",
        behind="access.cowling",
        hours="0.2 h",
        page="3-6",
    ),
    Slip(
        "book.cover-closed",
        "steps",
        "step.after-filter",
        "opens",
        "access.screen-plug",
        "screen looked at, and no step that closes it again",
    ),
    Slip("book.cover-order", "steps", "step.relief-off", "after", "step.gauge-compare", "cowling still on at the cap"),
    added(
        "book.joint-torque",
        "joints",
        "joint.governor-cover-nut-1",
        "nuts drawn, their torque not typed",
        joint="governor cover nuts",
        role="fastener",
        number="1",
        unit="in",
        x="-0.60",
        y="2.90",
        view="view.rear",
        page="4-6",
    ),
    Slip(
        "book.step-torque",
        "steps",
        "step.drain-on",
        "joint",
        "drain plug",
        "one joint by two names, the torque under the other",
        beside=(("joints", "joint.drain-lug", "joint", "drain plug"),),
    ),
    Slip(
        "book.joint-numbers",
        "joints",
        "joint.magneto-nut-2",
        "number",
        "3",
        "number of the next nut",
        found_in="joint.magneto-nut-1",
    ),
    Slip("book.joint-view", "joints", "joint.adapter-screw-3", "view", "view.front", "front for rear"),
)
RUNNING = (
    Slip("book.view-axes", "orientation", "view.front", "up", "direction.front", "word of the view for what is up"),
    Slip("book.oil-figure", "oil_system", "oil.jet", "value", "1.10", "unit left out"),
    Slip("book.oil-node", "oil_system", "oil.rocker-hole-count", "from_node", "galery", "one name in two ways"),
    Slip("book.run-least-first", "run_limits", "run.speed-static", "least", "2820", "digits changed over"),
    Slip("book.follow-up-due", "follow_ups", "follow-up.timing-100", "after_hours", "", "hours passed over"),
)
SLIPS = (*WRITING, *LIMITS, *UNITS, *PLAUSIBLE, *FITS, *TORQUES, *NAMES, *COVERS_AND_JOINTS, *RUNNING)

# What is in no table: rule, and the file in which it is found.
IN_FILES = {"book.head": "book.toml", "book.file-known": "sizes-old.csv"}
# The small book: rule, and where it is found. No row stands under what is lost, so that nothing else can fail.
TORN = {"book.file": "fits.csv", "book.table": "sizes.csv:16", "book.column-there": "follow_ups.csv:1"}
# Rules that only a workbook can break: the cell, and the markup that a spreadsheet puts there.
IN_WORKBOOKS = {
    "book.number-cell": ("sizes", "size.cam-backlash", "new_max", "<v>0.007</v>"),
    "book.workbook": ("sizes", "size.relief-plunger", "service_min", "<f>H18-0.0010</f><v>0.6225</v>"),
}


def good_rows(table: str) -> Rows:
    """Read a table of the good book.

    Args:
        table: Its name.

    Returns:
        The heading and the rows.
    """
    return list(csv.reader(io.StringIO((GOOD / f"{table}.csv").read_text(encoding="utf-8"), newline="")))


def written(rows: Rows) -> str:
    """Write rows as the good book writes them.

    Args:
        rows: The heading and the rows.

    Returns:
        The text.
    """
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue()


def line_of(table: str, row: str) -> int:
    """Count down to a row of the faulty book.

    Args:
        table: Its table.
        row: Its id in the good book, or that of an added row; empty: the heading.

    Returns:
        The line [-], the heading being 1.
    """
    ids = ["", *(cells[0] for cells in good_rows(table)[1:])]
    ids += [slip.row for slip in SLIPS if slip.added and slip.table == table]
    return ids.index(row) + 1


def faulty_rows(table: str) -> Rows:
    """Type every slip into a table.

    Args:
        table: Its name.

    Returns:
        The heading and the rows of the faulty book.
    """
    rows = good_rows(table)
    heading = list(rows[0])
    for slip in SLIPS:
        if slip.added and slip.table == table:
            cells = {"id": slip.row, **slip.cells}
            rows.append([cells.get(name, "") for name in heading])
    typed = [(slip.table, slip.row, *cell) for slip in SLIPS if not slip.added for cell in slip.cells.items()]
    for where, row, column, text in [*typed, *(cell for slip in SLIPS for cell in slip.beside)]:
        if where == table:
            rows[line_of(table, row) - 1][heading.index(column)] = text
    return rows


def _faulty_table(table: str) -> str:
    rows = faulty_rows(table)
    lines = written(rows).splitlines(keepends=True)
    for slip in SLIPS:
        if slip.table == table and slip.rule == "book.cells":
            place = line_of(table, slip.row) - 1
            lines[place] = ",".join(rows[place]) + "\n"
    return "".join(lines)


def faulty_files() -> dict[str, bytes]:
    """Make the faulty book.

    Returns:
        Its files by name, but for README.md.
    """
    texts = {f"{table}.csv": _faulty_table(table) for table in TABLES}
    texts |= {"book.toml": HEAD + INVENTED, "sizes-old.csv": written(good_rows("sizes")[:6])}
    return {name: text.encode() for name, text in texts.items()}


def torn_files() -> dict[str, bytes]:
    """Make the small book with what cannot be shown beside other slips.

    Returns:
        Its files by name, but for README.md: directions, and headings alone; sizes.csv ends within a quotation.
    """
    texts = {f"{table}.csv": written(good_rows(table)[:1]) for table in TABLES}
    texts["orientation.csv"] = written(good_rows("orientation")[:7])
    sizes = written(good_rows("sizes"))
    texts["sizes.csv"] = sizes[: sizes.index("under a straight-edge")]
    texts["follow_ups.csv"] = written([[name for name in good_rows("follow_ups")[0] if name != "page"]])
    del texts["fits.csv"]
    texts["book.toml"] = HEAD + REVISION + INVENTED
    return {name: text.encode() for name, text in texts.items()}


def _with_cell(workbook: bytes, table: str, row: str, column: str, markup: str) -> bytes:
    """Put other markup into one cell, as if a spreadsheet had saved it."""
    names = [one.name for one in TABLES[table]]
    cell = f"{get_column_letter(names.index(column) + 1)}{[one[0] for one in good_rows(table)].index(row) + 1}"
    member = f"xl/worksheets/sheet{list(TABLES).index(table) + 2}.xml"
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook)) as old, zipfile.ZipFile(out, "w") as new:
        for entry in old.infolist():
            content = old.read(entry).decode()
            if entry.filename == member:
                content, changed = re.subn(rf'<c r="{cell}"[^>]*>.*?</c>', f'<c r="{cell}">{markup}</c>', content)
                assert changed == 1
            new.writestr(entry, content)
    return out.getvalue()


def workbook_with(rule: str) -> bytes:
    """Make the good book a workbook in which a spreadsheet changed one cell.

    Args:
        rule: Id of a rule that only a workbook can break.

    Returns:
        Its bytes.
    """
    files = {path.name: path.read_bytes() for path in GOOD.iterdir() if path.suffix == ".csv"}
    book = draft_book({**files, "book.toml": (HEAD + REVISION + INVENTED).encode()})
    return _with_cell(book_workbook(book), *IN_WORKBOOKS[rule])


def main() -> None:
    """Write both books and both workbooks into the story."""
    for folder, files in ((FAULTY, faulty_files()), (TORN_BOOK, torn_files())):
        folder.mkdir(exist_ok=True)
        for name, content in files.items():
            (folder / name).write_bytes(content)
    TORN_WORKBOOK.parent.mkdir(exist_ok=True)
    FAULTY_WORKBOOK.write_bytes(workbook_with("book.number-cell"))
    TORN_WORKBOOK.write_bytes(workbook_with("book.workbook"))


if __name__ == "__main__":
    main()
