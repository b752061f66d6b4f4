"""A throw-away PostgreSQL server on loopback, for as long as the tests run."""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

START_SECONDS = 30


class ServerError(RuntimeError):
    """The server did not start; the message holds what it said."""


def _as_whom() -> dict[str, Any]:
    """How to start a child that PostgreSQL accepts: it refuses to run as root."""
    if not hasattr(os, "geteuid") or os.geteuid() != 0:
        return {}
    import pwd

    for name in ("postgres", "nobody"):
        with contextlib.suppress(KeyError):
            entry = pwd.getpwnam(name)
            return {"user": entry.pw_uid, "group": entry.pw_gid, "extra_groups": []}
    raise ServerError("PostgreSQL does not run as root, and there is no user postgres or nobody to run it as")


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def _ready(data: Path) -> bool:
    """Whether it takes sessions: it listens a while before, and refuses them; its own file's last line says which."""
    with contextlib.suppress(OSError):
        return (data / "postmaster.pid").read_text(encoding="utf-8").rstrip().endswith("ready")
    return False


@contextlib.contextmanager
def server(*, initdb: str, postgres: str) -> Iterator[str]:
    """Run a fresh server until the block ends; yields the URL of its one empty database."""
    whom = _as_whom()
    # Not pytest's own temporary folder: that one is closed to other users.
    folder = Path(tempfile.mkdtemp(prefix="rubrail-postgres-"))
    try:
        if whom:
            os.chown(folder, whom["user"], whom["group"])
        data = folder / "data"
        make = [initdb, "-D", data, "-U", "rubrail", "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync"]
        made = subprocess.run(make, **whom, cwd=folder, capture_output=True, text=True)
        if made.returncode:
            raise ServerError(made.stderr)
        port = _free_port()
        start = [postgres, "-D", data, "-h", "127.0.0.1", "-p", str(port), "-k", folder, "-F"]
        with (folder / "log").open("w+", encoding="utf-8") as log:
            running = subprocess.Popen(start, **whom, cwd=folder, stdout=log, stderr=log)
            try:
                last = time.monotonic() + START_SECONDS
                while not _ready(data):
                    if running.poll() is not None or time.monotonic() > last:
                        log.seek(0)
                        raise ServerError(log.read())
                    time.sleep(0.05)
                yield f"postgresql://rubrail@127.0.0.1:{port}/postgres"
            finally:
                if running.poll() is None:
                    running.send_signal(signal.SIGINT)  # "fast": ends open sessions
                    running.wait(timeout=START_SECONDS)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
