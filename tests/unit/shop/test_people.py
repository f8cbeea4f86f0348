"""Who is enrolled, in which role, and what that allows."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.record.ledger import Draft
from tenthbook.record.shop import ROLE_OF_ACT, ROLES, ShopState, admit_shop, refuse_by_role
from tests.builders import NOON
from tests.unit.shop.desk import SHOP, Desk, opened, staffed


def test_entry_nought_opens_the_shop_and_nothing_else_does() -> None:
    """A stream begins with its opening, once."""
    empty = Desk()
    assert empty.refused("owner", "noted", text="first") == ["shop.first-opens"]
    assert empty.refused("owner", "shop opened", **SHOP) == []
    assert opened().refused("owner", "shop opened", **SHOP) == ["shop.first-opens"]


@pytest.mark.parametrize(("kind", "version"), [("person promoted", 1), ("noted", 2)])
def test_a_kind_or_version_that_is_not_known_is_refused(kind: str, version: int) -> None:
    """What this book could not read back is not written."""
    desk = opened()
    desk.enrol("mechanic", "mechanic")
    draft = Draft(kind, version, "mechanic", "r", "", NOON, {"text": "a"})
    assert "shop.known-kind" in [refusal.rule for refusal in admit_shop(desk.state, draft)]


@pytest.mark.parametrize(("by", "roles"), [("visitor", ["administrator"]), ("owner", ["owner", "mechanic"])])
def test_the_first_person_enrols_as_administrator_and_by_themselves(by: str, roles: list[str]) -> None:
    """Otherwise nobody could enrol the second."""
    desk = Desk()
    desk.record("owner", "shop opened", **SHOP)
    assert desk.refused(by, "person enrolled", person="owner", roles=roles) == ["person.first-administrator"]
    assert desk.refused("Owner", "person enrolled", person="owner", roles=["administrator"]) == []


def test_a_person_stands_with_roles_and_details() -> None:
    """Id, roles and the commitment to who that is are those of the entry."""
    desk = opened()
    desk.record("owner", "person enrolled", person="mechanic", roles=["mechanic"], details_detached="ab" * 32)
    person = desk.state.people["mechanic"]
    assert (person.id, person.roles, person.details, person.enrolled) == ("mechanic", ("mechanic",), "ab" * 32, 2)
    assert desk.state.find(" MECHANIC ") == person
    assert desk.state.opened["name"] == "Test shop"


@pytest.mark.parametrize(
    ("person", "rule"),
    [
        ("OWNER", "person.id-new"),
        ("owner", "person.id-new"),
        ("first  mechanic", "person.id-written"),
        ("mechanic ", "person.id-written"),
        ("mecha\u200bnic", "person.id-written"),
        ("\uff4dechanic", "person.id-written"),
        ("mechanic\ufe00", "person.id-written"),
        ("mech\u115fanic", "person.id-written"),
        ("\u2800mechanic", "person.id-written"),
    ],
)
def test_an_id_is_written_well_and_nobody_elses(person: str, rule: str) -> None:
    """Capitals, blanks and signs that cannot be seen make nobody another person."""
    assert opened().refused("owner", "person enrolled", person=person, roles=["mechanic"]) == [rule]


@pytest.mark.parametrize("roles", [[], ["mechanic", "mechanic"]])
def test_a_person_has_one_role_at_least_and_each_once(roles: list[str]) -> None:
    """None is no role, and twice is a slip."""
    desk = opened()
    desk.enrol("mechanic", "mechanic")
    assert desk.refused("owner", "person enrolled", person="helper", roles=roles) == ["role.known"]
    changed = {"person": "mechanic", "roles": roles, "reason": "examined"}
    assert desk.refused("owner", "roles changed", **changed) == ["role.known"]


def test_only_an_administrator_decides_who_works_here() -> None:
    """A mechanic enrols nobody, changes no roles, lets nobody leave and withholds nothing."""
    desk = opened()
    desk.enrol("mechanic", "mechanic")
    asked: list[tuple[str, dict[str, Any]]] = [
        ("person enrolled", {"person": "friend", "roles": ["inspector"]}),
        ("roles changed", {"person": "mechanic", "roles": ["administrator"], "reason": "wanted"}),
        ("person left", {"person": "owner", "reason": "wanted"}),
        ("blob withheld", withheld()),
    ]
    for kind, data in asked:
        assert desk.refused("mechanic", kind, **data) == ["role.may-act"]
        assert desk.refused("visitor", kind, **data) == ["person.enrolled"]
    assert desk.refused("owner", "blob withheld", **withheld()) == []


def withheld(**changed: str) -> dict[str, Any]:
    """The fields of a withholding."""
    told = {"of_stream": "job-1", "entry": 4, "commitment": "cd" * 32, "reason": "asked by the person shown"}
    return {**told, "ground": "data protection act", **changed}


def test_nothing_is_withheld_in_a_shop_without_people() -> None:
    """Taking away is an administrator's act, and there is none."""
    desk = Desk()
    desk.record("owner", "shop opened", **SHOP)
    assert desk.refused("owner", "blob withheld", **withheld()) == ["person.enrolled"]
    assert desk.refused("owner", "noted", text="opened today") == []


def test_the_last_administrator_stays() -> None:
    """Neither the role nor the person goes while nobody else has it; a second one makes room."""
    desk = opened()
    desk.enrol("inspector", "inspector")
    leaving = {"person": "Owner", "reason": "sold the shop"}
    lesser = {"person": "owner", "roles": ["owner"], "reason": "wants no more of it"}
    assert desk.refused("owner", "person left", **leaving) == ["role.last-administrator"]
    assert desk.refused("owner", "roles changed", **lesser) == ["role.last-administrator"]
    assert desk.refused("owner", "roles changed", **{**lesser, "roles": ["administrator"]}) == []
    desk.record("owner", "roles changed", person="inspector", roles=["administrator"], reason="takes over")
    assert desk.refused("owner", "roles changed", **lesser) == []
    desk.record("owner", "person left", **leaving)
    assert desk.state.people["owner"].left == desk.state.number
    assert desk.refused("inspector", "person left", person="inspector", reason="too") == ["role.last-administrator"]


def test_whoever_left_acts_no_more_and_may_come_back() -> None:
    """The id is kept for that person, in the same spelling; the old key is live no more."""
    desk = staffed()
    desk.record("owner", "person left", person="mechanic", reason="moved")
    assert desk.state.roles_of("mechanic") == ()
    assert desk.refused("mechanic", "noted", text="still here") == ["person.enrolled"]
    assert desk.refused("owner", "person left", person="mechanic", reason="again") == ["person.enrolled"]
    back = {"person": "Mechanic", "roles": ["mechanic"]}
    assert desk.refused("owner", "person enrolled", **back) == ["person.id-new"]
    desk.enrol("mechanic", "inspector")
    assert desk.state.roles_of("mechanic") == ("inspector",)
    assert desk.state.live_key("mechanic") is None
    assert len(desk.state.keys_of("mechanic")) == 1


def test_nobody_who_is_unknown_gets_other_roles() -> None:
    """Roles are changed for somebody who works here."""
    changed = {"person": "visitor", "roles": ["mechanic"], "reason": "helps"}
    assert opened().refused("owner", "roles changed", **changed) == ["person.enrolled"]


WORK = ("reading taken", "part removed", "disposed", "signed", "released", "opened", "some later kind")
TOOLS = ("tools opened", "instrument registered", "calibrated", "instrument withdrawn", "instrument returned to use")
CUSTOMER = ("extra finding approved", "price accepted", "look declined")


@pytest.mark.parametrize(
    ("roles", "allowed", "refused"),
    [
        (("mechanic",), (*WORK, *CUSTOMER, *TOOLS, "noted"), ("person enrolled",)),
        (("inspector",), (*WORK, *CUSTOMER, *TOOLS, "noted"), ("person enrolled",)),
        (("owner",), (*CUSTOMER, "noted"), (*WORK, *TOOLS, "person enrolled")),
        (("administrator",), ("noted", *TOOLS, "person enrolled"), (*WORK, *CUSTOMER)),
        (("administrator", "mechanic"), (*WORK, *CUSTOMER, "noted", "person enrolled"), ()),
    ],
)
def test_a_role_allows_its_acts(roles: tuple[str, ...], allowed: tuple[str, ...], refused: tuple[str, ...]) -> None:
    """Mechanic and inspector work, the owner approves, an administrator alone looks after people and tools."""
    desk = opened()
    desk.enrol("somebody", *roles)
    state = desk.state
    assert [kind for kind in allowed if refuse_by_role(state, "Somebody", kind)] == []
    assert [kind for kind in refused if not refuse_by_role(state, "somebody", kind)] == []
    assert all(state.may("somebody", kind) for kind in allowed)
    assert not any(state.may("somebody", kind) for kind in refused)


def test_a_refusal_by_role_names_person_roles_and_who_may() -> None:
    """What was found, what is expected, and the way on."""
    (refusal,) = refuse_by_role(opened().state, "owner", "reading taken")
    assert refusal.rule == "role.may-act"
    assert refusal.found == "'reading taken' by owner (owner, administrator)"
    assert refusal.expected == "a person who is mechanic or inspector"


def test_a_bench_without_people_refuses_nobody() -> None:
    """Where nobody is enrolled everybody records; where somebody is, a stranger does not."""
    assert refuse_by_role(ShopState(), "anybody", "reading taken") == ()
    assert ShopState().may("anybody", "reading taken")
    (refusal,) = refuse_by_role(opened().state, "visitor", "noted")
    assert (refusal.rule, refusal.expected) == ("person.enrolled", "one of owner")
    assert not opened().state.may("visitor", "noted")


def test_the_table_names_known_roles_only() -> None:
    """No act waits for a role that nobody can have."""
    assert {role for roles in ROLE_OF_ACT.values() for role in roles} == set(ROLES)


def test_heads_of_a_stream_are_anchored_further_along_each_time() -> None:
    """The same place or an earlier one is refused; another stream has its own."""
    desk = opened()
    for number, head in ((0, "ab" * 32), (7, "cd" * 32)):
        desk.record("owner", "head anchored", of_stream="job-1", number=number, head=head)
    again = {"of_stream": "job-1", "head": "ef" * 32}
    assert desk.refused("owner", "head anchored", number=7, **again) == ["anchor.grows"]
    assert desk.refused("owner", "head anchored", number=8, **again) == []
    assert desk.refused("owner", "head anchored", number=0, of_stream="job-2", head="ef" * 32) == []
    assert [(one.number, one.head, one.entry) for one in desk.state.anchors["job-1"]] == [
        (0, "ab" * 32, 2),
        (7, "cd" * 32, 3),
    ]


def test_what_is_withheld_has_a_reason_and_a_ground_and_goes_once() -> None:
    """A blank is no ground, and what is gone is not taken away again."""
    desk = opened()
    for changed in ({"ground": "  "}, {"reason": " "}):
        assert desk.refused("owner", "blob withheld", **withheld(**changed)) == ["withheld.ground"]
    desk.record("owner", "blob withheld", **withheld())
    gone = desk.state.withheld["cd" * 32]
    assert (gone.of_stream, gone.named_by, gone.ground, gone.entry) == ("job-1", 4, "data protection act", 2)
    assert desk.refused("owner", "blob withheld", **withheld()) == ["withheld.ground"]
