"""How a hand-over stands: the unit's inspection, its list as entered, and the rig weighed again with it."""

from __future__ import annotations

from dataclasses import dataclass

from rubrail.answers.checklist_judge import result
from rubrail.answers.checklist_parts import Entry, Line, Reason, Result
from rubrail.answers.hand_over import hand_over
from rubrail.answers.hand_over_fields import Readings
from rubrail.answers.hand_over_lines import readings_of
from rubrail.answers.hand_over_put import with_readings
from rubrail.answers.hand_over_report import HandOver, Inspected
from rubrail.desk import clock
from rubrail.desk.checking.lists import entries_for, latest, lines_of, photos_of
from rubrail.desk.handing.inspected import inspected
from rubrail.desk.handing.promise import promised_by
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Checklist, Quote
from rubrail.desk.stock import readable
from rubrail.sheets.sentences_hand_over import list_sentence, stand_sentence
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class Stand:
    """A hand-over now.

    told : what its list comes to; found : the weighing, nothing where the unit no longer reads
    inspected : how its pre-delivery inspection stands; inspection : the list that says so, where there is one
    haul, trailer : as measured, for drawings; unmeasured, filed : as they are stored
    readings : what was read and measured, nothing where the unit no longer reads
    """

    quote: Quote | None
    lines: tuple[Line, ...]
    entries: dict[str, Entry]
    told: Result
    found: HandOver | None
    inspected: Inspected
    inspection: Checklist | None
    haul: Haul | None
    trailer: Trailer | None
    unmeasured: Haul | None
    filed: Trailer | None
    readings: Readings

    @property
    def holds(self) -> bool:
        """Whether it must not go without a decision: by inspection, weighing or list."""
        return self.inspected.holds or self.found is None or self.found.held or self.told.outcome == "hold"

    @property
    def mark(self) -> str:
        """Shape and color of the whole."""
        bad = any(r.judged.mark in ("not ok", "not known") for r in self.told.reasons)
        bad = bad or self.inspected.state == "hold"
        if (self.found is not None and self.found.verdict == "over") or bad:
            return "over"
        unknown = self.inspected.holds or self.told.outcome == "hold"
        if self.found is None or self.found.verdict == "not known" or unknown:
            return "not known"
        return self.found.verdict

    def says(self, *, metric: bool = False) -> str:
        """The first sentence: whether to hand over, and why."""
        return stand_sentence(self.found, self.told, inspected=self.inspected, metric=metric)

    def list_says(self) -> str:
        """What stands open or wrong in the list."""
        return list_sentence(self.told)

    @property
    def wrong(self) -> tuple[Reason, ...]:
        """Lines looked at and not in order."""
        return tuple(r for r in (*self.told.reasons, *self.told.remarks) if r.judged.mark != "open")


def quote_of(it: Checklist) -> Quote | None:
    """The quote a hand-over belongs to."""
    number = it.about.get("quote", "")
    return Quote.objects.select_related("unit", "haul").filter(number=number).first() if number else None


def stand_of(it: Checklist) -> Stand:
    """How a hand-over under way stands, reckoned now."""
    lines = lines_of(it)
    entries = entries_for(lines, latest(it), photos_of(it))
    told = result(lines, entries, on=clock.today())
    quote, trailer = quote_of(it), readable(it.unit)
    haul = _haul(it)
    found = measured = unit = None
    readings: Readings = {}
    if trailer is not None:
        readings = readings_of(lines, entries, plug=trailer.plug)
        found = hand_over(haul=haul, trailer=trailer, readings=readings, promised=promised_by(quote))
        measured, unit = haul, trailer
        if haul is not None and not found.against:
            measured, unit, _ = with_readings(haul=haul, trailer=trailer, readings=readings)
    return Stand(
        quote, tuple(lines), entries, told, found, *inspected(it.unit), measured, unit, haul, trailer, readings
    )


def _haul(it: Checklist) -> Haul | None:
    if it.haul is None:
        return None
    try:
        return thing_of(it.haul)
    except Faults:
        return None
