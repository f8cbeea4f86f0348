"""A real browser against the real server, each on this machine and started by the tests themselves."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from tenthbook.faces.store.database import open_store
from tenthbook.faces.story import Script, StoryClock, read_script
from tenthbook.record.bench import Bench
from tenthbook.record.book import Book, read_book

# The browser's driver keeps an event loop in this thread; the store is used from the same thread all the same.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
ROOT = Path(__file__).parents[2]
STORY = ROOT / "story"
CHROMIUM = "/usr/bin/chromium"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@dataclass(frozen=True)
class Shop:
    """A served data folder.

    Attributes:
        url: Address of the pages, with its last stroke.
        bench: The same data from the outside.
        script: The demonstration's script.
        book: The demonstration's book.
    """

    url: str
    bench: Bench
    script: Script
    book: Book


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    """Serve a fresh folder in which the story's job is opened and its parts lie on the bench."""
    script = read_script((STORY / "dunlin-four.toml").read_bytes())
    folder = STORY / script.book
    book = read_book({file.name: file.read_bytes() for file in folder.iterdir()})
    clock = StoryClock()
    clock.now = script.opened_at
    bench = Bench(open_store(tmp_path / "shop", clock=clock))
    bench.open_job(script.job, book, script.opened, person="mechanic", request="open", acted_at=clock.now)
    for act in script.acts:
        for number, line in enumerate(act.lines):
            if line.does in ("part removed", "gauge set"):
                who = {"person": line.who, "request": f"{act.act}.{number}", "acted_at": line.at}
                bench.record(script.job, line.does, line.fields, **who)
    command = [sys.executable, "-m", "tenthbook", "serve", "--data", str(tmp_path / "shop"), "--port", "0"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUNBUFFERED": "1"}
    server = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment)
    assert server.stdout is not None
    assert server.stderr is not None
    try:
        url = server.stdout.readline().strip()
        assert url.startswith("http://127.0.0.1:"), server.stderr.read()
        yield Shop(url, bench, script, book)
    finally:
        server.terminate()
        server.wait(timeout=20)
        server.stdout.close()
        server.stderr.close()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Start Debian's Chromium, headless."""
    assert Path(CHROMIUM).exists(), f"found no browser at {CHROMIUM}; sh dev test installs it"
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield started
        started.close()
