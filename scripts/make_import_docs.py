"""Write the tables of docs/import.md from the columns of the list; run from the project folder, like make_docs.py."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
DOCUMENT = ROOT / "docs" / "import.md"
sys.path.insert(0, str(ROOT / "src"))


def main() -> None:
    """Write them."""
    with tempfile.TemporaryDirectory() as folder:
        # The columns come from the desk, which wants a data folder though nothing is put into it.
        os.environ |= {"RUBRAIL_HOME": folder, "DJANGO_SETTINGS_MODULE": "rubrail.desk.settings"}
        import django

        django.setup()
        from rubrail.desk.lists.page import with_tables

        DOCUMENT.write_text(with_tables(DOCUMENT.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    main()
