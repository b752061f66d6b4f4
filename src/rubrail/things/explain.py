"""Turn what validation found wrong into faults: field, value, what is accepted, where, and what was likely meant."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic_core import ErrorDetails

from rubrail.things.faults import NOTHING, Fault
from rubrail.things.fields import accepted_of, fields_of, model_at, names_of
from rubrail.things.part import TAGS, Part
from rubrail.things.read import line_of


@dataclass(frozen=True, slots=True)
class Place:
    """Where a table was read: the file, which thing of it, its text and its place in that text."""

    file: str = ""
    thing: str = ""
    text: str = ""
    at: tuple[Any, ...] = ()

    def of(self, loc: tuple[Any, ...] = ()) -> str:
        """The place in words, with the line where it can be told."""
        line = line_of(self.text, self.at + loc) if self.text else None
        file = f"{self.file} line {line}" if line else self.file
        between = " " if self.thing.startswith("(") else ", "
        return between.join(p for p in (file, self.thing) if p)


def plain(error: ErrorDetails) -> tuple[Any, ...]:
    """Place of an error, without the marks validation puts between an id and a table."""
    loc = error["loc"]
    unknown = loc[-1:] if error["type"] == "extra_forbidden" else ()  # a key may look like a mark
    steps = loc[:-1] if unknown else loc
    return (*(step for step in steps if step not in TAGS), *unknown)


def field_name(loc: Sequence[Any]) -> str:
    """Dotted name of a place, members counted from 1."""
    name = ""
    for step in loc:
        name += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if name else str(step)
    return name


def faults_of(model: type[Part], errors: Sequence[ErrorDetails], place: Place) -> Iterator[Fault]:
    """Every error as a fault, in the order found."""
    locs = [plain(e) for e in errors]
    for error, loc in zip(errors, locs, strict=True):
        if error["type"] == "contradictions":
            prefix = field_name(loc)
            for name, value, accepted in error["ctx"]["found"]:
                yield Fault(f"{prefix}.{name}" if prefix else name, value, accepted, place.of(loc + _loc(name)))
        elif error["type"] == "too_short" and any(len(o) > len(loc) and o[: len(loc)] == loc for o in locs):
            continue  # members were counted out because they are faulty themselves
        else:
            yield _fault(model, error, loc, place.of(loc))


def _loc(name: str) -> tuple[Any, ...]:
    """Place of a dotted name."""
    steps: list[Any] = []
    for part in name.split("."):
        key, _, index = part.partition("[")
        steps += [key, int(index[:-1]) - 1] if index else [key]
    return tuple(steps)


def _fault(model: type[Part], error: ErrorDetails, loc: tuple[Any, ...], where: str) -> Fault:
    name, kind, got, ctx = field_name(loc), error["type"], error.get("input"), error.get("ctx", {})
    if kind == "refused":
        return Fault(name, ctx["got"], ctx["accepted"], where, ctx["remedy"])
    if kind == "missing":
        return Fault(name, NOTHING, _needed(model, loc), where, lead="must be given:")
    if kind == "extra_forbidden":
        return _unknown_key(model, loc, name, where)
    if kind == "literal_error":
        return Fault(name, got, f"one of {ctx['expected'].replace(chr(39), '').replace(' or ', ', ')}", where)
    accepted = _accepted(kind, ctx)
    # A year is a name, not an amount.
    return Fault(name, got, accepted.replace(",", "") if str(loc[-1]) == "year" else accepted, where)


def _needed(model: type[Part], loc: tuple[Any, ...]) -> str:
    here = model_at(model, loc[:-1])
    info = names_of(here).get(loc[-1]) if here else None
    if info is None:
        return "it is needed"
    accepted = accepted_of(info)
    words = f"one of {accepted}" if ", " in accepted else accepted
    return f"{words} ({info.description})" if info.description and ", " not in accepted else words


def _unknown_key(model: type[Part], loc: tuple[Any, ...], name: str, where: str) -> Fault:
    here = model_at(model, loc[:-1])
    known = list(names_of(here)) if here else []
    key = str(loc[-1])[:64]
    near = difflib.get_close_matches(key, known, 1, 0.6)
    elsewhere = [f.path for f in fields_of(model) if f.path.split(".")[-1].removesuffix("[]") == key]
    if near:
        hint = f"did you mean {near[0]}?"
    elif elsewhere:
        hint = f"did you mean {elsewhere[0]}?"
    else:
        hint = f"known here: {', '.join(sorted(known)[:40])}"
    return Fault(name[:120], NOTHING, hint, where, lead="is not a field that is known;")


_ACCEPTED = {
    "string_type": "text",
    "bool_type": "true or false",
    "int_type": "a whole number",
    "float_type": "a number",
    "model_type": "a table",
    "model_attributes_type": "a table",
    "dict_type": "a table",
    "tuple_type": "a list",
    "finite_number": "a number",
}
_BOUNDS = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}
_PATTERNS = {
    r"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$": "up to 64 letters, digits, dots, hyphens and underscores",
    r"^[a-z0-9][a-z0-9-]{0,39}$": "up to 40 lower-case letters, digits and hyphens",
    r"^[A-Z]$": "one capital letter",
}


def _accepted(kind: str, ctx: dict[str, Any]) -> str:
    for key, words in _BOUNDS.items():
        if key in ctx:
            return f"{words} {ctx[key]:,}"
    if kind == "string_pattern_mismatch":
        return _PATTERNS[ctx["pattern"]]
    if kind == "string_too_long":
        return f"at most {ctx['max_length']:,} characters"
    if kind == "string_too_short":
        return "text that is not empty"
    if kind == "too_long":
        return f"a list of at most {ctx['max_length']}"
    if kind == "too_short":
        return f"a list of at least {ctx['min_length']}"
    if kind in _ACCEPTED:
        return _ACCEPTED[kind]
    return "text" if kind.startswith("string") else "a whole number" if kind.startswith("int") else "a number"
