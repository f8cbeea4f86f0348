"""A real browser against the real server, each on this machine and started by the tests themselves."""

from __future__ import annotations

import itertools
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tenthbook.faces.store.database import open_store
from tenthbook.faces.story import Script, StoryClock, transcribe
from tenthbook.record.bench import Bench
from tenthbook.record.book import Book
from tenthbook.record.ledger import Entry
from tests.builders import close_database
from tests.told import book_of
from tests.told import script as told
from tests.web.served import served

# The browser's driver keeps an event loop in this thread; the store is used from the same thread all the same.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
ROOT = Path(__file__).parents[2]
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
SIZES = {"tablet": (1024, 768), "narrow": (320, 640)}
LOOKS = [
    pytest.param("tablet", False, id="tablet-light"),
    pytest.param("narrow", True, id="narrow-dark"),
    pytest.param("tablet", True, id="tablet-dark", marks=pytest.mark.soak),
    pytest.param("narrow", False, id="narrow-light", marks=pytest.mark.soak),
]
"""Screens and light that a page is looked at in; every pair of them in the long run."""
OpenPage = Callable[..., Page]


@dataclass(frozen=True)
class House:
    """A served data folder, with room for many jobs.

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


@dataclass(frozen=True)
class Shop:
    """One job of a served folder: the story's parts and gauges lie on its bench, nothing is read yet.

    Attributes:
        house: The folder that is served.
        job: Id of the job.
    """

    house: House
    job: str

    @property
    def page(self) -> str:
        """Address of the job's page, with its last stroke."""
        return f"{self.house.url}job/{self.job}/"

    def record(self, kind: str, data: dict[str, object]) -> Entry:
        """Record from the outside, past the page."""
        number = self.house.bench.state(self.job).number
        act = {"person": "mechanic", "request": f"outside-{number}", "acted_at": self.house.script.opened_at}
        return self.house.bench.record(self.job, kind, data, **act)

    def read(self, tag: str, row: str, value: str, gauge: str = "") -> Entry:
        """Take a reading from the outside."""
        return self.record("reading taken", {"tag": tag, "row": row, "value": value, "gauge": gauge})


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    """Serve a fresh folder; a module shares it, and each of its tests works in a job of its own."""
    script = told()
    book = book_of(script)
    folder = tmp_path_factory.mktemp("shop")
    clock = StoryClock()
    clock.now = script.opened_at
    bench = Bench(open_store(folder, clock=clock))
    list(transcribe(script, book, bench, clock))
    clock.now = script.opened_at
    with served(folder) as url:
        yield House(url, bench, script, book)
    close_database()


NUMBERS = itertools.count(417)


@pytest.fixture
def shop(house: House) -> Shop:
    """Open a job of its own, with the story's parts and gauges on the bench."""
    job = f"{next(NUMBERS):04d}"
    who = {"person": house.script.opened_by, "acted_at": house.script.opened_at}
    house.bench.open_job(job, house.book, house.script.opened, request="open", **who)
    for act in house.script.acts:
        for number, line in enumerate(act.lines):
            in_the_pump = act.act > 1 and line.does in ("part removed", "gauge set") and act.act < 6
            if line.does == "cover removed" or in_the_pump:
                act_of_line = {"person": line.who, "request": f"{act.act}.{number}", "acted_at": line.at}
                house.bench.record(job, line.does, line.fields, **act_of_line)
    return Shop(house, job)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Start Debian's Chromium, headless."""
    assert Path(CHROMIUM).exists(), f"found no browser at {CHROMIUM}; sh dev test installs it"
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def open_page(browser: Browser) -> Iterator[OpenPage]:
    """Open a page: `open_page(size="narrow")`; `script` is for the checker alone, the pages carry none."""
    contexts = []

    def opened(*, script: bool = False, size: str = "tablet", dark: bool = False) -> Page:
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height},
            java_script_enabled=script,
            bypass_csp=script,
            color_scheme="dark" if dark else "light",
        )
        contexts.append(context)
        return context.new_page()

    yield opened
    for context in contexts:
        context.close()
