"""A model with options, as a trailer like any other: rules kept, weights added up, priced."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from rubrail.quantity.money import cents
from rubrail.quantity.value import Value
from rubrail.things.catalog import Catalog, Model, Option
from rubrail.things.catalog_merge import merged, weights_of
from rubrail.things.catalog_sense import first_clash
from rubrail.things.fill import minus, plus
from rubrail.things.part import Part
from rubrail.things.rates import percent
from rubrail.things.trailer import Trailer

P = TypeVar("P", bound=Part)


class BuildError(ValueError):
    """Options that cannot be built; ``faults`` holds every sentence."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__(" ".join(self.faults))


@dataclass(frozen=True, slots=True)
class Build:
    """One model with options.

    trailer : what the engine weighs and the drawings draw; its price is that of the build
    cost_usd : ``None`` where the cost of the model or of an option is not known
    """

    catalog: Catalog
    model: Model
    options: tuple[Option, ...]
    trailer: Trailer
    price_usd: Decimal
    cost_usd: Decimal | None


def build_of(catalog: Catalog, model: str, options: Sequence[str] = (), *, id: str = "") -> Build:
    """Build a model with options.

    Parameters
    ----------
    catalog : Catalog
    model : str
        Its id.
    options : sequence of str
        Ids, in any order.
    id : str
        What to call the trailer; the model's id and the options' otherwise.

    Raises
    ------
    BuildError
        Every id that names nothing, and every rule that is not kept.
    """
    known = {m.id: m for m in catalog.model}
    if model not in known:
        raise BuildError([f"model must be one of {', '.join(known)}, got {model!r}."])
    base, made_for = known[model], {o.id: o for o in catalog.options_of(known[model])}
    faults = [
        f"option {name!r} is not made for {model}; its options are {', '.join(made_for)}."
        for name in dict.fromkeys(options)
        if name not in made_for
    ]
    if faults:
        raise BuildError(faults)
    wanted = set(options)
    taken = tuple(o for o in made_for.values() if o.id in wanted)
    faults = list(broken_rules(catalog, base, taken))
    if faults:
        raise BuildError(faults)
    trailer = built(base, taken)
    price = model_price(base, taken)
    named = id or "-".join((base.id, *(o.id for o in taken)))[:64]
    trailer = trailer.model_copy(
        update={"id": named, "maker": catalog.maker, "model": base.id, "price_usd": price, "condition": "new"}
    )
    return Build(catalog, base, taken, trailer, price, model_cost(catalog, base, taken))


def broken_rules(catalog: Catalog, model: Model, taken: Sequence[Option]) -> Iterator[str]:
    """Every rule between options that a choice does not keep, each in a sentence."""
    ids = {o.id for o in taken}
    for option in taken:
        for name in option.requires:
            if name not in ids:
                yield f"{option.id} requires {name}."
        if option.requires_one_of and not ids & set(option.requires_one_of):
            yield f"{option.id} requires one of {', '.join(option.requires_one_of)}."
    clash = first_clash(taken)
    if clash:
        yield f"Cannot be taken together: {clash}."
    groups = {o.group for o in taken}
    for group in catalog.group:
        if group.needed and group.id not in groups and any(o.group == group.id for o in catalog.options_of(model)):
            yield f"One option of {group.title or group.id} is needed."


def built(model: Model, taken: Sequence[Option]) -> Trailer:
    """The trailer that a model with options is, its empty weight and coupler load by statics.

    A weight ``w`` put on at ``x`` behind the coupling puts ``w (1 - x / a)`` on it, ``a`` being where the axles stand
    together. Where an option moves the axles, the empty trailer keeps its center of gravity.

    References
    ----------
    STATICS-BALANCE
    """
    trailer = merged(model, taken)
    before, after = _axles(model), _axles(trailer)
    empty, coupler = model.weights.empty_lb, model.weights.empty_coupler_lb
    added = weights_of(model, taken)
    if after != before and coupler is not None and empty is not None:
        # Moment about the coupling: what the axles carried at their old place they now carry at their new one.
        on_axles = minus(empty, coupler)
        moved = Value(on_axles.number * before / after, on_axles.basis, on_axles.plus_minus * before / after)
        coupler = minus(empty, moved)
    for weight, place in added:
        empty = plus(empty, weight)
        share = 1.0 - place.number / after
        spread = abs(share) * weight.plus_minus + abs(weight.number) * place.plus_minus / after
        coupler = plus(coupler, Value(weight.number * share, weight.basis, spread))
    weights = trailer.weights.model_copy(update={"empty_lb": empty, "empty_coupler_lb": coupler})
    return unread(trailer.model_copy(update={"weights": weights}))


def unread(part: P) -> P:
    """The same with every rating resting on the maker's book: nobody has read a label of what is not built yet."""
    found = {}
    for name in type(part).model_fields:
        value = getattr(part, name)
        if isinstance(value, Value) and value.basis == "label":
            found[name] = Value(value.number, "maker", value.plus_minus)
        elif isinstance(value, Part):
            found[name] = unread(value)
        elif isinstance(value, tuple) and value and isinstance(value[0], Part):
            found[name] = tuple(unread(v) for v in value)
    return part.model_copy(update=found) if found else part


def _axles(trailer: Trailer) -> float:
    places = [a.from_coupler_in.number for a in trailer.axle]
    return sum(places) / len(places)


def model_price(model: Model, taken: Sequence[Option]) -> Decimal:
    """Asking price of a model with options."""
    return sum((o.price_usd for o in taken), model.price_usd)


def model_cost(catalog: Catalog, model: Model, taken: Sequence[Option]) -> Decimal | None:
    """What it costs the yard, the maker's surcharge included; ``None`` where a part's cost is not known."""
    costs = [model.cost_usd, *(o.cost_usd for o in taken)]
    if any(c is None for c in costs):
        return None
    return cents(sum(costs, Decimal(0)) * (1 + percent(catalog.surcharge_percent) / 100)) + (model.freight_usd or 0)


def cost_parts(build: Build) -> list[tuple[str, Decimal]]:
    """What the yard pays besides model and options: the maker's surcharge and the freight, in words, with amounts.

    Empty where the cost of the build is not known; with the parts' own costs they add up to it to the cent.
    """
    if build.cost_usd is None:
        return []
    freight = build.model.freight_usd or Decimal(0)
    parts = sum((o.cost_usd for o in build.options), build.model.cost_usd)
    surcharge = build.cost_usd - freight - parts
    named = [(f"surcharge, {percent(build.catalog.surcharge_percent)} %", surcharge), ("freight", freight)]
    return [(name, amount) for name, amount in named if amount]
