"""The truck as its file describes it."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.measure import Known, height, length, nominal, place, rating, weight, width
from rubrail.things.part import Contradiction, Flag, Line, Part, Text, Thing, Whole
from rubrail.things.sense import truck_contradictions


class TruckRatings(Part):
    """The certification label, and the maker's combination rating."""

    gvwr_lb: Annotated[Known, rating("lb", 1_000, 80_000, "gross vehicle weight rating")] = None
    gcwr_lb: Annotated[Known, rating("lb", 2_000, 200_000, "gross combination weight rating by the maker")] = None
    label_gcwr_lb: Annotated[
        Known, rating("lb", 0, 200_000, "combination rating printed on the certification label; 0 where none is")
    ] = None
    front_gawr_lb: Annotated[Known, rating("lb", 500, 30_000, "front axle rating")] = None
    rear_gawr_lb: Annotated[Known, rating("lb", 500, 60_000, "rear axle rating")] = None


class TruckWeights(Part):
    """The truck alone on the scale, fueled, without the people and gear listed."""

    front_axle_lb: Annotated[Known, weight(300, 30_000, "front axle", "empty weight")] = None
    rear_axle_lb: Annotated[Known, weight(200, 40_000, "rear axle", "empty weight")] = None


class TruckSize(Part):
    """Its places and outside."""

    wheelbase_in: Annotated[Known, length(60, 400, "front axle to rear axle")] = None
    front_overhang_in: Annotated[Known, length(0, 120, "front bumper to front axle")] = None
    width_in: Annotated[Known, width(40, 120, "width without mirrors")] = None
    height_in: Annotated[Known, height(40, 170, "height of the cab")] = None
    bed_rail_height_in: Annotated[Known, height(20, 90, "ground to the top of the bed rail, unladen")] = None
    bed_end_behind_rear_axle_in: Annotated[
        Known, length(0, 150, "rear axle to the rear end of the bed, tailgate shut")
    ] = None
    hitch_to_cab_in: Annotated[Known, length(0, 200, "coupling point in the bed to the back of the cab")] = None
    turning_circle_in: Annotated[Known, length(300, 1200, "least turning circle, curb to curb, across")] = None


class TruckTires(Part):
    """What the tires carry at the pressure they are run at."""

    size: Annotated[Line | None, Field(description="size as on the sidewall")] = None
    front_each_lb: Annotated[Known, rating("lb", 300, 12_000, "load one front tire carries")] = None
    rear_each_lb: Annotated[Known, rating("lb", 300, 12_000, "load one rear tire carries, as mounted")] = None
    rear_count: Annotated[Literal[2, 4, 8] | None, Field(description="tires at the rear")] = None


class TowRatings(Part):
    """The maker's greatest trailer weight, by kind of hitch."""

    ball_lb: Annotated[Known, rating("lb", 500, 100_000, "on the ball, weight-carrying")] = None
    distributing_lb: Annotated[Known, rating("lb", 500, 100_000, "on the ball, weight-distributing")] = None
    gooseneck_lb: Annotated[Known, rating("lb", 500, 150_000, "gooseneck ball")] = None
    kingpin_lb: Annotated[Known, rating("lb", 500, 150_000, "fifth-wheel plate")] = None
    pintle_lb: Annotated[Known, rating("lb", 500, 150_000, "pintle hook")] = None


class Hitch(Part):
    """One hitch of the truck."""

    kind: Annotated[Literal["ball", "gooseneck", "kingpin", "pintle"], Field(description="kind of trailer it takes")]
    ahead_of_rear_axle_in: Annotated[
        Known, place(-200, 80, "coupling point ahead of the rear axle; negative behind")
    ] = None
    height_in: Annotated[Known, height(8, 80, "height of the ball, plate or hook, truck loaded to tow")] = None
    ball_size_in: Annotated[Known, nominal("in", 1, 6, "ball on the truck")] = None
    gross_rating_lb: Annotated[Known, rating("lb", 500, 200_000, "gross trailer weight, weight-carrying")] = None
    vertical_rating_lb: Annotated[Known, rating("lb", 50, 60_000, "load on the hitch, weight-carrying")] = None
    distributing_gross_rating_lb: Annotated[
        Known, rating("lb", 500, 200_000, "gross trailer weight, weight-distributing")
    ] = None
    distributing_vertical_rating_lb: Annotated[
        Known, rating("lb", 50, 60_000, "load on the hitch, weight-distributing")
    ] = None


class Gear(Part):
    """A person, a tank, a box: what rides in the truck and is not in its axle weights."""

    says: Annotated[Line, Field(description="what or who it is")]
    weight_lb: Annotated[Known, weight(0, 20_000, "its weight", "gear weight")] = None
    behind_front_axle_in: Annotated[Known, place(-80, 400, "its middle behind the front axle")] = None


class Truck(Thing):
    """What pulls."""

    schema_name = "rubrail/truck/1"

    schema_: Annotated[Literal["rubrail/truck/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/truck/1"
    )
    title: Annotated[Line | None, Field(description="what it is, in plain words")] = None
    maker: Line | None = None
    model: Line | None = None
    year: Annotated[Whole | None, Field(ge=1950, le=2100, description="model year")] = None
    notes: Text | None = None

    ratings: TruckRatings = TruckRatings.model_construct()
    weights: TruckWeights = TruckWeights.model_construct()
    size: TruckSize = TruckSize.model_construct()
    tires: TruckTires = TruckTires.model_construct()
    tow_ratings: TowRatings = TowRatings.model_construct()
    hitch: Annotated[tuple[Hitch, ...], Field(max_length=12, description="its hitches")] = ()
    gear: Annotated[tuple[Gear, ...], Field(max_length=40, description="people and gear aboard")] = ()
    brake_controller: Annotated[Flag | None, Field(description="it has a trailer brake controller")] = None
    plug: Annotated[
        Literal["4-way", "6-way", "7-way", "air and 7-pin"] | None, Field(description="lighting and brake plug")
    ] = None
    registered_lb: Annotated[
        Known, rating("lb", 1_000, 200_000, "registered weight of truck and trailer together")
    ] = None

    def contradictions(self) -> Iterator[Contradiction]:
        """What cannot be true of one truck."""
        return truck_contradictions(self)
