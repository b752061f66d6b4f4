"""A room imports only from rooms below it, and the core stays light and free of web, paper and terminal."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
CORE = ("quantity", "things", "mechanics", "rules", "checks", "answers")
# Not for the core at all, then what the core loads only inside the functions that use it.
FOREIGN = {"django", "django_htmx", "typst", "typer", "rich", "waitress", "whitenoise", "segno"}
HEAVY = {"scipy", "pint", "highspy", "openpyxl"}


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUTF8": "1"}
    return subprocess.run([sys.executable, *arguments], cwd=ROOT, env=env, capture_output=True, text=True)


def test_import_contracts_hold():
    done = run("-c", "from importlinter.cli import lint_imports_command as go; go()", "--no-cache")

    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    assert "0 broken" in done.stdout


def test_a_broken_contract_is_noticed(tmp_path):
    """The contracts bite: a copy whose quantities import the desk must fail."""
    package = tmp_path / "src" / "rubrail"
    for room in (*CORE, "sheets", "desk", "cli"):
        (package / room).mkdir(parents=True)
        (package / room / "__init__.py").touch()
    (package / "__init__.py").touch()
    config = str(ROOT / ".importlinter")
    program = f"import sys; sys.path.insert(0, {str(tmp_path / 'src')!r}); "
    program += "from importlinter.cli import lint_imports_command as go; go()"
    env = {**os.environ, "PYTHONUTF8": "1", "PYTHONPATH": ""}
    command = [sys.executable, "-c", program, "--config", config, "--no-cache"]

    def broken() -> str:
        done = subprocess.run(command, cwd=tmp_path, env=env, capture_output=True, text=True)
        return done.stdout

    assert "3 kept, 0 broken" in broken()
    (package / "quantity" / "__init__.py").write_text("import rubrail.desk\n", "utf-8")
    assert "1 broken" in broken()
    (package / "quantity" / "__init__.py").write_text("import django\n", "utf-8")
    assert "1 broken" in broken()
    (package / "quantity" / "__init__.py").write_text("", "utf-8")
    (package / "rules" / "__init__.py").write_text("import rubrail.things\n", "utf-8")
    assert "1 broken" in broken()


@pytest.mark.parametrize("name", ["rubrail", *(f"rubrail.{room}" for room in CORE)])
def test_importing_pulls_in_nothing_heavy(name):
    done = run("-W", "error", "-c", f"import {name}, json, sys; print(json.dumps(sorted(sys.modules)))")

    assert done.returncode == 0, done.stderr
    loaded = {module.partition(".")[0] for module in json.loads(done.stdout)}
    assert not loaded & (FOREIGN | HEAVY)


def test_every_module_of_the_core_imports_without_web_paper_or_terminal():
    names = []
    for room in CORE:
        for path in sorted((ROOT / "src" / "rubrail" / room).rglob("*.py")):
            names.append(".".join(path.relative_to(ROOT / "src").with_suffix("").parts).removesuffix(".__init__"))
    program = "import importlib, json, sys\n"
    program += f"for name in {names!r}: importlib.import_module(name)\n"
    program += "print(json.dumps(sorted(sys.modules)))"
    done = run("-W", "error", "-c", program)

    assert done.returncode == 0, done.stderr
    loaded = {module.partition(".")[0] for module in json.loads(done.stdout)}
    assert not loaded & (FOREIGN | {"scipy", "pint"})
