"""The form of the yard's listing text."""

from __future__ import annotations

from typing import Any

from django import forms

from rubrail.answers.claims import wording_claims
from rubrail.desk import clock
from rubrail.desk.wording_text import field_of, paragraphs_of, table_of, written
from rubrail.sheets.sentences_claims import claim_sentence, remedy_sentence
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.listing import ListingText

DAY = {"required": "Give the day.", "invalid": "Must be a day such as 2026-03-02."}
WHOLE = {"required": "Give a number.", "invalid": "Must be a whole number such as 30."}
VINS = (("last 8", "the last 8 characters"), ("whole", "all of it"), ("none", "none of it"))


def _area(rows: int) -> forms.Textarea:
    return forms.Textarea(attrs={"rows": rows, "spellcheck": "true"})


class WordingForm(forms.Form):
    """Headline, paragraphs and ending with named places, warranties, and how long a price counts as looked at."""

    headline = forms.CharField(label="Headline", max_length=4000, widget=_area(4))
    text = forms.CharField(label="Paragraphs", max_length=30_000, widget=_area(24), required=False)
    ending = forms.CharField(label="Words the yard always adds", max_length=2000, widget=_area(4), required=False)
    warranty_new = forms.CharField(label="Warranty of a new unit", max_length=200, required=False)
    warranty_used = forms.CharField(label="Warranty of a used unit", max_length=200, required=False)
    vin = forms.ChoiceField(label="Of the VIN goes out", choices=VINS)
    headline_letters = forms.IntegerField(label="Letters a headline may have", error_messages=WHOLE)
    stale_days = forms.IntegerField(label="A price is shown with its day after", error_messages=WHOLE)
    ask_days = forms.IntegerField(label="A buyer has to ask for it after", error_messages=WHOLE)
    effective = forms.DateField(
        label="In force from", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"), error_messages=DAY
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.wording: ListingText | None = None
        for name in ("text", "ending", "warranty_new", "warranty_used"):
            self.fields[name].optional = "if any"
        for name in ("stale_days", "ask_days"):
            self.fields[name].unit = "days"
        self.fields["headline"].help_text = "One part a line, joined by commas. What is not known is left out."
        self.fields["text"].help_text = (
            "A blank line begins a paragraph, # a heading, - a line of a list; (used) or (new) as its first line keeps"
            " a paragraph to such units. What speaks of a fact that is not known is left out."
        )

    def clean(self) -> dict[str, Any]:
        """Read the whole as a listing file, every fault beside its field, and refuse claims no unit can bear out."""
        given = self.cleaned_data
        paragraphs, faults = paragraphs_of(given.get("text", ""))
        for fault in faults:
            self.add_error("text", fault)
        if self.errors:
            return given
        try:
            wording = read_thing(ListingText, table_of(given, paragraphs))
        except Faults as told:
            for fault in told.faults:
                name = field_of(fault.field)
                self.add_error(name if name in self.fields else None, fault.sentence)
            return given
        for refused in wording_claims(wording.texts()):
            said = f"{claim_sentence(refused.claim)} {remedy_sentence(refused.claim)}"
            self.add_error(field_of(refused.where), said)
        if not self.errors:
            self.wording = wording
        return given


def initial_of(wording: ListingText) -> dict[str, Any]:
    """What the form begins with: the wording in force, from today."""
    return {
        "headline": "\n".join(wording.headline),
        "text": written(wording.paragraph),
        "ending": wording.ending or "",
        "warranty_new": wording.warranty_new or "",
        "warranty_used": wording.warranty_used or "",
        "vin": wording.vin,
        "headline_letters": wording.headline_letters,
        "stale_days": wording.stale_days,
        "ask_days": wording.ask_days,
        "effective": clock.today(),
    }
