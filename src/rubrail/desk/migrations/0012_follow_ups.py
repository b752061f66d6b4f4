import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("desk", "0011_receipts"),
    ]

    operations = [
        migrations.CreateModel(
            name="CalendarLink",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(max_length=64, unique=True)),
                ("made", models.DateTimeField(auto_now_add=True)),
                (
                    "person",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="calendar_link",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="FollowUp",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("sort", models.CharField(default="own", max_length=20)),
                ("delivered", models.DateField(blank=True, null=True, verbose_name="delivered")),
                ("due", models.DateField(verbose_name="due")),
                ("planned", models.DateField(verbose_name="first planned for")),
                ("guessed", models.BooleanField(default=False)),
                ("miles", models.PositiveIntegerField(blank=True, null=True, verbose_name="miles")),
                ("title", models.CharField(max_length=120, verbose_name="what it is")),
                ("words", models.TextField(blank=True, max_length=1000, verbose_name="what to say")),
                ("source", models.CharField(blank=True, max_length=40)),
                (
                    "state",
                    models.CharField(
                        choices=[("open", "open"), ("done", "done"), ("dropped", "dropped")],
                        default="open",
                        max_length=10,
                        verbose_name="state",
                    ),
                ),
                ("ended", models.DateField(blank=True, null=True, verbose_name="done or dropped on")),
                ("ended_by", models.CharField(blank=True, max_length=80)),
                ("note", models.CharField(blank=True, max_length=400, verbose_name="what came of it")),
                ("uid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("turns", models.PositiveSmallIntegerField(default=0, editable=False)),
                (
                    "created_by",
                    models.ForeignKey(
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "quote",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="follow_ups",
                        to="desk.quote",
                    ),
                ),
                (
                    "unit",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="follow_ups", to="desk.unit"
                    ),
                ),
            ],
            options={
                "ordering": ("due", "pk"),
                "indexes": [models.Index(fields=["state", "due"], name="follow_up_by_day")],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(models.Q(("sort", "own"), _negated=True), ("miles__isnull", False)),
                        fields=("unit", "delivered", "sort", "miles"),
                        name="one_follow_up_a_distance",
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(models.Q(("sort", "own"), _negated=True), ("miles__isnull", True)),
                        fields=("unit", "delivered", "sort"),
                        name="one_follow_up_a_sort",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["open", "done", "dropped"])),
                        name="follow_up_state_is_declared",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="PutOff",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("row", models.CharField(max_length=120)),
                ("until", models.DateField()),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="put_off",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [models.UniqueConstraint(fields=("person", "row"), name="one_row_put_off_a_person")],
            },
        ),
    ]
