"""The words, fields and completeness of what is signed.

- `word` and `word_rules`: which word may be written: overhauled, rebuilt, repaired, modified, inspected, tested;
- `major`: whether a repair is major: yes, no, or what to ask first;
- `forms`: what a field and a form are; `forms_us`, `forms_inspection`, `forms_europe` and `forms_nz`: the records of
  14 CFR 43.9 and 43.11, M.A.801(e) and rule 43.69 of New Zealand; `forms_pack`: what each names beside them;
- `entry`: the text, ready to sign in ink, or everything that is missing;
- `retention`: how long a record is kept, and until when it is entered;
- `rules`: the register of them all.

This room knows neither job nor verdicts: whoever asks hands in the numbers of entries and plain text. It approves
nothing, signs nothing and claims no condition of an engine; where a rule asks for a statement, the signer writes it.
A word is judged by entries, in free text as well as in its own line.

Not here: whether the work was done well (the job's gates), how the text is printed, and whether an authority accepts
an electronic signature.
"""

from tenthbook.record.release.entry import IN_INK, EntryText, Given, Written, entry_text, entry_to_sign
from tenthbook.record.release.forms import Field, Form
from tenthbook.record.release.forms_europe import EUROPE
from tenthbook.record.release.forms_inspection import INSPECTION
from tenthbook.record.release.forms_nz import NEW_ZEALAND
from tenthbook.record.release.forms_us import WORK
from tenthbook.record.release.major import MajorAnswer, RepairAsked, major_repair
from tenthbook.record.release.retention import Kept, enter_until, keep_until
from tenthbook.record.release.rules import RULES
from tenthbook.record.release.word import Evidence, JudgedWord, judge_word, limits_said, word_offered, words_of

FORMS: dict[str, Form] = {form.id: form for form in (WORK, INSPECTION, EUROPE, NEW_ZEALAND)}

__all__ = [
    "EUROPE",
    "FORMS",
    "INSPECTION",
    "IN_INK",
    "NEW_ZEALAND",
    "RULES",
    "WORK",
    "EntryText",
    "Evidence",
    "Field",
    "Form",
    "Given",
    "JudgedWord",
    "Kept",
    "MajorAnswer",
    "RepairAsked",
    "Written",
    "enter_until",
    "entry_text",
    "entry_to_sign",
    "judge_word",
    "keep_until",
    "limits_said",
    "major_repair",
    "word_offered",
    "words_of",
]
