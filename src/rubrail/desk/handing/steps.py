"""Steps of a hand-over: begun for the accepted quote of a unit, signed and delivered, all of it or nothing."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from django.db import transaction
from django.utils import timezone

from rubrail.answers.hand_over_keep import as_read
from rubrail.answers.hand_over_lines import SORT, hand_over_list
from rubrail.desk import clock
from rubrail.desk.audit import record
from rubrail.desk.checking.lists import own_checks, result_table, trailer_read
from rubrail.desk.editing import StaleError
from rubrail.desk.handing.paper import paper_now
from rubrail.desk.handing.stand import Stand, quote_of, stand_of
from rubrail.desk.hauls import change_haul, thing_of
from rubrail.desk.models import CheckEntry, Checklist, Quote, Unit, User
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.models.stock import Status
from rubrail.desk.sales.freeze import digest, frozen, plain
from rubrail.desk.sales.quotes import QuoteError, deliver, said_date
from rubrail.desk.signatures import Signature
from rubrail.desk.stock import readable
from rubrail.sheets.paper.made import Stamp
from rubrail.sheets.sentences_hand_over import inspected_words, signed_sentence
from rubrail.things.faults import Faults

MOST_WHY = 500
EARLIEST_DAYS = 30
"""How far back a day of delivery may lie."""


class HandOverError(ValueError):
    """A step that cannot be taken; the message is the sentence the person reads."""


class MeanwhileError(Exception):
    """Somebody else entered something since the page was opened."""

    def __init__(self, entry: CheckEntry) -> None:
        super().__init__(str(entry))
        self.entry = entry


def waiting() -> list[Quote]:
    """Accepted quotes of units that stand here or are still to come, the oldest first."""
    return list(
        Quote.objects.filter(status=QuoteStatus.ACCEPTED).select_related("unit", "haul").order_by("updated", "pk")
    )


def begin(unit: Unit, *, by: User) -> Checklist:
    """A hand-over begun for the accepted quote of a unit; the one under way where there is one.

    Raises
    ------
    HandOverError
        If no quote for the unit is accepted, or it is not here yet.
    UnreadableUnitError
        If what is stored of the unit no longer reads.
    """
    with transaction.atomic():
        # Two who begin at once wait here for each other.
        Unit.objects.select_for_update().get(pk=unit.pk)
        quote = unit.quotes.filter(status=QuoteStatus.ACCEPTED).select_related("haul").first()
        if quote is None:
            raise HandOverError(f"No quote for unit {unit} is accepted, so there is nobody to hand it to.")
        if unit.status == Status.EXPECTED:
            raise HandOverError(f"Unit {unit} is not here yet: receive it first.")
        there = unit.checklists.filter(sort=SORT, state=CheckState.OPEN).first()
        if there is not None and there.about.get("quote") == quote.number:
            return there
        trailer = trailer_read(readable(unit))
        try:
            haul = None if quote.haul is None else thing_of(quote.haul)
        except Faults:
            haul = None
        about = {
            "unit": {"stock_number": unit.stock_number, "says": unit.says, "vin": unit.vin},
            "quote": quote.number,
            "buyer": quote.buyer,
            "truck": "" if haul is None else haul.truck.title or haul.truck.id,
        }
        made = Checklist.objects.create(
            unit=unit, haul=quote.haul, sort=SORT, about=about, created_by=by,
            lines=[line.table() for line in hand_over_list(trailer, haul=haul, own=own_checks())],
        )  # fmt: skip
        record(by=by, action="begun", thing=made, more=f": hand-over of unit {unit}")
    return made


@dataclass(frozen=True, slots=True)
class Signing:
    """What is sent to finish: who signs, the day, why it goes all the same, what is kept, what the signer saw.

    seen_quote : version of the quote; seen_entry : the last entry on the signer's page
    """

    buyer: Signature
    yard: Signature
    day: date
    why: str
    keep: bool
    seen_quote: int
    seen_entry: int


def finish(it: Checklist, signing: Signing, *, by: User, stamp: Stamp) -> Checklist:
    """Sign a hand-over: sheet frozen, quote delivered, unit sold, follow-ups planned; all of it or nothing.

    One that is signed already stays as it is.

    Raises
    ------
    HandOverError
        If it was given up, the day is no day of delivery, it holds and nobody says why it goes all the same, or what
        was read of the truck cannot be kept.
    MeanwhileError
        If somebody else entered something the signer has not seen.
    QuoteError, StaleError
        If the quote is not accepted any more, or somebody saved it meanwhile.
    """
    with transaction.atomic():
        it = Checklist.objects.select_for_update().select_related("unit", "haul").get(pk=it.pk)
        if it.state == CheckState.RELEASE:
            return it
        if it.state != CheckState.OPEN:
            raise HandOverError("This hand-over was given up; begin a new one.")
        _check(it, signing, by=by)
        stand = stand_of(it)
        if stand.quote is None:
            raise HandOverError("The quote of this hand-over is not there any more.")
        if stand.holds and not signing.why:
            raise HandOverError(
                f"{stand.says()} To hand it over all the same, write why: it stays on the sheet with your name."
            )
        _sign(it, stand, signing, by=by, stamp=stamp)
        deliver(stand.quote, day=signing.day, by=by, seen_version=signing.seen_quote, handed_over=True)
        if signing.keep:
            _keep_truck(it, stand, by=by)
    return it


def _check(it: Checklist, signing: Signing, *, by: User) -> None:
    today = clock.today()
    if not 0 <= (today - signing.day).days <= EARLIEST_DAYS:
        raise HandOverError(
            f"Day: {said_date(signing.day)} is no day of delivery; give today or one of the last {EARLIEST_DAYS} days."
        )
    if len(signing.why) > MOST_WHY:
        raise HandOverError(f"Why: it has {len(signing.why)} letters; at most {MOST_WHY} are kept.")
    newer = it.entries.filter(pk__gt=signing.seen_entry).exclude(by=by).select_related("by").last()
    if newer is not None:
        raise MeanwhileError(newer)


def _sign(it: Checklist, stand: Stand, signing: Signing, *, by: User, stamp: Stamp) -> None:
    now = timezone.now()
    regardless = {"why": signing.why, "by": by.name, "at": now.isoformat()} if stand.holds else {}
    it.signatures = [
        signing.buyer.stored(at=now, role="buyer", by=by.name),
        signing.yard.stored(at=now, role="for the yard", by=by.name),
    ]
    it.state, it.finished, it.finished_by, it.version = CheckState.RELEASE, now, by, it.version + 1
    says = signed_sentence(stand.says(), regardless=bool(regardless))
    it.result = {
        **result_table(stand.told, sort=it.sort),
        "says": says,
        "mark": stand.mark,
        "regardless": regardless,
        "inspection": inspected_words(stand.inspected),
        "day": signing.day.isoformat(),
    }
    paper = paper_now(it, stand, stamp=stamp, metric=by.measures == "metric")
    content = frozen(paper=paper, rests_on=_rests_on(stand))
    it.result |= {"content": content, "digest": digest(content)}
    it.save()
    record(by=by, action="signed", thing=it, more=f": {'handed over regardless' if regardless else 'handed over'}")


def _rests_on(stand: Stand) -> dict[str, Any]:
    return {
        "hand_over": None if stand.found is None else plain(asdict(stand.found)),
        "inspection": {"number": stand.inspection and stand.inspection.pk, "says": inspected_words(stand.inspected)},
    }


def _keep_truck(it: Checklist, stand: Stand, *, by: User) -> None:
    """The truck as it was read and measured, on the haul: the next one is weighed with it."""
    haul = stand.unmeasured
    if it.haul is None or haul is None or stand.filed is None or stand.found is None or stand.found.against:
        return
    try:
        truck = as_read(haul.truck, haul=haul, trailer=stand.filed, readings=stand.readings)
    except Faults as told:
        says = " ".join(f.sentence for f in told.faults)
        raise HandOverError(f"What was read of the truck cannot be kept with the haul: {says}") from None
    if truck != haul.truck:
        thing = haul.model_copy(update={"truck": truck})
        change_haul(it.haul, thing, buyer=it.haul.buyer, title=it.haul.title, by=by, seen_version=it.haul.version)


def last_entry(it: Checklist) -> int:
    """The number of the latest entry, 0 where there is none."""
    return it.entries.order_by("-pk").values_list("pk", flat=True).first() or 0


__all__ = [
    "HandOverError", "MeanwhileError", "QuoteError", "Signing", "StaleError", "begin", "finish", "last_entry",
    "quote_of", "waiting",
]  # fmt: skip
