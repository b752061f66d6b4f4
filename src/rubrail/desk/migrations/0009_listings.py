import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("desk", "0008_photos_of_records"),
    ]

    operations = [
        migrations.AlterField(
            model_name="book",
            name="sort",
            field=models.CharField(
                choices=[
                    ("catalog", "catalog"),
                    ("rates", "rates"),
                    ("kit", "kit"),
                    ("limits", "limits"),
                    ("listing", "listing text"),
                ],
                max_length=10,
                verbose_name="kind",
            ),
        ),
        migrations.CreateModel(
            name="Listing",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("version", models.PositiveIntegerField(default=1, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("shown", models.BooleanField(default=False, verbose_name="shown on the public pages")),
                ("words", models.TextField(blank=True, max_length=2000, verbose_name="the yard's own words")),
                ("draft", models.TextField(blank=True, max_length=2000, verbose_name="words that were refused")),
                ("price_checked", models.DateField(blank=True, null=True, verbose_name="price looked at")),
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
                    "price_checked_by",
                    models.ForeignKey(
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "unit",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE, related_name="listing", to="desk.unit"
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
    ]
