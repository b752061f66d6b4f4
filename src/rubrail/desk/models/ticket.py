"""Scale tickets: what was weighed, and what of it was taken over."""

from __future__ import annotations

from django.db import models
from django.urls import reverse

from rubrail.desk.models.kept import Kept


class Ticket(Kept):
    """A set of weighings of a unit, a truck, or both.

    ``spec`` is the content of a ticket's file. ``verdict`` and ``waits`` repeat what the answer says of it, so that
    lists need not work it out again. ``applied`` says what was taken over: for ``trailer`` and ``truck`` the day, who,
    and each field with its value before and after. ``key`` is chosen by the phone, so that a ticket sent twice is kept
    once.
    """

    key = models.UUIDField(null=True, unique=True, editable=False)
    unit = models.ForeignKey("desk.Unit", models.PROTECT, null=True, blank=True, related_name="tickets")
    truck = models.ForeignKey("desk.Truck", models.PROTECT, null=True, blank=True, related_name="tickets")
    haul = models.ForeignKey("desk.Haul", models.PROTECT, null=True, blank=True, related_name="tickets")
    day = models.DateField("weighed on")
    where = models.CharField("where", max_length=120, blank=True)
    spec = models.JSONField(default=dict)
    verdict = models.CharField(max_length=10, blank=True, editable=False)
    waits = models.CharField(
        max_length=20, blank=True, editable=False, help_text="what it gives and nobody took over: trailer, truck"
    )
    applied = models.JSONField(default=dict, editable=False)
    closed = models.BooleanField("put aside", default=False)

    class Meta:
        """The latest first."""

        ordering = ("-day", "-pk")
        indexes = (models.Index(fields=("closed", "waits"), name="ticket_waits"),)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(unit__isnull=False) | models.Q(truck__isnull=False) | models.Q(haul__isnull=False),
                name="ticket_is_of_something",
            ),
        )

    def __str__(self) -> str:
        """Its number."""
        return f"{self.pk}"

    def get_absolute_url(self) -> str:
        """Its page."""
        return reverse("ticket", args=[self.pk])
