"""The door: a file or a table becomes a thing, or every fault of it is told at once."""

from __future__ import annotations

import types
import typing
from copy import deepcopy
from pathlib import Path
from typing import Annotated, Any, Literal, TypeVar, get_args, get_origin

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from rubrail.things.cargo import Cargo
from rubrail.things.catalog import Catalog
from rubrail.things.checks import Checks
from rubrail.things.explain import Place, faults_of, plain
from rubrail.things.faults import NOTHING, Fault, Faults, one
from rubrail.things.fields import model_at, names_of, parts_in
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.limits import Limits
from rubrail.things.listing import ListingText
from rubrail.things.part import Part, Thing
from rubrail.things.rates import Rates
from rubrail.things.read import read_table
from rubrail.things.ticket import Ticket
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck

KINDS: dict[str, type[Thing]] = {
    "trailer": Trailer,
    "truck": Truck,
    "cargo": Cargo,
    "haul": Haul,
    "limits": Limits,
    "catalog": Catalog,
    "rates": Rates,
    "kit": Kit,
    "ticket": Ticket,
    "listing": ListingText,
    "checks": Checks,
}
"""Kinds of files and what each becomes. A file may hold several as ``[[trailer]]``."""

T = TypeVar("T", bound=Part)


def read_thing(model: type[T], table: Any, where: str | Place = "") -> T:
    """A thing from a plain table, such as a parsed file or a form.

    Parameters
    ----------
    model : type
        ``Trailer``, ``Truck``, ``Cargo``, ``Haul``, ``Limits`` or any part of them.
    table : dict
        Keys and values as the files write them.
    where : str or Place
        What to call the table in a fault.

    Raises
    ------
    Faults
        Every fault of the table.
    """
    place = where if isinstance(where, Place) else Place(where)
    if not isinstance(table, dict):
        raise one("", table, "a table", place.of(), lead="it must be")
    try:
        return model.model_validate(table)
    except ValidationError as error:
        errors = error.errors(include_url=False)
        faults = [*faults_of(model, errors, place), *_further(model, table, errors, place)]
        raise Faults(faults) from None


def _further(model: type[Part], table: dict, errors: list[ErrorDetails], place: Place) -> list[Fault]:
    """Contradictions among the fields that are sound, which validation skips while any field is not."""
    if all(e["type"] == "contradictions" for e in errors):
        return []
    sound = deepcopy(table)
    guessed: set[str] = set()
    for _ in range(4):
        for error in errors:
            if error["type"] != "contradictions":
                _repair(model, sound, error, guessed)
        try:
            model.model_validate(sound)
            return []
        except ValidationError as again:
            errors = again.errors(include_url=False)
        if all(e["type"] == "contradictions" for e in errors):
            told = faults_of(model, errors, place)
            return [f for f in told if not any(f.field.startswith(g) for g in guessed)]
    return []


def _repair(model: type[Part], sound: Any, error: ErrorDetails, guessed: set[str]) -> None:
    """Take a faulty field out, or put in a missing one, so that the rest can be judged."""
    loc = plain(error)
    table = sound
    try:
        for step in loc[:-1]:
            table = table[step]
        if error["type"] == "missing" or isinstance(loc[-1], int):
            here = model_at(model, loc if isinstance(loc[-1], int) else loc[:-1])
            table[loc[-1]] = _stand_in(here) if isinstance(loc[-1], int) else _stand_in_field(here, loc[-1])
            if loc[-1] == "kind" and len(loc) > 1:
                guessed.add(".".join(s for s in loc[:-1] if isinstance(s, str)))
        else:
            del table[loc[-1]]
    except (LookupError, TypeError, AttributeError):
        return


def _stand_in(model: type[Part] | None) -> dict[str, Any]:
    needed = names_of(model).items() if model else ()
    return {name: _stand_in_field(model, name) for name, info in needed if info.is_required()}


def _stand_in_field(model: type[Part] | None, name: str) -> Any:
    annotation = names_of(model)[name].annotation if model else str
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    if get_origin(annotation) is Literal:
        return get_args(annotation)[-1]
    if get_origin(annotation) in (typing.Union, types.UnionType):
        return "unnamed"
    inner = next(parts_in(annotation), None)
    if inner:
        return [_stand_in(inner[0])] if inner[1] else _stand_in(inner[0])
    return 1 if annotation is int else "unnamed"


def kind_of(table: dict[str, Any]) -> str | None:
    """Kind of thing a table says it is, by its ``schema`` line."""
    word = table.get("schema")
    return next((k for k, m in KINDS.items() if word == m.schema_name), None)


def read_file(path: Path | str, kind: str | None = None, where: str = "") -> list[tuple[Place, Thing]]:
    """Things a file holds, each with its place.

    Parameters
    ----------
    path : path
        A TOML or JSON file.
    kind : str, optional
        A key of ``KINDS``; without it the file's ``schema`` line decides.
    where : str
        What to call the file in a fault; its name by default.

    Raises
    ------
    Faults
        Every fault of the file.
    """
    path = Path(path)
    where = where or path.name
    table, text = read_table(path, where)
    text = "" if path.suffix.lower() == ".json" else text
    stated = kind_of(table)
    if ("schema" in table and stated is None) or (kind and stated and kind != stated):
        names = KINDS[kind].schema_name if kind else "one of " + ", ".join(m.schema_name for m in KINDS.values())
        raise one("schema", table["schema"], names, Place(where, "", text).of(("schema",)))
    kind = kind or stated
    if kind is None:
        names = ", ".join(m.schema_name for m in KINDS.values())
        raise one("schema", NOTHING, f"one of {names}", where, lead="must be given:")
    if isinstance(table.get(kind), list) and "id" not in table:
        return _read_several(table, kind, where, text)
    place = Place(where, _name(table), text)
    return [(place, read_thing(KINDS[kind], table, place))]


def _read_several(table: dict[str, Any], kind: str, where: str, text: str) -> list[tuple[Place, Thing]]:
    shared = {k: table[k] for k in ("schema", "basis") if k in table}
    found: list[tuple[Place, Thing]] = []
    faults = [
        Fault(key, NOTHING, f"only schema and basis stand beside [[{kind}]]", where, lead="is out of place;")
        for key in table
        if key not in (*shared, kind)
    ]
    for n, entry in enumerate(table[kind]):
        name = _name(entry) if isinstance(entry, dict) else ""
        place = Place(where, f"{kind} {n + 1} {name}".strip(), text, (kind, n))
        try:
            whole = {**shared, **entry} if isinstance(entry, dict) else entry
            found.append((place, read_thing(KINDS[kind], whole, place)))
        except Faults as told:
            faults += told.faults
    if faults:
        raise Faults(faults)
    return found


def _name(table: dict[str, Any]) -> str:
    name = table.get("id")
    return f"({name[:64]})" if isinstance(name, str) and name.isprintable() and name else ""


def load(path: Path | str, kind: str | None = None) -> Thing:
    """The one thing a file holds.

    Raises
    ------
    Faults
        Every fault of the file, or that it holds several things.
    """
    found = read_file(path, kind)
    if len(found) != 1:
        raise one("", NOTHING, f"must hold one thing, and it holds {len(found)}", Path(path).name, lead="the file")
    return found[0][1]
