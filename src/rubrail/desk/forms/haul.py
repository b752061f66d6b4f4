"""The form of a whole haul on one page: buyer, truck, pieces, use and limits."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from django import forms
from django.forms import BoundField

from rubrail.desk.amounts import written
from rubrail.desk.bases import Base
from rubrail.desk.facts import Fact, fact_of
from rubrail.desk.forms.spec import FLAG_WORDS, MEASURED, basis_control, control
from rubrail.desk.forms.told import sentence
from rubrail.desk.quick import (
    BULK,
    BULK_MORE,
    HITCH,
    HITCH_DISTRIBUTING,
    MACHINE,
    MACHINE_MORE,
    TRUCK_EMPTY,
    TRUCK_LABEL,
    TRUCK_MORE,
    TRUCK_TOWS,
    USES,
    Plan,
    limit_specs,
    piece_specs,
    stand_ins,
    tow_path,
    truck_specs,
)
from rubrail.desk.quick_haul import MORE_ABOARD, PAYLOAD, Built
from rubrail.desk.quick_words import HITCH_WORDS, LABELS, LICENSES
from rubrail.desk.spec_fields import SpecField
from rubrail.desk.stock import path_of_fault
from rubrail.desk.typed import measures_sent, unit_word
from rubrail.things.cargo import Cargo
from rubrail.things.faults import Fault
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.limits import Limits
from rubrail.things.truck import Truck

FACINGS = (
    ("either", "either way"),
    ("front-first", "front toward the truck"),
    ("rear-first", "rear toward the truck"),
)


@dataclass(frozen=True, slots=True)
class Line:
    """One field of the page: the control, its basis, its unit, and the typical figure that stands in."""

    field: BoundField
    basis: BoundField | None = None
    unit: str = ""
    stand_in: Fact | None = None


@dataclass(frozen=True, slots=True)
class HitchLines:
    """One hitch: whether it is there, and its fields."""

    title: str
    has: BoundField
    lines: tuple[Line, ...]

    @property
    def faulty(self) -> bool:
        """Whether a field of it has a fault."""
        return any(line.field.errors for line in self.lines)


@dataclass(frozen=True, slots=True)
class PieceLines:
    """One kind of piece."""

    number: int
    shown: str
    begins: BoundField
    first: tuple[Line, ...]
    more: tuple[Line, ...]

    @property
    def shown_name(self) -> str:
        """The field that says what the page was made for."""
        return f"piece.{self.number}:shown"

    @property
    def faulty(self) -> bool:
        """Whether a field of the folded part has a fault."""
        return any(line.field.errors for line in self.more)


class HaulForm(forms.Form):
    """Every field of the page, for what truck, pieces and limits begin from."""

    def __init__(self, *, plan: Plan, trucks: list[Any], machines: list[Any], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.plan = plan
        self.measures = measures_sent(self.data if self.is_bound else self.initial)
        self.specs: dict[str, SpecField] = {}
        self.stand_ins: dict[str, Mapping[str, Any]] = {}
        self.fields["buyer"] = _text("Buyer", 120, "A name, where the buyer gives one.", autofocus=True)
        self.fields["title"] = _text("What for", 200, "The job, in a few words.")
        self.fields["truck:from"] = _choice("Begin from", trucks)
        self._add(truck_specs(plan.truck), plan.truck)
        for n, hitch in enumerate(plan.truck.table.get("hitch", ())):
            self.fields[f"truck.hitch.{n}:has"] = forms.BooleanField(label=_hitch_title(hitch), required=False)
        self.fields[PAYLOAD] = _text("People and cargo, on the placard", 40, LABELS[PAYLOAD][1])
        for name in MORE_ABOARD:
            self.fields[name] = _text(*LABELS[name][:1], 40, LABELS[name][1])
        for n, base in enumerate(plan.pieces):
            self.fields[f"piece.{n}:from"] = _choice("Begin from", machines)
            self.fields[f"piece.{n}:count"] = forms.CharField(label="How many alike", required=False, max_length=3)
            self.fields[f"piece.{n}:count"].widget.attrs["inputmode"] = "numeric"
            self.fields[f"piece.{n}:facing"] = _choice("It may face", FACINGS)
            self._add(piece_specs(base, n), base)
        self.fields["use"] = _choice("Use", [("", "not known"), *USES])
        self.fields["interstate"] = _choice("Crosses a state line", FLAG_WORDS)
        self.fields["license_held"] = _choice("The driver's license", LICENSES)
        self.fields["weight_distribution"] = _choice("Weight-distributing hitch", (("", "no"), ("yes", "yes")))
        self.fields["front_restoration"] = _text("Share of the lost front-axle load it returns", 20, "0.5 or 50 %")
        self.fields["roads"] = _text("Roads", 400, "In words; several separated by semicolons.")
        self.fields["notes"] = forms.CharField(
            label="Notes", required=False, max_length=4000, widget=forms.Textarea(attrs={"rows": 3})
        )
        self._add(limit_specs(), plan.limits, bases=False)

    def _add(self, specs: Mapping[str, SpecField], base: Base, *, bases: bool = True) -> None:
        self.specs |= specs
        self.stand_ins |= stand_ins(base, specs)
        for name, spec in specs.items():
            label, says = LABELS.get(re.sub(r"\.\d+", "", spec.path)) or (spec.short, "")
            self.fields[name] = control(replace(spec, short=label, says=says or label), measures=self.measures)
            if spec.kind in MEASURED:
                # The style sheet shows the basis only beside a field that holds something, and tells by this.
                self.fields[name].widget.attrs["placeholder"] = " "
                if bases:
                    self.fields[f"{name}:basis"] = basis_control(spec)

    def line(self, name: str) -> Line:
        """A field as the page draws it."""
        spec = self.specs.get(name)
        basis = self[f"{name}:basis"] if f"{name}:basis" in self.fields else None
        typical = self.stand_ins.get(name)
        unit = spec.unit if spec else "lb" if name in (PAYLOAD, *MORE_ABOARD) else ""
        return Line(
            self[name],
            basis,
            unit_word(unit, self.measures),
            fact_of(spec, typical) if spec and typical else None,
        )

    def _lines(self, prefix: str, paths: Iterable[str]) -> tuple[Line, ...]:
        return tuple(self.line(f"{prefix}{path}") for path in paths)

    @property
    def who(self) -> tuple[Line, ...]:
        """Buyer and purpose."""
        return self.line("buyer"), self.line("title")

    @property
    def truck_begins(self) -> BoundField:
        """What the truck begins from."""
        return self["truck:from"]

    @property
    def truck_label(self) -> tuple[Line, ...]:
        """The truck's certification label."""
        return self._lines("truck.", TRUCK_LABEL)

    @property
    def truck_tows(self) -> tuple[Line, ...]:
        """What it needs to tow."""
        return self._lines("truck.", TRUCK_TOWS)

    @property
    def truck_empty(self) -> tuple[Line, ...]:
        """What it weighs."""
        gear = [f"truck.gear.{n}.weight_lb" for n, _ in enumerate(self.plan.truck.table.get("gear", ()))]
        lines = [replace(self.line(name), field=self._called(name)) for name in gear]
        return (self.line(PAYLOAD), *self._lines("truck.", TRUCK_EMPTY), *lines, *map(self.line, MORE_ABOARD))

    def _called(self, name: str) -> BoundField:
        """A gear's field under the gear's own name."""
        gear = self.plan.truck.table["gear"][int(name.split(".")[2])]
        field = self[name]
        field.label = str(gear.get("says", "aboard"))[:1].upper() + str(gear.get("says", "aboard"))[1:]
        return field

    @property
    def truck_more(self) -> tuple[Line, ...]:
        """The rest of it."""
        return self._lines("truck.", TRUCK_MORE)

    @property
    def hitches(self) -> tuple[HitchLines, ...]:
        """Its hitches."""
        found, rated = [], set()
        for n, hitch in enumerate(self.plan.truck.table.get("hitch", ())):
            kind = hitch["kind"]
            paths = [*HITCH, *(HITCH_DISTRIBUTING if kind == "ball" else ())]
            lines = self._lines(f"truck.hitch.{n}.", paths)
            if kind not in rated:
                lines += (self.line(f"truck.{tow_path(kind)}"),)
            rated.add(kind)
            found.append(HitchLines(_hitch_title(hitch), self[f"truck.hitch.{n}:has"], lines))
        return tuple(found)

    @property
    def pieces(self) -> tuple[PieceLines, ...]:
        """What is carried."""
        found = []
        for n, base in enumerate(self.plan.pieces):
            first, more = (BULK, BULK_MORE) if base.table.get("kind") == "bulk" else (MACHINE, MACHINE_MORE)
            count, facing = (self.line(f"piece.{n}:{name}") for name in ("count", "facing"))
            lines = (*self._lines(f"piece.{n}.", first), count, facing)
            begins = self[f"piece.{n}:from"]
            found.append(PieceLines(n, base.key, begins, lines, self._lines(f"piece.{n}.", more)))
        return tuple(found)

    @property
    def job(self) -> tuple[Line, ...]:
        """Use, license and the distributing hitch."""
        names = ("use", "interstate", "license_held", "weight_distribution", "front_restoration", "roads", "notes")
        return tuple(map(self.line, names))

    @property
    def limits(self) -> tuple[Line, ...]:
        """Limits of the road."""
        return tuple(map(self.line, limit_specs()))

    @property
    def limits_title(self) -> str:
        """Whose limits they are."""
        return str(self.plan.limits.table.get("title", ""))

    @property
    def faulty_more(self) -> bool:
        """Whether a field of the truck's folded part has a fault."""
        return any(line.field.errors for line in self.truck_more)

    @property
    def faulty_limits(self) -> bool:
        """Whether a limit has a fault."""
        return any(line.field.errors for line in self.limits)

    def tell(self, fault: Fault, built: Built) -> None:
        """Put a fault of the haul file beside the field it concerns."""
        name = self._name_of(path_of_fault(fault.field), built)
        unit = self.specs[name].unit if name in self.specs else ""
        self.add_error(name or None, said_of_haul(fault, named=bool(name), unit=unit, measures=self.measures))

    def _name_of(self, path: str, built: Built) -> str:
        parts = path.split(".")
        if parts[0] == "truck" and len(parts) > 2 and parts[1] == "hitch" and parts[2].isdecimal():
            parts[2] = str(built.hitches[int(parts[2])])
        if parts[0] == "cargo" and len(parts) > 2:
            parts = ["piece", parts[1], *(parts[3:] if parts[2] == "piece" else (f":{parts[2]}",))]
        name = ".".join(parts).replace(".:", ":")
        if name in self.fields:
            return name
        while "." in name:
            # One of several in a field, or a table without fields here, is told at what holds it.
            name = name.rpartition(".")[0]
            for held in (name, f"{name}:from"):
                if held in self.fields:
                    return held
        return f"{name}:from" if f"{name}:from" in self.fields else ""


def said_of_haul(fault: Fault, *, named: bool, measures: str, unit: str = "") -> str:
    """A fault of a haul file as a form says it; what is at odds within a part names its fields as the part does."""
    head, _, rest = fault.field.partition(".")
    model = {"truck": Truck, "limits": Limits}.get(head, Cargo if head.startswith("cargo") else HaulThing)
    within = fault if model is HaulThing else replace(fault, field=rest.removeprefix("piece."))
    return sentence(within, named=named, unit=unit, measures=measures, model=model)


def _hitch_title(hitch: Mapping[str, Any]) -> str:
    title = HITCH_WORDS[hitch["kind"]]
    size = hitch.get("ball_size_in")
    return f"{title}, {written(size['value'], 'in')}" if size and hitch["kind"] in ("ball", "gooseneck") else title


def _text(label: str, most: int, says: str = "", *, autofocus: bool = False) -> forms.CharField:
    attrs = {"autocomplete": "off"} | ({"autofocus": True} if autofocus else {})
    return forms.CharField(
        label=label, required=False, max_length=most, help_text=says, widget=forms.TextInput(attrs=attrs)
    )


def _choice(label: str, choices: Any) -> forms.ChoiceField:
    return forms.ChoiceField(label=label, choices=choices, required=False)
