"""What phones sent, each once: a key that comes again is answered again and does nothing."""

from __future__ import annotations

from django.db import models


class Sent(models.Model):
    """One thing sent under a key the phone chose, and what it was answered."""

    key = models.UUIDField(unique=True, editable=False)
    who = models.ForeignKey("desk.User", models.PROTECT, editable=False, related_name="+")
    address = models.CharField(max_length=200, editable=False)
    at = models.DateTimeField(auto_now_add=True, db_index=True)
    status = models.PositiveSmallIntegerField(default=0, editable=False)
    answer = models.JSONField(default=dict, editable=False)

    class Meta:
        """The latest first."""

        ordering = ("-pk",)

    def __str__(self) -> str:
        """Its key."""
        return str(self.key)
