"""A yard: its units, the trucks, cargo and hauls it knows, and the limits files it uses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.cargo import Cargo
from rubrail.things.catalog import Catalog
from rubrail.things.checks import Checks
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.limits import Limits
from rubrail.things.listing import ListingText
from rubrail.things.part import Id, Line, Part, Text
from rubrail.things.rates import Rates
from rubrail.things.ticket import Ticket
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck


class YardFile(Part):
    """``yard.toml``: what holds for the whole folder."""

    schema_: Annotated[Literal["rubrail/yard/1"], Field(alias="schema", description="kind of file")] = "rubrail/yard/1"
    title: Annotated[Line | None, Field(description="name of the yard")] = None
    notes: Text | None = None
    limits: Annotated[Id | None, Field(description="id of the limits file of hauls that name none")] = None
    kit: Annotated[Id | None, Field(description="id of the kit that ties down what nobody names gear for")] = None


@dataclass(frozen=True, slots=True)
class Yard:
    """Everything a yard folder holds, by id."""

    title: str = ""
    limits_id: str = "federal"
    trailers: Mapping[str, Trailer] = field(default_factory=dict)
    trucks: Mapping[str, Truck] = field(default_factory=dict)
    cargo: Mapping[str, Cargo] = field(default_factory=dict)
    hauls: Mapping[str, Haul] = field(default_factory=dict)
    limits: Mapping[str, Limits] = field(default_factory=dict)
    catalogs: Mapping[str, Catalog] = field(default_factory=dict)
    rates: Mapping[str, Rates] = field(default_factory=dict)
    kits: Mapping[str, Kit] = field(default_factory=dict)
    kit_id: str = ""
    tickets: Mapping[str, Ticket] = field(default_factory=dict)
    listings: Mapping[str, ListingText] = field(default_factory=dict)
    checks: Mapping[str, Checks] = field(default_factory=dict)

    @property
    def kit(self) -> Kit | None:
        """The gear that ties down what nobody names gear for: the kit the yard names, or its only one."""
        only = next(iter(self.kits.values())) if len(self.kits) == 1 else None
        return self.kits.get(self.kit_id, only)
