"""What a unit's page shows beyond what is stored: sentences, sums, envelope, what is unusual, what to measure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rubrail.answers.differs import Difference
from rubrail.answers.reading import Reading, read_unit
from rubrail.desk.facts import facts_of, tables_of
from rubrail.desk.models import Unit
from rubrail.desk.models.stock import Status
from rubrail.desk.stock import readable
from rubrail.desk.unit_drawings import unit_drawings
from rubrail.desk.unit_envelope import data_of, reading_at, rows_of
from rubrail.desk.unit_facts import unit_facts
from rubrail.desk.unit_sums import sums_of, tax_of
from rubrail.desk.yardmates import Company, company_of
from rubrail.sheets.sentences_amounts import listed, percent
from rubrail.sheets.sentences_unit import (
    difference_sentence,
    measure_first,
    to_measure,
    trait_value,
    weakest_sentence,
    why_measure,
)
from rubrail.sheets.sentences_words import begin
from rubrail.sheets.sentences_yard import decoding_sentence, envelope_sentence
from rubrail.things.trailer import Trailer

FIRST = 6
"""Differences shown before the rest is folded away."""


@dataclass(frozen=True, slots=True)
class Told:
    """One difference in words."""

    title: str
    own: str
    says: str


def page_of(unit: Unit, *, metric: bool) -> dict[str, Any]:
    """The parts of a unit's page that the engine and the yard say; without the engine's where it no longer reads.

    Parameters
    ----------
    unit : Unit
    metric : bool
        Whether the person reads metric.
    """
    trailer = readable(unit)
    if trailer is None:
        return {"unreadable": True, "sections": facts_of(unit.spec), "tables": tables_of(unit.spec)}
    reading = read_unit(trailer)
    company = company_of(unit)
    return {
        "drawings": unit_drawings(unit, trailer, reading.envelope, metric=metric),
        "says": says(reading, metric=metric),
        **_decoded(reading, label_read=_label_read(unit, trailer), metric=metric),
        "envelope": _envelope(reading, metric=metric),
        "gaps": [{"what": to_measure(g), "why": why_measure(g)} for g in reading.gaps],
        **_company(company, metric=metric),
        "sections": unit_facts(unit.spec, reading),
        "tables": tables_of(unit.spec),
    }


def says(reading: Reading, *, metric: bool) -> str:
    """The first sentence of the page: what it carries, where, and what stops it."""
    envelope = reading.envelope
    if envelope is None or not envelope.alone:
        return measure_first(reading.gaps)
    return envelope_sentence(envelope, title=reading.decoding.title, metric=metric)


def _label_read(unit: Unit, trailer: Trailer) -> bool:
    """Whether somebody read the label: not of a unit still to come, nor where the rating is the maker's book's."""
    rating = trailer.ratings.gvwr_lb
    return unit.status != Status.EXPECTED and (rating is None or rating.basis == "label")


def _decoded(reading: Reading, *, label_read: bool, metric: bool) -> dict[str, Any]:
    return {
        "decoded": decoding_sentence(reading.decoding, metric=metric),
        "weakest": weakest_sentence(reading.decoding, metric=metric),
        "sums": sums_of(reading.decoding, metric=metric, label_read=label_read),
        "tax": tax_of(reading.decoding, metric=metric),
    }


def _envelope(reading: Reading, *, metric: bool) -> dict[str, Any] | None:
    envelope = reading.envelope
    if envelope is None or not envelope.alone:
        return None
    return {
        "data": data_of(envelope, metric=metric),
        "rows": rows_of(envelope, metric=metric),
        "reading": reading_at(envelope, envelope.best_x_in, metric=metric),
        "unknown": listed(envelope.unknown),
    }


def _company(company: Company, *, metric: bool) -> dict[str, Any]:
    told = [_told(d, metric=metric) for d in company.told]
    return {"company": company, "differs": told[:FIRST], "differs_more": told[FIRST:]}


def _told(d: Difference, *, metric: bool) -> Told:
    own = percent(d.own / 100) if d.trait.unit == "%" and d.own < 0 else trait_value(d.trait, d.own, metric=metric)
    return Told(begin(d.trait.title), own, begin(difference_sentence(d, metric=metric)))
