import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("desk", "0009_listings"),
    ]

    operations = [
        migrations.CreateModel(
            name="Checklist",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("sort", models.CharField(max_length=20, verbose_name="sort")),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("open", "under way"),
                            ("release", "released"),
                            ("hold", "held"),
                            ("released", "released after another look"),
                            ("dropped", "dropped"),
                        ],
                        default="open",
                        max_length=10,
                        verbose_name="state",
                    ),
                ),
                ("lines", models.JSONField(default=list, help_text="the lines as they were when it was begun")),
                (
                    "about",
                    models.JSONField(default=dict, help_text="what else it rests on, as it was when it was begun"),
                ),
                ("finished", models.DateTimeField(editable=False, null=True)),
                ("result", models.JSONField(default=dict, editable=False, help_text="outcome and reasons as signed")),
                ("signatures", models.JSONField(default=list, editable=False)),
                ("released", models.DateTimeField(editable=False, null=True)),
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
                    "finished_by",
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
                        related_name="checklists",
                        to="desk.haul",
                    ),
                ),
                (
                    "unit",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="checklists", to="desk.unit"
                    ),
                ),
            ],
            options={
                "ordering": ("-pk",),
            },
        ),
        migrations.CreateModel(
            name="CheckEntry",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("line", models.CharField(max_length=80)),
                ("turn", models.PositiveIntegerField(help_text="1 for the first entry of the line")),
                ("value", models.JSONField(default=dict)),
                ("at", models.DateTimeField(auto_now_add=True)),
                (
                    "seen_at",
                    models.DateTimeField(help_text="when the phone wrote it down, where it was sent later", null=True),
                ),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "checklist",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="entries", to="desk.checklist"
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="Sent",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.UUIDField(editable=False, unique=True)),
                ("address", models.CharField(editable=False, max_length=200)),
                ("at", models.DateTimeField(auto_now_add=True, db_index=True)),
                ("status", models.PositiveSmallIntegerField(default=0, editable=False)),
                ("answer", models.JSONField(default=dict, editable=False)),
                (
                    "who",
                    models.ForeignKey(
                        editable=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("-pk",),
            },
        ),
        migrations.AddIndex(
            model_name="checklist",
            index=models.Index(fields=["state", "-id"], name="checklists_by_state"),
        ),
        migrations.AddConstraint(
            model_name="checklist",
            constraint=models.CheckConstraint(
                condition=models.Q(("state__in", ["open", "release", "hold", "released", "dropped"])),
                name="check_state_is_declared",
            ),
        ),
        migrations.AddConstraint(
            model_name="checkentry",
            constraint=models.UniqueConstraint(fields=("checklist", "line", "turn"), name="one_entry_a_line_and_turn"),
        ),
    ]
