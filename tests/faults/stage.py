"""Starts writers as processes of their own, hears what was acknowledged, kills them, and looks at what is there.

In: a folder and a database setting. Out: acknowledgements, and the chain as it lies in the store.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO

from tenthbook.record.ledger import Store
from tenthbook.record.ledger.proof import prove_stream

HERE = Path(__file__).parent
STREAM = "job-1"


@dataclass
class Writer:
    """A process that records.

    Attributes:
        process: The process.
        complaints: What it writes to its standard error.
        acknowledged: Number and hash by request, as it was answered.
        refused: What was said of a request that was not recorded.
    """

    process: subprocess.Popen[str]
    complaints: IO[str]
    acknowledged: dict[str, tuple[int, str]] = field(default_factory=dict)
    refused: dict[str, str] = field(default_factory=dict)
    ready: threading.Event = field(default_factory=threading.Event)
    _reader: threading.Thread | None = None

    def listen(self) -> None:
        """Hear its answers in a thread of their own."""
        self._reader = threading.Thread(target=self._hear, daemon=True)
        self._reader.start()

    def _hear(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            word, *rest = line.rstrip("\n").split(" ", 3)
            if not line.endswith("\n"):
                return  # killed in the middle of an answer: it was not heard
            if word == "ready":
                self.ready.set()
            elif word == "ACK":
                self.acknowledged[rest[0]] = (int(rest[1]), rest[2])
            elif word == "NO":
                self.refused[rest[0]] = " ".join(rest[1:])

    def end(self, timeout: float = 60) -> None:
        """Wait for it, and hear it out."""
        self.process.wait(timeout)
        assert self._reader is not None
        self._reader.join(timeout)
        assert self.process.stdout is not None
        self.process.stdout.close()
        self.complaints.close()

    def complained(self) -> str:
        """Give the end of what it complained of.

        Returns:
            The last lines of its standard error.
        """
        self.complaints.seek(0)
        return self.complaints.read()[-2000:]

    def kill(self) -> None:
        """Stop it as the power does."""
        self.process.kill()
        self.end()


def start(folder: Path, database: str, name: str, count: int = 0, *words: str, before: Sequence[str] = ()) -> Writer:
    """Start a writer.

    Args:
        folder: The data folder.
        database: The setting; empty for the file in the folder.
        name: Its name, which begins its requests.
        count: How many notes; 0 for as many as it can.
        words: Further options of `writer.py`.
        before: What the process is started under, such as a tracer.

    Returns:
        The writer, listening.
    """
    roots = [str(HERE.parents[1] / "src"), str(HERE.parents[1])]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(roots), "TENTHBOOK_DATABASE": database}
    command = [*before, sys.executable, str(HERE / "writer.py"), str(folder), database, name, str(count), *words]
    complaints = tempfile.TemporaryFile("w+", encoding="utf-8")  # noqa: SIM115 - closed when the writer is heard out
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=complaints, text=True, env=environment)
    writer = Writer(process, complaints)
    writer.listen()
    return writer


def wait_for(writers: Sequence[Writer], acknowledged: int, timeout: float = 60) -> None:
    """Wait until so many answers came.

    Args:
        writers: The writers.
        acknowledged: How many answers from all of them.
        timeout: How long at most [s].

    Raises:
        TimeoutError: they did not come.
    """
    until = time.monotonic() + timeout
    while sum(len(writer.acknowledged) for writer in writers) < acknowledged:
        if time.monotonic() > until or all(one.process.poll() is not None for one in writers):
            came = sum(len(one.acknowledged) for one in writers)
            said = "; ".join(one.complained() for one in writers)
            raise TimeoutError(f"{came} of {acknowledged} answers came; {said}")
        time.sleep(0.002)


def look(store: Store, writers: Sequence[Writer]) -> int:
    """Hold what is there against what was acknowledged.

    Args:
        store: The store, opened anew.
        writers: Every writer that wrote into it.

    Returns:
        How many entries there are.

    Raises:
        AssertionError: an acknowledged entry is lost or another, the chain is not whole, a number twice or missing.
    """
    entries = store.entries(STREAM)
    by_request = {entry.draft.request: (entry.number, entry.hash) for entry in entries}
    assert len(by_request) == len(entries), "a request stands twice"
    assert [entry.number for entry in entries] == list(range(len(entries))), "a gap, or a number twice"
    for writer in writers:
        lost = {request for request, what in writer.acknowledged.items() if by_request.get(request) != what}
        assert not lost, f"acknowledged and not there as it was answered: {sorted(lost)[:5]}"
    found = prove_stream(store.rows(STREAM), STREAM)
    assert found.whole, str(found)
    return len(entries)
