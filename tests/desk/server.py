"""A desk that really runs: its own process, its own data folder, its own port."""

from __future__ import annotations

import contextlib
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

SOURCE = Path(__file__).parents[2] / "src"
# With SLOW_DESK_S set, a page's first bytes come at once and the rest so many seconds late, as on a busy machine: the
# browser has left the page before and not read this one yet, which finds tests that read too soon.
START = """
import os, sys, time
from django.core.handlers.wsgi import WSGIHandler
from django.http import HttpResponse
from rubrail.desk.serve import ServeError, demo, serve
answer, late_s = WSGIHandler.__call__, float(os.environ.get("SLOW_DESK_S", "0"))
def answer_late(self, environ, start_response):
    whole = answer(self, environ, start_response)
    page = isinstance(whole, HttpResponse) and whole["Content-Type"].startswith("text/html")
    return dribbled(whole) if page else whole
def dribbled(whole):
    yield whole.content[:40]
    time.sleep(late_s)
    yield whole.content[40:]
    whole.close()
if late_s:
    WSGIHandler.__call__ = answer_late
say = lambda line: print(line, flush=True)
try:
    {call}
except ServeError as fault:
    sys.exit(f"refused: {{fault}}")
"""
PATIENCE_S = 180


@dataclass
class Running:
    """A started desk."""

    url: str
    home: Path
    process: subprocess.Popen[str]
    said: list[str]

    def kill(self) -> None:
        """End it as a power cut would."""
        self.process.send_signal(signal.SIGKILL if os.name == "posix" else signal.SIGTERM)
        self.process.wait(30)


def environment(home: Path, **options: str) -> dict[str, str]:
    """Environment of a desk on ``home``; nothing of the tests' own settings goes along."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("RUBRAIL_", "DJANGO_"))}
    return {**kept, "PYTHONPATH": str(SOURCE), "RUBRAIL_HOME": str(home), "PYTHONUNBUFFERED": "1", **options}


def start(home: Path, *, call: str = "serve(port=0, say=say)", **options: str) -> Running:
    """Start a desk and wait until it answers; its log is in ``home`` beside the data.

    Raises
    ------
    RuntimeError
        If it ends instead, with what it said.
    """
    home.mkdir(parents=True, exist_ok=True)
    log = (home.parent / f"{home.name}.log").open("w")
    process = subprocess.Popen(
        [sys.executable, "-c", START.format(call=call)],
        env=environment(home, **options),
        stdout=subprocess.PIPE,
        stderr=log,
        text=True,
    )
    log.close()
    said: list[str] = []
    deadline = time.monotonic() + PATIENCE_S
    while time.monotonic() < deadline:
        line = process.stdout.readline()
        if not line:
            break
        said.append(line.rstrip("\n"))
        if found := re.match(r"The desk is at (http://\S+/)", line):
            return Running(found[1], home, process, said)
    process.kill()
    process.wait(30)
    process.stdout.close()
    raise RuntimeError("\n".join([*said, Path(log.name).read_text()]))


@contextlib.contextmanager
def running(home: Path, **options: str) -> Iterator[Running]:
    """A desk for as long as the block lasts."""
    it = start(home, **options)
    try:
        yield it
    finally:
        if it.process.poll() is None:
            it.process.terminate()
            it.process.wait(30)
        it.process.stdout.close()


def run(home: Path, code: str, **options: str) -> str:
    """Run Python on the data of a desk, with Django set up; what it printed."""
    whole = f"from rubrail.desk.serve import prepare\nprepare(say=lambda line: None)\n{code}"
    done = subprocess.run(
        [sys.executable, "-c", whole],
        env=environment(home, **options),
        capture_output=True,
        text=True,
        timeout=PATIENCE_S,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout
