"""Keep where a haul's pieces stand on a unit; put what was kept back on the deck."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from django.db import IntegrityError, transaction

from rubrail.desk.audit import Delta, record_changes
from rubrail.desk.editing import StaleError, save_changes
from rubrail.desk.hauls import stored
from rubrail.desk.models import Haul, Place, Unit, User
from rubrail.desk.rig_stands import WAYS, Stand, carrying, stands_of
from rubrail.quantity.show import show_feet
from rubrail.things.haul import Haul as HaulThing

BEST = "the best place"


class OtherCargoError(Exception):
    """What stands on the deck is not what the haul holds, and nobody said that the haul should change."""


def place_on(haul: Haul, unit: Unit) -> Place | None:
    """The kept place, with who kept it."""
    return Place.objects.filter(haul=haul, unit=unit).select_related("created_by").first()


def put_back(place: Place | None, stands: Sequence[Stand]) -> list[Stand]:
    """A haul's pieces where they were kept; a piece that came to the haul since has no place yet."""
    kept = list(place.spec.get("pieces", ())) if place else []
    out = []
    for stand in stands:
        mine = next((k for k in kept if k.get("piece") == stand.piece.id), None)
        if mine is None:
            out.append(stand)
            continue
        kept.remove(mine)
        way = mine["facing"] if mine["facing"] in stand.ways else stand.ways[0]
        out.append(replace(stand, front_x_in=float(mine["front_x_in"]), facing=way))
    return out


def is_whole(haul: HaulThing, stands: Iterable[Stand]) -> bool:
    """Whether these are the haul's own pieces, each once and no other."""
    return sorted(s.key for s in stands) == sorted(s.key for s in stands_of(haul))


def said(stands: Sequence[Stand], origin_in: float, *, metric: bool = False) -> str:
    """Where pieces stand, as the trail tells it."""
    row = sorted(stands, key=lambda s: s.front_x_in)
    return (
        "; ".join(f"{s.name} {WAYS[s.facing]} at {show_feet(s.front_x_in - origin_in, metric=metric)}" for s in row)
        or "empty"
    )


def keep(
    *, haul: Haul, unit: Unit, thing: HaulThing, stands: Sequence[Stand], origin_in: float, by: User,
    seen: int, seen_haul: int, whole: bool
) -> None:  # fmt: skip
    """Keep where the pieces stand, and with ``whole`` make them the haul's own.

    Parameters
    ----------
    thing : things.haul.Haul
        The haul as the engine takes it.
    origin_in : float
        Where the trail measures from, behind the coupling point. [in]
    seen, seen_haul : int
        Versions of the kept place (0 where there was none) and of the haul that the person had before them.
    whole : bool
        Whether the haul's own list of pieces becomes what stands here.

    Raises
    ------
    OtherCargoError
        If the pieces are not the haul's own, and ``whole`` is not said.
    StaleError
        If somebody kept another place, or changed the haul, meanwhile. Nothing is written then.
    """
    with transaction.atomic():
        if not is_whole(thing, stands):
            if not whole:
                raise OtherCargoError
            _take_over(haul, thing, stands, by=by, seen=seen_haul)
        else:
            stands = sorted(stands, key=lambda s: int(s.key[1:]))
        spec = {"pieces": [_row(s) for s in stands]}
        there = Place.objects.filter(haul=haul, unit=unit).first()
        old = BEST if there is None else said(_as_kept(there, stands), origin_in)
        _write(there, haul=haul, unit=unit, spec=spec, by=by, seen=seen)
        _tell(haul, unit, old, said(stands, origin_in), by=by)


def forget(*, haul: Haul, unit: Unit, by: User, seen: int) -> None:
    """Go back to the best place.

    Raises
    ------
    StaleError
        If somebody kept another place meanwhile.
    """
    with transaction.atomic():
        gone, _ = Place.objects.filter(haul=haul, unit=unit, version=seen).delete()
        if gone:
            _tell(haul, unit, "where somebody put it", BEST, by=by)
        elif Place.objects.filter(haul=haul, unit=unit).exists():
            raise StaleError(str(haul))


def _row(stand: Stand) -> dict[str, Any]:
    return {"piece": stand.piece.id, "front_x_in": stand.front_x_in, "facing": stand.facing}


def _as_kept(place: Place, stands: Sequence[Stand]) -> list[Stand]:
    nowhere = [replace(s, front_x_in=None) for s in stands]
    return [s for s in put_back(place, nowhere) if s.front_x_in is not None]


def _write(there: Place | None, *, haul: Haul, unit: Unit, spec: dict[str, Any], by: User, seen: int) -> None:
    if there is None and seen == 0:
        try:
            with transaction.atomic():
                Place.objects.create(haul=haul, unit=unit, spec=spec, created_by=by)
        except IntegrityError as taken:
            raise StaleError(str(haul)) from taken
        return
    mine = Place.objects.filter(haul=haul, unit=unit, version=seen)
    if not mine.update(spec=spec, version=seen + 1, created_by=by):
        raise StaleError(str(haul))


def _take_over(haul: Haul, thing: HaulThing, stands: Sequence[Stand], *, by: User, seen: int) -> None:
    spec = {**haul.spec, "cargo": stored(carrying(thing, stands)).get("cargo", [])}
    old = ", ".join(s.name for s in stands_of(thing)) or "nothing"
    new = ", ".join(s.name for s in stands) or "nothing"
    save_changes(
        haul, values={"spec": spec}, deltas=[Delta("cargo", "cargo", old, new, "haul.see")], by=by, seen_version=seen
    )


def _tell(haul: Haul, unit: Unit, old: str, new: str, *, by: User) -> None:
    where = f"place on {unit.stock_number}"
    record_changes(by=by, thing=haul, deltas=[Delta(f"place.{unit.stock_number}", where, old, new, "haul.see")])
