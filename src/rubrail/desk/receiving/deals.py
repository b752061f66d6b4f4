"""Every deal on a unit weighed again with what came, against what was ordered: which no longer hold, and by how much.

A deal is an open quote, an order for a haul, or a place somebody kept for a haul on the unit. Each is asked on the
road with its pieces where they were kept, whether they get up, and whether the yard's gear holds them there.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

from django.db.models import Q

from rubrail.answers.report import Line, Weighing
from rubrail.checks.verdict import WORDS
from rubrail.desk.board import STATUSES, Entries, standing
from rubrail.desk.hauls import in_short, thing_of
from rubrail.desk.models import Haul, Order, Place, Quote, Unit
from rubrail.desk.models.sales import OrderStatus, QuoteStatus
from rubrail.desk.models.stock import Status
from rubrail.desk.sales.freeze import plain
from rubrail.desk.weighed_again import asked_with, gear, weighed_again
from rubrail.sheets.sentences import by_name, weighing_sentence
from rubrail.sheets.sentences_amounts import text_in_metric
from rubrail.sheets.sentences_deals import ROAD, asked_sentence, deal_reason, deal_state
from rubrail.sheets.sentences_lines import limit_name, spare
from rubrail.sheets.sentences_words import together
from rubrail.things.faults import Faults
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer

OPEN_QUOTES = (QuoteStatus.DRAFT, QuoteStatus.OFFERED, QuoteStatus.ACCEPTED)
MOST = 40
"""Deals of one unit weighed again at once."""
OTHERS = 3
RESULTS = ("broken", "doubtful", "unknown", "unweighed", "over", "holds")
"""How a deal can come out, the gravest first."""
TOUCHED = ("broken", "doubtful")
"""Those that what came made worse."""
UNWEIGHED = ""
"""Verdict of a deal that cannot be weighed: it has no haul, or its haul no longer reads."""


@dataclass(frozen=True, slots=True)
class Side:
    """A deal on the unit in one state: its verdict, the sentence, and the limit that governs.

    margin, limit : of the governing limit, in ``unit``; ``None`` where not known
    """

    verdict: str = UNWEIGHED
    sentence: str = ""
    governs: str = ""
    margin: float | None = None
    unit: str = ""
    over: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Deal:
    """One haul, with what hangs on this unit for it, as ordered and as it came.

    result : ``broken`` (was not over, and is now), ``doubtful`` (worse than as ordered, not over), ``unknown`` (not
    known, and no worse), ``holds`` (at the stated values, and no worse), ``over`` (over already as ordered),
    ``unweighed``;
    why : what got worse, one phrase; quote_status : word people read; placed : somebody kept a place;
    others : units that carry the haul, best first, as the haul's board had them; asked : what it was asked about.
    """

    haul: int | None
    haul_title: str
    buyer: str
    quote: str
    quote_status: str
    order: str
    placed: bool
    before: Side
    after: Side
    result: str
    why: str = ""
    cargo_lb: float | None = None
    others: tuple[str, ...] = ()
    asked: tuple[str, ...] = (ROAD,)

    @property
    def name(self) -> str:
        """Whose deal it is, or what it is."""
        return self.buyer or self.haul_title or self.quote or self.order

    @property
    def pressing(self) -> bool:
        """Whether a buyer signed it."""
        return self.quote_status == str(QuoteStatus.ACCEPTED.label)

    @property
    def rank(self) -> tuple[int, bool]:
        """Sorts the broken first, and among them what a buyer signed."""
        return (RESULTS.index(self.result), not self.pressing)

    @property
    def state(self) -> tuple[str, str]:
        """The verdict word whose shape it shows, and how it stands, in words."""
        return deal_state(result=self.result, before=self.before.verdict, after=self.after.verdict)

    @property
    def reason(self) -> str:
        """What is against it, one sentence; ``""`` where nothing new is."""
        return deal_reason(result=self.result, after=self.after.verdict, why=self.why)


@dataclass(frozen=True, slots=True)
class _Hung:
    """What hangs on a unit for one haul, or for none."""

    haul: Haul | None
    quotes: tuple[Quote, ...] = ()
    order: Order | None = None
    place: Place | None = None


def deals_of(
    unit: Unit, *, before: Trailer | None, after: Trailer, with_others: bool = True, haul: int | None = None
) -> list[Deal]:
    """Every deal on a unit, the broken first.

    Parameters
    ----------
    unit : Unit
    before : Trailer or None
        As ordered; without it nothing can have become worse.
    after : Trailer
        As it came.
    with_others : bool
        Also name other units from the boards of the hauls that no longer hold.
    haul : int, optional
        Only those for this haul.
    """
    found = []
    kit = gear()
    for hung in [h for h in _hung(unit) if haul is None or (h.haul and h.haul.pk == haul)][:MOST]:
        sides = [_side(hung, t, kit) for t in (before, after)]
        result, why = _result(*sides)
        others = _others(hung.haul, unit) if with_others and hung.haul and result in TOUCHED else ()
        found += [_deal(hung, quote, sides, result, why, others, asked_with(kit)) for quote in hung.quotes or (None,)]
    return sorted(found, key=lambda d: d.rank)


def _hung(unit: Unit) -> list[_Hung]:
    """What hangs on a unit: by haul, the quotes without one last. Four queries."""
    quotes = list(
        Quote.objects.filter(unit=unit, status__in=OPEN_QUOTES).select_related("haul").order_by("-status", "pk")
    )
    order = Order.objects.filter(unit=unit).exclude(status=OrderStatus.DROPPED).defer("content").first()
    places = {p.haul_id: p for p in Place.objects.filter(unit=unit, haul__closed=False)}
    keys = {q.haul_id for q in quotes} | set(places) | {order.haul_id if order else None}
    hauls = Haul.objects.filter(Q(closed=False) | Q(quotes__in=quotes), pk__in=keys - {None}).distinct().order_by("pk")
    found = [
        _Hung(
            haul,
            tuple(q for q in quotes if q.haul_id == haul.pk),
            order if order and order.haul_id == haul.pk else None,
            places.get(haul.pk),
        )
        for haul in hauls
    ]
    bare = tuple(q for q in quotes if q.haul_id is None)
    return [*found, *([_Hung(None, bare)] if bare else [])]


def _side(hung: _Hung, trailer: Trailer | None, kit: Kit | None) -> Side:
    if trailer is None or hung.haul is None:
        return Side()
    try:
        thing = thing_of(hung.haul)
    except Faults:
        return Side()
    return _told(weighed_again(thing, trailer, place=hung.place, kit=kit))


def _told(w: Weighing) -> Side:
    sentence = weighing_sentence(w, tried=False)
    over = _over(w)
    if w.governing is None:
        return Side(w.verdict, sentence, over=over)
    line = by_name(w.governing, w.pieces)
    known = math.isfinite(line.margin)
    return Side(
        w.verdict, sentence, limit_name(line.title, line.member), line.margin if known else None, line.unit, over
    )


def _over(w: Weighing) -> tuple[str, ...]:
    """What is over, one phrase a limit; of several axles that fail alike, all in one."""
    members: dict[tuple[str, str], list[str]] = {}
    for line in (by_name(x, w.pieces) for x in w.lines):
        if _grave(line):
            members.setdefault((line.title, spare(line)), []).append(line.member)
    return tuple(
        ", ".join(x for x in (limit_name(title, together([m for m in named if m])), past) if x)
        for (title, past), named in members.items()
    )


def _grave(line: Line) -> bool:
    return line.verdict == "over" and line.kind in ("rating", "law", "fit")


def _result(before: Side, after: Side) -> tuple[str, str]:
    if after.verdict == UNWEIGHED:
        return "unweighed", ""
    new = [o for o in after.over if o.partition(",")[0] not in {x.partition(",")[0] for x in before.over}]
    why = "; ".join(new or after.over)
    if after.verdict == "over":
        return ("over" if before.verdict == "over" else "broken"), why
    if before.verdict != UNWEIGHED and WORDS.index(after.verdict) < WORDS.index(before.verdict):
        return "doubtful", after.governs
    return ("unknown" if after.verdict == "not known" else "holds"), ""


def _deal(
    hung: _Hung,
    quote: Quote | None,
    sides: list[Side],
    result: str,
    why: str,
    others: tuple[str, ...],
    asked: tuple[str, ...],
) -> Deal:
    haul = hung.haul
    return Deal(
        haul=haul.pk if haul else None,
        haul_title=haul.title if haul else "",
        buyer=(quote.buyer if quote else "") or (haul.buyer if haul else ""),
        quote=quote.number if quote else "",
        quote_status=quote.get_status_display() if quote else "",
        order=hung.order.number if hung.order else "",
        placed=hung.place is not None,
        before=sides[0],
        after=sides[1],
        result=result,
        why=why,
        cargo_lb=in_short(haul.spec).weight_lb if haul else None,
        others=others,
        asked=asked,
    )


def _others(haul: Haul, unit: Unit) -> tuple[str, ...]:
    """Other units that carry a haul clear or nearly so, as far as its board is known; never a guess."""
    try:
        entries = standing(haul, patience_s=0.0).entries
    except Faults:
        return ()
    wanted = [int(e["unit"]) for e in _good(entries) if int(e["unit"]) != unit.pk][:OTHERS]
    numbers = dict(Unit.objects.filter(pk__in=wanted).values_list("pk", "stock_number"))
    return tuple(numbers[pk] for pk in wanted if pk in numbers)


def _good(entries: Entries) -> Iterable[Any]:
    free = [STATUSES.index(s) for s in (Status.HERE, Status.EXPECTED)]
    good = (WORDS.index("clear"), WORDS.index("depends"))
    return (e for e in entries if e["status"] in free and e["verdict"] in good)


def need_lb(deals: Iterable[Deal]) -> float | None:
    """The heaviest cargo a buyer waits to put on the unit; nothing where none is known. [lb]

    A buyer waits who signed, or for whom it was ordered. What it was over for already as ordered is no fault of what
    came.
    """
    waits = [d for d in deals if (d.pressing or d.order) and d.result != "over"]
    return max((d.cargo_lb for d in waits if d.cargo_lb is not None), default=None)


def frozen(deals: Iterable[Deal]) -> list[dict[str, Any]]:
    """Deals as a receipt keeps them."""
    return [plain(asdict(d)) for d in deals]


def thawed(rows: Iterable[Mapping[str, Any]]) -> list[Deal]:
    """Deals as a receipt kept them."""
    return [
        Deal(
            **{
                **row,
                "before": Side(**{**row["before"], "over": tuple(row["before"]["over"])}),
                "after": Side(**{**row["after"], "over": tuple(row["after"]["over"])}),
                "others": tuple(row["others"]),
                # One frozen before driving up and tying down were asked says nothing of them.
                "asked": tuple(row.get("asked", (ROAD,))),
            }
        )
        for row in rows
    ]


def on_page(deals: Iterable[Deal], *, metric: bool) -> dict[str, Any]:
    """Deals as a page shows them: those with something to say, how many hold, and what all were asked about."""
    found = [in_metric(d) if metric else d for d in deals]
    return {
        "deals": [d for d in found if d.result != "holds"],
        "holding": sum(1 for d in found if d.result == "holds"),
        "broken": sum(1 for d in found if d.result in TOUCHED),
        "asked": asked_sentence(found[0].asked) if found else "",
    }


def in_metric(deal: Deal) -> Deal:
    """The same deal with its sentences in metric."""
    sides = (replace(s, sentence=text_in_metric(s.sentence)) for s in (deal.before, deal.after))
    return replace(deal, why=text_in_metric(deal.why), **dict(zip(("before", "after"), sides, strict=True)))
