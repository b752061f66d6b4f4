"""A state's limits as its file states them. The yard edits this file; states differ."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.measure import Known, rating
from rubrail.things.part import Contradiction, Flag, Line, Text, Thing


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
    bridge_ties_up: Annotated[
        Flag, Field(description="the state rounds an exact half of 500 lb in its bridge table up")
    ] = False
    no_limit: Annotated[
        tuple[str, ...], Field(max_length=20, description="names of the limits above that this state does not set")
    ] = ()
    source: Annotated[
        dict[str, Line],
        Field(default_factory=dict, description="name of a limit above to the key of the source it was read in"),
    ]

    def contradictions(self) -> Iterator[Contradiction]:
        """Limits given and denied at once, and names that are no limit."""
        for n, name in enumerate(self.no_limit, 1):
            if name not in LIMIT_FIELDS:
                yield f"no_limit[{n}]", name, f"one of {', '.join(LIMIT_FIELDS)}"
            elif getattr(self, name) is not None:
                yield name, getattr(self, name).number, f"left out, because no_limit[{n}] says there is none"
        for name in self.source:
            if name not in LIMIT_FIELDS:
                yield f"source.{name}", self.source[name], f"the source of one of {', '.join(LIMIT_FIELDS)}"


LIMIT_FIELDS = (
    "width_in",
    "height_in",
    "combination_length_in",
    "trailer_length_in",
    "rear_overhang_in",
    "single_axle_lb",
    "tandem_lb",
    "gross_lb",
    "brake_exempt_gross_lb",
    "breakaway_exempt_gross_lb",
)
"""The limits a file may state."""
