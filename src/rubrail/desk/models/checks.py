"""Checklists gone through at a unit: lines frozen when one is begun, entries only added to."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.urls import reverse

from rubrail.desk.models.kept import Kept


class CheckState(models.TextChoices):
    """Where a checklist stands. ``released`` was held first, and cleared by later looks."""

    OPEN = "open", "under way"
    RELEASE = "release", "released"
    HOLD = "hold", "held"
    RELEASED = "released", "released after another look"
    DROPPED = "dropped", "dropped"


class Checklist(Kept):
    """One list gone through at one unit, for a haul where it concerns one."""

    unit = models.ForeignKey("desk.Unit", models.PROTECT, related_name="checklists")
    haul = models.ForeignKey("desk.Haul", models.PROTECT, null=True, blank=True, related_name="checklists")
    sort = models.CharField("sort", max_length=20)
    state = models.CharField("state", max_length=10, choices=CheckState, default=CheckState.OPEN)
    lines = models.JSONField(default=list, help_text="the lines as they were when it was begun")
    about = models.JSONField(default=dict, help_text="what else it rests on, as it was when it was begun")
    finished = models.DateTimeField(null=True, editable=False)
    finished_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, editable=False, related_name="+"
    )
    result = models.JSONField(default=dict, editable=False, help_text="outcome and reasons as signed")
    signatures = models.JSONField(default=list, editable=False)
    released = models.DateTimeField(null=True, editable=False)

    class Meta:
        """The latest first; asked for by where they stand."""

        ordering = ("-pk",)
        indexes = (models.Index(fields=("state", "-id"), name="checklists_by_state"),)
        constraints = (
            models.CheckConstraint(condition=models.Q(state__in=CheckState.values), name="check_state_is_declared"),
        )

    def __str__(self) -> str:
        """Its number, and the unit's."""
        number = self.about.get("unit", {}).get("stock_number", "")
        return f"{self.pk} of {number}" if number else f"{self.pk}"

    def get_absolute_url(self) -> str:
        """Its page."""
        return reverse("hand-over" if self.sort == "handover" else "check", args=[self.pk])


class CheckEntry(models.Model):
    """What somebody entered at one line. Entries are only added; the last of a line counts."""

    checklist = models.ForeignKey(Checklist, models.CASCADE, related_name="entries")
    line = models.CharField(max_length=80)
    turn = models.PositiveIntegerField(help_text="1 for the first entry of the line")
    value = models.JSONField(default=dict)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    seen_at = models.DateTimeField(null=True, help_text="when the phone wrote it down, where it was sent later")

    class Meta:
        """In the order they came; no two of a line in one turn."""

        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("checklist", "line", "turn"), name="one_entry_a_line_and_turn"),
        )

    def __str__(self) -> str:
        """The line and its turn."""
        return f"{self.line} ({self.turn})"
