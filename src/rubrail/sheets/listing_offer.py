"""One unit as it is offered: its public facts, its price, its text, and what of the text is refused."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from rubrail.answers.claims import Refused, refused_in, unit_facts
from rubrail.answers.price import excise_tax
from rubrail.answers.price_facts import excise_facts
from rubrail.answers.reading import Reading, read_unit
from rubrail.rules.claims import UnitFacts
from rubrail.sheets.listing import WORDS, Listing, listing_text
from rubrail.sheets.listing_facts import PublicFacts, public_facts
from rubrail.sheets.listing_price import PriceShown, price_shown
from rubrail.sheets.listing_typed import TYPED, made_title, typed_refused

if TYPE_CHECKING:
    from rubrail.things.listing import ListingText
    from rubrail.things.rates import Rates
    from rubrail.things.trailer import Trailer


@dataclass(frozen=True, slots=True)
class Offer:
    """One unit as it is offered.

    title : what pages and feeds name it by, made of facts alone where its own title makes a claim that is refused
    facts, price : what may be told of it; true : what claims are held against; text : the listing, with the yard's own
    words for the unit where they hold; refused : claims of the wording, for which nothing of the text may be shown;
    words_refused : claims of the own words, for which those are left out; typed_refused : claims of the title and of
    other typed facts, which are left out too
    """

    title: str
    facts: PublicFacts
    price: PriceShown
    true: UnitFacts
    text: Listing
    refused: tuple[Refused, ...]
    words_refused: tuple[Refused, ...]
    typed_refused: tuple[Refused, ...]


def offer(
    trailer: Trailer,
    wording: ListingText,
    *,
    checked: date | None,
    today: date,
    reading: Reading | None = None,
    words: str = "",
    yard: str = "",
    rates: Rates | None = None,
    makers: Iterable[str] = (),
    metric: bool = False,
) -> Offer:
    """Word a unit and hold every claim of the text against what is true of it.

    Parameters
    ----------
    trailer : Trailer
        With its asking price.
    wording : ListingText
        The yard's, or the plain one that ships with the program.
    checked : date or None
        Day somebody last set its price or said that it is still right; ``None`` where nobody knows.
    today : date
    reading : Reading, optional
        ``answers.reading.read_unit`` of the same trailer, read before.
    words : str
        The yard's own words for this unit.
    yard : str
        Name of the yard.
    rates : Rates, optional
        The yard's own: what comes on top of the price.
    makers : iterable of str
        Makers the yard knows.
    metric : bool
    """
    reading = read_unit(trailer) if reading is None else reading
    tax = None if rates is None else excise_tax((), facts=excise_facts(trailer), rates=rates)
    price = price_shown(
        price_usd=trailer.price_usd,
        checked=checked,
        today=today,
        stale_days=wording.stale_days,
        ask_days=wording.ask_days,
        rates=rates,
        excise=tax,
    )
    facts = public_facts(
        trailer, reading=reading, price=price, yard=yard, vin=wording.vin, warranty=wording.warranty, metric=metric
    )
    true = unit_facts(
        trailer,
        reading=reading,
        price_usd=price.usd,
        added=price.without,
        excise="not known" if tax is None else tax.standing,
        makers=makers,
    )
    fails = typed_refused({key: facts.text(key) for key in TYPED}, true)
    title = made_title(trailer) if "title" in fails else trailer.title or ""
    facts = facts.instead({key: title if key == "title" else "" for key in fails})
    words_refused = refused_in([(WORDS, words)], true)
    text = listing_text(facts, wording, words="" if words_refused else words)
    own = [(where, said) for where, said in text.parts() if where != WORDS]
    typed = tuple(r for several in fails.values() for r in several)
    return Offer(title, facts, price, true, text, refused_in(own, true), words_refused, typed)
