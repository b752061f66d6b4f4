"""Trucks and machines kept for next time, and the hauls that use them."""

from __future__ import annotations

from django.db import models
from django.urls import reverse

from rubrail.desk.models.kept import Kept

MOST_LOADS = 12
"""Kinds of pieces one haul may carry, as the haul file has it."""


class Named(Kept):
    """A thing kept under a name, described by the content of its file."""

    name = models.CharField("name", max_length=120)
    spec = models.JSONField(default=dict)
    closed = models.BooleanField("no longer offered", default=False)

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


class HaulQuerySet(models.QuerySet):
    """Ways to ask for hauls."""

    def with_words(self, words: str) -> HaulQuerySet:
        """Those whose buyer, purpose, truck or pieces of cargo hold every word."""
        found = self
        pieces = [f"spec__cargo__{n}__piece__title__icontains" for n in range(MOST_LOADS)]
        for word in words.split():
            held = models.Q()
            for name in ("buyer__icontains", "title__icontains", "spec__truck__title__icontains", *pieces):
                held |= models.Q(**{name: word})
            found = found.filter(held)
        return found


class Haul(Kept):
    """A buyer's job: truck, cargo, use and roads, as the haul file has them, whole: later changes to a kept truck or
    machine leave it as it was.
    """

    buyer = models.CharField("buyer", max_length=120, blank=True)
    title = models.CharField("what for", max_length=200, blank=True)
    spec = models.JSONField(default=dict)
    closed = models.BooleanField("done with", default=False)

    objects = HaulQuerySet.as_manager()

    class Meta:
        """Latest first."""

        ordering = ("-updated", "-pk")
        indexes = (models.Index(fields=("closed", "-updated"), name="open_hauls_latest"),)

    def __str__(self) -> str:
        """Buyer and what for."""
        return ": ".join(filter(None, (self.buyer, self.title))) or f"haul {self.pk}"

    def get_absolute_url(self) -> str:
        """Its page."""
        return reverse("haul", args=[self.pk])


class Place(Kept):
    """Where a haul's pieces stand on one unit, as a person placed them; a haul's best place needs no row."""

    haul = models.ForeignKey(Haul, models.CASCADE, related_name="places")
    unit = models.ForeignKey("desk.Unit", models.CASCADE, related_name="places")
    spec = models.JSONField(default=dict, help_text="pieces by id: front from the coupling in inches, and which way")

    class Meta:
        """One place of a haul on a unit."""

        constraints = (models.UniqueConstraint(fields=("haul", "unit"), name="one_place_per_haul_and_unit"),)

    def __str__(self) -> str:
        """Haul and unit."""
        return f"{self.haul} on {self.unit}"


class Board(models.Model):
    """A haul matched against the yard, kept so that only what changed since is matched again. Lost without harm."""

    haul = models.OneToOneField(Haul, models.CASCADE, primary_key=True, related_name="board")
    mark = models.CharField(max_length=64, help_text="of everything the content rests on but the units themselves")
    content = models.BinaryField()
    updated = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        """The haul."""
        return str(self.haul)
