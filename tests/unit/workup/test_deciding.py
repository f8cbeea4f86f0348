"""A disposition is held against every verdict: the worst one rules."""

from __future__ import annotations

from typing import Any

import pytest

from tests.builders import Workplace
from tests.told import book_of, script

DUNLIN = book_of(script())
COVERS = ("access.cowling", "access.magnetos", "access.accessory-housing", "access.pump-cover")


@pytest.fixture
def place() -> Workplace:
    """Body P-0001-3 and driving gear P-0002-1 as the demonstration found them: the fit of the two is beyond."""
    place = Workplace().open(DUNLIN)
    for cover in COVERS:
        place.record("cover removed", {"cover": cover})
    body, gear = place.remove("part.pump-body"), place.remove("part.driving-gear")
    for tag, row, value in (
        (body, "size.body-bore", "1.40505 in"),
        (body, "size.body-depth", "0.5063 in"),
        (gear, "size.gear-diameter", "1.3984 in"),
        (gear, "size.gear-width", "0.4966 in"),
    ):
        place.read(tag, row, value)
    place.record("cleaned", {"tag": body, "inspection": "inspection.pump-body-clean", "process": "solvent"})
    look = {"tag": body, "inspection": "inspection.pump-body-look", "result": "nothing found", "says": "by eye"}
    place.record("inspected", look)
    return place


def decided(tag: str, word: str, **more: Any) -> dict[str, Any]:
    """A disposition."""
    return {"tag": tag, "disposition": word, "reason": "measured", **more}


def test_a_fit_beyond_is_settled_at_one_of_its_parts(place: Workplace) -> None:
    """Neither stays while the other is not decided; with the gear replaced the body may stay."""
    assert place.refused("disposed", decided("P-0001-3", "in service limits")) == ["decide.fit-settled"]
    place.record("disposed", decided("P-0002-1", "replace"))
    assert place.refused("disposed", decided("P-0001-3", "in new limits")) == ["decide.worst-verdict"]
    place.record("disposed", decided("P-0001-3", "in service limits"))


def test_a_size_beyond_its_own_limit_is_not_saved_by_its_fit() -> None:
    """The fit of shaft and bush passes; the shaft fails, and no word keeps it."""
    place = Workplace().open(DUNLIN)
    for cover in COVERS:
        place.record("cover removed", {"cover": cover})
    shaft, bush = place.remove("part.pump-shaft"), place.remove("part.pump-bush")
    place.read(shaft, "size.shaft", "0.5094 in")
    place.read(bush, "size.bush", "0.5130 in")
    assert place.refused("disposed", decided(shaft, "in service limits")) == ["decide.worst-verdict"]
    assert place.refused("disposed", decided(shaft, "in new limits")) == ["decide.worst-verdict"]
    assert place.refused("disposed", decided(shaft, "repair")) == ["disposed.procedure"]
    place.record("disposed", decided(shaft, "replace"))


def test_an_undecided_size_waits(place: Workplace) -> None:
    """Within by less than the gauge's guard, a part is not put in limits; with the better gauge it is."""
    place.record("disposed", decided("P-0002-1", "replace"))
    place.set_gauge("T1", "0.0004 in", "bore")
    place.read("P-0001-3", "size.body-bore", "1.4052 in", "T1")
    assert place.refused("disposed", decided("P-0001-3", "in service limits")) == ["decide.worst-verdict"]
    place.set_gauge("B2", "0.00012 in", "bore")
    place.read("P-0001-3", "size.body-bore", "1.4051 in", "B2")
    place.record("disposed", decided("P-0001-3", "in service limits"))


def test_a_part_without_all_its_sizes_waits() -> None:
    """A feature that the book limits and nobody measured keeps a part out of limits."""
    place = Workplace().open(DUNLIN)
    for cover in COVERS:
        place.record("cover removed", {"cover": cover})
    gear = place.remove("part.driving-gear")
    place.read(gear, "size.gear-diameter", "1.3985 in")
    assert place.refused("disposed", decided(gear, "in new limits")) == ["decide.measured"]


def test_a_feel_is_judged_by_a_look_and_does_not_wait_for_a_figure() -> None:
    """The gear track under a straight-edge has a ribbon, not a size; the cover's bore and flatness are measured."""
    place = Workplace().open(DUNLIN)
    for cover in COVERS:
        place.record("cover removed", {"cover": cover})
    cover = place.remove("part.pump-cover")
    place.read(cover, "size.cover-bore", "0.4980 in")
    assert place.refused("disposed", decided(cover, "in new limits")) == ["decide.measured"]
    place.read(cover, "size.cover-flatness", "0.0004 in")
    place.record("disposed", decided(cover, "in new limits"))


def test_the_answer_of_the_data_holder_releases_a_size_without_a_limit() -> None:
    """No limit is not nought, and not a pass: the part is held until somebody who may say so has answered."""
    place = Workplace().open()
    housing = place.remove("part.housing")
    place.read(housing, "size.bore", "0.5140 in")
    assert place.refused("disposed", decided(housing, "in service limits")) == ["decide.worst-verdict"]
    place.record("disposed", decided(housing, "hold"))
    place.record("disposed", decided(housing, "in service limits", procedure="answer 12 of the data holder"))
