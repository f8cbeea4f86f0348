"""People who sign, as the tests need them: keys that everybody knows, endorsed without the cost of closing them.

In: a workplace. Out: enrolled people, opened keys, signed entries.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable

from tenthbook.record.bench.signing import sign_statement, state_what_is_signed
from tenthbook.record.ledger import Entry, public_key_of, sign
from tests.builders import STREAM, Workplace

SECRETS = {person: hashlib.sha256(person.encode()).digest() for person in ("mechanic", "inspector", "helper")}
ROLES = {"mechanic": ["mechanic", "administrator"], "inspector": ["inspector"], "helper": ["mechanic"]}


def public_keys(*people: str) -> dict[str, set[bytes]]:
    """Give public keys as somebody outside would hold them.

    Args:
        people: Whose.

    Returns:
        Keys [32 bytes] by person.
    """
    return {person: {public_key_of(SECRETS[person])} for person in people}


def signing(person: str) -> Callable[[bytes], bytes]:
    """Give what signs with a person's key.

    Args:
        person: Whose key.

    Returns:
        From a body to its signature [64 bytes].
    """
    return lambda body: sign(SECRETS[person], body)


def opened(person: str) -> Callable[[], tuple[bytes, bytes]]:
    """Give an opened key.

    Args:
        person: Whose.

    Returns:
        What gives its secret and its public half [32 bytes each].
    """
    return lambda: (SECRETS[person], public_key_of(SECRETS[person]))


def enrol(place: Workplace, *people: str) -> None:
    """Open a shop and enrol people, the mechanic first, who endorses every key.

    Args:
        place: Where.
        people: Who; "mechanic", "inspector" and "helper" are known here.
    """
    shop = place.bench.people
    shop.open("Test shop", place.act())
    for person in people:
        shop.record("person enrolled", {"person": person, "roles": ROLES[person]}, place.act())
        public = public_key_of(SECRETS[person]).hex()
        shop.record("key made", {"person": person, "public_key": public}, place.act(person=person))
        own = public_key_of(SECRETS["mechanic"]).hex()
        data = {"person": person, "endorsed_key": public, "says": "known", "key": own}
        shop.record("key endorsed", data, place.act(), signing("mechanic"))


def sign_as(
    place: Workplace, person: str, entries: list[int], as_what: str = "own work", supersedes: int = -1
) -> Entry:
    """Review a statement and sign it at once.

    Args:
        place: Where.
        person: Who signs.
        entries: Numbers of the acts it binds.
        as_what: "own work" or "second look".
        supersedes: Number of the signature it takes the place of; -1 for none.

    Returns:
        The entry.
    """
    shown = state_what_is_signed(place.state, STREAM, person, entries, as_what, supersedes).digest
    act = place.act(person=person)
    return sign_statement(place.bench, STREAM, shown, entries, as_what, opened(person), act, supersedes)
