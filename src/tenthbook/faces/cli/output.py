"""Where results and messages go, and what an exit code means."""

from __future__ import annotations

import getpass
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tenthbook.numbers.because import Refused, TenthbookError
from tenthbook.numbers.because.errors import one_line

if TYPE_CHECKING:
    from tenthbook.record.bench import Bench

FINDINGS = 1
MISUSE = 2
ENROL_YOURSELF = "enrol yourself: tenthbook user add YOUR-ID --role mechanic --role administrator"
INVENTED = "Invented data. Not for any engine."


def say(text: str = "") -> None:
    """Write a line of the result.

    Args:
        text: The line; what would steer a terminal is written as its escape.
    """
    click.echo(_shown(text))


def tell(text: str) -> None:
    """Write a message to standard error.

    Args:
        text: The message; what would steer a terminal is written as its escape.
    """
    click.echo(_shown(text), err=True)


def _shown(text: str) -> str:
    if text.replace("\n", "").isprintable():
        return text
    return "\n".join(one_line(line) for line in text.split("\n"))


def say_json(value: Any) -> None:
    """Write a result as one JSON value.

    Args:
        value: Objects, lists, text, whole numbers, true, false and None.
    """
    import json

    text = json.dumps(value, ensure_ascii=False, indent=2)
    click.echo("".join(sign if sign.isprintable() or sign == "\n" else f"\\u{ord(sign):04x}" for sign in text))


@contextmanager
def plain_errors() -> Iterator[None]:
    """Turn this book's errors into messages and exit codes, without a stack trace.

    Yields:
        Nothing; what is done inside is guarded.
    """
    try:
        yield
    except Refused as refused:
        tell(str(refused))
        raise SystemExit(FINDINGS) from refused
    except TenthbookError as error:
        tell(str(error))
        raise SystemExit(MISUSE) from error
    except OSError as error:
        tell(f"found {error.filename or 'a file'}: {error.strerror or error}; expected a name that can be used")
        raise SystemExit(MISUSE) from error


def open_bench(ctx: click.Context, *, settings: str = "tenthbook.faces.store.settings") -> Bench:
    """Open the store that the options name.

    Args:
        ctx: Click's context.
        settings: Django settings module to start with.

    Returns:
        The bench over that store.
    """
    from tenthbook.faces.store.database import open_store
    from tenthbook.faces.store.folder import data_folder
    from tenthbook.record.bench import Bench

    folder: Path = ctx.obj["data"] or data_folder()
    ctx.obj["bench"] = bench = Bench(open_store(folder, settings=settings))
    return bench


def open_shop(ctx: click.Context) -> Bench:
    """Open the store that the options name, for what only a shop with people can do.

    Args:
        ctx: Click's context.

    Returns:
        The bench over that store.

    Raises:
        NobodyYet: nobody is enrolled.
    """
    bench = open_bench(ctx)
    if not bench.people.state().people:
        raise NobodyYet(found="nobody enrolled here", expected="a shop with people", todo=ENROL_YOURSELF)
    return bench


def as_enrolled(bench: Bench, person: str) -> str:
    """Write the id of a person as it was enrolled, since keys and log-ins lie under it to the letter.

    Args:
        bench: The bench.
        person: The id as typed.

    Returns:
        The id as enrolled; as typed for somebody who never was.
    """
    known = bench.people.state().find(person)
    return known.id if known is not None else person


def act_of(ctx: click.Context) -> dict[str, str]:
    """Say who acts, by the id as enrolled, when, and under which request.

    Args:
        ctx: Click's context; the bench that was opened with it, or one that is opened now.

    Returns:
        Person, request and time, as `Bench.record` takes them.
    """
    from tenthbook.faces.store.database import utc_now

    person = as_enrolled(ctx.obj.get("bench") or open_bench(ctx), ctx.obj["person"] or getpass.getuser())
    return {"person": person, "request": uuid.uuid4().hex, "acted_at": utc_now()}


class NobodyYet(TenthbookError):
    """What needs people, where nobody is enrolled."""


class CannotWrite(TenthbookError):
    """A file that cannot be written."""


def check_free(target: Path, *, replace: bool) -> None:
    """Refuse to write over a file that nobody said should give way.

    Args:
        target: The file.
        replace: Whether it gives way.

    Raises:
        CannotWrite: something lies there.
    """
    if (target.exists() or target.is_symlink()) and not replace:
        raise CannotWrite(found=f"{target}, which is there already", expected="a new name, or --replace")


def write_file(target: Path, content: bytes, before: Callable[[], object] | None = None) -> None:
    """Write a file whole or not at all.

    Args:
        target: The file.
        content: Its bytes.
        before: What must succeed first, once the bytes are known to fit on the disk; nothing appears if it raises.

    Raises:
        CannotWrite: the folder cannot be written.
    """
    part = target.with_name(f".{target.name}.part")
    try:
        part.write_bytes(content)
        if before is not None:
            before()
        part.replace(target)
    except OSError as error:
        expected = "a file that can be written"
        raise CannotWrite(found=f"{target}: {error.strerror or error}", expected=expected) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
