import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("desk", "0007_order_content"),
    ]

    operations = [
        migrations.AddField(
            model_name="photo",
            name="about",
            field=models.PositiveBigIntegerField(editable=False, null=True),
        ),
        migrations.AddField(
            model_name="photo",
            name="about_kind",
            field=models.CharField(blank=True, editable=False, max_length=20),
        ),
        migrations.AddField(
            model_name="photo",
            name="key",
            field=models.UUIDField(editable=False, null=True, unique=True),
        ),
        migrations.AddField(
            model_name="photo",
            name="purpose",
            field=models.CharField(
                choices=[
                    ("show", "shows the unit"),
                    ("label", "label or VIN"),
                    ("damage", "damage"),
                    ("ticket", "scale ticket"),
                    ("check", "found at a check"),
                ],
                default="show",
                max_length=10,
                verbose_name="what it is for",
            ),
        ),
        migrations.AddField(
            model_name="photo",
            name="spot",
            field=models.JSONField(blank=True, default=dict),
        ),
        migrations.AlterField(
            model_name="photo",
            name="unit",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="photos",
                to="desk.unit",
            ),
        ),
        migrations.AddIndex(
            model_name="photo",
            index=models.Index(fields=["about_kind", "about"], name="photo_by_record"),
        ),
        migrations.AddConstraint(
            model_name="photo",
            constraint=models.CheckConstraint(
                condition=models.Q(("unit__isnull", False), ("about__isnull", False), _connector="OR"),
                name="photo_is_of_something",
            ),
        ),
    ]
