"""What a revision changes, row by row, and which way a limit moved."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.quantity import find_unit, shown
from tenthbook.record.book import TABLES, draft_book
from tenthbook.record.book.comparing import Change, Touches, Way, compare, touches
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.examples import EXAMPLE_HEAD, EXAMPLES
from tenthbook.record.book.moving import Direction
from tenthbook.record.book.reading import draft_kept
from tests.builders import book_files, small_book

Cells = Mapping[str, str]
STRICTER, WIDER, UNTOLD = Direction.STRICTER, Direction.WIDER, Direction.UNTOLD


def book(**tables: list[Cells]) -> Draft:
    """The example book with other rows in some tables."""
    return draft_kept(EXAMPLE_HEAD, {**{name: list(rows) for name, rows in EXAMPLES.items()}, **tables})


def size(**cells: str) -> list[Cells]:
    """The example's bush, and a size row with these cells."""
    plain = {"id": "size.shaft", "part": "part.shaft", "feature": "x", "kind": "absolute", "unit": "in", "page": "1-1"}
    return [EXAMPLES["sizes"][1], {name: text for name, text in {**plain, **cells}.items() if text}]


def changed(old: Draft, new: Draft) -> Change:
    """The one change between two books."""
    (change,) = compare(old, new)
    return change


def moved(old: Cells, new: Cells, table: str = "sizes") -> list[tuple[str, str, str, Direction, str]]:
    """The limits that moved between two rows of a table, of a size when not said."""
    rows = [size(**cells) if table == "sizes" else [cells] for cells in (old, new)]
    (change,) = compare(*(book(**{table: each}) for each in rows))
    return [(move.limit, move.old, move.new, move.direction, move.by) for move in change.moves]


def test_a_book_is_like_itself() -> None:
    """Nothing differs where only the order of rows and columns and blank cells do."""
    lines = book_files()["sizes.csv"].decode().splitlines()
    turned = "\n".join(",".join(reversed(line.split(","))) for line in [lines[0], *reversed(lines[1:])])
    assert compare(draft_book(book_files()), draft_book(book_files(sizes=turned))) == ()
    assert compare(small_book(), draft_book(book_files())) == ()


def test_rows_added_taken_away_and_changed_are_told_apart() -> None:
    """Each row by its way, in the new book's order, those taken away last; a changed one cell by cell as typed."""
    first, second, third = (dict(row) for row in EXAMPLES["parts"][:3])
    other = {**first, "note": "see letter 7"}
    new = {**second, "id": "part.seal", "name": "seal"}
    found = compare(book(parts=[first, second, third]), book(parts=[new, other, third]))
    assert [(one.way, one.table, one.row) for one in found] == [
        (Way.ADDED, "parts", "part.seal"),
        (Way.CHANGED, "parts", "part.shaft"),
        (Way.TAKEN, "parts", "part.bush"),
    ]
    assert [(cell.column, cell.old, cell.new) for cell in found[1].cells] == [("note", "", "see letter 7")]
    assert {cell.column: cell.new for cell in found[0].cells} == new
    assert {cell.column: cell.old for cell in found[2].cells} == second


def test_a_row_that_only_got_another_id_is_said_to() -> None:
    """Every other cell is the same: the id changed, and nothing was added or taken away."""
    row = dict(EXAMPLES["consumables"][0])
    found = compare(book(), book(consumables=[{**row, "id": "oil.thread"}]))
    renamed = [one for one in found if one.table == "consumables"]
    assert [(one.way, one.row, one.was) for one in renamed] == [(Way.RENAMED, "oil.thread", "oil.assembly")]
    touched = changed(book(), book(consumables=[{**row, "id": "oil.thread", "film": "thin"}, row]))
    assert touched.way is Way.ADDED


def test_rows_alike_are_paired_in_their_order() -> None:
    """Two rows alike but for their ids that both got another: the first with the first."""
    row = dict(EXAMPLES["consumables"][0])
    old, new = (book(consumables=[{**row, "id": one} for one in ids]) for ids in (("a", "b"), ("c", "d", "e")))
    found = compare(old, new)
    assert [(one.way, one.was, one.row) for one in found] == [
        (Way.RENAMED, "a", "c"),
        (Way.RENAMED, "b", "d"),
        (Way.ADDED, "", "e"),
    ]


def test_the_head_comes_first() -> None:
    """Its values are compared as they are written: true is true."""
    change = changed(Draft(EXAMPLE_HEAD), Draft({**EXAMPLE_HEAD, "revision": "2", "invented": False}))
    assert (change.table, change.row) == ("book", "")
    assert [(cell.column, cell.old, cell.new) for cell in change.cells] == [
        ("revision", "1, 1 January 2026", "2"),
        ("invented", "true", "false"),
    ]


@pytest.mark.parametrize(
    ("old", "new", "move"),
    [
        (
            {"service_max": "1.4055"},
            {"service_max": "1.4050"},
            ("service_max", "1.4055 in", "1.4050 in", STRICTER, "0.0005 in"),
        ),
        (
            {"service_max": "1.4050"},
            {"service_max": "1.40555"},
            ("service_max", "1.4050 in", "1.40555 in", WIDER, "0.00055 in"),
        ),
        (
            {"service_min": "0.5098"},
            {"service_min": "0.5100"},
            ("service_min", "0.5098 in", "0.5100 in", STRICTER, "0.0002 in"),
        ),
        ({"new_min": "0.5098"}, {"new_min": "0.5090"}, ("new_min", "0.5098 in", "0.5090 in", WIDER, "0.0008 in")),
        ({"new_max": "1"}, {"new_max": "1", "service_max": "2"}, ("service_max", "no limit", "2 in", STRICTER, "")),
        ({"new_max": "1", "service_max": "2"}, {"new_max": "1"}, ("service_max", "2 in", "no limit", WIDER, "")),
        # beside a given service side a blank one keeps the new limit
        (
            {"new_max": "1", "service_min": "0.5"},
            {"new_max": "1", "service_min": "0.5", "service_max": "2"},
            ("service_max", "1 in", "2 in", WIDER, "1 in"),
        ),
        (
            {"new_max": "0.0090"},
            {"new_max": "0.0090", "unit": "mm"},
            ("new_max", "0.0090 in", "0.0090 mm", STRICTER, "0.2196 mm"),
        ),
        (
            {"new_max": "0.004"},
            {"new_max": "0.004", "reckoned": "half"},
            ("new_max", "0.004 in", "0.004 in, half", WIDER, "0.004 in"),
        ),
        ({"new_max": "4"}, {"new_max": "4", "unit": "lbf"}, ("new_max", "4 in", "4 lbf", UNTOLD, "")),
        ({"new_max": "4"}, {"new_max": "4O"}, ("new_max", "4 in", "4O", UNTOLD, "")),
    ],
)
def test_a_moved_limit_tells_its_way(old: Cells, new: Cells, move: tuple[str, str, str, Direction, str]) -> None:
    """Stricter where what passed may fail, wider where what failed may pass; exactly, in any unit, by how much."""
    assert moved(old, new) == [move]


def test_a_limit_in_another_unit_is_the_same_limit() -> None:
    """0.0090 in and 0.2286 mm: two cells changed and no limit moved."""
    change = changed(book(sizes=size(new_max="0.0090")), book(sizes=size(new_max="0.2286", unit="mm")))
    assert ([cell.column for cell in change.cells], change.moves) == (["unit", "new_max"], ())
    assert change.touches is Touches.LIMIT


@pytest.mark.parametrize(
    ("old", "new", "moves"),
    [
        (
            {
                "kind": "wear from new",
                "amount": "0.001",
                "side": "greatest",
                "reference": "new greatest",
                "new_max": "1",
            },
            {"amount": "0.002"},
            [("amount", "0.001 in", "0.002 in", WIDER, "0.001 in")],
        ),
        (
            {
                "kind": "wear from new",
                "amount": "0.001",
                "side": "greatest",
                "reference": "new greatest",
                "new_max": "1",
            },
            {"reference": "this part when new"},
            [("amount", "0.001 in", "0.001 in", UNTOLD, "")],
        ),
        (
            {"kind": "per diameter", "amount": "0.0005", "per": "1", "over": "size.bush"},
            {"amount": "0.0010", "per": "2.5"},
            [("amount", "0.0005 in per 1 in", "0.0010 in per 2.5 in", STRICTER, "")],
        ),
        (
            {"kind": "per length", "amount": "0.0005", "per": "1", "over": "size.bush", "side": "least"},
            {"amount": "0.0010"},
            [("amount", "0.0005 in per 1 in", "0.0010 in per 1 in", STRICTER, "")],
        ),
        (
            {"kind": "share of original", "per_cent": "-15"},
            {"per_cent": "-10"},
            [("per_cent", "-15 %", "-10 %", STRICTER, "")],
        ),
        (
            {"kind": "share of original", "per_cent": "-15"},
            {"per_cent": "+15"},
            [("per_cent", "-15 %", "+15 %", UNTOLD, "")],
        ),
        (
            {"kind": "multiple", "times": "2", "of_row": "size.bush"},
            {"times": "3"},
            [("times", "2 times", "3 times", WIDER, "")],
        ),
        ({"kind": "feel", "ribbon": "0.002"}, {"ribbon": "0.003"}, [("ribbon", "0.002, in", "0.003, in", UNTOLD, "")]),
        (
            {"kind": "condition", "condition": "worn"},
            {"condition": "torn"},
            [("condition", "worn", "torn", UNTOLD, "")],
        ),
        (
            {"kind": "one of", "list": "0.1; 0.2", "within": "0.01"},
            {"within": "0.02"},
            [("list", "0.1; 0.2, 0.01, in", "0.1; 0.2, 0.02, in", UNTOLD, "")],
        ),
        (
            {"kind": "absolute", "new_max": "1", "service_max": "2"},
            {
                "kind": "wear from new",
                "service_max": "",
                "amount": "0.1",
                "side": "greatest",
                "reference": "new greatest",
            },
            [("kind", "absolute", "wear from new", UNTOLD, "")],
        ),
        (
            {"kind": "per diameter", "amount": "0.0005", "per": "1", "over": "size.bush"},
            {"amount": "0.OO05"},
            [("amount", "0.0005 in per 1 in", "0.OO05", UNTOLD, "")],
        ),
        (
            {"kind": "share of original", "per_cent": "+15"},
            {"per_cent": "l5"},
            [("per_cent", "+15 %", "l5", UNTOLD, "")],
        ),
        (
            {"kind": "wear from new", "amount": "0.1", "side": "least", "reference": "new least", "new_min": "1"},
            {"service_min": "0.8", "kind": "absolute", "amount": "", "side": "", "reference": ""},
            [("kind", "wear from new", "absolute", UNTOLD, "")],
        ),
        ({"kind": "none"}, {"kind": "absolute", "new_max": "1"}, [("new_max", "no limit", "1 in", STRICTER, "")]),
    ],
)
def test_an_allowance_is_compared_within_its_frame(
    old: Cells, new: Cells, moves: list[tuple[str, str, str, Direction, str]]
) -> None:
    """Wear, rates, shares and multiples tell their way where they are counted from the same; else it is not told."""
    assert moved(old, {**old, **new}) == moves


@pytest.mark.parametrize(
    ("table", "column", "text", "move"),
    [
        ("torques", "greatest", "120", ("greatest", "125 lbf.in", "120 lbf.in", STRICTER, "5 lbf.in")),
        ("torques", "least", "100", ("least", "105 lbf.in", "100 lbf.in", WIDER, "5 lbf.in")),
        ("torques", "set_to", "115", ("set_to", "112 lbf.in", "115 lbf.in", Direction.RAISED, "3 lbf.in")),
        ("torques", "set_to", "110", ("set_to", "112 lbf.in", "110 lbf.in", Direction.LOWERED, "2 lbf.in")),
        ("torques", "set_to", "", ("set_to", "112 lbf.in", "no limit", UNTOLD, "")),
        ("run_limits", "least", "25", ("least", "20 psi", "25 psi", STRICTER, "5 psi")),
        ("follow_ups", "after_hours", "25 h", ("after_hours", "10 h", "25 h", WIDER, "15 h")),
        ("follow_ups", "after_days", "30", ("after_days", "no limit", "30", STRICTER, "")),
        ("parts", "life_limit", "2000 h", ("life_limit", "no limit", "2000 h", STRICTER, "")),
    ],
)
def test_limits_of_other_tables_move_too(
    table: str, column: str, text: str, move: tuple[str, str, str, Direction, str]
) -> None:
    """Torques, run limits, follow-ups and lives tell their way; a torque to set is raised or lowered."""
    row = dict(EXAMPLES[table][0])
    new = {name: cell for name, cell in {**row, column: text}.items() if cell}
    assert moved(row, new, table) == [move]


@pytest.mark.parametrize(
    ("table", "column", "expected"),
    [
        ("sizes", "service_max", Touches.LIMIT),
        ("fits", "kind", Touches.LIMIT),
        ("torques", "stages", Touches.LIMIT),
        ("torques", "stretch_unit", Touches.LIMIT),
        ("torques", "pattern", Touches.WORK),
        ("torques", "if_interrupted", Touches.WORK),
        ("sizes", "effectivity", Touches.WORK),
        ("sizes", "other_new_min", Touches.WORDS),
        ("torques", "other_least", Touches.WORDS),
        ("torques", "other_unit", Touches.WORDS),
        ("parts", "name", Touches.WORDS),
        ("steps", "page", Touches.WORDS),
    ],
)
def test_a_cell_is_judged_by_worked_by_or_words(table: str, column: str, expected: Touches) -> None:
    """What something is judged by is told from what is done and from words alone."""
    assert touches(table, column) is expected


def test_every_column_touches_something() -> None:
    """No table is without a column that matters beyond words, and each row can at least be renamed in words."""
    for table, columns in TABLES.items():
        kinds = {touches(table, column.name) for column in columns}
        assert Touches.WORDS in kinds, table
        assert kinds & {Touches.LIMIT, Touches.WORK}, table


figures = st.decimals(min_value=Decimal("0.0001"), max_value=Decimal(9), places=4)


@given(old=figures, new=figures)
def test_inch_and_millimetre_tell_the_same_way(old: Decimal, new: Decimal) -> None:
    """Law: the way of a limit does not depend on the unit the new book prints it in."""
    in_inch = moved({"service_max": str(old), "note": "a"}, {"service_max": str(new)})
    millimetres = shown(new * Decimal("25.4"), 4)
    in_mm = moved({"service_max": str(old), "note": "a"}, {"service_max": millimetres, "unit": "mm"})
    assert [move[3] for move in in_inch] == [move[3] for move in in_mm]
    assert find_unit("mm").kind == "length"


@given(old=figures, new=figures)
def test_the_way_back_is_the_other_way(old: Decimal, new: Decimal) -> None:
    """Law: what is stricter one way is wider the other way."""
    ways = [
        moved({"service_max": str(one), "note": "a"}, {"service_max": str(other)})
        for one, other in ((old, new), (new, old))
    ]
    turned = {STRICTER: WIDER, WIDER: STRICTER}
    assert [turned[move[3]] for move in ways[0]] == [move[3] for move in ways[1]]
