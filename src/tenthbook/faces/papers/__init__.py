"""What is printed: tagged PDF, black and white, A4 or Letter, the same bytes for the same job.

- `catalogue`: every paper by the name it is asked for, `make_paper`;
- `inspection`: the inspection report of a job at one head: verdicts with their working, drawings, what is undone;
- `measuring`: the measuring sheet, to be written on by hand or filled with what was read;
- `tags`: one tag a part on the bench, to be cut out, with a code that a camera reads;
- `undone`: the undone list to pin on the wall, with boxes to tick;
- `tables`: readings, dispositions and the undone list as tables for a spreadsheet;
- `heading`: what stands at the head and the foot of each; `limits`: how the limits of a row are printed;
- `typeset`: from data and a template to PDF; data go in as JSON and are never pasted into the template's source;
- `templates/`: the templates; `fonts/`: the two families they are set in, with their licence.

A paper is made from a worked-up job and computes nothing itself.

Every paper prints the head of the ledger it was made from, so that it can be held against an archive, and says on its
face when its data are invented; a tag says so itself, since it is cut out. A paper approves nothing: the entry that
returns an engine to service is written and signed by a licensed person.
"""

from tenthbook.faces.papers.catalogue import PAPERS, NoPaper, make_paper
from tenthbook.faces.papers.heading import JobAtHead, at_head
from tenthbook.faces.papers.inspection import inspection_report
from tenthbook.faces.papers.tables import TABLES_OF_A_JOB, job_table
from tenthbook.faces.papers.typeset import CannotTypeset

__all__ = [
    "PAPERS",
    "TABLES_OF_A_JOB",
    "CannotTypeset",
    "JobAtHead",
    "NoPaper",
    "at_head",
    "inspection_report",
    "job_table",
    "make_paper",
]
