"""Keys of people: made, endorsed, revoked, and opened with their phrase for one request.

Random bytes come from outside. A secret key lives as long as the request that opened it and is never stored but closed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench.people import People
from tenthbook.record.ledger import Entry, Sign, close_key, open_key, public_key_of, sign
from tenthbook.record.ledger.keybox import NONCE_LENGTH, SALT_LENGTH

Random = Callable[[int], bytes]


class NoKey(TenthbookError):
    """A person without the key that an act needs."""


def make_key(people: People, phrase: str, random: Random, act: Mapping[str, str]) -> Entry:
    """Make a key for whoever acts, closed with a phrase of their own.

    Args:
        people: The people of the shop.
        phrase: At least 12 signs, other than the log-in's.
        random: Gives that many random bytes.
        act: Person, request and time.

    Returns:
        The entry `key made`; the key counts once a second person has endorsed it.

    Raises:
        WeakPhrase: the phrase is too short.
        Refused: rules the act would break; nothing was written.
    """
    box = close_key(random(32), phrase, act["person"], random(SALT_LENGTH), random(NONCE_LENGTH))
    data = {"person": act["person"], "public_key": box.public_key.hex()}
    people.judge("key made", data, act)
    people.store.put_box(box)  # first the box: a key that was recorded can always be opened
    return people.record("key made", data, act)


def opener(people: People, person: str, phrase: str, public_key: str = "") -> Callable[[], tuple[bytes, bytes]]:
    """Give what opens a person's key once.

    Args:
        people: The people of the shop.
        person: Id of the person.
        phrase: The key's phrase.
        public_key: Public half of the key wanted, hexadecimal; the person's live key without it.

    Returns:
        What gives the secret and the public half [32 bytes each] when called.
    """

    def open_it() -> tuple[bytes, bytes]:
        live = people.state().live_key(person)
        wanted = public_key or (live.public_key if live is not None else "")
        found = [box for box in people.store.boxes(person) if box.public_key.hex() == wanted]
        if not found:
            todo = "make one: tenthbook key make; and have a second person endorse it"
            raise NoKey(found=f"{person} without an endorsed key", expected="a key that stands", todo=todo)
        secret = open_key(found[-1], phrase)
        return secret, public_key_of(secret)

    return open_it


def _signing(secret: bytes) -> Sign:
    return lambda body: sign(secret, body)


def endorse(people: People, person: str, says: str, phrase: str, act: Mapping[str, str]) -> Entry:
    """Vouch for a person's newest key with one's own.

    Args:
        people: The people of the shop.
        person: Whose key is endorsed.
        says: How the endorser knows that the key is that person's.
        phrase: The phrase of the endorser's key.
        act: Person, request and time; the person is the endorser.

    Returns:
        The entry.

    Raises:
        NoKey: no key to endorse, or none to endorse with.
        Refused: rules the act would break; nothing was written.
    """
    keys = people.state().keys_of(person)
    if not keys:
        raise NoKey(found=f"{person} without a key", expected="a key that was made", todo="let that person make one")
    wanted = keys[-1].public_key
    own = wanted if person == act["person"] else ""
    secret, public = opener(people, act["person"], phrase, own)()
    data = {"person": person, "endorsed_key": wanted, "says": says, "key": public.hex()}
    return people.record("key endorsed", data, act, _signing(secret))


def revoke(people: People, person: str, reason: str, since: str, phrase: str, act: Mapping[str, str]) -> Entry:
    """Say that a person's key is no longer to be trusted.

    Whoever revokes the only live key of a shop signs with the next one, made beside it.

    Args:
        people: The people of the shop.
        person: Whose key is revoked.
        reason: Why, such as: tablet lost with its phrase.
        since: From when its signatures are not trusted, UTC.
        phrase: The phrase of the key that signs the revocation.
        act: Person, request and time.

    Returns:
        The entry.

    Raises:
        NoKey: no key to revoke, or none to sign with.
        Refused: rules the act would break; nothing was written.
    """
    state = people.state()
    standing = [key.public_key for key in state.keys_of(person) if key.revoked is None]
    if not standing:
        raise NoKey(found=f"{person} without a key that stands", expected="a key not revoked before")
    live, own = state.live_key(person), state.live_key(act["person"])
    gone = live.public_key if live is not None else standing[-1]
    newest = state.keys_of(act["person"])[-1:]
    signs = newest[0].public_key if newest and own is not None and own.public_key == gone else ""
    secret, public = opener(people, act["person"], phrase, signs)()
    data = {"person": person, "revoked_key": gone, "reason": reason, "since": since, "key": public.hex()}
    return people.record("key revoked", data, act, _signing(secret))
