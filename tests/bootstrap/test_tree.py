"""What no tracked file may hold, and the style check over all of them."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path

import pytest

import rubrail

ROOT = Path(__file__).parents[2]
LONGEST_MODULE = 500
# Built from pieces, so that this file may be searched like any other.
OUR_FOLDERS = re.compile(r"(?<![\w.~$}/:-])/(?:" + "|".join(("wo" + "rk", "tm" + "p", "ro" + "ot")) + r")/[\w.{$]")
INDEX_HOSTS = re.compile(
    "|".join(
        re.escape(".".join(pieces))
        for pieces in (
            ("pypi", "org"),
            ("pythonhosted", "org"),
            ("registry", "npmjs", "org"),
            ("registry", "yarnpkg", "com"),
            ("deb", "debian", "org"),
            ("security", "debian", "org"),
        )
    )
)
CONFLICT = re.compile(r"(?m)^(?:<{7} |>{7} |\|{7} )")


@cache
def tracked() -> tuple[Path, ...]:
    """Files under version control; all but the hidden and the made ones where there is no version control."""
    try:
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
        found = [ROOT / name for name in listed.decode().split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        made = {".venv", "var", "build", "dist", "__pycache__", ".git"}
        found = [path for path in ROOT.rglob("*") if not made & set(path.relative_to(ROOT).parts)]
    return tuple(path for path in found if path.is_file())


def hits(pattern: re.Pattern[str]) -> list[str]:
    """Places in tracked text files that match."""
    places = []
    for path in tracked():
        try:
            text = path.read_text("utf-8")
        except UnicodeDecodeError:
            continue
        for number, line in enumerate(text.splitlines(), 1):
            if pattern.search(line):
                places.append(f"{path.relative_to(ROOT).as_posix()}:{number}: {line.strip()[:80]}")
    return places


def test_there_are_files_to_look_at():
    names = {path.relative_to(ROOT).as_posix() for path in tracked()}

    assert {"go.py", "pyproject.toml", "requirements.lock", "src/rubrail/__init__.py"} <= names


@pytest.mark.parametrize("pattern", [OUR_FOLDERS, INDEX_HOSTS, CONFLICT], ids=["folder", "index", "conflict"])
def test_no_tracked_file_holds(pattern):
    assert hits(pattern) == []


@pytest.mark.parametrize(
    ("pattern", "line"),
    [
        (OUR_FOLDERS, "see '/{}/notes.txt'".format("wo" + "rk")),
        (OUR_FOLDERS, 'open("/{}/x")'.format("tm" + "p")),
        (INDEX_HOSTS, "https://files.{}/packages/x".format("pythonhosted" + ".org")),
        (CONFLICT, "<" * 7 + " HEAD"),
    ],
)
def test_the_patterns_find_what_they_are_for(pattern, line):
    assert pattern.search(line)


def test_modules_stay_small():
    long = {
        path.relative_to(ROOT).as_posix(): lines
        for path in tracked()
        if path.suffix == ".py" and "src" in path.relative_to(ROOT).parts
        if (lines := len(path.read_text("utf-8").splitlines())) > LONGEST_MODULE
    }

    assert long == {}


def test_style():
    done = subprocess.run(
        [sys.executable, "-m", "ruff", "check", "--no-cache", "--output-format", "concise", "."],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )

    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-1000:]


def test_one_version_everywhere():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]

    assert project["version"] == rubrail.__version__
