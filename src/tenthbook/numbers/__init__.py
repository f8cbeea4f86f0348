"""The innermost ring: numbers, and the reasons beside them.

- `because`: what every answer carries (derivation, rule, fault);
- `quantity`: what a typed "1.2497 in" means, exactly;
- `limit`: what a row of limits allows, and on which side of it a value lies;
- `sheet`: what stands in a table someone sent.

Rooms further out may use any of them; among themselves `quantity` and `sheet` use `because`, and `limit` uses
`quantity`.

These rooms take text and bytes and give back values. They open no file, read no clock and know nothing of engines.
"""
