"""The one form in which an entry is stored and hashed."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from tenthbook.record.ledger import NotCanonical, canonical


def test_names_are_sorted_and_nothing_is_blank() -> None:
    """Two spellings of one object are one row of bytes."""
    assert (
        canonical({"b": [1, True, None], "a": "x"})
        == canonical({"a": "x", "b": (1, True, None)})
        == b'{"a":"x","b":[1,true,null]}'
    )


@pytest.mark.parametrize(
    ("value", "found"),
    [
        ({"value": 0.5094}, "float at entry.value"),
        ({"data": {"list": [1, Decimal("0.5")]}}, "Decimal at entry.data.list.1"),
        ({"n": 2**53}, "9007199254740992 at entry.n"),
        ({"n": -(2**53)}, "-9007199254740992 at entry.n"),
        ({"\u00fc": 1}, "name '\u00fc' at entry"),
        ({1: 2}, "name 1 at entry"),
        ({"b": b"bytes"}, "bytes at entry.b"),
        ({"t": "\ud800"}, "half of a surrogate pair"),
    ],
)
def test_what_the_form_cannot_hold_is_refused_with_its_place(value: Any, found: str) -> None:
    """A binary fraction, a number too large and a foreign name are named where they stand."""
    with pytest.raises(NotCanonical) as caught:
        canonical(value)
    assert caught.value.found == found


def test_the_largest_whole_number_is_held() -> None:
    """Two to the power of 53 less one is the last."""
    assert canonical([2**53 - 1, -(2**53 - 1)]) == b"[9007199254740991,-9007199254740991]"
