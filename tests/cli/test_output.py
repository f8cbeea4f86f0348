"""Nothing that somebody typed steers the terminal it is printed on."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from click.testing import Result

Ask = Callable[..., Result]
STEERING = "\x1b[2J\x9b31m\u202eevil"


@pytest.mark.parametrize("words", [("job", "list"), ("job", "status"), ("job", "history")])
def test_what_was_typed_is_printed_with_its_escapes(ask: Ask, job: str, words: tuple[str, str]) -> None:
    """An engine's name and a note that hold escape codes are shown, and no code reaches the terminal."""
    corrected = ask("job", "correct", job, "0", f"engine=E {STEERING}", "--reason", STEERING)
    assert corrected.exit_code == 0
    shown = ask(*words, *([job] if words[1] != "list" else []))
    assert "evil" in shown.stdout
    assert not set(shown.stdout) & set("\x1b\x9b\u202e")
    assert not set(corrected.stdout + corrected.stderr) & set("\x1b\x9b\u202e")


def test_json_holds_the_same_text_as_escapes(ask: Ask, job: str) -> None:
    """Read back, the text is what was typed; as printed, it is harmless."""
    ask("job", "correct", job, "0", f"engine=E {STEERING}", "--reason", "r")
    printed = ask("job", "status", job, "--json").stdout
    assert not set(printed) & set("\x1b\x9b\u202e")
    assert json.loads(printed)["engine"] == f"E {STEERING}"
