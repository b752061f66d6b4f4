"""What an option does to a trailer: fields it sets, parts it adds, and weights at their places."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from rubrail.things.build import Chains, Equipment, Frame, Jack, Ramp
from rubrail.things.measure import Known, Measure, place
from rubrail.things.part import Flag, Line, Part
from rubrail.things.trailer import Anchor, Axle, Coupling, Deck, Ratings, Size, Suspension, Tax, Warranty


class CouplingChange(Coupling):
    """How the trailer couples then."""

    kind: Annotated[
        Literal["ball", "gooseneck", "kingpin", "pintle"] | None,
        Field(description="ball coupler, gooseneck ball, fifth-wheel kingpin, or pintle eye"),
    ] = None


class TrailerChange(Part):
    """Fields of a trailer as they stand with the option; what is left out stays as it is."""

    told_elsewhere: ClassVar[bool] = True

    coupling: CouplingChange = CouplingChange.model_construct()
    ratings: Ratings = Ratings.model_construct()
    each_axle: Annotated[Axle, Field(description="set on every axle")] = Axle.model_construct()
    axle: Annotated[
        tuple[Axle, ...], Field(min_length=1, max_length=6, description="all axles anew, front first")
    ] = ()
    suspension: Suspension = Suspension.model_construct()
    deck: Deck = Deck.model_construct()
    size: Size = Size.model_construct()
    ramp: Annotated[tuple[Ramp, ...], Field(max_length=12, description="all ramps anew")] = ()
    frame: Frame = Frame.model_construct()
    anchor: Annotated[tuple[Anchor, ...], Field(max_length=200, description="all anchors anew")] = ()
    chains: Chains = Chains.model_construct()
    breakaway: Annotated[Flag | None, Field(description="a breakaway brake device is fitted")] = None
    plug: Annotated[
        Literal["4-way", "6-way", "7-way", "air and 7-pin"] | None, Field(description="lighting and brake plug")
    ] = None
    jack: Jack = Jack.model_construct()
    tax: Tax = Tax.model_construct()
    warranty: Warranty = Warranty.model_construct()
    color: Line | None = None


class More(Part):
    """Parts an option adds to those that are there."""

    told_elsewhere: ClassVar[bool] = True

    ramp: Annotated[tuple[Ramp, ...], Field(max_length=12, description="ramps")] = ()
    anchor: Annotated[tuple[Anchor, ...], Field(max_length=200, description="places to tie to")] = ()
    equipment: Annotated[tuple[Equipment, ...], Field(max_length=100, description="tagged features")] = ()


class Added(Part):
    """A weight at a place; taken off where it is negative."""

    weight_lb: Annotated[
        Known, Measure("gear weight", "lb", -10_000, 20_000, "weight added there; negative for what comes off")
    ]
    from_coupler_in: Annotated[Known, place(-200, 900, "coupling point to the middle of that weight")]
