"""Before each answer the entry was synced to the disk: traced from outside, system call by system call."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.builders import close_database
from tests.faults.stage import start


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A data folder whose connections are closed afterwards."""
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path))
    yield tmp_path / "data"
    close_database()


def test_one_sync_stands_before_each_answer(folder: Path, tmp_path: Path) -> None:
    """Between two answers the log of the database is written and synced, in this order, every time."""
    from tenthbook.faces.store.database import open_store

    tracer = shutil.which("strace")
    assert tracer, "strace is needed: on Debian, apt-get install strace"
    open_store(folder)
    close_database()
    trace = tmp_path / "trace"
    calls = "trace=fsync,fdatasync,write,pwrite64"
    writer = start(folder, "", "traced", 5, before=[tracer, "-f", "-y", "-s", "40", "-e", calls, "-o", str(trace)])
    writer.end()
    assert len(writer.acknowledged) == 5
    order = []
    for line in trace.read_text(encoding="utf-8", errors="replace").splitlines():
        if re.search(r'write\(1<.*"ACK ', line):
            order.append("answer")
        elif re.search(r"(fsync|fdatasync)\(\d+<.*shop\.sqlite3-wal>\)\s*= 0", line):
            order.append("sync")
        elif re.search(r"pwrite64\(\d+<.*shop\.sqlite3-wal>", line):
            order.append("log")
    steps = "".join({"answer": "A", "sync": "s", "log": "l"}[step] for step in order)
    answers = re.findall(r"[ls]*A", steps)
    assert len(answers) == 5
    assert all(re.fullmatch(r"[ls]*l+s+A", part) for part in answers), steps
