"""What is entered for a quote: its lines, what pays it, what frees it of tax, what is agreed."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from rubrail.desk.models import Quote
from rubrail.quantity.money import UnreadableMoneyError, parse_money
from rubrail.rules.excise import free_words
from rubrail.things.rates import LINE_KINDS, Rates

MOST_LINES = 30
SPARE_LINES = 2
"""Empty lines shown below those that are filled."""


def amount(text: str) -> Decimal:
    """Dollars as typed.

    Raises
    ------
    ValidationError
        If it is not an amount.
    """
    try:
        return parse_money(text)
    except UnreadableMoneyError:
        raise ValidationError(f'Must be an amount such as "$1,250", not "{text}".') from None


class Dollars(forms.CharField):
    """An amount of dollars, or nothing."""

    def __init__(self, *, label: str, help_text: str = "") -> None:
        super().__init__(
            label=label,
            required=False,
            max_length=20,
            help_text=help_text,
            widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
        )
        self.unit, self.optional = "$", "if any"

    def clean(self, value: Any) -> str:
        """The amount as the terms store it."""
        text = super().clean(value)
        if not text:
            return ""
        found = amount(text)
        if found < 0:
            raise ValidationError(f'Must be 0 or more, not "{text}".')
        return f"{found:f}"


class QuoteForm(forms.Form):
    """Everything of a quote but its lines."""

    buyer = forms.CharField(max_length=120, error_messages={"required": "Who is it for?"})
    contact = forms.CharField(label="How to reach the buyer", required=False, max_length=200)
    valid_until = forms.DateField(
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"required": "Give the last day.", "invalid": "Must be a day such as 2026-12-09."},
    )
    trade_in = forms.CharField(label="Trade-in", required=False, max_length=120)
    trade_in_usd = Dollars(label="Allowance for the trade-in")
    owed_usd = Dollars(label="Still owed on it")
    deposit_usd = Dollars(label="Deposit paid")
    free_as = forms.ChoiceField(label="Free of federal excise tax as", required=False)
    months = forms.IntegerField(label="Months of payment", required=False, min_value=1, max_value=360)
    down_usd = Dollars(label="Paid down", help_text="For the payment estimate.")
    delivery = forms.CharField(label="Delivery", required=False, max_length=200)
    not_included = forms.CharField(
        label="Not included", required=False, max_length=400, help_text="What the buyer might expect; with commas."
    )
    notes = forms.CharField(required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 3}))

    def __init__(self, *args: Any, rates: Rates, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rates = rates
        self.fields["free_as"].choices = [("", "not free"), *((w, w) for w in free_words())]
        for tax in rates.tax:
            name = f"free-{tax.id}"
            choices = [("", "charged"), *((f.word, f.word) for f in tax.free)]
            self.fields[name] = forms.ChoiceField(
                label=f"{tax.title[:1].upper()}{tax.title[1:]}", choices=choices, required=False
            )
        for name in ("contact", "trade_in", "delivery", "not_included", "notes"):
            self.fields[name].optional = "if any"

    def terms(self) -> dict[str, Any]:
        """What the cleaned form says, as ``sales.terms`` reads it; without the lines."""
        given = self.cleaned_data
        out = {
            n: given[n]
            for n in ("trade_in", "trade_in_usd", "owed_usd", "deposit_usd", "free_as", "delivery", "notes")
        }
        out["free"] = {t.id: w for t in self.rates.tax if (w := given.get(f"free-{t.id}"))}
        out["not_included"] = [w.strip() for w in given["not_included"].split(",") if w.strip()]
        out["payment"] = {k: v for k, v in (("months", given["months"]), ("down_usd", given["down_usd"])) if v}
        return {k: v for k, v in out.items() if v}


def initial_of(quote: Quote) -> dict[str, Any]:
    """What the form shows of a stored quote."""
    terms = quote.terms
    out = {
        n: terms.get(n, "")
        for n in ("trade_in", "trade_in_usd", "owed_usd", "deposit_usd", "free_as", "delivery", "notes")
    }
    out |= {f"free-{tax}": word for tax, word in terms.get("free", {}).items()}
    out |= terms.get("payment", {})
    out["not_included"] = ", ".join(terms.get("not_included", ()))
    return {**out, "buyer": quote.buyer, "contact": quote.contact, "valid_until": quote.valid_until}


def line_rows(terms: Mapping[str, Any]) -> list[dict[str, str]]:
    """Lines for the form: those there are, and a few empty ones."""
    rows = [
        {
            "kind": x["kind"],
            "title": x["title"],
            "price_usd": x["price_usd"],
            "cost_usd": x.get("cost_usd", ""),
            "fault": "",
        }
        for x in terms.get("lines", ())
    ]
    return [
        *rows,
        *({"kind": "", "title": "", "price_usd": "", "cost_usd": "", "fault": ""} for _ in range(SPARE_LINES)),
    ]


def read_lines(data: Any) -> tuple[list[dict[str, str]], list[dict[str, str]], bool]:
    """Lines as sent.

    Returns
    -------
    The lines as terms store them, the rows to show again with a fault each, and whether all are good.
    """
    columns = [data.getlist(f"line-{name}")[:MOST_LINES] for name in ("kind", "title", "price", "cost")]
    lines, rows, good = [], [], True
    for kind, title, price, cost in zip(*columns, strict=False):
        row = {
            "kind": kind,
            "title": title.strip()[:200],
            "price_usd": price.strip()[:20],
            "cost_usd": cost.strip()[:20],
            "fault": "",
        }
        if not any(row[k] for k in ("title", "price_usd", "cost_usd")):
            continue
        try:
            lines.append(_line(row))
        except ValidationError as told:
            row["fault"], good = " ".join(told.messages), False
        rows.append(row)
    return lines, rows, good


def _line(row: Mapping[str, str]) -> dict[str, str]:
    faults = []
    if row["kind"] not in LINE_KINDS:
        faults.append("Choose what kind of line it is.")
    if not row["title"]:
        faults.append("Say what it is.")
    amounts = {}
    for name in ("price_usd", "cost_usd"):
        try:
            amounts[name] = f"{amount(row[name]):f}" if row[name] else ""
        except ValidationError as told:
            faults += told.messages
    if not row["price_usd"]:
        faults.append("Give its price.")
    if faults:
        raise ValidationError(faults)
    # A discount is typed as people say it, without a minus.
    if row["kind"] == "discount" and not amounts["price_usd"].startswith("-"):
        amounts["price_usd"] = f"-{amounts['price_usd']}"
    return {"kind": row["kind"], "title": row["title"], **{k: v for k, v in amounts.items() if v}}
