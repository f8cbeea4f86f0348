"""Work put down and taken up, handed over and received."""

from __future__ import annotations

import pytest

from tests.builders import Workplace

OTHER = "inspector"
GIVEN = {
    "to": OTHER,
    "stands": "pump body open, bores measured",
    "unfinished": "none",
    "open_ports": "gallery, capped",
    "parts_out": "none",
    "warnings": "shaft cracked? not looked at yet",
}


@pytest.fixture
def place() -> Workplace:
    """A job with one part on the bench."""
    place = Workplace().open()
    place.remove("part.shaft")
    return place


def test_put_down_and_taken_up(place: Workplace) -> None:
    """How it was left stands in the job until somebody takes it up, once."""
    left = place.record("put down", {"stands": "nut 1 final, nuts 2 to 4 untouched"})
    laid = place.state.laid_down
    assert laid is not None
    assert (laid.entry, laid.told["stands"], laid.ended) == (left.number, "nut 1 final, nuts 2 to 4 untouched", -1)
    taken = place.record("taken up", {"entry": left.number, "says": "as left"}, person=OTHER)
    assert place.state.laid_down is not None
    assert place.state.laid_down.ended == taken.number
    assert place.refused("taken up", {"entry": left.number}) == ["handed.open"]


def test_handed_over_and_received_by_whom_it_was_handed_to(place: Workplace) -> None:
    """Neither the giver nor a third person receives it; the one named does, in whatever spelling of the id."""
    given = place.record("handed over", GIVEN)
    receipt = {"entry": given.number, "says": "looked at the open gallery together"}
    assert place.refused("hand-over received", receipt) == ["handed.to-another"]
    assert place.refused("hand-over received", receipt, person="apprentice") == ["handed.to-another"]
    assert place.refused("taken up", {"entry": given.number}, person=OTHER) == ["handed.open"]
    place.record("hand-over received", receipt, person=" Inspector")
    assert place.state.laid_down is not None
    assert place.state.laid_down.ended == given.number + 1


def test_nobody_hands_over_to_themselves(place: Workplace) -> None:
    """Alone, work is put down, not handed over."""
    assert place.refused("handed over", {**GIVEN, "to": "Mechanic "}) == ["handed.to-another"]


def test_nothing_is_received_that_was_not_handed_over(place: Workplace) -> None:
    """A receipt names the hand-over that is open."""
    assert place.refused("hand-over received", {"entry": 2, "says": "x"}, person=OTHER) == ["handed.open"]


@pytest.mark.parametrize("field", ["stands", "unfinished", "open_ports", "parts_out", "warnings"])
def test_a_hand_over_says_everything(place: Workplace, field: str) -> None:
    """What is none is said as none; an empty field is a fault."""
    with pytest.raises(Exception, match=field):
        place.record("handed over", {**GIVEN, field: ""})
