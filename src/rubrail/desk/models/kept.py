"""What every stored thing that people edit has in common."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class Kept(models.Model):
    """A thing with a version that counts its changes, so that two people never overwrite each other unawares."""

    version = models.PositiveIntegerField(default=1, editable=False)
    created = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, editable=False, related_name="+"
    )
    updated = models.DateTimeField(auto_now=True)

    class Meta:
        """No table of its own."""

        abstract = True
