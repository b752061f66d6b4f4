"""The design page: every component in every state. Only while the desk itself is worked on."""

from __future__ import annotations

from django import forms
from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import open_to_anyone
from rubrail.desk.unit_page import Told
from rubrail.desk.unit_sums import Column, Line
from rubrail.quantity.basis import BASES


class SampleForm(forms.Form):
    """One field of each kind."""

    plain = forms.CharField(label="Place on the lot", help_text="Lot and row.", required=False)
    weight = forms.CharField(label="Empty weight", help_text="With all that is bolted to it.", required=False)
    pick = forms.ChoiceField(label="Coupling", choices=[("ball", "Ball"), ("gooseneck", "Gooseneck")], required=False)
    radio = forms.ChoiceField(
        label="Use", choices=[("a", "Private"), ("b", "Own business"), ("c", "For hire")], widget=forms.RadioSelect
    )
    tick = forms.BooleanField(label="Breakaway brake is fitted", required=False)
    long = forms.CharField(label="Notes", widget=forms.Textarea(attrs={"rows": 3}), required=False)


def _faulty() -> SampleForm:
    form = SampleForm({"plain": "Row 7", "weight": "heavy", "radio": "z"}, prefix=None, auto_id="fault_%s")
    form.add_error("weight", 'Must be a weight such as 14000, "14,000 lb" or "6,350 kg", not "heavy".')
    return form


@open_to_anyone
@require_http_methods(["GET", "HEAD"])
def design(request: HttpRequest) -> HttpResponse:
    """Every component in every state."""
    if not settings.DEBUG:
        raise Http404
    bars = [
        ("Trailer gross", 13_200, 14_000, "clear", 13_000, 13_400, "lb"),
        ("Coupler load", 2_950, 3_000, "depends", 2_850, 3_060, "lb"),
        ("Truck rear axle", 7_420, 6_800, "over", 7_300, 7_540, "lb"),
        ("Chain strength", 31_000, 18_800, "over", None, None, "lb"),
        ("Registered weight", float("nan"), 26_000, "not known", None, None, "lb"),
    ]
    inputs = [
        ("machine weight", "9,800 lb", "typical", "± 980 lb"),
        ("place of the machine", "196 in", "measured", "± 0.5 in"),
        ("axle group", "238 in", "maker", "± 1 in"),
    ]
    context = {
        "bars": [dict(zip(("title", "demand", "limit", "word", "low", "high", "unit"), b, strict=True)) for b in bars],
        "bases": BASES,
        "verdicts": ("clear", "depends", "over", "not known"),
        "colors": COLORS,
        "form": SampleForm(auto_id="sample_%s", initial={"weight": "6,240", "plain": "Row 4", "radio": "b"}),
        "faulty": _faulty(),
        "inputs": inputs,
        "sums": SUMS,
        "differs": DIFFERS,
    }
    return render(request, "desk/design/design.html", context)


SUMS = (
    Column(
        "A sum",
        (
            Line("label GVWR", 14_000),
            Line("empty weight", 3_350, taken=True),
            Line("payload by label", 10_650, total=True, governs=True, mark="governs"),
        ),
        "Follows the certification label.",
    ),
    Column(
        "Part by part",
        (
            Line("tires", 13_680, governs=True, mark="weakest", note="6,840 lb + 6,840 lb"),
            Line("axle ratings", 14_000, note="7,000 lb + 7,000 lb"),
            Line("wheels", float("nan")),
        ),
    ),
)
DIFFERS = (
    Told("Deck height", "31 in", "35.25 in is usual, the middle of 7 others; none is as low"),
    Told("Ramps", "slide-in", "Stand-up on 6 of 9 others; 2 like it"),
)
COLORS = (
    ("paper", "the ground"),
    ("sheet", "what one writes on"),
    ("wash", "a passing highlight, beds of bars"),
    ("line", "hairlines"),
    ("faint", "guides in drawings"),
    ("edge", "what one can write in or press"),
    ("steel", "second voice, controls"),
    ("ink", "words and outlines"),
    ("accent", "what one can press; cargo"),
    ("clear", "holds"),
    ("depends", "holds as stated, not for sure"),
    ("over", "does not hold"),
    ("unknown", "not known"),
)
