"""The shared fixtures really bring a browser and a database server, and say so when they cannot."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

from support import programs

ROOT = Path(__file__).parents[2]


def test_browser_runs_script_and_measures_at_phone_width(page):
    page.set_viewport_size({"width": 360, "height": 640})
    page.set_content("<title>t</title><p id=w></p><script>w.textContent = innerWidth</script>")

    assert page.inner_text("#w") == "360"


def test_postgres_server_keeps_what_is_written(postgres_url):
    import psycopg

    with psycopg.connect(postgres_url, autocommit=True) as first:
        first.execute("create table unit (stock_number text)")
        first.execute("insert into unit values ('A-17')")
    with psycopg.connect(postgres_url, autocommit=True) as second:
        assert second.execute("select stock_number from unit").fetchall() == [("A-17",)]
        second.execute("drop table unit")


def test_missing_program_is_skipped_here_but_fails_where_it_is_required(monkeypatch):
    monkeypatch.delenv("TESTS_REQUIRE_BROWSER", raising=False)
    with pytest.raises(pytest.skip.Exception, match="no Chromium"):
        programs.go_without("no Chromium found", flag="TESTS_REQUIRE_BROWSER")
    monkeypatch.setenv("TESTS_REQUIRE_BROWSER", "1")
    with pytest.raises(pytest.fail.Exception, match="no Chromium"):
        programs.go_without("no Chromium found", flag="TESTS_REQUIRE_BROWSER")


def test_named_browser_that_is_not_there_is_not_replaced_by_another(monkeypatch, tmp_path):
    monkeypatch.setenv("TESTS_CHROMIUM", str(tmp_path / "no-browser"))

    assert programs.find_chromium() is None


@pytest.mark.parametrize(("required", "closing"), [("", "1 skipped"), ("1", "1 error")])
def test_run_without_chromium_skips_or_fails_the_browser_test(tmp_path, required, closing):
    # The flags are set by this test itself, so that it means the same here and in CI.
    env = {**os.environ, "TESTS_CHROMIUM": str(tmp_path / "none"), "TESTS_REQUIRE_BROWSER": required}
    one = f"{Path(__file__).relative_to(ROOT).as_posix()}::test_browser_runs_script_and_measures_at_phone_width"
    command = [sys.executable, "-m", "pytest", "-rs", "-p", "no:cacheprovider", "-p", "no:xdist", one]
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True)

    assert closing in done.stdout.splitlines()[-1]
    assert "no Chromium found" in done.stdout


def test_tests_never_see_a_yards_own_settings():
    mine = {name for name in os.environ if name.startswith("RUBRAIL_")}

    assert mine == {"RUBRAIL_HOME"}
    assert Path(os.environ["RUBRAIL_HOME"]).parent == Path(tempfile.gettempdir())


def test_property_tests_have_no_clock():
    assert settings().deadline is None
