"""Trucks and machines kept for next time, and the hauls that use them."""

from __future__ import annotations

from django.db import models

from rubrail.desk.models.kept import Kept


class Named(Kept):
    """A thing kept under a name, described by the content of its file."""

    name = models.CharField("name", max_length=120)
    spec = models.JSONField(default=dict)

    class Meta:
        """No table of its own."""

        abstract = True
        ordering = ("name", "pk")

    def __str__(self) -> str:
        """The name."""
        return self.name


class Truck(Named):
    """A buyer's truck, or a class of trucks to start from."""


class Machine(Named):
    """A machine or another piece of cargo, or a class to start from."""


class Haul(Kept):
    """A buyer's job: truck, cargo, use and roads, as the haul file has them, whole: later changes to a kept truck or
    machine leave it as it was.
    """

    buyer = models.CharField("buyer", max_length=120, blank=True)
    title = models.CharField("what for", max_length=200, blank=True)
    spec = models.JSONField(default=dict)
    closed = models.BooleanField("done with", default=False)

    class Meta:
        """Latest first."""

        ordering = ("-updated", "-pk")
        indexes = (models.Index(fields=("closed", "-updated"), name="open_hauls_latest"),)

    def __str__(self) -> str:
        """Buyer and what for."""
        return ": ".join(filter(None, (self.buyer, self.title))) or f"haul {self.pk}"
