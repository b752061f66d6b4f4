"""Where the desk keeps its data: one folder per user, right for the platform, or the one RUBRAIL_HOME names."""

from __future__ import annotations

import contextlib
import os
import secrets
import sys
from collections.abc import Mapping
from pathlib import Path

KEY_LENGTH = 50


def data_folder(*, environ: Mapping[str, str] | None = None, platform: str | None = None) -> Path:
    """Folder of the desk's database, photos and secret key; it need not exist yet.

    Parameters
    ----------
    environ : mapping, optional
        Environment to read; the process's own by default.
    platform : str, optional
        As ``sys.platform``; the running one by default.
    """
    environ = os.environ if environ is None else environ
    platform = sys.platform if platform is None else platform
    if chosen := environ.get("RUBRAIL_HOME", "").strip():
        return Path(chosen).expanduser()
    home = Path.home()
    if platform == "win32":
        return Path(environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "rubrail"
    if platform == "darwin":
        return home / "Library" / "Application Support" / "rubrail"
    # The base-directory specification says a relative XDG_DATA_HOME is to be ignored.
    base = environ.get("XDG_DATA_HOME", "")
    return (Path(base) if base.startswith("/") else home / ".local" / "share") / "rubrail"


def make_private(folder: Path) -> Path:
    """Create ``folder`` for its owner alone, if it is not there yet."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder


def secret_key(folder: Path) -> str:
    """The key that signs sessions: kept in ``folder``, made on first use, readable by its owner only."""
    path = folder / "secret-key"
    with contextlib.suppress(FileNotFoundError):
        if key := path.read_text("ascii").strip():
            return key
    make_private(folder)
    fresh = folder / f".secret-key-{secrets.token_hex(6)}"
    descriptor = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(KEY_LENGTH))
    # Linking, unlike renaming, fails where another process was first: both then read the one key.
    try:
        os.link(fresh, path)
    except OSError:  # somebody was first, or a file system without links
        if not path.exists() or not path.read_text("ascii").strip():
            fresh.replace(path)
    fresh.unlink(missing_ok=True)
    return path.read_text("ascii").strip()
