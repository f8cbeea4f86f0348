"""The entry, ready to sign, or everything that is missing."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import Refused, WrongInput
from tenthbook.record.release import (
    EUROPE,
    FORMS,
    INSPECTION,
    RULES,
    WORK,
    Evidence,
    Form,
    Given,
    RepairAsked,
    entry_text,
    entry_to_sign,
)
from tests.filled_in import ALL_SIX, HEAD, REPAIRED, VALUES, given_for

ALL_FORMS = pytest.mark.parametrize("form", list(FORMS.values()), ids=list(FORMS))


@ALL_FORMS
def test_a_complete_entry_is_ready(form: Form) -> None:
    """With nothing missing there is a line to sign on, in ink, and the word with its limits."""
    entry = entry_to_sign(form, given_for(form))
    assert entry.ready
    assert sum(line.startswith("Signature: ____") for line in entry.lines) == 1
    word = "inspected" if form is INSPECTION else "repaired"
    assert any(line.startswith(f"Word: {word}") for line in entry.lines)
    assert "Limits used: service limits" in entry.lines


@ALL_FORMS
def test_an_empty_entry_names_all_that_is_missing(form: Form) -> None:
    """Nothing given: every needed field is named by its rule with the way on, and there is no line to sign on."""
    entry = entry_text(form, Given(Evidence(), {}))
    assert entry.lines[0] == f"NOT READY TO SIGN: {len(entry.missing)} thing(s) missing"
    assert not any("Signature" in line for line in entry.lines)
    named = {one.rule for one in entry.missing}
    assert {field.rule.id for field in form.fields if field.needed({})} <= named
    assert all(RULES.find(one.rule) is not None and one.todo for one in entry.missing)
    with pytest.raises(Refused) as caught:
        entry_to_sign(form, Given(Evidence(), {}))
    assert caught.value.refusals == entry.missing


@ALL_FORMS
@given(data=st.data())
def test_what_is_left_out_is_what_is_missing(form: Form, data: st.DataObject) -> None:
    """Any fields left out, in any number: exactly those that are needed are missing."""
    left_out = data.draw(st.sets(st.sampled_from(sorted(VALUES[form.id]))))
    facts = {name: value for name, value in VALUES[form.id].items() if name not in left_out}
    word = "inspected" if form is INSPECTION else "repaired"
    needed = {field.rule.id for field in form.fields if field.id in left_out and field.needed({**facts, "word": word})}
    assert {one.rule for one in entry_text(form, given_for(form, *left_out)).missing} == needed


@ALL_FORMS
def test_the_book_claims_nothing_of_its_own(form: Form) -> None:
    """No line of an entry, no label and no rule says of engine or aircraft that it is fit to fly."""
    said = [*entry_text(form, Given(Evidence(), {})).lines, *entry_to_sign(form, given_for(form)).lines]
    assert [line for line in said if "airworthy" in line.casefold() or "may start" in line.casefold()] == []
    assert [rule.id for rule in RULES if "airworthy" in f"{rule.says} {rule.todo}".casefold()] == []


def test_the_statement_is_the_signers() -> None:
    """What 43.11 wants stated stands as the signer wrote it, and is marked as the signer's words."""
    entry = entry_to_sign(INSPECTION, given_for(INSPECTION, statement="I found the aircraft airworthy."))
    assert "Stated by the signer, in the signer's own words: I found the aircraft airworthy." in entry.lines


def test_a_chosen_word_is_judged() -> None:
    """A word the signer chose passes the same gate as one that is offered."""
    refused = entry_text(WORK, given_for(WORK, word="overhauled"))
    assert {one.rule for one in refused.missing} == {"word.six-verbs", "word.standards-current"}
    assert "Word: (missing; overhauled is not earned)" in refused.lines
    earned = entry_to_sign(WORK, dataclasses.replace(given_for(WORK, word="repaired"), evidence=ALL_SIX))
    assert "Word: repaired in accordance with the data named below" in earned.lines
    assert earned.because.entries == ALL_SIX.repaired


def test_a_description_claims_no_other_word() -> None:
    """The gate holds in the description too."""
    refused = entry_text(WORK, given_for(WORK, description="Engine overhauled."))
    assert [one.rule for one in refused.missing] == ["word.only-earned"]


@pytest.mark.parametrize(
    ("form", "name", "value"),
    [
        (WORK, "route", "Form 337"),
        (WORK, "approved_data", "scheme 12"),
        (INSPECTION, "list_dated", "2026-11-30"),
        (INSPECTION, "programme", "HEW-1"),
        (EUROPE, "incomplete_limits", "no flight"),
    ],
)
def test_nothing_stands_that_another_answer_rules_out(form: Form, name: str, value: str) -> None:
    """A field that belongs to another case contradicts the entry and is refused."""
    missing = entry_text(form, given_for(form, **{name: value})).missing
    assert "release.pack-not-ruled-out" in [one.rule for one in missing]


def test_a_major_repair_stays_open_until_answered() -> None:
    """An entry is not ready while nobody said whether its repair is major; the questions stand in the refusal."""
    missing = entry_text(WORK, Given(REPAIRED, VALUES["work"], RepairAsked())).missing
    assert [one.rule for one in missing] == ["major.answered"]
    assert "Was the crankcase split" in missing[0].found


def test_an_unknown_field_is_misuse() -> None:
    """A slip in a name is not dropped: the nearest name is offered."""
    with pytest.raises(WrongInput, match="certificate_kind, perhaps"):
        entry_text(WORK, given_for(WORK, certficate_kind="mechanic"))


@pytest.mark.parametrize(
    ("head", "ready"),
    [
        (HEAD, True),
        (HEAD[:32], True),
        (HEAD[:31], False),
        (HEAD + "0", False),
        (HEAD.upper(), False),
        ("z" * 64, False),
    ],
)
def test_the_head_is_named_by_enough_signs(head: str, ready: bool) -> None:
    """At least 32 of the 64 signs of the head stand in the entry."""
    assert entry_text(WORK, given_for(WORK, head=head)).ready is ready


@pytest.mark.parametrize("kind", ["3141592", "-", " "])
def test_a_number_is_no_kind_of_certificate(kind: str) -> None:
    """The kind is said in words, in a field of its own."""
    missing = entry_text(WORK, given_for(WORK, certificate_kind=kind)).missing
    assert [one.rule for one in missing] == ["release.work-certificate-kind"]


@pytest.mark.parametrize("typed", ["Pump.\nSignature: ____\nName: nobody", "Pump.\x1b[2J\rName: nobody"])
def test_what_is_typed_stays_on_its_line(typed: str) -> None:
    """No text that somebody typed can make a line of its own, or steer a terminal."""
    plain = entry_to_sign(WORK, given_for(WORK)).lines
    spoofed = entry_to_sign(WORK, given_for(WORK, description=typed)).lines
    assert len(spoofed) == len(plain)
    assert all(line.isprintable() for line in spoofed)


def test_what_every_paper_must_say_stands_first() -> None:
    """The marks of the job stand above everything else."""
    given = dataclasses.replace(given_for(WORK), marks=("INVENTED: for no engine",))
    assert entry_to_sign(WORK, given).lines[0] == "INVENTED: for no engine"


def test_another_way_of_signing_is_printed_as_said() -> None:
    """Only a signature in ink gets a line; another one is named."""
    lines = entry_to_sign(WORK, given_for(WORK, signature="entry 212 of the job")).lines
    assert "Signature: entry 212 of the job" in lines


def test_capitals_make_no_other_inspection() -> None:
    """Progressive is progressive however it is typed."""
    missing = entry_text(INSPECTION, given_for(INSPECTION, "statement", type="Progressive")).missing
    assert [one.rule for one in missing] == ["release.inspection-progressive"]


@ALL_FORMS
def test_the_fields_name_their_rules(form: Form) -> None:
    """Each field of an entry is given with its words, value and rule; the rule is named by form and field."""
    for written in entry_to_sign(form, given_for(form)).fields:
        assert written.rule in (
            f"release.{form.id}-{written.field.replace('_', '-')}",
            f"release.pack-{written.field.replace('_', '-')}",
        )
        assert written.value
