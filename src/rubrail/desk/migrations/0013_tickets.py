import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("desk", "0012_follow_ups"),
    ]

    operations = [
        migrations.CreateModel(
            name="Ticket",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("key", models.UUIDField(editable=False, null=True, unique=True)),
                ("day", models.DateField(verbose_name="weighed on")),
                ("where", models.CharField(blank=True, max_length=120, verbose_name="where")),
                ("spec", models.JSONField(default=dict)),
                ("verdict", models.CharField(blank=True, editable=False, max_length=10)),
                (
                    "waits",
                    models.CharField(
                        blank=True,
                        editable=False,
                        help_text="what it gives and nobody took over: trailer, truck",
                        max_length=20,
                    ),
                ),
                ("applied", models.JSONField(default=dict, editable=False)),
                ("closed", models.BooleanField(default=False, verbose_name="put aside")),
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
                    "haul",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="tickets",
                        to="desk.haul",
                    ),
                ),
                (
                    "truck",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="tickets",
                        to="desk.truck",
                    ),
                ),
                (
                    "unit",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="tickets",
                        to="desk.unit",
                    ),
                ),
            ],
            options={
                "ordering": ("-day", "-pk"),
                "indexes": [models.Index(fields=["closed", "waits"], name="ticket_waits")],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("unit__isnull", False), ("truck__isnull", False), ("haul__isnull", False), _connector="OR"
                        ),
                        name="ticket_is_of_something",
                    )
                ],
            },
        ),
    ]
