"""A maker's catalog: models, each a base trailer; options that change it; and the rules between options."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.catalog_change import Added, More, TrailerChange
from rubrail.things.catalog_sense import catalog_contradictions, model_contradictions
from rubrail.things.measure import Known, Measure, nominal
from rubrail.things.part import Contradiction, Day, Flag, Id, Line, Money, MoneyChange, Part, Text, Thing, Whole
from rubrail.things.trailer import Trailer


class Model(Trailer):
    """A trailer as the maker builds it without options: the fields of a trailer file, and these."""

    lead_weeks: Annotated[Whole | None, Field(ge=0, le=200, description="weeks from order to arrival")] = None
    freeze_weeks: Annotated[
        Whole | None, Field(ge=0, le=200, description="weeks before arrival from which nothing can be changed")
    ] = None
    freight_usd: Annotated[Money | None, Field(description="freight from the maker to the yard")] = None

    def contradictions(self) -> Iterator[Contradiction]:
        """What cannot be true of one trailer, and what a model must and must not say."""
        yield from super().contradictions()
        yield from model_contradictions(self)


class Group(Part):
    """Options of which at most one is taken; without any of them stands what the model has."""

    id: Annotated[Id, Field(description="what options name it by")]
    title: Annotated[Line | None, Field(description="what is chosen, in plain words")] = None
    needed: Annotated[Flag, Field(description="one of them must be taken")] = False


class Option(Part):
    """One thing to order on a model."""

    id: Annotated[Id, Field(description="its own name in the catalog")]
    title: Annotated[Line, Field(description="what it is, in plain words")]
    models: Annotated[
        tuple[Id, ...], Field(max_length=100, description="models it is made for; all of them where left out")
    ] = ()
    group: Annotated[Id | None, Field(description="the group it is one of")] = None
    price_usd: Annotated[MoneyChange, Field(description="what it adds to the price; negative for a credit")]
    cost_usd: Annotated[MoneyChange | None, Field(description="what it adds to the yard's cost")] = None
    requires: Annotated[
        tuple[Id, ...], Field(max_length=40, description="options that must be taken with it, all of them")
    ] = ()
    requires_one_of: Annotated[
        tuple[Id, ...], Field(max_length=40, description="options of which at least one must be taken with it")
    ] = ()
    excludes: Annotated[tuple[Id, ...], Field(max_length=40, description="options that cannot be taken with it")] = ()
    adds: Annotated[tuple[Added, ...], Field(max_length=40, description="weights it adds, each at its place")] = ()
    lift_in: Annotated[
        Known, Measure("nominal", "in", -12, 12, "how far it raises the deck, its anchors and a neck over the bed")
    ] = None
    set: Annotated[TrailerChange, Field(description="fields of the trailer as they stand with it")] = (
        TrailerChange.model_construct()
    )
    more: Annotated[More, Field(description="ramps, anchors and equipment it adds")] = More.model_construct()
    drops: Annotated[
        tuple[Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,39}$")], ...],
        Field(max_length=40, description="tags of the equipment that is left off"),
    ] = ()

    def fits(self, model: Model) -> bool:
        """Whether it is made for a model."""
        return not self.models or model.id in self.models


class Catalog(Thing):
    """What one maker builds, from one day on."""

    schema_name = "rubrail/catalog/1"

    schema_: Annotated[Literal["rubrail/catalog/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/catalog/1"
    )
    title: Annotated[Line | None, Field(description="what it is called")] = None
    maker: Annotated[Line, Field(description="who builds it")]
    effective: Annotated[Day, Field(description="first day its prices hold")]
    until: Annotated[Day | None, Field(description="last day they hold; open where left out")] = None
    surcharge_percent: Annotated[
        Known, nominal("%", 0, 100, "the maker's surcharge on the yard's cost of model and options")
    ] = None
    notes: Text | None = None
    model: Annotated[tuple[Model, ...], Field(min_length=1, max_length=200, description="its models")]
    group: Annotated[tuple[Group, ...], Field(max_length=100, description="groups of options")] = ()
    option: Annotated[tuple[Option, ...], Field(max_length=1000, description="its options")] = ()

    def contradictions(self) -> Iterator[Contradiction]:
        """Names used twice or naming nothing, rules that cannot be kept, and options that make no trailer."""
        return catalog_contradictions(self)

    def options_of(self, model: Model) -> tuple[Option, ...]:
        """The options made for a model, in the catalog's order."""
        return tuple(o for o in self.option if o.fits(model))
