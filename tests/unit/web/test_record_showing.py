"""What the record shows is what was recorded: letters change, signs do not."""

from __future__ import annotations

import html
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.faces.web.record_showing import set_in_letters, show_statement

HASH = "9f2c" * 16
PRINT = "b5af 0451 06ac 11d9 318f 53ff e78d 3073 9a15 bd3b"
WORDS = st.lists(st.sampled_from([HASH, PRINT, "P-0212-6", "2026-10-02", " ", "\n", "<b>", "&amp;", "\u2028", "in"]))


def plain(marked: str) -> str:
    """The text of marked words."""
    return html.unescape(re.sub(r"</?span[^>]*>", "", marked))


@given(WORDS.map("".join) | st.text())
def test_every_sign_stays(text: str) -> None:
    """Whatever is set apart, the words read the same, and nothing typed becomes part of the page."""
    assert plain(set_in_letters(text)) == text
    assert "".join(plain(str(line["text"])) for line in show_statement(text)) == text
    assert set(re.findall(r"<[^>]*>", set_in_letters(text))) <= {
        "</span>",
        *(f'<span class="{name}">' for name in ("fingerprint", "num whole", "whole")),
    }


@pytest.mark.parametrize(
    ("text", "letters"),
    [
        (f"head {HASH}", ["fingerprint"]),
        (f"key {PRINT}, endorsed by inspector on 2026-02-02", ["fingerprint", "whole"]),
        ("tag P-0212-6; certificate C-1037", ["num whole", "num whole"]),
        ("read 0.5094 in; row size.shaft", []),
    ],
)
def test_what_is_set_apart(text: str, letters: list[str]) -> None:
    """Hashes, fingerprints and tags stand in the digits' letters; tags and days stay on one line; words are left."""
    assert re.findall(r'class="([^"]*)"', set_in_letters(text)) == letters


def test_only_a_line_that_is_a_hash_is_one() -> None:
    """A hash by itself steps back; a line that names one does not."""
    lines = show_statement(f"Book {HASH}\n      {HASH}\nno end")
    assert [line["is_hash"] for line in lines] == [False, True, False]
