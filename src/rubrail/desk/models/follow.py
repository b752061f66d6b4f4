"""What is to be done for a buyer after delivery, the address of each person's calendar, and rows put off for a day."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models

from rubrail.desk.models.kept import Kept

OWN = "own"
"""The sort of a follow-up somebody wrote by hand."""


class FollowState(models.TextChoices):
    """Where a follow-up stands."""

    OPEN = "open", "open"
    DONE = "done", "done"
    DROPPED = "dropped", "dropped"


CAME_BACK = "the unit came back"
"""Why what was open is dropped when a unit stands in the yard again."""
USUAL = ~models.Q(sort=OWN)
UNDONE = models.Q(state=FollowState.DROPPED, note=CAME_BACK)
"""Of a sale that came to nothing."""


class FollowUpQuerySet(models.QuerySet):
    """Ways to ask for follow-ups."""

    def undated(self) -> FollowUpQuerySet:
        """Those planned from a sale, whose day of delivery nobody entered."""
        return self.filter(USUAL & ~UNDONE, delivered=None)


class FollowUp(Kept):
    """One thing to ask or tell a buyer after delivery, by a day.

    sort : the key ``answers.follow_up`` gives it, or ``OWN``; delivered : none where it counts from the sale; miles :
    where a distance asks for it, ``guessed`` then says that the day is a guess from that distance; planned : the day
    it was first planned for; uid : its name in calendars; turns : how often a calendar must have been told anew.
    """

    unit = models.ForeignKey("desk.Unit", models.PROTECT, related_name="follow_ups")
    quote = models.ForeignKey("desk.Quote", models.PROTECT, null=True, blank=True, related_name="follow_ups")
    sort = models.CharField(max_length=20, default=OWN)
    delivered = models.DateField("delivered", null=True, blank=True)
    due = models.DateField("due")
    planned = models.DateField("first planned for")
    guessed = models.BooleanField(default=False)
    miles = models.PositiveIntegerField("miles", null=True, blank=True)
    title = models.CharField("what it is", max_length=120)
    words = models.TextField("what to say", max_length=1000, blank=True)
    source = models.CharField(max_length=40, blank=True)
    state = models.CharField("state", max_length=10, choices=FollowState, default=FollowState.OPEN)
    ended = models.DateField("done or dropped on", null=True, blank=True)
    ended_by = models.CharField(max_length=80, blank=True)
    note = models.CharField("what came of it", max_length=400, blank=True)
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    turns = models.PositiveSmallIntegerField(default=0, editable=False)

    objects = FollowUpQuerySet.as_manager()

    class Meta:
        """The next due first; what is planned on a delivery is planned once."""

        ordering = ("due", "pk")
        indexes = (models.Index(fields=("state", "due"), name="follow_up_by_day"),)
        constraints = (
            models.UniqueConstraint(
                fields=("unit", "delivered", "sort", "miles"),
                condition=~models.Q(sort=OWN) & models.Q(miles__isnull=False),
                name="one_follow_up_a_distance",
            ),
            models.UniqueConstraint(
                fields=("unit", "delivered", "sort"),
                condition=~models.Q(sort=OWN) & models.Q(miles__isnull=True),
                name="one_follow_up_a_sort",
            ),
            models.CheckConstraint(
                condition=models.Q(state__in=FollowState.values), name="follow_up_state_is_declared"
            ),
        )

    @property
    def from_sale(self) -> bool:
        """Whether its day counts from the sale, for want of the day of delivery."""
        return self.sort != OWN and self.delivered is None and self.state == FollowState.OPEN

    def __str__(self) -> str:
        """What it is, and of which unit."""
        return f"{self.title}, unit {self.unit}"


class CalendarLink(models.Model):
    """The unguessable address of a person's calendar; only its keyed digest is stored, and it can be ended."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, models.CASCADE, related_name="calendar_link")
    digest = models.CharField(max_length=64, unique=True)
    made = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        """Whose it is."""
        return f"calendar of {self.person}"


class PutOff(models.Model):
    """A row of the first page that a person will not see until a day."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="put_off")
    row = models.CharField(max_length=120)
    until = models.DateField()

    class Meta:
        """Each row once a person."""

        constraints = (models.UniqueConstraint(fields=("person", "row"), name="one_row_put_off_a_person"),)

    def __str__(self) -> str:
        """Which row, until when."""
        return f"{self.row} until {self.until}"
