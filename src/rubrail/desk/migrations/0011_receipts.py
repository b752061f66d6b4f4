import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("desk", "0010_checks_and_what_was_sent"),
    ]

    operations = [
        migrations.CreateModel(
            name="Receipt",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("number", models.CharField(max_length=40, unique=True, verbose_name="receipt number")),
                (
                    "status",
                    models.CharField(
                        choices=[
                            ("open", "being received"),
                            ("accepted", "accepted"),
                            ("excepted", "accepted with exceptions"),
                            ("refused", "refused"),
                            ("dropped", "begun by mistake"),
                        ],
                        default="open",
                        max_length=10,
                        verbose_name="status",
                    ),
                ),
                ("day", models.DateField(verbose_name="came on")),
                ("carrier", models.CharField(blank=True, max_length=120, verbose_name="carrier")),
                ("bill", models.CharField(blank=True, max_length=60, verbose_name="bill of lading")),
                ("driver", models.CharField(blank=True, max_length=120, verbose_name="driver")),
                ("ordered", models.JSONField(default=dict)),
                ("found", models.JSONField(default=dict)),
                ("exceptions", models.JSONField(default=list)),
                ("why", models.CharField(blank=True, max_length=300, verbose_name="why")),
                ("claim", models.CharField(blank=True, max_length=60, verbose_name="claim number")),
                ("signed", models.JSONField(default=dict)),
                ("content", models.JSONField(default=dict)),
                ("digest", models.CharField(blank=True, max_length=64)),
                ("closed", models.DateTimeField(blank=True, null=True)),
                (
                    "closed_by",
                    models.ForeignKey(
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
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
                    "order",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="receipts",
                        to="desk.order",
                    ),
                ),
                (
                    "unit",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="receipts", to="desk.unit"
                    ),
                ),
            ],
            options={
                "ordering": ("-pk",),
            },
        ),
        migrations.CreateModel(
            name="DamageMark",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("key", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("station", models.CharField(max_length=20, verbose_name="where")),
                ("spot", models.JSONField(blank=True, default=dict)),
                ("words", models.CharField(max_length=300, verbose_name="what it is")),
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
                    "receipt",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="damages", to="desk.receipt"
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.AddIndex(
            model_name="receipt",
            index=models.Index(fields=["status", "-day"], name="receipt_by_status"),
        ),
        migrations.AddConstraint(
            model_name="receipt",
            constraint=models.UniqueConstraint(
                condition=models.Q(("status", "open")), fields=("unit",), name="one_open_receipt_per_unit"
            ),
        ),
        migrations.AddConstraint(
            model_name="receipt",
            constraint=models.CheckConstraint(
                condition=models.Q(("status__in", ["open", "accepted", "excepted", "refused", "dropped"])),
                name="receipt_status_is_declared",
            ),
        ),
    ]
