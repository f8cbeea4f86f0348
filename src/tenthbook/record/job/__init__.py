"""Where the job stands, and whether a proposed act may be recorded.

- `kinds`, `kinds_of_intake`, `kinds_of_handling`: the facts a job can hold, each with its fields and its version;
- `tags`: what is written on a part, with a check digit that finds a wrong or swapped figure;
- `drafts`: from filled-in fields to a draft, every fault at once;
- `state` and `facts`: where the job stands, as values;
- `fold`: `fold(entries)`, which never refuses history: what it does not know it keeps by number;
- `aftermath`: what a correction, a withdrawal or a new signature does to what is there, and whom it puts in doubt;
- `places`: what an act changes and what its person looked at: where two people worked across each other unseen;
- `slips`: whether a reading looks like a missed turn; it asks and never proposes a number;
- `looks`: which cleanings, looks and tests are due on a part, and what closed each;
- `rules` and its sisters, `admission`, `standing`, `intake`, `handling`, `disposing`: `admit(state, draft, book)`,
  which may refuse;
- `projecting`: what a job writes in the tables that can be asked about many jobs at once.

The split matters. What was recorded stands, whatever later rules say; what is proposed is judged at a given head,
inside the store's write lock, and a refusal writes nothing. A reading names the row of the book it was taken against,
with the row's digest. A correction counts at the original's place and the original stays visible; every later judgement
that rested on it, by however many steps, turns doubted until somebody looks again. Whose key signs, and who may do
what, is the shop's business and not known here.
"""

from tenthbook.record.job.admission import admit
from tenthbook.record.job.aftermath import CORRECTABLE, as_it_counts
from tenthbook.record.job.drafts import draft, fields_from_text
from tenthbook.record.job.fold import fold
from tenthbook.record.job.kinds import KINDS
from tenthbook.record.job.projecting import rows_changed, rows_of
from tenthbook.record.job.rules import RULES
from tenthbook.record.job.slips import question_about
from tenthbook.record.job.state import Gauge, JobState, LaidDown, PartOnBench, Question, Reading, Signature
from tenthbook.record.job.tags import check_digit, next_tag, tag_holds

__all__ = [
    "CORRECTABLE",
    "KINDS",
    "RULES",
    "Gauge",
    "JobState",
    "LaidDown",
    "PartOnBench",
    "Question",
    "Reading",
    "Signature",
    "admit",
    "as_it_counts",
    "check_digit",
    "draft",
    "fields_from_text",
    "fold",
    "next_tag",
    "question_about",
    "rows_changed",
    "rows_of",
    "tag_holds",
]
