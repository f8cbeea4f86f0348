"""Records filled in by hand, for the tests of what is signed: nothing here is taken from the forms themselves."""

from __future__ import annotations

from tenthbook.record.release import Evidence, Form, Given, RepairAsked

HEAD = "9f2c" * 16
PLAIN_ENGINE = RepairAsked(case_split="no", structural="no")
REPAIRED = Evidence(disassembled=(3,), inspected=(8, 9), repaired=(30,), standard="service limits")
INSPECTED = Evidence(inspected=(8, 9), standard="service limits")
ALL_SIX = Evidence(
    disassembled=(3,),
    cleaned=(5,),
    inspected=(8, 9),
    repaired=(30,),
    reassembled=(44,),
    tested=(61,),
    standard="service limits",
    standards_current=(2,),
)
_PACK = {"engine": "Dunlin Four, serial 7", "job": "DF-7", "head": HEAD, "data": "manual DF, revision 4"}
VALUES = {
    "work": {
        **_PACK,
        "description": "Oil pump: gears and shaft replaced as one set.",
        "date": "2026-11-30",
        "performer": "first mechanic",
        "approver": "second mechanic",
        "signature": "in ink",
        "certificate_number": "3141592",
        "certificate_kind": "mechanic, powerplant",
    },
    "inspection": {
        **_PACK,
        "type": "annual",
        "extent": "engine section",
        "date": "2026-11-30",
        "total_time": "3120.4 h",
        "outcome": "approved",
        "statement": "I found it so.",
        "approver": "inspector",
        "signature": "in ink",
        "certificate_number": "2718281",
        "certificate_kind": "mechanic with inspection authorization",
    },
    "europe": {
        **_PACK,
        "description": "Oil pump: gears and shaft replaced as one set.",
        "date": "2026-11-30",
        "total_time": "1412.6 h",
        "limitations": "none",
        "incomplete": "none",
        "known_danger": "none known",
        "rules": "Part-ML",
        "issuer": "second mechanic",
        "approval_reference": "XX.66.99",
        "signature": "in ink",
    },
    "nz": {
        **{name: value for name, value in _PACK.items() if name != "data"},
        "inspection": "none",
        "description": "Oil pump: gears and shaft replaced as one set.",
        "reason": "hot idle pressure below the book",
        "technical_data": "manual DF, revision 4",
        "location": "bay 2",
        "components": "removed; gear set; DF-12; 0100; none\nfitted; gear set; DF-12; 0311; certificate 88",
        "measurements": "end clearance 0.0072 in; hot idle 22 psi",
        "directives": "none",
        "flight_check": "yes",
        "worksheets": "the work pack",
        "date": "2026-11-30",
        "certifier": "second mechanic",
        "licence": "AME 99",
        "signature": "in ink",
    },
}


def given_for(form: Form, *without: str, **other: str) -> Given:
    """Fill a form in, with nothing missing unless asked.

    Args:
        form: The form.
        *without: Fields to leave out.
        **other: Fields filled in otherwise, or besides.

    Returns:
        What is given.
    """
    values = {name: value for name, value in (VALUES[form.id] | other).items() if name not in without}
    return Given(INSPECTED if form.id == "inspection" else REPAIRED, values, PLAIN_ENGINE)
