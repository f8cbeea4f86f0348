"""Recording any act by a form made of its fields, in a real browser without JavaScript."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tenthbook.faces.web.do_forms import ELSEWHERE, GROUPS, address_of
from tenthbook.record.job import KINDS
from tenthbook.record.ledger import Entry
from tests.web.conftest import LOOKS, House, Shop
from tests.web.recorded import SHAFT, STORY, check_page, click, faults_on, line_of, state_of, stops, story_served

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
BY_FORM = [kind for kinds in GROUPS.values() for kind in kinds]
WITHOUT_A_PAGE = {
    "opened",
    "book pinned",
    "row typed",
    "question asked",
    "book moved",
    "gate overridden",
    "papers issued",
}
SEND = "main form .act"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the data of this module lie."""
    return tmp_path_factory.mktemp("do")


@pytest.fixture(scope="module")
def house(folder: Path) -> Iterator[House]:
    """Serve the whole story; each test works in a job of its own."""
    with story_served(folder) as served_house:
        yield served_house


def open_form(page: Page, shop: Shop, kind: str, query: str = "") -> None:
    """Open the form of a kind."""
    page.goto(f"{shop.page}do/{address_of(kind)}/{query}")


def fill(page: Page, **fields: str) -> None:
    """Type into fields, and choose where there is something to choose."""
    for name, text in fields.items():
        buttons = page.locator(f"input[type=radio][name={name}]")
        if buttons.count():
            page.check(f"input[name={name}][value='{text}']")
        elif page.locator(f"select[name={name}]").count():
            page.select_option(f"select[name={name}]", text)
        else:
            page.fill(f"[name={name}]", text)


def last(shop: Shop) -> Entry:
    """The last entry of the job."""
    return state_of(shop).entries[-1]


def test_every_kind_has_one_place() -> None:
    """A kind is recorded by a form, or on a page of its own, or by no page; none twice and none forgotten."""
    placed = [*BY_FORM, *ELSEWHERE, *WITHOUT_A_PAGE]
    assert sorted(placed) == sorted(KINDS)


def test_the_kinds_are_listed_in_the_order_of_the_work(open_page: OpenPage, shop: Shop) -> None:
    """Group under group, each with what it is; those with pages of their own lead there."""
    page = open_page()
    page.goto(shop.page)
    click(page, ".ways >> text=record an act")
    assert page.locator("main h2").all_inner_texts() == [*GROUPS, "On pages of their own"]
    assert page.locator("main li strong").all_inner_texts() == [*BY_FORM, *ELSEWHERE]
    for link in page.locator("main li a").all():
        assert page.context.request.get(shop.house.url.rstrip("/") + str(link.get_attribute("href"))).status == 200


def test_every_field_is_asked_for_with_its_help(open_page: OpenPage, shop: Shop) -> None:
    """Each form holds every field of its kind in order, with its description, and says which may stay empty."""
    request = open_page().context.request
    for kind in BY_FORM:
        text = request.get(f"{shop.page}do/{address_of(kind)}/").text()
        fields = {name: one for name, one in KINDS[kind].fields.model_fields.items() if name != "calibration"}
        helps = re.findall(r'class="help" id="help-(\w+)">(.*?)<', text)
        assert [name for name, _ in helps] == list(fields)
        assert all(unescape(said).startswith(str(fields[name].description)) for name, said in helps)
        labels = re.findall(r"<(?:legend|label for=[^>]*)>([^<]*)(<span class=.soft.>.may stay empty)?", text)
        assert [words.strip() for words, _ in labels] == [name.replace("_", " ") for name in fields]
        for (_, may_stay_empty), one in zip(labels, fields.values(), strict=True):
            assert one.is_required() or may_stay_empty


def test_what_was_recorded_and_what_follows_is_said(open_page: OpenPage, shop: Shop) -> None:
    """A part without a tag gets the next one; the page names it, what is due on it, and where it is measured."""
    page = open_page()
    open_form(page, shop, "part removed")
    fill(page, part="part.screen-washer", as_found="flat")
    click(page, SEND)
    entry = last(shop)
    assert (entry.kind, entry.data["part"], entry.data["as_found"]) == ("part removed", "part.screen-washer", "flat")
    card = page.locator("section[aria-label='Just recorded']").inner_text()
    assert f"Recorded as entry {entry.number}" in card
    tag = entry.data["tag"]
    assert f"part removed: as found flat; part part.screen-washer; tag {tag}" in card
    follows = [one for one in shop.house.bench.work_up(shop.job).consequences if one.of == tag]
    assert follows
    assert all(one.says in card for one in follows)
    click(page, "text=look at the record")
    assert line_of(page, entry.number).is_visible()


def test_what_is_due_on_the_part_is_named(open_page: OpenPage, shop: Shop) -> None:
    """After a finding the lines undone on that part stand there, each folded over its reasons."""
    page = open_page()
    open_form(page, shop, "finding seen", f"?tag={SHAFT[0]}")
    fill(page, term="step", place="drive slot", extent="0.003 in", says="can be felt")
    click(page, SEND)
    assert last(shop).data["tag"] == SHAFT[0], "what was known of the address is in the form"
    card = page.locator("section[aria-label='Just recorded']")
    undone = [one for one in shop.house.bench.work_up(shop.job).undone if one.place.startswith(SHAFT[0])]
    assert undone
    for line in undone:
        assert line.what in card.inner_text()
    assert not card.locator(".because ul").first.is_visible()
    click(page, "section[aria-label='Just recorded'] .row > a:has-text('measure')")
    assert f"measure={SHAFT[0]}/" in page.url


def test_a_cover_says_what_is_behind_it(open_page: OpenPage, shop: Shop) -> None:
    """What is open before it closes again is counted, and leads to its gate."""
    page = open_page()
    open_form(page, shop, "cover removed")
    offered = page.locator("#known-cover option").evaluate_all("all => all.map(one => one.value)")
    assert "access.sump" in offered
    assert "access.pump-cover" not in offered, "it is off already"
    fill(page, cover="access.sump")
    click(page, SEND)
    click(page, "section[aria-label='Just recorded'] >> text=before it closes")
    assert page.url.endswith("/gates/#gate-access.sump")


def test_every_fault_is_named_and_nothing_typed_is_lost(open_page: OpenPage, shop: Shop) -> None:
    """What is missing is named at once, the fields are marked, and all that was typed and chosen stands there."""
    page, before = open_page(), state_of(shop).head
    open_form(page, shop, "crack-tested")
    typed = {"tag": SHAFT[0], "method": 'magnetic "particle" & <wet>', "says": "two\nlines"}
    fill(page, **typed, result="indication")
    click(page, SEND)
    faults = faults_on(page)
    for name in ("procedure", "operator", "level", "equipment", "cleaned after"):
        assert [name] == [fault.split(":")[0] for fault in faults if fault.startswith(name)]
    for name in ("procedure", "operator", "level", "equipment"):
        assert page.locator(f"[name={name}]").get_attribute("aria-invalid") == "true"
    assert {name: page.locator(f"[name={name}]").input_value() for name in typed} == typed
    assert page.locator("input[name=result]:checked").get_attribute("value") == "indication"
    assert state_of(shop).head == before
    rest = {"procedure": "3-2 rev 4", "operator": "inspector", "level": "2", "equipment": "bench 1, due 2027-01-31"}
    fill(page, **rest, cleaned_after="yes")
    click(page, SEND)
    assert {name: last(shop).data[name] for name in (*typed, *rest)} == {**typed, **rest}


def test_a_broken_rule_is_named_with_the_way_on(open_page: OpenPage, shop: Shop) -> None:
    """A tag that nobody gave is refused by rule; the words stand in the form, and mended they are recorded."""
    page, before = open_page(), state_of(shop).head
    open_form(page, shop, "sent out")
    fill(page, tag="P-0999-9", to="plating shop", work="chromium", due="2026-12-01")
    click(page, SEND)
    assert ["(rule " in fault for fault in faults_on(page)] == [True] * len(faults_on(page)) != []
    assert page.locator("#in-work").input_value() == "chromium"
    assert page.locator("#in-due").input_value() == "2026-12-01"
    assert state_of(shop).head == before
    fill(page, tag=SHAFT[0])
    click(page, SEND)
    assert state_of(shop).away[SHAFT[0]].told["due"] == "2026-12-01"


def test_numbers_lists_and_boxes_are_read(open_page: OpenPage, shop: Shop) -> None:
    """A number is a number, a list has semicolons, several events are ticked; a field left empty is not sent."""
    page = open_page()
    open_form(page, shop, "cleaned")
    assert page.locator("#in-plugs_out").get_attribute("type") is None, "no little arrows beside a number"
    assert page.locator("#in-plugs_out").get_attribute("inputmode") == "numeric"
    fill(page, tag=SHAFT[0], process="solvent", plugs_out="2", plugs_in=" 2 ")
    click(page, SEND)
    assert (last(shop).data["plugs_out"], last(shop).data["plugs_in"]) == (2, 2)
    cleaned = last(shop).number
    open_form(page, shop, "disposed")
    fill(page, tag=SHAFT[0], disposition="hold", reason="to ask", rests_on=f"{cleaned}; {cleaned - 1}")
    click(page, SEND)
    assert last(shop).data["rests_on"] == [cleaned, cleaned - 1]
    open_form(page, shop, "scope agreed")
    words = {"manual": "the manual", "revision": "3", "checked_current": "asked", "agreed_with": "owner"}
    fill(page, work="inspection", standard="to service limits", **words)
    for event in ("propeller strike", "metal found"):
        page.check(f"input[name=covers][value='{event}']")
    click(page, SEND)
    assert last(shop).data["covers"] == ["propeller strike", "metal found"]


def test_known_ids_are_offered(open_page: OpenPage, shop: Shop) -> None:
    """Tags on the bench, inspections of the part, gauges of the shop, the entry that can be meant."""
    page = open_page()

    def offered(name: str) -> list[str]:
        return [str(one) for one in page.locator(f"#known-{name} option").evaluate_all("all => all.map(o => o.value)")]

    open_form(page, shop, "crack-tested", f"?tag={SHAFT[0]}")
    assert page.locator("#in-tag").get_attribute("list") == "known-tag"
    assert offered("tag") == list(state_of(shop).parts)
    assert offered("inspection") == ["inspection.pump-shaft-crack"]
    open_form(page, shop, "gauge set")
    assert set(shop.house.bench.crib.state().instruments) <= set(offered("gauge"))
    sent = shop.record("sent out", {"tag": SHAFT[0], "to": "plating shop", "work": "chromium"})
    open_form(page, shop, "returned")
    assert offered("entry") == [str(sent.number)]
    assert page.locator("#in-entry").input_value() == str(sent.number)


def hidden_on(page: Page) -> dict[str, str]:
    """What the form carries unseen."""
    inputs = page.locator("main form input[type=hidden]").all()
    return {str(one.get_attribute("name")): one.input_value() for one in inputs}


def test_a_doubled_send_is_recorded_once(open_page: OpenPage, shop: Shop) -> None:
    """The same form sent twice leaves one entry, and both answers show it."""
    page = open_page()
    open_form(page, shop, "part removed")
    hidden, before = hidden_on(page), state_of(shop).number
    form: dict[str, str | float | bool] = {**hidden, "part": "part.screen-washer"}
    address = f"{shop.page}do/part-removed/"
    for _ in range(2):
        answer = page.context.request.post(address, form=form)
        assert (answer.status, answer.url) == (200, f"{address}?recorded={before + 1}")
    assert state_of(shop).number == before + 1


def test_the_head_its_reader_saw_goes_with_it(open_page: OpenPage, shop: Shop) -> None:
    """What another person recorded meanwhile was not seen, and the entry says which head was."""
    page = open_page()
    open_form(page, shop, "noted")
    seen = state_of(shop).head
    shop.record("noted", {"text": "from the other side of the bench"})
    fill(page, text="from this side")
    click(page, SEND)
    assert last(shop).draft.seen == seen != state_of(shop).head


@pytest.mark.parametrize(("size", "dark"), LOOKS)
def test_the_pages_fit_the_screen(open_page: OpenPage, shop: Shop, size: str, dark: bool) -> None:
    """The list, a refused form with buttons and boxes, and one with what follows, its reasons unfolded."""
    page, name = open_page(script=True, size=size, dark=dark), f"{size}-{'dark' if dark else 'light'}"
    page.goto(f"{shop.page}do/")
    check_page(page, f"do-list-{name}")
    open_form(page, shop, "scope agreed")
    click(page, SEND)
    check_page(page, f"do-refused-{name}")
    open_form(page, shop, "finding seen", f"?tag={SHAFT[0]}")
    fill(page, term="step", place="drive slot")
    click(page, SEND)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    check_page(page, f"do-recorded-{name}")


def test_the_keyboard_goes_through_the_form_in_order(open_page: OpenPage, shop: Shop) -> None:
    """The ways, each field as it stands, then the button that records."""
    page = open_page()
    open_form(page, shop, "bagged")
    fields = ["in-bag", "in-place", "in-what", "in-count"]
    assert stops(page, 12)[6:] == [*fields, "record: bagged", "another kind"]


def test_what_is_no_form_has_no_page(open_page: OpenPage, shop: Shop) -> None:
    """A kind with a page of its own, a kind nobody knows, a job nobody knows; a form from elsewhere records nothing."""
    request, before = open_page().context.request, state_of(shop).head
    for kind in ("signed", "reading-taken", "book-pinned", "nothing"):
        assert request.get(f"{shop.page}do/{kind}/").status == 404
    assert request.get(f"{shop.house.url}job/nothing/do/").status == 404
    assert request.get(f"{shop.house.url}job/nothing/do/noted/").status == 404
    assert request.get(f"{shop.page}do/part removed/").status == 200
    assert request.post(f"{shop.page}do/noted/", form={"text": "x"}).status == 403
    assert request.get(f"{shop.page}do/noted/?recorded=99999").status == 200
    assert state_of(shop).head == before


def test_the_story_shows_what_it_led_to(open_page: OpenPage, house: House) -> None:
    """An act recorded long ago can be looked at by its number; one of another kind is not shown under this."""
    state = house.bench.state(STORY)
    number = max(one.entry for one in state.decided.values())
    page = open_page()
    page.goto(f"{house.url}job/{STORY}/do/disposed/?recorded={number}")
    assert f"Recorded as entry {number}" in page.locator("main").inner_text()
    page.goto(f"{house.url}job/{STORY}/do/noted/?recorded={number}")
    assert "Recorded as entry" not in page.locator("main").inner_text()
