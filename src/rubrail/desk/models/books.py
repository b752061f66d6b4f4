"""What the yard goes by: makers' catalogs, its own rates, its kit of tie-down gear, limits files, listing texts."""

from __future__ import annotations

from django.db import models

from rubrail.desk.models.kept import Kept


class Sort(models.TextChoices):
    """Kinds of file kept here; the stored words are the file kinds of the yard folder."""

    CATALOG = "catalog", "catalog"
    RATES = "rates", "rates"
    KIT = "kit", "kit"
    LIMITS = "limits", "limits"
    LISTING = "listing", "listing text"
    CHECKS = "checks", "own lines of checklists"


class Book(Kept):
    """One file the yard goes by, whole in ``spec``, from the day it is effective."""

    sort = models.CharField("kind", max_length=10, choices=Sort)
    ident = models.CharField("id", max_length=64)
    title = models.CharField("title", max_length=200, blank=True)
    effective = models.DateField("in force from", null=True, blank=True)
    until = models.DateField("in force until", null=True, blank=True)
    spec = models.JSONField(default=dict)

    class Meta:
        """The latest first; an id once in its kind."""

        ordering = ("sort", "-effective", "ident")
        constraints = (models.UniqueConstraint(fields=("sort", "ident"), name="one_book_per_sort_and_id"),)

    def __str__(self) -> str:
        """Its title."""
        return self.title or self.ident
