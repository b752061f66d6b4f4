"""Tie-down gear: chains and straps, the binders that draw them tight, and how many of each there are."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.measure import Known, length, nominal, rating
from rubrail.things.part import Contradiction, Id, Line, Part, Text, Thing, Whole
from rubrail.things.sense import kit_contradictions


class Gear(Part):
    """Chains or straps that are alike."""

    id: Annotated[Id, Field(description="its own name in the file; a plan names it")]
    says: Annotated[Line | None, Field(description="what it is, in words")] = None
    kind: Annotated[Literal["chain", "strap"], Field(description="what it is")]
    size_in: Annotated[Known, nominal("in", 0.1, 6, "nominal size of a chain, width of a strap")] = None
    grade: Annotated[
        Literal["30", "43", "70", "80", "100"] | None,
        Field(description="grade marked on a chain; a chain without a mark counts as grade 30"),
    ] = None
    length_in: Annotated[Known, length(12, 1_200, "length, hook to hook")] = None
    wll_lb: Annotated[
        Known, rating("lb", 100, 60_000, "working load limit marked on it; by its size and grade where none is")
    ] = None
    hook_wll_lb: Annotated[Known, rating("lb", 100, 60_000, "working load limit of its hooks")] = None
    tightener_wll_lb: Annotated[
        Known, rating("lb", 100, 60_000, "working load limit of the ratchet fixed to a strap; chains take a binder")
    ] = None
    tension_lb: Annotated[Known, rating("lb", 10, 10_000, "tension it is drawn to, where a gauge says so")] = None
    count: Annotated[Whole, Field(ge=0, le=500, description="how many alike")] = 1


class Binder(Part):
    """Binders that are alike: what draws a chain tight."""

    id: Annotated[Id, Field(description="its own name in the file; a plan names it")]
    kind: Annotated[Literal["ratchet", "lever"], Field(description="what it is")]
    wll_lb: Annotated[Known, rating("lb", 100, 60_000, "working load limit marked on it")] = None
    chain_min_in: Annotated[Known, nominal("in", 0.1, 2, "smallest chain it takes")] = None
    chain_max_in: Annotated[Known, nominal("in", 0.1, 2, "largest chain it takes")] = None
    count: Annotated[Whole, Field(ge=0, le=500, description="how many alike")] = 1


class Kit(Thing):
    """The tie-down gear of a yard or a driver."""

    schema_name = "rubrail/kit/1"

    schema_: Annotated[Literal["rubrail/kit/1"], Field(alias="schema", description="kind of file")] = "rubrail/kit/1"
    title: Annotated[Line | None, Field(description="whose gear it is, in plain words")] = None
    notes: Text | None = None
    gear: Annotated[tuple[Gear, ...], Field(max_length=60, description="chains and straps")] = ()
    binder: Annotated[tuple[Binder, ...], Field(max_length=60, description="binders")] = ()

    def contradictions(self) -> Iterator[Contradiction]:
        """What cannot be true of one kit."""
        return kit_contradictions(self)
