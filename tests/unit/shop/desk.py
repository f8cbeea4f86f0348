"""A shop's stream as the tests write it: proposed, judged, sealed with keys that are for nobody, folded.

In: who does what. Out: entries, refusals, the state. A key is made of one figure, so that a test can name it.
"""

from __future__ import annotations

from typing import Any

from tenthbook.record.ledger import SIGNED_KINDS, Draft, Entry, draft_of, public_key_of, seal, sign
from tenthbook.record.shop import SHOP_KINDS, ShopState, admit_shop, fold_shop
from tests.builders import NOON

SHOP = {"stream": "shop", "installation": "bench", "name": "Test shop", "invented": True}
FACE_TO_FACE = "compared the fingerprint face to face"


def secret(figure: int) -> bytes:
    """A secret key for tests [32 bytes]."""
    return bytes([figure]) * 32


def public(figure: int) -> str:
    """Its public half, hexadecimal."""
    return public_key_of(secret(figure)).hex()


class Desk:
    """A desk at which the shop's stream is written."""

    def __init__(self) -> None:
        """Sit down at an empty stream."""
        self.entries: list[Entry] = []
        self.acted_at = self.recorded_at = NOON

    @property
    def state(self) -> ShopState:
        """The shop as it stands."""
        return fold_shop(self.entries)

    def draft(self, person: str, kind: str, data: dict[str, Any]) -> Draft:
        """Propose an entry."""
        act = {"person": person, "request": f"r-{len(self.entries)}", "acted_at": self.acted_at}
        return draft_of(SHOP_KINDS, kind, data, seen=self.state.head, **act)

    def refused(self, person: str, kind: str, /, **data: Any) -> list[str]:
        """The rules a proposal would break."""
        return [refusal.rule for refusal in admit_shop(self.state, self.draft(person, kind, data))]

    def write(self, draft: Draft, figure: int = 0) -> Entry:
        """Seal a draft, whatever the rules say; signed with the key of that figure where the kind is signed."""
        signs = (lambda body: sign(secret(figure), body)) if draft.kind in SIGNED_KINDS else None
        entry = seal(draft, len(self.entries), self.recorded_at, self.state.head, signs)
        self.entries.append(entry)
        return entry

    def record(self, person: str, kind: str, figure: int = 0, /, **data: Any) -> Entry:
        """Record an entry that no rule forbids."""
        draft = self.draft(person, kind, data)
        assert admit_shop(self.state, draft) == ()
        return self.write(draft, figure)

    def enrol(self, person: str, *roles: str, by: str = "owner") -> Entry:
        """Enrol a person."""
        return self.record(by, "person enrolled", person=person, roles=list(roles))

    def make(self, person: str, figure: int) -> Entry:
        """Make a key."""
        return self.record(person, "key made", person=person, public_key=public(figure))

    def endorsement(self, person: str, figure: int, by: int) -> dict[str, str]:
        """The fields of an endorsement."""
        return {"person": person, "endorsed_key": public(figure), "says": FACE_TO_FACE, "key": public(by)}

    def endorse(self, by: str, own: int, person: str, figure: int) -> Entry:
        """Vouch for a key."""
        return self.record(by, "key endorsed", own, **self.endorsement(person, figure, own))

    def revocation(self, person: str, figure: int, by: int, since: str = NOON) -> dict[str, str]:
        """The fields of a revocation."""
        return {
            "person": person,
            "revoked_key": public(figure),
            "reason": "tablet lost",
            "since": since,
            "key": public(by),
        }

    def revoke(self, by: str, own: int, person: str, figure: int, since: str = NOON) -> Entry:
        """Revoke a key."""
        return self.record(by, "key revoked", own, **self.revocation(person, figure, own, since))


def opened() -> Desk:
    """A shop with its owner, who is its administrator."""
    desk = Desk()
    desk.record("owner", "shop opened", **SHOP)
    desk.enrol("owner", "owner", "administrator")
    return desk


def staffed() -> Desk:
    """A shop with owner, mechanic and inspector; owner (1) and inspector (2) vouch for each other, mechanic (3) too."""
    desk = opened()
    desk.enrol("mechanic", "mechanic")
    desk.enrol("inspector", "inspector")
    desk.make("owner", 1)
    desk.endorse("owner", 1, "owner", 1)
    desk.make("inspector", 2)
    desk.endorse("owner", 1, "inspector", 2)
    desk.endorse("inspector", 2, "owner", 1)
    desk.make("mechanic", 3)
    desk.endorse("inspector", 2, "mechanic", 3)
    return desk
