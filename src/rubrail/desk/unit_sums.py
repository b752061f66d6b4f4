"""A unit's numbers as its page sets them out: small columns of figures, each with its total."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubrail.answers.decode import Decoding, Figure
from rubrail.sheets.sentences_amounts import text_in_metric
from rubrail.sheets.sentences_words import begin


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a column: words, pounds, and whether they are taken away, are the total, govern, with a remark."""

    title: str
    value_lb: float
    taken: bool = False
    total: bool = False
    governs: bool = False
    mark: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """Lines under a heading, and a sentence under them."""

    title: str
    lines: tuple[Line, ...]
    note: str = ""


def sums_of(decoding: Decoding, *, metric: bool, label_read: bool = True) -> dict[str, Column | list[Column]]:
    """The advertised number, what each part is rated for, and the payloads, each as a column of figures.

    ``label_read`` is false of a unit that is still to come: nobody has read its label.
    """
    figures = {f.name: f for f in decoding.figures}
    return {
        "advertised": _advertised(figures, metric, label_read),
        "parts": _parts(decoding.figures, metric),
        "payloads": [_payload(figures[n], metric) for n in ("payload-label", "payload-axles", "payload-alone")],
    }


def tax_of(decoding: Decoding, *, metric: bool) -> list[Line]:
    """The two weights of the excise tax."""
    return [_line(f, metric) for f in decoding.figures if f.group == "tax"]


def _advertised(figures: dict[str, Figure], metric: bool, label_read: bool) -> Column:
    advertised, label = figures["advertised"], figures["label"]
    note = "" if advertised.terms else f"{begin(_own_measures(advertised.how, metric))}."
    lines = [*_terms(advertised), Line("advertised", advertised.value_lb, total=bool(advertised.terms))]
    note_of = "read off the certification label" if label_read else "as promised; nobody has read its label yet"
    rating = Line("label GVWR", label.value_lb, governs=True, mark="governs", note=note_of)
    return Column("Advertised", (*lines, rating), note or f"The advertised number is {advertised.rule}.")


def _parts(figures: tuple[Figure, ...], metric: bool) -> Column:
    gear = [f for f in figures if f.group == "running gear"]
    alone = sum(f.governs for f in gear) == 1
    lines = [
        Line(
            f.title, f.value_lb, governs=f.governs, mark="weakest" if f.governs and alone else "",
            note="" if all(math.isnan(t.value_lb) for t in f.terms) else _own_measures(f.how, metric),
        )
        for f in gear
    ]  # fmt: skip
    lines += [Line(f.title, f.value_lb, note=f.how) for f in figures if f.group == "coupling"]
    return Column("Part by part", tuple(lines))


def _payload(f: Figure, metric: bool) -> Column:
    mark = "governs" if f.governs else ""
    total = Line(f.title, f.value_lb, total=bool(f.terms), governs=f.governs, mark=mark)
    note = begin(f.rule) if f.terms else f"{begin(_own_measures(f.how, metric))}: {f.rule}"
    return Column("", (*_terms(f), total), f"{note}.")


def _terms(f: Figure) -> list[Line]:
    return [Line(t.title, abs(t.value_lb), taken=t.value_lb < 0) for t in f.terms]


def _own_measures(text: str, metric: bool) -> str:
    return text_in_metric(text) if metric else text


def _line(f: Figure, metric: bool) -> Line:
    return Line(f.title, f.value_lb, note=_own_measures(f.how, metric))
