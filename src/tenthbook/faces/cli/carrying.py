"""What `backup`, `restore` and `move` share: writing all that is held into a file, and taking it in elsewhere."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from tenthbook.faces.cli.output import FINDINGS, CannotWrite, say, tell

if TYPE_CHECKING:
    from tenthbook.record.bench import Bench
    from tenthbook.record.ledger import Store
    from tenthbook.record.ledger.backup import Backup, Summary


def without_setting() -> str:
    """Say that the setting of a server goes before any data folder that is named.

    Returns:
        The words; empty where there is no such setting.
    """
    from tenthbook.faces.store.place import SETTING

    return f", without {SETTING}" if os.environ.get(SETTING) else ""


def summary_line(summary: Summary) -> str:
    """Say what a backup holds.

    Args:
        summary: What it holds.

    Returns:
        One line.
    """
    counts = f"{summary.entries} entries in {summary.streams} streams, {summary.kept} pieces kept"
    beside = f"{summary.attached} beside the entries, {summary.withheld} withheld"
    return f"{counts}, {beside}, {summary.boxes} closed keys, {summary.accounts} log-ins"


def write_all(store: Store, target: Path) -> Summary:
    """Write all that a store holds into a file, while others go on recording; prove it; then let it appear.

    Args:
        store: The store.
        target: The file.

    Returns:
        What it holds.

    Raises:
        CannotWrite: no room, or a folder that cannot be written.
        BrokenBackup: what was written is not what was to be written.
    """
    from tenthbook.record.ledger.backup import read_backup, write_backup

    part = target.with_name(f".{target.name}.part")
    try:
        with part.open("w+b") as file:
            with store.holdings() as held:
                summary = write_backup(file, held)
            file.flush()
            os.fsync(file.fileno())
            read_backup(file)
        part.replace(target)
    except OSError as error:
        expected = "a file that can be written, with room for it"
        raise CannotWrite(found=f"{target}: {error.strerror or error}", expected=expected) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    return summary


@contextmanager
def proved_backup(file: BinaryIO) -> Iterator[Backup]:
    """Read and prove a backup; a broken one ends the command with what is wrong, and nothing was taken in.

    Args:
        file: The file.

    Yields:
        The backup.
    """
    from tenthbook.record.ledger.backup import BrokenBackup, read_backup

    try:
        yield read_backup(file)
    except BrokenBackup as broken:
        tell(f"{broken}\nnothing was taken in")
        raise SystemExit(FINDINGS) from broken


def take_in(bench: Bench, backup: Backup) -> None:
    """Take a proved backup into an empty store, make the tables anew, and prove every chain there.

    Args:
        bench: The bench over the empty store.
        backup: The backup.

    Raises:
        NotEmpty: the store holds something.
    """
    from tenthbook.record.bench.proving import prove_store

    bench.store.load(backup.holdings())
    rows = bench.rebuild()
    say(summary_line(backup.summary))
    proofs = prove_store(bench.store, bench.people)
    for one in proofs:
        say(f"{one.stream}: {one.finding}")
    for finding in backup.findings:
        tell(finding)
    say(f"{rows} rows of readings, dispositions and the use of tools made anew")
    if not all(one.finding.whole for one in proofs):
        raise SystemExit(FINDINGS)
