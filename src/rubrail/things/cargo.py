"""A piece of cargo as its file describes it: a machine, a crate, or a block of bulk goods or bales.

Places are measured from the front of the piece: of a machine, its front as it drives, everything as carried.
"""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.measure import Known, Measure, angle, height, length, place, rating, weight, width
from rubrail.things.part import Contradiction, Flag, Line, Part, Text, Thing, Whole
from rubrail.things.sense import cargo_contradictions

Place = Annotated[Known, place(-20, 600, "front of the machine to the axle")]
Radius = Annotated[Known, height(1, 60, "middle of the axle or drum to the ground, loaded")]


class Contact(Part):
    """Where a machine touches the deck."""

    kind: Annotated[
        Literal["wheels", "tracks", "drums", "flat"], Field(description="what it stands on; flat for skids or a crate")
    ]
    axles_from_front_in: Annotated[
        tuple[Place, ...], Field(max_length=6, description="front of the machine to each axle or drum, front first")
    ] = ()
    wheel_radius_in: Annotated[
        tuple[Radius, ...], Field(max_length=6, description="of each axle or drum, loaded, front first")
    ] = ()
    drive: Annotated[
        Literal["all", "front", "rear"] | None, Field(description="which axles or drums drive; tracks always do")
    ] = None
    start_from_front_in: Annotated[
        Known, place(-20, 600, "front of the machine to where the tracks or the flat begin to bear")
    ] = None
    length_in: Annotated[Known, length(6, 720, "length that bears")] = None
    outer_width_in: Annotated[Known, width(12, 200, "width over the wheels or tracks")] = None
    each_width_in: Annotated[Known, width(1, 100, "width of one tire, track or drum")] = None
    surface: Annotated[
        Literal["rubber", "steel", "foam", "wood"] | None, Field(description="what bears on the deck")
    ] = None


class Clearance(Part):
    """What is free underneath."""

    belly_in: Annotated[Known, height(0, 60, "ground to the lowest point between the axles or tracks")] = None
    approach_deg: Annotated[Known, angle(0, 90, "steepest slope the front meets without touching")] = None
    departure_deg: Annotated[Known, angle(0, 90, "steepest slope the rear leaves without touching")] = None


class Tie(Part):
    """One tie-down point of the machine, or of an accessory that must be tied down by itself."""

    says: Annotated[Line | None, Field(description="where it is, in words")] = None
    from_front_in: Annotated[Known, place(-40, 720, "front of the machine to the point")] = None
    y_in: Annotated[Known, place(-100, 100, "right of the center line, seen from behind; negative left")] = None
    height_in: Annotated[Known, height(0, 160, "above what the machine stands on")] = None
    wll_lb: Annotated[Known, rating("lb", 100, 60_000, "working load limit, where the maker states it")] = None
    both_sides: Annotated[Flag, Field(description="the same on the other side")] = False
    holds: Annotated[
        Literal["piece", "accessory"], Field(description="what is held there: the machine, or a bucket, blade or boom")
    ] = "piece"


class Pieces(Part):
    """Equal pieces stacked in one block: bales, pallets, bundles."""

    count: Annotated[Whole, Field(ge=1, le=2_000, description="how many in all")]
    abreast: Annotated[Whole, Field(ge=1, le=12, description="side by side across the deck")] = 1
    layers: Annotated[Whole, Field(ge=1, le=12, description="full layers one on another")] = 1
    on_top: Annotated[Whole, Field(ge=0, le=500, description="further pieces lying on the top layer")] = 0
    weight_lb: Annotated[Known, weight(1, 20_000, "weight of one", "piece weight")] = None
    length_in: Annotated[Known, length(2, 600, "length of one along the trailer")] = None
    width_in: Annotated[Known, width(2, 144, "width of one across the trailer")] = None
    height_in: Annotated[Known, height(1, 140, "height of one")] = None

    @property
    def rows(self) -> int:
        """Rows along the deck."""
        return -(-(self.count - self.on_top) // (self.abreast * self.layers))


class Cargo(Thing):
    """One piece of cargo."""

    schema_name = "rubrail/cargo/1"

    schema_: Annotated[Literal["rubrail/cargo/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/cargo/1"
    )
    kind: Annotated[
        Literal["machine", "crate", "bulk"],
        Field(description="a machine that drives; a crate or fixed load; a uniform block of bulk goods or bales"),
    ] = "machine"
    title: Annotated[Line | None, Field(description="what it is, in plain words")] = None
    maker: Line | None = None
    model: Line | None = None
    notes: Text | None = None

    weight_lb: Annotated[Known, weight(1, 150_000, "weight with all that travels on it")] = None
    cg_from_front_in: Annotated[
        Known, Measure("center of gravity", "in", -20, 700, "front of the piece to its center of gravity")
    ] = None
    cg_height_in: Annotated[
        Known, Measure("center of gravity", "in", 1, 150, "center of gravity above what it stands on")
    ] = None
    length_in: Annotated[Known, length(6, 900, "overall length as carried")] = None
    width_in: Annotated[Known, width(6, 240, "overall width as carried")] = None
    height_in: Annotated[Known, height(1, 200, "overall height as carried, above what it stands on")] = None
    contact: Annotated[Contact | None, Field(description="where it touches the deck")] = None
    clearance: Clearance = Clearance.model_construct()
    tie: Annotated[tuple[Tie, ...], Field(max_length=40, description="its tie-down points")] = ()
    climbs_deg: Annotated[Known, Measure("nominal", "deg", 1, 60, "steepest slope its manual allows, degrees")] = None
    climbs_percent: Annotated[Known, Measure("nominal", "%", 2, 170, "steepest slope its manual allows, percent")] = (
        None
    )
    either_way: Annotated[Flag, Field(description="may travel facing forward or rearward")] = True
    articulated: Annotated[Flag | None, Field(description="it bends in the middle and must be locked")] = None
    attachments: Annotated[
        tuple[Line, ...], Field(max_length=40, description="what the weight and places include: bucket, forks, cab")
    ] = ()
    accessory_count: Annotated[
        Whole | None, Field(ge=0, le=12, description="hydraulic accessories that must be lowered and secured")
    ] = None
    pieces: Annotated[Pieces | None, Field(description="equal pieces a block is made of")] = None

    def contradictions(self) -> Iterator[Contradiction]:
        """What cannot be true of one piece."""
        return cargo_contradictions(self)
