"""What is forced and what is suspect: the mandatory list, single use, sets, worn pairs, cracks, lives, hazards.

Facts of the trade asserted here, common practice, no source: pump gears and their drive shaft come only as a set; wear
shows on the shaft where the gear drives it; a shaft below its limit condemns the set, puts the bush and the slot under
suspicion, and not the idler shaft.
"""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.record.workup.consequences import Consequence
from tests.builders import PARTS_CSV, SIZES_CSV, Workplace, small_book
from tests.told import book_of, script

DUNLIN = book_of(script())
COVERS = ("access.cowling", "access.magnetos", "access.accessory-housing", "access.pump-cover")


def column(name: str, **cells: str) -> str:
    """The parts of the small book with one more column."""
    lines = PARTS_CSV.splitlines()
    added = [f"{lines[0]},{name}"] + [f"{line},{cells.get(line.split(',')[0][5:], '')}" for line in lines[1:]]
    return "\n".join(added) + "\n"


def place_with(**changed: str) -> Workplace:
    """A job by a small book with something changed, its shaft on the bench as P-0001-3."""
    place = Workplace().open(small_book(**changed))
    place.remove("part.shaft")
    return place


def told(place: Workplace, rule: str) -> dict[str, Consequence]:
    """The consequences of one rule by part."""
    return {one.of: one for one in place.work_up().consequences if one.because.rule == rule}


def pump(shaft: str = "0.5094 in") -> tuple[Workplace, dict[str, str]]:
    """The demonstration's pump, its shaft, gear, bush and body on the bench, the shaft measured."""
    place = Workplace().open(DUNLIN)
    for cover in COVERS:
        place.record("cover removed", {"cover": cover})
    parts = ("part.pump-shaft", "part.driving-gear", "part.pump-bush", "part.pump-body", "part.idler-shaft")
    tags = {part: place.remove(part) for part in parts}
    place.read(tags["part.pump-shaft"], "size.shaft", shaft)
    return place, tags


def test_a_shaft_below_its_limit_condemns_the_set() -> None:
    """Both gears go with it, the one on the bench by its tag, the other by its id; the set says so on its page."""
    place, tags = pump()
    found = told(place, "decide.set")
    assert set(found) == {tags["part.driving-gear"], "part.driven-gear"}
    one = found["part.driven-gear"]
    assert one.words == ("replace", "mandatory replace", "scrap")
    assert [row.page for row in one.because.rows][:2] == ["4-11", "4-11"]
    assert one.because.arithmetic == (f"{tags['part.pump-shaft']} diameter at the bush 0.5094: beyond",)


def test_a_shaft_below_its_limit_suspects_bush_gear_and_slot_and_not_the_idler_shaft() -> None:
    """What it ran in, what drove it, and its own slot are to be measured; the idler shaft ran elsewhere."""
    place, tags = pump()
    found = told(place, "suspect.worn-pair")
    assert set(found) == {tags[part] for part in ("part.pump-shaft", "part.driving-gear", "part.pump-bush")}
    assert "step in the drive slot (no limit in the book)" in found[tags["part.pump-shaft"]].says
    place.read(tags["part.pump-bush"], "size.bush", "0.5130 in")
    assert tags["part.pump-bush"] not in told(place, "suspect.worn-pair")


def test_a_shaft_within_its_limits_condemns_nothing() -> None:
    """At its least size it is within, and nothing is forced or suspect."""
    place, _ = pump("0.5098 in")
    assert place.work_up().consequences == ()


@pytest.mark.parametrize(("word", "condemns"), [("replace", True), ("scrap", True), ("hold", False), ("repair", False)])
def test_a_set_goes_with_what_goes(word: str, condemns: bool) -> None:
    """Once somebody decides to mend or to hold the shaft, the set stays; once it goes, the set goes."""
    place, tags = pump()
    told_of_it = {"tag": tags["part.pump-shaft"], "reason": "worn", "procedure": "plate and grind"}
    place.record("disposed", {**told_of_it, "disposition": word})
    assert bool(told(place, "decide.set")) is condemns


def test_a_part_on_the_mandatory_list_goes_once_its_condition_holds() -> None:
    """On removal at once; at overhaul when the scope says so."""
    place = place_with(parts=column("mandatory_when", shaft="removal", plug="overhaul"))
    assert set(told(place, "decide.mandatory")) == {"P-0001-3"}
    plug = place.remove("part.plug")
    assert plug not in told(place, "decide.mandatory")
    scope = {"work": "overhaul", "standard": "to new limits", "manual": "m", "revision": "1"}
    entry = place.record("scope agreed", {**scope, "checked_current": "asked", "agreed_with": "the owner"})
    assert told(place, "decide.mandatory")[plug].because.entries == (entry.number,)


def test_a_part_for_a_single_use_is_never_fitted_twice() -> None:
    """It goes whatever it measures, and a word that keeps it is refused."""
    place = place_with(parts=column("single_use", shaft="yes"))
    place.read("P-0001-3", "size.shaft", "0.5110 in")
    assert set(told(place, "decide.single-use")) == {"P-0001-3"}
    keep = {"tag": "P-0001-3", "disposition": "in new limits", "reason": "measured"}
    assert place.refused("disposed", keep) == ["decide.single-use"]
    place.record("disposed", {**keep, "disposition": "mandatory replace"})


@pytest.mark.parametrize(
    ("total", "since", "rule"),
    [
        ("1999.9 h", "", None),
        ("2000 h", "", "decide.life-limit"),
        ("2500 h", "1999.9 h", None),
        ("2500 h", "2000 h", "decide.life-limit"),
        ("", "", "suspect.life-not-known"),
    ],
)
def test_a_life_limit_is_held_against_the_times(total: str, since: str, rule: str | None) -> None:
    """At the limit it is over; since overhaul counts where it is known; without times they are asked for."""
    place = place_with(parts=column("life_limit", shaft="2000 h"))
    if total:
        times = {"of": "engine", "total": total, "since_overhaul": since, "read_from": "the log"}
        place.record("times stated", times)
    assert [one.because.rule for one in place.work_up().consequences] == ([rule] if rule else [])


def test_an_indication_holds_the_part_until_a_test_shows_nothing() -> None:
    """Neither measuring nor words put a cracked part back; a second test of the same kind that shows nothing does."""
    place = place_with()
    place.read("P-0001-3", "size.shaft", "0.5110 in")
    test: dict[str, Any] = {
        "tag": "P-0001-3",
        "method": "dye penetrant",
        "procedure": "P-7",
        "operator": "a tester",
        "level": "2",
        "equipment": "kit 4",
        "cleaned_after": "yes",
    }
    entry = place.record("crack-tested", {**test, "result": "indication", "says": "line of 3 mm at the shoulder"})
    assert told(place, "decide.indication")["P-0001-3"].because.entries == (entry.number,)
    keep = {"tag": "P-0001-3", "disposition": "in new limits", "reason": "measured"}
    assert place.refused("disposed", keep) == ["decide.indication"]
    place.record("disposed", {**keep, "disposition": "hold"})
    place.record("crack-tested", {**test, "result": "no indication"})
    place.record("disposed", keep)


def test_what_the_book_names_with_a_part_is_looked_at_when_it_goes() -> None:
    """Until it was looked at, measured or disposed of."""
    place = place_with(parts=column("then_also", shaft="part.housing; part.plug"))
    place.record("disposed", {"tag": "P-0001-3", "disposition": "replace", "reason": "worn"})
    assert set(told(place, "suspect.then-also")) == {"part.housing", "part.plug"}
    place.record("disposed", {"part": "part.plug", "disposition": "not disturbed", "reason": "far from it"})
    housing = place.remove("part.housing")
    assert set(told(place, "suspect.then-also")) == {housing}
    place.read(housing, "size.bore", "0.5130 in")
    assert told(place, "suspect.then-also") == {}


def test_a_part_with_a_hazard_is_not_opened_to_spoil_it() -> None:
    """A sodium-filled stem that is scrapped carries its caution; one that stays does not."""
    place = place_with(parts=column("hazards", shaft="sodium"))
    assert told(place, "caution.scrapping") == {}
    place.record("disposed", {"tag": "P-0001-3", "disposition": "scrap", "reason": "worn"})
    assert "never cut or drilled" in told(place, "caution.scrapping")["P-0001-3"].says


def test_new_limits_in_the_scope_refuse_a_part_in_service_limits() -> None:
    """What may stay for a repair does not do for a job to new limits."""
    place = place_with(sizes=SIZES_CSV)
    place.read("P-0001-3", "size.shaft", "0.5100 in")
    scope = {"work": "overhaul", "standard": "to new limits", "manual": "m", "revision": "1"}
    place.record("scope agreed", {**scope, "checked_current": "asked", "agreed_with": "the owner"})
    keep = {"tag": "P-0001-3", "disposition": "in service limits", "reason": "measured"}
    assert place.refused("disposed", keep) == ["decide.new-standard"]
