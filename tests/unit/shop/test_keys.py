"""Who vouches for a key, how it stands, and whose signature counts."""

from __future__ import annotations

import pytest

from tenthbook.record.ledger import BadEntry, Draft, fingerprint
from tenthbook.record.shop import ShopState, admit_shop, refuse_signature
from tests.builders import NOON
from tests.unit.shop.desk import Desk, opened, public, staffed

LATER = "2026-10-02T18:00:00Z"


def printed(figure: int) -> str:
    """The fingerprint of a key."""
    return fingerprint(bytes.fromhex(public(figure)))


def live(desk: Desk, person: str) -> str:
    """The public key a person signs with; empty without one."""
    key = desk.state.live_key(person)
    return key.public_key if key is not None else ""


def test_a_key_counts_once_a_second_person_vouched_for_it() -> None:
    """Made is not endorsed; another person with another key endorses."""
    desk = opened()
    desk.make("owner", 1)
    assert (desk.state.standing_of(public(1)), live(desk, "owner")) == ("not endorsed", "")
    desk.endorse("owner", 1, "owner", 1)
    assert (desk.state.standing_of(public(1)), live(desk, "owner")) == ("first key, endorsed by itself", public(1))
    desk.enrol("mechanic", "mechanic")
    desk.make("mechanic", 3)
    assert desk.state.live_key("mechanic") is None
    desk.endorse("owner", 1, "mechanic", 3)
    assert (desk.state.standing_of(public(3)), live(desk, " Mechanic")) == ("endorsed", public(3))
    desk.endorse("mechanic", 3, "owner", 1)
    assert desk.state.standing_of(public(1)) == "endorsed"
    assert desk.state.standing_of(public(9)) == "unknown"


def test_a_paper_says_who_vouches_for_a_key() -> None:
    """Endorsed by itself stands there until another person vouches; nobody, a revocation and a leaving are said too."""
    desk = opened()
    assert desk.state.key_words("owner") == "owner (owner, administrator): no key"
    assert desk.state.key_words("visitor") == "visitor: not enrolled in this shop"
    desk.make("owner", 1)
    head = f"owner (owner, administrator): key {printed(1)}, "
    assert desk.state.key_words("owner") == head + "not endorsed: nobody has vouched for it"
    desk.endorse("owner", 1, "owner", 1)
    assert desk.state.key_words("owner") == head + "endorsed by itself: no second person has vouched for it"
    desk = staffed()
    assert desk.state.key_words("owner") == head + "endorsed by inspector on 2026-10-02"
    desk.revoke("owner", 1, "mechanic", 3)
    desk.record("owner", "person left", person="mechanic", reason="moved")
    ended = f"key {printed(3)}, revoked, not trusted from {NOON} on: tablet lost"
    assert desk.state.key_words("mechanic") == f"mechanic (mechanic), no longer in this shop: {ended}"


def test_a_key_is_made_by_its_own_person_and_only_once() -> None:
    """Nobody makes a key for another, and none is two persons'."""
    desk = staffed()
    desk.enrol("helper", "mechanic")
    assert desk.refused("owner", "key made", person="helper", public_key=public(4)) == ["key.own"]
    assert desk.refused("helper", "key made", person="helper", public_key=public(3)) == ["key.new"]
    assert desk.refused("helper", "key made", person="helper", public_key=public(4)) == []
    assert desk.refused("visitor", "key made", person="visitor", public_key=public(4)) == ["person.enrolled"]


def test_a_person_has_one_live_key() -> None:
    """A second waits for the end of the first; one that nobody vouched for may be left lying."""
    desk = staffed()
    assert desk.refused("mechanic", "key made", person="mechanic", public_key=public(4)) == ["key.one-live"]
    desk.enrol("helper", "mechanic")
    desk.make("helper", 5)
    desk.make("helper", 6)
    desk.endorse("owner", 1, "helper", 6)
    assert desk.refused("owner", "key endorsed", **desk.endorsement("helper", 5, 1)) == ["key.one-live"]
    assert desk.refused("inspector", "key endorsed", **desk.endorsement("helper", 6, 2)) == []
    desk.revoke("mechanic", 3, "mechanic", 3)
    assert desk.refused("mechanic", "key made", person="mechanic", public_key=public(4)) == []


def test_nobody_vouches_for_their_own_key() -> None:
    """Neither by the same key nor under another spelling of the name, once somebody else can."""
    desk = staffed()
    desk.enrol("helper", "mechanic")
    desk.make("helper", 4)
    for person in ("helper", "HELPER"):
        assert desk.refused(person, "key endorsed", **desk.endorsement("helper", 4, 4)) == ["key.second-person"]
    own_other = desk.refused("mechanic", "key endorsed", **desk.endorsement("mechanic", 3, 3))
    assert own_other == ["key.second-person"]
    assert desk.refused("Owner", "key endorsed", **desk.endorsement("owner", 1, 2)) == [
        "key.second-person",
        "key.signed-live",
    ]
    assert desk.refused("owner", "key endorsed", **desk.endorsement("helper", 4, 4)) == ["key.second-person"]


def test_a_first_key_vouches_for_itself_once() -> None:
    """After that somebody can sign, and the second key needs another person."""
    desk = opened()
    desk.enrol("mechanic", "mechanic")
    desk.make("owner", 1)
    desk.make("mechanic", 3)
    desk.endorse("owner", 1, "owner", 1)
    assert desk.refused("owner", "key endorsed", **desk.endorsement("owner", 1, 1)) == ["key.second-person"]
    assert desk.refused("mechanic", "key endorsed", **desk.endorsement("mechanic", 3, 3)) == ["key.second-person"]


def test_whoever_vouches_signs_with_their_own_live_key() -> None:
    """A key of another, one nobody vouched for, and one that is unknown vouch for nothing."""
    desk = staffed()
    for person in ("helper", "trainee"):
        desk.enrol(person, "mechanic")
    desk.make("helper", 4)
    desk.make("trainee", 5)
    for by, figure in (("owner", 2), ("trainee", 5), ("owner", 9)):
        asked = desk.refused(by, "key endorsed", **desk.endorsement("helper", 4, figure))
        assert asked == ["key.signed-live"]


@pytest.mark.parametrize(("person", "figure"), [("mechanic", 9), ("mechanic", 2)])
def test_only_a_key_that_stands_is_endorsed_or_revoked(person: str, figure: int) -> None:
    """It was made by the person named, and not revoked before."""
    desk = staffed()
    assert "key.stands" in desk.refused("owner", "key endorsed", **desk.endorsement(person, figure, 1))
    assert desk.refused("owner", "key revoked", **desk.revocation(person, figure, 1)) == ["key.stands"]


def test_a_revoked_key_neither_signs_nor_is_revoked_or_endorsed_again() -> None:
    """It stands as revoked, with its reason and the time from which it is distrusted."""
    desk = staffed()
    desk.revoke("mechanic", 3, "mechanic", 3)
    (key,) = desk.state.keys_of("mechanic")
    assert key.revoked is not None
    assert (key.revoked.person, key.revoked.reason, key.revoked.since) == ("mechanic", "tablet lost", NOON)
    assert (desk.state.standing_of(public(3)), desk.state.live_key("mechanic")) == ("revoked", None)
    assert desk.refused("owner", "key revoked", **desk.revocation("mechanic", 3, 1)) == ["key.stands"]
    assert desk.refused("owner", "key endorsed", **desk.endorsement("mechanic", 3, 1)) == ["key.stands"]
    assert desk.refused("mechanic", "key revoked", **desk.revocation("mechanic", 3, 3)) == [
        "key.stands",
        "key.signed-live",
    ]


def test_a_key_is_revoked_by_its_person_an_administrator_or_an_inspector() -> None:
    """Another mechanic tells one of them."""
    desk = staffed()
    desk.enrol("helper", "mechanic")
    desk.make("helper", 4)
    desk.endorse("owner", 1, "helper", 4)
    assert desk.refused("helper", "key revoked", **desk.revocation("mechanic", 3, 4)) == ["key.may-revoke"]
    for by, figure in (("owner", 1), ("inspector", 2), ("mechanic", 3)):
        assert desk.refused(by, "key revoked", **desk.revocation("mechanic", 3, figure)) == []
    assert desk.refused("owner", "key revoked", **desk.revocation("mechanic", 3, 3)) == ["key.signed-live"]


@pytest.mark.parametrize("since", ["2026-10-02T12:00:01Z", "2026-02-30T09:00:00Z"])
def test_a_key_is_distrusted_from_a_real_time_that_has_come(since: str) -> None:
    """Neither from tomorrow on nor from a day that does not exist."""
    found = staffed().refused("owner", "key revoked", **staffed().revocation("mechanic", 3, 1, since))
    assert found == ["key.since-past"]


def test_what_a_distrusted_key_vouched_for_counts_no_more() -> None:
    """From `since` on by the store's clock; what it vouched for before then stands."""
    desk = staffed()
    desk.enrol("helper", "mechanic")
    desk.make("helper", 4)
    desk.recorded_at = LATER
    desk.endorse("inspector", 2, "helper", 4)
    assert desk.state.standing_of(public(4)) == "endorsed"
    desk.acted_at = LATER
    desk.revoke("owner", 1, "inspector", 2, since="2026-10-02T15:00:00Z")
    assert desk.state.standing_of(public(4)) == "not endorsed"
    assert desk.state.standing_of(public(3)) == "endorsed"
    assert desk.state.vouched_by(desk.state.keys_of("helper")[0]) == ()
    desk.endorse("owner", 1, "helper", 4)
    assert desk.state.standing_of(public(4)) == "endorsed"


@pytest.mark.parametrize(("since", "stands"), [(NOON, "not endorsed"), ("2026-10-02T12:00:01Z", "endorsed")])
def test_a_key_is_distrusted_from_that_very_second(since: str, stands: str) -> None:
    """What it vouched for in the second named counts no more; in the second before it does."""
    desk = staffed()
    desk.acted_at = LATER
    desk.revoke("owner", 1, "inspector", 2, since=since)
    assert desk.state.standing_of(public(3)) == stands


def test_of_two_live_keys_the_newest_signs() -> None:
    """Whatever was let in, a person signs with one."""
    desk = staffed()
    desk.write(desk.draft("mechanic", "key made", {"person": "mechanic", "public_key": public(4)}))
    desk.write(desk.draft("owner", "key endorsed", desk.endorsement("mechanic", 4, 1)), 1)
    assert desk.state.standing_of(public(3)) == desk.state.standing_of(public(4)) == "endorsed"
    assert live(desk, "mechanic") == public(4)


def test_a_person_alone_goes_on_with_a_new_key() -> None:
    """The old one revoked, the next vouches for itself, and every paper says so again."""
    desk = opened()
    desk.make("owner", 1)
    desk.endorse("owner", 1, "owner", 1)
    desk.revoke("owner", 1, "owner", 1)
    desk.make("owner", 2)
    assert live(desk, "owner") == ""
    desk.endorse("owner", 2, "owner", 2)
    assert (live(desk, "owner"), desk.state.holders()) == (public(2), ("owner",))
    assert desk.state.key_words("owner").endswith("endorsed by itself: no second person has vouched for it")


def test_a_lost_phrase_locks_nobody_out_who_is_the_only_one_to_sign() -> None:
    """The next key is made beside the lost one, revokes it, and vouches for itself; with another signer it does not."""
    desk = opened()
    desk.make("owner", 1)
    desk.endorse("owner", 1, "owner", 1)
    desk.make("owner", 2)
    assert desk.refused("owner", "key endorsed", **desk.endorsement("owner", 2, 2)) == [
        "key.one-live",
        "key.second-person",
    ]
    desk.revoke("owner", 2, "owner", 1)
    desk.endorse("owner", 2, "owner", 2)
    assert live(desk, "owner") == public(2)
    others = staffed()
    assert others.refused("owner", "key made", person="owner", public_key=public(8)) == ["key.one-live"]
    others.write(others.draft("owner", "key made", {"person": "owner", "public_key": public(8)}))
    assert others.refused("owner", "key revoked", **others.revocation("owner", 1, 8)) == ["key.signed-live"]


def test_a_key_from_before_a_leaving_is_not_vouched_for_again() -> None:
    """Whoever comes back makes a new one; what was signed before keeps what it was worth."""
    desk = staffed()
    desk.record("owner", "person left", person="mechanic", reason="moved")
    assert (live(desk, "mechanic"), desk.state.standing_of(public(3))) == ("", "endorsed")
    desk.enrol("mechanic", "mechanic")
    assert desk.refused("owner", "key endorsed", **desk.endorsement("mechanic", 3, 1)) == ["key.stands"]
    desk.make("mechanic", 4)
    desk.endorse("inspector", 2, "mechanic", 4)
    assert live(desk, "mechanic") == public(4)


def test_a_signature_counts_by_the_live_key_of_somebody_who_works_here() -> None:
    """A stranger, somebody who left, another's key, no key: each refused; nobody signs where nobody is enrolled."""
    desk = staffed()
    assert refuse_signature(desk.state, "Mechanic", public(3)) == ()
    for person, key, rule in (
        ("visitor", public(3), "person.enrolled"),
        ("mechanic", public(2), "key.signed-live"),
        ("mechanic", "None", "key.signed-live"),
        ("mechanic", "z" * 64, "key.signed-live"),
    ):
        assert [refusal.rule for refusal in refuse_signature(desk.state, person, key)] == [rule]
    desk.record("owner", "person left", person="mechanic", reason="moved")
    assert [one.rule for one in refuse_signature(desk.state, "mechanic", public(3))] == ["person.enrolled"]
    assert [one.rule for one in refuse_signature(ShopState(), "mechanic", public(3))] == ["person.enrolled"]


def test_a_refused_signature_names_both_keys() -> None:
    """Which key was used and how it stands, and which is expected."""
    (refusal,) = refuse_signature(staffed().state, "mechanic", public(9))
    assert refusal.found == f"key {printed(9)} of mechanic, unknown"
    assert refusal.expected == f"key {printed(3)}"


def test_the_signature_itself_is_by_the_key_that_is_named() -> None:
    """An endorsement that names a key and is signed with another cannot be sealed."""
    desk = staffed()
    with pytest.raises(BadEntry, match="another key"):
        desk.write(desk.draft("owner", "key endorsed", desk.endorsement("mechanic", 3, 1)), 2)


def test_keys_come_after_people() -> None:
    """In a shop where nobody is enrolled there is no key to make, endorse or revoke."""
    desk = Desk()
    desk.record("owner", "shop opened", stream="shop", installation="bench", name="Test shop", invented=True)
    asked: list[tuple[str, dict[str, str], str]] = [
        ("key made", {"person": "owner", "public_key": public(1)}, "person.enrolled"),
        ("key endorsed", desk.endorsement("owner", 1, 1), "person.enrolled"),
        ("key revoked", desk.revocation("owner", 1, 1), "key.stands"),
    ]
    for kind, data, rule in asked:
        draft = Draft(kind, 1, "owner", "r", "", NOON, data)
        assert rule in [refusal.rule for refusal in admit_shop(desk.state, draft)]
