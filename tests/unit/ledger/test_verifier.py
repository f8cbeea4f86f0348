"""How far what is known from outside reaches: heads from papers, keys of persons, and what is noted beside them."""

from __future__ import annotations

import dataclasses
import hashlib
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from tenthbook.faces.store.verifier_text import verifier_text
from tenthbook.record.ledger import Draft, Entry, commitment, examine, pack, public_key_of, seal, sign
from tenthbook.record.ledger.proof import signed_message_holds
from tenthbook.record.ledger.verifier import BROKEN, END_UNPROVEN, MATCHES, Finding, build, lines_of, read_keys
from tests.builders import NOON, chain, members_of, noted
from tests.first_format import pack_first

SECRET, OTHER = bytes(range(32)), b"\x07" * 32
KEY, OTHER_KEY = public_key_of(SECRET), public_key_of(OTHER)
INSPECTOR = {"inspector": [OTHER_KEY, KEY]}


def act(kind: str = "noted", person: str = "mechanic", **data: object) -> Draft:
    """An act with these data, and the key of its signer where it is signed."""
    named = {"key": KEY.hex()} if kind in ("signed", "released") else {"text": "a note"}
    return Draft(kind, 1, person, "r", "", NOON, {**named, **data})


def sealed(*drafts: Draft, times: Sequence[str] = (), secret: bytes = SECRET) -> list[Entry]:
    """Acts sealed one to the other, at noon unless told otherwise."""
    entries: list[Entry] = []
    for number, draft in enumerate(drafts):
        by = (lambda body: sign(secret, body)) if "key" in draft.data else None
        time = times[number] if times else NOON
        entries.append(seal(draft, number, time, entries[-1].hash if entries else "", by))
    return entries


def packed(entries: Sequence[Entry]) -> bytes:
    """Entries that name nothing, packed."""
    return pack(entries, [], [], {}, b"# v\n")


def reseated(*rows: tuple[bytes, bytes], signers: Sequence[tuple[str, str]] = ()) -> bytes:
    """An archive of bodies and signatures, however wrong, with seals, head and keys made to fit."""
    hashes = [hashlib.sha256(body + signature).hexdigest() for body, signature in rows]
    members = members_of(packed(chain(noted())))
    members["entries.jsonl"] = b"".join(body + b"\n" for body, _ in rows)
    pairs = zip(hashes, rows, strict=True)
    members["seals.txt"] = "".join(f"{stated} {row[1].hex() or '-'}\n" for stated, row in pairs).encode()
    members["head.txt"] = f"{len(rows) - 1} {hashes[-1]}\n".encode()
    members["keys.txt"] = lines_of(signers)
    return build(members)


ENTRIES = sealed(act(), act("signed", "inspector"), act(), act(), act())
ARCHIVE, HEAD = packed(ENTRIES), ENTRIES[-1].hash


@pytest.mark.parametrize("end", [64, 8, 12])
def test_a_head_from_a_paper_is_matched(end: int) -> None:
    """The whole hash, or its first eight signs or more, proves the end, in either case of letters."""
    found = examine(ARCHIVE, HEAD[:end].upper())
    assert found == Finding(MATCHES, f"entry 4, head {HEAD}", 5, (), HEAD)
    assert (found.whole, str(found)) == (True, f"whole and matches: entry 4, head {HEAD}")


def test_without_a_head_the_end_is_unproven() -> None:
    """A whole chain says nothing about entries cut off its end, and says so."""
    assert examine(ARCHIVE) == Finding(END_UNPROVEN, f"entry 4, head {HEAD}", 5, (), HEAD)


@pytest.mark.parametrize("head", ["", "abc", HEAD[:7], "0" * 64, HEAD + "0"])
def test_another_head_or_too_short_a_one_is_broken(head: str) -> None:
    """Seven signs prove nothing, and a hash that stands nowhere proves the contrary."""
    found = examine(ARCHIVE, head)
    assert str(found) == f"broken at entry 4: the head is {HEAD[:16]}, the paper says {head[:16]}"
    assert (found.whole, found.entries, found.head) == (False, 0, "")


@pytest.mark.parametrize(("number", "rest"), [(0, "the 4 entries"), (2, "the 2 entries"), (3, "the entry")])
def test_an_older_paper_proves_what_stood_then(number: int, rest: str) -> None:
    """The head of an earlier day matches up to its entry, and what came after is said to be unproven."""
    found = examine(ARCHIVE, ENTRIES[number].hash[:10])
    words = f"matches the paper up to entry {number}; nothing outside proves {rest} after it"
    assert (found.answer, found.where, found.head) == (END_UNPROVEN, words, HEAD)


def test_entries_cut_off_the_end_are_found_by_the_head() -> None:
    """A shorter archive is whole in itself, and does not match the paper."""
    shorter = packed(ENTRIES[:3])
    assert examine(shorter).answer == END_UNPROVEN
    assert examine(shorter, HEAD).answer == BROKEN


def test_a_signature_by_a_known_key_proves_up_to_its_entry() -> None:
    """Only where the key is known from outside; the entries after the last such signature are unproven."""
    rest = "signed up to entry 1 by inspector; nothing outside proves the 3 entries after it"
    assert examine(ARCHIVE, keys=INSPECTOR).where == rest
    assert examine(packed(ENTRIES[:2]), keys=INSPECTOR).where == "signed up to entry 1 by inspector"
    assert examine(ARCHIVE, keys={}).where == examine(ARCHIVE).where == f"entry 4, head {HEAD}"


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (0, "matches the paper up to entry 0, signed up to entry 1 by inspector; nothing outside proves the 3 entries"),
        (3, "signed up to entry 1 by inspector, matches the paper up to entry 3; nothing outside proves the entry"),
    ],
)
def test_a_paper_and_a_signature_are_both_told(number: int, words: str) -> None:
    """The further of the two says what is left unproven."""
    assert examine(ARCHIVE, ENTRIES[number].hash, INSPECTOR).where == f"{words} after it"


def test_a_signature_by_a_key_that_is_not_theirs_is_broken() -> None:
    """Whoever signs as somebody else, with a key of their own, is found by the keys known from outside."""
    found = examine(ARCHIVE, HEAD, {"inspector": [OTHER_KEY]})
    assert str(found) == "broken at entry 1: the signature is by a key that is not inspector's"
    assert not examine(ARCHIVE, HEAD, {"inspector": []}).whole


def test_a_person_is_known_however_the_id_is_written() -> None:
    """Capitals and further blanks make no other person."""
    assert not examine(ARCHIVE, keys={" INSPECTOR ": [OTHER_KEY]}).whole
    assert examine(ARCHIVE, keys={"Inspector": [OTHER_KEY], "inspector": [KEY]}).whole


def test_a_person_nobody_knows_is_noted() -> None:
    """Where keys are known, and none of the signer's, the archive is whole and the answer says whose key is missing."""
    entries = sealed(act("signed", "inspector"), act("released", "inspector"), act("signed", "a\nb"))
    assert examine(packed(entries), keys={"another": [KEY]}).notes == (
        "nothing outside says which key is inspector's: entries 0, 1",
        "nothing outside says which key is a?b's: entry 2",
    )
    assert examine(packed(entries)).notes == ()


def test_a_signature_must_hold_under_the_key_its_entry_names() -> None:
    """With no key from outside at all, a signature by another key than the one named is broken."""
    body = ENTRIES[1].body
    forged = reseated((ENTRIES[0].body, b""), (body, sign(OTHER, body)), signers=[("inspector", KEY.hex())])
    assert str(examine(forged)) == "broken at entry 1: the signature does not hold under the key it names"


def test_an_unsigned_entry_that_ought_to_be_signed_is_broken() -> None:
    """A signature cannot be left out, even by who makes the whole archive anew; nor stand where none belongs."""
    bare = reseated((sealed(act("signed"))[0].body, b""))
    assert str(examine(bare)) == "broken at entry 0: no signature on 'signed'"
    body = sealed(act())[0].body
    assert str(examine(reseated((body, sign(SECRET, body))))) == "broken at entry 0: a signature on 'noted'"


@pytest.mark.parametrize("key", ["", KEY.hex().upper(), KEY.hex()[:-2], 7])
def test_a_signed_entry_names_a_key(key: object) -> None:
    """64 figures, or it is broken."""
    body = chain(dataclasses.replace(noted(), data={"key": key}))[0].body.replace(b'"noted"', b'"signed"')
    found = examine(reseated((body, sign(SECRET, body))))
    assert str(found) == "broken at entry 0: signed, and names no public key"


def test_a_tail_rewritten_after_a_signature() -> None:
    """The signature still holds; the paper shows it, and the answer without one says how much is unproven."""
    other = sealed(act(), act("signed", "inspector"), act(text="other"), act(), act())
    assert other[1] == ENTRIES[1]
    assert examine(packed(other), HEAD, INSPECTOR).answer == BROKEN
    assert examine(packed(other), keys=INSPECTOR).where.endswith("nothing outside proves the 3 entries after it")


def test_a_rewritten_start_breaks_the_signature() -> None:
    """Who rewrites what was signed needs the signer's key."""
    other = sealed(act(text="other"))
    body = ENTRIES[1].body.replace(ENTRIES[0].hash.encode(), other[0].hash.encode())
    forged = reseated((other[0].body, b""), (body, ENTRIES[1].signature), signers=[("inspector", KEY.hex())])
    assert str(examine(forged)) == "broken at entry 1: the signature does not hold under the key it names"


@pytest.mark.parametrize("order", [(1, 0, 2), (0, 2, 1), (0, 2), (0, 0, 1, 2), (0, 1, 1, 2), (1, 2)])
def test_entries_changed_over_left_out_or_doubled(order: tuple[int, ...]) -> None:
    """With seals and head made anew the chain still shows it."""
    entries = chain(*(noted(str(number), request=f"r-{number}") for number in range(3)))
    found = examine(reseated(*((entries[place].body, b"") for place in order)))
    assert found.answer == BROKEN
    assert found.where.endswith("does not follow the entry before it")


def test_a_clock_that_ran_backward_is_noted() -> None:
    """It is no break: order is by number, and the times stand as they were."""
    times = ["2026-10-02T12:00:00Z", "2026-10-02T11:59:59Z", "2026-10-02T12:00:00Z", "2026-10-02T12:00:00Z"]
    found = examine(packed(sealed(act(), act(), act(), act(), times=times)))
    assert found.whole
    assert found.notes == ("entry 1: recorded at 2026-10-02T11:59:59Z before entry 0 at 2026-10-02T12:00:00Z",)


def test_what_was_withheld_is_noted() -> None:
    """How many pieces, and which entries name them."""
    one, two = commitment(b"\x01" * 32, b"one"), commitment(b"\x02" * 32, b"two")
    drafts = [act(photograph_detached=one), act(), act(photograph_detached=two), act(photograph_detached=one)]
    beside = [(b"\x01" * 32, b"one"), (b"\x02" * 32, b"two")]
    for gone, note in (
        ({}, ()),
        ({two: "ab" * 32}, ("1 piece of bytes withheld: entry 2",)),
        ({one: "ab" * 32, two: "ab" * 32}, ("2 pieces of bytes withheld: entries 0, 2, 3",)),
    ):
        assert examine(pack(sealed(*drafts), [], beside, gone, b"# v\n")).notes == note


def test_a_faster_check_of_signatures_may_be_given() -> None:
    """The plain check and the library's give one answer."""
    assert examine(ARCHIVE, HEAD, INSPECTOR, signed_message_holds) == examine(ARCHIVE, HEAD, INSPECTOR)
    body = ENTRIES[1].body
    forged = reseated((ENTRIES[0].body, b""), (body, sign(OTHER, body)), signers=[("inspector", KEY.hex())])
    assert examine(forged, check=signed_message_holds) == examine(forged)
    assert not signed_message_holds(KEY, body, sign(SECRET, body)), "the prefix is part of what is signed"


def test_in_the_first_format_a_signature_is_held_against_the_keys_known() -> None:
    """With one of their keys it is whole, with others broken; without any it is bound, and noted if keys are given."""
    archive = pack_first(ENTRIES, [], b"# v\n")
    assert examine(archive, HEAD).notes == ()
    assert examine(archive, keys=INSPECTOR).where.startswith("signed up to entry 1 by inspector; ")
    assert examine(archive, keys={"x": [KEY]}).notes == ("nothing outside says which key is inspector's: entry 1",)
    found = examine(archive, keys={"inspector": [OTHER_KEY]})
    assert str(found) == "broken at entry 1: the signature is by a key that is not inspector's"


def keyless(signature: bytes) -> bytes:
    """An archive of the first format whose one signed entry names no key, with this signature."""
    body = seal(act("noted", "inspector"), 0, NOON, "").body.replace(b'"kind":"noted"', b'"kind":"signed"')
    digest = hashlib.sha256(body + signature).hexdigest()
    members = members_of(pack_first(sealed(act()), [], b"# v\n"))
    members["entries.jsonl"] = body + b"\n"
    members["seals.txt"] = f"{digest} {signature.hex() or '-'}\n".encode()
    return build(members | {"head.txt": f"0 {digest}\n".encode()})


def test_the_first_format_is_no_way_round_a_signature() -> None:
    """A stream packed in the older format, its signatures taken off and all hashed anew, is broken like any other."""
    body = keyless(b"")
    assert str(examine(body)) == "broken at entry 0: no signature on 'signed'"
    forged = reseated((ENTRIES[0].body, b""), (ENTRIES[1].body, b"x" * 64), signers=[])
    first = {**members_of(pack_first(ENTRIES[:2], [], b"# v\n")), "seals.txt": members_of(forged)["seals.txt"]}
    first["head.txt"] = members_of(forged)["head.txt"]
    assert "does not hold under the key it names" in str(examine(build(first)))


def test_in_the_first_format_a_signature_that_names_no_key_is_said_to_prove_nothing() -> None:
    """Nobody can say whose it is until the key is known from outside, and then it holds or is broken."""
    found = examine(keyless(b"x" * 64))
    assert (found.whole, found.notes) == (True, ("nothing outside says which key is inspector's: entry 0",))
    found = examine(keyless(b"x" * 64), keys=INSPECTOR)
    assert str(found) == "broken at entry 0: the signature is not that of inspector"


def test_keys_are_read_a_line_each() -> None:
    """A person, whose id may hold blanks, and a key; anything else is said."""
    text = f"inspector {KEY.hex()}\n\nJ. Doe {OTHER_KEY.hex().upper()}\r\ninspector {OTHER_KEY.hex()}\n"
    assert read_keys(text) == {"inspector": {KEY, OTHER_KEY}, "J. Doe": {OTHER_KEY}}
    for line in ("inspector", KEY.hex(), f"inspector {KEY.hex()[1:]}", f"{KEY.hex()} inspector"):
        with pytest.raises(ValueError, match="is not a person and a public key of 64 figures"):
            read_keys(f"{text}{line}\n")


@pytest.fixture
def ask(tmp_path: Path) -> list[str]:
    """The command that runs the verifier out of an archive, isolated from every installed package."""
    script = tmp_path / "verify.py"
    script.write_bytes(members_of(pack(ENTRIES, [], [], {}, verifier_text()))["verify.py"])
    return [sys.executable, "-I", "-S", str(script)]


def answered(command: list[str], archive: bytes) -> tuple[int, str]:
    """Exit code and what is printed."""
    done = subprocess.run(command, input=archive, capture_output=True, check=False, timeout=60)
    return done.returncode, (done.stdout + done.stderr).decode()


def test_the_verifier_inside_proves_the_archive_with_a_plain_python(ask: list[str]) -> None:
    """The copy in the archive runs alone and answers as the room does, of either format: 0 for whole, 1 for broken."""
    for archive in (ARCHIVE, pack_first(ENTRIES, [], b"# v\n")):
        assert answered([*ask, HEAD], archive) == (0, f"whole and matches: entry 4, head {HEAD}\n")
        assert answered(ask, archive) == (0, f"whole, nothing outside proves the end: entry 4, head {HEAD}\n")
        assert answered([*ask, "0" * 64], archive)[0] == 1
        assert answered(ask, archive[:-1]) == (1, f"{examine(archive[:-1])}\n")


def test_the_verifier_inside_reads_keys_and_tells_notes(ask: list[str], tmp_path: Path) -> None:
    """The keys known from outside come from a file; a note has a line of its own; a file that is none is misuse."""
    keys = tmp_path / "keys.txt"
    keys.write_text(f"inspector {KEY.hex()}\n")
    whole = (0, f"{examine(ARCHIVE, keys=INSPECTOR)}\n")
    assert answered([*ask, "-", str(keys)], ARCHIVE) == whole
    keys.write_text(f"M\u00fcller {KEY.hex()}\n", encoding="utf-8")
    code, text = answered([*ask, HEAD, str(keys)], ARCHIVE)
    assert (code, text.splitlines()[1:]) == (0, ["nothing outside says which key is inspector's: entry 1"])
    keys.write_text("nonsense\n")
    assert answered([*ask, "-", str(keys)], ARCHIVE)[0] == 2
    assert answered([*ask, "-", str(tmp_path / "none")], ARCHIVE)[0] == 2
