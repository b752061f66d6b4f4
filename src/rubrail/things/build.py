"""How the trailer is built: frame, ramps, chains, jack, equipment."""

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from rubrail.things.measure import Known, height, length, nominal, place, rating, weight, width
from rubrail.things.part import Flag, Line, Part, Whole

ACROSS = ("full-width", "gate")
"""Kinds of ramp that reach across the whole width: a trailer has one."""


class Beam(Part):
    """One rolled or pressed shape."""

    shape: Annotated[Literal["I", "channel", "tube", "angle", "truss"] | None, Field(description="its section")] = None
    depth_in: Annotated[Known, nominal("in", 1, 36, "depth")] = None
    weight_lb_per_ft: Annotated[Known, nominal("lb/ft", 0.5, 100, "weight a foot")] = None
    section_modulus_in3: Annotated[
        float | None, Field(gt=0, le=1000, description="section modulus, cubic inches, where the maker states it")
    ] = None


class Frame(Part):
    """Main beams, what lies across them, and what stiffens them."""

    main_beam: Beam = Beam.model_construct()
    crossmember: Beam = Beam.model_construct()
    crossmember_spacing_in: Annotated[Known, nominal("in", 6, 48, "crossmembers, on center")] = None
    build: Annotated[
        Literal["pierced", "stacked"] | None,
        Field(description="crossmembers through the web of the main beam, or on top of it"),
    ] = None
    crossmember_rise_in: Annotated[
        Known, height(-12, 12, "top of the crossmembers above the top of the main beam, pierced build")
    ] = None
    outriggers: Annotated[
        Literal["none", "every", "every second", "every third"] | None,
        Field(description="at which crossmembers outriggers stand"),
    ] = None
    side_rail: Annotated[
        Literal["none", "flat bar", "channel", "tube", "angle", "pipe"] | None, Field(description="edge of the deck")
    ] = None
    rub_rail: Annotated[Flag | None, Field(description="flat bar outside the stake pockets")] = None
    torque_tube: Annotated[Flag | None, Field(description="a tube against twist joins the main beams")] = None
    bridging: Annotated[Flag | None, Field(description="a truss under the main beams")] = None
    bracing: Annotated[Line | None, Field(description="other bracing, in words")] = None
    deck_material: Annotated[
        Literal["pine", "oak", "apitong", "rubber-infused plank", "steel tread plate", "aluminum", "mesh", "open"]
        | None,
        Field(description="what the deck is laid with"),
    ] = None
    deck_thickness_in: Annotated[Known, nominal("in", 0.05, 6, "thickness of the deck material")] = None


class Ramp(Part):
    """A ramp or a set of like ramps."""

    kind: Annotated[
        Literal["stand-up", "flip-over", "slide-in", "full-width", "gate", "bi-fold"],
        Field(
            description="hinged and standing when folded; hinged and folding onto the deck; loose and stored under "
            "the deck; one across the full width; a tailgate; in two leaves"
        ),
    ]
    count: Annotated[
        Whole, Field(ge=1, le=8, description="how many of them; left out: one across the width or as a gate, else two")
    ] = 2
    length_in: Annotated[Known, length(12, 240, "length of one, all leaves open")] = None
    width_in: Annotated[Known, width(6, 110, "width of one")] = None
    inner_gap_in: Annotated[Known, width(0, 90, "clear gap between two, as usually set")] = None
    rating_each_lb: Annotated[Known, rating("lb", 100, 60_000, "load one is rated for")] = None
    rating_pair_lb: Annotated[Known, rating("lb", 200, 100_000, "load the pair is rated for")] = None
    weight_lb: Annotated[Known, weight(5, 2_000, "weight of one", "gear weight")] = None
    thickness_in: Annotated[Known, nominal("in", 0.25, 24, "depth of one, top to underside")] = None
    stands: Annotated[Flag | None, Field(description="legs under the rear of the trailer when loading")] = None
    stand_gap_in: Annotated[Known, height(0, 24, "ground to the foot of those legs, let down, trailer empty")] = None
    section_modulus_in3: Annotated[
        float | None, Field(gt=0, le=200, description="section modulus of one, cubic inches, if stated")
    ] = None
    yield_psi: Annotated[
        Known, nominal("psi", 5_000, 120_000, "yield strength of what it is made of, where the maker states it")
    ] = None
    deck_when_folded: Annotated[Flag, Field(description="folded, it may carry cargo as level deck")] = False
    assist: Annotated[
        Literal["none", "spring", "hydraulic", "torsion bar"] | None, Field(description="what helps lift it")
    ] = None
    surface: Annotated[
        Literal["open bar", "plate", "mesh", "wood", "rubber"] | None, Field(description="what the wheels run on")
    ] = None

    @model_validator(mode="before")
    @classmethod
    def _one_across(cls, data: Any) -> Any:
        across = isinstance(data, dict) and data.get("kind") in ACROSS
        return {"count": 1, **data} if across else data


class Chains(Part):
    """Safety chains."""

    count: Annotated[Whole | None, Field(ge=0, le=4, description="how many")] = None
    strength_lb: Annotated[Known, rating("lb", 500, 200_000, "least breaking strength of one")] = None
    size_in: Annotated[Known, nominal("in", 0.125, 1.5, "size of the chain")] = None
    grade: Annotated[Line | None, Field(description="grade of the chain")] = None


class Jack(Part):
    """What holds the front up."""

    kind: Annotated[
        Literal["drop-leg", "pipe-mount", "two-speed", "hydraulic", "electric"] | None, Field(description="kind")
    ] = None
    count: Annotated[Whole | None, Field(ge=1, le=4, description="how many")] = None
    rating_lb: Annotated[Known, rating("lb", 200, 60_000, "lifting or holding rating of one")] = None


class Equipment(Part):
    """One tagged feature. Its weight is part of the empty weight."""

    tag: Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,39}$", description="what it is found by, lower case")]
    says: Annotated[Line | None, Field(description="what it is")] = None
    count: Annotated[Whole, Field(ge=1, le=100, description="how many")] = 1
    weight_lb: Annotated[Known, weight(0, 5_000, "weight of one", "gear weight")] = None
    from_coupler_in: Annotated[Known, place(-200, 900, "coupling point to its middle")] = None
