"""What is true of one unit, as claims about it are held against it; and the claims of a text that are not."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from rubrail.checks.engine import Evaluation
from rubrail.rules.claims import Claim, UnitFacts, find_claims
from rubrail.things.measure import Known

if TYPE_CHECKING:
    from rubrail.answers.reading import Reading
    from rubrail.things.trailer import Trailer

_PLACE = re.compile(r"\{[^{}]*\}")
_DOLLARS = re.compile(r"\$(\d[\d,]*(?:\.\d+)?)")


@dataclass(frozen=True, slots=True)
class Refused:
    """A claim in a part of a text: which part, and the part's words."""

    where: str
    text: str
    claim: Claim


def unit_facts(
    trailer: Trailer,
    *,
    reading: Reading,
    price_usd: Decimal | None = None,
    added: Iterable[str] = (),
    excise: str = "not known",
    makers: Iterable[str] = (),
) -> UnitFacts:
    """What is true of a unit.

    Parameters
    ----------
    trailer : Trailer
    reading : Reading
        ``answers.reading.read_unit`` of the same trailer.
    price_usd : Decimal, optional
        Its price, where it may be shown.
    added : iterable of str
        What is added to the price, in words; amounts in it may be named.
    excise : str
        Standing of the federal excise tax: ``due``, ``not due``, ``free`` or ``not known``.
    makers : iterable of str
        Makers the yard knows; all but the unit's own are others.
    """
    value = {f.name: f.value_lb for f in reading.decoding.figures}
    amounts = {Decimal(m.replace(",", "")) for words in added for m in _DOLLARS.findall(words)}
    return UnitFacts(
        gvwr_lb=_number(trailer.ratings.gvwr_lb),
        payload_lb=value.get("payload-alone", math.nan),
        payload_label_lb=value.get("payload-label", math.nan),
        empty_lb=_number(trailer.weights.empty_lb),
        ratings_lb=_ratings(trailer, reading),
        amounts_usd=frozenset(amounts if price_usd is None else amounts | {price_usd}),
        axles=len(trailer.axle),
        year=trailer.year or 0,
        used=trailer.condition != "new",
        excise_due=excise not in ("not due", "free"),
        other_makers=_others(makers, trailer.maker or ""),
    )


def known_facts(
    *,
    gvwr_lb: float | None,
    payload_lb: float | None,
    empty_lb: float | None,
    price_usd: Decimal | None,
    axles: int | None,
    year: int | None,
    used: bool,
    maker: str,
    makers: Iterable[str],
) -> UnitFacts:
    """What is known of a unit without reading it: whatever holds against this holds against ``unit_facts``.

    Parameters
    ----------
    gvwr_lb, payload_lb, empty_lb : float or None
        Label rating, payload at its best place, empty weight.
    price_usd : Decimal, optional
        Its price, where it may be shown.
    axles, year : int or None
        How many axles it has, and its model year.
    used : bool
        Not known to be new.
    maker : str
        Who built it.
    makers : iterable of str
        Makers the yard knows.
    """
    return UnitFacts(
        gvwr_lb=_number(gvwr_lb),
        payload_lb=_number(payload_lb),
        empty_lb=_number(empty_lb),
        amounts_usd=frozenset() if price_usd is None else frozenset({price_usd}),
        axles=axles or 0,
        year=year or 0,
        used=used,
        other_makers=_others(makers, maker),
    )


def _others(makers: Iterable[str], own: str) -> tuple[str, ...]:
    return tuple(sorted({m for m in makers if m and m.casefold() != own.casefold()}))


def refused_in(parts: Iterable[tuple[str, str]], facts: UnitFacts) -> tuple[Refused, ...]:
    """Claims in the parts of a text, in their order.

    Parameters
    ----------
    parts : iterable of (str, str)
        Which part, and its words.
    facts : UnitFacts
        What is true of the unit.
    """
    return tuple(Refused(where, text, claim) for where, text in parts for claim in find_claims(text, facts))


def _number(value: Known | float) -> float:
    return math.nan if value is None else float(value)


def _ratings(trailer: Trailer, reading: Reading) -> dict[str, tuple[float, ...]]:
    axles = [_number(a.gawr_lb) for a in trailer.axle]
    c = trailer.coupling
    found = {
        "axle": [*axles, sum(axles)],
        "coupler": [_number(c.gross_rating_lb), _number(c.vertical_rating_lb)],
        "ramp": [
            v for r in trailer.ramp for v in _ramp(_number(r.rating_each_lb), _number(r.rating_pair_lb), r.count)
        ],
        "tire": list(_tires(trailer, reading)),
        "anchor": [*(_number(a.wll_lb) for a in trailer.anchor), _number(trailer.chains.strength_lb)],
        "jack": [_number(trailer.jack.rating_lb)],
    }
    return {of: tuple(dict.fromkeys(v for v in values if not math.isnan(v))) for of, values in found.items()}


def _ramp(each_lb: float, pair_lb: float, count: int) -> Iterator[float]:
    yield each_lb
    yield pair_lb
    if count == 2:
        yield each_lb * 2
        yield pair_lb / 2


def _tires(trailer: Trailer, reading: Reading) -> Iterator[float]:
    columns = reading.columns
    present = columns["axle_present"][:, 0, 0, 0] > 0
    evaluation = Evaluation(columns)
    for name in ("axle_tires_lb", "axle_tire_load_lb"):
        yield from (float(v) for v in evaluation.value(name).reshape(len(present), -1)[present, 0])
    yield float(evaluation.value("axle_tires_lb").reshape(len(present), -1)[present, 0].sum())
    for a in trailer.axle:
        yield from (_number(a.tires.max_load_lb), _number(a.tires.max_load_dual_lb), _number(a.wheel_rating_lb))


OF_ONE_UNIT = ("payload-number", "rating-number", "empty-number", "axle-count", "model-year", "price-number")
"""Rules that hold a number against one unit's; a wording for all units is not held against them."""


def wording_claims(texts: Iterable[tuple[str, str]]) -> tuple[Refused, ...]:
    """Claims of a wording that no unit can bear out, whatever its facts.

    Parameters
    ----------
    texts : iterable of (str, str)
        Fields of a listing file, and their texts with named places.
    """
    of_any = UnitFacts(used=False, excise_due=False)
    parts = [(where, _PLACE.sub("…", text)) for where, text in texts]
    return tuple(r for r in refused_in(parts, of_any) if r.claim.rule.id not in OF_ONE_UNIT)
