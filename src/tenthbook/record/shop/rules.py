"""The rules for people, keys, anchors and what is withheld, each with its source and its two cases.

A rule is a pure predicate on plain facts; `admission` supplies the facts and says what was found.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from datetime import datetime

from tenthbook.numbers.because import Register, Rule
from tenthbook.record.ledger import person_name
from tenthbook.record.shop.kinds import SHOP_KINDS
from tenthbook.record.shop.roles import ROLES, roles_for

RULES = Register()
_OWN = "rule of this book"
_COMMON = "common practice, no source"


_UNSEEN = re.compile("[\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u2800\ufe00-\ufe0f\U000e0100-\U000e01ef]")


def _written_well(person: str) -> bool:
    plain = person == " ".join(person.split()) and person.isprintable() and not _UNSEEN.search(person)
    return bool(person) and plain and unicodedata.normalize("NFKC", person) == person


def _second_person(signer: str, owner: str, key: str, endorsed_key: str, holders: Sequence[str]) -> bool:
    if key == endorsed_key:
        return person_name(signer) == person_name(owner) and not holders
    return person_name(signer) != person_name(owner)


def _one_live(person: str, live: str, key: str, holders: Sequence[str]) -> bool:
    alone = [person_name(one) for one in holders] == [person_name(person)]
    return not live or live == key or (not key and alone)


def _not_later(since: str, acted_at: str) -> bool:
    try:
        return datetime.fromisoformat(since) <= datetime.fromisoformat(acted_at)
    except ValueError:
        return False


FIRST_OPENS = RULES.add(
    Rule(
        id="shop.first-opens",
        says="Entry 0 opens the stream of the shop, and nothing else does.",
        source=_OWN,
        holds=lambda number, kind: (number == 0) == (kind == "shop opened"),
        passes={"number": 0, "kind": "shop opened"},
        fails={"number": 3, "kind": "shop opened"},
        todo="open the shop once, then record in it",
    )
)
KNOWN_KIND = RULES.add(
    Rule(
        id="shop.known-kind",
        says="The shop's stream takes only the kinds of entry this book knows, in the version it writes.",
        source=_OWN,
        holds=lambda kind, version: kind in SHOP_KINDS and SHOP_KINDS[kind].version == version,
        passes={"kind": "key made", "version": 1},
        fails={"kind": "key made", "version": 99},
    )
)
ENROLLED = RULES.add(
    Rule(
        id="person.enrolled",
        says="Whoever acts in a shop, and whoever an entry is about, is enrolled there and has not left.",
        source=_OWN,
        holds=lambda person, people: person_name(person) in [person_name(one) for one in people],
        passes={"person": "Mechanic", "people": ("mechanic", "inspector")},
        fails={"person": "visitor", "people": ("mechanic", "inspector")},
        todo="let an administrator enrol that person first",
    )
)
FIRST_PERSON = RULES.add(
    Rule(
        id="person.first-administrator",
        says="The first person of a shop is enrolled as administrator, by themselves.",
        source=_OWN,
        holds=lambda by, person, roles: person_name(by) == person_name(person) and "administrator" in roles,
        passes={"by": "owner", "person": "owner", "roles": ("owner", "administrator")},
        fails={"by": "owner", "person": "mechanic", "roles": ("mechanic",)},
        todo="enrol yourself first, with the role administrator beside your others",
    )
)
ID_WRITTEN = RULES.add(
    Rule(
        id="person.id-written",
        says="The id of a person is written with visible signs, single blanks between words and none at its ends.",
        source=_OWN,
        holds=_written_well,
        passes={"person": "first mechanic"},
        fails={"person": "first  mechanic "},
        todo="write the id with single blanks and without special signs",
    )
)
ID_NEW = RULES.add(
    Rule(
        id="person.id-new",
        says="No two persons have ids that differ in capitals and blanks only; whoever comes back keeps the old id.",
        source=_OWN,
        holds=lambda person, here, gone: (
            person in gone or person_name(person) not in [person_name(one) for one in (*here, *gone)]
        ),
        passes={"person": "Inspector", "here": ("mechanic",), "gone": ("Inspector",)},
        fails={"person": "Mechanic", "here": ("mechanic",), "gone": ()},
        todo="give the person an id of their own",
    )
)
ROLE_KNOWN = RULES.add(
    Rule(
        id="role.known",
        says="A person has one role or more, each once: mechanic, inspector, owner, administrator.",
        source=_OWN,
        holds=lambda roles: bool(roles) and len(set(roles)) == len(roles) and set(roles) <= set(ROLES),
        passes={"roles": ("mechanic", "administrator")},
        fails={"roles": ()},
        todo="name at least one role",
    )
)
MAY_ACT = RULES.add(
    Rule(
        id="role.may-act",
        says="Work is recorded by mechanic and inspector, approval by the owner too, people by an administrator.",
        source=_OWN,
        holds=lambda kind, roles: any(role in roles_for(kind) for role in roles),
        passes={"kind": "reading taken", "roles": ("mechanic",)},
        fails={"kind": "reading taken", "roles": ("owner",)},
        todo="let a person with that role record it, or an administrator change the roles",
    )
)
LAST_ADMINISTRATOR = RULES.add(
    Rule(
        id="role.last-administrator",
        says="A shop keeps at least one administrator.",
        source=_OWN,
        holds=lambda remaining: bool(remaining),
        passes={"remaining": ("owner",)},
        fails={"remaining": ()},
        todo="give another person the role first",
    )
)
KEY_OWN = RULES.add(
    Rule(
        id="key.own",
        says="A key is made by its own person and by nobody else.",
        source=_COMMON,
        holds=lambda by, person: person_name(by) == person_name(person),
        passes={"by": "mechanic", "person": "mechanic"},
        fails={"by": "administrator", "person": "mechanic"},
        todo="let that person make the key, with a phrase nobody else knows",
    )
)
KEY_NEW = RULES.add(
    Rule(
        id="key.new",
        says="A key belongs to one person and is made once.",
        source=_COMMON,
        holds=lambda key, keys: key not in keys,
        passes={"key": "ab", "keys": ("cd",)},
        fails={"key": "ab", "keys": ("ab", "cd")},
        todo="make another key",
    )
)
ONE_LIVE = RULES.add(
    Rule(
        id="key.one-live",
        says="A person has one live key; only where nobody else can sign is the next one made beside it.",
        source=_OWN,
        holds=_one_live,
        passes={"person": "mechanic", "live": "", "key": "", "holders": ("inspector",)},
        fails={"person": "mechanic", "live": "ab", "key": "", "holders": ("mechanic", "inspector")},
        todo="revoke the older key first",
    )
)
KEY_STANDS = RULES.add(
    Rule(
        id="key.stands",
        says="A key that is endorsed or revoked was made by the person named, and was not revoked before.",
        source=_OWN,
        holds=lambda key, keys: key in keys,
        passes={"key": "ab", "keys": ("ab",)},
        fails={"key": "ab", "keys": ()},
        todo="look the person's keys up again",
    )
)
SECOND_PERSON = RULES.add(
    Rule(
        id="key.second-person",
        says="A key is endorsed by another person with another key; it endorses itself only where no key is live.",
        source="introduction by a person already trusted, fingerprints compared: common practice, no source",
        holds=_second_person,
        passes={
            "signer": "inspector",
            "owner": "mechanic",
            "key": "cd",
            "endorsed_key": "ab",
            "holders": ("inspector",),
        },
        fails={"signer": "Mechanic", "owner": "mechanic", "key": "ab", "endorsed_key": "ab", "holders": ("inspector",)},
        todo="let another person compare the fingerprint and endorse the key",
    )
)
SIGNED_LIVE = RULES.add(
    Rule(
        id="key.signed-live",
        says="A signed act is signed with the live key of the person who acts: endorsed, and not revoked.",
        source=_OWN,
        holds=lambda key, live: bool(live) and key == live,
        passes={"key": "ab", "live": "ab"},
        fails={"key": "ab", "live": ""},
        todo="make a key, have another person endorse it, and sign with that",
    )
)
MAY_REVOKE = RULES.add(
    Rule(
        id="key.may-revoke",
        says="A key is revoked by its own person, an administrator or an inspector.",
        source=_OWN,
        holds=lambda by, owner, roles: (
            person_name(by) == person_name(owner) or "administrator" in roles or "inspector" in roles
        ),
        passes={"by": "inspector", "owner": "mechanic", "roles": ("inspector",)},
        fails={"by": "helper", "owner": "mechanic", "roles": ("mechanic",)},
        todo="tell an administrator or an inspector",
    )
)
SINCE_PAST = RULES.add(
    Rule(
        id="key.since-past",
        says="A key is distrusted from a real time, and none later than the revocation.",
        source=_OWN,
        holds=_not_later,
        passes={"since": "2026-10-02T09:00:00Z", "acted_at": "2026-10-02T12:00:00Z"},
        fails={"since": "2026-10-03T09:00:00Z", "acted_at": "2026-10-02T12:00:00Z"},
        todo="name the last time the key was surely in its person's hands",
    )
)
ANCHOR_GROWS = RULES.add(
    Rule(
        id="anchor.grows",
        says="The heads anchored of one stream go on: each lies further along it than the one before.",
        source=_OWN,
        holds=lambda number, last: number > last,
        passes={"number": 12, "last": 7},
        fails={"number": 7, "last": 7},
        todo="anchor the stream as it stands now",
    )
)
WITHHELD_GROUND = RULES.add(
    Rule(
        id="withheld.ground",
        says="What is taken away is taken away once, for a reason, and on the ground of a law or an order.",
        source=_OWN,
        holds=lambda reason, ground, again: bool(reason.strip()) and bool(ground.strip()) and not again,
        passes={"reason": "asked by the person", "ground": "data protection act, section 4", "again": False},
        fails={"reason": "asked by the person", "ground": " ", "again": False},
        todo="name the law or the order",
    )
)
