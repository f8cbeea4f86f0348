"""The pages of the calculators in a real browser: form, faults, answer, picture and working, without JavaScript."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tenthbook.faces.calculators import NAMES, load
from tests.web.conftest import LOOKS, SIZES
from tests.web.served import served

pytestmark = pytest.mark.browser
AXE = Path(__file__).parent / "vendor" / "axe.min.js"
PUBLISHED = {
    "uncertainty": ["31.7 nm", "degrees of freedom used\n16"],
    "size": ["worst out of round\n0.011 mm", "worst taper\n0.012 mm"],
    "verdict": ["WITHIN verdict", "0.98901"],
    "risk": ["nonconforming\n0.04238", "consumer risk\n0.0080191"],
    "fit": ["IN SERVICE LIMITS grade", "IN SERVICE LIMITS plain grade", "letter\nL"],
    "fit-forecast": ["clearance\n0.0020 in, 0.0040 in"],
    "iso-fit": ["clearance\n7 um, 41 um"],
    "thermal-fit": ["clearance\n0.034 mm, 0.06605128 mm"],
    "pairing": ["sum\n5", "partner\n2, 1, 3"],
}
"""What stands in the answer to each published example, as the page writes it."""


@pytest.fixture(scope="module")
def url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve an empty folder; a calculator records nothing, so that all tests share it."""
    with served(tmp_path_factory.mktemp("calc-page")) as address:
        yield address


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """Open a tablet's page without JavaScript."""
    context = browser.new_context(viewport={"width": 1024, "height": 768}, java_script_enabled=False)
    yield context.new_page()
    context.close()


def fill(page: Page, **typed: str) -> None:
    """Type into fields; two underscores stand for the dot of a path."""
    for name, text in typed.items():
        page.fill(f'[name="{name.replace("__", ".")}"]', text)


def compute(page: Page) -> None:
    """Send the form and wait for the page that answers."""
    with page.expect_navigation():
        page.click("button.act")


def held(page: Page, name: str) -> str:
    """What stands in a field."""
    return page.locator(f'[name="{name}"]').input_value()


def test_every_page_leads_to_the_list_and_the_list_to_every_calculator(page: Page, url: str) -> None:
    """From the first page words lead to the list, which names each calculator and what it answers."""
    page.goto(url)
    page.click("footer >> text=calculators")
    shown = page.locator("main").inner_text()
    for name, listed in NAMES.items():
        assert listed.answers in shown
        assert page.locator(f'main a[href="/calc/{name}"]').count() == 1


@pytest.mark.parametrize("name", list(NAMES))
def test_the_example_filled_in_and_sent_gives_its_published_answer(page: Page, url: str, name: str) -> None:
    """The link fills the published example in; sent as it stands it gives the published answer with its working."""
    page.goto(f"{url}calc/{name}")
    page.click("text=fill in the example")
    compute(page)
    shown = page.locator("#answer").inner_text()
    for words in PUBLISHED[name]:
        assert words in shown
    example = load(name).example
    assert page.locator(".working li").all_inner_texts() == load(name).worked(example.input)[1]
    assert example.source in page.locator("main").inner_text()


def test_the_first_page_of_a_calculator_asks_and_answers_nothing(page: Page, url: str) -> None:
    """Before anything is sent there is neither an answer nor a fault, and nothing is filled in."""
    page.goto(f"{url}calc/fit")
    assert page.locator("#answer, .faults, .fault").count() == 0
    assert held(page, "hole.size") == ""


def test_a_fault_stands_at_its_field_and_nothing_typed_is_lost(page: Page, url: str) -> None:
    """Each fault is in the list and at its field, as the calculator says it; every text typed still stands."""
    page.goto(f"{url}calc/fit")
    typed = {
        "hole.size": "2.0045",
        "shaft.size": " 2.0020 in",
        "new.1": "0.003 in",
        "conformance": "high",
        "common": "x",
    }
    fill(page, **{name.replace(".", "__"): text for name, text in typed.items()})
    page.select_option('[name="unit"]', "thou")
    compute(page)
    assert page.locator("#answer").count() == 0
    faults = page.locator(".faults li").all_inner_texts()
    assert [line.partition(":")[0] for line in faults] == ["hole, size", "common", "rule", "conformance"]
    field = page.locator('.field:has([name="hole.size"])')
    assert "found '2.0045'; expected a length above zero" in field.locator(".fault").inner_text()
    assert field.locator("input").get_attribute("aria-invalid") == "true"
    assert page.locator('[name="shaft.size"]').get_attribute("aria-invalid") is None
    assert {name: held(page, name) for name in typed} == typed
    assert held(page, "unit") == "thou"
    page.click('.faults a:text("hole, size")')
    assert page.url.endswith("#in.hole.size")


def test_a_mended_fault_leads_to_the_answer(page: Page, url: str) -> None:
    """What was typed and kept is enough once the fault is mended."""
    page.goto(f"{url}calc/thermal-fit")
    fill(
        page, hole__size="40.025 mm", hole__expansion="21.5e-6 1/degC", shaft__size="39.991 mm", at="20 degC\n\n100 C\n"
    )
    fill(page, shaft__expansion="11.5e-6 1/degC")
    compute(page)
    assert "2: found" in page.locator('.field:has([name="at"]) .fault').inner_text()
    assert held(page, "at") == "20 degC\n\n100 C\n"
    fill(page, at="20 degC\n\n100 degC\n")
    compute(page)
    assert "0.034 mm, 0.06605128 mm" in page.locator("#answer").inner_text()


def test_a_fit_shows_its_gap_with_the_doubt(page: Page, url: str) -> None:
    """The clearance is drawn, its doubt two standard uncertainties wide; a side left empty is no limit of its own."""
    page.goto(f"{url}calc/fit")
    fill(page, hole__size="1.40505 in", hole__standard_uncertainty="0.00006 in")
    fill(page, shaft__size="1.3984 in", shaft__standard_uncertainty="0.00005 in")
    fill(page, new__1="0.0015 in", new__2="0.0030 in", service__2="0.0067 in")
    page.check('[value="guarded"]')
    compute(page)
    shown = page.locator("#answer")
    assert shown.locator(".say").all_inner_texts() == ["IN SERVICE LIMITS plain grade", "UNDECIDED grade"]
    assert shown.locator(".verdict.undecided").count() == 1
    assert shown.locator(".gap .wide svg").is_visible()
    assert not shown.locator(".gap .narrow svg").is_visible()
    assert "0.00016 in" in shown.locator("figcaption").inner_text()
    assert page.locator('[value="guarded"]').is_checked()


def test_a_verdict_on_a_length_shows_its_edge_in_its_own_words(page: Page, url: str) -> None:
    """A length with a limit is drawn as WITHIN or BEYOND, with words of no job; another kind is not drawn."""
    page.goto(f"{url}calc/verdict")
    fill(page, value="1.4050 in", standard_uncertainty="0.00006 in", lower="1.4040 in", upper="35.72 mm")
    page.check('[value="plain"]')
    compute(page)
    words = page.locator(".gap .wide svg").text_content() or ""
    assert "WITHIN" in words
    assert "limit" in words
    assert "service" not in words
    fill(page, value="1.4070 in")
    compute(page)
    assert page.locator(".say .beyond").all_inner_texts() == ["BEYOND", "BEYOND"]
    fill(page, upper="", lower="")
    compute(page)
    assert page.locator(".say .none").all_inner_texts() == ["NO LIMIT", "NO LIMIT"]
    assert page.locator("figure").count() == 0


def test_one_more_row_keeps_what_was_typed_and_computes_nothing(page: Page, url: str) -> None:
    """One row stands empty behind the filled ones; each press adds one, an empty one in between is closed up."""
    page.goto(f"{url}calc/uncertainty")
    assert page.locator("fieldset legend", has_text="inputs").count() == 1
    fill(page, inputs__1__name="bore", inputs__1__standard="1.0 um", confidence="0.95")
    for rows in (2, 3):
        page.click("text=one more of inputs")
        assert page.locator("fieldset legend", has_text="inputs").count() == rows
    assert page.locator("#answer, .fault").count() == 0
    fill(page, inputs__3__name="shaft", inputs__3__half_width="2 um", correlations="bore; shaft; 0.5")
    compute(page)
    assert "half_width without shape" in page.locator("fieldset .fault").inner_text()
    assert [held(page, f"inputs.{row}.name") for row in (1, 2, 3)] == ["bore", "shaft", ""]
    page.select_option('[name="inputs.2.shape"]', "rectangular")
    compute(page)
    line = "standard = sqrt(1.000^2 + 1.155^2 + 2 x 0.5 x 1.000 x 1.155) = 1.868 um"
    assert line in page.locator(".working").inner_text()


def test_enter_computes(page: Page, url: str) -> None:
    """Enter in a field computes; it never adds a row."""
    page.goto(f"{url}calc/uncertainty?example=1")
    page.press('[name="inputs.1.standard"]', "Enter")
    assert page.locator("#answer").count() == 1


def test_an_unknown_calculator_says_so(page: Page, url: str) -> None:
    """A name that is none leads to the list, with the nearest names first."""
    answer = page.goto(f"{url}calc/fitt")
    assert answer is not None
    assert answer.status == 404
    assert page.locator(".faults a").first.inner_text() == "fit"


def test_what_is_typed_stays_text(page: Page, url: str) -> None:
    """Markup in a field is shown as it was typed, in the field and in the fault."""
    page.goto(f"{url}calc/iso-fit")
    fill(page, size="25 mm", hole="</textarea><b>H7</b>&amp;")
    compute(page)
    assert held(page, "hole") == "</textarea><b>H7</b>&amp;"
    assert "<b>H7</b>&amp;" in page.locator(".faults").inner_text()


@pytest.mark.parametrize(("size", "dark"), LOOKS)
def test_every_page_passes_the_accessibility_checker(browser: Browser, url: str, size: str, dark: bool) -> None:
    """No finding for WCAG 2.2 AA by axe-core, answered and with faults, and nothing is cut off.

    Every calculator is looked at in one theme at each width, those with a picture, rows or faults in all four.
    """
    width, height = SIZES[size]
    context = browser.new_context(
        viewport={"width": width, "height": height}, bypass_csp=True, color_scheme="dark" if dark else "light"
    )
    page = context.new_page()
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    often = ["fit", "fit with faults", "uncertainty with faults", "size"]
    rest = ["", *(name for name in NAMES if name not in often)]
    for visit in [*often, *rest] if dark == (size == "narrow") else often:
        name, _, faulty = visit.partition(" ")
        page.goto(f"{url}calc/{name}{'?example=1' if name and not faulty else ''}")
        if name:
            compute(page)
            assert page.locator(".faults" if faulty else "#answer").count() == 1
        page.evaluate(AXE.read_text(encoding="utf-8"))
        found = page.evaluate("tags => axe.run({runOnly: {type: 'tag', values: tags}})", tags)
        named = [(visit, one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]]
        assert named == []
        assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth"), visit
    context.close()


def test_the_policy_blocks_nothing_and_nothing_comes_from_elsewhere(browser: Browser, url: str) -> None:
    """Under the strict policy the pages need no style, script or file of their own beyond the server's."""
    context = browser.new_context()
    page = context.new_page()
    said: list[str] = []
    asked: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("request", lambda request: asked.append(request.url))
    for name in ("fit", "uncertainty"):
        page.goto(f"{url}calc/{name}?example=1")
        compute(page)
        assert page.locator("[style], style, script").count() == 0
    context.close()
    assert said == []
    assert [address for address in asked if not address.startswith(url)] == []
