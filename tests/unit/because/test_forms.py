"""What is wrong with a filled-in form, in the words of this book."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from tenthbook.numbers.because import Fault, faults_of


class Side(BaseModel):
    """One side of a form."""

    model_config = ConfigDict(extra="forbid", strict=True)
    size: str = Field(description="a size such as 1.2497 in", min_length=1)


class Sheet(BaseModel):
    """A form with a side, a list of sides and a count."""

    model_config = ConfigDict(extra="forbid", strict=True)
    hole: Side = Field(description="the outer part")
    more: list[Side] = []
    pair: list[str | None] = Field(default=[], max_length=2, description="a pair of limits")
    count: int = Field(default=1, ge=1)


def faults(**changed: Any) -> list[Fault]:
    """All that is wrong with a form that is right but for what is changed."""
    with pytest.raises(ValidationError) as caught:
        Sheet.model_validate({"hole": {"size": "1 in"}, **changed})
    records: Any = caught.value.errors()
    return faults_of(records, Sheet.model_json_schema())


def test_a_missing_field_is_told_by_what_belongs_there() -> None:
    """Where nothing stands, the words of the form say what is expected."""
    assert faults(hole={}) == [Fault("hole.size", "nothing", "a size such as 1.2497 in")]


def test_an_unknown_field_is_answered_with_the_nearest_known_one() -> None:
    """A slip of the pen is answered with the name that was meant."""
    assert faults(cuont=2) == [Fault("cuont", "an unknown field", "count, perhaps")]


def test_a_field_like_no_other_is_answered_with_all_known_ones() -> None:
    """Where no name is near, all names are told."""
    assert faults(hole={"size": "1 in", "zzzz": 1}) == [Fault("hole.zzzz", "an unknown field", "one of size")]


def test_places_in_a_list_count_from_one() -> None:
    """The second item of a list is item 2."""
    assert [fault.path for fault in faults(more=[{"size": "1 in"}, {"size": 5}])] == ["more.2.size"]


def test_what_stood_there_is_shown_as_typed() -> None:
    """A number where text belongs is shown as that number."""
    assert faults(hole={"size": 5}) == [Fault("hole.size", "5", "a size such as 1.2497 in")]


def test_a_long_value_is_cut() -> None:
    """Nobody is shown a thousand figures back."""
    (fault,) = faults(count="9" * 1000)
    assert len(fault.found) <= 60
    assert fault.found.endswith("...")


@pytest.mark.parametrize(("value", "found"), [({"a": 1}, "an object"), ([1, 2], "a list of 2")])
def test_objects_and_lists_are_named_not_printed(value: object, found: str) -> None:
    """An object or a list in the wrong place is called so."""
    assert [fault.found for fault in faults(count=value)] == [found]


def test_too_long_a_list_is_told_by_what_belongs_there() -> None:
    """A triple where a pair belongs is answered with the words of the pair."""
    assert faults(pair=["1", "2", "3"]) == [Fault("pair", "a list of 3", "a pair of limits")]


def test_a_number_out_of_range_keeps_the_range() -> None:
    """The bound itself is what is expected."""
    assert faults(count=0) == [Fault("count", "0", "greater than or equal to 1")]


def test_all_faults_come_at_once() -> None:
    """Three slips are three faults, in the order of the form."""
    assert [fault.path for fault in faults(hole={}, count=0, wrong=1)] == ["hole.size", "count", "wrong"]
