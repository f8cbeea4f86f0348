"""Which heading fills which column: said, never guessed."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.numbers.because import WrongInput
from tenthbook.record.book import TABLES
from tenthbook.record.book.importing import filled_by, ranges_of, targets_of
from tests.unit.book.importing.sent import CONSTANTS, HEADINGS, only, shown

ROW = "size.a,a place,0.0037-0.0057,0.0090 max"


def faults(**changed: Any) -> list[str]:
    """All that is wrong with what was said."""
    with pytest.raises(WrongInput) as caught:
        shown(ROW, **changed)
    return [str(fault) for fault in caught.value.faults]


def test_a_range_fills_the_columns_of_its_least_and_greatest() -> None:
    """Each table names its own ranges."""
    assert ranges_of("sizes") == {
        "new": ("new_min", "new_max"),
        "service": ("service_min", "service_max"),
        "other_new": ("other_new_min", "other_new_max"),
        "other_service": ("other_service_min", "other_service_max"),
    }
    assert list(ranges_of("torques")) == ["range", "running_range", "stretch_range", "other_range"]
    assert ranges_of("parts") == {}
    assert (filled_by("fits", "new"), filled_by("fits", "hole")) == (("new_min", "new_max"), ("hole",))


def test_no_range_has_the_name_of_a_column() -> None:
    """A heading is mapped to one or the other."""
    for table in TABLES:
        names = targets_of(table)
        assert len(names) == len(set(names))


def test_a_mapped_heading_fills_its_column_and_the_others_are_left_out() -> None:
    """Headings nobody spoke of are listed."""
    found = shown(f"{ROW},worn", heading="Id,Item,New,Service,Remarks")
    assert only(found).cells == {
        **CONSTANTS,
        "id": "size.a",
        "feature": "a place",
        "unit": "in",
        "new_min": "0.0037",
        "new_max": "0.0057",
        "service_max": "0.0090",
    }
    assert found.left_out == ("Remarks",)


@pytest.mark.parametrize(
    ("changed", "fault"),
    [
        ({"table": "size"}, "table: found 'size'; expected sizes, perhaps"),
        (
            {"headings": {**HEADINGS, "servise_max": "Item"}},
            "servise_max: found no such column of sizes; expected service_max, perhaps",
        ),
        (
            {"headings": {**HEADINGS, "new": "new"}},
            "new: found no heading 'new' in the sent table; expected New, perhaps",
        ),
        (
            {"constants": {**CONSTANTS, "pag": "1"}},
            "pag: found no such column of sizes; expected page, perhaps",
        ),
        (
            {"constants": {**CONSTANTS, "new": "1"}},
            "new: found no such column of sizes; expected new_min, perhaps",
        ),
        ({"constants": {**CONSTANTS, "note": ""}}, "note: found ''; expected a value without blanks round it"),
        (
            {"headings": {**HEADINGS, "new_min": "Item"}},
            "new_min: found the column filled twice; expected one heading, one value or one made id for it",
        ),
        ({"constants": {**CONSTANTS, "id": "size.a"}}, "id: found the column filled twice; expected "),
        ({"id_prefix": "size."}, "id: found the column filled twice; expected "),
        (
            {"constants": {"part": "part.shaft", "kind": "absolute"}},
            "page: found neither mapped nor set, and every row needs it; expected page of the manual",
        ),
        (
            {"decimals": {"amount": 4}},
            "amount: found decimals for a column no heading is mapped to; expected one of id, feature, new, service",
        ),
        ({"decimals": {"new": 13}}, "new: found 13 decimals; expected a number from 0 to 12"),
        ({"unit": "inc"}, "unit: found unit 'inc'; expected in"),
        (
            {"unit": "mm", "constants": {**CONSTANTS, "unit": "in"}},
            "unit: found mm and in; expected one unit that judges",
        ),
        (
            {
                "headings": {"part": "Item"},
                "constants": {"page": "1", "kind": "none", "feature": "x"},
                "id_prefix": "a.",
            },
            "id: found nothing to make ids from; expected a heading mapped to feature",
        ),
    ],
)
def test_a_slip_in_what_is_said_is_named_with_the_nearest_name(changed: dict[str, Any], fault: str) -> None:
    """Unknown columns and headings, columns filled twice, needed columns that nothing fills."""
    assert any(one.startswith(fault) for one in faults(**changed)), faults(**changed)


def test_all_slips_are_named_at_once() -> None:
    """Nobody mends one to meet the next."""
    found = faults(headings={"feture": "Itm"}, constants={"part": "part.shaft"})
    assert [one.partition(":")[0] for one in found] == ["feture", "feture", "id", "feature", "kind", "page"]


def test_a_table_without_units_takes_none() -> None:
    """Parts have no column for a unit, so that --unit would say nothing."""
    found = faults(table="parts", headings={"id": "Id", "name": "Item"}, constants={"where_used": "x", "quantity": "1"})
    assert "unit: found in; expected no unit; parts has no column for one" in found
