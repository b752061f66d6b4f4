"""The trailer as its file describes it."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.build import Chains, Equipment, Frame, Jack, Ramp
from rubrail.things.measure import Known, Measure, height, length, months, nominal, place, rating, weight, width
from rubrail.things.part import Contradiction, Day, Flag, Line, Money, Part, Text, Thing, Whole
from rubrail.things.sense import trailer_contradictions


class Coupling(Part):
    """How the trailer couples."""

    kind: Annotated[
        Literal["ball", "gooseneck", "kingpin", "pintle"],
        Field(description="ball coupler, gooseneck ball, fifth-wheel kingpin, or pintle eye"),
    ]
    ball_size_in: Annotated[Known, nominal("in", 1, 6, "ball the coupler is made for; eye or pin diameter")] = None
    gross_rating_lb: Annotated[Known, rating("lb", 500, 200_000, "gross trailer weight it is rated for")] = None
    vertical_rating_lb: Annotated[Known, rating("lb", 50, 60_000, "load on it that it is rated for")] = None
    height_in: Annotated[Known, height(8, 80, "height of the coupling point with the trailer level")] = None
    height_min_in: Annotated[
        Known, height(8, 80, "lowest setting that leaves the trailer level; left out where it does not adjust")
    ] = None
    height_max_in: Annotated[
        Known, height(8, 80, "highest setting that leaves the trailer level; left out where it does not adjust")
    ] = None
    neck_underside_height_in: Annotated[
        Known, height(20, 120, "ground to the underside of the neck over the truck's bed, trailer level")
    ] = None
    neck_swing_in: Annotated[
        Known, place(0, 200, "coupling point to the foremost corner of the body that swings toward the cab")
    ] = None


class Ratings(Part):
    """What the certification label says, and what the unit is advertised by."""

    gvwr_lb: Annotated[Known, rating("lb", 500, 200_000, "gross vehicle weight rating on the certification label")] = (
        None
    )
    advertised_lb: Annotated[Known, rating("lb", 500, 200_000, "number the unit is advertised by; no rating")] = None


class Weights(Part):
    """The empty trailer on the scale."""

    empty_lb: Annotated[
        Known, weight(200, 60_000, "empty weight, coupler load included, with all listed equipment", "empty weight")
    ] = None
    empty_coupler_lb: Annotated[Known, weight(-2_000, 20_000, "coupler load of the empty trailer", "coupler load")] = (
        None
    )


class Tires(Part):
    """The tires of one axle."""

    count: Annotated[Literal[2, 4] | None, Field(description="tires on the axle: 2 single, 4 dual")] = None
    size: Annotated[Line | None, Field(description="size as on the sidewall")] = None
    load_range: Annotated[Line | None, Field(description="load range letter or ply rating")] = None
    family: Annotated[
        Literal["ST", "LT", "P", "commercial"] | None, Field(description="standard the load table follows")
    ] = None
    max_load_lb: Annotated[Known, rating("lb", 200, 12_000, "load one tire carries single, at maximum pressure")] = (
        None
    )
    max_load_dual_lb: Annotated[
        Known, rating("lb", 200, 12_000, "load one tire carries dual, at maximum pressure")
    ] = None
    max_pressure_psi: Annotated[Known, rating("psi", 20, 150, "pressure of the maximum load, on the sidewall")] = None
    pressure_psi: Annotated[
        Known, Measure("pressure", "psi", 5, 150, "cold pressure they are run at; plain means the label's", "label")
    ] = None
    speed_symbol: Annotated[
        Annotated[str, Field(pattern=r"^[A-Z]$")] | None, Field(description="speed symbol letter")
    ] = None
    loaded_radius_in: Annotated[Known, height(6, 30, "axle center to ground, loaded")] = None


class Axle(Part):
    """One axle, counted from the front."""

    gawr_lb: Annotated[Known, rating("lb", 500, 40_000, "gross axle weight rating on the certification label")] = None
    from_coupler_in: Annotated[Known, place(20, 700, "coupling point to the axle")] = None
    brakes: Annotated[
        Literal["none", "electric", "electric-over-hydraulic", "surge", "air"] | None,
        Field(description="kind of brakes on this axle"),
    ] = None
    wheel_rating_lb: Annotated[Known, rating("lb", 200, 15_000, "load one wheel is rated for")] = None
    wheel_studs: Annotated[Whole | None, Field(ge=4, le=12, description="studs or bolts of one wheel")] = None
    wheel_torque_ft_lb: Annotated[
        Known, nominal("ft lb", 30, 700, "torque of its wheel nuts, as the maker gives it for these wheels and studs")
    ] = None
    hubs: Annotated[Literal["grease", "oil"] | None, Field(description="what the hubs run in")] = None
    tires: Annotated[Tires, Field(description="its tires")] = Tires.model_construct()


class Suspension(Part):
    """How the axles hang."""

    kind: Annotated[
        Literal["equalized", "independent"] | None,
        Field(description="springs sharing by an equalizer, or each axle on its own (torsion)"),
    ] = None
    rate_lb_per_in: Annotated[
        Known, Measure("spring rate", "lb/in", 100, 40_000, "spring rate of one axle, both wheels")
    ] = None
    axle_to_frame_in: Annotated[
        Known, height(-10, 30, "axle center up to the underside of the main beam, loaded; negative below")
    ] = None


class Deck(Part):
    """What the cargo stands on. A tilting deck counts as level deck; a lowering tail as it travels."""

    kind: Annotated[
        Literal["deck-over", "between-fenders"] | None, Field(description="above the wheels, or between the fenders")
    ] = None
    front_from_coupler_in: Annotated[Known, place(-60, 300, "coupling point to the front edge of the deck")] = None
    flat_length_in: Annotated[Known, length(24, 720, "level deck, all that tilts included")] = None
    tail_kind: Annotated[
        Literal["none", "fixed", "lowering", "tilt"] | None,
        Field(description="no tail, a fixed slope, a tail that lowers, or a deck that tilts"),
    ] = None
    tail_length_in: Annotated[Known, length(0, 240, "sloping or lowering tail, measured level; 0 for none")] = None
    tail_drop_in: Annotated[Known, height(0, 60, "fall of the tail to its rear edge as it travels")] = None
    tail_lowered_height_in: Annotated[Known, height(0, 60, "ground to the rear edge of a lowering tail, down")] = None
    tilt_length_in: Annotated[Known, length(24, 600, "rear part of the level deck that tilts")] = None
    tilt_angle_deg: Annotated[Known, Measure("angle", "deg", 2, 30, "deck to ground when tilted")] = None
    width_in: Annotated[Known, width(30, 144, "width of the deck")] = None
    between_fenders_in: Annotated[Known, width(30, 120, "clear width between the fenders")] = None
    drive_over_fenders: Annotated[Flag | None, Field(description="fenders may be driven on")] = None
    height_in: Annotated[Known, height(8, 72, "ground to the top of the deck, trailer level")] = None


class Size(Part):
    """The outside."""

    width_in: Annotated[Known, width(30, 144, "overall width")] = None
    front_from_coupler_in: Annotated[
        Known, place(-200, 100, "coupling point to the front of the trailer; negative ahead of the coupling")
    ] = None
    rear_from_coupler_in: Annotated[
        Known, place(60, 900, "coupling point to the rearmost part, ramps as they travel")
    ] = None


class Anchor(Part):
    """One place to tie to."""

    kind: Annotated[
        Literal["D-ring", "stake-pocket", "rub-rail", "chain-slot", "winch-track", "rail-loop"],
        Field(description="what it is"),
    ]
    from_coupler_in: Annotated[Known, place(-60, 900, "coupling point to the anchor")] = None
    y_in: Annotated[Known, place(-80, 80, "right of the center line, seen from behind; negative left")] = None
    height_in: Annotated[Known, height(0, 90, "ground to the anchor, trailer level")] = None
    wll_lb: Annotated[Known, rating("lb", 100, 40_000, "working load limit")] = None
    both_sides: Annotated[Flag, Field(description="the same on the other side")] = False


class Tax(Part):
    """Places the excise-tax weight is reckoned from."""

    bed_center_from_coupler_in: Annotated[
        Known, place(20, 700, "coupling point to the center of the load-carrying bed")
    ] = None


class Warranty(Part):
    """Months of warranty from the day its buyer takes it, by part, as the warranty's paper has them; 0 for none."""

    trailer_months: Annotated[Known, months("the whole trailer, where a part has none of its own")] = None
    frame_months: Annotated[Known, months("frame and structure")] = None
    axles_months: Annotated[Known, months("axles, hubs and brakes, by their maker")] = None
    tires_months: Annotated[Known, months("tires, by their maker")] = None
    finish_months: Annotated[Known, months("paint or coating")] = None


class Trailer(Thing):
    """One unit of the yard."""

    schema_name = "rubrail/trailer/1"

    schema_: Annotated[Literal["rubrail/trailer/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/trailer/1"
    )
    title: Annotated[Line | None, Field(description="what it is, in plain words")] = None
    maker: Line | None = None
    model: Line | None = None
    year: Annotated[Whole | None, Field(ge=1950, le=2100, description="model year")] = None
    vin: Annotated[Annotated[str, Field(min_length=1, max_length=20)] | None, Field(description="as on the label")] = (
        None
    )
    condition: Literal["new", "used"] | None = None
    status: Annotated[
        Literal["in-stock", "on-order", "held", "sold", "retired"], Field(description="where it stands")
    ] = "in-stock"
    color: Line | None = None
    location: Annotated[Line | None, Field(description="lot and row")] = None
    arrived: Annotated[Day | None, Field(description="day it came to the yard")] = None
    price_usd: Annotated[Money | None, Field(description="asking price")] = None
    cost_usd: Annotated[Money | None, Field(description="what the yard paid")] = None
    notes: Text | None = None

    coupling: Coupling
    ratings: Ratings = Ratings.model_construct()
    weights: Weights = Weights.model_construct()
    axle: Annotated[tuple[Axle, ...], Field(min_length=1, max_length=6, description="axles, front first")]
    suspension: Suspension = Suspension.model_construct()
    deck: Deck = Deck.model_construct()
    size: Size = Size.model_construct()
    ramp: Annotated[tuple[Ramp, ...], Field(max_length=12, description="ramps")] = ()
    frame: Frame = Frame.model_construct()
    anchor: Annotated[tuple[Anchor, ...], Field(max_length=200, description="places to tie to")] = ()
    chains: Chains = Chains.model_construct()
    breakaway: Annotated[Flag | None, Field(description="a breakaway brake device is fitted")] = None
    plug: Annotated[
        Literal["4-way", "6-way", "7-way", "air and 7-pin"] | None, Field(description="lighting and brake plug")
    ] = None
    lamps_complete: Annotated[Flag | None, Field(description="every lamp and marking required was seen")] = None
    jack: Jack = Jack.model_construct()
    equipment: Annotated[tuple[Equipment, ...], Field(max_length=100, description="tagged features")] = ()
    tax: Tax = Tax.model_construct()
    warranty: Warranty = Warranty.model_construct()

    def contradictions(self) -> Iterator[Contradiction]:
        """What cannot be true of one trailer."""
        return trailer_contradictions(self)
