"""The shape of every answer in JSON, taken from the records themselves."""

from __future__ import annotations

import dataclasses
import inspect
import types
import typing
from decimal import Decimal
from importlib import import_module
from typing import Any

from rubrail.cli.told import INFINITE, VERSION

ANSWERS: dict[str, str] = {
    "weigh": "rubrail.answers.report:Weighing",
    "match": "rubrail.answers.board:Match",
    "place": "rubrail.answers.place:Place",
    "compare": "rubrail.answers.compare:Comparison",
    "envelope": "rubrail.answers.envelope:Envelope",
    "climb": "rubrail.answers.climb:Climbing",
    "tie-down": "rubrail.answers.secure_report:TieDownPlan",
    "turn": "rubrail.answers.turn:Turn",
    "ticket": "rubrail.answers.ticket_report:Ticketed",
    "receive": "rubrail.answers.receive_report:Receiving",
    "vin": "rubrail.answers.receive_report:VinFindings",
    "checklist": "rubrail.sheets.checklist_told:ToldChecklist",
    "hand-over": "rubrail.answers.hand_over_report:HandOver",
    "walk": "rubrail.answers.walk_parts:Walk",
    "listing": "rubrail.sheets.listing_told:ListingTold",
    "decode": "rubrail.answers.decode:Decoding",
    "build": "rubrail.answers.cheapest_told:ToldCheapest",
    "price": "rubrail.answers.price_parts:Price",
    "why": "rubrail.answers.why:Why",
}
"""Commands that answer in JSON, and the record each answers with."""
WRAPPED = {
    "place": lambda body, records: {"verdict": WORD, "verdict_sentence": {"type": "string"}, "place": body},
    "envelope": lambda body, records: {
        "envelope": body,
        "place": _either([_shape(record_of("place"), records), {"type": "null"}]),
    },
    "walk": lambda body, records: {
        "walk": body,
        "said": {"type": "array", "items": _shape(_named("rubrail.sheets.sentences_walk:StationSaid"), records)},
        "take": _shape(_named("rubrail.sheets.walk_times:Take"), records),
    },
}
"""Answers that say more than their one record."""
WORD = {"enum": ["clear", "depends", "not known", "over"]}
DRAFT = "https://json-schema.org/draft/2020-12/schema"


def record_of(answer: str) -> type:
    """The record an answer is made of."""
    return _named(ANSWERS[answer])


def _named(where: str) -> type:
    module, _, name = where.partition(":")
    return getattr(import_module(module), name)


def answer_schema(answer: str) -> dict[str, Any]:
    """JSON Schema of one answer as ``--json`` prints it.

    Raises
    ------
    KeyError
        If there is no such answer.
    """
    records: dict[str, dict[str, Any]] = {}
    body = _shape(record_of(answer), records)
    if answer in WRAPPED:
        body = _closed(parts := WRAPPED[answer](body, records), required=list(parts))
    return {
        "$schema": DRAFT,
        "title": f"rubrail {answer}",
        **_closed(
            {
                "format": {"const": f"rubrail/answer/{answer}/{VERSION}"},
                "sentence": {"type": "string"},
                "safety": {"type": "string"},
                "answer": body,
            },
            required=["format", "sentence", "safety", "answer"],
        ),
        "$defs": dict(sorted(records.items())),
    }


def _closed(properties: dict[str, Any], *, required: list[str]) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": required, "additionalProperties": False}


def _shape(annotation: Any, records: dict[str, dict[str, Any]]) -> dict[str, Any]:
    if annotation is type(None):
        return {"type": "null"}
    if annotation in _PLAIN:
        return dict(_PLAIN[annotation])
    origin, args = typing.get_origin(annotation), typing.get_args(annotation)
    if origin in (types.UnionType, typing.Union):
        return _either([_shape(a, records) for a in args])
    if origin is tuple:
        if len(args) == 2 and args[1] is Ellipsis:
            return {"type": "array", "items": _shape(args[0], records)}
        shapes = [_shape(a, records) for a in args]
        return {"type": "array", "prefixItems": shapes, "minItems": len(shapes), "maxItems": len(shapes)}
    return _record(annotation, records)


_PLAIN: dict[Any, dict[str, Any]] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": ["number", "null"]},
    Decimal: {"type": "string", "pattern": r"^-?\d+(\.\d+)?$"},
}


def _either(shapes: list[dict[str, Any]]) -> dict[str, Any]:
    out: list[dict[str, Any]] = []
    for shape in shapes:
        if shape not in out:
            out.append(shape)
    return out[0] if len(out) == 1 else {"anyOf": out}


def _record(record: type, records: dict[str, dict[str, Any]]) -> dict[str, Any]:
    name = record.__name__
    if name not in records:
        records[name] = {}
        hints = typing.get_type_hints(record)
        names = [f.name for f in dataclasses.fields(record)] if dataclasses.is_dataclass(record) else record._fields
        properties: dict[str, Any] = {}
        for field in names:
            properties[field] = _shape(hints[field], records)
            word = _word(hints[field])
            if word:
                properties[f"{field}_is"] = word
        about = inspect.cleandoc(record.__doc__ or "")
        records[name] = {"description": about, **_closed(properties, required=list(names))}
    return {"$ref": f"#/$defs/{name}"}


def _word(annotation: Any) -> dict[str, Any] | None:
    """The word beside a number that may be without limit."""
    words = {"enum": sorted(INFINITE.values())}
    args = typing.get_args(annotation)
    if annotation is float or (typing.get_origin(annotation) is not tuple and float in args):
        return words
    if typing.get_origin(annotation) is tuple and _holds_float(args):
        return {"type": "array", "items": _either([words, {"type": "null"}])}
    return None


def _holds_float(args: tuple) -> bool:
    return any(a is float or float in typing.get_args(a) for a in args)
