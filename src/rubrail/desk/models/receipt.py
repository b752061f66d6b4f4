"""What came off the truck: one receipt a unit and arrival, and the damage marked on its drawing."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.urls import reverse

from rubrail.desk.models.kept import Kept


class ReceiptStatus(models.TextChoices):
    """Where a receipt stands."""

    OPEN = "open", "being received"
    ACCEPTED = "accepted", "accepted"
    EXCEPTED = "excepted", "accepted with exceptions"
    REFUSED = "refused", "refused"
    DROPPED = "dropped", "begun by mistake"


class ReceiptQuerySet(models.QuerySet):
    """Ways to ask for receipts."""

    def brief(self) -> ReceiptQuerySet:
        """Those that count, without what they hold in full."""
        return self.exclude(status=ReceiptStatus.DROPPED).defer("content", "found", "ordered")


class Receipt(Kept):
    """One arrival of one unit: what was ordered as it was then, what was found, and what was decided.

    ``ordered`` is the trailer file's table as it was expected, empty where nobody ordered it. ``found`` holds what the
    person at the truck entered, step by step (``desk.receiving.found`` says how). ``content`` is written when the
    receipt is closed, with its ``digest``: the answer, the deals it touched and the report itself.
    """

    number = models.CharField("receipt number", max_length=40, unique=True)
    unit = models.ForeignKey("desk.Unit", models.PROTECT, related_name="receipts")
    order = models.ForeignKey("desk.Order", models.PROTECT, null=True, blank=True, related_name="receipts")
    status = models.CharField("status", max_length=10, choices=ReceiptStatus, default=ReceiptStatus.OPEN)
    day = models.DateField("came on")
    carrier = models.CharField("carrier", max_length=120, blank=True)
    bill = models.CharField("bill of lading", max_length=60, blank=True)
    driver = models.CharField("driver", max_length=120, blank=True)
    ordered = models.JSONField(default=dict)
    found = models.JSONField(default=dict)
    exceptions = models.JSONField(default=list)
    why = models.CharField("why", max_length=300, blank=True)
    claim = models.CharField("claim number", max_length=60, blank=True)
    signed = models.JSONField(default=dict)
    content = models.JSONField(default=dict)
    digest = models.CharField(max_length=64, blank=True)
    closed = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, editable=False, related_name="+"
    )

    objects = ReceiptQuerySet.as_manager()

    class Meta:
        """The latest first; one open receipt of a unit."""

        ordering = ("-pk",)
        indexes = (models.Index(fields=("status", "-day"), name="receipt_by_status"),)
        constraints = (
            models.UniqueConstraint(
                fields=("unit",), condition=models.Q(status="open"), name="one_open_receipt_per_unit"
            ),
            models.CheckConstraint(
                condition=models.Q(status__in=ReceiptStatus.values), name="receipt_status_is_declared"
            ),
        )

    def __str__(self) -> str:
        """Its number."""
        return self.number

    def get_absolute_url(self) -> str:
        """Its page."""
        return reverse("receipt", args=[self.number])

    @property
    def is_open(self) -> bool:
        """Whether it is still being received."""
        return self.status == ReceiptStatus.OPEN


class DamageMark(Kept):
    """One damage: where on the drawing, and in words. ``key`` is chosen by the phone, so that it is kept once.

    ``spot`` : ``view``, ``x_in`` and ``z_in`` or ``y_in`` as photos have it; empty where only the station is known.
    """

    receipt = models.ForeignKey(Receipt, models.CASCADE, related_name="damages")
    key = models.UUIDField(unique=True, default=uuid.uuid4, editable=False)
    station = models.CharField("where", max_length=20)
    spot = models.JSONField(default=dict, blank=True)
    words = models.CharField("what it is", max_length=300)

    class Meta:
        """As they were entered."""

        ordering = ("pk",)

    def __str__(self) -> str:
        """What it is."""
        return self.words
