"""May this be recorded in the shop, may this person record that in a job, and does this key sign for them?

Every broken rule is named at once. Nothing is written on a refusal.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from tenthbook.numbers.because import Refusal, Rule
from tenthbook.record.ledger import Draft, fingerprint, person_name, same_person
from tenthbook.record.shop import rules
from tenthbook.record.shop.kinds import KEY
from tenthbook.record.shop.roles import roles_for
from tenthbook.record.shop.state import ShopState

Data = Mapping[str, Any]


def _broken(rule: Rule, found: str, expected: str = "", **case: Any) -> Iterator[Refusal]:
    if not rule.holds(**case):
        yield Refusal(rule.id, found, expected or rule.says, rule.todo)


def _enrolled(state: ShopState, person: str) -> Iterator[Refusal]:
    here = [one.id for one in state.people.values() if one.left is None]
    expected = "one of " + (", ".join(here) or "nobody yet")
    yield from _broken(rules.ENROLLED, f"{person}, who is not enrolled here", expected, person=person, people=here)


def refuse_by_role(state: ShopState, person: str, kind: str) -> tuple[Refusal, ...]:
    """Judge whether a person may record such an act.

    Args:
        state: The shop as it stands.
        person: Id of the person who acts.
        kind: Kind of the entry, of a job or of the shop.

    Returns:
        What the act would break; empty where it is allowed, and on a bench where nobody is enrolled at all.
    """
    if not state.people:
        return ()
    if not state.works_here(person):
        return tuple(_enrolled(state, person))
    roles = state.roles_of(person)
    found = f"{kind!r} by {person} ({', '.join(roles)})"
    expected = "a person who is " + " or ".join(roles_for(kind))
    return tuple(_broken(rules.MAY_ACT, found, expected, kind=kind, roles=roles))


def _named(key: str) -> str:
    return f"key {fingerprint(bytes.fromhex(key))}" if re.fullmatch(KEY, key) else "no key"


def _signed(state: ShopState, person: str, key: str) -> Iterator[Refusal]:
    live = state.live_key(person)
    holds = live.public_key if live is not None else ""
    found = f"{_named(key)} of {person}, {state.standing_of(key)}"
    expected = _named(holds) if holds else rules.SIGNED_LIVE.says
    yield from _broken(rules.SIGNED_LIVE, found, expected, key=key, live=holds)


def refuse_signature(state: ShopState, person: str, key_hex: str) -> tuple[Refusal, ...]:
    """Judge whether a key signs for a person.

    Args:
        state: The shop as it stands.
        person: Id of the person who acts.
        key_hex: Public key of the signature, 64 hexadecimal figures.

    Returns:
        What the signature would break; empty where it is the live key of somebody who works here.
    """
    missing = tuple(_enrolled(state, person))
    return missing or tuple(_signed(state, person, key_hex))


def _admit_enrolment(state: ShopState, draft: Draft, data: Data) -> Iterator[Refusal]:
    person, roles = data["person"], tuple(data["roles"])
    here = [one.id for one in state.people.values() if one.left is None]
    gone = [one.id for one in state.people.values() if one.left is not None]
    yield from _broken(rules.ID_WRITTEN, repr(person), person=person)
    yield from _broken(rules.ID_NEW, repr(person), person=person, here=here, gone=gone)
    yield from _broken(rules.ROLE_KNOWN, ", ".join(roles) or "no role", roles=roles)
    if not state.people:
        found = f"{person} ({', '.join(roles)}), enrolled by {draft.person}"
        yield from _broken(rules.FIRST_PERSON, found, by=draft.person, person=person, roles=roles)


def _administrators_without(state: ShopState, person: str) -> list[str]:
    others = (one for one in state.people.values() if not same_person(one.id, person))
    return [one.id for one in others if one.left is None and "administrator" in one.roles]


def _admit_roles(state: ShopState, draft: Draft, data: Data) -> Iterator[Refusal]:  # noqa: ARG001 - same shape
    person, roles = data["person"], tuple(data["roles"])
    yield from _enrolled(state, person)
    yield from _broken(rules.ROLE_KNOWN, ", ".join(roles) or "no role", roles=roles)
    remaining = [*_administrators_without(state, person), *([person] if "administrator" in roles else [])]
    yield from _broken(rules.LAST_ADMINISTRATOR, f"{person} as {', '.join(roles)}", remaining=remaining)


def _admit_leaving(state: ShopState, draft: Draft, data: Data) -> Iterator[Refusal]:  # noqa: ARG001 - same shape
    person = data["person"]
    yield from _enrolled(state, person)
    remaining = _administrators_without(state, person)
    yield from _broken(rules.LAST_ADMINISTRATOR, f"{person}, the last one, leaving", remaining=remaining)


def _one_live(state: ShopState, person: str, key: str) -> Iterator[Refusal]:
    live = state.live_key(person)
    holds = live.public_key if live is not None else ""
    found = f"{person} with {_named(holds)} that stands"
    yield from _broken(rules.ONE_LIVE, found, person=person, live=holds, key=key, holders=state.holders())


def _admit_key_made(state: ShopState, draft: Draft, data: Data) -> Iterator[Refusal]:
    person, key = data["person"], data["public_key"]
    yield from _enrolled(state, person)
    yield from _broken(rules.KEY_OWN, f"a key of {person} by {draft.person}", by=draft.person, person=person)
    keys = [one.public_key for held in state.people.values() for one in held.keys]
    yield from _broken(rules.KEY_NEW, f"{_named(key)}, made before", key=key, keys=keys)
    yield from _one_live(state, person, "")


def _stands(state: ShopState, person: str, key: str, after: int = -1) -> Iterator[Refusal]:
    standing = (one for one in state.keys_of(person) if one.revoked is None and one.made_entry > after)
    keys = [one.public_key for one in standing]
    expected = f"a key of {person}: " + (", ".join(map(_named, keys)) or "none stands")
    yield from _broken(rules.KEY_STANDS, _named(key), expected, key=key, keys=keys)


def _admit_endorsement(state: ShopState, draft: Draft, data: Data) -> Iterator[Refusal]:
    person, endorsed, key = data["person"], data["endorsed_key"], data["key"]
    owner = state.find(person)
    yield from _enrolled(state, person)
    yield from _stands(state, person, endorsed, owner.enrolled if owner is not None else -1)
    yield from _one_live(state, person, endorsed)
    facts = {"signer": draft.person, "owner": person, "key": key, "endorsed_key": endorsed}
    found = f"{draft.person} endorsing the key of {person} with {_named(key)}"
    yield from _broken(rules.SECOND_PERSON, found, holders=state.holders(), **facts)
    if key != endorsed:
        yield from _signed(state, draft.person, key)


def _replaces_own(state: ShopState, draft: Draft, data: Data) -> bool:
    """Nobody else can sign: a person whose key is lost revokes it with the next one, made beside it."""
    alone = [person_name(one) for one in state.holders()] == [person_name(draft.person)]
    own = [one.public_key for one in state.keys_of(draft.person) if one.revoked is None]
    newest = own[-1] if own else ""
    return alone and same_person(draft.person, data["person"]) and data["key"] == newest != data["revoked_key"]


def _admit_revocation(state: ShopState, draft: Draft, data: Data) -> Iterator[Refusal]:
    owner, roles = data["person"], state.roles_of(draft.person)
    yield from _stands(state, owner, data["revoked_key"])
    found = f"{draft.person} ({', '.join(roles)}) revoking the key of {owner}"
    yield from _broken(rules.MAY_REVOKE, found, by=draft.person, owner=owner, roles=roles)
    found = f"{data['since']}, revoked at {draft.acted_at}"
    yield from _broken(rules.SINCE_PAST, found, since=data["since"], acted_at=draft.acted_at)
    if not _replaces_own(state, draft, data):
        yield from _signed(state, draft.person, data["key"])


def _admit_anchor(state: ShopState, draft: Draft, data: Data) -> Iterator[Refusal]:  # noqa: ARG001 - same shape
    before = state.anchors.get(data["of_stream"], ())
    last = before[-1].number if before else -1
    found = f"entry {data['number']} of {data['of_stream']}, after entry {last}"
    yield from _broken(rules.ANCHOR_GROWS, found, number=data["number"], last=last)


def _admit_withholding(state: ShopState, draft: Draft, data: Data) -> Iterator[Refusal]:  # noqa: ARG001 - same shape
    facts = {"reason": data["reason"], "ground": data["ground"], "again": data["commitment"] in state.withheld}
    again = ", taken away before" if facts["again"] else ""
    found = f"reason {data['reason']!r}, ground {data['ground']!r}{again}"
    yield from _broken(rules.WITHHELD_GROUND, found, **facts)


_OF_KIND: dict[str, Callable[[ShopState, Draft, Data], Iterator[Refusal]]] = {
    "person enrolled": _admit_enrolment,
    "roles changed": _admit_roles,
    "person left": _admit_leaving,
    "key made": _admit_key_made,
    "key endorsed": _admit_endorsement,
    "key revoked": _admit_revocation,
    "head anchored": _admit_anchor,
    "blob withheld": _admit_withholding,
}
_ONLY_ADMINISTRATOR = ("roles changed", "person left", "blob withheld")


def admit_shop(state: ShopState, draft: Draft) -> tuple[Refusal, ...]:
    """Judge a proposed entry of the shop's stream.

    Args:
        state: The shop as it stands.
        draft: What is proposed.

    Returns:
        Every rule it would break; empty where it may be recorded.
    """
    number, kind = state.number + 1, draft.kind
    refusals = [
        *_broken(rules.FIRST_OPENS, f"{kind!r} as entry {number}", number=number, kind=kind),
        *_broken(rules.KNOWN_KIND, f"{kind!r}, version {draft.version}", kind=kind, version=draft.version),
        *refuse_by_role(state, draft.person, kind),
    ]
    if not state.people and kind in _ONLY_ADMINISTRATOR:
        refusals += _enrolled(state, draft.person)
    if not refusals and kind in _OF_KIND:
        refusals += _OF_KIND[kind](state, draft, draft.data)
    return tuple(refusals)
