"""The VIN as read in three places and what the papers say: their form's texts, and each reading in its places."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from rubrail.answers.receive_report import VinDifference, VinReading
from rubrail.answers.receive_vin import read_vins
from rubrail.desk import clock
from rubrail.desk.audit import Delta
from rubrail.desk.models import Receipt
from rubrail.desk.receiving.answer import maker_codes
from rubrail.desk.receiving.found import PLACES
from rubrail.quantity.parse import UnreadableError, parse_quantity
from rubrail.quantity.show import convert
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


def vin_texts(receipt: Receipt, *, empty: bool = False) -> dict[str, str]:
    """What the form shows, by its fields; all of them where ``empty``."""
    found = receipt.found
    told = found.get("papers", {})
    texts = {
        **{f"vin-{p}": str(found.get("vins", {}).get(p, "")) for p in PLACES},
        "label_seen": str(found.get("label_seen", "")),
        "papers-year": str(told.get("year", "")),
        "papers-gvwr": _digits(told.get("gvwr_lb")),
        "papers-gawr": "; ".join(_digits(n) for n in told.get("gawr_lb", ())),
        "papers-tires": str(told.get("tires", "")),
        "papers-empty": _digits(told.get("empty_lb")),
    }
    return texts if empty else {k: v for k, v in texts.items() if v}


def _digits(number: Any) -> str:
    return "" if number in (None, "") else f"{float(number):,.4f}".rstrip("0").rstrip(".")


def read(texts: Mapping[str, str]) -> tuple[dict[str, Any], dict[str, str]]:
    """What the form's texts say, and a sentence by field for each that cannot be read.

    A VIN is kept as it was read, right or wrong: what is wrong with it is told, not refused.
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
    for name, key, low, high in (("papers-gvwr", "gvwr_lb", 500, 200_000), ("papers-empty", "empty_lb", 200, 60_000)):
        if texts.get(name):
            papers |= _weight(texts[name], name, key, low, high, faults)
    axles = [t for t in re.split(r";", texts.get("papers-gawr", "")) if t.strip()]
    ratings = [_weight(t.strip(), "papers-gawr", "it", 500, 40_000, faults).get("it") for t in axles[:6]]
    if len(axles) > 6:
        faults["papers-gawr"] = "At most 6 axles, separated by semicolons."
    if ratings and None not in ratings:
        papers["gawr_lb"] = ratings
    if texts.get("papers-tires"):
        papers["tires"] = texts["papers-tires"][:120]
    label_seen = texts.get("label_seen", "")
    return {
        "vins": vins,
        "papers": papers,
        "label_seen": label_seen if label_seen in ("yes", "no") else "",
    }, faults


def _weight(text: str, name: str, key: str, low: float, high: float, faults: dict[str, str]) -> dict[str, float]:
    try:
        number = convert(parse_quantity(text, "lb"), "lb", "lb")
    except UnreadableError as reason:
        faults[name] = f'Must be a weight such as "14,000" or "6,350 kg", not "{text[:40]}": it {reason}.'
        return {}
    if not low <= number <= high:
        faults[name] = f'Must be {low:,} to {high:,} lb, not "{text[:40]}".'
        return {}
    return {key: number}


def patch(given: Mapping[str, Any]) -> dict[str, Any]:
    """Members of ``found`` that the form speaks of."""
    return {name: given[name] for name in ("vins", "papers", "label_seen")}


def deltas(receipt: Receipt, texts: Mapping[str, str]) -> Iterator[Delta]:
    """What changes, in words."""
    before = vin_texts(receipt, empty=True)
    for name, label in LABELS.items():
        yield Delta(name, label, before[name], texts.get(name, ""), "yard.see")


def check_of(receipt: Receipt, texts: Mapping[str, str], place: str) -> VinCheck | None:
    """One reading against itself and against the others; nothing where none was typed."""
    vins = {p: texts.get(f"vin-{p}", "")[:40] for p in PLACES}
    expected = receipt.ordered.get("year") if receipt.ordered else receipt.unit.year
    findings = read_vins(vins=vins, this_year=clock.today().year, maker_codes=maker_codes(receipt.unit), year=expected)
    reading = next((r for r in findings.readings if r.place == place), None)
    if reading is None:
        return None
    apart = [d for d in findings.differences if place in (d.first, d.second)]
    marks = _marks(reading, {d.place for d in apart if d.backed != place})
    cells = [Cell(n, c, marks.get(n, "")) for n, c in enumerate(reading.vin, 1)]
    groups = tuple(tuple(cells[a:b]) for a, b in zip((0, *GROUPS), (*GROUPS, len(cells)), strict=True) if cells[a:b])
    lines = reading_lines(reading)
    # Where the check digit backs this reading, what is wrong is told at the other one.
    mine = {d.place: difference_line(d) for d in reversed(apart) if d.backed != place}
    others = [d.second if d.first == place else d.first for d in apart if d.backed == place]
    caught = not_caught_line(reading) if reading.valid else ""
    return VinCheck(
        place,
        reading,
        groups,
        reading.valid and not mine,
        (*(lines if reading.faults else ()), *(mine[n] for n in sorted(mine))),
        (
            *(f"{OTHERS[other]} otherwise in {_places(apart, place, other)}." for other in dict.fromkeys(others)),
            *(() if reading.faults else lines),
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
