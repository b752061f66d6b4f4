"""What all tests share: a data folder of their own, a browser to drive, a PostgreSQL to write to."""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from support import postgres
from support.programs import CHROMIUM_ARGUMENTS, find_chromium, find_postgres, go_without

# A yard's own settings, and above all its database, are no business of the tests. The desk's test settings,
# loaded before this file where Django is in play, have seen to the same.
if "desk_settings" not in sys.modules:
    for _name in [name for name in os.environ if name.startswith("RUBRAIL_")]:
        del os.environ[_name]
    os.environ["RUBRAIL_HOME"] = tempfile.mkdtemp(prefix="rubrail-tests-")
# What tests start is started many times; compiling all of it anew each time takes longer than running it.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
# Playwright keeps an event loop in the thread that also prepares the data of a browser test.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"

settings.register_profile(
    "rubrail",
    deadline=None,
    max_examples=60,
    derandomize=bool(os.environ.get("CI")),
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("rubrail")


def pytest_configure(config: pytest.Config) -> None:
    """Remove this process's data folder at the end."""
    home = os.environ["RUBRAIL_HOME"]
    config.add_cleanup(lambda: shutil.rmtree(home, ignore_errors=True))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what needs a browser or a server by the fixture it asks for; one process keeps the one server."""
    for item in items:
        asked = getattr(item, "fixturenames", ())
        if "chromium_path" in asked:
            item.add_marker(pytest.mark.browser)
        if "postgres_url" in asked:
            item.add_marker(pytest.mark.postgres)
            item.add_marker(pytest.mark.xdist_group("postgres"))


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """Path of the Chromium that browser tests drive; without one they are skipped, or fail in CI."""
    found = find_chromium()
    if found is None:
        go_without("no Chromium found on PATH or by TESTS_CHROMIUM", flag="TESTS_REQUIRE_BROWSER")
    return found


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any], chromium_path: str) -> dict[str, Any]:
    """Make Playwright drive the Chromium that is here, not one it would download."""
    arguments = [*CHROMIUM_ARGUMENTS, *browser_type_launch_args.get("args", [])]
    return {**browser_type_launch_args, "executable_path": chromium_path, "args": arguments}


@pytest.fixture(scope="session")
def base_url() -> None:
    """No address that pages are relative to; pytest-playwright's own fixture of this name warns under pytest 9."""


@pytest.fixture(scope="session")
def postgres_url() -> Iterator[str]:
    """URL of an empty database: the one TESTS_POSTGRES_URL names, or that of a server started for the tests."""
    if given := os.environ.get("TESTS_POSTGRES_URL"):
        yield given
        return
    initdb, program = find_postgres("initdb"), find_postgres("postgres")
    if initdb is None or program is None:
        go_without("no PostgreSQL found on PATH or by TESTS_POSTGRES_URL", flag="TESTS_REQUIRE_POSTGRES")
    with postgres.server(initdb=initdb, postgres=program) as url:
        yield url
