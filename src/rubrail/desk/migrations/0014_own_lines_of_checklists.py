from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("desk", "0013_tickets"),
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
                    ("checks", "own lines of checklists"),
                ],
                max_length=10,
                verbose_name="kind",
            ),
        ),
    ]
