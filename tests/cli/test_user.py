"""`tenthbook user`: enrol people, change roles, open and close log-ins."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from tests.cli.said import refused

Ask = Callable[..., Result]
ADD = ["user", "add", "mechanic", "--role", "mechanic", "--role", "administrator"]
PASSWORD = "a word for the pages"


def people(ask: Ask) -> list[dict[str, Any]]:
    """Everybody, as the list tells it."""
    found: list[dict[str, Any]] = json.loads(ask("user", "list", "--json").stdout)
    return found


def roles(ask: Ask) -> dict[str, list[str]]:
    """The roles of everybody."""
    return {one["person"]: one["roles"] for one in people(ask)}


def open_log_ins(ask: Ask) -> list[str]:
    """Who can log in."""
    return [one["person"] for one in people(ask) if one["log_in"]]


def test_an_empty_shop_says_how_to_begin(ask: Ask) -> None:
    """Without anybody the list tells the command that enrols the first; as JSON it is empty."""
    words = ask("user", "list").stdout.strip().partition("tenthbook ")[2].split()
    assert words[:2] == ["user", "add"]
    assert people(ask) == []


def test_the_first_person_is_enrolled_as_administrator(ask: Ask) -> None:
    """The entry, the roles, and the command that makes a key."""
    result = ask(*ADD)
    assert (result.exit_code, result.stdout) == (
        0,
        "entry 1 of the shop: mechanic enrolled as mechanic, administrator\n",
    )
    assert result.stderr == "to sign, mechanic makes a key: tenthbook --person mechanic key make\n"
    assert ask("user", "list").stdout == "mechanic (mechanic, administrator): no key; no log-in\n"


@pytest.mark.parametrize(
    "words", [["mechanic", "--role", "mechanic"], ["inspector", "--role", "administrator"]], ids=["role", "person"]
)
def test_a_first_person_who_may_not_be_leaves_no_shop(ask: Ask, words: list[str]) -> None:
    """Refused by rule, exit 1; nothing was written, so that the shop's name is still to be given."""
    answer = ask("user", "add", *words, "--shop", "Another name")
    assert "(rule person.first-administrator)" in refused(answer, 1)
    answer = ask("verify")
    assert (answer.exit_code, answer.stdout, answer.stderr) == (0, "", "nothing is recorded here\n")


@pytest.mark.parametrize(
    ("words", "rule"),
    [
        (["Mechanic", "--role", "mechanic"], "person.id-new"),
        (["helper ", "--role", "mechanic"], "person.id-written"),
        (["helper", "--role", "mechanic", "--role", "mechanic"], "role.known"),
    ],
)
def test_a_person_who_cannot_be_enrolled_is_refused(first: Ask, words: list[str], rule: str) -> None:
    """The broken rule by its id, exit 1, and nobody more in the shop."""
    assert f"(rule {rule})" in refused(first("user", "add", *words), 1)
    assert list(roles(first)) == ["mechanic"]


@pytest.mark.parametrize(
    "words", [["add", "helper"], ["add", "helper", "--role", "pilot"], ["leave", "helper"], ["roles", "helper"]]
)
def test_a_word_that_is_missing_or_unknown_is_misuse(first: Ask, words: list[str]) -> None:
    """A role not given or not known, a reason not given: exit 2."""
    assert first("user", *words).exit_code == 2
    assert list(roles(first)) == ["mechanic"]


@pytest.mark.parametrize(
    ("person", "rule"), [("inspector", "role.may-act"), ("visitor", "person.enrolled")], ids=["role", "stranger"]
)
@pytest.mark.parametrize(
    "words",
    [
        ["add", "helper", "--role", "mechanic"],
        ["roles", "inspector", "--role", "owner", "--reason", "x"],
        ["leave", "inspector", "--reason", "x"],
    ],
    ids=["add", "roles", "leave"],
)
def test_only_an_administrator_changes_the_people(first: Ask, person: str, rule: str, words: list[str]) -> None:
    """Anybody else is refused by rule, exit 1, and everybody stays as they were."""
    first("user", "add", "inspector", "--role", "inspector")
    before = people(first)
    assert f"(rule {rule})" in refused(first("--person", person, "user", *words), 1)
    assert people(first) == before


def test_roles_are_changed_from_now_on(first: Ask) -> None:
    """The list says the new roles; the last administrator keeps the role."""
    first("user", "add", "inspector", "--role", "inspector")
    result = first(
        "user", "roles", "Inspector", "--role", "owner", "--role", "inspector", "--reason", "bought the shop"
    )
    assert (result.exit_code, result.stdout) == (0, "entry 3 of the shop: inspector is owner, inspector\n")
    assert roles(first) == {"mechanic": ["mechanic", "administrator"], "inspector": ["owner", "inspector"]}
    answer = first("user", "roles", "mechanic", "--role", "owner", "--reason", "x")
    assert "(rule role.last-administrator)" in refused(answer, 1)


@pytest.mark.parametrize("typed", ["mechanic", "MECHANIC"])
def test_a_password_opens_one_log_in_a_person(first: Ask, tmp_path: Path, typed: str) -> None:
    """Whichever way the id is typed there is one account, under the id as enrolled."""
    (tmp_path / "word").write_text(f"{PASSWORD}\n")
    assert first("user", "password", "mechanic", "--password-file", "word").exit_code == 0
    result = first("user", "password", typed, "--password-file", "-", typed=f"{PASSWORD} again\n")
    assert (result.exit_code, result.stdout) == (0, "log-in of mechanic is open\n")
    assert open_log_ins(first) == ["mechanic"]
    from tenthbook.faces.store.accounts import is_log_in, log_ins

    assert log_ins() == {"mechanic": True}
    assert [is_log_in("mechanic", word) for word in (PASSWORD, f"{PASSWORD} again")] == [False, True]


@pytest.mark.parametrize(
    ("words", "typed", "said"),
    [
        (["mechanic", "--password-file", "-"], "too short\n", "found a password of 9 signs; expected 12 or more"),
        (["mechanic", "--password-file", "-"], "", "found a password of 0 signs"),
        (["mechanic", "--password-file", "nowhere"], "", "found nowhere: No such file"),
        (["mechanic", "--password-file", "bytes"], "", "found bytes, which is no text"),
        (["visitor", "--password-file", "-"], f"{PASSWORD}\n", "found visitor, who is not enrolled here"),
    ],
    ids=["short", "none", "no file", "no text", "stranger"],
)
def test_a_password_that_cannot_be_is_misuse(
    first: Ask, tmp_path: Path, words: list[str], typed: str, said: str
) -> None:
    """What is wrong in words, exit 2, and no log-in is opened."""
    (tmp_path / "bytes").write_bytes(b"\xff\xfe a password in bytes")
    assert refused(first("user", "password", *words, typed=typed), 2).startswith(said)
    assert open_log_ins(first) == []


def test_the_phrase_of_a_key_is_no_password(shop: Ask) -> None:
    """A word that opens a key of the same person is refused, exit 2; another person's word is none of its business."""
    answer = shop("user", "password", "mechanic", "--password-file", "mechanic")
    assert "found the phrase of a key of mechanic" in refused(answer, 2)
    assert open_log_ins(shop) == []
    assert shop("user", "password", "mechanic", "--password-file", "wrong").exit_code == 0


@pytest.mark.parametrize("typed", ["inspector", "Inspector"])
def test_whoever_leaves_can_log_in_no_more(first: Ask, typed: str) -> None:
    """However the id is typed the log-in is closed and the person stays in the list; back again, it is still closed."""
    first("user", "add", "inspector", "--role", "inspector")
    first("user", "password", "inspector", "--password-file", "-", typed=f"{PASSWORD}\n")
    assert open_log_ins(first) == ["inspector"]
    result = first("user", "leave", typed, "--reason", "moved away")
    assert (result.exit_code, result.stdout) == (
        0,
        "entry 3 of the shop: inspector has left; the log-in is closed\n",
    )
    assert open_log_ins(first) == []
    told = first("user", "list").stdout.splitlines()[1]
    assert told == "inspector (inspector), no longer in this shop: no key; left"
    again = first("--person", "inspector", "user", "add", "helper", "--role", "mechanic")
    assert "(rule person.enrolled)" in refused(again, 1)
    assert first("user", "add", "inspector", "--role", "mechanic").exit_code == 0
    assert [(one["roles"], one["left"], one["log_in"]) for one in people(first)[1:]] == [(["mechanic"], False, False)]


def test_a_shop_is_not_left_without_an_administrator(first: Ask) -> None:
    """The last one cannot leave, exit 1, and the log-in stays open."""
    first("user", "password", "mechanic", "--password-file", "-", typed=f"{PASSWORD}\n")
    answer = first("user", "leave", "mechanic", "--reason", "x")
    assert "(rule role.last-administrator)" in refused(answer, 1)
    assert open_log_ins(first) == ["mechanic"]


@pytest.mark.parametrize(
    "words",
    [
        ["user", "leave", "mechanic", "--reason", "x"],
        ["user", "roles", "mechanic", "--role", "owner", "--reason", "x"],
        ["key", "make"],
        ["key", "endorse", "mechanic", "--says", "x"],
        ["key", "revoke", "mechanic", "--reason", "x", "--since", "2026-01-01T00:00:00Z"],
    ],
)
def test_what_needs_people_says_how_to_enrol_the_first(ask: Ask, words: list[str]) -> None:
    """Where nobody is enrolled the message tells the command that enrols oneself, exit 2, and asks for no phrase."""
    assert refused(ask(*words), 2).startswith("found nobody enrolled here; ")
    assert "tenthbook user add YOUR-ID" in ask(*words).stderr


def test_a_name_lies_beside_the_entry_and_can_be_withheld(ask: Ask) -> None:
    """Name and licence stand in no entry; withheld, they are gone, and the shop's chain is whole."""
    ask(*ADD, "--name", "A Person", "--licence", "L 1041")
    told = ask("job", "history", "shop").stdout
    assert "A Person" not in told
    assert "L 1041" not in told
    result = ask("job", "withhold", "shop", "1", "--reason", "asked", "--ground", "act, section 4")
    assert (result.exit_code, result.stdout) == (
        0,
        "entry 2 of the shop: what lay beside entry 1 of shop is withheld\n",
    )
    proved = ask("verify")
    assert (proved.exit_code, proved.stdout.split(":")[:2]) == (
        0,
        ["shop", " whole, nothing outside proves the end"],
    )
