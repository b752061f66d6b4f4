"""Ordered against received, field by field, as a page shows it and as its form comes back."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from rubrail.desk.amounts import written
from rubrail.desk.forms.spec import FLAG_WORDS, MEASURED, sentence, taken, text_of
from rubrail.desk.models import Receipt
from rubrail.desk.receiving.found import OTHER, SAME, WHOLE, field_of, look_at, starred, taken_table
from rubrail.desk.spec_fields import SpecField
from rubrail.desk.stock import is_value, leaves, path_of_fault, put_together, say_leaf
from rubrail.desk.typed import METRIC, US, unit_word
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.trailer import Trailer

AXLE = (
    *("brakes", "wheel_rating_lb", "tires.count", "tires.size", "tires.load_range", "tires.family"),
    *("tires.max_load_lb", "tires.max_load_dual_lb", "tires.max_pressure_psi"),
)
COUPLED = (
    *("coupling.kind", "coupling.ball_size_in", "coupling.gross_rating_lb", "coupling.vertical_rating_lb"),
    *("chains.count", "chains.strength_lb", "breakaway", "plug", "lamps_complete"),
)
GROUPS: tuple[tuple[str, str, tuple[str, ...], tuple[str, ...]], ...] = (
    ("label", "The label", ("ratings.gvwr_lb", "axle.*.gawr_lb", "year"), ()),
    ("gear", "Axles, wheels, tires", ("axle", *(f"axle.*.{n}" for n in AXLE), "suspension.kind"), ()),
    ("coupling", "Coupling, chains, plug", COUPLED, ()),
    ("deck", "Deck and outside", ("deck.width_in", "deck.flat_length_in", "deck.height_in"), ("deck.", "size.")),
    ("ramp", "Ramps", (), ("ramp.",)),
    ("frame", "Frame", (), ("frame.", "suspension.")),
    ("more", "More of axles, tires, coupling and jack", (), ("axle.", "coupling.", "chains.", "jack.")),
    ("rest", "The rest", (*WHOLE, "model", "color"), ()),
)
"""In the order a person walks: name, heading, paths always asked for, beginnings of those shown where ordered."""
FIRST = ("label", "gear", "coupling")
"""Groups that stand open."""
NOT_ASKED = re.compile(r"(anchor|equipment)\.|ratings\.advertised|.*section_modulus|.*\.yield_psi|suspension\.rate")
LONGEST = 200


@dataclass
class Row:
    """One field on the page.

    path : its name in the form; unit : what a bare number is in; ordered : as text, ``""`` where it was not;
    look : ``""`` (nobody looked), ``same`` or ``other``; text : what is there instead, as typed; faults : sentences
    beside it; there : what is there instead, in words.
    """

    path: str
    label: str
    kind: str
    unit: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    ordered: str = ""
    look: str = ""
    text: str = ""
    rating: bool = False
    faults: list[str] = field(default_factory=list)
    there: str = ""

    @property
    def ident(self) -> str:
        """Name in the page."""
        return "f-" + self.path.replace(".", "-").replace("*", "all")

    @property
    def named(self) -> str:
        """What it is called away from its heading."""
        spec = field_of(self.path) if self.path.startswith("ramp.") else None
        return f"{spec.label[:1].upper()}{spec.label[1:]}" if spec else self.label


@dataclass(frozen=True)
class Group:
    """Rows under one heading."""

    name: str
    title: str
    rows: tuple[Row, ...]

    @property
    def looked(self) -> int:
        """How many were looked at."""
        return sum(1 for r in self.rows if r.look)

    @property
    def differ(self) -> int:
        """How many are not as ordered."""
        return sum(1 for r in self.rows if r.look == OTHER)

    @property
    def opened(self) -> bool:
        """Whether it stands open: the important ones, and those with a fault."""
        return self.name in FIRST or any(r.faults for r in self.rows)


def rows_of(receipt: Receipt, *, each_axle: bool | None = None, measures: str = US) -> list[Group]:
    """The fields a person looks at, with what was said of each so far.

    Parameters
    ----------
    receipt : Receipt
    each_axle : bool, optional
        Whether each axle has rows of its own; as the receipt has it by default, and always where they were ordered
        unlike.
    measures : str
        Of the form.
    """
    expected = receipt.ordered or put_together(receipt.unit)
    known = dict(leaves(expected))
    each = not _alike(known) or (bool(receipt.found.get("each_axle")) if each_axle is None else each_axle)
    count = max(len(expected.get("axle", ())), 1)
    groups, placed = [], set()
    for name, title, always, begins in GROUPS:
        paths = [p for a in always for p in (_each(a, count) if each else [a])]
        more = [p if each else starred(p) for p in known if p.startswith(begins)] if begins else []
        found = [p for p in dict.fromkeys((*paths, *more)) if p not in placed and not _skipped(p, expected)]
        placed |= set(found)
        rows = tuple(_row(p, receipt, expected, known, measures) for p in found)
        if rows:
            groups.append(Group(name, title, rows))
    return groups


def unlike_axles(receipt: Receipt) -> bool:
    """Whether the axles were ordered unlike, so that each has rows of its own whatever was asked."""
    return not _alike(dict(leaves(receipt.ordered or put_together(receipt.unit))))


def axles_of(receipt: Receipt) -> int:
    """How many axles were ordered."""
    return len((receipt.ordered or put_together(receipt.unit)).get("axle", ()))


def _alike(known: Mapping[str, Any]) -> bool:
    """Whether every axle was ordered like the first, its place aside."""
    held: dict[str, set[str]] = {}
    counts: dict[str, int] = {}
    axles = {p.split(".")[1] for p in known if p.startswith("axle.")}
    for path, value in known.items():
        if path.startswith("axle.") and not path.endswith(".from_coupler_in"):
            held.setdefault(starred(path), set()).add(repr(value))
            counts[starred(path)] = counts.get(starred(path), 0) + 1
    return all(len(v) == 1 and counts[k] == len(axles) for k, v in held.items())


def _each(path: str, count: int) -> list[str]:
    return [path.replace("*", str(n)) for n in range(count)] if "*" in path else [path]


def _skipped(path: str, expected: Mapping[str, Any]) -> bool:
    if path.endswith(".from_coupler_in") or NOT_ASKED.match(path):
        return True
    if path.endswith("max_load_dual_lb"):
        return not any(axle.get("tires", {}).get("count") == 4 for axle in expected.get("axle", ()))
    return path in WHOLE and path not in expected


def _row(path: str, receipt: Receipt, expected: Mapping[str, Any], known: Mapping[str, Any], measures: str) -> Row:
    look = look_at(receipt.found, path)
    said = str(look.get("is", ""))
    if path == "axle":
        n = len(expected.get("axle", ()))
        ordered = str(n) if receipt.ordered else ""
        text = str(look["value"]) if said == OTHER else ""
        return Row(path, "Axles", "count", ordered=ordered, look=said, text=text, there=text)
    if path in WHOLE:
        title = {"anchor": "Places to tie to", "equipment": "Equipment"}[path]
        words = str(look.get("words", ""))
        return Row(path, title, "words", ordered=_listed(expected[path]), look=said, text=words, there=words)
    spec = field_of(path)
    value = known.get(path.replace("*", "0")) if receipt.ordered else None
    own = measures_of(path, measures)
    text = text_of(path, look["value"], unit=spec.unit, measures=own).get(path, "") if said == OTHER else ""
    return Row(
        path, _label(path, spec), spec.kind, unit_word(spec.unit, own), _choices(spec), _said(spec, value, own), said,
        text, spec.first_basis == "label", there=_said(spec, look["value"], own) if said == OTHER else "",
    )  # fmt: skip


def measures_of(path: str, measures: str) -> str:
    """Measures of one field of a form: balls are called by their size in inches everywhere."""
    return US if path == "coupling.ball_size_in" else measures


def _label(path: str, spec: SpecField) -> str:
    words = spec.short if "*" in path or path.startswith("ramp.") else spec.label
    if path.startswith("coupling.") and not words.startswith(("coupl", "rated")):
        words = spec.label
    if path == "axle.*.tires.count":
        words = "tires on each axle"
    elif path == "axle.*.gawr_lb":
        words = "GAWR, each axle"
    return words[:1].upper() + words[1:]


def _choices(spec: SpecField) -> tuple[tuple[str, str], ...]:
    if spec.kind == "flag":
        return FLAG_WORDS[1:]
    return tuple((str(c), str(c)) for c in spec.choices) if spec.kind == "choice" else ()


def _said(spec: SpecField, value: Any, measures: str) -> str:
    """The ordered value in words, without where it comes from."""
    if is_value(value):
        return written(value["value"], spec.unit, metric=measures == METRIC)
    return say_leaf(spec, value)


def _listed(members: list[Mapping[str, Any]]) -> str:
    """A list in a few words: how many of each kind."""
    counts: dict[str, int] = {}
    for m in members:
        name = str(m.get("says") or m.get("kind") or m.get("tag") or "one")
        counts[name] = counts.get(name, 0) + int(m.get("count", 1)) * (2 if m.get("both_sides") else 1)
    return ", ".join(f"{n} × {name}" if n > 1 else name for name, n in counts.items())


def texts_of(groups: list[Group]) -> dict[str, str]:
    """What the form shows, by the names of its fields; empty ones are left out."""
    texts = {}
    for row in (r for g in groups for r in g.rows):
        texts |= {f"look:{row.path}": row.look} if row.look else {}
        texts |= {row.path: row.text} if row.look == OTHER and row.text else {}
    return texts


def take(groups: list[Group], texts: Mapping[str, str]) -> None:
    """Put what was sent into the rows; a value typed where nothing was said counts as *something else*."""
    for row in (r for g in groups for r in g.rows):
        row.look = texts.get(f"look:{row.path}", "")
        row.text = texts.get(row.path, "").strip()[:LONGEST]
        if row.text and not row.look:
            row.look = OTHER
        if row.look not in (SAME, OTHER):
            row.look = ""


def looks_of(receipt: Receipt, groups: list[Group], *, measures: str = US) -> dict[str, Any] | None:
    """What the rows say as ``found`` keeps it; nothing where something cannot be read, told beside its row.

    The whole is read through the door as the unit would be stored, so that every fault of a value is found at once.
    """
    looks: dict[str, Any] = {}
    for row in (r for g in groups for r in g.rows):
        look = _look(row, look_at(receipt.found, row.path).get("value"), measures)
        if look:
            looks[row.path] = look
    rows = {r.path: r for g in groups for r in g.rows}
    found = {**receipt.found, "looks": looks}
    try:
        trailer = read_thing(Trailer, taken_table(receipt, found))
    except Faults as told:
        _tell(told, rows, measures)
        return None
    if any(r.faults for r in rows.values()):
        return None
    dumped = dict(leaves(trailer.model_dump(mode="json", by_alias=True, exclude_none=True)))
    for path, look in looks.items():
        if look["is"] == OTHER and "value" in look and path != "axle":
            first = path.replace("*", "0")
            # As the door read it: a number with its basis, not the text that was typed.
            look["value"] = _plain(dumped.get(first, look["value"]))
    return looks


def _plain(value: Any) -> Any:
    return {k: v for k, v in value.items() if v is not None} if isinstance(value, Mapping) else value


def _look(row: Row, kept: Any, measures: str) -> dict[str, Any]:
    if row.look == SAME:
        if not row.ordered:
            row.faults.append("It was not ordered, so it cannot be as ordered. Write what is there.")
        return {"is": SAME}
    if row.look != OTHER:
        return {}
    if not row.text:
        row.faults.append("Write what is there instead.")
        return {}
    if row.kind == "words":
        return {"is": OTHER, "words": row.text}
    if row.path == "axle":
        if not re.fullmatch(r"[1-6]", row.text):
            row.faults.append(f'Must be a number of axles from 1 to 6, not "{row.text}".')
            return {}
        return {"is": OTHER, "value": int(row.text)}
    spec = field_of(row.path)
    basis = ("label" if row.rating else "measured") if spec.kind in MEASURED else ""
    return {"is": OTHER, "value": taken(spec, row.text, basis, kept=kept, measures=measures_of(row.path, measures))}


def _tell(told: Faults, rows: Mapping[str, Row], measures: str) -> None:
    stray = []
    for fault in told.faults:
        path = path_of_fault(fault.field) if fault.field else ""
        row = rows.get(path) or rows.get(starred(path))
        if row is None:
            stray.append(fault)
        else:
            spec, own = field_of(row.path), measures_of(row.path, measures)
            said = sentence(fault, named=True, unit=spec.unit if spec else "", measures=own)
            row.faults += [said] if said not in row.faults else []
    first = next(iter(rows.values()), None)
    if stray and first is not None:
        # What fits no row here is told at the first, so that nothing is refused without a word.
        at = next((r for r in rows.values() if r.look == OTHER), first)
        at.faults += [sentence(f, named=False, measures=measures) for f in stray]


def differing(groups: list[Group]) -> Iterator[Row]:
    """Rows that are not as ordered."""
    return (r for g in groups for r in g.rows if r.look == OTHER)
