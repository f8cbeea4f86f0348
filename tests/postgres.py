"""A PostgreSQL server for the tests: a cluster of its own in a temporary folder, reached by a socket only.

It is started by the tests and stopped by them, listens at no port, and runs as the user `postgres` where the tests run
as root, since the server refuses root. Without PostgreSQL the tests that ask for it fail.
"""

from __future__ import annotations

import glob
import os
import shutil
import signal
import subprocess
import tempfile
import time
from pathlib import Path
from types import TracebackType
from urllib.parse import quote

OWNER = "owner"
NEED = "the tests need PostgreSQL: on Debian, apt-get install postgresql"


def program(name: str) -> str:
    """Find a program of the server.

    Args:
        name: Such as "initdb".

    Returns:
        Its path.

    Raises:
        AssertionError: it is not installed.
    """
    found = sorted(glob.glob(f"/usr/lib/postgresql/*/bin/{name}")) or [shutil.which(name) or ""]
    assert found[-1], NEED
    return found[-1]


class Cluster:
    """A server with its data; use it as a context."""

    def __init__(self, folder: Path) -> None:
        """Prepare.

        Args:
            folder: Where its data lie; made.
        """
        self._folder = folder
        self._socket = Path(tempfile.mkdtemp(prefix="pg"))  # the name of a socket may not be long
        self._user = "postgres" if os.getuid() == 0 else None
        self._process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Cluster:
        self._folder.mkdir(parents=True)
        if self._user:
            for parent in (self._folder, *self._folder.parents):
                if parent.stat().st_uid == os.getuid() and parent not in (Path("/"), Path(tempfile.gettempdir())):
                    parent.chmod(parent.stat().st_mode | 0o011)
            shutil.chown(self._folder, self._user)
            shutil.chown(self._socket, self._user)
        plain = ["-D", str(self._folder), "-U", OWNER, "-A", "trust", "-E", "UTF8", "--no-sync"]
        # it sorts as people do, capitals among the small letters, so that an order taken from it shows
        sorts = ["--locale=C.UTF-8", "--locale-provider=icu", "--icu-locale=en-US"]
        made = [program("initdb"), *plain, *sorts]
        subprocess.run(made, check=True, stdout=subprocess.DEVNULL, user=self._user, cwd="/")
        self.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._process is not None:
            self._process.send_signal(signal.SIGINT)
            self._process.wait(60)
        shutil.rmtree(self._folder, ignore_errors=True)
        shutil.rmtree(self._socket, ignore_errors=True)

    def start(self) -> None:
        """Start the server and wait until it answers."""
        command = [program("postgres"), "-D", str(self._folder), "-k", str(self._socket), "-c", "listen_addresses="]
        few = ["-c", "max_connections=60", "-c", "shared_buffers=16MB"]
        self._process = subprocess.Popen(
            [*command, *few], user=self._user, cwd="/", stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        for _ in range(600):
            ready = subprocess.run(
                [program("pg_isready"), "-h", str(self._socket), "-U", OWNER, "-d", "postgres", "-q"], check=False
            )
            if ready.returncode == 0:
                return
            time.sleep(0.05)
        raise AssertionError("the server did not start")

    def kill(self) -> None:
        """Stop the server with all its processes, as the power does."""
        assert self._process is not None
        children = Path(f"/proc/{self._process.pid}/task/{self._process.pid}/children").read_text().split()
        self._process.kill()
        self._process.wait(60)
        for child in children:
            with_child = int(child)
            try:
                os.kill(with_child, signal.SIGKILL)
            except ProcessLookupError:
                continue
        while any(Path(f"/proc/{child}").exists() for child in children):
            time.sleep(0.01)
        (self._folder / "postmaster.pid").unlink(missing_ok=True)

    def ask(self, statement: str, database: str = "postgres", person: str = OWNER) -> str:
        """Run a statement.

        Args:
            statement: SQL.
            database: Where.
            person: As whom.

        Returns:
            What it printed.
        """
        place = ["-h", str(self._socket), "-U", person, "-d", database]
        command = [program("psql"), *place, "-qAt", "-v", "ON_ERROR_STOP=1"]
        done = subprocess.run([*command, "-c", statement], check=False, capture_output=True, text=True)
        if done.returncode:
            raise PermissionError(done.stderr)
        return done.stdout

    def create(self, name: str, template: str = "template1") -> str:
        """Make a database.

        Args:
            name: Its name.
            template: What it is a copy of.

        Returns:
            The setting that names it.
        """
        self.ask(f'CREATE DATABASE "{name}" TEMPLATE "{template}"')
        return self.url(name)

    def url(self, name: str, person: str = OWNER) -> str:
        """Write the setting that names a database.

        Args:
            name: Its name.
            person: As whom it is opened.

        Returns:
            The URL.
        """
        return f"postgresql://{person}@/{name}?host={quote(str(self._socket), safe='')}"
