"""``python -m rubrail.desk COMMAND``: Django's management commands on the desk's own settings."""

import os
import sys


def main() -> None:
    """Run one management command."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rubrail.desk.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(["rubrail.desk", *sys.argv[1:]])


if __name__ == "__main__":
    main()
