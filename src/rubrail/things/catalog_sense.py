"""What cannot be true of a model or a catalog, and which options may stand together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from rubrail.things.catalog_merge import merged
from rubrail.things.part import Contradiction

if TYPE_CHECKING:
    from rubrail.things.catalog import Catalog, Model, Option

OF_A_UNIT = ("vin", "status", "location", "arrived", "condition", "maker")
"""Fields of a trailer file that belong to one unit, or that the catalog says once for all models."""


def model_contradictions(m: Model) -> Iterator[Contradiction]:
    """Fields that a model must leave out, and fields that every build of it rests on."""
    for name in OF_A_UNIT:
        value = getattr(m, name)
        if name in m.model_fields_set and value is not None:
            yield name, value, "left out: a model is no unit, and the catalog names its maker"
    needed: list[tuple[str, Any]] = [
        ("price_usd", m.price_usd),
        ("ratings.gvwr_lb", m.ratings.gvwr_lb),
        ("weights.empty_lb", m.weights.empty_lb),
        ("weights.empty_coupler_lb", m.weights.empty_coupler_lb),
        ("deck.front_from_coupler_in", m.deck.front_from_coupler_in),
        ("deck.flat_length_in", m.deck.flat_length_in),
    ]
    for n, axle in enumerate(m.axle, 1):
        needed += [(f"axle[{n}].gawr_lb", axle.gawr_lb), (f"axle[{n}].from_coupler_in", axle.from_coupler_in)]
    for name, value in needed:
        if value is None:
            yield name, None, "known of a model: every build of it rests on that"


def catalog_contradictions(c: Catalog) -> Iterator[Contradiction]:
    """Every fault of a catalog's names, rules and options."""
    if c.until and c.until < c.effective:
        yield "until", c.until, f"effective ({c.effective}) or later"
    for kind in ("model", "group", "option"):
        seen: dict[str, int] = {}
        for n, entry in enumerate(getattr(c, kind), 1):
            if entry.id in seen:
                yield f"{kind}[{n}].id", entry.id, f"used once, and {kind}[{seen[entry.id]}] has it too"
            seen.setdefault(entry.id, n)
    rules = [*_names(c), *_rules(c)]
    yield from rules
    if not rules:
        yield from _builds(c)


def _names(c: Catalog) -> Iterator[Contradiction]:
    models, groups, options = ({e.id for e in entries} for entries in (c.model, c.group, c.option))
    for n, o in enumerate(c.option, 1):
        at = f"option[{n}]"
        for i, name in enumerate(o.models, 1):
            if name not in models:
                yield f"{at}.models[{i}]", name, "the id of a model of this catalog"
        if o.group is not None and o.group not in groups:
            yield f"{at}.group", o.group, "the id of a [[group]] of this catalog"
        for field in ("requires", "requires_one_of", "excludes"):
            for i, name in enumerate(getattr(o, field), 1):
                if name not in options or name == o.id:
                    yield f"{at}.{field}[{i}]", name, "the id of another option of this catalog"
        yield from _equipment(c, o, at)
    used = {o.group for o in c.option}
    for n, g in enumerate(c.group, 1):
        if g.id not in used:
            yield f"group[{n}].id", g.id, "the group of at least one option"


def _equipment(c: Catalog, o: Option, at: str) -> Iterator[Contradiction]:
    """Equipment whose weight, or place, the empty weight of a build would rest on."""
    has = [e for m in c.model if o.fits(m) for e in m.equipment]
    for i, tag in enumerate(o.drops, 1):
        if tag not in {e.tag for e in has}:
            yield f"{at}.drops[{i}]", tag, "the tag of equipment of a model it is made for"
    dropped = [(f"{at}.drops[{1 + o.drops.index(e.tag)}]", e) for e in has if e.tag in o.drops]
    added = [(f"{at}.more.equipment[{i}]", e) for i, e in enumerate(o.more.equipment, 1)]
    for where, e in (*added, *dropped):
        if e.weight_lb is None or e.from_coupler_in is None:
            yield where, e.tag, "equipment of known weight_lb and from_coupler_in: the empty weight counts it"


def _rules(c: Catalog) -> Iterator[Contradiction]:
    """Options that could never be taken."""
    by_id = {o.id: o for o in c.option}
    for n, o in enumerate(c.option, 1):
        taken = closure([o], by_id)
        clash = first_clash(taken)
        if clash:
            yield f"option[{n}].requires", o.id, f"possible: with what it requires it would take {clash}"
        alternatives = [by_id[a] for a in o.requires_one_of if a in by_id]
        if alternatives and all(first_clash(closure([o, a], by_id)) for a in alternatives):
            yield f"option[{n}].requires_one_of", o.id, "possible, and none of these can be taken with it"
        for m in c.model:
            lost = [t.id for t in taken if not t.fits(m)]
            if o.fits(m) and lost:
                yield f"option[{n}].models", m.id, f"a model that {lost[0]}, which it requires, is made for too"


def _builds(c: Catalog) -> Iterator[Contradiction]:
    """Options that make no trailer of a model they are made for."""
    by_id, order = {o.id: o for o in c.option}, {o.id: n for n, o in enumerate(c.option)}
    for n, o in enumerate(c.option, 1):
        for m in c.model:
            if not o.fits(m) or next(iter(m.contradictions()), None):
                continue
            taken = closure([o], by_id)
            first = [by_id[a] for a in o.requires_one_of[:1]]
            taken = closure([*taken, *first], by_id) if not first_clash(closure([*taken, *first], by_id)) else taken
            trailer = merged(m, sorted(taken, key=lambda t: order[t.id]))
            for field, _, accepted in trailer.contradictions():
                needed = f"such that model {m.id} makes sense with it: {field} must be {accepted}"
                yield f"option[{n}].set", o.id, needed


def closure(options: Sequence[Option], by_id: Mapping[str, Option]) -> list[Option]:
    """Options with all they require, and all those require in turn."""
    taken: dict[str, Option] = {}
    wanted = list(options)
    while wanted:
        option = wanted.pop()
        if option.id not in taken:
            taken[option.id] = option
            wanted += [by_id[name] for name in option.requires if name in by_id]
    return list(taken.values())


def first_clash(options: Sequence[Option]) -> str:
    """Two of the options that cannot stand together, in words; ``""`` where all can."""
    for i, a in enumerate(options):
        for b in options[:i]:
            if a.group is not None and a.group == b.group:
                return f"{b.id} and {a.id}, and group {a.group} allows one"
            if a.id in b.excludes or b.id in a.excludes:
                return f"{b.id} and {a.id}, which exclude each other"
    return ""
