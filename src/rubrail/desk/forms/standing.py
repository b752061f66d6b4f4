"""The form of a step in a unit's life on the lot: when, for how much, and a note."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from rubrail.desk import clock
from rubrail.desk.models import Unit
from rubrail.desk.standing import Step, day_fault
from rubrail.quantity.money import UnreadableMoneyError, parse_money, show_money

MOST_USD = Decimal(10) ** 8


class StepForm(forms.Form):
    """What a step asks for; the price only of those who may see money."""

    day = forms.DateField(
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"required": "Give the day.", "invalid": "Must be a day such as 2026-03-02."},
    )
    sold_for_usd = forms.CharField(
        label="Sold for", required=False, max_length=40, widget=forms.TextInput(attrs={"inputmode": "decimal"})
    )
    note = forms.CharField(required=False, max_length=200)

    def __init__(self, *args: Any, unit: Unit, step: Step, may_price: bool, **kwargs: Any) -> None:
        begun = {"day": clock.today()}
        if unit.price_usd is not None:
            begun["sold_for_usd"] = show_money(unit.price_usd)
        super().__init__(*args, initial={**begun, **kwargs.pop("initial", {})}, **kwargs)
        self.unit, self.step = unit, step
        self.fields["day"].label = step.day
        self.fields["note"].label, self.fields["note"].help_text = step.note, step.note_help
        self.fields["note"].optional = "if any"
        self.fields["sold_for_usd"].help_text = "Without taxes and fees. Only those who may see money read it."
        if not (step.priced and may_price):
            del self.fields["sold_for_usd"]

    def clean_day(self) -> datetime.date:
        """Not in the future, and not before it came."""
        day = self.cleaned_data["day"]
        if fault := day_fault(self.unit, self.step, day):
            raise ValidationError(fault)
        return day

    def clean_sold_for_usd(self) -> Decimal | None:
        """An amount of dollars, or nothing."""
        text = self.cleaned_data["sold_for_usd"].strip()
        if not text:
            return None
        try:
            amount = parse_money(text)
        except UnreadableMoneyError:
            raise ValidationError(f'Must be an amount such as "$12,500", not "{text}".') from None
        if not 0 <= amount < MOST_USD:
            raise ValidationError(f'Must be 0 to {show_money(MOST_USD)}, not "{text}".')
        return amount
