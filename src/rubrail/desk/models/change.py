"""The trail: every change anyone made, in the words of the day it was made."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models


class TrailError(TypeError):
    """Code tried to rewrite the trail."""


class ChangeQuerySet(models.QuerySet):
    """Rows of the trail are added and read, never changed or removed."""

    def update(self, **values: Any) -> int:
        """Refused."""
        raise TrailError("The trail of changes is only added to.")

    def delete(self) -> tuple[int, dict[str, int]]:
        """Refused."""
        raise TrailError("The trail of changes is only added to.")

    def seen_by(self, user: Any) -> ChangeQuerySet:
        """Those ``user`` may read: each change says which permission its content asks for."""
        from rubrail.desk.permissions import permissions_of

        return self.filter(permission__in=permissions_of(user.role))


class Change(models.Model):
    """One field of one thing that changed, or one thing that was added; who, when, old and new."""

    at = models.DateTimeField(db_index=True)
    who = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+")
    who_name = models.CharField(max_length=80)
    action = models.CharField(max_length=40)
    kind = models.CharField(max_length=20)
    thing = models.PositiveBigIntegerField()
    thing_name = models.CharField(max_length=120)
    field = models.CharField(max_length=160, blank=True)
    old = models.TextField(blank=True)
    new = models.TextField(blank=True)
    sentence = models.TextField()
    permission = models.CharField(max_length=40)
    batch = models.UUIDField()

    objects = ChangeQuerySet.as_manager()

    class Meta:
        """Newest first; asked for by thing and by person."""

        ordering = ("-at", "-pk")
        indexes = (
            models.Index(fields=("kind", "thing", "-at"), name="change_by_thing"),
            models.Index(fields=("who", "-at"), name="change_by_person"),
        )

    def __str__(self) -> str:
        """The sentence."""
        return self.sentence

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add the row; a stored row is never saved again."""
        if not self._state.adding:
            raise TrailError("The trail of changes is only added to.")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Refused."""
        raise TrailError("The trail of changes is only added to.")
