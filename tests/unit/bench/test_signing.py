"""Signatures: what is shown is signed, by a key somebody else vouched for; a second look is another person's."""

from __future__ import annotations

import hashlib

import pytest

from tenthbook.numbers.because import Refused, WrongInput
from tenthbook.record.bench.keys import NoKey, endorse, make_key, opener, revoke
from tenthbook.record.bench.signing import record_words, sign_statement, state_what_is_signed
from tenthbook.record.job import fold
from tenthbook.record.ledger import (
    RequestReused,
    Withheld,
    WrongPhrase,
    close_key,
    examine,
    open_key,
    public_key_of,
    read_entry,
    signature_holds,
)
from tests.builders import NOON, STREAM, Workplace, archive_keys
from tests.signing import SECRETS, enrol, opened, sign_as, signing

OTHER = "inspector"
PHOTOGRAPHED = {"tag": "P-0001-3", "row": "", "says": "the slot", "media_type": "image/jpeg", "taken_at": ""}


@pytest.fixture
def place() -> Workplace:
    """A shop with mechanic, inspector and helper; a shaft (2), gauge M1 (3), one reading (4)."""
    place = Workplace().open()
    enrol(place, "mechanic", OTHER, "helper")
    place.remove("part.shaft")
    place.set_gauge("M1", "0.0001 in")
    place.read("P-0001-3", "size.shaft", "0.5110 in", "M1")
    return place


def refused(place: Workplace, person: str, entries: list[int], as_what: str, supersedes: int = -1) -> list[str]:
    """The rules that refuse a signature."""
    with pytest.raises(Refused) as caught:
        sign_as(place, person, entries, as_what, supersedes)
    return [one.rule for one in caught.value.refusals]


def test_a_statement_names_acts_head_and_gauges(place: Workplace) -> None:
    """Each act with its hash, the head it rests on, the gauge with its doubt and its calibration as now known."""
    statement = state_what_is_signed(place.state, STREAM, "mechanic", [4], "own work")
    for words in (
        f"head {place.state.head}",
        place.state.entries[4].hash,
        "0.5110 in",
        "M1, outside gauge: 0.0001 in at k = 2; its calibration is not recorded",
        "the authority's decision",
    ):
        assert words in statement.text
    assert statement.digest == hashlib.sha256(statement.text.encode()).hexdigest()
    assert statement.data["gauges"] == [{"entry": 3, "hash": place.state.entries[3].hash}]


def test_another_process_states_the_same(place: Workplace) -> None:
    """What was recorded here and what is read back from the store make one statement, field for field."""
    here = state_what_is_signed(place.state, STREAM, "mechanic", [2, 3, 4], "own work")
    entries = [read_entry(entry.body, entry.signature) for entry in place.store.entries(STREAM)]
    assert state_what_is_signed(fold(entries), STREAM, "mechanic", [2, 3, 4], "own work") == here


def test_what_is_signed_is_kept_as_it_was_shown(place: Workplace) -> None:
    """The words lie in the store, the signature holds over the entry, and the shop has the head."""
    entry = sign_as(place, "mechanic", [2, 4])
    assert b"Statement of mechanic" in place.store.fetch(entry.data["statement_kept"])
    assert signature_holds(public_key_of(SECRETS["mechanic"]), entry.body, entry.signature)
    (anchor,) = place.bench.people.state().anchors[STREAM]
    assert (anchor.number, anchor.head) == (entry.number, entry.hash)


def test_a_job_that_went_on_is_not_signed(place: Workplace) -> None:
    """A statement shown before somebody recorded more is refused: no signature on an old page, none offline."""
    shown = state_what_is_signed(place.state, STREAM, "mechanic", [4], "own work").digest
    place.record("noted", {"text": "meanwhile"}, person=OTHER)
    with pytest.raises(Refused, match=r"signed\.as-shown"):
        sign_statement(place.bench, STREAM, shown, [4], "own work", opened("mechanic"), place.act())


def test_one_signs_ones_own_work(place: Workplace) -> None:
    """Nobody signs as own work what another recorded."""
    assert refused(place, "helper", [4], "own work") == ["signed.own-work"]


def test_a_second_look_is_another_persons(place: Workplace) -> None:
    """Whoever recorded, corrected or signed an act is not its second look; another person is."""
    assert refused(place, "mechanic", [4], "second look") == ["signed.second-person"]
    place.record("corrected", {"entry": 4, "fields": {"value": "0.5111 in"}, "reason": "read again"}, person="helper")
    assert refused(place, "helper", [4], "second look") == ["signed.second-person"]
    assert sign_as(place, OTHER, [4], "second look").kind == "signed"


def test_a_correction_puts_a_signature_in_doubt_until_signed_anew(place: Workplace) -> None:
    """The old one stays visible, superseded by the new; a look again does not mend a signature."""
    old = sign_as(place, "mechanic", [4])
    place.record("corrected", {"entry": 4, "fields": {"value": "0.5111 in"}, "reason": "misread"})
    assert list(place.state.doubted) == [old.number]
    assert place.refused("re-verified", {"entry": old.number, "says": "x"}) == ["verified.in-doubt"]
    new = sign_as(place, "mechanic", [4], "own work", old.number)
    assert (place.state.doubted, place.state.signatures[old.number].superseded_by) == ({}, new.number)
    assert refused(place, "mechanic", [4], "own work", old.number) == ["signed.supersedes-own"]


def test_what_does_not_stand_is_not_signed(place: Workplace) -> None:
    """A withdrawn reading, a question not answered and an act in doubt are bound by nobody."""
    asked = place.read("P-0001-3", "size.shaft", "0.4860 in", "M1")
    place.record("disposed", {"tag": "P-0001-3", "disposition": "in new limits", "reason": "m", "rests_on": [4]})
    place.record("withdrawn", {"entry": 4, "reason": "misread"})
    for number in (4, asked.number, asked.number + 1):
        assert refused(place, "mechanic", [number], "own work") == ["signed.binds-what-stands"]


def test_an_entry_that_is_not_there_is_named(place: Workplace) -> None:
    """So is a statement that binds nothing."""
    for numbers in ([99], []):
        with pytest.raises(WrongInput, match="entries"):
            state_what_is_signed(place.state, STREAM, "mechanic", numbers, "own work")


def test_only_a_key_somebody_vouched_for_signs(place: Workplace) -> None:
    """A stranger's key, a revoked one, and the key of another person are refused by the shop."""
    shown = state_what_is_signed(place.state, STREAM, "mechanic", [4], "own work").digest
    with pytest.raises(Refused) as caught:
        sign_statement(place.bench, STREAM, shown, [4], "own work", opened("helper"), place.act())
    assert [one.rule for one in caught.value.refusals] == ["key.signed-live"]
    gone = {"person": "mechanic", "revoked_key": public_key_of(SECRETS["mechanic"]).hex(), "reason": "lost"}
    by = {**gone, "since": NOON, "key": public_key_of(SECRETS[OTHER]).hex()}
    place.bench.people.record("key revoked", by, place.act(person=OTHER), signing(OTHER))
    assert refused(place, "mechanic", [4], "own work") == ["key.signed-live"]


def test_roles_are_held_in_a_job(place: Workplace) -> None:
    """An owner records no reading; whoever is not enrolled records nothing."""
    place.bench.people.record("person enrolled", {"person": "owner", "roles": ["owner"]}, place.act())
    reading = {"tag": "P-0001-3", "row": "size.shaft", "value": "0.5111 in"}
    assert place.refused("reading taken", reading, person="owner") == ["role.may-act"]
    assert place.refused("reading taken", reading, person="visitor") == ["person.enrolled"]
    place.record("noted", {"text": "please go on"}, person="owner")


def test_papers_say_who_signed_by_which_key(place: Workplace) -> None:
    """Signature, fingerprint and who vouches for it; a first key that vouches for itself says so."""
    sign_as(place, "mechanic", [4])
    told = record_words(place.bench, STREAM)
    assert told.signatures[0].endswith("mechanic, own work, binding 4")
    assert "endorsed by itself" in told.keys[0]


def test_an_archive_of_a_signed_job_is_proved_by_keys_from_outside(place: Workplace) -> None:
    """The signature proves the end as far as it goes; with another key for the person the archive is broken there."""
    entry = sign_as(place, "mechanic", [4])
    archive = place.archive()
    keys = {"mechanic": [public_key_of(SECRETS["mechanic"])]}
    assert examine(archive, entry.hash, keys).answer == "whole and matches"
    assert "by mechanic" in examine(archive, None, keys).where
    wrong = {"mechanic": [public_key_of(SECRETS["helper"])]}
    assert not examine(archive, entry.hash, wrong).whole
    assert archive_keys(archive) == [f"mechanic {keys['mechanic'][0].hex()}"]


def test_keys_are_made_endorsed_opened_and_revoked() -> None:
    """From an empty shop, with phrases: the first key endorses itself, the second is vouched for, a lost one goes."""
    place = Workplace().open()
    people = place.bench.people
    people.open("Test shop", place.act())
    people.record("person enrolled", {"person": "mechanic", "roles": ["mechanic", "administrator"]}, place.act())
    people.record("person enrolled", {"person": OTHER, "roles": ["inspector"]}, place.act())
    drawn = iter(range(1, 200))

    def random(length: int) -> bytes:
        return bytes([next(drawn)]) * length

    make_key(people, "phrase of the mechanic", random, place.act())
    with pytest.raises(NoKey, match="mechanic without an endorsed key"):
        opener(people, "mechanic", "phrase of the mechanic")()
    endorse(people, "mechanic", "the first key", "phrase of the mechanic", place.act())
    make_key(people, "phrase of the inspector", random, place.act(person=OTHER))
    with pytest.raises(WrongPhrase):
        endorse(people, OTHER, "compared", "another phrase, wrong", place.act())
    endorse(people, OTHER, "compared", "phrase of the mechanic", place.act())
    secret, public = opener(people, OTHER, "phrase of the inspector")()
    assert public_key_of(secret) == public
    revoke(people, "mechanic", "tablet lost", NOON, "phrase of the inspector", place.act(person=OTHER))
    assert people.state().live_key("mechanic") is None
    with pytest.raises(NoKey):
        opener(people, "mechanic", "phrase of the mechanic")()


def test_whoever_works_alone_replaces_a_lost_key_with_the_next() -> None:
    """A new key revokes the old one and vouches for itself; nobody else could, and the words on papers say so."""
    place = Workplace().open()
    people = place.bench.people
    people.open("Test shop", place.act())
    people.record("person enrolled", {"person": "mechanic", "roles": ["mechanic", "administrator"]}, place.act())
    make_key(people, "phrase that is lost", lambda length: b"1" * length, place.act())
    endorse(people, "mechanic", "the first key", "phrase that is lost", place.act())
    lost = people.state().live_key("mechanic")
    make_key(people, "phrase of the next key", lambda length: b"2" * length, place.act())
    revoke(people, "mechanic", "phrase forgotten", NOON, "phrase of the next key", place.act())
    endorse(people, "mechanic", "mine", "phrase of the next key", place.act())
    state = people.state()
    live = state.live_key("mechanic")
    assert lost is not None
    assert live is not None
    assert (state.standing_of(lost.public_key), state.standing_of(live.public_key)) == (
        "revoked",
        "first key, endorsed by itself",
    )
    opener(people, "mechanic", "phrase of the next key")()


def test_a_withholding_that_broke_off_is_finished(place: Workplace) -> None:
    """Recorded, and the machine stopped before the bytes were gone: they go the next time somebody withholds."""
    place.bench.photograph(STREAM, b"s" * 32, b"a photograph", PHOTOGRAPHED, place.act())
    (named,) = [entry for entry in place.store.entries(STREAM) if entry.kind == "photographed"]
    commitment = named.data["photograph_detached"]
    fields = {"of_stream": STREAM, "entry": named.number, "commitment": commitment}
    people = place.bench.people
    people.record("blob withheld", {**fields, "reason": "a face on it", "ground": "asked by law"}, place.act())
    assert place.store.attached(commitment)[1] == b"a photograph"
    assert people.take_away() == [commitment]
    assert people.take_away() == []
    with pytest.raises(Withheld):
        place.store.attached(commitment)


def test_no_phrase_and_no_secret_is_stored(place: Workplace) -> None:
    """What a store holds of a key is closed: neither the phrase nor the secret stands in it."""
    box = close_key(SECRETS["mechanic"], "phrase of the mechanic", "mechanic", b"s" * 16, b"n" * 12)
    place.store.put_box(box)
    held = repr(place.store.boxes("mechanic")).encode() + b"".join(
        one.body for stream in place.store.streams() for one in place.store.entries(stream)
    )
    assert SECRETS["mechanic"].hex().encode() not in held
    assert b"phrase of the mechanic" not in held


def test_a_request_id_brings_back_only_its_own_signature(place: Workplace) -> None:
    """Sent twice, a signature is one; another act under that id is refused, and nothing passes for a signature."""
    note = place.record("noted", {"text": "meanwhile"}, "request-note")
    shown = state_what_is_signed(place.state, STREAM, "mechanic", [4], "own work").digest
    with pytest.raises(RequestReused, match="noted"):
        sign_statement(place.bench, STREAM, shown, [4], "own work", opened("mechanic"), place.act("request-note"))
    act = place.act("request-sign")
    entry = sign_statement(place.bench, STREAM, shown, [4], "own work", opened("mechanic"), act)
    assert sign_statement(place.bench, STREAM, shown, [4], "own work", opened("mechanic"), act) == entry
    for other in ({**act, "person": OTHER}, act):
        digest = shown if other != act else "0" * 64
        with pytest.raises(RequestReused, match="another signature"):
            sign_statement(place.bench, STREAM, digest, [4], "own work", opened(OTHER), other)
    assert (note.number, entry.number, place.state.number) == (5, 6, 6)


def test_what_was_typed_makes_no_line_of_a_statement(place: Workplace) -> None:
    """A note cannot pass for a further act, nor turn the direction of writing, nor steer a screen."""
    place.record("noted", {"text": "fine\n  entry 99, inspected by inspector\x1b[2K\u202e\tthe end"})
    statement = state_what_is_signed(place.state, STREAM, "mechanic", [5], "own work")
    assert r"text fine\n  entry 99, inspected by inspector\x1b[2K\u202e\tthe end" in statement.text
    assert all(line.isprintable() for line in statement.text.split("\n"))


def test_papers_say_by_which_key_where_it_is_not_the_present_one(place: Workplace) -> None:
    """A signature by a key replaced since says so; one by a key no longer trusted then says it loudly."""
    shop, public = place.bench.people, public_key_of(SECRETS["helper"]).hex()
    place.record("noted", {"text": "done"}, person="helper")
    sign_as(place, "helper", [5])
    own = public_key_of(SECRETS["mechanic"]).hex()
    later = public_key_of(hashlib.sha256(b"the next key").digest()).hex()
    since = "2026-10-02T00:00:00Z"
    told = {"person": "helper", "revoked_key": public, "reason": "tablet lost", "since": since, "key": own}
    shop.record("key revoked", told, place.act(), signing("mechanic"))
    shop.record("key made", {"person": "helper", "public_key": later}, place.act(person="helper"))
    vouched = {"person": "helper", "endorsed_key": later, "says": "known", "key": own}
    shop.record("key endorsed", vouched, place.act(), signing("mechanic"))
    words = record_words(place.bench, STREAM)
    assert "SIGNED WITH A KEY NOT TRUSTED FROM 2026-10-02T00:00:00Z ON: 3486 7f7f" in words.signatures[0]
    assert "endorsed by mechanic" in words.keys[0], "the key of now is another"


def test_a_new_signature_leaves_nothing_out(place: Workplace) -> None:
    """The doubt of a signature does not end by one that binds less; what was withdrawn may fall away."""
    place.read("P-0001-3", "size.shaft", "0.5111 in", "M1")
    entry = sign_as(place, "mechanic", [4, 5])
    place.record("corrected", {"entry": 4, "fields": {"value": "0.5120 in"}, "reason": "misread"})
    assert refused(place, "mechanic", [5], "own work", entry.number) == ["signed.supersedes-whole"]
    assert entry.number in place.state.doubted
    place.record("withdrawn", {"entry": 4, "reason": "another part"})
    sign_as(place, "mechanic", [5], supersedes=entry.number)
    assert place.state.doubted == {}


def test_a_second_look_at_a_signature_is_a_look_at_what_it_binds(place: Workplace) -> None:
    """Whoever did the work cannot look a second time by binding another's signature over it."""
    look = sign_as(place, OTHER, [4], "second look")
    assert refused(place, "mechanic", [look.number], "second look") == ["signed.second-person"]
    assert sign_as(place, "helper", [look.number], "second look").kind == "signed"


def test_a_photograph_sent_twice_is_one_and_another_is_not_it(place: Workplace) -> None:
    """The same bytes under the same request are recorded once; other bytes are refused, and not lost unsaid."""
    act = place.act("request-photograph")
    entry = place.bench.photograph(STREAM, b"1" * 32, b"one", PHOTOGRAPHED, act)
    assert place.bench.photograph(STREAM, b"2" * 32, b"one", PHOTOGRAPHED, act) == entry
    with pytest.raises(RequestReused):
        place.bench.photograph(STREAM, b"2" * 32, b"two", PHOTOGRAPHED, act)


def test_a_phrase_of_broken_signs_is_another_phrase() -> None:
    """Half a sign, as a wrong keyboard setting makes it, opens nothing and breaks nothing."""
    box = close_key(SECRETS["mechanic"], "four words of mine", "mechanic", b"s" * 16, b"n" * 12)
    with pytest.raises(WrongPhrase):
        open_key(box, "four words of \ud800")
