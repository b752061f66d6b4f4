"""What taking a ticket's weights over changes: the verdict of every open haul on the unit, before and after.

Each is asked as a board asks it: on the road, driven up, and tied down with the yard's gear.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from rubrail.answers.height import built_columns
from rubrail.answers.match_joined import joined_words
from rubrail.answers.ticket_report import Ticketed
from rubrail.checks.verdict import WORDS
from rubrail.desk.hauls import stored, thing_of
from rubrail.desk.models import Haul, Place, Unit
from rubrail.desk.models import Ticket as TicketRow
from rubrail.desk.stock import readable
from rubrail.desk.tickets.keep import OF_TRAILER, OF_TRUCK, hauls_with, open_proposals, trailer_with, truck_with
from rubrail.desk.weighed_again import asked_with, gear, weighed_again
from rubrail.sheets.sentences import by_name
from rubrail.sheets.sentences_lines import why_not
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer

MOST = 40
"""Open hauls looked at."""


@dataclass(frozen=True, slots=True)
class Effect:
    """One open haul on the unit, with the weights as they were and as weighed.

    why : what governs now where the word is a worse one; asked : what it was asked about
    """

    haul: Haul
    before: str
    after: str
    why: str = ""
    asked: tuple[str, ...] = ()

    @property
    def changes(self) -> bool:
        """Whether the word is another one."""
        return self.before != self.after

    @property
    def worse(self) -> bool:
        """Whether it is a worse one."""
        return WORDS.index(self.after) < WORDS.index(self.before)


def unit_effects(row: TicketRow, answer: Ticketed, *, metric: bool = False) -> list[Effect]:
    """Every open haul on the unit, with its weights as they are and as weighed; those that change first.

    Where somebody kept its pieces on the unit they stand there, else at their best place.

    Raises
    ------
    Faults
        If a weighed value contradicts what else is stored of the unit.
    """
    before = readable(row.unit)
    after = trailer_with(row, open_proposals(answer, OF_TRAILER))
    if before is None:
        return []
    kit, both = gear(), (before, after)
    columns = built_columns(both)
    places = _places(row.unit)
    found = []
    for haul in Haul.objects.filter(closed=False)[:MOST]:
        place = places.get(haul.pk)
        try:
            thing = thing_of(haul)
            if place is None:
                words = joined_words(haul=thing, trailers=both, of_trailers=columns, kit=kit)
            else:
                words = tuple(weighed_again(thing, t, place=place, kit=kit).verdict for t in both)
        except Faults:
            continue
        found.append(_effect(haul, words, thing, after, place, kit, metric=metric))
    return _sorted(found)


def truck_effects(row: TicketRow, answer: Ticketed, *, metric: bool = False) -> list[Effect]:
    """The open hauls with this truck, on the ticket's unit where it has one, with the truck as it is and as weighed.

    Raises
    ------
    Faults
        If a weighed value contradicts what else is stored of the truck.
    """
    proposals = open_proposals(answer, OF_TRUCK)
    trailer = readable(row.unit) if row.unit_id else None
    kit = gear()
    places = _places(row.unit) if trailer else {}
    found = []
    for haul in hauls_with(row):
        changed = {**haul.spec, "truck": stored(truck_with(haul.spec["truck"], proposals))}
        if trailer is None:
            found.append(Effect(haul, "not known", "not known"))
            continue
        place = places.get(haul.pk)
        try:
            both = [thing_of(haul), read_thing(HaulThing, changed)]
            words = tuple(weighed_again(h, trailer, place=place, kit=kit).verdict for h in both)
        except Faults:
            continue
        found.append(_effect(haul, words, both[1], trailer, place, kit, metric=metric))
    return _sorted(found)


def _places(unit: Unit) -> dict[int, Place]:
    """Where the pieces of open hauls are kept on a unit, by haul."""
    return {p.haul_id: p for p in Place.objects.filter(unit=unit, haul__closed=False)}


def _effect(
    haul: Haul,
    words: tuple[str, ...],
    thing: HaulThing,
    trailer: Trailer,
    place: Place | None,
    kit: Kit | None,
    *,
    metric: bool,
) -> Effect:
    """One haul's words, and where the second is worse what governs then."""
    found = Effect(haul, *words, asked=asked_with(kit))
    if not found.worse:
        return found
    now = weighed_again(thing, trailer, place=place, kit=kit)
    line = now.governing and by_name(now.governing, now.pieces)
    return replace(found, why=why_not(line, metric=metric)) if line else found


def _sorted(found: list[Effect]) -> list[Effect]:
    return sorted(found, key=lambda e: (not e.worse, not e.changes, str(e.haul)))
