"""Words somebody typed that buyers do not read: titles, colors and captions that make a refused claim."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count, Max, QuerySet, Sum
from django.db.models.fields.json import KT

from rubrail.answers.claims import known_facts
from rubrail.desk.listings import Terms, price_of
from rubrail.desk.models import Unit
from rubrail.desk.models.stock import ON_THE_LOT
from rubrail.desk.shelf import Shelf
from rubrail.desk.stock import readable
from rubrail.rules.claims import UnitFacts
from rubrail.sheets.listing_typed import IN_LISTS, made_title, true_of, typed_fails
from rubrail.sheets.site.shown import mark_of

_held: Shelf[LeftOut] = Shelf(20_000)
_lists: Shelf[dict[str, LeftOut]] = Shelf(2)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What of a unit's typed words is left out.

    facts : names of facts, of ``sheets.listing_typed``; captions : of photos; title : what buyers read in place of
    the unit's own, ``""`` where that holds
    """

    facts: frozenset[str] = frozenset()
    captions: frozenset[str] = frozenset()
    title: str = ""


def left_out(
    unit: Unit,
    *,
    payload_lb: float | None,
    price_usd: Decimal | None,
    captions: Iterable[str] = (),
    terms: Terms,
    rests_on: str,
) -> LeftOut:
    """What of a unit's typed words is left out where buyers read them.

    Parameters
    ----------
    unit : Unit
        With its ``condition``.
    payload_lb : float or None
        What it carries.
    price_usd : Decimal, optional
        Its price, where it may be shown.
    captions : iterable of str
        What its photos are said to show.
    terms : Terms
    rests_on : str
        Mark of all of this.
    """
    found = _held.get(rests_on)
    if found is None:
        found = _found(unit, payload_lb, price_usd, tuple(captions), terms)
        _held.put(rests_on, found)
    return found


def _found(
    unit: Unit, payload_lb: float | None, price_usd: Decimal | None, captions: tuple[str, ...], terms: Terms
) -> LeftOut:
    known = known_facts(
        gvwr_lb=unit.gvwr_lb,
        payload_lb=payload_lb,
        empty_lb=unit.empty_weight_lb,
        price_usd=price_usd,
        axles=unit.axle_count,
        year=unit.year,
        used=unit.condition != "new",
        maker=unit.maker,
        makers=terms.makers,
    )

    def true() -> UnitFacts:
        trailer = readable(unit)
        return known if trailer is None else true_of(trailer, terms.makers, price_usd)

    facts, spoken = typed_fails(typed_words(unit), captions, known=known, true=true)
    return LeftOut(facts, spoken, _made(unit) if "title" in facts or (facts and not unit.title) else "")


def _made(unit: Unit) -> str:
    trailer = readable(unit)
    return unit.stock_number if trailer is None else made_title(trailer)


def typed_words(unit: Unit) -> Mapping[str, str]:
    """A unit's typed words that lists show by themselves, by the name of their fact."""
    return {name: getattr(unit, name) for name in IN_LISTS}


def title_here(unit: Unit, *, payload_lb: float | None, terms: Terms) -> str:
    """What a unit is called where buyers read it.

    Parameters
    ----------
    unit : Unit
        With its ``condition`` and its listing.
    payload_lb : float or None
        What it carries.
    terms : Terms
    """
    return _of_lists(unit, payload_lb, terms, terms.mark).title or unit.says


def offered() -> QuerySet[Unit]:
    """Units somebody chose to show and that are for sale."""
    return Unit.objects.filter(listing__shown=True, status__in=ON_THE_LOT)


def words_left_out(terms: Terms) -> dict[str, LeftOut]:
    """By their stock number, units on the public pages of whose typed words something is left out, captions aside."""
    there = offered()
    stamp = there.aggregate(
        Count("pk"), Sum("version"), Max("updated"), Sum("listing__version"), Max("listing__updated")
    )
    key = (*stamp.values(), terms.mark, terms.today)
    found = _lists.get(key)
    if found is None:
        found = _looked_at(there, terms)
        _lists.put(key, found)
    return found


def _looked_at(there: QuerySet[Unit], terms: Terms) -> dict[str, LeftOut]:
    units = there.select_related("listing").annotate(condition=KT("spec__condition"))
    shared = terms.mark
    found = {
        u.stock_number: _of_lists(u, u.payload_lb, terms, shared)
        for u in units.defer("spec", "packed", "thumbnail").order_by("stock_number")
    }
    return {stock_number: out for stock_number, out in found.items() if out.facts}


def _of_lists(unit: Unit, payload_lb: float | None, terms: Terms, shared: str) -> LeftOut:
    price_usd = price_of(unit, terms).usd
    rests_on = mark_of([unit.pk, unit.version, unit.updated, price_usd, payload_lb, shared])
    return left_out(unit, payload_lb=payload_lb, price_usd=price_usd, terms=terms, rests_on=rests_on)
