"""A site as a folder of files: only what changed is written, what is gone is taken away, nothing else is touched.

A list in the folder tells which files are ours. A folder that holds any other file is refused, so that no file of
anybody's is ever overwritten or removed.
"""

from __future__ import annotations

import hashlib
import json
import math
import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from time import monotonic
from typing import Any

from rubrail.sheets.site.whole import SiteFile

LIST, PART = ".rubrail-site.json", ".rubrail-site.part"
SCHEMA = "rubrail/site-folder/1"
SAFE = re.compile(r"(?:[A-Za-z0-9_][A-Za-z0-9._-]*/)?[A-Za-z0-9_][A-Za-z0-9._-]*")
"""Paths of a site: one folder deep at most, and none that leads out of it."""
_WRITING = Lock()
"""Two people may press at once; the second then finds nothing to do."""


class SiteFolderError(ValueError):
    """The folder cannot be used; one sentence."""


@dataclass(frozen=True, slots=True)
class Written:
    """What became of the files: how many were written, left as they were, and taken away; and their bytes.

    left : files that there was no time for; the next run writes them
    """

    written: int
    kept: int
    removed: int
    size_bytes: int
    left: int = 0


@dataclass(frozen=True, slots=True)
class _Entry:
    rests_on: str
    digest: str
    size: int
    changed_ns: int


NOT_THERE = _Entry("", "", -1, 0)
"""Of a file that is still to be made."""


def write_site(files: Iterable[SiteFile], folder: Path, *, for_s: float = math.inf) -> Written:
    """Bring a folder to what the files are.

    Parameters
    ----------
    files : iterable of SiteFile
        All files of the site.
    folder : Path
        Made where there is none.
    for_s : float
        No file is begun after so long; what is left is told, and the next run goes on there. [s]

    Raises
    ------
    SiteFolderError
        If the folder cannot be used, or holds a file that was not written by this.
    """
    with _WRITING:
        return _write(list(files), Path(folder), until=monotonic() + for_s)


def _write(wanted: list[SiteFile], folder: Path, *, until: float) -> Written:
    before = _begun(folder)
    root = folder.resolve()
    for it in wanted:
        _checked(it.path)
    after: dict[str, _Entry] = {}
    made = written = kept = left = 0
    # Every file that may be there afterwards is named first: a run that is cut short leaves a folder it knows again.
    _save(root, {**{f.path: NOT_THERE for f in wanted}, **before})
    for it in wanted:
        old = before.get(it.path)
        if old is not None and old.rests_on == it.rests_on and _is_as(root / it.path, old):
            after[it.path] = old
            kept += old.size >= 0
            continue
        if made and monotonic() > until:
            after[it.path] = old or NOT_THERE
            left += 1
            continue
        after[it.path], new = _put(root, it, old)
        made += 1
        written += new
        kept += not new and after[it.path].size >= 0
    gone = [path for path in before if path not in after]
    for path in gone:
        (root / path).unlink(missing_ok=True)
    _drop_empty(root)
    _save(root, after)
    removed = sum(before[path].size >= 0 for path in gone)
    return Written(written, kept, removed, sum(max(e.size, 0) for e in after.values()), left)


def _begun(folder: Path) -> dict[str, _Entry]:
    """Our files in the folder, as its list tells them."""
    try:
        if not folder.exists():
            folder.mkdir(parents=True)
        if not folder.is_dir():
            raise SiteFolderError(f"{folder} is a file; name a folder.")
        ours = _listed(folder / LIST)
        there = list(_walk(folder))
    except OSError as error:
        raise SiteFolderError(f"{folder} cannot be used: {(error.strerror or 'it is refused').lower()}.") from None
    others = sorted(path for path in there if path not in ours and path not in (LIST, PART))
    if others:
        many = f"{len(others)} files" if len(others) > 1 else "a file"
        raise SiteFolderError(
            f"{folder} holds {many} that rubrail did not write ({', '.join(others[:3])}); name an empty folder, or one"
            " written before."
        )
    return ours


def _walk(folder: Path) -> Iterable[str]:
    for here, folders, names in os.walk(folder):
        at = Path(here)
        # A link could lead anywhere; none of ours is one.
        links = [name for name in folders if (at / name).is_symlink()]
        for name in [*names, *links]:
            path = (at / name).relative_to(folder).as_posix()
            yield f"{path} (a link)" if (at / name).is_symlink() else path


def _listed(path: Path) -> dict[str, _Entry]:
    if not path.exists():
        return {}
    try:
        table: Any = json.loads(path.read_text("utf-8"))
        if table["schema"] != SCHEMA:
            raise ValueError
        found = {name: _Entry(*row) for name, row in table["files"].items()}
    except (ValueError, KeyError, TypeError, AttributeError):
        raise SiteFolderError(
            f"{path} does not read, so it is not known which files of the folder are rubrail's; name an empty folder."
        ) from None
    for name in found:
        _checked(name)
    return found


def _checked(path: str) -> None:
    if not SAFE.fullmatch(path):
        raise SiteFolderError(f"{path!r} is no path of a site.")


def _is_as(path: Path, entry: _Entry) -> bool:
    """Whether the file is as it was written; one that was moved or copied is read to tell."""
    if entry.size < 0:
        return not path.exists()
    try:
        state = path.stat()
        if (state.st_size, state.st_mtime_ns) == (entry.size, entry.changed_ns):
            return True
        return state.st_size == entry.size and _digest(path.read_bytes()) == entry.digest
    except OSError:
        return False


def _put(root: Path, it: SiteFile, old: _Entry | None) -> tuple[_Entry, bool]:
    """Make a file and put it in place at one stroke, unless its bytes are there; whether it was written."""
    data, path = it.make(), root / it.path
    if data is None:
        path.unlink(missing_ok=True)
        return _Entry(it.rests_on, "", -1, 0), False
    digest = _digest(data)
    if old is not None and old.digest == digest and _is_as(path, old):
        return _Entry(it.rests_on, digest, old.size, old.changed_ns), False
    path.parent.mkdir(exist_ok=True)
    part = root / PART
    part.write_bytes(data)
    os.replace(part, path)
    state = path.stat()
    return _Entry(it.rests_on, digest, state.st_size, state.st_mtime_ns), True


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _drop_empty(root: Path) -> None:
    for entry in root.iterdir():
        if entry.is_dir() and not any(entry.iterdir()):
            entry.rmdir()


def _save(root: Path, entries: Mapping[str, _Entry]) -> None:
    rows = {p: (e.rests_on, e.digest, e.size, e.changed_ns) for p, e in sorted(entries.items())}
    part = root / PART
    part.write_text(json.dumps({"schema": SCHEMA, "files": rows}, indent=0), "utf-8")
    os.replace(part, root / LIST)
