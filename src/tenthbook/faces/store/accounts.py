"""Log-ins: which account stands for which person. A log-in opens pages; it signs nothing."""

from __future__ import annotations

from tenthbook.faces.store.faults import said_plainly
from tenthbook.numbers.because import TenthbookError

SHORTEST = 12


class BadLogIn(TenthbookError):
    """A log-in that cannot be made or changed."""


def set_log_in(person: str, password: str) -> None:
    """Make a person's log-in, or change its password.

    Args:
        person: Id of the person, which is also the name of the account.
        password: At least 12 signs; stored stretched.

    Raises:
        BadLogIn: a password that is too short.
    """
    from django.contrib.auth.models import User
    from django.db import transaction

    from tenthbook.faces.store.models import Account

    if len(password.strip()) < SHORTEST:
        found = f"a password of {len(password.strip())} signs"
        raise BadLogIn(found=found, expected=f"{SHORTEST} or more; a few words are best")
    with said_plainly(writing=True), transaction.atomic():
        user, _ = User.objects.get_or_create(username=person)
        user.set_password(password)
        user.is_active = True
        user.save()
        Account.objects.get_or_create(user=user, defaults={"person": person})


def close_log_in(person: str) -> None:
    """Let a person's log-in open nothing any more.

    Args:
        person: Id of the person.
    """
    from django.contrib.auth.models import User

    with said_plainly(writing=True):
        User.objects.filter(account__person=person).update(is_active=False)


def is_log_in(person: str, password: str) -> bool:
    """Ask whether a text is the password of a person's log-in.

    Args:
        person: Id of the person.
        password: The text.

    Returns:
        True where it is; False without a log-in.
    """
    from django.contrib.auth.models import User

    with said_plainly(writing=False):
        return any(user.check_password(password) for user in User.objects.filter(account__person=person))


def log_ins() -> dict[str, bool]:
    """List the log-ins.

    Returns:
        By person, whether the log-in is open.
    """
    from tenthbook.faces.store.models import Account

    with said_plainly(writing=False):
        return dict(Account.objects.order_by("person").values_list("person", "user__is_active"))
