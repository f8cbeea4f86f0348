"""Which role may record which kind of entry.

What this table does not name is work on an engine, and work is recorded by a mechanic or an inspector: a kind that is
new falls on the careful side. The shop's instruments are kept by whoever works with them, and by an administrator.
Whether a second look is independent of the work is the job's own question.
"""

from __future__ import annotations

from typing import get_args

from tenthbook.record.shop.kinds import Role

ROLES: tuple[str, ...] = get_args(Role)
WORK = ("mechanic", "inspector")
_CUSTOMER = ("mechanic", "inspector", "owner")
_CRIB = ("mechanic", "inspector", "administrator")
_ADMINISTRATOR = ("administrator",)
ROLE_OF_ACT: dict[str, tuple[str, ...]] = {
    "noted": ROLES,
    "extra finding approved": _CUSTOMER,
    "price accepted": _CUSTOMER,
    "look declined": _CUSTOMER,
    "tools opened": _CRIB,
    "instrument registered": _CRIB,
    "calibrated": _CRIB,
    "instrument withdrawn": _CRIB,
    "instrument returned to use": _CRIB,
    "shop opened": ROLES,
    "person enrolled": _ADMINISTRATOR,
    "roles changed": _ADMINISTRATOR,
    "person left": _ADMINISTRATOR,
    "blob withheld": _ADMINISTRATOR,
    "key made": ROLES,
    "key endorsed": ROLES,
    "key revoked": ROLES,
    "head anchored": ROLES,
}


def roles_for(kind: str) -> tuple[str, ...]:
    """Say whose act a kind of entry is.

    Args:
        kind: Kind of an entry, of a job, of the tools or of the shop.

    Returns:
        The roles that may record it; mechanic and inspector for what the table does not name.
    """
    return ROLE_OF_ACT.get(kind, WORK)
