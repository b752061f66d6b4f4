"""The VIN as read in three places and what the papers say: their form's texts, and each reading in its places."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from rubrail.answers.receive_report import VinDifference, VinReading
from rubrail.answers.receive_vin import read_vins
from rubrail.desk import clock
from rubrail.desk.amounts import written
from rubrail.desk.audit import Delta
from rubrail.desk.models import Receipt
from rubrail.desk.receiving.answer import maker_codes
from rubrail.desk.receiving.found import PLACES
from rubrail.desk.typed import US, accepted_in, number_text, with_unit
from rubrail.quantity.parse import EXAMPLES, UnreadableError, parse_quantity
from rubrail.rules.vin import LEFT_OUT, clean
from rubrail.sheets.sentences_vin import difference_line, not_caught_line, reading_lines, suspects_worth_naming

GROUPS = (3, 8, 17)
"""Ends of the groups a VIN is read in: maker, what it is, which one."""
LONGEST = 24
PAPERS = (
    ("papers-year", "Model year", ""),
    ("papers-gvwr", "GVWR", "lb"),
    ("papers-gawr", "GAWR of each axle", "lb"),
    ("papers-tires", "Tires", ""),
    ("papers-empty", "Empty weight", "lb"),
)
"""What certificate of origin and invoice say: name in the form, label, unit."""
PLACE_WORDS = {"label": "VIN on the label", "frame": "VIN on the frame", "papers": "VIN on the papers"}
OTHERS = {"label": "The label reads", "frame": "The frame reads", "papers": "The papers read"}
LABELS = {
    **{f"vin-{p}": word for p, word in PLACE_WORDS.items()},
    "label_seen": "certification label there",
    **{name: f"{label} on the papers" for name, label, _ in PAPERS},
}
NAMES = tuple(LABELS)
OTHER_YEAR = "Its year code, {code} in place 10, does not stand for {expected}, the year it is said to be of."
OTHER_MAKER = "Its maker's code, {maker}, is not one that other units of this maker have here: ask the maker."


@dataclass(frozen=True, slots=True)
class Cell:
    """One character in its place. mark : ``bad``, ``suspect``, ``differs`` or nothing."""

    number: int
    character: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class VinCheck:
    """One reading as a page shows it: its characters in groups, and what is said of them, one sentence each.

    fine : nothing speaks against it; faults : what does; notes : what to look at again all the same
    """

    place: str
    reading: VinReading
    groups: tuple[tuple[Cell, ...], ...]
    fine: bool
    faults: tuple[str, ...]
    notes: tuple[str, ...]


def vin_texts(receipt: Receipt, *, empty: bool = False, measures: str = US) -> dict[str, str]:
    """What the form shows, by its fields; all of them where ``empty``."""
    texts = _texts(receipt.found, lambda number: number_text(float(number), "lb", measures))
    return texts if empty else {k: v for k, v in texts.items() if v}


def _texts(found: Mapping[str, Any], weight: Callable[[Any], str]) -> dict[str, str]:
    told = found.get("papers", {})
    return {
        **{f"vin-{p}": str(found.get("vins", {}).get(p, "")) for p in PLACES},
        "label_seen": str(found.get("label_seen", "")),
        "papers-year": str(told.get("year", "")),
        "papers-gvwr": weight(told["gvwr_lb"]) if "gvwr_lb" in told else "",
        "papers-gawr": "; ".join(weight(n) for n in told.get("gawr_lb", ())),
        "papers-tires": str(told.get("tires", "")),
        "papers-empty": weight(told["empty_lb"]) if "empty_lb" in told else "",
    }


def read(
    texts: Mapping[str, str], *, kept: Mapping[str, Any], measures: str = US
) -> tuple[dict[str, Any], dict[str, str]]:
    """What the form's texts say, and a sentence by field for each that cannot be read.

    A VIN is kept as it was read, right or wrong: what is wrong with it is told, not refused.

    Parameters
    ----------
    texts : mapping
        By field.
    kept : mapping
        What ``found`` has of the papers: a text that is as it was shown keeps its number to the last digit.
    measures : str
        Of the form.
    """
    faults: dict[str, str] = {}
    vins = {}
    for place in PLACES:
        text = clean(vin=texts.get(f"vin-{place}", ""))
        if len(text) > LONGEST:
            faults[f"vin-{place}"] = f"Must have at most {LONGEST} characters, not {len(text)}."
        elif text and not text.isascii():
            faults[f"vin-{place}"] = "Must be made of letters A to Z and digits."
        elif text:
            vins[place] = text
    papers: dict[str, Any] = {}
    year = texts.get("papers-year", "")
    if year and not (re.fullmatch(r"\d{4}", year, re.ASCII) and 1950 <= int(year) <= 2100):
        faults["papers-year"] = f'Must be a year from 1950 to 2100, not "{year[:20]}".'
    elif year:
        papers["year"] = int(year)
    for name, key, bounds in (("papers-gvwr", "gvwr_lb", (500, 200_000)), ("papers-empty", "empty_lb", (200, 60_000))):
        if texts.get(name):
            number, wrong = _weight(texts[name], kept.get(key), bounds, measures)
            papers |= {} if number is None else {key: number}
            faults |= {name: wrong} if wrong else {}
    axles = [t for part in texts.get("papers-gawr", "").split(";") if (t := part.strip())]
    held = kept.get("gawr_lb", ())
    ratings = [_weight(t, k, (500, 40_000), measures) for t, k in zip_longest(axles[:6], held[: len(axles)])]
    told = [f"Axle {n}: {said[:1].lower()}{said[1:]}" for n, (_, said) in enumerate(ratings, 1) if said]
    told += ["At most 6 axles, separated by semicolons."] if len(axles) > 6 else []
    if told:
        faults["papers-gawr"] = " ".join(told)
    elif ratings:
        papers["gawr_lb"] = [number for number, _ in ratings]
    if texts.get("papers-tires"):
        papers["tires"] = texts["papers-tires"][:120]
    label_seen = texts.get("label_seen", "")
    return {
        "vins": vins,
        "papers": papers,
        "label_seen": label_seen if label_seen in ("yes", "no") else "",
    }, faults


def _weight(text: str, kept: float | None, bounds: tuple[int, int], measures: str) -> tuple[float | None, str]:
    """The weight a text stands for, or what is wrong with it. [lb]"""
    if kept is not None and text == number_text(float(kept), "lb", measures):
        return float(kept), ""
    try:
        number = parse_quantity(with_unit(text, "lb", measures), "lb")
    except UnreadableError as reason:
        such = accepted_in(EXAMPLES["weight"], measures)
        return None, f'Must be a weight such as {such}, not "{text[:40]}", which {reason}.'
    low, high = bounds
    if not low <= number <= high:
        return None, f'Must be {accepted_in(f"{low:,} to {high:,} lb", measures)}, not "{text[:40]}".'
    return number, ""


def patch(given: Mapping[str, Any]) -> dict[str, Any]:
    """Members of ``found`` that the form speaks of."""
    return {name: given[name] for name in ("vins", "papers", "label_seen")}


def deltas(receipt: Receipt, given: Mapping[str, Any]) -> Iterator[Delta]:
    """What changes, in words."""
    before, after = (_texts(found, lambda number: written(float(number), "lb")) for found in (receipt.found, given))
    for name, label in LABELS.items():
        yield Delta(name, label, before[name], after[name], "yard.see")


def checks_of(receipt: Receipt, texts: Mapping[str, str]) -> dict[str, VinCheck]:
    """Each reading against itself, the others, the yard's other units and the year; only where one was typed."""
    vins = {p: texts.get(f"vin-{p}", "")[:40] for p in PLACES}
    expected = receipt.ordered.get("year") if receipt.ordered else receipt.unit.year
    findings = read_vins(vins=vins, this_year=clock.today().year, maker_codes=maker_codes(receipt.unit), year=expected)
    return {r.place: _check(r, findings.differences, expected) for r in findings.readings}


def _check(reading: VinReading, differences: Iterable[VinDifference], expected: int | None) -> VinCheck:
    place = reading.place
    apart = [d for d in differences if place in (d.first, d.second)]
    marks = _marks(reading, {d.place for d in apart if d.backed != place})
    cells = [Cell(n, c, marks.get(n, "")) for n, c in enumerate(reading.vin, 1)]
    groups = tuple(tuple(cells[a:b]) for a, b in zip((0, *GROUPS), (*GROUPS, len(cells)), strict=True) if cells[a:b])
    lines = reading_lines(reading)
    # Where the check digit backs this reading, what is wrong is told at the other one.
    mine = {d.place: difference_line(d) for d in reversed(apart) if d.backed != place}
    others = [d.second if d.first == place else d.first for d in apart if d.backed == place]
    caught = not_caught_line(reading) if reading.valid else ""
    year = reading.valid and expected is not None and expected not in reading.years
    return VinCheck(
        place,
        reading,
        groups,
        reading.valid and not mine and not year,
        (
            *(lines if reading.faults else ()),
            *(mine[n] for n in sorted(mine)),
            *([OTHER_YEAR.format(code=reading.vin[9], expected=expected)] if year else ()),
        ),
        (
            *(f"{OTHERS[other]} otherwise in {_places(apart, place, other)}." for other in dict.fromkeys(others)),
            *(() if reading.faults else lines),
            *([OTHER_MAKER.format(maker=reading.maker)] if reading.known_maker is False else ()),
            *([caught] if caught else ()),
        ),
    )


def _places(apart: Iterable[VinDifference], one: str, other: str) -> str:
    places = [d.place for d in apart if {d.first, d.second} == {one, other}]
    return f"place {places[0]}" if len(places) == 1 else f"{len(places)} places"


def _marks(reading: VinReading, apart: set[int]) -> dict[int, str]:
    """Places to look at: where readings differ, the likeliest misread one, and what stands in no VIN."""
    marks = dict.fromkeys(apart, "differs")
    # Where nothing speaks for any one change, the check digit points at half the number: none is marked.
    for s in [s for s in suspects_worth_naming(reading) if s.why][:1]:
        marks |= dict.fromkeys(range(s.place, s.place + max(len(s.read), 1)), "suspect")
    bad = {n: "bad" for n, c in enumerate(reading.vin, 1) if c in LEFT_OUT or not (c.isascii() and c.isalnum())}
    return marks | bad
