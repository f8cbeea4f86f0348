"""The first page of a job in a real browser: the armed field, the verdict, the gap, without JavaScript."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Request

from tests.web.conftest import Shop

pytestmark = pytest.mark.browser
PICTURES = os.environ.get("TENTHBOOK_PICTURES")
AXE = Path(__file__).parent / "vendor" / "axe.min.js"
SIZES = {"tablet": (1024, 768), "narrow": (320, 640)}


def open_page(browser: Browser, shop: Shop, *, script: bool = False, size: str = "tablet", dark: bool = False) -> Page:
    """Open the job's page; `script` is for the checker alone, the pages carry none."""
    width, height = SIZES[size]
    context = browser.new_context(
        viewport={"width": width, "height": height},
        java_script_enabled=script,
        bypass_csp=script,
        color_scheme="dark" if dark else "light",
    )
    page = context.new_page()
    page.goto(f"{shop.url}job/{shop.script.job}/")
    return page


def take(page: Page, shop: Shop, tag: str, row: str, value: str) -> None:
    """Arm a feature, type a value and press Enter."""
    page.goto(f"{shop.url}job/{shop.script.job}/?measure={tag}/{row}")
    page.fill("#value", value)
    page.press("#value", "Enter")


def test_the_story_is_walked_on_the_page(browser: Browser, shop: Shop, tmp_path: Path) -> None:
    """Each reading of the story, typed into the armed field, shows the verdict the story says is seen."""
    page = open_page(browser, shop)
    pictures = Path(PICTURES) if PICTURES else tmp_path
    for act in shop.script.acts:
        for line in act.lines:
            if line.does != "reading taken":
                continue
            number, unit = line.fields["value"].split()
            page.goto(f"{shop.url}job/{shop.script.job}/?measure={line.fields['tag']}/{line.fields['row']}")
            page.select_option("#gauge", line.fields["gauge"])
            page.fill("#value", number)
            page.press("#value", "Enter")
            assert page.locator(".armed .unit").inner_text() == unit
            assert line.sees in page.locator("main").inner_text()
            if line.is_asked:
                assert "was a turn missed?" in page.locator("main").inner_text()
                page.click("text=read again")
                assert page.locator("#value").input_value() == ""
        page.screenshot(path=pictures / f"act-{act.act}.png")
    shaft = page.locator("li", has_text="P-0212-6", has=page.locator(".verdict.beyond"))
    assert "oil pump drive shaft" in shaft.last.inner_text(), (
        "the fit passes, the part does not: the worst verdict rules"
    )


def test_enter_takes_the_reading_and_arms_the_next_field(browser: Browser, shop: Shop) -> None:
    """After Enter the reading is on record with the digits typed, and the next feature is armed and focused."""
    page = open_page(browser, shop)
    first = page.locator(".armed input[name=row]").get_attribute("value")
    page.fill("#value", "1.4050")
    page.press("#value", "Enter")
    [reading] = shop.bench.state(shop.script.job).readings.values()
    assert (reading.row, str(reading.value)) == (first, "1.4050 in")
    assert page.locator(".armed input[name=row]").get_attribute("value") != first
    assert page.locator("#value").evaluate("field => field === document.activeElement")


def test_a_number_without_its_point_is_refused_and_kept(browser: Browser, shop: Shop) -> None:
    """What is refused is not recorded, is said with its rule, and stands in the field to be mended."""
    page = open_page(browser, shop)
    take(page, shop, "P-0212-6", "size.shaft", "5094")
    assert "reading.point-or-sign" in page.locator(".faults").inner_text()
    assert page.locator("#value").input_value() == "5094"
    assert shop.bench.state(shop.script.job).readings == {}


def test_a_doubled_press_is_recorded_once(browser: Browser, shop: Shop) -> None:
    """The same form sent twice makes one entry."""
    page = open_page(browser, shop)
    page.fill("#value", "1.4050")
    names = ("tag", "row", "request", "seen", "value")
    form: dict[str, str | float | bool] = {name: page.locator(f"input[name={name}]").input_value() for name in names}
    form["csrfmiddlewaretoken"] = page.locator("input[name=csrfmiddlewaretoken]").first.input_value()
    address = f"{shop.url}job/{shop.script.job}/reading/"
    for _ in range(2):
        assert page.context.request.post(address, form=form).ok
    assert len(shop.bench.state(shop.script.job).readings) == 1


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_the_page_passes_the_accessibility_checker(browser: Browser, shop: Shop, size: str, dark: bool) -> None:
    """No finding for WCAG 2.2 AA by axe-core, in both themes, and nothing is cut off at either width."""
    page = open_page(browser, shop, script=True, size=size, dark=dark)
    take(page, shop, "P-0212-6", "size.shaft", "0.5094")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = page.evaluate("tags => axe.run({runOnly: {type: 'tag', values: tags}})", tags)
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_no_request_leaves_the_server_and_nothing_is_blocked(browser: Browser, shop: Shop) -> None:
    """Every request goes to the server itself; the policy blocks nothing the page needs, and letters arrive."""
    page = open_page(browser, shop, script=True)
    addresses: list[str] = []
    blocked: list[str] = []

    def note(request: Request) -> None:
        addresses.append(request.url)

    page.on("request", note)
    page.on("console", lambda message: blocked.append(message.text))
    take(page, shop, "P-0212-6", "size.shaft", "0.5094")
    page.wait_for_load_state("networkidle")
    assert [address for address in addresses if not address.startswith(shop.url)] == []
    assert blocked == []
    assert page.evaluate("document.fonts.check('16px \"Atkinson Hyperlegible Mono\"')")


def test_every_answer_carries_the_policy(browser: Browser, shop: Shop) -> None:
    """Page, style sheet and a missing page carry the strict policy; nothing may frame them or run a script."""
    page = open_page(browser, shop)
    for path in ("", f"job/{shop.script.job}/", "static/tenthbook.css", "nothing/here"):
        headers = page.context.request.get(shop.url + path).headers
        assert headers["content-security-policy"].startswith("default-src 'none'; style-src 'self'")
        assert "unsafe" not in headers["content-security-policy"]
        assert headers["x-frame-options"] == "DENY"
        assert headers["referrer-policy"] == "same-origin"


def test_a_form_from_elsewhere_is_refused(browser: Browser, shop: Shop) -> None:
    """A post without the page's own token records nothing."""
    page = open_page(browser, shop)
    form: dict[str, str | float | bool] = {"tag": "P-0212-6", "row": "size.shaft", "value": "0.5094"}
    answer = page.context.request.post(f"{shop.url}job/{shop.script.job}/reading/", form=form)
    assert answer.status == 403
    assert shop.bench.state(shop.script.job).readings == {}


def test_a_missing_job_says_so(browser: Browser, shop: Shop) -> None:
    """An address nobody knows is answered in words, with the way back."""
    page = open_page(browser, shop)
    page.goto(f"{shop.url}job/nothing/")
    assert "No such page" in page.locator("main").inner_text()
    page.click("text=here")
    assert shop.script.job in page.locator("main").inner_text()
