"""A cover closed over open work, by somebody who signs for what was shown; never a release."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import Refused, WrongInput
from tenthbook.record.bench.overriding import override_gate, show_gate
from tenthbook.record.bench.signing import record_words
from tenthbook.record.ledger import public_key_of, signature_holds
from tests.builders import STREAM, Workplace
from tests.signing import SECRETS, enrol, opened
from tests.told import book_of, script

GATE = "cover:access.pump-cover"


@pytest.fixture
def place() -> Workplace:
    """A shop with a mechanic and an inspector; the demonstration's engine, pump cover off, the shaft tagged."""
    place = Workplace().open(book_of(script()))
    enrol(place, "mechanic", "inspector")
    for cover in ("access.cowling", "access.magnetos", "access.accessory-housing", "access.pump-cover"):
        place.record("cover removed", {"cover": cover})
    place.remove("part.pump-shaft")
    return place


def overridden(place: Workplace, shown: str, gate: str = GATE, request: str = "") -> str:
    """Override as the mechanic; the entry's hash."""
    key = opened("mechanic")
    return override_gate(place.bench, STREAM, gate, shown, "to ship it", key, place.act(request)).hash


def test_a_cover_closes_over_open_work_only_when_somebody_signed_for_it(place: Workplace) -> None:
    """Refused first; then what was open is signed for, and the cover closes; the list stays in sight."""
    assert place.refused("cover closed", {"cover": "access.pump-cover"}) == ["cover.settled"]
    shown = show_gate(place.bench, STREAM, GATE)
    assert shown.lines
    overridden(place, shown.digest)
    entry = place.state.entries[-1]
    assert tuple(entry.data["opens"]) == shown.lines
    assert signature_holds(public_key_of(SECRETS["mechanic"]), entry.body, entry.signature)
    assert show_gate(place.bench, STREAM, GATE).gate.overridden_by == entry.number
    place.record("cover closed", {"cover": "access.pump-cover"})
    (told,) = record_words(place.bench, STREAM).signatures
    assert told.startswith(f"entry {entry.number}: mechanic overrode {GATE}, to ship it; open then: ")
    release = show_gate(place.bench, STREAM, "release")
    assert any("pump" in line for line in release.lines), "what stayed open stands before the release"


def test_what_was_shown_is_what_is_overridden(place: Workplace) -> None:
    """One act more in the job, and the gate is looked at again first."""
    shown = show_gate(place.bench, STREAM, GATE).digest
    place.record("noted", {"text": "meanwhile"}, person="inspector")
    with pytest.raises(Refused, match=r"gate\.as-shown"):
        overridden(place, shown)


def test_a_release_is_never_overridden(place: Workplace) -> None:
    """Not with every line shown and a key at hand."""
    shown = show_gate(place.bench, STREAM, "release").digest
    with pytest.raises(Refused, match=r"gate\.never-release"):
        overridden(place, shown, "release")


def test_a_gate_that_is_not_there_is_named(place: Workplace) -> None:
    """A cover that is on has no gate."""
    with pytest.raises(WrongInput, match=r"access\.roof"):
        show_gate(place.bench, STREAM, "cover:access.roof")


def test_sent_twice_it_is_one_override(place: Workplace) -> None:
    """The doubled request gives the entry it became."""
    shown = show_gate(place.bench, STREAM, GATE).digest
    assert overridden(place, shown, request="once") == overridden(place, shown, request="once")
    assert len(place.state.acts_that_count("gate overridden")) == 1


def test_an_override_with_nothing_open_is_none() -> None:
    """Where nothing is in its way, the cover simply closes."""
    place = Workplace().open()
    enrol(place, "mechanic")
    with pytest.raises(WrongInput):
        show_gate(place.bench, STREAM, GATE)
