"""The commands, each imported only when it is used."""

from __future__ import annotations

import difflib
import importlib
import os
import sys
from pathlib import Path

import click

import tenthbook

COMMANDS: dict[str, tuple[str, str]] = {
    "demo": ("demo", "Play the demonstration job on invented data and show its answers."),
    "serve": ("serve", "Open the bench book for a browser on this machine."),
    "book": ("book", "Begin a book, check it, import tables, compare revisions, read it again."),
    "job": ("job", "Open a job, record in it, and ask where it stands."),
    "calc": ("calc", "Compute one thing by itself: JSON in, JSON out."),
    "papers": ("papers", "Write a paper of a job as PDF."),
    "tool": ("tool", "Register instruments, record calibrations, ask how each stands."),
    "user": ("user", "Enrol the people of the shop and give them roles and log-ins."),
    "key": ("key", "Make a key to sign with, vouch for another's, revoke one."),
    "verify": ("verify", "Prove an archive, or all that is held; or find where it is broken."),
    "backup": ("backup", "Write all that is held into one file that proves itself."),
    "restore": ("restore", "Take a backup in, once it is proved, into an empty place."),
    "move": ("move", "Carry a shop to another database and prove every chain there."),
    "why": ("why", "Say what a rule says, where it comes from, and its two cases."),
}


class LazyGroup(click.Group):
    """A group that knows its commands by name and imports the one that is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """List the commands.

        Args:
            ctx: Click's context.

        Returns:
            Their names in the order a job needs them.
        """
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002 - click's signature
        """Import a command.

        Args:
            ctx: Click's context.
            cmd_name: Its name.

        Returns:
            The command, or None where there is none.
        """
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"tenthbook.faces.cli.{COMMANDS[cmd_name][0]}")
        command: click.Command = module.command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command that was typed.

        Args:
            ctx: Click's context.
            args: What was typed.

        Returns:
            Its name, the command, and the rest.

        Raises:
            click.UsageError: no such command; the nearest is offered.
        """
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            near = difflib.get_close_matches(args[0], COMMANDS, n=1)
            hint = f"did you mean {near[0]}?" if near else "one of " + ", ".join(COMMANDS)
            raise click.UsageError(f"found command {args[0]!r}; expected {hint}", ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002 - click's signature
        """Write the list of commands without importing one.

        Args:
            ctx: Click's context.
            formatter: Click's formatter.
        """
        with formatter.section("Commands"):
            formatter.write_dl([(name, says) for name, (_, says) in COMMANDS.items()])


@click.command(cls=LazyGroup, name="tenthbook", context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(tenthbook.__version__, prog_name="tenthbook")
@click.option(
    "--data", type=click.Path(file_okay=False, path_type=Path), envvar="TENTHBOOK_DATA", help="Folder the data lie in."
)
@click.option("--person", envvar="TENTHBOOK_PERSON", help="Id of the person who acts; the account's name without it.")
@click.pass_context
def command(ctx: click.Context, data: Path | None, person: str | None) -> None:
    """The bench book for a small piston aircraft engine, open on the stand.

    The engine's manual, the airworthiness directives and the licensed person rule; this book approves nothing and
    signs nothing.
    """
    ctx.obj = {"data": data, "person": person}


def main() -> None:
    """Run the command line on this process's arguments."""
    results = os.dup(1)
    os.dup2(2, 1)
    sys.stdout = os.fdopen(results, "w", encoding="utf-8")
    try:
        command()
    finally:
        sys.stdout.flush()
