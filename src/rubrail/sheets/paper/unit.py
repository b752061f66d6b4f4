"""Window sheet and spec sheet of one unit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from rubrail.quantity.money import show_money
from rubrail.sheets.drawing import curve_of, envelope_plot, plan_view, side_view, trailer_outline
from rubrail.sheets.paper.blocks import Big, Block, Drawing, Facts, Paper, Table, Words
from rubrail.sheets.paper.facts import plain, unit_facts
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_words import SAFETY

if TYPE_CHECKING:
    from rubrail.answers.decode import Decoding
    from rubrail.answers.envelope import Envelope
    from rubrail.answers.price_parts import ExciseTax
    from rubrail.things.trailer import Trailer

WIDE_PX, NARROW_PX = 700.0, 560.0
LEFT_OFF = ("Label GVWR", "Deck height", "Axles behind the coupling", "One tire carries, single", "Build", "Jack")
"""What a window sheet says in big figures already, or leaves to the spec sheet."""
LABEL = "Not a substitute for the certification label: its ratings govern."


@dataclass(frozen=True, slots=True)
class UnitFacts:
    """What the sheets of a unit are made from.

    payload_lb : honest payload, the trailer alone at its best place, ``nan`` where not known
    says : the first sentence of its page
    envelope, excise : ``None`` where they were not reckoned
    """

    trailer: Trailer
    payload_lb: float
    says: str = ""
    envelope: Envelope | None = None
    decoding: Decoding | None = None
    excise: ExciseTax | None = None
    price_usd: Decimal | None = None
    yard: str = ""
    date: str = ""
    link: str = ""


def window_sheet(unit: UnitFacts, *, metric: bool = False) -> Paper:
    """One page that hangs on the unit: big figures first, then what stands behind them."""
    t = unit.trailer
    carries = "Carries, at its best place"
    if unit.envelope is not None and unit.envelope.unknown:
        carries += "; not final"
    big = [
        ("Label GVWR", plain(t.ratings.gvwr_lb, "lb", metric=metric)),
        (carries, amount(unit.payload_lb, "lb", metric=metric)),
        ("Deck height", plain(t.deck.height_in, "in", metric=metric)),
    ]
    if unit.price_usd is not None:
        big.append(("Price before tax", show_money(unit.price_usd)))
    blocks: list[Block] = [
        Drawing(
            side_view(t, width_px=WIDE_PX, metric=metric), says=f"{_title(t)} from its side, to scale", high_mm=62
        ),
        Big(tuple(big), columns=len(big), size_pt=25.0),
    ]
    if unit.envelope is not None and unit.envelope.alone:
        blocks.append(_plot(unit, metric=metric, small=True))
    rows = tuple(row for facts in unit_facts(t, metric=metric) for row in facts.rows if row[0] not in LEFT_OFF)
    blocks.append(Facts(rows))
    if unit.excise is not None:
        blocks.append(Words((_tax_line(unit.excise),)))
    blocks.append(Words((LABEL,), quiet=True))
    return _paper("Window sheet", unit, blocks)


def spec_sheet(unit: UnitFacts, *, metric: bool = False) -> Paper:
    """Everything that is known of a unit, with drawings, its numbers taken apart, and what it carries where."""
    t = unit.trailer
    blocks: list[Block] = [
        Drawing(side_view(t, width_px=WIDE_PX, metric=metric), says="side view to scale", high_mm=60),
        Drawing(plan_view(t, width_px=WIDE_PX, metric=metric), says="plan to scale", high_mm=52),
        *(f for f in unit_facts(t, metric=metric) if f.rows),
    ]
    if unit.decoding is not None:
        rows = tuple(
            (f.title, "not known" if math.isnan(f.value_lb) else amount(f.value_lb, "lb", metric=metric), f.rule)
            for f in unit.decoding.figures
        )
        blocks.append(Table(("Number", "Is", "What kind of number it is"), rows, align="lrl",
                            heading="The numbers taken apart", widths=(1.1, 0, 1.4)))  # fmt: skip
    if unit.envelope is not None and unit.envelope.alone:
        blocks.append(_plot(unit, metric=metric))
    blocks.append(Words((LABEL, "A value in brackets says where it comes from."), quiet=True))
    return _paper("Spec sheet", unit, blocks)


def _title(t: Trailer) -> str:
    return t.title or " ".join(filter(None, (t.maker, t.model))) or t.id


def _paper(sort: str, unit: UnitFacts, blocks: list[Block]) -> Paper:
    return Paper(
        sort=f"{sort}, {unit.trailer.id}",
        fit="page" if sort == "Window sheet" else "",
        title=_title(unit.trailer),
        lead=unit.says,
        blocks=tuple(blocks),
        yard=unit.yard,
        date=unit.date,
        link=unit.link,
        link_says="this unit",
        foot=SAFETY,
    )


def _plot(unit: UnitFacts, *, metric: bool, small: bool = False) -> Drawing:
    envelope = unit.envelope
    svg = envelope_plot(
        curve_of(envelope.alone),
        title="What it carries, by where the load balances",
        trailer=None if small else trailer_outline(unit.trailer),
        origin_x_in=envelope.deck_front_x_in,
        width_px=NARROW_PX,
        height_px=110.0 if small else 150.0,
        metric=metric,
    )
    return Drawing(
        svg,
        says="greatest load by place",
        heading="What it carries depends on where the load sits",
        share=0.86,
        high_mm=84,
    )


def _tax_line(tax: ExciseTax) -> str:
    return {
        "due": "Federal excise tax is due on its first retail sale",
        "not due": "No federal excise tax is due",
        "free": "No federal excise tax is due",
        "not known": "Whether federal excise tax is due is not known",
    }[tax.standing] + f": {tax.why}."
