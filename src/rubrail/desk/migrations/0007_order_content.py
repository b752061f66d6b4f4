"""What an order was made from, kept with it: price books are replaced by newer ones."""

from django.db import migrations, models


class Migration(migrations.Migration):
    """One column more."""

    dependencies = (("desk", "0006_books_orders_quotes"),)
    operations = (
        migrations.AddField(
            model_name="order",
            name="content",
            field=models.JSONField(default=dict, help_text="the part of the price book it was made from, as it was"),
        ),
    )
