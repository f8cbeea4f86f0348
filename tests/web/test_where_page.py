"""Where was I, in a real browser without JavaScript: the last certain act, what is uncertain, covers off, put down."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tenthbook.faces.store.database import utc_now
from tenthbook.record.ledger import Entry
from tenthbook.record.workup import NOTHING_OPEN, Whereabouts, where_was_i
from tenthbook.record.workup.whereabouts import CoverOff
from tests.web.conftest import LOOKS, House, Shop
from tests.web.recorded import SHAFT, STORY, check_page, click, faults_on, read_shaft, state_of, stops, story_served

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
STANDS = "shaft out; nuts 1 & 2 off\nboth ports capped"
CARD = "section[aria-label='Where was I']"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the data of this module lie."""
    return tmp_path_factory.mktemp("where")


@pytest.fixture(scope="module")
def house(folder: Path) -> Iterator[House]:
    """Serve the whole story; each test works in a job of its own."""
    with story_served(folder) as served_house:
        yield served_house


def whereabouts(house: House, job: str) -> Whereabouts:
    """Where a job stands now."""
    state, book, work = house.bench.look(job)
    return where_was_i(book, state, work, utc_now())


def where_of(shop: Shop) -> str:
    """Address of the page."""
    return f"{shop.page}where/"


def card_of(page: Page, shop: Shop) -> str:
    """What the large card says, read anew."""
    page.goto(where_of(shop))
    return page.locator(CARD).inner_text()


def record_long_ago(shop: Shop, kind: str, data: dict[str, object]) -> Entry:
    """Record something that was done years ago."""
    act = {"person": "mechanic", "request": f"ago-{state_of(shop).number}", "acted_at": "2020-01-02T08:00:00Z"}
    return shop.house.bench.record(shop.job, kind, data, **act)


def test_the_story_stands_in_one_card(open_page: OpenPage, house: House) -> None:
    """The last certain act with person, time and entry, the last photograph, and what runs, each with its day."""
    found, page = whereabouts(house, STORY), open_page()
    page.goto(f"{house.url}job/{STORY}/where/")
    assert found.last is not None
    last = page.locator(".last").inner_text()
    assert last == f"{found.last.kind}: {found.last.what}, {found.last.value}"
    card = page.locator(CARD).inner_text()
    assert f"{found.last.person}, {found.last.at[:10]} {found.last.at[11:19]} UTC" in card
    for clock in found.clocks:
        assert clock.what in card
        assert clock.until in card
    assert "drive slot" in str(page.locator(f"{CARD} img").get_attribute("alt"))
    page.click("text=entry")
    assert page.url.endswith(f"/record/#entry-{found.last.entry}")


def outline(covers: tuple[CoverOff, ...], depth: int = 0) -> Iterator[tuple[int, CoverOff]]:
    """Each cover with its depth, as they are read."""
    for one in covers:
        yield depth, one
        yield from outline(one.inside, depth + 1)


def test_covers_off_are_an_outline_with_counts_and_first_lines(open_page: OpenPage, house: House) -> None:
    """Each lies within the cover it is behind, says how much is open and what first, and leads to its gate."""
    found, page = whereabouts(house, STORY), open_page()
    page.goto(f"{house.url}job/{STORY}/where/")
    expected = list(outline(found.covers))
    links = page.locator(".covers a")
    assert len(expected) == links.count() >= 4
    assert max(depth for depth, _ in expected) >= 2
    for place, (depth, cover) in enumerate(expected):
        link = links.nth(place)
        assert link.locator("xpath=ancestor::ol").count() == depth + 1
        assert link.inner_text() == f"{cover.gate.title.removesuffix(', before it closes')}: {cover.count} open"
        lines = link.locator("xpath=../ul/li").all_inner_texts()
        assert lines[: len(cover.first)] == [line.text for line in cover.first]
        assert lines[len(cover.first) :] == ([f"and {cover.count - 3} more"] if cover.count > 3 else [])
    links.last.click()
    gate = page.locator(f"[id='{page.url.partition('#')[2]}']")
    assert gate.locator("h2").inner_text() == f"{expected[-1][1].gate.title}: {expected[-1][1].count} open"


def test_the_way_to_it_stands_on_the_job_and_in_the_list(open_page: OpenPage, shop: Shop) -> None:
    """From the top of the job's page, and from the list of jobs."""
    page = open_page()
    page.goto(shop.page)
    click(page, ".ways >> text=where was I")
    assert page.url == where_of(shop)
    click(page, "text=go on measuring")
    assert page.url == shop.page
    page.goto(shop.house.url)
    click(page, f"text=where was I in job {shop.job}")
    assert page.url == where_of(shop)


def test_work_left_for_days_is_uncertain(open_page: OpenPage, shop: Shop) -> None:
    """Left without being put down it says so, how long ago, and how to look at it; the clocks say what is overdue."""
    number = record_long_ago(
        shop, "preserved", {"what": "bores", "preserved_with": "oil", "until": "2020-01-09"}
    ).number
    record_long_ago(shop, "preserved", {"what": "gears", "preserved_with": "oil", "until": "2999-12-31"})
    page = open_page()
    card = card_of(page, shop)
    found = whereabouts(shop.house, shop.job)
    assert found.days_away > 100
    assert f"{found.days_away} days away" in card
    assert "Uncertain: work of mechanic. left without being put down" in card
    shown = dict(zip(page.locator("dt").all_inner_texts(), page.locator("dd").all_inner_texts(), strict=True))
    assert shown == {"bores, preserved": "OVERDUE since 2020-01-09", "gears, preserved": "until 2999-12-31"}
    because = page.locator(".question .because")
    assert not because.locator("ul").is_visible()
    because.locator("summary").click()
    assert "rule whereabouts.put-down" in because.inner_text()
    click(page, f"text=look at entry {number + 1}")
    assert page.url.endswith(f"/record/#entry-{number + 1}")


def test_what_is_in_doubt_is_looked_at_again(open_page: OpenPage, shop: Shop) -> None:
    """Its line leads to the form that says so, with the entry filled in; recorded, the line is gone."""
    reading = read_shaft(shop)
    reasons = {"reason": "no limit", "rests_on": [reading.number]}
    disposed = shop.record("disposed", {"tag": SHAFT[0], "disposition": "hold", **reasons})
    shop.record("corrected", {"entry": reading.number, "fields": {"value": "0.5104 in"}, "reason": "read again"})
    page = open_page()
    assert f"entry {disposed.number}, disposed" in card_of(page, shop)
    click(page, "text=look again")
    assert page.locator("#in-entry").input_value() == str(disposed.number)
    page.fill("#in-says", "the slot is as it was")
    click(page, "main form button")
    assert state_of(shop).doubted == {}
    assert "in doubt" not in card_of(page, shop)


def test_a_question_is_answered_in_the_card(open_page: OpenPage, shop: Shop) -> None:
    """What was asked about a reading stands there with its two answers."""
    read_shaft(shop)
    asked = read_shaft(shop, "0.5344 in")
    assert asked.kind == "question asked"
    page = open_page()
    assert asked.data["asks"] in card_of(page, shop)
    click(page, f"{CARD} button[value=stands]")
    assert state_of(shop).questions == {}


def put_down(page: Page, shop: Shop, stands: str) -> None:
    """Open the form under the big button and put the work down."""
    page.goto(where_of(shop))
    page.click("summary.put-down")
    page.fill("#stands", stands)
    click(page, "text=put it down")


def test_work_is_put_down_and_taken_up(open_page: OpenPage, shop: Shop) -> None:
    """How it stands is recorded as typed and stands in the card until somebody takes it up."""
    page = open_page()
    page.goto(where_of(shop))
    assert not page.locator("#stands").is_visible()
    put_down(page, shop, STANDS)
    assert page.url == where_of(shop)
    laid = state_of(shop).laid_down
    assert laid is not None
    assert (laid.kind, laid.told["stands"]) == ("put down", STANDS)
    assert "put down by mechanic, " in page.locator(CARD).inner_text()
    assert "shaft out; nuts 1 & 2 off" in page.locator(CARD).inner_text()
    click(page, "text=take it up")
    assert page.locator("#in-entry").input_value() == str(laid.entry)
    click(page, "main form button")
    assert "put down by" not in card_of(page, shop)


def test_a_refused_putting_down_keeps_what_was_typed(open_page: OpenPage, shop: Shop) -> None:
    """Without a word it is refused; too long it is refused too, and every word stands in the form."""
    page, before = open_page(), state_of(shop).head
    put_down(page, shop, "")
    assert len(faults_on(page)) == 1
    long = "caps on, " * 300
    put_down(page, shop, long)
    assert ["stands" in fault for fault in faults_on(page)] == [True]
    assert page.locator("#stands").input_value() == long
    assert state_of(shop).head == before


def test_a_doubled_putting_down_is_recorded_once(open_page: OpenPage, shop: Shop) -> None:
    """The same form sent twice leaves one entry."""
    page = open_page()
    page.goto(where_of(shop))
    hidden = {
        str(one.get_attribute("name")): one.input_value() for one in page.locator(".laying input[type=hidden]").all()
    }
    assert hidden["seen"] == state_of(shop).head
    before = state_of(shop).number
    for _ in range(2):
        answer = page.context.request.post(f"{shop.page}put-down/", form={**hidden, "stands": "as it lies"})
        assert (answer.status, answer.url) == (200, where_of(shop))
    assert state_of(shop).number == before + 1


def test_nothing_open_is_the_most_it_says(open_page: OpenPage, house: House) -> None:
    """Only where nothing at all is open are the words there, and no word more."""
    page, job, act = open_page(), "nothing-open", {"person": "mechanic", "acted_at": utc_now()}
    house.bench.open_job(job, house.book, house.script.opened, request="open", **act)
    page.goto(f"{house.url}job/{job}/where/")
    assert NOTHING_OPEN not in page.locator("main").inner_text()
    assert "Nothing done yet" in page.locator(CARD).inner_text()
    lines = [line for one in house.script.acts for line in one.lines]
    for number, line in enumerate(lines):
        if line.does in ("scope agreed", "event answered", "times stated"):
            house.bench.record(job, line.does, line.fields, request=str(number), **act)
    assert whereabouts(house, job).nothing_open
    page.goto(f"{house.url}job/{job}/where/")
    text = page.locator("main").inner_text()
    assert text.count(NOTHING_OPEN) == 1
    assert "No cover is off." in text
    assert "airworthy" not in text


@pytest.mark.parametrize(("size", "dark"), LOOKS)
def test_the_page_fits_the_screen(open_page: OpenPage, house: House, size: str, dark: bool) -> None:
    """The whole story with every fold open, on a tablet and on 320 px, by day and by night."""
    page = open_page(script=True, size=size, dark=dark)
    page.goto(f"{house.url}job/{STORY}/where/")
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    check_page(page, f"where-{size}-{'dark' if dark else 'light'}")


def test_the_keyboard_reaches_everything_in_reading_order(open_page: OpenPage, shop: Shop) -> None:
    """The ways, the last act, what is uncertain, going on, putting down."""
    page = open_page()
    page.goto(where_of(shop))
    found = stops(page, 14)
    ways = ["to the work", "where was I", "measure", "record an act", "gates", "record"]
    assert found[:6] == ways
    assert found[6].startswith("entry ")
    assert found.index("go on measuring") + 1 == found.index("put down")


def test_a_form_from_elsewhere_puts_nothing_down(open_page: OpenPage, shop: Shop) -> None:
    """Without the page's own token it is refused; a job nobody knows has no page."""
    request, before = open_page().context.request, state_of(shop).head
    assert request.post(f"{shop.page}put-down/", form={"stands": "x"}).status == 403
    assert request.get(f"{shop.page}put-down/").status == 405
    assert request.get(f"{shop.house.url}job/nothing/where/").status == 404
    assert state_of(shop).head == before
