"""`tenthbook job history|correct|photograph|photo|review|sign|withhold`: shown, mended, signed, taken away."""

from __future__ import annotations

import io
import json
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from PIL import Image

from tests.cli.said import done, refused

Ask = Callable[..., Result]
JOB = "0417"
READING = 3
MARK = b"MARK-OF-THE-CAMERA"
GROUND = ["--reason", "asked by the owner", "--ground", "act, section 4"]


@pytest.fixture
def bench(shop: Ask, book_folder: Path) -> Ask:
    """Ask in a shop of two who can sign, where the shaft was read as entry 3 of job 0417."""
    engine = ["--engine", "Test engine 1", "--reason", "low oil pressure", "--scope", "repair"]
    done(shop("job", "new", JOB, "--book", str(book_folder), *engine))
    done(shop("job", "record", JOB, "part removed", "part=part.shaft"))
    done(shop("job", "record", JOB, "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5110 in"))
    return shop


@pytest.fixture
def picture(tmp_path: Path) -> bytes:
    """A photograph wider than a copy, with words of its camera, as the file shaft.jpg."""
    held = io.BytesIO()
    Image.new("RGB", (1700, 850), (180, 60, 20)).save(held, "JPEG", comment=MARK)
    (tmp_path / "shaft.jpg").write_bytes(held.getvalue())
    return held.getvalue()


@pytest.fixture
def photographed(bench: Ask, picture: bytes) -> bytes:
    """That photograph, recorded as entry 4."""
    words = ["--says", "the shaft as it came", "--tag", "P-0001-3", "--row", "size.shaft"]
    told = done(bench("job", "photograph", JOB, "shaft.jpg", *words))
    assert told == f"entry 4: photographed, 1700 x 850, {len(picture)} bytes as they came\n"
    return picture


def offered(ask: Ask, person: str, entries: str, *words: str) -> list[str]:
    """The command by which a statement that is reviewed may be signed, without the program's name."""
    answer = ask("--person", person, "job", "review", JOB, "--entries", entries, *words)
    done(answer)
    return shlex.split(answer.stderr.partition("to sign it: tenthbook ")[2])


def sign(ask: Ask, person: str, entries: str, *words: str) -> Result:
    """Review a statement and sign it."""
    return ask("--person", person, *offered(ask, person, entries, *words), "--phrase-file", person)


def lines(ask: Ask, stream: str = JOB) -> list[dict[str, Any]]:
    """The history, as data."""
    found: list[dict[str, Any]] = json.loads(done(ask("job", "history", stream, "--json")))
    return found


def lies_in(folder: Path, piece: bytes) -> bool:
    """Whether a piece of bytes stands in a file of the folder."""
    return any(piece in file.read_bytes() for file in folder.iterdir())


def test_the_history_shows_every_entry_and_ends_with_the_head(bench: Ask) -> None:
    """Number, time, person, kind and fields of each; as JSON the same; the head is that of the job."""
    told = done(bench("job", "history", JOB)).splitlines()
    data = lines(bench)
    assert [line["kind"] for line in data] == ["opened", "book pinned", "part removed", "reading taken"]
    assert told[-1] == f"head {data[-1]['hash']}"
    assert told[-3:-1] == [
        f"    3  {data[3]['acted_at']}  mechanic: reading taken",
        "       row size.shaft; tag P-0001-3; value 0.5110 in",
    ]
    assert json.loads(done(bench("job", "status", JOB, "--json")))["head"] == data[-1]["hash"]


@pytest.mark.parametrize(("stream", "kind"), [("shop", "key endorsed"), ("tools", "instrument registered")])
def test_the_history_of_shop_and_tools_judges_nothing(bench: Ask, stream: str, kind: str) -> None:
    """Their entries are shown as recorded, and none is said not to count or not to be readable."""
    done(bench("tool", "register", "M1", "--name", "micrometer", "--measures", "outside"))
    told = done(bench("job", "history", stream))
    assert f"mechanic: {kind}\n" in told
    assert "does not count" not in told
    assert " -> " not in told
    assert told.splitlines()[-1] == f"head {lines(bench, stream)[-1]['hash']}"


def test_a_correction_counts_and_puts_signatures_in_doubt(bench: Ask) -> None:
    """The command names the signature; the history shows what was wrong and what is in doubt; a new one supersedes."""
    assert done(sign(bench, "mechanic", "2-3")).startswith("entry 4: signed by mechanic as own work; head ")
    answer = bench("job", "correct", JOB, "3", "value=0.5112 in", "--reason", "read one line too low")
    assert (done(answer), answer.stderr.splitlines()[0]) == (
        "entry 5: entry 3 corrected\n",
        "in doubt since: entries 4; look at them again, or sign anew",
    )
    marks = [line["marks"] for line in lines(bench)]
    assert marks[3] == ["corrected by entry 5, mechanic: value 0.5112 in (read one line too low)"]
    assert marks[4] == ["IN DOUBT: it rested on what entry 5 changed"]
    (verdict,) = json.loads(done(bench("job", "status", JOB, "--json")))["verdicts"]
    assert verdict["value"] == "0.5112 in"
    anew = bench(*offered(bench, "mechanic", "2-3", "--supersedes", "4"), "--phrase-file", "mechanic")
    assert done(anew).startswith("entry 6: signed by mechanic as own work; ")
    assert "superseded by entry 6" in lines(bench)[4]["marks"]


def test_a_correction_that_may_be_a_slip_is_asked_about(bench: Ask) -> None:
    """Recorded, exit 1, and it does not count until it is answered with the command that is offered."""
    answer = bench("job", "correct", JOB, "3", "value=0.4862 in", "--reason", "a turn missed")
    assert (answer.exit_code, answer.stdout) == (1, "entry 4: entry 3 corrected\n")
    assert "It does not count yet; answer with:" in answer.stderr
    assert json.loads(done(bench("job", "status", JOB, "--json")))["verdicts"] == []
    done(bench(*shlex.split(answer.stderr.splitlines()[-1])[1:]))
    (verdict,) = json.loads(done(bench("job", "status", JOB, "--json")))["verdicts"]
    assert verdict["value"] == "0.4862 in"


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["99", "value=0.5 in", "--reason", "x"], 1, "(rule withdrawn.stands)"),
        (["1", "digest=00", "--reason", "x"], 1, "(rule withdrawn.stands)"),
        (["3", "colour=red", "--reason", "x"], 1, "(rule corrected.field)"),
        (["3", "value=red", "--reason", "x"], 1, "(rule reading.kind)"),
        (["3", "value", "--reason", "x"], 2, "value: found no =; "),
        (["3", "value=0.5 in", "value=0.6 in", "--reason", "x"], 2, "value: found the field twice; "),
        (["3", "value=0.5 in", "--reason", ""], 2, "reason: found "),
    ],
)
def test_a_correction_that_cannot_be_is_refused(bench: Ask, words: list[str], code: int, said: str) -> None:
    """Against a rule exit 1, of the wrong form exit 2, and nothing is recorded."""
    before = lines(bench)
    assert said in refused(bench("job", "correct", JOB, *words), code)
    assert lines(bench) == before


def test_a_statement_is_shown_before_it_is_signed(bench: Ask, tmp_path: Path) -> None:
    """It names the acts with their hashes and the head; its digest is what the signature binds, and it is kept."""
    told = done(bench("job", "review", JOB, "--entries", "3")).rstrip().splitlines()
    reading = lines(bench)[READING]
    assert told[0] == "Statement of mechanic, to be signed as own work"
    assert f"It rests on entry 3, head {reading['hash']}" in told
    assert f"      {reading['hash']}" in told
    assert told[-1] == f"digest {offered(bench, 'mechanic', '3')[-1]}"
    done(sign(bench, "mechanic", "3"))
    done(bench("job", "export", JOB, "out.zip"))
    assert b"Statement of mechanic, to be signed as own work" in (tmp_path / "out.zip").read_bytes()


@pytest.mark.parametrize("entries", ["", "x", "3-", "-3", "3,,2", "4", "3-9", "9-3", "0-99999"])
def test_acts_that_are_not_in_the_job_are_misuse(bench: Ask, entries: str) -> None:
    """No number, none in the job, too many: exit 2, and no statement."""
    assert refused(bench("job", "review", JOB, "--entries", entries), 2).startswith("entries: found ")


def test_a_second_look_is_signed_by_another_person(bench: Ask) -> None:
    """The mechanic who did the work is refused by rule, exit 1; the inspector signs, and the shop holds that head."""
    own = sign(bench, "mechanic", "2,3", "--as", "second look")
    assert "(rule signed.second-person)" in refused(own, 1)
    told = done(sign(bench, "inspector", "2, 3", "--as", "second look"))
    assert told.startswith("entry 4: signed by inspector as second look; head ")
    assert f"number 4; of stream {JOB}" in done(bench("job", "history", "shop"))
    assert done(bench("verify")).splitlines()[0].endswith(": anchored in the shop up to entry 4")


def test_what_went_on_after_the_review_is_not_signed(bench: Ask) -> None:
    """One entry more, by whomever, and what was shown is refused by rule, exit 1; reviewed anew it is signed."""
    words = [*offered(bench, "mechanic", "3"), "--phrase-file", "mechanic"]
    done(bench("--person", "inspector", "job", "record", JOB, "noted", "text=a burr at the edge"))
    before = lines(bench)
    assert "(rule signed.as-shown)" in refused(bench(*words), 1)
    assert lines(bench) == before
    done(sign(bench, "mechanic", "3"))


@pytest.mark.parametrize(
    ("person", "phrase", "said"),
    [
        ("mechanic", "wrong", "found a phrase that does not open the key of mechanic; "),
        ("mechanic", "inspector", "found a phrase that does not open the key of mechanic; "),
        ("helper", "mechanic", "found helper without an endorsed key; "),
    ],
)
def test_without_the_phrase_of_ones_own_key_nothing_is_signed(bench: Ask, person: str, phrase: str, said: str) -> None:
    """A wrong phrase, another's phrase, no key at all: exit 2, and nothing is recorded."""
    words = offered(bench, person, "3")
    before = lines(bench)
    assert refused(bench("--person", person, *words, "--phrase-file", phrase), 2).startswith(said)
    assert lines(bench) == before


def test_a_photograph_comes_back_reduced_or_as_it_came(bench: Ask, photographed: bytes, tmp_path: Path) -> None:
    """The copy is smaller and says nothing of the camera; the original is the same to the bit."""
    assert MARK in photographed
    assert done(bench("job", "photo", JOB, "4", "copy.jpg")) == "copy.jpg\n"
    copy = (tmp_path / "copy.jpg").read_bytes()
    assert Image.open(io.BytesIO(copy)).size == (1600, 800)
    assert MARK not in copy
    assert "is there already" in refused(bench("job", "photo", JOB, "4", "copy.jpg", "--original"), 2)
    assert (tmp_path / "copy.jpg").read_bytes() == copy
    done(bench("job", "photo", JOB, "4", "copy.jpg", "--original", "--replace"))
    assert (tmp_path / "copy.jpg").read_bytes() == photographed


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["photograph", "shaft.jpg", "--says", "x", "--tag", "P-0009-9"], 1, "(rule reading.part-on-bench)"),
        (["photograph", "shaft.jpg", "--says", ""], 2, "says: found "),
        (["photograph", "mechanic", "--says", "x"], 2, "that cannot be read as a photograph"),
        (["photo", "3", "out.jpg"], 2, "entry: found 3; expected one of none"),
        (["photo", "4", "out.jpg"], 2, "entry: found 4; expected one of none"),
    ],
)
def test_what_is_no_photograph_is_refused(
    bench: Ask, picture: bytes, tmp_path: Path, words: list[str], code: int, said: str
) -> None:
    """By rule exit 1; other bytes, no words, an entry without one exit 2; nothing is recorded or written."""
    before = lines(bench)
    assert said in refused(bench("job", words[0], JOB, *words[1:]), code)
    assert lines(bench) == before
    assert not (tmp_path / "out.jpg").exists()
    assert (tmp_path / "shaft.jpg").read_bytes() == picture


def test_a_withheld_photograph_says_so_and_leaves_the_job_whole(
    bench: Ask, photographed: bytes, tmp_path: Path
) -> None:
    """Its bytes are in no file of the shop and in no new archive; both prove whole, and the archive tells of it."""
    assert lies_in(tmp_path / "shop", photographed[600:900])
    done(bench("job", "export", JOB, "before.zip"))
    assert photographed in (tmp_path / "before.zip").read_bytes()
    told = done(bench("job", "withhold", JOB, "4", *GROUND))
    assert told == f"entry 7 of the shop: what lay beside entry 4 of {JOB} is withheld\n"
    assert ", withheld; expected nothing: it was taken away lawfully" in refused(
        bench("job", "photo", JOB, "4", "out.jpg"), 2
    )
    assert not (tmp_path / "out.jpg").exists()
    done(bench("job", "export", JOB, "after.zip"))
    assert photographed not in (tmp_path / "after.zip").read_bytes()
    head = lines(bench)[-1]["hash"]
    assert done(bench("verify", "after.zip", "--head", head)).splitlines() == [
        f"whole and matches: entry 4, head {head}",
        "  1 piece of bytes withheld: entry 4",
    ]
    assert done(bench("verify", "before.zip", "--head", head)) == f"whole and matches: entry 4, head {head}\n"
    assert done(bench("verify")).startswith(f"{JOB}: whole")
    assert not lies_in(tmp_path / "shop", photographed[600:900])


@pytest.mark.parametrize(
    ("person", "words", "code", "said"),
    [
        ("inspector", ["4", *GROUND], 1, "(rule role.may-act)"),
        ("mechanic", ["4", "--reason", "x", "--ground", " "], 1, "(rule withheld.ground)"),
        ("mechanic", ["3", *GROUND], 2, "entry: found entry 3, reading taken; "),
        ("mechanic", ["99", *GROUND], 2, "entry: found 99; expected a number from 0 to 4"),
    ],
)
def test_nothing_is_withheld_against_a_rule(
    bench: Ask, photographed: bytes, tmp_path: Path, person: str, words: list[str], code: int, said: str
) -> None:
    """Not by an administrator, on no ground, nothing beside the entry: refused, and the photograph is still there."""
    assert said in refused(bench("--person", person, "job", "withhold", JOB, *words), code)
    done(bench("job", "photo", JOB, "4", "out.jpg", "--original"))
    assert (tmp_path / "out.jpg").read_bytes() == photographed


@pytest.mark.parametrize(
    "words",
    [
        ["history"],
        ["correct", "3", "value=0.5 in", "--reason", "x"],
        ["review", "--entries", "3"],
        ["sign", "--entries", "3", "--shown", "0", "--phrase-file", "mechanic"],
        ["withhold", "3", *GROUND],
        ["photo", "3", "out.jpg"],
    ],
    ids=lambda words: str(words[0]),
)
def test_an_unknown_job_is_named(bench: Ask, words: list[str]) -> None:
    """With the jobs there are beside it, exit 2."""
    told = refused(bench("job", words[0], "0418", *words[1:]), 2)
    assert told.startswith(f"found job '0418'; expected one of {JOB}")
