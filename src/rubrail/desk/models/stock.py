"""The yard's units and their photos."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from django.core.validators import MinValueValidator, RegexValidator
from django.db import models
from django.db.models.functions import Lower
from django.urls import reverse

from rubrail.desk.models.kept import Kept

STOCK_NUMBER = RegexValidator(
    r"^[A-Za-z0-9][A-Za-z0-9._-]*\Z",
    "Use letters, digits, dots, hyphens and underscores, beginning with a letter or digit.",
)


class Status(models.TextChoices):
    """Where a unit stands; the stored words are those of the trailer file."""

    HERE = "in-stock", "in the yard"
    EXPECTED = "on-order", "expected"
    HELD = "held", "held for a buyer"
    SOLD = "sold", "sold"
    RETIRED = "retired", "retired"


ON_THE_LOT = (Status.HERE, Status.HELD, Status.EXPECTED)
"""What the yard page shows unless asked for more."""
GONE = (Status.SOLD, Status.RETIRED)
"""No longer here: its days stop counting."""


class UnitQuerySet(models.QuerySet):
    """Ways to ask for units."""

    def with_words(self, words: str) -> UnitQuerySet:
        """Those whose stock number, title, maker, model, VIN, color or place holds every word."""
        found = self
        for word in words.split():
            held = models.Q()
            for name in ("stock_number", "title", "maker", "model", "vin", "color", "location"):
                held |= models.Q(**{f"{name}__icontains": word})
            found = found.filter(held)
        return found


class Unit(Kept):
    """One trailer of the yard: what the lot says of it in columns, what it is in ``spec``.

    ``spec`` holds the trailer file's content without what has a column of its own here. The columns under *derived*
    repeat some of it so that the yard can be searched and sorted; only ``desk.stock.derive`` writes them.
    """

    stock_number = models.CharField("stock number", max_length=64, validators=[STOCK_NUMBER])
    status = models.CharField("status", max_length=10, choices=Status, default=Status.HERE)
    price_usd = models.DecimalField(
        "price", max_digits=10, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    cost_usd = models.DecimalField(
        "cost", max_digits=10, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    color = models.CharField("color", max_length=200, blank=True)
    location = models.CharField("place on the lot", max_length=200, blank=True)
    arrived = models.DateField("arrived", null=True, blank=True)
    status_since = models.DateField("since", null=True, editable=False)
    status_note = models.CharField("note", max_length=200, blank=True, editable=False)
    sold_for_usd = models.DecimalField("sold for", max_digits=10, decimal_places=2, null=True, editable=False)
    spec = models.JSONField(default=dict)

    # derived
    title = models.CharField(max_length=200, editable=False, blank=True)
    maker = models.CharField(max_length=200, editable=False, blank=True)
    model = models.CharField(max_length=200, editable=False, blank=True)
    vin = models.CharField(max_length=20, editable=False, blank=True)
    year = models.PositiveSmallIntegerField(null=True, editable=False)
    coupling_kind = models.CharField(max_length=16, editable=False, blank=True)
    deck_kind = models.CharField(max_length=16, editable=False, blank=True)
    axle_count = models.PositiveSmallIntegerField(null=True, editable=False)
    gvwr_lb = models.FloatField(null=True, editable=False)
    advertised_lb = models.FloatField(null=True, editable=False)
    empty_weight_lb = models.FloatField(null=True, editable=False)
    deck_length_in = models.FloatField(null=True, editable=False)
    deck_width_in = models.FloatField(null=True, editable=False)
    deck_height_in = models.FloatField(null=True, editable=False)
    payload_lb = models.FloatField(
        null=True, editable=False, help_text="trailer alone, at its best position; written by the engine's answer"
    )
    complete = models.BooleanField(
        default=False, editable=False, help_text="all that the trailer's own limits need is known"
    )
    packed = models.BinaryField(
        null=True, editable=False, help_text="the engine's columns of this trailer, as things.pack writes them"
    )
    thumbnail = models.BinaryField(null=True, editable=False, help_text="the small side drawing, pressed")
    derived_by = models.CharField(
        max_length=16, blank=True, editable=False, help_text="mark of the engine that wrote the four before"
    )

    objects = UnitQuerySet.as_manager()

    class Meta:
        """Stock numbers are one unit's, however they are capitalized."""

        ordering = ("stock_number", "pk")
        constraints = (
            models.UniqueConstraint(
                Lower("stock_number"),
                name="one_unit_per_stock_number",
                violation_error_message="Another unit has this stock number already; choose another.",
            ),
            models.CheckConstraint(condition=models.Q(status__in=Status.values), name="status_is_declared"),
            models.CheckConstraint(
                condition=models.Q(price_usd__gte=0) | models.Q(price_usd=None), name="price_not_negative"
            ),
            models.CheckConstraint(
                condition=models.Q(cost_usd__gte=0) | models.Q(cost_usd=None), name="cost_not_negative"
            ),
            models.CheckConstraint(
                condition=models.Q(sold_for_usd__gte=0) | models.Q(sold_for_usd=None), name="sold_for_not_negative"
            ),
        )
        # The rows are long; all that the list is filtered and sorted by is read from this one index instead.
        indexes = (
            models.Index(
                fields=(
                    "status",
                    "stock_number",
                    "coupling_kind",
                    "deck_kind",
                    "gvwr_lb",
                    "empty_weight_lb",
                    "deck_length_in",
                    "deck_width_in",
                    "deck_height_in",
                    "payload_lb",
                    "complete",
                    "price_usd",
                    "arrived",
                ),
                name="yard_list",
            ),
        )

    def __str__(self) -> str:
        """The stock number."""
        return self.stock_number

    def get_absolute_url(self) -> str:
        """Its page."""
        return reverse("unit", args=[self.stock_number])

    @property
    def says(self) -> str:
        """What it is, in plain words; the stock number where nobody has said."""
        return self.title or " ".join(filter(None, (self.maker, self.model))) or self.stock_number

    @property
    def margin_usd(self) -> Decimal | None:
        """What is left at the asking price; nothing where price or cost is not known."""
        return None if self.price_usd is None or self.cost_usd is None else self.price_usd - self.cost_usd

    @property
    def is_gone(self) -> bool:
        """Whether it was sold or retired."""
        return self.status in GONE

    def days_here(self, *, today: date) -> int | None:
        """Days since it came, until it went; nothing where it has not come or nobody wrote down when."""
        until = min(today, self.status_since) if self.is_gone and self.status_since else today
        if self.arrived is None or self.arrived > until:
            return None
        return (until - self.arrived).days


def photo_place(photo: Photo, name: str) -> str:
    """Where a photo's files go: by unit, or by what else it is about, under a name that nobody can guess."""
    return f"{photo.unit_id or f'{photo.about_kind}-{photo.about}'}/{name}"


class Purpose(models.TextChoices):
    """What a photo is for. Only those to show leave the yard."""

    SHOW = "show", "shows the unit"
    LABEL = "label", "label or VIN"
    DAMAGE = "damage", "damage"
    TICKET = "ticket", "scale ticket"
    CHECK = "check", "found at a check"


ON_UNIT_PAGE = (Purpose.SHOW, Purpose.LABEL)
"""Photos of the unit itself; the others belong to the record they were taken for."""


class Photo(models.Model):
    """A picture, re-encoded by us in two sizes; the first of a unit in order stands for the unit.

    ``about_kind`` and ``about`` name the record it was taken for, by the kind's name in the trail and its number;
    ``spot`` is the place on the drawing it marks: ``view``, ``x_in`` and ``z_in`` or ``y_in``. ``key`` is chosen by
    the phone, so that a picture sent twice is kept once.
    """

    unit = models.ForeignKey(Unit, models.CASCADE, null=True, blank=True, related_name="photos")
    purpose = models.CharField("what it is for", max_length=10, choices=Purpose, default=Purpose.SHOW)
    about_kind = models.CharField(max_length=20, blank=True, editable=False)
    about = models.PositiveBigIntegerField(null=True, editable=False)
    spot = models.JSONField(default=dict, blank=True)
    key = models.UUIDField(null=True, unique=True, editable=False)
    order = models.PositiveSmallIntegerField(default=0)
    full = models.FileField(upload_to=photo_place)
    small = models.FileField(upload_to=photo_place)
    width = models.PositiveIntegerField(editable=False)
    height = models.PositiveIntegerField(editable=False)
    says = models.CharField("what it shows", max_length=200, blank=True)
    added = models.DateTimeField(auto_now_add=True)
    added_by = models.ForeignKey("desk.User", models.PROTECT, null=True, editable=False, related_name="+")

    class Meta:
        """In the order the yard gave them; asked for by the record they were taken for."""

        ordering = ("order", "pk")
        indexes = (models.Index(fields=("about_kind", "about"), name="photo_by_record"),)
        constraints = (
            models.CheckConstraint(
                condition=models.Q(unit__isnull=False) | models.Q(about__isnull=False), name="photo_is_of_something"
            ),
        )

    def __str__(self) -> str:
        """What it shows."""
        return self.says or f"photo {self.order + 1}"

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Remove the row and, once that is certain, its files."""
        from django.db import transaction

        files = [(f.storage, f.name) for f in (self.full, self.small)]
        done = super().delete(*args, **kwargs)
        transaction.on_commit(lambda: [storage.delete(name) for storage, name in files if name])
        return done
