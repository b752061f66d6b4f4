"""Read a file's text into plain tables, refusing what is too large, not text, or not well formed."""

from __future__ import annotations

import json
import re
import stat
import tomllib
from functools import lru_cache
from pathlib import Path
from typing import Any

from rubrail.things.faults import NOTHING, Faults, one

MAX_BYTES = 2_000_000
MAX_DEPTH = 40
_HEADER = re.compile(r"\s*(\[\[?)([\w.\-\"' ]+)\]")
_KEY = re.compile(r"\s*([\w\-\"'.]+)\s*=")


def read_table(path: Path, where: str) -> tuple[dict[str, Any], str]:
    """Table that a TOML or JSON file holds, and its text.

    Parameters
    ----------
    path : Path
        The file.
    where : str
        What to call it in a fault.

    Raises
    ------
    Faults
        If it is missing, unreadable, not a plain file, too large (it is then not read), not UTF-8, or not well formed.
    """
    text = _text(path, where)
    try:
        if path.suffix.lower() == ".json":
            table = json.loads(text)
        else:
            table = tomllib.loads(text)
    except RecursionError:
        raise _bad(where, "nested less deeply") from None
    except ValueError as error:
        raise _malformed(error, "JSON" if path.suffix.lower() == ".json" else "TOML", where, text) from None
    if not isinstance(table, dict):
        raise _bad(where, "a table at the top")
    if _deeper(table, MAX_DEPTH):
        raise _bad(where, "nested less deeply")
    return table, text


def _text(path: Path, where: str) -> str:
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise _bad(where, "a file, not a folder")
        if not stat.S_ISREG(status.st_mode):
            raise _bad(where, "a plain file")
        if status.st_size > MAX_BYTES:
            raise one(
                "",
                NOTHING,
                f"at most {MAX_BYTES:,} bytes, and it has {status.st_size:,}",
                where,
                lead="the file must be",
            )
        raw = path.read_bytes()
    except (OSError, ValueError) as error:
        if isinstance(error, Faults):
            raise
        raise one("", NOTHING, f"cannot be read: {_reason(error)}", where, lead="the file") from None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise one("", NOTHING, "UTF-8 text", f"{where} line {line}", lead="the file must be") from None


def _reason(error: OSError | ValueError) -> str:
    if isinstance(error, FileNotFoundError):
        return "there is no such file"
    if isinstance(error, PermissionError):
        return "permission is denied"
    return (getattr(error, "strerror", None) or "its name is not a file name").lower()


def _bad(where: str, wanted: str) -> Faults:
    return one("", NOTHING, wanted, where, lead="the file must be")


def _malformed(error: ValueError, form: str, where: str, text: str) -> Faults:
    said = str(error).split("\n")[0]
    at = re.search(r"line (\d+)", said)
    line = at[1] if at else str(text.count("\n") + 1) if "end of document" in said else ""
    reason = re.sub(r"\s*\(at .*\)|: line \d+ column.*", "", said)
    if "integer string conversion" in said:
        reason = "a number too large to read"
    place = f"{where} line {line}" if line else where
    return one(
        "", NOTHING, f"well-formed {form}", place, remedy=reason[:1].lower() + reason[1:80], lead="the file must be"
    )


def _deeper(value: dict[str, Any], depth: int) -> bool:
    """Whether tables and lists nest to this depth or deeper, layer by layer."""
    layer: list[Any] = [value]
    for _ in range(depth):
        wholes = [m.values() if isinstance(m, dict) else m for m in layer if isinstance(m, dict | list)]
        layer = [m for whole in wholes for m in whole]
        if not layer:
            return False
    return True


def line_of(text: str, loc: tuple[Any, ...]) -> int | None:
    """Line of a TOML text where a place is written, as near as the table headers tell.

    Parameters
    ----------
    text : str
        The file.
    loc : tuple
        Keys and indexes from the top of the file (``("axle", 1, "gawr_lb")``).
    """
    lines = _lines(text)
    for end in range(len(loc), 0, -1):
        if loc[:end] in lines:
            return lines[loc[:end]]
    return None


@lru_cache(maxsize=4)
def _lines(text: str) -> dict[tuple[Any, ...], int]:
    """Line where each key and table of a TOML text is first written."""
    here: list[Any] = []
    counts: dict[tuple[Any, ...], int] = {}
    lines: dict[tuple[Any, ...], int] = {}
    for number, line in enumerate(text.splitlines(), 1):
        header = _HEADER.match(line)
        key = _KEY.match(line)
        if header:
            here = _header(header[2], header[1] == "[[", counts)
            lines.setdefault(tuple(here), number)
        elif key:
            lines.setdefault((*here, *_keys(key[1])), number)
    return lines


def _keys(text: str) -> list[Any]:
    return [k.strip().strip("\"'") for k in text.split(".")]


def _header(text: str, listed: bool, counts: dict[tuple[Any, ...], int]) -> list[Any]:
    found: list[Any] = []
    keys = _keys(text)
    for n, key in enumerate(keys):
        found.append(key)
        place = tuple(found)
        if n == len(keys) - 1 and listed:
            counts[place] = counts.get(place, -1) + 1
            for deeper in [p for p in counts if len(p) > len(place) and p[: len(place)] == place]:
                del counts[deeper]
        if place in counts:
            found.append(counts[place])
    return found
