"""The command line: parse, call one function, show.

- `root`: the commands and what each does, without importing one before it is used;
- `output`: where results and messages go, and what an exit code means;
- `showing`: how a job is shown, in the words of pages and papers;
- one module a command.

Results go to standard output, messages to standard error. Exit 0: done. 1: findings, a refused entry or paper (nothing
was written), a broken archive. 2: misuse. `main` keeps standard output for results: a solver that prints on its own
prints to standard error.
"""

from tenthbook.faces.cli.root import main

__all__ = ["main"]
