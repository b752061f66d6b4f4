"""The one Django app."""

from django.apps import AppConfig


class DeskConfig(AppConfig):
    """Stock, hauls, people and the trail of changes."""

    name = "rubrail.desk"
    label = "desk"
    verbose_name = "Desk"

    def ready(self) -> None:
        """Register the system checks."""
        from rubrail.desk import declared  # noqa: F401
