"""Every field of a thing's file as a form, from the file's own model: units, trucks and machines alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from django import forms
from django.forms import BoundField

from rubrail.desk.forms.told import sentence
from rubrail.desk.spec_fields import Section, SpecField
from rubrail.desk.stock import is_value, leaves, path_of_fault
from rubrail.desk.typed import METRIC, US, number_text, unit_word, with_unit
from rubrail.quantity.basis import BASES
from rubrail.things.faults import Fault
from rubrail.things.part import Thing

FLAG_WORDS = (("", "not known"), ("yes", "yes"), ("no", "no"))
MEASURED = ("measure", "places")
"""Kinds of field that have a basis."""


@dataclass(frozen=True, slots=True)
class Line:
    """One field as the page draws it: the control, the unit and the basis beside it for measured ones."""

    spec: SpecField
    field: BoundField
    basis: BoundField | None
    unit: str = ""


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


class SpecForm(forms.Form):
    """Fields of a file's sections, by the file's own paths."""

    model: type[Thing]
    sections: tuple[Section, ...] = ()
    id_field = "id"
    """Field that stands for the thing's id."""

    def __init__(self, *, counts: Mapping[str, int], measures: str = US, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.counts = dict(counts)
        self.measures = measures

    def add_sections(self) -> None:
        """Add the fields of every section, after those a form has of its own."""
        for section in self.sections:
            for spec in self._specs(section):
                self.fields[spec.path] = control(spec, measures=self.measures)
                if spec.kind in MEASURED:
                    self.fields[f"{spec.path}:basis"] = basis_control(spec)
            for number in range(self.counts.get(section.name, 0) if section.many else 0):
                self.fields[f"{section.name}.{number}:drop"] = forms.BooleanField(
                    label="Take this one away", required=False
                )

    def pages(self) -> list[Page]:
        """Sections of the file, with their lines."""
        return [self._page(section) for section in self.sections]

    def _page(self, section: Section) -> Page:
        if not section.many:
            return Page(section.name, section.title, (Group("", self.lines(section.fields)),), False, False)
        count = self.counts.get(section.name, 0)
        groups = tuple(
            Group(f"{section.one} {n + 1}", self.lines(section.member(n)), self[f"{section.name}.{n}:drop"])
            for n in range(count)
        )
        return Page(section.name, section.title, groups, True, count < section.most)

    def lines(self, specs: tuple[SpecField, ...]) -> tuple[Line, ...]:
        """Fields as the page draws them."""
        return tuple(
            Line(
                s,
                self[s.path],
                self[f"{s.path}:basis"] if s.kind in MEASURED else None,
                unit_word(s.unit, self.measures),
            )
            for s in specs
        )

    def texts(self) -> dict[str, str]:
        """What was sent, as text."""
        return {name: str(self.data.get(self.add_prefix(name)) or "").strip() for name in self.fields}

    def tell(self, fault: Fault) -> None:
        """Put a fault beside the field it concerns."""
        name = self.name_of(fault)
        if name not in self.fields:
            # A table that is missing whole is told at the field of it that is needed most.
            name = next((f for f in self.fields if f.startswith(f"{name}.") and ":" not in f), name) if name else ""
        if name not in self.fields:
            # One of several in a field, or a table without fields here, is told at what holds it.
            name = next((p for p in _above(name) if p in self.fields), "")
        unit = next((s.unit for section in self.sections for s in self._specs(section) if s.path == name), "")
        said = sentence(fault, named=bool(name), unit=unit, measures=self.measures, model=self.model)
        self.add_error(name or None, said)

    def _specs(self, section: Section) -> Iterator[SpecField]:
        return specs_of(section, self.counts.get(section.name, 0))

    def name_of(self, fault: Fault) -> str:
        """The form's name of the field a fault concerns."""
        name = path_of_fault(fault.field) if fault.field else ""
        return self.id_field if name == "id" else name


def _above(name: str) -> Iterator[str]:
    while "." in name:
        name = name.rpartition(".")[0]
        yield name


def control(spec: SpecField, *, measures: str = US) -> forms.Field:
    """The form field of a spec field."""
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
        # Feet and inches, and a minus, need more than a phone's keys for numbers.
        signed = spec.accepted.startswith("-")
        attrs["inputmode"] = "text" if signed or (spec.unit == "in" and measures != METRIC) else "decimal"
    return forms.CharField(
        label=label, required=False, max_length=200, help_text=_says(spec), widget=forms.TextInput(attrs=attrs)
    )


def basis_control(spec: SpecField) -> forms.Field:
    """The choice of where a measured field's value comes from."""
    return forms.ChoiceField(
        label=f"Basis of the {spec.label}",
        choices=[(b, b) for b in BASES],
        initial=spec.first_basis,
        required=False,
    )


def _says(spec: SpecField) -> str:
    """What the field is, unless its label says it already; several in one field are separated by semicolons."""
    says = "" if spec.says == spec.short else spec.says[:1].upper() + spec.says[1:]
    return f"{says}; several separated by semicolons" if spec.kind in ("places", "lines") else says


def counts_of(table: Mapping[str, Any], sections: tuple[Section, ...]) -> dict[str, int]:
    """How many members each list of a file's table has."""
    return {s.name: len(table.get(s.name, ())) for s in sections if s.many}


def specs_of(section: Section, count: int) -> Iterator[SpecField]:
    """Every field of a section; of a list's, those of so many members."""
    if not section.many:
        yield from section.fields
    for number in range(count if section.many else 0):
        yield from section.member(number)


def texts_of(table: Mapping[str, Any], sections: tuple[Section, ...], *, measures: str = US) -> dict[str, str]:
    """A file's table as the form writes it, by field; what is not there is left out."""
    specs = {s.path: s for section in sections for s in specs_of(section, len(table.get(section.name, ())))}
    texts: dict[str, str] = {}
    for path, value in leaves(table):
        if path in specs:
            texts |= text_of(path, value, unit=specs[path].unit, measures=measures)
    return texts


def text_of(path: str, value: Any, *, unit: str = "", measures: str = US) -> dict[str, str]:
    """One value as the form writes it, with its basis.

    Parameters
    ----------
    path : str
        Its field.
    value : object
        As stored.
    unit : str
        Of a measured field.
    measures : str
        Of the form.
    """
    if is_value(value):
        return {path: number_text(value["value"], unit, measures), f"{path}:basis": value["basis"]}
    if isinstance(value, bool):
        return {path: "yes" if value else "no"}
    if isinstance(value, list):
        if value and is_value(value[0]):
            numbers = "; ".join(number_text(v["value"], unit, measures) for v in value)
            return {path: numbers, f"{path}:basis": value[0]["basis"]}
        return {path: "; ".join(map(str, value))} if value else {}
    return {path: str(value)}


def table_of(
    texts: Mapping[str, str],
    *,
    sections: tuple[Section, ...],
    stored: Mapping[str, Any],
    counts: Mapping[str, int],
    measures: str = US,
) -> dict[str, Any]:
    """The file's table that the form's texts stand for, without what a form has of its own.

    A field whose text and basis are still what the stored table writes keeps the stored value, see ``taken``.

    Parameters
    ----------
    texts : mapping
        Form field to text.
    sections : tuple of Section
        The fields.
    stored : mapping
        Table of the thing as it is stored; empty for a new one.
    counts : mapping
        Members the form shows of each list.
    measures : str
        Of the form: what its bare numbers are in.
    """
    kept = dict(leaves(stored))
    table: dict[str, Any] = {}
    for section in sections:
        if not section.many:
            _fill(table, section.fields, texts, kept, measures)
            continue
        members = []
        for number in range(counts.get(section.name, 0)):
            if texts.get(f"{section.name}.{number}:drop"):
                continue
            member: dict[str, Any] = {}
            _fill(member, section.member(number), texts, kept, measures, skip=2)
            # An axle of which nothing is known is an axle all the same; an empty ramp is no ramp.
            if member or section.least:
                members.append(member)
        # Where a list said *none*, or was emptied here, it says *none* still; that is not the same as nobody said.
        if members or (section.says_none and section.name in stored):
            table[section.name] = members
    return table


def _fill(
    table: dict[str, Any],
    specs: tuple[SpecField, ...],
    texts: Mapping[str, str],
    kept: Mapping[str, Any],
    measures: str,
    *,
    skip: int = 0,
) -> None:
    for spec in specs:
        text = texts.get(spec.path, "")
        if text:
            value = taken(spec, text, texts.get(f"{spec.path}:basis", ""), kept=kept.get(spec.path), measures=measures)
            put(table, spec.path.split(".")[skip:], value)


def taken(spec: SpecField, text: str, basis: str, *, kept: Any, measures: str = US) -> Any:
    """What a field stands for in the file.

    A text that is still what the form showed keeps the stored number to the last digit, and its own tolerance where
    the basis is still the stored one too; of several numbers in a field, each for itself.

    Parameters
    ----------
    spec : SpecField
    text, basis : str
        As sent.
    kept : object
        What is stored there; None for nothing.
    measures : str
        Of the form.
    """
    was = {} if kept is None else text_of(spec.path, kept, unit=spec.unit, measures=measures)
    if text == was.get(spec.path) and basis == was.get(f"{spec.path}:basis", ""):
        return kept
    value = value_of(spec, text, basis, measures=measures)
    if spec.kind not in MEASURED or kept is None:
        return value
    news, texts, olds = (value, _parts(text), kept) if spec.kind == "places" else ([value], [text], [kept])
    same_basis = basis == was.get(f"{spec.path}:basis", "")
    found: list[Any] = []
    for new, part, held in zip_longest(news, texts, olds[: len(news)]):
        if held is None or part != number_text(held["value"], spec.unit, measures):
            found.append(new)
        else:
            found.append(held if same_basis or new["basis"] == held["basis"] else {**new, "value": held["value"]})
    return found if spec.kind == "places" else found[0]


def _parts(text: str) -> list[str]:
    return [part for piece in text.split(";") if (part := piece.strip())]


def put(table: dict[str, Any], path: list[str], value: Any) -> None:
    """Set a value in nested tables, making those that are not there."""
    *parents, last = path
    for parent in parents:
        table = table.setdefault(parent, {})
    table[last] = value


def value_of(spec: SpecField, text: str, basis: str, *, measures: str = US) -> Any:
    """What a field's text stands for in the file; what cannot be is left for the door to refuse."""
    if spec.kind == "measure":
        return {"value": with_unit(text, spec.unit, measures), "basis": basis or spec.first_basis}
    if spec.kind == "places":
        return [{"value": with_unit(p, spec.unit, measures), "basis": basis or spec.first_basis} for p in _parts(text)]
    if spec.kind == "lines":
        return _parts(text)
    if spec.kind == "flag":
        return {"yes": True, "no": False}.get(text, text)
    if spec.kind == "choice":
        return next((c for c in spec.choices if str(c) == text), text)
    if spec.kind == "count" and text.lstrip("-").isdigit():
        return int(text)
    return text
