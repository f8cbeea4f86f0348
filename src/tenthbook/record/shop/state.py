"""Who works here, and how each key stands, as values.

Nothing here judges a proposal; `fold_shop` alone writes a state. What a key is worth is reckoned from what was
recorded: who vouched for it, and whether the key that vouched was itself trusted when it did. A chain of vouching is
followed one link and no further.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, field, fields
from typing import Any, Literal

from tenthbook.record.ledger import fingerprint, same_person
from tenthbook.record.shop.roles import roles_for

KeyStanding = Literal["endorsed", "first key, endorsed by itself", "not endorsed", "revoked", "unknown"]
_STANDS = ("endorsed", "first key, endorsed by itself")
_ALONE = "endorsed by itself: no second person has vouched for it"


@dataclass(frozen=True, slots=True)
class Endorsement:
    """Somebody who vouched for a key.

    Attributes:
        person: Who vouched.
        key: Public key it was signed with.
        says: How it is known whose key it is.
        recorded_at: When, by the store's clock, UTC.
        entry: Number of the entry.
    """

    person: str
    key: str
    says: str
    recorded_at: str
    entry: int


@dataclass(frozen=True, slots=True)
class Revocation:
    """The end of a key.

    Attributes:
        person: Who revoked it.
        key: Public key it was signed with.
        reason: Why.
        since: From when its signatures are not trusted, UTC.
        entry: Number of the entry.
    """

    person: str
    key: str
    reason: str
    since: str
    entry: int


@dataclass(frozen=True, slots=True)
class PersonKey:
    """A person's key.

    Attributes:
        public_key: Its public half, 64 hexadecimal figures.
        made_entry: Number of the entry that made it.
        endorsed_by: Other persons who vouched for it, by entry number.
        self_endorsed: Whether it vouched for itself.
        revoked: How it ended; None while it did not.
    """

    public_key: str
    made_entry: int
    endorsed_by: tuple[Endorsement, ...] = ()
    self_endorsed: bool = False
    revoked: Revocation | None = None


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who works here, or did.

    Attributes:
        id: Id as it was enrolled.
        roles: What the person may do.
        details: Commitment to name and licence number; empty where none were given.
        keys: Keys by the number of the entry that made them.
        enrolled: Number of the entry that enrolled the person last; a key made before it is live no more.
        left: Number of the entry with which the person left; None for somebody who works here.
    """

    id: str
    roles: tuple[str, ...]
    details: str
    keys: tuple[PersonKey, ...]
    enrolled: int
    left: int | None = None


@dataclass(frozen=True, slots=True)
class Anchor:
    """How far another stream had come.

    Attributes:
        number: Number of its last entry.
        head: Hash of that entry.
        entry: Number of the shop's entry that says so.
    """

    number: int
    head: str
    entry: int


@dataclass(frozen=True, slots=True)
class Withholding:
    """Bytes that were taken away lawfully.

    Attributes:
        of_stream: Stream of the entry that named them.
        named_by: Number of that entry.
        reason: Why.
        ground: The law, or the order.
        entry: Number of the shop's entry that says so.
    """

    of_stream: str
    named_by: int
    reason: str
    ground: str
    entry: int


@dataclass(slots=True)
class ShopState:
    """The shop after its last entry. Read it; only `fold_shop` writes it.

    Attributes:
        number: Number of the last entry, -1 before the first.
        head: Hash of the last entry, empty before the first.
        recorded_at: When it was recorded by the store's clock, UTC; empty before the first.
        opened: Fields of entry 0; empty before it.
        people: Whoever was enrolled, by id as enrolled; those who left included.
        anchors: Heads of other streams by stream, oldest first.
        withheld: What was taken away, by its commitment.
        notes: Notes by entry number.
        unknown: Numbers of entries this version cannot read, or that fit nothing recorded before them.
        clock_findings: Entries recorded earlier, by the store's clock, than the one before.
    """

    number: int = -1
    head: str = ""
    recorded_at: str = ""
    opened: Mapping[str, Any] = field(default_factory=dict)
    people: dict[str, Person] = field(default_factory=dict)
    anchors: dict[str, tuple[Anchor, ...]] = field(default_factory=dict)
    withheld: dict[str, Withholding] = field(default_factory=dict)
    notes: dict[int, str] = field(default_factory=dict)
    unknown: list[int] = field(default_factory=list)
    clock_findings: list[int] = field(default_factory=list)

    def copy(self) -> ShopState:
        """Give a state of its own, so that whoever holds this one keeps what it saw.

        Returns:
            The same state in containers of its own.
        """
        held: dict[str, Any] = {one.name: copy(getattr(self, one.name)) for one in fields(self)}
        return ShopState(**held)

    def find(self, person: str) -> Person | None:
        """Look a person up, whichever way a hand writes the id.

        Args:
            person: Id of a person.

        Returns:
            The person, also one who left; None for somebody never enrolled.
        """
        return next((one for one in self.people.values() if same_person(one.id, person)), None)

    def works_here(self, person: str) -> bool:
        """Ask whether somebody is enrolled and has not left.

        Args:
            person: Id of a person.

        Returns:
            True for somebody who works here now.
        """
        found = self.find(person)
        return found is not None and found.left is None

    def roles_of(self, person: str) -> tuple[str, ...]:
        """Say what somebody may do here now.

        Args:
            person: Id of a person.

        Returns:
            The roles; none for somebody who left or was never enrolled.
        """
        found = self.find(person)
        return found.roles if found is not None and found.left is None else ()

    def may(self, person: str, act: str) -> bool:
        """Ask whether a person's roles allow an act.

        Args:
            person: Id of a person.
            act: Kind of the entry, of a job or of the shop.

        Returns:
            True where a role of that person allows it, and for everybody where nobody is enrolled at all.
        """
        return not self.people or any(role in roles_for(act) for role in self.roles_of(person))

    def keys_of(self, person: str) -> tuple[PersonKey, ...]:
        """List a person's keys.

        Args:
            person: Id of a person.

        Returns:
            The keys, the newest last; revoked ones included.
        """
        found = self.find(person)
        return found.keys if found is not None else ()

    def owner_of(self, public_key: str) -> tuple[Person, PersonKey] | None:
        """Say whose a key is.

        Args:
            public_key: 64 hexadecimal figures.

        Returns:
            The person and the key; None for a key nobody here made.
        """
        held = ((person, key) for person in self.people.values() for key in person.keys)
        return next(((person, key) for person, key in held if key.public_key == public_key), None)

    def vouched_by(self, key: PersonKey) -> tuple[Endorsement, ...]:
        """List who vouches for a key, and counts.

        Args:
            key: A key.

        Returns:
            Endorsements by other persons with a key of their own, which was not yet distrusted when they were recorded.
        """
        return tuple(one for one in key.endorsed_by if self._counts(one))

    def _counts(self, endorsement: Endorsement) -> bool:
        by = self.owner_of(endorsement.key)
        if by is None or not same_person(by[0].id, endorsement.person):
            return False
        return by[1].revoked is None or endorsement.recorded_at < by[1].revoked.since

    def standing_of(self, public_key: str) -> KeyStanding:
        """Say what a key is worth.

        Args:
            public_key: 64 hexadecimal figures.

        Returns:
            Endorsed: a second person vouches for it. First key, endorsed by itself: no second person does. Not
            endorsed: made, and nobody vouches for it. Revoked. Unknown: nobody here made it. A signature made before
            its person left keeps what it is worth.
        """
        held = self.owner_of(public_key)
        if held is None:
            return "unknown"
        if held[1].revoked is not None:
            return "revoked"
        if self.vouched_by(held[1]):
            return "endorsed"
        return "first key, endorsed by itself" if held[1].self_endorsed else "not endorsed"

    def live_key(self, person: str) -> PersonKey | None:
        """Give the key a person signs with.

        Args:
            person: Id of a person.

        Returns:
            The newest that was made since the person came, is endorsed and not revoked; None for somebody without one,
            and for somebody who left.
        """
        found = self.find(person)
        if found is None or found.left is not None:
            return None
        live = [key for key in found.keys if key.made_entry > found.enrolled]
        return next((key for key in reversed(live) if self.standing_of(key.public_key) in _STANDS), None)

    def holders(self) -> tuple[str, ...]:
        """List who can sign.

        Returns:
            Ids of the persons who have a live key.
        """
        return tuple(person for person in self.people if self.live_key(person) is not None)

    def key_words(self, person: str) -> str:
        """Say on a paper who somebody is, by which key, and how that key stands.

        Args:
            person: Id of a person.

        Returns:
            Person, roles, fingerprint of the live key (of the newest, where none is live) and who vouches for it.
        """
        found = self.find(person)
        if found is None:
            return f"{person}: not enrolled in this shop"
        here = "" if found.left is None else ", no longer in this shop"
        key = self.live_key(person) or (found.keys[-1] if found.keys else None)
        words = "no key" if key is None else f"key {fingerprint(bytes.fromhex(key.public_key))}, {self._stands(key)}"
        return f"{found.id} ({', '.join(found.roles)}){here}: {words}"

    def _stands(self, key: PersonKey) -> str:
        if key.revoked is not None:
            return f"revoked, not trusted from {key.revoked.since} on: {key.revoked.reason}"
        vouching = self.vouched_by(key)
        if vouching:
            return "endorsed by " + ", ".join(f"{one.person} on {one.recorded_at[:10]}" for one in vouching)
        return _ALONE if key.self_endorsed else "not endorsed: nobody has vouched for it"
