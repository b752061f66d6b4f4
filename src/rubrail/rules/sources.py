"""Where every figure comes from: one record a source, and how it was read."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

VERIFIED = {
    "read": "read in the document itself or a stored copy of it",
    "read in a copy": "read in a copy, summary or quotation by somebody else",
    "memory": "from memory, not read again",
    "computed": "our own arithmetic from rules named in the record",
    "practice": "common practice, no source",
}
"""How a record was read, and what the word means."""

FORMER = {"LAMPS-REMEMBERED": "NHTSA-LAMPS"}
"""Keys that lists kept earlier may still name, and the record that took their place."""


@dataclass(frozen=True, slots=True)
class Source:
    """One document, or one statement of common practice, that figures rest on.

    ``read_on`` is the day it was read, ``date not kept`` where that was not noted, and empty where it was not read.
    """

    key: str
    title: str
    section: str
    edition: str
    address: str
    read_on: str
    verified: str
    says: str

    @property
    def how_read(self) -> str:
        """How it was read, in words for a page or a sheet."""
        return VERIFIED[self.verified]


FIELDS = ("title", "section", "edition", "address", "read_on", "verified", "says")


def parse_sources(text: str, *, where: str) -> dict[str, Source]:
    """Records of one file.

    Raises
    ------
    ValueError
        With every fault of the file, one sentence each.
    """
    faults, found = [], {}
    for key, record in tomllib.loads(text).items():
        missing = [f for f in FIELDS if f not in record]
        unknown = [f for f in record if f not in FIELDS]
        if missing or unknown:
            faults.append(f"{key} in {where} must have the fields {', '.join(FIELDS)}: check {missing + unknown}.")
            continue
        if record["verified"] not in VERIFIED:
            words = ", ".join(VERIFIED)
            faults.append(f"{key}.verified must be one of {words}, got {record['verified']!r} in {where}.")
        was_read = record["verified"] in ("read", "read in a copy")
        if was_read != bool(record["read_on"]):
            faults.append(f"{key}.read_on must be given where it was read and empty where it was not, in {where}.")
        found[key] = Source(key, **record)
    if faults:
        raise ValueError("\n".join(faults))
    return found


@cache
def all_sources() -> dict[str, Source]:
    """Every source record by key, in the order of the files.

    Raises
    ------
    ValueError
        If a record is malformed or a key is written twice.
    """
    found: dict[str, Source] = {}
    folder = files("rubrail.rules") / "sources"
    for path in sorted((p for p in folder.iterdir() if p.name.endswith(".toml")), key=lambda p: p.name):
        records = parse_sources(path.read_text(encoding="utf-8"), where=path.name)
        twice = sorted(found.keys() & records.keys())
        if twice:
            raise ValueError(f"{', '.join(twice)} in {path.name} must be written once, and is in another file too.")
        found |= records
    return found


def source(key: str) -> Source:
    """The record of one source.

    Raises
    ------
    KeyError
        If no file has it.
    """
    try:
        return all_sources()[FORMER.get(key, key)]
    except KeyError:
        raise KeyError(f"{key} is not among the source records") from None
