"""The label against the papers and the order: the label governs, and a weight on paper is an average."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rubrail.answers.receive_report import DIFFERS, NOT_KNOWN, SAME, LabelRow
from rubrail.quantity.show import UNKNOWN, show
from rubrail.quantity.value import Value
from rubrail.rules.vin import clean
from rubrail.things.trailer import Trailer

AVERAGE_LB = 150.0
"""A certificate's weight is the model's average, and so is a maker's: either may be off by this much, by practice."""


@dataclass(frozen=True, slots=True)
class Papers:
    """What certificate of origin and invoice say of a unit; ``None``, ``""`` and ``nan`` where they say nothing.

    gawr_lb : one an axle, front first; tires : size and load range as written, one for all axles.
    """

    vin: str = ""
    year: int | None = None
    gvwr_lb: float = math.nan
    gawr_lb: tuple[float, ...] = ()
    tires: str = ""
    empty_lb: float = math.nan


def papers_of(trailer: Trailer) -> Papers:
    """The same from a trailer's file that was written from the papers."""
    return Papers(
        vin=trailer.vin or "",
        year=trailer.year,
        gvwr_lb=_number(trailer.ratings.gvwr_lb),
        gawr_lb=tuple(_number(a.gawr_lb) for a in trailer.axle),
        tires=_tires(trailer),
        empty_lb=_number(trailer.weights.empty_lb),
    )


def label_rows(
    *, received: Trailer, papers: Papers | None, ordered: Trailer | None, vin: str = ""
) -> tuple[LabelRow, ...]:
    """What label, papers and order say of VIN, year, ratings, tires and empty weight.

    Parameters
    ----------
    received : Trailer
        As read on the unit.
    papers : Papers or None
    ordered : Trailer or None
    vin : str
        As read on the label.
    """
    papers = papers or Papers()
    years = (received.year, papers.year, ordered.year if ordered else None)
    rows = [
        _words("vin", "VIN", (clean(vin=vin), clean(vin=papers.vin), clean(vin=(ordered and ordered.vin) or ""))),
        _words("year", "model year", tuple(str(y or "") for y in years)),
        _numbers(
            "ratings.gvwr_lb", "GVWR", (_label_rating(received.ratings.gvwr_lb), papers.gvwr_lb,
                                        _number(ordered.ratings.gvwr_lb if ordered else None)),
        ),
    ]  # fmt: skip
    ordered_axles = [_number(a.gawr_lb) for a in ordered.axle] if ordered else []
    for n in range(max(len(received.axle), len(papers.gawr_lb))):
        on_label = _label_rating(received.axle[n].gawr_lb) if n < len(received.axle) else math.nan
        three = (on_label, _nth(papers.gawr_lb, n), _nth(ordered_axles, n))
        rows.append(_numbers(f"axle.{n}.gawr_lb", f"GAWR of axle {n + 1}", three))
    rows.append(_words("tires", "tires", (_tires(received), papers.tires, _tires(ordered) if ordered else "")))
    rows.append(_empty(received, papers, ordered))
    return tuple(rows)


def _number(value: Value | None) -> float:
    return math.nan if value is None else value.number


def _label_rating(value: Value | None) -> float:
    """A rating that was read; one nobody read on the label is not known here."""
    return value.number if value is not None and value.basis == "label" else math.nan


def _nth(numbers: Sequence[float], n: int) -> float:
    return numbers[n] if n < len(numbers) else math.nan


def _tires(trailer: Trailer) -> str:
    told = dict.fromkeys(
        " ".join(filter(None, (a.tires.size, a.tires.load_range))) for a in trailer.axle if a.tires.size
    )
    return ", ".join(told)


def _words(path: str, label: str, three: tuple[str, str, str]) -> LabelRow:
    said = ["".join(s.split()).casefold() for s in three if s]
    verdict = NOT_KNOWN if not three[0] or len(said) < 2 else _same(len(set(said)) == 1)
    return LabelRow(path, label, "", *(s or UNKNOWN for s in three), verdict, governs=True)


def _numbers(path: str, label: str, three: tuple[float, float, float]) -> LabelRow:
    said = [n for n in three if not math.isnan(n)]
    unknown = math.isnan(three[0]) or len(said) < 2
    verdict = NOT_KNOWN if unknown else _same(max(said) - min(said) <= 1e-6 * max(said))
    return LabelRow(path, label, "lb", *(show(n, "lb") for n in three), verdict, governs=True)


def _empty(received: Trailer, papers: Papers, ordered: Trailer | None) -> LabelRow:
    """The empty weight: what the scale says governs, and paper may be off by an average's worth."""
    value = received.weights.empty_lb
    three = (_number(value), papers.empty_lb, _number(ordered.weights.empty_lb if ordered else None))
    others = [n for n in three[1:] if not math.isnan(n)]
    slack = AVERAGE_LB + (value.plus_minus if value is not None else 0.0)
    unknown = math.isnan(three[0]) or not others
    verdict = NOT_KNOWN if unknown else _same(max(abs(three[0] - n) for n in others) <= slack)
    weighed = value is not None and value.basis == "weighed"
    return LabelRow("weights.empty_lb", "empty weight", "lb", *(show(n, "lb") for n in three), verdict, weighed)


def _same(same: bool) -> str:
    return SAME if same else DIFFERS
