"""Run commands as a person would: in this process, or in one of their own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple
from unittest.mock import patch

import typer
from typer import testing

from rubrail.answers.board import match
from rubrail.cli.main import app
from rubrail.things.folder import load_yard, resolve
from rubrail.things.yard import Yard

ROOT = Path(__file__).resolve().parents[2]
YARD = ROOT / "src" / "rubrail" / "demo" / "yard"
HAUL = "03-landscaper-track-loader"
WORDS = ("clear", "depends", "not known", "over")


class Ended(NamedTuple):
    """What a command printed, and how it ended."""

    code: int
    out: str
    err: str


@lru_cache(maxsize=1)
def _command(app: typer.Typer) -> Any:
    return typer.main.get_command(app)


def run(*args: str, env: Mapping[str, str] | None = None) -> Ended:
    """Run a command in this process, on a terminal of 80 columns without color."""
    plain = {"COLUMNS": "80", "NO_COLOR": "1", "FORCE_COLOR": "", "TERM": "dumb"}
    # The runner would put all commands together anew at every run.
    with patch.object(testing, "_get_command", _command):
        result = testing.CliRunner().invoke(app, [*args], env={**plain, **(env or {})})
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return Ended(result.exit_code, result.stdout, result.stderr)


def spawn(*args: str, env: Mapping[str, str] | None = None, **how: Any) -> subprocess.CompletedProcess:
    """Run a command in a process of its own."""
    kept = {k: v for k, v in os.environ.items() if k not in ("COLUMNS", "NO_COLOR", "FORCE_COLOR")}
    return subprocess.run(
        [sys.executable, "-m", "rubrail.cli", *args],
        env={**kept, "PYTHONPATH": str(ROOT / "src"), **(env or {})},
        capture_output="stdout" not in how,
        timeout=60,
        check=False,
        **how,
    )


def answer(text: str) -> dict[str, Any]:
    """Parse JSON that holds no number JSON does not have."""

    def refuse(name: str) -> None:
        raise AssertionError(f"{name} is no JSON")

    return json.loads(text, parse_constant=refuse)


@lru_cache(maxsize=1)
def yard() -> Yard:
    """The invented yard."""
    return load_yard(YARD)


@lru_cache(maxsize=1)
def by_verdict() -> dict[str, tuple[str, str]]:
    """A haul and a unit of the invented yard for each verdict word."""
    found: dict[str, tuple[str, str]] = {}
    for haul in yard().hauls.values():
        for c in match(haul=resolve(haul, yard()), trailers=tuple(yard().trailers.values())).candidates:
            found.setdefault(c.verdict, (haul.id, c.trailer))
    return found


@lru_cache(maxsize=1)
def carriers() -> tuple[str, ...]:
    """Units for the landscaper's haul, best first."""
    haul = resolve(yard().hauls[HAUL], yard())
    return tuple(c.trailer for c in match(haul=haul, trailers=tuple(yard().trailers.values())).candidates)
