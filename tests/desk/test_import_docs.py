"""docs/import.md says what the code does."""

from __future__ import annotations

from pathlib import Path

from rubrail.desk.lists import page, reading
from rubrail.desk.lists.columns import LISTS, columns_for
from rubrail.desk.views import importing

TEXT = (Path(__file__).parents[2] / "docs" / "import.md").read_text("utf-8")


def test_tables_have_not_drifted():
    assert page.with_tables(TEXT) == TEXT, "run scripts/make_import_docs.py"
    assert TEXT.count("<!-- table: ") == len(page.TABLES)


def test_every_column_is_there():
    for column in columns_for(dict.fromkeys(LISTS, 1)):
        if column.kind not in ("basis", "spread"):
            assert column.heading.replace(" 1 ", " *n* ") in TEXT


def test_limits_are_those_of_the_code():
    assert (
        f"up to {reading.MOST_BYTES // 2**20} MB, {reading.MOST_ROWS:,} rows and {reading.MOST_COLUMNS} columns"
        in TEXT.replace("\n   ", " ")
    )
    assert f"{importing.KEPT_HOURS} hours old" in TEXT
