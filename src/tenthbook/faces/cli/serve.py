"""`tenthbook serve`: the bench book for a browser on this machine."""

from __future__ import annotations

import os
from pathlib import Path

import click

from tenthbook.faces.cli.output import plain_errors, say, tell


@click.command(name="serve")
@click.option("--data", type=click.Path(file_okay=False, path_type=Path), help="Folder the data lie in.")
@click.option(
    "--port", type=click.IntRange(0, 65535), default=8417, show_default=True, help="Port; 0 for any that is free."
)
@click.pass_context
def command(ctx: click.Context, data: Path | None, port: int) -> None:
    """Open the bench book for a browser on this machine, at its own address only."""
    from tenthbook.faces.store.folder import data_folder

    folder = data or ctx.obj["data"] or data_folder()
    if ctx.obj["person"]:
        os.environ["TENTHBOOK_PERSON"] = ctx.obj["person"]
    with plain_errors():
        from tenthbook.faces.web.server import make_server

        try:
            server = make_server(folder, "127.0.0.1", port)
        except OSError as error:
            raise click.UsageError(
                f"found port {port} taken ({error.strerror or error}); expected a free one: --port 0"
            ) from error
    say(f"http://127.0.0.1:{server.bind_addr[1]}/")
    tell(f"data in {folder}; end with Ctrl-C")
    try:
        server.serve()
    except KeyboardInterrupt:
        server.stop()
