"""Let what must not happen twice at once take turns, on either database."""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction


@contextmanager
def in_turn(name: str) -> Iterator[None]:
    """A transaction that waits for every other one of the same name to end.

    SQLite's transactions take turns by themselves, because ours begin as writers; PostgreSQL's ask for a lock.
    """
    with transaction.atomic():
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SELECT pg_advisory_xact_lock(%s)", [zlib.crc32(f"rubrail {name}".encode())])
        yield
