"""Columns of rigs: a haul's truck and cargo with each trailer of a yard."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from rubrail.quantity.value import Value
from rubrail.things.columns import Columns
from rubrail.things.fill import join
from rubrail.things.haul import Haul
from rubrail.things.names import CODES
from rubrail.things.rig_cargo import Arrangement, arrangements, item_columns, offsets_in, pieces_of
from rubrail.things.rig_haul import haul_columns
from rubrail.things.rig_trailer import trailer_columns
from rubrail.things.rig_truck import OF_HITCH, truck_columns
from rubrail.things.trailer import Coupling, Trailer
from rubrail.things.truck import Truck


def rig_columns(
    *,
    haul: Haul,
    trailers: Sequence[Trailer],
    arranged: Sequence[Arrangement] | None = None,
    placement: ArrayLike | None = None,
    of_trailers: Columns | None = None,
) -> Columns:
    """Columns of a haul on each of many trailers.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    trailers : sequence of Trailer
        One a unit.
    arranged : sequence of Arrangement, optional
        Along the position axis; every arrangement of the haul's pieces where not given.
    placement : array_like, optional
        ``item_front_x_in``: coupling point to the foremost point of each piece, in the haul's order of pieces. Shape
        ``(item, unit, position, 1)``, ``(item, unit)``, or ``(item,)`` for the same place on every unit. [in]
        Where not given the column is left out; ``offsets_in`` says where the pieces stand to each other.
    of_trailers : Columns, optional
        ``trailer_columns(trailers)`` made before.

    Raises
    ------
    TypeError
        If the haul still names its truck, a piece or its limits by id.
    ValueError
        If the placement has not one place for each piece.
    """
    if not isinstance(haul.truck, Truck):
        raise TypeError(f"haul {haul.id} names its truck by id; resolve it first")
    arranged = arrangements(haul) if arranged is None else arranged
    columns = join(
        trailer_columns(trailers) if of_trailers is None else of_trailers,
        truck_columns(
            haul.truck,
            [t.coupling for t in trailers],
            weight_distribution=haul.weight_distribution,
            front_restoration=haul.front_restoration,
        ),
        haul_columns(haul),
        item_columns(haul, arranged),
    )
    if placement is None:
        return columns
    front = np.asarray(placement, float)
    pieces = pieces_of(haul)
    if front.shape[:1] != (max(len(pieces), 1),) and not (front.size == 0 and not pieces):
        raise ValueError(f"a placement needs one place for each of {len(pieces)} pieces, got shape {front.shape}")
    front = front if front.size else np.zeros((1, 1, 1, 1))
    return columns.with_values({"item_front_x_in": front.reshape(front.shape + (1,) * (4 - front.ndim))})


def haul_before(*, haul: Haul, of_trailers: Columns, arranged: Sequence[Arrangement]) -> Columns:
    """Columns of a haul on trailers known by their columns alone, as a big yard stores them; without a placement.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    of_trailers : Columns
        As ``trailer_columns`` makes them; of a trailer whose kind of coupling is not known nothing of the hitch is.
    arranged : sequence of Arrangement
        Along the position axis.

    Raises
    ------
    TypeError
        If the haul still names its truck, a piece or its limits by id.
    """
    if not isinstance(haul.truck, Truck):
        raise TypeError(f"haul {haul.id} names its truck by id; resolve it first")
    kind, size = (of_trailers[n][:, 0, 0] for n in ("coupling_kind", "coupler_ball_size_in"))
    # A yard has few couplings, and the truck is read once for each.
    pairs, which = np.unique(np.nan_to_num([kind, size], nan=-1.0), axis=1, return_inverse=True)
    couplings = [
        Coupling(kind=CODES["coupling_kind"][max(int(k), 0)], ball_size_in=Value(float(s), "label") if s > 0 else None)
        for k, s in pairs.T
    ]
    of_truck = truck_columns(
        haul.truck,
        couplings,
        weight_distribution=haul.weight_distribution,
        front_restoration=haul.front_restoration,
    )
    of_truck = of_truck.take(which.reshape(-1))
    if np.isnan(kind).any():
        unknown = np.isnan(kind)[:, None, None]
        of_truck = of_truck.with_values({n: np.where(unknown, np.nan, of_truck[n]) for n in OF_HITCH})
    return join(of_trailers, of_truck, haul_columns(haul), item_columns(haul, arranged))


__all__ = [
    "Arrangement",
    "arrangements",
    "haul_before",
    "item_columns",
    "offsets_in",
    "pieces_of",
    "rig_columns",
    "trailer_columns",
]
