"""The list of units as static pages: all of them, by deck, by coupling, each in several orders, a page at a time."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from rubrail.quantity.money import show_money
from rubrail.sheets.sentences_amounts import amount, feet
from rubrail.sheets.sentences_words import begin
from rubrail.sheets.site.frame import PageHead, page
from rubrail.sheets.site.markup import Child, Markup, el
from rubrail.sheets.site.shown import COUPLING_WORDS, DECK_WORDS, STANDING_WORDS, SiteUnit, SiteYard

A_PAGE = 24
"""Units on one page."""


@dataclass(frozen=True, slots=True)
class Order:
    """An order of the list: its name in addresses, its words, and what it goes by; what is not known comes last."""

    name: str
    says: str
    by: Callable[[SiteUnit], Any]
    most_first: bool = False

    def of(self, units: Sequence[SiteUnit]) -> list[SiteUnit]:
        """Units in this order, those that are equal by their stock number."""
        rows = sorted(units, key=lambda u: u.stock_number)
        there = [u for u in rows if self.by(u) is not None]
        there.sort(key=self.by, reverse=self.most_first)
        return there + [u for u in rows if self.by(u) is None]


ORDERS = (
    Order("newest", "newest first", lambda u: u.since or (date.min if u.standing != "expected" else None), True),
    Order("carries", "carries most first", lambda u: u.payload_lb, True),
    Order("price", "lowest price first", lambda u: u.price_usd),
    Order("deck", "longest deck first", lambda u: u.deck_length_in, True),
)
FACETS = {
    "deck": ("Deck", DECK_WORDS, lambda u: u.deck),
    "coupling": ("Coupling", COUPLING_WORDS, lambda u: u.coupling),
}
"""What the list is narrowed by: its name, its words, and how it is read of a unit."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way to look at the list: narrowed or not, in an order."""

    facet: str = ""
    value: str = ""
    order: Order = ORDERS[0]

    @property
    def stem(self) -> str:
        """Name of its first page's file, without the ending."""
        ordered = "" if self.order is ORDERS[0] else f"by-{self.order.name}"
        return "-".join(filter(None, (self.value, ordered))) or "index"

    def path(self, number: int = 1) -> str:
        """File of one of its pages."""
        return f"{self.stem}.html" if number == 1 else f"{self.stem}-page-{number}.html"

    @property
    def title(self) -> str:
        """What the page is called."""
        return f"Trailers: {FACETS[self.facet][1][self.value]}" if self.facet else "Trailers"


@dataclass(frozen=True, slots=True)
class ListPage:
    """One page of a way to look: which units of how many."""

    way: Way
    number: int
    pages: int
    units: tuple[SiteUnit, ...]
    count: int

    @property
    def path(self) -> str:
        """Its file."""
        return self.way.path(self.number)


def list_pages(units: Sequence[SiteUnit]) -> Iterator[ListPage]:
    """Every page of every way to look at the units; the first page is there even where there are none."""
    for facet, value in [("", ""), *values_of(units)]:
        of = [u for u in units if not facet or FACETS[facet][2](u) == value]
        for order in ORDERS:
            rows, way = order.of(of), Way(facet, value, order)
            pages = max(math.ceil(len(rows) / A_PAGE), 1)
            for n in range(1, pages + 1):
                yield ListPage(way, n, pages, tuple(rows[(n - 1) * A_PAGE : n * A_PAGE]), len(rows))


def values_of(units: Sequence[SiteUnit]) -> list[tuple[str, str]]:
    """What the list can be narrowed by, where there is more than one of it."""
    found = []
    for facet, (_, words, get) in FACETS.items():
        there = {get(u) for u in units}
        kinds = [v for v in words if v in there]
        found += [(facet, v) for v in kinds] if len(kinds) > 1 else []
    return found


def list_html(it: ListPage, *, units: Sequence[SiteUnit], yard: SiteYard) -> bytes:
    """A page of the list.

    Parameters
    ----------
    it : ListPage
    units : sequence of SiteUnit
        All that are shown, for the links to other ways to look.
    yard : SiteYard
    """
    where = f" at {yard.name}" if yard.name else ""
    says = f"{_count(it.count)}{where}, each with its rating, what it honestly carries, and its drawing to scale."
    more = f", page {it.number}" if it.number > 1 else ""
    head = PageHead(path=it.path, title=it.way.title + more, says=says)
    return page(
        head,
        el("h1", it.way.title),
        el("p", f"{_count(it.count)}, {_ordered(it.way.order, units)}{_page_of(it)}.", class_="lead quiet"),
        _ways(it.way, units),
        el("ul", *(_row(u) for u in it.units), class_="units")
        if it.units
        else el("p", "None is here now. Ask the yard what is on its way.", class_="lead"),
        _others(it),
        yard=yard,
    )


def _count(n: int) -> str:
    return "1 trailer" if n == 1 else f"{n:,} trailers"


def _ordered(order: Order, units: Sequence[SiteUnit]) -> str:
    """An order in words: where no day is known none is newer than another."""
    undated = order is ORDERS[0] and units and all(u.since is None for u in units)
    return "by stock number, those to come last" if undated else order.says


def _page_of(it: ListPage) -> str:
    return f"; page {it.number} of {it.pages}" if it.pages > 1 else ""


def _ways(way: Way, units: Sequence[SiteUnit]) -> Markup:
    rows = []
    narrowed: dict[str, list[Way]] = {}
    for facet, value in values_of(units):
        narrowed.setdefault(facet, []).append(Way(facet, value, way.order))
    for facet, ways in narrowed.items():
        links = [_way(Way(order=way.order), "all", here=way.facet != facet)]
        links += [_way(w, begin(FACETS[facet][1][w.value]), here=w == way) for w in ways]
        rows.append((FACETS[facet][0], links))
    orders = [_way(Way(way.facet, way.value, o), _ordered(o, units), here=o is way.order) for o in ORDERS]
    rows.append(("Order", orders))
    return el(
        "nav",
        el("dl", *(el("div", el("dt", name), el("dd", *links)) for name, links in rows), class_="ways"),
        aria_label="Ways to look",
    )


def _way(way: Way, word: str, *, here: bool) -> Markup:
    return el("a", word, href=way.path(), aria_current="true" if here else None)


def _row(u: SiteUnit) -> Markup:
    drawing = el(
        "img",
        src=f"drawing/{u.file}-small.svg",
        alt=f"{u.title} from its side, to scale",
        width=176,
        height=48,
        loading="lazy",
        class_="units__drawing",
    )
    line = ", ".join(filter(None, (u.stock_number, who_made(u), u.condition, STANDING_WORDS[u.standing])))
    numbers = (
        ("Carries", pounds(u.payload_lb), "first"),
        ("Label GVWR", pounds(u.gvwr_lb), None),
        ("Deck", feet(u.deck_length_in) if u.deck_length_in is not None else "not known", None),
        ("Price", _price(u), None),
    )
    return el(
        "li",
        drawing,
        el("div", el("h2", el("a", u.title, href=u.path)), el("p", line, class_="small quiet"), class_="units__what"),
        el(
            "dl",
            *(el("div", el("dt", name), el("dd", value, class_=c)) for name, value, c in numbers),
            class_="units__numbers",
        ),
        class_="units__row",
    )


def _price(u: SiteUnit) -> Child:
    if u.price_usd is None:
        return "ask"
    day = u.price_says.partition(", as of ")[2]
    return [show_money(u.price_usd), el("span", f"as of {day}", class_="small") if day else None]


def who_made(u: SiteUnit) -> str:
    """Year, maker and model, as far as they are known."""
    return " ".join(filter(None, (str(u.year) if u.year else "", u.maker, u.model)))


def pounds(value: float | None) -> str:
    """Pounds in words."""
    return "not known" if value is None else amount(value, "lb")


def _others(it: ListPage) -> Markup | None:
    if it.pages < 2:
        return None
    links = [
        el("a", "Page before", href=it.way.path(it.number - 1), rel="prev") if it.number > 1 else None,
        *(
            el("a", str(n), href=it.way.path(n), aria_current="page" if n == it.number else None)
            for n in range(1, it.pages + 1)
        ),
        el("a", "Next page", href=it.way.path(it.number + 1), rel="next") if it.number < it.pages else None,
    ]
    return el("nav", *links, class_="more", aria_label="Pages of the list")
