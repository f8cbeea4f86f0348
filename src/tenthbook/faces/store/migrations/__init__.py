"""How the tables came to be, step by step."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tenthbook.faces.store.triggers import statements


def set_triggers(*tables: str) -> Callable[[Any, Any], None]:
    """Give the step that sets the triggers of tables.

    Args:
        tables: Which tables.

    Returns:
        The step, for either database.
    """

    def step(_apps: Any, editor: Any) -> None:
        script = statements(editor.connection.vendor, tables)
        if editor.connection.vendor == "postgresql":
            editor.execute(script, None)
            return
        for statement in script.split("END;\n"):
            if statement.strip():
                editor.execute(f"{statement}END;", None)

    return step
