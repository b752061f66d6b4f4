"""A quote's life: written, offered, accepted, delivered; lost or withdrawn. What is offered is frozen."""

from __future__ import annotations

import hmac
import secrets
from contextlib import suppress
from dataclasses import asdict
from datetime import date, timedelta
from hashlib import sha256
from typing import Any

from django.conf import settings
from django.db import IntegrityError, transaction
from django.utils import timezone

from rubrail.answers.hand_over_lines import SORT
from rubrail.answers.report import Weighing
from rubrail.answers.weigh import weigh
from rubrail.desk import clock
from rubrail.desk.as_printed import makers_known
from rubrail.desk.audit import record
from rubrail.desk.books import rates_on
from rubrail.desk.checking.lists import drop
from rubrail.desk.derived import mark
from rubrail.desk.editing import StaleError, save_changes
from rubrail.desk.follow_plan import FollowUpError, plan_for, sold_otherwise
from rubrail.desk.hauls import stored, thing_of
from rubrail.desk.models import Haul, Quote, QuoteVersion, Unit, User
from rubrail.desk.models.checks import CheckState
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.models.stock import Status
from rubrail.desk.numbering import next_number
from rubrail.desk.sales.freeze import digest, frozen, plain
from rubrail.desk.sales.terms import NoRatesError, first_terms, payment_of, price_of
from rubrail.desk.sales.words import terms_printed, unit_said, words_refused
from rubrail.desk.standing import BY_KEY, day_fault, promised_to
from rubrail.desk.stock import moved, trailer_of
from rubrail.sheets.paper.quote import QuoteFacts, quote_sheet
from rubrail.sheets.sentences import weighing_sentence
from rubrail.things.rates import Rates
from rubrail.things.trailer import Trailer

VALID_DAYS = 14
OPEN = (QuoteStatus.DRAFT, QuoteStatus.OFFERED)


class QuoteError(ValueError):
    """A step that cannot be taken; the message is the sentence the person reads."""


def rates_now() -> Rates:
    """The yard's rates today.

    Raises
    ------
    NoRatesError
        If there are none in force.
    """
    found = rates_on(clock.today())
    if found is None:
        raise NoRatesError("The yard has no rates in force today: a file of taxes and fees must be loaded first.")
    return found


def begin(*, unit: Unit, haul: Haul | None, buyer: str, contact: str = "", by: User) -> Quote:
    """A new quote for a unit, at its asking price and with the fees of every sale."""
    terms = first_terms(unit, rates_now())
    for _ in range(5):
        try:
            with transaction.atomic():
                quote = Quote.objects.create(
                    number=next_number(Quote), unit=unit, haul=haul, buyer=buyer, contact=contact, terms=terms,
                    valid_until=clock.today() + timedelta(days=VALID_DAYS), created_by=by,
                )  # fmt: skip
                record(by=by, action="added", thing=quote)
                return quote
        except IntegrityError:
            continue  # Somebody took the number meanwhile.
    raise QuoteError("Quotes are being made faster than they can be numbered; try again.")


def offer(quote: Quote, *, by: User, seen_version: int, link: str = "") -> QuoteVersion:
    """Freeze what the quote says now as its next version, and offer it.

    Parameters
    ----------
    link : str
        Where the yard finds the quote again, printed as a code; never the buyer's secret address.

    Raises
    ------
    QuoteError, DealError, StaleError
        If it is closed already, its words claim too much, its terms cannot be priced, or somebody saved it meanwhile.
    """
    if quote.status not in OPEN:
        raise QuoteError(f"Quote {quote} is {quote.get_status_display()}; it cannot be offered again.")
    rates, unit = rates_now(), quote.unit
    filed = trailer_of(unit)
    if refused := words_refused(quote.terms, filed):
        raise QuoteError(f"It is not offered, as it claims too much. {' '.join(refused)}")
    said = unit_said(unit, filed, quote.terms, makers=makers_known())
    trailer = said.trailer
    found = price_of(terms_printed(quote.terms, said), unit, rates)
    weighing = _weighing(quote, trailer)
    number = (quote.versions.values_list("number", flat=True).first() or 0) + 1
    paper = quote_sheet(
        _facts(quote, number=number, by=by, link=link, papers=_papers(found)),
        price=found,
        trailer=trailer,
        weighing=weighing,
        sentence=weighing_sentence(weighing, tried=False) if weighing else "",
        payment=payment_of(quote.terms, found, rates),
    )
    content = frozen(paper=paper, rests_on=_rests_on(quote, rates=rates, found=found, weighing=weighing))
    with transaction.atomic():
        save_changes(quote, values={"status": QuoteStatus.OFFERED}, deltas=(), by=by, seen_version=seen_version)
        version = QuoteVersion.objects.create(
            quote=quote, number=number, by_name=by.name, total_usd=found.total_usd,
            content=content, digest=digest(content),
        )  # fmt: skip
        record(by=by, action="offered", thing=quote, more=f", version {number}, to {quote.buyer}")
    return version


def _weighing(quote: Quote, trailer: Trailer) -> Weighing | None:
    if quote.haul is None:
        return None
    return weigh(haul=thing_of(quote.haul), trailer=trailer, remedies=False)


def _facts(quote: Quote, *, number: int, by: User, link: str, papers: list[str]) -> QuoteFacts:
    terms = quote.terms
    return QuoteFacts(
        number=quote.number,
        version=number,
        buyer=quote.buyer,
        contact=quote.contact,
        date=said_date(clock.today()),
        valid_until=said_date(quote.valid_until),
        made_by=by.name,
        trade_in=terms.get("trade_in", ""),
        delivery=terms.get("delivery", ""),
        notes=terms.get("notes", ""),
        not_included=tuple(terms.get("not_included", ())),
        free_paper=papers,
        yard=settings.RUBRAIL_YARD_NAME,
        link=link,
    )


def said_date(day: date) -> str:
    """A day as paper has it: ``Nov 25, 2026``."""
    return f"{day:%b} {day.day}, {day.year}"


def _papers(found: Any) -> list[str]:
    return [p for p in (found.excise.paper, *(t.paper for t in found.taxes)) if p]


def _rests_on(quote: Quote, *, rates: Rates, found: Any, weighing: Weighing | None) -> dict[str, Any]:
    """Everything the offer rests on; costs are kept for the yard and never leave it."""
    return {
        "unit": {"stock_number": quote.unit.stock_number, "spec": quote.unit.spec, "version": quote.unit.version},
        "haul": None if quote.haul is None else {"spec": quote.haul.spec, "version": quote.haul.version},
        "terms": quote.terms,
        "rates": stored(rates),
        "price": plain(asdict(found)),
        "weighing": None if weighing is None else plain(asdict(weighing)),
        "engine": mark(),
    }


def give_link(quote: Quote, *, by: User) -> str:
    """A new secret for the buyer's address; an older one stops working. Only its digest is stored.

    Raises
    ------
    QuoteError
        If the quote is not offered.
    """
    if quote.status != QuoteStatus.OFFERED:
        raise QuoteError(f"Quote {quote} is {quote.get_status_display()}; only an offered quote has a buyer's link.")
    secret = secrets.token_urlsafe(32)
    save_changes(quote, values={"link": link_digest(secret)}, deltas=(), by=by, seen_version=quote.version)
    record(by=by, action="link given", thing=quote)
    return secret


def revoke_link(quote: Quote, *, by: User) -> None:
    """The buyer's address stops working at once."""
    save_changes(quote, values={"link": ""}, deltas=(), by=by, seen_version=quote.version)
    record(by=by, action="link revoked", thing=quote)


def link_digest(secret: str) -> str:
    """What is stored of a secret."""
    return hmac.new(settings.SECRET_KEY.encode(), b"quote link " + secret.encode(), sha256).hexdigest()


def by_link(secret: str) -> Quote | None:
    """The quote behind a buyer's address; ``None`` where there is none, or its link was revoked."""
    if not 20 <= len(secret) <= 80:
        return None
    return Quote.objects.select_related("unit", "haul").filter(link=link_digest(secret)).first()


def accept(version: QuoteVersion, *, name: str, at: str, by: User | None) -> Quote:
    """Sign the latest version, and hold the unit for this buyer; all of it or nothing.

    Parameters
    ----------
    name : str
        As the buyer typed it.
    at : str
        The address it came from.
    by : User or None
        Who entered it; ``None`` where the buyer did by the link.

    Raises
    ------
    QuoteError
        If it is not offered any more, another version is the latest, its day has passed, or the unit is another
        buyer's already.
    """
    quote = Quote.objects.select_related("unit").get(pk=version.quote_id)
    latest = quote.versions.first()
    if quote.status != QuoteStatus.OFFERED:
        raise QuoteError(f"This quote is {quote.get_status_display()}.")
    if latest.pk != version.pk:
        raise QuoteError("There is a newer version of this quote; read that one first.")
    if quote.valid_until < clock.today():
        raise QuoteError(f"This quote was valid until {said_date(quote.valid_until)}; ask the yard for a new one.")
    unit = quote.unit
    taken = QuoteError(f"Unit {unit} is another buyer's already; ask the yard.")
    if unit.status == Status.HELD and promised_to(unit) is None:
        raise QuoteError(f"Unit {unit} is held at the yard for somebody; the yard must release it first.")
    if unit.status in (Status.SOLD, Status.RETIRED, Status.HELD):
        raise taken
    try:
        with transaction.atomic():
            signed = QuoteVersion.objects.filter(pk=version.pk, signed_at=None).update(
                signed_name=name, signed_at=timezone.now(), signed_from=at
            )
            if not signed:
                raise QuoteError("This quote is signed already.")
            save_changes(quote, values={"status": QuoteStatus.ACCEPTED}, deltas=(), by=by, seen_version=quote.version)
            if unit.status == Status.HERE:
                held = {"status": Status.HELD, **moved(note=f"by quote {quote}")}
                save_changes(unit, values=held, deltas=(), by=by, seen_version=unit.version)
            record(by=by, action="accepted", thing=quote, more=f", signed by {name}")
            record(by=by, action="held", thing=unit, more=f", by quote {quote}")
    except (IntegrityError, StaleError):
        raise taken from None
    return quote


def deliver(quote: Quote, *, day: date, by: User, seen_version: int, handed_over: bool = False) -> int:
    """The unit went to its buyer: the quote is delivered, the unit sold, and what is owed later planned; how much is.

    Parameters
    ----------
    quote : Quote
    day : date
        It went on.
    by : User
    seen_version : int
        Version of the quote the person had before them.
    handed_over : bool
        Whether a hand-over was signed. Without one, the trail says so, and one under way is given up.

    Raises
    ------
    QuoteError
        If it was not accepted, the unit is not here yet, or the day is no day of delivery.
    StaleError
        If somebody saved the quote meanwhile.
    """
    if quote.status != QuoteStatus.ACCEPTED:
        raise QuoteError(f"Quote {quote} is {quote.get_status_display()}; only an accepted one is delivered.")
    unit = quote.unit
    if unit.status == Status.EXPECTED:
        raise QuoteError(f"Unit {unit} is not here yet: receive it first.")
    if fault := day_fault(unit, BY_KEY["sell"], day):
        raise QuoteError(f"It went on: {fault}")
    planned = 0
    with transaction.atomic():
        save_changes(
            quote,
            values={"status": QuoteStatus.DELIVERED, "delivered": day, "link": ""},
            deltas=(),
            by=by,
            seen_version=seen_version,
        )
        sold = {"status": Status.SOLD, "status_since": day, "status_note": f"by quote {quote}"}
        save_changes(unit, values=sold, deltas=(), by=by, seen_version=unit.version)
        without = "" if handed_over else ", without a hand-over"
        record(by=by, action="delivered", thing=quote, more=f" on {said_date(day)}{without}")
        record(by=by, action="sold", thing=unit, more=f", by quote {quote}")
        _end_hand_over(unit, by=by)
        # A unit that no longer reads is delivered all the same; its page says so, and they are planned from there.
        with suppress(FollowUpError):
            planned = len(plan_for(unit=unit, quote=quote, delivered=day, by=by))
    return planned


def _end_hand_over(unit: Unit, *, by: User) -> None:
    """A hand-over under way of a unit that is not to be handed over any more is given up."""
    for it in unit.checklists.filter(sort=SORT, state=CheckState.OPEN):
        drop(it, by=by)


def close(quote: Quote, *, status: QuoteStatus, why: str, by: User, seen_version: int) -> None:
    """Write a quote off as lost, or withdraw it; a unit it held stands in the yard again.

    Raises
    ------
    QuoteError
        If it was delivered or closed already.
    """
    if quote.status not in (*OPEN, QuoteStatus.ACCEPTED):
        raise QuoteError(f"Quote {quote} is {quote.get_status_display()} already.")
    held, unit = quote.status == QuoteStatus.ACCEPTED, quote.unit
    values = {"status": status, "lost_because": why[:200], "link": ""}
    with transaction.atomic():
        save_changes(quote, values=values, deltas=(), by=by, seen_version=seen_version)
        record(by=by, action=str(status.value), thing=quote, more=f": {why}" if why else "")
        if held and unit.status == Status.HELD:
            save_changes(unit, values={"status": Status.HERE, **moved()}, deltas=(), by=by, seen_version=unit.version)
            record(by=by, action="released", thing=unit, more=f", by quote {quote}")
        if held:
            _end_hand_over(unit, by=by)
            sold_otherwise(quote)
