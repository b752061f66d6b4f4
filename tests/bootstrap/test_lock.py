"""The lock files pin, with hashes and from no named index, what pyproject.toml asks for."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
LOCKS = ("requirements.lock", "requirements-test.lock")
PIN = re.compile(r"^(?P<name>[A-Za-z0-9][\w.-]*)==(?P<version>\S+)(?: ; (?P<marker>.+?))?(?: \\)?$")
HASH = re.compile(r"^    --hash=sha256:(?P<hash>[0-9a-f]{64})(?: \\)?$")


def read(name: str) -> dict[str, tuple[str, str | None, frozenset[str]]]:
    """Pins of a lock file by name: version, marker and hashes. Any other line is a fault."""
    pins: dict[str, tuple[str, str | None, frozenset[str]]] = {}
    current = None
    for line in (ROOT / name).read_text("utf-8").splitlines():
        if not line or line.startswith("#"):
            continue
        if found := PIN.match(line):
            current = canonicalize_name(found["name"])
            assert current not in pins, f"{current} is pinned twice in {name}"
            pins[current] = (found["version"], found["marker"], frozenset())
        elif found := HASH.match(line):
            version, marker, hashes = pins[current]
            pins[current] = (version, marker, hashes | {found["hash"]})
        else:
            pytest.fail(f"{name} holds a line that is neither a pin nor a hash: {line!r}")
    return pins


def asked(*extras: str) -> list[Requirement]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    lines = list(project["dependencies"])
    for extra in extras:
        lines += project["optional-dependencies"][extra]
    return [Requirement(line) for line in lines]


@pytest.mark.parametrize("name", LOCKS)
def test_every_pin_has_hashes(name):
    bare = [package for package, (_, _, hashes) in read(name).items() if not hashes]

    assert bare == []


@pytest.mark.parametrize(
    ("name", "extras"),
    [("requirements.lock", ("desk", "postgres")), ("requirements-test.lock", ("desk", "postgres", "test"))],
)
def test_lock_meets_what_the_project_asks_for(name, extras):
    pins = read(name)
    unmet = [
        str(requirement)
        for requirement in asked(*extras)
        if (key := canonicalize_name(requirement.name)) not in pins
        or not requirement.specifier.contains(pins[key][0], prereleases=True)
    ]

    assert unmet == []


def test_test_lock_holds_every_pin_of_the_other():
    """go.py counts on it: after the tests are set up, the desk is too."""
    small, large = read(LOCKS[0]), read(LOCKS[1])

    def covers(name: str) -> bool:
        version, marker, hashes = large.get(name, (None, None, None))
        return (version, hashes) == (small[name][0], small[name][2]) and marker in (None, small[name][1])

    assert [name for name in small if not covers(name)] == []
