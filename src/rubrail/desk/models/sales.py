"""Orders to makers, and quotes to buyers with their frozen versions."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from rubrail.desk.models.kept import Kept


class OrderStatus(models.TextChoices):
    """Where an order to a maker stands."""

    OPEN = "open", "not sent"
    SENT = "sent", "sent to the maker"
    CONFIRMED = "confirmed", "confirmed by the maker"
    ARRIVED = "arrived", "arrived"
    DROPPED = "dropped", "dropped"


class Order(Kept):
    """A build ordered from a maker. ``unit`` is the expected unit it became in the yard's list."""

    number = models.CharField("order number", max_length=40, unique=True)
    book = models.ForeignKey("desk.Book", models.PROTECT, related_name="orders")
    model = models.CharField("model", max_length=64)
    options = models.JSONField(default=list)
    content = models.JSONField(default=dict, help_text="the part of the price book it was made from, as it was")
    haul = models.ForeignKey("desk.Haul", models.PROTECT, null=True, blank=True, related_name="orders")
    unit = models.OneToOneField("desk.Unit", models.PROTECT, null=True, blank=True, related_name="order")
    status = models.CharField("status", max_length=10, choices=OrderStatus, default=OrderStatus.OPEN)
    need_by = models.DateField("needed by", null=True, blank=True)
    expected = models.DateField("expected", null=True, blank=True)
    price_usd = models.DecimalField("price", max_digits=10, decimal_places=2)
    cost_usd = models.DecimalField("cost", max_digits=10, decimal_places=2, null=True, blank=True)
    note = models.TextField("note", blank=True, max_length=2000)

    class Meta:
        """The latest first."""

        ordering = ("-pk",)

    def __str__(self) -> str:
        """Its number."""
        return self.number


class QuoteStatus(models.TextChoices):
    """Where a quote stands."""

    DRAFT = "draft", "being written"
    OFFERED = "offered", "offered"
    ACCEPTED = "accepted", "accepted"
    DELIVERED = "delivered", "delivered"
    LOST = "lost", "lost"
    WITHDRAWN = "withdrawn", "withdrawn"


class Quote(Kept):
    """An offer to one buyer. What it says is in its versions; the latest counts.

    ``link`` is a keyed digest of the buyer's unguessable address, empty where there is none or it was revoked.
    """

    number = models.CharField("quote number", max_length=40, unique=True)
    haul = models.ForeignKey("desk.Haul", models.PROTECT, null=True, blank=True, related_name="quotes")
    unit = models.ForeignKey("desk.Unit", models.PROTECT, related_name="quotes")
    buyer = models.CharField("buyer", max_length=120)
    contact = models.CharField("how to reach the buyer", max_length=200, blank=True)
    status = models.CharField("status", max_length=10, choices=QuoteStatus, default=QuoteStatus.DRAFT)
    valid_until = models.DateField("valid until")
    terms = models.JSONField(default=dict, help_text="what was entered: lines, trade-in, deposit, taxes freed, notes")
    lost_because = models.CharField("why it was lost", max_length=200, blank=True)
    link = models.CharField(max_length=64, blank=True, db_index=True, editable=False)
    delivered = models.DateField("delivered", null=True, blank=True)

    class Meta:
        """The latest first; a unit is promised to one buyer."""

        ordering = ("-pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("unit",),
                condition=models.Q(status="accepted"),
                name="one_accepted_quote_per_unit",
                violation_error_message="Another buyer's quote for this unit is accepted already.",
            ),
            models.CheckConstraint(condition=models.Q(status__in=QuoteStatus.values), name="quote_status_is_declared"),
        )

    def __str__(self) -> str:
        """Its number."""
        return self.number

    def is_open(self, *, today: object) -> bool:
        """Whether a buyer may still accept it."""
        return self.status == QuoteStatus.OFFERED and self.valid_until >= today


class FrozenError(TypeError):
    """Code tried to change what was offered."""


class QuoteVersionQuerySet(models.QuerySet):
    """Versions are added and read; only a signature is put under one, once."""

    def update(self, **values: object) -> int:
        """Refused, but for the signature."""
        if not set(values) <= {"signed_name", "signed_at", "signed_from"}:
            raise FrozenError("What was offered is never changed: make another version.")
        return super().update(**values)

    def delete(self) -> tuple[int, dict[str, int]]:
        """Refused."""
        raise FrozenError("What was offered is kept.")


class QuoteVersion(models.Model):
    """What was offered, frozen with everything it rests on, so that it prints the same in a year.

    ``content`` : inputs, results, prices, versions of rules and tables, and the sheet itself block by block;
    ``digest`` : SHA-256 of it, written canonically.
    """

    quote = models.ForeignKey(Quote, models.PROTECT, related_name="versions")
    number = models.PositiveSmallIntegerField()
    made = models.DateTimeField(default=timezone.now)
    by_name = models.CharField(max_length=80)
    total_usd = models.DecimalField(max_digits=10, decimal_places=2)
    content = models.JSONField()
    digest = models.CharField(max_length=64)
    signed_name = models.CharField("signed by", max_length=120, blank=True)
    signed_at = models.DateTimeField(null=True, blank=True)
    signed_from = models.CharField(max_length=64, blank=True)

    objects = QuoteVersionQuerySet.as_manager()

    class Meta:
        """The latest first; numbered within its quote."""

        ordering = ("-number",)
        constraints = (models.UniqueConstraint(fields=("quote", "number"), name="quote_versions_are_numbered"),)

    def __str__(self) -> str:
        """Quote and number."""
        return f"{self.quote} version {self.number}"

    def save(self, *args: object, **kwargs: object) -> None:
        """Add it; a stored version is never saved again."""
        if not self._state.adding:
            raise FrozenError("What was offered is never changed: make another version.")
        super().save(*args, **kwargs)
