"""A process that records notes until it is stopped, and says of each what was acknowledged.

    python writer.py FOLDER DATABASE NAME COUNT [--pause SECONDS] [--blocks BYTES] [--same REQUESTS]

It prints "ready", then a line an answer: "ACK request number hash", or "NO request what-was-said". COUNT 0 goes on for
ever. With `--blocks` no file of the process may grow beyond so many bytes: the disk is full there. DATABASE is the
setting; an empty text is the file in FOLDER. With `--same` every request is sent so many times.
"""

from __future__ import annotations

import argparse
import itertools
import os
import resource
import signal
import time
from pathlib import Path

from tenthbook.faces.store.database import open_store, utc_now
from tenthbook.numbers.because import TenthbookError
from tenthbook.record.ledger import Draft

STREAM = "job-1"


def answer(line: str) -> None:
    """Give an answer whole, in one call of the system.

    Args:
        line: The answer.
    """
    os.write(1, f"{line}\n".encode())


def main() -> None:
    """Record until stopped."""
    words = argparse.ArgumentParser()
    words.add_argument("folder", type=Path)
    words.add_argument("database")
    words.add_argument("name")
    words.add_argument("count", type=int)
    words.add_argument("--pause", type=float, default=0.0)
    words.add_argument("--blocks", type=int, default=0)
    words.add_argument("--same", type=int, default=1)
    asked = words.parse_args()
    store = open_store(asked.folder, database=asked.database or None)
    if asked.blocks:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (asked.blocks, asked.blocks))
    answer("ready")
    for number in itertools.count() if asked.count == 0 else range(asked.count):
        request = f"{asked.name}-{number}"
        draft = Draft("noted", 1, asked.name, request, "", utc_now(), {"text": f"note {number} " + "x" * 200})
        for _ in range(asked.same):
            try:
                entry = store.append(STREAM, draft, lambda _since: None)
                answer(f"ACK {request} {entry.number} {entry.hash}")
            except TenthbookError as error:
                answer(f"NO {request} " + str(error).replace("\n", " "))
        time.sleep(asked.pause)


if __name__ == "__main__":
    main()
