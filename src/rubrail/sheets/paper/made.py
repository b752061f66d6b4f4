"""Every sheet from its things: what it rests on is reckoned here, so that desk and terminal print the same paper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from rubrail.sheets.paper.blocks import Block, Paper, Words

if TYPE_CHECKING:
    from rubrail.answers.climb import Climbing
    from rubrail.answers.company import Company
    from rubrail.answers.reading import Reading
    from rubrail.answers.rig import Placement
    from rubrail.answers.secure_report import TieDownPlan
    from rubrail.sheets.paper.unit import UnitFacts
    from rubrail.things.haul import Haul
    from rubrail.things.kit import Kit
    from rubrail.things.rates import Rates
    from rubrail.things.trailer import Trailer

WIDE_PX = 700.0


@dataclass(frozen=True, slots=True)
class Stamp:
    """Whose paper it is, the day it speaks of as printed, and the address its code leads to."""

    yard: str = ""
    date: str = ""
    link: str = ""


def window(trailer: Trailer, *, stamp: Stamp, rates: Rates | None = None, metric: bool = False) -> Paper:
    """Window sheet of a unit; its tax line only where the yard has rates."""
    from rubrail.answers.reading import read_unit
    from rubrail.sheets.paper.unit import window_sheet

    return window_sheet(_unit(trailer, read_unit(trailer), stamp, rates=rates, metric=metric), metric=metric)


def spec(trailer: Trailer, *, stamp: Stamp, metric: bool = False) -> Paper:
    """Spec sheet of a unit."""
    from rubrail.answers.reading import read_unit
    from rubrail.sheets.paper.unit import spec_sheet

    return spec_sheet(_unit(trailer, read_unit(trailer), stamp, metric=metric), metric=metric)


def _unit(trailer: Trailer, reading: Reading, stamp: Stamp, *, metric: bool, rates: Rates | None = None) -> UnitFacts:
    from rubrail.answers.price import excise_tax
    from rubrail.answers.price_facts import excise_facts
    from rubrail.sheets.paper.unit import UnitFacts
    from rubrail.sheets.sentences_unit import measure_first
    from rubrail.sheets.sentences_yard import envelope_sentence

    envelope = reading.envelope
    known = envelope is not None and bool(envelope.alone)
    says = envelope_sentence(envelope, metric=metric) if known else measure_first(reading.gaps)
    return UnitFacts(
        trailer=trailer,
        payload_lb=envelope.best_lb if known else math.nan,
        says=says,
        envelope=envelope,
        decoding=reading.decoding,
        excise=None if rates is None else excise_tax((), facts=excise_facts(trailer), rates=rates),
        price_usd=trailer.price_usd,
        yard=stamp.yard,
        date=stamp.date,
        link=stamp.link,
    )


def plan(
    haul: Haul,
    trailer: Trailer,
    *,
    stamp: Stamp,
    placement: Placement | None = None,
    kit: Kit | None = None,
    metric: bool = False,
) -> Paper:
    """Placement, loading and tie-down plan of a rig: tied down with ``kit``, and not where there is none."""
    from rubrail.answers.climb import climbing
    from rubrail.answers.climb_setup import Day
    from rubrail.answers.place import best_place
    from rubrail.answers.rig import at_placement, rigs
    from rubrail.answers.tie_down import tie_down
    from rubrail.answers.weigh import weighing
    from rubrail.checks.judge import judge
    from rubrail.sheets.paper.haul import placement_sheet

    one = rigs(haul=haul, trailers=(trailer,))
    placement = placement or best_place(one)[0].placement
    columns = at_placement(one, placement)
    weighed = weighing(one, columns, placement, judge(columns), remedies=False)
    climbed = climbing(one, placement, Day(), remedies=False)
    extra, also = _climbed(climbed, haul, trailer, metric=metric), [("driving on", climbed.verdict)]
    if kit is not None:
        tied = tie_down(haul=haul, trailer=trailer, kit=kit, placement=placement, changes=False)
        extra += _tied(tied, haul, trailer, placement, metric=metric)
        also.append(("tying down", tied.verdict))
    else:
        extra.append(Words(("Not looked at: the yard has no kit of tie-down gear.",), heading="Tying down"))
    return placement_sheet(
        weighing=weighed, haul=haul, trailer=trailer, extra=extra, also=also,
        yard=stamp.yard, date=stamp.date, link=stamp.link, metric=metric,
    )  # fmt: skip


def _climbed(climbed: Climbing, haul: Haul, trailer: Trailer, *, metric: bool) -> list[Block]:
    from rubrail.sheets.drawing.climb_from import strip_of
    from rubrail.sheets.paper.loading import loading_blocks

    if not climbed.machines:
        return []
    strips = {
        m.item: strip_of(climbed, m, haul=haul, trailer=trailer, width_px=WIDE_PX, metric=metric)
        for m in climbed.machines
        if m.course is not None
    }
    return loading_blocks(climbed, strips=strips, metric=metric)


def _tied(tied: TieDownPlan, haul: Haul, trailer: Trailer, placement: Placement, *, metric: bool) -> list[Block]:
    from rubrail.sheets.drawing.tie_views import rig_to_tie, tie_plan, tie_side
    from rubrail.sheets.paper.loading import tie_down_blocks

    if not any(p.ties for p in tied.pieces):
        return tie_down_blocks(tied, metric=metric)
    rig = rig_to_tie(haul=haul, trailer=trailer, placement=placement, metric=metric)
    return tie_down_blocks(
        tied,
        above=tie_plan(rig, tied.pieces, width_px=WIDE_PX),
        side=tie_side(rig, tied.pieces, width_px=WIDE_PX),
        metric=metric,
    )


def card(
    haul: Haul, trailer: Trailer, *, stamp: Stamp, placement: Placement | None = None, metric: bool = False
) -> Paper:
    """Limits card of a rig."""
    from rubrail.answers.weigh import weigh
    from rubrail.sheets.paper.haul import limits_card

    weighed = weigh(haul=haul, trailer=trailer, placement=placement, remedies=False)
    return limits_card(
        weighing=weighed, haul=haul, trailer=trailer, yard=stamp.yard, date=stamp.date, link=stamp.link, metric=metric
    )


def thresholds(
    haul: Haul, trailer: Trailer, *, stamp: Stamp, placement: Placement | None = None, metric: bool = False
) -> Paper:
    """Threshold sheet of a rig."""
    from rubrail.answers.weigh import weigh
    from rubrail.sheets.paper.thresholds import threshold_sheet

    weighed = weigh(haul=haul, trailer=trailer, placement=placement, remedies=False)
    return threshold_sheet(
        weighing=weighed, haul_title=haul.title or haul.id, yard=stamp.yard, date=stamp.date, link=stamp.link,
        metric=metric,
    )  # fmt: skip


def comparison(haul: Haul, trailers: Sequence[Trailer], *, stamp: Stamp, metric: bool = False) -> Paper:
    """Comparison sheet of two to four units for a haul, each at its best place."""
    from rubrail.answers.compare import compare
    from rubrail.sheets.paper.compare import comparison_sheet

    return comparison_sheet(
        comparison=compare(haul=haul, trailers=trailers), haul=haul, trailers=trailers,
        yard=stamp.yard, date=stamp.date, link=stamp.link, metric=metric,
    )  # fmt: skip


def walk(
    trailer: Trailer,
    *,
    stamp: Stamp,
    haul: Haul | None = None,
    placement: Placement | None = None,
    kit: Kit | None = None,
    company: Company | None = None,
    metric: bool = False,
) -> Paper:
    """Walk-around of a unit, for a haul where one is given."""
    from rubrail.answers.walk import walk as walk_around
    from rubrail.sheets.paper.walk import walk_sheet

    found = walk_around(trailer=trailer, haul=haul, placement=placement, kit=kit, company=company)
    return walk_sheet(found, trailer, yard=stamp.yard, date=stamp.date, link=stamp.link, metric=metric)


def tax(trailer: Trailer, *, rates: Rates, stamp: Stamp, metric: bool = False) -> Paper:
    """Excise-tax worksheet of a unit at its asking price, with the fees of every sale.

    Raises
    ------
    DealError
        If it cannot be priced; with every fault.
    """
    from rubrail.answers.price import price
    from rubrail.answers.price_facts import excise_facts
    from rubrail.answers.price_parts import Deal, PriceLine
    from rubrail.sheets.paper.money import tax_worksheet

    lines = [PriceLine("unit", trailer.title or trailer.id, trailer.price_usd or Decimal(0))]
    lines += [PriceLine(fee.kind, fee.title, fee.amount_usd) for fee in rates.fee]
    found = price(Deal(lines=tuple(lines), excise=excise_facts(trailer)), rates=rates)
    return tax_worksheet(
        price=found, trailer=trailer, yard=stamp.yard, date=stamp.date, link=stamp.link, metric=metric
    )
