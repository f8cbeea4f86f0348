"""The page where a statement is signed, in a real browser: what is shown is signed, by a phrase that goes nowhere."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, Response

from tenthbook.faces.story.founding import invented_key
from tenthbook.record.bench import Bench
from tenthbook.record.bench.signing import state_what_is_signed
from tests.web.conftest import LOOKS, House, Shop
from tests.web.recorded import (
    PHRASE,
    PRINT,
    STORY,
    check_page,
    click,
    faults_on,
    kept_on,
    line_of,
    read_shaft,
    record_of,
    review,
    sign,
    signed_in,
    state_of,
    story_served,
)
from tests.web.served import served

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


@pytest.fixture(scope="module")
def inspectors(house: House, folder: Path) -> Iterator[str]:
    """Serve the same folder to the inspector."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("TENTHBOOK_PERSON", "inspector")
        with served(folder) as url:
            assert url != house.url
            yield url


def test_the_statement_shown_is_the_one_that_is_kept(open_page: OpenPage, shop: Shop) -> None:
    """Sign by sign the words on the page have the digest beside them, and the store keeps those words."""
    number = read_shaft(shop).number
    page = open_page()
    review(page, shop, number)
    shown = page.locator(".statement").text_content() or ""
    digest = hashlib.sha256(shown.encode()).hexdigest()
    as_read = Bench(shop.house.bench.store).state(shop.job)
    assert shown == state_what_is_signed(as_read, shop.job, "mechanic", [number], "own work").text
    assert digest in page.locator("main").inner_text()
    sign(page)
    (entry,) = signed_in(shop)
    assert entry.data["statement_kept"] == digest
    assert shop.house.bench.store.fetch(digest) == shown.encode()


def test_signing_shows_who_signed_by_which_key(open_page: OpenPage, shop: Shop) -> None:
    """With the phrase of the key it is signed, once; the record names the person, the acts and the fingerprint."""
    numbers = [read_shaft(shop).number, read_shaft(shop, "0.5095 in").number]
    page = open_page()
    review(page, shop, *numbers)
    sign(page)
    assert page.url == record_of(shop)
    (entry,) = signed_in(shop)
    assert [one["entry"] for one in entry.data["binds"]] == numbers
    signatures = page.locator('section[aria-label="Signatures"]').inner_text()
    assert f"entry {entry.number}: mechanic, own work, binding {numbers[0]}, {numbers[1]}" in signatures
    assert f"key {PRINT}, endorsed by inspector" in signatures
    assert f"signed by mechanic with key {PRINT}" in line_of(page, entry.number).inner_text()
    for number in numbers:
        assert f"signed in entry {entry.number}: mechanic, own work" in line_of(page, number).inner_text()
        assert page.locator(f".acts input[value='{number}']").count() == 0, "it was signed for"


def test_a_job_that_went_on_is_refused_and_only_the_phrase_is_lost(open_page: OpenPage, shop: Shop) -> None:
    """The rule is named, nothing is signed, acts and purpose stay chosen, and the statement is shown as it stands."""
    numbers = sorted(read_shaft(shop, value).number for value in ("0.5094 in", "0.5095 in"))
    page = open_page()
    review(page, shop, *numbers)
    before = page.locator(".statement").inner_text()
    shop.record("noted", {"text": "somebody went on"})
    sign(page)
    (fault,) = faults_on(page)
    assert "signed.as-shown" in fault
    assert signed_in(shop) == []
    assert kept_on(page) == [*map(str, numbers), "own work"]
    assert page.locator("#phrase").input_value() == ""
    assert page.locator("#phrase").get_attribute("aria-invalid") is None, "the phrase was not what was wrong"
    assert page.locator(".statement").inner_text() != before
    assert state_of(shop).head in page.locator(".statement").inner_text()
    sign(page)
    assert [len(one.data["binds"]) for one in signed_in(shop)] == [2]


@pytest.mark.parametrize("phrase", ["", "inspector", PHRASE.upper(), f"{PHRASE} "])
def test_a_wrong_phrase_is_refused_and_says_no_more(open_page: OpenPage, shop: Shop, phrase: str) -> None:
    """The same words whatever was typed; nothing is signed, nothing chosen is lost, the field is empty again."""
    number = read_shaft(shop).number
    before = state_of(shop).head
    page = open_page()
    review(page, shop, number)
    sign(page, phrase)
    assert faults_on(page) == [
        "found a phrase that does not open the key of mechanic; expected the phrase of the key, not that of the log-in"
    ]
    assert state_of(shop).head == before
    assert kept_on(page) == [str(number), "own work"]
    assert page.locator("#phrase").input_value() == ""
    assert page.locator("#phrase").get_attribute("aria-invalid") == "true"


def test_no_phrase_and_no_secret_leaves_the_field(open_page: OpenPage, shop: Shop, folder: Path) -> None:
    """Neither a wrong nor the right phrase, nor a secret key, is in an address, an answer, a header or a file."""
    number, wrong = read_shaft(shop).number, "a phrase of somebody else"
    page = open_page()
    told_by: list[bytes] = []

    def note(response: Response) -> None:
        told_by.append(response.url.encode())
        told_by.append(repr(response.headers).encode())
        told_by.append(b"" if response.status == 302 else response.body())

    page.on("response", note)
    review(page, shop, number)
    sign(page, wrong)
    sign(page)
    page.goto(record_of(shop))
    assert len(signed_in(shop)) == 1
    kept = [file.read_bytes() for file in folder.rglob("*") if file.is_file()]
    assert len(told_by) > 12
    assert any(b"mechanic" in one for one in kept)
    secret = invented_key("mechanic")
    for hidden in (wrong.encode(), PHRASE.encode(), secret, secret.hex().encode()):
        assert [one for one in (*told_by, *kept) if hidden in one] == []


def test_a_doubled_signature_is_recorded_once(open_page: OpenPage, shop: Shop) -> None:
    """The same form sent twice makes one entry."""
    page = open_page()
    review(page, shop, read_shaft(shop).number)
    fields = page.locator("main form input").all()
    form = {str(field.get_attribute("name")): field.input_value() for field in fields}
    sent: dict[str, str | float | bool] = {**form, "phrase": PHRASE, "act": "sign"}
    for _ in range(2):
        assert page.context.request.post(f"{shop.page}sign/", form=sent).ok
    assert len(signed_in(shop)) == 1


def test_enter_does_not_sign(open_page: OpenPage, shop: Shop) -> None:
    """Only the button signs: Enter in the field of the phrase shows the statement again."""
    page = open_page()
    review(page, shop, read_shaft(shop).number)
    page.fill("#phrase", PHRASE)
    with page.expect_navigation():
        page.press("#phrase", "Enter")
    assert page.locator(".statement").count() == 1
    assert signed_in(shop) == []


def test_a_second_look_is_another_persons(open_page: OpenPage, shop: Shop, inspectors: str) -> None:
    """Whoever did the work is refused, and keeps what was chosen; another person signs on a page of their own."""
    number = read_shaft(shop).number
    page = open_page()
    review(page, shop, number, as_what="second look")
    sign(page)
    assert ["signed.second-person" in fault for fault in faults_on(page)] == [True]
    assert kept_on(page) == [str(number), "second look"]
    record = f"{inspectors}job/{shop.job}/record/"
    other = open_page()
    review(other, shop, number, as_what="second look", record=record)
    assert "Statement of inspector, to be signed as second look" in other.locator(".statement").inner_text()
    sign(other, "invented phrase, known to everybody: inspector")
    assert other.url == record
    (entry,) = signed_in(shop)
    assert entry.draft.person == "inspector"
    page.goto(record_of(shop))
    assert f"signed in entry {entry.number}: inspector, second look" in line_of(page, number).inner_text()
    assert page.locator(f".acts input[value='{number}']").count() == 1, "the mechanic has not signed for it"


def test_a_signature_in_doubt_is_signed_anew(open_page: OpenPage, shop: Shop) -> None:
    """One button leads to the statement of the same acts as they count now; the new signature supersedes the old."""
    number = read_shaft(shop).number
    page = open_page()
    review(page, shop, number)
    sign(page)
    (first,) = signed_in(shop)
    shop.record("corrected", {"entry": number, "fields": {"station": "drive side"}, "reason": "place not noted"})
    page.goto(record_of(shop))
    assert f"signed in entry {first.number}: mechanic, own work, in doubt" in line_of(page, number).inner_text()
    click(page, f"text=look at entry {first.number} again")
    statement = page.locator(".statement").inner_text()
    assert f"It takes the place of the signature of entry {first.number}." in statement
    assert "station drive side (place not noted)" in statement
    sign(page)
    assert signed_in(shop)[-1].data["supersedes"] == first.number
    assert "superseded by entry" in line_of(page, first.number).inner_text()
    assert page.locator("text=look at entry").count() == 0
    assert "in doubt" not in page.locator("main").inner_text()


def test_nothing_chosen_is_nothing_to_sign(open_page: OpenPage, shop: Shop) -> None:
    """A review without acts says so on the record page, with the purpose as it was chosen."""
    page = open_page()
    review(page, shop, as_what="second look")
    assert faults_on(page) == [f"entries: found none; expected numbers from 0 to {state_of(shop).number}"]
    assert page.locator("#as-what").input_value() == "second look"
    assert page.locator("#as-what").is_visible(), "the form that was refused is open"


@pytest.mark.parametrize(("size", "dark"), LOOKS)
def test_the_statement_fits_the_screen(open_page: OpenPage, house: House, size: str, dark: bool) -> None:
    """Ten acts of the story and a phrase that was wrong; hashes break, tags do not, and nothing is cut off."""
    page = open_page(script=True, size=size, dark=dark)
    page.goto(f"{house.url}job/{STORY}/record/")
    page.click("summary:has-text('sign for acts')")
    for box in page.locator(".acts input").all()[:10]:
        box.check()
    click(page, "text=review the statement")
    sign(page, "a wrong phrase")
    check_page(page, f"sign-{size}-{'dark' if dark else 'light'}")
    lines = page.locator(".statement .whole").evaluate_all("all => all.map(one => one.getClientRects().length)")
    assert set(lines) == {1}, "a tag stands on one line"
