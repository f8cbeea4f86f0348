"""Does docs/calculators.md say what the calculators are?"""

from __future__ import annotations

from tenthbook.faces.calculators.reference import reference
from tests.docs.tree import ROOT


def test_the_reference_is_written_from_the_calculators() -> None:
    """The page is the program's own reference, to the letter."""
    page = ROOT / "docs" / "calculators.md"
    hint = "write it anew from tenthbook.faces.calculators.reference"
    assert page.read_text(encoding="utf-8") == reference(), hint
