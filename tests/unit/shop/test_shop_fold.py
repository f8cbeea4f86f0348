"""The shop stands where its entries put it, and the fold never refuses history."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.ledger import Draft, Entry, seal
from tenthbook.record.shop import SHOP_KINDS, ShopState, fold_shop
from tests.builders import NOON
from tests.unit.shop.desk import FACE_TO_FACE, Desk, opened, public, staffed

EARLIER = "2026-10-02T11:59:59Z"


def told() -> Desk:
    """A shop in which every kind of entry was recorded once at least."""
    desk = staffed()
    desk.record("inspector", "noted", text="look again")
    desk.record("owner", "roles changed", person="mechanic", roles=["mechanic", "inspector"], reason="examined")
    desk.record("mechanic", "head anchored", of_stream="job-1", number=7, head="ab" * 32)
    gone = {"of_stream": "job-1", "entry": 4, "commitment": "cd" * 32, "reason": "asked", "ground": "an act"}
    desk.record("owner", "blob withheld", **gone)
    desk.revoke("inspector", 2, "mechanic", 3)
    desk.record("owner", "person left", person="mechanic", reason="moved")
    return desk


TOLD = told().entries
# What fits nothing before it, for each kind that can: it stands as unknown and changes nothing.
ODD: list[tuple[str, str, dict[str, Any]]] = [
    ("owner", "shop opened", {"stream": "shop", "installation": "b", "name": "Another", "invented": False}),
    ("owner", "person enrolled", {"person": "owner", "roles": ["mechanic"], "details_detached": ""}),
    ("owner", "person enrolled", {"person": "Mechanic", "roles": ["mechanic"], "details_detached": ""}),
    ("owner", "person enrolled", {"person": "helper", "roles": ["king"], "details_detached": ""}),
    ("owner", "person enrolled", {"person": "helper"}),
    ("owner", "roles changed", {"person": "visitor", "roles": ["mechanic"], "reason": "a"}),
    ("owner", "person left", {"person": "mechanic", "reason": "again"}),
    ("owner", "key made", {"person": "inspector", "public_key": public(7)}),
    ("owner", "key made", {"person": "owner", "public_key": public(2)}),
    ("owner", "head anchored", {"of_stream": "job-1", "number": "8", "head": "ab" * 32}),
    ("owner", "shop painted", {"colour": "white"}),
    ("owner", "noted", {}),
]
ODD_SIGNED: list[tuple[str, str, dict[str, str], int]] = [
    ("inspector", "key endorsed", {"person": "owner", "endorsed_key": public(9)}, 2),
    ("inspector", "key endorsed", {"person": "owner", "endorsed_key": public(2)}, 2),
    ("owner", "key endorsed", {"person": "owner", "endorsed_key": public(1)}, 2),
]


def anyhow(desk: Desk, person: str, kind: str, data: dict[str, Any], figure: int = 0, version: int = 1) -> Entry:
    """Write an entry past the forms and the rules."""
    return desk.write(Draft(kind, version, person, "r", "", NOON, data), figure)


def test_every_kind_is_told_of() -> None:
    """The history of these tests leaves no kind out."""
    assert {entry.kind for entry in TOLD} == set(SHOP_KINDS)


def test_the_shop_stands_where_its_entries_put_it() -> None:
    """Number, head, people, keys, anchors, what is withheld and notes are those of the entries."""
    state = fold_shop(TOLD)
    assert (state.number, state.head, state.recorded_at) == (len(TOLD) - 1, TOLD[-1].hash, NOON)
    assert (state.unknown, state.clock_findings) == ([], [])
    assert list(state.people) == ["owner", "mechanic", "inspector"]
    assert state.people["mechanic"].roles == ("mechanic", "inspector")
    assert state.people["mechanic"].left == len(TOLD) - 1
    assert list(state.notes.values()) == ["look again"]
    assert (list(state.anchors), list(state.withheld)) == (["job-1"], ["cd" * 32])
    (key,) = state.keys_of("owner")
    assert (key.public_key, key.self_endorsed, key.revoked) == (public(1), True, None)
    assert [(one.person, one.key, one.says) for one in key.endorsed_by] == [("inspector", public(2), FACE_TO_FACE)]
    assert TOLD[key.made_entry].kind == "key made"


@pytest.mark.parametrize(("person", "kind", "data"), ODD)
def test_what_fits_nothing_is_kept_by_number_and_changes_nothing(person: str, kind: str, data: dict[str, Any]) -> None:
    """History is never refused, nor guessed at."""
    desk = told()
    before = desk.state
    entry = anyhow(desk, person, kind, data)
    after = desk.state
    assert after.unknown == [entry.number]
    assert replace(after, number=before.number, head=before.head, unknown=[]) == before


@pytest.mark.parametrize(("person", "kind", "data", "figure"), ODD_SIGNED)
def test_an_endorsement_that_fits_no_key_changes_nothing(
    person: str, kind: str, data: dict[str, str], figure: int
) -> None:
    """A key nobody made, a key of another, and one's own key by one's own other key."""
    desk = staffed()
    before = desk.state
    entry = anyhow(desk, person, kind, {**data, "says": "known", "key": public(figure)}, figure)
    assert desk.state.unknown == [entry.number]
    assert desk.state.people == before.people


def test_a_key_is_revoked_once() -> None:
    """The first revocation stands, with its reason; a second is kept by number."""
    desk = staffed()
    desk.revoke("mechanic", 3, "mechanic", 3)
    again = {**desk.revocation("mechanic", 3, 1), "reason": "another"}
    entry = anyhow(desk, "owner", "key revoked", again, 1)
    (key,) = desk.state.keys_of("mechanic")
    assert desk.state.unknown == [entry.number]
    assert key.revoked is not None
    assert key.revoked.reason == "tablet lost"


def test_an_endorsement_with_anothers_key_does_not_count() -> None:
    """Whatever was let in: a person vouches with a key of their own."""
    desk = staffed()
    desk.enrol("helper", "mechanic")
    desk.make("helper", 4)
    anyhow(desk, "owner", "key endorsed", desk.endorsement("helper", 4, 2), 2)
    anyhow(desk, "owner", "key endorsed", desk.endorsement("helper", 4, 9), 9)
    assert desk.state.unknown == []
    assert desk.state.standing_of(public(4)) == "not endorsed"


@pytest.mark.parametrize("version", [0, 2])
def test_another_version_is_not_read(version: int) -> None:
    """A version this book does not write waits for one that does."""
    desk = opened()
    entry = anyhow(desk, "owner", "noted", {"text": "a"}, version=version)
    assert (desk.state.unknown, desk.state.notes) == ([entry.number], {})


def test_a_clock_that_ran_backward_is_found_and_kept() -> None:
    """The entry stands in its place, and its number is a finding."""
    desk = opened()
    desk.recorded_at = EARLIER
    desk.record("owner", "noted", text="a")
    desk.record("owner", "noted", text="b")
    assert (desk.state.clock_findings, desk.state.recorded_at) == ([2], EARLIER)
    assert list(desk.state.notes) == [2, 3]


def test_folding_nothing_gives_the_state_back() -> None:
    """An empty stream is an empty shop; nothing more leaves a shop as it was."""
    assert fold_shop([]) == ShopState()
    state = fold_shop(TOLD)
    assert fold_shop([], state) is state


def test_a_state_that_was_handed_out_stays() -> None:
    """Going on from a state makes another one."""
    state = fold_shop(TOLD[:8])
    kept = repr(state)
    fold_shop(TOLD[8:], state)
    assert repr(state) == kept


acts = st.lists(st.sampled_from([(entry.draft, entry.recorded_at) for entry in TOLD]), max_size=12)


@settings(max_examples=60, deadline=None)
@given(cut=st.integers(0, len(TOLD)), acts=acts, late=st.booleans())
def test_in_two_pieces_is_as_at_once(cut: int, acts: list[tuple[Draft, str]], late: bool) -> None:
    """Wherever the stream is cut, and whatever of it comes again in any order."""
    entries = list(TOLD)
    for draft, recorded_at in acts:
        if draft.kind not in ("key endorsed", "key revoked"):
            entries.append(seal(draft, len(entries), EARLIER if late else recorded_at, entries[-1].hash))
    assert fold_shop(entries[cut:], fold_shop(entries[:cut])) == fold_shop(entries)
