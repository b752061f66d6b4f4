"""The forms of a follow-up: written by hand, and what came of it."""

from __future__ import annotations

import datetime
from typing import Any

from django import forms

from rubrail.desk import clock

DAY = "Must be a day such as 2026-12-09."


def day_field(label: str, required: str) -> forms.DateField:
    """A day, as the browser's own control sends it."""
    return forms.DateField(
        label=label,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"required": required, "invalid": DAY},
    )


class FollowUpForm(forms.Form):
    """One written by hand."""

    title = forms.CharField(label="What it is", max_length=120, error_messages={"required": "Say what it is."})
    due = day_field("Due", "Give the day.")
    words = forms.CharField(
        label="What to say", required=False, max_length=1000, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["title"].help_text = "Everybody who sees the yard reads it; names and prices belong in the quote."
        self.fields["words"].optional = "if any"


def _not_to_come(day: datetime.date | None) -> datetime.date | None:
    if day is not None and day > clock.today():
        raise forms.ValidationError("This day has not come yet; give today or an earlier day.")
    return day


class PlanForm(forms.Form):
    """The day a unit went to its buyer."""

    delivered = day_field("Delivered on", "Give the day it went to its buyer.")

    def clean_delivered(self) -> datetime.date | None:
        """Not in the future."""
        return _not_to_come(self.cleaned_data["delivered"])


class SoldForm(forms.Form):
    """The day many units were sold, where it is another than each is sold since."""

    sold = day_field("All sold on", "")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["sold"].required = False
        self.fields["sold"].optional = "else from the day shown"

    def clean_sold(self) -> datetime.date | None:
        """Not in the future."""
        return _not_to_come(self.cleaned_data["sold"])


class OutcomeForm(forms.Form):
    """What came of it: a note, and another day where it is moved."""

    note = forms.CharField(label="What came of it", required=False, max_length=400)
    due = day_field("Another day", "Give the day it is moved to.")

    def __init__(self, *args: Any, do: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["note"].optional = "why, where it is dropped"
        self.fields["due"].required = do == "move"
        self.fields["due"].optional = "to move it"
