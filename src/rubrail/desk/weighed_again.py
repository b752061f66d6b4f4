"""A haul on one trailer asked whole: the road where its pieces were kept, driving up, tying down with our gear."""

from __future__ import annotations

import hashlib
import json

from rubrail.answers.match_joined import joined_weighing
from rubrail.answers.report import Weighing
from rubrail.desk.books import kit_here
from rubrail.desk.models import Place
from rubrail.desk.rig_reckon import reckon
from rubrail.desk.rig_stands import stands_of
from rubrail.desk.rig_store import put_back
from rubrail.desk.shelf import Shelf
from rubrail.sheets.sentences_deals import LOADING, ROAD, SECURING
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer

_kept: Shelf[Weighing] = Shelf(256)
"""A receipt's page asks of the same deals again at every step."""


def weighed_again(thing: Haul, trailer: Trailer, *, place: Place | None, kit: Kit | None) -> Weighing:
    """The rig's weighing with loading and securing in its verdict.

    Parameters
    ----------
    thing : things.haul.Haul
        With its cargo resolved.
    trailer : Trailer
    place : Place or None
        Where somebody kept the pieces on this unit; the best place on the road without one.
    kit : Kit or None
        The yard's gear; nothing is said of tying down without it.
    """
    key = _key(thing, trailer, place, kit)
    if (kept := _kept.get(key)) is not None:
        return kept
    stands = put_back(place, stands_of(thing))
    reckoned = reckon(haul=thing, trailer=trailer, stands=stands, solve=False)
    found = joined_weighing(reckoned.one, reckoned.weighing, reckoned.placement, kit=kit)
    _kept.put(key, found)
    return found


def _key(thing: Haul, trailer: Trailer, place: Place | None, kit: Kit | None) -> str:
    """Names everything the weighing rests on but the program itself, which stays the same while it runs."""
    said = [t.model_dump_json(by_alias=True) if t is not None else "" for t in (thing, trailer, kit)]
    said.append(json.dumps(place.spec, sort_keys=True) if place else "")
    return hashlib.sha256("\n".join(said).encode()).hexdigest()


def asked_with(kit: Kit | None) -> tuple[str, ...]:
    """What ``weighed_again`` asks about."""
    return (ROAD, LOADING) if kit is None else (ROAD, LOADING, SECURING)


def gear() -> Kit | None:
    """The yard's kit of gear; nothing where there is none, or what is stored of it no longer reads."""
    try:
        return kit_here()
    except Faults:
        return None
