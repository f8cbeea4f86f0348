"""`tenthbook job where|gates|override|entry`: what is open, closing over it with a signature, the entry to sign."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tests.cli.said import done, refused
from tests.told import STORY

Ask = Callable[..., Result]
COVERS = ("access.cowling", "access.magnetos", "access.accessory-housing", "access.pump-cover")
SIGNER = (
    "date=2026-11-20",
    "approved=no",
    "performer=the mechanic",
    "repair.supercharger=no",
    "repair.gearing=none",
    "repair.structural=no",
)


@pytest.fixture
def opened(ask: Ask) -> str:
    """A job by the demonstration's book, its pump cover off, the shaft read below its limit."""
    words = ["--engine", "Dunlin Four 7", "--reason", "low oil pressure", "--scope", "repair, to service limits"]
    done(ask("job", "new", "0700", "--book", str(STORY / "books" / "dunlin-four"), *words))
    for cover in COVERS:
        done(ask("job", "record", "0700", "cover removed", f"cover={cover}"))
    done(ask("job", "record", "0700", "part removed", "part=part.pump-shaft"))
    done(ask("job", "record", "0700", "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5094 in"))
    return "0700"


def test_where_tells_the_last_act_and_the_covers_as_they_lie(ask: Ask, opened: str) -> None:
    """The last certain act first, then covers off, each behind the one before it, with what is open."""
    told = done(ask("job", "where", opened))
    lines = told.splitlines()
    assert "0.5094 in" in lines[0]
    places = [told.index(name) for name in ("engine cowling", "both magnetos", "accessory housing", "oil pump cover")]
    assert places == sorted(places)
    assert lines[-1] == "Open in this book"
    asked = json.loads(done(ask("job", "where", opened, "--json")))
    assert (asked["says"], asked["last"]["entry"]) == ("Open in this book", 7)


def test_a_cover_over_open_work_is_refused_with_what_is_open(ask: Ask, opened: str) -> None:
    """Exit 1, the rule, the first lines; nothing is written."""
    said = refused(ask("job", "record", opened, "cover closed", "cover=access.pump-cover"), 1)
    assert "rule cover.settled" in said
    assert "cover closed" not in done(ask("job", "history", opened))


def test_the_gates_list_what_is_open_and_exit_1(ask: Ask, opened: str) -> None:
    """One for each cover off and the release; one alone with what an override needs."""
    answer = ask("job", "gates", opened)
    assert answer.exit_code == 1
    heads = [line.partition(": ")[0] for line in answer.stdout.splitlines() if not line.startswith(" ")]
    assert heads == [*(f"cover:{cover}" for cover in COVERS), "release"]
    one = json.loads(ask("job", "gates", opened, "--gate", "cover:access.pump-cover", "--json").stdout)
    assert [gate["gate"] for gate in one] == ["cover:access.pump-cover"]
    assert one[0]["opens"][0]["because"][-1].startswith("rule ")
    refused(ask("job", "gates", opened, "--gate", "cover:access.roof"), 2)


def test_an_override_is_signed_for_what_was_shown(ask: Ask, opened: str, tmp_path: Path) -> None:
    """Somebody's key and phrase; then the cover closes, and papers say what was open."""
    phrase = tmp_path / "phrase"
    phrase.write_text("anvil thimble lantern\n", encoding="utf-8")
    key = ["--phrase-file", str(phrase)]
    done(ask("user", "add", "mechanic", "--role", "mechanic", "--role", "administrator"))
    done(ask("key", "make", *key))
    done(ask("key", "endorse", "mechanic", "--says", "the first", *key))
    gate = "cover:access.pump-cover"
    found = re.search(r"--shown ([0-9a-f]{64})", ask("job", "gates", opened, "--gate", gate).stderr)
    assert found
    words = [opened, gate, "--shown", found[1], "--reason", "to ship it", *key]
    assert "gate.as-shown" in refused(ask("job", "override", *words[:3], "0" * 64, *words[4:]), 1)
    assert f"{gate} overridden by mechanic" in done(ask("job", "override", *words))
    done(ask("job", "record", opened, "cover closed", "cover=access.pump-cover"))
    assert "mechanic overrode cover:access.pump-cover, to ship it" in done(ask("job", "status", opened))


def test_the_entry_is_refused_while_a_field_is_missing(ask: Ask, opened: str, tmp_path: Path) -> None:
    """Exit 1 with every rule; whole, it is written as a paper and recorded as issued."""
    paper = tmp_path / "entry.pdf"
    short = ask("job", "entry", opened, "--pdf", str(paper))
    assert short.exit_code == 1
    assert short.stdout.startswith("NOT READY TO SIGN")
    assert "rule release.work-date" in short.stderr
    assert not paper.exists()
    scope = ("work=repair", "standard=to service limits", "manual=m", "revision=3")
    done(ask("job", "record", opened, "scope agreed", *scope, "checked_current=asked", "agreed_with=the owner"))
    done(ask("job", "record", opened, "disposed", "tag=P-0001-3", "disposition=replace", "reason=below its least"))
    whole = ask("job", "entry", opened, *SIGNER, "--pdf", str(paper))
    assert whole.exit_code == 0, whole.stderr
    assert "It approves nothing for return to service." in whole.stdout
    assert paper.read_bytes().startswith(b"%PDF-")
    assert "entry to sign" in done(ask("job", "history", opened))
    refused(ask("job", "entry", opened, "colour=red"), 2)
