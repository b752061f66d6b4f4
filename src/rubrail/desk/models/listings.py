"""What the yard says of its units to buyers who look from afar."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from rubrail.desk.models.kept import Kept
from rubrail.desk.models.stock import Unit

MOST_WORDS = 2000
"""Letters of the yard's own words for one unit."""


class Listing(Kept):
    """One unit as it is offered: shown on the public pages or not, the yard's own words, who looked at its price when.

    ``words`` were read against the claims a yard must not make and hold none; what was typed and refused stays in
    ``draft`` until somebody mends it. ``price_checked`` is the day somebody last said that the price is still right;
    a price that was changed since is as young as its change, which the trail tells.
    """

    unit = models.OneToOneField(Unit, models.CASCADE, related_name="listing")
    shown = models.BooleanField("shown on the public pages", default=False)
    words = models.TextField("the yard's own words", max_length=MOST_WORDS, blank=True)
    draft = models.TextField("words that were refused", max_length=MOST_WORDS, blank=True)
    price_checked = models.DateField("price looked at", null=True, blank=True)
    price_checked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, editable=False, related_name="+"
    )

    class Meta:
        """In the order they were begun."""

        ordering = ("pk",)

    def __str__(self) -> str:
        """The stock number of its unit."""
        return str(self.unit)
