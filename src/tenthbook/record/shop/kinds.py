"""The facts the stream of a shop can hold: each kind in the past tense, with its version and its fields.

A person's name and licence number stand in no entry: they lie beside it, and the entry holds only the commitment to
them. A public key is written as 64 hexadecimal figures, a time in UTC.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from tenthbook.record.ledger import Fields, Kind

KEY = r"^[0-9a-f]{64}$"
TIME = r"^[0-9]{4}-[01][0-9]-[0-3][0-9]T[0-2][0-9]:[0-5][0-9]:[0-5][0-9]Z$"
Role = Literal["mechanic", "inspector", "owner", "administrator"]


class ShopOpened(Fields):
    """Entry 0 of a shop's stream."""

    stream: str = Field(description="id of the shop's stream", min_length=1, max_length=60)
    installation: str = Field(description="id of the installation that opened it", min_length=1, max_length=60)
    name: str = Field(description="name of the shop, as it stands on its papers", min_length=1, max_length=200)
    invented: bool = Field(description="true for a demonstration: every page and paper then says so")


class PersonEnrolled(Fields):
    """Somebody who works here from now on, or comes back."""

    person: str = Field(description="id of the person", min_length=1, max_length=60)
    roles: list[Role] = Field(description="what the person may do here: one role or more", max_length=4)
    details_detached: str = Field(
        default="", description="commitment to name and licence number; empty: none", pattern=r"^([0-9a-f]{64})?$"
    )


class RolesChanged(Fields):
    """Other roles for somebody who works here."""

    person: str = Field(description="id of the person", min_length=1, max_length=60)
    roles: list[Role] = Field(description="what the person may do from now on: one role or more", max_length=4)
    reason: str = Field(description="why", min_length=1, max_length=2000)


class PersonLeft(Fields):
    """Somebody who works here no more; what was recorded and signed stands."""

    person: str = Field(description="id of the person", min_length=1, max_length=60)
    reason: str = Field(description="why", min_length=1, max_length=2000)


class KeyMade(Fields):
    """A key its person made; it counts once somebody has vouched for it."""

    person: str = Field(description="id of the person whose key it is", min_length=1, max_length=60)
    public_key: str = Field(description="public half of the key", pattern=KEY)


class KeyEndorsed(Fields):
    """Somebody who vouches, by signature, that a key is that person's."""

    person: str = Field(description="id of the person whose key it is", min_length=1, max_length=60)
    endorsed_key: str = Field(description="public half of the key vouched for", pattern=KEY)
    says: str = Field(
        description="how that is known, such as: I know this person and compared the fingerprint with them",
        min_length=1,
        max_length=2000,
    )
    key: str = Field(description="public key of the signer", pattern=KEY)


class KeyRevoked(Fields):
    """A key that is trusted no more."""

    person: str = Field(description="id of the person whose key it was", min_length=1, max_length=60)
    revoked_key: str = Field(description="public half of the key", pattern=KEY)
    reason: str = Field(description="why, such as: tablet lost", min_length=1, max_length=2000)
    since: str = Field(description="from when its signatures are not trusted, UTC", pattern=TIME)
    key: str = Field(description="public key of the signer", pattern=KEY)


class HeadAnchored(Fields):
    """How far another stream had come: whoever cuts that stream short is found out here."""

    of_stream: str = Field(description="id of the other stream", min_length=1, max_length=100)
    number: int = Field(description="number of its last entry", ge=0)
    head: str = Field(description="hash of that entry", pattern=KEY)


class BlobWithheld(Fields):
    """Bytes beside an entry that were taken away lawfully."""

    of_stream: str = Field(description="stream of the entry that named them", min_length=1, max_length=100)
    entry: int = Field(description="number of that entry", ge=0)
    commitment: str = Field(description="the commitment by which it named them", pattern=KEY)
    reason: str = Field(description="why they were taken away", min_length=1, max_length=2000)
    ground: str = Field(description="the law, or the order, that asks it", min_length=1, max_length=2000)


class Noted(Fields):
    """Words for whoever comes next."""

    text: str = Field(description="the note", min_length=1, max_length=4000)


SHOP_KINDS: dict[str, Kind] = {
    "shop opened": Kind(1, ShopOpened),
    "person enrolled": Kind(1, PersonEnrolled),
    "roles changed": Kind(1, RolesChanged),
    "person left": Kind(1, PersonLeft),
    "key made": Kind(1, KeyMade),
    "key endorsed": Kind(1, KeyEndorsed),
    "key revoked": Kind(1, KeyRevoked),
    "head anchored": Kind(1, HeadAnchored),
    "blob withheld": Kind(1, BlobWithheld),
    "noted": Kind(1, Noted),
}
