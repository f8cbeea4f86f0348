"""The third ring: what the manual says, what was recorded, and what follows.

- `book`: the limits of one engine type, transcribed from its manual;
- `ledger`: what was recorded, by whom, so that nothing is lost and nothing altered unseen;
- `job`: where the job stands, and whether a proposed act may be recorded;
- `workup`: what follows from book and job: verdicts with their reasons, and what is undone;
- `release`: the words, fields and completeness of what is signed;
- `bench`: one act from what was typed to what was recorded, over any store.

Each may use the trade and the numbers; `job` uses book and ledger, `workup` uses `job`, `bench` uses them all.

These rooms take rows, entries and bytes and give back values. They open no file, read no clock and know no database.
"""
