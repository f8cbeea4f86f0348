"""The story served with its record, and what the tests of the record and of the signing page do on them."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Locator, Page

from tenthbook.faces.store.database import open_store
from tenthbook.faces.story import StoryClock
from tenthbook.faces.story.founding import invented_key
from tenthbook.record.bench import Bench
from tenthbook.record.job import JobState
from tenthbook.record.ledger import Entry, fingerprint, public_key_of
from tests.builders import close_database
from tests.told import book_of, played
from tests.told import script as told
from tests.web.conftest import House, Shop
from tests.web.served import served

PICTURES = os.environ.get("TENTHBOOK_PICTURES")
AXE = Path(__file__).parent / "vendor" / "axe.min.js"
STORY = "0400"
SHAFT = ("P-0212-6", "size.shaft")
PHRASE = "invented phrase, known to everybody: mechanic"
PRINT = fingerprint(public_key_of(invented_key("mechanic")))
TOUCHED = 64
"""Least height of what is touched with gloves on [px]."""
DENSE = 48
"""Least height of what is touched within a dense list [px]."""

CUT_OFF = """[...document.querySelectorAll('main :not(.spoken)')].filter(one => one.scrollWidth > one.clientWidth + 1)
    .filter(one => getComputedStyle(one).display != 'inline').map(one => one.outerHTML.slice(0, 120))"""
"""Finds what is wider than its own box."""
TOUCHABLE = """
    [...document.querySelectorAll('main :is(a, button, summary, select, .acts > label, .choice, input)')]
    .filter(one => one.offsetHeight && !['checkbox', 'radio'].includes(one.type))
    .map(one => [one.outerHTML.slice(0, 120), one.getBoundingClientRect().height])"""
"""Lists what is touched, with its height [px]; of a box to tick, the label around it."""


@contextmanager
def story_served(folder: Path) -> Iterator[House]:
    """Serve a folder in which the whole story was played under another id; each test works in a job of its own."""
    script = told('job = "0417"', f'job = "{STORY}"')
    clock = StoryClock()
    bench = Bench(open_store(folder, clock=clock))
    clock.now = script.opened_at
    played(script, bench, clock)
    with served(folder) as url:
        yield House(url, bench, script, book_of(script))
    close_database()


def state_of(shop: Shop) -> JobState:
    """The job as it stands."""
    return shop.house.bench.state(shop.job)


def click(page: Page, what: str) -> None:
    """Press a button or follow a link, and wait until the page that answers is whole."""
    with page.expect_navigation():
        page.click(what)


def line_of(page: Page, number: int) -> Locator:
    """What the record shows of an entry."""
    return page.locator(f"#entry-{number}")


def record_of(shop: Shop) -> str:
    """Address of the job's record."""
    return f"{shop.page}record/"


def signed_in(shop: Shop) -> list[Entry]:
    """The signatures of a job."""
    return [one for one in state_of(shop).entries if one.kind == "signed"]


def read_shaft(shop: Shop, value: str = "0.5094 in") -> Entry:
    """A reading of the shaft, from the outside."""
    return shop.read(*SHAFT, value, "M1")


def review(page: Page, shop: Shop, *numbers: int, as_what: str = "own work", record: str = "") -> None:
    """Choose acts on the record page and go to their statement."""
    page.goto(record or record_of(shop))
    page.click("summary:has-text('sign for acts')")
    for number in numbers:
        page.check(f".acts input[value='{number}']")
    page.select_option("#as-what", as_what)
    click(page, "text=review the statement")


def sign(page: Page, phrase: str = PHRASE) -> None:
    """Type the phrase and press the button that signs."""
    page.fill("#phrase", phrase)
    click(page, "button[value=sign]")


def faults_on(page: Page) -> list[str]:
    """What the page says was wrong."""
    return page.locator(".faults li").all_inner_texts()


def kept_on(page: Page) -> list[str]:
    """The acts that the signing page would sign for, then as what."""
    numbers = [str(one.get_attribute("value")) for one in page.locator("input[name=entries]").all()]
    return [*numbers, page.locator("input[name=as_what]").input_value()]


def check_page(page: Page, picture: str) -> None:
    """No finding of the accessibility checker, nothing wider than the screen, and targets for a gloved finger."""
    if PICTURES:
        page.screenshot(path=Path(PICTURES) / f"{picture}.png", full_page=True)
    page.evaluate(AXE.read_text(encoding="utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = page.evaluate("tags => axe.run({runOnly: {type: 'tag', values: tags}})", tags)
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    assert page.evaluate(CUT_OFF) == []
    touched = page.evaluate(TOUCHABLE)
    assert len(touched) >= 4
    assert [html for html, height in touched if height < (DENSE if 'class="mend"' in html else TOUCHED)] == []


def stops(page: Page, count: int) -> list[str]:
    """Where the focus goes, key by key."""
    where = "one => one.id || one.value || one.textContent.trim()"
    found = []
    for _ in range(count):
        page.keyboard.press("Tab")
        focused = page.locator(":focus")
        assert focused.evaluate("one => getComputedStyle(one).outlineStyle != 'none'")
        found.append(str(focused.evaluate(where)))
    return found
