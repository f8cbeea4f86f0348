"""Covers off and on, parts under their tags, cleaning before looking, looking before judging, away and back."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.numbers.because import Refused
from tenthbook.record.job.looks import covers_off, looks_due
from tests.builders import NOON, PARTS_CSV, STREAM, Workplace, small_book

ACCESS = """id,name,behind,part,hours,disturbs,counts_as,page
access.housing,accessory housing,,,,,,3-1
access.pump,pump cover,access.housing,part.cover,,,case split,3-1
"""
INSPECTIONS = """id,part,what,method,looks_for,when,demagnetise,page
inspection.shaft-clean,part.shaft,clean,solvent,,,,2-9
inspection.shaft-look,part.shaft,look,by eye,,removal,,2-9
inspection.shaft-crack,part.shaft,crack test,magnetic particle,,overhaul; propeller strike,yes,2-9
inspection.cover-look,part.cover,look,by eye,,case split,,2-9
"""
PARTS = "\n".join(
    f"{line},{'behind' if number == 0 else 'access.pump' if line.startswith('part.shaft') else ''}"
    for number, line in enumerate(PARTS_CSV.splitlines())
)
SHAFT = "P-0001-3"
TEST = {
    "tag": SHAFT,
    "inspection": "inspection.shaft-crack",
    "method": "magnetic particle",
    "procedure": "P-7, revision 2",
    "operator": "a tester",
    "level": "2",
    "equipment": "bench 4, due 2027-01-31",
    "result": "no indication",
    "residual": "0.3 on the field indicator",
    "cleaned_after": "yes",
}
CLEAN = {"tag": SHAFT, "inspection": "inspection.shaft-clean", "process": "solvent and brush"}
LOOK = {"tag": SHAFT, "inspection": "inspection.shaft-look", "result": "nothing found", "says": "by eye, good light"}
SERVICE = {"tag": SHAFT, "disposition": "in service limits", "reason": "measured"}
STRIKE = {"event": "propeller strike", "answer": "yes", "says": "the owner's word"}
SCOPE = {
    "work": "repair",
    "standard": "to service limits",
    "manual": "m",
    "revision": "1",
    "checked_current": "asked",
    "agreed_with": "the owner",
}


@pytest.fixture
def place() -> Workplace:
    """A job whose book knows covers and inspections; both covers off, the shaft on the bench (4)."""
    place = Workplace().open(small_book(access=ACCESS, inspections=INSPECTIONS, parts=PARTS))
    for cover in ("access.housing", "access.pump"):
        place.record("cover removed", {"cover": cover})
    place.remove("part.shaft")
    return place


def open_looks(place: Workplace, part: str = "part.shaft", of: str = SHAFT) -> list[str]:
    """Inspections that are due and not closed."""
    book = place.bench.book(STREAM)
    return [one.row.id for one in looks_due(place.state, book, part, of) if one.closed_by < 0]


def test_covers_come_off_in_their_order_and_go_back_in_turn() -> None:
    """What is behind another comes off after it and goes back before it; a cover is on or off, not both."""
    place = Workplace().open(small_book(access=ACCESS, parts=PARTS))
    assert place.refused("cover removed", {"cover": "access.roof"}) == ["cover.in-book"]
    assert place.refused("cover removed", {"cover": "access.pump"}) == ["cover.order"]
    assert place.refused("cover closed", {"cover": "access.housing"}) == ["cover.on-or-off"]
    for cover in ("access.housing", "access.pump"):
        place.record("cover removed", {"cover": cover})
    assert list(covers_off(place.state)) == ["access.housing", "access.pump"]
    assert place.refused("cover removed", {"cover": "access.pump"}) == ["cover.on-or-off"]
    assert place.refused("cover closed", {"cover": "access.housing"}) == ["cover.order"]


def test_a_part_behind_a_cover_is_removed_after_it() -> None:
    """The book knows that the shaft cannot be reached; a part with no cover before it can."""
    place = Workplace().open(small_book(access=ACCESS, parts=PARTS))
    assert place.refused("part removed", {"part": "part.shaft"}) == ["part.reached"]
    assert place.remove("part.housing") == "P-0001-3"


def test_a_mate_has_a_tag_of_its_own(place: Workplace) -> None:
    """What a part runs with is named by the tag of a part on the bench."""
    assert place.refused("part removed", {"part": "part.plug", "mated_with": "P-0009-9"}) == ["part.mate-tagged"]
    entry = place.record("part removed", {"part": "part.plug", "mated_with": SHAFT, "bin": "shelf 2"})
    assert place.state.parts[entry.data["tag"]].mated_with == SHAFT


def test_a_part_is_cleaned_then_looked_at_then_judged(place: Workplace) -> None:
    """Each in turn is refused before the one before it; then the part may be serviceable."""
    assert open_looks(place) == ["inspection.shaft-clean", "inspection.shaft-look"]
    assert place.refused("inspected", LOOK) == ["look.cleaned-first"]
    place.record("cleaned", CLEAN)
    assert place.refused("disposed", SERVICE) == ["disposed.look-first"]
    place.record("disposed", {**SERVICE, "disposition": "hold"})
    place.record("inspected", LOOK)
    assert place.refused("disposed", SERVICE) == ["decide.measured"]
    place.read(SHAFT, "size.shaft", "0.5110 in")
    place.record("disposed", SERVICE)


def test_an_event_makes_a_crack_test_due(place: Workplace) -> None:
    """After a strike the test is open until it is recorded whole: residual field read, cleaned of its fluids."""
    place.record("cleaned", CLEAN)
    place.record("inspected", LOOK)
    place.record("event answered", STRIKE)
    assert open_looks(place) == ["inspection.shaft-crack"]
    assert place.refused("disposed", SERVICE) == ["disposed.look-first"]
    assert place.refused("crack-tested", {**TEST, "residual": " "}) == ["crack.demagnetised"]
    assert place.refused("crack-tested", {**TEST, "cleaned_after": "no"}) == ["crack.cleaned-after"]
    assert place.refused("crack-tested", {**TEST, "result": "indication"}) == ["look.found-told"]
    tested = place.record("crack-tested", TEST)
    assert open_looks(place) == []
    place.record("withdrawn", {"entry": tested.number, "reason": "the wrong shaft"})
    assert open_looks(place) == ["inspection.shaft-crack"]


def test_an_overhaul_and_a_cover_make_looks_due(place: Workplace) -> None:
    """An overhaul asks for the crack test; a cover that counts as a case split asks for the look at the cover."""
    place.record("scope agreed", {**SCOPE, "work": "overhaul"})
    assert "inspection.shaft-crack" in open_looks(place)
    assert open_looks(place, "part.cover", "part.cover") == ["inspection.cover-look"]


@pytest.mark.parametrize(
    ("kind", "data", "rules"),
    [
        ("cleaned", {**CLEAN, "inspection": "inspection.cover-look"}, ["look.of-part"]),
        ("cleaned", {**CLEAN, "inspection": "inspection.shaft-look"}, ["look.of-part"]),
        ("cleaned", {**CLEAN, "inspection": "inspection.none"}, ["look.of-part"]),
        ("cleaned", {**CLEAN, "plugs_out": 2, "plugs_in": 3}, ["cleaned.plugs"]),
        ("cleaned", {**CLEAN, "tag": "P-0009-9"}, ["reading.part-on-bench", "look.of-part"]),
        ("inspected", {**LOOK, "part": "part.shaft"}, ["part.tag-or-id", "look.cleaned-first"]),
        ("inspected", {**LOOK, "tag": "", "part": "part.roof"}, ["part.in-book", "look.of-part"]),
        ("finding seen", {"tag": "P-0009-9", "term": "crack", "place": "x"}, ["reading.part-on-bench"]),
        ("sent out", {"tag": "P-0009-9", "to": "x", "work": "y"}, ["reading.part-on-bench"]),
        (
            "photographed",
            {"says": "x", "row": "size.nothing", "photograph_detached": "a" * 64, "media_type": "image/jpeg"},
            ["photographed.row-in-book"],
        ),
        ("counted", {"cover": "access.roof", "what": "wipes", "went_out": 1, "came_back": 1}, ["cover.in-book"] * 1),
        ("disposed", {**SERVICE, "part": "part.shaft"}, ["part.tag-or-id", "disposed.look-first"]),
        ("disposed", {**SERVICE, "disposition": "not disturbed"}, ["disposed.in-place"]),
        (
            "disposed",
            {"part": "part.plug", "disposition": "in service limits", "reason": "x"},
            ["disposed.in-place"],
        ),
    ],
)
def test_what_does_not_belong_together_is_refused(
    place: Workplace, kind: str, data: dict[str, Any], rules: list[str]
) -> None:
    """Another part's inspection, a part that is not there, more plugs in than out, a word that does not fit."""
    refused = place.refused(kind, data)
    assert refused[: len(rules)] == rules


def test_a_part_left_in_place_is_disposed_of_by_its_id(place: Workplace) -> None:
    """Looked at in place once its look is closed; not disturbed where nothing is asked of it."""
    in_place = {"part": "part.cover", "disposition": "looked at in place", "reason": "no marks"}
    assert place.refused("disposed", in_place) == ["disposed.look-first"]
    look = {"part": "part.cover", "inspection": "inspection.cover-look", "result": "nothing found", "says": "by eye"}
    place.record("inspected", look)
    place.record("disposed", in_place)
    place.record("disposed", {"part": "part.plug", "disposition": "not disturbed", "reason": "behind the cover"})
    assert {of: one.word for of, one in place.state.dispositions.items()} == {
        "part.cover": "looked at in place",
        "part.plug": "not disturbed",
    }


def test_a_part_that_is_away_is_not_measured_and_is_measured_anew(place: Workplace) -> None:
    """While it is out it is not read; once back, what was read and looked at before counts no more."""
    place.read(SHAFT, "size.shaft", "0.5110 in")
    place.record("cleaned", CLEAN)
    sent = place.record("sent out", {"tag": SHAFT, "to": "a grinder", "work": "plate and grind"})
    assert place.refused("sent out", {"tag": SHAFT, "to": "x", "work": "y"}) == ["part.here"]
    with pytest.raises(Refused, match=r"P-0001-3, sent to a grinder.*part\.here"):
        place.read(SHAFT, "size.shaft", "0.5111 in")
    assert place.refused("returned", {"entry": 2, "document": "none"}) == ["entry.answered-once"]
    place.record("returned", {"entry": sent.number, "document": "release form 17"})
    assert place.state.standing(SHAFT, "size.shaft") == []
    assert open_looks(place)[0] == "inspection.shaft-clean"
    place.read(SHAFT, "size.shaft", "0.5112 in")
    assert [str(one.value) for one in place.state.standing(SHAFT, "size.shaft")] == ["0.5112 in"]
    assert place.refused("returned", {"entry": sent.number, "document": "none"}) == ["entry.answered-once"]


def test_a_part_that_came_back_is_judged_anew(place: Workplace) -> None:
    """What was decided of it before it went turns doubted; what was decided of another part does not."""
    other = place.remove("part.plug")
    held = {"disposition": "hold", "reason": "asked"}
    decided = place.record("disposed", {"tag": SHAFT, **held})
    place.record("disposed", {"tag": other, **held})
    sent = place.record("sent out", {"tag": SHAFT, "to": "a grinder", "work": "plate and grind"})
    back = place.record("returned", {"entry": sent.number, "document": "release form 17"})
    assert place.state.doubted == {decided.number: (back.number,)}


@pytest.mark.parametrize("word", ["scrap", "replace", "mandatory replace"])
def test_a_scrapped_part_is_not_read(place: Workplace, word: str) -> None:
    """Scrapped or replaced, it is measured no more, until the disposition is withdrawn."""
    entry = place.record("disposed", {"tag": SHAFT, "disposition": word, "reason": "worn"})
    with pytest.raises(Refused, match=r"part\.not-scrapped"):
        place.read(SHAFT, "size.shaft", "0.5110 in")
    place.record("withdrawn", {"entry": entry.number, "reason": "the wrong tag"})
    place.read(SHAFT, "size.shaft", "0.5110 in")


def test_a_finding_withdrawn_puts_what_rests_on_it_in_doubt(place: Workplace) -> None:
    """A disposition that names a finding turns doubted when the finding is taken back."""
    found = place.record("finding seen", {"tag": SHAFT, "term": "step", "place": "slot"})
    data = {"tag": SHAFT, "disposition": "hold", "reason": "step", "rests_on": [found.number]}
    decided = place.record("disposed", data)
    by = place.record("withdrawn", {"entry": found.number, "reason": "dirt"})
    assert place.state.doubted == {decided.number: (by.number,)}


def test_a_part_removed_in_the_first_version_is_lifted() -> None:
    """What was recorded before mates and bins were is read as if they had been left out."""
    place = Workplace().open()
    tag = place.remove("part.shaft", position="rear")
    (entry,) = [one for one in place.state.entries if one.kind == "part removed"]
    assert entry.draft.version == 2
    assert place.state.parts[tag].position == "rear"
    assert entry.draft.acted_at == NOON
