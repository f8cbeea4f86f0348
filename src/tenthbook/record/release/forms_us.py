"""The records of 14 CFR 43: the entry for maintenance (43.9), for an inspection (43.11), and a major repair's extras.

43.9(a), 43.11(a) and Appendix B in part were read; 43.9(d) and 65.95 are from memory. Each field says which. Checked
in: tests/published/test_14_cfr_43.py
"""

from __future__ import annotations

from tenthbook.record.release.forms import Facts, Form, a_day, asked, never, one_of, unless, when
from tenthbook.record.release.forms_pack import DATA, ENGINE, HEAD, JOB, REASON
from tenthbook.record.release.rules import OWN

_APPROVED = unless("approved", "no")


def _performer_needed(facts: Facts) -> bool:
    return facts.get("own_work", "") != "yes" or facts.get("approved", "") == "no"


_WORK = (
    asked(
        id="release.work-date",
        says="Date completed",
        rule="The entry says on which day the work was completed.",
        source="14 CFR 43.9(a)(2)",
        read=True,
        example="2026-11-30",
        todo="give the day, written as 2026-11-30",
        right=a_day,
        wrong="2026-11-31",
    ),
    asked(
        id="release.work-total-time",
        says="Total time in service",
        rule="Where the entry gives the engine's total time, it gives hours.",
        source=OWN,
        read=False,
        example="1412.6 h",
        todo="give the hours, or leave it out",
        needed=never,
        wrong="-",
    ),
    asked(
        id="release.work-description",
        says="Work",
        rule="The entry describes the work, or refers to acceptable data, so that a stranger can tell what was done.",
        source="14 CFR 43.9(a)(1)",
        read=True,
        example="oil pump: gears and shaft replaced as a set",
        todo="describe what was done, to which parts",
    ),
    asked(
        id="release.work-approved",
        says="Approved for return to service",
        rule="An entry approves the work for return to service unless it says that it does not.",
        source="14 CFR 43.9(a)(4)",
        read=True,
        example="no",
        todo="say yes or no",
        needed=never,
        right=one_of("yes", "no"),
        wrong="later",
        printed=False,
    ),
    asked(
        id="release.work-own-work",
        says="Whether the approver did the work",
        rule="Whether the approver did the work is said as yes or no; unsaid, the performer is named.",
        source="14 CFR 43.9(a)(3)",
        read=True,
        example="yes",
        todo="say yes or no",
        needed=never,
        right=one_of("yes", "no"),
        wrong="partly",
        printed=False,
    ),
    asked(
        id="release.work-performer",
        says="Work performed by",
        rule="The entry names who performed the work, where that is another than the approver.",
        source="14 CFR 43.9(a)(3)",
        read=True,
        example="first mechanic",
        todo="name who performed it, or say that it was the approver's own work",
        needed=_performer_needed,
        given={"own_work": "no"},
    ),
)
_MAJOR_337 = (
    asked(
        id="release.work-form-reference",
        says="Form 337",
        rule="A major repair goes on Form 337: a signed copy to the owner, one to the registration branch in 48 hours.",
        source="14 CFR 43.9(d), from memory; Appendix B (a), an excerpt",
        read=True,
        example="Form 337 of 2026-11-30",
        todo="fill in the form and name it here",
        needed=when("route", "Form 337"),
        given={"route": "Form 337"},
        only_then=True,
    ),
    asked(
        id="release.work-inspector",
        says="Major repair approved by",
        rule="A major repair on Form 337 names the inspector who approves it, with the number of the authorization.",
        source="14 CFR 65.95",
        read=False,
        example="inspector, authorization 7654321",
        todo="let an inspector with that authorization approve it, and name them",
        needed=when("route", "Form 337"),
        given={"route": "Form 337"},
        only_then=True,
    ),
)
_MAJOR_ORDER = (
    asked(
        id="release.work-order-number",
        says="Work order",
        rule="A repair station's order for a major repair has its number; details stay on file under it.",
        source="14 CFR 43, Appendix B (b), an excerpt",
        read=True,
        example="order 4711",
        todo="give the number of the signed order",
        needed=when("route", "work order"),
        given={"route": "work order"},
        only_then=True,
    ),
    asked(
        id="release.work-identity",
        says="Make, model and serial number",
        rule="The release on a work order identifies the item by make, model and serial number.",
        source="14 CFR 43, Appendix B (b)",
        read=False,
        example="Dunlin, Four, 0212",
        todo="give all three",
        needed=when("route", "work order"),
        given={"route": "work order"},
        only_then=True,
    ),
    asked(
        id="release.work-station",
        says="Repair station",
        rule="The release on a work order names the repair station.",
        source="14 CFR 43, Appendix B (b), an excerpt",
        read=True,
        example="Heron Engine Works",
        todo="name the station",
        needed=when("route", "work order"),
        given={"route": "work order"},
        only_then=True,
    ),
    asked(
        id="release.work-station-certificate",
        says="Certificate number of the station",
        rule="The release on a work order gives the station's certificate number.",
        source="14 CFR 43, Appendix B (b), an excerpt",
        read=True,
        example="XX0R000X",
        todo="give the number of the station's certificate",
        needed=when("route", "work order"),
        given={"route": "work order"},
        only_then=True,
    ),
    asked(
        id="release.work-station-address",
        says="Address of the station",
        rule="The release on a work order gives the station's address.",
        source="14 CFR 43, Appendix B (b), an excerpt",
        read=True,
        example="Hangar 3, North Field",
        todo="give the address",
        needed=when("route", "work order"),
        given={"route": "work order"},
        only_then=True,
    ),
)
_MAJOR = (
    asked(
        id="release.work-route",
        says="Major repair recorded on",
        rule="A major repair is recorded on Form 337, or by a repair station on the customer's signed work order.",
        source="14 CFR 43.9(d), from memory; Appendix B, an excerpt",
        read=True,
        example="Form 337",
        todo="choose Form 337 or work order",
        needed=when("major", "yes"),
        given={"major": "yes"},
        right=one_of("Form 337", "work order"),
        wrong="logbook",
        only_then=True,
    ),
    asked(
        id="release.work-approved-data",
        says="Approved data of the major repair",
        rule="A major repair names the approved data it was done by.",
        source="14 CFR 65.95",
        read=False,
        example="repair scheme 12, approved 2026-08-01",
        todo="name the approved data",
        needed=when("major", "yes"),
        given={"major": "yes"},
        only_then=True,
    ),
    *_MAJOR_337,
    *_MAJOR_ORDER,
)
_WORK_SIGNED = (
    asked(
        id="release.work-approver",
        says="Name",
        rule="An entry that approves names who approves.",
        source="14 CFR 43.9(a)(4)",
        read=True,
        example="second mechanic",
        todo="name the approver",
        needed=_APPROVED,
    ),
    asked(
        id="release.work-signature",
        says="Signature",
        rule="An entry that approves is signed by the approver; how is said beforehand.",
        source="14 CFR 43.9(a)(4)",
        read=True,
        example="in ink",
        todo="say in ink, and sign on the line",
        needed=_APPROVED,
    ),
    asked(
        id="release.work-certificate-number",
        says="Certificate number",
        rule="An entry that approves gives the number of the approver's certificate.",
        source="14 CFR 43.9(a)(4)",
        read=True,
        example="1234567",
        todo="give the number of the approver's certificate",
        needed=_APPROVED,
    ),
    asked(
        id="release.work-certificate-kind",
        says="Kind of certificate",
        rule="An entry that approves says which kind of certificate the approver holds, in words.",
        source="14 CFR 43.9(a)(4)",
        read=True,
        example="mechanic, powerplant rating",
        todo="write the kind of certificate; the number does not say it",
        needed=_APPROVED,
        right=lambda text: any(sign.isalpha() for sign in text),
    ),
)

WORK = Form(
    "work",
    "Maintenance record, 14 CFR 43.9",
    (ENGINE, *_WORK, REASON, DATA, JOB, HEAD, *_MAJOR, *_WORK_SIGNED),
    ("The person who signs approves for return to service the work named here, and nothing beyond it.",),
    needs_major=True,
)
