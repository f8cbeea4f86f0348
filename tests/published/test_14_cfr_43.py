"""14 CFR Part 43, Maintenance, Preventive Maintenance, Rebuilding, and Alteration: 43.2, 43.9, 43.11, appendices A, B.

United States, Title 14 of the Code of Federal Regulations. 43.2 (April 2026), 43.9(a), 43.11(a) and Appendix A (b)(2)
were read; Appendix B was read in excerpts; 43.3(j), 43.9(d) and 65.95 are from memory. 91.421 (June 2026) was read.
Beside them FAA Order 8900.1, volume 4, chapter 14, section 12, read in part. What is compared is a list or a yes or
no; there is no tolerance.
"""

from __future__ import annotations

import dataclasses
import itertools
from typing import Any

import pytest

from tenthbook.numbers.because import Refused
from tenthbook.record.release import (
    INSPECTION,
    WORK,
    Evidence,
    Given,
    RepairAsked,
    entry_text,
    entry_to_sign,
    judge_word,
    major_repair,
    word_offered,
    words_of,
)
from tenthbook.record.release.major import Gearing, YesNo
from tests.filled_in import ALL_SIX, PLAIN_ENGINE, VALUES, given_for

SIX = ("disassembled", "cleaned", "inspected", "repaired", "reassembled", "tested")
TABLE = [frozenset(verbs) for count in range(7) for verbs in itertools.combinations(SIX, count)]


def evidence_for(verbs: frozenset[str], **other: Any) -> Evidence:
    """Give evidence for some of the six verbs, everything else being in order."""
    given: dict[str, Any] = {verb: (number,) for number, verb in enumerate(SIX, start=10) if verb in verbs}
    return dataclasses.replace(Evidence(standard="new limits", standards_current=(2,), **given), **other)


def test_the_table_has_every_combination() -> None:
    """Six verbs, with or without evidence: 64 rows."""
    assert len(set(TABLE)) == 64


@pytest.mark.parametrize("verbs", TABLE, ids=lambda verbs: "-".join(sorted(verbs)) or "none")
def test_overhauled_wants_all_six_verbs(verbs: frozenset[str]) -> None:
    """43.2(a) (read): of 64 combinations only the one with all six earns the word; the others name what is missing."""
    words = words_of(evidence_for(verbs))
    assert words["overhauled"].allowed is (len(verbs) == 6)
    [found] = [one.found for one in words["overhauled"].refusals] or [""]
    wanting = [verb for verb in SIX if verb not in verbs]
    assert all(verb in found for verb in wanting)
    for word in ("repaired", "inspected", "tested"):
        assert words[word].allowed is (word in verbs)


@pytest.mark.parametrize("verbs", TABLE, ids=lambda verbs: "-".join(sorted(verbs)) or "none")
def test_the_word_that_is_offered(verbs: frozenset[str]) -> None:
    """43.2 (read): overhauled where earned, else repaired, else inspected, else tested; nothing without an entry."""
    order = ["overhauled"] * (len(verbs) == 6) + [word for word in ("repaired", "inspected", "tested") if word in verbs]
    offered = word_offered(evidence_for(verbs))
    assert (offered.word, offered.allowed) == ((order[0], True) if order else ("inspected", False))


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"standards_current": ()}, "word.standards-current"),
        ({"mandatory_open": ("shaft seal",)}, "word.mandatory-closed"),
        ({"standard": ""}, "word.limits-said"),
    ],
)
def test_six_verbs_are_not_all(change: dict[str, Any], rule: str) -> None:
    """43.2(a) (read): current standards of the holder; here also the mandatory list closed and the limits named."""
    refused = judge_word("overhauled", dataclasses.replace(ALL_SIX, **change))
    assert [one.rule for one in refused.refusals] == [rule]


@pytest.mark.parametrize(
    ("standard", "parts_new", "allowed"),
    [("new limits", True, True), ("new limits", False, False), ("service limits", True, False), ("mixed", True, False)],
)
def test_rebuilt_wants_the_limits_of_a_new_item(standard: str, parts_new: bool, allowed: bool) -> None:
    """43.2(b) (read): the tolerances and limits of a new item, with parts that meet them."""
    evidence = dataclasses.replace(ALL_SIX, standard=standard, parts_new_limits=parts_new)
    assert judge_word("rebuilt", evidence).allowed is allowed
    assert judge_word("overhauled", evidence).allowed


@pytest.mark.parametrize("by_maker", [True, False])
def test_zero_time_is_its_makers(by_maker: bool) -> None:
    """91.421 (read): a new record only from the maker or its agency; 43.3(j) (from memory): so is rebuilding."""
    evidence = dataclasses.replace(ALL_SIX, standard="new limits", parts_new_limits=True, by_maker=by_maker)
    assert judge_word("zero time", evidence).allowed is by_maker
    assert judge_word("rebuilt", evidence).allowed
    assert word_offered(evidence).word == ("rebuilt" if by_maker else "overhauled")


@pytest.mark.parametrize("talk", ["top overhaul", "Bottom Overhaul", "top-overhauled"])
def test_trade_talk_is_no_word(talk: str) -> None:
    """Read at second hand: legally such work is a repair, whatever evidence there is."""
    assert [one.rule for one in judge_word(talk, ALL_SIX).refusals] == ["word.trade-talk"]


OF_43_9 = {
    "description": "release.work-description",
    "date": "release.work-date",
    "performer": "release.work-performer",
    "approver": "release.work-approver",
    "signature": "release.work-signature",
    "certificate_number": "release.work-certificate-number",
    "certificate_kind": "release.work-certificate-kind",
}
OF_43_11 = {
    "type": "release.inspection-type",
    "extent": "release.inspection-extent",
    "date": "release.inspection-date",
    "total_time": "release.inspection-total-time",
    "outcome": "release.inspection-outcome",
    "statement": "release.inspection-statement",
    "approver": "release.inspection-approver",
    "signature": "release.inspection-signature",
    "certificate_number": "release.inspection-certificate-number",
    "certificate_kind": "release.inspection-certificate-kind",
}


@pytest.mark.parametrize(("field", "rule"), OF_43_9.items())
def test_a_maintenance_entry_lacks_nothing(field: str, rule: str) -> None:
    """43.9(a)(1) to (4) (read): with any one field gone the entry is refused, and that field is named."""
    assert entry_to_sign(WORK, given_for(WORK)).ready
    with pytest.raises(Refused) as caught:
        entry_to_sign(WORK, given_for(WORK, field))
    assert [(one.rule, bool(one.todo)) for one in caught.value.refusals] == [(rule, True)]


@pytest.mark.parametrize(("field", "rule"), OF_43_11.items())
def test_an_inspection_entry_lacks_nothing(field: str, rule: str) -> None:
    """43.11(a)(1) to (5) (read): with any one field gone the entry is refused, and that field is named."""
    assert entry_to_sign(INSPECTION, given_for(INSPECTION)).ready
    with pytest.raises(Refused) as caught:
        entry_to_sign(INSPECTION, given_for(INSPECTION, field))
    assert [(one.rule, bool(one.todo)) for one in caught.value.refusals] == [(rule, True)]


def test_the_performer_is_named_if_other_than_the_approver() -> None:
    """43.9(a)(3) (read): the approver's own work needs no second name."""
    own = entry_to_sign(WORK, given_for(WORK, "performer", own_work="yes"))
    assert not any(line.startswith("Work performed by") for line in own.lines)
    assert "Work performed by: first mechanic" in entry_to_sign(WORK, given_for(WORK)).lines


def test_work_that_is_not_approved_needs_its_performer_and_no_certificate() -> None:
    """43.9(a)(4) (read): signature, number and kind belong to an approval; without one the performer is named."""
    unsigned = ("approver", "signature", "certificate_number", "certificate_kind")
    entry = entry_to_sign(WORK, given_for(WORK, *unsigned, approved="no"))
    assert entry.lines[-1] == "This entry records work. It approves nothing for return to service."
    refused = entry_text(WORK, given_for(WORK, *unsigned, "performer", approved="no", own_work="yes"))
    assert [one.rule for one in refused.missing] == ["release.work-performer"]


@pytest.mark.parametrize(
    ("changed", "rules"),
    [
        ({"outcome": "not approved"}, ["release.inspection-list-dated"]),
        ({"type": "progressive", "statement": ""}, ["release.inspection-progressive"]),
        ({"type": "programme"}, ["release.inspection-programme", "release.inspection-programme-part"]),
    ],
)
def test_an_inspection_of_another_kind_needs_more(changed: dict[str, str], rules: list[str]) -> None:
    """43.11(a)(5), (6) and (7) (read): dated list, progressive statement, programme and its part."""
    assert [one.rule for one in entry_text(INSPECTION, given_for(INSPECTION, **changed)).missing] == rules


@pytest.mark.parametrize("supercharger", ["yes", "no"])
@pytest.mark.parametrize("gearing", ["none", "spur", "other"])
@pytest.mark.parametrize("split", ["yes", "no"])
def test_splitting_a_case(split: YesNo, gearing: Gearing, supercharger: YesNo) -> None:
    """Appendix A (b)(2)(i) and (ii) (read): major only with integral supercharger or other than spur gearing."""
    asked = RepairAsked(split, supercharger, gearing, structural="no")
    major = split == "yes" and (supercharger == "yes" or gearing == "other")
    assert major_repair(asked).answer == ("yes" if major else "no")


@pytest.mark.parametrize("method", ["welding", "plating", "metalizing"])
def test_a_special_repair_of_a_structural_part(method: str) -> None:
    """Appendix A (b)(2)(iii) (read): by welding, plating, metalizing or other methods it is major."""
    answers: dict[str, Any] = {"case_split": "no", "methods": (method,)}
    found = [major_repair(RepairAsked(structural=one, **answers)).answer for one in ("yes", "no", "")]
    assert found == ["yes", "no", "ask"]


@pytest.mark.parametrize(
    "operation",
    [
        "welding of a crankcase",
        "machining after a weld repair",
        "grinding of a crankshaft",
        "recontouring of a camshaft",
    ],
)
def test_work_the_order_lists(operation: str) -> None:
    """Order 8900.1, volume 4, chapter 14, section 12 (read in part): these are major for reciprocating engines."""
    assert major_repair(dataclasses.replace(PLAIN_ENGINE, operations=(operation,))).answer == "yes"


MAJOR = RepairAsked(case_split="yes", supercharger="no", gearing="other", structural="no")
ROUTES = {
    "Form 337": {"form_reference": "Form 337 of 2026-11-30", "inspector": "inspector, 7654321"},
    "work order": {
        "order_number": "4711",
        "identity": "Dunlin, Four, 7",
        "station": "Heron Engine Works",
        "station_certificate": "XX0R000X",
        "station_address": "Hangar 3",
    },
}


@pytest.mark.parametrize(
    ("route", "without"), [(route, name) for route, fields in ROUTES.items() for name in ("", *fields, "approved_data")]
)
def test_a_major_repair_goes_on_a_form_or_an_order(route: str, without: str) -> None:
    """Appendix B (excerpts, read) and 43.9(d), 65.95 (from memory): each route has its fields, and lacks none."""
    values = VALUES["work"] | ROUTES[route] | {"route": route, "approved_data": "repair scheme 12"}
    values.pop(without, None)
    missing = entry_text(WORK, Given(given_for(WORK).evidence, values, MAJOR)).missing
    expected = ["release.work-" + without.replace("_", "-")] if without else []
    assert [one.rule for one in missing] == expected


def test_a_major_repair_wants_a_route() -> None:
    """43.9(d) (from memory): an entry alone is not the record of a major repair."""
    missing = entry_text(WORK, Given(given_for(WORK).evidence, VALUES["work"], MAJOR)).missing
    assert [one.rule for one in missing] == ["release.work-route", "release.work-approved-data"]
