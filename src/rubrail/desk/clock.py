"""The yard's own clock: the time zone of the machine the desk runs on, unless one is named."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.conf import settings
from django.utils import timezone


def zone_name(*, environ: Mapping[str, str] | None = None, localtime: Path = Path("/etc/localtime")) -> str:
    """Name of the time zone to show times in, ``"UTC"`` where the machine's cannot be told.

    Parameters
    ----------
    environ : mapping, optional
        Environment to read; ``RUBRAIL_TIME_ZONE`` wins, then ``TZ``.
    localtime : Path
        The link many systems keep to their zone's file.
    """
    environ = os.environ if environ is None else environ
    linked = str(localtime.resolve()).partition("zoneinfo/")[2]
    for name in (environ.get("RUBRAIL_TIME_ZONE"), environ.get("TZ"), linked):
        if name and _exists(name):
            return name
    return "UTC"


def _exists(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def local(moment: datetime) -> datetime:
    """``moment`` in the yard's time."""
    # Windows has no zone files to name; there the system itself converts.
    if sys.platform == "win32" and settings.TIME_ZONE == "UTC":
        return moment.astimezone()
    return moment.astimezone(ZoneInfo(settings.TIME_ZONE))


def today() -> date:
    """The date in the yard."""
    return local(timezone.now()).date()
