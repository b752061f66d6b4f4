"""The readings of a unit's VIN: each by itself, against one another, and against the unit's year and maker."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from itertools import combinations

from rubrail.answers.receive_report import VinDifference, VinFindings, VinReading
from rubrail.rules.vin import LENGTH, YEAR_PLACE, clean, likely_year, maker_id, model_years, read_vin, vin_faults
from rubrail.rules.vin_suspects import FAR, compared, maker_code, mistaken_rank, suspects, told_apart

LABEL, PAPERS, ORDER = "label", "papers", "order"


def read_vins(
    *,
    vins: Mapping[str, str],
    this_year: int,
    maker_codes: Collection[str] = (),
    year: int | None = None,
) -> VinFindings:
    """Judge every reading of a VIN and name each place where two of them differ.

    Parameters
    ----------
    vins : mapping
        Where it was read (``label``, ``frame``, ``papers``, ``order``) to what was read; empty ones are left out.
    this_year : int
        Calendar year to judge the model year by.
    maker_codes : collection of str
        Identifiers the yard knows for this maker, six characters (1 to 3 and 12 to 14) or three.
    year : int, optional
        Model year the unit is said to be of.

    References
    ----------
    CFR-49-565, VIN-YEAR, COMMON-PRACTICE
    """
    read = {place: clean(vin=text) for place, text in vins.items() if text and clean(vin=text)}
    codes = frozenset(maker_code(code=c) for c in maker_codes)
    readings = tuple(_reading(place, read, codes, this_year, year) for place in read)
    differences = tuple(d for a, b in combinations(readings, 2) for d in _differences(a, b))
    agree = None if len(read) < 2 else len(set(read.values())) == 1
    whole = [r for r in readings if len(r.vin) == LENGTH and r.years]
    year_agrees = None if year is None or not whole else all(year in r.years for r in whole)
    return VinFindings(_verdict(readings, agree, year_agrees), readings, differences, agree, year_agrees)


def _reading(
    place: str, read: Mapping[str, str], codes: Collection[str], this_year: int, year: int | None
) -> VinReading:
    vin = read[place]
    faults = tuple(vin_faults(vin=vin))
    whole = len(vin) == LENGTH
    code = vin[YEAR_PLACE - 1] if whole else ""
    maker = maker_id(vin=vin) if whole else ""
    others = [v for p, v in read.items() if p != place]
    return VinReading(
        place=place,
        vin=vin,
        valid=not faults,
        faults=faults,
        maker=maker,
        known_maker=maker in codes if codes and whole else None,
        year=likely_year(code=code, this_year=this_year) if whole else None,
        years=model_years(code=code) if whole else (),
        suspects=suspects(vin=vin, others=others, maker_codes=codes, year=year) if faults else (),
        cautions=() if faults else read_vin(vin=vin, this_year=this_year).cautions,
    )


def _differences(a: VinReading, b: VinReading) -> list[VinDifference]:
    if len(a.vin) != len(b.vin):
        return []
    backed = a.place if a.valid and not b.valid else b.place if b.valid and not a.valid else ""
    return [
        VinDifference(
            first=a.place,
            second=b.place,
            place=n,
            first_reads=a.vin[n - 1],
            second_reads=b.vin[n - 1],
            often_mistaken=mistaken_rank(one=a.vin[n - 1], other=b.vin[n - 1]) < FAR,
            backed=backed,
            caught=told_apart(place=n, one=a.vin[n - 1], other=b.vin[n - 1]),
        )
        for n in compared(one=a.vin, other=b.vin)
    ]


def _verdict(readings: Collection[VinReading], agree: bool | None, year_agrees: bool | None) -> str:
    if not all(r.valid for r in readings) or agree is False or year_agrees is False:
        return "over"
    if any(r.known_maker is False for r in readings):
        return "depends"
    places = {r.place for r in readings}
    return "clear" if {LABEL, PAPERS} <= places else "not known"


def standing_of(findings: VinFindings) -> str:
    """``clear``, ``depends`` or ``over`` by what was read alone: no reading of label or papers is missed."""
    if findings.verdict != "not known":
        return findings.verdict
    return "clear" if findings.readings else "not known"
