"""The maintenance record of New Zealand's rule 43.69: the fullest of the published lists.

The list was read; that date, name, licence and signature belong to it as well is from memory. Checked in:
tests/published/test_nz_43_69.py
"""

from __future__ import annotations

from tenthbook.record.release.forms import Form, a_day, asked, filled, one_of
from tenthbook.record.release.forms_pack import ENGINE, HEAD, JOB

_PARTS_OF_COMPONENT = 5  # removed or fitted; what it is; part number; serial number; release document


def component_lines(text: str) -> list[list[str]]:
    """Take the components apart that somebody typed.

    Args:
        text: A line a component, its five parts between semicolons.

    Returns:
        The parts of each line, without blanks around them.
    """
    return [[part.strip() for part in line.split(";")] for line in text.splitlines() if line.strip()]


def _components(text: str) -> bool:
    if text.strip().casefold() == "none":
        return True
    lines = component_lines(text)
    whole = all(len(parts) == _PARTS_OF_COMPONENT and all(map(filled, parts)) for parts in lines)
    return bool(lines) and whole and all(parts[0] in ("removed", "fitted") for parts in lines)


_DONE = (
    asked(
        id="release.nz-inspection",
        says="Inspection",
        rule="The record gives the details and the identity of the inspection, and says none where there was none.",
        source="NZ rule 43.69",
        read=True,
        example="none",
        todo="identify the inspection, or write none",
    ),
    asked(
        id="release.nz-description",
        says="Maintenance performed",
        rule="The record describes the maintenance.",
        source="NZ rule 43.69",
        read=True,
        example="oil pump: gears and shaft replaced as a set",
        todo="describe what was done, to which parts",
    ),
    asked(
        id="release.nz-reason",
        says="Why the work was done",
        rule="The record says why the work was done.",
        source="NZ rule 43.69",
        read=True,
        example="hot idle oil pressure below the book",
        todo="say why in a few words",
    ),
    asked(
        id="release.nz-technical-data",
        says="Technical data used",
        rule="The record names the technical data that was used.",
        source="NZ rule 43.69",
        read=True,
        example="overhaul manual DF-OM, revision 4",
        todo="name the manual and its revision",
    ),
    asked(
        id="release.nz-location",
        says="Where the work was done",
        rule="The record says at which place or facility the work was done.",
        source="NZ rule 43.69",
        read=True,
        example="Heron Engine Works, bay 2",
        todo="name the place",
    ),
    asked(
        id="release.nz-components",
        says="Components removed and fitted",
        rule="The record gives for each component removed or fitted what it is, its part number, its serial number "
        "and its release document, and says none where there was none.",
        source="NZ rule 43.69",
        read=True,
        example="fitted; pump gear set; DF-1201; 0311; certificate 88",
        todo="write a line a component: removed or fitted; what; part number; serial number; document",
        right=_components,
        wrong="fitted; pump gear set; DF-1201",
    ),
    asked(
        id="release.nz-measurements",
        says="Measurements and test results",
        rule="The record holds the measurements and the results of tests, on the ground and in the air.",
        source="NZ rule 43.69",
        read=True,
        example="end clearance 0.0072 in; hot idle 22 psi; all others in the work pack",
        todo="give them, or name the work pack that holds them",
    ),
    asked(
        id="release.nz-directives",
        says="Airworthiness directives",
        rule="The record gives for each airworthiness directive its number, its revision date and how it was met, "
        "and says none where there was none.",
        source="NZ rule 43.69",
        read=True,
        example="none",
        todo="write number, revision date and means of compliance, or none",
    ),
    asked(
        id="release.nz-flight-check",
        says="Operational flight check needed",
        rule="The record says whether an operational flight check is needed.",
        source="NZ rule 43.69",
        read=True,
        example="yes",
        todo="say yes or no",
        right=one_of("yes", "no"),
        wrong="perhaps",
    ),
    asked(
        id="release.nz-worksheets",
        says="Worksheets",
        rule="The record names the worksheets that hold the details, and says none where there are none.",
        source="NZ rule 43.69",
        read=True,
        example="the work pack",
        todo="name them as the work pack, or write none",
    ),
)
_SIGNED = (
    asked(
        id="release.nz-date",
        says="Date completed",
        rule="The record says on which day the maintenance was completed.",
        source="NZ rule 43.69",
        read=False,
        example="2026-11-30",
        todo="give the day, written as 2026-11-30",
        right=a_day,
        wrong="30 November",
    ),
    asked(
        id="release.nz-certifier",
        says="Name",
        rule="The record names the person who certifies.",
        source="NZ rule 43.69",
        read=False,
        example="second mechanic",
        todo="name the person",
    ),
    asked(
        id="release.nz-licence",
        says="Licence or authorisation number",
        rule="The record gives the number of the certifier's licence or authorisation.",
        source="NZ rule 43.69",
        read=False,
        example="AME 12345",
        todo="give the number",
    ),
    asked(
        id="release.nz-signature",
        says="Signature",
        rule="The record is signed by the person who certifies; how is said beforehand.",
        source="NZ rule 43.69",
        read=False,
        example="in ink",
        todo="say in ink, and sign on the line",
    ),
)

NEW_ZEALAND = Form(
    "nz",
    "Maintenance record, New Zealand rule 43.69",
    (ENGINE, *_DONE, JOB, HEAD, *_SIGNED),
    ("Release to service, as the rule words it: ________________________________________",),
)
