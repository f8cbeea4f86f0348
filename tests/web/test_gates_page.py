"""The gates of a job, in a real browser without JavaScript: open lines with reasons, what follows, what stands."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tenthbook.faces.story.founding import invented_key
from tenthbook.record.bench.overriding import override_gate, show_gate
from tenthbook.record.ledger import public_key_of
from tenthbook.record.workup import gates_of
from tests.web.conftest import LOOKS, House, Shop
from tests.web.recorded import STORY, check_page, click, faults_on, line_of, read_shaft, state_of, story_served

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
PUMP = "access.pump-cover"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the data of this module lie."""
    return tmp_path_factory.mktemp("gates")


@pytest.fixture(scope="module")
def house(folder: Path) -> Iterator[House]:
    """Serve the whole story; each test works in a job of its own."""
    with story_served(folder) as served_house:
        yield served_house


def gate_on(page: Page, title: str) -> str:
    """Where a gate stands on the page."""
    return f"section[aria-label='{title}']"


def test_every_gate_lists_every_open_line_with_its_reasons(open_page: OpenPage, house: House) -> None:
    """Covers in the order they came off, then the release: each line, and why, entry for entry and row for row."""
    state, book, work = house.bench.look(STORY)
    page = open_page()
    page.goto(f"{house.url}job/{STORY}/gates/")
    gates = gates_of(book, state, work)
    shown = page.locator("section.gate h2").all_inner_texts()
    assert shown == [f"{one.title}: {len(one.opens)} open" for one in gates]
    assert len(gates) >= 5
    assert sum(len(one.opens) for one in gates) > 40
    for gate in gates:
        found = (
            page.locator(gate_on(page, gate.title))
            .locator(".opens > li")
            .evaluate_all(
                "all => all.map(one => [one.querySelector('p').innerText, "
                "...[...one.querySelectorAll('.because li')].map(line => line.textContent)])"
            )
        )
        assert found == [[f"{line.place}\n{line.what}", *line.because.lines()] for line in gate.opens]


def test_reasons_are_folded_until_they_are_asked_for(open_page: OpenPage, house: House) -> None:
    """No reason is in the way; the word opens it, without a script."""
    page = open_page()
    page.goto(f"{house.url}job/{STORY}/gates/")
    first = page.locator(".opens .because").first
    assert not first.locator("ul").is_visible()
    first.locator("summary").click()
    assert first.locator("ul").is_visible()
    assert "rule gate." in first.inner_text()


def test_what_follows_and_what_was_decided_stand_below(open_page: OpenPage, house: House) -> None:
    """All that follows for a part and is not met; every disposition with its reason, its person and its entry."""
    state, _, work = house.bench.look(STORY)
    page = open_page()
    page.goto(f"{house.url}job/{STORY}/gates/")
    follows = page.locator("#follows .opens > li").all_inner_texts()
    expected = [one for one in work.consequences if not one.met]
    assert len(follows) == len(expected) >= 1
    for one, text in zip(expected, follows, strict=True):
        assert text.startswith(one.force.upper())
        assert one.says in text
    decided = page.locator("#decided .opens > li").all_inner_texts()
    assert len(decided) == len(state.dispositions) > 4
    for made, text in zip(state.dispositions.values(), decided, strict=True):
        for words in (made.of, made.word, made.reason, made.person, f"entry {made.entry}"):
            assert words in text


def test_what_is_forced_leads_to_its_decision(open_page: OpenPage, shop: Shop) -> None:
    """A part for a single use says which words are left, and the form opens on that part."""
    shop.record("cover removed", {"cover": "access.screen-plug"})
    tag = shop.record("part removed", {"part": "part.screen-washer"}).data["tag"]
    page = open_page()
    page.goto(f"{shop.page}gates/")
    line = page.locator("#follows .opens > li").filter(has_text=tag).filter(has_text="FORCED")
    assert "replace" in line.first.inner_text()
    with page.expect_navigation():
        line.first.locator("a").click()
    assert page.locator("#in-tag").input_value() == tag


def test_a_decision_in_doubt_says_so(open_page: OpenPage, shop: Shop) -> None:
    """It stands with the entry that put it in doubt."""
    number = read_shaft(shop).number
    tag = state_of(shop).readings[number].tag
    shop.record("disposed", {"tag": tag, "disposition": "hold", "reason": "to ask", "rests_on": [number]})
    fixed = shop.record("corrected", {"entry": number, "fields": {"value": "0.5104 in"}, "reason": "read again"}).number
    page = open_page()
    page.goto(f"{shop.page}gates/")
    assert f"in doubt since entry {fixed}" in page.locator("#decided").inner_text()


def test_a_gate_that_was_overridden_says_by_whom_and_why(open_page: OpenPage, shop: Shop) -> None:
    """The cover that is off and was let to close shows the entry, the person and the reason."""
    bench, gate = shop.house.bench, f"cover:{PUMP}"
    secret = invented_key("inspector")
    act = {"person": "inspector", "request": "override", "acted_at": shop.house.script.opened_at}
    shown = show_gate(bench, shop.job, gate).digest
    keys = (secret, public_key_of(secret))
    entry = override_gate(bench, shop.job, gate, shown, "to ship <it>", lambda: keys, act)
    page = open_page()
    page.goto(f"{shop.page}gates/")
    words = page.locator(f"[id='gate-{PUMP}'] .note").inner_text()
    assert words == f"overridden by entry {entry.number}, inspector: to ship <it>"
    page.click(".note a")
    assert line_of(page, entry.number).is_visible()


def test_closing_over_open_things_is_refused_with_the_way_on(open_page: OpenPage, shop: Shop) -> None:
    """The way from a gate opens the form on its cover; what is open is named by its rules, and nothing is recorded."""
    page, before = open_page(), state_of(shop).head
    page.goto(f"{shop.page}gates/")
    with page.expect_navigation():
        page.locator("section.gate").last.locator("xpath=preceding-sibling::section[1]").locator(
            "text=close it"
        ).click()
    cover = page.locator("#in-cover").input_value()
    assert cover.startswith("access.")
    click(page, "main form button")
    assert faults_on(page)
    assert all("(rule " in fault for fault in faults_on(page))
    assert page.locator("#in-cover").input_value() == cover
    assert state_of(shop).head == before


@pytest.mark.parametrize(("size", "dark"), LOOKS)
def test_the_page_fits_the_screen(open_page: OpenPage, house: House, size: str, dark: bool) -> None:
    """The whole story with every reason open, on a tablet and on 320 px, by day and by night."""
    page = open_page(script=True, size=size, dark=dark)
    page.goto(f"{house.url}job/{STORY}/gates/")
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    check_page(page, f"gates-{size}-{'dark' if dark else 'light'}")


def test_a_missing_job_has_no_gates(open_page: OpenPage, house: House) -> None:
    """An address nobody knows is answered in words."""
    page = open_page()
    answer = page.goto(f"{house.url}job/nothing/gates/")
    assert answer is not None
    assert answer.status == 404
    assert "No such page" in page.locator("main").inner_text()
