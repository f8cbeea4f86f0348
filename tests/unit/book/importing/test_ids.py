"""Ids for rows that come without one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.book.form_rules import ID_FORM
from tenthbook.record.book.importing.ids import make_ids, slug
from tests.unit.book.importing.sent import shown

HEADINGS = {"ref": "Ref", "feature": "Item", "new": "New"}


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Outside diameter", "outside-diameter"),
        ("  Spring, at 1.30 in ", "spring-at-1-30-in"),
        ("L\u00e4nge", "lange"),
        ("../../etc", "etc"),
        ("\u2014", ""),
    ],
)
def test_a_name_is_written_with_the_signs_of_an_id(name: str, expected: str) -> None:
    """Small letters, figures and hyphens."""
    assert slug(name) == expected


@given(st.text(max_size=40))
def test_a_made_id_is_an_id(name: str) -> None:
    """Whatever the manual calls the thing, its id has the form of an id, or there is none."""
    [made] = make_ids("size.", [name], [""])
    assert not made or len(made) > 80 or ID_FORM.holds(text=made)


def test_two_that_would_share_an_id_get_their_reference_numbers() -> None:
    """Both of them, so that neither depends on which came first."""
    found = shown(
        "7,Bore,0.1-0.2", "8,Width,0.1-0.2", "9,bore,0.1-0.2", heading="Ref,Item,New", headings=HEADINGS, id_prefix="s."
    )
    assert [row.id for row in found.rows] == ["s.bore-7", "s.width", "s.bore-9"]
    assert found.faults == ()


def test_what_is_still_doubled_is_a_fault() -> None:
    """The later line is named, with the line it repeats."""
    found = shown(",Bore,0.1-0.2", ",bore,0.1-0.2", heading="Ref,Item,New", headings=HEADINGS, id_prefix="s.")
    assert [str(fault) for fault in found.faults] == [
        "page.csv:3: id: found s.bore, as in line 2; expected each id once; map a heading of ids"
    ]
    assert found.code == ""


def test_a_name_without_letters_makes_no_id() -> None:
    """It is a fault, not a row without an id."""
    found = shown("1,\u2014,0.1-0.2", heading="Ref,Item,New", headings=HEADINGS, id_prefix="s.")
    assert [fault.found for fault in found.faults] == ["no id"]
