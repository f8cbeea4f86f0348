"""The pages behind a threaded server."""

from __future__ import annotations

from pathlib import Path
from typing import Any


def make_server(folder: Path, host: str, port: int) -> Any:
    """Make the server of a data folder.

    Args:
        folder: Where the data lie.
        host: Address to listen on; this machine's own unless somebody knows why not.
        port: Port to listen on; 0 for any that is free.

    Returns:
        The server, prepared and bound; `serve` runs it, `stop` ends it.
    """
    from cheroot.wsgi import Server

    from tenthbook.faces.store.database import open_store

    open_store(folder, settings="tenthbook.faces.web.settings")
    from django.core.wsgi import get_wsgi_application

    server = Server((host, port), get_wsgi_application(), numthreads=8, server_name="tenthbook")
    server.prepare()
    return server
