"""Where the job stands, and whether a proposed act may be recorded.

- `kinds`: the facts a job can hold, each with its fields and its version;
- `tags`: what is written on a part, with a check digit that finds a wrong or swapped figure;
- `drafts`: from filled-in fields to a draft, every fault at once;
- `state`: where the job stands, as values;
- `fold`: `fold(entries)`, which never refuses history: what it does not know it keeps by number;
- `slips`: whether a reading looks like a missed turn; it asks and never proposes a number;
- `rules` and `admission`: `admit(state, draft, book)`, which may refuse, and its rules with their cases.

The split matters. What was recorded stands, whatever later rules say; what is proposed is judged at a given head,
inside the store's write lock, and a refusal writes nothing. A reading names the row of the book it was taken against,
with the row's digest.
"""

from tenthbook.record.job.admission import admit
from tenthbook.record.job.drafts import draft
from tenthbook.record.job.fold import fold
from tenthbook.record.job.kinds import KINDS
from tenthbook.record.job.rules import RULES
from tenthbook.record.job.slips import question_about
from tenthbook.record.job.state import Gauge, JobState, PartOnBench, Question, Reading
from tenthbook.record.job.tags import check_digit, next_tag, tag_holds

__all__ = [
    "KINDS",
    "RULES",
    "Gauge",
    "JobState",
    "PartOnBench",
    "Question",
    "Reading",
    "admit",
    "check_digit",
    "draft",
    "fold",
    "next_tag",
    "question_about",
    "tag_holds",
]
