"""A state's limits as its file states them. The yard edits this file; states differ."""

from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.measure import Known, rating
from rubrail.things.part import Line, Text, Thing


class Limits(Thing):
    """What the road allows without a permit. ``none`` says that the file sets no such limit."""

    schema_name = "rubrail/limits/1"

    schema_: Annotated[Literal["rubrail/limits/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/limits/1"
    )
    title: Annotated[Line | None, Field(description="whose limits these are")] = None
    read_on: Annotated[Line | None, Field(description="day somebody last read them at the source")] = None
    notes: Text | None = None

    width_in: Annotated[Known, rating("in", 60, 200, "greatest width")] = None
    height_in: Annotated[Known, rating("in", 100, 240, "greatest height")] = None
    combination_length_in: Annotated[Known, rating("in", 240, 2_000, "greatest length of truck and trailer")] = None
    trailer_length_in: Annotated[Known, rating("in", 240, 1_000, "greatest length of the trailer")] = None
    rear_overhang_in: Annotated[Known, rating("in", 0, 240, "load may reach so far behind the trailer")] = None
    single_axle_lb: Annotated[Known, rating("lb", 10_000, 40_000, "greatest load on one axle")] = None
    tandem_lb: Annotated[Known, rating("lb", 20_000, 80_000, "greatest load on a tandem")] = None
    gross_lb: Annotated[Known, rating("lb", 20_000, 300_000, "greatest weight of the combination")] = None
    brake_exempt_gross_lb: Annotated[Known, rating("lb", 0, 20_000, "trailers up to this gross need no brakes")] = None
    breakaway_exempt_gross_lb: Annotated[
        Known, rating("lb", 0, 20_000, "trailers up to this gross need no breakaway")
    ] = None
    no_limit: Annotated[
        tuple[str, ...], Field(max_length=20, description="names of the limits above that this state does not set")
    ] = ()
    source: Annotated[
        dict[str, Line],
        Field(default_factory=dict, description="name of a limit above to the key of the source it was read in"),
    ]
