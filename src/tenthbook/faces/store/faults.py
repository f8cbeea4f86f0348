"""What is said when the database does not take an act, or cannot be read."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from tenthbook.numbers.because import TenthbookError

_GONE = ("08", "57P")  # SQLSTATE classes: the connection is lost; the server goes down


class NotRecorded(TenthbookError):
    """An act that the database did not take; nothing of it is recorded."""


class AnswerLost(TenthbookError):
    """An act whose end nobody heard: it is recorded whole, or not at all."""


class CannotRead(TenthbookError):
    """A database that cannot be read."""


@dataclass
class AtWork:
    """How far an act has come.

    Attributes:
        committing: True once nothing is left but to commit it.
    """

    committing: bool = False


def _why(error: Exception) -> str:
    words = str(error).strip().splitlines()
    return f"the database: {words[0] if words else type(error).__name__}"


def _nobody_heard(error: Exception) -> bool:
    """Whether a server went away without saying what became of a commit; a file says it always."""
    from django.db import connection

    state = getattr(error.__cause__, "sqlstate", None)
    return connection.vendor == "postgresql" and (state is None or str(state).startswith(_GONE))


def _not_recorded(error: Exception, at_work: AtWork) -> TenthbookError:
    from django.db import InterfaceError, OperationalError

    passing = isinstance(error, OperationalError | InterfaceError)
    if at_work.committing and passing and _nobody_heard(error):
        todo = "send it again, with the same request id: it is recorded once, whether it was before or not"
        return AnswerLost(found=_why(error), expected="an answer to the commit", todo=todo)
    todo = "nothing was recorded; send it again, with the same request id"
    if not passing:
        todo = "nothing was recorded; once that is mended, send it again, with the same request id"
    expected = "a database with room, that can be written and is not held by another"
    return NotRecorded(found=_why(error), expected=expected, todo=todo)


@contextmanager
def said_plainly(*, writing: bool) -> Iterator[AtWork]:
    """Turn the database's errors into the book's.

    Args:
        writing: True where an act is recorded, False where something is read.

    Yields:
        How far the act has come, to be kept up to date; what is done inside is guarded.

    Raises:
        NotRecorded: the database did not take the act.
        AnswerLost: a server went away while it committed the act.
        CannotRead: the database cannot be read.
    """
    from django.db import DatabaseError, InterfaceError, connection

    at_work = AtWork()
    try:
        yield at_work
    except (DatabaseError, InterfaceError) as error:
        said = _not_recorded(error, at_work) if writing else _cannot_read(error)
        if not connection.in_atomic_block:
            connection.close()  # a connection that failed may be a dead one; the next act opens its own
        raise said from error


def _cannot_read(error: Exception) -> TenthbookError:
    todo = "look at the disk, or whether the server runs"
    return CannotRead(found=_why(error), expected="one that can be read", todo=todo)
