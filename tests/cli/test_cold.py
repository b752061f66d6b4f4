"""What a cold start loads. Times are measured in benchmarks; here only what may not be imported."""

from __future__ import annotations

import subprocess
import sys

import pytest

from cli.terminal import HAUL, ROOT, carriers

LIST = "import sys; print(' '.join(sorted({m.split('.')[0] for m in sys.modules})))"


def loaded(*args: str) -> set[str]:
    """Top-level packages in memory after a command."""
    code = f"""
import sys, io, contextlib
sys.argv = {["rubrail", *args]!r}
from rubrail.cli.main import run
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    run()
{LIST}
"""
    ended = subprocess.run(
        [sys.executable, "-c", code], env={"PYTHONPATH": str(ROOT / "src"), "PATH": ""}, capture_output=True,
        text=True, timeout=60, check=True,
    )  # fmt: skip
    return set(ended.stdout.split())


@pytest.mark.parametrize("args", [("--help",), ("--version",), ()])
def test_help_loads_nothing_heavy(args):
    assert loaded(*args).isdisjoint({"numpy", "pydantic", "rich", "scipy", "pint", "django"})


def test_help_of_a_command_loads_what_typer_loads():
    # Typer itself reads arguments with pydantic.
    assert loaded("weigh", "--help").isdisjoint({"numpy", "rich", "scipy", "pint", "django"})


def test_a_weigh_loads_no_solver_web_or_paper():
    found = loaded("weigh", HAUL, carriers()[0], "--yard", "demo")
    assert "numpy" in found
    assert found.isdisjoint({"scipy", "highspy", "pint", "django", "typst", "openpyxl", "PIL"})


def test_json_needs_no_rich():
    assert "rich" not in loaded("weigh", HAUL, carriers()[0], "--yard", "demo", "--json")
