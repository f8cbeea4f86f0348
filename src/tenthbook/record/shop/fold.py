"""The fold of a shop's entries.

`fold_shop` never refuses: history is history. An entry of a kind or version this book does not know, or that fits
nothing recorded before it (roles for somebody never enrolled, a key made twice), changes nothing and is kept by number
in `unknown`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from tenthbook.record.ledger import Entry, same_person
from tenthbook.record.ledger.folding import take_in
from tenthbook.record.shop.kinds import SHOP_KINDS
from tenthbook.record.shop.state import Anchor, Endorsement, Person, PersonKey, Revocation, ShopState, Withholding

Data = Mapping[str, Any]


def _opened(state: ShopState, entry: Entry, data: Data) -> None:
    if entry.number:
        raise ValueError(entry.number)
    state.opened = data


def _known(state: ShopState, person: str) -> Person:
    found = state.find(person)
    if found is None or found.left is not None:
        raise ValueError(person)
    return found


def _enrolled(state: ShopState, entry: Entry, data: Data) -> None:
    before = state.find(data["person"])
    if before is not None and (before.left is None or before.id != data["person"]):
        raise ValueError(data["person"])
    keys = before.keys if before is not None else ()
    person = Person(data["person"], tuple(data["roles"]), data["details_detached"], keys, entry.number)
    state.people[person.id] = person


def _roles_changed(state: ShopState, _entry: Entry, data: Data) -> None:
    person = _known(state, data["person"])
    state.people[person.id] = replace(person, roles=tuple(data["roles"]))


def _left(state: ShopState, entry: Entry, data: Data) -> None:
    person = _known(state, data["person"])
    state.people[person.id] = replace(person, left=entry.number)


def _key_made(state: ShopState, entry: Entry, data: Data) -> None:
    person = _known(state, data["person"])
    if not same_person(person.id, entry.draft.person) or state.owner_of(data["public_key"]) is not None:
        raise ValueError(data["public_key"])
    state.people[person.id] = replace(person, keys=(*person.keys, PersonKey(data["public_key"], entry.number)))


def _own_key(state: ShopState, data: Data, public_key: str) -> tuple[Person, PersonKey]:
    held = state.owner_of(public_key)
    if held is None or not same_person(held[0].id, data["person"]):
        raise ValueError(public_key)
    return held


def _put(state: ShopState, person: Person, key: PersonKey) -> None:
    keys = tuple(key if one.public_key == key.public_key else one for one in person.keys)
    state.people[person.id] = replace(person, keys=keys)


def _key_endorsed(state: ShopState, entry: Entry, data: Data) -> None:
    person, key = _own_key(state, data, data["endorsed_key"])
    if data["key"] == key.public_key:
        _put(state, person, replace(key, self_endorsed=True))
    elif same_person(person.id, entry.draft.person):
        raise ValueError(data["key"])
    else:
        told = Endorsement(entry.draft.person, data["key"], data["says"], entry.recorded_at, entry.number)
        _put(state, person, replace(key, endorsed_by=(*key.endorsed_by, told)))


def _key_revoked(state: ShopState, entry: Entry, data: Data) -> None:
    person, key = _own_key(state, data, data["revoked_key"])
    ended = Revocation(entry.draft.person, data["key"], data["reason"], data["since"], entry.number)
    if key.revoked is not None:
        raise ValueError(data["revoked_key"])
    _put(state, person, replace(key, revoked=ended))


def _anchored(state: ShopState, entry: Entry, data: Data) -> None:
    stream = data["of_stream"]
    anchor = Anchor(data["number"], data["head"], entry.number)
    state.anchors[stream] = (*state.anchors.get(stream, ()), anchor)


def _withheld(state: ShopState, entry: Entry, data: Data) -> None:
    told = Withholding(data["of_stream"], data["entry"], data["reason"], data["ground"], entry.number)
    state.withheld[data["commitment"]] = told


def _noted(state: ShopState, entry: Entry, data: Data) -> None:
    state.notes[entry.number] = data["text"]


_STEPS: dict[str, Callable[[ShopState, Entry, Data], None]] = {
    "shop opened": _opened,
    "person enrolled": _enrolled,
    "roles changed": _roles_changed,
    "person left": _left,
    "key made": _key_made,
    "key endorsed": _key_endorsed,
    "key revoked": _key_revoked,
    "head anchored": _anchored,
    "blob withheld": _withheld,
    "noted": _noted,
}


def fold_shop(entries: Sequence[Entry], state: ShopState | None = None) -> ShopState:
    """Take entries of the shop in, one after the other.

    Args:
        entries: Entries by number, from where `state` stopped.
        state: Where to go on from; None for the start. It is not changed.

    Returns:
        The state after the last of them.
    """
    state = state or ShopState()
    return take_in(state.copy(), entries, SHOP_KINDS, _STEPS) if entries else state
