"""Are the files that come from elsewhere still the ones that were taken in?

Fonts: Atkinson Hyperlegible Next and Mono 5.3.0 (SIL Open Font License 1.1, text beside them), as woff2 for pages;
the TTF for papers hold the same outlines, unpacked. Accessibility rules for the browser tests: axe-core 4.14.1
(Mozilla Public License 2.0, named in its first lines). A new version changes this list knowingly.
"""

from __future__ import annotations

import hashlib
import re

import pytest
import typst

from tests.docs.tree import ROOT, SOURCE

# Folder to its files: name and SHA-256.
VENDORED = {
    "src/tenthbook/faces/web/static/fonts": """
    05327050630a640eb824c8fcb7de8b2e605600d8863e4f531ca7c348239916c6  OFL-atkinson-hyperlegible-mono.txt
    474a034e99845062f661855caaa505880d0e9009deddc2727a92795eab374955  OFL-atkinson-hyperlegible-next.txt
    87b5b94c18025729fc6ed4e8c25221ade3746dc87213943fa4de49f1f0f26787  atkinson-hyperlegible-mono-latin-400-normal.woff2
    a52c1396b3cc1b7c7e52dcb39ed9ed2aeb1b7b0ff3572bca076e441aa7d906f6  atkinson-hyperlegible-mono-latin-600-normal.woff2
    5cb240a4d99ab7e6fc3a4d4e6d11d89789fdffe9c86a8384000d662c53283f6f  atkinson-hyperlegible-next-latin-400-normal.woff2
    0dbe07ed7679407db9d90f747d5ca3bd1b2bb7ccbcbe41c8246cfc6d2c7bc3bc  atkinson-hyperlegible-next-latin-700-normal.woff2
    """,
    "src/tenthbook/faces/papers/fonts": """
    05327050630a640eb824c8fcb7de8b2e605600d8863e4f531ca7c348239916c6  OFL-atkinson-hyperlegible-mono.txt
    474a034e99845062f661855caaa505880d0e9009deddc2727a92795eab374955  OFL-atkinson-hyperlegible-next.txt
    c9531a93a72322f5097d4c8e3218fa3666ffed2246608af9f0b4d0ea1d68dc95  atkinson-hyperlegible-mono-latin-400-normal.ttf
    76c0efcd37ce4c7dfa817c6558a23ab3db21f6e322e0556368447f4239b94032  atkinson-hyperlegible-mono-latin-600-normal.ttf
    b92a152f46a522143b40c07406a4c2251baad035e04daa28eb085ab4ceba5f87  atkinson-hyperlegible-next-latin-400-normal.ttf
    79b587c44485f8d8e684597df483b917a9c092fda18b49c063ae1c7867439d4b  atkinson-hyperlegible-next-latin-700-normal.ttf
    """,
    "tests/web/vendor": """
    29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c  axe.min.js
    """,
}


@pytest.mark.parametrize("folder", VENDORED)
def test_vendored_files_are_unchanged(folder: str) -> None:
    """Each file of a vendored folder is listed, and is byte for byte the one that was taken in."""
    found = {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in (ROOT / folder).iterdir()}
    words = VENDORED[folder].split()
    assert found == dict(zip(words[1::2], words[::2], strict=True))


def test_the_sheet_names_fonts_that_are_there() -> None:
    """Each file that the style sheet loads stands beside it, and each page font is loaded."""
    static = SOURCE / "faces" / "web" / "static"
    named = set(re.findall(r"url\(([^)]+)\)", (static / "tenthbook.css").read_text(encoding="utf-8")))
    assert named == {path.relative_to(static).as_posix() for path in (static / "fonts").glob("*.woff2")}


def test_papers_find_both_families() -> None:
    """The typesetter sees the two families in regular and heavy weight, without any font of the machine."""
    folder = SOURCE / "faces" / "papers" / "fonts"
    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])
    assert sorted((font.family, font.weight) for font in fonts.fonts()) == [
        ("Atkinson Hyperlegible Mono", 400),
        ("Atkinson Hyperlegible Mono", 600),
        ("Atkinson Hyperlegible Next", 400),
        ("Atkinson Hyperlegible Next", 700),
    ]
