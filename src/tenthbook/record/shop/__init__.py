"""Who works here, by which key and in which role; where heads were anchored; what was withheld.

- `kinds`: the facts the shop's stream can hold;
- `roles`: the roles, and which kind of entry each may record;
- `state` and `fold`: who works here and how each key stands; the fold never refuses history;
- `rules` and `admission`: what may be recorded in the shop, who may record what in a job, and whose key signs.

A key counts once a second person has vouched for it: another person with another key. Where nobody in the shop can
sign, a key vouches for itself, and every paper says so until another person does. A revocation names the time from
which the key is distrusted; whom it vouched for from then on, by the store's clock, is vouched for no more.

A bench where nobody is enrolled is a bench without people: everybody may record there and nobody can sign.

Not here: how a key is closed with its phrase and how a body is signed (the ledger does that), and whether a second look
is independent of the work (the job asks that). Whether an authority accepts such a signature is the authority's
decision.
"""

from tenthbook.record.shop.admission import admit_shop, refuse_by_role, refuse_signature
from tenthbook.record.shop.fold import fold_shop
from tenthbook.record.shop.kinds import SHOP_KINDS
from tenthbook.record.shop.roles import ROLE_OF_ACT, ROLES, roles_for
from tenthbook.record.shop.rules import RULES
from tenthbook.record.shop.state import (
    Anchor,
    Endorsement,
    KeyStanding,
    Person,
    PersonKey,
    Revocation,
    ShopState,
    Withholding,
)

__all__ = [
    "ROLES",
    "ROLE_OF_ACT",
    "RULES",
    "SHOP_KINDS",
    "Anchor",
    "Endorsement",
    "KeyStanding",
    "Person",
    "PersonKey",
    "Revocation",
    "ShopState",
    "Withholding",
    "admit_shop",
    "fold_shop",
    "refuse_by_role",
    "refuse_signature",
    "roles_for",
]
