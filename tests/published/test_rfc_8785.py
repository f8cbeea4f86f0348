"""RFC 8785, JSON Canonicalization Scheme (JCS), June 2020, sections 3.2.2 and 3.2.3.

From memory; a published implementation of the document (the package `rfc8785`) is the second opinion. Only text, whole
numbers, true, false, null, lists and objects with ASCII names are held here; what the document says of other numbers
cannot arise, because they are refused.
"""

from __future__ import annotations

from typing import Any

import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.book.digests import dense
from tenthbook.record.ledger import NotCanonical, canonical

LARGEST = 2**53 - 1
SCALARS = st.none() | st.booleans() | st.integers(-LARGEST, LARGEST) | st.text(max_size=12)
NAMES = st.text(st.characters(max_codepoint=127), max_size=6)
VALUES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(NAMES, inner, max_size=4), max_leaves=20
)


def test_the_string_of_the_printed_sample() -> None:
    """Section 3.2.2: the sample's string and literals are written as the document prints them."""
    value = {"string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/", "literals": [None, True, False]}
    assert canonical(value) == b'{"literals":[null,true,false],"string":"\xe2\x82\xac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'


@pytest.mark.parametrize(
    ("character", "written"),
    [
        ("\b", rb'"\b"'),
        ("\t", rb'"\t"'),
        ("\n", rb'"\n"'),
        ("\f", rb'"\f"'),
        ("\r", rb'"\r"'),
        ('"', rb'"\""'),
        ("\\", rb'"\\"'),
        ("/", b'"/"'),
        ("\x00", rb'"\u0000"'),
        ("\x0b", rb'"\u000b"'),
        ("\x1f", rb'"\u001f"'),
        ("\x7f", b'"\x7f"'),
        ("\u2028", b'"\xe2\x80\xa8"'),
        ("\U0001f600", b'"\xf0\x9f\x98\x80"'),
    ],
)
def test_which_characters_are_escaped(character: str, written: bytes) -> None:
    """Section 3.2.2.2: short escapes, else four lower-case figures for control signs; all other signs stand."""
    assert canonical(character) == written


def test_names_are_sorted_at_every_depth() -> None:
    """Section 3.2.3: control signs before figures, capitals before small letters, a prefix before what it begins."""
    value = {
        "a": {},
        "1": {"f": {"f": "hi", "F": 5}, "\n": 56},
        "": "empty",
        "111": [{"e": "yes", "E": "no"}],
        "\r": 0,
        "10": {},
        "A": {},
    }
    assert canonical(value) == (
        rb'{"":"empty","\r":0,"1":{"\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{"E":"no","e":"yes"}],"A":{},"a":{}}'
    )


def test_a_list_keeps_its_order() -> None:
    """Section 3.2.3: names inside a list are sorted, the list is not."""
    assert canonical([56, {"d": True, "10": None, "1": []}]) == b'[56,{"1":[],"10":null,"d":true}]'


@pytest.mark.parametrize("value", [0.5094, 1.0, -0.0, 1e30, float("nan"), float("inf")])
def test_binary_fractions_are_refused(value: float) -> None:
    """Section 3.2.2.3 never applies: a float is no number of the ledger."""
    with pytest.raises(NotCanonical):
        canonical({"value": value})


@pytest.mark.parametrize("value", [LARGEST + 1, -LARGEST - 1, 10**30])
def test_numbers_that_a_double_cannot_hold_are_refused(value: int) -> None:
    """Whole numbers end where a double stops holding every one of them."""
    with pytest.raises(NotCanonical):
        canonical(value)
    with pytest.raises(rfc8785.IntegerDomainError):
        rfc8785.dumps(value)


@pytest.mark.parametrize("name", ["\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"])
def test_names_beyond_ascii_are_refused(name: str) -> None:
    """Section 3.2.3 sorts by UTF-16 units; names in ASCII sort the same by every rule, so only they are held."""
    with pytest.raises(NotCanonical):
        canonical({name: 1})


@given(VALUES)
@settings(deadline=None, max_examples=300)
def test_a_published_implementation_writes_the_same_bytes(value: Any) -> None:
    """Whatever the ledger holds, the second opinion writes the same."""
    assert canonical(value) == rfc8785.dumps(value)


@given(st.dictionaries(NAMES, st.text(max_size=12) | st.booleans(), max_size=6))
@settings(deadline=None)
def test_rows_of_a_book_are_written_in_the_same_form(row: dict[str, str | bool]) -> None:
    """The digest of a row rests on the same form."""
    assert dense(row) == rfc8785.dumps(row)
