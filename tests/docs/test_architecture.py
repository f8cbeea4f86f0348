"""Does ARCHITECTURE.md draw the rooms that exist, and do the import rules name every one?

The picture is the first fenced block. On its lines the names of rooms stand before a colon and what they do after it,
as in `|  cli  web:  parse, call one function, show  |`. A line without a colon names no room.
"""

from __future__ import annotations

import re
import tomllib

from tests.docs.tree import ROOT, rooms

LONGEST = 150  # lines: what one reads at one sitting


def drawn_rooms(text: str) -> list[str]:
    """Read the names of the rooms out of the picture.

    Args:
        text: The document.

    Returns:
        Names in the order of the picture, repeated as often as they stand there.
    """
    picture = re.search(r"^```[^\n]*\n(.*?)^```", text, re.DOTALL | re.MULTILINE)
    assert picture, "found no fenced block; expected the picture of the rooms"
    names: list[str] = []
    for line in picture.group(1).splitlines():
        before, colon, _ = line.partition(":")
        if colon:
            names += re.findall(r"[a-z_]+", before)
    return names


def test_the_picture_shows_the_rooms_that_exist() -> None:
    """Each room is drawn once, and nothing is drawn that is not there."""
    drawn = drawn_rooms((ROOT / "ARCHITECTURE.md").read_text(encoding="utf-8"))
    assert sorted(drawn) == sorted(rooms())


def test_the_description_is_short() -> None:
    """ARCHITECTURE.md has at most 150 lines."""
    assert len((ROOT / "ARCHITECTURE.md").read_text(encoding="utf-8").splitlines()) <= LONGEST


def test_the_import_rules_name_every_room() -> None:
    """A room that no layer names would be free to import outwards; the rooms of the trade are one layer."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    [rings] = [rule for rule in settings["tool"]["importlinter"]["contracts"] if rule["id"] == "rings"]
    named = set(re.findall(r"tenthbook\.(\w+\.\w+)", " ".join(rings["layers"])))
    assert {f"{ring}.{room}" for room, ring in rooms().items() if ring != "trade"} - named == set()


def test_names_are_read_before_the_colon_only() -> None:
    """Words of explanation and the lines of the frame are no rooms."""
    text = "# House\n\n```\n+-----+\n|  cli  web:  parse and show: both |\n|  imports point inward   |\n```\n"
    assert drawn_rooms(text) == ["cli", "web"]
