"""Quotes and sales for the yard's books: declared columns, amounts as they were frozen, as CSV or JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import OuterRef, Subquery
from django.db.models.fields.json import KeyTransform

from rubrail.desk.clock import local
from rubrail.desk.models import Quote, QuoteVersion, Unit
from rubrail.desk.models.sales import QuoteStatus
from rubrail.desk.models.stock import Status
from rubrail.sheets.cells import csv_file, said

SEES_COST = "money.see"


@dataclass(frozen=True, slots=True)
class Entry:
    """What one row is made of. A sale without a quote has neither quote nor version nor price."""

    unit: Unit
    quote: Quote | None = None
    version: QuoteVersion | None = None
    price: Mapping[str, Any] | None = None

    def amount(self, name: str) -> Decimal | None:
        """An amount of the frozen price; nothing where nothing is frozen, or it was not known."""
        text = None if self.price is None else self.price[name]
        return None if text is None else Decimal(text)


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name, what it holds, how it is read, and the permission it needs beside that of the file."""

    name: str
    says: str
    get: Callable[[Entry], Any]
    needs: str = ""


def _excise(e: Entry) -> Decimal | None:
    return None if e.price is None else Decimal(e.price["excise"]["tax_usd"])


def _local_taxes(e: Entry) -> Decimal | None:
    return None if e.price is None else sum((Decimal(t["tax_usd"]) for t in e.price["taxes"]), Decimal(0))


def _quote(name: str) -> Callable[[Entry], Any]:
    return lambda e: None if e.quote is None else getattr(e.quote, name)


def _version(name: str) -> Callable[[Entry], Any]:
    return lambda e: None if e.version is None else getattr(e.version, name)


def _day(name: str) -> Callable[[Entry], date | None]:
    def get(e: Entry) -> date | None:
        moment = None if e.version is None else getattr(e.version, name)
        return None if moment is None else local(moment).date()

    return get


WHO = (
    Column("quote", "the quote's number", _quote("number")),
    Column(
        "version", "the version that counts: the latest, and the signed one where it was signed", _version("number")
    ),
    Column("buyer", "who it was offered to", _quote("buyer")),
    Column("unit", "the unit's stock number", lambda e: e.unit.stock_number),
)
MONEY = (
    Column("lines_usd", "all lines together, before taxes", lambda e: e.amount("lines_usd")),
    Column("excise_tax_usd", "federal excise tax", _excise),
    Column("sales_taxes_usd", "state and local taxes", _local_taxes),
    Column("total_usd", "in all, with every tax", lambda e: e.amount("total_usd")),
    Column("trade_in_usd", "allowance for the trade-in", lambda e: e.amount("trade_in_usd")),
    Column("owed_usd", "still owed on the trade-in, which the yard pays off", lambda e: e.amount("owed_usd")),
    Column("deposit_usd", "paid already", lambda e: e.amount("deposit_usd")),
    Column("due_usd", "due after trade-in and deposit", lambda e: e.amount("due_usd")),
    Column(
        "cost_usd", "what the lines cost the yard, as it was when offered", lambda e: e.amount("cost_usd"), SEES_COST
    ),
    Column("margin_usd", "lines less cost", lambda e: e.amount("margin_usd"), SEES_COST),
)
QUOTES = (
    *WHO,
    Column("status", "draft, offered, accepted, delivered, lost or withdrawn", _quote("status")),
    Column("offered", "day the version was offered; empty where nothing is offered yet", _day("made")),
    Column("valid_until", "last day the buyer may accept", _quote("valid_until")),
    *MONEY,
    Column("signed_by", "name the buyer signed with", _version("signed_name")),
    Column("signed", "day of the signature", _day("signed_at")),
    Column("delivered", "day of delivery", _quote("delivered")),
    Column("lost_because", "why it was lost or withdrawn", _quote("lost_because")),
    Column("digest", "SHA-256 of the frozen version, by which its paper can be told", _version("digest")),
)
SALES = (
    Column("sold", "day of delivery, or of the sale where there was no quote", lambda e: _sold(e)),
    *WHO,
    Column("vin", "vehicle identification number", lambda e: e.unit.vin),
    Column("maker", "who built it", lambda e: e.unit.maker),
    Column("model", "model", lambda e: e.unit.model),
    Column("year", "model year", lambda e: e.unit.year),
    *MONEY,
    Column(
        "sold_for_usd",
        "what it was sold for without taxes, where somebody said so beside or without a quote",
        lambda e: e.unit.sold_for_usd,
        SEES_COST,
    ),
    Column("digest", "SHA-256 of the frozen version", _version("digest")),
)
BOOKS: dict[str, tuple[str, tuple[Column, ...]]] = {
    "quotes": ("one row a quote, the oldest first", QUOTES),
    "sales": ("one row a sale: delivered quotes, then units sold without one", SALES),
}


def _sold(e: Entry) -> date | None:
    return e.quote.delivered if e.quote is not None else e.unit.status_since


def entries(book: str) -> Iterator[Entry]:
    """What a book's rows are made of, in a fixed number of queries however many there are."""
    quotes = Quote.objects.select_related("unit").defer("terms", "unit__spec", "unit__packed", "unit__thumbnail")
    if book == "sales":
        quotes = quotes.filter(status=QuoteStatus.DELIVERED)
    yield from _quoted(list(quotes.order_by("pk")))
    if book == "sales":
        by_hand = Unit.objects.filter(status=Status.SOLD).exclude(quotes__status=QuoteStatus.DELIVERED)
        yield from (Entry(u) for u in by_hand.defer("spec", "packed", "thumbnail").order_by("status_since", "pk"))


def _quoted(quotes: Sequence[Quote]) -> Iterator[Entry]:
    latest = QuoteVersion.objects.filter(quote=OuterRef("quote")).order_by("-number").values("pk")[:1]
    # Of what is frozen only the price is read: the sheet beside it is large.
    versions = (
        QuoteVersion.objects.filter(pk=Subquery(latest), quote__in=quotes)
        .annotate(price=KeyTransform("price", KeyTransform("rests_on", "content")))
        .defer("content")
    )
    of = {v.quote_id: v for v in versions}
    for quote in quotes:
        version = of.get(quote.pk)
        yield Entry(quote.unit, quote, version, version.price if version else None)


def columns_for(book: str, *, may: Callable[[str], bool]) -> list[Column]:
    """The columns of a book that a person may have."""
    return [c for c in BOOKS[book][1] if not c.needs or may(c.needs)]


def as_csv(columns: Sequence[Column], rows: Iterable[Entry]) -> bytes:
    """A book as CSV in UTF-8, with commas."""
    return csv_file([c.name for c in columns], ([c.get(entry) for c in columns] for entry in rows))


def as_table(book: str, columns: Sequence[Column], rows: Iterable[Entry]) -> dict[str, Any]:
    """A book as JSON: what its columns hold, and its rows; no value is ``null``, an amount is text."""
    return {
        "book": book,
        "holds": BOOKS[book][0],
        "columns": {c.name: c.says for c in columns},
        "rows": [{c.name: said(c.get(e)) or None for c in columns} for e in rows],
    }


def documented(book: str) -> str:
    """The table of ``docs/books.md``."""
    lines = ["| column | what it holds |", "|---|---|"]
    for c in BOOKS[book][1]:
        more = "; only for those who may see cost and margin" if c.needs else ""
        lines.append(f"| `{c.name}` | {c.says}{more} |")
    return "\n".join(lines)
