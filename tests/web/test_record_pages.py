"""The record of a job in a real browser, without JavaScript: all that was recorded, and what became of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tenthbook.record.bench.history import history
from tenthbook.record.ledger import fingerprint
from tests.told import photographs
from tests.web.conftest import LOOKS, House, Shop
from tests.web.recorded import (
    PHRASE,
    SHAFT,
    STORY,
    check_page,
    click,
    faults_on,
    line_of,
    read_shaft,
    record_of,
    state_of,
    stops,
    story_served,
)

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the data of this module lie."""
    return tmp_path_factory.mktemp("record")


@pytest.fixture(scope="module")
def house(folder: Path) -> Iterator[House]:
    """Serve the whole story; each test works in a job of its own."""
    with story_served(folder) as served_house:
        yield served_house


def test_every_entry_is_listed_with_person_and_time(open_page: OpenPage, house: House) -> None:
    """Newest first, each with who, when, what, and what became of it; none is left out."""
    page = open_page()
    page.goto(f"{house.url}job/{STORY}/record/")
    lines = history(house.bench.state(STORY))
    shown = page.locator(".entries > li").all_inner_texts()
    assert len(shown) == len(lines) > 70
    for line, text in zip(reversed(lines), shown, strict=True):
        words = [str(line.number), line.person, line.kind, line.acted_at[:10], line.acted_at[11:19], line.hash]
        for one in (*words, *filter(None, line.told.split("; ")), *line.marks):
            assert one in text


def test_corrections_signatures_and_photographs_stand_at_their_acts(open_page: OpenPage, house: House) -> None:
    """A corrected reading shows what counts now and who signed it; a signature its key; a photograph itself."""
    state = house.bench.state(STORY)
    page = open_page()
    page.goto(f"{house.url}job/{STORY}/record/")
    (corrected,) = state.corrections
    text = line_of(page, corrected).inner_text()
    assert "station in the bush, drive side (place not noted)" in text
    standing = {number: one for number, one in state.signatures.items() if one.superseded_by < 0}
    for number, one in standing.items():
        assert f"signed in entry {number}: {one.person}, {one.as_what}" in text
        assert f"with key {fingerprint(bytes.fromhex(one.key))}" in line_of(page, number).inner_text()
    (shot,) = state.photographs
    image = line_of(page, shot).locator("img")
    assert "drive slot" in str(image.get_attribute("alt"))
    answer = page.context.request.get(house.url.rstrip("/") + str(image.get_attribute("src")))
    assert (answer.status, answer.headers["content-type"]) == (200, "image/jpeg")


def test_an_act_in_doubt_says_why(open_page: OpenPage, shop: Shop) -> None:
    """What rested on a reading that was corrected stands in doubt, names the correction, and is to be looked at."""
    reading = read_shaft(shop)
    why: dict[str, object] = {
        "tag": SHAFT[0],
        "disposition": "hold",
        "reason": "the slot has no limit",
        "rests_on": [reading.number],
    }
    disposed = shop.record("disposed", why)
    mending = {"entry": reading.number, "fields": {"value": "0.5104 in"}, "reason": "read again"}
    correction = shop.record("corrected", mending)
    page = open_page()
    page.goto(record_of(shop))
    doubt = line_of(page, disposed.number).locator(".became.doubted").inner_text()
    assert doubt == f"IN DOUBT: it rested on what entry {correction.number} changed"
    to_look_at = page.locator('section[aria-label="To be looked at"]').inner_text()
    assert f"in doubt: entry {disposed.number}, disposed, since entry {correction.number}" in to_look_at
    assert page.locator(f".acts input[value='{disposed.number}']").count() == 0, "it is not signed for in doubt"


def test_what_was_done_across_another_is_shown(open_page: OpenPage, shop: Shop) -> None:
    """A reading taken without having seen another person's names that entry and that person."""
    act = {"acted_at": shop.house.script.opened_at, "seen": state_of(shop).head}
    read = {"tag": SHAFT[0], "row": SHAFT[1], "gauge": "M1", "value": "0.5094 in"}
    first, second = (
        shop.house.bench.record(shop.job, "reading taken", read, person=person, request=f"across-{person}", **act)
        for person in ("inspector", "mechanic")
    )
    page = open_page()
    page.goto(record_of(shop))
    words = f"done without having seen entry {first.number} (inspector)"
    assert words in line_of(page, second.number).inner_text()
    assert f"done across: entry {second.number}" in page.locator('section[aria-label="To be looked at"]').inner_text()


def mend(page: Page, shop: Shop, number: int) -> None:
    """Open the form that mends an entry, from the record."""
    page.goto(record_of(shop))
    line_of(page, number).locator("text=correct or withdraw").click()
    page.locator(f'section[aria-label="Mend entry {number}"]').wait_for()


def test_a_refused_correction_keeps_what_was_typed(open_page: OpenPage, shop: Shop) -> None:
    """A value without its unit is refused by rule; value and reason stand in the form, and mended they are recorded."""
    number = read_shaft(shop).number
    page = open_page()
    mend(page, shop, number)
    page.fill("#mend-value", "5096 in")
    page.fill("#mend-reason", "a figure turned round")
    click(page, "button[value=correct]")
    assert ["reading.point-or-sign" in fault for fault in faults_on(page)] == [True]
    assert page.locator("#mend-value").input_value() == "5096 in"
    assert page.locator("#mend-reason").input_value() == "a figure turned round"
    assert state_of(shop).corrections == {}
    page.fill("#mend-value", "0.5096 in")
    click(page, "button[value=correct]")
    assert page.url == record_of(shop)
    assert "value 0.5096 in (a figure turned round)" in line_of(page, number).inner_text()
    assert str(state_of(shop).readings[number].value) == "0.5096 in"
    (made,) = state_of(shop).corrections[number]
    assert dict(made.fields) == {"value": "0.5096 in"}, "what was not changed is not corrected"


def test_what_is_withdrawn_stays_on_the_page(open_page: OpenPage, shop: Shop) -> None:
    """It counts no more, is struck through and said so in words, and is neither signed for nor mended again."""
    number = read_shaft(shop).number
    page = open_page()
    mend(page, shop, number)
    page.fill("#mend-reason", "another shaft")
    click(page, "button[value=withdraw]")
    text = line_of(page, number).inner_text()
    assert "value 0.5094 in" in text
    assert "(does not count)" in text
    assert f"withdrawn by entry {state_of(shop).number}: another shaft" in text
    assert line_of(page, number).locator(".withdrawn").count() == 1
    assert line_of(page, number).locator("text=correct or withdraw").count() == 0
    assert page.locator(f".acts input[value='{number}']").count() == 0


def send_photograph(page: Page, shop: Shop, content: bytes, says: str) -> None:
    """Take a photograph in, by the form of the record page."""
    page.goto(record_of(shop))
    page.click("summary:has-text('take a photograph in')")
    page.set_input_files("#photograph", {"name": "slot.jpg", "mimeType": "image/jpeg", "buffer": content})
    page.fill("#shows", says)
    page.fill("#shows-tag", SHAFT[0])
    click(page, "text=take it in")


def test_a_photograph_is_taken_in_and_shown(open_page: OpenPage, shop: Shop) -> None:
    """The file is kept to the byte; the page shows a copy; what is no picture is refused and its words stay typed."""
    page = open_page()
    send_photograph(page, shop, b"no picture", "the slot & its step")
    assert len(faults_on(page)) == 1
    assert page.locator("#shows").input_value() == "the slot & its step"
    assert page.locator("#shows-tag").input_value() == SHAFT[0]
    content = photographs()["drive-slot.jpg"]
    send_photograph(page, shop, content, "the slot & its step")
    (number, shot), *_ = state_of(shop).photographs.items()
    assert (shot.says, shot.tag) == ("the slot & its step", SHAFT[0])
    assert shop.house.bench.store.attached(shot.commitment)[1] == content
    assert line_of(page, number).locator("img").evaluate("image => image.complete && image.naturalWidth > 100")


def test_a_withheld_photograph_says_why(open_page: OpenPage, shop: Shop) -> None:
    """Its entry stays, and the reason stands where the picture was; the picture has no address any more."""
    page = open_page()
    send_photograph(page, shop, photographs()["drive-slot.jpg"], "a face in the window")
    (number,) = state_of(shop).photographs
    act = {"person": "mechanic", "request": f"withhold-{shop.job}", "acted_at": shop.house.script.opened_at}
    named = state_of(shop).entries[number]
    shop.house.bench.people.withhold(named, shop.job, "it shows a person", "asked by that person", act)
    page.goto(record_of(shop))
    assert "the photograph was withheld: it shows a person" in line_of(page, number).inner_text()
    assert line_of(page, number).locator("img").count() == 0
    assert page.context.request.get(f"{shop.page}photograph/{number}.jpg").status == 404


@pytest.mark.parametrize(("size", "dark"), LOOKS)
def test_the_record_fits_the_screen(open_page: OpenPage, house: House, size: str, dark: bool) -> None:
    """The whole story with every form open, on a tablet and on 320 px, by day and by night."""
    page = open_page(script=True, size=size, dark=dark)
    (corrected,) = house.bench.state(STORY).corrections
    page.goto(f"{house.url}job/{STORY}/record/?mend={corrected}")
    assert page.locator("#mend-value").input_value() == "0.5094 in"
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    assert page.locator(".acts > label").count() > 20
    check_page(page, f"record-{size}-{'dark' if dark else 'light'}")


def test_the_keyboard_reaches_everything_in_reading_order(open_page: OpenPage, shop: Shop) -> None:
    """On the record: ways, forms in their folds, entries. On the statement: phrase, then review, sign, sign nothing."""
    number = read_shaft(shop).number
    page = open_page()
    page.goto(record_of(shop))
    first = ["to the work", "to the bench", "to what was recorded", "sign for acts, as mechanic"]
    assert stops(page, 6) == [*first, "take a photograph in", f"correct or withdraw entry {number}"]
    page.goto(record_of(shop))
    stops(page, 4)
    page.keyboard.press("Enter")
    boxes = page.locator(".acts input").evaluate_all("all => all.map(one => one.value)")
    assert stops(page, len(boxes) + 2) == [*boxes, "as-what", "review"]
    page.locator(".acts input").last.press("Space")
    with page.expect_navigation():
        page.locator("text=review the statement").press("Enter")
    assert stops(page, 5) == ["to the work", "phrase", "review", "sign", "sign nothing"]


@pytest.mark.parametrize("path", ["mend/", "sign/", "photograph/"])
def test_a_form_from_elsewhere_records_nothing(open_page: OpenPage, shop: Shop, path: str) -> None:
    """Without the page's own token it is refused; opened like a page it is no page."""
    number, before = read_shaft(shop).number, state_of(shop).head
    form: dict[str, str | float | bool] = {"entry": str(number), "entries": str(number), "reason": "x", "says": "x"}
    request = open_page().context.request
    for act in ("withdraw", "sign"):
        assert request.post(f"{shop.page}{path}", form={**form, "act": act, "phrase": PHRASE}).status == 403
    assert request.get(f"{shop.page}{path}").status == 405
    assert state_of(shop).head == before


def test_the_cookie_of_the_token_stays_with_the_pages(open_page: OpenPage, shop: Shop) -> None:
    """No script reads it and no other site sends it; there is no other cookie."""
    page = open_page()
    page.goto(record_of(shop))
    cookies = [(one["name"], one["httpOnly"], one["sameSite"]) for one in page.context.cookies()]
    assert cookies == [("csrftoken", True, "Strict")]


def test_a_missing_job_has_no_record(open_page: OpenPage, house: House) -> None:
    """An address nobody knows is answered in words."""
    page = open_page()
    answer = page.goto(f"{house.url}job/nothing/record/")
    assert answer is not None
    assert answer.status == 404
    assert "No such page" in page.locator("main").inner_text()
    assert page.context.request.get(f"{house.url}job/{STORY}/photograph/1.jpg").status == 404
