"""The form of a unit: what the lot says of it, and every field of the trailer file, from the file's own model."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms import BoundField

from rubrail.desk.models.stock import Status
from rubrail.desk.spec_fields import Section, SpecField, sections_of
from rubrail.desk.stock import APART, leaves, path_of_fault
from rubrail.quantity.basis import BASES
from rubrail.quantity.money import UnreadableMoneyError, parse_money, show_money
from rubrail.things.faults import Fault, show_value
from rubrail.things.trailer import Trailer

SECTIONS = sections_of(Trailer, own=APART)
LOT_TEXT = (
    ("stock_number", "Stock number", "Yours; it is written on the unit and stands for it everywhere."),
    ("location", "Place on the lot", "Lot and row."),
    ("color", "Color", ""),
)
FLAG_WORDS = (("", "not known"), ("yes", "yes"), ("no", "no"))
MANY_DEFAULT = {"axle": 2}


@dataclass(frozen=True, slots=True)
class Line:
    """One field as the page draws it: the control, and the basis beside it for measured ones."""

    spec: SpecField
    field: BoundField
    basis: BoundField | None


@dataclass(frozen=True, slots=True)
class Group:
    """Lines under one heading; for a list, one group a member."""

    title: str
    lines: tuple[Line, ...]
    drop: BoundField | None = None

    @property
    def faulty(self) -> bool:
        """Whether any line has a fault."""
        return any(line.field.errors or (line.basis and line.basis.errors) for line in self.lines)

    @property
    def known(self) -> int:
        """How many lines have something in them."""
        return sum(1 for line in self.lines if line.field.value())


@dataclass(frozen=True, slots=True)
class Page:
    """A section of the form."""

    name: str
    title: str
    groups: tuple[Group, ...]
    many: bool
    more: bool

    @property
    def faulty(self) -> bool:
        """Whether any group has a fault."""
        return any(g.faulty for g in self.groups)

    @property
    def known(self) -> int:
        """Lines with something in them."""
        return sum(g.known for g in self.groups)

    @property
    def lines(self) -> int:
        """All lines."""
        return sum(len(g.lines) for g in self.groups)


class UnitForm(forms.Form):
    """Every field of a unit, by the file's own paths."""

    def __init__(self, *, may_price: bool, may_cost: bool, counts: Mapping[str, int], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.may = {"price_usd": may_price, "status": may_price, "cost_usd": may_cost}
        self.counts = dict(counts)
        for name, label, help_text in LOT_TEXT:
            self.fields[name] = forms.CharField(label=label, help_text=help_text, required=False, max_length=200)
        if may_price:
            self.fields["status"] = forms.ChoiceField(
                label="Status", choices=[(v, str(w).capitalize()) for v, w in Status.choices]
            )
            self.fields["price_usd"] = _money("Asking price")
        if may_cost:
            self.fields["cost_usd"] = _money("Cost")
        self.fields["arrived"] = forms.CharField(
            label="Arrived", required=False, max_length=20, widget=forms.DateInput(attrs={"type": "date"})
        )
        for section in SECTIONS:
            for spec in self._specs(section):
                self._add(spec)
            for number in range(self.counts.get(section.name, 0) if section.many else 0):
                self.fields[f"{section.name}.{number}:drop"] = forms.BooleanField(
                    label="Take this one away", required=False
                )

    def _specs(self, section: Section) -> Iterator[SpecField]:
        if not section.many:
            yield from section.fields
        for number in range(self.counts.get(section.name, 0) if section.many else 0):
            yield from section.member(number)

    def _add(self, spec: SpecField) -> None:
        self.fields[spec.path] = _field(spec)
        if spec.kind == "measure":
            self.fields[f"{spec.path}:basis"] = forms.ChoiceField(
                label=f"Basis of the {spec.label}",
                choices=[(b, b) for b in BASES],
                initial=spec.first_basis,
                required=False,
            )

    def lot(self) -> list[BoundField]:
        """Fields of the lot, in the order of the page."""
        order = ("stock_number", "status", "price_usd", "cost_usd", "arrived", "location", "color")
        return [self[name] for name in order if name in self.fields]

    def pages(self) -> list[Page]:
        """Sections of the trailer file, with their lines."""
        return [self._page(section) for section in SECTIONS]

    def _page(self, section: Section) -> Page:
        if not section.many:
            return Page(section.name, section.title, (Group("", self._lines(section.fields)),), False, False)
        count = self.counts.get(section.name, 0)
        groups = tuple(
            Group(f"{section.one} {n + 1}", self._lines(section.member(n)), self[f"{section.name}.{n}:drop"])
            for n in range(count)
        )
        return Page(section.name, section.title, groups, True, count < section.most)

    def _lines(self, specs: tuple[SpecField, ...]) -> tuple[Line, ...]:
        return tuple(Line(s, self[s.path], self[f"{s.path}:basis"] if s.kind == "measure" else None) for s in specs)

    def texts(self) -> dict[str, str]:
        """What was sent, as text, without members to be taken away."""
        return {name: str(self.data.get(self.add_prefix(name)) or "").strip() for name in self.fields}

    def tell(self, fault: Fault) -> None:
        """Put a fault beside the field it concerns."""
        name = path_of_fault(fault.field) if fault.field else ""
        name = {"id": "stock_number"}.get(name, name)
        if name not in self.fields:
            # A table that is missing whole is told at the field of it that is needed most.
            name = next((f for f in self.fields if f.startswith(f"{name}.") and ":" not in f), name) if name else ""
        self.add_error(name if name in self.fields else None, _sentence(fault, named=name in self.fields))


def _sentence(fault: Fault, *, named: bool) -> str:
    subject = "" if named else f"{fault.field} "
    said = f"{subject}{fault.lead} {fault.accepted}"
    shown = show_value(fault.value)
    got = f", not {shown}" if shown != "an object" and not shown.startswith("a ") else ""
    remedy = f". {fault.remedy[:1].upper()}{fault.remedy[1:]}" if fault.remedy else ""
    return f"{said[:1].upper()}{said[1:]}{got}{remedy}."


def _money(label: str) -> forms.CharField:
    return forms.CharField(
        label=label, required=False, max_length=40, widget=forms.TextInput(attrs={"inputmode": "decimal"})
    )


def _field(spec: SpecField) -> forms.Field:
    label = spec.short[:1].upper() + spec.short[1:]
    if spec.kind == "choice":
        choices = [("", "not known"), *((str(c), str(c)) for c in spec.choices)]
        return forms.ChoiceField(label=label, choices=choices, required=False, help_text=_says(spec))
    if spec.kind == "flag":
        return forms.ChoiceField(label=label, choices=FLAG_WORDS, required=False, help_text=_says(spec))
    if spec.path == "notes":
        return forms.CharField(label=label, required=False, max_length=4000, widget=forms.Textarea(attrs={"rows": 4}))
    attrs = {"autocomplete": "off"}
    if spec.kind in ("measure", "count"):
        attrs["inputmode"] = "text" if spec.unit == "in" else "decimal"
    return forms.CharField(
        label=label, required=False, max_length=200, help_text=_says(spec), widget=forms.TextInput(attrs=attrs)
    )


def _says(spec: SpecField) -> str:
    """What the field is, unless its label says it already."""
    return "" if spec.says == spec.short else spec.says[:1].upper() + spec.says[1:]


def counts_of(table: Mapping[str, Any]) -> dict[str, int]:
    """How many members each list of a trailer file's table has."""
    return {s.name: len(table.get(s.name, ())) for s in SECTIONS if s.many}


def texts_of(table: Mapping[str, Any]) -> dict[str, str]:
    """A trailer file's table as the form writes it, by field; what is not there is left out."""
    specs = {s.path: s for section in SECTIONS for s in _all_specs(section, table)}
    texts = {}
    for path, value in leaves(table):
        if isinstance(value, Mapping):
            texts[path] = _digits(value["value"])
            texts[f"{path}:basis"] = value["basis"]
        elif isinstance(value, bool):
            texts[path] = "yes" if value else "no"
        elif path in ("price_usd", "cost_usd"):
            texts[path] = show_money(value).lstrip("$")
        elif path in specs or path in ("status", "arrived", "location", "color"):
            texts[path] = str(value)
    texts["stock_number"] = str(table.get("id", ""))
    return texts


def _all_specs(section: Section, table: Mapping[str, Any]) -> Iterator[SpecField]:
    if not section.many:
        yield from section.fields
    for number in range(len(table.get(section.name, ())) if section.many else 0):
        yield from section.member(number)


def _digits(number: float) -> str:
    return f"{number:,.4f}".rstrip("0").rstrip(".")


def table_of(texts: Mapping[str, str], *, stored: Mapping[str, Any], counts: Mapping[str, int]) -> dict[str, Any]:
    """The trailer file's table that the form's texts stand for.

    A field whose text and basis are still what the stored table writes keeps the stored value to the last digit, its
    own tolerance included.

    Parameters
    ----------
    texts : mapping
        Form field to text.
    stored : mapping
        Table of the unit as it is stored; empty for a new one.
    counts : mapping
        Members the form shows of each list.
    """
    kept, was = dict(leaves(stored)), texts_of(stored)
    table: dict[str, Any] = {"id": texts.get("stock_number", "")}
    for name in ("status", "price_usd", "cost_usd", "arrived", "location", "color"):
        if texts.get(name):
            table[name] = kept[name] if name in kept and texts[name] == was.get(name) else _lot(name, texts[name])
    for section in SECTIONS:
        if not section.many:
            _fill(table, section.fields, texts, kept, was)
            continue
        members = []
        for number in range(counts.get(section.name, 0)):
            if texts.get(f"{section.name}.{number}:drop"):
                continue
            member: dict[str, Any] = {}
            _fill(member, section.member(number), texts, kept, was, skip=2)
            # An axle of which nothing is known is an axle all the same; an empty ramp is no ramp.
            if member or section.least:
                members.append(member)
        if members:
            table[section.name] = members
    return table


def _lot(name: str, text: str) -> Any:
    if name.endswith("_usd"):
        with contextlib.suppress(UnreadableMoneyError):
            return parse_money(text)
    return text


def _fill(
    table: dict[str, Any],
    specs: tuple[SpecField, ...],
    texts: Mapping[str, str],
    kept: Mapping[str, Any],
    was: Mapping[str, str],
    *,
    skip: int = 0,
) -> None:
    for spec in specs:
        text = texts.get(spec.path, "")
        if not text:
            continue
        basis = f"{spec.path}:basis"
        same = spec.path in kept and text == was.get(spec.path) and texts.get(basis, "") == was.get(basis, "")
        value = kept[spec.path] if same else _value(spec, text, texts.get(basis, ""))
        *parents, last = spec.path.split(".")[skip:]
        here = table
        for parent in parents:
            here = here.setdefault(parent, {})
        here[last] = value


def _value(spec: SpecField, text: str, basis: str) -> Any:
    if spec.kind == "measure":
        return {"value": text, "basis": basis or spec.first_basis}
    if spec.kind == "flag":
        return {"yes": True, "no": False}.get(text, text)
    if spec.kind == "choice":
        return next((c for c in spec.choices if str(c) == text), text)
    if spec.kind == "count" and text.lstrip("-").isdigit():
        return int(text)
    return text
