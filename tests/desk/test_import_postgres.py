"""Lists on PostgreSQL: written whole or not at all there too."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from desk.server import PATIENCE_S, environment, run
from desk.test_import_killed import LOOK, SEED, WRITE

pytest.importorskip("psycopg")
from desk.test_postgres import database  # noqa: F401 - the fixture


def test_killed_midway_and_written_again(tmp_path: Path, database: str):  # noqa: F811
    home, options = tmp_path / "yard", {"RUBRAIL_DATABASE_URL": database}
    run(home, SEED, **options)
    code = "from rubrail.desk.serve import prepare\nprepare(say=lambda line: None)\n"
    done = subprocess.run(
        [sys.executable, "-c", code + WRITE.format(place="_change", kill=True)],
        env=environment(home, **options),
        capture_output=True,
        text=True,
        timeout=PATIENCE_S,
        check=False,
    )
    assert done.returncode == -signal.SIGKILL, done.stderr
    assert run(home, LOOK, **options).split() == ["60", "60", "0", "1"]
    run(home, WRITE.format(place="_change", kill=False), **options)
    assert run(home, LOOK, **options).split() == ["120", "0", "120", "0"]
