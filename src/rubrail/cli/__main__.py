"""``python -m rubrail.cli`` is the same as ``rubrail``."""

from rubrail.cli.main import run

run()
