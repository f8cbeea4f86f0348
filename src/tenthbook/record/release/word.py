"""Which word may be written of this work: overhauled, rebuilt, repaired, modified, inspected, tested, zero time?

The word is earned by entries. It does not look into a job: whoever asks hands in the numbers of the entries that are
evidence. In: `Evidence`. Out: for each word whether it is allowed, with the entries it rests on or every rule in its
way; and the word that is offered. Adding evidence never takes a word away; what does is a line of the mandatory list
opened, limits of another kind, and trade talk, which no evidence mends.

Sources: 14 CFR 43.2 and 91.421 (both read), 14 CFR 43.3(j) (from memory). Checked in: tests/published/test_14_cfr_43.py
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tenthbook.numbers.because import Because, Refusal, Rule
from tenthbook.record.release import word_rules as rules
from tenthbook.record.release.word_rules import TRADE_TALK, VERBS, WORDS, ZERO_TIME

Entries = tuple[int, ...]
# What is typed freely claims a word by saying it was done; a title, a limit or a time named after it claims none.
_NAMED_AFTER = r"(?!\s+(?:manuals?|limits?|instructions?|data|standards?|schedules?|periods?|intervals?|times?)\b)"
_OVERHAUL = rf"(?:\b(?:top|bottom)[\s-]+overhaul|(?<!since )(?<!last )\boverhaul(?:ed)?)\b{_NAMED_AFTER}"
_CLAIMED = re.compile(rf"{_OVERHAUL}|\brebuil[dt]\b|\bzero[\s-]+timed?\b")
_SAYS = {"overhaul": "overhauled", "rebuild": "rebuilt", "zero timed": ZERO_TIME}


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a job holds as evidence, by the numbers of its entries; an empty tuple is no evidence.

    Attributes:
        disassembled: Entries that took it apart.
        cleaned: Entries that cleaned it.
        inspected: Entries that inspected it.
        repaired: Entries that repaired or replaced what needed it.
        reassembled: Entries that put it together.
        tested: Entries that tested it.
        no_repair_needed: Entries that settle that nothing needed repair; they fill "repaired as necessary" and allow
            no word repaired.
        modified: Entries that altered it after data.
        standard: Limits used: new limits, service limits, mixed; empty where nobody said.
        standards_current: Entries that show the data to be the holder's, and checked to be current.
        mandatory_open: Lines of the mandatory list that are still open, by name.
        parts_new_limits: Whether each part is new, or used and inside new limits or an approved over- or undersize.
        by_maker: Whether the engine's maker does the work, or an agency the maker approved.
    """

    disassembled: Entries = ()
    cleaned: Entries = ()
    inspected: Entries = ()
    repaired: Entries = ()
    reassembled: Entries = ()
    tested: Entries = ()
    no_repair_needed: Entries = ()
    modified: Entries = ()
    standard: str = ""
    standards_current: Entries = ()
    mandatory_open: tuple[str, ...] = ()
    parts_new_limits: bool = False
    by_maker: bool = False

    def by_verb(self) -> dict[str, Entries]:
        """Give the evidence for each of the six verbs.

        Returns:
            Verb, in the order of the work, to its entries.
        """
        settled = self.repaired + self.no_repair_needed
        six = (self.disassembled, self.cleaned, self.inspected, settled, self.reassembled, self.tested)
        return dict(zip(VERBS, six, strict=True))


@dataclass(frozen=True, slots=True)
class JudgedWord:
    """A word, and whether the evidence earns it.

    Attributes:
        word: The word, in small letters with single blanks.
        refusals: Every rule in its way; empty where it is allowed.
        because: The rule it is judged by, and the entries it rests on.
    """

    word: str
    refusals: tuple[Refusal, ...]
    because: Because

    @property
    def allowed(self) -> bool:
        """Whether it may be written."""
        return not self.refusals


def _broken(rule: Rule, found: str, **facts: object) -> Iterator[Refusal]:
    if not rule.holds(**facts):
        yield Refusal(rule.id, found, rule.says, rule.todo)


def _earned_by_six(evidence: Evidence) -> Iterator[Refusal]:
    missing = tuple(verb for verb, entries in evidence.by_verb().items() if not entries)
    still_open = evidence.mandatory_open
    yield from _broken(rules.SIX_VERBS, "no entry for " + ", ".join(missing), missing=missing)
    yield from _broken(rules.STANDARDS_CURRENT, "no entry that checked them", checked=evidence.standards_current)
    yield from _broken(rules.MANDATORY_CLOSED, "still open: " + ", ".join(still_open), still_open=still_open)


def _as_new(evidence: Evidence) -> Iterator[Refusal]:
    yield from _earned_by_six(evidence)
    yield from _broken(rules.NEW_LIMITS, evidence.standard or "no limits named", standard=evidence.standard)
    found = "parts that are not shown to be inside new limits"
    yield from _broken(rules.NEW_PARTS, found, parts_new_limits=evidence.parts_new_limits)


def _zeroed(evidence: Evidence) -> Iterator[Refusal]:
    yield from _as_new(evidence)
    yield from _broken(rules.BY_MAKER, "work that is not its maker's", by_maker=evidence.by_maker)


def _done(evidence: Evidence, word: str) -> Iterator[Refusal]:
    yield from _broken(rules.DONE, f"no entry for {word}", entries=_of_word(evidence, word))


def _of_word(evidence: Evidence, word: str) -> Entries:
    """Give the entries a word rests on, ascending."""
    if word in ("repaired", "modified", "inspected", "tested"):
        entries: Entries = getattr(evidence, word)
    else:
        entries = sum(evidence.by_verb().values(), evidence.standards_current)
    return tuple(sorted(set(entries)))


def _in_the_way(word: str, evidence: Evidence) -> Iterator[Refusal]:
    if word in TRADE_TALK:
        yield from _broken(rules.NO_TRADE_TALK, repr(word), word=word)
        return
    yield from _broken(rules.KNOWN, repr(word), word=word)
    if word in WORDS or word == ZERO_TIME:
        of_word = {"overhauled": _earned_by_six, "rebuilt": _as_new, ZERO_TIME: _zeroed}
        yield from of_word[word](evidence) if word in of_word else _done(evidence, word)
        yield from _broken(rules.LIMITS_SAID, "no limits named", standard=evidence.standard)


_DECIDES = {"overhauled": rules.SIX_VERBS, "rebuilt": rules.NEW_LIMITS, ZERO_TIME: rules.BY_MAKER}


def judge_word(word: str, evidence: Evidence) -> JudgedWord:
    """Say whether one word may be written.

    Args:
        word: The word as typed; capitals, blanks and hyphens make no other word.
        evidence: What the job holds.

    Returns:
        The word with every rule in its way, or with the entries it rests on.

    Source: 14 CFR 43.2 and 91.421, read. Checked in: tests/published/test_14_cfr_43.py
    """
    plain = " ".join(word.replace("-", " ").split()).casefold()
    refusals = tuple(_in_the_way(plain, evidence))
    rule = refusals[0].rule if refusals else _DECIDES.get(plain, rules.DONE).id
    entries = _of_word(evidence, plain) if plain in (*WORDS, ZERO_TIME) else ()
    return JudgedWord(plain, refusals, Because(rule, entries))


def words_of(evidence: Evidence) -> dict[str, JudgedWord]:
    """Say of each word of the record whether it may be written.

    Args:
        evidence: What the job holds.

    Returns:
        Word to its judgement: overhauled, rebuilt, repaired, modified, inspected, tested.

    Source: 14 CFR 43.2, read. Checked in: tests/published/test_14_cfr_43.py
    """
    return {word: judge_word(word, evidence) for word in WORDS}


def word_offered(evidence: Evidence) -> JudgedWord:
    """Say which word is offered: the strongest that is earned.

    Rebuilt is offered to the maker only, whose work rebuilding is; anybody else's work to new limits is offered as
    overhauled. Inspected is offered where nothing was repaired or modified.

    Args:
        evidence: What the job holds.

    Returns:
        The word; where none is earned, inspected with what is in its way.

    Source: 14 CFR 43.2, read; 43.3(j), from memory. Checked in: tests/published/test_14_cfr_43.py
    """
    judged = words_of(evidence)
    if not evidence.by_maker:
        del judged["rebuilt"]
    order = ("rebuilt", "overhauled", "repaired", "modified", "inspected", "tested")
    earned = [judged[word] for word in order if word in judged and judged[word].allowed]
    return earned[0] if earned else judged["inspected"]


def limits_said(evidence: Evidence) -> str:
    """Say which limits were used, as it stands in the record.

    Args:
        evidence: What the job holds.

    Returns:
        The words; empty where nobody said.
    """
    mixed = "new and service limits, by item as in the work pack"
    return {"new limits": "new limits", "service limits": "service limits", "mixed": mixed}.get(evidence.standard, "")


def refuse_claims(text: str, evidence: Evidence) -> tuple[Refusal, ...]:
    """Find the words that a free text claims and the evidence does not earn.

    Args:
        text: What somebody typed, such as the description of the work.
        evidence: What the job holds.

    Returns:
        One refusal a word, in the order of the text; a text that quotes the title of an overhaul manual claims nothing.
    """
    said = (" ".join(found.group().replace("-", " ").split()) for found in _CLAIMED.finditer(text.casefold()))
    claimed = dict.fromkeys(_SAYS.get(word, word) for word in said)
    refused: list[Refusal] = []
    for word in claimed:
        allowed = (word,) if judge_word(word, evidence).allowed else ()
        refused += _broken(rules.ONLY_EARNED, f"{word!r} in what was typed", claimed=(word,), allowed=allowed)
    return tuple(refused)
