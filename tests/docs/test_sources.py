"""Does docs/sources.md name the check of each published source, and only checks that exist?"""

from __future__ import annotations

import ast
import re

from tests.docs.tree import ROOT

PUBLISHED = ROOT / "tests" / "published"


def test_sources_and_published_checks_agree() -> None:
    """Each module of tests/published is named in docs/sources.md, and each one named there exists."""
    named = set(re.findall(r"\btest_\w+\.py\b", (ROOT / "docs" / "sources.md").read_text(encoding="utf-8")))
    there = {path.name for path in PUBLISHED.glob("test_*.py")}
    assert there, "found no module in tests/published"
    assert named == there


def test_each_published_check_says_how_its_source_is_known() -> None:
    """The description of a published check says whether its document was read or is quoted from memory."""
    heads = {
        path.name: ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) for path in PUBLISHED.glob("*.py")
    }
    assert [
        name for name, head in heads.items() if not re.search(r"\b(read|from memory)\b", head or "", re.IGNORECASE)
    ] == []
