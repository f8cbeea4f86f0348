"""What the verdicts, looks and decisions so far mean for each part: what is forced, what is suspect, what is dangerous.

A consequence never decides: it names the dispositions that are left, or what is to be looked at, with its reason. It is
computed from the book and the job each time. A part that is beyond a limit of its own condemns the set it is sold in,
as long as nobody decided to mend or to hold it; what ran with it is under suspicion until measured.

Out of scope: what to buy and when; prices. Sources: the rules of `deciding_rules`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from tenthbook.numbers.because import Because, BookRow
from tenthbook.numbers.limit import Grade
from tenthbook.numbers.limit.kinds import NoneGiven, NotApplicable
from tenthbook.record.book import Book, Size
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.job import JobState
from tenthbook.record.job.looks import conditions
from tenthbook.record.workup.deciding_rules import (
    GONE,
    HAZARD,
    INDICATION,
    LIFE,
    LIFE_NOT_KNOWN,
    MANDATORY,
    MENDED,
    SET,
    SINGLE_USE,
    THEN_ALSO,
    WORN_PAIR,
)
from tenthbook.record.workup.verdicts import SizeVerdict

Force = Literal["forced", "suspect", "caution"]
_CAUTIONS = {
    "sodium": "sodium burns on water and in damp air: the stem is never cut or drilled",
    "magnesium": "magnesium burns and water feeds it: no dry grinding, no flame; sand",
    "lead": "lead: no dry brushing; gloves, wash hands",
    "cadmium": "cadmium plating: no grinding, no flame; the fumes are poison",
    "asbestos": "asbestos: not scraped or brushed dry",
    "beryllium": "beryllium: the dust is poison; not ground, not machined",
    "chromium plating": "chromium plating: the dust and the baths are poison",
}


@dataclass(frozen=True, slots=True)
class Consequence:
    """What follows for one part.

    Attributes:
        force: "forced": only `words` are left; "suspect": to be looked at or measured; "caution": what can hurt.
        of: Tag of the part; its id in the book where it has none.
        name: What the manual calls it.
        says: What follows, in one line.
        words: Dispositions that are left where it is forced.
        because: Why.
        met: Whether the disposition as last decided is one of them.
    """

    force: Force
    of: str
    name: str
    says: str
    words: tuple[str, ...]
    because: Because
    met: bool = False


@dataclass(slots=True)
class _Facts:
    """What the consequences are drawn from."""

    book: Book
    state: JobState
    holding: Mapping[str, int]
    rejected: Sequence[SizeVerdict]

    def row(self, part: str) -> TypedRow:
        return self.book.rows["parts"][part]

    def tags(self, part: str) -> list[str]:
        return [one.tag for one in self.state.parts.values() if one.part == part]

    def word(self, of: str) -> str:
        decided = self.state.dispositions.get(of)
        return decided.word if decided is not None else ""

    def beyond(self, of: str) -> list[SizeVerdict]:
        return [one for one in self.rejected if one.part.tag == of]

    def unmeasured(self, of: str, part: str) -> list[Size]:
        rows = (one for one in self.book.sizes_of(part) if not isinstance(one.said, NotApplicable))
        return [one for one in rows if not self.state.standing(of, one.id)]

    def named(self, force: Force, of: str, part: str, says: str, because: Because) -> Consequence:
        words = GONE if force == "forced" else ()
        return Consequence(force, of, self.book.parts[part].name, says, words, because, self.word(of) in words)


def _cited(row: TypedRow) -> BookRow:
    return BookRow(row.id, row.page, row.digest)


def _always(facts: _Facts) -> Iterator[Consequence]:
    """What holds for a part whatever it measures: the mandatory list, single use, its life."""
    for one in facts.state.parts.values():
        row = facts.row(one.part)
        holding = {**facts.holding, "removal": one.entry}
        met = [when for when in row.several("mandatory_when") if when in holding]
        if met:
            because = Because(MANDATORY.id, tuple(sorted(holding[when] for when in met)), (_cited(row),))
            yield facts.named("forced", one.tag, one.part, f"on the mandatory list: {', '.join(met)}", because)
        if row.says_yes("single_use"):
            because = Because(SINGLE_USE.id, (one.entry,), (_cited(row),))
            yield facts.named("forced", one.tag, one.part, "for a single use", because)
        if row.text("life_limit"):
            yield from _life(facts, one.tag, one.part, row)


def _life(facts: _Facts, tag: str, part: str, row: TypedRow) -> Iterator[Consequence]:
    limit = row.number("life_limit")
    stated = [act for act in facts.state.acts_that_count("times stated") if act.told["of"] == "engine"]
    if limit is None:
        return
    if not stated:
        because = Because(LIFE_NOT_KNOWN.id, (), (_cited(row),))
        yield facts.named("suspect", tag, part, f"life limit {limit}, running time not known", because)
        return
    from tenthbook.numbers.quantity import quantity

    ran = quantity(stated[-1].told["since_overhaul"] or stated[-1].told["total"])
    if ran.exact >= limit.exact:
        lines = (f"{ran} run, life limit {limit}",)
        because = Because(LIFE.id, (stated[-1].entry,), (_cited(row),), lines)
        yield facts.named("forced", tag, part, f"life limit {limit} reached", because)


def indications(state: JobState, of: str) -> tuple[int, ...]:
    """List the crack tests of a part that showed something and were not followed by a test that showed nothing.

    Args:
        state: The job.
        of: Its tag.

    Returns:
        Numbers of the entries.
    """
    last: dict[str, tuple[int, str]] = {}
    for act in state.acts_that_count("crack-tested"):
        if act.told["tag"] == of:
            last[act.told["inspection"] or act.told["method"]] = (act.entry, act.told["result"])
    return tuple(entry for entry, result in last.values() if result == "indication")


def _cracked(facts: _Facts) -> Iterator[Consequence]:
    for one in facts.state.parts.values():
        entries = indications(facts.state, one.tag)
        if entries:
            because = Because(INDICATION.id, entries)
            words = (*GONE, "repair", "hold")
            told = (facts.book.parts[one.part].name, "an indication of a crack", words, because)
            yield Consequence("forced", one.tag, *told, facts.word(one.tag) in words)


def condemned(state: JobState, of: str, is_beyond: bool) -> bool:
    """Say whether a part condemns the set it is sold in.

    Args:
        state: The job.
        of: Its tag.
        is_beyond: Whether a size of its own lies beyond a limit.

    Returns:
        True where it goes, or where it is beyond and nobody decided to mend or to hold it.
    """
    decided = state.dispositions.get(of)
    word = decided.word if decided is not None else ""
    return word in GONE or (is_beyond and word not in (*MENDED, "hold"))


def _sets(facts: _Facts) -> Iterator[Consequence]:
    """Of parts sold only as a set, all go where one goes."""
    going: dict[str, list[str]] = {}
    for one in facts.state.parts.values():
        sold_in = facts.row(one.part).text("sold_in")
        if sold_in and condemned(facts.state, one.tag, bool(facts.beyond(one.tag))):
            going.setdefault(sold_in, []).append(one.tag)
    for part, row in facts.book.rows["parts"].items():
        by = going.get(row.text("sold_in"))
        for of in (facts.tags(part) or [part]) if by and not row.says_yes("single_use") else ():
            others = [tag for tag in by or () if tag != of]
            if others:
                yield _set_line(facts, part, of, others)


def _set_line(facts: _Facts, part: str, of: str, others: list[str]) -> Consequence:
    sold_in = facts.row(part).text("sold_in")
    as_row = facts.book.rows["parts"].get(sold_in)  # an old book may name a set without a row of its own
    entries, rows, lines = _grounds(facts, others)
    cited = [_cited(facts.row(part))] + ([_cited(as_row)] if as_row is not None else [])
    because = Because(SET.id, entries, (*cited, *rows), lines)
    says = f"sold only in {as_row.text('name') if as_row is not None else sold_in}, which goes with {', '.join(others)}"
    return facts.named("forced", of, part, says, because)


def _grounds(facts: _Facts, tags: Iterable[str]) -> tuple[tuple[int, ...], tuple[BookRow, ...], tuple[str, ...]]:
    entries: set[int] = set()
    rows: list[BookRow] = []
    lines: list[str] = []
    for tag in tags:
        for size in facts.beyond(tag):
            entries |= set(size.because.entries)
            rows += size.because.rows
            lines += [f"{tag} {size.name} {size.text}: beyond"]
        decided = facts.state.dispositions.get(tag)
        if decided is not None:
            entries.add(decided.entry)
            lines.append(f"{tag}: {decided.word}")
    return tuple(sorted(entries)), tuple(dict.fromkeys(rows)), tuple(lines)


def _ran_with(facts: _Facts, size: SizeVerdict) -> list[str]:
    """Ids of the parts that ran with a feature: the other side of its fits, and what the book names with its part."""
    fits = [fit for fit in facts.book.fits.values() if size.size.id in (fit.hole, fit.shaft)]
    others = [facts.book.sizes[fit.shaft if fit.hole == size.size.id else fit.hole].part for fit in fits]
    others += facts.row(size.part.part).several("then_also")
    return [part for part in dict.fromkeys(others) if part != size.part.part and part in facts.book.parts]


def _worn(facts: _Facts) -> Iterator[Consequence]:
    """What ran with a part beyond a limit of its own, and the part's other features."""
    suspected: dict[tuple[str, str], list[SizeVerdict]] = {}
    for size in facts.rejected:
        suspected.setdefault((size.part.tag, size.part.part), []).append(size)
        for part in _ran_with(facts, size):
            for of in facts.tags(part) or [part]:
                suspected.setdefault((of, part), []).append(size)
    for (of, part), by in suspected.items():
        yield from _suspect(facts, of, part, by)


def _suspect(facts: _Facts, of: str, part: str, by: list[SizeVerdict]) -> Iterator[Consequence]:
    left = facts.unmeasured(of, part)
    if WORN_PAIR.holds(measured=not left) or facts.word(of) in GONE:
        return
    lines = tuple(f"{one.part.tag} {one.name} {one.text}: beyond" for one in by)
    entries = tuple(sorted({number for one in by for number in one.because.entries}))
    cited = [BookRow(one.id, one.page, one.digest) for one in left]
    rows = tuple(dict.fromkeys((*cited, *(row for one in by for row in one.because.rows))))
    none = {one.id for one in left if isinstance(one.said, NoneGiven)}
    named = ", ".join(one.feature + (" (no limit in the book)" if one.id in none else "") for one in left)
    says = f"{'' if of in facts.state.parts else 'not on the bench; '}to be measured: {named}"
    yield facts.named("suspect", of, part, says, Because(WORN_PAIR.id, entries, rows, lines))


def _then(facts: _Facts) -> Iterator[Consequence]:
    """What the book names with a part that goes."""
    for one in facts.state.parts.values():
        decided = facts.state.dispositions.get(one.tag)
        if decided is None or decided.word not in GONE:
            continue
        for part in facts.row(one.part).several("then_also"):
            for of in facts.tags(part) or [part]:
                if part in facts.book.parts and not _looked_at(facts.state, of):
                    because = Because(THEN_ALSO.id, (decided.entry,), (_cited(facts.row(one.part)),))
                    says = f"named with {one.tag} {facts.book.parts[one.part].name}: {decided.word}"
                    yield facts.named("suspect", of, part, says, because)


def _looked_at(state: JobState, of: str) -> bool:
    looks = (*state.acts_that_count("inspected"), *state.acts_that_count("crack-tested"))
    seen = any(of in (act.told["tag"], act.told.get("part", "")) for act in looks)
    return seen or of in state.dispositions or any(tag == of for tag, _ in state.features)


def _hazards(facts: _Facts) -> Iterator[Consequence]:
    for decided in facts.state.dispositions.values():
        part = facts.state.parts[decided.tag].part if decided.tag in facts.state.parts else decided.part
        hazards = facts.row(part).several("hazards") if part in facts.book.parts else ()
        if decided.word in GONE and not HAZARD.holds(word="scrap", hazards=hazards):
            told = "; ".join(_CAUTIONS.get(one, one) for one in hazards)
            because = Because(HAZARD.id, (decided.entry,), (_cited(facts.row(part)),))
            yield facts.named("caution", decided.of, part, told, because)


def consequences_of(book: Book, state: JobState, sizes: Sequence[SizeVerdict]) -> tuple[Consequence, ...]:
    """Draw what follows for the parts of a job.

    Args:
        book: The pinned book.
        state: The job.
        sizes: Verdicts on measured sizes.

    Returns:
        What is forced first, then what is suspect, then what can hurt; each once a part and rule.
    """
    rejected = [size for size in sizes if size.verdict.grade is Grade.REJECT]
    facts = _Facts(book, state, conditions(state, book), rejected)
    forced = (*_always(facts), *_cracked(facts), *_sets(facts))
    return (*forced, *_worn(facts), *_then(facts), *_hazards(facts))
