"""The server, started by a test on an empty data folder and ended after it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Serve a data folder.

    Args:
        folder: Where the data lie; made where it is missing.

    Yields:
        Address of the pages, with its last stroke.
    """
    command = [sys.executable, "-m", "tenthbook", "serve", "--data", str(folder), "--port", "0"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUNBUFFERED": "1"}
    server = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment)
    assert server.stdout is not None
    assert server.stderr is not None
    try:
        url = server.stdout.readline().strip()
        assert url.startswith("http://127.0.0.1:"), server.stderr.read()
        yield url
    finally:
        server.terminate()
        server.wait(timeout=20)
        server.stdout.close()
        server.stderr.close()
