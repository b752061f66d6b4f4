"""What every start does: a copy of the database before it is changed, its migrations, the static files."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import datetime
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.exceptions import ImproperlyConfigured
from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor

from rubrail import __version__

COPIES_KEPT = 5


class StartError(RuntimeError):
    """The desk cannot start; one or two sentences."""


def migrate(*, say: Callable[[str], None]) -> None:
    """Bring the database to this version, after copying an SQLite one that has something in it.

    Raises
    ------
    StartError
        If the database cannot be reached, or was written by a newer version.
    """
    try:
        executor = MigrationExecutor(connection)
        known = set(executor.loader.disk_migrations)
        newer = [key for key in executor.loader.applied_migrations if key[0] == "desk" and key not in known]
        plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    except ImproperlyConfigured as fault:
        raise StartError(
            "PostgreSQL needs the package psycopg, which is not installed: install rubrail with its postgres extra."
        ) from fault
    except DatabaseError as fault:
        raise StartError(f"The database cannot be used: {str(fault).strip()}") from fault
    if newer:
        raise StartError(
            "The database was written by a newer rubrail than this one. Start that version, or name another folder."
        )
    if not plan:
        return
    if executor.loader.applied_migrations and (copy := copy_database()):
        say(f"The database is brought to version {__version__}; a copy of it as it was is in {copy}")
    call_command("migrate", interactive=False, verbosity=0)


def copy_database() -> Path | None:
    """A copy of the SQLite database in the folder ``copies``; nothing where there is none yet."""
    name = settings.DATABASES["default"]["NAME"]
    if connection.vendor != "sqlite" or not Path(name).is_file() or not Path(name).stat().st_size:
        return None
    folder = settings.RUBRAIL_HOME / "copies"
    folder.mkdir(exist_ok=True)
    copy = folder / f"desk-{datetime.now():%Y-%m-%d-%H%M%S-%f}.sqlite3"
    with closing(sqlite3.connect(name)) as source, closing(sqlite3.connect(copy)) as target:
        source.backup(target)
    for old in sorted(folder.glob("desk-*.sqlite3"))[:-COPIES_KEPT]:
        old.unlink(missing_ok=True)
    return copy


def static_files() -> None:
    """Collect static files into the data folder, unless those there are these already."""
    if settings.DEBUG:
        return
    root = Path(settings.STATIC_ROOT)
    stamp = root / ".stamp"
    print_now = _fingerprint()
    if stamp.exists() and stamp.read_text("ascii") == print_now:
        return
    shutil.rmtree(root, ignore_errors=True)
    call_command("collectstatic", interactive=False, verbosity=0)
    stamp.write_text(print_now, "ascii")


def _fingerprint() -> str:
    seen = hashlib.sha256(__version__.encode())
    for finder in get_finders():
        for path, storage in finder.list([]):
            file = Path(storage.path(path))
            state = file.stat()
            seen.update(f"{path} {state.st_size} {state.st_mtime_ns}".encode())
    return seen.hexdigest()
