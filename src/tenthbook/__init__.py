"""The bench book for a powerplant mechanic with a small piston aircraft engine open in front of him.

Four rings, imports pointing inward only:

- `numbers`: what a typed number, a limit, a table and a reason are;
- `trade`: what the trade computes from them (fits, gauges, and what joins them);
- `record`: the book, the ledger, the job and what follows from them;
- `faces`: drawings, calculators, papers, the store, the pages and the command line.

The rooms inside each ring are drawn in ARCHITECTURE.md. Nothing is imported here, so that a command that needs one
room pays for one room.
"""

__version__ = "0.1.0"
