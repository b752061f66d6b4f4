"""Finding, derived columns and steps are the same on PostgreSQL as on SQLite."""

from __future__ import annotations

from pathlib import Path

import pytest

from desk.server import run
from desk.test_postgres import database  # noqa: F401  the fixture of an empty database

pytest.importorskip("psycopg")

CODE = """
from importlib.resources import files
import numpy as np
from rubrail.answers.height import built_columns
from rubrail.desk.demo_yard import load_folder
from rubrail.desk.derived import columns_of, refill
from rubrail.desk.drawings import smalls
from rubrail.desk.finding import look_for
from rubrail.desk.models import Unit
from rubrail.desk.standing import BY_KEY, take_step
from rubrail.desk.stock import change_unit, put_together, trailer_of
from rubrail.things.door import read_thing
from rubrail.things.trailer import Trailer

load_folder(files("rubrail.demo") / "yard", by=None)
names = dict(Unit.objects.values_list("pk", "stock_number"))
for asked in (
    {"words": "TANDEM", "sort": "-payload"},
    {"payload": "9000", "under": "license", "truck": "10000", "sort": "price"},
    {"coupling": "gooseneck", "deck": "deck-over", "complete": "on", "sort": "-days"},
    {"length": "20 ft", "width": "82", "height": "36", "empty": "8000", "gvwr": "30000", "price": "30000"},
    {"status": "all", "words": "100% _ \\\\"},
):
    print([(names[pk], known) for pk, known in look_for(asked).found()])
units = list(Unit.objects.order_by("stock_number"))
columns, right = columns_of(units), built_columns([trailer_of(u) for u in units])
print(all(np.array_equal(columns[n], a, equal_nan=True) for n, a in right.values.items()))
print(sum(map(len, smalls(units))) > 10_000)
one = units[0]
same = read_thing(Trailer, put_together(one, with_cost=True))
print(change_unit(one, same, by=None, seen_version=1), one.version)
take_step(one, BY_KEY["sell"], day=one.arrived, note="gone", by=None, seen_version=1)
Unit.objects.update(derived_by="")
print(refill(), Unit.objects.filter(status="sold").get().stock_number)
"""


def test_both_databases_say_the_same(tmp_path: Path, database: str):  # noqa: F811
    here = run(tmp_path / "here", CODE)
    there = run(tmp_path / "there", CODE, RUBRAIL_DATABASE_URL=database)
    assert there == here
    *found, equal, drawn, unchanged, refilled = here.splitlines()
    assert all(line.startswith("[('SH-") for line in found[:4]), "each of the first four finds something"
    assert (found[4], equal, drawn, unchanged, refilled) == ("[]", "True", "True", "[] 1", "43 SH-101")
