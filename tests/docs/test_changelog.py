"""Does the changelog open with the version that the program says it is?"""

from __future__ import annotations

import re

import tenthbook
from tests.docs.tree import ROOT


def test_the_changelog_opens_with_this_version() -> None:
    """The first heading that holds a version number holds this one."""
    text = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    versions = re.findall(r"^## .*?(\d+\.\d+\.\d+)", text, re.MULTILINE)
    assert versions[:1] == [tenthbook.__version__]
