"""The first page of a job in a real browser: armed field, gauge, verdict, gap, question, without JavaScript."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, Request

from tenthbook.record.proofread import compared_columns
from tests.web.conftest import LOOKS, Shop

pytestmark = pytest.mark.browser
PICTURES = os.environ.get("TENTHBOOK_PICTURES")
AXE = Path(__file__).parent / "vendor" / "axe.min.js"
OpenPage = Callable[..., Page]
BORE = ("P-0210-0", "size.body-bore")
SHAFT = ("P-0212-6", "size.shaft")


def arm(page: Page, shop: Shop, tag: str, row: str) -> None:
    """Open the job's page with a feature armed."""
    page.goto(f"{shop.page}?measure={tag}/{row}")


def enter(page: Page, value: str) -> None:
    """Type into the armed field, press Enter, and wait until the page that answers is whole."""
    page.fill("#value", value)
    with page.expect_navigation():
        page.press("#value", "Enter")


def click(page: Page, what: str) -> None:
    """Press a button or follow a link, and wait until the page that answers is whole."""
    with page.expect_navigation():
        page.click(what)


def take(page: Page, shop: Shop, tag: str, row: str, value: str, gauge: str = "") -> None:
    """Arm a feature, choose the gauge, type a value and press Enter."""
    arm(page, shop, tag, row)
    page.select_option("#gauge", gauge)
    enter(page, value)


def seen(page: Page) -> str:
    """All that can be read on the page."""
    return page.locator("main").inner_text()


def armed(page: Page) -> tuple[str | None, str | None]:
    """Tag and row of the armed feature."""
    tag, row = (page.locator(f".armed input[name={name}]").get_attribute("value") for name in ("tag", "row"))
    return tag, row


def chosen_gauge(page: Page) -> str:
    """The gauge that is chosen for the armed field."""
    return page.locator("#gauge").input_value()


def verdict_on(page: Page, name: str) -> str:
    """A verdict in full, with its reasons opened."""
    section = page.locator(f'section[aria-label="{name}"]')
    if section.locator("details[open]").count() == 0:
        section.locator("summary").click()
    return section.inner_text()


def form_of(page: Page, form: str) -> dict[str, str | float | bool]:
    """What a form of the page would send, but for its buttons and its choices."""
    fields = page.locator(f"{form} input")
    return {str(field.get_attribute("name")): field.input_value() for field in fields.all()}


def test_the_story_is_walked_on_the_page(open_page: OpenPage, shop: Shop) -> None:
    """Each line of the story, done on the page with its gauge and its answer, shows what the story says is seen."""
    page = open_page()
    page.goto(shop.page)
    for act in shop.house.script.acts:
        for line in act.lines:
            if line.does in ("part removed", "gauge set") and act.act not in range(2, 6):
                shop.record(line.does, {**line.fields})  # what the pump's acts need lies on the bench already
                page.goto(shop.page)
            if line.does == "reading taken":
                number, unit = line.fields["value"].split()
                take(page, shop, line.fields["tag"], line.fields["row"], number, line.fields["gauge"])
                after = page.locator(".armed .unit").inner_text()
                assert after == "in", f"the next one armed is a length, after {unit}"
            if line.does == "question answered":
                click(page, f'button[value="{line.fields["answer"]}"]')
            assert (page.locator('section[aria-label="A question"]').count() == 1) == line.is_asked
            assert line.sees in seen(page)
            assert line.foresees in seen(page)
        if PICTURES:
            page.screenshot(path=Path(PICTURES) / f"act-{act.act}.png", full_page=True)
    shaft = page.locator("li", has_text="P-0212-6", has=page.locator(".verdict.beyond"))
    assert "oil pump drive shaft" in shaft.last.inner_text(), (
        "the fit passes, the part does not: the worst verdict rules"
    )
    played = shop.house.bench.state(shop.job)
    lines = [line for act in shop.house.script.acts for line in act.lines if line.does == "reading taken"]
    assert [(str(one.value), one.gauge) for one in played.readings.values()] == [
        (line.fields["value"], line.fields["gauge"]) for line in lines if not line.is_asked
    ]


def test_the_page_names_the_rows_that_nobody_read_a_second_time(open_page: OpenPage, shop: Shop) -> None:
    """A row its verdicts rest on stands there, with its page, until it was read again, blind."""
    page = open_page()
    take(page, shop, *BORE, "1.4050", "B2")
    assert page.get_by_text("Rows not read a second time").count() == 0, "act 0 read it again"
    tag = str(shop.record("part removed", {"part": "part.driven-gear", "tag": ""}).data["tag"])
    take(page, shop, tag, "size.driven-gear-diameter", "1.3990", "")
    unread = page.locator("section", has_text="Rows not read a second time").last
    assert "size.driven-gear-diameter, page 4-12: unverified" in unread.inner_text()
    row = shop.house.book.rows["sizes"]["size.driven-gear-diameter"]
    read = {column.name: row.text(column.name) for column in compared_columns("sizes") if row.text(column.name)}
    act = {"person": "inspector", "request": f"again-{shop.job}", "acted_at": shop.house.script.opened_at}
    shop.house.bench.books.read_again(shop.house.book, row, read, act, {"typed_by": "", "typed_on": ""})
    page.goto(shop.page)
    assert page.locator("li", has_text="size.driven-gear-diameter, page 4-12: unverified").count() == 0


def test_an_undecided_reading_names_the_gauge_that_would_decide(open_page: OpenPage, shop: Shop) -> None:
    """The word stands with the plain margin, the because names the gauge, and read with that one it is decided."""
    page = open_page()
    take(page, shop, *BORE, "1.4052", "T1")
    section = verdict_on(page, "oil pump body, gear bore diameter")
    assert "UNDECIDED, margin 0.0003" in section
    assert "1.4052 against service greatest 1.4055 in: within by 0.0003" in section
    assert "undecided; bore gauge B2 would decide (0.00012 in at k = 2)" in section
    assert page.locator(".verdict.undecided").count() == 2, "the size just taken, and its part"
    take(page, shop, *BORE, "1.4052", "B2")
    assert "IN SERVICE LIMITS, margin 0.0003" in verdict_on(page, "oil pump body, gear bore diameter")
    assert page.locator(".verdict.undecided").count() == 0


def test_without_a_gauge_the_verdict_is_the_plain_one(open_page: OpenPage, shop: Shop) -> None:
    """Nothing is chosen before the first reading, and a reading without a gauge has no doubt to be judged by."""
    page = open_page()
    arm(page, shop, *BORE)
    assert (chosen_gauge(page), page.locator("#gauge option").all_inner_texts()[0]) == ("", "doubt not known")
    take(page, shop, *BORE, "1.4052")
    section = verdict_on(page, "oil pump body, gear bore diameter")
    assert "IN SERVICE LIMITS, margin 0.0003" in section
    assert "guard" not in section


def test_the_gauge_last_used_here_is_chosen_again(open_page: OpenPage, shop: Shop) -> None:
    """At a feature that was read before, its own last gauge; at another none, since its doubt would be wrong there."""
    page = open_page()
    take(page, shop, *BORE, "1.4050", "B2")
    take(page, shop, "P-0211-8", "size.gear-width", "0.4990", "M1")
    arm(page, shop, *SHAFT)
    assert chosen_gauge(page) == ""
    arm(page, shop, *BORE)
    assert chosen_gauge(page) == "B2"


def test_what_new_parts_would_make_stands_under_the_fit(open_page: OpenPage, shop: Shop) -> None:
    """Three lines, inner part, outer part, both; they are there before anybody opens the because."""
    shop.read(*BORE, "1.4050 in", "B2")
    page = open_page()
    take(page, shop, "P-0211-8", "size.gear-diameter", "1.3984", "M3")
    lines = page.locator('section[aria-label="tip clearance on diameter"] .new-parts li').all_inner_texts()
    assert [line.partition(";")[0] for line in lines] == [
        "with a new oil pump gear, driving: 0.0057 to 0.0067 in",
        "with a new oil pump body: 0.0046 to 0.0056 in",
        "with both new: 0.0037 to 0.0057 in",
    ]


def test_a_missed_turn_is_asked_about_and_read_again_arms_the_field(open_page: OpenPage, shop: Shop) -> None:
    """The question says it does not count yet; read again drops it and arms the same feature, empty."""
    page = open_page()
    take(page, shop, *SHAFT, "0.4844", "M1")
    question = page.locator('section[aria-label="A question"]').inner_text()
    assert "P-0212-6 diameter at the bush" in question
    assert "Not counted yet: 0.4844 in lies far from what was expected" in question
    assert page.locator('section[aria-label="A question"] button').all_inner_texts() == [
        "read again",
        "it stands as typed",
    ]
    assert page.locator('section[aria-label="Just taken"], .verdict').count() == 0
    assert armed(page) == SHAFT
    click(page, "text=read again")
    assert (armed(page), page.locator("#value").input_value()) == (SHAFT, "")
    assert page.locator("#value").evaluate("field => field === document.activeElement")
    assert page.locator('section[aria-label="A question"]').count() == 0
    state = shop.house.bench.state(shop.job)
    assert (state.readings, state.questions) == ({}, {})


def test_a_reading_that_stands_counts(open_page: OpenPage, shop: Shop) -> None:
    """Pressed, it is a reading under the question's number, and its verdict is shown as just taken."""
    page = open_page()
    take(page, shop, *SHAFT, "0.4844", "M1")
    [number] = shop.house.bench.state(shop.job).questions
    click(page, "text=it stands as typed")
    [reading] = shop.house.bench.state(shop.job).readings.values()
    assert (reading.entry, str(reading.value), reading.gauge) == (number, "0.4844 in", "M1")
    assert "BEYOND, below by 0.0254" in verdict_on(page, "oil pump drive shaft, diameter at the bush")
    assert page.locator('section[aria-label="A question"]').count() == 0


def test_a_doubled_answer_is_recorded_once(open_page: OpenPage, shop: Shop) -> None:
    """The same answer sent twice makes one entry; another answer afterwards is refused in words."""
    shop.read(*SHAFT, "0.4844 in", "M1")
    page = open_page()
    page.goto(shop.page)
    form = {**form_of(page, 'section[aria-label="A question"] form'), "answer": "stands"}
    address, before = f"{shop.page}answer/", shop.house.bench.state(shop.job).number
    for _ in range(2):
        assert page.context.request.post(address, form=form).ok
    assert shop.house.bench.state(shop.job).number == before + 1
    other = page.context.request.post(address, form={**form, "request": "other", "answer": "read again"})
    assert (other.status, "question.open" in other.text()) == (422, True)


@pytest.mark.parametrize("gauge", ["T1", "B2"])
def test_the_chosen_gauge_stays_chosen_when_a_reading_is_refused(open_page: OpenPage, shop: Shop, gauge: str) -> None:
    """What stands in the field to be mended is still read with the gauge that was chosen."""
    shop.read(*BORE, "1.4050 in", "B2")
    page = open_page()
    take(page, shop, *BORE, "14052", gauge)
    assert page.locator("#value").input_value() == "14052"
    assert chosen_gauge(page) == gauge


@pytest.mark.parametrize("gauge", ["M1", "M3"])
def test_read_again_is_read_with_the_same_gauge(open_page: OpenPage, shop: Shop, gauge: str) -> None:
    """The gauge of the reading that was asked about is chosen for the next, whatever was used before."""
    shop.read("P-0211-8", "size.gear-width", "0.4990 in", "M1")
    page = open_page()
    take(page, shop, *SHAFT, "0.4844", gauge)
    click(page, "text=read again")
    assert chosen_gauge(page) == gauge


def test_enter_takes_the_reading_and_arms_the_next_field(open_page: OpenPage, shop: Shop) -> None:
    """After Enter the reading is on record with the digits typed, and the next feature is armed and focused."""
    page = open_page()
    page.goto(shop.page)
    first = armed(page)
    enter(page, "1.4050")
    [reading] = shop.house.bench.state(shop.job).readings.values()
    assert ((reading.tag, reading.row), str(reading.value), reading.gauge) == (first, "1.4050 in", "")
    assert armed(page) != first
    assert page.locator("#value").evaluate("field => field === document.activeElement")


def test_a_number_without_its_point_is_refused_and_kept(open_page: OpenPage, shop: Shop) -> None:
    """What is refused is not recorded, is said with its rule, and stands in the field to be mended."""
    page = open_page()
    take(page, shop, *SHAFT, "5094")
    assert "reading.point-or-sign" in page.locator(".faults").inner_text()
    assert page.locator("#value").input_value() == "5094"
    assert shop.house.bench.state(shop.job).readings == {}


@pytest.mark.parametrize(("value", "kept"), [("1.4050", "readings"), ("1.3800", "questions")])
def test_a_doubled_press_is_recorded_once(open_page: OpenPage, shop: Shop, value: str, kept: str) -> None:
    """The same form sent twice makes one entry, a reading or a question."""
    page = open_page()
    arm(page, shop, *BORE)
    form = {**form_of(page, "form.armed"), "value": value, "gauge": "B2"}
    before = shop.house.bench.state(shop.job).number
    for _ in range(2):
        assert page.context.request.post(f"{shop.page}reading/", form=form).ok
    state = shop.house.bench.state(shop.job)
    assert (state.number, len(getattr(state, kept))) == (before + 1, 1)


@pytest.mark.parametrize(("size", "dark"), LOOKS)
def test_the_page_passes_the_accessibility_checker(open_page: OpenPage, shop: Shop, size: str, dark: bool) -> None:
    """With a question, an undecided size, a fit and its forecasts: no finding for WCAG 2.2 AA, and nothing cut off."""
    shop.read(*BORE, "1.4052 in", "T1")
    shop.read("P-0211-8", "size.gear-diameter", "1.3984 in", "M3")
    shop.read(*SHAFT, "0.4844 in", "M1")
    page = open_page(script=True, size=size, dark=dark)
    page.goto(f"{shop.page}?taken={max(shop.house.bench.state(shop.job).readings)}")
    assert page.locator('section[aria-label="A question"]').count() == 1
    assert page.locator(".verdict.undecided").count() > 0
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    if PICTURES:
        page.screenshot(path=Path(PICTURES) / f"everything-{size}-{'dark' if dark else 'light'}.png", full_page=True)
    page.evaluate(AXE.read_text(encoding="utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = page.evaluate("tags => axe.run({runOnly: {type: 'tag', values: tags}})", tags)
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_no_request_leaves_the_server_and_nothing_is_blocked(open_page: OpenPage, shop: Shop) -> None:
    """Every request goes to the server itself; the policy blocks nothing the page needs, and letters arrive."""
    page = open_page(script=True)
    addresses: list[str] = []
    blocked: list[str] = []

    def note(request: Request) -> None:
        addresses.append(request.url)

    page.on("request", note)
    page.on("console", lambda message: blocked.append(message.text))
    take(page, shop, *SHAFT, "0.5094")
    page.evaluate("document.fonts.ready")
    assert [address for address in addresses if not address.startswith(shop.house.url)] == []
    assert any(address.endswith(".woff2") for address in addresses)
    assert blocked == []
    assert page.evaluate("document.fonts.check('16px \"Atkinson Hyperlegible Mono\"')")


def test_every_answer_carries_the_policy(open_page: OpenPage, shop: Shop) -> None:
    """Page, style sheet and a missing page carry the strict policy; nothing may frame them or run a script."""
    page = open_page()
    for path in ("", f"job/{shop.job}/", "static/tenthbook.css", "nothing/here"):
        headers = page.context.request.get(shop.house.url + path).headers
        assert headers["content-security-policy"].startswith("default-src 'none'; style-src 'self'")
        assert "unsafe" not in headers["content-security-policy"]
        assert headers["x-frame-options"] == "DENY"
        assert headers["referrer-policy"] == "same-origin"


@pytest.mark.parametrize(
    ("path", "form"),
    [
        ("reading/", {"tag": "P-0212-6", "row": "size.shaft", "value": "0.5094"}),
        ("answer/", {"entry": "1", "answer": "stands"}),
    ],
)
def test_a_form_from_elsewhere_is_refused(
    open_page: OpenPage, shop: Shop, path: str, form: dict[str, str | float | bool]
) -> None:
    """A post without the page's own token records nothing."""
    before = shop.house.bench.state(shop.job).head
    answer = open_page().context.request.post(f"{shop.page}{path}", form=form)
    assert answer.status == 403
    assert shop.house.bench.state(shop.job).head == before


@pytest.mark.parametrize("path", ["reading/", "answer/"])
def test_the_addresses_of_the_forms_are_only_posted_to(open_page: OpenPage, shop: Shop, path: str) -> None:
    """Opened like a page they record nothing."""
    before = shop.house.bench.state(shop.job).head
    assert open_page().context.request.get(f"{shop.page}{path}").status == 405
    assert shop.house.bench.state(shop.job).head == before


def test_a_missing_job_says_so(open_page: OpenPage, shop: Shop) -> None:
    """An address nobody knows is answered in words, with the way back to the list of jobs."""
    page = open_page()
    page.goto(f"{shop.house.url}job/nothing/")
    assert "No such page" in seen(page)
    click(page, "text=here")
    assert shop.job in seen(page)
