"""The entry, ready to sign in ink: its text, and what is missing before it may be signed.

It writes plain words of this book around what the signer gave. It approves nothing and states no condition of engine
or aircraft: where a rule wants such a statement, the signer chooses and writes it. An entry with anything missing says
so on its first line and has no line to sign on. In: a form, and what is given. Out: lines, fields, what is missing.

Sources: with each field. Checked in: tests/published/test_14_cfr_43.py, test_m_a_801.py, test_nz_43_69.py
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tenthbook.numbers.because import Because, Fault, Refusal, Refused, WrongInput
from tenthbook.numbers.because.errors import one_line
from tenthbook.record.release.forms import Facts, Field, Form
from tenthbook.record.release.forms_pack import NOT_RULED_OUT
from tenthbook.record.release.major import ANSWERED, MajorAnswer, RepairAsked, major_repair
from tenthbook.record.release.word import Evidence, JudgedWord, judge_word, limits_said, refuse_claims, word_offered

IN_INK = "in ink"
_LINE = "________________________________________"
_FREE_TEXT = ("description", "extent", "statement", "progressive", "inspection")
_OUTSIDE = ("word",)  # given beside the fields: the word the signer chose
_UNANSWERED = RepairAsked()


@dataclass(frozen=True, slots=True)
class Given:
    """What an entry is made of.

    Attributes:
        evidence: What the job holds as evidence for its word.
        values: What was filled in, by the names of the form's fields; `word` where the signer chose one.
        repair: What was answered about a major repair.
        marks: What every paper of the job must say, such as that it is invented; a line each.
        in_the_way: What outside of the form stands in the way of a signature.
    """

    evidence: Evidence
    values: Mapping[str, str]
    repair: RepairAsked = _UNANSWERED
    marks: tuple[str, ...] = ()
    in_the_way: tuple[Refusal, ...] = ()


@dataclass(frozen=True, slots=True)
class Written:
    """One field as it stands in the entry.

    Attributes:
        field: Its id.
        says: The words beside it.
        value: What was given; empty where nothing was.
        rule: Id of its rule.
    """

    field: str
    says: str
    value: str
    rule: str


@dataclass(frozen=True, slots=True)
class EntryText:
    """An entry, and what is missing before it may be signed.

    Attributes:
        form: Id of the form.
        lines: The text, a line each.
        fields: The fields that stand in it.
        missing: Every rule in the way: a field that is wanting or not in form, a word that is not earned.
        because: The rule the word was judged by, and the entries it rests on.
        major: Whether the repair is major.
    """

    form: str
    lines: tuple[str, ...]
    fields: tuple[Written, ...]
    missing: tuple[Refusal, ...]
    because: Because
    major: MajorAnswer

    @property
    def ready(self) -> bool:
        """Whether nothing is missing and it may be put before the signer."""
        return not self.missing


def _refuse_unknown(form: Form, values: Facts) -> None:
    known = [*(field.id for field in form.fields), *_OUTSIDE]
    faults = []
    for name in values:
        if name not in known:
            near = difflib.get_close_matches(name, known, n=1)
            faults.append(
                Fault(name, "an unknown field", f"{near[0]}, perhaps" if near else "one of " + ", ".join(known))
            )
    if faults:
        raise WrongInput(faults)


def _fields_missing(form: Form, facts: Facts) -> Iterator[Refusal]:
    for field in form.fields:
        if not field.rule.holds(**facts):
            value = facts.get(field.id, "")
            found = f"{value!r} as {field.says}" if value.strip() else f"no {field.says}"
            yield Refusal(field.rule.id, one_line(found), field.rule.says, field.rule.todo)


def _ruled_out(form: Form, facts: Facts) -> Iterator[Refusal]:
    for field in form.fields:
        value = facts.get(field.id, "")
        if field.only_then and not NOT_RULED_OUT.holds(value=value, needed=field.needed(facts)):
            found = one_line(f"{value!r} as {field.says}, which is not asked here")
            yield Refusal(NOT_RULED_OUT.id, found, NOT_RULED_OUT.says, NOT_RULED_OUT.todo)


def _words_missing(judged: JudgedWord, given: Given, facts: Facts) -> Iterator[Refusal]:
    yield from judged.refusals
    for name in _FREE_TEXT:
        yield from refuse_claims(facts.get(name, ""), given.evidence)


def _major_missing(form: Form, major: MajorAnswer) -> Iterator[Refusal]:
    if form.needs_major and not ANSWERED.holds(answer=major.answer):
        yield Refusal(ANSWERED.id, "open: " + " ".join(major.asks), ANSWERED.says, ANSWERED.todo)


def _label(says: str, value: str) -> str:
    return f"{says}: {' '.join(one_line(line) for line in value.split())}"


def _field_lines(field: Field, facts: Facts) -> Iterator[str]:
    value = facts.get(field.id, "")
    if field.id == "signature":
        yield f"{field.says}: {_LINE}" if value == IN_INK else _label(field.says, value)
    elif field.id == "components" and value.count("\n"):
        yield f"{field.says}:"
        yield from (
            f"  {' '.join(one_line(word) for word in line.split())}" for line in value.splitlines() if line.strip()
        )
    elif value:
        yield _label(field.says, value)
    elif field.needed(facts):
        yield f"{field.says}: (missing)"


def _word_lines(judged: JudgedWord, facts: Facts) -> Iterator[str]:
    after = " in accordance with the data named below" if facts.get("data") or facts.get("technical_data") else ""
    yield f"Word: {judged.word}{after}" if judged.allowed else f"Word: (missing; {judged.word} is not earned)"
    yield f"Limits used: {facts['limits'] or '(missing)'}"


def _after(field: Field, facts: Facts) -> Iterator[str]:
    """Say what follows from the way a major repair is recorded."""
    if field.id == "form_reference" and facts.get("route") == "Form 337":
        yield "A signed copy goes to the owner, and a copy to the aircraft registration branch within 48 hours."
    if field.id == "station_address" and facts.get("route") == "work order":
        yield "The signer states: repaired and inspected under the current rules; details are on file under the order."


def _above_lines(fields: list[Field], facts: Facts) -> Iterator[str]:
    for field in fields:
        if field.id == "route":
            yield f"Major repair: {facts['major']}"
        if field.printed:
            yield from _field_lines(field, facts)
        yield from _after(field, facts)


_AT_THE_END = ("approver", "issuer", "certifier")


def _parts_of(form: Form) -> tuple[list[Field], list[Field]]:
    """Part the fields into those above the statement and those of the signer."""
    first = next(place for place, field in enumerate(form.fields) if field.id in _AT_THE_END)
    return list(form.fields[:first]), list(form.fields[first:])


def _lines(form: Form, given: Given, facts: Facts, judged: JudgedWord, missing: int) -> Iterator[str]:
    if missing:
        yield f"NOT READY TO SIGN: {missing} thing(s) missing"
    yield from map(one_line, given.marks)
    yield form.title
    above, signer = _parts_of(form)
    yield from _above_lines(above[:1], facts)
    yield from _word_lines(judged, facts)
    yield from _above_lines(above[1:], facts)
    if facts.get("approved", "") == "no":
        yield "This entry records work. It approves nothing for return to service."
    elif missing:
        yield "No line to sign on while anything is missing."
    else:
        yield from (line.format(rules=facts.get("rules", "")) for line in form.above_signature)
        yield from (line for field in signer for line in _field_lines(field, facts))


def entry_text(form: Form, given: Given) -> EntryText:
    """Write an entry, as far as it can be written, and say what is missing.

    Args:
        form: The form, such as `WORK`.
        given: What is known, and what somebody filled in.

    Returns:
        The entry; it is ready once nothing is missing.

    Raises:
        WrongInput: a value under a name that the form does not have.

    Source: with each field. Checked in: tests/published/test_14_cfr_43.py
    """
    _refuse_unknown(form, given.values)
    chosen = given.values.get("word", "").strip() or form.word
    judged = judge_word(chosen, given.evidence) if chosen else word_offered(given.evidence)
    major = major_repair(given.repair)
    derived = {"word": judged.word, "limits": limits_said(given.evidence), "major": major.answer}
    facts = {name: value.strip() for name, value in given.values.items()} | derived
    missing = (
        *_words_missing(judged, given, facts),
        *_fields_missing(form, facts),
        *_ruled_out(form, facts),
        *_major_missing(form, major),
        *given.in_the_way,
    )
    written = tuple(
        Written(field.id, field.says, facts.get(field.id, ""), field.rule.id)
        for field in form.fields
        if facts.get(field.id, "") or field.needed(facts)
    )
    lines = tuple(_lines(form, given, facts, judged, len(missing)))
    return EntryText(form.id, lines, written, missing, judged.because, major)


def entry_to_sign(form: Form, given: Given) -> EntryText:
    """Write an entry that may be put before its signer.

    Args:
        form: The form.
        given: What is known, and what somebody filled in.

    Returns:
        The entry, with nothing missing.

    Raises:
        Refused: something is missing; every field is named by its rule, with the way on.
        WrongInput: a value under a name that the form does not have.
    """
    entry = entry_text(form, given)
    if not entry.ready:
        raise Refused(entry.missing)
    return entry
