"""A haul on trailers, laid out for the checks: columns, arrangements, and where each input is written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rubrail.answers.height import built_columns
from rubrail.answers.report import Need
from rubrail.answers.settle import Asked
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.quantity.value import Value
from rubrail.things.cargo import Cargo
from rubrail.things.columns import Array, Columns
from rubrail.things.haul import Haul
from rubrail.things.names import COLUMNS
from rubrail.things.rigs import Arrangement, arrangements, offsets_in, pieces_of, rig_columns
from rubrail.things.trailer import Trailer
from rubrail.things.where import where_is


@dataclass(frozen=True)
class Placement:
    """A place for every piece, in the haul's order of pieces.

    front_x_in : foremost point behind the coupling point; facing : ``front-first`` or ``rear-first``.
    """

    front_x_in: tuple[float, ...]
    facing: tuple[str, ...]


@dataclass(frozen=True)
class Rigs:
    """A haul on many trailers.

    columns : arrangements along the position axis, without a placement
    offsets_in : foremost point of each piece behind that of the foremost, shape ``(item, 1, position, 1)`` [in]
    """

    haul: Haul
    trailers: tuple[Trailer, ...]
    pieces: tuple[Cargo, ...]
    arrangements: tuple[Arrangement, ...]
    columns: Columns
    offsets_in: Array

    @property
    def truck_title(self) -> str:
        """What the truck is called."""
        return self.haul.truck.title or self.haul.truck.id

    def asked(self, unit: int) -> Asked:
        """Turns a raw column of one unit's rig into what to go and measure."""

        def ask(name: str, member: int | None) -> Need:
            where = where_is(name, self.haul, self.trailers[unit], member)
            v = where.value
            known = isinstance(v, Value)
            return Need(
                name=name,
                where=where.path,
                says=COLUMNS[name].says,
                value=np.nan if v is None else float(v),
                plus_minus=v.plus_minus if known else 0.0,
                basis=v.basis if known else "",
            )

        return ask


def rigs(*, haul: Haul, trailers: Sequence[Trailer], of_trailers: Columns | None = None) -> Rigs:
    """Lay a haul out on trailers.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    trailers : sequence of Trailer
    of_trailers : Columns, optional
        ``built_columns(trailers)`` made before.

    Raises
    ------
    TypeError
        If the haul still names a thing by id.
    """
    arranged = arrangements(haul)
    of_trailers = built_columns(trailers) if of_trailers is None else of_trailers
    columns = rig_columns(haul=haul, trailers=trailers, arranged=arranged, of_trailers=of_trailers)
    return Rigs(haul, tuple(trailers), pieces_of(haul), arranged, columns, offsets_in(haul, arranged))


def at_placement(one: Rigs, placement: Placement) -> Columns:
    """Columns of one rig with every piece where the placement says.

    Raises
    ------
    ValueError
        If the placement has not one place and one facing for each piece.
    """
    count = len(one.pieces)
    if len(placement.front_x_in) != count or len(placement.facing) != count:
        raise ValueError(
            f"a placement needs a place and a facing for each of {count} pieces, "
            f"got {len(placement.front_x_in)} and {len(placement.facing)}"
        )
    order = tuple(int(i) for i in np.argsort(placement.front_x_in, kind="stable"))
    arranged = (Arrangement(order, tuple(placement.facing)),)
    return rig_columns(
        haul=one.haul,
        trailers=one.trailers,
        arranged=arranged,
        placement=placement.front_x_in,
        of_trailers=built_columns(one.trailers),
    )
