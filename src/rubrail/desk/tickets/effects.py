"""What taking a ticket's weights over changes: the verdict of every open haul on the unit, before and after."""

from __future__ import annotations

from dataclasses import dataclass

from rubrail.answers.height import built_columns
from rubrail.answers.roster import roster
from rubrail.answers.ticket_report import Ticketed
from rubrail.checks.verdict import WORDS
from rubrail.desk.hauls import stored, thing_of
from rubrail.desk.models import Haul
from rubrail.desk.models import Ticket as TicketRow
from rubrail.desk.stock import readable
from rubrail.desk.tickets.keep import OF_TRAILER, OF_TRUCK, hauls_with, open_proposals, trailer_with, truck_with
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul as HaulThing

MOST = 40
"""Open hauls looked at."""
_BETTER = {"clear": 3, "depends": 2, "not known": 1, "over": 0}


@dataclass(frozen=True, slots=True)
class Effect:
    """One open haul on the unit, at its best place on the road, with the weights as they were and as weighed."""

    haul: Haul
    before: str
    after: str

    @property
    def changes(self) -> bool:
        """Whether the word is another one."""
        return self.before != self.after

    @property
    def worse(self) -> bool:
        """Whether it is a worse one."""
        return _BETTER[self.after] < _BETTER[self.before]


def unit_effects(row: TicketRow, answer: Ticketed) -> list[Effect]:
    """Every open haul on the unit, with its weights as they are and as weighed; those that change first.

    Raises
    ------
    Faults
        If a weighed value contradicts what else is stored of the unit.
    """
    before = readable(row.unit)
    after = trailer_with(row, open_proposals(answer, OF_TRAILER))
    if before is None:
        return []
    columns = built_columns([before, after])
    found = []
    for haul in Haul.objects.filter(closed=False)[:MOST]:
        try:
            words = [WORDS[int(v)] for v in roster(haul=thing_of(haul), of_trailers=columns)["verdict"]]
        except Faults:
            continue
        found.append(Effect(haul, *words))
    return _sorted(found)


def truck_effects(row: TicketRow, answer: Ticketed) -> list[Effect]:
    """The open hauls with this truck, on the ticket's unit where it has one, with the truck as it is and as weighed.

    Raises
    ------
    Faults
        If a weighed value contradicts what else is stored of the truck.
    """
    proposals = open_proposals(answer, OF_TRUCK)
    trailer = readable(row.unit) if row.unit_id else None
    found = []
    for haul in hauls_with(row):
        changed = {**haul.spec, "truck": stored(truck_with(haul.spec["truck"], proposals))}
        if trailer is None:
            found.append(Effect(haul, "not known", "not known"))
            continue
        columns = built_columns([trailer])
        try:
            both = [thing_of(haul), read_thing(HaulThing, changed)]
            words = [WORDS[int(roster(haul=h, of_trailers=columns)["verdict"][0])] for h in both]
        except Faults:
            continue
        found.append(Effect(haul, *words))
    return _sorted(found)


def _sorted(found: list[Effect]) -> list[Effect]:
    return sorted(found, key=lambda e: (not e.worse, not e.changes, str(e.haul)))
