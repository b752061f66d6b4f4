"""Walk around a unit, front to back: what each station is, what it does for a haul, and how it differs from others."""

from __future__ import annotations

from collections.abc import Iterator

from rubrail.answers.climb import climbing
from rubrail.answers.climb_setup import Day
from rubrail.answers.company import BuildMiddle, Company, Middle
from rubrail.answers.differs import Difference
from rubrail.answers.height import built_columns
from rubrail.answers.place import best_place
from rubrail.answers.report import Weighing
from rubrail.answers.rig import Placement, Rigs, at_placement, rigs
from rubrail.answers.tie_down import tie_down
from rubrail.answers.walk_alone import alone_at
from rubrail.answers.walk_haul import Asked, haul_at
from rubrail.answers.walk_parts import STATIONS, Station, Walk
from rubrail.answers.walk_spec import facts_at, has, place_of
from rubrail.answers.weigh import weighing
from rubrail.checks.engine import Evaluation
from rubrail.checks.judge import judge
from rubrail.checks.verdict import WORDS
from rubrail.things.columns import Columns
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer

TRAITS_AT = {
    "coupler": "coupling", "plug": "chains", "jack": "jack", "deck_height": "deck", "deck_length": "deck",
    "deck_width": "deck", "anchors": "deck", "floor": "deck", "side_rail": "deck", "rub_rail": "deck",
    "spacing": "frame", "build": "frame", "empty": "frame", "axles": "running-gear", "suspension": "running-gear",
    "brakes": "running-gear", "tires": "tires", "wheels": "tires", "tail": "tail", "ramps": "ramps",
    "ramp_length": "ramps", "gvwr": "lights", "payload": "lights",
}  # fmt: skip
"""At which station each trait is told; price and condition are told elsewhere."""
MIDDLES_AT = ("coupler", "deck_height", "spacing", "axles", "ramp_length", "gvwr")
"""Traits whose usual value is told even where the unit is not unusual."""


def walk(
    *,
    trailer: Trailer,
    haul: Haul | None = None,
    placement: Placement | None = None,
    kit: Kit | None = None,
    company: Company | None = None,
) -> Walk:
    """Walk around one unit.

    Parameters
    ----------
    trailer : Trailer
    haul : Haul, optional
        With its truck, cargo and limits resolved: what each station does for it.
    placement : Placement, optional
        Where each piece stands; the best place where not given.
    kit : Kit, optional
        Gear to tie down with; without it nothing is said of a plan.
    company : Company, optional
        The unit beside the others of its yard.

    Raises
    ------
    ValueError
        If the placement has not one place for each piece.
    """
    asked = None
    if haul is not None:
        one = rigs(haul=haul, trailers=(trailer,))
        placement = best_place(one)[0].placement if placement is None else placement
        columns = at_placement(one, placement)
        weighed = weighing(one, columns, placement, judge(columns), remedies=False)
        asked = ask_all(one, placement, columns, weighed, kit)
    return walked(trailer, asked, company)


def ask_all(one: Rigs, placement: Placement, columns: Columns, weighed: Weighing, kit: Kit | None) -> Asked:
    """Drive the machines of a rig that was weighed up and tie them down: all that the stations tell of."""
    climbed = climbing(one, placement, Day(), remedies=False)
    tied = (
        tie_down(haul=one.haul, trailer=one.trailers[0], kit=kit, placement=placement, changes=False)
        if kit is not None
        else None
    )
    return Asked(one, placement, columns, weighed, climbed, tied)


def walked(trailer: Trailer, asked: Asked | None, company: Company | None) -> Walk:
    """The record of a walk whose answers are there."""
    alone = Evaluation(built_columns((trailer,)))
    words = ("", "", "")
    if asked is not None:
        climbed = asked.climbing.verdict
        words = (asked.weighing.verdict, climbed, asked.tied.verdict if asked.tied else "")
    judged = [w for w in words if w and w != "does not apply"]
    return Walk(
        trailer=trailer.id,
        trailer_title=trailer.title or trailer.id,
        haul="" if asked is None else asked.weighing.haul,
        truck="" if asked is None else asked.one.truck_title,
        verdict=min(judged, key=WORDS.index) if judged else "",
        weighed=words[0],
        climbed=words[1],
        tied=words[2],
        circle="" if company is None else company.circle,
        others=0 if company is None else company.count,
        stations=tuple(
            Station(
                key,
                *place_of(trailer, key),
                facts=facts_at(trailer, key),
                haul=() if asked is None else haul_at(asked, key),
                alone=alone_at(trailer, alone, key),
                differs=tuple(_differs(company, key)),
                middles=tuple(_middles(company, key)),
                builds=_builds(company, key),
            )
            for key in STATIONS
            if has(trailer, key)
        ),
    )


def _differs(company: Company | None, key: str) -> Iterator[Difference]:
    for told in company.told if company else ():
        if TRAITS_AT.get(told.trait.key) == key:
            yield told


def _middles(company: Company | None, key: str) -> Iterator[Middle]:
    for middle in company.middles if company else ():
        if middle.trait.key in MIDDLES_AT and TRAITS_AT[middle.trait.key] == key:
            yield middle


def _builds(company: Company | None, key: str) -> tuple[BuildMiddle, ...]:
    return company.builds if company and key == "frame" else ()
