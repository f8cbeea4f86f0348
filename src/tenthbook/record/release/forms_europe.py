"""The European release: M.A.801(e), and ML.A.801(f) with the same list.

M.A.801(e) was read; the numbering of ML.A.801(f) is from memory. The rule's own sentence is not printed here: the
entry leaves a marked place for it, and says in plain words what the signer states. Checked in:
tests/published/test_m_a_801.py
"""

from __future__ import annotations

from tenthbook.record.release.forms import Facts, Form, a_day, asked, filled, one_of, when
from tenthbook.record.release.forms_pack import DATA, ENGINE, HEAD, JOB, REASON


def _is_incomplete(facts: Facts) -> bool:
    return filled(facts.get("incomplete", "")) and facts["incomplete"].strip().casefold() != "none"


_MAINTENANCE = (
    asked(
        id="release.europe-description",
        says="Maintenance carried out",
        rule="The release gives the basic details of the maintenance.",
        source="M.A.801(e)",
        read=True,
        example="oil pump: gears and shaft replaced as a set",
        todo="describe what was done, to which parts",
    ),
    asked(
        id="release.europe-date",
        says="Date completed",
        rule="The release says on which day the maintenance was completed.",
        source="M.A.801(e)",
        read=True,
        example="2026-11-30",
        todo="give the day, written as 2026-11-30",
        right=a_day,
        wrong="2026-13-01",
    ),
    asked(
        id="release.europe-total-time",
        says="Life at that date",
        rule="Beside its date the release gives the life used: hours, cycles or days, as the limits count.",
        source="AMC M.A.801",
        read=True,
        example="1412.6 h, 310.2 h since overhaul",
        todo="give hours, cycles or days as the limits of the engine count",
        right=lambda text: any(sign.isdigit() for sign in text),
        wrong="see logbook",
    ),
    asked(
        id="release.europe-limitations",
        says="Limitations to airworthiness or operations",
        rule="The release gives the limitations that follow, and says none where there are none.",
        source="M.A.801(e)",
        read=True,
        example="none",
        todo="write the limitations, or none",
    ),
    asked(
        id="release.europe-incomplete",
        says="Maintenance not completed",
        rule="The release says what of the maintenance was not completed, and says none where all was.",
        source="M.A.801, on incomplete maintenance",
        read=True,
        example="none",
        todo="write what is not completed, or none",
    ),
    asked(
        id="release.europe-incomplete-limits",
        says="Limits while it is not completed",
        rule="Maintenance that is not completed is released only with the limits that hold until it is.",
        source="M.A.801, on incomplete maintenance",
        read=True,
        example="no flight before the second torque check",
        todo="write the limits that hold until it is completed",
        needed=_is_incomplete,
        given={"incomplete": "second torque check"},
        only_then=True,
    ),
    asked(
        id="release.europe-known-danger",
        says="Conditions known that endanger flight",
        rule="Nothing is released with a known condition that endangers flight.",
        source="M.A.801 and 145.A.50(a)",
        read=True,
        example="none known",
        todo="let the signer write none known, or put the condition right first",
        right=one_of("none known"),
        wrong="crack in the mount",
    ),
    asked(
        id="release.europe-second-look",
        says="Independent look at the critical task",
        rule="An engine overhaul is a critical task: the release names the independent look that was taken.",
        source="AMC 145.A.48(b), M.A.402(h) and CAO.A.060(h)",
        read=True,
        example="entries 201 and 214, inspector",
        todo="name the entries of the second person's look",
        needed=when("word", "overhauled"),
        given={"word": "overhauled"},
    ),
)
_SIGNED = (
    asked(
        id="release.europe-rules",
        says="Released under",
        rule="The release names the rules the maintenance was carried out under.",
        source="AMC M.A.801",
        read=True,
        example="Part-ML",
        todo="choose Part-M, Part-ML or Part-145",
        right=one_of("Part-M", "Part-ML", "Part-145"),
        wrong="Part-ABC",
    ),
    asked(
        id="release.europe-issuer",
        says="Issued by",
        rule="The release identifies the organisation or person, or both, that issues it.",
        source="M.A.801(e)",
        read=True,
        example="second mechanic, independent certifying staff",
        todo="name the organisation and the person",
    ),
    asked(
        id="release.europe-approval-reference",
        says="Approval reference or licence number",
        rule="The release gives the organisation's approval reference, or the number of the person's licence.",
        source="M.A.801(e)",
        read=True,
        example="XX.66.1234",
        todo="give the reference or the number; a pilot-owner gives the pilot's licence",
    ),
    asked(
        id="release.europe-signature",
        says="Signature",
        rule="The release is signed by the person who issues it; how is said beforehand.",
        source="M.A.801",
        read=True,
        example="in ink",
        todo="say in ink, and sign on the line",
    ),
)

EUROPE = Form(
    "europe",
    "Release to service, M.A.801(e) or ML.A.801(f)",
    (ENGINE, *_MAINTENANCE, REASON, DATA, JOB, HEAD, *_SIGNED),
    (
        "What the signer states, in plain words: the maintenance named here was carried out under {rules}, apart from",
        "what is named as not completed, and for that maintenance the release to service is given.",
        "Statement of release, as the rule words it: ________________________________________",
    ),
)
