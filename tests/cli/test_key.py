"""`tenthbook key`: make, endorse, revoke and list keys, and export them to prove archives with."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from tests.cli.said import done, refused

Ask = Callable[..., Result]
MAKE = ["key", "make", "--phrase-file"]
SAYS = ["--says", "compared it face to face", "--phrase-file"]
FIRST = "first key, endorsed by itself"
END = "whole, nothing outside proves the end"
LOST = ["--reason", "tablet lost", "--since", "2026-01-01T00:00:00Z", "--phrase-file"]


def keys(ask: Ask) -> list[dict[str, Any]]:
    """Every key, as the list tells it."""
    found: list[dict[str, Any]] = json.loads(done(ask("key", "list", "--json")))
    return found


def standing(ask: Ask) -> list[tuple[str, str]]:
    """Whose the keys are and how they stand."""
    return [(one["person"], one["stands"]) for one in keys(ask)]


def signed_archive(ask: Ask, book: Path, name: str = "signed.zip") -> str:
    """A job with a signature of each of the two people, as an archive."""
    engine = ["--engine", "Test engine 1", "--reason", "x", "--scope", "repair"]
    done(ask("job", "new", "0417", "--book", str(book), *engine))
    done(ask("job", "record", "0417", "part removed", "part=part.shaft"))
    for person, as_what in (("mechanic", "own work"), ("inspector", "second look")):
        words = ["--entries", "2", "--as", as_what]
        shown = done(ask("--person", person, "job", "review", "0417", *words)).split()[-1]
        done(ask("--person", person, "job", "sign", "0417", *words, "--shown", shown, "--phrase-file", person))
    done(ask("job", "export", "0417", name))
    return name


def test_a_shop_without_keys_says_how_to_make_one(first: Ask) -> None:
    """The list tells the command; as JSON it is empty."""
    assert done(first("key", "list")) == "no key yet; make one: tenthbook key make\n"
    assert keys(first) == []


def test_the_first_key_endorses_itself_and_says_that_nobody_else_does(first: Ask) -> None:
    """Made, it stands for nothing and the message tells how it is endorsed; that command, typed as it stands, does."""
    made = first(*MAKE, "mechanic")
    (key,) = keys(first)
    assert done(made) == f"entry 2 of the shop: key made; fingerprint {key['fingerprint']}\n"
    assert standing(first) == [("mechanic", "not endorsed")]
    offered = "tenthbook --person mechanic key endorse mechanic --says 'the first key of this shop'"
    assert made.stderr.splitlines()[-1] == offered
    told = done(first("--person", "mechanic", "key", "endorse", "mechanic", *SAYS, "mechanic"))
    alone = "endorsed by itself: no second person has vouched for it"
    assert told == f"entry 3 of the shop: mechanic (mechanic, administrator): key {key['fingerprint']}, {alone}\n"
    assert standing(first) == [("mechanic", FIRST)]


def test_a_key_lies_closed_under_the_id_as_enrolled(first: Ask) -> None:
    """Made under the id in capitals it is the same person's, and opens for the id as enrolled."""
    done(first("--person", "MECHANIC", *MAKE, "mechanic"))
    done(first("key", "endorse", "Mechanic", *SAYS, "mechanic"))
    assert standing(first) == [("mechanic", FIRST)]


def test_a_second_key_is_endorsed_by_another_person(first: Ask) -> None:
    """Its own person cannot, exit 1; the one already trusted can, and the message after making it says so."""
    first("user", "add", "inspector", "--role", "inspector")
    first(*MAKE, "mechanic")
    first("key", "endorse", "mechanic", *SAYS, "mechanic")
    made = first("--person", "inspector", *MAKE, "inspector")
    assert made.stderr.splitlines()[-1].startswith("tenthbook --person SOMEBODY-ELSE key endorse inspector --says ")
    by_itself = first("--person", "inspector", "key", "endorse", "inspector", *SAYS, "inspector")
    assert "(rule key.second-person)" in refused(by_itself, 1)
    assert standing(first) == [("mechanic", FIRST), ("inspector", "not endorsed")]
    assert "endorsed by mechanic on 20" in done(first("key", "endorse", "inspector", *SAYS, "mechanic"))
    assert standing(first) == [("mechanic", FIRST), ("inspector", "endorsed")]


def test_a_wrong_phrase_opens_no_key(shop: Ask) -> None:
    """To endorse, to revoke, to sign: told as such, exit 2, and nothing is recorded."""
    before = done(shop("verify"))
    for words in (["endorse", "inspector", *SAYS], ["revoke", "inspector", *LOST]):
        told = refused(shop("key", *words, "wrong"), 2)
        assert told.startswith("found a phrase that does not open the key of mechanic; ")
    assert done(shop("verify")) == before


@pytest.mark.parametrize(
    ("source", "typed", "said"),
    [
        ("short", "", "found a phrase of 9 signs; expected 12 or more"),
        ("-", "", "found a phrase of 0 signs"),
        ("nowhere", "", "found nowhere: No such file"),
        ("bytes", "", "found bytes, which is no text"),
    ],
)
def test_a_phrase_that_cannot_be_is_misuse(first: Ask, tmp_path: Path, source: str, typed: str, said: str) -> None:
    """What is wrong in words, exit 2, and no key is made."""
    (tmp_path / "short").write_text("too short\nbut a second line that is long\n")
    (tmp_path / "bytes").write_bytes(b"\xff\xfe a phrase in bytes")
    assert refused(first(*MAKE, source, typed=typed), 2).startswith(said)
    assert keys(first) == []


def test_the_phrase_of_a_key_is_not_the_password_of_its_log_in(first: Ask) -> None:
    """Refused with exit 2 whichever way the id is typed, and no key is made."""
    done(first("user", "password", "mechanic", "--password-file", "mechanic"))
    for person in ("mechanic", "Mechanic"):
        assert refused(first("--person", person, *MAKE, "mechanic"), 2).startswith("found the password of the log-in; ")
    assert keys(first) == []


@pytest.mark.parametrize("source", ["marked", "-"])
def test_a_phrase_typed_twice_is_that_of_a_first_line(first: Ask, tmp_path: Path, source: str) -> None:
    """Typed at the prompt, on standard input, in a file with a mark of its coding: each time it is the same phrase."""
    phrase = "a gr\u00fcn lamp over the lathe"
    (tmp_path / "marked").write_bytes(f"{phrase}\r\nanother line\r\n".encode("utf-8-sig"))
    done(first("key", "make", typed=f"{phrase}\n{phrase}\n"))
    done(first("key", "endorse", "mechanic", *SAYS, source, typed=f"{phrase}\nanother line\n"))
    assert standing(first) == [("mechanic", FIRST)]


def test_typed_otherwise_the_second_time_it_is_asked_again(first: Ask) -> None:
    """Two phrases that differ make no key, and neither is repeated on the screen."""
    result = first("key", "make", typed="one phrase of a key\nanother phrase of a key\n")
    assert result.exit_code != 0
    assert "phrase of a key" not in result.output
    assert keys(first) == []


def test_whoever_has_a_key_makes_no_second_beside_it(shop: Ask) -> None:
    """The older one is revoked first, exit 1; where another can vouch no key is made beside a live one."""
    before = standing(shop)
    assert "(rule key.one-live)" in refused(shop("--person", "inspector", *MAKE, "inspector"), 1)
    assert standing(shop) == before


def test_a_revoked_key_signs_nothing_and_vouches_for_nothing(shop: Ask) -> None:
    """The list says since when and why; its person makes the next one, which is endorsed anew."""
    told = done(shop("key", "revoke", "Inspector", *LOST, "mechanic"))
    assert told == "entry 7 of the shop: key of inspector revoked from 2026-01-01T00:00:00Z\n"
    assert standing(shop) == [("mechanic", FIRST), ("inspector", "revoked")]
    listed = done(shop("user", "list")).splitlines()[1]
    assert listed.endswith("revoked, not trusted from 2026-01-01T00:00:00Z on: tablet lost; no log-in")
    without = shop("--person", "inspector", "key", "endorse", "mechanic", *SAYS, "inspector")
    assert refused(without, 2).startswith("found inspector without an endorsed key; ")
    done(shop("--person", "inspector", *MAKE, "inspector"))
    done(shop("key", "endorse", "inspector", *SAYS, "mechanic"))
    assert standing(shop) == [("mechanic", FIRST), ("inspector", "revoked"), ("inspector", "endorsed")]


@pytest.mark.parametrize(
    ("since", "code", "said"),
    [
        ("2099-01-01T00:00:00Z", 1, "(rule key.since-past)"),
        ("2026-02-30T00:00:00Z", 1, "(rule key.since-past)"),
        ("yesterday", 2, "since: found "),
    ],
)
def test_a_key_is_distrusted_from_a_real_time_in_the_past(shop: Ask, since: str, code: int, said: str) -> None:
    """A time to come or none at all is refused, and the key stands."""
    answer = shop("key", "revoke", "inspector", "--reason", "x", "--since", since, "--phrase-file", "mechanic")
    assert said in refused(answer, code)
    assert standing(shop)[1] == ("inspector", "endorsed")


@pytest.mark.parametrize("words", [["endorse", "visitor", *SAYS], ["revoke", "visitor", *LOST]])
def test_a_person_without_a_key_is_named(shop: Ask, words: list[str]) -> None:
    """Nothing to endorse or to revoke is exit 2."""
    assert refused(shop("key", *words, "mechanic"), 2).startswith("found visitor without a key")


def test_exported_keys_prove_who_signed(shop: Ask, book_folder: Path, tmp_path: Path) -> None:
    """With the file a signed archive is proved up to the last signature; without a person's line that one is not."""
    archive = signed_archive(shop, book_folder)
    assert done(shop("key", "export", "keys.txt")) == "keys.txt\n"
    assert (tmp_path / "keys.txt").read_text() == "".join(
        f"{one['person']} {one['public_key']}\n" for one in keys(shop)
    )
    assert done(shop("verify", archive, "--keys", "keys.txt")) == f"{END}: signed up to entry 4 by inspector\n"
    lines = (tmp_path / "keys.txt").read_text().splitlines()
    (tmp_path / "one.txt").write_text(f"{lines[0]}\n")
    told = done(shop("verify", archive, "--keys", "one.txt"))
    assert told.startswith(f"{END}: signed up to entry 3 by mechanic; nothing outside proves the entry after it\n")
    assert "  nothing outside says which key is inspector's: entry 4\n" in told
    (tmp_path / "swapped.txt").write_text(lines[0].replace("mechanic", "inspector") + "\n")
    assert shop("verify", archive, "--keys", "swapped.txt").exit_code == 1


def test_a_revoked_key_is_exported_only_when_it_is_asked_for(shop: Ask, book_folder: Path, tmp_path: Path) -> None:
    """Without `--revoked` the older archive's signer is not known; with it the archive proves as before."""
    archive = signed_archive(shop, book_folder)
    done(shop("key", "revoke", "inspector", *LOST, "mechanic"))
    done(shop("key", "export", "keys.txt"))
    done(shop("key", "export", "all.txt", "--revoked"))
    people = [
        [line.split()[0] for line in (tmp_path / name).read_text().splitlines()] for name in ("keys.txt", "all.txt")
    ]
    assert people == [["mechanic"], ["mechanic", "inspector"]]
    assert "which key is inspector's" in done(shop("verify", archive, "--keys", "keys.txt"))
    assert "which key is inspector's" not in done(shop("verify", archive, "--keys", "all.txt"))


def test_a_key_nobody_vouched_for_is_not_exported(first: Ask, tmp_path: Path) -> None:
    """A file of trusted keys holds no key that is only made."""
    done(first(*MAKE, "mechanic"))
    done(first("key", "export", "keys.txt", "--revoked"))
    assert (tmp_path / "keys.txt").read_text() == ""


def test_an_export_writes_over_nothing_unasked(shop: Ask, tmp_path: Path) -> None:
    """A file that lies there stays as it is, unless `--replace` is said; a folder that is not there is named."""
    (tmp_path / "keys.txt").write_text("mine\n")
    assert refused(shop("key", "export", "keys.txt"), 2).startswith("found keys.txt, which is there already; ")
    assert (tmp_path / "keys.txt").read_text() == "mine\n"
    done(shop("key", "export", "keys.txt", "--replace"))
    assert len((tmp_path / "keys.txt").read_text().splitlines()) == 2
    assert "nowhere/keys.txt" in refused(shop("key", "export", "nowhere/keys.txt"), 2)
