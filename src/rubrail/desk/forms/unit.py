"""The form of a unit: what the lot says of it, and every field of the trailer file, from the file's own model."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from typing import Any

from django import forms
from django.forms import BoundField

from rubrail.desk.forms import spec
from rubrail.desk.forms.spec import SpecForm
from rubrail.desk.models.stock import Status
from rubrail.desk.spec_fields import sections_of
from rubrail.desk.stock import APART, leaves
from rubrail.quantity.money import UnreadableMoneyError, parse_money, show_money
from rubrail.things.trailer import Trailer

SECTIONS = sections_of(Trailer, own=APART)
LOT_TEXT = (
    ("stock_number", "Stock number", "Yours; it is written on the unit and stands for it everywhere."),
    ("location", "Place on the lot", "Lot and row."),
    ("color", "Color", ""),
)
LOT_PLAIN = ("status", "arrived", "location", "color")
MANY_DEFAULT = {"axle": 2}


class UnitForm(SpecForm):
    """Every field of a unit, by the file's own paths."""

    model = Trailer
    sections = SECTIONS
    id_field = "stock_number"

    def __init__(self, *, may_price: bool, may_cost: bool, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.may = {"price_usd": may_price, "status": may_price, "cost_usd": may_cost}
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
        self.add_sections()

    def lot(self) -> list[BoundField]:
        """Fields of the lot, in the order of the page."""
        order = ("stock_number", "status", "price_usd", "cost_usd", "arrived", "location", "color")
        return [self[name] for name in order if name in self.fields]


def _money(label: str) -> forms.CharField:
    return forms.CharField(
        label=label, required=False, max_length=40, widget=forms.TextInput(attrs={"inputmode": "decimal"})
    )


def counts_of(table: Mapping[str, Any]) -> dict[str, int]:
    """How many members each list of a trailer file's table has."""
    return spec.counts_of(table, SECTIONS)


def texts_of(table: Mapping[str, Any], *, measures: str) -> dict[str, str]:
    """A trailer file's table as the form writes it, by field; what is not there is left out."""
    texts = spec.texts_of(table, SECTIONS, measures=measures)
    for name in ("price_usd", "cost_usd"):
        if name in table:
            texts[name] = show_money(table[name]).lstrip("$")
    texts |= {name: str(table[name]) for name in LOT_PLAIN if name in table}
    texts["stock_number"] = str(table.get("id", ""))
    return texts


def table_of(
    texts: Mapping[str, str], *, stored: Mapping[str, Any], counts: Mapping[str, int], measures: str
) -> dict[str, Any]:
    """The trailer file's table that the form's texts stand for; see ``forms.spec.table_of``.

    Parameters
    ----------
    texts : mapping
        Form field to text.
    stored : mapping
        Table of the unit as it is stored; empty for a new one.
    counts : mapping
        Members the form shows of each list.
    measures : str
        Of the form.
    """
    kept, was = dict(leaves(stored)), texts_of(stored, measures=measures)
    table: dict[str, Any] = {"id": texts.get("stock_number", "")}
    for name in ("status", "price_usd", "cost_usd", "arrived", "location", "color"):
        if texts.get(name):
            table[name] = kept[name] if name in kept and texts[name] == was.get(name) else _lot(name, texts[name])
    return table | spec.table_of(texts, sections=SECTIONS, stored=stored, counts=counts, measures=measures)


def _lot(name: str, text: str) -> Any:
    if name.endswith("_usd"):
        with contextlib.suppress(UnreadableMoneyError):
            return parse_money(text)
    return text
