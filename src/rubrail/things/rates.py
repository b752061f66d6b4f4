"""The yard's own table of money: taxes, fees, what an adviser settled, stock interest, payment terms."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from rubrail.things.measure import Known, nominal
from rubrail.things.part import Contradiction, Day, Flag, Id, Line, Money, Part, Text, Thing, Whole

LINE_KINDS = (
    "unit",
    "option",
    "dealer-fitted",
    "preparation",
    "freight",
    "delivery",
    "insurance",
    "document fee",
    "title and registration",
    "warranty",
    "discount",
)
"""What a line of a price can be. Trade-in and deposit are no lines: they pay, they do not price."""
FEE_KINDS = ("preparation", "freight", "delivery", "document fee", "title and registration")
TAXED = ("unit", "option", "dealer-fitted", "preparation", "freight", "discount")

LineKind = Literal[
    "unit", "option", "dealer-fitted", "preparation", "freight", "delivery", "insurance", "document fee",
    "title and registration", "warranty", "discount",
]  # fmt: skip


def percent(rate: Known) -> Decimal:
    """A rate of the file as a decimal, free of binary rounding; 0 where it states none."""
    return Decimal(0) if rate is None else Decimal(f"{float(rate):.12g}")


class Free(Part):
    """A sale the tax is not on, and the paper the yard keeps for it."""

    word: Annotated[Line, Field(description="what it is called, such as farm use")]
    paper: Annotated[Line, Field(description="paper the yard must hold")]


class SalesTax(Part):
    """One state or local tax on the sale."""

    id: Annotated[Id, Field(description="its own name in the file")]
    title: Annotated[Line, Field(description="what it is called on paper")]
    rate_percent: Annotated[Known, nominal("%", 0, 30, "its rate")]
    on: Annotated[
        tuple[LineKind, ...],
        Field(min_length=1, max_length=20, description="kinds of line it is on; a discount among them lowers it"),
    ] = TAXED
    trade_in: Annotated[
        Literal["before", "after"],
        Field(description="taxed before the trade-in allowance is taken off, or after"),
    ]
    federal_excise: Annotated[Flag, Field(description="the federal excise tax is part of the taxed price")]
    first_usd: Annotated[Money | None, Field(description="only the first so much of the taxed price is taxed")] = None
    most_usd: Annotated[Money | None, Field(description="the tax is never more than this")] = None
    free: Annotated[tuple[Free, ...], Field(max_length=40, description="sales it is not on")] = ()


class Fee(Part):
    """A charge the yard adds to every sale."""

    kind: Annotated[
        Literal["preparation", "freight", "delivery", "document fee", "title and registration"],
        Field(description="what kind of line it is"),
    ]
    title: Annotated[Line, Field(description="what it is called on paper")]
    amount_usd: Annotated[Money, Field(description="how much")]


class ExciseAnswers(Part):
    """What the yard's tax adviser said of charges that the sources read do not settle."""

    document_fee: Annotated[Literal["in", "out"] | None, Field(description="in the federal taxed price or not")] = None
    title_and_registration: Annotated[
        Literal["in", "out"] | None, Field(description="in the federal taxed price or not")
    ] = None
    warranty: Annotated[Literal["in", "out"] | None, Field(description="in the federal taxed price or not")] = None
    asked: Annotated[Line | None, Field(description="who said so, and when")] = None


class Curtailment(Part):
    """A share of a unit's cost that falls due to the lender."""

    day: Annotated[Whole, Field(ge=1, le=3650, description="day of stock on which it is paid")]
    share_percent: Annotated[Known, nominal("%", 0, 100, "share of the first amount")]


class Stock(Part):
    """What a unit costs the yard while it stands."""

    rate_percent: Annotated[Known, nominal("%", 0, 60, "yearly rate on what is owed on it")] = None
    curtailment: Annotated[
        tuple[Curtailment, ...], Field(max_length=40, description="what must be paid down, and when")
    ] = ()
    upkeep_usd: Annotated[Money | None, Field(description="washing, tires and batteries of one wait for a buyer")] = (
        None
    )
    model_year_percent: Annotated[Known, nominal("%", 0, 50, "what a new model year takes off its cost")] = None


class Terms(Part):
    """Terms of a payment estimate."""

    rate_percent: Annotated[Known, nominal("%", 0, 60, "yearly rate")]
    months: Annotated[Whole, Field(ge=1, le=360, description="number of monthly payments")]
    down_percent: Annotated[Known, nominal("%", 0, 100, "paid down, of what is due")] = None


class Rates(Thing):
    """What the yard charges and what it is charged, from one day on."""

    schema_name = "rubrail/rates/1"

    schema_: Annotated[Literal["rubrail/rates/1"], Field(alias="schema", description="kind of file")] = (
        "rubrail/rates/1"
    )
    title: Annotated[Line | None, Field(description="what it is called")] = None
    effective: Annotated[Day, Field(description="first day it holds")]
    until: Annotated[Day | None, Field(description="last day it holds; open where left out")] = None
    notes: Text | None = None
    tax: Annotated[tuple[SalesTax, ...], Field(max_length=20, description="state and local taxes")] = ()
    fee: Annotated[tuple[Fee, ...], Field(max_length=20, description="charges added to every sale")] = ()
    excise: ExciseAnswers = ExciseAnswers.model_construct()
    stock: Stock = Stock.model_construct()
    terms: Terms | None = None

    def contradictions(self) -> Iterator[Contradiction]:
        """Names used twice, days out of order, and more paid down than was owed."""
        if self.until and self.until < self.effective:
            yield "until", self.until, f"effective ({self.effective}) or later"
        seen: dict[str, int] = {}
        for n, tax in enumerate(self.tax, 1):
            if tax.id in seen:
                yield f"tax[{n}].id", tax.id, f"used once, and tax[{seen[tax.id]}] has it too"
            seen.setdefault(tax.id, n)
        before, paid = 0, 0.0
        for n, step in enumerate(self.stock.curtailment, 1):
            if step.day <= before:
                yield f"stock.curtailment[{n}].day", step.day, f"more than that of the one before ({before})"
            before = step.day
            paid += step.share_percent.number if step.share_percent else 0.0
            if paid > 100:
                yield f"stock.curtailment[{n}].share_percent", paid, "such that all of them come to 100 at most"
