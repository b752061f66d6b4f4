"""The form of a scale ticket: texts to the ticket file's table and back, and the cards a phone shows.

Names: ``s0-kind`` of a scale; ``w0-state``, ``w0-load`` of a weighing; ``w0-p-drive+axles`` what a usual plate showed;
``w0-m0-on``, ``-side``, ``-lb``, ``-scale``, ``-aside`` of any other reading; ``w0-a0-says``, ``-lb``, ``-at`` of who
was aboard. ``measures`` says what bare numbers are in: it goes with the form, which may wait in a phone for hours.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from rubrail.desk.typed import accepted_in, exact_text, measures_sent, with_unit
from rubrail.sheets.sentences_ticket import plate_words, state_words
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.ticket import Ticket

Texts = dict[str, str]

USUAL = {
    "truck": ("steer", "drive", "truck"),
    "trailer": ("coupler", "jack", "axles", "trailer"),
    "hitched": ("steer", "drive", "axles", "drive+axles", "rig"),
}
"""What usually stands on a plate, by how the rig stands; each has a line of its own."""
OTHER = {
    "truck": (),
    "trailer": ("axle 1", "axle 2", "axle 3"),
    "hitched": ("axle 1", "axle 2", "axle 3", "truck"),
}
KINDS = (
    ("platform", "truck scale"),
    ("axle", "single-axle plate"),
    ("pads", "wheel pads"),
    ("coupler", "coupler scale"),
    ("other", "another kind"),
)
SIDES = (("", "both sides"), ("left", "left wheels"), ("right", "right wheels"))
MOST_SCALES, MOST_CARDS, MOST_MORE, MOST_ABOARD = 3, 10, 12, 6
SCALE_IDS = ("a", "b", "c")
LONGEST = 200
_WEIGHT = re.compile(r"s\d+-(?:step|off)|w\d+-p-.+|w\d+-[ma]\d+-lb")
_LENGTH = re.compile(r"w\d+-jack|w\d+-a\d+-at")
ADDS = {
    "truck": ("truck", ""),
    "trailer": ("trailer", ""),
    "hitched": ("hitched", ""),
    "loaded": ("hitched", "the load"),
}
"""Cards that can be added: how the rig stands, and what it carries to begin with."""


@dataclass(frozen=True, slots=True)
class Line:
    """One usual plate: the field's name, what stands on it, what was typed, what is wrong with it."""

    name: str
    on: str
    says: str
    text: str
    fault: str


@dataclass(frozen=True, slots=True)
class More:
    """Another reading, or somebody aboard: its fields by short name, with texts and one fault."""

    name: str
    texts: Mapping[str, str]
    options: tuple[tuple[str, str], ...]
    fault: str


@dataclass(frozen=True, slots=True)
class Card:
    """One way the rig stood, as the form shows it."""

    n: int
    state: str
    says: str
    texts: Mapping[str, str]
    lines: tuple[Line, ...]
    more: tuple[More, ...]
    aboard: tuple[More, ...]
    fault: str

    @property
    def begun(self) -> bool:
        """Whether anything is entered in its folded part."""
        return any(m.texts.get("lb") for m in self.more)


def texts_sent(data: Mapping[str, Any]) -> Texts:
    """What a form sent, as texts of the names a ticket has."""
    name = re.compile(r"(?:day|where|title|notes|cards|measures|[sw]\d{1,2}-[a-z0-9+ -]{1,24})")
    return {k: str(data.get(k) or "").strip()[:LONGEST] for k in list(data)[:2000] if name.fullmatch(k)}


def with_units(texts: Mapping[str, str]) -> Texts:
    """The same texts, with its unit at every bare number."""
    measures, found = measures_sent(texts), dict(texts)
    for field, unit in ((_WEIGHT, "lb"), (_LENGTH, "in")):
        found |= {k: with_unit(v, unit, measures) for k, v in texts.items() if v and field.fullmatch(k)}
    return found


def begun(*, loads: bool, truck: bool, trailer: bool, load: str = "", measures: str = "") -> Texts:
    """Texts of a new ticket: the cards that are usual for what is weighed."""
    ways = []
    if truck:
        ways.append(("truck", ""))
    if trailer:
        ways.append(("hitched", "") if truck else ("trailer", ""))
    if trailer and truck and loads:
        ways.append(("hitched", load or "the load"))
    texts = {"cards": str(len(ways)), "s0-kind": "platform", "measures": measures}
    for n, (state, carried) in enumerate(ways):
        texts |= {f"w{n}-state": state, f"w{n}-load": carried}
    return texts


def with_card(texts: Texts, which: str) -> Texts:
    """The same texts with one card more."""
    count = card_count(texts)
    if which not in ADDS or count >= MOST_CARDS:
        return texts
    state, load = ADDS[which]
    return {**texts, "cards": str(count + 1), f"w{count}-state": state, f"w{count}-load": load}


def card_count(texts: Mapping[str, str]) -> int:
    """Cards of a form."""
    sent = texts.get("cards", "")
    return min(int(sent), MOST_CARDS) if re.fullmatch(r"\d{1,2}", sent) else 0


def texts_of(spec: Mapping[str, Any], *, measures: str = "") -> Texts:
    """A stored ticket as the form's texts."""
    weighings = spec.get("weighing", [])
    texts: Texts = {"cards": str(len(weighings)), "title": spec.get("title", ""), "notes": spec.get("notes", "")}
    texts["measures"] = measures
    for n, scale in enumerate(spec.get("scale", [])[:MOST_SCALES]):
        texts |= {
            f"s{n}-id": scale["id"],
            f"s{n}-kind": scale["kind"],
            f"s{n}-says": scale.get("says", ""),
            f"s{n}-step": _text(scale.get("division_lb"), "lb", measures),
            f"s{n}-off": _text(scale.get("accuracy_lb"), "lb", measures),
        }
    first = spec["scale"][0]["id"] if spec.get("scale") else SCALE_IDS[0]
    for n, weighing in enumerate(weighings):
        texts |= _weighing_texts(n, weighing, first, measures)
    return {k: v for k, v in texts.items() if v}


def _weighing_texts(n: int, weighing: Mapping[str, Any], first: str, measures: str) -> Texts:
    readings = weighing.get("reading", [])
    scales = [r.get("scale", first) for r in readings]
    usual = max(dict.fromkeys(scales), key=scales.count) if scales else first
    texts = {
        f"w{n}-state": weighing["state"],
        f"w{n}-load": weighing.get("load", ""),
        f"w{n}-says": weighing.get("says", ""),
        f"w{n}-scale": usual,
        f"w{n}-jack": _text(weighing.get("jack_from_coupler_in"), "in", measures),
        f"w{n}-bars": "yes" if weighing.get("weight_distribution") else "",
    }
    more = 0
    for r, scale in zip(readings, scales, strict=True):
        on, shown = "+".join(r["on"]), _text(r.get("shown_lb"), "lb", measures)
        plain = on in USUAL[weighing["state"]] and scale == usual and not r.get("side") and not r.get("set_aside")
        if plain and f"w{n}-p-{on}" not in texts:
            texts[f"w{n}-p-{on}"] = shown
            continue
        of = f"w{n}-m{more}"
        texts |= {f"{of}-on": on, f"{of}-side": r.get("side", ""), f"{of}-lb": shown, f"{of}-scale": scale}
        texts[f"{of}-aside"] = r.get("set_aside", "")
        more += 1
    for k, thing in enumerate(weighing.get("aboard", [])[:MOST_ABOARD]):
        of = f"w{n}-a{k}"
        texts |= {f"{of}-says": thing["says"], f"{of}-lb": _text(thing.get("weight_lb"), "lb", measures)}
        texts[f"{of}-at"] = _text(thing.get("behind_front_axle_in"), "in", measures)
    return texts


def _text(value: Mapping[str, Any] | None, unit: str, measures: str) -> str:
    return exact_text(value["value"], unit, measures) if value else ""


def read(
    texts: Mapping[str, str], *, ident: str, trailer: str | None, truck: str | None
) -> tuple[Ticket | None, dict[str, str]]:
    """The ticket that texts describe, or what is wrong with which field (``""`` for the whole).

    Parameters
    ----------
    texts : mapping
    ident : str
        The ticket's id in its file.
    trailer, truck : str or None
        Ids of what was weighed.
    """
    table, names = _table(with_units(texts))
    table |= {"id": ident, "trailer": trailer, "truck": truck, "day": texts.get("day") or None}
    faults: dict[str, str] = {}
    if not any(w["reading"] for w in table["weighing"]):
        return None, {"": "Enter at least one reading: what stood on the plate, and what the scale showed."}
    try:
        return read_thing(Ticket, {k: v for k, v in table.items() if v is not None}), {}
    except Faults as told:
        for fault in told.faults:
            name = next((names[p] for p in _places(fault.field) if p in names), "")
            said = f"{fault.lead} {accepted_in(fault.accepted, measures_sent(texts))}".strip()
            remedy = f" ({fault.remedy})" if fault.remedy else ""
            faults.setdefault(name, f"{said[:1].upper()}{said[1:]}{remedy}.")
    return None, faults


def _places(field: str) -> Iterator[str]:
    """A field and what holds it, from the inside out."""
    while field:
        yield field
        field = field.rpartition(".")[0]


def _table(texts: Mapping[str, str]) -> tuple[dict[str, Any], dict[str, str]]:
    """The file's table, and the form's name of each of its fields."""
    names = {"day": "day"}
    scales = []
    for n in range(MOST_SCALES):
        kind, step, off = (texts.get(f"s{n}-{k}", "") for k in ("kind", "step", "off"))
        if not (kind or step or off) and n:
            continue
        at = f"scale[{len(scales) + 1}]"
        names |= {f"{at}.kind": f"s{n}-kind", f"{at}.division_lb": f"s{n}-step", f"{at}.accuracy_lb": f"s{n}-off"}
        names |= {at: f"s{n}-kind", f"{at}.id": f"s{n}-kind"}
        scales.append(
            _filled(
                id=texts.get(f"s{n}-id") or SCALE_IDS[n], kind=kind or "platform", says=texts.get(f"s{n}-says"),
                division_lb=step, accuracy_lb=off,
            )
        )  # fmt: skip
    weighings = []
    for n in range(card_count(texts)):
        weighing = _weighing(texts, n, f"weighing[{len(weighings) + 1}]", names)
        if weighing["reading"]:
            weighings.append(weighing)
    table = {"scale": scales, "weighing": weighings, "title": texts.get("title"), "notes": texts.get("notes")}
    return {k: v for k, v in table.items() if v not in ("", None)}, names


def _weighing(texts: Mapping[str, str], n: int, at: str, names: dict[str, str]) -> dict[str, Any]:
    of = f"w{n}"
    state = texts.get(f"{of}-state", "")
    state = state if state in USUAL else "hitched"
    usual = texts.get(f"{of}-scale") or texts.get("s0-id") or SCALE_IDS[0]
    names |= {at: f"{of}-load", f"{at}.load": f"{of}-load", f"{at}.jack_from_coupler_in": f"{of}-jack"}
    names |= {f"{at}.weight_distribution": f"{of}-bars"}
    reading: list[dict[str, Any]] = []

    def add(name: str, on: str, shown: str, scale: str, side: str = "", aside: str = "") -> None:
        reading.append(_filled(on=on.split("+"), shown_lb=shown, scale=scale, side=side, set_aside=aside))
        place = f"{at}.reading[{len(reading)}]"
        names[place] = names[f"{place}.shown_lb"] = name

    for on in USUAL[state]:
        if shown := texts.get(f"{of}-p-{on}", ""):
            add(f"{of}-p-{on}", on, shown, usual)
    for m in range(MOST_MORE):
        on, side, shown, scale, aside = (
            texts.get(f"{of}-m{m}-{k}", "") for k in ("on", "side", "lb", "scale", "aside")
        )
        if on and shown:
            add(f"{of}-m{m}-lb", on, shown, scale or usual, side, aside)
    aboard = []
    for a in range(MOST_ABOARD):
        says, weight, place = (texts.get(f"{of}-a{a}-{k}", "") for k in ("says", "lb", "at"))
        if weight and state != "trailer":
            aboard.append(_filled(says=says or "people in the cab", weight_lb=weight, behind_front_axle_in=place))
            names[f"{at}.aboard[{len(aboard)}]"] = f"{of}-a{a}-lb"
            names[f"{at}.aboard[{len(aboard)}].behind_front_axle_in"] = f"{of}-a{a}-at"
    table = _filled(
        state=state, load=texts.get(f"{of}-load") if state != "truck" else "", says=texts.get(f"{of}-says")
    )
    if state == "trailer" and texts.get(f"{of}-jack"):
        table["jack_from_coupler_in"] = {"value": texts[f"{of}-jack"], "basis": "measured"}
    if state == "hitched" and texts.get(f"{of}-bars"):
        table["weight_distribution"] = True
    return table | {"reading": reading} | ({"aboard": aboard} if aboard else {})


def _filled(**fields: Any) -> dict[str, Any]:
    return {k: v for k, v in fields.items() if v not in ("", None)}


def cards(texts: Mapping[str, str], faults: Mapping[str, str], *, axles: int) -> list[Card]:
    """The cards of a form.

    Parameters
    ----------
    texts, faults : mapping
        By field name.
    axles : int
        Of the trailer; other readings may name each.
    """
    return [_card(texts, faults, n, axles) for n in range(card_count(texts))]


def _card(texts: Mapping[str, str], faults: Mapping[str, str], n: int, axles: int) -> Card:
    of = f"w{n}"
    state = texts.get(f"{of}-state", "")
    state = state if state in USUAL else "hitched"
    load = texts.get(f"{of}-load", "")
    lines = tuple(
        Line(name, on, plate_words(on.split("+")), texts.get(name, ""), faults.get(name, ""))
        for on in USUAL[state]
        for name in [f"{of}-p-{on}"]
    )
    options = tuple(
        (on, plate_words(on.split("+")))
        for on in (*USUAL[state], *OTHER[state])
        if not on.startswith("axle ") or int(on[5:]) <= axles
    )
    more = _rows(texts, faults, f"{of}-m", ("on", "side", "lb", "scale", "aside"), options, least=2, most=MOST_MORE)
    aboard = _rows(texts, faults, f"{of}-a", ("says", "lb", "at"), (), least=1, most=MOST_ABOARD)
    own = {k: texts.get(f"{of}-{k}", "") for k in ("state", "load", "says", "scale", "jack", "bars")}
    fault = next((faults[k] for k in (f"{of}-load", f"{of}-jack", f"{of}-bars") if k in faults), "")
    return Card(n, state, state_words(state, load), own, lines, more, aboard if state != "trailer" else (), fault)


def _rows(
    texts: Mapping[str, str],
    faults: Mapping[str, str],
    of: str,
    keys: tuple[str, ...],
    options: tuple[tuple[str, str], ...],
    *,
    least: int,
    most: int,
) -> tuple[More, ...]:
    """Rows that have something in them, and enough empty ones."""
    filled = max((k + 1 for k in range(most) if any(texts.get(f"{of}{k}-{key}") for key in keys)), default=0)
    rows = []
    for k in range(min(max(filled + (least > 1), least), most)):
        own = {key: texts.get(f"{of}{k}-{key}", "") for key in keys}
        on = own.get("on", "")
        extra = ((on, plate_words(on.split("+"))),) if on and on not in dict(options) else ()
        fault = next((faults[f"{of}{k}-{key}"] for key in keys if f"{of}{k}-{key}" in faults), "")
        rows.append(More(f"{of}{k}", own, (*options, *extra), fault))
    return tuple(rows)
