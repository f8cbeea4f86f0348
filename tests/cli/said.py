"""What the tests of the command line ask of every answer: the exit code, and words in the place of a stack trace."""

from __future__ import annotations

from click.testing import Result


def refused(result: Result, code: int) -> str:
    """Take what standard error says of something that was not done.

    Args:
        result: The answer.
        code: The exit code it must have.

    Returns:
        The message; nothing unplanned was raised, and nothing stands on standard output.
    """
    assert isinstance(result.exception, SystemExit), repr(result.exception)
    assert (result.exit_code, result.stdout) == (code, "")
    assert result.stderr
    return result.stderr


def done(result: Result) -> str:
    """Take what standard output says of something that was done.

    Args:
        result: The answer.

    Returns:
        The text; the exit code is 0.
    """
    assert result.exit_code == 0, f"{result.exception!r}\n{result.stderr}"
    return result.stdout
