"""A haul: a truck, what it is to carry, for what use and on which roads."""

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from rubrail.things.cargo import Cargo
from rubrail.things.limits import Limits
from rubrail.things.measure import Known, nominal
from rubrail.things.part import TAGS, Contradiction, Flag, Id, Line, Part, Text, Thing, Whole
from rubrail.things.sense import haul_contradictions
from rubrail.things.truck import Truck


def _id_or_table(raw: Any) -> str:
    return TAGS[0] if isinstance(raw, str) else TAGS[1]


def _reference(model: type, says: str) -> Any:
    """A field that names another thing by id, or holds it."""
    either = Annotated[model, Tag(TAGS[1])] | Annotated[Id, Tag(TAGS[0])]
    return Annotated[either, Field(discriminator=Discriminator(_id_or_table), description=says)]


PieceOrId = _reference(Cargo, "id of a piece of cargo, or the piece itself")
TruckOrId = _reference(Truck, "id of a truck, or the truck itself")
LimitsOrId = _reference(Limits, "id of a limits file, or the limits themselves")


class Load(Part):
    """One piece of cargo of the haul, or several alike."""

    piece: PieceOrId
    count: Annotated[Whole, Field(ge=1, le=12, description="how many alike")] = 1
    facing: Annotated[
        Literal["either", "front-first", "rear-first"],
        Field(description="front-first: its front toward the truck; rear-first: its rear toward the truck"),
    ] = "either"


class Haul(Thing):
    """One job of one buyer."""

    schema_name = "rubrail/haul/1"

    schema_: Annotated[Literal["rubrail/haul/1"], Field(alias="schema", description="kind of file")] = "rubrail/haul/1"
    title: Annotated[Line | None, Field(description="the job, in plain words")] = None
    notes: Text | None = None
    truck: TruckOrId
    cargo: Annotated[tuple[Load, ...], Field(max_length=12, description="what is carried")] = ()
    use: Annotated[
        Literal["private", "own-business", "for-hire", "farm"] | None, Field(description="what the haul is for")
    ] = None
    interstate: Annotated[Flag | None, Field(description="it crosses a state line")] = None
    license_held: Annotated[
        Literal["regular", "C", "B", "A"] | None,
        Field(description="the driver's license, regular or commercial group"),
    ] = None
    weight_distribution: Annotated[Flag, Field(description="a weight-distributing hitch is used")] = False
    front_restoration: Annotated[Known, nominal("", 0, 1, "share of the lost front-axle load it returns, 0 to 1")] = (
        None
    )
    limits: LimitsOrId | None = None
    roads: Annotated[tuple[Line, ...], Field(max_length=20, description="roads, in words")] = ()
    gap_in: Annotated[Known, nominal("in", 0, 120, "least gap between two pieces; 12 where not said")] = None

    def contradictions(self) -> Iterator[Contradiction]:
        """What cannot be true of one haul."""
        return haul_contradictions(self)
