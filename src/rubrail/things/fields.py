"""Walk the models: every field with its path, unit, range and meaning. Docs, suggestions and tests rest on it."""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from rubrail.things.measure import Measure
from rubrail.things.part import Part


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a file.

    Parameters
    ----------
    path : str
        Dotted name, ``[]`` after a list (``axle[].tires.pressure_psi``).
    says : str
        What it is.
    unit : str
        Unit of a plain number; ``""`` for other fields.
    accepted : str
        Range, words or shape.
    required : bool
        Whether the file must have it.
    measure : Measure or None
        The measured field's annotation.
    """

    path: str
    says: str
    unit: str
    accepted: str
    required: bool
    measure: Measure | None


def names_of(model: type[Part]) -> dict[str, FieldInfo]:
    """Fields by the name the file writes."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


def parts_in(annotation: Any) -> Iterator[tuple[type[Part], bool]]:
    """Models an annotation may hold, and whether in a list."""
    origin = get_origin(annotation)
    if isinstance(annotation, type) and issubclass(annotation, Part):
        yield annotation, False
    elif origin is Annotated:
        yield from parts_in(get_args(annotation)[0])
    elif origin in (typing.Union, types.UnionType):
        for member in get_args(annotation):
            yield from parts_in(member)
    elif origin is tuple:
        for model, _ in parts_in(get_args(annotation)[0]):
            yield model, True


def model_at(model: type[Part], loc: tuple[Any, ...]) -> type[Part] | None:
    """Model of the table at a place in a thing; list indexes are skipped."""
    here: type[Part] | None = model
    for step in loc:
        if isinstance(step, int):
            continue
        info = names_of(here).get(step) if here else None
        here = next((m for m, _ in parts_in(info.annotation)), None) if info else None
    return here


def fields_of(model: type[Part], prefix: str = "", *, embed: bool = False) -> Iterator[Field]:
    """Every field of a model, parts included; those of things held within a thing only with ``embed``."""
    for name, info in names_of(model).items():
        path = f"{prefix}{name}"
        inner = next(parts_in(info.annotation), None)
        if inner and (embed or not inner[0].told_elsewhere):
            listed = "[]" if inner[1] else ""
            yield Field(
                path + listed,
                _says(info, inner[0]),
                "",
                "a list of tables" if inner[1] else "a table",
                info.is_required(),
                None,
            )
            yield from fields_of(inner[0], f"{path}{listed}.", embed=embed)
        else:
            measure = next((m for m in _metadata(info) if isinstance(m, Measure)), None)
            says = measure.says if measure else _says(info, None)
            accepted = measure.accepted if measure else accepted_of(info)
            yield Field(path, says, measure.unit if measure else "", accepted, info.is_required(), measure)


def _metadata(info: FieldInfo) -> list[Any]:
    found = list(info.metadata)
    annotation = info.annotation
    while get_origin(annotation) in (Annotated, tuple):
        found += get_args(annotation)[1:]
        annotation = get_args(annotation)[0]
    return found


def _says(info: FieldInfo, model: type[Part] | None) -> str:
    if info.description:
        return info.description
    return (model.__doc__ or "").split("\n")[0].rstrip(".") if model else ""


def accepted_of(info: FieldInfo) -> str:
    """What a field that is not measured accepts, in words."""
    return _words(info.annotation)


def _words(annotation: Any) -> str:
    origin = get_origin(annotation)
    if origin is Annotated:
        return _words(get_args(annotation)[0])
    if origin is Literal:
        return ", ".join(str(a) for a in get_args(annotation))
    if origin in (typing.Union, types.UnionType):
        words = dict.fromkeys(_words(a) for a in get_args(annotation) if a is not type(None))
        return " or ".join(words)
    if origin is tuple:
        return "a list"
    if origin is dict:
        return "a table of words"
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return "a table"
    names = {"str": "text", "bool": "true, false", "int": "a whole number", "float": "a number", "date": "a date"}
    return names.get(annotation.__name__, "an amount of dollars" if annotation.__name__ == "Decimal" else "a value")
