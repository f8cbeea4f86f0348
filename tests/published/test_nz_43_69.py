"""New Zealand Civil Aviation Rules, Part 43, General Maintenance Rules: rule 43.69, maintenance records.

The list of the rule was read; that date, name, licence and signature belong to the record is from memory. What is
compared is a list; there is no tolerance.
"""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import Refused
from tenthbook.record.release import NEW_ZEALAND, entry_text, entry_to_sign
from tests.filled_in import given_for

READ = (
    "inspection",
    "description",
    "reason",
    "technical_data",
    "location",
    "components",
    "measurements",
    "directives",
    "flight_check",
    "worksheets",
)
FROM_MEMORY = ("date", "certifier", "licence", "signature")


def test_what_was_read_and_what_is_from_memory() -> None:
    """Each field of the rule says whether its source was read."""
    own = [field for field in NEW_ZEALAND.fields if field.rule.id.startswith("release.nz-")]
    assert {field.id for field in own if field.read} == set(READ)
    assert {field.id for field in own if not field.read} == set(FROM_MEMORY)
    assert all(field.rule.source.endswith("read" if field.read else "from memory") for field in own)


@pytest.mark.parametrize("field", READ + FROM_MEMORY)
def test_a_record_lacks_nothing(field: str) -> None:
    """Rule 43.69: with any one field gone the record is refused, and that field is named."""
    assert entry_to_sign(NEW_ZEALAND, given_for(NEW_ZEALAND)).ready
    with pytest.raises(Refused) as caught:
        entry_to_sign(NEW_ZEALAND, given_for(NEW_ZEALAND, field))
    assert [one.rule for one in caught.value.refusals] == ["release.nz-" + field.replace("_", "-")]


@pytest.mark.parametrize(
    ("components", "whole"),
    [
        ("none", True),
        ("fitted; gear set; DF-12; 0311; certificate 88", True),
        ("fitted; gear set; DF-12; 0311", False),
        ("fitted; gear set; DF-12; ; certificate 88", False),
        ("fitted; gear set; DF-12; 0311; certificate 88\nremoved; gear set", False),
        ("borrowed; gear set; DF-12; 0311; certificate 88", False),
    ],
)
def test_a_component_has_all_its_parts(components: str, whole: bool) -> None:
    """Rule 43.69 (read): what it is, part number, serial number and release document of each removed or fitted."""
    assert entry_text(NEW_ZEALAND, given_for(NEW_ZEALAND, components=components)).ready is whole
