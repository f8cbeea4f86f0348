"""What is printed: tagged PDF, black and white, A4 or Letter, the same bytes for the same job.

- `inspection`: the inspection report of a job at one head: verdicts with their working, drawings, what is undone;
- `typeset`: from data and a template to PDF; data go in as JSON and are never pasted into the template's source;
- `templates/`: the templates; `fonts/`: the two families they are set in, with their licence.

A paper is made from a worked-up job and computes nothing itself.

Every paper prints the head of the ledger it was made from, so that it can be held against an archive, and says on its
face when its data are invented. A paper approves nothing: the entry that returns an engine to service is written and
signed by a licensed person.
"""

from tenthbook.faces.papers.inspection import inspection_report
from tenthbook.faces.papers.typeset import CannotTypeset

__all__ = ["CannotTypeset", "inspection_report"]
